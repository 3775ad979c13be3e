//! Upright rectangles inside paper of any shape: clipped, rounded or slanting offcuts as nesting can use them.
//!
//! Within a strip between two upright lines every wall takes up a stretch of heights, and what lies between those is free:
//! that is exact for the strip. The strips tried run between corners and half way between them, and between such places of
//! the heights for strips that lie level; where there are few walls, the best is bettered by closer and closer strips.
//! So the largest rectangle is found exactly in a triangle with a level or an upright side (half its area), and in any
//! shape of level and upright edges with few corners; elsewhere nearly. Paper beside the rectangles is not used.

use crate::shape::{Shape, middle};
use model::polygon::Inside;
use model::{Area, Length, Point, Size};
use nest::Rect;
use std::collections::BTreeSet;

/// Paper narrower than this is left out: too narrow to hold and to glue (common practice, no source).
pub const SLIVER: Length = Length::EIGHTH;

/// The most rectangles in one offcut: any three beside one another can be parted by cuts from edge to edge, four in a
/// pinwheel can't.
pub const MOST_RECTS: usize = 3;

/// So many places each way are tried: all corners of common offcuts, and a few hundred strips in all.
const MOST_PLACES: usize = 24;

/// With more walls, as along a rounded corner, corners lie so close that closer strips gain nothing to speak of.
const MOST_REFINED: usize = 16;

/// The largest upright rectangle inside a shape, the largest beside that one, and one more; none narrower than [`SLIVER`].
pub(crate) fn rects(shape: &Shape) -> Vec<Rect> {
    beside(shape, Vec::new())
}

/// The same, but the first is the largest that holds one of some sizes as they lie; `None` where there is none.
pub(crate) fn rects_holding(shape: &Shape, sizes: &[Size]) -> Option<Vec<Rect>> {
    let is_free = |point: Point| shape.locate(point) == Inside::Yes;
    let walls = shape.walls();
    let first = sizes.iter().filter_map(|&size| largest(&walls, &is_free, (size.width(), size.height())));
    let first = first.reduce(|best, other| if other.area() > best.area() { other } else { best })?;
    Some(beside(shape, vec![first]))
}

/// Further rectangles beside those there are, each as large as can be.
fn beside(shape: &Shape, mut found: Vec<Rect>) -> Vec<Rect> {
    let mut walls = shape.walls();
    found.iter().for_each(|rect| walls.extend(borders(*rect)));
    while found.len() < MOST_RECTS {
        let is_free =
            |point: Point| shape.locate(point) == Inside::Yes && !found.iter().any(|rect| holds(*rect, point));
        let Some(rect) = largest(&walls, &is_free, (SLIVER, SLIVER)) else { break };
        walls.extend(borders(rect));
        found.push(rect);
    }
    found
}

fn borders(rect: Rect) -> Vec<(Point, Point)> {
    let [l, t, r, b] = [rect.left(), rect.top(), rect.right(), rect.bottom()];
    let corners = [(l, t), (r, t), (r, b), (l, b)].map(|(x, y)| Point::new(x, y));
    model::polygon::edges(&corners).collect()
}

/// The rectangles for an outline: see the file's head. For drawing what an offcut offers.
#[must_use]
pub fn inner_rects(outline: &[Point]) -> Vec<Rect> {
    let ring = model::polygon::without_straight_corners(outline);
    let area = model::polygon::signed_area(&ring);
    rects(&Shape { rings: vec![ring], slits: Vec::new(), area: area.max(Area::ZERO - area) })
}

fn holds(rect: Rect, point: Point) -> bool {
    point.x > rect.left() && point.x < rect.right() && point.y > rect.top() && point.y < rect.bottom()
}

/// The largest rectangle that is no less wide and high than said.
fn largest(
    walls: &[(Point, Point)],
    is_free: &dyn Fn(Point) -> bool,
    (width, height): (Length, Length),
) -> Option<Rect> {
    let swap = |point: Point| Point::new(point.y, point.x);
    let turned: Vec<(Point, Point)> = walls.iter().map(|&(a, b)| (swap(a), swap(b))).collect();
    let is_free_turned = |point: Point| is_free(swap(point));
    let upright = Strips { walls, is_free, least: [width, height] }.largest();
    let level = Strips { walls: &turned, is_free: &is_free_turned, least: [height, width] }.largest();
    let level = level.and_then(|rect| Rect::between(rect.top(), rect.left(), rect.bottom(), rect.right()));
    // The first of equals, so that the same shape always gives the same.
    [upright, level].into_iter().flatten().reduce(|best, other| if other.area() > best.area() { other } else { best })
}

/// Upright strips among walls.
struct Strips<'a> {
    walls: &'a [(Point, Point)],
    is_free: &'a dyn Fn(Point) -> bool,
    /// How wide and high a rectangle has to be.
    least: [Length; 2],
}

impl Strips<'_> {
    fn largest(&self) -> Option<Rect> {
        let places = self.places();
        let columns: Vec<Vec<Gap>> = places.windows(2).map(|pair| self.free(pair[0], pair[1])).collect();
        let between: Vec<Vec<Gap>> = places.iter().map(|&at| self.beside(at)).collect();
        let mut best: Option<Rect> = None;
        for (first, &left) in places.iter().enumerate() {
            let mut free = vec![(-Length::LIMIT, Length::LIMIT)];
            for (column, &right) in places.iter().skip(1).enumerate().skip(first) {
                if column > first {
                    free = common(&free, &between[column]);
                }
                free = common(&free, &columns[column]);
                free.iter().for_each(|&gap| self.better_of(&mut best, (left, right), gap));
            }
        }
        if self.walls.len() <= MOST_REFINED { self.refined(best?, &places) } else { best }
    }

    /// The free heights in an open strip.
    fn free(&self, left: Length, right: Length) -> Vec<Gap> {
        let taken = self.walls.iter().filter_map(|&wall| heights(wall, left, right)).collect();
        let is_free = |gap: &Gap| (self.is_free)(middle(Point::new(left, gap.0), Point::new(right, gap.1)));
        gaps(taken).into_iter().filter(is_free).collect()
    }

    /// The heights at which no upright wall stands at a place.
    fn beside(&self, at: Length) -> Vec<Gap> {
        let here = self.walls.iter().filter(|(a, b)| a.x == at && b.x == at);
        let ends = [-Length::LIMIT, Length::LIMIT].map(|end| (end, end));
        gaps(here.map(|(a, b)| (a.y.min(b.y), a.y.max(b.y))).chain(ends).collect())
    }

    /// Corners and the middles between them, spread evenly where there are too many.
    fn places(&self) -> Vec<Length> {
        let corners: BTreeSet<Length> = self.walls.iter().flat_map(|(a, b)| [a.x, b.x]).collect();
        let corners: Vec<Length> = corners.into_iter().collect();
        let middles = corners.windows(2).map(|pair| pair[0] + (pair[1] - pair[0]).half());
        let all: BTreeSet<Length> = corners.iter().copied().chain(middles).collect();
        let all: Vec<Length> = all.into_iter().collect();
        if all.len() <= MOST_PLACES {
            return all;
        }
        let last = all.len() - 1;
        (0..MOST_PLACES).map(|i| all[i * last / (MOST_PLACES - 1)]).collect()
    }

    /// Strips around the best one, closer and closer, down to the nanometre.
    fn refined(&self, best: Rect, places: &[Length]) -> Option<Rect> {
        let gap = places.windows(2).map(|pair| pair[1] - pair[0]).max()?;
        let (mut best, mut step) = (Some(best), gap.half());
        while step > Length::ZERO {
            let Rect { corner, size } = best?;
            let (left, right) = (corner.x, corner.x + size.width());
            let before = best;
            for by_left in -2..=2 {
                for by_right in -2..=2 {
                    self.better(&mut best, left + step * by_left, right + step * by_right);
                }
            }
            if best == before {
                step = step.half();
            }
        }
        best
    }

    /// Puts the largest free rectangle of a strip in place of a smaller one.
    fn better(&self, best: &mut Option<Rect>, left: Length, right: Length) {
        if right - left >= self.least[0] {
            self.free(left, right).into_iter().for_each(|gap| self.better_of(best, (left, right), gap));
        }
    }

    fn better_of(&self, best: &mut Option<Rect>, (left, right): (Length, Length), (top, bottom): Gap) {
        let is_enough = right - left >= self.least[0] && bottom - top >= self.least[1];
        let rect = Rect::between(left, top, right, bottom).filter(|_| is_enough);
        let is_larger = |rect: &Rect| best.is_none_or(|best| rect.area() > best.area());
        if let Some(rect) = rect.filter(is_larger) {
            *best = Some(rect);
        }
    }
}

/// From one height down to another.
type Gap = (Length, Length);

/// What lies between stretches that are taken.
fn gaps(mut taken: Vec<(Length, Length)>) -> Vec<Gap> {
    taken.sort_unstable();
    let Some(&(_, mut below)) = taken.first() else { return Vec::new() };
    let mut gaps = Vec::new();
    for (top, bottom) in taken {
        if top > below {
            gaps.push((below, top));
        }
        below = below.max(bottom);
    }
    gaps
}

/// What two lists of gaps have in common.
fn common(a: &[Gap], b: &[Gap]) -> Vec<Gap> {
    let both = a.iter().flat_map(|a| b.iter().map(|b| (a.0.max(b.0), a.1.min(b.1))));
    both.filter(|gap| gap.0 < gap.1).collect()
}

/// From where to where a wall reaches down within an open strip, rounded outwards; `None` when it is not in it.
fn heights((a, b): (Point, Point), left: Length, right: Length) -> Option<(Length, Length)> {
    let (a, b) = if a.x <= b.x { (a, b) } else { (b, a) };
    if b.x <= left || a.x >= right {
        return None;
    }
    let at = |x: Length, up: bool| {
        let (run, rise, along) = ((b.x - a.x).nm(), (b.y - a.y).nm(), (x - a.x).nm());
        a.y + Length::from_nm(part_of(rise, along, run, up))
    };
    let ends = |up: bool| {
        let first = if a.x < left { at(left, up) } else { a.y };
        let last = if b.x > right { at(right, up) } else { b.y };
        [first, last]
    };
    let [lows, highs] = [ends(true), ends(false)];
    Some((lows[0].min(lows[1]), highs[0].max(highs[1])))
}

/// The `along`th of `run` parts of `rise`, rounded down or up.
fn part_of(rise: i64, along: i64, run: i64, down: bool) -> i64 {
    if let Some(over) = rise.checked_mul(along) {
        return over.div_euclid(run) + i64::from(!down && over.rem_euclid(run) != 0);
    }
    let (over, run) = (i128::from(rise) * i128::from(along), i128::from(run));
    let part = over.div_euclid(run) + i128::from(!down && over.rem_euclid(run) != 0);
    // No more than all of the rise.
    i64::try_from(part).unwrap_or(rise)
}
