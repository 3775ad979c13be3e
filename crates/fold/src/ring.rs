//! Points with paper all round, found from the joints of panels alone.

use crate::assembly::{Joint, PanelShape};
use crate::overlap::edges;
use crate::vertex::{Spoke, Vertex, round};
use glam::DVec2;
use model::Point;
use std::collections::BTreeMap;

/// A joint that runs from a point.
struct Ray {
    joint: usize,
    along: DVec2,
    /// The panels before and after it, anticlockwise.
    sides: [usize; 2],
}

/// All points at which panels make a closed ring, each joined to the next, in ascending order.
pub(crate) fn rings(panels: &[PanelShape], joints: &[Joint]) -> Vec<Vertex> {
    // Pieces have sheets of their own, so a point may stand for several places: one for each part of the panels.
    let mut rays: BTreeMap<(usize, Point), Vec<Ray>> = BTreeMap::new();
    let piece = pieces(panels.len(), joints);
    for (j, joint) in joints.iter().enumerate() {
        let [left, right] = joint.panels;
        for (&(from, to), segment) in joint.stretches.iter().zip(&joint.segments) {
            let along = (to - from).normalize_or_zero();
            let (start, end) = ordered(segment, from, to);
            rays.entry((piece[left], start)).or_default().push(Ray { joint: j, along, sides: [right, left] });
            rays.entry((piece[left], end)).or_default().push(Ray { joint: j, along: -along, sides: [left, right] });
        }
    }
    let mut found: Vec<Vertex> = rays.into_iter().filter_map(|((_, at), rays)| ring(panels, at, rays)).collect();
    found.sort_by_key(|vertex| vertex.at);
    found
}

/// The ends of a segment in the order in which a stretch has them.
fn ordered(segment: &model::Segment, from: DVec2, to: DVec2) -> (Point, Point) {
    let a = crate::assembly::to_world(segment.a);
    if a.distance_squared(from) <= a.distance_squared(to) { (segment.a, segment.b) } else { (segment.b, segment.a) }
}

/// The rays as spokes, if paper closes round them.
fn ring(panels: &[PanelShape], at: Point, mut rays: Vec<Ray>) -> Option<Vertex> {
    rays.sort_by(|a, b| round(a.along).total_cmp(&round(b.along)).then(a.joint.cmp(&b.joint)));
    let follow = |i: usize| rays[i].sides[1] == rays[(i + 1) % rays.len()].sides[0];
    if rays.len() < 2 || !(0..rays.len()).all(follow) {
        return None;
    }
    // A panel may have the point in its boundary twice, with an opening between; where it fills the whole way from ray to
    // ray, it has one corner there.
    let point = crate::assembly::to_world(at);
    let corners = |panel: usize| {
        let loops = std::iter::once(&panels[panel].outline).chain(&panels[panel].holes);
        loops.flat_map(|path| edges(path)).filter(|(corner, _)| corner.distance_squared(point) == 0.0).count()
    };
    let seen = |panel: usize| rays.iter().filter(|ray| ray.sides[1] == panel).count();
    if rays.iter().any(|ray| corners(ray.sides[1]) > seen(ray.sides[1])) {
        return None;
    }
    let spokes = rays.iter().map(|ray| Spoke { joint: ray.joint, along: ray.along, panel: ray.sides[1] }).collect();
    Some(Vertex { at, spokes })
}

/// For each panel the number of its piece.
fn pieces(panels: usize, joints: &[Joint]) -> Vec<usize> {
    let mut beside = vec![Vec::new(); panels];
    for [a, b] in joints.iter().map(|joint| joint.panels) {
        beside[a].push(b);
        beside[b].push(a);
    }
    crate::step::connected(&beside)
}
