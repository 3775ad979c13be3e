//! `foliowright export inserts`.

use super::{ending, refused, save};
use crate::{Failure, Outcome, read};
use clap::{Args, ValueEnum};
use draw::inserts::{Choice, InsertsOptions, Takes, inserts};
use draw::template::{Paper, TemplateOptions};
use model::{Document, Length};
use session::Derived;
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct InsertsTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the PDF.
    #[arg(short, long, value_name = "OUT.pdf")]
    pub(crate) output: PathBuf,
    /// The paper in the printer; Letter for designs in inches, A4 for others, when left out.
    #[arg(long, value_enum)]
    pub(crate) paper: Option<LeafWord>,
    /// What is printed.
    #[arg(long = "for", value_enum, default_value = "all")]
    pub(crate) choice: ChoiceWord,
    /// The radius of rounded corners, such as 1/8in; square when left out.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) corner: Option<String>,
    /// How much smaller mats are than the faces that they go on, at each edge; 1/8in when left out.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) margin: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum LeafWord {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
    /// 11 x 17 in.
    Tabloid,
    /// 297 x 420 mm.
    A3,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ChoiceWord {
    /// Cards and tags.
    Cards,
    /// Mats for faces that show.
    Mats,
    /// All of them.
    All,
}

impl LeafWord {
    const fn paper(self) -> Paper {
        match self {
            Self::Letter => Paper::Letter,
            Self::A4 => Paper::A4,
            Self::Tabloid => Paper::Tabloid,
            Self::A3 => Paper::A3,
        }
    }
}

impl ChoiceWord {
    const fn choice(self) -> Choice {
        match self {
            Self::Cards => Choice::Cards,
            Self::Mats => Choice::Mats,
            Self::All => Choice::All,
        }
    }
}

pub(super) fn run(task: &InsertsTask, out: &mut dyn Write) -> Outcome {
    if ending(&task.output) != "pdf" {
        let name = task.output.display();
        return Err(Failure::unreadable(format!("\"{name}\" is no name for a PDF; end it in .pdf")));
    }
    let document = read(&task.file)?;
    let options = InsertsOptions {
        paper: task.paper.map_or(TemplateOptions::for_units(document.units).paper, LeafWord::paper),
        corner: length(task.corner.as_deref(), Length::ZERO, "radius", &document)?,
        choice: task.choice.choice(),
    };
    let margin = length(task.margin.as_deref(), fit::MARGIN, "margin", &document)?;
    let derived = Derived::of(&document);
    let (fits, mats) = (derived.fits(&document), derived.mats_with(&document, margin));
    let takes = Takes { pockets: &fits.pockets, corners: &fits.corners, trays: &fits.trays, mats: &mats };
    let pages = inserts(&document, &derived.layout, &takes, &options)
        .map_err(|refusal| Failure::Refused(Some(refusal.to_string())))?;
    let bytes = output::pdf(&pages).map_err(refused)?;
    save(&task.output, &bytes)?;
    let count = pages.pages.len();
    writeln!(out, "{}: {count} {}", task.output.display(), if count == 1 { "page" } else { "pages" })?;
    Ok(())
}

/// A length as typed, nothing or more.
fn length(text: Option<&str>, usual: Length, what: &str, document: &Document) -> Result<Length, Failure> {
    let Some(text) = text else { return Ok(usual) };
    let length = Length::parse_in(text, document.units).map_err(|error| Failure::unreadable(error.to_string()))?;
    if length < Length::ZERO {
        let says = format!("{} is no {what}; give nothing or more", length.text(document.units));
        return Err(Failure::unreadable(says));
    }
    Ok(length)
}
