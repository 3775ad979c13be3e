//! A panel strikes another on its way: paper does not pass through paper.

use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let finding = |trouble: &Trouble| {
        let Trouble::Collides { step, moving, with, degrees } = trouble else { return None };
        let words = format!(
            "{} strikes {} in step {}, when it has turned {degrees:.0}°.",
            context.the(*moving),
            context.the(*with),
            step + 1
        );
        let mend = if context.layout.base == Some(*with) {
            // The base never folds, so it cannot be put off.
            format!("Fold {} the other way or in another order, or make it shorter.", context.the(*moving))
        } else {
            format!("Fold {} later, or make one of the two shorter.", context.the(*with))
        };
        Some(Finding {
            rule: "strikes",
            severity: Severity::Error,
            sentence: sentence(&words),
            mend,
            spot: Spot { panels: vec![*moving, *with], step: Some(*step), ..Spot::default() },
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::Sketch;
    use crate::testing::said;
    use model::{Crease, Direction, FoldAngle, Turn, Work};

    /// A wall that stands 1 in high where the base ends, then a flap of the given width folding towards it.
    fn towards_a_wall(flap: &str) -> model::Document {
        let mut document = Sketch::on("12x4in")
            .score(1, Turn::None, flap)
            .score(2, Turn::None, "11")
            .base("8", "2")
            .steps(&[&[2], &[1]])
            .0;
        document.lines[1].work = Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square });
        document
    }

    #[test]
    fn a_flap_longer_than_the_way_to_a_wall_strikes_it() {
        // The wall stands 5 1/4 in from the fold; the flap of 5 3/4 in meets it when it is nearly down.
        let said_long = said(&towards_a_wall("5 3/4"), "strikes");
        assert_eq!(said_long.len(), 1, "{said_long:?}");
        assert!(said_long[0].starts_with("The left flap strikes the right flap in step 2"), "{said_long:?}");
        assert_eq!(said(&towards_a_wall("5"), "strikes"), [""; 0]);
    }
}
