//! A folio said in few words, for tests.

use foliowright_model::change::{add_line, measured_score};
use foliowright_model::{Document, Length, Line, LineId, Place, Point, Run, Size, Step, Stop, Turn, Unit, Work};

/// A length said as a maker says it.
#[track_caller]
pub(crate) fn length(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

/// A point in inches.
#[track_caller]
pub(crate) fn at(x: &str, y: &str) -> Point {
    Point::new(length(x), length(y))
}

/// A document under construction.
pub(crate) struct Sketch(pub(crate) Document);

#[allow(dead_code, reason = "not every test file uses every word")]
impl Sketch {
    pub(crate) fn on(size: &str) -> Self {
        Self(Document::new(Size::parse(size).unwrap(), Unit::Inch))
    }

    /// A score from edge to edge.
    #[track_caller]
    pub(crate) fn score(mut self, id: u32, turn: Turn, distance: &str) -> Self {
        self.0.apply(add_line(&self.0, measured_score(LineId(id), turn, length(distance)))).unwrap();
        self
    }

    /// A line placed as given.
    #[track_caller]
    pub(crate) fn line(mut self, id: u32, place: Place, work: Work) -> Self {
        let line = Line::new(LineId(id), place, work);
        self.0.apply(add_line(&self.0, line)).unwrap();
        self
    }

    /// A cut along a line, from stop to stop.
    #[track_caller]
    pub(crate) fn cut(self, id: u32, along: u32, from: Stop, to: Stop) -> Self {
        self.line(id, Place::Along { line: LineId(along), run: Run { from, to } }, Work::Cut)
    }

    pub(crate) fn base(mut self, x: &str, y: &str) -> Self {
        self.0.base = Some(at(x, y));
        self
    }

    pub(crate) fn steps(mut self, steps: &[&[u32]]) -> Self {
        let step = |lines: &&[u32]| Step::of(lines.iter().map(|&id| LineId(id)).collect());
        self.0.steps = steps.iter().map(step).collect();
        self
    }
}

/// Stops at a line.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const fn line(id: u32) -> Stop {
    Stop::Line(LineId(id))
}

/// A 12 in square with a 6 in square base, four flaps and the corners cut away.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn four_flaps() -> Document {
    Sketch::on("12x12in")
        .score(1, Turn::None, "3")
        .score(2, Turn::None, "9")
        .score(3, Turn::Once, "3")
        .score(4, Turn::Once, "9")
        .cut(11, 1, Stop::Edge, line(3))
        .cut(12, 1, line(4), Stop::Edge)
        .cut(13, 2, Stop::Edge, line(3))
        .cut(14, 2, line(4), Stop::Edge)
        .cut(15, 3, Stop::Edge, line(2))
        .cut(16, 3, line(1), Stop::Edge)
        .cut(17, 4, Stop::Edge, line(2))
        .cut(18, 4, line(1), Stop::Edge)
        .0
}
