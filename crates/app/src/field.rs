//! Text fields whose text becomes a change: what is typed stays until it can be read, with the complaint beside it.

use crate::theme::{colour, complaint, palette};
use crate::tip::Tip as _;
use egui::text::{CCursor, CCursorRange};
use egui::{Id, Key, Response, Stroke, TextEdit, Ui};
use model::{Document, Formula, FormulaError, Length, LengthError, NamedLengths, Slot, Typed, Unit};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// What has been typed and not taken over yet, by field.
#[derive(Debug, Default)]
pub(crate) struct Drafts {
    open: BTreeMap<u64, Draft>,
}

#[derive(Debug)]
struct Draft {
    text: String,
    /// What the field showed before: once that changes, what was refused is out of date.
    before: String,
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

    /// Shows a field with what is true of every one as its tooltip; see [`Drafts::told`].
    pub(crate) fn field(
        &mut self,
        ui: &mut Ui,
        field: Field<'_>,
        take: impl FnOnce(&str) -> Result<(), String>,
    ) -> Response {
        let tip = format!("{}: Enter takes over what is typed, Escape takes it back.", field.name);
        self.told(ui, field, &tip, take)
    }

    /// Shows a field with a tooltip of its own. `take` gets the text when she leaves the field or presses enter; what it refuses stays, with the
    /// sentence it gives, until the field would show something else. Escape takes back what was typed.
    pub(crate) fn told(
        &mut self,
        ui: &mut Ui,
        field: Field<'_>,
        tip: &str,
        take: impl FnOnce(&str) -> Result<(), String>,
    ) -> Response {
        let key = field.id.value();
        let outdated = |draft: &Draft| draft.complaint.is_some() && draft.before != field.shown;
        if self.open.get(&key).is_some_and(outdated) && !ui.memory(|memory| memory.has_focus(field.id)) {
            self.open.remove(&key);
        }
        let mut text = self.open.get(&key).map_or_else(|| field.shown.to_owned(), |draft| draft.text.clone());
        let edit = TextEdit::singleline(&mut text).id(field.id).desired_width(field.width).hint_text(field.hint);
        let response = ui.add(edit).accessible_name(field.name).tip(tip);
        if response.changed() {
            self.open.insert(key, Draft { text: text.clone(), before: field.shown.to_owned(), complaint: None });
        }
        if response.lost_focus() {
            self.leave(ui, key, field.shown, take);
            if self.complaint(field.id).is_some() && ui.input(|input| input.key_pressed(Key::Enter)) {
                // She goes on typing where her text was refused.
                response.request_focus();
            }
        }
        if self.complaint(field.id).is_some() {
            let ring = Stroke::new(1.5, colour(palette().error));
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

/// What the next change of a design is to say by a formula, or not by one any more; see [`Saying`].
pub(crate) type Heard = Rc<RefCell<Option<(Slot, Option<Formula>)>>>;

/// How a length is said in a field: in a unit, and where it stands in a slot of the design, by its names.
#[derive(Debug, Clone)]
pub(crate) struct Saying<'a> {
    units: Unit,
    named: Option<Named<'a>>,
}

#[derive(Debug, Clone)]
struct Named<'a> {
    lengths: &'a NamedLengths,
    slot: Slot,
    heard: Heard,
}

impl From<Unit> for Saying<'_> {
    fn from(units: Unit) -> Self {
        Self { units, named: None }
    }
}

impl<'a> Saying<'a> {
    /// A length of a slot. What is typed is noted in `heard`, for whoever makes the change.
    pub(crate) fn of(document: &'a Document, slot: Slot, heard: &Heard) -> Self {
        let named = Named { lengths: &document.lengths, slot, heard: Rc::clone(heard) };
        Self { units: document.units, named: Some(named) }
    }

    /// The unit in which a figure alone is meant.
    pub(crate) const fn units(&self) -> Unit {
        self.units
    }

    fn formula(&self) -> Option<&'a Formula> {
        self.named.as_ref().and_then(|named| named.lengths.formulas.get(&named.slot))
    }

    /// What the field shows: the formula, or the length.
    pub(crate) fn text(&self, value: Length) -> String {
        self.formula().map_or_else(|| value.text(self.units), Formula::to_string)
    }

    /// What is said beside a formula: its value.
    pub(crate) fn hint(&self, value: Length) -> Option<String> {
        self.formula().map(|formula| format!("{formula} = {}", value.text(self.units)))
    }

    /// Takes what was typed over, with its formula.
    ///
    /// # Errors
    /// What was typed is no length, or `take` refuses it.
    pub(crate) fn take(&self, text: &str, take: impl FnOnce(Length) -> Result<(), String>) -> Result<(), String> {
        let Some(Named { lengths, slot, heard }) = &self.named else { return take(length(text, self.units)?) };
        let typed = read(lengths, text, self.units)?;
        heard.replace(Some((*slot, typed.formula)));
        let taken = take(typed.length);
        if taken.is_err() {
            heard.take();
        }
        taken
    }
}

/// Selects what stands in a field, so that typing replaces it; after a folder's name typing goes on.
pub(crate) fn select_all(ctx: &egui::Context, field: Id, text: &str) {
    let mut state = TextEdit::load_state(ctx, field).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    let from = if text.ends_with(std::path::MAIN_SEPARATOR) { end } else { CCursor::new(0) };
    state.cursor.set_char_range(Some(CCursorRange::two(from, end)));
    TextEdit::store_state(ctx, field, state);
}

/// Reads a length as the design's fields do: one, or several that are reckoned with, as "12 - 2 3/4" or "8 1/2 / 2". A
/// stroke between two figures is that of a fraction, unless it has room about it.
///
/// # Errors
/// Says in a sentence why it is none, with a length that a ruler shows in place of one that can't be kept.
pub(crate) fn length(text: &str, units: Unit) -> Result<Length, String> {
    read(&NamedLengths::default(), text, units).map(|typed| typed.length)
}

/// The same with names of lengths in it.
fn read(lengths: &NamedLengths, text: &str, units: Unit) -> Result<Typed, String> {
    lengths.read(text, Some(units)).map_err(|error| match error {
        FormulaError::Length(LengthError::NotExact(_, near)) => {
            let near = near.snapped(model::placing::finest(units)).text(units);
            format!("\"{text}\" is between the marks of a ruler; the nearest is {near}.")
        }
        other => sentence(&other.to_string()),
    })
}

/// A sentence as it stands on the screen: with a capital and a full stop. The path of a file at its start stays as it is.
pub(crate) fn sentence(text: &str) -> String {
    let is_path = text.split_whitespace().next().is_some_and(|word| word.contains(['/', '\\']));
    let mut letters = text.chars();
    let first = letters.next().map(|letter| if is_path { letter.to_string() } else { letter.to_uppercase().collect() });
    let first: String = first.unwrap_or_default();
    let stop = if text.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{stop}", letters.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_begins_with_a_capital_but_a_path_is_as_it_is() {
        for (text, expected) in [
            ("it is locked", "It is locked."),
            ("drafts/small.folio: there is no such file", "drafts/small.folio: there is no such file."),
            ("Was it?", "Was it?"),
            ("", "."),
        ] {
            assert_eq!(sentence(text), expected);
        }
    }

    #[track_caller]
    fn check(text: &str, units: Unit, expected: Result<Length, &str>) {
        assert_eq!(length(text, units), expected.map_err(str::to_owned), "{text}");
    }

    #[test]
    fn a_length_without_a_mark_is_told_the_nearest_one() {
        check("1/4", Unit::Inch, Ok(Length::INCH / 4));
        check("1/3", Unit::Inch, Err("\"1/3\" is between the marks of a ruler; the nearest is 21/64 in."));
        check("1/3", Unit::Millimetre, Err("\"1/3\" is between the marks of a ruler; the nearest is 0.3 mm."));
        check("12 - 2 3/4", Unit::Inch, Ok(Length::INCH * 9 + Length::INCH / 4));
        check("8 1/2 / 2", Unit::Inch, Ok(Length::INCH * 4 + Length::INCH / 4));
        check("1 in + 10 mm * 3 - 1/4", Unit::Inch, Ok(Length::INCH * 3 / 4 + Length::MILLIMETRE * 30));
        check("-1/8", Unit::Inch, Ok(-(Length::INCH / 8)));
        check(
            "8 1/2/2",
            Unit::Inch,
            Err("\"8 1/2/2\" is not a length; write one such as \"2 3/4 in\", \"2.75 in\" or \"70 mm\"."),
        );
        check("1 / 3", Unit::Inch, Err("\"1 / 3\" is between the marks of a ruler; the nearest is 21/64 in."));
        check("1 / 0", Unit::Inch, Err("\"1 in / 0\" divides by nothing; divide by something else."));
        check("8 /", Unit::Inch, Err("\"8 /\" stops too early; write what follows, or close a bracket."));
        assert!(length("12 -", Unit::Inch).is_err() && length("- - x", Unit::Inch).is_err());
        check("3 x", Unit::Inch, Err("\"x\" is not a unit; use in, mm or cm."));
    }
}
