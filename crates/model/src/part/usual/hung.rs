//! What hangs on a hinge: as large as if it lay on the panel under the hinge, and held by the hinge's free leaf.

use super::fit::{Fit, Host, front};
use super::{Sort, Usual};
use crate::document::Document;
use crate::geometry::Point;
use crate::layout::{Layout, Panel};
use crate::length::Length;
use crate::part::kind::PartKind;
use crate::part::{Laid, PanelRef, Part, PartId, PartLayout, Placement, Rotation, Source};
use crate::polygon::bounds;
use crate::stock::SheetEdge;

/// A page or a mat, without a name, that hangs on a hinge; it covers what it would cover on the panel under it. `None` for
/// other sorts, and where the hinge is none or has no place. A pocket has no back of its own, so it goes on what hangs.
#[must_use]
pub fn hung(
    sort: Sort,
    id: PartId,
    hinge: PartId,
    document: &Document,
    layout: &Layout,
    fit: &Fit<'_>,
) -> Option<Part> {
    if !matches!(sort, Sort::Page | Sort::Mat) {
        return None;
    }
    let own = document.part(hinge).filter(|part| matches!(part.kind, PartKind::Hinge(_)))?;
    let on = layout.part(hinge)?;
    let laid = on.laid?;
    let host = Host::of(layout, laid.on);
    let fit = Fit { edge: Some(edge_of(&laid)), ..*fit };
    let Usual { kind, across, down, .. } = sort.fitted(&host, &fit);
    let (width, height) = front(&kind)?;
    let low = Point::new(across.start(host.low.x, host.high.x, width), down.start(host.low.y, host.high.y, height));
    let (at, leaf) = on.panels.iter().enumerate().find(|(_, panel)| panel.id != on.main)?;
    let rectangle = on_leaf(on, &laid, low, (width, height))?;
    let anchored = |start: Length, end: Length, low: Length, high: Length| {
        super::fit::MIDDLE.moved_to(start, low, high, end - start)
    };
    let (least, most) = leaf.bounds();
    // Seen from the hinge's front, the free leaf is turned over, so a turn of the hinge turns the other way round on it.
    let turned = own.place.rotation.hundredths();
    let place = Placement {
        on: PanelRef::Part(hinge, at),
        face: own.place.showing.other(),
        across: anchored(rectangle.0.x, rectangle.1.x, least.x, most.x),
        down: anchored(rectangle.0.y, rectangle.1.y, least.y, most.y),
        rotation: Rotation::from_hundredths(if laid.turned_over { -turned } else { turned }),
        showing: laid.face,
    };
    Some(Part { id, name: String::new(), kind, source: Source::AnyOffcut, place, also: Vec::new() })
}

/// The edge of the panel that the hinge's fold lies towards: its own right, as it is turned.
fn edge_of(laid: &Laid) -> SheetEdge {
    let (cos, sin) = if laid.turned_over { (-laid.right.0, -laid.right.1) } else { laid.right };
    match (cos.abs() >= sin.abs(), cos > 0.0, sin > 0.0) {
        (true, true, _) => SheetEdge::Right,
        (true, false, _) => SheetEdge::Left,
        (false, _, true) => SheetEdge::Bottom,
        (false, _, false) => SheetEdge::Top,
    }
}

/// Where a rectangle over the panel lies on the hinge's own little sheet as its free leaf is before it is folded over: the
/// upright one around it.
fn on_leaf(hinge: &PartLayout, laid: &Laid, low: Point, (width, height): (Length, Length)) -> Option<(Point, Point)> {
    let main: &Panel = hinge.panels.iter().find(|panel| panel.id == hinge.main)?;
    let fold = main.bounds().1.x;
    let corners = [(Length::ZERO, Length::ZERO), (width, Length::ZERO), (width, height), (Length::ZERO, height)];
    let mirrored = corners.map(|(x, y)| {
        let at = laid.on_part(Point::new(low.x + x, low.y + y));
        Point::new(fold * 2 - at.x, at.y)
    });
    Some(bounds(&mirrored))
}
