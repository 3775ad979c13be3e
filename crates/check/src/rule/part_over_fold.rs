//! A part reaches over a fold of its panel, so that it lies in the way of what folds there, or comes so near to it that it
//! binds.

use super::Rule;
use crate::lie::{self, HAIR, Shapes, Shift};
use crate::{Context, Finding, Severity, Spot};
use fold::overlap::LEAST_WIDTH;
use fold::{Assembly, Joint};
use model::part::usual::measure::CLEARANCE;
use model::part::{ClosureKind, PartLayout};
use model::{Direction, Face, LineId};

pub(super) const RULE: Rule = Rule {
    name: "part-over-fold",
    severities: &[Severity::Error, Severity::Note],
    about: "A part reaches over a fold of its panel, so that it lies in the way of what folds there, or comes so near \
            to it that it binds.\n\n\
            Between a part and a fold that closes over it there has to be room for the bend: paper turns round a \
            radius, and glue swells. 1/32 in, or 1 mm, is left free (common practice, no source). A part whose very \
            glue reaches over the fold is told by another rule.",
    example: "\"Tab 1\" reaches 1/4 in over \"Score 1\" onto the left flap, and that fold closes over it.",
    check,
};

/// How a part lies to a fold that closes over it.
enum Lies {
    /// It reaches so far over it, in mm.
    Over(f64),
    /// It lies so far from it, in mm, which is too little.
    Near(f64),
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    context.layout.parts.iter().flat_map(|part| of_part(context, assembly, part)).collect()
}

fn of_part(context: &Context<'_>, assembly: &Assembly, part: &PartLayout) -> Vec<Finding> {
    // A ribbon bends with the paper.
    let is_limp = context.document.part(part.id).and_then(lie::closure) == Some(ClosureKind::Ribbon);
    let Some((root, face)) = lie::root(context, part).filter(|_| !is_limp) else { return Vec::new() };
    let Some(host) = assembly.place(root) else { return Vec::new() };
    let shapes = lie::rigid(assembly, part)
        .into_iter()
        .filter_map(|panel| Some(lie::laid(&assembly.panels[panel].convex, lie::onto(assembly, panel, host)?)));
    let shapes: Shapes = shapes.flatten().collect();
    let closes_over = |joint: &Joint| {
        let towards = if face == Face::Front { Direction::Valley } else { Direction::Mountain };
        joint.panels.contains(&host) && joint.crease.direction == towards
    };
    let mut over = Vec::new();
    let mut near: Vec<(f64, usize)> = Vec::new();
    for (place, joint) in assembly.joints.iter().enumerate() {
        if !closes_over(joint) || !lie::folds(assembly, place) {
            continue;
        }
        match lies(context, assembly, joint, host, &shapes) {
            Some(Lies::Over(_)) if is_glued_over(context, assembly, part, joint) => {}
            Some(Lies::Over(by)) => {
                over.push(over_fold(context, assembly, &Shift { part, host, joint, shapes: &shapes }, by));
            }
            Some(Lies::Near(by)) => near.push((by, place)),
            None => {}
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let nearest = near.first().map(|&(by, joint)| {
        let shift = Shift { part, host, joint: &assembly.joints[joint], shapes: &shapes };
        near_fold(context, assembly, &shift, by, &near)
    });
    over.extend(nearest);
    over
}

fn lies(context: &Context<'_>, assembly: &Assembly, joint: &Joint, host: usize, shapes: &Shapes) -> Option<Lies> {
    let by = lie::reach_over(assembly, joint, host, shapes);
    if lie::is_seen(by) {
        return Some(Lies::Over(by));
    }
    let by = if by > LEAST_WIDTH { 0.0 } else { lie::nearest_to(joint, shapes) };
    (by < CLEARANCE.of(context.document.units).mm() - LEAST_WIDTH).then_some(Lies::Near(by))
}

fn is_glued_over(context: &Context<'_>, assembly: &Assembly, part: &PartLayout, joint: &Joint) -> bool {
    let own = lie::glue(context).into_iter().filter(|glued| glued.part.id == part.id);
    own.into_iter().any(|glued| lie::is_seen(lie::reach_over(assembly, joint, glued.bond.panels[1], &glued.area)))
}

fn over_fold(context: &Context<'_>, assembly: &Assembly, shift: &Shift<'_>, by: f64) -> Finding {
    let Shift { part, host, joint, .. } = *shift;
    let unit = context.document.units;
    let flap = lie::beyond(joint, host).map_or(host, |other| other);
    let flap = assembly.panels[flap].id;
    Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!(
            "\"{}\" reaches {} over {} onto {}, and that fold closes over it.",
            part.name,
            lie::readable(by, unit),
            context.line(joint.line),
            context.the(flap)
        ),
        mend: format!(
            "Move it off the fold and {} away from it, or make it smaller by so much.",
            CLEARANCE.of(unit).text(unit)
        ),
        spot: Spot { panels: vec![part.main, flap], lines: vec![joint.line], ..Spot::default() },
        fixes: shift.away_by(context, assembly, by).into_iter().collect(),
    }
}

/// `near` are all folds that it lies near, the nearest first, with how near.
fn near_fold(context: &Context<'_>, assembly: &Assembly, shift: &Shift<'_>, by: f64, near: &[(f64, usize)]) -> Finding {
    let unit = context.document.units;
    let lies = if by < HAIR.mm() / 2.0 { "right at".to_owned() } else { format!("{} from", lie::readable(by, unit)) };
    let more = match near.len() {
        1 => String::new(),
        2 => ", and near another fold".to_owned(),
        count => format!(", and near {} others", count - 1),
    };
    let lines: Vec<LineId> = near.iter().map(|&(_, joint)| assembly.joints[joint].line).collect();
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "\"{}\" lies {lies} {}, which folds over it{more}.",
            shift.part.name,
            context.line(shift.joint.line)
        ),
        mend: format!(
            "Leave {} free beside a fold that closes over a part, so that it does not bind.",
            CLEARANCE.of(unit).text(unit)
        ),
        spot: Spot { panels: vec![shift.part.main], lines, ..Spot::default() },
        fixes: shift.away_by(context, assembly, -by).into_iter().filter(|_| near.len() == 1).collect(),
    }
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::length;
    use crate::testing::part::{base, first, flap_and_base, moved, part};
    use crate::testing::{mended, said};
    use model::part::Tab;
    use model::{Document, Face, PartKind, SheetEdge};

    /// A tab of 4 by 4 in, glued at its right, on a face of the base, so far from its left fold.
    #[track_caller]
    fn with_tab(from_left: &str, face: Face) -> Document {
        let (four, glued, strip) = (length("4"), SheetEdge::Right, length("1/2"));
        let tab = PartKind::Tab(Tab { width: four, height: four, glued, strip });
        let mut tab = moved(part(1, tab, base()), from_left, "3");
        (tab.place.face, tab.place.showing) = (face, face);
        flap_and_base(vec![tab])
    }

    #[test]
    fn a_part_over_a_fold_that_closes_over_it_says_by_how_much() {
        let document = with_tab("-1/4", Face::Front);
        let says = "\"Tab 1\" reaches 1/4 in over \"Score 1\" onto the left flap, and that fold closes over it.";
        assert_eq!(said(&document, "part-over-fold"), [says]);
        assert_eq!(first(&document, "part-over-fold").severity, Severity::Error);
        let mended = &mended(&document, "part-over-fold")[0].1;
        assert_eq!(mended.parts[0].place.across.distance, length("1/32"));
        // On the outside of the fold the flap turns away from it.
        assert_eq!(said(&with_tab("-1/4", Face::Back), "part-over-fold"), [""; 0]);
    }

    #[test]
    fn a_part_less_than_a_hairline_from_such_a_fold_is_noted() {
        let says = "\"Tab 1\" lies right at \"Score 1\", which folds over it.";
        assert_eq!(said(&with_tab("0", Face::Front), "part-over-fold"), [says]);
        assert_eq!(said(&with_tab("-1/64", Face::Front), "part-over-fold"), [says]);
        let says = "\"Tab 1\" lies 1/64 in from \"Score 1\", which folds over it.";
        let near = with_tab("1/64", Face::Front);
        assert_eq!(said(&near, "part-over-fold"), [says]);
        assert_eq!(first(&near, "part-over-fold").severity, Severity::Note);
        assert_eq!(mended(&near, "part-over-fold")[0].1.parts[0].place.across.distance, length("1/32"));
        assert_eq!(said(&with_tab("1/32", Face::Front), "part-over-fold"), [""; 0]);
        assert_eq!(said(&with_tab("0", Face::Back), "part-over-fold"), [""; 0]);
    }

    #[test]
    fn a_fold_that_never_folds_is_in_nobodys_way() {
        let mut flat = with_tab("-1/4", Face::Front);
        flat.steps.clear();
        assert_eq!(said(&flat, "part-over-fold"), [""; 0]);
    }
}
