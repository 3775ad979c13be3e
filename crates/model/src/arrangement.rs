//! The plane subdivision that a set of straight segments makes: vertices, edges, cells. Exact.
//!
//! Zero-length, coincident, crossing and dangling segments are normal input. Where two slanting segments cross
//! between whole nanometres the crossing is moved to the nearest one, and every segment that passes through the square
//! nanometre round a crossing or an end bends to it (snap rounding; Hobby 1999, from memory), so that areas still add up
//! exactly and a line that stops at a slanting one meets it. It knows nothing of scores and cuts.

use crate::geometry::{Area, Point, Vector};
use crate::length::Length;
use crate::polygon::{Inside, bounds, edges, locate, signed_area};
use crate::resolve::Segment;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// A stretch of line between two neighbouring vertices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edge {
    /// The stretch, the lesser point first.
    pub segment: Segment,
    /// Which of the given segments cover it, in ascending order.
    pub covers: Vec<usize>,
    /// The cell on either side: to the left of the way from `a` to `b` as the maker sees it, and to the right;
    /// `None` for the outside.
    pub sides: [Option<usize>; 2],
}

/// An area that no segment crosses.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// Its outer boundary, clockwise as the maker sees it, without segments that dangle into it.
    pub outline: Vec<Point>,
    /// The boundaries of what lies within it and is not of it, anticlockwise.
    pub holes: Vec<Vec<Point>>,
    /// Its area.
    pub area: Area,
}

/// A subdivision of the plane.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Arrangement {
    /// The stretches, in ascending order.
    pub edges: Vec<Edge>,
    /// The bounded cells, in reading order of their upper left corners.
    pub cells: Vec<Cell>,
}

impl Arrangement {
    /// Subdivides the plane by `segments`.
    #[must_use]
    pub fn new(segments: &[Segment]) -> Self {
        let pieces = split(segments);
        let graph = Graph::new(&pieces);
        graph.arrangement(&pieces)
    }

    /// The cell strictly around `point`.
    #[must_use]
    pub fn cell_at(&self, point: Point) -> Option<usize> {
        self.cells.iter().position(|cell| locate(point, &cell.outline, &cell.holes) == Inside::Yes)
    }
}

/// Rounds of splitting at crossings. Upright and level segments need one; bending a slanting one to a whole
/// nanometre can make a new crossing, which the next round finds. Sixteen rounds were never needed in tests.
const ROUNDS: usize = 16;

/// How far a segment may pass beside a point, along an axis, and still bend to it: half a nanometre, so that no segment
/// without a slant ever does.
const PIXEL: Length = Length::from_nm(1);

/// A stretch, the lesser point first, and one of the given segments that cover it.
type Covered = (Segment, usize);

/// Cuts all segments where they meet: stretches in ascending order, with each segment that covers one.
fn split(segments: &[Segment]) -> Vec<Covered> {
    let long = segments.iter().enumerate().filter(|(_, segment)| segment.a != segment.b);
    let mut pieces: Vec<Covered> = long.map(|(index, segment)| (ordered(*segment), index)).collect();
    pieces.sort_unstable();
    let mut stretches = Stretches::of(&pieces);
    // Ends first: so a line that lies along another is the same as that before either is cut where a third crosses them.
    let mut crossings = false;
    for _ in 0..ROUNDS {
        let stops = stretches.meeting_points(crossings);
        if stops.is_empty() {
            if crossings {
                break;
            }
            crossings = true;
            stretches.fresh.fill(true);
            continue;
        }
        pieces = cut(&pieces, &stretches.list, &stops);
        let before = stretches;
        stretches = Stretches::of(&pieces);
        stretches.freshen(&before.list);
    }
    pieces
}

/// The stretches with each cut at its stops, which are sorted by stretch.
fn cut(pieces: &[Covered], list: &[Segment], stops: &[(usize, Point)]) -> Vec<Covered> {
    let mut next = Vec::with_capacity(pieces.len() + stops.len());
    let mut stops = stops.chunk_by(|a, b| a.0 == b.0).peekable();
    for (index, covers) in pieces.chunk_by(|a, b| a.0 == b.0).enumerate() {
        match stops.next_if(|stops| stops[0].0 == index) {
            None => next.extend_from_slice(covers),
            Some(stops) => {
                for part in parts(list[index], stops) {
                    next.extend(covers.iter().map(|(_, cover)| (part, *cover)));
                }
            }
        }
    }
    next.sort_unstable();
    next.dedup();
    next
}

/// Stretches to be tested against one another.
struct Stretches {
    /// In ascending order, each once.
    list: Vec<Segment>,
    /// The least and greatest y of each.
    heights: Vec<(Length, Length)>,
    /// Whether it is to be tested against the others: all that have been are known to meet nothing.
    fresh: Vec<bool>,
}

impl Stretches {
    fn of(pieces: &[Covered]) -> Self {
        let mut list: Vec<Segment> = pieces.iter().map(|(segment, _)| *segment).collect();
        list.dedup();
        let heights = list.iter().map(|segment| (segment.a.y.min(segment.b.y), segment.a.y.max(segment.b.y))).collect();
        Self { fresh: vec![true; list.len()], list, heights }
    }

    /// Those that were there before need no test among themselves.
    fn freshen(&mut self, before: &[Segment]) {
        let mut before = before.iter().peekable();
        for (segment, fresh) in self.list.iter().zip(&mut self.fresh) {
            while before.next_if(|old| *old < segment).is_some() {}
            *fresh = before.peek() != Some(&segment);
        }
    }

    /// Where the stretches meet one another between their ends: with the ends of others, and at crossings if these are
    /// wanted. By stretch, each place once.
    fn meeting_points(&self, crossings: bool) -> Vec<(usize, Point)> {
        // What most pairs are passed over by, close together in memory: of all, and of the fresh.
        let glance = |i: usize| (i, self.list[i].a.x, self.heights[i].0, self.heights[i].1);
        let all: Vec<(usize, Length, Length, Length)> = (0..self.list.len()).map(glance).collect();
        let new: Vec<(usize, Length, Length, Length)> = all.iter().copied().filter(|&(i, ..)| self.fresh[i]).collect();
        let mut stops = Vec::new();
        for (i, first) in self.list.iter().enumerate() {
            let (low, high) = (self.heights[i].0 - PIXEL, self.heights[i].1 + PIXEL);
            // Sorted by the lesser point's x: past the end of `first`, none can meet it.
            let last = first.b.x + PIXEL;
            let others = if self.fresh[i] { &all[i + 1..] } else { &new[new.partition_point(|&(j, ..)| j <= i)..] };
            for &(j, left, lowest, highest) in others {
                if left > last {
                    break;
                }
                if high < lowest || highest < low {
                    continue;
                }
                let second = &self.list[j];
                meetings(*first, *second, crossings, |point| {
                    if point != first.a && point != first.b {
                        stops.push((i, point));
                    }
                    if point != second.a && point != second.b {
                        stops.push((j, point));
                    }
                });
            }
        }
        stops.sort_unstable();
        stops.dedup();
        stops
    }
}

fn ordered(segment: Segment) -> Segment {
    if segment.a <= segment.b { segment } else { segment.reversed() }
}

/// The parts of a stretch that it is cut into.
fn parts(segment: Segment, stops: &[(usize, Point)]) -> Vec<Segment> {
    let along = segment.b - segment.a;
    let mut points: Vec<Point> = stops.iter().map(|(_, point)| *point).collect();
    points.sort_by_key(|point| (*point - segment.a).dot(along));
    points.push(segment.b);
    let mut from = segment.a;
    let mut out = Vec::with_capacity(points.len());
    for to in points {
        if from != to {
            out.push(ordered(Segment { a: from, b: to }));
        }
        from = to;
    }
    out
}

/// Tells the points where two segments must be cut: the ends of one that lie on the other, or else their crossing.
fn meetings(first: Segment, second: Segment, crossings: bool, mut meet: impl FnMut(Point)) {
    let mut is_met = false;
    let ends = [(first, second.a), (first, second.b), (second, first.a), (second, first.b)];
    for (_, end) in ends.into_iter().filter(|&(segment, end)| passes(segment, end)) {
        is_met = true;
        meet(end);
    }
    if crossings && !is_met {
        crossing(first, second).into_iter().for_each(meet);
    }
}

/// Where two segments cross, to the nearest nanometre; `None` where they don't, or lie along one another.
fn crossing(first: Segment, second: Segment) -> Option<Point> {
    let (u, v) = (first.b - first.a, second.b - second.a);
    let apart = second.a - first.a;
    let area = u.cross(v);
    let (s, t) = (apart.cross(v) * area.signum(), apart.cross(u) * area.signum());
    let whole = area.abs();
    if area == 0 || !(0..=whole).contains(&s) || !(0..=whole).contains(&t) {
        return None;
    }
    // To divide takes longer than all the rest, and most lines are level or upright.
    if u.y == Length::ZERO && v.x == Length::ZERO {
        return Some(Point::new(second.a.x, first.a.y));
    }
    if u.x == Length::ZERO && v.y == Length::ZERO {
        return Some(Point::new(first.a.x, second.a.y));
    }
    Some(first.a + part_of(u, s, whole))
}

/// Whether a segment passes through the square nanometre round a point: the distance of the point from the line, times
/// the line's length, is at most what half a nanometre along each axis makes of it. Exact; upright, level and 45°
/// segments pass through whole nanometres or miss them by more.
fn passes(segment: Segment, point: Point) -> bool {
    let between = |a: Length, at: Length, b: Length| (a <= at && at <= b) || (b <= at && at <= a);
    if segment.a.y == segment.b.y {
        return point.y == segment.a.y && between(segment.a.x, point.x, segment.b.x);
    }
    if segment.a.x == segment.b.x {
        return point.x == segment.a.x && between(segment.a.y, point.y, segment.b.y);
    }
    let way = segment.b - segment.a;
    let beside = way.cross(point - segment.a).abs() * 2 < i128::from(way.x.nm().abs()) + i128::from(way.y.nm().abs());
    beside && (segment.a - point).dot(segment.b - point) <= 0
}

/// Where two lines, each through two points and carried on both ways, cross, to the nearest nanometre. `None` when they
/// are parallel, or cross farther from the sheet than any sheet is large.
pub(crate) fn crossing_of_lines(first: (Point, Point), second: (Point, Point)) -> Option<Point> {
    let (u, v) = (first.1 - first.0, second.1 - second.0);
    let area = u.cross(v);
    if area == 0 {
        return None;
    }
    let s = (second.0 - first.0).cross(v) * area.signum();
    let along = |length: Length| {
        let nm = round_div(i128::from(length.nm()).checked_mul(s)?, area.abs());
        let length = Length::from_nm(i64::try_from(nm).ok()?);
        (length.abs() <= Length::LIMIT * 4).then_some(length)
    };
    Some(first.0 + Vector { x: along(u.x)?, y: along(u.y)? })
}

/// `u` times `s / whole`, to the nearest nanometre. A sheet is at most 10^10 nm long, so the product stays below
/// 10^31 and within an `i128`.
pub(crate) fn part_of(u: Vector, s: i128, whole: i128) -> Vector {
    let scaled = |length: Length| {
        let nm = round_div(i128::from(length.nm()) * s, whole);
        // No further than `u` itself, which is an i64.
        Length::from_nm(i64::try_from(nm).unwrap_or(length.nm()))
    };
    Vector { x: scaled(u.x), y: scaled(u.y) }
}

const fn round_div(top: i128, bottom: i128) -> i128 {
    let half = bottom / 2;
    if top >= 0 { (top + half) / bottom } else { (top - half) / bottom }
}

/// Half-edges: number 2e runs from a to b of edge e, 2e + 1 back. What lies to the right of its way (as the maker
/// sees it, y down) is the half-edge's own side, so cells come out clockwise.
struct Graph {
    ends: Vec<(Point, Point)>,
    next: Vec<usize>,
}

impl Graph {
    fn new(pieces: &[Covered]) -> Self {
        let stretches = pieces.chunk_by(|a, b| a.0 == b.0).map(|covers| covers[0].0);
        let ends: Vec<(Point, Point)> =
            stretches.flat_map(|segment| [(segment.a, segment.b), (segment.b, segment.a)]).collect();
        let all: Vec<bool> = vec![true; ends.len()];
        let next = next_of(&ends, &all);
        Self { ends, next }
    }

    fn arrangement(&self, pieces: &[Covered]) -> Arrangement {
        let loops = loops(&self.next, &vec![true; self.ends.len()]);
        let owner = self.owners(&loops);
        let (cells, order) = self.cells(&owner);
        let edges = pieces.chunk_by(|a, b| a.0 == b.0).enumerate().map(|(e, covers)| {
            let side = |half: usize| owner[half].map(|cell| order[cell]);
            let segment = covers[0].0;
            Edge {
                segment,
                covers: covers.iter().map(|(_, cover)| *cover).collect(),
                sides: [side(2 * e + 1), side(2 * e)],
            }
        });
        Arrangement { edges: edges.collect(), cells }
    }

    fn points(&self, path: &[usize]) -> Vec<Point> {
        path.iter().map(|&half| self.ends[half].0).collect()
    }

    /// For each half-edge, the number of the cell it bounds: a clockwise loop makes a cell, any other loop
    /// belongs to the smallest cell around it.
    fn owners(&self, loops: &[Vec<usize>]) -> Vec<Option<usize>> {
        let outlines: Vec<Vec<Point>> = loops.iter().map(|path| self.points(path)).collect();
        let areas: Vec<Area> = outlines.iter().map(|outline| signed_area(outline)).collect();
        let boxes: Vec<(Point, Point)> = outlines.iter().map(|outline| bounds(outline)).collect();
        let mut by_area: Vec<usize> = (0..loops.len()).filter(|&l| areas[l] > Area::ZERO).collect();
        let mut cell: Vec<Option<usize>> = vec![None; loops.len()];
        for (number, &outer) in by_area.iter().enumerate() {
            cell[outer] = Some(number);
        }
        by_area.sort_by_key(|&outer| areas[outer]);
        let mut owner = vec![None; self.ends.len()];
        for (l, path) in loops.iter().enumerate() {
            let around = |o: &&usize| holds(boxes[**o], boxes[l]) && surrounds(&outlines[**o], &outlines[l]);
            let of = if areas[l] > Area::ZERO { Some(&l) } else { by_area.iter().find(around) };
            for &half in path {
                owner[half] = of.and_then(|&outer| cell[outer]);
            }
        }
        owner
    }

    /// The cells in reading order, without edges that have the same cell on either side; and where each went.
    fn cells(&self, owner: &[Option<usize>]) -> (Vec<Cell>, Vec<usize>) {
        let kept: Vec<bool> = (0..owner.len()).map(|half| owner[half] != owner[half ^ 1]).collect();
        let next = next_of(&self.ends, &kept);
        let count = owner.iter().flatten().max().map_or(0, |most| most + 1);
        let mut cells = vec![Cell { outline: Vec::new(), holes: Vec::new(), area: Area::ZERO }; count];
        for path in loops(&next, &kept) {
            let Some(cell) = owner[path[0]] else { continue };
            let outline = self.points(&path);
            let area = signed_area(&outline);
            cells[cell].area = cells[cell].area + area;
            if area > Area::ZERO {
                cells[cell].outline = outline;
            } else {
                cells[cell].holes.push(outline);
            }
        }
        let corner = |cell: &Cell| cell.outline.iter().map(|p| (p.y, p.x)).min();
        let mut by_reading: Vec<usize> = (0..count).collect();
        by_reading.sort_by_key(|&cell| (corner(&cells[cell]), cell));
        let mut order = vec![0; count];
        for (rank, &cell) in by_reading.iter().enumerate() {
            order[cell] = rank;
        }
        let empty = || Cell { outline: Vec::new(), holes: Vec::new(), area: Area::ZERO };
        let sorted = by_reading.iter().map(|&cell| std::mem::replace(&mut cells[cell], empty())).collect();
        (sorted, order)
    }
}

/// Whether one upright rectangle lies within another.
fn holds((low, high): (Point, Point), (inner_low, inner_high): (Point, Point)) -> bool {
    low.x <= inner_low.x && low.y <= inner_low.y && inner_high.x <= high.x && inner_high.y <= high.y
}

/// Whether the loop `outer` goes round `inner`, which it may touch but not cross.
fn surrounds(outer: &[Point], inner: &[Point]) -> bool {
    let corner = inner.iter().map(|&point| locate(point, outer, &[])).find(|&place| place != Inside::Boundary);
    match corner {
        Some(place) => place == Inside::Yes,
        // All corners touch: the middle of an edge that is not the other's too tells, unless the two are the same loop.
        None => {
            let own: BTreeSet<(Point, Point)> = edges(outer).map(|(a, b)| (a.min(b), a.max(b))).collect();
            edges(inner).filter(|&(a, b)| !own.contains(&(a.min(b), a.max(b)))).any(|(a, b)| {
                let middle = Point::new((a.x + b.x).half(), (a.y + b.y).half());
                locate(middle, outer, &[]) == Inside::Yes
            })
        }
    }
}

/// For each kept half-edge the one that follows on its own side: at its end, the first kept edge found turning
/// from the way back, anticlockwise as the maker sees it, so that the loop keeps its cell on the right.
fn next_of(ends: &[(Point, Point)], kept: &[bool]) -> Vec<usize> {
    let mut out_of: Vec<usize> = (0..ends.len()).filter(|&half| kept[half]).collect();
    let way = |half: usize| ends[half].1 - ends[half].0;
    out_of.sort_unstable_by(|&a, &b| ends[a].0.cmp(&ends[b].0).then_with(|| by_angle(way(a), way(b))).then(a.cmp(&b)));
    let mut next: Vec<usize> = (0..ends.len()).collect();
    for around in out_of.chunk_by(|&a, &b| ends[a].0 == ends[b].0) {
        let n = around.len();
        for i in 0..n {
            // Arriving against around[i], leave by its neighbour anticlockwise.
            next[around[i] ^ 1] = around[(i + n - 1) % n];
        }
    }
    next
}

fn loops(next: &[usize], kept: &[bool]) -> Vec<Vec<usize>> {
    let mut seen = vec![false; next.len()];
    let mut out = Vec::new();
    for start in (0..next.len()).filter(|&half| kept[half]) {
        let mut path = Vec::new();
        let mut half = start;
        while !seen[half] {
            seen[half] = true;
            path.push(half);
            half = next[half];
        }
        if !path.is_empty() {
            out.push(path);
        }
    }
    out
}

/// Orders directions clockwise as the maker sees it, from the way to the right.
pub(crate) fn by_angle(u: Vector, v: Vector) -> Ordering {
    let lower = |w: Vector| w.y < Length::ZERO || (w.y == Length::ZERO && w.x < Length::ZERO);
    lower(u).cmp(&lower(v)).then_with(|| 0.cmp(&u.cross(v)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(a: (i64, i64), b: (i64, i64)) -> Segment {
        let at = |(x, y)| Point::new(Length::from_nm(x), Length::from_nm(y));
        Segment { a: at(a), b: at(b) }
    }

    fn square(low: i64, high: i64) -> Vec<Segment> {
        let corners = [(low, low), (high, low), (high, high), (low, high)];
        (0..4).map(|i| line(corners[i], corners[(i + 1) % 4])).collect()
    }

    /// Areas of the cells in reading order, in whole square nanometres.
    #[track_caller]
    fn check(extra: &[Segment], areas: &[i128]) -> Arrangement {
        let mut all = square(0, 100);
        all.extend_from_slice(extra);
        let found = Arrangement::new(&all);
        let got: Vec<i128> = found.cells.iter().map(|cell| cell.area.half_nm2() / 2).collect();
        assert_eq!(got, areas);
        assert_eq!(found.cells.iter().map(|cell| cell.area.half_nm2()).sum::<i128>(), 20_000);
        found
    }

    #[test]
    fn a_line_across_makes_two_cells() {
        let found = check(&[line((30, 0), (30, 100))], &[3000, 7000]);
        let shared = found.edges.iter().find(|edge| edge.covers == [4]).unwrap();
        assert_eq!(shared.sides, [Some(1), Some(0)], "downwards, the right of the sheet lies to the left of the way");
    }

    #[test]
    fn crossing_lines_make_four_cells() {
        check(&[line((30, 0), (30, 100)), line((0, 40), (100, 40))], &[1200, 2800, 1800, 4200]);
    }

    #[test]
    fn slanting_lines_keep_the_area_whole() {
        check(&[line((0, 0), (100, 100)), line((0, 100), (100, 0))], &[2500, 2500, 2500, 2500]);
        // They cross at (49.997, 49.497), which is moved to (50, 49); areas by hand: 2500, 2425.5, 2499.5, 2575.
        check(&[line((0, 0), (100, 99)), line((0, 100), (99, 0))], &[2500, 2425, 2499, 2575]);
    }

    #[test]
    fn lines_that_dangle_or_lie_on_one_another_part_nothing() {
        check(&[line((30, 0), (30, 50))], &[10_000]);
        check(&[line((30, 20), (30, 50)), line((20, 30), (60, 30))], &[10_000]);
        check(&[line((5, 5), (5, 5))], &[10_000]);
        let twice = check(&[line((30, 0), (30, 100)), line((30, 20), (30, 100))], &[3000, 7000]);
        assert!(twice.edges.iter().any(|edge| edge.covers == [4, 5]));
    }

    #[test]
    fn an_island_is_a_hole_in_what_surrounds_it() {
        let mut island = square(40, 60);
        let found = check(&island, &[9600, 400]);
        assert_eq!((found.cells[0].holes.len(), found.cells[1].holes.len()), (1, 0));
        assert_eq!(found.cell_at(Point::new(Length::from_nm(50), Length::from_nm(50))), Some(1));
        // A slit from the island to the edge changes nothing but the outline's walk.
        island.push(line((0, 50), (40, 50)));
        let bridged = check(&island, &[9600, 400]);
        assert_eq!(bridged.cells[0].holes.len(), 1);
        // An island within the island.
        island.extend(square(45, 55));
        check(&island, &[9600, 300, 100]);
    }

    #[test]
    fn a_slanting_island_is_a_hole_too() {
        // The middle of a slanting edge between odd places falls beside it; area by hand: |(20, 7) x (-7, 20)| = 449.
        let corners = [(41, 30), (61, 37), (54, 57), (34, 50)];
        let island: Vec<Segment> = (0..4).map(|i| line(corners[i], corners[(i + 1) % 4])).collect();
        let found = check(&island, &[9551, 449]);
        assert_eq!((found.cells[0].holes.len(), found.cells[1].holes.len()), (1, 0));
    }

    #[test]
    fn no_segments_make_no_cells() {
        assert_eq!(Arrangement::new(&[]), Arrangement::default());
    }
}
