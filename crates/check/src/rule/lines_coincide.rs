//! Two scores, or two cuts, lie on the same stretch: one of them is of no effect.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::{Edit, Line, LineId, Point, Work};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const RULE: Rule = Rule {
    name: "lines-coincide",
    severities: &[Severity::Warning],
    about: "Two scores, or two cuts, lie on the same stretch: one of them is of no effect.\n\n\
            A cut along a score is another matter: it is how corners are cut away.",
    example: "\"Score 1\" and \"Score 2\" lie on one another 3 in from the left and 0 in from the top of the sheet, so the second has no effect there.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let of = |wanted: fn(Work) -> bool| -> BTreeSet<LineId> {
        context.document.lines.iter().filter(|line| wanted(line.work)).map(|line| line.id).collect()
    };
    // What is cut round a strip or a notch may well lie along a cut.
    let (cuts, scores) = (of(|work| work == Work::Cut), of(Work::is_score));
    // Each line that is of no effect somewhere, once: with the line that takes its effect, and where.
    let mut idle: BTreeMap<LineId, (LineId, Point)> = BTreeMap::new();
    // Those that have an effect somewhere.
    let mut needed: BTreeSet<LineId> = BTreeSet::new();
    for stretch in &context.layout.stretches {
        let of = |kind: &BTreeSet<LineId>| -> Vec<LineId> {
            stretch.lines.iter().copied().filter(|id| kind.contains(id)).collect()
        };
        let (cut, scored) = (of(&cuts), of(&scores));
        for alike in [cut, scored] {
            let Some((&first, rest)) = alike.split_first() else { continue };
            needed.insert(first);
            for &second in rest {
                idle.entry(second).or_insert((first, stretch.segment.a));
            }
        }
    }
    let offers = Offers::plain();
    let finding = |(second, (first, at)): (LineId, (LineId, Point))| Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "{} and {} lie on one another {}, so the second has no effect there.",
            context.line(first),
            context.line(second),
            context.place(at)
        ),
        mend: format!("Move or delete {}.", context.line(second)),
        spot: Spot { lines: vec![first, second], at: Some(at), ..Spot::default() },
        fixes: offers.of(|| (!needed.contains(&second)).then(|| taken_out(context, second)).flatten()),
    };
    idle.into_iter().map(finding).collect()
}

/// Takes out a line that has no effect anywhere. One that others lie along stays as a guide for them; one that a corner is
/// named by is left to the maker.
fn taken_out(context: &Context<'_>, id: LineId) -> Option<Fix> {
    let document = context.document;
    if document.corners.iter().any(|corner| corner.names(id)) {
        return None;
    }
    if !context.has_along(id) {
        return context.deletion(id);
    }
    let guide = Line { work: Work::Guide, ..document.line(id)?.clone() };
    let steps = document.steps.iter().map(|step| step.without(|line| line == id));
    let steps = Edit::SetSteps(steps.filter(|step| !step.is_empty()).collect());
    let label = format!("Make {} a guide", document.line_name(id));
    Some(Fix::new(label, Edit::All(vec![Edit::ReplaceLine(guide), steps])))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps, length};
    use crate::testing::{findings, mended, mends, said};
    use model::{Datum, Document, Layout, Place, Run, Stop, Turn, Work};

    #[test]
    fn two_scores_at_one_place_are_told_once() {
        let twice =
            Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Twice, "9").score(3, Turn::Once, "4").0;
        let says = "\"Score 1\" and \"Score 2\" lie on one another 3 in from the left and 0 in from the top of the sheet, \
                    so the second has no effect there.";
        assert_eq!(said(&twice, "lines-coincide"), [says]);
    }

    #[test]
    fn the_second_is_taken_out_where_that_changes_nothing() {
        let sketch = || Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Twice, "9");
        let panels = |document: &Document| Layout::of(document).panels;
        let [(label, one)] = mended(&sketch().0, "lines-coincide").try_into().unwrap();
        assert_eq!((label.as_str(), panels(&one)), ("Delete Score 2", panels(&sketch().0)));
        // What is cut along it stays.
        let cut = sketch().cut(5, 2, Stop::Edge, Stop::At(length("4"))).0;
        let [(label, one)] = mended(&cut, "lines-coincide").try_into().unwrap();
        assert_eq!((label.as_str(), panels(&one)), ("Make Score 2 a guide", panels(&cut)));
        assert_eq!(one.steps.len(), 1);
        // Farther up the second does fold.
        let run = Run { from: Stop::At(length("6")), to: Stop::Edge };
        let short = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("3"), run };
        let short =
            Sketch::on("12x12in").line(1, short, Work::Score(model::Crease::VALLEY)).score(2, Turn::None, "3").0;
        assert_eq!(said(&short, "lines-coincide").len(), 1);
        assert_eq!(mends(&short, "lines-coincide"), [""; 0]);
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
        let offered = findings(&sketch.0).into_iter().filter(|finding| !finding.fixes.is_empty()).count();
        assert!((1..198).contains(&offered), "the first bring their fixes; {offered} do");
    }

    #[test]
    fn cuts_along_scores_are_as_they_should_be() {
        assert_eq!(said(&four_flaps(), "lines-coincide"), [""; 0]);
    }
}
