//! A flap sticks out: folded, it reaches past the outline of the base it should cover.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, HAIR};
use crate::measure::closed_at;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::overlap::{edges, hull};
use glam::{DVec2, DVec3};
use model::PanelId;

pub(super) const RULE: Rule = Rule {
    name: "sticks-out",
    severities: &[Severity::Warning],
    about: "A flap sticks out: folded, it reaches past the outline of the base it should cover.\n\n\
            The outline is the smallest convex one round the base. A flap may reach past it by a hair, since paper of \
            some thickness folds a little short.",
    example: "The left flap sticks out 1/2 in past the right edge of the base.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::tried(context);
    outs(context)
        .iter()
        .map(|out| Finding { fixes: offers.of(|| trimmed(context, out)), ..finding(context, out) })
        .collect()
}

/// A panel that reaches past the outline of the base.
struct Out {
    /// A place in [`fold::Assembly::panels`].
    panel: usize,
    id: PanelId,
    /// By how much, in mm.
    by: f64,
    /// Past which side.
    side: Side,
}

/// A side of the base's outline.
#[derive(Clone, Copy)]
struct Side {
    name: &'static str,
    /// A place on it, in the world's mm, and the way out.
    at: DVec2,
    out: DVec2,
}

fn outs(context: &Context<'_>) -> Vec<Out> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    let poses = folding.flat_pose(closed_at(folding));
    let outline = hull(&assembly.panels[assembly.base].outline);
    let mut outs = Vec::new();
    for (panel, (shape, pose)) in assembly.panels.iter().zip(&poses).enumerate() {
        // Walls are seen edge-on; what has not folded, or hangs on what has not, is told by other rules.
        let flat = pose.transform_vector3(DVec3::Z).z.abs() > 0.5;
        if !flat || !folding.is_folded(shape.id) {
            continue;
        }
        let corners = shape.outline.iter().map(|corner| pose.transform_point3(corner.extend(0.0)).truncate());
        let out = corners.filter_map(|corner| beyond(corner, &outline)).max_by(|(a, _), (b, _)| a.total_cmp(b));
        if let Some((by, side)) = out.filter(|(by, _)| *by > HAIR.mm()) {
            outs.push(Out { panel, id: shape.id, by, side });
        }
    }
    outs
}

/// Cuts off what is past the side of the base; `None` where that would part what hangs on it, or the panel is of a part.
fn trimmed(context: &Context<'_>, out: &Out) -> Option<Fix> {
    let (_, folding) = context.folded?;
    let back = folding.flat_pose(closed_at(folding)).get(out.panel)?.inverse();
    let at = back.transform_point3(out.side.at.extend(0.0)).truncate();
    let way = back.transform_vector3(out.side.out.extend(0.0)).truncate();
    let edit = context.cut_off(out.panel, at, way)?;
    let label = format!("Cut {} off {}", lie::readable(out.by, context.document.units), context.the(out.id));
    context.if_fewer(label, edit, |context| outs(context).len())
}

/// How far a point lies outside a convex anticlockwise outline, in mm, and past which side; negative inside.
fn beyond(point: DVec2, outline: &[DVec2]) -> Option<(f64, Side)> {
    let past = edges(outline).map(|(a, b)| {
        let out = DVec2::new(b.y - a.y, a.x - b.x).normalize_or_zero();
        let name = match (out.x.abs() > out.y.abs(), out.x > 0.0, out.y > 0.0) {
            (true, true, _) => "right",
            (true, false, _) => "left",
            (false, _, true) => "top",
            (false, _, false) => "bottom",
        };
        ((point - a).dot(out), Side { name, at: a, out })
    });
    past.max_by(|(a, _), (b, _)| a.total_cmp(b))
}

fn finding(context: &Context<'_>, out: &Out) -> Finding {
    let by = lie::readable(out.by, context.document.units);
    let words = format!("{} sticks out {by} past the {} edge of the base.", context.the(out.id), out.side.name);
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(&words),
        mend: format!("Make {} shorter by that much, or choose a larger base.", context.the(out.id)),
        spot: Spot { panels: vec![out.id], ..Spot::default() },
        fixes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps, length};
    use crate::testing::{mended, mends, said};
    use model::{Layout, Length, Strip, StripSide, Turn, Work};

    #[test]
    fn a_flap_longer_than_the_base_says_where_and_by_how_much() {
        let folded = |at: &str| Sketch::on("12x6in").score(1, Turn::None, at).base("11", "3").steps(&[&[1]]).0;
        let says = "The left flap sticks out 1/2 in past the right edge of the base.";
        assert_eq!(said(&folded("6 1/4"), "sticks-out"), [says]);
        assert_eq!(said(&folded("6"), "sticks-out"), [""; 0]);
        assert_eq!(said(&four_flaps(), "sticks-out"), [""; 0]);
    }

    #[test]
    fn what_sticks_out_is_cut_off() {
        let folded = |at: &str| Sketch::on("12x6in").score(1, Turn::None, at).base("11", "3").steps(&[&[1]]).0;
        let [(label, short)] = mended(&folded("6 1/4"), "sticks-out").try_into().unwrap();
        assert_eq!(label, "Cut 1/2 in off the left flap");
        assert_eq!(said(&short, "sticks-out"), [""; 0]);
        let layout = Layout::of(&short);
        let offcuts: Vec<_> = layout.offcuts().map(|piece| piece.bounds.1.x - piece.bounds.0.x).collect();
        assert_eq!(offcuts, [length("1/2")]);
        // A hairline is trimmed, and is no offcut.
        let [(_, trimmed)] = mended(&folded("6 1/64"), "sticks-out").try_into().unwrap();
        let strip = Strip { width: Length::SIXTY_FOURTH * 2, side: StripSide::Left };
        assert_eq!(trimmed.lines[1].work, Work::Trim(strip));
        assert_eq!(Layout::of(&trimmed).offcuts().count(), 0);
        // From below, the sheet is turned for the cut.
        let below = Sketch::on("6x12in").score(1, Turn::Once, "5").base("3", "2").steps(&[&[1]]).0;
        assert_eq!(mends(&below, "sticks-out"), ["Cut 2 in off the bottom flap"]);
    }

    #[test]
    fn what_something_hangs_on_is_not_cut_off() {
        // What hangs at the left of the flap lies back over it, so the fold between the two sticks out.
        let strip = Sketch::on("14x6in").score(1, Turn::None, "3").score(2, Turn::None, "9").base("12", "3");
        let doubled = strip.steps(&[&[1], &[2]]).0;
        assert_eq!(said(&doubled, "sticks-out").len(), 2);
        assert_eq!(mends(&doubled, "sticks-out"), [""; 0]);
    }

    #[test]
    fn a_flat_sheet_has_nothing_to_stick_out_of() {
        let flat = Sketch::on("12x6in").score(1, Turn::None, "2").base("1", "3").steps(&[]).0;
        assert_eq!(said(&flat, "sticks-out"), [""; 0]);
    }

    #[test]
    fn a_flap_that_stays_flat_is_not_said_to_stick_out() {
        // The left flap folds, the right one is in no step.
        let strip = || Sketch::on("12x6in").score(1, Turn::None, "2").score(2, Turn::None, "10").base("6", "3");
        assert_eq!(said(&strip().steps(&[&[1]]).0, "sticks-out"), [""; 0]);
        // Corners that were not cut away keep the first step from being made; what hangs on the flaps stays with them.
        let mut joined = four_flaps();
        joined.lines.retain(|line| line.work.is_score());
        assert!(!said(&joined, "still-joined").is_empty());
        assert_eq!(said(&joined, "sticks-out"), [""; 0]);
    }
}
