//! Spots that a line is drawn between: what a pointer snaps to, and the ways to say where an end lies.

use crate::snap::{Fineness, step};
use model::{Document, Layout, Length, Line, LineId, Place, Placed, Point, Spot};

/// A spot that the pointer snapped to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SnappedSpot {
    /// The spot.
    pub spot: Spot,
    /// Where on the sheet that is.
    pub at: Point,
    /// What it is, in words that follow "from" or "to".
    pub words: String,
}

/// How a spot is said, without its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpotKind {
    /// So far from the left and the top edge.
    At,
    /// Where two lines cross.
    Crossing,
    /// On a line.
    On,
}

impl SpotKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::At, Self::Crossing, Self::On];

    /// How a spot is said.
    #[must_use]
    pub const fn of(spot: Spot) -> Self {
        match spot {
            Spot::At(_) => Self::At,
            Spot::Crossing(..) => Self::Crossing,
            Spot::On(..) => Self::On,
        }
    }
}

/// What a spot of a line may be said by: straight lines that have a place and don't hang on `own`. Lines along others come
/// last, so that where both are, the line that they lie along is named.
pub fn hosts<'a>(
    document: &'a Document,
    layout: &'a Layout,
    own: Option<LineId>,
) -> impl Iterator<Item = (LineId, Placed)> + 'a {
    let host = move |line: &Line| {
        let placed = layout.lines.get(&line.id)?.ok()?;
        let free = own.is_none_or(|own| !document.hangs_on(line.id, own));
        (placed.bow == Length::ZERO && free).then_some((line.id, placed))
    };
    let along = |line: &&Line| matches!(line.place, Place::Along { .. });
    let first = document.lines.iter().filter(move |line| !along(line));
    first.chain(document.lines.iter().filter(along)).filter_map(host)
}

/// The lines that cross `first` on the sheet, each with where; the nearest to `near` first.
#[must_use]
pub fn crossing(
    document: &Document,
    layout: &Layout,
    own: Option<LineId>,
    first: LineId,
    near: Point,
) -> Vec<(LineId, Point)> {
    let Some((_, placed)) = hosts(document, layout, own).find(|(id, _)| *id == first) else { return Vec::new() };
    let others = hosts(document, layout, own).filter(|(id, _)| *id != first);
    let mut found: Vec<(LineId, Point)> = others
        .filter_map(|(id, other)| Some((id, placed.track.crossing(other.track, layout.size)?)))
        .filter(|(_, at)| on_sheet(*at, layout))
        .collect();
    found.sort_by_key(|(id, at)| ((*at - near).length(), *id));
    found
}

/// An end of a drawn line that lies at `now`, said in another way: at the same place, or at the nearest one that can be
/// said so. `None` where there is none.
#[must_use]
pub fn said_as(document: &Document, layout: &Layout, own: LineId, now: Point, kind: SpotKind) -> Option<Spot> {
    let near = |placed: &Placed| (placed.point_at(nearest(placed, now, layout), layout.size) - now).length();
    match kind {
        SpotKind::At => Some(Spot::At(now)),
        SpotKind::On => {
            let (id, placed) = hosts(document, layout, Some(own)).min_by_key(|(_, placed)| near(placed))?;
            Some(Spot::On(id, nearest(&placed, now, layout)))
        }
        SpotKind::Crossing => {
            let all: Vec<(LineId, Placed)> = hosts(document, layout, Some(own)).collect();
            let pairs =
                all.iter().enumerate().flat_map(|(i, first)| all[i + 1..].iter().map(move |other| (first, other)));
            let crossings = pairs.filter_map(|((id, first), (other, second))| {
                let at = first.track.crossing(second.track, layout.size).filter(|at| on_sheet(*at, layout))?;
                Some(((at - now).length(), *id, *other))
            });
            crossings.min().map(|(_, id, other)| Spot::Crossing(id, other))
        }
    }
}

/// The spot nearest to `point`: within `reach` a crossing of lines, a corner of the sheet or a line, in this order; else
/// the nearest place that the board's grooves give both ways. What hangs on `own` is no host for it.
#[must_use]
pub fn snap(
    document: &Document,
    layout: &Layout,
    own: Option<LineId>,
    point: Point,
    reach: Length,
    fineness: Fineness,
) -> SnappedSpot {
    let close: Vec<(Length, LineId, Placed)> = hosts(document, layout, own)
        .map(|(id, placed)| (distance(&placed, point, layout), id, placed))
        .filter(|(distance, ..)| *distance <= reach)
        .collect();
    let snapping = Snapping { document, layout, point, reach, fineness };
    snapping
        .crossing(&close)
        .or_else(|| snapping.corner())
        .or_else(|| snapping.line(&close))
        .unwrap_or_else(|| snapping.groove())
}

struct Snapping<'a> {
    document: &'a Document,
    layout: &'a Layout,
    point: Point,
    reach: Length,
    fineness: Fineness,
}

impl Snapping<'_> {
    fn crossing(&self, close: &[(Length, LineId, Placed)]) -> Option<SnappedSpot> {
        let size = self.layout.size;
        let covers = |placed: &Placed, at| (placed.from..=placed.to).contains(&placed.down(at, size));
        let mut best: Option<(Length, LineId, LineId, Point)> = None;
        for (i, (_, a, first)) in close.iter().enumerate() {
            for (_, b, second) in &close[i + 1..] {
                let Some(at) = first.track.crossing(second.track, size) else { continue };
                let away = (at - self.point).length();
                let nearer = best.is_none_or(|(least, ..)| away < least);
                if away <= self.reach && nearer && covers(first, at) && covers(second, at) {
                    best = Some((away, *a, *b, at));
                }
            }
        }
        let (_, a, b, at) = best?;
        let name = |id| self.document.line_name(id);
        let words = format!("where \"{}\" crosses \"{}\"", name(a), name(b));
        Some(SnappedSpot { spot: Spot::Crossing(a, b), at, words })
    }

    fn corner(&self) -> Option<SnappedSpot> {
        let (zero, w, h) = (Length::ZERO, self.layout.size.width(), self.layout.size.height());
        let corners =
            [(zero, zero, "top left"), (w, zero, "top right"), (zero, h, "bottom left"), (w, h, "bottom right")];
        let away = |&(x, y, _): &(Length, Length, &str)| (Point::new(x, y) - self.point).length();
        let nearest = corners.into_iter().min_by_key(away).filter(|corner| away(corner) <= self.reach)?;
        let (x, y, name) = nearest;
        let at = Point::new(x, y);
        Some(SnappedSpot { spot: Spot::At(at), at, words: format!("the {name} corner of the sheet") })
    }

    fn line(&self, close: &[(Length, LineId, Placed)]) -> Option<SnappedSpot> {
        // The first of equals.
        let (_, id, placed) = close.iter().min_by_key(|(distance, ..)| *distance)?;
        let exact = nearest(placed, self.point, self.layout);
        let (step, _) = step(self.document, self.fineness);
        // The ends of what is there of the line go before its grooves.
        let ends = [placed.from, placed.to];
        let end =
            ends.into_iter().min_by_key(|end| (*end - exact).abs()).filter(|end| (*end - exact).abs() <= self.reach);
        let down = end.unwrap_or_else(|| exact.snapped(step).clamp(placed.from, placed.to));
        let at = placed.point_at(down, self.layout.size);
        let (name, far) = (self.document.line_name(*id), down.readable(self.document.units));
        Some(SnappedSpot { spot: Spot::On(*id, down), at, words: format!("{far} along \"{name}\"") })
    }

    fn groove(&self) -> SnappedSpot {
        let (step, name) = step(self.document, self.fineness);
        let along = |at: Length, whole: Length| {
            let at = at.clamp(Length::ZERO, whole);
            // The far edge is no groove on paper whose width is no whole number of them.
            if whole - at <= self.reach.min(step) { whole } else { at.snapped(step).clamp(Length::ZERO, whole) }
        };
        let size = self.layout.size;
        let at = Point::new(along(self.point.x, size.width()), along(self.point.y, size.height()));
        let units = self.document.units;
        let (x, y) = (at.x.readable(units), at.y.readable(units));
        let words = format!("{x} from the left and {y} from the top edge, {name}");
        SnappedSpot { spot: Spot::At(at), at, words }
    }
}

fn on_sheet(at: Point, layout: &Layout) -> bool {
    let (width, height) = (layout.size.width(), layout.size.height());
    (Length::ZERO..=width).contains(&at.x) && (Length::ZERO..=height).contains(&at.y)
}

/// How far down its own track a line comes nearest to a point, within its run.
fn nearest(placed: &Placed, point: Point, layout: &Layout) -> Length {
    placed.down(point, layout.size).clamp(placed.from, placed.to)
}

fn distance(placed: &Placed, point: Point, layout: &Layout) -> Length {
    (placed.point_at(nearest(placed, point, layout), layout.size) - point).length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score, move_end, perform};
    use model::{Edit, Run, Size, Stop, Turn, Unit, Work};

    fn at(x: i64, y: i64) -> Point {
        // In sixteenths of an inch.
        Point::new(Length::SIXTEENTH * x, Length::SIXTEENTH * y)
    }

    /// A sheet 12 1/16 in wide and 12 in high, scores 3 in from the left and 2 in from the top, and a cut 3 that is drawn
    /// from the left edge to where they cross.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12 1/16 x 12 in").unwrap(), Unit::Inch);
        for (id, turn, inches) in [(1, Turn::None, 3), (2, Turn::Once, 2)] {
            document.apply(add_line(&document, measured_score(LineId(id), turn, Length::INCH * inches))).unwrap();
        }
        let (from, to) = (Spot::At(at(0, 160)), Spot::Crossing(LineId(1), LineId(2)));
        let place = Place::Drawn { from, to, bow: Length::ZERO };
        document.apply(add_line(&document, Line::new(LineId(3), place, Work::Cut))).unwrap();
        document
    }

    #[track_caller]
    fn check(own: Option<u32>, point: Point, spot: Spot, words: &str) {
        let document = document();
        let layout = Layout::of(&document);
        let found = snap(&document, &layout, own.map(LineId), point, Length::EIGHTH, Fineness::Grooves);
        assert_eq!((found.spot, found.words.as_str()), (spot, words));
        let (from, to) = (Spot::At(at(100, 130)), found.spot);
        let line = Line::new(LineId(9), Place::Drawn { from, to, bow: Length::ZERO }, Work::Cut);
        let drawn = perform(&document, &layout, add_line(&document, line)).unwrap();
        assert_eq!(
            drawn.layout.lines[&LineId(9)].unwrap().segment.b,
            found.at,
            "a line ends where the pointer was told"
        );
    }

    #[test]
    fn crossings_come_first_then_corners_lines_and_grooves() {
        let crossing = Spot::Crossing(LineId(1), LineId(2));
        check(Some(3), at(47, 33), crossing, "where \"Score 1\" crosses \"Score 2\"");
        check(None, at(1, 1), Spot::At(at(0, 0)), "the top left corner of the sheet");
        check(None, at(192, 191), Spot::At(at(193, 192)), "the bottom right corner of the sheet");
        check(None, at(49, 80), Spot::On(LineId(1), Length::INCH * 5), "5 in along \"Score 1\"");
        let words = "6 in from the left and 5 in from the top edge, 1/8 in groove";
        check(None, at(96, 80), Spot::At(at(96, 80)), words);
        let words = "12 1/16 in from the left and 5 in from the top edge, 1/8 in groove";
        check(None, at(192, 80), Spot::At(at(193, 80)), words);
    }

    #[test]
    fn a_cut_along_a_score_is_named_where_the_score_does_not_reach() {
        let mut document = document();
        let score = document.line(LineId(1)).unwrap().clone();
        let half = Run { from: Stop::Edge, to: Stop::At(Length::INCH * 6) };
        let place = score.place.with_run(half);
        document.apply(Edit::ReplaceLine(Line { place, ..score })).unwrap();
        let along = Place::Along { line: LineId(1), run: Run::FULL };
        document.apply(add_line(&document, Line::new(LineId(4), along, Work::Cut))).unwrap();
        let layout = Layout::of(&document);
        for (down, line) in [(80, 1), (144, 4)] {
            let found = snap(&document, &layout, None, at(49, down), Length::EIGHTH, Fineness::Grooves);
            assert_eq!(found.spot, Spot::On(LineId(line), Length::SIXTEENTH * down));
        }
    }

    #[test]
    fn a_line_is_no_host_of_itself_or_of_what_hangs_on_it() {
        let document = document();
        let layout = Layout::of(&document);
        let of = |own: u32| -> Vec<u32> { hosts(&document, &layout, Some(LineId(own))).map(|(id, _)| id.0).collect() };
        assert_eq!((of(3), of(1)), (vec![1, 2], vec![2]));
    }

    #[test]
    fn an_end_is_said_in_other_ways_where_it_lies() {
        let document = document();
        let layout = Layout::of(&document);
        let now = layout.lines[&LineId(3)].unwrap().segment.b;
        for kind in SpotKind::ALL {
            let spot = said_as(&document, &layout, LineId(3), now, kind).unwrap();
            assert_eq!(SpotKind::of(spot), kind);
            let Some(edit) = move_end(&document, LineId(3), 1, spot) else { continue };
            let after = perform(&document, &layout, edit).unwrap();
            assert_eq!(after.layout.lines[&LineId(3)].unwrap().segment.b, now, "{kind:?}");
        }
    }

    #[test]
    fn far_from_everything_the_grooves_hold_and_finer_ones_are_to_be_had() {
        let document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let layout = Layout::of(&document);
        let point = Point::new(Length::SIXTY_FOURTH * 131, Length::SIXTY_FOURTH * 257);
        for (fineness, x, y) in
            [(Fineness::Grooves, 128, 256), (Fineness::Fine, 132, 258), (Fineness::Finest, 131, 257)]
        {
            let found = snap(&document, &layout, None, point, Length::EIGHTH, fineness);
            assert_eq!(found.at, Point::new(Length::SIXTY_FOURTH * x, Length::SIXTY_FOURTH * y), "{fineness:?}");
        }
        assert_eq!(said_as(&document, &layout, LineId(1), point, SpotKind::Crossing), None);
    }

    #[test]
    fn beyond_the_sheet_the_edge_holds() {
        let document = document();
        let layout = Layout::of(&document);
        let beyond = Point::new(Length::INCH * 40, -Length::INCH);
        let found = snap(&document, &layout, None, beyond, Length::EIGHTH, Fineness::Grooves);
        assert_eq!(found.at, at(193, 0));
    }
}
