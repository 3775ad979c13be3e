//! How scores fold, changed for all that are selected.

use super::change::{Change, lines, named, no_line};
use model::change::set_crease;
use model::{Crease, Direction, Edit, FoldAngle, LineId, Work};
use session::Session;

/// The selected scores, each with how it folds.
pub(super) fn folds(session: &Session) -> impl Iterator<Item = (LineId, Crease)> {
    let document = session.document();
    session.selected_lines().into_iter().filter_map(move |id| match document.line(id)?.work {
        Work::Score(crease) => Some((id, crease)),
        _ => None,
    })
}

/// Folds every selected score the other way: each valley becomes a mountain, and each mountain a valley.
pub(super) fn reversed(session: &Session) -> Result<Change, String> {
    let to = |crease: Crease| Crease { direction: crease.direction.reversed(), ..crease };
    let all = folds(session).count();
    let mountains = folds(session).filter(|&(_, crease)| to(crease).direction == Direction::Mountain).count();
    let ways = [(mountains, "mountain"), (all - mountains, "valley")];
    let ways: Vec<String> =
        ways.into_iter().filter(|(count, _)| *count > 0).map(|(count, noun)| counted(count, noun)).collect();
    creased(session, to, &format!("the other way: {}", ways.join(" and ")))
}

/// Folds every selected score by 90°, or by 180° where the one that is shown in detail is at 90° already.
pub(super) fn at_other_angle(session: &Session) -> Result<Change, String> {
    let main = session.selected().line();
    let first = folds(session).find(|&(id, _)| Some(id) == main).or_else(|| folds(session).next());
    let is_flat = first.is_none_or(|(_, crease)| crease.angle == FoldAngle::Flat);
    let (angle, how) = if is_flat { (FoldAngle::Square, "by 90°") } else { (FoldAngle::Flat, "by 180°") };
    creased(session, |crease| Crease { angle, ..crease }, how)
}

/// Changes how every selected score folds; of several lines it says how many of them do, and `how`.
fn creased(session: &Session, to: impl Fn(Crease) -> Crease, how: &str) -> Result<Change, String> {
    let ids = lines(session)?;
    let document = session.document();
    let scores: Vec<(LineId, Crease)> = folds(session).collect();
    if scores.is_empty() {
        return Err(match ids.first().copied().filter(|_| ids.len() == 1) {
            Some(id) => {
                let kind = document.line(id).map_or("line", |line| line.work.word()).to_lowercase();
                format!("\"{}\" is a {kind} and does not fold", document.line_name(id))
            }
            None => format!("none of the {} selected lines folds", ids.len()),
        });
    }
    let mut edits: Vec<Edit> = scores.iter().filter_map(|&(id, crease)| set_crease(document, id, to(crease))).collect();
    let label = format!("Fold {}", named(session, &scores.iter().map(|(id, _)| *id).collect()));
    let left = match ids.len() - scores.len() {
        0 => String::new(),
        1 => "; 1 line does not fold".to_owned(),
        left => format!("; {left} lines do not fold"),
    };
    let said = (ids.len() > 1).then(|| format!("Folded {} {how}{left}.", counted(scores.len(), "score")));
    let edit = if edits.len() == 1 { edits.pop().ok_or_else(no_line)? } else { Edit::All(edits) };
    Ok(Change { said, ..Change::new(label, edit) })
}

fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::change;
    use model::change::{add_line, measured_score};
    use model::{Document, Length, Line, Size, Turn, Unit};
    use session::Command;

    /// Two valleys, a mountain at 90° and a cut; those of these numbers selected, the last of them shown in detail.
    fn session(selected: &[u32]) -> Session {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let mountain = Crease { direction: Direction::Mountain, angle: FoldAngle::Square, pressed: None };
        for (id, work) in [(1, None), (2, None), (3, Some(Work::Score(mountain))), (4, Some(Work::Cut))] {
            let score = measured_score(LineId(id), Turn::None, Length::INCH * (2 * i64::from(id)));
            let line = Line { work: work.unwrap_or(score.work), ..score };
            document.apply(add_line(&document, line)).unwrap();
        }
        let mut session = Session::new(document);
        session.select(selected.iter().map(|&id| LineId(id)).collect::<session::Selection>());
        session
    }

    /// Runs a command: gives how the scores fold then, `m` or `v` and the angle, or why not, and what is said.
    #[track_caller]
    fn check(selected: &[u32], command: Command, expected: Result<(&str, Option<&str>), &str>) {
        let mut session = session(selected);
        let done = change(&session, Turn::None, command).unwrap().map(|change| {
            session.apply(&change.label, change.edit).unwrap();
            assert!(session.undo_label().is_some());
            session.select((1..=4).map(LineId).collect::<session::Selection>());
            let fold = |(_, crease): (LineId, Crease)| {
                let way = if crease.direction == Direction::Mountain { "m" } else { "v" };
                format!("{way}{}", if crease.angle == FoldAngle::Flat { 180 } else { 90 })
            };
            (folds(&session).map(fold).collect::<Vec<String>>().join(" "), change.said)
        });
        let done = done.as_ref().map(|(folds, said)| (folds.as_str(), said.as_deref()));
        assert_eq!(done, expected.map_err(str::to_owned).as_ref().copied());
    }

    #[test]
    fn one_score_folds_the_other_way_without_a_word() {
        check(&[1], Command::ReverseFold, Ok(("m180 v180 m90", None)));
        check(&[3], Command::SwitchAngle, Ok(("v180 v180 m180", None)));
    }

    #[test]
    fn all_that_are_selected_fold_and_are_counted() {
        let said = "Folded 2 scores the other way: 2 mountains.";
        check(&[1, 2], Command::ReverseFold, Ok(("m180 m180 m90", Some(said))));
        let said = "Folded 3 scores the other way: 2 mountains and 1 valley; 1 line does not fold.";
        check(&[1, 2, 3, 4], Command::ReverseFold, Ok(("m180 m180 v90", Some(said))));
        let said = "Folded 1 score the other way: 1 mountain; 1 line does not fold.";
        check(&[1, 4], Command::ReverseFold, Ok(("m180 v180 m90", Some(said))));
    }

    #[test]
    fn all_take_the_angle_that_the_one_in_detail_does_not_have() {
        check(&[3, 1, 2], Command::SwitchAngle, Ok(("v90 v90 m90", Some("Folded 3 scores by 90°."))));
        check(&[1, 2, 3], Command::SwitchAngle, Ok(("v180 v180 m180", Some("Folded 3 scores by 180°."))));
    }

    #[test]
    fn what_does_not_fold_says_so() {
        check(&[4], Command::ReverseFold, Err("\"Cut 4\" is a cut and does not fold"));
        check(&[], Command::SwitchAngle, Err("Click a line first"));
    }
}
