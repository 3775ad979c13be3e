//! Nothing holds a part: it has no glue, and is no card that lies in a pocket.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::part::{Edges, GlueArea, Gluing, change};
use model::{Part, PartKind, PartLayout, SheetEdge};

pub(super) const RULE: Rule = Rule {
    name: "unheld-part",
    severities: &[Severity::Error],
    about: "Nothing holds a part: it has no glue, and is no card that lies in a pocket.\n\n\
            It drops out as soon as the folio is opened. Cards and tags are told by `misfit-insert`; a belly band \
            holds itself.",
    example: "Nothing holds \"Pocket 1\": it has no glue.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    context.layout.parts.iter().filter_map(|part| finding(context, part)).collect()
}

fn finding(context: &Context<'_>, part: &PartLayout) -> Option<Finding> {
    let own = context.document.part(part.id)?;
    let is_loose = part.laid.is_some() && part.glue.iter().all(|glue| glue.area.is_empty());
    let is_glued_to = context.layout.parts.iter().flat_map(|other| &other.glue).any(|glue| {
        !glue.area.is_empty()
            && part.panels.iter().any(|panel| panel.id == glue.panels[1] && panel.id != glue.panels[0])
    });
    if !is_loose || is_glued_to || matches!(own.kind, PartKind::Insert(_)) {
        return None;
    }
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!("Nothing holds \"{}\": it has no glue.", part.name),
        mend: "Say where it is glued, or let it be a card that lies in a pocket.".to_owned(),
        spot: Spot { panels: vec![part.main], ..Spot::default() },
        fixes: glued(context, part, own).into_iter().collect(),
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
    use crate::testing::part::{base, flap_and_base, mat, part, pocket};
    use crate::testing::{mended, said};
    use model::part::{Insert, Own};
    use model::{Part, PartKind, Size};

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
        check(vec![part(1, PartKind::Own(own), base())], &["Nothing holds \"Part 1\": it has no glue."]);
    }

    #[test]
    fn what_is_glued_or_lies_in_a_pocket_is_held() {
        check(vec![part(1, mat("2", "2"), base())], &[]);
        check(vec![part(1, pocket("4", "4", &[model::SheetEdge::Left]), base())], &[]);
        let card = Insert { width: length("2"), height: length("2"), caliper: None };
        check(vec![part(1, PartKind::Insert(card), base())], &[]);
    }
}
