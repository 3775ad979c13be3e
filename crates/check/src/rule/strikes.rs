//! A panel strikes another on its way: paper does not pass through paper.

use super::Rule;
use super::first_moves;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;
use std::cell::LazyCell;

pub(super) const RULE: Rule = Rule {
    name: "strikes",
    severities: &[Severity::Error],
    about: "A panel strikes another on its way: paper does not pass through paper.\n\n\
            Where another order of the steps leaves less in the way, or a gusset whose scores are folded by 90° each in \
            place of flat, that is offered.",
    example: "Fold the right flap later, or make one of the two shorter.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let first = LazyCell::new(|| first_moves(folding));
    let offers = Offers::tried(context);
    let finding = |trouble: &Trouble| {
        let Trouble::Collides { step, moving, with, degrees, .. } = trouble else { return None };
        let words = format!(
            "{} strikes {} in step {}, when it has turned {degrees:.0}°.",
            context.the(*moving),
            context.the(*with),
            step + 1
        );
        let mend = if first.get(with).is_some_and(|first| first < step) {
            format!("Fold {} later, or make one of the two shorter.", context.the(*with))
        } else {
            // The base, or what has not folded yet: it cannot be put off.
            format!("Fold {} the other way or in another order, or make it shorter.", context.the(*moving))
        };
        let moves = first.get(with).copied().filter(|first| first < step).into_iter();
        let moves = moves.flat_map(|first| [(first, *step), (*step, first)]);
        let fixes = offers.of(|| context.unblocked(trouble, moves));
        Some(Finding {
            rule: RULE.name,
            severity: Severity::Error,
            sentence: sentence(&words),
            mend,
            spot: Spot { panels: vec![*moving, *with], step: Some(*step), ..Spot::default() },
            fixes,
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::Sketch;
    use crate::testing::{errors, findings, gusseted, mended, mends as ways, said};
    use model::{Crease, Direction, FoldAngle, Turn, Work};

    fn mends(document: &model::Document) -> Vec<String> {
        let strikes = findings(document).into_iter().filter(|finding| finding.rule == "strikes");
        strikes.map(|finding| finding.mend).collect()
    }

    /// A wall that stands 1 in high where the base ends, then a flap of the given width folding towards it.
    fn towards_a_wall(flap: &str) -> model::Document {
        let mut document = Sketch::on("12x4in")
            .score(1, Turn::None, flap)
            .score(2, Turn::None, "11")
            .base("8", "2")
            .steps(&[&[2], &[1]])
            .0;
        document.lines[1].work =
            Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square, pressed: None });
        document
    }

    #[test]
    fn a_flap_longer_than_the_way_to_a_wall_strikes_it() {
        // The wall stands 5 1/4 in from the fold; the flap of 5 3/4 in meets it when it is nearly down.
        let said_long = said(&towards_a_wall("5 3/4"), "strikes");
        assert_eq!(said_long.len(), 1, "{said_long:?}");
        assert!(said_long[0].starts_with("The left flap strikes the right flap in step 2"), "{said_long:?}");
        assert_eq!(said(&towards_a_wall("5"), "strikes"), [""; 0]);
        assert_eq!(mends(&towards_a_wall("5 3/4")), ["Fold the right flap later, or make one of the two shorter."]);
        // Folded first it would cover the fold of the wall.
        assert_eq!(ways(&towards_a_wall("5 3/4"), "strikes"), [""; 0]);
    }

    #[test]
    fn another_order_is_offered_where_nothing_is_struck_in_it() {
        // A wall of 1 in stands 4 1/2 in from the fold and carries a roof of 2 1/2 in towards it. The tip of a flap of 4 in
        // comes down onto that, sqrt(16 - 1) in from its own fold; under it there is room.
        let mut document = Sketch::on("12x4in")
            .score(1, Turn::None, "4")
            .score(2, Turn::None, "8 1/2")
            .score(3, Turn::None, "9 1/2")
            .base("6", "2")
            .steps(&[&[2], &[3], &[1]])
            .0;
        for line in &mut document.lines[1..] {
            line.work = Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square, pressed: None });
        }
        assert_eq!(ways(&document, "strikes"), ["Fold step 1 after step 3", "Fold step 3 before step 1"]);
    }

    #[test]
    fn what_strikes_the_base_is_not_told_to_wait_for_it() {
        // A wall of 3 in stands 1 in from the base; its upper edge is then atan(3 / 1), 71.6°, above the flap it stands
        // on, and meets the base's plane when that has turned 108.4°, within the base of 4 in.
        let mut document = Sketch::on("8x4in")
            .score(1, Turn::None, "4")
            .score(2, Turn::None, "5")
            .base("2", "2")
            .steps(&[&[2], &[1]])
            .0;
        document.lines[1].work =
            Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square, pressed: None });
        let says = "The right flap strikes the base in step 2, when it has turned 108°.";
        assert_eq!(said(&document, "strikes"), [says]);
        let mend = "Fold the right flap the other way or in another order, or make it shorter.";
        assert_eq!(mends(&document), [mend]);
    }

    #[test]
    fn both_sides_of_a_gusset_that_fold_flat_in_one_step_are_made_to_stand() {
        let flat = Sketch(gusseted(FoldAngle::Flat)).steps(&[&[1, 2], &[3, 4], &[5, 6], &[7, 8]]).0;
        assert!(said(&flat, "strikes")[0].starts_with("The left flap strikes the base in step 1"));
        let [(label, standing)] = mended(&flat, "strikes").try_into().unwrap();
        assert_eq!(label, "Fold both sides of the top gusset, the left gusset, the right gusset and 1 more by 90°");
        assert_eq!(errors(&standing), 0);
        assert_eq!(standing.steps, flat.steps, "they fold in one step as before");
    }
}
