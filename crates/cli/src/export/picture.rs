//! `foliowright export picture`.

use super::Given;
use crate::{Outcome, fold_time};
use ::export::{Export, PictureChoice, Shown};
use clap::{Args, ValueEnum};
use draw::folded::View;
use model::Turn;
use std::io::Write;
use std::path::PathBuf;

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
    /// Leave a PNG clear where nothing is drawn, in place of white; an SVG always is.
    #[arg(long)]
    pub(crate) transparent: bool,
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

impl ViewWord {
    pub(super) const fn view(self) -> View {
        match self {
            Self::Front => View::FRONT,
            Self::Back => View::BACK,
            Self::Slanted => View::SLANTED,
        }
    }
}

pub(super) fn run(task: &PictureTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let choice = |shown| Export::Picture(PictureChoice { shown, width: task.width, is_clear: task.transparent });
    let flat = choice(Shown::Sheet(Turn::from_count(task.turn).unwrap_or_default()));
    super::named(&task.output, &flat)?;
    let given = Given::read(&task.file)?;
    let export = match (&task.fold, &given.derived.folded) {
        (None, _) => flat,
        (Some(fold), Some((_, folding))) => choice(Shown::Folio(fold_time(fold, folding.steps())?, task.view.view())),
        // What is said of a design without a base.
        (Some(_), None) => choice(Shown::Folio(0.0, task.view.view())),
    };
    given.write(&task.output, &export, out, err)
}
