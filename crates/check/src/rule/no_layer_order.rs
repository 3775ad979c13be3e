//! The closed folio has no layer order, or the folio after a step: somewhere a panel would have to pass through a fold or
//! through another.

use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;
use model::words::listed;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let finding = |trouble: &Trouble| {
        let Trouble::Crosses { after, panels, lines, .. } = trouble else { return None };
        let names: Vec<String> = panels.iter().map(|&panel| context.the(panel)).collect();
        let when = after.map_or_else(|| "in the closed folio".to_owned(), |step| format!("after step {}", step + 1));
        let words = format!("{} would pass through one another {when}.", listed(names));
        Some(Finding {
            rule: "no-layer-order",
            severity: Severity::Error,
            sentence: sentence(&words),
            mend: "Fold them in another order, or make one of them smaller.".to_owned(),
            spot: Spot { panels: panels.clone(), lines: lines.clone(), step: *after, ..Spot::default() },
            fixes: Vec::new(),
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::Sketch;
    use crate::testing::{findings, said};
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
    fn an_empty_sheet_has_an_order() {
        assert_eq!(said(&Sketch::on("12x12in").0, "no-layer-order"), [""; 0]);
    }
}
