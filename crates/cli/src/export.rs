//! `foliowright export`.

use crate::arguments::{ExportKind, ExportTask, PaperWord, PictureTask, SchemaTask, TemplateTask, ViewWord};
use crate::{Failure, Outcome, fold_time, read};
use draw::folded::{View, folded_picture, folded_scene};
use draw::list::Drawing;
use draw::sheet::{SheetLook, sheet_picture};
use draw::supply::Furnishing;
use draw::template::{Paper, TemplateOptions, template};
use model::{Document, Turn};
use session::Derived;
use std::io::Write;
use std::path::Path;

/// Longer side of a folded picture, mm.
const FOLDED_PICTURE: f64 = 200.0;

pub(crate) fn run(task: &ExportTask, out: &mut dyn Write) -> Outcome {
    match &task.kind {
        ExportKind::Template(task) => export_template(task, out),
        ExportKind::Picture(task) => export_picture(task, out),
        ExportKind::Schema(task) => export_schema(task, out),
    }
}

fn export_schema(task: &SchemaTask, out: &mut dyn Write) -> Outcome {
    if ending(&task.output) != "json" {
        let name = task.output.display();
        return Err(Failure::unreadable(format!("\"{name}\" is no name for a schema; end it in .json")));
    }
    save(&task.output, file::schema().as_bytes())?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}

fn export_template(task: &TemplateTask, out: &mut dyn Write) -> Outcome {
    if ending(&task.output) != "pdf" {
        let name = task.output.display();
        return Err(Failure::unreadable(format!("\"{name}\" is no name for a template; end it in .pdf")));
    }
    let document = read(&task.file)?;
    let derived = Derived::of(&document);
    let furnishing = furnishing(&derived);
    let mut options = TemplateOptions::for_units(document.units);
    if let Some(word) = task.paper {
        options.paper = match word {
            PaperWord::Letter => Paper::Letter,
            PaperWord::A4 => Paper::A4,
            PaperWord::Sheet => Paper::Sheet,
        };
    }
    let pages = template(&document, &derived.layout, furnishing.as_ref(), &options)
        .map_err(|refusal| Failure::Refused(Some(refusal.to_string())))?;
    let bytes = output::pdf(&pages).map_err(refused)?;
    save(&task.output, &bytes)?;
    let count = pages.pages.len();
    writeln!(out, "{}: {count} {}", task.output.display(), if count == 1 { "page" } else { "pages" })?;
    Ok(())
}

fn export_picture(task: &PictureTask, out: &mut dyn Write) -> Outcome {
    let document = read(&task.file)?;
    let bytes = match ending(&task.output).as_str() {
        "png" => output::png(&picture(task, &document)?, task.width).map_err(refused)?,
        "svg" => output::svg(&picture(task, &document)?).map_err(refused)?.into_bytes(),
        _ => {
            let name = task.output.display();
            return Err(Failure::unreadable(format!("\"{name}\" is no picture; end its name in .png or .svg")));
        }
    };
    save(&task.output, &bytes)?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}

fn picture(task: &PictureTask, document: &Document) -> Result<Drawing, Failure> {
    let derived = Derived::of(document);
    let Some(fold) = &task.fold else {
        let look = SheetLook { turn: Turn::from_count(task.turn).unwrap_or_default(), ..SheetLook::default() };
        return Ok(sheet_picture(document, &derived.layout, furnishing(&derived).as_ref(), &look));
    };
    let Some((assembly, folding)) = &derived.folded else {
        let sentence = format!("{}: nothing can be folded, since no panel is marked as the base", task.file.display());
        return Err(Failure::Refused(Some(sentence)));
    };
    let time = fold_time(fold, folding.steps())?;
    let view = match task.view {
        ViewWord::Front => View::FRONT,
        ViewWord::Back => View::BACK,
        ViewWord::Slanted => View::SLANTED,
    };
    let scene = folded_scene(&derived.layout, assembly, &folding.pose(time), &view);
    let description = format!("{}: folded {fold} of {} steps.", document.title, folding.steps());
    Ok(folded_picture(&scene, FOLDED_PICTURE, &description))
}

/// The parts of a design, where it has any.
fn furnishing(derived: &Derived) -> Option<Furnishing<'_>> {
    let folded = derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding));
    derived.supply.as_ref().map(|supply| Furnishing { supply, folded })
}

/// What a file's name ends in, lower case. An export never lands on a design by mistake, since those end in .folio.
fn ending(path: &Path) -> String {
    path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default()
}

fn refused(error: output::OutputError) -> Failure {
    Failure::Refused(Some(error.to_string()))
}

fn save(path: &Path, bytes: &[u8]) -> Outcome {
    disk::save_bytes(path, bytes).map_err(|error| Failure::Refused(Some(error.to_string())))
}
