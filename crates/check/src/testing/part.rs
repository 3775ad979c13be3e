//! A folio with parts on it, said in few words.

use super::common::{Sketch, at, length};
use super::findings;
use crate::Finding;
use model::part::{Anchor, AnchorFrom, Edges, Hinge, Mat, Part, Placement, Pocket, Source};
use model::{Document, Length, PanelRef, PartId, PartKind, SheetEdge, Turn};

/// A sheet of 12 by 12 in with a left flap of 3 in that folds over a base of 9 in, and parts on the base.
pub(crate) fn flap_and_base(parts: Vec<Part>) -> Document {
    let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
    document.parts = parts;
    document
}

/// The base of [`flap_and_base`].
pub(crate) fn base() -> PanelRef {
    PanelRef::Sheet(at("8", "6"))
}

/// A part of the folio's own paper in the middle of a panel's front.
pub(crate) fn part(id: u32, kind: PartKind, on: PanelRef) -> Part {
    let place = Placement::centred(on);
    Part { id: PartId(id), name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() }
}

/// The same part so far from the left and the top border of its panel.
#[track_caller]
pub(crate) fn moved(mut part: Part, across: &str, down: &str) -> Part {
    let from = |distance| Anchor { from: AnchorFrom::Start, distance: length(distance) };
    part.place.across = from(across);
    part.place.down = from(down);
    part
}

#[track_caller]
pub(crate) fn mat(width: &str, height: &str) -> PartKind {
    PartKind::Mat(Mat { width: length(width), height: length(height) })
}

#[track_caller]
pub(crate) fn hinge(length_is: &str, leaf: &str, free_leaf: &str) -> PartKind {
    PartKind::Hinge(Hinge { length: length(length_is), leaf: length(leaf), free_leaf: length(free_leaf) })
}

/// A flat pocket with a line of glue of 1/4 in along these edges.
#[track_caller]
pub(crate) fn pocket(width: &str, height: &str, glued: &[SheetEdge]) -> PartKind {
    let (strip, none) = (length("1/4"), Length::ZERO);
    let (width, height, glued) = (length(width), length(height), Edges::of(glued));
    PartKind::Pocket(Pocket { width, height, glued, strip, rim: none, gusset: none })
}

/// The first finding of a rule.
#[track_caller]
pub(crate) fn first(document: &Document, rule: &str) -> Finding {
    let found = findings(document).into_iter().find(|finding| finding.rule == rule);
    found.unwrap_or_else(|| panic!("{rule} says nothing"))
}
