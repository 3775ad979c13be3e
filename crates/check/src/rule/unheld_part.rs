//! Nothing holds a part: it has no glue, and is no card that lies in a pocket.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::part::{Edges, GlueArea, Gluing, change};
use model::{Layout, PanelId, Part, PartId, PartKind, PartLayout, SheetEdge};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "unheld-part",
    severities: &[Severity::Error],
    about: "Nothing holds a part: it has no glue, and is no card that lies in a pocket.\n\n\
            It drops out as soon as the folio is opened, and so does what is glued to nothing but it. Cards and tags \
            are told by `misfit-insert`; a belly band holds itself.",
    example: "Nothing holds \"Pocket 1\": it has no glue.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let layout = context.layout;
    let mut grouped: BTreeSet<PartId> = BTreeSet::new();
    let mut findings = Vec::new();
    for part in &layout.parts {
        // Most parts are glued to the folio themselves.
        if !grouped.contains(&part.id) && !is_on_folio(layout, part) {
            let group = group(layout, part);
            grouped.extend(group.iter().map(|part| part.id));
            findings.extend(finding(context, &group));
        }
    }
    findings
}

/// A part and all that are glued together with it, in the order in which they are put on.
fn group<'a>(layout: &'a Layout, part: &PartLayout) -> Vec<&'a PartLayout> {
    let mut group = BTreeSet::from([part.id]);
    loop {
        let joins = |of: &&PartLayout| {
            let to = glued_to(of).filter_map(|panel| layout.part_of(panel)).map(|other| other.id);
            let mut both = to.map(|to| (group.contains(&to), group.contains(&of.id)));
            both.any(|(to, own)| to != own)
        };
        let Some(joined) = layout.parts.iter().find(joins) else { break };
        group.insert(joined.id);
        group.extend(glued_to(joined).filter_map(|panel| layout.part_of(panel)).map(|other| other.id));
    }
    layout.parts.iter().filter(|part| group.contains(&part.id)).collect()
}

/// The panels that glue of a part is on, of whatever.
fn glued_to(part: &PartLayout) -> impl Iterator<Item = PanelId> {
    part.glue.iter().filter(|glue| !glue.area.is_empty()).map(|glue| glue.panels[1])
}

fn is_on_folio(layout: &Layout, part: &PartLayout) -> bool {
    glued_to(part).any(|panel| layout.part_of(panel).is_none())
}

fn finding(context: &Context<'_>, group: &[&PartLayout]) -> Option<Finding> {
    let first = *group.first()?;
    let own = context.document.part(first.id)?;
    let holds_itself = |part: &PartLayout| {
        let kind = context.document.part(part.id).map(|part| &part.kind);
        part.laid.is_none() || matches!(kind, Some(PartKind::Insert(_)))
    };
    if group.iter().any(|part| holds_itself(part) || is_on_folio(context.layout, part)) {
        return None;
    }
    let names = model::words::listed(group.iter().map(|part| format!("\"{}\"", part.name)));
    let why = if group.len() == 1 { "it has no glue" } else { "they are glued to one another only" };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!("Nothing holds {names}: {why}."),
        mend: "Say where it is glued, or let it be a card that lies in a pocket.".to_owned(),
        spot: Spot { panels: group.iter().map(|part| part.main).collect(), ..Spot::default() },
        fixes: glued(context, first, own).into_iter().collect(),
    })
}

fn glued(context: &Context<'_>, part: &PartLayout, own: &Part) -> Option<Fix> {
    if let PartKind::Pocket(_) = own.kind {
        let edit = change::change(context.document, part.id, |part| {
            if let PartKind::Pocket(pocket) = &mut part.kind {
                pocket.glued = Edges::of(&[SheetEdge::Right, SheetEdge::Bottom, SheetEdge::Left]);
                let narrowest = pocket.width.min(pocket.height) / 4;
                pocket.strip = pocket.strip.max(GlueArea::USUAL_STRIP.min(narrowest));
            }
        })?;
        return Some(Fix::new("Glue it left, right and at the bottom", edit));
    }
    let panel = part.panels.iter().position(|panel| panel.id == part.main)?;
    let whole = Gluing { panel, face: own.place.showing.other(), to: own.place.on, area: GlueArea::Whole };
    let edit = change::change(context.document, part.id, |part| part.also.push(whole))?;
    Some(Fix::new("Glue its main panel all over", edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{at, length};
    use crate::testing::part::{base, flap_and_base, mat, moved, part, pocket};
    use crate::testing::{mended, said};
    use model::part::{Edges, GlueArea, Gluing, Insert, Own};
    use model::{Face, PanelRef, Part, PartId, PartKind, SheetEdge, Size};

    #[track_caller]
    fn check(parts: Vec<Part>, says: &[&str]) {
        let document = flap_and_base(parts);
        assert_eq!(said(&document, "unheld-part"), says);
        if !says.is_empty() {
            assert_eq!(mended(&document, "unheld-part").len(), 1);
        }
    }

    #[test]
    fn a_part_without_glue_is_told_and_glued() {
        check(vec![part(1, pocket("4", "4", &[]), base())], &["Nothing holds \"Pocket 1\": it has no glue."]);
        let size = Size::parse("3x3in").unwrap();
        let own = Own { size, lines: vec![], corners: vec![], base: at("1", "1"), folded: vec![] };
        check(vec![part(1, PartKind::Own(own), base())], &["Nothing holds \"Own shape 1\": it has no glue."]);
    }

    #[test]
    fn what_is_glued_or_lies_in_a_pocket_is_held() {
        check(vec![part(1, mat("2", "2"), base())], &[]);
        check(vec![part(1, pocket("4", "4", &[model::SheetEdge::Left]), base())], &[]);
        let card = Insert { width: length("2"), height: length("2"), caliper: None };
        check(vec![part(1, PartKind::Insert(card), base())], &[]);
    }

    #[test]
    fn what_is_glued_to_nothing_but_one_another_is_told_once() {
        let size = Size::parse("3x3in").unwrap();
        let own = Own { size, lines: vec![], corners: vec![], base: at("1", "1"), folded: vec![] };
        let on_it = PanelRef::Part(PartId(1), 0);
        let parts = || vec![part(1, PartKind::Own(own.clone()), base()), part(2, mat("2", "2"), on_it)];
        check(parts(), &["Nothing holds \"Own shape 1\" and \"Mat 2\": they are glued to one another only."]);
        // A strip that is glued to both it and the base holds them.
        let strip = Own { size: Size::parse("4x1in").unwrap(), base: at("2", "1/2"), ..own.clone() };
        let to = |edge, to| {
            let area = GlueArea::Strips(Edges::of(&[edge]), length("1/4"));
            Gluing { panel: 0, face: Face::Back, to, area }
        };
        let mut held = parts();
        let mut strip = moved(part(3, PartKind::Own(strip), base()), "5", "5 1/2");
        strip.also = vec![to(SheetEdge::Left, on_it), to(SheetEdge::Right, base())];
        held.push(strip);
        check(held, &[]);
    }
}
