//! What a maker does with named lengths, as edits. Whatever follows from a changed name is part of the same edit.

use super::{NamedLength, NamedLengths, Typed, checked_name, read_with, settle, value_of};
use crate::document::Document;
use crate::edit::{Edit, Refusal};
use crate::formula::{Formula, FormulaError};
use crate::length::{Length, Unit};
use crate::line::LineId;
use crate::part::PartId;
use crate::slot::Slot;
use std::collections::BTreeMap;

/// Names a length, after those that are there.
///
/// # Errors
/// The name is none or taken, or there are too many.
pub fn add(document: &Document, name: &str, value: Typed, about: &str) -> Result<Edit, Refusal> {
    let name = free_name(document, name, None)?;
    let mut lengths = document.lengths.clone();
    lengths.list.push(NamedLength {
        name,
        value: value.length,
        formula: value.formula,
        about: about.trim().to_owned(),
    });
    Ok(Edit::SetLengths(lengths))
}

/// Gives a named length another value; everything that uses it follows.
///
/// # Errors
/// There is no such name, the formula uses a later name or itself, or something that follows can't be that.
pub fn set_value(document: &Document, name: &str, value: &str, unit: Option<Unit>) -> Result<Edit, Refusal> {
    set_values(document, &[(name, value)], unit)
}

/// Gives several named lengths other values at once.
///
/// # Errors
/// As for [`set_value`].
pub fn set_values(document: &Document, values: &[(&str, &str)], unit: Option<Unit>) -> Result<Edit, Refusal> {
    let mut lengths = document.lengths.clone();
    let mut all: Vec<(usize, &str)> = Vec::new();
    for (name, value) in values {
        all.push((place(document, name)?, value));
    }
    // Formulas use names above them, which have their new values by then.
    all.sort_by_key(|(at, _)| *at);
    for (at, value) in all {
        let typed = read_with(&lengths.list[..at], value, unit).map_err(|error| match error {
            // It is there, only later.
            FormulaError::UnknownName(other) if lengths.find(&other).is_some() => Refusal::Reckoning(format!(
                "\"{other}\" can't be used for \"{}\": a named length uses only those above it",
                lengths.list[at].name
            )),
            other => Refusal::Reckoning(format!("\"{}\" can't be so: {other}", lengths.list[at].name)),
        })?;
        lengths.list[at].value = typed.length;
        lengths.list[at].formula = typed.formula;
    }
    followed(document, lengths)
}

/// Calls a named length something else, in every formula too.
///
/// # Errors
/// There is no such name, or the new one is none or taken.
pub fn rename(document: &Document, name: &str, to: &str) -> Result<Edit, Refusal> {
    let at = place(document, name)?;
    let new = free_name(document, to, Some(at))?;
    let old = document.lengths.list[at].name.to_lowercase();
    let renamed = |formula: &Formula| formula.renamed(|name| (name.to_lowercase() == old).then(|| new.clone()));
    let mut lengths = each_formula(&document.lengths, renamed);
    lengths.list[at].name.clone_from(&new);
    Ok(Edit::SetLengths(lengths))
}

/// Says in a sentence what a named length is.
///
/// # Errors
/// There is no such name.
pub fn set_about(document: &Document, name: &str, about: &str) -> Result<Edit, Refusal> {
    let at = place(document, name)?;
    let mut lengths = document.lengths.clone();
    lengths.list[at].about = about.trim().chars().take(NamedLength::LONGEST_ABOUT).collect();
    Ok(Edit::SetLengths(lengths))
}

/// Takes a name away that nothing uses.
///
/// # Errors
/// There is no such name, or it is used: the sentence says where.
pub fn remove(document: &Document, name: &str) -> Result<Edit, Refusal> {
    /// The most uses that a sentence lists.
    const LISTED: usize = 5;
    let at = place(document, name)?;
    let uses = document.uses_of(name);
    if uses.is_empty() {
        let mut lengths = document.lengths.clone();
        lengths.list.remove(at);
        return Ok(Edit::SetLengths(lengths));
    }
    let mut listed = uses.iter().take(LISTED).cloned().collect::<Vec<_>>().join(", ");
    if uses.len() > LISTED {
        listed = format!("{listed} and {} more", uses.len() - LISTED);
    }
    let own = &document.lengths.list[at].name;
    Err(Refusal::Reckoning(format!("\"{own}\" is used for {listed}; put its value there, or use another length")))
}

/// Takes a name away, with its value in its place wherever it is used.
///
/// # Errors
/// There is no such name.
pub fn remove_for_its_value(document: &Document, name: &str) -> Result<Edit, Refusal> {
    let at = place(document, name)?;
    let mut lengths = document.lengths.clone();
    let gone = lengths.list.remove(at);
    let old = gone.name.to_lowercase();
    let filled = |formula: &Formula| {
        formula.with_values(|name| (name.to_lowercase() == old).then_some((gone.value, document.units)))
    };
    let mut lengths = each_formula(&lengths, filled);
    let has_names = |formula: &Formula| !formula.names().is_empty();
    lengths.formulas.retain(|_, formula| has_names(formula));
    for named in &mut lengths.list {
        named.formula = named.formula.take().filter(has_names);
    }
    Ok(Edit::SetLengths(lengths))
}

/// An edit that puts a length into a slot, with the formula by which it was typed, or without the one that was there.
///
/// # Errors
/// The edit can't be made.
pub fn with_formula(document: &Document, edit: Edit, slot: Slot, formula: Option<Formula>) -> Result<Edit, Refusal> {
    if formula.is_none() && !document.lengths.formulas.contains_key(&slot) {
        return Ok(edit);
    }
    let mut next = document.clone();
    next.apply(edit.clone())?;
    // Dropping what no longer holds is the business of whoever makes the edit; only where corners went counts here.
    drop(settle(document, &mut next));
    let slot = if matches!(slot, Slot::Corner(_)) { Slot::Corner(next.corners.len().saturating_sub(1)) } else { slot };
    match formula {
        Some(formula) => next.lengths.formulas.insert(slot, formula),
        None => next.lengths.formulas.remove(&slot),
    };
    Ok(Edit::All(vec![edit, Edit::SetLengths(next.lengths)]))
}

/// Gives copies of lines and parts the formulas of what they were copied from, as far as these come to what the copies hold
/// in this design. `edit` makes the copies; `formulas` are those of the design that they were copied from; of lines and
/// parts, the first of a pair was copied as the second.
///
/// # Errors
/// The edit can't be made.
pub fn with_copies(
    document: &Document,
    edit: Edit,
    formulas: &BTreeMap<Slot, Formula>,
    lines: &BTreeMap<LineId, LineId>,
    parts: &BTreeMap<PartId, PartId>,
) -> Result<Edit, Refusal> {
    let copied = |(slot, formula): (&Slot, &Formula)| {
        let slot = match *slot {
            Slot::Line(id, slot) => Slot::Line(*lines.get(&id)?, slot),
            Slot::Part(id, slot) => Slot::Part(*parts.get(&id)?, slot),
            _ => return None,
        };
        Some((slot, formula.clone()))
    };
    let copied: Vec<(Slot, Formula)> = formulas.iter().filter_map(copied).collect();
    if copied.is_empty() {
        return Ok(edit);
    }
    let mut next = document.clone();
    next.apply(edit.clone())?;
    drop(settle(document, &mut next));
    let mut lengths = next.lengths.clone();
    for (slot, formula) in copied {
        if let Some(length) = next.length_in(slot)
            && let Ok(typed) = lengths.value_of(&formula)
            && typed.length == length
        {
            lengths.formulas.extend(typed.formula.map(|formula| (slot, formula)));
        }
    }
    Ok(if lengths == next.lengths { edit } else { Edit::All(vec![edit, Edit::SetLengths(lengths)]) })
}

/// The edit that puts other named lengths in, and what follows from them into every slot.
fn followed(document: &Document, mut lengths: NamedLengths) -> Result<Edit, Refusal> {
    for at in 0..lengths.list.len() {
        let Some(formula) = lengths.list[at].formula.clone() else { continue };
        let typed = value_of(&lengths.list[..at], &formula)
            .map_err(|error| Refusal::Reckoning(format!("\"{}\": {error}", lengths.list[at].name)))?;
        lengths.list[at].value = typed.length;
    }
    let mut next = document.clone();
    for (slot, formula) in &lengths.formulas {
        let name = || document.slot_name(*slot);
        let length = formula
            .value(|name| lengths.find(name).map(|named| named.value))
            .map_err(|error| Refusal::Reckoning(format!("{}: {error}", name())))?;
        if next.length_in(*slot) != Some(length) {
            let says = || Refusal::Reckoning(format!("{} can't be {}", name(), length.text(document.units)));
            check_length(*slot, length).then(|| next.put_length(*slot, length)).flatten().ok_or_else(says)?;
        }
    }
    let mut edits = vec![Edit::SetLengths(lengths)];
    if next.stock != document.stock {
        edits.push(Edit::SetStock(next.stock));
    }
    if next.further_stocks != document.further_stocks {
        edits.push(Edit::SetFurtherStocks(next.further_stocks));
    }
    let changed = next.lines.into_iter().zip(&document.lines).filter(|(line, before)| line != *before);
    edits.extend(changed.map(|(line, _)| Edit::ReplaceLine(line)));
    if next.corners != document.corners {
        edits.push(Edit::SetCorners(next.corners));
    }
    if next.parts != document.parts {
        edits.push(Edit::SetParts(next.parts));
    }
    Ok(Edit::All(edits))
}

/// Whether a length may stand in a slot, as far as the slot alone says. A measure of a part is the size of something.
fn check_length(slot: Slot, length: Length) -> bool {
    match slot {
        Slot::Part(_, crate::slot::PartSlot::Measure(_)) => length >= Length::ZERO,
        _ => true,
    }
}

fn each_formula(lengths: &NamedLengths, with: impl Fn(&Formula) -> Formula) -> NamedLengths {
    let list =
        lengths.list.iter().map(|named| NamedLength { formula: named.formula.as_ref().map(&with), ..named.clone() });
    let formulas = lengths.formulas.iter().map(|(slot, formula)| (*slot, with(formula)));
    NamedLengths { list: list.collect(), formulas: formulas.collect() }
}

/// The place of a name in the list.
fn place(document: &Document, name: &str) -> Result<usize, Refusal> {
    let wanted = name.trim().to_lowercase();
    let list = &document.lengths.list;
    list.iter().position(|named| named.name.to_lowercase() == wanted).ok_or_else(|| {
        let names: Vec<&str> = list.iter().map(|named| named.name.as_str()).collect();
        Refusal::Reckoning(match names.as_slice() {
            [] => format!("there is no length called \"{}\": the design names none", name.trim()),
            _ => format!("there is no length called \"{}\"; there is {}", name.trim(), names.join(", ")),
        })
    })
}

/// A name that no other length has.
fn free_name(document: &Document, name: &str, own: Option<usize>) -> Result<String, Refusal> {
    let name = checked_name(name).map_err(Refusal::Reckoning)?;
    let wanted = name.to_lowercase();
    let list = &document.lengths.list;
    let is_other = |(at, named): (usize, &NamedLength)| Some(at) != own && named.name.to_lowercase() == wanted;
    if list.iter().enumerate().any(is_other) {
        return Err(Refusal::Reckoning(format!("there is a length called \"{name}\" already; choose another name")));
    }
    Ok(name)
}
