//! The answer: where every part is cut from, the cuts in their order, what remains, and how good the plan is.

use crate::task::Rect;
use model::{Area, Length, Point};

/// Which way a cut runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    /// From the top edge to the bottom edge: it parts left from right.
    Upright,
    /// From the left edge to the right edge: it parts top from bottom.
    Level,
}

/// One part in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placement {
    /// Which of the task's parts.
    pub part: usize,
    /// Which of the task's leftovers.
    pub leftover: usize,
    /// Where it is cut from it.
    pub rect: Rect,
    /// Whether it is turned by a quarter.
    pub turned: bool,
}

/// One cut from edge to edge of `paper`. It takes a strip `kerf` wide, from `at` to the right or down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// The rectangle that is cut.
    pub paper: Rect,
    /// Which way the cut runs.
    pub way: Way,
    /// Where: from the left edge of the sheet for an upright cut, from its top edge for a level one.
    pub at: Length,
    /// How much the cut destroys: the knife's kerf, or what there is when the edge is nearer than that.
    pub kerf: Length,
    /// What lies left of the cut, or above it.
    pub first: Box<Paper>,
    /// What lies right of it, or below; `None` when the kerf takes all of it.
    pub second: Option<Box<Paper>>,
}

/// What becomes of a rectangle of paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Paper {
    /// It is cut; this cut comes before all cuts in what it parts.
    Cut(Cut),
    /// It is a part: an index into [`Plan::placements`].
    Part(usize),
    /// It is left over again: an index into [`Plan::remainders`].
    Remainder(usize),
    /// It is a strip trimmed off an edge.
    Trim(Rect),
}

/// A first cut through an outline, from an inner corner straight on to the next edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Opening {
    /// The inner corner it starts in.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// One rectangle of a leftover with all its cuts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Body {
    /// The rectangle.
    pub rect: Rect,
    /// What becomes of it.
    pub paper: Paper,
}

/// How one leftover is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftoverPlan {
    /// The first cuts, in order, that make rectangles of an outline. None for a rectangle.
    pub openings: Vec<Opening>,
    /// The rectangles. None for an outline that is not touched.
    pub bodies: Vec<Body>,
    /// The area of the leftover.
    pub area: Area,
    /// How much of it cuts destroy, and rectangles thinner than a cut with them.
    pub kerf: Area,
    /// How much of it is trimmed off edges.
    pub trim: Area,
}

/// A rectangle that is left when all is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Remainder {
    /// Which of the task's leftovers it comes from.
    pub leftover: usize,
    /// Where it lay in it.
    pub rect: Rect,
}

/// What the plan reaches and how far it could at most be bettered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quality {
    /// No plan of edge-to-edge cuts has more of what the goal counts. Whether it could do with fewer cuts is not claimed.
    Proved,
    /// The best that was found; none has more of what the goal counts than this.
    Found {
        /// In square nanometres for [`crate::Goal::Area`], else worth or pieces.
        bound: u128,
    },
}

/// Which part comes from where, and how to cut it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The parts that are cut.
    pub placements: Vec<Placement>,
    /// For every leftover of the task, how it is cut.
    pub leftovers: Vec<LeftoverPlan>,
    /// The rectangles that are left, untouched rectangles among them.
    pub remainders: Vec<Remainder>,
    /// How many of each part are not placed.
    pub missing: Vec<u32>,
    /// Whether at least as many of every part are placed as have to be.
    pub has_least: bool,
    /// The area of all parts placed.
    pub used: Area,
    /// What the goal counts: square nanometres, worth or pieces.
    pub reached: u128,
    /// How many cuts there are in all.
    pub cuts: usize,
    /// How good the plan is.
    pub quality: Quality,
}

impl Plan {
    /// The largest rectangle that is left, in square nanometres; nothing when none is.
    #[must_use]
    pub fn largest_remainder(&self) -> Area {
        self.remainders.iter().map(|remainder| remainder.rect.area()).max().unwrap_or(Area::ZERO)
    }
}
