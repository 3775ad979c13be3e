//! `foliowright export booklet`.

use super::Given;
use crate::Outcome;
use ::export::{BookletChoice, BookletPaper, Export, UnitsChoice};
use clap::{Args, ValueEnum};
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct BookletTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the PDF.
    #[arg(short, long, value_name = "OUT.pdf")]
    pub(crate) output: PathBuf,
    /// The paper in the printer. Letter for designs in inches, A4 for others, when left out.
    #[arg(long, value_enum)]
    pub(crate) paper: Option<PaperWord>,
    /// What lengths are said in; the design's own unit when left out.
    #[arg(long, value_enum)]
    pub(crate) units: Option<UnitsWord>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperWord {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitsWord {
    /// Inches.
    In,
    /// Millimetres.
    Mm,
    /// Both, the design's own first and the other in brackets.
    Both,
}

pub(super) fn run(task: &BookletTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    super::endings(&task.output, "a booklet", &["pdf"])?;
    let given = Given::read(&task.file)?;
    let usual = BookletChoice::usual(&given.document);
    let paper = match task.paper {
        None => usual.paper,
        Some(PaperWord::Letter) => BookletPaper::Letter,
        Some(PaperWord::A4) => BookletPaper::A4,
    };
    let units = match task.units {
        None => usual.units,
        Some(UnitsWord::In) => UnitsChoice::Inches,
        Some(UnitsWord::Mm) => UnitsChoice::Millimetres,
        Some(UnitsWord::Both) => UnitsChoice::Both,
    };
    given.write(&task.output, &Export::Booklet(BookletChoice { paper, units }), out, err)
}
