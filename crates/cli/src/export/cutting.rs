//! `foliowright export cutting`.

use super::{ending, refused, save};
use crate::{Failure, Outcome, read};
use clap::{Args, ValueEnum};
use draw::cutting::{CuttingLayout, CuttingOptions, CuttingSheet, Dashes, ScoreStyle, cutting};
use model::{Document, Length};
use session::Derived;
use std::io::Write;
use std::path::{Path, PathBuf};

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

/// How a sheet is written.
type Writer = fn(&str, &CuttingSheet) -> Result<String, output::OutputError>;

pub(super) fn run(task: &CuttingTask, out: &mut dyn Write) -> Outcome {
    let writer: Writer = match ending(&task.output).as_str() {
        "svg" => output::cutting_svg,
        "dxf" => |_, sheet| output::cutting_dxf(sheet),
        _ => {
            let name = task.output.display();
            return Err(Failure::unreadable(format!("\"{name}\" is no cutting file; end its name in .svg or .dxf")));
        }
    };
    let document = read(&task.file)?;
    let options = options(task, &document)?;
    let derived = Derived::of(&document);
    let plan = cutting(&document, &derived.layout, derived.supply.as_ref(), options)
        .map_err(|refusal| Failure::Refused(Some(format!("{}: {refusal}", task.file.display()))))?;
    let written = plan.sheets.iter().map(|sheet| Ok((sheet, writer(&plan.title, sheet).map_err(refused)?)));
    // Nothing is saved unless all can be.
    for (sheet, text) in written.collect::<Result<Vec<_>, Failure>>()? {
        let path = path_of(&task.output, sheet);
        save(&path, text.as_bytes())?;
        writeln!(out, "{}: {}", path.display(), told(sheet))?;
    }
    for note in &plan.notes {
        writeln!(out, "{note}")?;
    }
    Ok(())
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

/// The name asked for, with the number of a further sheet and with "back" for one that is turned over.
fn path_of(output: &Path, sheet: &CuttingSheet) -> PathBuf {
    let number = if sheet.number > 1 { format!("-{}", sheet.number) } else { String::new() };
    let back = if sheet.is_back { "-back" } else { "" };
    let stem = output.file_stem().map(|stem| stem.to_string_lossy()).unwrap_or_default();
    let ending = output.extension().map(|ending| ending.to_string_lossy()).unwrap_or_default();
    if number.is_empty() && back.is_empty() {
        return output.to_owned();
    }
    output.with_file_name(format!("{stem}{number}{back}.{ending}"))
}

/// "the sheet, 304.8 x 304.8 mm: 4 valley scores, 2 slots, 9 cuts".
fn told(sheet: &CuttingSheet) -> String {
    let counts = sheet.counts().into_iter().map(|(pass, count)| pass.counted(count));
    let (width, height) = (sheet.size.width, sheet.size.height);
    format!("{}, {width} x {height} mm: {}", sheet.name, counts.collect::<Vec<_>>().join(", "))
}
