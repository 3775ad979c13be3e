//! Made-up folios of as many panels as a bench asks for, put together the way makers put theirs together: a concertina with
//! a pocket at either end, flaps round a base, pages on hinges, a map. How large they get is bounded by what the reader of
//! project files takes: [`Document::MOST_LINES`] lines and [`Document::MOST_PARTS`] parts.

mod tray;

pub use tray::{Side, Tray};

use model::part::{Edges, Page, Placement, Pocket, Source};

use model::{
    Caliper, Crease, Datum, Direction, Document, FoldAngle, Length, Line, LineId, PanelRef, Part, PartKind, Place,
    Point, Run, SheetEdge, Size, Spot, Step, Stop, Turn, Unit, Work,
};

/// A sort of folio that can be made in any size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// Panels side by side that fold to and fro, one after the other, with a pocket on the first and on the last.
    Concertina,
    /// A base with flaps along its upper and its lower edge that reach over half of it; all of an edge fold at once.
    Flaps,
    /// A concertina with pages on its panels, two of every three up to as many parts as a file may have.
    Pages,
    /// Rows and columns of equal panels, folded up line by line.
    Map,
}

impl Sort {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Concertina, Self::Flaps, Self::Pages, Self::Map];

    /// What it is called in a table.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Concertina => "concertina",
            Self::Flaps => "flaps",
            Self::Pages => "pages",
            Self::Map => "map",
        }
    }

    /// A folio of about so many panels, those of parts included.
    #[must_use]
    pub fn folio(self, panels: usize) -> Document {
        match self {
            Self::Concertina => concertina(panels.saturating_sub(2), false),
            Self::Flaps => {
                let side = Side { flaps: panels.saturating_sub(1) / 2, reach: 60 };
                let lower = Side { flaps: panels.saturating_sub(1 + side.flaps), ..side };
                Tray { sides: [side, Side::NONE, lower, Side::NONE], ..Tray::default() }.folio()
            }
            Self::Pages => paged(panels),
            Self::Map => map(panels),
        }
    }
}

/// A sheet being drawn.
struct Drawing {
    document: Document,
    next: u32,
}

/// How wide a panel is where there are so many of them on a strip: the longest sheet is 10 m.
fn pitch(panels: usize) -> Length {
    Length::MILLIMETRE * if panels > 900 { 4 } else { 10 }
}

fn length(count: usize, each: Length) -> Length {
    each * i64::try_from(count).unwrap_or(i64::MAX)
}

impl Drawing {
    /// # Panics
    /// When the sheet would be larger than any.
    fn new(width: Length, height: Length) -> Self {
        let size = Size::new(width, height).expect("a sheet of at most 10 m");
        let mut document = Document::new(size, Unit::Millimetre);
        document.stock.caliper = Caliper::Measured(Length::MILLIMETRE * 3 / 10);
        Self { document, next: 1 }
    }

    fn line(&mut self, place: Place, work: Work) -> LineId {
        let id = LineId(self.next);
        self.next += 1;
        self.document.lines.push(Line::new(id, place, work));
        id
    }

    /// From top to bottom at `x`, between two heights; from edge to edge where none are given.
    fn upright(&mut self, x: Length, y: Option<(Length, Length)>, work: Work) -> LineId {
        let run = y.map_or(Run::FULL, |(from, to)| Run { from: Stop::At(from), to: Stop::At(to) });
        self.line(Place::Measured { turn: Turn::None, from: Datum::Edge, distance: x, run }, work)
    }

    /// From side to side at `y`. With the sheet turned once to the left, its right end is the start.
    fn level(&mut self, y: Length, x: Option<(Length, Length)>, work: Work) -> LineId {
        let wide = self.document.stock.size.width();
        let run = x.map_or(Run::FULL, |(from, to)| Run { from: Stop::At(wide - to), to: Stop::At(wide - from) });
        self.line(Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: y, run }, work)
    }

    fn put(&mut self, kind: PartKind, at: Point, source: Source) {
        let id = self.document.next_part();
        let place = Placement::centred(PanelRef::Sheet(at));
        self.document.parts.push(Part { id, name: String::new(), kind, source, place, also: Vec::new() });
    }
}

fn score(direction: Direction, angle: FoldAngle) -> Work {
    Work::Score(Crease { direction, angle, pressed: None })
}

fn to_and_fro(i: usize) -> Direction {
    if i.is_multiple_of(2) { Direction::Mountain } else { Direction::Valley }
}

/// Panels side by side that fold to and fro, all at once or one after the other, with a pocket on the first and the last.
///
/// # Panics
/// When they would take more than 10 m.
#[must_use]
pub fn concertina(panels: usize, at_once: bool) -> Document {
    let (mut drawing, wide) = strip(panels.max(2), at_once);
    let high = drawing.document.stock.size.height();
    let strip = Length::MILLIMETRE;
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    let pocket =
        Pocket { width: wide - strip, height: high / 2, glued, strip, rim: Length::ZERO, gusset: Length::ZERO };
    for x in [wide.half(), drawing.document.stock.size.width() - wide.half()] {
        drawing.put(PartKind::Pocket(pocket), Point::new(x, high.half()), Source::FolioStock);
    }
    drawing.document
}

/// The strip alone, and how wide a panel is.
fn strip(panels: usize, at_once: bool) -> (Drawing, Length) {
    let wide = pitch(panels);
    let high = Length::MILLIMETRE * 100;
    let mut drawing = Drawing::new(length(panels, wide), high);
    let lines: Vec<LineId> =
        (1..panels).map(|i| drawing.upright(length(i, wide), None, score(to_and_fro(i), FoldAngle::Flat))).collect();
    drawing.document.steps =
        if at_once { vec![Step::of(lines)] } else { lines.into_iter().map(|line| Step::of(vec![line])).collect() };
    drawing.document.base = Some(Point::new(wide.half(), high.half()));
    (drawing, wide)
}

/// A concertina with pages, which have two panels each.
fn paged(panels: usize) -> Document {
    let pages = (2 * panels / 7).min(Document::MOST_PARTS);
    let (mut drawing, wide) = strip(panels.saturating_sub(2 * pages).max(2), false);
    let high = drawing.document.stock.size.height();
    let strip = wide / 4;
    let page = Page { width: wide * 4 / 5, height: high * 9 / 10, hinged: SheetEdge::Left, strip };
    for i in 0..pages {
        let x = length(i, wide) + wide.half();
        drawing.put(PartKind::Page(page), Point::new(x, high.half()), Source::FolioStock);
    }
    drawing.document
}

/// About so many panels in rows and columns, half as many rows as columns.
fn map(panels: usize) -> Document {
    let rows = (1..).take_while(|rows| 2 * rows * rows <= panels).last().unwrap_or(1);
    let columns = panels / rows;
    let wide = Length::MILLIMETRE * 30;
    let mut drawing = Drawing::new(length(columns, wide), length(rows, wide));
    let mut steps = Vec::new();
    for i in 1..columns {
        steps.push(drawing.upright(length(i, wide), None, score(to_and_fro(i), FoldAngle::Flat)));
    }
    // Once it is folded to a strip, every second column lies face down: where a level line is a valley in one column, it is
    // a mountain in the next. So it is one line for each column.
    let mut rounds = Vec::new();
    for row in 1..rows {
        let round = (0..columns).map(|column| {
            let across = (length(column, wide), length(column + 1, wide));
            let way = to_and_fro(row + column);
            drawing.level(length(row, wide), Some(across), score(way, FoldAngle::Flat))
        });
        rounds.push(round.collect::<Vec<LineId>>());
    }
    drawing.document.steps = steps.into_iter().map(|line| vec![line]).chain(rounds).map(Step::of).collect();
    drawing.document.base = Some(Point::new(wide.half(), wide.half()));
    drawing.document
}

/// Panels each a tenth of a millimetre shorter than the one before, rolled up one by one from the far end.
///
/// # Panics
/// When they would take more than 10 m.
#[must_use]
pub fn roll(panels: usize) -> Document {
    let (first, less) = (Length::MILLIMETRE * 40, Length::MILLIMETRE / 10);
    let places: Vec<Length> = (1..panels)
        .map(|i| {
            let before = i64::try_from(i).unwrap_or(0);
            first * before - less * (before * (before - 1) / 2)
        })
        .collect();
    let last = i64::try_from(panels).unwrap_or(1);
    let all = first * last - less * (last * (last - 1) / 2);
    let mut drawing = Drawing::new(all, Length::MILLIMETRE * 100);
    let valley = score(Direction::Valley, FoldAngle::Flat);
    let lines: Vec<LineId> = places.into_iter().map(|x| drawing.upright(x, None, valley)).collect();
    drawing.document.steps = lines.into_iter().rev().map(|line| Step::of(vec![line])).collect();
    drawing.document.base = Some(Point::new(first.half(), Length::MILLIMETRE * 50));
    drawing.document
}

/// So many lines each way that slant and cross all of one another.
///
/// # Panics
/// Never: the sheet is of a usual size.
#[must_use]
pub fn crossing(lines: usize, work: Work) -> Document {
    let side = Length::MILLIMETRE * 300;
    let mut drawing = Drawing::new(side, side);
    let (first, each) = (Length::MILLIMETRE * 5, Length::MILLIMETRE * 280 / i64::try_from(lines).unwrap_or(1));
    let mut steps = Vec::new();
    for i in 0..lines {
        let at = first + length(i, each);
        // They slant by another nanometre each, so that no two are parallel.
        let end = at + Length::MILLIMETRE * 7 + length(i, Length::from_nm(1));
        let ends = [
            (Point::new(at, Length::ZERO), Point::new(end, side)),
            (Point::new(Length::ZERO, at), Point::new(side, end)),
        ];
        for (from, to) in ends {
            let place = Place::Drawn { from: Spot::At(from), to: Spot::At(to), bow: Length::ZERO };
            let id = drawing.line(place, work);
            steps.extend(work.is_score().then(|| Step::of(vec![id])));
        }
    }
    drawing.document.steps = steps;
    drawing.document.base = Some(Point::new(Length::MILLIMETRE, Length::MILLIMETRE));
    drawing.document
}
