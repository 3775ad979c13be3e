//! A fold on one score goes round so much that it needs two, with a strip between.

use super::Rule;
use crate::measure::at_least;
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::{Allowance, Assembly, FoldGap, LEAST_DOUBLE, Scoring};
use model::{Length, Unit};

pub(super) const RULE: Rule = Rule {
    name: "tight-fold",
    severities: &[Severity::Warning],
    about: "A fold on one score goes round so much that it needs two, with a strip between.\n\n\
            Round a stack of thickness `T` paper of caliper `t` takes a back of `T + t` (plane geometry, as for \
            gussets). Up to 1/8 in two scores can't be pressed apart, and one wide score does (a maker of binders' \
            tools, of spines); beyond that a single fold bulges, creeps out of its score, or tears at its ends. Only \
            what lies at the crease counts.",
    example: "The left flap and the base fold round a layer of 4 mm on one score, \"Score 1\", which is too tight.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    // All of it in one pile would still be thin enough for a wide score.
    let all: f64 = assembly.panels.iter().map(|panel| panel.caliper).sum();
    if all <= LEAST_DOUBLE {
        return Vec::new();
    }
    let allowance = context.allowance();
    // A fold that is one side of a gusset has its strip; how wide that has to be is told by another rule.
    let is_tight = |gap: &&FoldGap| gap.has == 0.0 && gap.scoring == Scoring::Double;
    let tight = context.gaps().iter().filter(is_tight);
    tight.map(|gap| finding(context, assembly, gap, &allowance)).collect()
}

fn finding(context: &Context<'_>, assembly: &Assembly, gap: &FoldGap, allowance: &Allowance) -> Finding {
    let joint = &assembly.joints[gap.joint];
    let [first, second] = joint.panels.map(|panel| assembly.panels[panel].id);
    let layers = if gap.layers == 1 { "a layer".to_owned() } else { format!("{} layers", gap.layers) };
    let stack = Length::from_mm_rounded(gap.stack).unwrap_or(Length::LIMIT).readable(Unit::Millimetre);
    let words = format!(
        "{} and {} fold round {layers} of {stack} on one score, {}, which is too tight.",
        context.the(first),
        context.the(second),
        context.line(joint.line)
    );
    let wide = at_least(gap.needed);
    let on_board = allowance.next_groove(gap.needed).and_then(Length::from_mm_rounded);
    let apart = match on_board {
        Some(groove) => format!("{} apart on the board ({wide} is the least)", groove.readable(context.document.units)),
        None => format!("{wide} apart"),
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(&words),
        mend: format!("Make it a gusset: two scores {apart}, each folded by 90°."),
        spot: Spot { panels: vec![first, second], lines: vec![joint.line], ..Spot::default() },
        fixes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{first, part};
    use crate::testing::said;
    use model::part::Insert;
    use model::{Document, Length, PanelRef, PartKind, Turn};

    /// A strip of 12 by 6 in folded in half round an insert that is so thick, and so wide.
    fn round(nm: i64, width: &str) -> Document {
        let mut document = Sketch::on("12x6in").score(1, Turn::None, "6").base("9", "3").steps(&[&[1]]).0;
        let insert = Insert { width: length(width), height: length("5"), caliper: Some(Length::from_nm(nm)) };
        document.parts.push(part(1, PartKind::Insert(insert), PanelRef::Sheet(at("9", "3"))));
        document
    }

    #[test]
    fn a_fold_round_more_than_an_eighth_of_an_inch_needs_two_scores() {
        // By hand: 4 mm and the paper's 0.3 mm are 4.3 mm, and the next groove of 1/8 in is 1/4 in.
        let thick = round(4_000_000, "6");
        let says =
            "The left flap and the base fold round a layer of 4 mm on one score, \"Score 1\", which is too tight.";
        assert_eq!(said(&thick, "tight-fold"), [says]);
        let mend = "Make it a gusset: two scores 1/4 in apart on the board (4.3 mm is the least), each folded by 90°.";
        assert_eq!(first(&thick, "tight-fold").mend, mend);
        // 2.8 and 0.3 mm are 3.1 mm, less than 1/8 in; 2.9 and 0.3 mm are 3.2 mm.
        assert_eq!(said(&round(2_800_000, "6"), "tight-fold"), [""; 0]);
        assert_eq!(said(&round(2_900_000, "6"), "tight-fold").len(), 1);
    }

    #[test]
    fn what_ends_before_the_crease_is_not_gone_round() {
        assert_eq!(said(&round(4_000_000, "5"), "tight-fold"), [""; 0]);
    }
}
