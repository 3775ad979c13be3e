//! A folio with parts said in few words, for tests.

#![allow(dead_code, reason = "not every test file uses every word")]

use fold::{Assembly, Folding, assemble, close};
use model::part::{Anchor, AnchorFrom, Edges, Insert, PanelCorner, Placement, Pocket, Source, TuckCorner};
use model::{
    Crease, Datum, Direction, Document, FoldAngle, Layout, Length, Line, LineId, PanelRef, Part, PartId, PartKind,
    Place, Point, Run, SheetEdge, Size, Step, Stop, Turn, Unit, Work,
};

/// What is derived from a document.
pub(crate) struct Derived {
    pub(crate) layout: Layout,
    pub(crate) assembly: Assembly,
    pub(crate) folding: Folding,
}

/// A document under construction.
#[derive(Clone)]
pub(crate) struct Sketch(pub(crate) Document);

#[track_caller]
pub(crate) fn inches(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

#[track_caller]
pub(crate) fn mm(mm: f64) -> Length {
    Length::from_mm_rounded(mm).unwrap()
}

/// A place in inches.
#[track_caller]
pub(crate) fn at(x: &str, y: &str) -> Point {
    Point::new(inches(x), inches(y))
}

pub(crate) const fn score(direction: Direction, angle: FoldAngle) -> Work {
    Work::Score(Crease { direction, angle, pressed: None })
}

impl Sketch {
    /// A whole sheet as its own base.
    pub(crate) fn on(size: &str) -> Self {
        Self(Document::new(Size::parse(size).unwrap(), Unit::of_text(size)))
    }

    pub(crate) fn line(mut self, id: u32, place: Place, work: Work) -> Self {
        self.0.lines.push(Line::new(LineId(id), place, work));
        self
    }

    /// A line on a turn, so far from the left edge or another line, from stop to stop.
    pub(crate) fn measured(
        self,
        id: u32,
        turn: Turn,
        (from, distance): (Datum, &str),
        run: (Stop, Stop),
        work: Work,
    ) -> Self {
        let run = Run { from: run.0, to: run.1 };
        self.line(id, Place::Measured { turn, from, distance: inches(distance), run }, work)
    }

    /// A valley from edge to edge, so far from the left.
    pub(crate) fn valley(self, id: u32, distance: &str) -> Self {
        let work = score(Direction::Valley, FoldAngle::Flat);
        self.measured(id, Turn::None, (Datum::Edge, distance), (Stop::Edge, Stop::Edge), work)
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

    /// A part on the base, so far from its left and its top border.
    pub(crate) fn part(self, kind: PartKind, left: &str, top: &str) -> Self {
        let base = self.0.base.unwrap();
        self.part_on(kind, PanelRef::Sheet(base), left, top)
    }

    pub(crate) fn part_on(mut self, kind: PartKind, on: PanelRef, left: &str, top: &str) -> Self {
        let from_start = |distance| Anchor { from: AnchorFrom::Start, distance: inches(distance) };
        let place = Placement { across: from_start(left), down: from_start(top), ..Placement::centred(on) };
        let id = self.0.next_part();
        let source = Source::FolioStock;
        self.0.parts.push(Part { id, name: String::new(), kind, source, place, also: Vec::new() });
        self
    }

    /// Changes the part that was put on last.
    pub(crate) fn last(mut self, change: impl FnOnce(&mut Part)) -> Self {
        change(self.0.parts.last_mut().unwrap());
        self
    }

    #[track_caller]
    pub(crate) fn layout(&self) -> Layout {
        let layout = Layout::of(&self.0);
        assert!(layout.part_faults.is_empty(), "{:?}", layout.part_faults);
        layout
    }

    #[track_caller]
    pub(crate) fn derived(&self) -> Derived {
        let layout = self.layout();
        let assembly = assemble(&self.0, &layout).unwrap();
        let folding = close(&assembly);
        Derived { layout, assembly, folding }
    }
}

pub(crate) const CLOSED: [SheetEdge; 3] = [SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right];

/// A pocket with glue a quarter of an inch wide.
pub(crate) fn pocket(width: &str, height: &str, glued: &[SheetEdge], gusset: &str) -> PartKind {
    PartKind::Pocket(Pocket {
        width: inches(width),
        height: inches(height),
        glued: Edges::of(glued),
        strip: inches("1/4"),
        rim: Length::ZERO,
        gusset: inches(gusset),
    })
}

/// A triangle with equal legs and glue a quarter of an inch wide.
pub(crate) fn tuck(leg: &str, corner: PanelCorner) -> PartKind {
    let strip = inches("1/4");
    PartKind::TuckCorner(TuckCorner { across: inches(leg), down: inches(leg), corner, band: Length::ZERO, strip })
}

pub(crate) fn card(width: &str, height: &str, caliper: &str) -> PartKind {
    PartKind::Insert(Insert { width: inches(width), height: inches(height), caliper: Some(inches(caliper)) })
}

pub(crate) const fn id(id: u32) -> PartId {
    PartId(id)
}

/// The seed library's folio as its project file has it: a tray with gussets all round and four flaps that close over it.
pub(crate) fn seed_swap() -> Sketch {
    let wall = score(Direction::Valley, FoldAngle::Square);
    let line = |id: u32| Stop::Line(LineId(id));
    let from = |id: u32| Datum::Line(LineId(id));
    let along = |id: u32, from: Stop, to: Stop| Place::Along { line: LineId(id), run: Run { from, to } };
    Sketch::on("12x12in")
        .measured(1, Turn::None, (Datum::Edge, "3"), (line(9), line(11)), wall)
        .measured(2, Turn::None, (from(1), "1/4"), (line(9), line(11)), wall)
        .measured(3, Turn::None, (Datum::Edge, "8 3/4"), (line(10), line(12)), wall)
        .measured(4, Turn::None, (from(3), "1/4"), (line(10), line(12)), wall)
        .measured(5, Turn::Once, (Datum::Edge, "2 3/4"), (line(3), line(2)), wall)
        .measured(6, Turn::Once, (from(5), "1/4"), (line(3), line(2)), wall)
        .measured(7, Turn::Once, (Datum::Edge, "7 1/2"), (line(3), line(2)), wall)
        .measured(8, Turn::Once, (from(7), "1/4"), (line(3), line(2)), wall)
        .measured(9, Turn::Once, (from(6), "1/8"), (line(2), Stop::Edge), Work::Cut)
        .measured(10, Turn::Once, (from(6), "1/8"), (Stop::Edge, line(3)), Work::Cut)
        .measured(11, Turn::Once, (from(7), "-1/8"), (line(2), Stop::Edge), Work::Cut)
        .measured(12, Turn::Once, (from(7), "-1/8"), (Stop::Edge, line(3)), Work::Cut)
        .line(13, along(2, Stop::Edge, line(9)), Work::Cut)
        .line(14, along(2, line(11), Stop::Edge), Work::Cut)
        .line(15, along(3, Stop::Edge, line(10)), Work::Cut)
        .line(16, along(3, line(12), Stop::Edge), Work::Cut)
        .base("6", "5 1/4")
        .steps(&[&[2, 1], &[3, 4], &[7, 8], &[6, 5]])
}
