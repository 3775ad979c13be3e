//! What a command would change of the closing order: of the step in which what is selected folds.

use super::Change;
use model::change::{join_step, last_apart, move_step};
use session::{Command, Selected, Session, reorder};

/// The step in which what is selected folds, counted from 0.
pub(crate) fn step_of(session: &Session) -> Option<usize> {
    let steps = &session.document().steps;
    match session.selected() {
        Selected::Line { id, .. } => steps.iter().position(|step| step.lines.contains(&id)),
        Selected::Part(id) => steps.iter().position(|step| step.parts.iter().any(|(part, _)| *part == id)),
        Selected::Panel(_) | Selected::Nothing => None,
    }
}

/// Whether a command has a step to work on.
pub(super) fn is_possible(session: &Session, command: Command) -> bool {
    let Some(step) = step_of(session) else { return false };
    let steps = &session.document().steps;
    match command {
        Command::StepLater => step + 1 < steps.len(),
        Command::PartStep => steps[step].lines.len() + steps[step].parts.len() > 1,
        _ => step > 0,
    }
}

/// What comes of a step in another place, in words, and whether it may be put there.
pub(crate) fn outcome(session: &Session, from: usize, to: usize) -> (bool, String) {
    use reorder::Outcome as Tried;
    let (step, place) = (from + 1, to + 1);
    match reorder::outcome(session.document(), session.derived(), from, to) {
        Some(Tried::Closes) => (true, format!("Step {step} as step {place}: nothing stands in the way.")),
        Some(Tried::StillFails(why)) => (true, format!("Step {step} as step {place}: it still does not close. {why}")),
        Some(Tried::Breaks(why)) => (false, format!("Not as step {place}: {}", small(&why))),
        None => (false, format!("Step {step} can't be step {place}.")),
    }
}

/// A sentence that goes on after a colon.
fn small(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// What such a command would change.
pub(super) fn change(session: &Session, command: Command) -> Result<Change, String> {
    let document = session.document();
    let step = step_of(session).ok_or_else(|| "Click a line that folds in the closing order first".to_owned())?;
    let (said, edit) = match command {
        Command::StepEarlier => moved(session, step, step.checked_sub(1))?,
        Command::StepLater => moved(session, step, Some(step + 1))?,
        Command::JoinStep => (None, join_step(document, step)),
        _ => (None, last_apart(document, step)),
    };
    let edit = edit.ok_or_else(|| format!("there is nothing that step {} could be put to", step + 1))?;
    Ok(Change { said, ..Change::new("Change the closing order", edit) })
}

type Moved = (Option<String>, Option<model::Edit>);

fn moved(session: &Session, from: usize, to: Option<usize>) -> Result<Moved, String> {
    let to = to.filter(|&to| to < session.document().steps.len());
    let to = to.ok_or_else(|| format!("step {} has no step beyond it to be put past", from + 1))?;
    match outcome(session, from, to) {
        (true, said) => Ok((Some(said), move_step(session.document(), from, to))),
        (false, why) => Err(why),
    }
}
