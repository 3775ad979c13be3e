//! The outside reference: a depth buffer that shares no code with the sorting.
//!
//! Coverage by the even-odd rule, depth by barycentric interpolation over a fan of triangles.

use super::super::Face;
use glam::{DVec2, DVec3, dvec2};

/// Samples along each side of the view.
const SAMPLES: u32 = 26;

/// Half the side of the view, in mm.
const REACH: f64 = 70.0;

/// Samples this close to an edge, in mm, are not compared: who owns an edge is a matter of taste.
const EDGE_MARGIN: f64 = 1e-3;

/// Samples where the two nearest faces are this close in depth, in mm, are not compared. A twentieth of the layer
/// distance in the scenes.
const DEPTH_MARGIN: f64 = 5e-3;

/// Faces reach this far over their edge, in mm, when painted, so that no sample falls between two parts of a face.
const BLEED: f64 = 1e-7;

/// What came of comparing two pictures.
#[derive(Debug, Default)]
pub(super) struct Comparison {
    /// Samples that more than one face covers.
    pub(super) contested: usize,
    /// Sample, face that shows by depth, face that shows by painting.
    pub(super) wrong: Vec<(DVec2, Option<usize>, Option<usize>)>,
}

/// Compares the nearest of `faces` with the last painted of `sorted` at each sample; tags are input indices.
pub(super) fn compare(faces: &[Face<usize>], sorted: &[Face<usize>], shift: DVec2) -> Comparison {
    let faces: Vec<Shape> = faces.iter().map(Shape::new).collect();
    let sorted: Vec<Shape> = sorted.iter().map(Shape::new).collect();
    let mut result = Comparison::default();
    let step = 2.0 * REACH / f64::from(SAMPLES);
    for (row, column) in (0..SAMPLES).flat_map(|row| (0..SAMPLES).map(move |column| (row, column))) {
        let at = (dvec2(f64::from(column), f64::from(row)) + shift) * step - DVec2::splat(REACH);
        let Some(covering) = covering(&faces, at) else { continue };
        let painted = sorted.iter().rev().find(|shape| shape.bounds_hold(at, BLEED) && shape.paints(at));
        let painted = painted.map(|shape| shape.tag);
        result.contested += usize::from(covering.len() > 1);
        let nearest = covering.first().copied();
        if nearest != painted {
            result.wrong.push((at, nearest, painted));
        }
    }
    result
}

/// The faces at a sample, nearest first; `None` if the sample is too close to call.
fn covering(faces: &[Shape], at: DVec2) -> Option<Vec<usize>> {
    let close: Vec<_> = faces.iter().filter(|shape| shape.bounds_hold(at, EDGE_MARGIN)).collect();
    if close.iter().any(|shape| shape.edge_distance(at) < EDGE_MARGIN) {
        return None;
    }
    let mut covering: Vec<_> =
        close.iter().filter(|shape| shape.covers(at)).map(|shape| (shape.depth(at), shape.tag)).collect();
    covering.sort_by(|a, b| b.0.total_cmp(&a.0));
    let is_close_call = matches!(covering[..], [(near, _), (far, _), ..] if near - far < DEPTH_MARGIN);
    (!is_close_call).then(|| covering.into_iter().map(|(_, tag)| tag).collect())
}

#[derive(Debug)]
struct Shape {
    points: Vec<DVec3>,
    low: DVec2,
    high: DVec2,
    tag: usize,
}

impl Shape {
    fn new(face: &Face<usize>) -> Self {
        let points: Vec<DVec3> = face.corners.iter().map(|corner| corner.at).collect();
        let low = points.iter().map(|p| p.truncate()).reduce(DVec2::min).unwrap();
        let high = points.iter().map(|p| p.truncate()).reduce(DVec2::max).unwrap();
        Self { points, low, high, tag: face.tag }
    }

    fn bounds_hold(&self, at: DVec2, margin: f64) -> bool {
        at.cmpge(self.low - margin).all() && at.cmple(self.high + margin).all()
    }

    fn edges(&self) -> impl Iterator<Item = (DVec2, DVec2)> {
        let ends = self.points.iter().cycle().skip(1);
        self.points.iter().zip(ends).map(|(a, b)| (a.truncate(), b.truncate()))
    }

    fn edge_distance(&self, at: DVec2) -> f64 {
        let to_edge = |(a, b): (DVec2, DVec2)| {
            let along = ((at - a).dot(b - a) / (b - a).length_squared()).clamp(0.0, 1.0);
            at.distance(a.lerp(b, along))
        };
        self.edges().map(to_edge).fold(f64::INFINITY, f64::min)
    }

    fn covers(&self, at: DVec2) -> bool {
        let crossed = |&(a, b): &(DVec2, DVec2)| {
            (a.y > at.y) != (b.y > at.y) && at.x < a.x + (b.x - a.x) * (at.y - a.y) / (b.y - a.y)
        };
        self.edges().filter(crossed).count() % 2 == 1
    }

    fn paints(&self, at: DVec2) -> bool {
        self.covers(at) || self.edge_distance(at) <= BLEED
    }

    /// Depth in the triangle of the fan that holds the sample most clearly.
    fn depth(&self, at: DVec2) -> f64 {
        let first = self.points[0];
        let triangles = self.points[1..].windows(2).filter_map(|pair| {
            let (a, b, c) = (first.truncate(), pair[0].truncate(), pair[1].truncate());
            let whole = (b - a).perp_dot(c - a);
            let v = (at - a).perp_dot(c - a) / whole;
            let w = (b - a).perp_dot(at - a) / whole;
            let least = v.min(w).min(1.0 - v - w);
            least.is_finite().then(|| (least, first.z + v * (pair[0].z - first.z) + w * (pair[1].z - first.z)))
        });
        triangles.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap().1
    }
}
