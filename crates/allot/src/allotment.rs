//! The answer: where every part's paper comes from, how each offcut and each further sheet is cut, and what remains.

use crate::ledger::{Ledger, OffcutLedger};
use crate::remark::Remark;
use crate::round::Round;
use crate::settings::Settings;
use crate::shape::turned_into;
use model::{Area, Length, PartId, PieceId, Point, Size, StockId};
use nest::{Rect, Way};
use std::collections::BTreeSet;

/// Which part is cut from which paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Allotment {
    /// What it was made with.
    pub settings: Settings,
    /// For every part of the document, in its order.
    pub supplies: Vec<Supply>,
    /// How every offcut is used, in the layout's order.
    pub offcuts: Vec<OffcutUse>,
    /// The further sheets: the folio's own paper first, then others in the order of the document.
    pub sheets: Vec<SheetUse>,
    /// How good the use of the offcuts is.
    pub standing: Standing,
    /// Where the sheet's area went.
    pub ledger: Ledger,
    /// What was asked of nesting and what it answered, round after round: a later round has what earlier ones left.
    pub rounds: Vec<Round>,
}

/// Where one part's paper comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Supply {
    /// The part.
    pub part: PartId,
    /// Its paper.
    pub from: Origin,
    /// What a maker may want to know: a fold across the grain, a pattern that can't be upright.
    pub notes: Vec<Remark>,
}

/// The paper of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// Cut from an offcut.
    Offcut {
        /// The offcut.
        piece: PieceId,
        /// What the offcut is called.
        name: String,
        /// Where on the folio's sheet.
        cutout: Cutout,
        /// Whether it is the offcut just as it is, and not a rectangle cut from it.
        whole: bool,
    },
    /// Cut from a further sheet.
    Sheet {
        /// The stock; `None` for the folio's own.
        stock: Option<StockId>,
        /// Which sheet of it, from 1.
        sheet: u32,
        /// Where on that sheet.
        cutout: Cutout,
    },
    /// No paper: it is bought.
    Bought,
    /// There is no paper for it: what is missing and how to mend it.
    Missing(Remark),
}

/// How a part's own little sheet lies on the paper that it is cut from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cutout {
    /// The rectangle that it takes. That of a part whose pattern is cut from a whole offcut of its shape may stand out
    /// beyond the offcut where the pattern is cut off anyway.
    pub rect: Rect,
    /// By how many quarters clockwise it is turned, 0 to 3.
    pub quarters: u8,
}

impl Cutout {
    /// Where a point of the part's own little sheet lies on the paper.
    #[must_use]
    pub fn on_paper(&self, point: Point) -> Point {
        let own = crate::shape::turned_size(self.rect.size, self.quarters);
        turned_into(point, own, self.quarters, self.rect.corner)
    }
}

/// How an offcut can be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OffcutPaper {
    /// All of it: its edges are level and upright.
    Exact,
    /// By upright rectangles inside it, since it slants, is rounded, or has an opening or a cut in it.
    Rectangles(Vec<Rect>),
    /// Not at all: it is narrower than [`crate::SLIVER`] everywhere.
    Sliver,
}

/// How one offcut is used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OffcutUse {
    /// The piece.
    pub piece: PieceId,
    /// What it is called.
    pub name: String,
    /// How it can be used.
    pub paper: OffcutPaper,
    /// The parts that come out of it, in the document's order.
    pub parts: Vec<PartId>,
    /// The cuts in their order.
    pub cuts: Vec<CutStep>,
    /// The rectangles that are left over. For an untouched offcut that is no rectangle, the largest inside it.
    pub remainders: Vec<Rect>,
    /// Whether it stays as it is, with no part from it.
    pub is_untouched: bool,
    /// Where its area went.
    pub ledger: OffcutLedger,
}

/// One thing to do with an offcut or a further sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutStep {
    /// What to do, in a sentence.
    pub sentence: String,
    /// The cut as a line on the sheet; `None` where there is nothing to cut or it is no single line.
    pub line: Option<CutLine>,
}

/// A cut from edge to edge of what lies in `paper` at the time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CutLine {
    /// The rectangle that is cut; for a first cut through an angular offcut the upright rectangle around it.
    pub paper: Rect,
    /// Which way it runs.
    pub way: Way,
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// How much it takes, to the right or down.
    pub kerf: Length,
}

/// Further sheets of one paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetUse {
    /// The stock; `None` for the folio's own.
    pub stock: Option<StockId>,
    /// What the paper is called; may be empty.
    pub name: String,
    /// The size of a sheet.
    pub size: Size,
    /// No fewer sheets hold all the parts that a sheet can hold.
    pub at_least: u32,
    /// How each sheet is cut.
    pub sheets: Vec<SheetCutting>,
}

/// How one further sheet is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetCutting {
    /// Which sheet it is, from 1.
    pub number: u32,
    /// The parts on it.
    pub parts: Vec<PartId>,
    /// The cuts in their order.
    pub cuts: Vec<CutStep>,
    /// What is left of it.
    pub remainders: Vec<Rect>,
}

/// How far the use of the offcuts could be bettered. Whole offcuts count as given, and offcuts that are no rectangles by
/// the rectangles in them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// No cuts from edge to edge place more area in parts.
    Proved,
    /// At most so much more area could be placed.
    Within(Area),
}

impl Allotment {
    /// Where a part's paper comes from.
    #[must_use]
    pub fn supply(&self, part: PartId) -> Option<&Supply> {
        self.supplies.iter().find(|supply| supply.part == part)
    }

    /// How an offcut is used.
    #[must_use]
    pub fn offcut(&self, piece: PieceId) -> Option<&OffcutUse> {
        self.offcuts.iter().find(|offcut| offcut.piece == piece)
    }

    /// The offcuts that parts are cut from.
    #[must_use]
    pub fn used(&self) -> BTreeSet<PieceId> {
        self.offcuts.iter().filter(|offcut| !offcut.parts.is_empty()).map(|offcut| offcut.piece).collect()
    }

    /// Whether every part has its paper.
    #[must_use]
    pub fn is_complete(&self) -> bool {
        !self.supplies.iter().any(|supply| matches!(supply.from, Origin::Missing(_)))
    }
}
