//! Designs made from bytes: lines of every kind and place, corners, parts, steps. Small numbers, so that lines meet, coincide
//! and hang on one another often.

use crate::bytes::Bytes;
use model::part::{
    Anchor, AnchorFrom, Band, Closure, ClosureKind, Edges, Flap, GlueArea, Gluing, Hinge, Insert, Mat, Own, Page,
    PanelCorner, PanelRef, Part, PartId, PartKind, Placement, Pocket, Rotation, Source, Tab, TuckCorner,
};
use model::{
    Border, Caliper, Corner, CornerShape, Crease, Datum, Direction, Document, Face, FoldAngle, Length, Line, LineId,
    Notch, Place, Point, Run, SheetEdge, Size, Spot, Step, Stop, Strip, StripSide, Tucked, Turn, Unit, Which, Work,
};

const EDGES: [SheetEdge; 4] = [SheetEdge::Top, SheetEdge::Right, SheetEdge::Bottom, SheetEdge::Left];
const FACES: [Face; 2] = [Face::Front, Face::Back];

/// A design of at most so many lines.
pub(crate) fn design(bytes: &mut Bytes<'_>, most_lines: usize) -> Document {
    let (size, unit) = bytes.pick(&[("12x12in", Unit::Inch), ("A4", Unit::Millimetre), ("8 1/2x11in", Unit::Inch)]);
    let mut document = Document::new(Size::parse(size).expect("a size"), unit);
    document.stock.caliper = Caliper::Measured(Length::from_nm(i64::from(bytes.byte()) * 4_000 + 1));
    let count = bytes.below(most_lines + 1);
    document.lines = lines(bytes, count);
    document.corners = corners(bytes, count);
    document.base = (!bytes.byte().is_multiple_of(8)).then(|| point(bytes));
    document.parts = (0..bytes.below(4)).map(|at| part(bytes, u32::try_from(at).unwrap_or(0) + 1, count)).collect();
    document.steps = steps(bytes, count);
    document
}

/// Numbers of lines run from 1; now and then one that is not there.
pub(crate) fn id(bytes: &mut Bytes<'_>, count: usize) -> LineId {
    LineId(u32::try_from(bytes.below(count + 1)).unwrap_or(0) + 1)
}

fn known(bytes: &mut Bytes<'_>, count: usize) -> LineId {
    LineId(u32::try_from(bytes.below(count)).unwrap_or(0) + 1)
}

fn lines(bytes: &mut Bytes<'_>, count: usize) -> Vec<Line> {
    (1..=u32::try_from(count).unwrap_or(0)).map(|number| line(bytes, LineId(number), count)).collect()
}

/// Any line of that number.
pub(crate) fn line(bytes: &mut Bytes<'_>, number: LineId, count: usize) -> Line {
    let locked = bytes.byte() >= 240;
    let place = place(bytes, count);
    Line { locked, ..Line::new(number, place, work(bytes)) }
}

pub(crate) fn point(bytes: &mut Bytes<'_>) -> Point {
    // An odd nanometre keeps marks off lines.
    let odd = Length::from_nm(i64::from(bytes.flag()));
    Point::new(bytes.length() + odd, bytes.length() + odd)
}

fn place(bytes: &mut Bytes<'_>, count: usize) -> Place {
    match bytes.below(8) {
        0..=3 => {
            let turn = Turn::from_count(bytes.byte() % 4).unwrap_or_default();
            let from = if bytes.below(4) == 0 { Datum::Line(id(bytes, count)) } else { Datum::Edge };
            Place::Measured { turn, from, distance: bytes.length(), run: run(bytes, count) }
        }
        4 | 5 => Place::Along { line: id(bytes, count), run: run(bytes, count) },
        _ => {
            let bow = if bytes.below(4) == 0 { bytes.short() } else { Length::ZERO };
            Place::Drawn { from: spot(bytes, count), to: spot(bytes, count), bow }
        }
    }
}

fn run(bytes: &mut Bytes<'_>, count: usize) -> Run {
    Run { from: stop(bytes, count), to: stop(bytes, count) }
}

fn stop(bytes: &mut Bytes<'_>, count: usize) -> Stop {
    match bytes.below(6) {
        0..=2 => Stop::Edge,
        3 => Stop::Line(id(bytes, count)),
        4 => Stop::At(bytes.length()),
        _ => Stop::Past(id(bytes, count), bytes.short()),
    }
}

pub(crate) fn spot(bytes: &mut Bytes<'_>, count: usize) -> Spot {
    match bytes.below(5) {
        0..=2 => Spot::At(point(bytes)),
        3 => Spot::Crossing(id(bytes, count), id(bytes, count)),
        _ => Spot::On(id(bytes, count), bytes.length()),
    }
}

pub(crate) fn crease(bytes: &mut Bytes<'_>) -> Crease {
    let direction = bytes.pick(&[Direction::Valley, Direction::Mountain, Direction::Either]);
    let angle = bytes.pick(&[FoldAngle::Flat, FoldAngle::Flat, FoldAngle::Square]);
    let pressed = bytes.pick(&[None, None, Some(Face::Front), Some(Face::Back)]);
    Crease { direction, angle, pressed }
}

fn work(bytes: &mut Bytes<'_>) -> Work {
    let side = bytes.pick(&[StripSide::Left, StripSide::Right, StripSide::Centred]);
    match bytes.below(12) {
        0..=5 => Work::Score(crease(bytes)),
        6..=8 => Work::Cut,
        9 => Work::Slot(Strip { width: bytes.short(), side }),
        10 if side == StripSide::Left => {
            Work::Trim(Strip { width: Length::from_nm(i64::from(bytes.byte()) * 4_000), side })
        }
        10 => Work::Notch(Notch { depth: bytes.short(), to_left: bytes.flag() }),
        _ => Work::Guide,
    }
}

fn border(bytes: &mut Bytes<'_>, count: usize) -> Border {
    if bytes.flag() { Border::Edge(bytes.pick(&EDGES)) } else { Border::Line(id(bytes, count)) }
}

fn corners(bytes: &mut Bytes<'_>, count: usize) -> Vec<Corner> {
    (0..bytes.below(4)).map(|_| corner(bytes, count)).collect()
}

pub(crate) fn corner(bytes: &mut Bytes<'_>, count: usize) -> Corner {
    let which = match bytes.below(3) {
        0 => Which::AllOfPanel,
        1 => Which::AllOfPiece,
        _ => Which::Between(border(bytes, count), border(bytes, count)),
    };
    let shape = match bytes.below(3) {
        0 => CornerShape::Square,
        1 => CornerShape::Round(bytes.short()),
        _ => CornerShape::Clip(bytes.short()),
    };
    Corner { mark: point(bytes), which, shape }
}

fn panel(bytes: &mut Bytes<'_>) -> PanelRef {
    if bytes.below(4) == 0 {
        PanelRef::Part(PartId(u32::from(bytes.byte() % 5)), bytes.below(3))
    } else {
        PanelRef::Sheet(point(bytes))
    }
}

/// Steps that name lines that are there, as a file must.
pub(crate) fn steps(bytes: &mut Bytes<'_>, count: usize) -> Vec<Step> {
    if count == 0 {
        return Vec::new();
    }
    let step = |bytes: &mut Bytes<'_>| {
        let lines = (0..=bytes.below(2)).map(|_| known(bytes, count)).collect();
        let tucks = match bytes.byte() {
            250.. => vec![Tucked { panel: panel(bytes), under: panel(bytes) }],
            _ => Vec::new(),
        };
        Step { tucks, ..Step::of(lines) }
    };
    (0..bytes.below(8)).map(|_| step(bytes)).collect()
}

/// Any part of that number.
pub(crate) fn part(bytes: &mut Bytes<'_>, number: u32, count: usize) -> Part {
    let source = match bytes.below(6) {
        0 | 1 => Source::AnyOffcut,
        2 => Source::Offcut(point(bytes)),
        3 => Source::Whole(point(bytes)),
        4 => Source::FolioStock,
        _ => Source::Bought,
    };
    let anchor = |bytes: &mut Bytes<'_>| Anchor {
        from: bytes.pick(&[AnchorFrom::Start, AnchorFrom::Middle, AnchorFrom::End]),
        distance: bytes.short(),
    };
    let rotation =
        if bytes.below(4) == 0 { i32::from(bytes.byte()) * 150 } else { i32::from(bytes.byte() % 4) * 9_000 };
    let place = Placement {
        on: panel(bytes),
        face: bytes.pick(&FACES),
        across: anchor(bytes),
        down: anchor(bytes),
        rotation: Rotation::from_hundredths(rotation),
        showing: bytes.pick(&FACES),
    };
    let gluing = |bytes: &mut Bytes<'_>| {
        let area = match bytes.below(3) {
            0 => GlueArea::Whole,
            1 => GlueArea::Strips(edges(bytes), bytes.short()),
            _ => GlueArea::None,
        };
        Gluing { panel: bytes.below(3), face: bytes.pick(&FACES), to: panel(bytes), area }
    };
    let also = (0..bytes.below(8) / 7).map(|_| gluing(bytes)).collect();
    Part { id: PartId(number), name: String::new(), kind: kind(bytes, count), source, place, also }
}

fn edges(bytes: &mut Bytes<'_>) -> Edges {
    EDGES.iter().fold(Edges::NONE, |all, &edge| all.with(edge, bytes.flag()))
}

/// A measure of a part, as a file may have it: not below nothing.
fn measure(bytes: &mut Bytes<'_>) -> Length {
    bytes.short().abs()
}

fn kind(bytes: &mut Bytes<'_>, count: usize) -> PartKind {
    let which = bytes.below(11);
    let (width, height) = (measure(bytes), measure(bytes));
    let (strip, edge) = (measure(bytes), bytes.pick(&EDGES));
    match which {
        0 => PartKind::Hinge(Hinge { length: width, leaf: height, free_leaf: strip }),
        1 => {
            let (glued, rim, gusset) = (edges(bytes), measure(bytes), measure(bytes));
            PartKind::Pocket(Pocket { width, height, glued, strip, rim, gusset })
        }
        2 => {
            let corners =
                [PanelCorner::TopLeft, PanelCorner::TopRight, PanelCorner::BottomRight, PanelCorner::BottomLeft];
            let (corner, band) = (bytes.pick(&corners), measure(bytes));
            PartKind::TuckCorner(TuckCorner { across: width, down: height, corner, band, strip })
        }
        3 => PartKind::Page(Page { width, height, hinged: edge, strip }),
        4 => PartKind::Flap(Flap { width, reach: height, edge, strip }),
        5 => PartKind::Band(Band { around: width, width: height, overlap: strip, is_upright: bytes.flag() }),
        6 => PartKind::Mat(Mat { width, height }),
        7 => PartKind::Tab(Tab { width, height, glued: edge, strip }),
        8 => PartKind::Insert(Insert { width, height, caliper: bytes.flag().then_some(strip) }),
        9 => {
            let kinds = [ClosureKind::Brad, ClosureKind::Magnet, ClosureKind::HookAndLoop, ClosureKind::Ribbon];
            PartKind::Closure(Closure { kind: bytes.pick(&kinds), width, height, thickness: strip })
        }
        _ => {
            let size = Size::new(width, height).unwrap_or_else(|| Size::parse("3x2in").expect("a size"));
            let own = count.min(4);
            let lines = lines(bytes, own);
            let folded = steps(bytes, own).into_iter().map(|step| step.lines).collect();
            let (corners, base) = (corners(bytes, own), point(bytes));
            PartKind::Own(Own { size, lines, corners, base, folded })
        }
    }
}
