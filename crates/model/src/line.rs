//! Score lines and cuts, the way a maker says them: so far from an edge or another line, from here to there.

use crate::length::Length;
use crate::turn::Turn;

/// The name by which other things in the document refer to a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LineId(pub u32);

/// One line on the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its name in the document.
    pub id: LineId,
    /// What the maker calls it; may be empty.
    pub name: String,
    /// Where it is.
    pub place: Place,
    /// What is done along it.
    pub work: Work,
}

/// Where a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// On a turn of the sheet, at a distance to the right of its left edge or of another line.
    Measured {
        /// How the sheet lies.
        turn: Turn,
        /// What it is measured from.
        from: Datum,
        /// How far to the right; to the left of another line when negative.
        distance: Length,
        /// Which stretch of that line.
        run: Run,
    },
    /// Along another line, on its turn.
    Along {
        /// The line it lies on.
        line: LineId,
        /// Which stretch of it, measured on that line's turn.
        run: Run,
    },
}

/// What a distance is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Datum {
    /// The left edge of the sheet as it lies.
    Edge,
    /// A line parallel to this one.
    Line(LineId),
}

/// From a stop to a stop, top to bottom of the sheet as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Run {
    /// Where it starts.
    pub from: Stop,
    /// Where it ends.
    pub to: Stop,
}

/// Where a run starts or ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// The sheet's edge: the upper one for a start, the lower one for an end.
    Edge,
    /// Where it meets a line that crosses its way.
    Line(LineId),
    /// At a distance below the upper edge of the sheet as it lies.
    At(Length),
}

/// What is done along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    /// Pressed, to be folded.
    Score(Crease),
    /// Cut through. Where a cut and a score lie on one another, the cut holds.
    Cut,
}

/// How a score line folds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Crease {
    /// Which way.
    pub direction: Direction,
    /// How far.
    pub angle: FoldAngle,
}

/// Which way a score folds, seen from the front of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// The fronts come together.
    Valley,
    /// The backs come together.
    Mountain,
}

/// How far a score folds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FoldAngle {
    /// All the way: 180°.
    Flat,
    /// Upright: 90°, as on either side of a gusset.
    Square,
}

impl Run {
    /// From edge to edge.
    pub const FULL: Self = Self { from: Stop::Edge, to: Stop::Edge };
}

impl Direction {
    /// The other way.
    #[must_use]
    pub const fn reversed(self) -> Self {
        match self {
            Self::Valley => Self::Mountain,
            Self::Mountain => Self::Valley,
        }
    }
}

impl FoldAngle {
    /// Degrees turned from flat paper: 180 or 90.
    #[must_use]
    pub const fn degrees(self) -> i32 {
        match self {
            Self::Flat => 180,
            Self::Square => 90,
        }
    }
}

impl Crease {
    /// A valley folded all the way: what most scores are.
    pub const VALLEY: Self = Self { direction: Direction::Valley, angle: FoldAngle::Flat };
}

impl Work {
    /// Whether it is a cut.
    #[must_use]
    pub const fn is_cut(self) -> bool {
        matches!(self, Self::Cut)
    }
}

impl Place {
    /// The line that says how far across it lies: what it is measured from or lies along. Stops are another matter, since
    /// they only say how long it is.
    pub fn hangs_on(self) -> impl Iterator<Item = LineId> {
        let host = match self {
            Self::Measured { from: Datum::Line(line), .. } | Self::Along { line, .. } => Some(line),
            Self::Measured { .. } => None,
        };
        host.into_iter()
    }

    /// The same place with another run.
    #[must_use]
    pub const fn with_run(self, run: Run) -> Self {
        match self {
            Self::Measured { turn, from, distance, .. } => Self::Measured { turn, from, distance, run },
            Self::Along { line, .. } => Self::Along { line, run },
        }
    }

    /// The lines that it is placed by.
    pub fn needs(self) -> impl Iterator<Item = LineId> {
        let (first, run) = match self {
            Self::Measured { from: Datum::Line(line), run, .. } | Self::Along { line, run } => (Some(line), run),
            Self::Measured { run, .. } => (None, run),
        };
        let stop = |stop| if let Stop::Line(line) = stop { Some(line) } else { None };
        [first, stop(run.from), stop(run.to)].into_iter().flatten()
    }

    /// The stretch it takes.
    #[must_use]
    pub const fn run(self) -> Run {
        match self {
            Self::Measured { run, .. } | Self::Along { run, .. } => run,
        }
    }
}
