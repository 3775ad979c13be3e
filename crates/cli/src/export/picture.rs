//! `foliowright export picture`.

use super::{PRINTED_FINELY, ending, furnishing, printed, prints, refused, save};
use crate::{Failure, Outcome, fold_time, read};
use clap::{Args, ValueEnum};
use draw::folded::{View, bounds_in_pose, folded_picture, printed_scene};
use draw::list::Drawing;
use draw::sheet::{SheetLook, printed_sheet_picture};
use fold::{Assembly, Folding};
use model::{Document, Turn};
use output::Ground;
use session::Derived;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Longer side of a folded picture, mm.
pub(super) const FOLDED_PICTURE: f64 = 200.0;

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

/// What a picture is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// So many pixels across, on a ground.
    Png(u32, Ground),
    /// Lines and areas.
    Svg,
}

impl Kind {
    /// By the ending of a file's name.
    pub(super) fn of(path: &Path, width: u32, ground: Ground) -> Result<Self, Failure> {
        match ending(path).as_str() {
            "png" => Ok(Self::Png(width, ground)),
            "svg" => Ok(Self::Svg),
            _ => {
                let name = path.display();
                Err(Failure::unreadable(format!("\"{name}\" is no picture; end its name in .png or .svg")))
            }
        }
    }

    /// How many pixels a millimetre of paper are worth keeping, where so many millimetres of it fill the picture.
    pub(super) fn per_mm(self, across: f64) -> f64 {
        match self {
            Self::Png(width, _) => f64::from(width) / across.max(1.0),
            Self::Svg => PRINTED_FINELY,
        }
    }

    /// The file.
    pub(super) fn bytes(self, drawing: &Drawing) -> Result<Vec<u8>, Failure> {
        match self {
            Self::Png(width, ground) => output::png_on(drawing, width, ground).map_err(refused),
            Self::Svg => Ok(output::svg(drawing).map_err(refused)?.into_bytes()),
        }
    }
}

pub(super) fn run(task: &PictureTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let document = read(&task.file)?;
    let ground = if task.transparent { Ground::Clear } else { Ground::White };
    let kind = Kind::of(&task.output, task.width, ground)?;
    let drawing = picture(task, &document, kind, err)?;
    save(&task.output, &kind.bytes(&drawing)?)?;
    writeln!(out, "{}", task.output.display())?;
    Ok(())
}

fn picture(task: &PictureTask, document: &Document, kind: Kind, err: &mut dyn Write) -> Result<Drawing, Failure> {
    let derived = Derived::of(document);
    let Some(fold) = &task.fold else {
        let turn = Turn::from_count(task.turn).unwrap_or_default();
        let look = SheetLook { turn, ..SheetLook::default() };
        let across = turn.size_of(derived.layout.size).0.mm();
        let prints = prints(&task.file, document, kind.per_mm(across), err)?;
        return Ok(printed_sheet_picture(document, &derived.layout, furnishing(&derived).as_ref(), &prints, &look));
    };
    let (assembly, folding) = folded(&derived, &task.file)?;
    let poses = folding.pose(fold_time(fold, folding.steps())?);
    let view = task.view.view();
    let across = bounds_in_pose(&derived.layout, assembly, &poses, &view).width();
    let prints = prints(&task.file, document, kind.per_mm(across), err)?;
    let scene = printed_scene(&derived.layout, assembly, &poses, &view, &printed(&prints, &derived));
    let description = format!("{}: folded {fold} of {} steps.", document.title, folding.steps());
    Ok(folded_picture(&scene, FOLDED_PICTURE, &description))
}

/// The folio and how it folds.
pub(super) fn folded<'a>(derived: &'a Derived, file: &Path) -> Result<(&'a Assembly, &'a Folding), Failure> {
    derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding)).ok_or_else(|| {
        let sentence = format!("{}: nothing can be folded, since no panel is marked as the base", file.display());
        Failure::Refused(Some(sentence))
    })
}
