//! A flap sticks out: folded, it reaches past the outline of the base it should cover.

use super::Rule;
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::overlap::{edges, hull};
use glam::{DVec2, DVec3};
use model::{Length, PanelId};

pub(super) const RULE: Rule = Rule {
    name: "sticks-out",
    severities: &[Severity::Warning],
    about: "A flap sticks out: folded, it reaches past the outline of the base it should cover.\n\n\
            The outline is the smallest convex one round the base. A flap may reach past it by a hair, since paper of \
            some thickness folds a little short.",
    example: "The left flap sticks out 1/2 in past the right edge of the base.",
    check,
};

/// 1/64 in: below what a maker can measure with a ruler (common practice, no source).
const HAIR: Length = Length::SIXTY_FOURTH;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    #[expect(clippy::cast_precision_loss, reason = "a count of steps")]
    let poses = folding.flat_pose(folding.steps() as f64);
    let outline = hull(&assembly.panels[assembly.base].outline);
    let mut findings = Vec::new();
    for (panel, pose) in assembly.panels.iter().zip(&poses) {
        // Walls are seen edge-on; what has not folded, or hangs on what has not, is told by other rules.
        let flat = pose.transform_vector3(DVec3::Z).z.abs() > 0.5;
        if !flat || !folding.is_folded(panel.id) {
            continue;
        }
        let corners = panel.outline.iter().map(|corner| pose.transform_point3(corner.extend(0.0)).truncate());
        let out = corners.map(|corner| beyond(corner, &outline)).max_by(|(a, _), (b, _)| a.total_cmp(b));
        if let Some((by, side)) = out
            && by > HAIR.mm()
        {
            findings.push(finding(context, panel.id, by, side));
        }
    }
    findings
}

/// How far a point lies outside a convex anticlockwise outline, in mm, and past which side; negative inside.
fn beyond(point: DVec2, outline: &[DVec2]) -> (f64, &'static str) {
    let past = edges(outline).map(|(a, b)| {
        let out = DVec2::new(b.y - a.y, a.x - b.x).normalize_or_zero();
        let side = match (out.x.abs() > out.y.abs(), out.x > 0.0, out.y > 0.0) {
            (true, true, _) => "right",
            (true, false, _) => "left",
            (false, _, true) => "top",
            (false, _, false) => "bottom",
        };
        ((point - a).dot(out), side)
    });
    past.max_by(|(a, _), (b, _)| a.total_cmp(b)).unwrap_or((f64::NEG_INFINITY, "left"))
}

fn finding(context: &Context<'_>, panel: PanelId, by: f64, side: &str) -> Finding {
    let by = Length::from_mm_rounded(by).unwrap_or(Length::LIMIT).readable(context.document.units);
    let words = format!("{} sticks out {by} past the {side} edge of the base.", context.the(panel));
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(&words),
        mend: format!("Make {} shorter by that much, or choose a larger base.", context.the(panel)),
        spot: Spot { panels: vec![panel], ..Spot::default() },
        fixes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps};
    use crate::testing::said;
    use model::Turn;

    #[test]
    fn a_flap_longer_than_the_base_says_where_and_by_how_much() {
        let folded = |at: &str| Sketch::on("12x6in").score(1, Turn::None, at).base("11", "3").steps(&[&[1]]).0;
        let says = "The left flap sticks out 1/2 in past the right edge of the base.";
        assert_eq!(said(&folded("6 1/4"), "sticks-out"), [says]);
        assert_eq!(said(&folded("6"), "sticks-out"), [""; 0]);
        assert_eq!(said(&four_flaps(), "sticks-out"), [""; 0]);
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
