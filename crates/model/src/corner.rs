//! Corners rounded, clipped or left square: what the maker says of them.
//!
//! A corner is named by the panel it is of and the two borders that meet in it, so it stays the same corner while lines
//! move. Which paper is taken off follows in the layout.

use crate::geometry::Point;
use crate::length::Length;
use crate::line::LineId;
use crate::stock::SheetEdge;

/// What is done with one corner or several. Where two say something of the same corner, the later holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Corner {
    /// A point inside the panel whose corners they are.
    pub mark: Point,
    /// Which of them.
    pub which: Which,
    /// What is done with them.
    pub shape: CornerShape,
}

/// Which corners.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Which {
    /// The one where these two borders of the panel meet.
    Between(Border, Border),
    /// All free corners of the panel: where neither side that meets there is a fold.
    AllOfPanel,
    /// All free corners of all panels of the piece that the panel is of.
    AllOfPiece,
}

/// What bounds a panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Border {
    /// An edge of the sheet.
    Edge(SheetEdge),
    /// A line, or what is cut round it for a slot, a trim or a notch.
    Line(LineId),
}

/// What is done with a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CornerShape {
    /// Left as it is cut.
    Square,
    /// Rounded with this radius.
    Round(Length),
    /// Cut off straight, so far from the corner along both sides.
    Clip(Length),
}

impl Corner {
    /// Whether it is said of this line.
    #[must_use]
    pub fn names(&self, line: LineId) -> bool {
        matches!(self.which, Which::Between(a, b) if [a, b].contains(&Border::Line(line)))
    }
}

impl CornerShape {
    /// The radius or the distance; zero for a square corner.
    #[must_use]
    pub const fn measure(self) -> Length {
        match self {
            Self::Square => Length::ZERO,
            Self::Round(length) | Self::Clip(length) => length,
        }
    }
}
