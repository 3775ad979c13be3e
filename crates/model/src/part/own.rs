//! Shapes of the maker's own: a plain one to put lines on, and one that is an offcut just as it came off, with its outline
//! as cuts.

use super::kind::{Own, PartKind};
use super::pattern::PartPattern;
use super::{GlueArea, Gluing, PanelRef, Part};
use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::layout::{Layout, PanelId, Piece, PieceId};
use crate::length::Length;
use crate::line::{Datum, Line, LineId, Place, Run, Spot, Stop, Work};
use crate::resolve::Segment;
use crate::turn::Turn;
use std::collections::BTreeSet;

impl Own {
    /// The most lines that an offcut's outline and scores may come to. What is round has more, each a short straight way, and
    /// nobody would work on those.
    const MOST_OF_AN_OFFCUT: usize = 32;

    /// A whole rectangle without lines.
    #[must_use]
    pub fn plain(size: Size) -> Self {
        let base = Point::new(size.width().half(), size.height().half());
        Self { size, lines: Vec::new(), corners: Vec::new(), base, folded: Vec::new() }
    }

    /// An offcut as it came off, flat: the upright rectangle around it is the little sheet, its outline within that is cut, and
    /// where a score of the sheet goes on across it is a guide, to be scored where the maker wants it. `None` for an offcut
    /// with curves, and for what is no piece of the sheet.
    #[must_use]
    pub fn of_offcut(layout: &Layout, piece: PieceId) -> Option<Self> {
        let piece = layout.pieces.get(piece.0)?;
        let (low, high) = piece.bounds;
        let size = Size::new(high.x - low.x, high.y - low.y)?;
        let largest = piece.panels.iter().max_by_key(|&&panel| layout.panel(panel).area)?;
        let base = from(layout.panel(*largest).inside?, low);
        let ways = joined(ways(layout, piece));
        let lines: Vec<Line> = ways.iter().zip(1..).map(|(way, id)| way.line(LineId(id), low, size)).collect();
        let own = Self { size, lines, corners: Vec::new(), base, folded: Vec::new() };
        (own.lines.len() <= Self::MOST_OF_AN_OFFCUT).then_some(own)
    }
}

/// Glue all over the face of a part's main panel that lies below, to what it is put on or something else. `None` for a part
/// that can't be made.
#[must_use]
pub fn glue_below(part: &Part, document: &Document, to: PanelRef) -> Option<Gluing> {
    let pattern = PartPattern::of(part, document).ok()?;
    let layout = Layout::of(&pattern.document);
    let panel = layout.folio()?.panels.iter().position(|&panel| Some(panel) == layout.base)?;
    Some(Gluing { panel, face: part.place.showing.other(), to, area: GlueArea::Whole })
}

/// The glue of a copy of a part that is put on a panel. A shape of the maker's own brings what glues it to what it lies on;
/// others are glued as is usual for their kind, and what they are glued to besides is not copied.
#[must_use]
pub fn glue_of_copy(part: &Part, on: PanelRef) -> Vec<Gluing> {
    let is_kept = |gluing: &&Gluing| matches!(part.kind, PartKind::Own(_)) && gluing.to == part.place.on;
    part.also.iter().filter(is_kept).map(|&gluing| Gluing { to: on, ..gluing }).collect()
}

/// A straight way along which something is done, its lesser end first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Way {
    work: Work,
    a: Point,
    b: Point,
}

impl Way {
    fn of(work: Work, Segment { a, b }: Segment) -> Self {
        Self { work, a: a.min(b), b: a.max(b) }
    }

    /// The line that says it on the little sheet that begins at `low`: measured where it is upright or level.
    fn line(&self, id: LineId, low: Point, size: Size) -> Line {
        let (a, b) = (from(self.a, low), from(self.b, low));
        let turn = match (a.x == b.x, a.y == b.y) {
            (true, _) => Turn::None,
            (_, true) => Turn::Once,
            _ => {
                let place = Place::Drawn { from: Spot::At(a), to: Spot::At(b), bow: Length::ZERO };
                return Line::new(id, place, self.work);
            }
        };
        let (start, end) = (turn.to_board(a, size), turn.to_board(b, size));
        let (top, bottom) = (start.down.min(end.down), start.down.max(end.down));
        let (_, whole) = turn.size_of(size);
        let stop = |at: Length, edge: Length| if at == edge { Stop::Edge } else { Stop::At(at) };
        let run = Run { from: stop(top, Length::ZERO), to: stop(bottom, whole) };
        Line::new(id, Place::Measured { turn, from: Datum::Edge, distance: start.across, run }, self.work)
    }

    /// Both together, where the other goes straight on from this one.
    fn and(&self, other: &Self) -> Option<Self> {
        let along = |from: Point, to: Point| (i128::from((to.x - from.x).nm()), i128::from((to.y - from.y).nm()));
        let (own, its) = (along(self.a, self.b), along(other.a, other.b));
        let goes_on = self.work == other.work && self.b == other.a && own.0 * its.1 == own.1 * its.0;
        goes_on.then_some(Self { b: other.b, ..*self })
    }
}

fn from(point: Point, low: Point) -> Point {
    Point::new(point.x - low.x, point.y - low.y)
}

/// What is done along and within the outline of a piece, stretch by stretch, but not along the rectangle around it.
fn ways(layout: &Layout, piece: &Piece) -> Vec<Way> {
    let mine: BTreeSet<PanelId> = piece.panels.iter().copied().collect();
    let (low, high) = piece.bounds;
    let is_on_rectangle = |Segment { a, b }: Segment| {
        (a.x == b.x && (a.x == low.x || a.x == high.x)) || (a.y == b.y && (a.y == low.y || a.y == high.y))
    };
    let way = |stretch: &crate::layout::Stretch| {
        let has = stretch.sides.map(|side| side.is_some_and(|panel| mine.contains(&panel)));
        let work = match (has, stretch.work) {
            // Of the scores of the whole sheet none is meant for what came off.
            ([true, true], Some(work)) if work.is_score() => Work::Guide,
            ([true, true], Some(_)) => Work::Cut,
            ([true, false] | [false, true], _) if !is_on_rectangle(stretch.segment) => Work::Cut,
            _ => return None,
        };
        Some(Way::of(work, stretch.segment))
    };
    layout.stretches.iter().filter_map(way).collect()
}

/// The same with all that goes straight on as one.
fn joined(mut ways: Vec<Way>) -> Vec<Way> {
    ways.sort_unstable();
    let mut all: Vec<Way> = Vec::new();
    // Sorted by their lesser ends, each comes after the one that it goes on from.
    for way in ways {
        match all.iter_mut().find_map(|before| before.and(&way).map(|both| (before, both))) {
            Some((before, both)) => *before = both,
            None => all.push(way),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{add_line, measured_score};
    use crate::geometry::Area;
    use crate::length::Unit;
    use crate::line::Crease;
    use crate::part::{Placement, Source};

    const INCH: Length = Length::INCH;

    fn at(x: i64, y: i64) -> Point {
        Point::new(INCH * x, INCH * y)
    }

    /// A 12 in sheet with the base right of 4 in. Left of that an offcut: scored level at 6 in, its upper left corner cut off
    /// aslant from 3 in to 3 in.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.base = Some(at(8, 6));
        let drawn = |from, to| Place::Drawn { from: Spot::At(from), to: Spot::At(to), bow: Length::ZERO };
        let upright = measured_score(LineId(1), Turn::None, INCH * 4);
        let lines = [
            Line { work: Work::Cut, ..upright },
            measured_score(LineId(2), Turn::Once, INCH * 6),
            Line::new(LineId(3), drawn(at(0, 3), at(3, 0)), Work::Cut),
        ];
        for line in lines {
            document.apply(add_line(&document, line)).unwrap();
        }
        document
    }

    fn own(document: &Document, inside: Point) -> Option<Own> {
        let layout = Layout::of(document);
        let panel = layout.panel_at(inside).unwrap();
        Own::of_offcut(&layout, layout.panel(panel).piece)
    }

    fn part(document: &Document, own: Own) -> Part {
        let place = Placement::centred(PanelRef::Sheet(at(8, 3)));
        let kind = PartKind::Own(own);
        Part { id: document.next_part(), name: String::new(), kind, source: Source::AnyOffcut, place, also: Vec::new() }
    }

    #[test]
    fn an_offcut_keeps_its_outline_and_a_guide_where_a_score_went_on() {
        let document = document();
        let own = own(&document, at(2, 8)).unwrap();
        assert_eq!(own.size, Size::parse("4x12in").unwrap());
        let [slant, score] = own.lines.as_slice() else { panic!("a cut and a guide, not {:?}", own.lines) };
        let (score, slant) = if score.work == Work::Cut { (slant, score) } else { (score, slant) };
        assert_eq!(slant.place, Place::Drawn { from: Spot::At(at(0, 3)), to: Spot::At(at(3, 0)), bow: Length::ZERO });
        let run = Run::FULL;
        assert_eq!(score.place, Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: INCH * 6, run });
        assert_eq!(score.work, Work::Guide);
        // 4 x 12 in without half of 3 x 3 in.
        let pattern = PartPattern::of(&part(&document, own), &document).unwrap();
        let sheet = Layout::of(&pattern.document);
        let square = Size::parse("1x1in").unwrap().area();
        let area: Area = sheet.folio().unwrap().area;
        assert!((area.mm2() / square.mm2() - 43.5).abs() < 1e-9);
        assert_eq!((sheet.folio().unwrap().panels.len(), pattern.later.len()), (1, 0), "flat, in one panel");
    }

    #[test]
    fn what_is_cut_into_steps_is_cut_so_again_with_each_straight_cut_as_one() {
        let mut document = document();
        // A cut that ends within the offcut, and a score that crosses it.
        let run = Run { from: Stop::At(INCH * 8), to: Stop::Edge };
        let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: INCH * 2, run };
        document.apply(add_line(&document, Line::new(LineId(4), place, Work::Cut))).unwrap();
        document.apply(add_line(&document, measured_score(LineId(5), Turn::Once, INCH * 10))).unwrap();
        let own = own(&document, at(1, 9)).unwrap();
        assert_eq!(own.lines.iter().filter(|line| line.work == Work::Cut).count(), 2, "the slant and the slit");
        assert_eq!(own.lines.iter().filter(|line| line.work == Work::Guide).count(), 2, "from edge to edge");
        let slit = own.lines.iter().find(|line| line.place == place);
        assert!(slit.is_some(), "{:?}", own.lines);
    }

    #[test]
    fn a_plain_one_is_one_panel_and_what_has_curves_is_none() {
        let mut document = document();
        let small = own(&document, Point::new(INCH, INCH)).unwrap();
        assert_eq!((small.size, small.lines.len()), (Size::parse("3x3in").unwrap(), 1), "a triangle");
        let size = Size::parse("2x1in").unwrap();
        assert_eq!(Own::plain(size).base, Point::new(INCH, INCH / 2));
        let bow = Place::Drawn { from: Spot::At(at(0, 9)), to: Spot::At(at(4, 9)), bow: INCH };
        document.apply(add_line(&document, Line::new(LineId(4), bow, Work::Cut))).unwrap();
        assert_eq!(own(&document, Point::new(INCH, INCH * 11)), None);
    }

    #[test]
    fn glue_goes_on_the_main_panel_whichever_that_is() {
        let document = document();
        let mut own = own(&document, at(2, 8)).unwrap();
        for line in own.lines.iter_mut().filter(|line| line.work == Work::Guide) {
            line.work = Work::Score(Crease::VALLEY);
        }
        let to = PanelRef::Sheet(at(8, 3));
        for (base, panel) in [(at(2, 4), 0), (at(2, 8), 1)] {
            own.base = base;
            assert_eq!(glue_below(&part(&document, own.clone()), &document, to).map(|glue| glue.panel), Some(panel));
        }
        let mut glued = part(&document, own.clone());
        glued.also = glue_below(&glued, &document, to).into_iter().collect();
        let on = PanelRef::Sheet(at(9, 9));
        assert_eq!(glue_of_copy(&glued, on).iter().map(|glue| (glue.panel, glue.to)).collect::<Vec<_>>(), [(1, on)]);
        glued.place.on = on;
        assert_eq!(glue_of_copy(&glued, to), [], "what it is glued to besides");
        own.base = at(0, 0);
        assert_eq!(glue_below(&part(&document, own), &document, to), None, "a mark in no panel");
    }
}
