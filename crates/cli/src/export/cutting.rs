//! `foliowright export cutting`.

use super::Given;
use crate::{Failure, Outcome};
use ::export::Export;
use clap::{Args, ValueEnum};
use draw::cutting::{CuttingLayout, CuttingOptions, Dashes, ScoreStyle};
use model::{Document, Length};
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct CuttingTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the cutting file; its ending, .svg or .dxf, says which kind. Further sheets are put beside it, with
    /// their number in their names.
    #[arg(short, long, value_name = "OUT")]
    pub(crate) output: PathBuf,
    /// How pieces lie.
    #[arg(long, value_enum, default_value = "sheet")]
    pub(crate) layout: LayoutWord,
    /// How scores are done.
    #[arg(long, value_enum, default_value = "solid")]
    pub(crate) scores: ScoreWord,
    /// The length of a dash, such as `2 mm` or `1/16 in`; 4 mm when dashed, 2 mm when perforated, if left out.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) dash: Option<String>,
    /// What is left between two dashes; 1 mm if left out.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) gap: Option<String>,
    /// Put scores that are pressed into the back in a file of their own, mirrored, to be done first with the sheet
    /// turned over like a page.
    #[arg(long)]
    pub(crate) turn_over: bool,
    /// Also cut the edge of the sheet, from larger paper; pieces side by side are cut all round anyway.
    #[arg(long)]
    pub(crate) outline: bool,
    /// Also have names and guide lines, in a group of their own, for a pen.
    #[arg(long)]
    pub(crate) marks: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum LayoutWord {
    /// As on the sheet, with the parts where they are cut from; further sheets of parts each in a file.
    Sheet,
    /// Each piece and each part by itself, side by side; each paper in a file.
    Pieces,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ScoreWord {
    /// Pressed in one go.
    Solid,
    /// Pressed in dashes; begins and ends with one.
    Dashed,
    /// Cut through in dashes; begins and ends with uncut paper.
    Perforated,
}

pub(super) fn run(task: &CuttingTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    super::endings(&task.output, "a cutting file", &["svg", "dxf"])?;
    let given = Given::read(&task.file)?;
    let options = options(task, &given.document)?;
    given.write(&task.output, &Export::Cutting(options), out, err)
}

fn options(task: &CuttingTask, document: &Document) -> Result<CuttingOptions, Failure> {
    let scores = match task.scores {
        ScoreWord::Solid if task.dash.is_some() || task.gap.is_some() => {
            let sentence =
                "solid scores have no dashes; say --scores dashed or --scores perforated, or leave lengths out";
            return Err(Failure::unreadable(sentence.to_owned()));
        }
        ScoreWord::Solid => ScoreStyle::Solid,
        ScoreWord::Dashed => ScoreStyle::Dashed(dashes(task, document, Dashes::PRESSED)?),
        ScoreWord::Perforated if task.turn_over => {
            let sentence =
                "perforated scores are cut through, so the sheet need not be turned over; leave one of the two out";
            return Err(Failure::unreadable(sentence.to_owned()));
        }
        ScoreWord::Perforated => ScoreStyle::Perforated(dashes(task, document, Dashes::CUT)?),
    };
    let layout = match task.layout {
        LayoutWord::Sheet => CuttingLayout::Sheet,
        LayoutWord::Pieces => CuttingLayout::Pieces,
    };
    let CuttingTask { turn_over, outline, marks, .. } = *task;
    Ok(CuttingOptions { layout, scores, turn_over, outline, marks })
}

fn dashes(task: &CuttingTask, document: &Document, usual: Dashes) -> Result<Dashes, Failure> {
    let length = |text: &Option<String>, what: &str, usual: Length| {
        let Some(text) = text else { return Ok(usual) };
        let length = Length::parse_in(text, document.units).map_err(|error| Failure::unreadable(error.to_string()))?;
        if length < Dashes::LEAST {
            let least = Dashes::LEAST.text(model::Unit::Millimetre);
            return Err(Failure::unreadable(format!("{text} is too short for a {what}; give {least} or more")));
        }
        Ok(length)
    };
    let (dash, gap) = (length(&task.dash, "dash", usual.dash())?, length(&task.gap, "gap", usual.gap())?);
    Ok(Dashes::new(dash, gap).unwrap_or(usual))
}
