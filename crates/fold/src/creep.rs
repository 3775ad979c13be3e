//! What thickness takes from a fold: how far outer layers fall short, how much shorter inner panels have to be, and how
//! far paper can be bent at all.
//!
//! Formulas without a source are plane geometry of layers that don't stretch along their middle.

use crate::assembly::{Assembly, Joint};
use crate::folding::Folding;
use crate::gap::{Allowance, FoldGap, gaps};
use crate::gusset::depth;
use std::f64::consts::{FRAC_PI_2, PI};

/// By how many calipers a layer folded in half round another falls short at its edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Back {
    /// Pressed sharp: 1.
    Sharp,
    /// Round: half of π.
    Round,
    /// With two square creases: 2.
    Square,
    /// As a trade allows for it: 1.2 to 1.4 for saddle-stitched booklets, by an imposition manual.
    Trade(f64),
}

impl Back {
    /// What is reckoned with unless told otherwise: 1.3, the middle of the trade's range.
    pub const USUAL: Self = Self::Trade(1.3);

    /// How many calipers a layer.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Sharp => 1.0,
            Self::Round => FRAC_PI_2,
            Self::Square => 2.0,
            Self::Trade(factor) => factor,
        }
    }

    /// How far the edge of a layer lies behind that of the innermost, in mm, when it is folded in half round `layers`
    /// others of the same caliper and length.
    #[must_use]
    pub fn creep(self, layers: usize, caliper: f64) -> f64 {
        self.factor() * caliper * count(layers)
    }
}

/// By how much two layers that lie on one another differ in length round a round bend, in mm: `φt`, for an angle turned
/// in radians.
#[must_use]
pub fn round_wrap(angle: f64, caliper: f64) -> f64 {
    angle * caliper
}

/// The same round a sharp corner, each layer along its own mitre: `2t tan(φ/2)`; without bound towards a half turn.
#[must_use]
pub fn mitred_wrap(angle: f64, caliper: f64) -> f64 {
    2.0 * caliper * libm::tan(angle / 2.0)
}

/// How much length the bends of a strip take, in mm, when it is folded in half so often, always the same way:
/// `πt/6 (2ⁿ + 4)(2ⁿ - 1)` (B. Gallivan 2002).
#[must_use]
pub fn halved_strip(times: u32, caliper: f64) -> f64 {
    let layers = libm::exp2(f64::from(times));
    PI * caliper / 6.0 * (layers + 4.0) * (layers - 1.0)
}

/// By how much a panel has to be shorter than the one it is rolled into, in mm: what thickness takes (`factor` calipers for
/// each layer enclosed) or what the folding misses by, whichever is more.
#[must_use]
pub fn roll_shortening(back: Back, layers: usize, caliper: f64, tolerance: f64) -> f64 {
    back.creep(layers, caliper).max(tolerance)
}

/// How far folding by hand misses, in mm (our choice; machines are given 1.5 mm).
pub const HAND_TOLERANCE: f64 = 0.5;

/// How far folding by machine misses, in mm: printers make the inner panel of a letter fold 1/16 to 3/32 in shorter.
pub const MACHINE_TOLERANCE: f64 = 1.5;

/// The widths of the panels of a roll, outermost first, in mm, that share `length`: the two outer ones are alike, each one
/// after them is shorter than the one before by the next of `shorter`. `None` unless all are wider than nothing.
#[must_use]
pub fn roll(length: f64, shorter: &[f64]) -> Option<Vec<f64>> {
    let mut less = vec![0.0, 0.0];
    for by in shorter {
        less.push(less.last().copied().unwrap_or(0.0) + by);
    }
    let first = (length + less.iter().sum::<f64>()) / count(less.len());
    let widths: Vec<f64> = less.iter().map(|less| first - less).collect();
    widths.iter().all(|&width| width > 0.0).then_some(widths)
}

/// How far the outer face of paper is stretched round a bend of this inner radius, as a part of its length:
/// `t / (2R + t)`.
#[must_use]
pub fn outer_strain(radius: f64, caliper: f64) -> f64 {
    if caliper > 0.0 { caliper / (2.0 * radius.max(0.0) + caliper) } else { 0.0 }
}

/// The least inner radius, in mm, round which paper can be bent without its outer face being stretched by more than
/// `strain`: `t (1/(2e) - 1/2)`. Paper breaks at about 2 % along the grain and 4 to 5 % across it (from memory), so it has
/// to be scored wherever it is folded sharper.
#[must_use]
pub fn least_radius(strain: f64, caliper: f64) -> f64 {
    if strain > 0.0 { (caliper * (0.5 / strain - 0.5)).max(0.0) } else { f64::INFINITY }
}

/// How wide the channel under a scoring rule should be, in mm: 1.5 calipers and the rule (a maker of creasing matrix;
/// a mill says 2 calipers and the rule).
#[must_use]
pub fn channel(rule: f64, caliper: f64) -> f64 {
    1.5 * caliper + rule
}

/// By how much the edges of two thick panels have to be trimmed back for them to turn by an angle (radians) about a hinge
/// in their middle, in mm: `t/2 tan(φ/2)`; without bound towards a half turn.
#[must_use]
pub fn trimmed_back(angle: f64, caliper: f64) -> f64 {
    mitred_wrap(angle, caliper) / 4.0
}

/// A flat fold that goes round other layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Creep {
    /// The fold, as a place in [`Assembly::joints`].
    pub joint: usize,
    /// How many layers it goes round.
    pub layers: usize,
    /// How far the panel beyond it falls short for that, in mm.
    pub by: f64,
}

/// How far a panel reaches from its fold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The panel beyond the fold, as seen from the base; a place in [`Assembly::panels`].
    pub panel: usize,
    /// The fold, as a place in [`Assembly::joints`].
    pub joint: usize,
    /// From the score to the farthest corner of the panel, square to the score, in mm: what it would reach if paper had no
    /// thickness.
    pub flat: f64,
    /// What it reaches, in mm: less what going round other layers takes.
    pub real: f64,
}

/// The flat folds that go round other layers, each with what that takes. By joint.
#[must_use]
pub fn creep(assembly: &Assembly, folding: &Folding, back: Back) -> Vec<Creep> {
    let wrapped =
        gaps(assembly, folding, &Allowance::default()).into_iter().filter(|gap| gap.layers > 0 && is_fold(gap.has));
    // What is enclosed may be of another paper: its thickness counts, not the number of its layers.
    wrapped.map(|gap| Creep { joint: gap.joint, layers: gap.layers, by: back.factor() * gap.stack }).collect()
}

/// How far every panel reaches beyond the flat fold that it hangs on. By joint.
#[must_use]
pub fn reach(assembly: &Assembly, folding: &Folding, back: Back) -> Vec<Reach> {
    let reach = |gap: FoldGap| {
        let joint = &assembly.joints[gap.joint];
        let panel = beyond(assembly, joint);
        let flat = depth(joint, &assembly.panels[panel].outline);
        Reach { panel, joint: gap.joint, flat, real: (flat - back.factor() * gap.stack).max(0.0) }
    };
    let all = gaps(assembly, folding, &Allowance::default());
    all.into_iter().filter(|gap| is_fold(gap.has)).map(reach).collect()
}

/// Whether a gap is that of a flat fold, which has no strip of its own.
fn is_fold(has: f64) -> bool {
    has <= 0.0
}

/// The panel of a joint that is farther from the base.
fn beyond(assembly: &Assembly, joint: &Joint) -> usize {
    let [a, b] = joint.panels;
    if assembly.ways[a] > assembly.ways[b] { a } else { b }
}

#[expect(clippy::cast_precision_loss, reason = "a count of layers is far below 2^52")]
fn count(layers: usize) -> f64 {
    layers as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(got: f64, expected: f64, within: f64) {
        assert!((got - expected).abs() <= within, "{got} is not {expected}");
    }

    #[test]
    fn layers_wrapped_in_one_another_differ_by_the_angle_times_the_caliper() {
        // Radius model: a half turn πt, a quarter (π/2) t; mitred quarter 2t.
        near(round_wrap(PI, 1.0), PI, 1e-12);
        near(round_wrap(FRAC_PI_2, 0.3), 0.471, 5e-4);
        near(mitred_wrap(FRAC_PI_2, 0.3), 0.6, 1e-12);
    }

    #[test]
    fn a_strip_halved_again_and_again_takes_what_gallivan_found() {
        // Gallivan's formula: 1, 4, 14, 50 times πt, and seven halvings at 0.1 mm 877.76 mm, which is also the sum of its
        // half circles: after n halvings the bends of the last one have radius t, 2t, ... 2ⁿ⁻¹ t.
        for (times, bends) in [(1, 1.0), (2, 4.0), (3, 14.0), (4, 50.0)] {
            near(halved_strip(times, 1.0), bends * PI, 1e-9);
        }
        near(halved_strip(7, 0.1), 877.76, 5e-3);
        for times in 1..12_u32 {
            let each =
                (1..=times).map(|fold| (1..=1_u32 << (fold - 1)).map(|layer| PI * f64::from(layer)).sum::<f64>());
            // Of that sum each halving has its own share.
            near(halved_strip(times, 1.0), each.sum(), 1e-6);
        }
    }

    #[test]
    fn booklets_creep_as_binders_allow() {
        // Three layers round one another beyond the innermost, 0.3 mm: .90, 1.41, 1.80 mm (sharp, round, square).
        for (back, by) in [(Back::Sharp, 0.90), (Back::Round, 1.41), (Back::Square, 1.80)] {
            near(back.creep(3, 0.3), by, 5e-3);
        }
        // An imposition manual: caliper × (sheets - 1) × k with k from 1.2 to 1.4, within sharp and round.
        near(Back::USUAL.creep(7, 0.1), 0.1 * 7.0 * 1.3, 1e-12);
        let k = Back::USUAL.factor();
        assert!((1.2..=1.4).contains(&k) && Back::Sharp.factor() < k && k < Back::Round.factor());
    }

    #[test]
    fn inner_panels_are_as_much_shorter_as_printers_make_them() {
        // 0.2 mm, one layer enclosed: thickness takes 0.2 to 0.4 mm, a printer 1.6 mm, so the tolerance counts.
        near(roll_shortening(Back::Square, 1, 0.2, 1.6), 1.6, 0.0);
        near(roll_shortening(Back::Square, 1, 0.2, 0.0), 0.4, 1e-12);
        near(roll_shortening(Back::Sharp, 4, 0.4, HAND_TOLERANCE), 1.6, 1e-12);
        // An online printer's letter fold of 11 in: 3.6875, 3.6875, 3.625. Another's roll of 17 in: two panels of 4.3125,
        // then 4.21875 (3/32 less) and 4.15625 (1/16 less).
        assert_eq!(roll(11.0, &[1.0 / 16.0]), Some(vec![3.6875, 3.6875, 3.625]));
        assert_eq!(roll(17.0, &[3.0 / 32.0, 1.0 / 16.0]), Some(vec![4.3125, 4.3125, 4.21875, 4.15625]));
        assert_eq!(roll(1.0, &[2.0]), None);
    }

    #[test]
    fn paper_breaks_unless_it_is_scored() {
        // R/t from the strain: 2 % 24.5, 3 % 16.2, 4 % 12, 5 % 9.5 (recomputed).
        for (strain, radii) in [(0.02, 24.5), (0.03, 16.17), (0.04, 12.0), (0.05, 9.5)] {
            near(least_radius(strain, 1.0), radii, 0.005);
            near(outer_strain(least_radius(strain, 0.3), 0.3), strain, 1e-12);
        }
        near(least_radius(0.02, 0.3), 7.35, 1e-9);
        near(outer_strain(0.0, 0.3), 1.0, 1e-12);
    }

    #[test]
    fn a_matrix_is_as_wide_as_its_maker_says() {
        // 0.3 mm with a two-point rule of 0.71 mm: 1.16 mm.
        near(channel(0.71, 0.3), 1.16, 1e-9);
    }

    #[test]
    fn thick_panels_are_trimmed_back() {
        // h tan(φ/2), h = 0.15 mm: recomputed.
        for (degrees, by) in [(60.0, 0.087), (90.0, 0.150), (120.0, 0.260), (150.0, 0.560), (170.0, 1.715)] {
            near(trimmed_back(f64::to_radians(degrees), 0.3), by, 5e-4);
        }
    }
}
