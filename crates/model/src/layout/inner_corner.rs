//! Where a piece is cut into: ends of cuts within it and corners that point inwards, from which paper tears.

use super::{Fold, PanelId, Stretch};
use crate::arrangement::by_angle;
use crate::geometry::{Point, Vector};
use crate::line::Work;
use std::collections::BTreeMap;

/// A corner of a piece with more paper round it than a half turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InnerCorner {
    /// Where.
    pub at: Point,
    /// The panels round it, clockwise.
    pub panels: Vec<PanelId>,
    /// How many folds end in it: folding takes the strain off, one fold at each side of a cut-away corner.
    pub folds: usize,
    /// Whether it is the end of a cut with paper all round.
    pub ends_cut: bool,
}

/// Corners that turn inwards by less than this are the joints of a flattened curve: the sine of 17°, which is more than
/// arcs of 1/64 in turn from stretch to stretch.
const CURVE_JOINT: f64 = 0.3;

/// A stretch as seen from one of its ends.
struct Ray {
    way: Vector,
    /// What lies clockwise of it.
    panel: Option<PanelId>,
    /// Whether it bounds the piece, or is a fold of it.
    bounds: bool,
}

/// All inner corners, in the order of their places.
pub(super) fn inner_corners(stretches: &[Stretch], folds: &[Fold]) -> Vec<InnerCorner> {
    let mut out = Vec::new();
    if folds.is_empty() && stretches.iter().all(|stretch| stretch.work.is_none()) {
        return out;
    }
    let mut rays: BTreeMap<Point, Vec<Ray>> = BTreeMap::new();
    for stretch in stretches {
        let [left, right] = stretch.sides;
        let (a, b) = (stretch.segment.a, stretch.segment.b);
        let folds = matches!(stretch.work, Some(Work::Score(_))) && left.is_some() && right.is_some();
        rays.entry(a).or_default().push(Ray { way: b - a, panel: right, bounds: !folds });
        rays.entry(b).or_default().push(Ray { way: a - b, panel: left, bounds: !folds });
    }
    for (at, mut round) in rays {
        round.sort_by(|p, q| by_angle(p.way, q.way));
        for i in (0..round.len()).filter(|&i| round[i].bounds) {
            out.extend(sector(at, &round, i));
        }
    }
    out
}

/// The paper clockwise of a bounding ray as far as the next, where it is more than a half turn.
fn sector(at: Point, round: &[Ray], first: usize) -> Option<InnerCorner> {
    let n = round.len();
    let mut panels = vec![round[first].panel?];
    let mut folds = 0;
    let mut last = first;
    for i in 1..=n {
        last = (first + i) % n;
        if round[last].bounds {
            break;
        }
        folds += 1;
        panels.push(round[last].panel?);
    }
    let (from, to) = (round[first].way, round[last].way);
    let ends_cut = last == first;
    // Clockwise from one to the other, the angle is more than a half turn where the sine is negative.
    let (sine, cosine) = sine_and_cosine(from, to);
    let inwards = sine < -CURVE_JOINT || (sine < 0.0 && cosine > 0.0) || (from.cross(to) == 0 && from.dot(to) > 0);
    (ends_cut || inwards).then_some(InnerCorner { at, panels, folds, ends_cut })
}

/// Sine and cosine of the angle between two ways, positive when the second lies clockwise of the first.
fn sine_and_cosine(a: Vector, b: Vector) -> (f64, f64) {
    let length = |v: Vector| libm::hypot(v.x.mm(), v.y.mm());
    let (cross, dot) = (a.x.mm() * b.y.mm() - a.y.mm() * b.x.mm(), a.x.mm() * b.x.mm() + a.y.mm() * b.y.mm());
    let both = (length(a) * length(b)).max(f64::MIN_POSITIVE);
    (cross / both, dot / both)
}
