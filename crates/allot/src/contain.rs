//! Whether one shape lies within another, exactly.

use crate::shape::Shape;
use model::polygon::{Inside, locate};
use model::{Length, Point};

/// Whether all of `part` lies within `paper`, touching its edges or not, and no slit of the paper runs into it.
///
/// Where no edges cross, each shape's edges are parted by the other's corners alone, and the middle of each stretch tells
/// for all of it. Everything is doubled first, so that middles are whole nanometres.
pub(crate) fn lies_within(part: &Shape, paper: &Shape) -> bool {
    let ((low, high), (least, most)) = (part.bounds(), paper.bounds());
    if low.x < least.x || low.y < least.y || high.x > most.x || high.y > most.y {
        return false;
    }
    let twice = |point: Point| Point::new(point.x * 2, point.y * 2);
    let (part, paper) = (part.moved(twice), paper.moved(twice));
    // Most places that are tried fail here already.
    if part.rings.iter().flatten().any(|&corner| paper.locate(corner) == Inside::No) {
        return false;
    }
    let (own, walls) = (part.walls(), paper.walls());
    let crosses = own.iter().any(|&a| walls.iter().any(|&b| cross(a, b)));
    if crosses || part.rings.is_empty() {
        return false;
    }
    let ring_edges = part.rings.iter().flat_map(|ring| model::polygon::edges(ring));
    let is_in_paper = ring_edges.flat_map(|edge| middles(edge, &walls)).all(|at| paper.locate(at) != Inside::No);
    // A ring counts as outline or opening alike.
    let in_part = |at: Point| part.rings.split_first().map_or(Inside::No, |(first, rest)| locate(at, first, rest));
    is_in_paper && walls.iter().flat_map(|&wall| middles(wall, &own)).all(|at| in_part(at) != Inside::Yes)
}

/// Whether two edges cross at a point inside of both.
fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |at: Point, from: Point, to: Point| (to - from).cross(at - from).signum();
    side(a, c, d) * side(b, c, d) < 0 && side(c, a, b) * side(d, a, b) < 0
}

/// The middles of an edge's stretches between those ends of other edges that lie on it.
fn middles((a, b): (Point, Point), others: &[(Point, Point)]) -> Vec<Point> {
    let is_on = |at: &Point| (b - a).cross(*at - a) == 0 && (a - *at).dot(b - *at) < 0;
    let mut stops: Vec<Point> = others.iter().flat_map(|&(c, d)| [c, d]).filter(is_on).chain([a, b]).collect();
    stops.sort_unstable();
    stops.dedup();
    let half = |a: Length, b: Length| (a + b).half();
    stops.windows(2).map(|pair| Point::new(half(pair[0].x, pair[1].x), half(pair[0].y, pair[1].y))).collect()
}
