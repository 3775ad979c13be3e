//! Something lies on what should fold, on the side to which it should: the order of the steps blocks itself.

use super::Rule;
use super::first_moves;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;
use std::cell::LazyCell;

pub(super) const RULE: Rule = Rule {
    name: "blocked",
    severities: &[Severity::Error],
    about: "Something lies on what should fold, on the side to which it should: the order of the steps blocks itself.\n\n\
            A gusset between two valleys that are folded flat leaves no room for the flap that hangs on it: folded by 90° \
            each, in one step, they let it close. Where another order or that leaves less in the way, it is offered.",
    example: "The right flap 2 cannot fold in step 3: the left flap already lies on it.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let first = LazyCell::new(|| first_moves(folding));
    let offers = Offers::tried(context);
    let finding = |trouble: &Trouble| {
        let Trouble::Blocked { step, moving, by } = trouble else { return None };
        let words = format!(
            "{} cannot fold in step {}: {} already lies on it.",
            context.the(*moving),
            step + 1,
            context.the(*by)
        );
        let mend = if first.get(by).is_some_and(|first| first < step) {
            format!("Let {} fold before {}.", context.the(*moving), context.the(*by))
        } else {
            // The base, or what has not folded yet: what turned the flap onto it can come later.
            "Fold it the other way, or before the flap it hangs on.".to_owned()
        };
        // What covers it may wait, or it may fold before that; or else before whatever turned it.
        let covered = first.get(by).copied().filter(|first| first < step);
        let moves = covered.into_iter().flat_map(|first| [(*step, first), (first, *step)]);
        let moves = moves.chain((0..*step).rev().filter(|to| Some(*to) != covered).map(|to| (*step, to)));
        let fixes = offers.of(|| context.unblocked(trouble, moves));
        Some(Finding {
            rule: RULE.name,
            severity: Severity::Error,
            sentence: sentence(&words),
            mend,
            spot: Spot { panels: vec![*moving, *by], step: Some(*step), ..Spot::default() },
            fixes,
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::Sketch;
    use crate::testing::{crossed, errors, findings, gusseted, mended, mends as ways, said};
    use model::{Crease, Direction, FoldAngle, Turn, Work};

    #[test]
    fn a_flap_that_is_covered_before_it_folds_is_named_with_what_covers_it() {
        // Base 6 in, right flap 5 in with a tip of 1 in that folds to its back, left flap 5 in. Once the right flap is
        // closed over the base and the left flap over both, the tip lies under the left flap.
        let mut sketch = Sketch::on("17x6in")
            .score(1, Turn::None, "5")
            .score(2, Turn::None, "11")
            .score(3, Turn::None, "16")
            .base("8", "3");
        sketch.0.lines[2].work =
            Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat, pressed: None });
        let late = sketch.steps(&[&[2], &[1], &[3]]);
        let says = "The right flap 2 cannot fold in step 3: the left flap already lies on it.";
        assert_eq!(said(&late.0, "blocked"), [says]);
        let mends = |document: &model::Document| -> Vec<String> {
            findings(document).into_iter().filter(|finding| finding.rule == "blocked").map(|f| f.mend).collect()
        };
        assert_eq!(mends(&late.0), ["Let the right flap 2 fold before the left flap."]);
        let [(label, mended), ..] = &mended(&late.0, "blocked")[..] else { panic!("a way to mend it") };
        assert_eq!(label, "Fold step 3 before step 2");
        assert_eq!(mended.steps, Sketch(late.0.clone()).steps(&[&[2], &[3], &[1]]).0.steps);
        let early = late.steps(&[&[3], &[2], &[1]]);
        assert_eq!(said(&early.0, "blocked"), [""; 0]);
    }

    #[test]
    fn a_flap_that_lies_on_the_base_is_not_told_to_fold_before_it() {
        // The right flap of 5 in lies closed on a base of 6 in; a valley in it would turn its tip into the base.
        let tip = || Sketch::on("11x6in").score(1, Turn::None, "6").score(2, Turn::None, "10").base("3", "3");
        let mut closed = tip().steps(&[&[1], &[2]]);
        let blocked = |document: &model::Document| -> Vec<(String, String)> {
            let all = findings(document).into_iter().filter(|finding| finding.rule == "blocked");
            all.map(|finding| (finding.sentence, finding.mend)).collect()
        };
        let says = "The right flap 2 cannot fold in step 2: the base already lies on it.";
        let mend = "Fold it the other way, or before the flap it hangs on.";
        assert_eq!(blocked(&closed.0), [(says.to_owned(), mend.to_owned())]);
        assert_eq!(ways(&closed.0, "blocked"), ["Fold step 2 before step 1"]);
        // Both ways out are.
        assert_eq!(blocked(&tip().steps(&[&[2], &[1]]).0), []);
        closed.0.lines[1].work =
            Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat, pressed: None });
        assert_eq!(blocked(&closed.0), []);
    }

    #[test]
    fn a_gusset_that_leaves_the_flap_no_room_is_made_to_stand() {
        let flat = gusseted(FoldAngle::Flat);
        let [(label, standing)] = mended(&flat, "blocked").try_into().unwrap();
        assert_eq!(label, "Fold both sides of the top gusset, the left gusset, the right gusset and 1 more by 90°");
        assert_eq!(errors(&standing), 0, "{:#?}", findings(&standing));
        assert_eq!(standing.steps.iter().map(|step| step.lines.len()).collect::<Vec<_>>(), [2; 4]);
    }

    #[test]
    fn what_is_no_gusset_or_stands_on_one_side_is_left_as_it_is() {
        // 2 in is no gusset but a flap in two.
        let wide = crossed(&["3", "5"], &[], FoldAngle::Flat);
        assert!(!said(&wide, "blocked").is_empty());
        assert_eq!(ways(&wide, "blocked"), ["Fold step 2 before step 1"; 0]);
        let mut half = crossed(&["3", "3 1/4"], &[], FoldAngle::Flat);
        assert_eq!(ways(&half, "blocked"), ["Fold both sides of the left gusset by 90°"]);
        half.lines[1].work = Work::Score(Crease { angle: FoldAngle::Square, ..Crease::VALLEY });
        assert!(findings(&half).iter().all(|finding| finding.fixes.iter().all(|fix| !fix.label.contains("90°"))));
    }
}
