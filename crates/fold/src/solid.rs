//! Flat convex figures in space: whether two pass through one another, and how far apart they are at least.

use crate::overlap::{is_proper, shared};
use glam::{DAffine3, DVec2, DVec3};

/// What reaches less far through another than this, in mm, touches it. Paper gives so much without a mark, and it is
/// above every rounding; were it larger, a tab in a slot too short for it would pass.
pub(crate) const DEPTH: f64 = 0.05;

/// Sines of angles below this belong to parallel planes.
const PARALLEL: f64 = 1e-9;

/// Parallel planes nearer than this, in mm, are one.
const SAME_PLANE: f64 = 1e-3;

/// A convex figure.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Solid {
    /// Its corners in turn.
    pub(crate) corners: Vec<DVec3>,
    /// Across it, of length 1.
    pub(crate) normal: DVec3,
}

impl Solid {
    /// The same figure elsewhere; `turn` keeps lengths.
    pub(crate) fn mapped(&self, point: impl Fn(DVec3) -> DVec3, direction: impl Fn(DVec3) -> DVec3) -> Self {
        Self { corners: self.corners.iter().map(|&corner| point(corner)).collect(), normal: direction(self.normal) }
    }

    /// The least and greatest value of a measure over the corners.
    pub(crate) fn range(&self, measure: impl Fn(DVec3) -> f64) -> (f64, f64) {
        self.corners
            .iter()
            .map(|&corner| measure(corner))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    }

    /// Pairs of neighbouring corners.
    pub(crate) fn edges(&self) -> impl Iterator<Item = (DVec3, DVec3)> + '_ {
        self.corners.iter().copied().zip(self.corners.iter().copied().cycle().skip(1))
    }

    /// Makes it `other`, elsewhere: what [`Self::mapped`] gives, in the room that is there.
    pub(crate) fn put(&mut self, other: &Self, by: &DAffine3) {
        self.corners.clear();
        self.corners.extend(other.corners.iter().map(|&corner| by.transform_point3(corner)));
        self.normal = by.transform_vector3(other.normal);
    }

    /// From where to where it reaches along a way.
    pub(crate) fn along(&self, way: DVec3) -> (f64, f64) {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for corner in &self.corners {
            let at = way.dot(*corner);
            low = if at < low { at } else { low };
            high = if at > high { at } else { high };
        }
        (low, high)
    }

    fn middle(&self) -> DVec3 {
        let (low, high) = self.corners.iter().fold((self.start(), self.start()), |(l, h), &at| (l.min(at), h.max(at)));
        (low + high) / 2.0
    }

    fn start(&self) -> DVec3 {
        self.corners.first().copied().unwrap_or(DVec3::ZERO)
    }
}

/// Whether two figures pass through one another by more than [`DEPTH`].
pub(crate) fn pass_through(a: &Solid, b: &Solid) -> bool {
    pass_deeper(a, b, DEPTH)
}

/// Whether two figures in planes that are not parallel pass through one another by more than `depth`, in mm: each
/// reaches so far to both sides of the other's plane, and they share so much of the line in which the planes meet.
pub(crate) fn pass_deeper(a: &Solid, b: &Solid, depth: f64) -> bool {
    let way = a.normal.cross(b.normal);
    let sine = way.length();
    if sine < PARALLEL || !straddles(a, b, depth) || !straddles(b, a, depth) {
        return false;
    }
    let way = way / sine;
    let (a_low, a_high) = on_plane(a, b, way);
    let (b_low, b_high) = on_plane(b, a, way);
    a_high.min(b_high) - a_low.max(b_low) > depth
}

/// The middle of what two figures share of the line in which their planes meet; halfway between them when that is
/// nothing.
pub(crate) fn shared_middle(a: &Solid, b: &Solid) -> DVec3 {
    let way = a.normal.cross(b.normal).normalize_or_zero();
    let spots = |solid: &Solid, plane_of: &Solid| -> Vec<DVec3> {
        let height = |point: DVec3| plane_of.normal.dot(point - plane_of.start());
        let crosses = |(p, q): (DVec3, DVec3)| {
            let (at_p, at_q) = (height(p), height(q));
            ((at_p > 0.0) != (at_q > 0.0)).then(|| p.lerp(q, at_p / (at_p - at_q)))
        };
        solid.edges().filter_map(crosses).collect()
    };
    let mut all = spots(a, b);
    all.extend(spots(b, a));
    all.sort_by(|p, q| way.dot(*p).total_cmp(&way.dot(*q)));
    match all.as_slice() {
        // Two ends of each: what is shared lies between the middle two.
        [_, from, to, _] => (*from + *to) / 2.0,
        _ => (a.middle() + b.middle()) / 2.0,
    }
}

/// Whether two figures lie in one plane and share some area.
pub(crate) fn lie_together(a: &Solid, b: &Solid) -> bool {
    if a.normal.cross(b.normal).length() > PARALLEL {
        return false;
    }
    let (low, high) = b.range(|corner| a.normal.dot(corner - a.start()));
    if low < -SAME_PLANE || high > SAME_PLANE {
        return false;
    }
    let (along, across) = a.normal.any_orthonormal_pair();
    let flat = |solid: &Solid| -> Vec<DVec2> {
        let flat: Vec<DVec2> = solid.corners.iter().map(|p| DVec2::new(along.dot(*p), across.dot(*p))).collect();
        if crate::overlap::area(&flat) < 0.0 { flat.into_iter().rev().collect() } else { flat }
    };
    is_proper(&shared(&flat(a), &flat(b)))
}

/// How far a figure reaches along its own normal, and along the axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Reach {
    across: (f64, f64),
    low: DVec3,
    high: DVec3,
}

impl Reach {
    pub(crate) fn of(solid: &Solid) -> Self {
        let start = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        let (low, high) = solid.corners.iter().fold(start, |(low, high), &at| (low.min(at), high.max(at)));
        Self { across: solid.along(solid.normal), low, high }
    }
}

/// A distance that the figures are apart at least, in mm; 0 or less when none is found. Looks along a few likely ways.
pub(crate) fn gap(a: &Solid, b: &Solid) -> f64 {
    gap_of((a, &Reach::of(a)), (b, &Reach::of(b)))
}

/// The same of figures whose reaches are known.
pub(crate) fn gap_of((a, of_a): (&Solid, &Reach), (b, of_b): (&Solid, &Reach)) -> f64 {
    let between = |(a_low, a_high): (f64, f64), (b_low, b_high): (f64, f64)| (b_low - a_high).max(a_low - b_high);
    let crossed = a.normal.cross(b.normal).normalize_or_zero();
    let upright = (of_b.low - of_a.high).max(of_a.low - of_b.high).max_element();
    let of_planes = between(of_a.across, b.along(a.normal)).max(between(a.along(b.normal), of_b.across));
    upright.max(of_planes).max(between(a.along(crossed), b.along(crossed)))
}

fn straddles(a: &Solid, plane_of: &Solid, depth: f64) -> bool {
    let (low, high) = a.range(|corner| plane_of.normal.dot(corner - plane_of.start()));
    low < -depth && high > depth
}

/// Where the figure meets the plane of another: from where to where along `way`.
fn on_plane(a: &Solid, plane_of: &Solid, way: DVec3) -> (f64, f64) {
    let height = |point: DVec3| plane_of.normal.dot(point - plane_of.start());
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for (p, q) in a.edges() {
        let (at_p, at_q) = (height(p), height(q));
        if (at_p > 0.0) != (at_q > 0.0) {
            let along = way.dot(p.lerp(q, at_p / (at_p - at_q)));
            (low, high) = (low.min(along), high.max(along));
        }
    }
    (low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn solid(corners: &[[f64; 3]]) -> Solid {
        let corners: Vec<DVec3> = corners.iter().map(|&corner| DVec3::from(corner)).collect();
        let normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]).normalize();
        Solid { corners, normal }
    }

    fn floor() -> Solid {
        solid(&[[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [10.0, 10.0, 0.0], [0.0, 10.0, 0.0]])
    }

    /// A wall 2 mm wide at x = `x`, from height `low` to `high`; the floor is 10 mm square.
    #[track_caller]
    fn check(x: f64, low: f64, high: f64, expected: bool) {
        let wall = solid(&[[x, 4.0, low], [x, 6.0, low], [x, 6.0, high], [x, 4.0, high]]);
        assert_eq!(pass_through(&floor(), &wall), expected, "x {x}, from {low} to {high}");
        assert_eq!(pass_through(&wall, &floor()), expected, "x {x}, from {low} to {high}");
        assert!(!expected || gap(&floor(), &wall) <= 0.0);
    }

    #[test]
    fn a_wall_passes_through_a_floor_when_it_reaches_to_both_sides() {
        check(5.0, -1.0, 1.0, true);
        check(5.0, 0.0, 1.0, false);
        check(5.0, -1.0, 0.0, false);
        check(5.0, -0.01, 1.0, false);
        check(10.0, -1.0, 1.0, false);
        check(11.0, -1.0, 1.0, false);
    }

    #[test]
    fn the_gap_is_no_more_than_the_distance() {
        let above = floor().mapped(|corner| corner + DVec3::Z * 3.0, |way| way);
        assert!((gap(&floor(), &above) - 3.0).abs() < 1e-12);
        assert!(!lie_together(&floor(), &above));
        assert!(lie_together(&floor(), &floor().mapped(|corner| corner + DVec3::X * 9.0, |way| -way)));
        assert!(!lie_together(&floor(), &floor().mapped(|corner| corner + DVec3::X * 10.0, |way| way)));
    }
}
