//! The scale check: a bar to hold a ruler against.

use super::over::Flip;
use crate::list::{Node, Role, Shape};
use crate::style::{ink_for, stroke_for};
use crate::text::{Face, TextRun};
use kurbo::{BezPath, Point, Rect, Shape as _, Size, Vec2};
use model::{Layout, Panel, Segment};

/// Whole inches above and whole centimetres below.
type Lengths = (u8, u8);

/// The bars there are, longest first.
const BARS: [Lengths; 2] = [(4, 10), (2, 5)];

/// From a bar to the lines around it, mm.
const CLEAR: f64 = 2.5;

/// What a bar says that it is.
const CHECK: &str = "scale check";

/// Where a bar says what it is.
#[derive(Debug, Clone, Copy)]
enum Caption {
    /// To its left, where it stands alone.
    Beside,
    /// Above its start, so that it takes less width.
    Above,
}

/// A bar centred on a point and at most `room` mm long: 4 in and 10 cm, or 2 in and 5 cm where that is too long.
/// Nothing where there is no room.
pub(super) fn scale_bar(middle: Point, room: f64) -> Vec<Node> {
    match room {
        room if room >= 120.0 => bar(middle, BARS[0], Caption::Beside, CHECK),
        room if room >= 70.0 => bar(middle, BARS[1], Caption::Beside, CHECK),
        _ => Vec::new(),
    }
}

/// The bar on the sheet itself: in the largest offcut, else in the base, else where else there is room, clear of every
/// line and of the text in `nodes`. Where there is none, at the sheet's foot over the drawing. `nodes` and the bar are
/// those of the sheet as turned over.
pub(super) fn bar_on_sheet(
    layout: &Layout,
    nodes: &[Node],
    sheet: Size,
    flip: Option<Flip>,
    caption: &str,
) -> Vec<Node> {
    let over = |rect: Rect| flip.map_or(rect, |flip| flip.map(sheet).transform_rect_bbox(rect));
    let lines = layout.lines.values().filter_map(|placed| Some(over(rect_of(placed.as_ref().ok()?.segment))));
    let words = nodes.iter().filter_map(text_bounds);
    let taken: Vec<Rect> = lines.chain(words).collect();
    let rooms: Vec<Rect> = rooms(layout).into_iter().map(|room| over(room).inflate(-CLEAR, -CLEAR)).collect();
    for lengths in BARS {
        let Some(shape) = bounds(&bar(Point::ORIGIN, lengths, Caption::Above, caption)) else { continue };
        let found = rooms.iter().find_map(|&room| free(shape, room, &taken));
        if let Some(middle) = found {
            return bar(middle, lengths, Caption::Above, caption);
        }
    }
    scale_bar(Point::new(sheet.width / 2.0, sheet.height - 4.0), sheet.width - 20.0)
}

/// The uppermost place in `room` for a bar of this `shape` about its middle.
fn free(shape: Rect, room: Rect, taken: &[Rect]) -> Option<Point> {
    if shape.width() > room.width() || shape.height() > room.height() {
        return None;
    }
    let near: Vec<Rect> = taken.iter().copied().filter(|other| meet(*other, room)).collect();
    let from_left = room.x0 - shape.x0;
    let spare = room.width() - shape.width();
    let clear = |middle: &Point| {
        let whole = (shape + middle.to_vec2()).inflate(1.0, 1.0);
        near.iter().all(|other| !meet(*other, whole))
    };
    let mut y = room.y0 - shape.y0;
    while y + shape.y1 <= room.y1 {
        let places = [0.5, 0.25, 0.75, 0.0, 1.0].map(|part| Point::new(from_left + spare * part, y));
        if let Some(middle) = places.into_iter().find(clear) {
            return Some(middle);
        }
        y += 1.5;
    }
    None
}

/// Where a bar may go, best first: the largest offcut, the base, then panels by their size.
fn rooms(layout: &Layout) -> Vec<Rect> {
    // Few are enough: where none of the largest has room, smaller ones have none.
    const MOST: usize = 40;
    let folio = layout.folio().map(|folio| folio.id);
    let mut panels: Vec<&Panel> = layout.panels.iter().collect();
    panels.sort_by_key(|panel| {
        (Some(panel.piece) == folio && Some(panel.id) != layout.base, std::cmp::Reverse(panel.area), panel.id)
    });
    let offcut = panels.iter().position(|panel| Some(panel.piece) != folio);
    if let Some(first) = offcut {
        panels[..=first].rotate_right(1);
    }
    let room = |panel: &&Panel| {
        let largest = panel.convex.iter().max_by_key(|piece| model::polygon::signed_area(piece))?;
        let (low, high) = model::polygon::bounds(largest);
        Some(rect_of(Segment { a: low, b: high }))
    };
    panels.iter().take(MOST).filter_map(room).collect()
}

fn rect_of(segment: Segment) -> Rect {
    Rect::from_points(segment.a.mm(), segment.b.mm())
}

/// Whether two boxes touch; lines are boxes without a width.
pub(super) fn meet(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// The box of a text.
pub(super) fn text_bounds(node: &Node) -> Option<Rect> {
    match node {
        Node::Item { shape: Shape::Text(run), .. } => Some(run.bounds()),
        _ => None,
    }
}

fn bounds(nodes: &[Node]) -> Option<Rect> {
    let one = |node: &Node| match node {
        Node::Item { shape: Shape::Line { path, .. } | Shape::Fill { path, .. }, .. } => Some(path.bounding_box()),
        other => text_bounds(other),
    };
    nodes.iter().filter_map(one).reduce(|all, one| all.union(one))
}

fn bar(middle: Point, (inches, centimetres): Lengths, caption: Caption, name: &str) -> Vec<Node> {
    let left = middle.x - f64::from(inches) * 25.4 / 2.0;
    let inch_end = left + f64::from(inches) * 25.4;
    let mut path = BezPath::new();
    let mut stroke_from = |x: f64, y: f64, along: Vec2| {
        let from = Point::new(x, middle.y + y);
        path.move_to(from);
        path.line_to(from + along);
    };
    stroke_from(left, -0.4, Vec2::new(f64::from(inches) * 25.4, 0.0));
    stroke_from(left, 0.4, Vec2::new(f64::from(centimetres) * 10.0, 0.0));
    for i in 0..=inches {
        stroke_from(left + f64::from(i) * 25.4, -0.4, Vec2::new(0.0, -2.2));
    }
    for i in 0..=centimetres {
        stroke_from(left + f64::from(i) * 10.0, 0.4, Vec2::new(0.0, if i % 5 == 0 { 2.2 } else { 1.2 }));
    }
    let words = |text: &str| TextRun::new(text, Face::Regular, 2.6, ink_for(Role::ScaleCheck));
    let name = words(name);
    let runs = [
        match caption {
            Caption::Beside => name.ending_at(Point::new(left - 2.0, middle.y + 0.9)),
            Caption::Above => name.at(Point::new(left, middle.y - 3.6)),
        },
        words(&format!("above: {inches} in")).at(Point::new(inch_end + 2.0, middle.y - 0.6)),
        words(&format!("below: {} mm", u16::from(centimetres) * 10)).at(Point::new(inch_end + 2.0, middle.y + 2.6)),
    ];
    let line = Shape::Line { path, stroke: stroke_for(Role::ScaleCheck) };
    let shapes = std::iter::once(line).chain(runs.into_iter().map(Shape::Text));
    shapes.map(|shape| Node::Item { role: Role::ScaleCheck, shape }).collect()
}
