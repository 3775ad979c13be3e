//! Panels with their thickness: a convex figure in the middle of the paper, and half a caliper on either side of it.
//! How far two slabs are apart, when one that turns first touches one that lies still, and where.
//!
//! Whether anything is struck at all is decided in [`crate::sweep`]; this says at which angle paper meets paper.

use crate::contact::{edge_meetings, plane_times};
use crate::hinge::rotation;
use crate::solid::Solid;
use glam::DVec3;
use std::f64::consts::TAU;

/// Slabs that reach less far into one another than this, in mm, only touch: far above rounding, and a hundredth of what
/// shows.
const TOUCH: f64 = 1e-6;

/// Corners and edges within this, in mm, belong to one place of contact.
const SAME_SPOT: f64 = 1e-3;

/// How far outside a face, in mm, a corner may be and still meet it: an edge that comes down on an edge does.
const RIM: f64 = 1e-7;

/// Times nearer than this, in radians, are one: over a metre of radius a nanometre.
const SAME_TIME: f64 = 1e-9;

/// Where to look between two times at which the way slabs meet may change, as parts of the time between.
const LOOKS: [f64; 6] = [0.02, 0.2, 0.4, 0.6, 0.8, 0.98];

/// Sines of angles below this belong to parallel edges.
const PARALLEL: f64 = 1e-6;

/// A convex piece of paper of even thickness.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Slab {
    /// Its corners: those on its back in turn, then those on its front.
    corners: Vec<DVec3>,
    /// Across it, of length 1, towards the front.
    normal: DVec3,
}

/// A flat side of a slab.
struct Face {
    /// Outwards, of length 1.
    normal: DVec3,
    /// Anticlockwise for one who sees it.
    corners: Vec<DVec3>,
}

impl Slab {
    /// The slab with `half` a caliper, in mm, on either side of `middle`, whose corners run anticlockwise for one who
    /// looks against its normal.
    pub(crate) fn new(middle: &Solid, half: f64) -> Self {
        let shifted = |by: f64| middle.corners.iter().map(move |&corner| corner + middle.normal * by);
        Self { corners: shifted(-half).chain(shifted(half)).collect(), normal: middle.normal }
    }

    /// The same slab elsewhere; both maps keep lengths.
    pub(crate) fn mapped(&self, point: impl Fn(DVec3) -> DVec3, direction: impl Fn(DVec3) -> DVec3) -> Self {
        Self { corners: self.corners.iter().map(|&corner| point(corner)).collect(), normal: direction(self.normal) }
    }

    fn rings(&self) -> (&[DVec3], &[DVec3]) {
        self.corners.split_at(self.corners.len() / 2)
    }

    fn faces(&self) -> Vec<Face> {
        let (back, front) = self.rings();
        let mut faces = vec![
            Face { normal: -self.normal, corners: back.iter().rev().copied().collect() },
            Face { normal: self.normal, corners: front.to_vec() },
        ];
        for i in 0..back.len() {
            let next = (i + 1) % back.len();
            let normal = (back[next] - back[i]).cross(self.normal).normalize_or_zero();
            faces.push(Face { normal, corners: vec![back[i], back[next], front[next], front[i]] });
        }
        faces
    }

    fn edges(&self) -> Vec<(DVec3, DVec3)> {
        let (back, front) = self.rings();
        let across = back.iter().copied().zip(front.iter().copied());
        around(back).chain(around(front)).chain(across).collect()
    }

    /// Directions of its edges, each once.
    fn ways(&self) -> Vec<DVec3> {
        let (back, _) = self.rings();
        around(back).map(|(p, q)| (q - p).normalize_or_zero()).chain([self.normal]).collect()
    }

    fn range(&self, way: DVec3) -> (f64, f64) {
        let along = self.corners.iter().map(|corner| way.dot(*corner));
        along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    }

    /// How far a point is outside, in mm, across the face it is farthest from; negative within.
    fn outside(&self, point: DVec3) -> f64 {
        let beyond = |face: &Face| face.corners.first().map_or(0.0, |&corner| face.normal.dot(point - corner));
        self.faces().iter().map(beyond).fold(f64::NEG_INFINITY, f64::max)
    }
}

impl Face {
    /// Whether a point of its plane is in it.
    fn holds(&self, point: DVec3) -> bool {
        around(&self.corners).all(|(p, q)| (q - p).cross(self.normal).normalize_or_zero().dot(point - p) < RIM)
    }
}

fn around(ring: &[DVec3]) -> impl Iterator<Item = (DVec3, DVec3)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// How far two slabs are apart along the way that parts them best, in mm; negative when they reach into one another,
/// and then how far. No more than their distance (separating axes of two convex bodies: faces, and edges against
/// edges).
pub(crate) fn gap(a: &Slab, b: &Slab) -> f64 {
    let faces = |slab: &Slab| slab.faces().into_iter().map(|face| face.normal).collect::<Vec<_>>();
    let (a_ways, b_ways) = (a.ways(), b.ways());
    let crossed = a_ways.iter().flat_map(|p| b_ways.iter().map(|q| p.cross(*q)));
    let crossed = crossed.filter(|way| way.length() > PARALLEL).map(DVec3::normalize);
    let along = |way: DVec3| {
        let ((a_low, a_high), (b_low, b_high)) = (a.range(way), b.range(way));
        (b_low - a_high).max(a_low - b_high)
    };
    let ways = faces(a).into_iter().chain(faces(b)).filter(|way| *way != DVec3::ZERO).chain(crossed);
    ways.map(along).fold(f64::NEG_INFINITY, f64::max)
}

/// Whether two slabs do not reach into one another.
pub(crate) fn apart(a: &Slab, b: &Slab) -> bool {
    gap(a, b) > -TOUCH
}

/// The middle of the corners and crossings of edges at which two slabs meet; `None` when they do not touch.
pub(crate) fn meeting(a: &Slab, b: &Slab) -> Option<DVec3> {
    let on = |slab: &Slab, other: &Slab| -> Vec<DVec3> {
        slab.corners.iter().copied().filter(|&corner| other.outside(corner) < SAME_SPOT).collect()
    };
    let mut spots = on(a, b);
    spots.extend(on(b, a));
    let others = b.edges();
    for edge in a.edges() {
        spots.extend(others.iter().filter_map(|&other| crossing(edge, other)));
    }
    let &first = spots.first()?;
    let (low, high) = spots.iter().fold((first, first), |(low, high), &at| (low.min(at), high.max(at)));
    Some((low + high) / 2.0)
}

/// Where two stretches come so near that they touch.
fn crossing((p, q): (DVec3, DVec3), (r, s): (DVec3, DVec3)) -> Option<DVec3> {
    let (way, other) = (q - p, s - r);
    let across = way.cross(other);
    let size = across.length_squared();
    if size <= PARALLEL * PARALLEL * way.length_squared() * other.length_squared() {
        return None;
    }
    let (t, u) = ((r - p).cross(other).dot(across) / size, (r - p).cross(way).dot(across) / size);
    let within = |part: f64| (0.0..=1.0).contains(&part);
    let (on_first, on_second) = (p + way * t, r + other * u);
    (within(t) && within(u) && on_first.distance(on_second) < SAME_SPOT).then(|| (on_first + on_second) / 2.0)
}

/// When `moving`, turning about the z axis, comes to touch `still` on its way into it, in radians: the last time before
/// `struck`, when it is known to be on it, else the first after, within `whole`. `None` when they touch all along or
/// never.
pub(crate) fn first_touch(still: &Slab, moving: &Slab, struck: f64, whole: f64) -> Option<f64> {
    let mut times = touches(still, moving, whole);
    times.extend([0.0, whole]);
    times.sort_by(f64::total_cmp);
    times.dedup_by(|later, earlier| *later - *earlier < SAME_TIME);
    let (mut was_apart, mut found) = (false, None);
    for span in times.windows(2) {
        let is_apart = apart(still, &turned(moving, f64::midpoint(span[0], span[1])));
        if was_apart && !is_apart && (span[0] <= struck + SAME_TIME || found.is_none()) {
            found = Some(span[0]);
        }
        was_apart = is_apart;
    }
    found
}

/// A time at which `moving`, turning about the z axis by `whole`, is deeper in `still` than `depth`, in mm, soon after it
/// first is. `None` when it is not at any time that is looked at, or was from the start.
///
/// Looked at are a few times between each two at which the way they meet may change: how deep one is in another runs
/// smoothly in between.
pub(crate) fn found_deeper(still: &Slab, moving: &Slab, whole: f64, depth: f64) -> Option<f64> {
    let is_deep = |time: f64| gap(still, &turned(moving, time)) < -depth;
    if is_deep(0.0) {
        return None;
    }
    let mut times = touches(still, moving, whole);
    times.extend([0.0, whole]);
    times.sort_by(f64::total_cmp);
    let looks = |span: &[f64]| LOOKS.map(|part| span[0] + (span[1] - span[0]) * part);
    times.windows(2).flat_map(looks).find(|&time| is_deep(time))
}

/// The slab turned by so much about the z axis.
pub(crate) fn turned(slab: &Slab, radians: f64) -> Slab {
    let (sin, cos) = libm::sincos(radians);
    let turn = rotation(DVec3::Z, sin, cos);
    slab.mapped(|point| turn * point, |way| turn * way)
}

/// All times within `whole` at which a corner of one lies on a face of the other, or edges meet.
fn touches(still: &Slab, moving: &Slab, whole: f64) -> Vec<f64> {
    let mut times = Vec::new();
    let mut add = |time: f64| {
        let time = time.rem_euclid(TAU);
        if time > SAME_TIME && time < whole - SAME_TIME {
            times.push(time);
        }
    };
    corners_on(&moving.corners, still, &mut add);
    corners_on(&still.corners, moving, &mut |time| add(-time));
    let edges = still.edges();
    for edge in moving.edges() {
        for &other in &edges {
            edge_meetings(edge, other, &mut add);
        }
    }
    times
}

/// When corners that turn lie on a face of `slab`.
fn corners_on(corners: &[DVec3], slab: &Slab, add: &mut impl FnMut(f64)) {
    for face in slab.faces() {
        let Some(&on_plane) = face.corners.first() else { continue };
        for &corner in corners {
            for time in plane_times(corner, face.normal, face.normal.dot(on_plane)).into_iter().flatten() {
                let (sin, cos) = libm::sincos(time);
                if face.holds(rotation(DVec3::Z, sin, cos) * corner) {
                    add(time);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;
    use std::f64::consts::PI;

    fn solid(corners: &[[f64; 3]]) -> Solid {
        let corners: Vec<DVec3> = corners.iter().map(|&corner| DVec3::from(corner)).collect();
        let normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]).normalize_or_zero();
        Solid { corners, normal }
    }

    /// A flap that turns about the middle of its paper meets the edge of a wall at so many degrees earlier.
    #[track_caller]
    fn check(caliper: f64, radius: f64, earlier: f64) {
        let flap = solid(&[[0.0, 0.0, 0.0], [radius + 30.0, 0.0, 0.0], [radius + 30.0, 0.0, 9.0], [0.0, 0.0, 9.0]]);
        let wall = solid(&[[0.0, radius, 2.0], [0.0, radius + 9.0, 2.0], [0.0, radius + 9.0, 8.0], [0.0, radius, 8.0]]);
        let (flap, wall) = (Slab::new(&flap, caliper / 2.0), Slab::new(&wall, 0.0));
        let met = first_touch(&wall, &flap, PI / 2.0, PI).unwrap();
        assert!((90.0 - met.to_degrees() - earlier).abs() < 1e-3, "{} earlier", 90.0 - met.to_degrees());
        let at = meeting(&wall, &turned(&flap, met)).unwrap();
        assert!(at.distance(DVec3::new(0.0, radius, 5.0)) < 1e-2, "{at}");
        assert!(apart(&wall, &turned(&flap, met - 1e-6)) && !apart(&wall, &turned(&flap, met + 1e-6)));
    }

    #[test]
    fn half_a_caliper_off_the_axis_meets_an_edge_earlier() {
        // The folding reference, 3.5: asin(h / r), h half the caliper.
        check(0.3, 65.0, 0.132);
        check(0.3, 10.0, 0.859);
        check(1.5, 65.0, 0.661);
    }

    #[test]
    fn layers_one_caliper_apart_only_touch() {
        let sheet = solid(&[[0.0, 0.0, 0.0], [50.0, 0.0, 0.0], [50.0, 50.0, 0.0], [0.0, 50.0, 0.0]]);
        let raised = |by: f64| Slab::new(&sheet.mapped(|at| at + DVec3::Z * by, |way| way), 0.15);
        assert!(apart(&raised(0.0), &raised(0.3)) && !apart(&raised(0.0), &raised(0.29)));
        assert!((gap(&raised(0.0), &raised(1.3)) - 1.0).abs() < 1e-12);
        assert_eq!(meeting(&raised(0.0), &raised(1.3)), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 300,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(11),
            ..ProptestConfig::default()
        })]

        #[test]
        fn closed_form_agrees_with_looking_often_and_with_turning_back(
            a in prop::array::uniform3(prop::array::uniform3(-30.0..30.0_f64)),
            b in prop::array::uniform3(prop::array::uniform3(-30.0..30.0_f64)),
            half in 0.0..2.0_f64,
        ) {
            let (still, moving) = (Slab::new(&solid(&a), half), Slab::new(&solid(&b), half));
            prop_assume!(gap(&still, &moving) > 0.1);
            let looks = || (0..=2000).map(|i| PI * f64::from(i) / 2000.0);
            let looked = looks().find(|&time| gap(&still, &turned(&moving, time)) < -1e-3);
            let found = first_touch(&still, &moving, 0.0, PI);
            match (found, looked) {
                (Some(found), Some(looked)) => prop_assert!(found <= looked + 1e-9, "{} is after {}", found, looked),
                (None, Some(looked)) => prop_assert!(false, "missed at {}", looked),
                // Too short or too shallow for looking.
                (Some(found), None) => prop_assert!(gap(&still, &turned(&moving, found)).abs() < 1e-4),
                (None, None) => {}
            }
            if let Some(found) = found {
                prop_assert!(gap(&still, &turned(&moving, found)).abs() < 1e-5, "they touch then");
            }
            // Seen from the slab that turns, the other turns back; in a mirror it turns forwards.
            let mirrored = |slab: &Slab| {
                let flip = |at: DVec3| DVec3::new(at.x, -at.y, at.z);
                let (back, front) = slab.rings();
                let ring = |ring: &[DVec3]| ring.iter().rev().map(|&at| flip(at)).collect::<Vec<_>>();
                Slab { corners: ring(back).into_iter().chain(ring(front)).collect(), normal: flip(slab.normal) }
            };
            let back = first_touch(&mirrored(&moving), &mirrored(&still), 0.0, PI);
            match (found, back) {
                (Some(found), Some(back)) => prop_assert!((found - back).abs() < 1e-9, "{} and {}", found, back),
                (found, back) => prop_assert_eq!(found, back),
            }
        }
    }
}
