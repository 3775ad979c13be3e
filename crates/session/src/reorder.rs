//! What would come of a step of the closing order that is put in another place, tried before it is.

use crate::derived::Derived;
use check::rule::named;
use check::{Context, Finding};
use fold::{Assembly, Folding};
use model::Document;
use model::change::move_step;

/// The rules that say what stands in the way of closing, by the order of their findings.
const RULES: [&str; 5] = ["still-joined", "blocked", "cannot-tuck", "strikes", "no-layer-order"];

/// What would come of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Nothing stands in the way of closing.
    Closes,
    /// Something does, as it does now: a sentence.
    StillFails(String),
    /// Something does, and nothing does now: a sentence.
    Breaks(String),
}

/// Tries a step in another place, both counted from 0. Takes one folding. `None` where no step would move.
#[must_use]
pub fn outcome(document: &Document, derived: &Derived, from: usize, to: usize) -> Option<Outcome> {
    let edit = move_step(document, from, to)?;
    let mut tried = document.clone();
    tried.apply(edit).ok()?;
    let Some((assembly, folding)) = &derived.folded else {
        return Some(Outcome::StillFails("Nothing can fold yet, since no panel is marked as the base.".to_owned()));
    };
    let now = hindrances(document, derived, (assembly, folding));
    // Where nothing but the order of the steps changes, the sheet is the same.
    let assembly = fold::assemble(&tried, &derived.layout)?;
    let folding = fold::close(&assembly);
    let then = hindrances(&tried, derived, (&assembly, &folding));
    Some(match then.first().map(|finding| finding.sentence.clone()) {
        None => Outcome::Closes,
        // Steps of an order that fails are moved about until it closes.
        Some(said) if !now.is_empty() => Outcome::StillFails(said),
        Some(said) => Outcome::Breaks(said),
    })
}

/// What stands in the way of closing.
fn hindrances(document: &Document, derived: &Derived, (assembly, folding): (&Assembly, &Folding)) -> Vec<Finding> {
    let context = Context::new(document, &derived.layout, Some((assembly, folding)), None).in_passing();
    RULES.iter().filter_map(|name| named(name)).flat_map(|rule| (rule.check)(&context)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Crease, Direction, FoldAngle, Length, LineId, Point, Size, Step, Turn, Unit, Work};

    /// A base of 6 in, a right flap of 5 in with a tip of 1 in that folds to its back, and a left flap of 5 in, by these
    /// steps. Once the right flap and then the left flap are closed, the tip lies under the left flap: worked out by hand
    /// from the sizes, as for the rule `blocked`.
    fn covered(steps: [u32; 3]) -> Document {
        let inch = Length::INCH;
        let mut document = Document::new(Size::parse("17x6in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 5), (2, 11), (3, 16)] {
            let mut score = measured_score(LineId(id), Turn::None, inch * inches);
            if id == 3 {
                score.work =
                    Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat, pressed: None });
            }
            document.apply(add_line(&document, score)).unwrap();
        }
        document.base = Some(Point::new(inch * 8, inch * 3));
        document.steps = steps.map(|id| Step::of(vec![LineId(id)])).to_vec();
        document
    }

    #[track_caller]
    fn check(steps: [u32; 3], (from, to): (usize, usize), expected: Option<Outcome>) {
        let document = covered(steps);
        assert_eq!(outcome(&document, &Derived::of(&document), from, to), expected);
    }

    #[test]
    fn every_rule_that_is_asked_exists() {
        assert!(RULES.iter().all(|name| named(name).is_some()));
    }

    #[test]
    fn a_step_that_would_come_too_late_is_told_with_what_covers_it() {
        let says = "The right flap 2 cannot fold in step 3: the left flap already lies on it.";
        check([3, 2, 1], (0, 2), Some(Outcome::Breaks(says.to_owned())));
        check([2, 3, 1], (1, 2), Some(Outcome::Breaks(says.to_owned())));
        check([3, 2, 1], (0, 1), Some(Outcome::Closes));
    }

    #[test]
    fn an_order_that_fails_is_mended_by_a_move() {
        check([2, 1, 3], (2, 0), Some(Outcome::Closes));
        // With the left flap under the right one nothing lies on the tip, which folds last.
        check([2, 1, 3], (0, 1), Some(Outcome::Closes));
    }

    #[test]
    fn what_stands_in_the_way_in_any_order_still_does() {
        // Both scores cross on paper that is kept all round: two valleys more than mountains are needed for each point
        // (Maekawa's theorem), and there are four of one kind.
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, turn) in [(1, Turn::None), (2, Turn::Once)] {
            document.apply(add_line(&document, measured_score(LineId(id), turn, Length::INCH * 3))).unwrap();
        }
        let told = outcome(&document, &Derived::of(&document), 0, 1);
        let Some(Outcome::StillFails(said)) = told else { panic!("{told:?}") };
        assert!(said.contains("is still joined round the corner"), "{said}");
    }

    #[test]
    fn where_nothing_moves_there_is_nothing_to_say() {
        check([3, 2, 1], (1, 1), None);
        check([3, 2, 1], (1, 3), None);
        let document = Document { base: None, ..covered([3, 2, 1]) };
        let told = outcome(&document, &Derived::of(&document), 0, 1);
        let says = "Nothing can fold yet, since no panel is marked as the base.";
        assert_eq!(told, Some(Outcome::StillFails(says.to_owned())));
    }
}
