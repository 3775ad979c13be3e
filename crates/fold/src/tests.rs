//! Small folios that are folded as a whole, with what is known of them from outside.

mod bends;
mod blueprint;
mod card;
mod closure;
mod corner;
mod crimp;
mod envelope;
mod furnish;
mod motion;
mod order;
mod plan;
mod pose;
mod quartet;
mod random;
mod reach;
mod resting;
mod states;
mod strip;
mod thick;
mod thickness;
mod unreached;
mod visible;

use crate::{Assembly, Folding, Trouble, assemble, close};
use glam::DVec3;
use model::{
    Crease, Datum, Direction, Document, FoldAngle, Layout, Length, Line, LineId, PanelId, Place, Point, Run, Size,
    Step, Stop, Turn, Unit, Work,
};

pub(super) const VALLEY: Work = score(Direction::Valley, FoldAngle::Flat);
pub(super) const MOUNTAIN: Work = score(Direction::Mountain, FoldAngle::Flat);
pub(super) const VALLEY_WALL: Work = score(Direction::Valley, FoldAngle::Square);
pub(super) const MOUNTAIN_WALL: Work = score(Direction::Mountain, FoldAngle::Square);

const fn score(direction: Direction, angle: FoldAngle) -> Work {
    Work::Score(Crease { direction, angle, pressed: None })
}

/// A sheet to draw on, in mm from its top left corner. Lines are numbered from 1.
#[derive(Clone)]
pub(super) struct Sheet {
    document: Document,
}

/// A sheet that has been folded.
pub(super) struct Folded {
    pub(super) layout: Layout,
    pub(super) folding: Folding,
}

impl Sheet {
    pub(super) fn new(width: f64, height: f64) -> Self {
        let size = Size::new(mm(width), mm(height)).unwrap();
        Self { document: Document::new(size, Unit::Millimetre) }
    }

    /// A line down the sheet, from edge to edge.
    pub(super) fn down(self, x: f64, work: Work) -> Self {
        let height = self.document.stock.size.height().mm();
        self.down_from(x, (0.0, height), work)
    }

    /// A line down the sheet, from `from` to `to`.
    pub(super) fn down_from(self, x: f64, (from, to): (f64, f64), work: Work) -> Self {
        self.line(Turn::None, x, (from, to), work)
    }

    /// A line across the sheet, from edge to edge.
    pub(super) fn across(self, y: f64, work: Work) -> Self {
        let width = self.document.stock.size.width().mm();
        self.across_from(y, (0.0, width), work)
    }

    /// A line across the sheet, from `from` to `to`.
    pub(super) fn across_from(self, y: f64, (from, to): (f64, f64), work: Work) -> Self {
        let width = self.document.stock.size.width().mm();
        // Turned once to the left, the top edge lies at the left and x runs up.
        self.line(Turn::Once, y, (width - to, width - from), work)
    }

    /// Four cuts round a rectangle.
    pub(super) fn cut_out(self, x: (f64, f64), y: (f64, f64)) -> Self {
        let sides = self.down_from(x.0, y, Work::Cut).down_from(x.1, y, Work::Cut);
        sides.across_from(y.0, x, Work::Cut).across_from(y.1, x, Work::Cut)
    }

    pub(super) fn base(mut self, x: f64, y: f64) -> Self {
        self.document.base = Some(at(x, y));
        self
    }

    pub(super) fn steps(mut self, steps: &[&[u32]]) -> Self {
        let step = |lines: &&[u32]| Step::of(lines.iter().map(|&line| LineId(line)).collect());
        self.document.steps = steps.iter().map(step).collect();
        self
    }

    pub(super) fn assemble(&self) -> Assembly {
        assemble(&self.document, &Layout::of(&self.document)).unwrap()
    }

    pub(super) fn fold(&self) -> Folded {
        let layout = Layout::of(&self.document);
        let folding = close(&assemble(&self.document, &layout).unwrap());
        Folded { layout, folding }
    }

    pub(super) fn assembly(&self) -> Assembly {
        assemble(&self.document, &Layout::of(&self.document)).unwrap()
    }

    fn line(mut self, turn: Turn, across: f64, (from, to): (f64, f64), work: Work) -> Self {
        let run = Run { from: Stop::At(mm(from)), to: Stop::At(mm(to)) };
        let place = Place::Measured { turn, from: Datum::Edge, distance: mm(across), run };
        let id = self.document.next_line();
        self.document.lines.push(Line::new(id, place, work));
        self
    }
}

impl Folded {
    pub(super) fn panel(&self, x: f64, y: f64) -> PanelId {
        self.layout.panel_at(at(x, y)).unwrap()
    }

    pub(super) fn troubles(&self) -> &[Trouble] {
        self.folding.troubles()
    }

    /// Those that keep a step from being made.
    pub(super) fn step_troubles(&self) -> Vec<Trouble> {
        self.troubles().iter().filter(|trouble| trouble.step().is_some()).cloned().collect()
    }

    /// Where a point of the sheet is at a time, without thickness. The point has to be inside a panel.
    pub(super) fn at(&self, x: f64, y: f64, time: f64) -> DVec3 {
        let panel = self.panel(x, y);
        let place = self.folding.panels().iter().position(|&id| id == panel).unwrap();
        self.folding.flat_pose(time)[place].transform_point3(DVec3::new(x, -y, 0.0))
    }

    /// Whether what is at one point of the sheet lies above what is at another.
    pub(super) fn above(&self, a: (f64, f64), b: (f64, f64)) -> Option<bool> {
        self.folding.above(self.panel(a.0, a.1), self.panel(b.0, b.1))
    }
}

#[track_caller]
pub(super) fn near(got: DVec3, expected: [f64; 3]) {
    assert!(got.distance(DVec3::from(expected)) < 1e-9, "{got} is not {expected:?}");
}

fn mm(length: f64) -> Length {
    Length::from_mm_rounded(length).unwrap()
}

pub(super) fn at(x: f64, y: f64) -> Point {
    Point::new(mm(x), mm(y))
}
