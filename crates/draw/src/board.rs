//! The sheet as it lies on the scoring board, in millimetres.

use kurbo::Rect;
use model::{BoardPoint, Length, Point, Size, Turn};

/// A sheet on a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Board {
    /// The sheet as drawn.
    pub size: Size,
    /// How it lies.
    pub turn: Turn,
}

impl Board {
    /// Where a place on the sheet lies: mm across and down.
    #[must_use]
    pub fn at(self, point: Point) -> kurbo::Point {
        let BoardPoint { across, down } = self.turn.to_board(point, self.size);
        kurbo::Point::new(across.mm(), down.mm())
    }

    /// The place on the sheet that lies there, to the nanometre; `None` beyond any sheet.
    #[must_use]
    pub fn place(self, at: kurbo::Point) -> Option<Point> {
        let board = BoardPoint { across: Length::from_mm_rounded(at.x)?, down: Length::from_mm_rounded(at.y)? };
        Some(self.turn.from_board(board, self.size))
    }

    /// Where a place given on another turn lies.
    #[must_use]
    pub fn of_turn(self, turn: Turn, across: Length, down: Length) -> kurbo::Point {
        self.at(turn.from_board(BoardPoint { across, down }, self.size))
    }

    /// The sheet.
    #[must_use]
    pub fn rect(self) -> Rect {
        let (width, height) = self.turn.size_of(self.size);
        Rect::new(0.0, 0.0, width.mm(), height.mm())
    }

    /// How far a line on `turn` moves across when it is pushed one step this way on the board as seen: 1, -1, or 0
    /// when that is along the line.
    #[must_use]
    pub fn push(self, turn: Turn, right: i64, down: i64) -> i64 {
        let step = Length::MILLIMETRE;
        let from = self.turn.from_board(BoardPoint { across: Length::ZERO, down: Length::ZERO }, self.size);
        let to = self.turn.from_board(BoardPoint { across: step * right, down: step * down }, self.size);
        let across = |point| turn.to_board(point, self.size).across;
        (across(to) - across(from)).nm() / step.nm()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pushing_goes_the_way_it_is_seen() {
        let size = Size::parse("8x12in").unwrap();
        // (how the sheet lies, the line's turn, right, down, across).
        let cases = [
            (Turn::None, Turn::None, 1, 0, 1),
            (Turn::None, Turn::Twice, 1, 0, -1),
            (Turn::None, Turn::Once, 1, 0, 0),
            (Turn::None, Turn::Once, 0, 1, 1),
            (Turn::None, Turn::Thrice, 0, 1, -1),
            (Turn::Once, Turn::Once, -1, 0, -1),
        ];
        for (seen, turn, right, down, expected) in cases {
            assert_eq!(Board { size, turn: seen }.push(turn, right, down), expected, "{seen:?} {turn:?}");
        }
    }

    #[test]
    fn board_and_sheet_convert_both_ways() {
        let board = Board { size: Size::parse("8x12in").unwrap(), turn: Turn::Thrice };
        let point = Point::new(Length::INCH, Length::INCH * 3);
        assert_eq!(board.place(board.at(point)), Some(point));
        assert_eq!(board.place(kurbo::Point::new(f64::NAN, 0.0)), None);
        assert_eq!((board.rect().width(), board.rect().height()), (304.8, 203.2));
    }
}
