//! `foliowright export template`.

use super::Given;
use crate::Outcome;
use ::export::{Export, TemplateChoice};
use clap::{Args, ValueEnum};
use draw::template::{Paper, Sides};
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct TemplateTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the PDF.
    #[arg(short, long, value_name = "OUT.pdf")]
    pub(crate) output: PathBuf,
    /// The paper in the printer; `sheet` makes one page as large as the sheet. Letter for designs in inches, A4 for
    /// others, when left out.
    #[arg(long, value_enum)]
    pub(crate) paper: Option<PaperWord>,
    /// After each page of the sheet also its back, for printing on both sides with pages flipped on the long edge.
    #[arg(long)]
    pub(crate) back: bool,
    /// Print the pictures that are on the faces of the sheet, at their own size, under the lines.
    #[arg(long)]
    pub(crate) artwork: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperWord {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
    /// 11 x 17 in.
    Tabloid,
    /// 297 x 420 mm.
    A3,
    /// As large as the sheet.
    Sheet,
}

impl PaperWord {
    const fn paper(self) -> Paper {
        match self {
            Self::Letter => Paper::Letter,
            Self::A4 => Paper::A4,
            Self::Tabloid => Paper::Tabloid,
            Self::A3 => Paper::A3,
            Self::Sheet => Paper::Sheet,
        }
    }
}

pub(super) fn run(task: &TemplateTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    super::endings(&task.output, "a template", &["pdf"])?;
    let given = Given::read(&task.file)?;
    let usual = TemplateChoice::usual(&given.document);
    let choice = TemplateChoice {
        paper: task.paper.map_or(usual.paper, PaperWord::paper),
        sides: if task.back { Sides::Both } else { Sides::Front },
        artwork: task.artwork,
    };
    given.write(&task.output, &Export::Template(choice), out, err)
}
