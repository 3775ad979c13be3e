//! `foliowright export contact`.

use super::Given;
use super::picture::ViewWord;
use crate::Outcome;
use ::export::{ContactChoice, Export};
use clap::Args;
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct ContactTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the picture; its ending, .png or .svg, says which kind.
    #[arg(short, long, value_name = "OUT")]
    pub(crate) output: PathBuf,
    /// From where the folio is seen.
    #[arg(long, value_enum, default_value = "slanted")]
    pub(crate) view: ViewWord,
    /// Width of a PNG in pixels.
    #[arg(long, default_value_t = 1600, value_parser = clap::value_parser!(u32).range(1..=16_000))]
    pub(crate) width: u32,
}

pub(super) fn run(task: &ContactTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let export = Export::Contact(ContactChoice { view: task.view.view(), width: task.width });
    super::named(&task.output, &export)?;
    Given::read(&task.file)?.write(&task.output, &export, out, err)
}
