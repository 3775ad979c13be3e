//! What a part is fitted to: its panel, what it goes with, and what the maker wants of it.

use super::measure::{self, Measure, rounded_down};
use crate::geometry::Point;
use crate::layout::{Fold, Layout, PanelId};
use crate::length::{Length, Unit};
use crate::part::kind::{Mat, Page, PanelCorner, PartKind, Pocket};
use crate::part::{Anchor, AnchorFrom, Edges, PartLayout};
use crate::polygon::bounds;
use crate::stock::SheetEdge;

/// The panel that a part is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Host {
    /// The least corner of the upright rectangle around it, on its sheet.
    pub low: Point,
    /// The greatest corner.
    pub high: Point,
    /// The edges of that rectangle along which it folds.
    pub folds: Edges,
}

/// What the maker wants of a part, and what it has to suit.
#[derive(Debug, Clone, Copy)]
pub struct Fit<'a> {
    /// The design's unit, which sizes are rounded in.
    pub units: Unit,
    /// The corner that it goes in; `None` for the usual one of its sort.
    pub corner: Option<PanelCorner>,
    /// The edge that it goes to; `None` for the usual one of its sort, which does not fold where it matters.
    pub edge: Option<SheetEdge>,
    /// Another part that it goes with: what a hinge carries, the pocket that an insert lies in.
    pub with: Option<Companion<'a>>,
    /// How large the folio is when it is closed, for what goes round it.
    pub closed: Option<Closed>,
}

/// A part that another goes with.
#[derive(Debug, Clone, Copy)]
pub struct Companion<'a> {
    /// What it is.
    pub kind: &'a PartKind,
    /// The least and greatest corner of the rectangle around its main panel as it lies on the host's sheet, where it lies
    /// on the host, neither turned nor turned over.
    pub bounds: Option<(Point, Point)>,
}

/// The closed folio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Closed {
    /// From side to side.
    pub width: Length,
    /// From top to bottom.
    pub height: Length,
    /// From face to face.
    pub thickness: Length,
}

impl Host {
    /// A panel of a layout's sheet or of one of its parts.
    ///
    /// # Panics
    /// For an id of another layout.
    #[must_use]
    pub fn of(layout: &Layout, id: PanelId) -> Self {
        let panel = layout.panel(id);
        let (low, high) = panel.bounds();
        let folds: &[Fold] = layout.part_of(id).map_or(&layout.folds, |part| &part.folds);
        let own = folds.iter().filter(|fold| fold.panels.contains(&id)).flat_map(|fold| &fold.stretches);
        let is_along = |edge: SheetEdge| {
            own.clone().any(|stretch| match edge {
                SheetEdge::Top => stretch.a.y == low.y && stretch.b.y == low.y,
                SheetEdge::Right => stretch.a.x == high.x && stretch.b.x == high.x,
                SheetEdge::Bottom => stretch.a.y == high.y && stretch.b.y == high.y,
                SheetEdge::Left => stretch.a.x == low.x && stretch.b.x == low.x,
            })
        };
        let folds = SheetEdge::ALL.into_iter().filter(|&edge| is_along(edge)).collect::<Vec<_>>();
        Self { low, high, folds: Edges::of(&folds) }
    }
}

impl Fit<'_> {
    /// Nothing but the unit.
    #[must_use]
    pub const fn usual(units: Unit) -> Self {
        Self { units, corner: None, edge: None, with: None, closed: None }
    }
}

impl<'a> Companion<'a> {
    /// A part as it lies in a layout, beside something on `host`.
    #[must_use]
    pub fn of(kind: &'a PartKind, part: &PartLayout, host: PanelId) -> Self {
        let straight = |laid: &&crate::part::Laid| laid.on == host && laid.right == (1.0, 0.0) && !laid.turned_over;
        let main = part.panels.iter().find(|panel| panel.id == part.main);
        let on_host = part.laid.as_ref().filter(straight).zip(main).map(|(laid, main)| {
            let outline: Vec<Point> = main.outline.iter().map(|&point| laid.on_host(point)).collect();
            bounds(&outline)
        });
        Self { kind, bounds: on_host }
    }
}

/// A host and what is wanted on it.
pub(super) struct Room<'a> {
    pub(super) host: &'a Host,
    pub(super) fit: &'a Fit<'a>,
}

impl<'a> Room<'a> {
    pub(super) const fn of(host: &'a Host, fit: &'a Fit<'a>) -> Self {
        Self { host, fit }
    }

    pub(super) fn width(&self) -> Length {
        self.host.high.x - self.host.low.x
    }

    pub(super) fn height(&self) -> Length {
        self.host.high.y - self.host.low.y
    }

    pub(super) fn along_and_depth(&self, edge: SheetEdge) -> (Length, Length) {
        along_and_depth(edge, (self.width(), self.height()))
    }

    /// A side less so much, rounded down; the whole side where nothing would be left.
    pub(super) fn less(&self, side: Length, by: Length) -> Length {
        if side > by { rounded_down(side - by, self.fit.units) } else { rounded_down(side, self.fit.units) }
    }

    /// A side less the allowance at both ends.
    pub(super) fn inner(&self, side: Length) -> Length {
        self.less(side, measure::ALLOWANCE.of(self.fit.units) * 2)
    }

    pub(super) fn share(&self, side: Length, of: i64, parts: i64) -> Length {
        rounded_down(side * of / parts, self.fit.units)
    }

    /// A usual measure, or what is left of it where only so much is to be had.
    pub(super) fn at_most(&self, usual: Measure, limit: Length) -> Length {
        let usual = usual.of(self.fit.units);
        if usual <= limit { usual } else { rounded_down(limit, self.fit.units) }
    }

    /// 3/5 of the panel's height, as a pocket from which something looks out.
    pub(super) fn pocket_height(&self) -> Length {
        self.share(self.height(), 3, 5)
    }

    /// How far from the edge of its panel something lies that takes `own` of `side`.
    pub(super) fn inset(&self, side: Length, own: Length) -> Length {
        measure::ALLOWANCE.of(self.fit.units).min((side - own).max(Length::ZERO).half())
    }

    /// How far from an edge something flush lies: a hairline off where that folds.
    pub(super) fn clear_of_fold(&self, edge: SheetEdge, own: Length) -> Length {
        let (_, depth) = self.along_and_depth(edge);
        let clear = measure::CLEARANCE.of(self.fit.units).min((depth - own).max(Length::ZERO));
        if self.host.folds.has(edge) { clear } else { Length::ZERO }
    }

    /// The edge asked for, else the first that does not fold, else the first.
    pub(super) fn edge_that_is_free(&self, order: [SheetEdge; 4]) -> SheetEdge {
        let free = || order.into_iter().find(|&edge| !self.host.folds.has(edge));
        self.fit.edge.or_else(free).unwrap_or(order[0])
    }
}

/// The middle of a panel.
pub(super) const MIDDLE: Anchor = Anchor { from: AnchorFrom::Middle, distance: Length::ZERO };

/// In the middle of an edge, so far inwards from it.
pub(super) const fn beside(edge: SheetEdge, distance: Length) -> (Anchor, Anchor) {
    let start = Anchor { from: AnchorFrom::Start, distance };
    let end = Anchor { from: AnchorFrom::End, distance };
    match edge {
        SheetEdge::Top => (MIDDLE, start),
        SheetEdge::Right => (end, MIDDLE),
        SheetEdge::Bottom => (MIDDLE, end),
        SheetEdge::Left => (start, MIDDLE),
    }
}

/// In a corner, so far inwards from its upright edge and from its level one.
pub(super) const fn in_corner(corner: PanelCorner, (across, down): (Length, Length)) -> (Anchor, Anchor) {
    let [level, upright] = corner.edges();
    (beside(upright, across).0, beside(level, down).1)
}

pub(super) const fn is_level(edge: SheetEdge) -> bool {
    matches!(edge, SheetEdge::Top | SheetEdge::Bottom)
}

/// A size as the length of one of its edges, and how far it reaches from there.
pub(super) const fn along_and_depth(edge: SheetEdge, (width, height): (Length, Length)) -> (Length, Length) {
    if is_level(edge) { (width, height) } else { (height, width) }
}

pub(super) const fn side_along(edge: SheetEdge, size: (Length, Length)) -> Length {
    along_and_depth(edge, size).0
}

/// The size of the main panel of what can hang on a hinge.
pub(super) const fn front(kind: &PartKind) -> Option<(Length, Length)> {
    match *kind {
        PartKind::Pocket(Pocket { width, height, .. })
        | PartKind::Page(Page { width, height, .. })
        | PartKind::Mat(Mat { width, height }) => Some((width, height)),
        _ => None,
    }
}

/// The rectangle in which something lies in a pocket: its front without what its glue takes up. On the host's sheet where
/// it is known how the pocket lies there, else anywhere.
pub(super) fn inside(with: Companion<'_>) -> Option<(Point, Point)> {
    let PartKind::Pocket(pocket) = *with.kind else { return None };
    let anywhere = (Point::default(), Point::new(pocket.width, pocket.height));
    let (low, high) = with.bounds.unwrap_or(anywhere);
    // Under a gusseted front lie its sides, and the strips under those, outwards.
    let taken = if pocket.gusset > Length::ZERO { pocket.gusset } else { pocket.strip };
    let at = |edge: SheetEdge| if pocket.glued.has(edge) { taken } else { Length::ZERO };
    let low = Point::new(low.x + at(SheetEdge::Left), low.y + at(SheetEdge::Top));
    let high = Point::new(high.x - at(SheetEdge::Right), high.y - at(SheetEdge::Bottom));
    (low.x < high.x && low.y < high.y).then_some((low, high))
}
