//! `foliowright convert`: a copy of a design in another unit, or on another sheet.

use crate::arguments::{ConvertTask, UnitWord};
use crate::{Failure, Outcome, read, save_copy};
use model::change::perform;
use model::resize::move_to_sheet;
use model::{Document, Edit, Layout, Refusal, Size, Stock, Unit};
use std::io::Write;

pub(crate) fn run(task: &ConvertTask, out: &mut dyn Write) -> Outcome {
    if task.output.exists() {
        let sentence = format!("{} is there already; choose another name", task.output.display());
        return Err(Failure::Refused(Some(sentence)));
    }
    let mut document = read(&task.file)?;
    if let Some(text) = &task.sheet {
        let size = Size::parse(text).map_err(|error| Failure::unreadable(error.to_string()))?;
        document = moved(&document, size)
            .map_err(|refusal| Failure::Refused(Some(format!("{}: {refusal}", task.file.display()))))?;
    }
    if let Some(word) = task.units {
        document.units = match word {
            UnitWord::In => Unit::Inch,
            UnitWord::Mm => Unit::Millimetre,
            UnitWord::Cm => Unit::Centimetre,
        };
    }
    save_copy(&document, &task.file, &task.output, out)?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}

fn moved(document: &Document, size: Size) -> Result<Document, Refusal> {
    let layout = Layout::of(document);
    let edit: Edit = move_to_sheet(document, &layout, Stock { size, ..document.stock.clone() })?;
    Ok(perform(document, &layout, edit)?.document)
}
