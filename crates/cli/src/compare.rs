//! `foliowright compare` and `foliowright vary`: two designs side by side and in words, and a design that keeps the one it
//! came from.

use crate::arguments::{CompareTask, VaryTask};
use crate::lengths::length;
use crate::{Failure, Outcome, read};
use check::Severity;
use compare::{About, Difference, differences};
use model::{Document, Length};
use serde_json::{Value, json};
use session::Derived;
use std::io::{self, Write};

/// What two designs are put side by side by, from top to bottom.
const ROWS: [&str; 9] =
    ["title", "sheet", "lines", "panels", "parts", "closing steps", "closed", "offcuts left", "errors and warnings"];

pub(crate) fn run(task: &CompareTask, out: &mut dyn Write) -> Outcome {
    let after = read(&task.file)?;
    let (before, after) = match &task.other {
        // The earlier one first, as they are typed.
        Some(other) => (after, read(other)?),
        None => match after.variation_of.as_deref() {
            Some(first) => (first.clone(), after),
            None => {
                let sentence = format!(
                    "{}: this is no variation that keeps the design it came from; name the design to compare it with",
                    task.file.display()
                );
                return Err(Failure::unreadable(sentence));
            }
        },
    };
    let found = differences(&before, &after);
    let beside = [facts(&before), facts(&after)];
    if task.json {
        let [first, second] = beside.each_ref().map(|facts| {
            let pairs = ROWS.iter().zip(facts).map(|(row, fact)| (row.replace(' ', "_"), json!(fact)));
            Value::Object(pairs.collect())
        });
        let all: Vec<Value> = found.iter().map(|difference| value(difference, &after)).collect();
        writeln!(out, "{:#}", json!({ "first": first, "second": second, "differences": all }))?;
    } else {
        table(&beside, out)?;
        writeln!(out)?;
        for difference in &found {
            writeln!(out, "{}", difference.says)?;
        }
        if found.is_empty() {
            writeln!(out, "They are the same.")?;
        }
    }
    if found.is_empty() { Ok(()) } else { Err(Failure::Refused(None)) }
}

/// A difference as JSON.
fn value(difference: &Difference, after: &Document) -> Value {
    let mut value = json!({ "about": difference.about.word(), "says": difference.says });
    match &difference.about {
        About::Lines(lines, moved) => {
            value["lines"] = lines.iter().map(|line| line.0).collect();
            if let Some(by) = moved {
                value["moved"] = length(*by, after.units);
            }
        }
        About::Part(part) => value["part"] = json!(part.0),
        _ => {}
    }
    value
}

/// The figures of a design, in the order of [`ROWS`].
fn facts(document: &Document) -> [String; ROWS.len()] {
    let derived = Derived::of(document);
    let folio = derived.layout.folio().map_or(0, |piece| piece.panels.len());
    let bad = derived.findings.iter().filter(|finding| finding.severity != Severity::Note).count();
    let text = |mm: f64| {
        Length::from_mm_rounded(mm).map_or_else(|| "unknown".to_owned(), |length| length.readable(document.units))
    };
    let closed = derived.folded.as_ref().map_or_else(
        || "no panel lies still".to_owned(),
        |(_, folding)| {
            let size = folding.closed_size();
            format!("{} x {}, {} thick", text(size.x), text(size.y), text(size.z))
        },
    );
    [
        document.title.clone(),
        document.stock.size.text(document.units),
        document.lines.len().to_string(),
        folio.to_string(),
        document.parts.len().to_string(),
        document.steps.iter().filter(|step| !step.is_empty()).count().to_string(),
        closed,
        derived.layout.offcuts().count().to_string(),
        bad.to_string(),
    ]
}

/// Two designs side by side.
fn table([first, second]: &[[String; ROWS.len()]; 2], out: &mut dyn Write) -> io::Result<()> {
    let width = |texts: &[String]| texts.iter().map(|text| text.chars().count()).max().unwrap_or(0);
    let (name, left) = (ROWS.iter().map(|row| row.len()).max().unwrap_or(0), width(first));
    for ((row, first), second) in ROWS.iter().zip(first).zip(second) {
        writeln!(out, "{row:name$}  {first:left$}  {second}")?;
    }
    Ok(())
}

pub(crate) fn vary(task: &VaryTask, out: &mut dyn Write) -> Outcome {
    if task.output.exists() {
        let sentence = format!("{} is there already; choose another name", task.output.display());
        return Err(Failure::Refused(Some(sentence)));
    }
    let document = read(&task.file)?;
    let changed = crate::named::with_values(&document, &task.set)?;
    let title = task.title.clone().unwrap_or_else(|| format!("{}, a variation", document.title));
    // What it was begun from keeps its own values.
    let variation = Document { variation_of: document.variation(String::new()).variation_of, title, ..changed };
    crate::save_copy(&variation, &task.file, &task.output, out)?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}
