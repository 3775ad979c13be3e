//! Undo and redo: edits with their inverses, each with a label.
//!
//! How far back it goes is bounded by steps and by the room that they take, whichever comes first; the oldest are
//! forgotten. Both bounds are far beyond what an evening at the table comes to.

mod room;

use model::{Document, Edit, Refusal};
use room::room;
use std::collections::VecDeque;

/// What was done and can be taken back, and what was taken back and can be done again.
#[derive(Debug, Clone, Default)]
pub struct History {
    done: VecDeque<Entry>,
    undone: VecDeque<Entry>,
    /// Numbers states, so that "saved" can be told from "changed" after any undo and redo.
    states: u64,
    /// The state before the oldest step that is remembered.
    oldest: u64,
    /// About how many bytes all entries take.
    room: usize,
}

#[derive(Debug, Clone)]
struct Entry {
    label: String,
    /// The edit that goes the other way from where the document is now.
    edit: Edit,
    /// The state before it, and the one after it.
    states: (u64, u64),
}

/// The most steps that can be taken back.
pub const MOST_STEPS: usize = 10_000;

/// About how many bytes all steps take at most. A moved line takes some hundred, a change of every part of a large design
/// some ten thousand. The last step is remembered even where it alone takes more.
pub const MOST_ROOM: usize = 64 << 20;

impl History {
    /// Notes that an edit was made, `inverse` taking it back. What had been undone is forgotten, and so are the oldest steps
    /// beyond [`MOST_STEPS`] and [`MOST_ROOM`].
    pub fn push(&mut self, label: impl Into<String>, inverse: Edit) {
        let before = self.state();
        self.states += 1;
        self.room -= self.undone.drain(..).map(|entry| entry.room()).sum::<usize>();
        let entry = Entry { label: label.into(), edit: inverse, states: (before, self.states) };
        self.room += entry.room();
        self.done.push_back(entry);
        while self.done.len() > MOST_STEPS || self.room > MOST_ROOM && self.done.len() > 1 {
            let Some(forgotten) = self.done.pop_front() else { break };
            self.room -= forgotten.room();
            self.oldest = forgotten.states.1;
        }
    }

    /// A number for the state the document is in; the same again after undo and redo have come back to it.
    #[must_use]
    pub fn state(&self) -> u64 {
        self.done.back().map_or(self.oldest, |last| last.states.1)
    }

    /// How many steps can be taken back, and about how many bytes all take that can be taken back or made again.
    #[must_use]
    pub fn size(&self) -> (usize, usize) {
        (self.done.len(), self.room)
    }

    /// Takes the last edit back. `false` when there is none.
    ///
    /// # Errors
    /// Passes on a refusal, which cannot happen while only this history changes the document.
    pub fn undo(&mut self, document: &mut Document) -> Result<bool, Refusal> {
        turn_over(&mut self.done, &mut self.undone, &mut self.room, document)
    }

    /// Makes the last edit that was taken back again. `false` when there is none.
    ///
    /// # Errors
    /// As for [`History::undo`].
    pub fn redo(&mut self, document: &mut Document) -> Result<bool, Refusal> {
        turn_over(&mut self.undone, &mut self.done, &mut self.room, document)
    }

    /// What was done and can be taken back, the oldest first.
    pub fn done(&self) -> impl Iterator<Item = &str> {
        self.done.iter().map(|entry| entry.label.as_str())
    }

    /// What was taken back and can be made again, what comes first first.
    pub fn undone(&self) -> impl Iterator<Item = &str> {
        self.undone.iter().rev().map(|entry| entry.label.as_str())
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_label(&self) -> Option<&str> {
        self.done.back().map(|entry| entry.label.as_str())
    }

    /// What redo would make again.
    #[must_use]
    pub fn redo_label(&self) -> Option<&str> {
        self.undone.back().map(|entry| entry.label.as_str())
    }
}

impl Entry {
    /// About how many bytes it takes.
    fn room(&self) -> usize {
        size_of::<Self>() + self.label.len() + room(&self.edit)
    }
}

fn turn_over(
    from: &mut VecDeque<Entry>,
    to: &mut VecDeque<Entry>,
    room: &mut usize,
    document: &mut Document,
) -> Result<bool, Refusal> {
    let Some(entry) = from.back() else { return Ok(false) };
    let inverse = document.apply(entry.edit.clone())?;
    if let Some(entry) = from.pop_back() {
        *room -= entry.room();
        let entry = Entry { edit: inverse, ..entry };
        *room += entry.room();
        to.push_back(entry);
    }
    Ok(true)
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Length, Line, LineId, Size, Turn, Unit};

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, Length::INCH))).unwrap();
        document
    }

    /// The line moved to so many sixty-fourths of an inch.
    fn moved(at: i64) -> Edit {
        Edit::ReplaceLine(measured_score(LineId(1), Turn::None, Length::from_sixty_fourths(at % 768)))
    }

    #[test]
    fn a_hundred_thousand_steps_take_no_more_room_than_the_last_ten_thousand() {
        let (mut document, mut history) = (document(), History::default());
        let mut sizes = Vec::new();
        for step in 1..=100_000 {
            let inverse = document.apply(moved(step)).unwrap();
            history.push("Move", inverse);
            if step % 10_000 == 0 {
                sizes.push(history.size());
            }
        }
        assert!(sizes.iter().all(|size| *size == sizes[0] && size.0 == MOST_STEPS && size.1 < MOST_ROOM), "{sizes:?}");
        // The oldest step that is remembered is taken back to the state before it, and forth again.
        let (end, last) = (document.clone(), history.state());
        let back = std::iter::repeat_with(|| history.undo(&mut document).unwrap()).take_while(|moved| *moved).count();
        assert_eq!((back, history.state()), (MOST_STEPS, 90_000));
        let mut expected = end.clone();
        expected.apply(moved(90_000)).unwrap();
        assert_eq!(document, expected);
        while history.redo(&mut document).unwrap() {}
        assert_eq!((document, history.state(), history.size().0), (end, last, MOST_STEPS));
    }

    #[test]
    fn steps_that_take_much_room_are_fewer() {
        let (mut document, mut history) = (document(), History::default());
        let credit = |step: usize| Edit::SetCredit(format!("{step}").repeat(1 << 18));
        for step in 0..600 {
            let inverse = document.apply(credit(step)).unwrap();
            history.push("Say where it comes from", inverse);
            assert!(history.size().1 <= MOST_ROOM);
        }
        let (steps, room) = history.size();
        assert!((50..600).contains(&steps) && room > MOST_ROOM / 2, "{steps} steps, {room} bytes");
        while history.undo(&mut document).unwrap() {}
        assert!(history.size().1 <= MOST_ROOM + (1 << 20));
        while history.redo(&mut document).unwrap() {}
        assert_eq!(history.size(), (steps, room), "what comes back takes what it took");
        history.push("Move", moved(7));
        assert_eq!(history.redo_label(), None);
        // One step that takes more than all may is remembered, alone.
        history.push("Paste", Edit::SetCredit("x".repeat(MOST_ROOM + 1)));
        assert_eq!(history.size().0, 1);
        history.push("Move", moved(8));
        assert_eq!((history.size().0, history.size().1 < 10_000), (1, true));
    }

    #[test]
    fn the_room_of_an_edit_grows_with_what_is_in_it() {
        let line = |name: &str| Line { name: name.to_owned(), ..measured_score(LineId(1), Turn::None, Length::INCH) };
        let few = room(&Edit::ReplaceLine(line("")));
        assert_eq!(room(&Edit::ReplaceLine(line(&"x".repeat(1_000)))), few + 1_000);
        let all = Edit::All(vec![Edit::ReplaceLine(line("")); 50]);
        assert!(room(&all) >= 50 * size_of::<Edit>());
    }

    #[test]
    fn saved_is_told_from_changed_when_the_oldest_is_forgotten() {
        let (mut document, mut history) = (document(), History::default());
        let start = history.state();
        for step in 0..=i64::try_from(MOST_STEPS).unwrap() {
            let inverse = document.apply(moved(step)).unwrap();
            history.push("Move", inverse);
        }
        while history.undo(&mut document).unwrap() {}
        assert_ne!(history.state(), start, "the first step can no longer be taken back");
    }
}
