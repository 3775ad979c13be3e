//! Two hinges carry one thing, and their folds are not parallel, so that it can't swing up.

use super::Rule;
use crate::{Context, Finding, Severity, Spot};
use fold::{Assembly, PanelShape};
use glam::DVec3;
use model::{LineId, PartKind, PartLayout};

pub(super) const RULE: Rule = Rule {
    name: "hinges-not-parallel",
    severities: &[Severity::Warning],
    about: "Two hinges carry one thing, and their folds are not parallel, so that it can't swing up.\n\n\
            Four parallel folds in a ring move together like the bars of a parallelogram; folds that are not parallel \
            only do where they all meet in a point (plane and spherical linkages, from memory; see `fold::mobility`). \
            A maker who wants a pocket held fast glues it down.",
    example: "The folds of \"Hinge 1\" and \"Hinge 2\" lie at 90° to one another, so \"Pocket 3\", which both carry, can't swing up.",
    check,
};

/// The sine of an angle that a maker doesn't see and paper gives way to: about half a degree (common practice, no source).
const ASLANT: f64 = 0.01;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    context.layout.parts.iter().filter_map(|part| finding(context, assembly, part)).collect()
}

fn finding(context: &Context<'_>, assembly: &Assembly, part: &PartLayout) -> Option<Finding> {
    let folds: Vec<(&PartLayout, LineId, DVec3)> =
        context.layout.parts.iter().filter_map(|hinge| fold_under(context, assembly, hinge, part)).collect();
    let mut pairs = folds.iter().enumerate().flat_map(|(i, a)| folds[i + 1..].iter().map(move |b| (a, b)));
    let (a, b) = pairs.find(|(a, b)| a.2.cross(b.2).length() > ASLANT)?;
    // Two lines make two angles, and the lesser is meant.
    let degrees = a.2.angle_between(b.2).to_degrees();
    let degrees = degrees.min(180.0 - degrees);
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "The folds of \"{}\" and \"{}\" lie at {degrees:.0}° to one another, so \"{}\", which both carry, can't swing up.",
            a.0.name, b.0.name, part.name
        ),
        mend: "Turn one of the hinges until their folds are parallel, or take one off.".to_owned(),
        spot: Spot { panels: vec![part.main, a.0.main, b.0.main], lines: vec![a.1, b.1], ..Spot::default() },
        fixes: Vec::new(),
    })
}

/// The fold of a hinge, with its way in space, where a part is glued to the hinge.
fn fold_under<'a>(
    context: &Context<'_>,
    assembly: &Assembly,
    hinge: &'a PartLayout,
    part: &PartLayout,
) -> Option<(&'a PartLayout, LineId, DVec3)> {
    let is_hinge = matches!(context.document.part(hinge.id)?.kind, PartKind::Hinge(_));
    let is_of_it = |panel| hinge.panels.iter().any(|leaf| leaf.id == panel);
    let carries = part.glue.iter().any(|glue| !glue.area.is_empty() && is_of_it(glue.panels[1]));
    if !is_hinge || !carries || part.id == hinge.id {
        return None;
    }
    let joint = assembly.joints.iter().find(|joint| is_of_it(assembly.panels[joint.panels[0]].id))?;
    let &(from, to) = joint.stretches.first()?;
    let frame = assembly.lying(joint.panels[0])?;
    let way = frame.transform_vector3(PanelShape::lifted(to - from)).normalize_or_zero();
    Some((hinge, joint.line, way))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, hinge, moved, part, pocket};
    use crate::testing::{findings, said};
    use model::part::{Anchor, AnchorFrom, Edges, GlueArea, Gluing, Rotation};
    use model::{Document, Face, PanelRef, PartId, SheetEdge};

    /// A pocket of 3 by 3 in, glued by its left edge to one hinge and by another to a second, turned so.
    fn on_two_hinges(rotation: &str, across: &str, down: &str, edge: SheetEdge) -> Document {
        let first = moved(part(1, hinge("2", "1/2", "1/2"), base()), "2", "3 1/2");
        let mut second = moved(part(2, hinge("2", "1/2", "1/2"), base()), across, down);
        second.place.rotation = Rotation::parse(rotation).unwrap();
        let mut raised = part(3, pocket("3", "3", &[SheetEdge::Left]), PanelRef::Part(PartId(1), 1));
        raised.place.face = Face::Back;
        raised.place.across = Anchor { from: AnchorFrom::End, distance: length("0") };
        let area = GlueArea::Strips(Edges::of(&[edge]), length("1/4"));
        raised.also = vec![Gluing { panel: 0, face: Face::Back, to: PanelRef::Part(PartId(2), 1), area }];
        flap_and_base(vec![first, second, raised])
    }

    #[test]
    fn hinges_at_right_angles_hold_a_pocket_fast() {
        let says = "The folds of \"Hinge 1\" and \"Hinge 2\" lie at 90° to one another, so \"Pocket 3\", which both carry, \
                    can't swing up.";
        // The second under the pocket's lower edge.
        let document = on_two_hinges("270", "2 1/2", "5 1/2", SheetEdge::Bottom);
        assert!(
            findings(&document).iter().all(|finding| finding.rule != "misplaced-part"),
            "{:?}",
            findings(&document)
        );
        assert_eq!(said(&document, "hinges-not-parallel"), [says]);
    }

    #[test]
    fn parallel_hinges_let_it_swing() {
        let document = on_two_hinges("180", "4 1/2", "3 1/2", SheetEdge::Right);
        assert!(
            findings(&document).iter().all(|finding| finding.rule != "misplaced-part"),
            "{:?}",
            findings(&document)
        );
        assert_eq!(said(&document, "hinges-not-parallel"), [""; 0]);
    }
}
