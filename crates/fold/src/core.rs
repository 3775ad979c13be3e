//! What of a panel must not pass through that of another: the middle of its paper; for what is thicker than the paper
//! that is scored, such as a card, what is left of it when half a caliper of that paper is taken off either side.
//!
//! So a folio of one paper is judged by the middles of its panels, and a thick card by its own thickness.

use crate::slab::{Slab, gap as slab_gap};
use crate::solid::{Solid, gap, pass_deeper};
use glam::{DAffine3, DVec3};

/// Thinner than twice this, in mm, it is a middle: calipers differ by rounding.
const LEAST_HALF: f64 = 1e-6;

/// The core of a facet.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Core {
    /// The middle of its paper.
    pub(crate) middle: Solid,
    /// What is left of its thickness on either side of that, in mm.
    pub(crate) half: f64,
}

impl Core {
    /// Of a facet whose paper has its middle there, with so much left on either side of it, in mm.
    pub(crate) const fn new(middle: Solid, half: f64) -> Self {
        Self { middle, half: if half > LEAST_HALF { half } else { 0.0 } }
    }

    /// The same elsewhere; both maps keep lengths.
    pub(crate) fn mapped(&self, point: impl Fn(DVec3) -> DVec3, direction: impl Fn(DVec3) -> DVec3) -> Self {
        Self { middle: self.middle.mapped(point, direction), half: self.half }
    }

    /// With its thickness.
    pub(crate) fn slab(&self) -> Slab {
        Slab::new(&self.middle, self.half)
    }

    /// Whether the thickness of two has to be looked at.
    pub(crate) const fn either_thick(&self, other: &Self) -> bool {
        self.half > 0.0 || other.half > 0.0
    }

    /// Makes it `other`, elsewhere.
    pub(crate) fn put(&mut self, other: &Self, by: &DAffine3) {
        self.middle.put(&other.middle, by);
        self.half = other.half;
    }

    /// A distance that two are apart at least, in mm, 0 or less when none is found; `None` when they pass through one
    /// another by more than `depth`, in mm.
    pub(crate) fn free(&self, other: &Self, depth: f64) -> Option<f64> {
        if self.either_thick(other) {
            let apart = slab_gap(&self.slab(), &other.slab());
            (apart >= -depth).then_some(apart)
        } else {
            (!pass_deeper(&self.middle, &other.middle, depth)).then(|| gap(&self.middle, &other.middle))
        }
    }

    /// Whether two pass through one another by more than `depth`, in mm.
    pub(crate) fn pass_deeper(&self, other: &Self, depth: f64) -> bool {
        if self.either_thick(other) {
            slab_gap(&self.slab(), &other.slab()) < -depth
        } else {
            pass_deeper(&self.middle, &other.middle, depth)
        }
    }

    /// How far any corner is at most from the same corner of the facet where it would be without thickness, in mm.
    pub(crate) fn aside(&self, flat: &Solid) -> f64 {
        let corners = flat.corners.iter().zip(&self.middle.corners);
        corners.map(|(at, middle)| at.distance(*middle)).fold(0.0, f64::max) + self.half
    }
}
