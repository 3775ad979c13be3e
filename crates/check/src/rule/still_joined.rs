//! What should fold is still joined to what should stay, most often round a corner that was not cut away.
//!
//! Paper kept all round a crossing of four right angles folds flat only with three of one kind and one of the other
//! (Maekawa's theorem: mountains and valleys differ by two), and never with a square fold in it: a flap beside another
//! needs the corner between them cut.

use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let finding = |trouble: &Trouble| {
        let Trouble::Joined { step, lines, panels, at } = trouble else { return None };
        let (words, mend) = match panels.as_slice() {
            [corner, first, second, ..] => (
                format!(
                    "{} is still joined round the corner to both {} and {}, {}, so they cannot fold there.",
                    context.the(*corner),
                    context.the(*first),
                    context.the(*second),
                    context.place(*at)
                ),
                format!("Cut {} away along its two scores, or cut it free along one of them.", context.the(*corner)),
            ),
            [moving, staying] => (
                format!(
                    "{} is still joined to {} {}, so it cannot fold on its own.",
                    context.the(*moving),
                    context.the(*staying),
                    context.place(*at)
                ),
                "Cut between the two, or let the scores that join them fold in the same step.".to_owned(),
            ),
            _ => (
                format!("Paper is still joined {}, so step {} cannot fold.", context.place(*at), step + 1),
                "Cut the paper there.".to_owned(),
            ),
        };
        let spot = Spot { panels: panels.clone(), lines: lines.clone(), at: Some(*at), step: Some(*step) };
        Some(Finding { rule: "still-joined", severity: Severity::Error, sentence: sentence(&words), mend, spot })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::four_flaps;
    use crate::testing::{findings, said};
    use model::LineId;

    #[test]
    fn a_corner_that_was_not_cut_away_is_named_with_its_neighbours() {
        let mut document = four_flaps();
        assert_eq!(said(&document, "still-joined"), [""; 0]);
        // The two cuts round the upper left corner are forgotten.
        document.lines.retain(|line| line.id != LineId(11) && line.id != LineId(16));
        let said = said(&document, "still-joined");
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("left flap") && said[0].contains("top flap"), "{said:?}");
        assert!(said[0].contains("3 in from the left and 3 in from the top of the sheet"), "{said:?}");
        let finding = findings(&document).into_iter().find(|finding| finding.rule == "still-joined");
        assert_eq!(finding.map(|finding| finding.spot.panels.len()), Some(3));
    }
}
