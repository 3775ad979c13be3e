//! The sheet as it lies on the scoring board, in millimetres for the screen.

use kurbo::Rect;
use model::{BoardPoint, Layout, Length, Placed, Point, Size, Turn};

/// A sheet on a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Board {
    /// The sheet as drawn.
    pub(crate) size: Size,
    /// How it lies.
    pub(crate) turn: Turn,
}

impl Board {
    /// Where a place on the sheet lies: mm across and down.
    pub(crate) fn at(self, point: Point) -> kurbo::Point {
        let BoardPoint { across, down } = self.turn.to_board(point, self.size);
        kurbo::Point::new(across.mm(), down.mm())
    }

    /// The place on the sheet that lies there, to the nanometre; `None` beyond any sheet.
    pub(crate) fn place(self, at: kurbo::Point) -> Option<Point> {
        let board = BoardPoint { across: Length::from_mm_rounded(at.x)?, down: Length::from_mm_rounded(at.y)? };
        Some(self.turn.from_board(board, self.size))
    }

    /// Where a place given on another turn lies.
    pub(crate) fn of_turn(self, turn: Turn, across: Length, down: Length) -> kurbo::Point {
        self.at(turn.from_board(BoardPoint { across, down }, self.size))
    }

    /// The sheet.
    pub(crate) fn rect(self) -> Rect {
        let (width, height) = self.turn.size_of(self.size);
        Rect::new(0.0, 0.0, width.mm(), height.mm())
    }

    /// How far a line on `turn` moves across when it is pushed one step this way on the board as seen: 1, -1, or 0
    /// when that is along the line.
    pub(crate) fn push(self, turn: Turn, right: i64, down: i64) -> i64 {
        let step = Length::MILLIMETRE;
        let from = self.turn.from_board(BoardPoint { across: Length::ZERO, down: Length::ZERO }, self.size);
        let to = self.turn.from_board(BoardPoint { across: step * right, down: step * down }, self.size);
        let across = |point| turn.to_board(point, self.size).across;
        (across(to) - across(from)).nm() / step.nm()
    }
}

/// The nearest lines that run beside one, to its left and to its right on its own turn; the sheet's edges where there
/// are none.
pub(crate) fn neighbours(layout: &Layout, placed: &Placed) -> (Length, Length) {
    let (width, _) = placed.turn.size_of(layout.size);
    let beside = layout.lines.values().filter_map(|other| other.ok()).filter_map(|other| {
        let same = other.turn.is_upright() == placed.turn.is_upright();
        same.then(|| placed.turn.to_board(other.segment.a, layout.size).across)
    });
    beside.fold((Length::ZERO, width), |(left, right), across| {
        if across < placed.across {
            (left.max(across), right)
        } else if across > placed.across {
            (left, right.min(across))
        } else {
            (left, right)
        }
    })
}

/// The middle of the widest stretch of board without a line on it: where a new score is of most use.
pub(crate) fn free_place(layout: &Layout, turn: Turn) -> Length {
    let (width, _) = turn.size_of(layout.size);
    let beside = layout.lines.values().filter_map(|other| other.ok());
    let beside = beside.filter(|other| other.turn.is_upright() == turn.is_upright());
    let mut places: Vec<Length> = beside.map(|other| turn.to_board(other.segment.a, layout.size).across).collect();
    places.extend([Length::ZERO, width]);
    places.sort_unstable();
    let gaps = places.windows(2).map(|pair| (pair[1] - pair[0], pair[0]));
    // The leftmost of equals, so that it doesn't jump about.
    let widest = gaps.reduce(|best, next| if next.0 > best.0 { next } else { best });
    widest.map_or(width.half(), |(gap, from)| from + gap.half())
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Document, LineId, Unit};

    fn layout(inches: &[(u32, Turn, i64)]) -> Layout {
        let mut document = Document::new(Size::parse("8x12in").unwrap(), Unit::Inch);
        for &(id, turn, inches) in inches {
            let edit = add_line(&document, measured_score(LineId(id), turn, Length::INCH * inches));
            document.apply(edit).unwrap();
        }
        Layout::of(&document)
    }

    #[test]
    fn neighbours_run_the_same_way() {
        let layout = layout(&[(1, Turn::None, 3), (2, Turn::None, 5), (3, Turn::Twice, 1), (4, Turn::Once, 4)]);
        let beside = |id: u32| neighbours(&layout, &layout.lines[&LineId(id)].unwrap());
        // Upside down, 1 in from the left is 7 in from the left as drawn.
        assert_eq!(beside(2), (Length::INCH * 3, Length::INCH * 7));
        assert_eq!(beside(1), (Length::ZERO, Length::INCH * 5));
        assert_eq!(beside(3), (Length::ZERO, Length::INCH * 3));
        assert_eq!(beside(4), (Length::ZERO, Length::INCH * 12));
    }

    #[test]
    fn a_new_score_goes_where_there_is_room() {
        assert_eq!(free_place(&layout(&[]), Turn::None), Length::INCH * 4);
        assert_eq!(free_place(&layout(&[(1, Turn::None, 2)]), Turn::None), Length::INCH * 5);
        assert_eq!(free_place(&layout(&[(1, Turn::None, 2)]), Turn::Once), Length::INCH * 6);
    }

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
