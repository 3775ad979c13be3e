//! The design that has the measures.

use crate::{Measures, Piles, Thing};
use model::part::{Anchor, AnchorFrom, Insert, PanelRef, Placement, Rotation, Source};
use model::{
    Crease, Datum, Direction, Document, Edit, Face, FoldAngle, Length, Line, LineId, Part, PartId, PartKind, Place,
    Point, Refusal, Run, Step, Stock, Stop, Turn, Unit, Work,
};

/// How far the side flaps end before the gussets above and below: room for those to stand (1/8 in; common practice, no
/// source).
const SHORT: Length = Length::EIGHTH;

/// The folio with these measures, with the things in it, on a sheet of `stock`. What of the sheet it doesn't need is cut off
/// at the right and below.
///
/// # Errors
/// The edits are refused only where the measures are not those of [`crate::measures`] for this sheet.
pub fn folio(
    measures: &Measures,
    things: &[Thing],
    stock: &Stock,
    unit: Unit,
    groove: Length,
) -> Result<Document, Refusal> {
    let mut document = Document::new(stock.size, unit);
    document.title = "Folio for what goes in".to_owned();
    document.stock = stock.clone();
    document.groove = groove;
    let at = |grooves: i64| measures.groove * grooves;
    let [width, height] = measures.base;
    let left = measures.side;
    let right = left + 2 * measures.gusset + width;
    let top = measures.closing;
    let bottom = top + 2 * measures.gusset + height;
    let edge = |number: u32, name: &str, turn, distance| line(number, name, turn, Datum::Edge, distance);
    let from =
        |number: u32, name: &str, turn, of: u32, distance| line(number, name, turn, Datum::Line(LineId(of)), distance);
    let gusset = at(measures.gusset);
    let (none, once) = (Turn::None, Turn::Once);
    let mut lines = vec![
        score(edge(1, "Left flap fold", none, at(left)), between(9, 11)),
        score(from(2, "Left gusset fold", none, 1, gusset), between(9, 11)),
        score(edge(3, "Right gusset fold", none, at(right) - gusset), between(10, 12)),
        score(from(4, "Right flap fold", none, 3, gusset), between(10, 12)),
        score(edge(5, "Closing flap fold", once, at(top)), between(3, 2)),
        score(from(6, "Top gusset fold", once, 5, gusset), between(3, 2)),
        score(edge(7, "Bottom gusset fold", once, at(bottom) - gusset), between(3, 2)),
        score(from(8, "Front fold", once, 7, gusset), between(3, 2)),
        cut(from(9, "Left flap, top edge", once, 6, SHORT), Stop::Line(LineId(2)), Stop::Edge),
        cut(from(10, "Right flap, top edge", once, 6, SHORT), Stop::Edge, Stop::Line(LineId(3))),
        cut(from(11, "Left flap, bottom edge", once, 7, -SHORT), Stop::Line(LineId(2)), Stop::Edge),
        cut(from(12, "Right flap, bottom edge", once, 7, -SHORT), Stop::Edge, Stop::Line(LineId(3))),
        along(13, "Upper left corner", 2, Stop::Edge, Stop::Line(LineId(9))),
        along(14, "Lower left corner", 2, Stop::Line(LineId(11)), Stop::Edge),
        along(15, "Upper right corner", 3, Stop::Edge, Stop::Line(LineId(10))),
        along(16, "Lower right corner", 3, Stop::Line(LineId(12)), Stop::Edge),
    ];
    let [needed_width, needed_height] = measures.needed().map(at);
    if needed_width < stock.size.width() {
        lines.push(cut(edge(17, "Right edge", none, needed_width), Stop::Edge, Stop::Edge));
    }
    if needed_height < stock.size.height() {
        lines.push(cut(edge(18, "Lower edge", once, needed_height), Stop::Edge, Stop::Edge));
    }
    document.apply(Edit::All(lines.into_iter().map(|line| Edit::InsertLine { at: 0, line }).collect()))?;
    document.lines.sort_by_key(|line| line.id);
    let middle = |low: i64, size: i64| at(low + measures.gusset) + at(size).half();
    document.base = Some(Point::new(middle(left, width), middle(top, height)));
    document.steps = [[2, 1], [3, 4], [7, 8], [6, 5]].map(|lines| Step::of(lines.map(LineId).to_vec())).to_vec();
    let parts: Vec<Part> = things
        .iter()
        .enumerate()
        .map(|(at, thing)| insert(measures, at, thing, document.base.unwrap_or_default()))
        .collect();
    document.parts = parts;
    Ok(document)
}

fn line(number: u32, name: &str, turn: Turn, from: Datum, distance: Length) -> Line {
    let place = Place::Measured { turn, from, distance, run: Run::FULL };
    Line { name: name.to_owned(), ..Line::new(LineId(number), place, Work::Cut) }
}

const fn between(from: u32, to: u32) -> Run {
    Run { from: Stop::Line(LineId(from)), to: Stop::Line(LineId(to)) }
}

fn with_run(mut line: Line, to: Run) -> Line {
    if let Place::Measured { run, .. } = &mut line.place {
        *run = to;
    }
    line
}

fn score(line: Line, run: Run) -> Line {
    let crease = Crease { direction: Direction::Valley, angle: FoldAngle::Square, pressed: None };
    Line { work: Work::Score(crease), ..with_run(line, run) }
}

fn cut(line: Line, from: Stop, to: Stop) -> Line {
    with_run(line, Run { from, to })
}

fn along(number: u32, name: &str, line: u32, from: Stop, to: Stop) -> Line {
    let place = Place::Along { line: LineId(line), run: Run { from, to } };
    Line { name: name.to_owned(), ..Line::new(LineId(number), place, Work::Cut) }
}

/// All of one thing as one insert, in the middle of its pile's room.
fn insert(measures: &Measures, at: usize, thing: &Thing, on: Point) -> Part {
    let lying = measures.lying[at];
    let (width, height) = if lying.turned { (thing.height, thing.width) } else { (thing.width, thing.height) };
    let before: i64 = measures.room[..lying.pile].iter().sum();
    let start = |own: Length| Anchor {
        from: AnchorFrom::Start,
        distance: measures.groove * before + (measures.groove * measures.room[lying.pile] - own).half(),
    };
    let middle = Anchor { from: AnchorFrom::Middle, distance: Length::ZERO };
    let (across, down) = match measures.piles {
        Piles::One => (middle, middle),
        Piles::Beside => (start(width), middle),
        Piles::Above => (middle, start(height)),
    };
    let what = if thing.name.is_empty() { format!("Thing {}", at + 1) } else { thing.name.clone() };
    Part {
        id: PartId(u32::try_from(at + 1).unwrap_or(u32::MAX)),
        name: if thing.count == 1 { what } else { format!("{what}, {} of them", thing.count) },
        kind: PartKind::Insert(Insert { width, height, caliper: Some(thing.thickness * i64::from(thing.count)) }),
        source: Source::Bought,
        place: Placement {
            on: PanelRef::Sheet(on),
            face: Face::Front,
            across,
            down,
            rotation: Rotation::default(),
            showing: Face::Front,
        },
        also: Vec::new(),
    }
}
