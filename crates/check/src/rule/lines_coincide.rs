//! Two scores, or two cuts, lie on the same stretch: one of them is of no effect.
//!
//! A cut along a score is another matter: it is how corners are cut away.

use crate::{Context, Finding, Severity, Spot};
use model::{LineId, Point, Work};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let of = |wanted: fn(Work) -> bool| -> BTreeSet<LineId> {
        context.document.lines.iter().filter(|line| wanted(line.work)).map(|line| line.id).collect()
    };
    // What is cut round a strip or a notch may well lie along a cut.
    let (cuts, scores) = (of(|work| work == Work::Cut), of(Work::is_score));
    // Each line that is of no effect somewhere, once: with the line that takes its effect, and where.
    let mut idle: BTreeMap<LineId, (LineId, Point)> = BTreeMap::new();
    for stretch in &context.layout.stretches {
        let of = |kind: &BTreeSet<LineId>| -> Vec<LineId> {
            stretch.lines.iter().copied().filter(|id| kind.contains(id)).collect()
        };
        let (cut, scored) = (of(&cuts), of(&scores));
        for alike in [cut, scored] {
            let Some((&first, rest)) = alike.split_first() else { continue };
            for &second in rest {
                idle.entry(second).or_insert((first, stretch.segment.a));
            }
        }
    }
    let finding = |(second, (first, at)): (LineId, (LineId, Point))| Finding {
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
        fixes: Vec::new(),
    };
    idle.into_iter().map(finding).collect()
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
    fn each_line_is_told_once_against_the_first_of_its_kind() {
        let mut sketch = Sketch::on("12x12in").score(1, Turn::None, "3");
        for id in 2..200 {
            sketch = sketch.score(id, Turn::None, "3");
        }
        let said = said(&sketch.0, "lines-coincide");
        assert_eq!(said.len(), 198);
        assert!(said.iter().all(|words| words.starts_with("\"Score 1\" and ")), "{said:?}");
    }

    #[test]
    fn cuts_along_scores_are_as_they_should_be() {
        assert_eq!(said(&four_flaps(), "lines-coincide"), [""; 0]);
    }
}
