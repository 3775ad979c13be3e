//! `foliowright export schema`.

use super::save;
use crate::Outcome;
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
    super::endings(&task.output, "a schema", &["json"])?;
    save(&task.output, file::schema().as_bytes())?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}
