//! A score is pressed into the face that it folds towards, so that its bead comes to lie outside the fold.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::change::set_crease;
use model::words::listed;
use model::{Crease, Direction, Edit, LineId, PartKind, Work};
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

/// Presses the lines into the other face: those of the folio, and those of parts of the maker's own. Those of other parts
/// are pressed as they should be.
fn fix(context: &Context<'_>, wrong: &BTreeSet<LineId>) -> Option<Fix> {
    let document = context.document;
    let pressed = |&line: &LineId| {
        let crease = document.line(line)?.work.crease()?;
        set_crease(document, line, Crease { pressed: None, ..crease })
    };
    let mut edits: Vec<Edit> = wrong.iter().filter_map(pressed).collect();
    let mut parts = document.parts.clone();
    for part in &mut parts {
        let PartKind::Own(own) = &mut part.kind else { continue };
        let Some(laid) = context.layout.part(part.id) else { continue };
        for line in &mut own.lines {
            let is_wrong = laid.lines.get(&line.id).is_some_and(|id| wrong.contains(id));
            if let (true, Work::Score(crease)) = (is_wrong, &mut line.work) {
                crease.pressed = None;
            }
        }
    }
    if parts != document.parts {
        edits.push(Edit::SetParts(parts));
    }
    let it = if wrong.len() == 1 { "it" } else { "them" };
    let edit = match <[Edit; 1]>::try_from(edits) {
        Ok([edit]) => edit,
        Err(edits) if edits.is_empty() => return None,
        Err(edits) => Edit::All(edits),
    };
    Some(Fix::new(format!("Press {it} into the other face"), edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{four_flaps, length};
    use crate::testing::part::{base, flap_and_base, part};
    use crate::testing::{findings, mended, said};
    use model::part::Own;
    use model::{Crease, Direction, Document, Face, Line, LineId, PartKind, Size, Turn, Work};

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
    fn a_fold_of_a_part_is_told_and_mended_too() {
        let crease = Crease { pressed: Some(Face::Front), ..Crease::VALLEY };
        let line =
            Line { work: Work::Score(crease), ..model::change::measured_score(LineId(1), Turn::None, length("1")) };
        let base_at = crate::testing::common::at("2", "1");
        let own = Own {
            size: Size::parse("4x2in").unwrap(),
            lines: vec![line],
            corners: vec![],
            base: base_at,
            folded: vec![],
        };
        let wrong = flap_and_base(vec![part(1, PartKind::Own(own), base())]);
        assert_eq!(said(&wrong, "pressed-side").len(), 1);
        let [(label, mended)] = mended(&wrong, "pressed-side").try_into().unwrap();
        assert_eq!(label, "Press it into the other face");
        let PartKind::Own(own) = &mended.parts[0].kind else { panic!("a part of the maker's own") };
        assert_eq!(own.lines[0].work.crease(), Some(Crease::VALLEY));
    }

    #[test]
    fn what_is_pressed_as_usual_or_folds_either_way_is_no_matter() {
        use Direction::{Either, Mountain, Valley};
        let right =
            [(Valley, Some(Face::Back)), (Mountain, Some(Face::Front)), (Either, Some(Face::Back)), (Valley, None)];
        assert_eq!(said(&pressed(&right), "pressed-side"), [""; 0]);
    }
}
