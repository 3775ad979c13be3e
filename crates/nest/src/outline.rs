//! Outlines of level and upright edges cut into rectangles: from an inner corner straight on to the next edge, again
//! and again. What is cut from the rectangles is not known here.

use crate::fault::{MOST_CORNERS, TaskFault};
use crate::plan::Opening;
use crate::task::{Knife, Rect};
use model::polygon::{signed_area, without_straight_corners};
use model::{Area, Length, Point};
use std::collections::BTreeSet;

/// The most ways of cutting one outline that are tried; an L has two.
const MOST_WAYS: usize = 32;

/// One way of cutting an outline into rectangles.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Opened {
    pub(crate) openings: Vec<Opening>,
    /// What is left of the rectangles after the cuts.
    pub(crate) blocks: Vec<Block>,
}

/// A rectangle of a leftover.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Block {
    pub(crate) rect: Rect,
    /// Which edges are not fresh cuts along their whole length: left, top, right, bottom.
    pub(crate) rough: [bool; 4],
}

/// A cut, and on which side of it its kerf lies: where the cut is a whole edge of its own, since the other side has an
/// old edge in line with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Chord {
    from: Point,
    to: Point,
    /// One nanometre towards the side of the kerf.
    towards: (i64, i64),
}

type Corners = Vec<Point>;

/// Whether it is a simple closed outline of level and upright edges.
pub(crate) fn examine(leftover: usize, corners: &[Point]) -> Result<(), TaskFault> {
    let count = corners.len();
    if !(4..=MOST_CORNERS).contains(&count) {
        return Err(TaskFault::Corners { leftover, count });
    }
    if edges(corners).any(|(a, b)| a.x != b.x && a.y != b.y) {
        return Err(TaskFault::Slanted { leftover });
    }
    if turns_back(corners) {
        return Err(TaskFault::Tangled { leftover });
    }
    let plain = plain(corners);
    let edges: Vec<_> = edges(&plain).collect();
    let n = edges.len();
    let apart = |i: usize, j: usize| j == i + 1 || (i == 0 && j == n - 1) || !touch(edges[i], edges[j]);
    let simple = (0..n).all(|i| (i + 1..n).all(|j| apart(i, j)));
    if n >= 4 && simple && area(&plain) > Area::ZERO { Ok(()) } else { Err(TaskFault::Tangled { leftover }) }
}

/// Whether an edge runs back along the one before it.
fn turns_back(corners: &[Point]) -> bool {
    let ways: Vec<_> = edges(corners).filter(|(a, b)| a != b).map(|(a, b)| b - a).collect();
    let next = ways.iter().cycle().skip(1);
    ways.iter().zip(next).any(|(way, next)| way.cross(*next) == 0 && way.dot(*next) < 0)
}

/// The area within an outline.
pub(crate) fn area(corners: &[Point]) -> Area {
    signed_area(corners).max(Area::ZERO - signed_area(corners))
}

/// The length of an outline.
pub(crate) fn girth(corners: &[Point]) -> Length {
    edges(corners).map(|(a, b)| (b.x - a.x).abs() + (b.y - a.y).abs()).sum()
}

/// The ways of cutting an outline that [`examine`] has passed.
pub(crate) fn ways(corners: &[Point], knife: Knife) -> Vec<Opened> {
    let mut outline = plain(corners);
    if signed_area(&outline) < Area::ZERO {
        outline.reverse();
    }
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (chords, rects) in cut(&outline, MOST_WAYS) {
        let openings = chords.iter().map(|chord| Opening { from: chord.from, to: chord.to }).collect();
        let blocks: Vec<Block> = rects.iter().filter_map(|rect| block(*rect, &chords, knife.kerf)).collect();
        let mut key: Vec<_> =
            blocks.iter().map(|block| (block.rect.corner, block.rect.right(), block.rect.bottom())).collect();
        key.sort_unstable();
        if seen.insert(key) {
            found.push(Opened { openings, blocks });
        }
    }
    found
}

/// Cuts in their order and the rectangles they make, each way; `most` ways at most, spread over the first cuts.
fn cut(outline: &Corners, most: usize) -> Vec<(Vec<Chord>, Vec<Rect>)> {
    if let Some(rect) = rect_of(outline) {
        return vec![(Vec::new(), vec![rect])];
    }
    let chords = chords(outline);
    let share = (most / chords.len().max(1)).max(1);
    let mut found = Vec::new();
    for (chord, one, other) in chords {
        let others = cut(&other, share);
        for (first, rects) in cut(&one, share) {
            for (second, more) in &others {
                let chords = [chord].into_iter().chain(first.iter().copied()).chain(second.iter().copied());
                found.push((chords.collect(), rects.iter().chain(more).copied().collect()));
            }
        }
        found.truncate(most);
        if found.len() >= most {
            break;
        }
    }
    found
}

/// Every cut from an inner corner with the outlines on its two sides.
fn chords(outline: &Corners) -> Vec<(Chord, Corners, Corners)> {
    let n = outline.len();
    let mut found = Vec::new();
    for i in 0..n {
        let (before, at, after) = (outline[(i + n - 1) % n], outline[i], outline[(i + 1) % n]);
        if (at - before).cross(after - at) >= 0 {
            continue;
        }
        for (back, goes_on) in [(before, true), (after, false)] {
            let way = ((at.x - back.x).nm().signum(), (at.y - back.y).nm().signum());
            let Some((k, to)) = hit(outline, i, way) else { continue };
            let around =
                |from: usize, upto: usize| (0..n).map(move |step| (from + step) % n).take(1 + (upto + n - from) % n);
            let left: Corners = around(i, k).map(|k| outline[k]).chain([to]).collect();
            let right: Corners = [to].into_iter().chain(around((k + 1) % n, i).map(|k| outline[k])).collect();
            let right_hand = (-way.1, way.0);
            let towards = if goes_on { (-right_hand.0, -right_hand.1) } else { right_hand };
            found.push((Chord { from: at, to, towards }, plain(&left), plain(&right)));
        }
    }
    found
}

/// Where a ray from corner `i` first meets the outline again, and on which edge.
fn hit(outline: &Corners, i: usize, way: (i64, i64)) -> Option<(usize, Point)> {
    let from = outline[i];
    let crossings = edges(outline).enumerate().filter_map(|(k, (a, b))| {
        let level = way.0 != 0;
        let crosses =
            if level { a.x == b.x && between(from.y, a.y, b.y) } else { a.y == b.y && between(from.x, a.x, b.x) };
        let to = if level { Point::new(a.x, from.y) } else { Point::new(from.x, a.y) };
        let far = (to.x - from.x) * way.0 + (to.y - from.y) * way.1;
        (crosses && far > Length::ZERO).then_some((far, k, to))
    });
    crossings.min().map(|(_, k, to)| (k, to))
}

/// A rectangle less the kerfs along its edges; `None` when they take all of it.
fn block(rect: Rect, chords: &[Chord], kerf: Length) -> Option<Block> {
    let [l, t, r, b] = [rect.left(), rect.top(), rect.right(), rect.bottom()];
    let sides = [
        (Point::new(l, t), Point::new(l, b), (1, 0)),
        (Point::new(l, t), Point::new(r, t), (0, 1)),
        (Point::new(r, t), Point::new(r, b), (-1, 0)),
        (Point::new(l, b), Point::new(r, b), (0, -1)),
    ];
    let lost = sides.map(|(from, to, inwards)| {
        let takes = |chord: &&Chord| chord.towards == inwards && overlap((chord.from, chord.to), (from, to));
        if chords.iter().any(|chord| takes(&chord)) { kerf } else { Length::ZERO }
    });
    let rough = sides.map(|(from, to, _)| {
        let on = |chord: &Chord, point: Point| {
            between(point.x, chord.from.x, chord.to.x) && between(point.y, chord.from.y, chord.to.y)
        };
        !chords.iter().any(|chord| on(chord, from) && on(chord, to))
    });
    Some(Block { rect: Rect::between(l + lost[0], t + lost[1], r - lost[2], b - lost[3])?, rough })
}

/// Whether two level or upright stretches share more than a point.
fn overlap(one: (Point, Point), other: (Point, Point)) -> bool {
    let common = |a: Length, b: Length, c: Length, d: Length| a.max(b).min(c.max(d)) - a.min(b).max(c.min(d));
    let x = common(one.0.x, one.1.x, other.0.x, other.1.x);
    let y = common(one.0.y, one.1.y, other.0.y, other.1.y);
    (x == Length::ZERO && y > Length::ZERO) || (y == Length::ZERO && x > Length::ZERO)
}

fn rect_of(outline: &Corners) -> Option<Rect> {
    let x = || outline.iter().map(|corner| corner.x);
    let y = || outline.iter().map(|corner| corner.y);
    if outline.len() == 4 { Rect::between(x().min()?, y().min()?, x().max()?, y().max()?) } else { None }
}

/// Without corners that are no corners.
fn plain(corners: &[Point]) -> Corners {
    let mut plain = corners.to_vec();
    loop {
        let count = plain.len();
        plain.dedup();
        while plain.len() > 1 && plain.first() == plain.last() {
            plain.pop();
        }
        plain = without_straight_corners(&plain);
        if plain.len() == count {
            return plain;
        }
    }
}

fn edges(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

fn between(at: Length, a: Length, b: Length) -> bool {
    a.min(b) <= at && at <= a.max(b)
}

/// Whether two level or upright edges have a point in common.
fn touch((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let meet = |a: Length, b: Length, c: Length, d: Length| a.min(b) <= c.max(d) && c.min(d) <= a.max(b);
    meet(a.x, b.x, c.x, d.x) && meet(a.y, b.y, c.y, d.y)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outline(corners: &[(i64, i64)]) -> Corners {
        let mm = |n: i64| Length::MILLIMETRE * n;
        corners.iter().map(|&(x, y)| Point::new(mm(x), mm(y))).collect()
    }

    /// Width and height in millimetres of the rectangles of each way.
    #[track_caller]
    fn check(corners: &[(i64, i64)], kerf: i64, ways_: &[&[(i64, i64)]]) {
        let knife = Knife { kerf: Length::MILLIMETRE * kerf, edge: Length::ZERO };
        let mut backwards = outline(corners);
        backwards.reverse();
        for corners in [outline(corners), backwards] {
            assert_eq!(examine(0, &corners), Ok(()));
            let mut found: Vec<Vec<(i64, i64)>> = ways(&corners, knife)
                .iter()
                .map(|way| {
                    let mm = |length: Length| length.nm() / 1_000_000;
                    let size = |block: &Block| (mm(block.rect.size.width()), mm(block.rect.size.height()));
                    let mut sizes: Vec<_> = way.blocks.iter().map(size).collect();
                    sizes.sort_unstable();
                    sizes
                })
                .collect();
            found.sort();
            assert_eq!(found, ways_);
        }
    }

    const ELL: [(i64, i64); 6] = [(0, 0), (30, 0), (30, 100), (80, 100), (80, 120), (0, 120)];

    #[test]
    fn an_ell_is_cut_in_two_ways() {
        check(&ELL, 0, &[&[(30, 100), (80, 20)], &[(30, 120), (50, 20)]]);
    }

    #[test]
    fn the_kerf_is_taken_where_the_cut_makes_a_whole_edge() {
        check(&ELL, 1, &[&[(30, 99), (80, 20)], &[(30, 120), (49, 20)]]);
    }

    #[test]
    fn a_rectangle_is_not_cut() {
        check(&[(0, 0), (5, 0), (9, 0), (9, 4), (0, 4), (0, 4)], 1, &[&[(9, 4)]]);
    }

    #[test]
    fn every_way_of_a_tee_has_three_rectangles_or_fewer() {
        let tee = outline(&[(0, 0), (90, 0), (90, 20), (60, 20), (60, 80), (30, 80), (30, 20), (0, 20)]);
        let found = ways(&tee, Knife::default());
        let sizes = |way: &Opened| way.blocks.iter().map(|block| block.rect.area()).sum::<Area>();
        assert_eq!(found.len(), 4);
        assert!(found.iter().all(|way| sizes(way) == area(&tee) && way.openings.len() + 1 == way.blocks.len()));
    }

    #[test]
    fn a_comb_has_no_more_ways_than_are_tried() {
        let mut comb = vec![(0, 50)];
        for tooth in 0..7 {
            let x = tooth * 20;
            comb.extend([(x, tooth), (x + 10, tooth), (x + 10, 20 + tooth), (x + 20, 20 + tooth)]);
        }
        comb.extend([(140, 50)]);
        let comb = outline(&comb);
        assert_eq!(examine(0, &comb), Ok(()));
        let found = ways(&comb, Knife::default());
        assert!((2..=MOST_WAYS).contains(&found.len()), "{}", found.len());
    }

    #[test]
    fn an_edge_that_a_cut_has_made_is_fresh() {
        let found = ways(&outline(&ELL), Knife::default());
        let rough = |way: &Opened| way.blocks.iter().map(|block| block.rough).collect::<Vec<_>>();
        assert!(found.iter().all(|way| rough(way).iter().filter(|rough| rough.contains(&false)).count() == 1));
    }
}
