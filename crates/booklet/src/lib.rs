//! The booklet: all that a person needs to make a folio who has nothing else, as pages to print.
//!
//! What is said (block after block, made by the files in `chapter`) is kept apart from how it is set on pages (`flow`).
//! Sentences come from where they are made for everybody: instructions from `make`, cuts from `model` and `allot`, what fits
//! from `fit`, the post from `check`; here they are put in order, with pictures, and said in one unit of length or in two.
//!
//! Nothing is worked out about the folio itself, and no output format is known.

mod block;
mod chapter;
mod flow;
mod picture;
mod set;
mod style;
mod table;
mod units;
mod voice;

pub use units::Units;

use allot::Allotment;
use draw::artwork::{Printed, Prints};
use draw::list::Pages;
use fold::{Assembly, Folding};
use kurbo::Size;
use make::Making;
use model::{Document, Layout};
use std::fmt;

/// A design and what follows from it.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The design.
    pub document: &'a Document,
    /// Its layout.
    pub layout: &'a Layout,
    /// The folio and how it folds; `None` while no base is marked.
    pub folded: Option<(&'a Assembly, &'a Folding)>,
    /// Where the paper of parts comes from; `None` without parts.
    pub supply: Option<&'a Allotment>,
    /// What is printed on its papers, with as many pixels as [`per_mm`] asks for.
    pub prints: &'a Prints,
    /// In which order it is made.
    pub making: &'a Making,
}

impl<'a> Subject<'a> {
    pub(crate) const fn printed(&self) -> Printed<'a> {
        Printed { prints: self.prints, supply: self.supply }
    }
}

/// How many pixels a millimetre of paper are worth keeping of what is printed on the papers of a design: so few that each
/// picture adds at most some 2 MB to a booklet, and still some 150 an inch where the sheet is shown largest.
#[must_use]
pub fn per_mm(document: &Document) -> f64 {
    /// Pixels along the longest side of whatever is printed, and of the paper.
    const MOST_ALONG: f64 = 800.0;
    draw::artwork::per_mm(document, MOST_ALONG)
}

/// What a booklet is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Paper {
    /// 8 1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm.
    A4,
}

/// How a booklet is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BookletOptions {
    /// The paper in the printer.
    pub paper: Paper,
    /// What lengths are said in.
    pub units: Units,
}

/// The most lines of a design with a booklet: each cut has a picture of the sheet with all of them, and nobody makes so many
/// by following steps.
pub const MOST_LINES: usize = 200;

/// The most parts of a design with a booklet.
pub const MOST_PARTS: usize = 60;

/// Why there is no booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BookletRefusal {
    /// The design has more than [`MOST_LINES`] lines.
    TooManyLines(usize),
    /// The design has more than [`MOST_PARTS`] parts.
    TooManyParts(usize),
}

impl fmt::Display for BookletRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (count, what, most) = match self {
            Self::TooManyLines(count) => (count, "lines", MOST_LINES),
            Self::TooManyParts(count) => (count, "parts", MOST_PARTS),
        };
        write!(
            f,
            "the design has {count} {what}, and a booklet tells of {most} at most; export its template, or make a booklet \
             of a simpler design"
        )
    }
}

impl std::error::Error for BookletRefusal {}

impl Paper {
    /// Width and height, mm.
    #[must_use]
    pub const fn size(self) -> Size {
        match self {
            Self::Letter => Size::new(215.9, 279.4),
            Self::A4 => Size::new(210.0, 297.0),
        }
    }
}

/// The booklet's pages.
///
/// # Errors
/// [`BookletRefusal`] for a design that is too large to be told step by step.
pub fn booklet(subject: &Subject<'_>, options: &BookletOptions) -> Result<Pages, BookletRefusal> {
    let Document { lines, parts, .. } = subject.document;
    if lines.len() > MOST_LINES {
        return Err(BookletRefusal::TooManyLines(lines.len()));
    }
    if parts.len() > MOST_PARTS {
        return Err(BookletRefusal::TooManyParts(parts.len()));
    }
    let voice = voice::Voice::new(subject, options.units);
    let content = chapter::all(subject, &voice);
    Ok(flow::set(&content, options.paper.size(), &subject.document.title))
}

#[cfg(test)]
mod tests;
