//! How the sheet lies on the scoring board.

use crate::geometry::{Point, Size};
use crate::length::Length;

/// Quarter turns of the sheet to the left, front up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Turn {
    /// As drawn: the top edge away from the maker.
    #[default]
    None,
    /// One turn to the left: what was the top edge lies at the left.
    Once,
    /// Upside down.
    Twice,
    /// Three turns to the left: what was the bottom edge lies at the left.
    Thrice,
}

/// A place on the board: how far from its left fence, and how far from the sheet's upper edge as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoardPoint {
    /// From the left edge of the sheet as it lies.
    pub across: Length,
    /// Down from the upper edge of the sheet as it lies.
    pub down: Length,
}

impl Turn {
    /// All four, in order.
    pub const ALL: [Self; 4] = [Self::None, Self::Once, Self::Twice, Self::Thrice];

    /// The count of quarter turns, 0 to 3.
    #[must_use]
    pub const fn count(self) -> u8 {
        self as u8
    }

    /// From a count of quarter turns; `None` beyond 3.
    #[must_use]
    pub const fn from_count(count: u8) -> Option<Self> {
        match count {
            0 => Some(Self::None),
            1 => Some(Self::Once),
            2 => Some(Self::Twice),
            3 => Some(Self::Thrice),
            _ => None,
        }
    }

    /// Turned a quarter further to the left.
    #[must_use]
    pub const fn once_more(self) -> Self {
        match self {
            Self::None => Self::Once,
            Self::Once => Self::Twice,
            Self::Twice => Self::Thrice,
            Self::Thrice => Self::None,
        }
    }

    /// Whether lines scored on this turn run up and down the sheet as drawn (else from side to side).
    #[must_use]
    pub const fn is_upright(self) -> bool {
        matches!(self, Self::None | Self::Twice)
    }

    /// The sheet's size as it lies: width, height.
    #[must_use]
    pub const fn size_of(self, sheet: Size) -> (Length, Length) {
        if self.is_upright() { (sheet.width(), sheet.height()) } else { (sheet.height(), sheet.width()) }
    }

    /// Where a place on the sheet lies on the board.
    #[must_use]
    pub fn to_board(self, point: Point, sheet: Size) -> BoardPoint {
        let (w, h) = (sheet.width(), sheet.height());
        let (across, down) = match self {
            Self::None => (point.x, point.y),
            Self::Once => (point.y, w - point.x),
            Self::Twice => (w - point.x, h - point.y),
            Self::Thrice => (h - point.y, point.x),
        };
        BoardPoint { across, down }
    }

    /// The place on the sheet that lies at a place on the board.
    #[must_use]
    pub fn from_board(self, at: BoardPoint, sheet: Size) -> Point {
        let (w, h) = (sheet.width(), sheet.height());
        match self {
            Self::None => Point::new(at.across, at.down),
            Self::Once => Point::new(w - at.down, at.across),
            Self::Twice => Point::new(w - at.across, h - at.down),
            Self::Thrice => Point::new(at.down, h - at.across),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_to_the_left_brings_the_top_edge_to_the_left() {
        let sheet = Size::parse("8x11in").unwrap();
        let inch = |n| Length::INCH * n;
        // The top left corner is at the lower left once turned left, at the lower right when turned twice.
        let corner = Point::new(inch(0), inch(0));
        let at = |turn: Turn| turn.to_board(corner, sheet);
        assert_eq!(at(Turn::None), BoardPoint { across: inch(0), down: inch(0) });
        assert_eq!(at(Turn::Once), BoardPoint { across: inch(0), down: inch(8) });
        assert_eq!(at(Turn::Twice), BoardPoint { across: inch(8), down: inch(11) });
        assert_eq!(at(Turn::Thrice), BoardPoint { across: inch(11), down: inch(0) });
    }

    #[test]
    fn board_and_sheet_convert_both_ways() {
        let sheet = Size::parse("8x11in").unwrap();
        let point = Point::new(Length::INCH * 3, Length::INCH * 5);
        for turn in Turn::ALL {
            assert_eq!(turn.from_board(turn.to_board(point, sheet), sheet), point, "{turn:?}");
            assert_eq!(Turn::from_count(turn.count()), Some(turn));
        }
        assert_eq!(Turn::from_count(4), None);
    }
}
