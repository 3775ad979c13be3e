//! Questions that keep work safe: what a crash has left, and a file that somebody else has changed.

use super::{Answer, Purpose, Then, answers, title};
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::{RichText, ScrollArea, Ui};
use std::path::Path;

/// Height of the list of what a crash has left, px, at most.
const HEIGHT: f32 = 260.0;

/// A design that a crash has left, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct LeftRow {
    /// What the maker calls it.
    pub(crate) title: String,
    /// The file that it came from, if from any.
    pub(crate) from: Option<String>,
    /// How long ago it was kept.
    pub(crate) age: String,
}

/// Which of the designs that were left is opened or removed.
pub(super) fn recover(ui: &mut Ui, rows: &[LeftRow]) -> Option<Answer> {
    title(ui, "Recover work that was not saved?");
    ui.label(
        "Foliowright ended before this was saved. Recovering opens it here and changes no file until you save; what you \
         leave for later is offered again at the next start.",
    );
    let mut chosen = None;
    ScrollArea::vertical().max_height(HEIGHT).show(ui, |ui| {
        for (number, row) in rows.iter().enumerate() {
            ui.separator();
            ui.label(RichText::new(&row.title).strong());
            let from = row.from.as_deref().unwrap_or("Never saved to a file");
            ui.add(egui::Label::new(caption(&format!("{from}; changed {}.", row.age))).wrap());
            ui.horizontal(|ui| {
                let button = ui.button("Recover").tip(super::tip(&Answer::Recover(number)));
                if number == 0 && ui.memory(|memory| memory.focused().is_none()) {
                    button.request_focus();
                }
                if button.clicked() {
                    chosen = Some(Answer::Recover(number));
                }
                if ui.button("Discard").tip(super::tip(&Answer::DiscardLeft(number))).clicked() {
                    chosen = Some(Answer::DiscardLeft(number));
                }
            });
        }
    });
    chosen.or_else(|| answers(ui, [("Later", Answer::Never)]))
}

/// What becomes of a file that somebody else has changed since it was opened.
pub(super) fn changed(ui: &mut Ui, path: &Path, then: Option<Then>) -> Option<Answer> {
    title(ui, "The file has changed");
    let name = path.display();
    ui.label(format!(
        "\"{name}\" has been changed by another program or window since you opened or saved it here. Your own changes are \
         not saved yet. What is in the file now is kept as \"{name}~\" when you replace it.",
    ));
    answers(
        ui,
        [
            ("Save elsewhere…", Answer::Ask(Purpose::Save(then))),
            ("Replace it", Answer::Overwrite(path.to_owned(), then)),
            ("Open theirs", Answer::OpenTheirs(path.to_owned())),
            ("Keep editing", Answer::Never),
        ],
    )
}
