//! Which piece of paper every part of a design is cut from, how it is cut, and what is left of the sheet.
//!
//! [`allot`] reads a document and its layout and gives an [`Allotment`]: for every part the offcut or further sheet it
//! comes from and where on it, or one sentence why there is no paper for it; for every offcut the cuts in their order,
//! what remains and a ledger; and how far the plan could be bettered. [`fitting()`] turns it round and says what an offcut
//! would do for.
//!
//! Everything is exact, lengths in whole nanometres and areas in half square nanometres. How rectangles are cut from
//! rectangles is the business of `nest`; what a part looks like is the business of `model`.
//!
//! ```
//! use foliowright_allot::{Settings, allot};
//! use model::part::{Mat, Part, PartId, PartKind, Placement, Source};
//! use model::change::{add_line, measured_score};
//! use model::{Document, Edit, Length, Line, LineId, PanelRef, Point, Size, Turn, Unit, Work};
//!
//! // A strip 4 in wide is cut off, and a mat comes out of it.
//! let mut document = Document::new(Size::parse("12x12in").expect("a size"), Unit::Inch);
//! let strip = Line { work: Work::Cut, ..measured_score(LineId(1), Turn::None, Length::INCH * 4) };
//! document.apply(add_line(&document, strip)).expect("a line");
//! let base = Point::new(Length::INCH * 8, Length::INCH * 6);
//! document.base = Some(base);
//! let mat = PartKind::Mat(Mat { width: Length::INCH * 3, height: Length::INCH * 4 });
//! let place = Placement::centred(PanelRef::Sheet(base));
//! let part = Part { id: PartId(1), name: String::new(), kind: mat, source: Source::AnyOffcut, place, also: vec![] };
//! document.apply(Edit::SetParts(vec![part])).expect("a part");
//! let layout = model::Layout::of(&document);
//! let found = allot(&document, &layout, &Settings::default());
//! let sentence = "Offcut 1: cut 3 in from the top edge, left to right; that gives \"Mat 1\" above.";
//! assert_eq!(found.offcuts[0].cuts[0].sentence, sentence);
//! ```

mod allotment;
mod contain;
mod fitting;
mod inner;
mod ledger;
mod remark;
mod round;
mod settings;
mod shape;
mod sheet;
mod steps;
mod upright;
mod wanted;
mod whole;
mod yard;

pub use allotment::{
    Allotment, CutStep, Cutout, OffcutPaper, OffcutUse, Origin, SheetCutting, SheetUse, Standing, Supply,
};
pub use fitting::{Suggestion, fitting};
pub use inner::{MOST_RECTS, SLIVER, inner_rects};
pub use ledger::{Ledger, OffcutLedger};
pub use remark::Remark;
pub use round::Round;
pub use settings::{GrainWish, Settings};
pub use yard::allot;
