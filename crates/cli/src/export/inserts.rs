//! `foliowright export inserts`.

use super::Given;
use crate::{Failure, Outcome};
use ::export::{Export, InsertsChoice};
use clap::{Args, ValueEnum};
use draw::inserts::Choice;
use draw::template::Paper;
use model::{Document, Length};
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

pub(super) fn run(task: &InsertsTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    super::endings(&task.output, "a PDF of inserts", &["pdf"])?;
    let given = Given::read(&task.file)?;
    let usual = InsertsChoice::usual(&given.document);
    let choice = InsertsChoice {
        paper: task.paper.map_or(usual.paper, LeafWord::paper),
        which: task.choice.choice(),
        corner: length(task.corner.as_deref(), usual.corner, "radius", &given.document)?,
        margin: length(task.margin.as_deref(), usual.margin, "margin", &given.document)?,
    };
    given.write(&task.output, &Export::Inserts(choice), out, err)
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
