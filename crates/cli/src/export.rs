//! `foliowright export`: one file a kind.

mod animation;
mod booklet;
mod contact;
mod cutting;
mod inserts;
mod picture;
mod schema;
mod template;

use self::booklet::BookletTask;
use crate::{Failure, Outcome, read};
use ::export::{Design, Export, ExportRefusal, one_of};
use animation::AnimationTask;
use clap::{Args, Subcommand};
use contact::ContactTask;
use cutting::CuttingTask;
use draw::artwork::Prints;
use inserts::InsertsTask;
use model::Document;
use picture::PictureTask;
use schema::SchemaTask;
use session::Derived;
use std::io::Write;
use std::ops::ControlFlow;
use std::path::Path;
use template::TemplateTask;

#[derive(Debug, Args)]
pub(crate) struct ExportTask {
    #[command(subcommand)]
    pub(crate) kind: ExportKind,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ExportKind {
    /// A PDF at true size to print, score and cut.
    Template(TemplateTask),
    /// A PDF that tells step by step how to make the folio.
    Booklet(BookletTask),
    /// An SVG or DXF in millimetres for a cutting machine: what is scored and what is cut, in the order of work.
    Cutting(CuttingTask),
    /// A PDF of cards, tags and mats at size, with cut marks.
    Inserts(InsertsTask),
    /// A PNG or SVG of the flat sheet, or of the folio at any step of its closing.
    Picture(PictureTask),
    /// A PNG or SVG of the flat sheet and the folio after each step, side by side, each with its words.
    Contact(ContactTask),
    /// The folio closing and opening, as a GIF or an animated PNG.
    Animation(AnimationTask),
    /// The JSON Schema of the project file.
    Schema(SchemaTask),
}

pub(crate) fn run(task: &ExportTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    match &task.kind {
        ExportKind::Template(task) => template::run(task, out, err),
        ExportKind::Booklet(task) => booklet::run(task, out, err),
        ExportKind::Cutting(task) => cutting::run(task, out, err),
        ExportKind::Inserts(task) => inserts::run(task, out, err),
        ExportKind::Picture(task) => picture::run(task, out, err),
        ExportKind::Contact(task) => contact::run(task, out, err),
        ExportKind::Animation(task) => animation::run(task, out, err),
        ExportKind::Schema(task) => schema::run(task, out),
    }
}

/// A design that was read, with what follows from it.
struct Given<'a> {
    file: &'a Path,
    document: Document,
    derived: Derived,
}

impl<'a> Given<'a> {
    fn read(file: &'a Path) -> Result<Self, Failure> {
        let document = read(file)?;
        let derived = Derived::of(&document);
        Ok(Self { file, document, derived })
    }

    /// Makes an export and writes its files, of which the first has the name that was asked for. A picture on the paper that
    /// can't be read is left out, with one sentence: a drawing without it is better than none.
    fn write(&self, output: &Path, export: &Export, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
        let (Self { file, document, derived }, ending) = (self, ending(output));
        let prints = match export.per_mm(document, derived, &ending) {
            Some(per_mm) => prints(file, document, per_mm, err)?,
            None => Prints::default(),
        };
        let design = Design { document, derived, prints: &prints };
        let made =
            export.files(&design, &ending, &mut |_done, _all| ControlFlow::Continue(())).map_err(|why| match why {
                ExportRefusal::Ending { name, endings } => misnamed(output, name, endings),
                why => Failure::Refused(Some(format!("{}: {why}", file.display()))),
            })?;
        for made in &made.files {
            let path = made.path(output);
            save(&path, &made.bytes)?;
            let told = if made.told.is_empty() { String::new() } else { format!(": {}", made.told) };
            writeln!(out, "{}{told}", path.display())?;
        }
        for note in &made.notes {
            writeln!(out, "{note}")?;
        }
        Ok(())
    }
}

/// Refuses a name that ends in none of what an export is written as, before anything is read.
fn named(output: &Path, export: &Export) -> Outcome {
    endings(output, export.name(), export.endings())
}

/// The same where what is exported depends on the design.
fn endings(output: &Path, name: &'static str, endings: &'static [&'static str]) -> Outcome {
    if endings.contains(&ending(output).as_str()) {
        return Ok(());
    }
    Err(misnamed(output, name, endings))
}

fn misnamed(output: &Path, name: &str, endings: &[&str]) -> Failure {
    let (output, endings) = (output.display(), one_of(endings));
    Failure::unreadable(format!("\"{output}\" is no name for {name}; end its name in {endings}"))
}

/// What is printed on the papers of a design, with so many pixels a millimetre of the paper.
fn prints(file: &Path, document: &Document, per_mm: f64, err: &mut dyn Write) -> Result<Prints, Failure> {
    let (pictures, wrong) = disk::artwork::pictures(file, document, per_mm);
    let mut said: Vec<String> = wrong.iter().map(ToString::to_string).collect();
    said.dedup();
    for sentence in said {
        writeln!(err, "drawn without this picture: {sentence}")?;
    }
    Ok(Prints::new(document, pictures))
}

/// What a file's name ends in, lower case. An export never lands on a design by mistake, since those end in .folio.
fn ending(path: &Path) -> String {
    path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default()
}

fn save(path: &Path, bytes: &[u8]) -> Outcome {
    disk::save_bytes(path, bytes).map_err(|error| Failure::Refused(Some(error.to_string())))
}
