//! `foliowright export picture`.

use super::{ending, furnishing, refused, save};
use crate::{Failure, Outcome, fold_time, read};
use clap::{Args, ValueEnum};
use draw::folded::{View, folded_picture, folded_scene};
use draw::list::Drawing;
use draw::sheet::{SheetLook, sheet_picture};
use model::{Document, Turn};
use session::Derived;
use std::io::Write;
use std::path::PathBuf;

/// Longer side of a folded picture, mm.
const FOLDED_PICTURE: f64 = 200.0;

#[derive(Debug, Args)]
pub(crate) struct PictureTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the picture; its ending, .png or .svg, says which kind.
    #[arg(short, long, value_name = "OUT")]
    pub(crate) output: PathBuf,
    /// Show the folio folded so many steps, such as 2 or 1.5, or `closed`; the flat sheet when left out.
    #[arg(long, value_name = "STEPS")]
    pub(crate) fold: Option<String>,
    /// From where the folded folio is seen.
    #[arg(long, value_enum, default_value = "slanted")]
    pub(crate) view: ViewWord,
    /// Quarter turns of the flat sheet to the left, 0 to 3.
    #[arg(long, default_value_t = 0, value_parser = clap::value_parser!(u8).range(0..=3))]
    pub(crate) turn: u8,
    /// Width of a PNG in pixels.
    #[arg(long, default_value_t = 1600, value_parser = clap::value_parser!(u32).range(1..=16_000))]
    pub(crate) width: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ViewWord {
    /// Straight at the front.
    Front,
    /// Straight at the back.
    Back,
    /// At the front, from the lower right.
    Slanted,
}

pub(super) fn run(task: &PictureTask, out: &mut dyn Write) -> Outcome {
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
