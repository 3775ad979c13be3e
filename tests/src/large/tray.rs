//! A base with flaps along its edges, as many as wished on each, that reach as far over it as wished.

use super::{Drawing, length, score};
use model::part::{Mat, Source};
use model::{Direction, Document, FoldAngle, Length, PartKind, Point, Step, Work};

/// The flaps of one edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Side {
    /// How many.
    pub flaps: usize,
    /// How far they reach over the base, in hundredths of it.
    pub reach: i64,
}

/// A base with flaps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tray {
    /// At the top, at the right, at the bottom and at the left.
    pub sides: [Side; 4],
    /// Whether each flap has a gusset of its own.
    pub is_deep: bool,
    /// Whether every flap folds in a step of its own, else all of an edge fold at once.
    pub one_by_one: bool,
    /// So many mats on the flaps, cut from whichever offcut they fit into.
    pub mats: usize,
}

impl Side {
    /// No flaps.
    pub const NONE: Self = Self { flaps: 0, reach: 0 };
}

impl Default for Tray {
    fn default() -> Self {
        Self { sides: [Side::NONE; 4], is_deep: false, one_by_one: false, mats: 0 }
    }
}

/// How deep gussets are.
const DEEP: Length = Length::from_nm(3_000_000);

/// An edge of the base: whether it lies level, where it is and where the sheet ends beyond it, its span, its flaps.
struct Edge {
    is_level: bool,
    at: Length,
    end: Length,
    span: (Length, Length),
    side: Side,
}

impl Edge {
    /// So much of the way along it, and so far beyond it.
    fn place(&self, part: usize, beyond: Length) -> (Length, Length) {
        let (from, to) = self.span;
        let along = from + (to - from) * i64::try_from(part).unwrap_or(0) / i64::try_from(self.side.flaps).unwrap_or(1);
        (along, self.at + if self.end < self.at { -beyond } else { beyond })
    }

    fn along(&self, drawing: &mut Drawing, beyond: Length, span: (Length, Length), work: Work) -> model::LineId {
        let (_, at) = self.place(0, beyond);
        if self.is_level { drawing.level(at, Some(span), work) } else { drawing.upright(at, Some(span), work) }
    }

    /// From the base to the end of the sheet.
    fn cut(&self, drawing: &mut Drawing, at: Length) {
        let span = (self.at.min(self.end), self.at.max(self.end));
        if self.is_level {
            drawing.upright(at, Some(span), Work::Cut);
        } else {
            drawing.level(at, Some(span), Work::Cut);
        }
    }
}

impl Tray {
    /// How many panels it has, those of mats included.
    #[must_use]
    pub fn panels(&self) -> usize {
        let flaps: usize = self.sides.iter().map(|side| side.flaps).sum();
        1 + flaps * if self.is_deep { 2 } else { 1 } + self.mats.min(flaps)
    }

    /// The folio.
    ///
    /// # Panics
    /// When it would take more than 10 m.
    #[must_use]
    pub fn folio(&self) -> Document {
        let [top, right, bottom, left] = self.sides;
        let most = top.flaps.max(bottom.flaps).max(left.flaps).max(right.flaps);
        let each = Length::MILLIMETRE * if most > 400 { 4 } else { 10 };
        let least = Length::MILLIMETRE * 100;
        let wide = length(top.flaps.max(bottom.flaps), each).max(least);
        let high = length(left.flaps.max(right.flaps), each).max(least);
        let margin = |side: Side, across: Length| {
            let deep = if self.is_deep { DEEP } else { Length::ZERO };
            if side.flaps == 0 { Length::ZERO } else { across * side.reach / 100 + deep }
        };
        let (x, y) = (margin(left, wide), margin(top, high));
        let (right_end, bottom_end) = (x + wide + margin(right, wide), y + high + margin(bottom, high));
        let mut drawing = Drawing::new(right_end, bottom_end);
        drawing.document.base = Some(Point::new(x + wide.half(), y + high.half()));
        let level = |at, end, side| Edge { is_level: true, at, end, span: (x, x + wide), side };
        let upright = |at, end, side| Edge { is_level: false, at, end, span: (y, y + high), side };
        let edges = [
            level(y, Length::ZERO, top),
            upright(x + wide, right_end, right),
            level(y + high, bottom_end, bottom),
            upright(x, Length::ZERO, left),
        ];
        let has_corners = (top.flaps + bottom.flaps > 0) && (left.flaps + right.flaps > 0);
        let mut mats = self.mats;
        for edge in edges.iter().filter(|edge| edge.side.flaps > 0) {
            self.flaps(&mut drawing, edge, has_corners, &mut mats);
        }
        drawing.document
    }

    fn flaps(&self, drawing: &mut Drawing, edge: &Edge, has_corners: bool, mats: &mut usize) {
        let flaps = edge.side.flaps;
        for part in 0..=flaps {
            if has_corners || (part > 0 && part < flaps) {
                edge.cut(drawing, edge.place(part, Length::ZERO).0);
            }
        }
        let spans: Vec<(Length, Length)> = if self.one_by_one {
            (0..flaps).map(|part| (edge.place(part, DEEP).0, edge.place(part + 1, DEEP).0)).collect()
        } else {
            vec![edge.span]
        };
        for span in spans {
            let lines = if self.is_deep {
                let square = score(Direction::Valley, FoldAngle::Square);
                vec![edge.along(drawing, Length::ZERO, span, square), edge.along(drawing, DEEP, span, square)]
            } else {
                vec![edge.along(drawing, Length::ZERO, span, score(Direction::Valley, FoldAngle::Flat))]
            };
            drawing.document.steps.push(Step::of(lines));
        }
        let deep = (edge.end - edge.at).max(edge.at - edge.end);
        for part in 0..flaps.min(*mats) {
            let ((from, far), (to, _)) = (edge.place(part, deep * 2 / 3), edge.place(part + 1, deep));
            let (along, across) = ((to - from) * 3 / 5, deep / 4);
            let middle = from + (to - from).half();
            let (mat, at) = if edge.is_level {
                (Mat { width: along, height: across }, Point::new(middle, far))
            } else {
                (Mat { width: across, height: along }, Point::new(far, middle))
            };
            drawing.put(PartKind::Mat(mat), at, Source::AnyOffcut);
        }
        *mats -= flaps.min(*mats);
    }
}
