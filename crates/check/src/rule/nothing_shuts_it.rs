//! Nothing holds the closed folio shut: no band, no closure, and no flap that is tucked under another.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Folding;
use model::part::usual::{Closed, Fit, Host, Sort};
use model::part::{Band, Source, change};
use model::{Document, Face, Length, Part, PartKind};

pub(super) const RULE: Rule = Rule {
    name: "nothing-shuts-it",
    severities: &[Severity::Note],
    about: "Nothing holds the closed folio shut: no band, no closure, and what folds last is not tucked under anything.\n\n\
            Folded card springs open a little, and what lies loose in it drops out (common practice, no source). A \
            folio without parts is not spoken of: what holds it shut is made last.",
    example: "No band, closure or tuck keeps the left flap down when the folio is closed.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let shuts = |part: &Part| matches!(part.kind, PartKind::Band(_) | PartKind::Closure(_));
    let has_closure = context.document.parts.iter().any(shuts);
    // One that can't be closed is told of that.
    let closes = folding.troubles().is_empty();
    let last = (0..folding.steps()).rev().find(|&step| folding.moves(step));
    match last {
        // What folds last holds down all else, so it is what has to be tucked.
        Some(step) if closes && !has_closure && !folding.tucks(step) && !context.layout.parts.is_empty() => {
            vec![finding(context, folding, step)]
        }
        _ => Vec::new(),
    }
}

fn finding(context: &Context<'_>, folding: &Folding, step: usize) -> Finding {
    // What a step moves comes in the order of numbers, and the folio's own panels first.
    let mut panels = folding.moving(step);
    panels.retain(|&panel| context.layout.part_of(panel).is_none() && !context.layout.panel(panel).is_gusset);
    let flaps = if panels.is_empty() { "what folds last".to_owned() } else { context.these(&panels) };
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!("No band, closure or tuck keeps {flaps} down when the folio is closed."),
        mend: "Put a belly band round it, a ribbon, a brad or a pair of magnets on, or tuck a flap in.".to_owned(),
        spot: Spot { panels, step: Some(step), ..Spot::default() },
        fixes: banded(context, folding).into_iter().collect(),
    }
}

/// Puts a belly band of the folio's own paper round it; `None` where that is too small for one.
fn banded(context: &Context<'_>, folding: &Folding) -> Option<Fix> {
    let document = context.document;
    let base = context.layout.base?;
    let size = folding.closed_size();
    let length = |mm: f64| Length::from_mm_rounded(mm);
    let closed = Closed { width: length(size.x)?, height: length(size.y)?, thickness: length(size.z)? };
    let fit = Fit { closed: Some(closed), ..Fit::usual(document.units) };
    let usual = Sort::BellyBand.fitted(&Host::of(context.layout, base), &fit);
    let on = context.layout.panel_ref(base)?;
    let mut part = usual.part(document.next_part(), on, Face::Front);
    part.source = Source::FolioStock;
    let PartKind::Band(Band { around, overlap, width, .. }) = part.kind else { return None };
    let (sheet, long) = (document.stock.size, around + overlap);
    let (longer, shorter) = (sheet.width().max(sheet.height()), sheet.width().min(sheet.height()));
    let fits = long <= longer && width <= shorter && document.parts.len() < Document::MOST_PARTS;
    fits.then(|| Fix::new("Put a belly band round it", change::add(document, part)))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, length};
    use crate::testing::part::{base, flap_and_base, mat, part};
    use crate::testing::{mended, said};
    use model::part::{Closure, ClosureKind, Source};
    use model::{PanelRef, Part, PartKind, Turn};

    const SAYS: &str = "No band, closure or tuck keeps the left flap down when the folio is closed.";

    #[test]
    fn a_folio_with_parts_and_nothing_to_shut_it_is_noted_once() {
        assert_eq!(said(&flap_and_base(vec![part(1, mat("2", "2"), base())]), "nothing-shuts-it"), [SAYS]);
        assert_eq!(said(&flap_and_base(vec![]), "nothing-shuts-it"), [""; 0]);
        let mut flat = flap_and_base(vec![part(1, mat("2", "2"), base())]);
        flat.steps.clear();
        assert_eq!(said(&flat, "nothing-shuts-it"), [""; 0]);
    }

    #[test]
    fn a_ribbon_shuts_it() {
        let (width, height, thickness) = (length("5"), length("3/8"), length("1/64"));
        let ribbon = PartKind::Closure(Closure { kind: ClosureKind::Ribbon, width, height, thickness });
        let ribbon = Part { source: Source::Bought, ..part(1, ribbon, base()) };
        assert_eq!(said(&flap_and_base(vec![ribbon]), "nothing-shuts-it"), [""; 0]);
    }

    #[test]
    fn a_small_folio_gets_a_band_and_a_large_one_none() {
        // Closed it is 8 by 3 in, so a band goes round it the short way within 12 in.
        let mut small = Sketch::on("12x3in").score(1, Turn::None, "4").base("8", "2").steps(&[&[1]]).0;
        small.parts = vec![part(1, mat("1", "1"), PanelRef::Sheet(crate::testing::common::at("8", "2")))];
        assert_eq!(said(&small, "nothing-shuts-it"), [SAYS]);
        let (label, banded) = &mended(&small, "nothing-shuts-it")[0];
        assert_eq!(label, "Put a belly band round it");
        assert!(matches!(banded.parts[1].kind, PartKind::Band(_)));
        // Round 9 by 12 in.
        assert!(mended(&flap_and_base(vec![part(1, mat("2", "2"), base())]), "nothing-shuts-it").is_empty());
    }
}
