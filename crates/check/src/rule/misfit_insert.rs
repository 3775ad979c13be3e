//! A card does not fit where it lies: it is too large or too thick for its pocket, lies over the glue, or nothing holds it.

use crate::{Context, Finding, Severity, Spot};
use fit::{Holder, Holders};
use model::PartKind;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let Context { document, layout, .. } = *context;
    let is_insert = |part: &model::Part| matches!(part.kind, PartKind::Insert(_));
    if !document.parts.iter().any(is_insert) {
        return Vec::new();
    }
    let pockets = fit::pockets(document, layout);
    let corners = fit::corner_sets(document, layout);
    let trays = context.folded.map(|(assembly, folding)| fit::trays(document, layout, assembly, folding));
    let holders = Holders { pockets: &pockets, corners: &corners, trays: trays.as_deref().unwrap_or_default() };
    let misfits = fit::inserts(document, layout, &holders).into_iter().filter(|fit| !fit.fits());
    let finding = |fit: fit::InsertFit| Finding {
        rule: "misfit-insert",
        severity: Severity::Warning,
        sentence: fit::words::insert(&fit, document, layout),
        mend: match fit.lies_in {
            Holder::Loose(_) => "Put it where a pocket or corners hold it, or glue it on as a mat.".to_owned(),
            _ => "Make it smaller, move it, or make what holds it larger.".to_owned(),
        },
        spot: Spot { panels: layout.part(fit.part).map(|part| part.main).into_iter().collect(), ..Spot::default() },
        fixes: Vec::new(),
    };
    misfits.map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::said;
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
        let says = said(&with_card("5 3/4", "4"), "misfit-insert");
        assert!(matches!(says.as_slice(), [one] if one.contains("Insert 2") && one.contains("Pocket 1")), "{says:?}");
    }

    #[test]
    fn a_card_that_nothing_holds_is_told() {
        let mut loose = with_card("5", "4");
        loose.parts.remove(0);
        assert_eq!(said(&loose, "misfit-insert").len(), 1);
    }
}
