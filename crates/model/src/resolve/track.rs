//! The whole line that a line lies on, whatever its run, and where two of them cross.

use crate::arrangement::crossing_of_lines;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::turn::{BoardPoint, Turn};

/// The whole line that a line lies on, whatever its run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Track {
    /// From edge to edge of the sheet as it lies on a turn.
    Board {
        /// How the sheet lies.
        turn: Turn,
        /// How far from its left edge.
        across: Length,
    },
    /// From spot to spot.
    Drawn {
        /// Where it starts.
        a: Point,
        /// Where it ends.
        b: Point,
        /// How far its middle rises to the left of the way; zero when it is straight.
        bow: Length,
    },
}

impl Track {
    /// How far it runs from its start to its end.
    #[must_use]
    pub fn reach(self, sheet: Size) -> Length {
        match self {
            Self::Board { turn, .. } => turn.size_of(sheet).1,
            Self::Drawn { a, b, .. } => (b - a).length(),
        }
    }

    /// How far its middle rises above the straight way.
    #[must_use]
    pub const fn bow(self) -> Length {
        match self {
            Self::Board { .. } => Length::ZERO,
            Self::Drawn { bow, .. } => bow,
        }
    }

    /// The point so far from its start, on the straight way.
    #[must_use]
    pub fn point_at(self, down: Length, sheet: Size) -> Point {
        match self {
            Self::Board { turn, across } => turn.from_board(BoardPoint { across, down }, sheet),
            Self::Drawn { a, .. } if down == Length::ZERO => a,
            Self::Drawn { b, .. } if down == self.reach(sheet) => b,
            Self::Drawn { a, b, .. } => a + (b - a).scaled_to(down),
        }
    }

    /// How far from its start a point lies that is on it or beside it.
    #[must_use]
    pub fn down(self, point: Point, sheet: Size) -> Length {
        match self {
            Self::Board { turn, .. } => turn.to_board(point, sheet).down,
            // A crossing with a line through one of its ends may be rounded beside it.
            Self::Drawn { a, .. } if is_next_to(point, a) => Length::ZERO,
            Self::Drawn { b, .. } if is_next_to(point, b) => self.reach(sheet),
            Self::Drawn { a, b, .. } => {
                let way = b - a;
                let length = i128::from(way.length().nm()).max(1);
                let twice = way.dot(point - a) * 2;
                // Rounded to nearest; at most the sheet's diagonal for points on the sheet.
                Length::from_nm(i64::try_from((twice + length).div_euclid(length * 2)).unwrap_or(i64::MAX))
            }
        }
    }

    /// Where two straight tracks, carried on as far as needed, cross; to the nearest nanometre. `None` when they are
    /// parallel, or cross farther away than any sheet is large.
    #[must_use]
    pub fn crossing(self, other: Self, sheet: Size) -> Option<Point> {
        let ends = |track: Self| match track {
            Self::Board { .. } => (track.point_at(Length::ZERO, sheet), track.point_at(track.reach(sheet), sheet)),
            Self::Drawn { a, b, .. } => (a, b),
        };
        crossing_of_lines(ends(self), ends(other))
    }
}

/// Whether two points are a nanometre apart at most, along each axis.
fn is_next_to(a: Point, b: Point) -> bool {
    let near = Length::from_nm(1);
    (a.x - b.x).abs() <= near && (a.y - b.y).abs() <= near
}
