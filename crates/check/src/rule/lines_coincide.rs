//! Two scores, or two cuts, lie on the same stretch: one of them is of no effect.
//!
//! A cut along a score is another matter: it is how corners are cut away.

use crate::{Context, Finding, Severity, Spot};
use model::{LineId, Point};
use std::collections::BTreeMap;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let is_cut = |id: &LineId| context.document.line(*id).is_some_and(|line| line.work.is_cut());
    let mut pairs: BTreeMap<(LineId, LineId), Point> = BTreeMap::new();
    for stretch in &context.layout.stretches {
        for (i, first) in stretch.lines.iter().enumerate() {
            for second in stretch.lines[i + 1..].iter().filter(|second| is_cut(first) == is_cut(second)) {
                pairs.entry((*first, *second)).or_insert(stretch.segment.a);
            }
        }
    }
    let finding = |((first, second), at): ((LineId, LineId), Point)| Finding {
        rule: "lines-coincide",
        severity: Severity::Warning,
        sentence: format!(
            "{} and {} lie on one another {}, so the second has no effect there.",
            context.line(first),
            context.line(second),
            context.place(at)
        ),
        mend: format!("Move or delete {}.", context.line(second)),
        spot: Spot { lines: vec![first, second], at: Some(at), ..Spot::default() },
    };
    pairs.into_iter().map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps};
    use crate::testing::said;
    use model::Turn;

    #[test]
    fn two_scores_at_one_place_are_told_once() {
        let twice =
            Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Twice, "9").score(3, Turn::Once, "4").0;
        let says = "\"Score 1\" and \"Score 2\" lie on one another 3 in from the left and 0 in from the top of the sheet, \
                    so the second has no effect there.";
        assert_eq!(said(&twice, "lines-coincide"), [says]);
    }

    #[test]
    fn cuts_along_scores_are_as_they_should_be() {
        assert_eq!(said(&four_flaps(), "lines-coincide"), [""; 0]);
    }
}
