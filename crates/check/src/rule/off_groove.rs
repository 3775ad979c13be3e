//! A score lies between the grooves of the scoring board, so it has to be set by ruler.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Severity, Spot};
use model::{Length, Line, LineId, Placed};

pub(super) const RULE: Rule = Rule {
    name: "off-groove",
    severities: &[Severity::Note],
    about: "A score lies between the grooves of the scoring board, so it has to be set by ruler.\n\n\
            Boards have a groove every 1/8 in (common practice, no source); the design says how far apart hers are.",
    example: "\"Score 2\" lies 3 1/16 in from the left edge, between the grooves of the board, which are 1/8 in apart.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let groove = context.document.groove;
    let scores = context.document.lines.iter().filter(|line| line.work.is_score());
    let placed = |line: &Line| {
        let placed = (*context.layout.lines.get(&line.id)?).ok()?;
        Some((line.id, placed, placed.on_board()?.1))
    };
    let off = scores.filter_map(placed).filter(|(.., across)| !across.is_multiple_of(groove));
    let offers = Offers::plain();
    let finding = |(id, placed, across): (LineId, Placed, Length)| {
        let near = across.snapped(groove);
        let far = if near < across { near + groove } else { near - groove };
        let fixes = offers.of(|| [near, far].into_iter().filter_map(|to| context.moved(id, to)));
        Finding { fixes, ..finding(context, id, &placed, across, groove) }
    };
    off.map(finding).collect()
}

fn finding(context: &Context<'_>, id: LineId, placed: &Placed, across: Length, groove: Length) -> Finding {
    let unit = context.document.units;
    let near = across.snapped(groove);
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "{} lies {} from the left edge, between the grooves of the board, which are {} apart.",
            context.line(id),
            across.readable(unit),
            groove.text(unit)
        ),
        mend: format!("Move it to the groove at {}, or score it along a ruler.", near.readable(unit)),
        spot: Spot { lines: vec![id], at: Some(placed.segment.a), ..Spot::default() },
        fixes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::Sketch;
    use crate::testing::{mends, said};
    use model::{Length, Turn};

    #[test]
    fn a_score_between_grooves_is_a_note() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3 1/8").score(2, Turn::Once, "3 1/16").0;
        let says =
            "\"Score 2\" lies 3 1/16 in from the left edge, between the grooves of the board, which are 1/8 in apart.";
        assert_eq!(said(&document, "off-groove"), [says]);
        assert_eq!(mends(&document, "off-groove"), ["Move Score 2 to 3 1/8 in", "Move Score 2 to 3 in"]);
        document.groove = Length::SIXTEENTH;
        assert_eq!(said(&document, "off-groove"), [""; 0]);
        document.groove = Length::ZERO;
        assert_eq!(said(&document, "off-groove"), [""; 0], "without a board there are no grooves");
    }

    #[test]
    fn a_groove_at_the_edge_or_under_another_score_is_not_offered() {
        // A score is moved neither to the sheet's edge nor onto one that is there.
        let at = |turn, across: &str| Sketch::on("12x12in").score(1, turn, across).0;
        assert_eq!(mends(&at(Turn::None, "1/32"), "off-groove"), ["Move Score 1 to 1/8 in"]);
        assert_eq!(mends(&at(Turn::None, "11 31/32"), "off-groove"), ["Move Score 1 to 11 7/8 in"]);
        for turn in [Turn::None, Turn::Twice] {
            let across = if turn == Turn::None { "3 1/8" } else { "8 7/8" };
            let beside = Sketch::on("12x12in").score(1, Turn::None, "3 1/16").score(2, turn, across).0;
            assert_eq!(mends(&beside, "off-groove"), ["Move Score 1 to 3 in"]);
        }
        let mut locked = at(Turn::None, "3 1/16");
        locked.lines[0].locked = true;
        assert_eq!(mends(&locked, "off-groove"), [""; 0]);
    }
}
