//! A turn about a line in space, exact at its end.

use glam::{DAffine3, DMat3, DVec3};
use std::f64::consts::FRAC_PI_2;

/// Hinges nearer than this, in mm, and parallel to within as much, are one.
const SAME_HINGE: f64 = 1e-6;

/// Quarter turns about a line, anticlockwise for one who looks against `along`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Hinge {
    /// A point on the line, in mm.
    pub(crate) at: DVec3,
    /// Its direction, of length 1.
    pub(crate) along: DVec3,
    /// How far it turns: 1 for 90°, 2 for 180°.
    pub(crate) quarters: i32,
    /// How fast it turns at most, in radians for a whole step.
    pub(crate) pace: f64,
}

impl Hinge {
    /// A hinge that turns evenly.
    pub(crate) fn new(at: DVec3, along: DVec3, quarters: i32) -> Self {
        Self { at, along, quarters, pace: f64::from(quarters).abs() * FRAC_PI_2 }
    }

    /// The turn when `progress` (0 to 1) of it is done. Exact at 0 and at 1, where the sines are whole numbers.
    pub(crate) fn turned(&self, progress: f64) -> DAffine3 {
        if progress <= 0.0 {
            return DAffine3::IDENTITY;
        }
        exact_turn(self.at, self.along, self.radians() * progress.min(1.0))
    }

    /// Whether another hinge turns the same way about the same line.
    pub(crate) fn is_same(&self, other: &Self) -> bool {
        self.quarters == other.quarters
            && self.along.abs_diff_eq(other.along, SAME_HINGE)
            && (other.at - self.at).cross(self.along).length() < SAME_HINGE
    }

    /// Whether it undoes another hinge, as it turns.
    pub(crate) fn takes_back(&self, other: &Self) -> bool {
        self.back().is_same(other)
    }

    /// The same hinge turning back.
    pub(crate) fn back(&self) -> Self {
        Self { along: -self.along, ..*self }
    }

    /// The turn into coordinates about the hinge: x and y across it, z along it. Right-handed.
    pub(crate) fn axes(&self) -> DMat3 {
        let (x, y) = self.along.any_orthonormal_pair();
        // Right-handed with z along the hinge, whichever pair was given.
        let y = if x.cross(y).dot(self.along) < 0.0 { -y } else { y };
        DMat3::from_cols(x, y, self.along).transpose()
    }

    /// The whole turn, in radians.
    pub(crate) fn radians(&self) -> f64 {
        f64::from(self.quarters) * FRAC_PI_2
    }
}

/// The turn by so many radians about a line. Exact at quarter turns, where the sines are whole numbers.
pub(crate) fn exact_turn(at: DVec3, along: DVec3, radians: f64) -> DAffine3 {
    let quarters = libm::round(radians / FRAC_PI_2);
    let (sin, cos) = if (quarters * FRAC_PI_2 - radians).abs() > f64::EPSILON * 4.0 {
        libm::sincos(radians)
    } else {
        match quarters.rem_euclid(4.0) {
            0.0 => (0.0, 1.0),
            1.0 => (1.0, 0.0),
            2.0 => (0.0, -1.0),
            _ => (-1.0, 0.0),
        }
    };
    let turn = rotation(along, sin, cos);
    DAffine3::from_mat3_translation(turn, at - turn * at)
}

/// The rotation about the unit vector `k` with the given sine and cosine (Rodrigues 1840).
pub(crate) fn rotation(k: DVec3, sin: f64, cos: f64) -> DMat3 {
    let rest = 1.0 - cos;
    let column = |e: DVec3| e * cos + k.cross(e) * sin + k * (k.dot(e) * rest);
    DMat3::from_cols(column(DVec3::X), column(DVec3::Y), column(DVec3::Z))
}

/// The motion of something carried by `chain`, outermost hinge first, when `progress` of each turn is done.
pub(crate) fn along_chain(chain: &[Hinge], progress: f64) -> DAffine3 {
    chain.iter().fold(DAffine3::IDENTITY, |done, hinge| done * hinge.turned(progress))
}
