//! What is said at the first start: three sentences over the design to try things on.

use crate::tip::Tip as _;
use egui::{Label, RichText, Ui};

/// How to begin, in three sentences.
const SENTENCES: [&str; 3] = [
    "Drag a line on the sheet, and the folded view beside it folds along.",
    "The space bar folds the folio up, and the findings below say what would go wrong before you cut.",
    "New begins a design of your own, F12 says how a folio is made from nothing, and F1 lists everything that can be done.",
];

/// Shows them, or in short the first; says whether they have been read.
pub(crate) fn ui(ui: &mut Ui, in_short: bool) -> bool {
    ui.horizontal_wrapped(|ui| {
        let count = if in_short { 1 } else { SENTENCES.len() };
        for sentence in SENTENCES.into_iter().take(count) {
            ui.add(Label::new(RichText::new(sentence)).wrap());
        }
        ui.button("Got it").tip("Close these sentences; F1 and Help say more.").clicked()
    })
    .inner
}
