//! The room that folds and gussets have to leave for the layers they go round.
//!
//! A fold hinges on its score. Round a stack of thickness `T` it takes two scores, so far apart that the stack fits
//! between: `g = T + 2κt + c`, where `t` is the caliper of the paper that folds, `κ` how deep in it the hinge lies, and
//! `c` some clearance. That is plane geometry of a square back; where it differs from what others say, the source is named.

use crate::assembly::{Assembly, Joint};
use crate::folding::Folding;
use crate::gusset::{GussetFit, gussets};
use crate::overlap::{LEAST_WIDTH, area, left_of};
use glam::{DAffine3, DVec2};

/// A layer that ends nearer to a crease than this, in mm, is wrapped by it: about three thicknesses of cover paper, within
/// which a fold round it has to be open already (our choice).
const NEAR: f64 = 1.0;

/// Directions whose cosine is nearer to 1 than this are one (as in [`crate::crossing`]).
pub(crate) const SAME_WAY: f64 = 1e-9;

/// Sums of calipers nearer than this, in mm, are one: a nanometre, the unit of authored lengths.
const ROUNDING: f64 = 1e-6;

/// A gap wider than this, in mm, can be two creases; up to it they can't be pressed apart, and one wide score is used:
/// 1/8 in (a maker of binders' tools gives it for spines).
pub const LEAST_DOUBLE: f64 = 3.175;

/// How to reckon room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowance {
    /// How deep the hinge of a crease lies, from the inner face, as a part of the caliper: 0 to 1.
    pub kappa: f64,
    /// What is left free on top of what is needed, in mm.
    pub clearance: f64,
    /// How far apart the grooves of the scoring board are, in mm; zero without one.
    pub groove: f64,
}

impl Default for Allowance {
    /// The hinge in the middle of the paper, nothing left free, no board. Creased board hinges nearer to its outer face;
    /// only a dummy tells how much.
    fn default() -> Self {
        Self { kappa: 0.5, clearance: 0.0, groove: 0.0 }
    }
}

impl Allowance {
    /// How far apart two square creases have to be to go round a stack, in mm: `T + 2κt + c`.
    #[must_use]
    pub fn square_back(&self, stack: f64, caliper: f64) -> f64 {
        stack + 2.0 * self.kappa * caliper + self.clearance
    }

    /// How thick a stack fits between two square creases, in mm; never below zero.
    #[must_use]
    pub fn room(&self, width: f64, caliper: f64) -> f64 {
        (width - 2.0 * self.kappa * caliper - self.clearance).max(0.0)
    }

    /// How many sheets fit between two square creases; none for sheets of no thickness.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a float too large becomes the largest"
    )]
    pub fn sheets_held(&self, width: f64, caliper: f64, sheet: f64) -> usize {
        // A sheet that fits but for rounding fits.
        if sheet > 0.0 { libm::floor(self.room(width, caliper) / sheet + 1e-9) as usize } else { 0 }
    }

    /// The narrowest width on the board's grooves that is no narrower than `width`, in mm; `None` without a board.
    #[must_use]
    pub fn next_groove(&self, width: f64) -> Option<f64> {
        (self.groove > 0.0).then(|| libm::ceil(width / self.groove - 1e-9) * self.groove)
    }
}

/// How far a round back goes round a stack, in mm: a half circle along the middle of the paper, `π/2 (T + t)`.
#[must_use]
pub fn round_back(stack: f64, caliper: f64) -> f64 {
    std::f64::consts::FRAC_PI_2 * (stack + caliper)
}

/// How a fold is scored, by the layers between its panels and the gap it has to span.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scoring {
    /// One score: nothing lies between.
    Single,
    /// One wide score, or two side by side pressed into one.
    Wide,
    /// Two scores with a strip between.
    Double,
}

/// What a fold has to span in the closed folio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoldGap {
    /// The fold, as a place in [`Assembly::joints`].
    pub joint: usize,
    /// How many layers lie between its panels where they are thickest along the crease; for a fold of a gusset, anywhere between
    /// the two panels that the gusset links.
    pub layers: usize,
    /// How thick they are there, in mm.
    pub stack: f64,
    /// How far apart its two creases would have to be, in mm; that of one crease is nothing.
    pub needed: f64,
    /// How wide a strip it has: nothing for a flat fold, the gusset's width for a fold that is one side of a gusset.
    pub has: f64,
    /// How to score it.
    pub scoring: Scoring,
}

/// For every fold that is folded flat when closed, and every fold of a gusset, what it has to span. By joint.
#[must_use]
pub fn gaps(assembly: &Assembly, folding: &Folding, allowance: &Allowance) -> Vec<FoldGap> {
    gaps_with(assembly, folding, allowance, &gussets(assembly, folding, allowance))
}

/// The same where what [`gussets`] go round is known already.
#[must_use]
pub fn gaps_with(assembly: &Assembly, folding: &Folding, allowance: &Allowance, gussets: &[GussetFit]) -> Vec<FoldGap> {
    let frames = folding.flat_pose(f64::INFINITY);
    let flat = |(j, joint): (usize, &Joint)| {
        let (layers, stack) = is_flat(joint, &frames).then(|| along_crease(assembly, folding, joint, &frames))?;
        let caliper = assembly.caliper_of(joint.panels[0]);
        let needed = if layers == 0 { 0.0 } else { allowance.square_back(stack, caliper) };
        let scoring = scoring(layers, needed);
        Some(FoldGap { joint: j, layers, stack, needed, has: 0.0, scoring })
    };
    let mut out: Vec<FoldGap> = assembly.joints.iter().enumerate().filter_map(flat).collect();
    for fit in gussets {
        let gap = |joint| FoldGap {
            joint,
            layers: fit.layers,
            stack: fit.wraps,
            needed: fit.least,
            has: fit.has,
            scoring: Scoring::Double,
        };
        out.extend(fit.joints.map(gap));
    }
    out.sort_by_key(|gap| gap.joint);
    out.dedup_by_key(|gap| gap.joint);
    out
}

fn is_flat(joint: &Joint, frames: &[DAffine3]) -> bool {
    let [a, b] = joint.panels.map(|panel| frames[panel].matrix3.z_axis);
    a.dot(b) < SAME_WAY - 1.0
}

/// The layers between the panels of a flat fold where they are thickest along its crease, and how thick, in mm.
fn along_crease(assembly: &Assembly, folding: &Folding, joint: &Joint, frames: &[DAffine3]) -> (usize, f64) {
    let [a, b] = joint.panels;
    // Where along the crease a layer begins, and where it ends: by place, ends first.
    let mut events: Vec<(f64, bool, f64)> = Vec::new();
    for panel in folding.between(a, b) {
        let into = frames[a].inverse() * frames[panel];
        let caliper = assembly.caliper_of(panel);
        let mut before = 0.0;
        for &stretch in &joint.stretches {
            let mut spans: Vec<(f64, f64)> =
                assembly.panels[panel].convex.iter().filter_map(|part| span(part, &into, stretch)).collect();
            spans.sort_by(|x, y| x.0.total_cmp(&y.0));
            for (from, to) in merged(&spans) {
                events.extend([(before + from, true, caliper), (before + to, false, caliper)]);
            }
            before += stretch.0.distance(stretch.1) + NEAR;
        }
    }
    events.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1)));
    thickest(&events)
}

/// Which part of a stretch a part of a panel comes near to, in mm from its start. The stretch has the panel it is seen
/// from on its left; `into` takes the part to that one's sheet.
fn span(part: &[DVec2], into: &DAffine3, (from, to): (DVec2, DVec2)) -> Option<(f64, f64)> {
    let mut seen: Vec<DVec2> = part.iter().map(|corner| into.transform_point3(corner.extend(0.0)).truncate()).collect();
    if area(&seen) < 0.0 {
        seen.reverse();
    }
    let length = from.distance(to);
    let way = (to - from) / length.max(f64::MIN_POSITIVE);
    let inner = way.perp() * NEAR;
    // What of it lies in the strip along the crease.
    let strip = left_of(&left_of(&seen, from, to), to + inner, from + inner);
    let along = strip.iter().map(|corner| way.dot(*corner - from));
    let start = (f64::INFINITY, f64::NEG_INFINITY);
    let (least, most) = along.fold(start, |(least, most), at| (least.min(at), most.max(at)));
    let (least, most) = (least.max(0.0), most.min(length));
    (most - least > LEAST_WIDTH).then_some((least, most))
}

/// Spans, in ascending order, with those that touch as one.
fn merged(spans: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut out: Vec<(f64, f64)> = Vec::new();
    for &(from, to) in spans {
        match out.last_mut() {
            Some(last) if from <= last.1 + LEAST_WIDTH => last.1 = last.1.max(to),
            _ => out.push((from, to)),
        }
    }
    out
}

/// The layers at the thickest place; of places equally thick, where they are most. Sums less than a rounding apart are
/// one.
fn thickest(events: &[(f64, bool, f64)]) -> (usize, f64) {
    let (mut layers, mut stack) = (0_usize, 0.0);
    let mut most = (0, 0.0);
    for &(_, begins, caliper) in events {
        if begins {
            layers += 1;
            stack += caliper;
        } else {
            layers = layers.saturating_sub(1);
            stack -= caliper;
        }
        if stack > most.1 + ROUNDING || (stack > most.1 - ROUNDING && layers > most.0) {
            most = (layers, stack);
        }
    }
    most
}

const fn scoring(layers: usize, needed: f64) -> Scoring {
    match layers {
        0 => Scoring::Single,
        _ if needed > LEAST_DOUBLE => Scoring::Double,
        _ => Scoring::Wide,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(got: f64, expected: f64) {
        assert!((got - expected).abs() < 5e-4, "{got} is not {expected}");
    }

    #[test]
    fn backs_are_as_wide_as_the_table_has_them() {
        // Plane geometry, recomputed: paper of 0.3 mm round stacks of 0.1 to 5 mm, square T + t, round π/2 (T + t).
        let table = [(0.1, 0.4, 0.628), (0.3, 0.6, 0.942), (1.0, 1.3, 2.042), (2.0, 2.3, 3.613), (5.0, 5.3, 8.325)];
        for (stack, square, round) in table {
            near(Allowance::default().square_back(stack, 0.3), square);
            near(round_back(stack, 0.3), round);
        }
    }

    #[test]
    fn a_hinge_on_the_outer_face_needs_the_whole_paper_twice() {
        let outer = Allowance { kappa: 1.0, ..Allowance::default() };
        near(outer.square_back(1.0, 0.3), 1.6);
        near(Allowance { clearance: 0.5, ..outer }.square_back(1.0, 0.3), 2.1);
    }

    #[test]
    fn spines_are_as_thick_as_printers_say() {
        // Printers' worked spines: 128 pages at .0039 in make .2496 in, 200 pages at .005 in make .5 in; two pages a leaf.
        let none = Allowance { kappa: 0.0, ..Allowance::default() };
        near(none.square_back(64.0 * 0.0039, 0.0), 0.2496);
        assert_eq!(none.sheets_held(0.5, 0.0, 0.005), 100);
        // 96 pages of 115 g/m² at a bulk of 0.90: 4.968 mm (weight times bulk).
        assert_eq!(none.sheets_held(4.968, 0.0, 115.0 * 0.90 / 1000.0), 48);
    }

    #[test]
    fn a_back_holds_whole_sheets() {
        // floor((g - t - c) / sheet): by hand, 6.35 mm, cover 0.3 mm, sheets of 0.1 mm.
        assert_eq!(Allowance::default().sheets_held(6.35, 0.3, 0.1), 60);
        assert_eq!(Allowance::default().sheets_held(0.2, 0.3, 0.1), 0);
        assert_eq!(Allowance::default().sheets_held(6.35, 0.3, 0.0), 0);
    }

    #[test]
    fn the_next_groove_is_never_too_narrow() {
        let board = Allowance { groove: 3.175, ..Allowance::default() };
        for (least, groove) in [(0.3, 3.175), (3.175, 3.175), (3.2, 6.35), (9.0, 9.525)] {
            near(board.next_groove(least).unwrap(), groove);
        }
        assert_eq!(Allowance::default().next_groove(1.0), None);
    }

    #[test]
    fn wide_gaps_take_two_creases() {
        // 1/8 in: a maker of binders' tools.
        assert_eq!([scoring(0, 0.0), scoring(1, 0.6), scoring(9, 3.1), scoring(10, 3.3)], {
            use Scoring::{Double, Single, Wide};
            [Single, Wide, Wide, Double]
        });
    }
}
