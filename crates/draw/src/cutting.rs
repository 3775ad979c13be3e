//! What a cutting machine is given: every contour to press, to cut and to draw, in the order of work.
//!
//! Marks come first, then scores, while the sheet is whole and lies still; then slots, which take paper out and set no
//! piece free; then cuts, of each piece from the inside out, and of small pieces before large ones; the sheet's own
//! edge last, where it is asked for. No stretch is cut twice: where two pieces, or a part and its offcut, share an edge,
//! it is the smaller one's. Parts are cut along their outlines only, for a blade that follows these needs no cut from
//! edge to edge. Lines and arcs are those of the design; formats are the business of `output`.

mod circle;
mod contour;
mod covered;
mod dash;
mod edge;
mod figure;
mod job;
mod mark;
mod pieces;
mod sheet;

pub use contour::{Bend, Contour, Track};
pub use dash::{Dashes, ScoreStyle};
pub use model::Direction;

use crate::list::Role;
use crate::sheet::{counted, role_of_fold};
use crate::style::{self, Colour, ink_for};
use allot::{Allotment, Origin};
use job::Job;
use kurbo::Size;
use model::{Document, Face, Layout};
use std::fmt;

/// What is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CuttingOptions {
    /// How pieces lie.
    pub layout: CuttingLayout,
    /// How scores are done.
    pub scores: ScoreStyle,
    /// Whether scores that are pressed into the back come on a sheet of their own, turned over.
    pub turn_over: bool,
    /// Whether the sheet's edge is cut too, from larger paper.
    pub outline: bool,
    /// Whether names, and guide lines where the sheet lies as it is, are there to be drawn.
    pub marks: bool,
}

/// How pieces lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum CuttingLayout {
    /// As on the sheet, with the parts where they are cut from.
    #[default]
    Sheet,
    /// Each by itself, side by side.
    Pieces,
}

/// What a machine does along contours; ascending in the order in which it is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pass {
    /// Drawn with a pen.
    Mark,
    /// Scored, to fold this way as seen from the front.
    Score(Direction),
    /// Cut round a slot.
    Slot,
    /// Cut.
    Cut,
    /// Cut along the edge of the sheet.
    Outline,
}

/// All of it.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingPlan {
    /// What the design is called.
    pub title: String,
    /// Sheet by sheet in the order of work; at least one, and something on each.
    pub sheets: Vec<CuttingSheet>,
    /// What a maker wants to know before she cuts, in sentences.
    pub notes: Vec<String>,
}

/// One sheet, as it is put into the machine once.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingSheet {
    /// What it is called.
    pub name: String,
    /// Its number, from 1; that of a sheet turned over is the same.
    pub number: usize,
    /// Whether it is turned over, like a page, so that its back lies up.
    pub is_back: bool,
    /// Width and height in mm.
    pub size: Size,
    /// What is done to it: all in one, or piece by piece.
    pub groups: Vec<CuttingGroup>,
}

/// What is done to a sheet, or to one piece on it.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingGroup {
    /// A word without spaces, unlike any other on the sheet; empty for all of a sheet.
    pub key: String,
    /// What a maker calls it; empty for all of a sheet.
    pub name: String,
    /// Pass by pass in the order of work, with the contours of each.
    pub passes: Vec<(Pass, Vec<Contour>)>,
}

/// Why there is nothing to give to a machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CuttingRefusal {
    /// Nothing is scored or cut.
    Nothing,
    /// Scores would take more dashes than [`MOST_DASHES`].
    TooManyDashes,
}

/// No more dashes than these, together: files of more are slow to open.
pub const MOST_DASHES: f64 = 100_000.0;

impl fmt::Display for CuttingRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => f.write_str(
                "nothing is scored or cut in this design; draw a line, or cut the sheet itself with the outline",
            ),
            Self::TooManyDashes => {
                write!(f, "the scores would take more than {MOST_DASHES} dashes; make dashes or gaps longer")
            }
        }
    }
}

impl std::error::Error for CuttingRefusal {}

impl Pass {
    /// A stable lower-case word: an SVG group's name, and in capitals a DXF layer's.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::Score(direction) => role_of_fold(direction).key(),
            Self::Slot => "slot",
            Self::Cut => "cut",
            Self::Outline => "outline",
        }
    }

    /// "2 cuts", "1 valley score".
    #[must_use]
    pub fn counted(self, count: usize) -> String {
        let noun = match self {
            Self::Mark => "mark",
            Self::Score(Direction::Valley) => "valley score",
            Self::Score(Direction::Mountain) => "mountain score",
            Self::Score(Direction::Either) => "either-way score",
            Self::Slot => "slot",
            Self::Cut => "cut",
            Self::Outline => "outline",
        };
        counted(count, noun)
    }

    /// Its colour on screen, by which some machines tell passes apart.
    #[must_use]
    pub const fn colour(self) -> Colour {
        match self {
            Self::Mark => ink_for(Role::Guide),
            Self::Score(direction) => ink_for(role_of_fold(direction)),
            Self::Slot => style::SLOT_INK,
            Self::Cut => ink_for(Role::Cut),
            Self::Outline => ink_for(Role::Outline),
        }
    }

    /// Whether it is no matter in which order its contours are run.
    const fn has_any_order(self) -> bool {
        matches!(self, Self::Mark | Self::Score(_))
    }
}

impl CuttingSheet {
    /// The passes with how many contours each has, in the order of work.
    #[must_use]
    pub fn counts(&self) -> Vec<(Pass, usize)> {
        let mut counts = std::collections::BTreeMap::new();
        for (pass, contours) in self.groups.iter().flat_map(|group| &group.passes) {
            *counts.entry(*pass).or_insert(0) += contours.len();
        }
        counts.into_iter().collect()
    }
}

/// Everything that a machine does for a design.
///
/// # Errors
/// Says why there is nothing to do, or too much.
pub fn cutting(
    document: &Document,
    layout: &Layout,
    supply: Option<&Allotment>,
    options: CuttingOptions,
) -> Result<CuttingPlan, CuttingRefusal> {
    let job = Job { document, layout, supply, options };
    if job.dashes() > MOST_DASHES {
        return Err(CuttingRefusal::TooManyDashes);
    }
    let sheets = match options.layout {
        CuttingLayout::Sheet => sheet::sheets(&job),
        CuttingLayout::Pieces => pieces::sheets(&job),
    };
    let works = sheets.iter().flat_map(CuttingSheet::counts).any(|(pass, _)| pass != Pass::Mark);
    if !works {
        return Err(CuttingRefusal::Nothing);
    }
    Ok(CuttingPlan { title: document.title.clone(), sheets, notes: notes(&job) })
}

fn notes(job: &Job<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    let lost = job.layout.lines.values().filter(|placed| placed.is_err()).count();
    if lost > 0 {
        let (lines, (have, are)) = (counted(lost, "line"), if lost == 1 { ("has", "is") } else { ("have", "are") });
        notes.push(format!("{lines} {have} no place on the sheet and {are} left out; check the design."));
    }
    for (id, fault) in &job.layout.part_faults {
        let (what, _) = fault.said(job.document);
        notes.push(format!("\"{}\" {what}, so it is left out; check the design.", job.document.part_name(*id)));
    }
    let supplies = job.supply.iter().flat_map(|supply| &supply.supplies);
    for supply in supplies.filter(|_| job.options.layout == CuttingLayout::Sheet) {
        if let (Origin::Missing(why), Some(part)) = (&supply.from, job.layout.part(supply.part)) {
            notes.push(format!("\"{}\" has no paper and is left out: {why}", part.name));
        }
    }
    let back = job.creases().any(|crease| crease.face() == Face::Back);
    let cut_through = matches!(job.options.scores, ScoreStyle::Perforated(_));
    if back && !job.options.turn_over && !cut_through {
        let says = "Some scores are best pressed into the back; here they all lie on the front.";
        notes.push(says.to_owned());
    }
    if !back && job.options.turn_over {
        notes.push("No score is pressed into the back, so no sheet is turned over.".to_owned());
    }
    notes
}

#[cfg(test)]
mod tests;
