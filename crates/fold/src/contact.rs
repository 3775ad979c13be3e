//! When a figure that turns about a hinge first passes through one that lies still. Exact, without steps.
//!
//! In coordinates about the hinge the way two convex figures meet can change only when a corner of one crosses the
//! plane of the other, or an edge of one meets an edge of the other; each has at most two times, in closed form.
//! Between two such times a few looks decide. (For a flap that contains its hinge line this is the test of
//! overlap in radius and height along the hinge; it holds for walls that stand on a flap as well.)
//!
//! Figures whose planes come to lie on one another on the way are taken as struck when they share area then.

use crate::boxes::Bounds;
use crate::hinge::{Hinge, rotation};
use crate::solid::{DEPTH, Solid, lie_together, pass_deeper, pass_through};
use glam::DVec3;
use std::f64::consts::TAU;

/// Times nearer than this, in radians, are one: over a metre of radius a nanometre.
const SAME_TIME: f64 = 1e-9;

/// Where to look between two times at which something changes. The way figures meet is the same all through, but not
/// how deep; where they only just pass through one another at first, or in the end, the middle alone might not show it.
const LOOKS: [f64; 3] = [0.5, 0.02, 0.98];

/// Lengths in mm, and sines, below this are nothing.
const NOTHING: f64 = 1e-9;

/// A figure seen from a hinge: x and y across it, z along it.
#[derive(Debug, Clone)]
pub(crate) struct Swept {
    solid: Solid,
    /// Least and greatest distance from the hinge.
    radius: (f64, f64),
    /// Least and greatest place along the hinge.
    along: (f64, f64),
    /// Whether its plane contains the hinge.
    pub(crate) through_hinge: bool,
}

impl Swept {
    pub(crate) fn new(solid: &Solid, hinge: &Hinge) -> Self {
        let axes = hinge.axes();
        Self::about(solid.mapped(|point| axes * (point - hinge.at), |way| axes * way))
    }

    /// A figure in coordinates about the hinge.
    pub(crate) fn about(solid: Solid) -> Self {
        let (_, farthest) = solid.range(distance);
        let from_plane = solid.corners.first().map_or(0.0, |corner| solid.normal.dot(*corner));
        let through_hinge = solid.normal.z.abs() < NOTHING && from_plane.abs() < NOTHING;
        Self { radius: (nearest(&solid), farthest), along: solid.range(|corner| corner.z), through_hinge, solid }
    }

    /// Whether the two reach a common distance from the hinge and a common place along it: without that they never
    /// meet.
    fn may_meet(&self, other: &Self) -> bool {
        !apart(self.radius, other.radius) && !apart(self.along, other.along)
    }

    /// Its least and greatest distance from the hinge and place along it, and so much more on all sides, in mm: two of which
    /// these don't touch don't meet.
    pub(crate) fn bounds(&self, more: f64) -> Bounds {
        let more = DVec3::new(more + NOTHING, more + NOTHING, 0.0);
        let of = |radius: f64, along: f64| DVec3::new(radius, along, 0.0);
        (of(self.radius.0, self.along.0) - more, of(self.radius.1, self.along.1) + more)
    }

    fn turned(&self, angle: f64) -> Solid {
        let (sin, cos) = libm::sincos(angle);
        let turn = rotation(DVec3::Z, sin, cos);
        self.solid.mapped(|point| turn * point, |way| turn * way)
    }
}

/// How far `moving` has turned when it first passes through `still`, in radians; `None` when it does not within
/// `whole`, or when it did from the start (what brought that about has been blamed).
pub(crate) fn first_contact(still: &Swept, moving: &Swept, whole: f64) -> Option<f64> {
    if !still.may_meet(moving) {
        return None;
    }
    let within = |time: f64| time > SAME_TIME && time < whole - SAME_TIME;
    let together = together_times(&still.solid, &moving.solid)
        .filter(|&time| within(time) && lie_together(&still.solid, &moving.turned(time)))
        .fold(f64::INFINITY, f64::min);
    let through = if still.through_hinge && moving.through_hinge {
        // Their planes meet in the hinge all the time, or are one.
        None
    } else if pass_through(&still.solid, &moving.solid) {
        return None;
    } else {
        first_through(still, moving, whole, DEPTH)
    };
    let first = through.unwrap_or(f64::INFINITY).min(together);
    first.is_finite().then_some(first)
}

/// How far `moving` has turned when it begins to pass through `still` deeper than `depth`, in mm; planes that come to
/// lie on one another are no matter. `None` when it does not within `whole`, or did from the start.
pub(crate) fn first_deeper(still: &Swept, moving: &Swept, whole: f64, depth: f64) -> Option<f64> {
    if !still.may_meet(moving) || pass_deeper(&still.solid, &moving.solid, depth) {
        return None;
    }
    first_through(still, moving, whole, depth)
}

fn first_through(still: &Swept, moving: &Swept, whole: f64, depth: f64) -> Option<f64> {
    let mut times = vec![0.0, whole];
    let mut add = |time: f64| {
        let time = time.rem_euclid(TAU);
        if time > SAME_TIME && time < whole - SAME_TIME {
            times.push(time);
        }
    };
    corner_times(&moving.solid, &still.solid, &mut add);
    corner_times(&still.solid, &moving.solid, |time| add(-time));
    for edge in moving.solid.edges() {
        for other in still.solid.edges() {
            edge_meetings(edge, other, &mut add);
        }
    }
    times.sort_by(f64::total_cmp);
    let strikes = |span: &&[f64]| {
        let looks = LOOKS.iter().map(|part| span[0] + (span[1] - span[0]) * part);
        let through = |time: f64| pass_deeper(&still.solid, &moving.turned(time), depth);
        span[1] - span[0] > SAME_TIME && looks.into_iter().any(through)
    };
    times.windows(2).find(strikes).map(|span| span[0])
}

/// Whether two ranges share nothing. Ranges that touch share nothing, unless one of them is a single value.
fn apart(a: (f64, f64), b: (f64, f64)) -> bool {
    let both = a.1.min(b.1) - a.0.max(b.0);
    let wide = a.1 - a.0 > NOTHING && b.1 - b.0 > NOTHING;
    if wide { both < NOTHING } else { both < -NOTHING }
}

fn distance(point: DVec3) -> f64 {
    point.truncate().length()
}

/// The least distance of a figure from the z axis.
fn nearest(solid: &Solid) -> f64 {
    let turns = || solid.edges().map(|(p, q)| p.truncate().perp_dot(q.truncate()));
    if turns().all(|turn| turn > 0.0) || turns().all(|turn| turn < 0.0) {
        return 0.0;
    }
    let to_edge = |(p, q): (DVec3, DVec3)| {
        let (p, way) = (p.truncate(), (q - p).truncate());
        let along = (-p.dot(way) / way.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        (p + way * along).length()
    };
    solid.edges().map(to_edge).fold(f64::INFINITY, f64::min)
}

/// When the corners of `turning` cross the plane of `still`: `A cos t + B sin t + C = 0`.
fn corner_times(turning: &Solid, still: &Solid, mut add: impl FnMut(f64)) {
    let n = still.normal;
    let Some(&on_plane) = still.corners.first() else { return };
    for &corner in &turning.corners {
        plane_times(corner, n, n.dot(on_plane)).into_iter().flatten().for_each(&mut add);
    }
}

/// When a point that turns about the z axis crosses the plane `n . x = d`: `A cos t + B sin t + C = 0`, in radians.
pub(crate) fn plane_times(v: DVec3, n: DVec3, d: f64) -> [Option<f64>; 2] {
    let (a, b) = (n.x * v.x + n.y * v.y, n.y * v.x - n.x * v.y);
    let c = n.z * v.z - d;
    let size = libm::hypot(a, b);
    // One that only just reaches the plane reaches it, whatever the rounding: which it is shows in distances.
    if size <= NOTHING || c.abs() > size + NOTHING {
        return [None, None];
    }
    let (middle, half) = (libm::atan2(b, a), libm::acos((-c / size).clamp(-1.0, 1.0)));
    [Some(middle + half), Some(middle - half)]
}

/// When the turning edge `p` meets the still edge `q`: where both have one height and one distance from the axis.
pub(crate) fn edge_meetings(p: (DVec3, DVec3), q: (DVec3, DVec3), add: &mut impl FnMut(f64)) {
    let (dp, dq) = (p.1 - p.0, q.1 - q.0);
    let mut meet = |u: f64, s: f64| {
        let within = |part: f64| (-NOTHING..=1.0 + NOTHING).contains(&part);
        if within(u) && within(s) {
            let (on_p, on_q) = (p.0 + dp * u, q.0 + dq * s);
            add(libm::atan2(on_q.y, on_q.x) - libm::atan2(on_p.y, on_p.x));
        }
    };
    let flat = |point: DVec3| point.truncate();
    if dp.z.abs() > NOTHING {
        // u = m + k s, then |p0 + u dp| = |q0 + s dq| across the axis.
        let (m, k) = ((q.0.z - p.0.z) / dp.z, dq.z / dp.z);
        let (from, way) = (flat(p.0 + dp * m), flat(dp) * k);
        let (to, other) = (flat(q.0), flat(dq));
        let quadratic = [
            other.length_squared() - way.length_squared(),
            2.0 * (to.dot(other) - from.dot(way)),
            to.length_squared() - from.length_squared(),
        ];
        roots(quadratic).into_iter().flatten().for_each(|s| meet(m + k * s, s));
    } else if dq.z.abs() > NOTHING {
        let s = (p.0.z - q.0.z) / dq.z;
        let (from, way) = (flat(p.0), flat(dp));
        let reach = flat(q.0 + dq * s).length_squared();
        let quadratic = [way.length_squared(), 2.0 * from.dot(way), from.length_squared() - reach];
        roots(quadratic).into_iter().flatten().for_each(|u| meet(u, s));
    }
}

/// The times at which the planes of the two are parallel, turn by turn in `[0, 2 pi)`.
fn together_times(still: &Solid, moving: &Solid) -> impl Iterator<Item = f64> {
    let (a, b) = (still.normal, moving.normal);
    let upright = |way: DVec3| way.truncate().length() > NOTHING;
    let turn = libm::atan2(a.y, a.x) - libm::atan2(b.y, b.x);
    let half = TAU / 2.0;
    let both = [turn, turn + half].map(|time| time.rem_euclid(TAU));
    both.into_iter().filter(move |_| upright(a) && upright(b))
}

/// The real roots of `a x^2 + b x + c`, of a line when `a` is nothing.
fn roots([a, b, c]: [f64; 3]) -> [Option<f64>; 2] {
    if a.abs() < NOTHING {
        return [(b.abs() > NOTHING).then(|| -c / b), None];
    }
    let under = b * b - 4.0 * a * c;
    if under < 0.0 {
        return [None, None];
    }
    // The root without cancellation first, the other from their product.
    let sum = -0.5 * (b + under.sqrt().copysign(b));
    [Some(sum / a), (sum.abs() > f64::MIN_POSITIVE).then(|| c / sum)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;
    use std::f64::consts::PI;

    fn hinge() -> Hinge {
        Hinge::new(DVec3::ZERO, DVec3::Z, 2)
    }

    fn solid(corners: &[[f64; 3]]) -> Solid {
        let corners: Vec<DVec3> = corners.iter().map(|&corner| DVec3::from(corner)).collect();
        let normal = (corners[1] - corners[0]).cross(corners[2] - corners[0]).normalize_or_zero();
        Solid { corners, normal }
    }

    /// A flap `reach` wide on the hinge, lying towards +x, turns by half a turn past a wall from `near` to `far` on the
    /// ray at `degrees`: when it strikes.
    #[track_caller]
    fn check(reach: f64, degrees: f64, near: f64, far: f64, expected: Option<f64>) {
        let flap = solid(&[[0.0, 0.0, 0.0], [reach, 0.0, 0.0], [reach, 0.0, 10.0], [0.0, 0.0, 10.0]]);
        let (sin, cos) = libm::sincos(degrees.to_radians());
        let at = |r: f64, z: f64| [r * cos, r * sin, z];
        let wall = solid(&[at(near, 2.0), at(far, 2.0), at(far, 8.0), at(near, 8.0)]);
        let got = first_contact(&Swept::new(&wall, &hinge()), &Swept::new(&flap, &hinge()), PI);
        match (got, expected) {
            (Some(got), Some(expected)) => assert!((got.to_degrees() - expected).abs() < 1e-6, "{}", got.to_degrees()),
            _ => assert_eq!(got, expected),
        }
    }

    #[test]
    fn a_wall_through_the_hinge_is_struck_where_it_stands() {
        check(10.0, 70.0, 5.0, 15.0, Some(70.0));
        check(10.0, 70.0, 10.0, 15.0, None);
        check(10.0, 270.0, 5.0, 15.0, None);
        check(10.0, 180.0, 5.0, 15.0, None);
        check(10.0, 0.0, 5.0, 15.0, None);
    }

    /// The first of many closely spaced moments at which the two pass through one another.
    fn looked_for(still: &Swept, moving: &Swept, moments: u32) -> Option<f64> {
        let times = (0..=moments).map(|i| PI * f64::from(i) / f64::from(moments));
        times.into_iter().find(|&time| pass_through(&still.solid, &moving.turned(time)))
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 200,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(7),
            ..ProptestConfig::default()
        })]

        #[test]
        fn closed_form_agrees_with_looking_often(
            a in prop::array::uniform3(prop::array::uniform3(-30.0..30.0_f64)),
            b in prop::array::uniform3(prop::array::uniform3(-30.0..30.0_f64)),
        ) {
            let (still, moving) = (Swept::new(&solid(&a), &hinge()), Swept::new(&solid(&b), &hinge()));
            prop_assume!(!pass_through(&still.solid, &moving.solid));
            let (exact, looked) = (first_contact(&still, &moving, PI), looked_for(&still, &moving, 2000));
            match (exact, looked) {
                // Looking sees a strike when it has become deep enough to count, the closed form when it begins.
                (Some(exact), Some(looked)) => prop_assert!(exact <= looked + 1e-9, "{} is after {}", exact, looked),
                (None, Some(_)) => prop_assert!(false, "missed at {:?}", looked),
                // Too short for looking, or too shallow.
                (Some(exact), None) => {
                    prop_assert!(looked_for(&still, &moving, 200_000).is_some(), "nothing at {}", exact);
                }
                (None, None) => {}
            }
        }
    }
}
