//! The shape of a piece of paper: its outline, its openings and the cuts that end within it, from the layout's stretches.

use model::polygon::{Inside, bounds, edges, locate, without_straight_corners};
use model::{Area, Layout, Length, PanelId, Point, Segment, Size, Vector};
use nest::{Leftover, MOST_CORNERS, Rect};
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

/// Paper that hangs together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Shape {
    /// Closed outlines without straight corners: the outer one clockwise, openings anticlockwise, in no order.
    pub(crate) rings: Vec<Vec<Point>>,
    /// Cuts with the shape on both sides.
    pub(crate) slits: Vec<Segment>,
    /// Its area.
    pub(crate) area: Area,
}

impl Shape {
    /// What some panels of a sheet are together.
    pub(crate) fn of(layout: &Layout, panels: &[PanelId]) -> Self {
        let mine: BTreeSet<PanelId> = panels.iter().copied().collect();
        let has = |side: Option<PanelId>| side.is_some_and(|panel| mine.contains(&panel));
        let (mut ways, mut slits) = (BTreeMap::<Point, Vec<Point>>::new(), Vec::new());
        for stretch in &layout.stretches {
            let Segment { a, b } = stretch.segment;
            // The shape is kept to the right, which makes the outer outline clockwise.
            match stretch.sides.map(has) {
                [false, true] => ways.entry(a).or_default().push(b),
                [true, false] => ways.entry(b).or_default().push(a),
                [true, true] if stretch.work.is_some_and(|work| work.is_cut()) => slits.push(stretch.segment),
                _ => {}
            }
        }
        let area = panels.iter().map(|&panel| layout.panel(panel).area).sum();
        Self { rings: chained(ways), slits, area }
    }

    /// Its edges and slits.
    pub(crate) fn walls(&self) -> Vec<(Point, Point)> {
        let slits = self.slits.iter().map(|slit| (slit.a, slit.b));
        self.rings.iter().flat_map(|ring| edges(ring)).chain(slits).collect()
    }

    /// Where a point lies; slits are not looked at.
    pub(crate) fn locate(&self, point: Point) -> Inside {
        self.rings.split_first().map_or(Inside::No, |(first, rest)| locate(point, first, rest))
    }

    /// The least and greatest corner of the upright rectangle around it.
    pub(crate) fn bounds(&self) -> (Point, Point) {
        let points: Vec<Point> = self.rings.iter().flatten().copied().collect();
        bounds(&points)
    }

    /// The size of the upright rectangle around it; `None` for no shape.
    pub(crate) fn size(&self) -> Option<Size> {
        let (low, high) = self.bounds();
        Size::new(high.x - low.x, high.y - low.y)
    }

    /// The same paper for cutting rectangles, exactly; `None` where it has a slanting edge, an opening, a slit or more
    /// corners than nesting takes.
    pub(crate) fn exact(&self) -> Option<Leftover> {
        let [ring] = self.rings.as_slice() else { return None };
        let is_level_or_upright = |(a, b): (Point, Point)| a.x == b.x || a.y == b.y;
        let distinct: BTreeSet<Point> = ring.iter().copied().collect();
        let is_plain =
            self.slits.is_empty() && distinct.len() == ring.len() && (4..=MOST_CORNERS).contains(&ring.len());
        if !is_plain || !edges(ring).all(is_level_or_upright) {
            return None;
        }
        if ring.len() == 4 { self.around().map(Leftover::Rect) } else { Some(Leftover::Outline(ring.clone())) }
    }

    /// The upright rectangle around it.
    pub(crate) fn around(&self) -> Option<Rect> {
        let (low, high) = self.bounds();
        Rect::between(low.x, low.y, high.x, high.y)
    }

    /// Each point moved by `to`, which has to keep lengths and may not mirror.
    pub(crate) fn moved(&self, to: impl Fn(Point) -> Point) -> Self {
        let ring = |ring: &Vec<Point>| ring.iter().map(|&point| to(point)).collect();
        let slit = |slit: &Segment| Segment { a: to(slit.a), b: to(slit.b) };
        let (rings, slits) = (self.rings.iter().map(ring).collect(), self.slits.iter().map(slit).collect());
        Self { rings, slits, area: self.area }
    }
}

/// A point of an upright rectangle of `size`, when that is turned by quarters clockwise and laid with its least corner at
/// `corner`.
pub(crate) fn turned_into(point: Point, size: Size, quarters: u8, corner: Point) -> Point {
    let (width, height) = (size.width(), size.height());
    let (x, y) = match quarters % 4 {
        0 => (point.x, point.y),
        1 => (height - point.y, point.x),
        2 => (width - point.x, height - point.y),
        _ => (point.y, width - point.x),
    };
    Point::new(corner.x + x, corner.y + y)
}

/// A size turned by quarters.
pub(crate) fn turned_size(size: Size, quarters: u8) -> Size {
    if quarters.is_multiple_of(2) {
        size
    } else {
        Size::new(size.height(), size.width()).expect("both sides of a size are within the limit")
    }
}

/// Closed rings of directed edges. Where several go on from a corner, the way farthest to the right is taken, so that no
/// ring crosses itself.
fn chained(mut ways: BTreeMap<Point, Vec<Point>>) -> Vec<Vec<Point>> {
    let mut rings = Vec::new();
    while let Some((&start, _)) = ways.first_key_value() {
        let (mut ring, mut at, mut came) = (Vec::new(), start, None);
        while let Some(next) = taken(&mut ways, at, came) {
            ring.push(at);
            came = Some(next - at);
            at = next;
            if at == start {
                break;
            }
        }
        let ring = without_straight_corners(&ring);
        rings.extend((ring.len() >= 3).then_some(ring));
    }
    rings
}

/// Takes the way on from a corner.
fn taken(ways: &mut BTreeMap<Point, Vec<Point>>, at: Point, came: Option<Vector>) -> Option<Point> {
    let open = ways.get_mut(&at)?;
    let best = (0..open.len()).max_by(|&a, &b| match came {
        Some(came) => by_turn(came, open[a] - at, open[b] - at),
        None => Ordering::Equal,
    })?;
    let next = open.swap_remove(best);
    if open.is_empty() {
        ways.remove(&at);
    }
    Some(next)
}

/// Which of two ways turns farther to the right (clockwise as the maker sees it).
fn by_turn(came: Vector, a: Vector, b: Vector) -> Ordering {
    let class = |way: Vector| match came.cross(way) {
        turn if turn > 0 => 2,
        0 if came.dot(way) > 0 => 1,
        0 => -1,
        _ => 0,
    };
    class(a).cmp(&class(b)).then_with(|| b.cross(a).cmp(&0))
}

/// Half way between two points, rounded towards the sheet's corner.
pub(crate) fn middle(low: Point, high: Point) -> Point {
    let half = |a: Length, b: Length| a + (b - a).half();
    Point::new(half(low.x, high.x), half(low.y, high.y))
}
