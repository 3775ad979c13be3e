//! `foliowright export template`.

use super::{ending, furnishing, refused, save};
use crate::{Failure, Outcome, read};
use clap::{Args, ValueEnum};
use draw::template::{Paper, TemplateOptions, template};
use session::Derived;
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
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperWord {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
    /// As large as the sheet.
    Sheet,
}

pub(super) fn run(task: &TemplateTask, out: &mut dyn Write) -> Outcome {
    if ending(&task.output) != "pdf" {
        let name = task.output.display();
        return Err(Failure::unreadable(format!("\"{name}\" is no name for a template; end it in .pdf")));
    }
    let document = read(&task.file)?;
    let derived = Derived::of(&document);
    let furnishing = furnishing(&derived);
    let mut options = TemplateOptions::for_units(document.units);
    if let Some(word) = task.paper {
        options.paper = match word {
            PaperWord::Letter => Paper::Letter,
            PaperWord::A4 => Paper::A4,
            PaperWord::Sheet => Paper::Sheet,
        };
    }
    let pages = template(&document, &derived.layout, furnishing.as_ref(), &options)
        .map_err(|refusal| Failure::Refused(Some(refusal.to_string())))?;
    let bytes = output::pdf(&pages).map_err(refused)?;
    save(&task.output, &bytes)?;
    let count = pages.pages.len();
    writeln!(out, "{}: {count} {}", task.output.display(), if count == 1 { "page" } else { "pages" })?;
    Ok(())
}
