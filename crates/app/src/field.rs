//! Text fields whose text becomes a change: what is typed stays until it can be read, with the complaint beside it.

use crate::theme::{colour, complaint, palette};
use crate::tip::Tip as _;
use egui::{Id, Key, Response, Stroke, TextEdit, Ui};
use model::{Length, LengthError, Unit};
use std::collections::BTreeMap;

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

/// Reads a length as the design's fields do: one, or several added and taken away, each multiplied or divided, as
/// "12 - 2 3/4" or "8 1/2 / 2". A sign that reckons has spaces round it, so that it is told from a fraction's.
///
/// # Errors
/// Says in a sentence why it is none, with a length that a ruler shows in place of one that can't be kept.
pub(crate) fn length(text: &str, units: Unit) -> Result<Length, String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_sign = |word: &&str| ["+", "-", "*", "/"].contains(word);
    if !words.iter().skip(1).any(is_sign) {
        return single(text, units);
    }
    let (mut sum, mut sign) = (Length::ZERO, 1);
    for term in words.split_inclusive(|word| ["+", "-"].contains(word)) {
        let (next, own) = match term.split_last() {
            Some((&"+", own)) => (1, own),
            Some((&"-", own)) => (-1, own),
            _ => (1, term),
        };
        let value = reckoned(own, units)?;
        let nm = value.nm().checked_mul(sign).and_then(|nm| sum.nm().checked_add(nm));
        sum = Length::from_nm(nm.ok_or_else(|| format!("\"{text}\" is too long for any sheet."))?);
        sign = next;
    }
    // What a sign at the end stands before is nothing.
    if words.last().is_some_and(|word| ["+", "-"].contains(word)) {
        return Err(format!("\"{text}\" ends with a sign; what follows it?"));
    }
    Ok(sum)
}

/// A length times or divided by whole numbers, word by word.
fn reckoned(words: &[&str], units: Unit) -> Result<Length, String> {
    let all = words.join(" ");
    let first = words.iter().position(|word| ["*", "/"].contains(word)).unwrap_or(words.len());
    let mut nm = single(&words[..first].join(" "), units)?.nm();
    for pair in words[first..].chunks(2) {
        let number = pair.get(1).and_then(|word| word.parse::<i64>().ok()).filter(|number| (1..=1000).contains(number));
        let number =
            number.ok_or_else(|| format!("In \"{all}\" a whole number up to 1000 must follow \"{}\".", pair[0]))?;
        nm = match pair[0] {
            "*" => nm.checked_mul(number).ok_or_else(|| format!("\"{all}\" is too long for any sheet."))?,
            _ if nm % number == 0 => nm / number,
            _ => {
                let near = Length::from_nm(nm / number).snapped(model::placing::finest(units)).text(units);
                return Err(format!("\"{all}\" is between the marks of a ruler; the nearest is {near}."));
            }
        };
    }
    Ok(Length::from_nm(nm))
}

fn single(text: &str, units: Unit) -> Result<Length, String> {
    Length::parse_in(text, units).map_err(|error| match error {
        LengthError::NotExact(text, near) => {
            let step = if units == Unit::Inch { Length::SIXTY_FOURTH } else { Length::MILLIMETRE / 10 };
            format!("\"{text}\" is between the marks of a ruler; the nearest is {}.", near.snapped(step).text(units))
        }
        other => sentence(&other.to_string()),
    })
}

/// A sentence as it stands on the screen: with a capital and a full stop.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map(|letter| letter.to_uppercase().collect()).unwrap_or_default();
    let stop = if text.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{stop}", letters.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

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
        check("1 / 3", Unit::Inch, Err("\"1 / 3\" is between the marks of a ruler; the nearest is 21/64 in."));
        check("1 / 0", Unit::Inch, Err("In \"1 / 0\" a whole number up to 1000 must follow \"/\"."));
        check("8 /", Unit::Inch, Err("In \"8 /\" a whole number up to 1000 must follow \"/\"."));
        assert!(length("12 -", Unit::Inch).is_err() && length("- - 3", Unit::Inch).is_err());
        check("x", Unit::Inch, Err("\"x\" is not a unit; use in, mm or cm."));
    }
}
