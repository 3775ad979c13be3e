//! A score is pressed into the face that it folds towards, so that its bead comes to lie outside the fold.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::change::set_crease;
use model::words::listed;
use model::{Crease, Direction, Edit, LineId};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "pressed-side",
    severities: &[Severity::Note],
    about: "A score is pressed into the face that it folds towards, so that its bead comes to lie outside the fold.\n\n\
            Paper folds away from the face that was pressed, with the raised bead inside the fold: a valley is \
            pressed into the back, a mountain into the front. The other way round the outer fibres are stretched over \
            an edge that was already crushed, and heavy or coated paper cracks along it (common practice, no source). \
            What folds either way may be pressed into either face.",
    example: "\"Score 1\" is pressed into the face that it folds towards, so its bead lies outside the fold.",
    check,
};

/// More names than this are not read.
const MOST_NAMED: usize = 3;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let folds = context.papers().into_iter().flat_map(|paper| paper.folds);
    let wrong: BTreeSet<LineId> = folds.filter(|fold| is_inside_out(fold.crease)).map(|fold| fold.line).collect();
    if wrong.is_empty() { Vec::new() } else { vec![finding(context, &wrong)] }
}

/// Whether it is pressed into the face that it folds towards.
fn is_inside_out(crease: Crease) -> bool {
    let usual = Crease { pressed: None, ..crease };
    crease.direction != Direction::Either && crease.face() != usual.face()
}

fn finding(context: &Context<'_>, wrong: &BTreeSet<LineId>) -> Finding {
    let named = wrong.iter().take(MOST_NAMED).map(|&line| context.line(line));
    let more = wrong.len().saturating_sub(MOST_NAMED);
    let names = listed(named.chain((more > 0).then(|| format!("{more} more"))));
    let (are, them, each, beads) = if wrong.len() == 1 {
        ("is", "it", "it folds", "its bead lies")
    } else {
        ("are", "them", "they fold", "their beads lie")
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!("{names} {are} pressed into the face that {each} towards, so {beads} outside the fold."),
        mend: format!("Press {them} into the other face; heavy and coated paper cracks else."),
        spot: Spot { lines: wrong.iter().copied().collect(), ..Spot::default() },
        fixes: fix(context, wrong).into_iter().collect(),
    }
}

/// Presses the folio's lines into the other face; those of a part are in its own measures.
fn fix(context: &Context<'_>, wrong: &BTreeSet<LineId>) -> Option<Fix> {
    let pressed = |&line: &LineId| {
        let crease = context.document.line(line)?.work.crease()?;
        set_crease(context.document, line, Crease { pressed: None, ..crease })
    };
    let edits: Vec<Edit> = wrong.iter().filter_map(pressed).collect();
    let (label, edit) = match <[Edit; 1]>::try_from(edits) {
        Ok([edit]) => ("Press it into the other face", edit),
        Err(edits) if edits.is_empty() => return None,
        Err(edits) => ("Press them into the other face", Edit::All(edits)),
    };
    Some(Fix::new(label, edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::four_flaps;
    use crate::testing::{findings, said};
    use model::{Crease, Direction, Document, Face, Work};

    /// Four flaps, the first folding one way and pressed into one face, and so on.
    fn pressed(first: &[(Direction, Option<Face>)]) -> Document {
        let mut document = four_flaps();
        for (line, &(direction, pressed)) in document.lines.iter_mut().zip(first) {
            line.work = Work::Score(Crease { direction, pressed, ..Crease::VALLEY });
        }
        document.base = Some(crate::testing::common::at("6", "6"));
        document
    }

    #[test]
    fn a_score_pressed_from_the_wrong_side_is_told_and_mended() {
        let wrong = pressed(&[(Direction::Valley, Some(Face::Front))]);
        let says = "\"Score 1\" is pressed into the face that it folds towards, so its bead lies outside the fold.";
        assert_eq!(said(&wrong, "pressed-side"), [says]);
        let finding = findings(&wrong).into_iter().find(|finding| finding.rule == "pressed-side").unwrap();
        let mut mended = wrong;
        mended.apply(finding.fixes[0].edit.clone()).unwrap();
        assert_eq!(said(&mended, "pressed-side"), [""; 0]);
        assert_eq!(mended.lines[0].work.crease().map(Crease::face), Some(Face::Back));
    }

    #[test]
    fn several_are_told_and_mended_at_once() {
        let wrong = pressed(&[(Direction::Valley, Some(Face::Front)), (Direction::Mountain, Some(Face::Back))]);
        let [finding] = findings(&wrong)
            .into_iter()
            .filter(|finding| finding.rule == "pressed-side")
            .collect::<Vec<_>>()
            .try_into()
            .unwrap();
        assert!(finding.sentence.starts_with("\"Score 1\" and \"Score 2\" are pressed"), "{}", finding.sentence);
        let mut mended = wrong;
        mended.apply(finding.fixes[0].edit.clone()).unwrap();
        assert_eq!(said(&mended, "pressed-side"), [""; 0]);
    }

    #[test]
    fn what_is_pressed_as_usual_or_folds_either_way_is_no_matter() {
        use Direction::{Either, Mountain, Valley};
        let right =
            [(Valley, Some(Face::Back)), (Mountain, Some(Face::Front)), (Either, Some(Face::Back)), (Valley, None)];
        assert_eq!(said(&pressed(&right), "pressed-side"), [""; 0]);
    }
}
