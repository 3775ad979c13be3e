//! A folio with parts said in few words, and what every allotment has to keep to.

#![allow(dead_code, reason = "not every test file uses every word")]

#[path = "../../../nest/tests/common/mod.rs"]
mod plan;

use foliowright_allot::{Allotment, CutStep, OffcutPaper, OffcutUse, Origin, Settings, allot};
use model::change::{add_line, measured_score};
use model::part::{Hinge, Mat, Placement, Source};
use model::{
    Area, Document, Layout, Length, Line, LineId, PanelRef, Part, PartId, PartKind, PieceId, Place, Point, Run, Size,
    Spot, Stop, Turn, Unit, Work,
};
use nest::{Rect, Way};

#[track_caller]
pub(crate) fn length(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

#[track_caller]
pub(crate) fn at(x: &str, y: &str) -> Point {
    Point::new(length(x), length(y))
}

/// A document under construction.
pub(crate) struct Sketch(pub(crate) Document);

impl Sketch {
    pub(crate) fn on(size: &str) -> Self {
        Self(Document::new(Size::parse(size).unwrap(), Unit::Inch))
    }

    #[track_caller]
    pub(crate) fn line(mut self, id: u32, place: Place, work: Work) -> Self {
        self.0.apply(add_line(&self.0, Line::new(LineId(id), place, work))).unwrap();
        self
    }

    #[track_caller]
    pub(crate) fn score(mut self, id: u32, turn: Turn, distance: &str) -> Self {
        self.0.apply(add_line(&self.0, measured_score(LineId(id), turn, length(distance)))).unwrap();
        self
    }

    /// A cut from edge to edge of the sheet.
    #[track_caller]
    pub(crate) fn cut(mut self, id: u32, turn: Turn, distance: &str) -> Self {
        let line = Line { work: Work::Cut, ..measured_score(LineId(id), turn, length(distance)) };
        self.0.apply(add_line(&self.0, line)).unwrap();
        self
    }

    /// A cut along a line, from stop to stop.
    #[track_caller]
    pub(crate) fn cut_along(self, id: u32, along: u32, from: Stop, to: Stop) -> Self {
        self.line(id, Place::Along { line: LineId(along), run: Run { from, to } }, Work::Cut)
    }

    /// A straight cut between two points.
    #[track_caller]
    pub(crate) fn cut_between(self, id: u32, from: Point, to: Point) -> Self {
        self.line(id, Place::Drawn { from: Spot::At(from), to: Spot::At(to), bow: Length::ZERO }, Work::Cut)
    }

    pub(crate) fn base(mut self, x: &str, y: &str) -> Self {
        self.0.base = Some(at(x, y));
        self
    }

    /// A part in the middle of the base.
    pub(crate) fn part(self, kind: PartKind, source: Source) -> Self {
        let base = PanelRef::Sheet(self.0.base.unwrap());
        self.placed(kind, source, Placement::centred(base))
    }

    pub(crate) fn placed(mut self, kind: PartKind, source: Source, place: Placement) -> Self {
        let id = self.0.next_part();
        self.0.parts.push(Part { id, name: String::new(), kind, source, place, also: Vec::new() });
        self
    }

    /// What comes of it with a quick look.
    pub(crate) fn allotted(&self) -> (Layout, Allotment) {
        self.allotted_with(&Settings::default())
    }

    #[track_caller]
    pub(crate) fn allotted_with(&self, settings: &Settings) -> (Layout, Allotment) {
        let layout = Layout::of(&self.0);
        let found = allot(&self.0, &layout, settings);
        keeps_its_promises(&self.0, &layout, &found, settings);
        (layout, found)
    }
}

pub(crate) fn mat(width: &str, height: &str) -> PartKind {
    PartKind::Mat(Mat { width: length(width), height: length(height) })
}

pub(crate) fn hinge(size: &str, long: &str) -> PartKind {
    PartKind::Hinge(Hinge { length: length(long), leaf: length(size).half(), free_leaf: length(size).half() })
}

pub(crate) const fn stop(id: u32) -> Stop {
    Stop::Line(LineId(id))
}

/// A 12 in square with a 6 in square base, four flaps, and a corner of 3 in square off at each of its corners.
pub(crate) fn four_flaps() -> Sketch {
    Sketch::on("12x12in")
        .score(1, Turn::None, "3")
        .score(2, Turn::None, "9")
        .score(3, Turn::Once, "3")
        .score(4, Turn::Once, "9")
        .cut_along(11, 1, Stop::Edge, stop(3))
        .cut_along(12, 1, stop(4), Stop::Edge)
        .cut_along(13, 2, Stop::Edge, stop(3))
        .cut_along(14, 2, stop(4), Stop::Edge)
        .cut_along(15, 3, Stop::Edge, stop(2))
        .cut_along(16, 3, stop(1), Stop::Edge)
        .cut_along(17, 4, Stop::Edge, stop(2))
        .cut_along(18, 4, stop(1), Stop::Edge)
        .base("6", "6")
}

/// What an allotment promises whatever is asked, but for being the best.
#[track_caller]
pub(crate) fn keeps_its_promises(document: &Document, layout: &Layout, found: &Allotment, settings: &Settings) {
    assert_eq!(&allot(document, layout, settings), found, "the same every time");
    let order: Vec<PartId> = document.parts.iter().map(|part| part.id).collect();
    assert_eq!(found.supplies.iter().map(|supply| supply.part).collect::<Vec<_>>(), order);
    sums(layout, found);
    for round in &found.rounds {
        plan::keeps_its_promises(&round.task, &round.plan);
        assert_eq!((round.pieces.len(), round.parts.len()), (round.task.leftovers.len(), round.plan.placements.len()));
    }
    for offcut in &found.offcuts {
        holds_its_parts(layout, found, offcut);
        if offcut.parts.is_empty() {
            let gone = if offcut.paper == OffcutPaper::Sliver { Area::ZERO } else { offcut.ledger.whole };
            assert!(offcut.is_untouched && offcut.cuts.is_empty() && offcut.ledger.left == gone);
        }
    }
    for sheets in &found.sheets {
        let sheet = Rect::at_origin(sheets.size);
        assert!(sheets.at_least as usize <= sheets.sheets.len());
        for (cutting, number) in sheets.sheets.iter().zip(1..) {
            assert_eq!(cutting.number, number);
            let on_it = |origin: &Origin| match origin {
                Origin::Sheet { stock, sheet, cutout } if (*stock, *sheet) == (sheets.stock, number) => {
                    Some(cutout.rect)
                }
                _ => None,
            };
            let mut leaves: Vec<Rect> = found.supplies.iter().filter_map(|supply| on_it(&supply.from)).collect();
            assert_eq!(leaves.len(), cutting.parts.len());
            leaves.extend(&cutting.remainders);
            apart(&leaves);
            replayed(vec![sheet], &cutting.cuts, &leaves);
        }
    }
}

/// Every ledger adds up to the last half square nanometre, and nothing in it is less than nothing.
#[track_caller]
fn sums(layout: &Layout, found: &Allotment) {
    for offcut in &found.offcuts {
        let ledger = &offcut.ledger;
        let own: Area = ledger.parts.iter().map(|(_, area)| *area).sum();
        assert_eq!(ledger.whole, layout.pieces[offcut.piece.0].area);
        assert_eq!(own + ledger.cut_offs + ledger.left + ledger.waste, ledger.whole, "{}", offcut.name);
        assert!([own, ledger.cut_offs, ledger.left, ledger.waste].iter().all(|&area| area >= Area::ZERO), "{ledger:?}");
        let rests: Area = offcut.remainders.iter().map(|rect| rect.area()).sum();
        assert!(rests <= ledger.left && (offcut.is_untouched || rests == ledger.left));
        // What nesting says of its cuts, by what it was asked; a part counts with the rectangle it is cut from.
        let rect_of = |supply: &foliowright_allot::Supply| match &supply.from {
            Origin::Offcut { piece, cutout, whole: false, .. } if *piece == offcut.piece => Some(cutout.rect.area()),
            _ => None,
        };
        if !offcut.is_untouched && found.supplies.iter().any(|supply| rect_of(supply).is_some()) {
            let rects: Area = found.supplies.iter().filter_map(rect_of).sum();
            assert_eq!(rects, own + ledger.cut_offs);
        }
    }
    let all = found.ledger;
    assert_eq!(all.folio + all.parts + all.cut_offs + all.left + all.slots + all.waste, all.sheet);
    assert_eq!((all.sheet, all.folio, all.slots), (layout.size.area(), layout.ledger.folio, layout.ledger.slots));
    assert!((0.0..=100.0).contains(&all.use_per_cent()) && all.use_per_cent() >= all.folio_per_cent());
}

/// Parts and remainders of an offcut lie apart, within it, and come out of it by its cuts.
#[track_caller]
fn holds_its_parts(layout: &Layout, found: &Allotment, offcut: &OffcutUse) {
    let of = |origin: &Origin| match origin {
        Origin::Offcut { piece, cutout, whole, .. } if *piece == offcut.piece => Some((cutout.rect, *whole)),
        _ => None,
    };
    let taken: Vec<(Rect, bool)> = found.supplies.iter().filter_map(|supply| of(&supply.from)).collect();
    assert_eq!(taken.len(), offcut.parts.len());
    if taken.iter().any(|(_, whole)| *whole) {
        assert_eq!((taken.len(), offcut.remainders.len()), (1, 0), "nothing else comes from a whole offcut");
        return;
    }
    let mut leaves: Vec<Rect> = taken.iter().map(|(rect, _)| *rect).collect();
    leaves.extend(&offcut.remainders);
    apart(&leaves);
    leaves.iter().for_each(|rect| no_wall_crosses(layout, offcut.piece, *rect));
    let piece = &layout.pieces[offcut.piece.0];
    let start = match &offcut.paper {
        OffcutPaper::Rectangles(rects) => {
            apart(rects);
            rects.clone()
        }
        _ => vec![Rect::between(piece.bounds.0.x, piece.bounds.0.y, piece.bounds.1.x, piece.bounds.1.y).unwrap()],
    };
    // What an outline with inner corners comes to is checked by replaying the plan of nesting.
    let is_replayed = offcut.paper != OffcutPaper::Exact || start[0].area() == piece.area;
    if is_replayed && !offcut.is_untouched {
        replayed(start, &offcut.cuts, &leaves);
    }
}

/// Cuts as the steps say, each of a rectangle that is there at the time, from edge to edge; in the end all leaves are.
#[track_caller]
fn replayed(mut paper: Vec<Rect>, cuts: &[CutStep], leaves: &[Rect]) {
    for cut in cuts.iter().filter_map(|step| step.line) {
        let place = paper.iter().position(|rect| *rect == cut.paper).expect("what is cut is there");
        let rect = paper.remove(place);
        let (from, to) = (cut.from, cut.to);
        let parts = match cut.way {
            Way::Upright => {
                assert!(from.x == to.x && (from.y, to.y) == (rect.top(), rect.bottom()));
                let right = Rect::between(from.x + cut.kerf, rect.top(), rect.right(), rect.bottom());
                [Rect::between(rect.left(), rect.top(), from.x, rect.bottom()), right]
            }
            Way::Level => {
                assert!(from.y == to.y && (from.x, to.x) == (rect.left(), rect.right()));
                let below = Rect::between(rect.left(), from.y + cut.kerf, rect.right(), rect.bottom());
                [Rect::between(rect.left(), rect.top(), rect.right(), from.y), below]
            }
        };
        paper.extend(parts.into_iter().flatten());
    }
    assert!(leaves.iter().all(|leaf| paper.contains(leaf)), "{leaves:?} come out of {paper:?}");
}

#[track_caller]
fn apart(rects: &[Rect]) {
    for (i, a) in rects.iter().enumerate() {
        for b in &rects[..i] {
            let beside = a.right() <= b.left() || b.right() <= a.left();
            assert!(beside || a.bottom() <= b.top() || b.bottom() <= a.top(), "{a:?} overlaps {b:?}");
        }
    }
}

/// No edge of a piece and no cut into it runs through a rectangle, and the rectangle's middle is of the piece or on one of
/// its scores (Liang and Barsky 1984, in exact fractions over the length of the edge; author and year from memory).
#[track_caller]
fn no_wall_crosses(layout: &Layout, piece: PieceId, rect: Rect) {
    let has = |side: Option<model::PanelId>| side.is_some_and(|id| layout.panel(id).piece == piece);
    for stretch in &layout.stretches {
        let is_wall = match stretch.sides.map(has) {
            [true, true] => stretch.work.is_some_and(|work| work.is_cut()),
            [a, b] => a || b,
        };
        let (a, way) = (stretch.segment.a, stretch.segment.b - stretch.segment.a);
        // From `low` to `high` of the way, as fractions, the edge is strictly inside of all borders.
        let (mut low, mut high) = ((0_i128, 1_i128), (1_i128, 1_i128));
        let mut is_outside = !is_wall;
        let borders = [
            (-way.x.nm(), (a.x - rect.left()).nm()),
            (way.x.nm(), (rect.right() - a.x).nm()),
            (-way.y.nm(), (a.y - rect.top()).nm()),
            (way.y.nm(), (rect.bottom() - a.y).nm()),
        ];
        for (p, q) in borders.map(|(p, q)| (i128::from(p), i128::from(q))) {
            match p.signum() {
                0 => is_outside |= q <= 0,
                -1 if (-q) * low.1 > low.0 * (-p) => low = (-q, -p),
                1 if q * high.1 < high.0 * p => high = (q, p),
                _ => {}
            }
        }
        assert!(is_outside || low.0 * high.1 >= high.0 * low.1, "{:?} runs through {rect:?}", stretch.segment);
    }
    let middle = Point::new((rect.left() + rect.right()).half(), (rect.top() + rect.bottom()).half());
    let inside = layout.panel_at(middle).is_none_or(|panel| layout.panel(panel).piece == piece);
    assert!(inside, "{rect:?} is of another piece");
}
