//! `foliowright export schema`.

use super::{ending, save};
use crate::{Failure, Outcome};
use clap::Args;
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct SchemaTask {
    /// Where to put the schema.
    #[arg(short, long, value_name = "OUT.json")]
    pub(crate) output: PathBuf,
}

pub(super) fn run(task: &SchemaTask, out: &mut dyn Write) -> Outcome {
    if ending(&task.output) != "json" {
        let name = task.output.display();
        return Err(Failure::unreadable(format!("\"{name}\" is no name for a schema; end it in .json")));
    }
    save(&task.output, file::schema().as_bytes())?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}
