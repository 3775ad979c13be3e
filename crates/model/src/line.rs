//! Score lines and cuts, the way a maker says them: so far from an edge or another line, from here to there.

use crate::geometry::Point;
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
    /// Whether it stays where it is when others are moved in bulk, and can't be dragged. It still follows what it is
    /// measured from.
    pub locked: bool,
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
        /// Which stretch of it, measured on that line's turn; from its start on when that line is drawn.
        run: Run,
    },
    /// Drawn from one spot to another, at any angle.
    Drawn {
        /// Where it starts.
        from: Spot,
        /// Where it ends.
        to: Spot,
        /// How far its middle rises above the straight way, for a cut that is an arc of a circle: to the left when
        /// positive, to the right when negative, left and right as for a [`StripSide`]; half the way's length at most.
        /// Zero for a straight line.
        bow: Length,
    },
}

/// A spot on the sheet from or to which a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spot {
    /// So far from the sheet's left and top edge, as it is drawn.
    At(Point),
    /// Where two lines, carried on as far as needed, cross.
    Crossing(LineId, LineId),
    /// On a line, so far below the upper edge of the sheet as that line has it lie; from its start on when it is drawn.
    On(LineId, Length),
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
    /// So far below where it meets a line that crosses its way; above it when negative.
    Past(LineId, Length),
}

/// What is done along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    /// Pressed, to be folded.
    Score(Crease),
    /// Cut through. Where a cut and a score lie on one another, the cut holds.
    Cut,
    /// A strip taken out along the line, so that folds have room.
    Slot(Strip),
    /// An edge taken back by a hairline, so that what lies beside it does not foul it.
    Trim(Strip),
    /// A round bite with the line as its chord: room for a thumb.
    Notch(Notch),
    /// Neither pressed nor cut: a pencil line to measure from.
    Guide,
}

/// A strip of paper taken out along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Strip {
    /// How wide.
    pub width: Length,
    /// On which side of the line.
    pub side: StripSide,
}

/// On which side of a line a strip is taken out. Left and right are the maker's, with the sheet so turned that the line
/// runs away from its start at the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StripSide {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Half on either side.
    Centred,
}

/// A bite bounded by a line and an arc of a circle over it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Notch {
    /// How deep at its middle; half the line's length at most, which is half round.
    pub depth: Length,
    /// Whether it bites to the left of the line (else to the right), left and right as for a [`StripSide`].
    pub to_left: bool,
}

/// How a score line folds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Crease {
    /// Which way.
    pub direction: Direction,
    /// How far.
    pub angle: FoldAngle,
    /// The face it is pressed into, where the maker says so; paper is folded away from it. `None` for the face that
    /// suits the direction, see [`Crease::face`].
    pub pressed: Option<Face>,
}

/// A face of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// The face that the maker looks at as the sheet is drawn.
    Front,
    /// The other.
    Back,
}

/// Which way a score folds, seen from the front of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// The fronts come together.
    Valley,
    /// The backs come together.
    Mountain,
    /// Either way, as a hinge does: it closes as a valley where it can, else as a mountain.
    Either,
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
            Self::Either => Self::Either,
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
    pub const VALLEY: Self = Self { direction: Direction::Valley, angle: FoldAngle::Flat, pressed: None };

    /// The face it is pressed into. Paper folds away from the pressed face, with the raised bead inside the fold, so a
    /// mountain is pressed into the front and a valley into the back, unless the maker says otherwise.
    #[must_use]
    pub const fn face(self) -> Face {
        match (self.pressed, self.direction) {
            (Some(face), _) => face,
            (None, Direction::Valley) => Face::Back,
            (None, Direction::Mountain | Direction::Either) => Face::Front,
        }
    }
}

impl Face {
    /// "front" or "back".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
        }
    }

    /// The other face.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Front => Self::Back,
            Self::Back => Self::Front,
        }
    }
}

impl Line {
    /// A line without a name, free to move.
    #[must_use]
    pub const fn new(id: LineId, place: Place, work: Work) -> Self {
        Self { id, name: String::new(), place, work, locked: false }
    }
}

impl Stop {
    /// The line it names.
    #[must_use]
    pub const fn line(self) -> Option<LineId> {
        match self {
            Self::Line(line) | Self::Past(line, _) => Some(line),
            Self::Edge | Self::At(_) => None,
        }
    }
}

impl Spot {
    /// The lines it names.
    pub fn lines(self) -> impl Iterator<Item = LineId> {
        let pair = match self {
            Self::At(_) => [None, None],
            Self::Crossing(a, b) => [Some(a), Some(b)],
            Self::On(line, _) => [Some(line), None],
        };
        pair.into_iter().flatten()
    }
}

impl Work {
    /// The widest trim, 1/32 in: what is wider is a slot (common practice, no source).
    pub const WIDEST_TRIM: Length = Length::from_sixty_fourths(2);

    /// Whether it parts paper: a cut, or a slot, a trim or a notch, which have one round them.
    #[must_use]
    pub const fn is_cut(self) -> bool {
        matches!(self, Self::Cut | Self::Slot(_) | Self::Trim(_) | Self::Notch(_))
    }

    /// Whether it is pressed to be folded.
    #[must_use]
    pub const fn is_score(self) -> bool {
        matches!(self, Self::Score(_))
    }

    /// How it folds; `None` for what is no score.
    #[must_use]
    pub const fn crease(self) -> Option<Crease> {
        match self {
            Self::Score(crease) => Some(crease),
            _ => None,
        }
    }
}

impl Place {
    /// The lines that say how far across it lies: what it is measured from, lies along or is drawn between. Stops are
    /// another matter, since they only say how long it is.
    pub fn hangs_on(self) -> impl Iterator<Item = LineId> {
        let (host, spots) = match self {
            Self::Measured { from: Datum::Line(line), .. } | Self::Along { line, .. } => (Some(line), None),
            Self::Measured { .. } => (None, None),
            Self::Drawn { from, to, .. } => (None, Some([from, to])),
        };
        host.into_iter().chain(spots.into_iter().flatten().flat_map(Spot::lines))
    }

    /// The same place with another run. A drawn line has none and stays as it is.
    #[must_use]
    pub const fn with_run(self, run: Run) -> Self {
        match self {
            Self::Measured { turn, from, distance, .. } => Self::Measured { turn, from, distance, run },
            Self::Along { line, .. } => Self::Along { line, run },
            Self::Drawn { .. } => self,
        }
    }

    /// The lines that it is placed by.
    pub fn needs(self) -> impl Iterator<Item = LineId> {
        let Run { from, to } = self.run();
        self.hangs_on().chain([from.line(), to.line()].into_iter().flatten())
    }

    /// The stretch it takes; all of it for a drawn line.
    #[must_use]
    pub const fn run(self) -> Run {
        match self {
            Self::Measured { run, .. } | Self::Along { run, .. } => run,
            Self::Drawn { .. } => Run::FULL,
        }
    }
}
