//! The session itself.

use crate::derived::Derived;
use crate::history::History;
use crate::select::{Selected, Selection};
use model::change::{Performed, perform};
use model::{Document, Edit, LineId, Point, Refusal};
use std::collections::BTreeSet;

/// One open design.
#[derive(Debug, Clone)]
pub struct Session {
    document: Document,
    derived: Derived,
    history: History,
    selection: Selection,
    saved: u64,
    /// Counts every change of the document, drags included, so that a view knows when to look again.
    revision: u64,
    gesture: Option<Gesture>,
}

/// A drag under way: where it started, and what takes it back.
#[derive(Debug, Clone)]
struct Gesture {
    start: Document,
    start_derived: Derived,
    label: String,
    inverse: Option<Edit>,
}

impl Session {
    /// Opens a document that is as saved.
    #[must_use]
    pub fn new(document: Document) -> Self {
        let derived = Derived::of(&document);
        Self {
            document,
            derived,
            history: History::default(),
            selection: Selection::default(),
            saved: 0,
            revision: 0,
            gesture: None,
        }
    }

    /// The document as it is now, in the middle of a drag too.
    #[must_use]
    pub const fn document(&self) -> &Document {
        &self.document
    }

    /// All that follows from it.
    #[must_use]
    pub const fn derived(&self) -> &Derived {
        &self.derived
    }

    /// A number that differs after every change of the document.
    #[must_use]
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// What is selected, or of several lines the one that is shown in detail.
    #[must_use]
    pub const fn selected(&self) -> Selected {
        self.selection.main()
    }

    /// Every line that is selected.
    #[must_use]
    pub fn selected_lines(&self) -> BTreeSet<LineId> {
        self.selection.lines()
    }

    /// The line that was selected first.
    #[must_use]
    pub fn first_line(&self) -> Option<LineId> {
        self.selection.first()
    }

    /// Whether a line is selected, alone or along with others.
    #[must_use]
    pub fn is_selected(&self, id: LineId) -> bool {
        self.selection.contains(id)
    }

    /// Selects something, or nothing, and lets go of all else.
    pub fn select(&mut self, selection: impl Into<Selection>) {
        self.selection = selection.into().still_in(&self.document);
    }

    /// Selects a line along with those that are selected, or lets go of it when it is one of them.
    pub fn select_also(&mut self, id: LineId, at: Option<Point>) {
        self.selection = std::mem::take(&mut self.selection).toggled(id, at).still_in(&self.document);
    }

    /// Whether the document differs from the one last saved or opened.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.gesture.as_ref().is_some_and(|gesture| gesture.inverse.is_some()) || self.history.state() != self.saved
    }

    /// Notes that the document as it is has been saved. A drag under way is finished first.
    pub fn mark_saved(&mut self) {
        self.finish_gesture();
        self.saved = self.history.state();
    }

    /// Notes that the document as it is has never been saved, as one that was recovered.
    pub const fn mark_unsaved(&mut self) {
        // No state is ever numbered so.
        self.saved = u64::MAX;
    }

    /// Makes an edit as one step of history. A drag under way is finished first.
    ///
    /// # Errors
    /// Says why not; the document is then as it was.
    pub fn apply(&mut self, label: &str, edit: Edit) -> Result<(), Refusal> {
        self.finish_gesture();
        let performed = perform(&self.document, &self.derived.layout, edit)?;
        if performed.document != self.document {
            self.history.push(label, performed.inverse.clone());
            self.take(performed);
        }
        Ok(())
    }

    /// Makes several edits, each on what the one before it came to, as one step of history. A drag under way is finished
    /// first.
    ///
    /// # Errors
    /// Says why one of them can't be made; the document is then as it was.
    pub fn apply_each(&mut self, label: &str, edits: impl IntoIterator<Item = Edit>) -> Result<(), Refusal> {
        self.finish_gesture();
        let mut inverses = Vec::new();
        let mut last: Option<Performed> = None;
        for edit in edits {
            let (document, layout) =
                last.as_ref().map_or((&self.document, &self.derived.layout), |last| (&last.document, &last.layout));
            let performed = perform(document, layout, edit)?;
            inverses.insert(0, performed.inverse.clone());
            last = Some(performed);
        }
        if let Some(performed) = last.filter(|last| last.document != self.document) {
            self.history.push(label, Edit::All(inverses));
            self.take(performed);
        }
        Ok(())
    }

    /// Starts a drag: what follows until it is finished is one step of history.
    pub fn begin_gesture(&mut self, label: &str) {
        self.finish_gesture();
        self.gesture = Some(Gesture {
            start: self.document.clone(),
            start_derived: self.derived.clone(),
            label: label.to_owned(),
            inverse: None,
        });
    }

    /// Whether a drag is under way.
    #[must_use]
    pub const fn in_gesture(&self) -> bool {
        self.gesture.is_some()
    }

    /// The document and layout as they were when the drag began; what a drag edits is worked out from them.
    #[must_use]
    pub fn gesture_start(&self) -> Option<(&Document, &model::Layout)> {
        self.gesture.as_ref().map(|gesture| (&gesture.start, &gesture.start_derived.layout))
    }

    /// All that followed from the document as it was when the drag began.
    #[must_use]
    pub fn gesture_start_derived(&self) -> Option<&Derived> {
        self.gesture.as_ref().map(|gesture| &gesture.start_derived)
    }

    /// Shows what the drag would do: `edit` on the document as it was when the drag began; `None` for no change.
    ///
    /// # Errors
    /// Says why not; the document then stays as the last place of the drag left it. Without a drag nothing happens.
    pub fn drag(&mut self, edit: Option<Edit>) -> Result<(), Refusal> {
        let Some(gesture) = &mut self.gesture else { return Ok(()) };
        match edit {
            None => {
                gesture.inverse = None;
                self.document = gesture.start.clone();
                self.derived = gesture.start_derived.clone();
                self.revision += 1;
            }
            Some(edit) => {
                let performed = perform(&gesture.start, &gesture.start_derived.layout, edit)?;
                gesture.inverse = (performed.document != gesture.start).then(|| performed.inverse.clone());
                if performed.document != self.document {
                    self.derived = Derived::in_passing(&performed.document, performed.layout, &self.derived);
                    self.document = performed.document;
                    self.keep_selection();
                    self.revision += 1;
                }
            }
        }
        Ok(())
    }

    /// Ends the drag and keeps what it did as one step of history.
    pub fn finish_gesture(&mut self) {
        if let Some(gesture) = self.gesture.take()
            && let Some(inverse) = gesture.inverse
        {
            self.history.push(gesture.label, inverse);
            self.revision += u64::from(self.derived.settle(&self.document));
        }
    }

    /// Ends the drag and takes back what it did.
    pub fn cancel_gesture(&mut self) {
        if let Some(gesture) = self.gesture.take() {
            self.document = gesture.start;
            self.derived = gesture.start_derived;
            self.keep_selection();
            self.revision += 1;
        }
    }

    /// Takes the last step back. `false` when there is none.
    ///
    /// # Errors
    /// As for [`History::undo`].
    pub fn undo(&mut self) -> Result<bool, Refusal> {
        if self.gesture.is_some() {
            self.cancel_gesture();
            return Ok(true);
        }
        let moved = self.history.undo(&mut self.document)?;
        self.renew(moved);
        Ok(moved)
    }

    /// Makes the step last taken back again. `false` when there is none.
    ///
    /// # Errors
    /// As for [`History::redo`].
    pub fn redo(&mut self) -> Result<bool, Refusal> {
        self.cancel_gesture();
        let moved = self.history.redo(&mut self.document)?;
        self.renew(moved);
        Ok(moved)
    }

    /// Every step of history by its name, the earliest first, and how many of them are made now.
    #[must_use]
    pub fn steps(&self) -> (Vec<&str>, usize) {
        let done: Vec<&str> = self.history.done().collect();
        let made = done.len();
        (done.into_iter().chain(self.history.undone()).collect(), made)
    }

    /// Takes back or makes again as many steps as it takes until the first `count` of them are made.
    ///
    /// # Errors
    /// As for [`History::undo`].
    pub fn go_to(&mut self, count: usize) -> Result<(), Refusal> {
        self.cancel_gesture();
        let (steps, mut made) = self.steps();
        let count = count.min(steps.len());
        let moved = made != count;
        while made > count {
            self.history.undo(&mut self.document)?;
            made -= 1;
        }
        while made < count {
            self.history.redo(&mut self.document)?;
            made += 1;
        }
        self.renew(moved);
        Ok(())
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_label(&self) -> Option<&str> {
        self.history.undo_label()
    }

    /// What redo would make again.
    #[must_use]
    pub fn redo_label(&self) -> Option<&str> {
        self.history.redo_label()
    }

    fn take(&mut self, performed: Performed) {
        self.document = performed.document;
        self.derived = Derived::after(&self.document, performed.layout, &self.derived);
        self.keep_selection();
        self.revision += 1;
    }

    fn keep_selection(&mut self) {
        self.selection = std::mem::take(&mut self.selection).still_in(&self.document);
    }

    fn renew(&mut self, moved: bool) {
        if moved {
            let layout = model::Layout::of(&self.document);
            self.derived = Derived::after(&self.document, layout, &self.derived);
            self.keep_selection();
            self.revision += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score, move_line};
    use model::{Length, LineId, Size, Turn, Unit};

    fn session() -> Session {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, Length::INCH * 3))).unwrap();
        Session::new(document)
    }

    fn place(session: &Session) -> i64 {
        session.derived().layout.lines[&LineId(1)].unwrap().on_board().unwrap().1.nm() / Length::INCH.nm()
    }

    fn to(session: &Session, inches: i64) -> Option<Edit> {
        let (document, layout) = session.gesture_start().unwrap_or((session.document(), &session.derived().layout));
        move_line(document, layout, LineId(1), Length::INCH * inches)
    }

    #[test]
    fn undo_and_redo_go_there_and_back() {
        let mut session = session();
        let start = session.document().clone();
        session.apply("Move", to(&session, 4).unwrap()).unwrap();
        assert_eq!((place(&session), session.is_changed(), session.undo_label()), (4, true, Some("Move")));
        assert_eq!(session.undo(), Ok(true));
        assert_eq!(
            (session.document() == &start, session.is_changed(), session.redo_label()),
            (true, false, Some("Move"))
        );
        assert_eq!(session.redo(), Ok(true));
        assert_eq!(place(&session), 4);
        assert_eq!((session.redo(), session.redo_label()), (Ok(false), None));
    }

    #[test]
    fn a_drag_is_one_step_of_history() {
        let mut session = session();
        session.begin_gesture("Drag");
        for inches in [4, 5, 6] {
            session.drag(to(&session, inches)).unwrap();
            assert_eq!((place(&session), session.is_changed()), (inches, true));
        }
        session.finish_gesture();
        session.undo().unwrap();
        assert_eq!((place(&session), session.undo_label()), (3, None));
    }

    #[test]
    fn a_drag_past_the_sheet_stays_at_its_last_place() {
        let mut session = session();
        session.begin_gesture("Drag");
        session.drag(to(&session, 6)).unwrap();
        let said = session.drag(to(&session, 13)).unwrap_err().to_string();
        assert_eq!(said, "\"Score 1\" lies 1 in beyond the edge of the sheet");
        assert_eq!(place(&session), 6);
        session.cancel_gesture();
        assert_eq!((place(&session), session.is_changed()), (3, false));
    }

    #[test]
    fn a_drag_back_to_its_start_changes_nothing() {
        let mut session = session();
        session.begin_gesture("Drag");
        session.drag(to(&session, 6)).unwrap();
        session.drag(to(&session, 3)).unwrap();
        session.finish_gesture();
        assert_eq!((session.is_changed(), session.undo_label()), (false, None));
    }

    #[test]
    fn saved_is_told_from_changed_after_undo() {
        let mut session = session();
        session.apply("Move", to(&session, 4).unwrap()).unwrap();
        session.mark_saved();
        assert!(!session.is_changed());
        session.undo().unwrap();
        assert!(session.is_changed());
        session.apply("Move", to(&session, 5).unwrap()).unwrap();
        assert!(session.is_changed(), "another way from the same start is another state");
    }
}
