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
use crate::{Failure, Outcome};
use animation::AnimationTask;
use clap::{Args, Subcommand};
use contact::ContactTask;
use cutting::CuttingTask;
use draw::artwork::{Printed, Prints};
use draw::supply::Furnishing;
use inserts::InsertsTask;
use model::Document;
use picture::PictureTask;
use schema::SchemaTask;
use session::Derived;
use std::io::Write;
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
        ExportKind::Booklet(task) => booklet::run(task, out),
        ExportKind::Cutting(task) => cutting::run(task, out),
        ExportKind::Inserts(task) => inserts::run(task, out),
        ExportKind::Picture(task) => picture::run(task, out, err),
        ExportKind::Contact(task) => contact::run(task, out, err),
        ExportKind::Animation(task) => animation::run(task, out, err),
        ExportKind::Schema(task) => schema::run(task, out),
    }
}

/// The parts of a design, where it has any.
fn furnishing(derived: &Derived) -> Option<Furnishing<'_>> {
    let folded = derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding));
    derived.supply.as_ref().map(|supply| Furnishing { supply, folded })
}

/// Pixels a millimetre of paper that are kept of pictures where a drawing has no pixels of its own: 300 an inch, which
/// printers ask for (common practice, no source).
const PRINTED_FINELY: f64 = 300.0 / 25.4;

/// What is printed on the papers of a design, with so many pixels a millimetre of the paper. A picture that can't be read is
/// left out, with one sentence: a drawing without it is better than none.
fn prints(file: &Path, document: &Document, per_mm: f64, err: &mut dyn Write) -> Result<Prints, Failure> {
    let (pictures, wrong) = disk::artwork::pictures(file, document, per_mm);
    let mut said: Vec<String> = wrong.iter().map(ToString::to_string).collect();
    said.dedup();
    for sentence in said {
        writeln!(err, "drawn without this picture: {sentence}")?;
    }
    Ok(Prints::new(document, pictures))
}

/// The same as it lies on the folio and its parts.
fn printed<'a>(prints: &'a Prints, derived: &'a Derived) -> Printed<'a> {
    Printed { prints, supply: derived.supply.as_ref() }
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
