//! Glue holds both sides of a fold together, by way of a part or straight, so that it can't move.

use super::Rule;
use crate::fix::Offers;
use crate::lie;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Assembly, Bond};
use model::part::{Gluing, change};
use model::{LineId, PanelRef, PartId, PartKind};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

pub(super) const RULE: Rule = Rule {
    name: "locked-fold",
    severities: &[Severity::Error],
    about: "Glue holds both sides of a fold together, by way of a part or straight, so that it can't move.\n\n\
            A pocket on a hinge that is also glued to the panel under it holds the hinge shut, and a strip glued to a \
            flap and to the base keeps the flap flat: both are found when the glue has set. Looked at are folds that \
            some step folds, and those of hinges, pages and flaps, which are there to move; a fold that is made once \
            and glued down is meant so (plain from how folds work, no source). One line of glue that itself runs over \
            a fold is told by `glue-over-fold`.",
    example: "\"Hinge 1's fold\" can't open: \"Pocket 2\" and the base hold its two sides together.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded.filter(|(assembly, _)| !assembly.bonds.is_empty()) else {
        return Vec::new();
    };
    let bodies = context.bodies();
    let is_held = |joint: &usize| {
        let [a, b] = assembly.joints[*joint].panels;
        bodies[a] == bodies[b] && should_move(context, assembly, *joint)
    };
    let offers = Offers::plain();
    let mut told = BTreeSet::new();
    let held = (0..assembly.joints.len()).filter(is_held).filter(|&joint| told.insert(assembly.joints[joint].line));
    held.filter_map(|joint| finding(context, assembly, joint, &offers)).collect()
}

/// Whether this is said of a fold on one of these lines.
pub(super) fn tells(context: &Context<'_>, lines: &[LineId]) -> bool {
    let Some((assembly, _)) = context.folded.filter(|(assembly, _)| !assembly.bonds.is_empty()) else { return false };
    let bodies = context.bodies();
    let is_held = |(at, joint): (usize, &fold::Joint)| {
        let [a, b] = joint.panels;
        lines.contains(&joint.line) && bodies[a] == bodies[b] && should_move(context, assembly, at)
    };
    assembly.joints.iter().enumerate().any(is_held)
}

/// Whether a fold is there to move: a step folds it, or a part hangs by it.
fn should_move(context: &Context<'_>, assembly: &Assembly, joint: usize) -> bool {
    let panel = assembly.panels[assembly.joints[joint].panels[0]].id;
    let part = context.layout.part_of(panel).and_then(|part| context.document.part(part.id));
    let hangs = |part: &model::Part| matches!(part.kind, PartKind::Hinge(_) | PartKind::Page(_) | PartKind::Flap(_));
    lie::folds(assembly, joint) || part.is_some_and(hangs)
}

fn finding(context: &Context<'_>, assembly: &Assembly, joint: usize, offers: &Offers<'_>) -> Option<Finding> {
    let fold = &assembly.joints[joint];
    let way = way(context, assembly, fold.panels)?;
    let between = way.iter().flat_map(|&bond| assembly.bonds[bond].panels);
    let between: BTreeSet<usize> = between.filter(|panel| !fold.panels.contains(panel)).collect();
    // Parts first: they are what can be moved. Their panels come after the folio's.
    let mut names: Vec<String> = between.iter().rev().map(|&panel| holder(context, assembly, panel)).collect();
    names.dedup();
    let how = match names.as_slice() {
        [] => "its two sides are glued to one another".to_owned(),
        [one] => format!("{one} holds its two sides together"),
        _ => format!("{} hold its two sides together", model::words::listed(names.iter().cloned())),
    };
    let moves = if lie::folds(assembly, joint) { "fold" } else { "open" };
    let panels: BTreeSet<_> = fold.panels.into_iter().chain(between).map(|panel| assembly.panels[panel].id).collect();
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: sentence(&format!("{} can't {moves}: {how}.", context.line(fold.line))),
        mend: "Take the glue off on one side of the fold, or move what holds both sides to one of them.".to_owned(),
        spot: Spot {
            panels: panels.into_iter().collect(),
            lines: vec![fold.line],
            step: assembly.steps.iter().position(|step| step.joints.contains(&joint)),
            ..Spot::default()
        },
        fixes: offers.of(|| unglued(context, assembly, &way)),
    })
}

/// "the base", or a part by its own name.
fn holder(context: &Context<'_>, assembly: &Assembly, panel: usize) -> String {
    let id = assembly.panels[panel].id;
    context.layout.part_of(id).map_or_else(|| context.the(id), |part| format!("\"{}\"", part.name))
}

/// The fewest bonds by which one panel is glued to another, from the first on.
fn way(context: &Context<'_>, assembly: &Assembly, [from, to]: [usize; 2]) -> Option<Vec<usize>> {
    // What a ribbon is glued to is no body with it.
    let bodies = context.bodies();
    let holds = |bond: &Bond| !bond.area.is_empty() && bodies[bond.panels[0]] == bodies[bond.panels[1]];
    let mut reached: BTreeMap<usize, Option<(usize, usize)>> = BTreeMap::from([(from, None)]);
    let mut open = VecDeque::from([from]);
    while let Some(at) = open.pop_front() {
        for (bond, glue) in assembly.bonds.iter().enumerate().filter(|(_, bond)| holds(bond)) {
            let next = match glue.panels {
                [a, b] if a == at => b,
                [a, b] if b == at => a,
                _ => continue,
            };
            if let std::collections::btree_map::Entry::Vacant(entry) = reached.entry(next) {
                entry.insert(Some((at, bond)));
                open.push_back(next);
            }
        }
    }
    let (mut way, mut at) = (Vec::new(), to);
    while let Some((before, bond)) = *reached.get(&at)? {
        way.push(bond);
        at = before;
    }
    way.reverse();
    Some(way)
}

/// Takes off glue that a part on the way has besides that of its kind; the glue of the part put on last first.
fn unglued(context: &Context<'_>, assembly: &Assembly, way: &[usize]) -> Vec<Fix> {
    let at = |panel: PanelRef| context.layout.panel_of(panel);
    let off = |&bond: &usize| {
        let [own, to] = assembly.bonds[bond].panels.map(|panel| assembly.panels[panel].id);
        let part = context.layout.part_of(own)?;
        let holds = |glue: &Gluing| (at(PanelRef::Part(part.id, glue.panel)), at(glue.to)) != (Some(own), Some(to));
        let edit = change::change(context.document, part.id, |part| part.also.retain(holds))?;
        let label = format!("Take the glue of \"{}\" off {}", part.name, context.the(to));
        Some((place(context, part.id), Fix::new(label, edit)))
    };
    let mut fixes: Vec<(Option<usize>, Fix)> = way.iter().filter_map(off).collect();
    fixes.sort_by_key(|(place, _)| std::cmp::Reverse(*place));
    fixes.into_iter().map(|(_, fix)| fix).collect()
}

fn place(context: &Context<'_>, id: PartId) -> Option<usize> {
    context.document.parts.iter().position(|part| part.id == id)
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{base, first, flap_and_base, hinge, moved, part, pocket};
    use crate::testing::{mended, said};
    use model::part::{Anchor, AnchorFrom, Closure, ClosureKind, Edges, GlueArea, Gluing, Own, Source};
    use model::{Document, Face, PanelRef, Part, PartId, PartKind, SheetEdge, Size, Turn};

    /// A hinge on the base that carries a pocket of 3 in square by its left edge; the pocket has this glue besides.
    fn carried(also: Vec<Gluing>) -> Document {
        let mut carried = part(2, pocket("3", "3", &[SheetEdge::Left]), PanelRef::Part(PartId(1), 1));
        carried.place.face = Face::Back;
        carried.place.across = Anchor { from: AnchorFrom::End, distance: length("0") };
        carried.also = also;
        flap_and_base(vec![moved(part(1, hinge("2 3/4", "1/2", "1/2"), base()), "2", "3"), carried])
    }

    fn strip(edge: SheetEdge, to: PanelRef) -> Gluing {
        let area = GlueArea::Strips(Edges::of(&[edge]), length("1/4"));
        Gluing { panel: 0, face: Face::Back, to, area }
    }

    #[test]
    fn a_pocket_glued_to_its_hinge_and_to_the_base_holds_the_hinge() {
        let document = carried(vec![strip(SheetEdge::Right, base())]);
        let says = "\"Hinge 1's fold\" can't open: \"Pocket 2\" and the base hold its two sides together.";
        assert_eq!(said(&document, "locked-fold"), [says]);
        let [(label, mended)] = mended(&document, "locked-fold").try_into().unwrap();
        assert_eq!(label, "Take the glue of \"Pocket 2\" off the base");
        assert!(mended.parts[1].also.is_empty());
        assert_eq!(said(&carried(Vec::new()), "locked-fold"), [""; 0]);
    }

    #[test]
    fn leaves_of_a_hinge_that_are_glued_to_one_another_are_told() {
        let leaves = Gluing { panel: 1, face: Face::Front, to: PanelRef::Part(PartId(1), 0), area: GlueArea::Whole };
        let glued = |also| flap_and_base(vec![Part { also, ..part(1, hinge("3", "1/2", "1/2"), base()) }]);
        let says = "\"Hinge 1's fold\" can't open: its two sides are glued to one another.";
        assert_eq!(said(&glued(vec![leaves]), "locked-fold"), [says]);
        mended(&glued(vec![leaves]), "locked-fold");
        assert_eq!(said(&glued(Vec::new()), "locked-fold"), [""; 0]);
    }

    /// A strip of paper of 4 by 1 in across the fold between the left flap and the base, glued at its left and its
    /// right end.
    #[track_caller]
    fn bridged(ends: &[SheetEdge]) -> Document {
        let size = Size::parse("4x1in").unwrap();
        let own = Own { size, lines: vec![], corners: vec![], base: at("2", "1/2"), folded: vec![] };
        let mut bridge = moved(part(1, PartKind::Own(own), base()), "-2", "5");
        let to = |edge: SheetEdge| if edge == SheetEdge::Left { PanelRef::Sheet(at("1", "6")) } else { base() };
        bridge.also = ends.iter().map(|&edge| strip(edge, to(edge))).collect();
        flap_and_base(vec![bridge])
    }

    #[test]
    fn a_strip_glued_on_both_sides_of_a_fold_is_told_with_its_step() {
        let document = bridged(&[SheetEdge::Left, SheetEdge::Right]);
        let says = "\"Score 1\" can't fold: \"Own shape 1\" holds its two sides together.";
        assert_eq!(said(&document, "locked-fold"), [says]);
        assert_eq!(first(&document, "locked-fold").spot.step, Some(0));
        assert_eq!(said(&document, "glue-over-fold"), [""; 0], "the glue itself lies beside the fold");
        assert_eq!(said(&bridged(&[SheetEdge::Right]), "locked-fold"), [""; 0]);
    }

    #[test]
    fn a_ribbon_bends_along() {
        let (width, height, thickness) = (length("4"), length("3/8"), length("1/64"));
        let kind = PartKind::Closure(Closure { kind: ClosureKind::Ribbon, width, height, thickness });
        let mut ribbon = Part { source: Source::Bought, ..moved(part(1, kind, base()), "-2", "5") };
        ribbon.also = vec![strip(SheetEdge::Left, PanelRef::Sheet(at("1", "6")))];
        let document = flap_and_base(vec![ribbon]);
        assert_eq!(said(&document, "misplaced-part"), [""; 0]);
        assert_eq!(said(&document, "locked-fold"), [""; 0]);
    }

    #[test]
    fn a_fold_that_is_made_once_and_glued_down_is_meant_so() {
        // A strip of the maker's own, folded in half and glued to itself, then to the base.
        let size = Size::parse("4x1in").unwrap();
        let lines = Sketch::on("4x1in").score(1, Turn::None, "2").0.lines;
        let folded = vec![vec![model::LineId(1)]];
        let own = Own { size, lines, corners: vec![], base: at("1", "1/2"), folded };
        let halves = Gluing { panel: 1, face: Face::Front, to: PanelRef::Part(PartId(1), 0), area: GlueArea::Whole };
        let down = Gluing { panel: 0, face: Face::Back, to: base(), area: GlueArea::Whole };
        let document = flap_and_base(vec![Part { also: vec![halves, down], ..part(1, PartKind::Own(own), base()) }]);
        assert_eq!(said(&document, "misplaced-part"), [""; 0]);
        assert_eq!(said(&document, "locked-fold"), [""; 0]);
    }
}
