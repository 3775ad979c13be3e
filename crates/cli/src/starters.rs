//! `foliowright starters` and `foliowright new`.

use crate::arguments::{NewTask, StartersTask};
use crate::{Failure, Outcome, named};
use file::starters;
use model::{Document, Size, Unit};
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;

pub(crate) fn list_or_copy(task: &StartersTask, out: &mut dyn Write) -> Outcome {
    if let Some([name, folder]) = task.copy.as_deref() {
        let Some(starter) = starters::ALL.iter().find(|starter| starter.name == name) else {
            let names: Vec<&str> = starters::ALL.iter().map(|starter| starter.name).collect();
            return Err(Failure::unreadable(format!("there is no starter \"{name}\"; there is {}", names.join(", "))));
        };
        let path = Path::new(folder).join(format!("{name}.folio"));
        if path.exists() {
            let sentence = format!("{} is there already; copy to another folder or move it away", path.display());
            return Err(Failure::Refused(Some(sentence)));
        }
        let refused = |error: disk::DiskError| Failure::Refused(Some(error.to_string()));
        let document = file::from_text(starter.text).map_err(|error| Failure::unreadable(error.to_string()))?;
        let text = if task.set.is_empty() {
            starter.text.to_owned()
        } else {
            file::to_text(&named::with_values(&document, &task.set)?)
        };
        // Pictures first: where one can't be put, there is no design either that would miss it.
        disk::artwork::bring(None, &path, &document).into_iter().next().map_or(Ok(()), |error| Err(refused(error)))?;
        disk::save_bytes(&path, text.as_bytes()).map_err(refused)?;
        writeln!(out, "{}", path.display())?;
    } else if task.json {
        let list: Vec<Value> =
            starters::ALL.iter().map(|starter| json!({ "name": starter.name, "about": starter.about })).collect();
        writeln!(out, "{:#}", json!({ "starters": list }))?;
    } else {
        for starter in starters::ALL {
            writeln!(out, "{}: {}", starter.name, starter.about)?;
        }
    }
    Ok(())
}

pub(crate) fn new(task: &NewTask, out: &mut dyn Write) -> Outcome {
    let size = Size::parse(&task.sheet).map_err(|error| Failure::unreadable(error.to_string()))?;
    if task.output.exists() {
        let sentence = format!("{} is there already; choose another name", task.output.display());
        return Err(Failure::Refused(Some(sentence)));
    }
    let document = Document::new(size, Unit::of_text(&task.sheet));
    disk::save_design(&task.output, &document).map_err(|error| Failure::Refused(Some(error.to_string())))?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}
