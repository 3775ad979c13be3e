//! `foliowright lengths`, and named lengths that are given other values as a design is copied.

use crate::arguments::LengthsTask;
use crate::lengths::length;
use crate::{Failure, Outcome, read};
use model::change::perform;
use model::named::change::set_values;
use model::{Document, Formula, Layout, NamedLength};
use serde_json::{Value, json};
use std::io::{self, Write};

pub(crate) fn run(task: &LengthsTask, out: &mut dyn Write) -> Outcome {
    let document = read(&task.file)?;
    if let Some(output) = &task.output {
        if output.exists() {
            let sentence = format!("{} is there already; choose another name", output.display());
            return Err(Failure::Refused(Some(sentence)));
        }
        crate::save_copy(&with_values(&document, &task.set)?, &task.file, output, out)?;
        writeln!(out, "{}", output.display())?;
    } else if task.json {
        writeln!(out, "{:#}", json!({ "lengths": values(&document) }))?;
    } else if document.lengths.is_empty() {
        writeln!(out, "The design names no lengths.")?;
    } else {
        list(&document, out)?;
    }
    Ok(())
}

/// The design with other values of its named lengths, each said as `NAME=VALUE`; all that uses them follows.
pub(crate) fn with_values(document: &Document, set: &[String]) -> Result<Document, Failure> {
    if set.is_empty() {
        return Ok(document.clone());
    }
    let mut values = Vec::new();
    for text in set {
        let (name, value) = text.split_once('=').ok_or_else(|| {
            let says = format!("\"{text}\" gives no value; write a name, = and a length, such as \"card width=6 in\"");
            Failure::unreadable(says)
        })?;
        values.push((name.trim(), value.trim()));
    }
    let edit = set_values(document, &values, Some(document.units))
        .map_err(|refusal| Failure::unreadable(refusal.to_string()))?;
    // A value that the sheet has no room for is refused like an export.
    let performed = perform(document, &Layout::of(document), edit)
        .map_err(|refusal| Failure::Refused(Some(format!("with these values {refusal}"))))?;
    Ok(performed.document)
}

/// Each named length on a row: its value, what it follows from, what it is.
pub(crate) fn list(document: &Document, out: &mut dyn Write) -> io::Result<()> {
    for named in &document.lengths.list {
        let by = named.formula.as_ref().map(|formula| format!(" = {formula}")).unwrap_or_default();
        let about = if named.about.is_empty() { String::new() } else { format!(": {}", named.about) };
        writeln!(out, "  {}, {}{by}{about}", named.name, named.value.readable(document.units))?;
    }
    Ok(())
}

/// The same as JSON, with where each is used.
pub(crate) fn values(document: &Document) -> Vec<Value> {
    let value = |named: &NamedLength| {
        json!({
            "name": named.name,
            "value": length(named.value, document.units),
            "formula": named.formula.as_ref().map(Formula::to_string),
            "about": named.about,
            "uses": document.uses_of(&named.name),
        })
    };
    document.lengths.list.iter().map(value).collect()
}
