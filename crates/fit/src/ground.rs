//! What a part lies on, seen through the hinge that carries it where one does.

use model::part::{Hinge, Laid};
use model::{Document, Face, Layout, Length, PanelId, PartKind, PartLayout, Point, SheetEdge};

/// Where a part lies on the panel under it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ground {
    /// The panel: that under the hinge for a part carried by one.
    pub(crate) host: PanelId,
    /// Its face.
    pub(crate) face: Face,
    laid: Laid,
    hinge: Option<Hung>,
}

/// A hinge between a part and the panel under it.
#[derive(Debug, Clone, Copy)]
struct Hung {
    laid: Laid,
    /// How far from the left of its own sheet it is folded.
    fold: Length,
}

impl Hung {
    /// Where a place of one leaf lies on the other, folded: the same way back.
    fn over(&self, point: Point) -> Point {
        Point::new(self.fold * 2 - point.x, point.y)
    }
}

impl Ground {
    /// `None` for a part without a place, and for one on hinges upon hinges, or on the leaf of a hinge that is glued down.
    pub(crate) fn of(document: &Document, layout: &Layout, part: &PartLayout) -> Option<Self> {
        let laid = part.laid?;
        let Some((carrier, kind)) = hinge(document, layout, laid.on) else {
            return Some(Self { host: laid.on, face: laid.face, laid, hinge: None });
        };
        let under = carrier.laid?;
        if laid.on == carrier.main || hinge(document, layout, under.on).is_some() {
            return None;
        }
        Some(Self { host: under.on, face: under.face, laid, hinge: Some(Hung { laid: under, fold: kind.leaf }) })
    }

    /// Where a point of the part's own sheet lies on the sheet of the panel under it.
    pub(crate) fn on_host(&self, point: Point) -> Point {
        let at = self.laid.on_host(point);
        self.hinge.map_or(at, |hinge| hinge.laid.on_host(hinge.over(at)))
    }

    /// Where a place on the sheet of the panel under it lies on the part's own sheet.
    pub(crate) fn on_part(&self, point: Point) -> Point {
        let at = self.hinge.map_or(point, |hinge| hinge.over(hinge.laid.on_part(point)));
        self.laid.on_part(at)
    }

    /// Where an edge of the part's own sheet lies on the sheet of the panel under it; `None` where it lies aslant.
    pub(crate) fn edge(&self, edge: SheetEdge) -> Option<SheetEdge> {
        towards(self.on_host(beyond(edge)), self.on_host(Point::default()))
    }
}

/// The hinge that a panel is of.
pub(crate) fn hinge<'a>(
    document: &'a Document,
    layout: &'a Layout,
    panel: PanelId,
) -> Option<(&'a PartLayout, &'a Hinge)> {
    let part = layout.part_of(panel)?;
    match &document.part(part.id)?.kind {
        PartKind::Hinge(kind) => Some((part, kind)),
        _ => None,
    }
}

/// What a hinge on the same face takes up under a part: at which edge of the part's own sheet it is folded away from, and
/// the least and greatest corner there of what its two leaves cover, folded together. `None` for a hinge elsewhere, or
/// aslant.
pub(crate) fn covered(ground: &Ground, hinge: &PartLayout, kind: &Hinge) -> Option<(bool, (Point, Point))> {
    let laid = hinge.laid.filter(|laid| (laid.on, laid.face) == (ground.host, ground.face))?;
    let there = |point: Point| ground.on_part(laid.on_host(point));
    let from = kind.leaf - kind.leaf.max(kind.free_leaf);
    let corners = [Point::new(from, Length::ZERO), Point::new(kind.leaf, kind.length)].map(there);
    let along = towards(there(beyond(SheetEdge::Bottom)), there(Point::default()))?;
    let is_upright = matches!(along, SheetEdge::Top | SheetEdge::Bottom);
    Some((is_upright, model::polygon::bounds(&corners)))
}

/// A place beyond an edge, from the origin.
const fn beyond(edge: SheetEdge) -> Point {
    let (zero, one) = (Length::ZERO, Length::MILLIMETRE);
    match edge {
        SheetEdge::Top => Point::new(zero, Length::from_nm(-one.nm())),
        SheetEdge::Right => Point::new(one, zero),
        SheetEdge::Bottom => Point::new(zero, one),
        SheetEdge::Left => Point::new(Length::from_nm(-one.nm()), zero),
    }
}

/// Which edge of a sheet lies that way; `None` aslant.
fn towards(to: Point, from: Point) -> Option<SheetEdge> {
    let way = to - from;
    match (way.x.nm().signum(), way.y.nm().signum()) {
        (0, -1) => Some(SheetEdge::Top),
        (1, 0) => Some(SheetEdge::Right),
        (0, 1) => Some(SheetEdge::Bottom),
        (-1, 0) => Some(SheetEdge::Left),
        _ => None,
    }
}
