//! A line has no place on the sheet: it lies beyond the edge, or what it is placed by is gone or goes in a circle.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Severity, Spot};
use model::{Line, LineId, Work};
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    name: "misplaced-line",
    severities: &[Severity::Error, Severity::Warning],
    about: "A line has no place on the sheet: it lies beyond the edge, or what it is placed by is gone or goes in a \
            circle.\n\n\
            It is left out of everything until it is mended, so the design is not what the maker thinks it is. A line \
            along the sheet's edge has a place, but nothing is scored or cut there.",
    example: "\"Score 1\" lies 1/4 in beyond the edge of the sheet.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = &Offers::plain();
    let finding = |(&id, fault): (&LineId, &model::LineFault)| Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!("{} {}.", context.line(id), fault.phrase(context.document)),
        mend: "Give it a distance and a run that lie on the sheet, or delete it.".to_owned(),
        spot: Spot { lines: vec![id], ..Spot::default() },
        fixes: offers.of(|| context.deletion(id)),
    };
    let faults = context.layout.lines.iter().filter_map(|(id, placed)| Some((id, placed.as_ref().err()?)));
    faults.map(finding).chain(along_the_edge(context, offers)).collect()
}

fn along_the_edge<'a>(context: &'a Context<'_>, offers: &'a Offers<'_>) -> impl Iterator<Item = Finding> + 'a {
    let mut idle: BTreeMap<LineId, bool> = BTreeMap::new();
    for stretch in &context.layout.stretches {
        for &line in &stretch.lines {
            *idle.entry(line).or_insert(true) &= stretch.work.is_none();
        }
    }
    // What lies wholly where paper is taken out, or takes nothing off the sheet itself, is on no stretch at all.
    let placed = |line: &Line| line.work != Work::Guide && matches!(context.layout.lines.get(&line.id), Some(Ok(_)));
    for line in context.document.lines.iter().filter(|line| placed(line)) {
        idle.entry(line.id).or_insert(true);
    }
    idle.into_iter().filter(|(_, idle)| *idle).map(move |(id, _)| Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "{} lies where there is nothing to score or cut: along the sheet's edge, or where paper is taken out.",
            context.line(id)
        ),
        mend: "Move it onto the sheet, or delete it.".to_owned(),
        spot: Spot { lines: vec![id], ..Spot::default() },
        fixes: offers.of(|| context.deletion(id)),
    })
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, length};
    use crate::testing::{mended, mends, said};
    use model::Turn;

    #[test]
    fn a_line_past_the_sheet_says_by_how_much() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").0;
        assert_eq!(said(&document, "misplaced-line"), [""; 0]);
        document.lines[0] = model::change::measured_score(model::LineId(1), Turn::None, length("12 1/4"));
        assert_eq!(said(&document, "misplaced-line"), ["\"Score 1\" lies 1/4 in beyond the edge of the sheet."]);
        let [(label, without)] = mended(&document, "misplaced-line").try_into().unwrap();
        assert_eq!((label.as_str(), without.lines.len(), without.steps.len()), ("Delete Score 1", 0, 0));
    }

    #[test]
    fn a_line_along_the_sheets_edge_does_nothing() {
        let edge = Sketch::on("12x12in").score(1, Turn::None, "12").score(2, Turn::Once, "4").0;
        let says = "\"Score 1\" lies where there is nothing to score or cut: along the sheet's edge, or where paper is taken \
                    out.";
        assert_eq!(said(&edge, "misplaced-line"), [says]);
        assert_eq!(mends(&edge, "misplaced-line"), ["Delete Score 1"]);
    }
}
