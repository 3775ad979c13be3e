//! Named lengths: what a maker calls the lengths that she uses again, and the formulas in which she uses them.
//!
//! The value of a formula stands in its slot as a plain length, so nothing that follows from a design asks for names. A
//! formula holds while its value is what stands there: whatever puts another length into the slot lets go of it
//! (`settle`), and when a named length changes, what its formulas come to is put into their slots ([`change`]).

pub mod change;
#[cfg(test)]
mod tests;

use crate::document::Document;
use crate::edit::Edit;
use crate::formula::{Formula, FormulaError};
use crate::length::read::unit_named;
use crate::length::{Length, Unit};
use crate::slot::Slot;
use std::collections::BTreeMap;

/// The lengths that a design names, and the formulas that use them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NamedLengths {
    /// The names, in the order of the maker; the formula of one names earlier ones only.
    pub list: Vec<NamedLength>,
    /// The formula of each slot that has one; each names something.
    pub formulas: BTreeMap<Slot, Formula>,
}

/// A length with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedLength {
    /// What it is called: words of letters and figures, the first of a letter.
    pub name: String,
    /// How long it is.
    pub value: Length,
    /// Where it follows from earlier ones: how.
    pub formula: Option<Formula>,
    /// What it is, in a sentence; may be empty.
    pub about: String,
}

/// A length as it was typed: what it comes to, and the formula where names are in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typed {
    /// What it comes to.
    pub length: Length,
    /// The formula; `None` for a plain length.
    pub formula: Option<Formula>,
}

impl Typed {
    /// As it is written: the formula, or the length in a unit.
    #[must_use]
    pub fn text(&self, unit: Unit) -> String {
        self.formula.as_ref().map_or_else(|| self.length.text(unit), Formula::to_string)
    }
}

impl From<Length> for Typed {
    fn from(length: Length) -> Self {
        Self { length, formula: None }
    }
}

impl NamedLength {
    /// The most characters of a name: more than a field has room for.
    pub const LONGEST_NAME: usize = 40;

    /// The most characters of the sentence on what it is.
    pub const LONGEST_ABOUT: usize = 200;

    /// Its value as it was typed.
    #[must_use]
    pub fn typed(&self) -> Typed {
        Typed { length: self.value, formula: self.formula.clone() }
    }
}

impl NamedLengths {
    /// The most lengths that a design names: more than anybody remembers.
    pub const MOST: usize = 100;

    /// Whether nothing is named.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The length of that name, whether its letters are capital or not.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<&NamedLength> {
        found(&self.list, name)
    }

    /// What is typed where a length belongs: a length, which may leave out its unit where one is given, or a formula.
    ///
    /// # Errors
    /// Says why it is neither.
    pub fn read(&self, text: &str, unit: Option<Unit>) -> Result<Typed, FormulaError> {
        read_with(&self.list, text, unit)
    }

    /// What a formula comes to; it then spells names as they are spelled here.
    ///
    /// # Errors
    /// Names one that isn't there, or says why there is no result.
    pub fn value_of(&self, formula: &Formula) -> Result<Typed, FormulaError> {
        value_of(&self.list, formula)
    }
}

/// The length of that name in a list.
fn found<'a>(list: &'a [NamedLength], name: &str) -> Option<&'a NamedLength> {
    let wanted = name.to_lowercase();
    list.iter().find(|named| named.name.to_lowercase() == wanted)
}

/// What is typed where a length belongs, before it is asked which names there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reading {
    /// A length, or figures that come to one.
    Length(Length),
    /// A formula with names in it.
    Formula(Formula),
}

impl Reading {
    /// Reads a length, which may leave out its unit where one is given, or a formula.
    ///
    /// # Errors
    /// Says why it is neither.
    pub fn of(text: &str, unit: Option<Unit>) -> Result<Self, FormulaError> {
        // What begins as a length does and has no sign in it was meant as one.
        if is_figure(text) {
            let plain = unit.map_or_else(|| text.parse(), |unit| Length::parse_in(text, unit));
            return plain.map(Self::Length).map_err(FormulaError::from);
        }
        let formula = Formula::parse(text, unit)?;
        if formula.names().is_empty() { formula.value(|_| None).map(Self::Length) } else { Ok(Self::Formula(formula)) }
    }
}

fn read_with(list: &[NamedLength], text: &str, unit: Option<Unit>) -> Result<Typed, FormulaError> {
    let is_named = |word: &str| list.iter().any(|named| named.name.split(' ').next() == Some(word));
    match Reading::of(text, unit) {
        Ok(Reading::Length(length)) => Ok(length.into()),
        Ok(Reading::Formula(formula)) => value_of(list, &formula),
        Err(error) => match Formula::parse(text, unit) {
            Err(FormulaError::NoSign(figure, word)) if is_named(&word) => Err(FormulaError::NoSign(figure, word)),
            _ => Err(error),
        },
    }
}

/// Whether a text has no sign and no name in it that would make it a formula: a stroke or hyphen between two figures is
/// part of one.
fn is_figure(text: &str) -> bool {
    let letters: Vec<char> = text.trim().trim_start_matches(['-', '−', '+', ' ']).chars().collect();
    let is_digit = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
    let is_sign = |(at, c): (usize, &char)| match c {
        '+' | '*' | '×' | '÷' | '(' | ')' => true,
        '-' | '−' | '/' => !(is_digit(at.checked_sub(1)) && is_digit(Some(at + 1))),
        _ => false,
    };
    !letters.first().is_some_and(|first| is_letter(*first)) && !letters.iter().enumerate().any(is_sign)
}

/// The letters of names, from the first to the last of each range; all of them are letters of their script.
pub const LETTERS: [(char, char); 15] = [
    ('A', 'Z'),
    ('a', 'z'),
    ('À', 'Ö'),
    ('Ø', 'ö'),
    ('ø', 'ʯ'),
    ('Α', 'Ρ'),
    ('Σ', 'ω'),
    ('Ѐ', 'ҁ'),
    ('Ҋ', 'ԯ'),
    ('א', 'ת'),
    ('ء', 'ي'),
    ('ぁ', 'ゖ'),
    ('ァ', 'ヺ'),
    ('一', '龥'),
    ('가', '힣'),
];

/// Whether names are written with it.
pub(crate) fn is_letter(c: char) -> bool {
    LETTERS.iter().any(|(first, last)| (*first..=*last).contains(&c))
}

/// What a formula comes to with the names of a list, which it then spells as the list does.
fn value_of(list: &[NamedLength], formula: &Formula) -> Result<Typed, FormulaError> {
    let length = formula.value(|name| found(list, name).map(|named| named.value))?;
    let spelled = formula.renamed(|name| found(list, name).map(|named| named.name.clone()));
    Ok(Typed { length, formula: Some(spelled) })
}

/// A name as it is kept: with single spaces between its words.
///
/// # Errors
/// Says why it is no name for a length.
pub fn checked_name(text: &str) -> Result<String, String> {
    let name = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let shown: String = name.chars().take(NamedLength::LONGEST_NAME).collect();
    if name.is_empty() {
        return Err("a length needs a name; write one such as \"card width\"".to_owned());
    }
    if name.chars().count() > NamedLength::LONGEST_NAME {
        return Err(format!("{shown:?}… is too long; a name has at most {} characters", NamedLength::LONGEST_NAME));
    }
    let is_spelled =
        name.starts_with(is_letter) && name.chars().all(|c| is_letter(c) || c.is_ascii_digit() || c == ' ');
    if !is_spelled {
        return Err(format!(
            "{shown:?} is no name for a length; begin with a letter and write letters, figures and spaces"
        ));
    }
    // Words by which a file says units, stops and anchors.
    let is_taken =
        |word: &&str| unit_named(word).is_some() || ["line", "edge", "from"].contains(&word.to_lowercase().as_str());
    match name.split(' ').find(is_taken) {
        Some(word) => {
            Err(format!("\"{name}\" has the word \"{word}\" in it, which means something else; choose another"))
        }
        None => Ok(name),
    }
}

/// Lets go of formulas in `next`, which was `before` until an edit: of those whose slot is gone or holds another length, and
/// of those of names that are gone or changed. Gives what takes that back; `None` where all formulas hold.
pub(crate) fn settle(before: &Document, next: &mut Document) -> Option<Edit> {
    if next.lengths.formulas.is_empty() && next.lengths.list.iter().all(|named| named.formula.is_none()) {
        return None;
    }
    let lengths = settled(before, next);
    (lengths != next.lengths).then(|| Edit::SetLengths(std::mem::replace(&mut next.lengths, lengths)))
}

/// Lets go of all formulas of a design that don't hold in it.
pub fn let_go_of_idle(document: &mut Document) {
    let before = document.clone();
    drop(settle(&before, document));
}

fn settled(before: &Document, next: &Document) -> NamedLengths {
    let mut list: Vec<NamedLength> = Vec::new();
    for named in &next.lengths.list {
        let formula = named.formula.clone().filter(|formula| comes_to(&list, formula, named.value));
        list.push(NamedLength { formula, ..named.clone() });
    }
    let is_untouched = next.lengths.formulas == before.lengths.formulas;
    let holds = |(slot, formula): (&Slot, &Formula)| {
        let slot = if is_untouched { carried(before, next, *slot)? } else { *slot };
        let value = next.length_in(slot)?;
        comes_to(&list, formula, value).then(|| (slot, formula.clone()))
    };
    let formulas = next.lengths.formulas.iter().filter_map(holds).collect();
    NamedLengths { list, formulas }
}

fn comes_to(list: &[NamedLength], formula: &Formula, value: Length) -> bool {
    formula.value(|name| found(list, name).map(|named| named.value)) == Ok(value)
}

/// Where a slot is after an edit. Corners have no number of their own: one is the same that is said of the same.
fn carried(before: &Document, next: &Document, slot: Slot) -> Option<Slot> {
    let Slot::Corner(at) = slot else { return Some(slot) };
    let own = before.corners.get(at)?;
    let is_same = |at: &usize| next.corners.get(*at).is_some_and(|c| (c.mark, c.which) == (own.mark, own.which));
    Some(at).filter(is_same).or_else(|| (0..next.corners.len()).find(is_same)).map(Slot::Corner)
}

/// The formulas that an edit let go of, with the slots that they were in, which are there still.
#[must_use]
pub fn let_go(before: &Document, after: &Document) -> Vec<(Slot, Formula)> {
    let gone = |(slot, _): &(&Slot, &Formula)| {
        let now = carried(before, after, **slot);
        now.is_some_and(|now| !after.lengths.formulas.contains_key(&now) && after.length_in(now).is_some())
    };
    let formulas = before.lengths.formulas.iter().filter(gone);
    formulas.map(|(slot, formula)| (*slot, formula.clone())).collect()
}

impl Document {
    /// Where a named length is used: in other names, and in slots, in words.
    #[must_use]
    pub fn uses_of(&self, name: &str) -> Vec<String> {
        let wanted = name.to_lowercase();
        let has = |formula: &Formula| formula.names().iter().any(|name| name.to_lowercase() == wanted);
        let names = self.lengths.list.iter().filter(|named| named.formula.as_ref().is_some_and(has));
        let slots = self.lengths.formulas.iter().filter(|(_, formula)| has(formula));
        names.map(|named| format!("\"{}\"", named.name)).chain(slots.map(|(slot, _)| self.slot_name(*slot))).collect()
    }

    /// What stands in a slot as it was typed; `None` where there is no such slot.
    #[must_use]
    pub fn typed_in(&self, slot: Slot) -> Option<Typed> {
        let length = self.length_in(slot)?;
        Some(Typed { length, formula: self.lengths.formulas.get(&slot).cloned() })
    }
}
