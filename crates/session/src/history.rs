//! Undo and redo: edits with their inverses, each with a label.

use model::{Document, Edit, Refusal};

/// What was done and can be taken back, and what was taken back and can be done again.
#[derive(Debug, Clone, Default)]
pub struct History {
    done: Vec<Entry>,
    undone: Vec<Entry>,
    /// Numbers states, so that "saved" can be told from "changed" after any undo and redo.
    states: u64,
}

#[derive(Debug, Clone)]
struct Entry {
    label: String,
    /// The edit that goes the other way from where the document is now.
    edit: Edit,
    /// The state before it, and the one after it.
    states: (u64, u64),
}

/// The most steps that are kept. An entry is a few hundred bytes, so this is a few megabytes at most.
const MOST_ENTRIES: usize = 10_000;

impl History {
    /// Notes that an edit was made, `inverse` taking it back. What had been undone is forgotten.
    pub fn push(&mut self, label: impl Into<String>, inverse: Edit) {
        let before = self.state();
        self.states += 1;
        self.undone.clear();
        if self.done.len() >= MOST_ENTRIES {
            self.done.remove(0);
        }
        self.done.push(Entry { label: label.into(), edit: inverse, states: (before, self.states) });
    }

    /// A number for the state the document is in; the same again after undo and redo have come back to it.
    #[must_use]
    pub fn state(&self) -> u64 {
        match (self.done.last(), self.undone.last()) {
            (Some(last), _) => last.states.1,
            (None, Some(next)) => next.states.0,
            (None, None) => 0,
        }
    }

    /// Takes the last edit back. `false` when there is none.
    ///
    /// # Errors
    /// Passes on a refusal, which cannot happen while only this history changes the document.
    pub fn undo(&mut self, document: &mut Document) -> Result<bool, Refusal> {
        turn_over(&mut self.done, &mut self.undone, document)
    }

    /// Makes the last edit that was taken back again. `false` when there is none.
    ///
    /// # Errors
    /// As for [`History::undo`].
    pub fn redo(&mut self, document: &mut Document) -> Result<bool, Refusal> {
        turn_over(&mut self.undone, &mut self.done, document)
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_label(&self) -> Option<&str> {
        self.done.last().map(|entry| entry.label.as_str())
    }

    /// What redo would make again.
    #[must_use]
    pub fn redo_label(&self) -> Option<&str> {
        self.undone.last().map(|entry| entry.label.as_str())
    }
}

fn turn_over(from: &mut Vec<Entry>, to: &mut Vec<Entry>, document: &mut Document) -> Result<bool, Refusal> {
    let Some(entry) = from.last() else { return Ok(false) };
    let inverse = document.apply(entry.edit.clone())?;
    if let Some(entry) = from.pop() {
        to.push(Entry { edit: inverse, ..entry });
    }
    Ok(true)
}
