//! What every version asks of texts and of ids.

use crate::error::FileError;
use crate::list::List;
use crate::{MOST_CREDIT, MOST_TITLE};
use model::{Document, Line, LineId, Step};
use std::collections::BTreeSet;

/// Text of one line: control characters in it could forge lines of a terminal or a page.
pub(crate) fn one_line(path: &str, text: String) -> Result<String, FileError> {
    if text.chars().any(char::is_control) {
        return Err(FileError::value(path, "it holds a line break or another control character; take it out"));
    }
    bounded(path, text, MOST_TITLE)
}

/// Text of many lines.
pub(crate) fn many_lines(path: &str, text: String) -> Result<String, FileError> {
    if text.chars().any(|c| c.is_control() && c != '\n') {
        return Err(FileError::value(path, "it holds a control character other than a line break; take it out"));
    }
    bounded(path, text, MOST_CREDIT)
}

fn bounded(path: &str, text: String, most: usize) -> Result<String, FileError> {
    let count = text.chars().count();
    let says = || format!("it has {count} characters and may have at most {most}; shorten it");
    if count > most { Err(FileError::value(path, says())) } else { Ok(text) }
}

/// The ids of a list called `list`, of things called `thing`: each is there once.
pub(crate) fn no_doubles(ids: impl Iterator<Item = u32>, list: &str, thing: &str) -> Result<(), FileError> {
    let mut seen = BTreeSet::new();
    for (i, id) in ids.enumerate() {
        if !seen.insert(id) {
            let says = format!("there is a {thing} {id} already; give each {thing} a number of its own");
            return Err(FileError::value(format!("{list}[{i}].id"), says));
        }
    }
    Ok(())
}

/// The closing order as it stands in a file: the ids of each step's lines.
pub(crate) type Steps = List<List<u32, { Document::MOST_LINES }>, { Document::MOST_LINES }>;

/// The closing order: steps of lines that are there.
pub(crate) fn steps(all: Steps, lines: &[Line]) -> Result<Vec<Step>, FileError> {
    let known: BTreeSet<u32> = lines.iter().map(|line| line.id.0).collect();
    let mut steps = Vec::with_capacity(all.0.len());
    for (i, List(ids)) in all.0.into_iter().enumerate() {
        if let Some((j, id)) = ids.iter().enumerate().find(|(_, id)| !known.contains(id)) {
            let says = format!("there is no line {id}; put the id of a line there, or take it out");
            return Err(FileError::value(format!("steps[{i}][{j}]"), says));
        }
        steps.push(Step { lines: ids.into_iter().map(LineId).collect() });
    }
    Ok(steps)
}
