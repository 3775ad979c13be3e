//! Named lengths in version 2, and the keys in which a formula may stand for a length.
//!
//! A formula is read where it stands and worked out once the names are known; what is read of a design afterwards finds
//! plain lengths only.

use super::FolioKeys;
use crate::error::FileError;
use crate::limit::one_line;
use crate::quoted::{Quoted, Worded, Written};
use crate::schema::ONE_LINE;
use crate::word::{Measure, UNSIGNED, spelled};
use model::named::checked_name;
use model::{Document, Formula, Length, NamedLength, NamedLengths, PartId, Reading, Slot, StockId, Typed, Unit};
use schemars::{JsonSchema, Schema};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A length that the design names.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a named length in { }")]
#[schemars(rename = "NamedLength")]
pub(super) struct LengthKeys {
    /// What it is called: words of letters and figures, beginning with a letter.
    #[schemars(length(min = 1, max = NamedLength::LONGEST_NAME), extend("pattern" = ONE_LINE))]
    name: String,
    /// How long it is; by a formula of names above it too.
    value: Quoted<Reckoned>,
    /// What it is, in a sentence.
    #[schemars(length(max = NamedLength::LONGEST_ABOUT), extend("pattern" = ONE_LINE))]
    about: Option<String>,
}

/// A length, or the formula that it follows from, which has no value until it is worked out.
#[derive(Clone)]
pub(crate) struct Reckoned {
    pub(super) length: Length,
    unit: Unit,
    pub(super) formula: Option<Formula>,
}

/// Parts of [`FORMULA`]; letters as in [`model::named::LETTERS`].
macro_rules! letter {
    () => {
        "[A-Za-zÀ-ÖØ-öø-ʯΑ-ΡΣ-ωЀ-ҁҊ-ԯא-תء-يぁ-ゖァ-ヺ一-龥가-힣]"
    };
}
macro_rules! name {
    () => {
        concat!(letter!(), "(?:", letter!(), "|[0-9])*(?: (?:", letter!(), "|[0-9])+)*\\)*")
    };
}
macro_rules! term {
    () => {
        concat!(
            "(?:",
            name!(),
            "|(?:[0-9]{1,9}(?:\\.[0-9]{1,9})?|(?:[0-9]{1,9} )?[0-9]{1,9}/[0-9]{1,9})(?: (?:in|mm|cm))?\\)*)"
        )
    };
}

/// A formula that doesn't begin with a minus, in the spelling of the program, as a regular expression that allows some more:
/// brackets that are never closed, and lengths times lengths. It has a name in it.
pub(crate) const FORMULA: &str =
    concat!("(?:\\([-(]*)?(?:", term!(), " [-+*/] [-(]*){0,9}", name!(), "(?: [-+*/] [-(]*", term!(), "){0,9}");

impl Reckoned {
    /// The length alone.
    pub(super) fn length(&self) -> Measure {
        Measure { length: self.length, unit: self.unit }
    }
}

/// A key in which a formula may stand for a length.
pub(super) trait Reckons {
    /// The formula.
    fn formula(&self) -> Option<&Formula>;

    /// Puts in what the formula comes to.
    fn put(&mut self, typed: Typed);
}

impl Reckons for Reckoned {
    fn formula(&self) -> Option<&Formula> {
        self.formula.as_ref()
    }

    fn put(&mut self, typed: Typed) {
        self.length = typed.length;
        self.formula = typed.formula;
    }
}

impl Worded for Reckoned {
    const EXPECTED: &'static str = Measure::EXPECTED;

    fn read(text: &str) -> Result<Self, String> {
        let unit = Unit::default();
        match Reading::of(text, None).map_err(|error| error.to_string())? {
            Reading::Length(length) => Ok(Self { length, unit, formula: None }),
            Reading::Formula(formula) => Ok(Self { length: Length::ZERO, unit, formula: Some(formula) }),
        }
    }
}

impl Written for Reckoned {
    const NAME: &'static str = "LengthOrFormula";

    fn words(&self) -> String {
        self.formula.as_ref().map_or_else(|| self.length.text(self.unit), Formula::to_string)
    }

    fn schema() -> Schema {
        let about = "A length with its unit, exact to the nanometre and at most 10 m, or a formula with named lengths that \
                     comes to one";
        let pattern = format!("(?:[-+−]?{UNSIGNED}|-?{FORMULA})");
        spelled(&pattern, about, &["2 3/4 in", "70 mm", "card width + 2 * margin"])
    }
}

/// A length as it is written.
pub(super) fn reckoned(length: Length, unit: Unit) -> Quoted<Reckoned> {
    Quoted(Reckoned { length, unit, formula: None })
}

/// Whether a key is left out: nothing, and by no formula.
pub(super) fn is_nothing(key: &Option<Quoted<Reckoned>>) -> bool {
    key.as_ref().is_none_or(|key| key.0.length == Length::ZERO && key.0.formula.is_none())
}

/// Works out every formula of a design, and gives its named lengths.
pub(super) fn read(keys: &mut FolioKeys) -> Result<NamedLengths, FileError> {
    let mut lengths = NamedLengths::default();
    for (i, own) in keys.lengths.take().map_or_else(Vec::new, |list| list.0).into_iter().enumerate() {
        let at = |key: &str| format!("lengths[{i}].{key}");
        let name = checked_name(&own.name).map_err(|says| FileError::value(at("name"), says))?;
        if let Some(earlier) = lengths.find(&name) {
            let says = format!("there is a length called \"{}\" already; choose another name", earlier.name);
            return Err(FileError::value(at("name"), says));
        }
        let about = one_line(&at("about"), own.about.unwrap_or_default())?;
        let typed = match own.value.0.formula {
            None => Ok(own.value.0.length.into()),
            Some(formula) => lengths.value_of(&formula),
        };
        let typed = typed.map_err(|error| FileError::value(at("value"), error.to_string()))?;
        lengths.list.push(NamedLength { name, value: typed.length, formula: typed.formula, about });
    }
    let mut formulas = BTreeMap::new();
    let mut wrong = None;
    each(keys, &mut |path, slot, key| {
        let Some(formula) = key.formula() else { return };
        let typed = match slot {
            Some(_) => lengths.value_of(formula).map_err(|error| error.to_string()),
            None => Err("named lengths are not known on a part's own little sheet; write the length itself".to_owned()),
        };
        match (typed, slot) {
            (Ok(typed), Some(slot)) => {
                formulas.extend(typed.formula.clone().map(|formula| (slot, formula)));
                key.put(typed);
            }
            (Ok(_), None) => {}
            (Err(says), _) => {
                wrong.get_or_insert_with(|| FileError::value(path, says));
            }
        }
    });
    lengths.formulas = formulas;
    wrong.map_or(Ok(lengths), Err)
}

/// The named lengths of a design as they are written.
pub(super) fn keys(document: &Document) -> Vec<LengthKeys> {
    let unit = document.units;
    let own = |named: &NamedLength| LengthKeys {
        name: named.name.clone(),
        value: Quoted(Reckoned { length: named.value, unit, formula: named.formula.clone() }),
        about: super::unless_empty(&named.about),
    };
    document.lengths.list.iter().map(own).collect()
}

/// Puts formulas where they stand for lengths.
pub(super) fn write(keys: &mut FolioKeys, document: &Document) {
    each(keys, &mut |_, slot, key| {
        if let Some(typed) =
            slot.filter(|slot| document.lengths.formulas.contains_key(slot)).and_then(|slot| document.typed_in(slot))
        {
            key.put(typed);
        }
    });
}

/// What is done with each length of a file that may be a formula: its path, its slot where it has one, itself.
type Visit<'a> = dyn FnMut(String, Option<Slot>, &mut dyn Reckons) + 'a;

/// Visits every key in which a formula may stand, with where it is and the slot of its length; without a slot where no
/// formula belongs.
fn each(keys: &mut FolioKeys, visit: &mut Visit<'_>) {
    for (path, side, key) in keys.stock.reckoned() {
        visit(format!("stock.{path}"), Some(Slot::Sheet(side)), key);
    }
    for (i, further) in keys.further_stocks.iter_mut().flat_map(|list| &mut list.0).enumerate() {
        let id = StockId(further.id);
        for (path, side, key) in further.stock.reckoned() {
            visit(format!("further_stocks[{i}].stock.{path}"), Some(Slot::FurtherSheet(id, side)), key);
        }
    }
    for (i, line) in keys.lines.0.iter_mut().enumerate() {
        let id = model::LineId(line.id);
        for (path, slot, key) in line.reckoned() {
            visit(format!("lines[{i}].{path}"), Some(Slot::Line(id, slot)), key);
        }
    }
    for (i, corner) in keys.corners.iter_mut().flat_map(|list| &mut list.0).enumerate() {
        if let Some((path, key)) = corner.reckoned() {
            visit(format!("corners[{i}].{path}"), Some(Slot::Corner(i)), key);
        }
    }
    for (i, part) in keys.parts.iter_mut().flat_map(|list| &mut list.0).enumerate() {
        let id = PartId(part.id);
        for (path, slot, key) in part.reckoned() {
            visit(format!("parts[{i}].{path}"), Some(Slot::Part(id, slot)), key);
        }
        part.each_inside(&mut |path, key| visit(format!("parts[{i}].{path}"), None, key));
    }
}
