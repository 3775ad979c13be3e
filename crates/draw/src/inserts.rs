//! Cards, tags and mats at size, several to a page, each with cut marks outside it and words that say what it is for.

mod page;
mod slip;

use crate::list::Pages;
use crate::template::{MOST_PAGES, Paper};
use fit::{CornerSet, MatFit, PocketFit, TrayFit};
use model::{Document, Layout, Length, Unit};
use std::fmt;

pub use slip::{Slip, slips};

/// Which of them are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Choice {
    /// Cards and tags.
    Cards,
    /// Mats.
    Mats,
    /// All of them.
    #[default]
    All,
}

/// How they are laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct InsertsOptions {
    /// The paper in the printer; one of the sheet's own size is taken for what is usual in the design's unit.
    pub paper: Paper,
    /// The radius of their corners; zero for square ones.
    pub corner: Length,
    /// Which of them.
    pub choice: Choice,
}

/// What is known of a design that takes cards and mats.
#[derive(Debug, Clone, Copy)]
pub struct Takes<'a> {
    /// From [`fit::pockets`].
    pub pockets: &'a [PocketFit],
    /// From [`fit::corner_sets`].
    pub corners: &'a [CornerSet],
    /// From [`fit::trays`].
    pub trays: &'a [TrayFit],
    /// From [`fit::mats`].
    pub mats: &'a [MatFit],
}

/// Why there are no pages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InsertsRefusal {
    /// The design has none of what was asked for.
    Nothing(Choice),
    /// They would take more than [`MOST_PAGES`] pages.
    TooManyPages(usize),
    /// Rounded corners would meet on this one.
    CornerTooLarge {
        /// What it is.
        name: String,
        /// The radius.
        corner: String,
        /// Half of its shorter side: the most there can be.
        most: String,
    },
}

impl fmt::Display for InsertsRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing(Choice::Cards) => {
                f.write_str("nothing in this design holds a card; give it a pocket, tuck corners, a tray or an insert")
            }
            Self::Nothing(Choice::Mats) => {
                f.write_str("no face of this design takes a mat; mark a base panel, so that its faces are known")
            }
            Self::Nothing(Choice::All) => f.write_str(
                "this design holds no card and no face of it takes a mat; mark a base panel, or give it a pocket",
            ),
            Self::TooManyPages(pages) => {
                write!(f, "they would take {pages} pages of this paper; print cards and mats apart, or on larger paper")
            }
            Self::CornerTooLarge { name, corner, most } => {
                write!(f, "corners of {corner} would meet on \"{name}\"; give {most} or less")
            }
        }
    }
}

impl std::error::Error for InsertsRefusal {}

/// The pages of a design's cards, tags and mats.
///
/// # Errors
/// [`InsertsRefusal`] says what is missing, or why they can't be laid out so.
pub fn inserts(
    document: &Document,
    layout: &Layout,
    takes: &Takes<'_>,
    options: &InsertsOptions,
) -> Result<Pages, InsertsRefusal> {
    let slips = slips(document, layout, takes, options.choice);
    if slips.is_empty() {
        return Err(InsertsRefusal::Nothing(options.choice));
    }
    let corner = options.corner.max(Length::ZERO);
    if let Some(slip) = slips.iter().find(|slip| corner > slip.most_corner()) {
        let [corner, most] = [corner, slip.most_corner()].map(|length| length.readable(document.units));
        return Err(InsertsRefusal::CornerTooLarge { name: slip.name.clone(), corner, most });
    }
    let usual = if document.units == Unit::Inch { Paper::Letter } else { Paper::A4 };
    let paper = options.paper.size().or_else(|| usual.size()).unwrap_or_default();
    let pages = page::pages(document, &slips, paper, corner);
    match pages.len() {
        count if count > MOST_PAGES => Err(InsertsRefusal::TooManyPages(count)),
        _ => Ok(Pages { title: format!("{}, cards and mats", document.title), pages }),
    }
}
