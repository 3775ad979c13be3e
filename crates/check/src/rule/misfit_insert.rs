//! A card does not fit where it lies: it is too large or too thick for its pocket, lies over the glue, or nothing holds it.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use fit::{Holder, Holders, Holds, InsertFit, Misfit};
use model::change::perform;
use model::part::{Insert, change};
use model::{Length, PartKind};

pub(super) const RULE: Rule = Rule {
    name: "misfit-insert",
    severities: &[Severity::Warning],
    about: "A card does not fit where it lies: it is too large or too thick for its pocket, lies over the glue, or \
            nothing holds it.",
    example: "\"Insert 2\" is 1/4 in too wide for \"Pocket 1\".",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let (document, layout) = (context.document, context.layout);
    let is_insert = |part: &model::Part| matches!(part.kind, PartKind::Insert(_));
    if !document.parts.iter().any(is_insert) {
        return Vec::new();
    }
    let holders = context.holders();
    let misfits = fit::inserts(document, layout, &holders).into_iter().filter(|fit| !fit.fits());
    let offers = Offers::tried(context);
    let finding = |fit: InsertFit| Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: fit::words::insert(&fit, document, layout),
        mend: match fit.lies_in {
            Holder::Loose(_) => "Put it where a pocket or corners hold it, or glue it on as a mat.".to_owned(),
            _ => "Make it smaller, move it, or make what holds it larger.".to_owned(),
        },
        spot: Spot { panels: layout.part(fit.part).map(|part| part.main).into_iter().collect(), ..Spot::default() },
        fixes: offers.of(|| shrunk(context, &holders, &fit)),
    };
    misfits.map(finding).collect()
}

/// Makes an insert as large as goes into what it lies in, where it is too large and its middle may stay where it is.
fn shrunk(context: &Context<'_>, holders: &Holders<'_>, fit: &InsertFit) -> Option<Fix> {
    let (document, layout) = (context.document, context.layout);
    let is_size = |problem: &Misfit| matches!(problem, Misfit::TooWide(_) | Misfit::TooHigh(_));
    let PartKind::Insert(was) = document.part(fit.part)?.kind else { return None };
    if fit.problems.is_empty() || !fit.problems.iter().all(is_size) {
        return None;
    }
    let (most_wide, most_high) = largest(holders, &fit.lies_in)?;
    let (wide, high) = (fit.size.0.min(most_wide), fit.size.1.min(most_high));
    // One that is turned by a quarter lies with its height across.
    let as_it_lies = (was.width, was.height) == fit.size;
    if !as_it_lies && (was.height, was.width) != fit.size {
        return None;
    }
    let (width, height) = if as_it_lies { (wide, high) } else { (high, wide) };
    let edit =
        change::change(document, fit.part, |part| part.kind = PartKind::Insert(Insert { width, height, ..was }))?;
    let tried = perform(document, layout, edit.clone()).ok()?;
    let now = fit::inserts(&tried.document, &tried.layout, holders).into_iter().find(|now| now.part == fit.part)?;
    let [width, height] = [width, height].map(|length| length.readable(document.units));
    now.fits().then(|| Fix::new(format!("Make it {width} wide and {height} high"), edit))
}

/// How large a card may be that lies in something.
fn largest(holders: &Holders<'_>, lies_in: &Holder) -> Option<(Length, Length)> {
    match lies_in {
        Holder::Pocket(id) => match &holders.pockets.iter().find(|pocket| pocket.part == *id)?.holds {
            Holds::Pocket(inside) => inside.room.largest(),
            Holds::Corner(_) | Holds::Surface { .. } => None,
        },
        Holder::Corners(parts) => {
            let is_it = |set: &&fit::CornerSet| set.corners.iter().map(|one| one.part).eq(parts.iter().copied());
            holders.corners.iter().find(is_it).map(fit::CornerSet::largest)
        }
        Holder::Tray(panel) => holders.trays.iter().find(|tray| tray.panel == *panel)?.room.largest(),
        Holder::Loose(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::{mended as ways, mends, said};
    use model::part::{Edges, Insert, Part, Placement, Pocket, Source};
    use model::{Document, Length, PanelRef, PartId, PartKind, SheetEdge, Turn};

    fn with_card(width: &str, height: &str) -> Document {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
        let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]);
        let (strip, none) = (length("1/4"), Length::ZERO);
        let pocket = Pocket { width: length("6"), height: length("5"), glued, strip, rim: none, gusset: none };
        let card = Insert { width: length(width), height: length(height), caliper: None };
        let place = Placement::centred(PanelRef::Sheet(at("8", "6")));
        for (id, kind) in [(1, PartKind::Pocket(pocket)), (2, PartKind::Insert(card))] {
            let source = Source::FolioStock;
            document.parts.push(Part { id: PartId(id), name: String::new(), kind, source, place, also: Vec::new() });
        }
        document
    }

    #[test]
    fn a_card_wider_than_its_pocket_is_told() {
        assert_eq!(said(&with_card("5", "4"), "misfit-insert"), [""; 0]);
        assert_eq!(
            said(&with_card("5 3/4", "4"), "misfit-insert"),
            ["\"Insert 2\" is 1/4 in too wide for \"Pocket 1\"."]
        );
    }

    #[test]
    fn a_card_is_made_as_large_as_goes_in() {
        // 6 in less a strip of 1/4 in on either side, and the room between closed ends.
        let wide = length("5 1/2") - fit::ALLOWANCE;
        let [(_, mended)] = ways(&with_card("5 3/4", "4"), "misfit-insert").try_into().unwrap();
        let PartKind::Insert(card) = mended.parts[1].kind else { panic!("a card") };
        assert_eq!((card.width, card.height), (wide, length("4")));
        // Turned by a quarter it is its height that is too much.
        let mut turned = with_card("4", "5 3/4");
        turned.parts[1].place.rotation = model::part::Rotation::QUARTER;
        let [(_, mended)] = ways(&turned, "misfit-insert").try_into().unwrap();
        let PartKind::Insert(card) = mended.parts[1].kind else { panic!("a card") };
        assert_eq!((card.width, card.height), (length("4"), wide));
    }

    #[test]
    fn a_card_that_nothing_holds_is_told() {
        let mut loose = with_card("5", "4");
        loose.parts.remove(0);
        assert_eq!(said(&loose, "misfit-insert").len(), 1);
        assert_eq!(mends(&loose, "misfit-insert"), [""; 0]);
    }
}
