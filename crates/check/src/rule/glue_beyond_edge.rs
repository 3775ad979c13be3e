//! Glue of a part reaches beyond the edge of what it is glued to, where it is seen, or sticks to what lies there.

use super::Rule;
use crate::lie::{self, Glued, Shapes};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Assembly;
use fold::overlap::LEAST_WIDTH;
use model::part::{GlueArea, PartKind, change};
use model::{Length, PartId};
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    name: "glue-beyond-edge",
    severities: &[Severity::Warning],
    about: "Glue of a part reaches beyond the edge of what it is glued to, where it is seen, or sticks to what lies \
            there.\n\n\
            A line of glue is drawn a little short of an edge, so up to 1/16 in is left to the maker's hand (common \
            practice, no source). Glue that the maker adds counts like that of a kind. What a mat or another part \
            glued all over lies on counts as it does: the glue holds there too. Glue over a fold is told by another \
            rule.",
    example: "The glue of \"Mat 1\" reaches 1/2 in beyond the edge of the base, where it shows, or sticks to what lies there.",
    check,
};

/// How far glue may reach beyond an edge: 1/16 in (common practice, no source).
const SHORT_OF_EDGE: Length = Length::SIXTEENTH;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let mut worst: BTreeMap<PartId, (f64, Glued<'_>)> = BTreeMap::new();
    for glued in lie::glue(context) {
        let by = beyond(context, assembly, &glued);
        if by > SHORT_OF_EDGE.mm() + LEAST_WIDTH && worst.get(&glued.part.id).is_none_or(|(most, _)| *most < by) {
            worst.insert(glued.part.id, (by, glued));
        }
    }
    worst.into_values().map(|(by, glued)| finding(context, assembly, by, &glued)).collect()
}

/// How far glue reaches beyond what it is glued to, and what lies in one plane with that, in mm.
fn beyond(context: &Context<'_>, assembly: &Assembly, glued: &Glued<'_>) -> f64 {
    let [own, host] = glued.bond.panels;
    let sheet = |place: usize| context.layout.part_of(assembly.panels[place].id).map(|part| part.id);
    let reaches_over = |joint| lie::is_seen(lie::reach_over(assembly, joint, host, &glued.area));
    let is_over_fold = assembly.joints.iter().any(reaches_over);
    // What lies beyond a fold of the same paper, near or far, is told as over that fold.
    let counts = |&place: &usize| place == host || (is_over_fold && place != own && sheet(place) == sheet(host));
    let holding = (0..assembly.panels.len()).filter(counts);
    let mut held: Shapes = holding.flat_map(|place| assembly.panels[place].convex.iter().cloned()).collect();
    for ground in grounds(context, assembly, host) {
        let Some(by) = lie::onto(assembly, ground, host) else { break };
        held.extend(lie::laid(&assembly.panels[ground].convex, by));
    }
    lie::farthest_from(&lie::outside(&glued.area, &held), &held)
}

/// The panels that a panel is glued to all over, from the upper to the lower.
fn grounds(context: &Context<'_>, assembly: &Assembly, panel: usize) -> Vec<usize> {
    let mut all = Vec::new();
    let mut at = panel;
    // No part lies on itself, so there are no more of them than parts.
    for _ in &context.layout.parts {
        let part = context.layout.part_of(assembly.panels[at].id).and_then(|part| context.document.part(part.id));
        let is_flat_on = part.is_some_and(|part| {
            let also_all_over = part.also.iter().any(|gluing| gluing.area == GlueArea::Whole);
            matches!(part.kind, PartKind::Mat(_)) || (matches!(part.kind, PartKind::Own(_)) && also_all_over)
        });
        let under = assembly.bonds.iter().find(|bond| bond.panels[0] == at && !bond.area.is_empty());
        match under.filter(|_| is_flat_on) {
            Some(bond) => at = bond.panels[1],
            None => break,
        }
        all.push(at);
    }
    all
}

fn finding(context: &Context<'_>, assembly: &Assembly, by: f64, glued: &Glued<'_>) -> Finding {
    let [own, host] = glued.bond.panels.map(|place| assembly.panels[place].id);
    let name = &glued.part.name;
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "The glue of \"{name}\" reaches {} beyond the edge of {}, where it shows, or sticks to what lies there.",
            lie::readable(by, context.document.units),
            context.the(host)
        ),
        mend: format!("Move \"{name}\" onto {}, or make its glue narrower.", context.the(host)),
        spot: Spot { panels: vec![own, host], ..Spot::default() },
        fixes: centred(context, glued).into_iter().collect(),
    }
}

/// Lays the part in the middle of its panel along a direction in which it hangs over; `None` where that is no help.
fn centred(context: &Context<'_>, glued: &Glued<'_>) -> Option<Fix> {
    use model::part::{Anchor, AnchorFrom};
    let laid = glued.part.laid?;
    let host = context.layout.panel(laid.on);
    let all_there = glued.part.glue.iter().all(|glue| glue.panels[1] == laid.on);
    let corners: Vec<_> =
        glued.part.panels.iter().flat_map(|panel| &panel.outline).map(|&at| laid.on_host(at)).collect();
    let ((low, high), (least, most)) = (model::polygon::bounds(&corners), host.bounds());
    let is_single = glued.part.panels.len() == 1 && host.outline.len() == 4 && host.holes.is_empty();
    let fits = high.x - low.x <= most.x - least.x && high.y - low.y <= most.y - least.y;
    if !all_there || !is_single || !fits {
        return None;
    }
    let middle = Anchor { from: AnchorFrom::Middle, distance: Length::ZERO };
    let edit = change::change(context.document, glued.part.id, |part| {
        if low.x < least.x || high.x > most.x {
            part.place.across = middle;
        }
        if low.y < least.y || high.y > most.y {
            part.place.down = middle;
        }
    })?;
    Some(Fix::new("Lay it in the middle of its panel", edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{base, flap_and_base, hinge, mat, moved, part, pocket};
    use crate::testing::{mended, said};
    use model::part::{Anchor, AnchorFrom, Edges, GlueArea, Gluing, Own};
    use model::{Datum, Face, LineId, PanelRef, PartId, Place, Run, SheetEdge, Stop, Turn, Work};

    #[track_caller]
    fn check(parts: Vec<model::Part>, says: &[&str]) {
        assert_eq!(said(&flap_and_base(parts), "glue-beyond-edge"), says);
    }

    #[test]
    fn a_mat_over_the_edge_of_the_sheet_says_by_how_much() {
        let over = |across| vec![moved(part(1, mat("4", "4"), base()), across, "3")];
        // The base is 9 in wide, and the mat 4 in.
        let says = "The glue of \"Mat 1\" reaches 1/2 in beyond the edge of the base, where it shows, or sticks to what lies there.";
        check(over("5 1/2"), &[says]);
        check(over("5 1/16"), &[]);
        check(over("5"), &[]);
        let mended = mended(&flap_and_base(over("5 1/2")), "glue-beyond-edge");
        assert_eq!(mended[0].0, "Lay it in the middle of its panel");
        // Over a fold it is another rule's.
        check(over("-1/2"), &[]);
    }

    #[test]
    fn a_mat_over_a_cut_between_two_flaps_is_told() {
        // The left flap is cut in two at 6 in from the top.
        let run = Run { from: Stop::Line(LineId(1)), to: Stop::Edge };
        let place = Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: length("6"), run };
        let flaps =
            Sketch::on("12x12in").score(1, Turn::None, "3").line(2, place, Work::Cut).base("8", "6").steps(&[&[1]]);
        let mut document = flaps.0;
        let with = |down| vec![moved(part(1, mat("2", "2"), PanelRef::Sheet(at("1", "3"))), "1/2", down)];
        document.parts = with("4");
        assert_eq!(said(&document, "glue-beyond-edge"), [""; 0]);
        document.parts = with("4 1/4");
        let says = said(&document, "glue-beyond-edge");
        assert!(matches!(says.as_slice(), [one] if one.contains("reaches 1/4 in beyond the edge")), "{says:?}");
    }

    #[test]
    fn a_pocket_over_the_edge_of_a_mat_holds_on_the_panel_under_it() {
        let on_mat =
            |id| part(id, pocket("5", "4", &[SheetEdge::Left, SheetEdge::Right]), PanelRef::Part(PartId(1), 0));
        check(vec![part(1, mat("4", "4"), base()), on_mat(2)], &[]);
    }

    #[test]
    fn a_pocket_over_the_leaf_of_its_hinge_sticks_to_what_is_under_it() {
        // Glued along 1/4 in to a free leaf of 1/2 in; its left edge lies 3/16 in beyond that of the leaf.
        let raised = |beyond| {
            let mut raised = part(2, pocket("3", "2 3/4", &[SheetEdge::Left]), PanelRef::Part(PartId(1), 1));
            raised.place.face = Face::Back;
            raised.place.across = model::part::Anchor { from: model::part::AnchorFrom::End, distance: -length(beyond) };
            vec![part(1, hinge("2 3/4", "1/2", "1/2"), base()), raised]
        };
        check(
            raised("3/16"),
            &[
                "The glue of \"Pocket 2\" reaches 3/16 in beyond the edge of \"Hinge 1, free leaf\", where it shows, or sticks \
               to what lies there.",
            ],
        );
        check(raised("1/16"), &[]);
    }

    #[test]
    fn glue_that_the_maker_adds_shows_beside_a_leaf() {
        // A card of 3 by 1 in, turned over, from the fold of a free leaf of 1/2 in on, and glued by a strip so wide
        // there.
        let across = |strip: &str| {
            let (size, base_at) = (model::Size::parse("3x1in").unwrap(), at("1", "1/2"));
            let own = Own { size, lines: vec![], corners: vec![], base: base_at, folded: vec![] };
            let on = PanelRef::Part(PartId(1), 1);
            let mut card = part(2, model::PartKind::Own(own), on);
            card.place.face = Face::Back;
            card.place.across = Anchor { from: AnchorFrom::Start, distance: length("0") };
            let area = GlueArea::Strips(Edges::of(&[SheetEdge::Right]), length(strip));
            card.also = vec![Gluing { panel: 0, face: Face::Back, to: on, area }];
            vec![part(1, hinge("2 3/4", "1/2", "1/2"), base()), card]
        };
        let says = "The glue of \"Own shape 2\" reaches 1/4 in beyond the edge of \"Hinge 1, free leaf\", where it shows, or sticks to \
                    what lies there.";
        check(across("3/4"), &[says]);
        check(across("1/2"), &[]);
    }

    #[test]
    fn a_mat_that_hangs_on_a_hinge_is_glued_where_the_leaf_is() {
        let mut hung = part(2, mat("3", "3"), PanelRef::Part(PartId(1), 1));
        hung.place.face = Face::Back;
        check(vec![part(1, hinge("2 3/4", "1/2", "1/2"), base()), hung], &[]);
    }
}
