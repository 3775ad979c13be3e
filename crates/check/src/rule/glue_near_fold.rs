//! Glue of a part comes so near to a fold that opens away from it that it oozes onto the fold.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, Glued, Shift};
use crate::{Context, Finding, Severity, Spot};
use fold::overlap::LEAST_WIDTH;
use fold::{Assembly, Joint};
use model::part::usual::measure::CLEARANCE;
use model::{Direction, Face, PartId};
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    name: "glue-near-fold",
    severities: &[Severity::Note],
    about: "Glue of a part comes so near to a fold that opens away from it that it oozes onto the fold.\n\n\
            Pressed, glue spreads; what dries on a fold cracks, and stiffens it. No published distance was found: \
            binders keep 1/16 to 1/8 in (from memory), and 1/32 in, or 1 mm, is taken here, as parts are laid by \
            themselves (common practice, no source). A part beside a fold that closes over it is told by \
            `part-over-fold` and `no-hairline`, and glue that reaches over one by `glue-over-fold`.",
    example: "The glue of \"Mat 1\" comes up to \"Score 1\", onto which it oozes.",
    check,
};

/// A fold that glue comes near to.
struct Near<'a> {
    glued: &'a Glued<'a>,
    joint: &'a Joint,
    by: f64,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded.filter(|(assembly, _)| !assembly.bonds.is_empty()) else {
        return Vec::new();
    };
    let glue = lie::glue(context);
    let mut nearest: BTreeMap<PartId, Near<'_>> = BTreeMap::new();
    for glued in &glue {
        for (place, joint) in assembly.joints.iter().enumerate() {
            if !counts(context, assembly, place, glued) {
                continue;
            }
            let by = near(context, assembly, joint, glued);
            let is_nearer = |by: &f64| nearest.get(&glued.part.id).is_none_or(|known| *by < known.by);
            if let Some(by) = by.filter(is_nearer) {
                nearest.insert(glued.part.id, Near { glued, joint, by });
            }
        }
    }
    let offers = Offers::plain();
    nearest.into_values().map(|near| finding(context, assembly, &near, &offers)).collect()
}

/// Whether a fold is one of what glue is on, moves, and is not told of otherwise.
fn counts(context: &Context<'_>, assembly: &Assembly, place: usize, glued: &Glued<'_>) -> bool {
    let [own, host] = glued.bond.panels;
    let joint = &assembly.joints[place];
    let Some(other) = lie::beyond(joint, host) else { return false };
    let id = assembly.panels[host].id;
    let of_part =
        || context.layout.part_of(id).is_some_and(|part| part.before.iter().flatten().any(|&l| l == joint.line));
    let towards = if glued.bond.faces[1] == Face::Front { Direction::Valley } else { Direction::Mountain };
    let is_told = joint.crease.direction == towards && glued.part.laid.is_some_and(|laid| laid.on == id);
    other != own && !is_told && (lie::folds(assembly, place) || of_part())
}

/// How near glue comes to a fold, in mm; `None` where that is far enough, or it reaches over the fold.
fn near(context: &Context<'_>, assembly: &Assembly, joint: &Joint, glued: &Glued<'_>) -> Option<f64> {
    let over = lie::reach_over(assembly, joint, glued.bond.panels[1], &glued.area);
    if lie::is_seen(over) {
        return None;
    }
    let by = if over > LEAST_WIDTH { 0.0 } else { lie::nearest_to(joint, &glued.area) };
    (by < CLEARANCE.of(context.document.units).mm() - LEAST_WIDTH).then_some(by)
}

fn finding(context: &Context<'_>, assembly: &Assembly, near: &Near<'_>, offers: &Offers<'_>) -> Finding {
    let Near { glued, joint, by } = *near;
    let unit = context.document.units;
    let name = &glued.part.name;
    let clear = CLEARANCE.of(unit).text(unit);
    let how = if by < LEAST_WIDTH { "comes up".to_owned() } else { format!("comes {} near", lie::readable(by, unit)) };
    let [own, host] = glued.bond.panels;
    let moved = || Shift { part: glued.part, host, joint, shapes: &glued.area }.away_by(context, assembly, -by);
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!("The glue of \"{name}\" {how} to {}, onto which it oozes.", context.line(joint.line)),
        mend: format!("Keep it {clear} away from the fold: move \"{name}\", or draw the line of glue short of it."),
        spot: Spot {
            panels: [own, host].map(|panel| assembly.panels[panel].id).to_vec(),
            lines: vec![joint.line],
            ..Spot::default()
        },
        fixes: offers.of(moved),
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::part::{base, flap_and_base, mat, moved, part};
    use crate::testing::{mended, said};
    use model::{Document, Face};

    /// A mat on the back of the base, so far from its left fold, which closes away from it.
    #[track_caller]
    fn behind(across: &str) -> Document {
        let mut mat = moved(part(1, mat("4", "4"), base()), across, "3");
        mat.place.face = Face::Back;
        flap_and_base(vec![mat])
    }

    #[test]
    fn a_mat_up_to_a_fold_that_opens_away_from_it_is_noted_and_moved() {
        let says = "The glue of \"Mat 1\" comes up to \"Score 1\", onto which it oozes.";
        assert_eq!(said(&behind("0"), "glue-near-fold"), [says]);
        let [(label, mended)] = mended(&behind("0"), "glue-near-fold").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Move it 1/32 in to the right", behind("1/32")));
        let near = "The glue of \"Mat 1\" comes 1/64 in near to \"Score 1\", onto which it oozes.";
        assert_eq!(said(&behind("1/64"), "glue-near-fold"), [near]);
        assert_eq!(said(&behind("1/32"), "glue-near-fold"), [""; 0]);
    }

    #[test]
    fn what_another_rule_tells_is_not_told_again() {
        let in_front = flap_and_base(vec![moved(part(1, mat("4", "4"), base()), "0", "3")]);
        assert_eq!(said(&in_front, "glue-near-fold"), [""; 0]);
        assert_eq!(said(&in_front, "part-over-fold").len(), 1);
        assert_eq!(said(&behind("-1/4"), "glue-near-fold"), [""; 0]);
        assert_eq!(said(&behind("-1/4"), "glue-over-fold").len(), 1);
        // A fold that nothing folds may be glued over.
        let mut flat = behind("0");
        flat.steps.clear();
        assert_eq!(said(&flat, "glue-near-fold"), [""; 0]);
    }
}
