//! `foliowright export booklet`.

use super::{ending, refused, save};
use crate::{Failure, Outcome, read};
use booklet::{BookletOptions, Paper, Subject, Units, booklet};
use clap::{Args, ValueEnum};
use model::Unit;
use session::Derived;
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

pub(super) fn run(task: &BookletTask, out: &mut dyn Write) -> Outcome {
    if ending(&task.output) != "pdf" {
        let name = task.output.display();
        return Err(Failure::unreadable(format!("\"{name}\" is no name for a booklet; end it in .pdf")));
    }
    let document = read(&task.file)?;
    let derived = Derived::of(&document);
    let paper = match (task.paper, document.units) {
        (Some(PaperWord::Letter), _) | (None, Unit::Inch) => Paper::Letter,
        (Some(PaperWord::A4), _) | (None, Unit::Millimetre | Unit::Centimetre) => Paper::A4,
    };
    let units = match task.units {
        None => Units::only(document.units),
        Some(UnitsWord::In) => Units::only(Unit::Inch),
        Some(UnitsWord::Mm) => Units::only(Unit::Millimetre),
        Some(UnitsWord::Both) => Units::both(document.units),
    };
    let subject = Subject {
        document: &document,
        layout: &derived.layout,
        folded: derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding)),
        supply: derived.supply.as_ref(),
        making: derived.making(&document),
    };
    let pages = booklet(&subject, &BookletOptions { paper, units })
        .map_err(|refusal| Failure::Refused(Some(format!("{}: {refusal}", task.file.display()))))?;
    let bytes = output::pdf(&pages).map_err(refused)?;
    save(&task.output, &bytes)?;
    let count = pages.pages.len();
    writeln!(out, "{}: {count} {}", task.output.display(), if count == 1 { "page" } else { "pages" })?;
    Ok(())
}
