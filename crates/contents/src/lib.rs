//! A folio worked out from what should go in: an envelope with gussets all round, cut from one sheet, whose base holds the
//! things in one pile or in two side by side.
//!
//! What has to be chosen (how each thing is turned, in which pile it lies, how large the base is) is a small integer
//! programme, solved exactly for each way to lay the piles; the best of the three is taken. All measures of the folio are
//! whole grooves of the scoring board.
//!
//! Room is reckoned as everywhere in the program: things are 1/8 in smaller than what they lie in (common practice, no
//! source), and a gusset is as wide as the pile with the layers that close over it, and a caliper for its creases.

mod folio;
mod solve;
mod words;

use model::{Length, Stock, Unit};
use std::fmt;

/// Something that should go in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thing {
    /// What it is called; may be empty.
    pub name: String,
    /// How many of it.
    pub count: u32,
    /// How wide and how high one is as it is read.
    pub width: Length,
    /// See `width`.
    pub height: Length,
    /// How thick one is.
    pub thickness: Length,
}

/// How piles lie on the base.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Piles {
    /// All in one.
    One,
    /// Two, side by side.
    Beside,
    /// Two, one above the other.
    Above,
}

impl Piles {
    /// All ways, the plainest first.
    pub const ALL: [Self; 3] = [Self::One, Self::Beside, Self::Above];

    /// How many piles there are.
    #[must_use]
    pub const fn count(self) -> usize {
        match self {
            Self::One => 1,
            Self::Beside | Self::Above => 2,
        }
    }
}

/// Where a thing lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Lying {
    /// Whether it is turned a quarter.
    pub turned: bool,
    /// In which pile, counted from 0: the left or upper one first.
    pub pile: usize,
}

/// The measures of a folio, all in grooves of the board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measures {
    /// How far apart the grooves are.
    pub groove: Length,
    /// How the piles lie.
    pub piles: Piles,
    /// Where each thing lies.
    pub lying: Vec<Lying>,
    /// How wide each pile is, with the room round it; along the way the piles are laid.
    pub room: Vec<i64>,
    /// How wide and how high the base is.
    pub base: [i64; 2],
    /// How wide the gussets are.
    pub gusset: i64,
    /// How wide each side flap is: they cross in the middle.
    pub side: i64,
    /// How high the flap is that closes over the side flaps: as high as the base.
    pub front: i64,
    /// How high the flap is that closes last.
    pub closing: i64,
}

impl Measures {
    /// The size of the sheet that it needs, in grooves.
    #[must_use]
    pub const fn needed(&self) -> [i64; 2] {
        let [width, height] = self.base;
        [width + 2 * self.gusset + 2 * self.side, height + 2 * self.gusset + self.front + self.closing]
    }
}

/// Why there is no such folio.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// Nothing is to go in.
    Nothing,
    /// There are more kinds of things than [`MOST_THINGS`].
    TooMany,
    /// A thing has a measure of nothing, less or more than a sheet can have; or there is none of it.
    BadThing(usize),
    /// There are more of a thing than [`MOST_OF_IT`].
    TooManyOf(usize),
    /// How thick the paper is is not known.
    NoCaliper,
    /// The things are thicker than a gusset can be.
    TooThick {
        /// How wide the gusset would have to be.
        gusset: Length,
    },
    /// The sheet is too small.
    TooSmall {
        /// The smallest that would do, of those of the least area.
        needed: [Length; 2],
    },
}

/// The most kinds of things that go in: each doubles what there is to choose from.
pub const MOST_THINGS: usize = 12;

/// The most that there are of one thing: more are no folio's, and their thickness no length.
pub const MOST_OF_IT: u32 = 10_000;

/// The widest gusset: what is wider than 1 in is a panel in its own right (common practice, no source).
pub const WIDEST_GUSSET: Length = Length::INCH;

/// By how much things are smaller than what they lie in: 1/8 in (common practice, no source).
pub const ROOM: Length = Length::EIGHTH;

impl Refusal {
    /// What is wrong, and how to mend it, as one sentence.
    #[must_use]
    pub fn said(&self, things: &[Thing], stock: &Stock, unit: Unit) -> String {
        match self {
            Self::Nothing => "there is nothing to go in; say what should".to_owned(),
            Self::TooMany => {
                format!("there are {} kinds of things, and {MOST_THINGS} at most; leave some out", things.len())
            }
            Self::BadThing(at) => format!(
                "thing {} has no size, or there is none of it; give its count, width, height and thickness, all above 0",
                at + 1
            ),
            Self::TooManyOf(at) => format!("there are more than {MOST_OF_IT} of thing {}; put in fewer", at + 1),
            Self::NoCaliper => "how thick the paper is is not known; measure it, or say its weight".to_owned(),
            Self::TooThick { gusset } => format!(
                "even in two piles it needs a gusset of {}, and more than {} is no gusset; put in less",
                gusset.readable(unit),
                WIDEST_GUSSET.readable(unit)
            ),
            Self::TooSmall { needed: [width, height] } => format!(
                "the sheet of {} is too small for these; one of {} x {} would do",
                stock.size.text(unit),
                width.readable(unit),
                height.readable(unit)
            ),
        }
    }
}

impl fmt::Display for Piles {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::One => "in one pile",
            Self::Beside => "in two piles side by side",
            Self::Above => "in two piles, one above the other",
        })
    }
}

/// The measures of the folio that holds the things and takes the least of the sheet, in grooves so far apart.
///
/// # Errors
/// Why there is none; see [`Refusal`].
pub fn measures(things: &[Thing], stock: &Stock, groove: Length) -> Result<Measures, Refusal> {
    let task = solve::Task::of(things, stock, groove)?;
    task.best(Some(task.sheet)).ok_or_else(|| match task.best(None) {
        // The same with any sheet says what would do.
        Some(other) => Refusal::TooSmall { needed: other.needed().map(|grooves| task.groove * grooves) },
        None => Refusal::TooThick { gusset: task.narrowest() },
    })
}

pub use folio::folio;

#[cfg(test)]
mod tests;
