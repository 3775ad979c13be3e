//! `foliowright export contact`.

use super::picture::{Kind, ViewWord, folded};
use super::{printed, prints, save};
use crate::{Failure, Outcome, read};
use clap::Args;
use draw::artwork::Printed;
use draw::contact::{MOST_PICTURES, contact_sheet};
use draw::folded::bounds_in_pose;
use output::Ground;
use session::Derived;
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
    let document = read(&task.file)?;
    let kind = Kind::of(&task.output, task.width, Ground::White)?;
    let derived = Derived::of(&document);
    let (assembly, folding) = folded(&derived, &task.file)?;
    let view = task.view.view();
    let folio = (&derived.layout, assembly, folding);
    let drawn = |printed: &Printed<'_>| {
        contact_sheet(&document, folio, printed, &view).ok_or_else(|| {
            let (file, steps, most) = (task.file.display(), folding.steps(), MOST_PICTURES - 1);
            Failure::Refused(Some(format!("{file}: {steps} steps are too many for one picture; at most {most} fit")))
        })
    };
    // Each picture of it is smaller than the whole, so this keeps enough of what is printed.
    let across = bounds_in_pose(&derived.layout, assembly, &folding.pose(0.0), &view).width();
    let prints = prints(&task.file, &document, kind.per_mm(across), err)?;
    let drawing = drawn(&printed(&prints, &derived))?;
    save(&task.output, &kind.bytes(&drawing)?)?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}
