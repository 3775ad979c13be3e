//! The closed folio has no layer order, or the folio after a step: somewhere a panel would have to pass through a fold or
//! through another.

use super::Rule;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;
use model::PartId;
use model::words::listed;

pub(super) const RULE: Rule = Rule {
    name: "no-layer-order",
    severities: &[Severity::Error],
    about: "The closed folio has no layer order, or the folio after a step: somewhere a panel would have to pass \
            through a fold or through another.\n\n\
            An order of layers that none of the panels breaks exists, or it does not, whatever the paper: where there \
            is none, the folio can't be pressed flat at all. Where another order of the steps closes it, or a gusset \
            whose scores are folded by 90° each, that is offered.",
    example: "The base, \"Page 1\" and \"Mat 2\" would pass through one another in the closed folio.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let fixes = Offers::tried(context);
    let finding = |trouble: &Trouble| {
        let Trouble::Crosses { after, panels, lines, .. } = trouble else { return None };
        let names: Vec<String> = panels.iter().map(|&panel| context.the(panel)).collect();
        let when = after.map_or_else(|| "in the closed folio".to_owned(), |step| format!("after step {}", step + 1));
        let words = format!("{} would pass through one another {when}.", listed(names));
        let mut parts: Vec<PartId> =
            panels.iter().filter_map(|&panel| context.layout.part_of(panel)).map(|part| part.id).collect();
        parts.dedup();
        let mend = if parts.is_empty() {
            "Fold them in another order, or make one of them smaller."
        } else {
            "Put the parts among them on in another order, move one of them, or make it smaller."
        };
        Some(Finding {
            rule: RULE.name,
            severity: Severity::Error,
            sentence: sentence(&words),
            mend: mend.to_owned(),
            spot: Spot { panels: panels.clone(), lines: lines.clone(), step: *after, ..Spot::default() },
            fixes: fixes.of(|| {
                let squared = context.squared(panels).map(|(_, fix)| fix);
                let all = squared.into_iter().chain(context.replanned());
                all.chain(context.better_piles(&parts)).collect::<Vec<_>>()
            }),
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::Sketch;
    use crate::testing::{findings, mended, said};
    use model::Turn;

    #[test]
    fn a_strip_whose_middle_is_too_short_does_not_close() {
        // Widths 100, 98, 100 with two valleys have no layer order; 100, 100, 98 have two: Arkin et al., "When can you
        // fold a map?", one-dimensional case, as recomputed for the fold engine.
        let strip = |second: &str| Sketch::on("298x50mm").score(1, Turn::None, "100 mm").score(2, Turn::None, second);
        let short = strip("198 mm").base("2", "1").steps(&[&[1], &[2]]).0;
        assert!(findings(&short).iter().any(|finding| finding.severity == Severity::Error));
        let letter = strip("200 mm").base("2", "1").steps(&[&[1], &[2]]).0;
        assert!(findings(&letter).iter().all(|finding| finding.severity < Severity::Error), "{:?}", findings(&letter));
    }

    #[test]
    fn a_mat_glued_under_a_page_goes_on_before_it() {
        use crate::testing::common::{at, length};
        use model::part::{Mat, Page, Part, Placement, Source};
        use model::{PanelRef, PartId, PartKind, SheetEdge};
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
        let hinged = SheetEdge::Top;
        let page = Page { width: length("4"), height: length("4"), hinged, strip: length("1/2") };
        let mat = Mat { width: length("2"), height: length("2") };
        for (id, kind) in [(1, PartKind::Page(page)), (2, PartKind::Mat(mat))] {
            let place = Placement::centred(PanelRef::Sheet(at("8", "6")));
            let source = Source::FolioStock;
            document.parts.push(Part { id: PartId(id), name: String::new(), kind, source, place, also: Vec::new() });
        }
        let all = findings(&document);
        let finding = all.iter().find(|finding| finding.rule == "no-layer-order").unwrap();
        assert_eq!(
            finding.sentence,
            "The base, \"Page 1\" and \"Mat 2\" would pass through one another in the closed folio."
        );
        assert!(finding.mend.starts_with("Put the parts among them on in another order"), "{}", finding.mend);
        assert_eq!(mended(&document, "no-layer-order")[0].0, "Put Mat 2 on before Page 1");
    }

    #[test]
    fn another_order_of_steps_is_offered_where_one_closes() {
        // A strip that is rolled up: from the far end inwards it goes, from the base outwards each panel has to go through
        // those that lie there already.
        let rolled = |steps: &[&[u32]]| {
            let strip =
                Sketch::on("14x2in").score(1, Turn::None, "4").score(2, Turn::None, "8").score(3, Turn::None, "11");
            strip.base("2", "1").steps(steps).0
        };
        let wrong = rolled(&[&[1], &[2], &[3]]);
        assert!(!said(&wrong, "no-layer-order").is_empty());
        let (label, right) = mended(&wrong, "no-layer-order").remove(0);
        assert_eq!(label, "Fold in another order, which closes");
        assert_eq!(right.steps.iter().flat_map(|step| &step.lines).count(), 3);
        assert_eq!(said(&right, "no-layer-order"), [""; 0]);
    }

    #[test]
    fn a_gusset_that_is_folded_flat_is_made_to_stand() {
        let strip = Sketch::on("12x4in").score(1, Turn::None, "8 1/2").score(2, Turn::None, "8 3/4");
        let flat = strip.base("4", "2").steps(&[&[1], &[2]]).0;
        let (label, standing) = mended(&flat, "no-layer-order").remove(0);
        assert_eq!(label, "Fold both sides of the right gusset by 90°");
        assert_eq!(standing.steps.iter().map(|step| step.lines.len()).collect::<Vec<_>>(), [2]);
        assert!(
            findings(&standing).iter().all(|finding| finding.severity < Severity::Error),
            "{:?}",
            findings(&standing)
        );
    }

    #[test]
    fn an_empty_sheet_has_an_order() {
        assert_eq!(said(&Sketch::on("12x12in").0, "no-layer-order"), [""; 0]);
    }
}
