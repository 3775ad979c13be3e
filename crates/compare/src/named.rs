//! Named lengths: those with other values, and those that are there in one design only.

use crate::{About, Difference};
use model::{Document, NamedLength};

/// In the order of the later design, then what is gone.
pub(crate) fn differences(before: &Document, after: &Document) -> Vec<Difference> {
    let text = |named: &NamedLength| named.value.text(after.units);
    let mut says: Vec<String> = Vec::new();
    for is in &after.lengths.list {
        match before.lengths.find(&is.name) {
            None => says.push(format!("A length is named \"{}\": {}.", is.name, by(is, text(is)))),
            Some(was) if was.value != is.value => {
                says.push(format!("\"{}\" is {}, not {}.", is.name, by(is, text(is)), text(was)));
            }
            Some(was) if was.formula != is.formula => {
                says.push(format!("\"{}\" is said otherwise: {}.", is.name, by(is, text(is))));
            }
            Some(_) => {}
        }
    }
    let gone = before.lengths.list.iter().filter(|was| after.lengths.find(&was.name).is_none());
    says.extend(gone.map(|was| format!("No length is named \"{}\" any more.", was.name)));
    says.into_iter().map(|says| Difference { about: About::Lengths, says }).collect()
}

/// A value with what it follows from.
fn by(named: &NamedLength, value: String) -> String {
    match &named.formula {
        Some(formula) => format!("{value} by {formula}"),
        None => value,
    }
}
