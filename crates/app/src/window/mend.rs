//! Mending all that can be mended at once. Each mend takes a folding, so it is worked out on a thread of its own.

use super::Window;
use crate::dialog::{Dialog, Task};
use crate::work::{Lost, Work};
use model::Document;
use session::Command;
use session::mend::{self, Mended};
use std::time::Duration;

/// How long the window waits before it shows that mends are being tried: no more than a few frames, which is enough for
/// most folios.
const AT_ONCE: Duration = Duration::from_millis(60);

/// Mends that are tried, and what they are for.
#[derive(Debug)]
pub(super) struct Mending {
    work: Work<Option<Mended>>,
    design: u64,
    document: Document,
}

impl Window {
    /// Begins to work out what can be mended without harm.
    pub(super) fn mend_all(&mut self, ctx: &egui::Context) {
        self.session.finish_gesture();
        self.begin_mending(ctx);
        self.follow_mending(AT_ONCE);
    }

    fn begin_mending(&mut self, ctx: &egui::Context) {
        let (document, derived) = (self.session.document().clone(), self.session.derived().clone());
        let (of, wake) = (document.clone(), ctx.clone());
        let work = Work::begin(move |progress| mend::all(&of, &derived, progress), move || wake.request_repaint());
        self.mending = Some(Mending { work, design: self.design, document });
        self.dialog = Some(Dialog::Working(Task::Mend, 0, 0));
    }

    /// Follows mends that are tried to their end, waiting for that so long.
    pub(super) fn follow_mending(&mut self, patience: Duration) {
        let Some(mending) = &self.mending else { return };
        let is_awaited = matches!(self.dialog, Some(Dialog::Working(Task::Mend, ..)));
        if !is_awaited {
            // Something else has come up, such as the end of the program.
            mending.work.call_off();
        }
        let Some(end) = mending.work.ended_within(patience) else {
            if is_awaited {
                let (done, all) = mending.work.progress();
                self.dialog = Some(Dialog::Working(Task::Mend, done, all));
            }
            return;
        };
        if is_awaited {
            self.dialog = None;
        }
        let Some(mending) = self.mending.take() else { return };
        self.spot = None;
        match self.mended(&mending, end) {
            Ok(said) => self.report(said),
            Err(why) => self.complain(&why),
        }
    }

    /// Makes the mends as one step, where the design is still the one that they are for; gives what to say of it.
    fn mended(&mut self, mending: &Mending, end: Result<Option<Mended>, Lost>) -> Result<String, String> {
        let mended = match end {
            Err(Lost) => return Err("the mends could not be tried; choose them one by one".to_owned()),
            Ok(Some(mended)) if !mending.work.is_off() => mended,
            Ok(_) => return Ok("Nothing was mended.".to_owned()),
        };
        if (self.design, self.session.document()) != (mending.design, &mending.document) {
            return Err(
                "the design has changed while mends were tried, so none was made; ask for them again".to_owned()
            );
        }
        let said = mended.words()?;
        let made = self.session.apply_each(Command::MendAll.entry().label, mended.edits);
        made.map(|()| said).map_err(|refusal| refusal.to_string())
    }

    /// Calls mends off that are being tried.
    pub(super) fn call_off_mending(&self) {
        if let Some(mending) = &self.mending {
            mending.work.call_off();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Scripted;
    use model::change::{add_line, measured_score};
    use model::{Edit, Length, LineId, Size, Turn, Unit};

    /// Longer than any of it takes.
    const LONG: Duration = Duration::from_secs(300);

    /// A sheet with two scores that cross, so that the corner between them is joined, the mend of which is being tried.
    fn begun() -> Window {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, turn) in [(1, Turn::None), (2, Turn::Once)] {
            let score = measured_score(LineId(id), turn, Length::INCH * 3);
            document.apply(add_line(&document, score)).unwrap();
        }
        document.base = Some(model::Point::new(Length::INCH * 6, Length::INCH * 6));
        let mut window = Window::new(document, None, Box::new(Scripted::new([])));
        window.begin_mending(&egui::Context::default());
        window
    }

    /// Waits for the end; `expected` is what is said, and whether the mends are made.
    #[track_caller]
    fn check(mut window: Window, expected: (&str, bool)) {
        window.follow_mending(LONG);
        let said = window.status.as_ref().map(|status| status.text.as_str());
        assert_eq!((said, window.session.undo_label() == Some("Mend all")), (Some(expected.0), expected.1));
        assert!(window.mending.is_none() && !matches!(window.dialog, Some(Dialog::Working(..))));
    }

    #[test]
    fn they_are_made_on_the_design_that_they_are_for() {
        check(begun(), ("Mended 1 finding: Cut the top flap 2 away.", true));
    }

    #[test]
    fn what_has_changed_meanwhile_is_left_as_it_is() {
        let mut window = begun();
        window.session.apply("Rename", Edit::SetTitle("Another".to_owned())).unwrap();
        let said = "The design has changed while mends were tried, so none was made; ask for them again.";
        check(window, (said, false));
        let mut window = begun();
        window.open(window.session.document().clone(), None);
        window.dialog = Some(Dialog::Working(Task::Mend, 0, 0));
        check(window, (said, false));
    }

    #[test]
    fn called_off_or_put_aside_nothing_is_mended() {
        let window = begun();
        window.call_off_mending();
        check(window, ("Nothing was mended.", false));
        let mut window = begun();
        window.dialog = Some(Dialog::Unsaved(crate::dialog::Then::Quit));
        check(window, ("Nothing was mended.", false));
    }
}
