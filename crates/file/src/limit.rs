//! What every version asks of texts and of ids.

use crate::error::FileError;
use crate::list::List;
use crate::{MOST_CREDIT, MOST_TITLE};
use model::{Line, LineId};
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

/// Steps in which lines fold, as they stand in a file: the ids of each step's lines, of at most so many lines.
pub(crate) type Steps<const MOST: usize> = List<List<u32, MOST>, MOST>;

/// The steps in a list at `path`: of lines that are there.
pub(crate) fn steps<const MOST: usize>(
    path: &str,
    all: Steps<MOST>,
    lines: &[Line],
) -> Result<Vec<Vec<LineId>>, FileError> {
    let known = numbers(lines);
    all.0.into_iter().enumerate().map(|(i, List(ids))| known_lines(&format!("{path}[{i}]"), ids, &known)).collect()
}

/// The numbers that lines have.
pub(crate) fn numbers(lines: &[Line]) -> BTreeSet<u32> {
    lines.iter().map(|line| line.id.0).collect()
}

/// The lines of a list at `path`: each is there.
pub(crate) fn known_lines(path: &str, ids: Vec<u32>, known: &BTreeSet<u32>) -> Result<Vec<LineId>, FileError> {
    if let Some((i, id)) = ids.iter().enumerate().find(|(_, id)| !known.contains(id)) {
        let says = format!("there is no line {id}; put the id of a line there, or take it out");
        return Err(FileError::value(format!("{path}[{i}]"), says));
    }
    Ok(ids.into_iter().map(LineId).collect())
}
