//! When a figure that turns about a hinge first passes through one that lies still. Exact, without steps.
//!
//! In coordinates about the hinge the way two convex figures meet can change only when a corner of one crosses the plane
//! of the other, or an edge of one meets an edge of the other; each has at most two times, in closed form. Between two
//! such times a single look in the middle decides. (For a flap that contains its hinge line this is the test of
//! overlap in radius and height along the hinge; it holds for walls that stand on a flap as well.)
//!
//! Figures whose planes come to lie on one another on the way are taken as struck when they share area then.

use crate::hinge::{Hinge, rotation};
use crate::solid::{Solid, lie_together, pass_through};
use glam::{DMat3, DVec3};
use std::f64::consts::TAU;

/// Times nearer than this, in radians, are one: over a metre of radius a nanometre.
const SAME_TIME: f64 = 1e-9;

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
}

impl Swept {
    pub(crate) fn new(solid: &Solid, hinge: &Hinge) -> Self {
        let (x, y) = hinge.along.any_orthonormal_pair();
        // Right-handed with z along the hinge, whichever pair was given.
        let y = if x.cross(y).dot(hinge.along) < 0.0 { -y } else { y };
        let to_hinge = DMat3::from_cols(x, y, hinge.along).transpose();
        let solid = solid.mapped(|point| to_hinge * (point - hinge.at), |way| to_hinge * way);
        let (_, farthest) = solid.range(distance);
        Self { radius: (nearest(&solid), farthest), along: solid.range(|corner| corner.z), solid }
    }

    fn turned(&self, angle: f64) -> Solid {
        let (sin, cos) = libm::sincos(angle);
        let turn = rotation(DVec3::Z, sin, cos);
        self.solid.mapped(|point| turn * point, |way| turn * way)
    }
}

/// How far `moving` has turned when it first passes through `still`, in radians; `None` when it does not within `whole`,
/// or when it did from the start (what brought that about has been blamed).
pub(crate) fn first_contact(still: &Swept, moving: &Swept, whole: f64) -> Option<f64> {
    if apart(still.radius, moving.radius) || apart(still.along, moving.along) {
        return None;
    }
    if pass_through(&still.solid, &moving.solid) {
        return None;
    }
    let mut times = vec![0.0, whole];
    let mut add = |time: f64| {
        let time = time.rem_euclid(TAU);
        if time > SAME_TIME && time < whole - SAME_TIME {
            times.push(time);
        }
    };
    corner_times(&moving.solid, &still.solid, |time| add(time));
    corner_times(&still.solid, &moving.solid, |time| add(-time));
    for edge in moving.solid.edges() {
        for other in still.solid.edges() {
            edge_times(edge, other, &mut add);
        }
    }
    let together = together_times(&still.solid, &moving.solid).filter(|time| {
        *time > SAME_TIME && *time < whole - SAME_TIME && lie_together(&still.solid, &moving.turned(*time))
    });
    let together = together.fold(f64::INFINITY, f64::min);
    times.sort_by(f64::total_cmp);
    let strikes = |span: &&[f64]| {
        span[1] - span[0] > SAME_TIME && pass_through(&still.solid, &moving.turned((span[0] + span[1]) / 2.0))
    };
    let through = times.windows(2).find(strikes).map_or(f64::INFINITY, |span| span[0]);
    let first = through.min(together);
    first.is_finite().then_some(first)
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
    for v in &turning.corners {
        let (a, b) = (n.x * v.x + n.y * v.y, n.y * v.x - n.x * v.y);
        let c = n.z * v.z - n.dot(on_plane);
        let size = libm::hypot(a, b);
        if size > NOTHING && c.abs() <= size {
            let (middle, half) = (libm::atan2(b, a), libm::acos(-c / size));
            add(middle + half);
            add(middle - half);
        }
    }
}

/// When the turning edge `p` meets the still edge `q`: where both have one height and one distance from the axis.
fn edge_times(p: (DVec3, DVec3), q: (DVec3, DVec3), add: &mut impl FnMut(f64)) {
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
