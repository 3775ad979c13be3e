//! Text fields whose text becomes a change: what is typed stays until it can be read, with the complaint beside it.

use crate::theme::{colour, complaint};
use draw::style;
use egui::{Id, Key, Response, Stroke, TextEdit, Ui};
use std::collections::BTreeMap;

/// What has been typed and not taken over yet, by field.
#[derive(Debug, Default)]
pub(crate) struct Drafts {
    open: BTreeMap<u64, Draft>,
}

#[derive(Debug)]
struct Draft {
    text: String,
    complaint: Option<String>,
}

/// How a field looks.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Field<'a> {
    /// What tells it from all others, in every frame.
    pub(crate) id: Id,
    /// What a screen reader calls it.
    pub(crate) name: &'a str,
    /// The text while nothing is typed.
    pub(crate) shown: &'a str,
    /// What stands there while it is empty.
    pub(crate) hint: &'a str,
    /// Its width, px.
    pub(crate) width: f32,
}

impl Drafts {
    /// Forgets what was typed: another design is open.
    pub(crate) fn clear(&mut self) {
        self.open.clear();
    }

    /// Shows a field. `take` gets the text when she leaves the field or presses enter; what it refuses stays, with the
    /// sentence it gives. Escape takes back what was typed.
    pub(crate) fn field(
        &mut self,
        ui: &mut Ui,
        field: Field<'_>,
        take: impl FnOnce(&str) -> Result<(), String>,
    ) -> Response {
        let key = field.id.value();
        let mut text = self.open.get(&key).map_or_else(|| field.shown.to_owned(), |draft| draft.text.clone());
        let edit = TextEdit::singleline(&mut text).id(field.id).desired_width(field.width).hint_text(field.hint);
        let response = ui.add(edit).accessible_name(field.name);
        if response.changed() {
            self.open.insert(key, Draft { text: text.clone(), complaint: None });
        }
        if response.lost_focus() {
            self.leave(ui, key, field.shown, take);
        }
        if self.complaint(field.id).is_some() {
            let ring = Stroke::new(1.5, colour(style::FINDING_ERROR));
            ui.painter().rect_stroke(response.rect, 3.0, ring, egui::StrokeKind::Inside);
        }
        response
    }

    /// Says under a field why its text was not taken.
    pub(crate) fn say_why(&self, ui: &mut Ui, id: Id) {
        if let Some(sentence) = self.complaint(id) {
            ui.add(egui::Label::new(complaint(sentence)).wrap());
        }
    }

    fn complaint(&self, id: Id) -> Option<&str> {
        self.open.get(&id.value()).and_then(|draft| draft.complaint.as_deref())
    }

    fn leave(&mut self, ui: &Ui, key: u64, shown: &str, take: impl FnOnce(&str) -> Result<(), String>) {
        let Some(draft) = self.open.get_mut(&key) else { return };
        let taken_back = ui.input(|input| input.key_pressed(Key::Escape)) || draft.text.trim() == shown;
        let refused = if taken_back { None } else { take(draft.text.trim()).err() };
        match refused {
            Some(sentence) => draft.complaint = Some(sentence),
            None => {
                self.open.remove(&key);
            }
        }
    }
}

/// A sentence as it stands on the screen: with a capital and a full stop.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map(|letter| letter.to_uppercase().collect()).unwrap_or_default();
    let stop = if text.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{stop}", letters.as_str())
}
