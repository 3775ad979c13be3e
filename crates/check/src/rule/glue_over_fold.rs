//! Glue of a part lies over a fold of what it is glued to.

use super::Rule;
use crate::lie::{self, Glued, Shift};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Assembly;
use model::LineId;
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    name: "glue-over-fold",
    severities: &[Severity::Error, Severity::Warning],
    about: "Glue of a part lies over a fold of what it is glued to.\n\n\
            Glued to the panels on both sides of it, the part holds the fold as it lies: the flap does not turn, or \
            tears the part off. Glue only sets where it is pressed, so this is worse than paper that merely reaches \
            over a fold (plain from how folds work, no source).",
    example: "The glue of \"Mat 1\" reaches 1/4 in over \"Score 1\" onto the left flap, and holds that fold.",
    check,
};

/// A fold that a part's glue reaches over.
struct Over<'a> {
    glued: &'a Glued<'a>,
    joint: usize,
    by: f64,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let glue = lie::glue(context);
    let mut worst: BTreeMap<_, Over<'_>> = BTreeMap::new();
    for (glued, joint) in glue.iter().flat_map(|glued| (0..assembly.joints.len()).map(move |joint| (glued, joint))) {
        let [own, to] = glued.bond.panels;
        if lie::beyond(&assembly.joints[joint], to).is_none_or(|other| other == own) {
            continue;
        }
        let by = lie::reach_over(assembly, &assembly.joints[joint], to, &glued.area);
        let line = assembly.joints[joint].line;
        let is_worse = worst.get(&(glued.part.id, line)).is_none_or(|over| over.by < by);
        if lie::is_seen(by) && is_worse {
            worst.insert((glued.part.id, line), Over { glued, joint, by });
        }
    }
    worst.into_iter().map(|((_, line), over)| finding(context, assembly, line, &over)).collect()
}

fn finding(context: &Context<'_>, assembly: &Assembly, line: LineId, over: &Over<'_>) -> Finding {
    let Over { glued, joint, by } = *over;
    let host = glued.bond.panels[1];
    let joint_is = &assembly.joints[joint];
    let other = lie::beyond(joint_is, host).unwrap_or(host);
    let by_text = lie::readable(by, context.document.units);
    let holds = lie::folds(assembly, joint) || context.layout.part_of(assembly.panels[host].id).is_some();
    let name = &glued.part.name;
    Finding {
        rule: RULE.name,
        severity: if holds { Severity::Error } else { Severity::Warning },
        sentence: format!(
            "The glue of \"{name}\" reaches {by_text} over {} onto {}, and holds that fold.",
            context.line(line),
            context.the(assembly.panels[other].id)
        ),
        mend: format!("Move \"{name}\" off the fold by {by_text} and a little, or make it smaller."),
        spot: Spot {
            panels: vec![assembly.panels[glued.bond.panels[0]].id, assembly.panels[host].id],
            lines: vec![line],
            ..Spot::default()
        },
        fixes: moved_off(context, assembly, over).into_iter().collect(),
    }
}

/// Moves the part off the fold, where its glue then lies on its panel.
fn moved_off(context: &Context<'_>, assembly: &Assembly, over: &Over<'_>) -> Option<Fix> {
    let Over { glued, joint, by } = *over;
    let host = glued.bond.panels[1];
    let shift = Shift { part: glued.part, host, joint: &assembly.joints[joint], shapes: &glued.area };
    shift.away_by(context, assembly, by)
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, first, flap_and_base, mat, moved, part};
    use crate::testing::{mended, said};
    use model::Document;
    use model::part::Rotation;

    /// A mat of 4 by 4 in on the base, so far from its left fold.
    #[track_caller]
    fn with_mat(from_left: &str, rotation: &str) -> Document {
        let mut mat = moved(part(1, mat("4", "4"), base()), from_left, "3");
        mat.place.rotation = Rotation::parse(rotation).unwrap();
        flap_and_base(vec![mat])
    }

    #[test]
    fn a_mat_glued_over_a_fold_says_by_how_much_and_is_moved_off() {
        let document = with_mat("-1/4", "0");
        let says = "The glue of \"Mat 1\" reaches 1/4 in over \"Score 1\" onto the left flap, and holds that fold.";
        assert_eq!(said(&document, "glue-over-fold"), [says]);
        assert_eq!(first(&document, "glue-over-fold").fixes[0].label, "Move it 9/32 in to the right");
        let mended = &mended(&document, "glue-over-fold")[0].1;
        assert_eq!(mended.parts[0].place.across.distance, length("1/32"));
    }

    #[test]
    fn a_mat_up_to_a_fold_is_silent() {
        assert_eq!(said(&with_mat("0", "0"), "glue-over-fold"), [""; 0]);
        // A hair is no measure.
        assert_eq!(said(&with_mat("-1/64", "0"), "glue-over-fold"), [""; 0]);
        assert_eq!(said(&with_mat("-1/32", "0"), "glue-over-fold").len(), 1);
    }

    #[test]
    fn a_mat_turned_aslant_is_measured_at_its_corner() {
        // Its upright rectangle is as wide as its diagonal, and its corner reaches as far over the fold.
        let says = said(&with_mat("-1/2", "45"), "glue-over-fold");
        assert!(matches!(says.as_slice(), [one] if one.contains("reaches 1/2 in over \"Score 1\"")), "{says:?}");
        assert_eq!(said(&with_mat("0", "45"), "glue-over-fold"), [""; 0]);
    }

    #[test]
    fn a_mat_too_large_to_be_moved_off_is_left_to_the_maker() {
        let too_wide = flap_and_base(vec![moved(part(1, mat("9 1/4", "4"), base()), "-1/4", "3")]);
        assert_eq!(first(&too_wide, "glue-over-fold").fixes, []);
    }
}
