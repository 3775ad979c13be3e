//! `foliowright export`: one file a kind.

mod picture;
mod schema;
mod template;

use crate::{Failure, Outcome};
use clap::{Args, Subcommand};
use draw::supply::Furnishing;
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
    /// A PNG or SVG of the flat sheet, or of the folio at any step of its closing.
    Picture(PictureTask),
    /// The JSON Schema of the project file.
    Schema(SchemaTask),
}

pub(crate) fn run(task: &ExportTask, out: &mut dyn Write) -> Outcome {
    match &task.kind {
        ExportKind::Template(task) => template::run(task, out),
        ExportKind::Picture(task) => picture::run(task, out),
        ExportKind::Schema(task) => schema::run(task, out),
    }
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
