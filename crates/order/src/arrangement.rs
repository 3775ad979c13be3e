//! The plane cut along lines: every stretch once, between numbered places, with the lines that run along it.
//!
//! Stretches are moved by no more than a few times [`SAME_PLACE`] so that those which nearly meet do. What lies between
//! them is worked out in [`crate::cell`].

use crate::place::{Places, SAME_PLACE};
use glam::DVec2;

/// A line to cut along, and whose it is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Line {
    /// Its ends.
    pub ends: [DVec2; 2],
    /// Any number; stretches list the owners of all lines along them.
    pub owner: u32,
}

/// The stretches of an arrangement, each between two places with no place on its way.
#[derive(Debug, Clone, Default)]
pub(crate) struct Arrangement {
    /// Where the places are.
    pub places: Places,
    /// The ends of all stretches, the lower number first, ascending.
    pub stretches: Vec<[u32; 2]>,
    /// The owners of the lines along each, one after the other, and where each stretch's begin.
    owners: Vec<u32>,
    starts: Vec<usize>,
}

/// A stretch, and the owner of a line along it.
type Piece = ([u32; 2], u32);

/// Rounds of cutting. Moving a crossing to a place near by can make stretches meet others; two rounds are usual, and
/// what is left after sixteen lies within some micrometres.
const ROUNDS: usize = 16;

impl Arrangement {
    /// Cuts the plane along `lines`.
    pub(crate) fn new(lines: &[Line]) -> Self {
        let mut places = Places::default();
        let mut pieces: Vec<Piece> = Vec::with_capacity(lines.len());
        for line in lines {
            let ends = line.ends.map(|end| places.number(end));
            if ends[0] != ends[1] {
                pieces.push((ordered(ends), line.owner));
            }
        }
        pieces.sort_unstable();
        let mut stretches = distinct(&pieces);
        let mut fresh = vec![true; stretches.len()];
        for _ in 0..ROUNDS {
            let stops = stops(&stretches, &fresh, &mut places);
            if stops.is_empty() {
                break;
            }
            pieces = cut(&pieces, stops, &places);
            let before = stretches;
            stretches = distinct(&pieces);
            // Those that were there before are known not to meet one another.
            fresh = stretches.iter().map(|stretch| before.binary_search(stretch).is_err()).collect();
        }
        let mut starts: Vec<usize> = Vec::with_capacity(stretches.len() + 1);
        starts.push(0);
        for pieces in pieces.chunk_by(|a, b| a.0 == b.0) {
            starts.push(starts[starts.len() - 1] + pieces.len());
        }
        Self { places, stretches, owners: pieces.into_iter().map(|(_, owner)| owner).collect(), starts }
    }

    /// The ends of a stretch.
    pub(crate) fn ends(&self, stretch: usize) -> [DVec2; 2] {
        self.stretches[stretch].map(|end| self.places.at(end))
    }

    /// The owners of the lines along a stretch, ascending. One stands there twice if two of its lines run along it.
    pub(crate) fn owners(&self, stretch: usize) -> &[u32] {
        &self.owners[self.starts[stretch]..self.starts[stretch + 1]]
    }
}

fn ordered([a, b]: [u32; 2]) -> [u32; 2] {
    if a < b { [a, b] } else { [b, a] }
}

/// The stretches that sorted pieces lie on, each once.
fn distinct(pieces: &[Piece]) -> Vec<[u32; 2]> {
    pieces.chunk_by(|a, b| a.0 == b.0).map(|pieces| pieces[0].0).collect()
}

/// A stretch with what the search for meetings needs of it.
struct Span {
    index: usize,
    ids: [u32; 2],
    from: DVec2,
    along: DVec2,
    length: f64,
    low: DVec2,
    high: DVec2,
}

/// Where stretches must be cut: `(stretch, place)` pairs. Two of which neither is fresh are not looked at.
fn stops(stretches: &[[u32; 2]], fresh: &[bool], places: &mut Places) -> Vec<(usize, u32)> {
    let mut spans: Vec<Span> =
        stretches.iter().enumerate().map(|(index, ends)| Span::new(index, *ends, places)).collect();
    spans.sort_unstable_by(|a, b| a.low.x.total_cmp(&b.low.x).then(a.index.cmp(&b.index)));
    // What most pairs are passed over by, close together in memory: of all, and of the fresh.
    let glance = |i: usize| (i, spans[i].low.x, spans[i].low.y, spans[i].high.y);
    let all: Vec<(usize, f64, f64, f64)> = (0..spans.len()).map(glance).collect();
    let new: Vec<(usize, f64, f64, f64)> = all.iter().copied().filter(|&(i, ..)| fresh[spans[i].index]).collect();
    let mut found = Vec::new();
    for (i, first) in spans.iter().enumerate() {
        let others = if fresh[first.index] { &all[i + 1..] } else { &new[new.partition_point(|&(j, ..)| j <= i)..] };
        for &(j, left, bottom, top) in others {
            // Sorted from left to right: past the right end of `first` none can meet it.
            if left > first.high.x {
                break;
            }
            if bottom <= first.high.y && first.low.y <= top {
                meet(first, &spans[j], places, &mut found);
            }
        }
    }
    found
}

impl Span {
    fn new(index: usize, ids: [u32; 2], places: &Places) -> Self {
        let [from, to] = ids.map(|end| places.at(end));
        let length = from.distance(to);
        let along = (to - from) / length;
        Self { index, ids, from, along, length, low: from.min(to) - SAME_PLACE, high: from.max(to) + SAME_PLACE }
    }

    /// How far left of the line the point is.
    fn left(&self, point: DVec2) -> f64 {
        self.along.perp_dot(point - self.from)
    }

    /// Whether the point is on the stretch, not at its ends.
    fn passes(&self, point: DVec2) -> bool {
        let way = self.along.dot(point - self.from);
        self.left(point).abs() <= SAME_PLACE && way > 0.0 && way < self.length
    }
}

fn meet(first: &Span, second: &Span, places: &mut Places, found: &mut Vec<(usize, u32)>) {
    let before = found.len();
    for (span, other) in [(first, second), (second, first)] {
        for id in other.ids {
            if !span.ids.contains(&id) && span.passes(places.at(id)) {
                found.push((span.index, id));
            }
        }
    }
    if found.len() > before || first.ids.iter().any(|id| second.ids.contains(id)) {
        return;
    }
    let [c, d] = second.ids.map(|id| first.left(places.at(id)));
    let [a, b] = first.ids.map(|id| second.left(places.at(id)));
    if c * d < 0.0 && a * b < 0.0 {
        let crossing = first.from + first.along * (first.length * (a / (a - b)));
        let id = places.number(crossing);
        for span in [first, second] {
            if !span.ids.contains(&id) {
                found.push((span.index, id));
            }
        }
    }
}

fn cut(pieces: &[Piece], mut stops: Vec<(usize, u32)>, places: &Places) -> Vec<Piece> {
    stops.sort_unstable();
    stops.dedup();
    let mut next: Vec<Piece> = Vec::with_capacity(pieces.len() + stops.len());
    let mut rest = stops.as_slice();
    for (index, along) in pieces.chunk_by(|a, b| a.0 == b.0).enumerate() {
        let count = rest.iter().take_while(|(at, _)| *at == index).count();
        let (mine, others) = rest.split_at(count);
        rest = others;
        if mine.is_empty() {
            next.extend_from_slice(along);
            continue;
        }
        let [from, to] = along[0].0;
        let mut chain: Vec<u32> = mine.iter().map(|&(_, id)| id).collect();
        let way = places.at(to) - places.at(from);
        chain.sort_by(|&a, &b| way.dot(places.at(a)).total_cmp(&way.dot(places.at(b))).then(a.cmp(&b)));
        chain.push(to);
        let mut last = from;
        for id in chain {
            next.extend(along.iter().map(|&(_, owner)| (ordered([last, id]), owner)));
            last = id;
        }
    }
    next.sort_unstable();
    next
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The number of places and of stretches that some lines make, by hand.
    #[track_caller]
    fn check(lines: &[[f64; 4]], places: usize, stretches: usize) -> Arrangement {
        let lines: Vec<Line> = (0..)
            .zip(lines)
            .map(|(owner, &[a, b, c, d])| Line { ends: [DVec2::new(a, b), DVec2::new(c, d)], owner })
            .collect();
        let made = Arrangement::new(&lines);
        assert_eq!((made.places.count(), made.stretches.len()), (places, stretches), "{made:?}");
        made
    }

    #[test]
    fn lines_are_cut_where_they_cross() {
        check(&[[0.0, 0.0, 10.0, 10.0], [0.0, 10.0, 10.0, 0.0]], 5, 4);
        check(&[[0.0, 0.0, 10.0, 0.0], [3.0, 0.0, 3.0, 5.0]], 4, 3);
        check(&[[0.0, 0.0, 10.0, 0.0], [3.0, 1.0, 3.0, 5.0]], 4, 2);
    }

    #[test]
    fn lines_along_one_another_share_stretches() {
        let made = check(&[[0.0, 0.0, 10.0, 0.0], [15.0, 0.0, 5.0, 0.0]], 4, 3);
        let owners: Vec<&[u32]> = (0..made.stretches.len()).map(|stretch| made.owners(stretch)).collect();
        assert!(owners.contains(&[0, 1].as_slice()), "{owners:?}");
        let twice = check(&[[0.0, 0.0, 10.0, 0.0], [10.0, 0.0, 0.0, 0.0]], 2, 1);
        assert_eq!(twice.owners(0), [0, 1]);
    }

    #[test]
    fn what_is_within_a_micrometre_meets() {
        check(&[[0.0, 0.0, 10.0, 0.0], [3.0, 5e-4, 3.0, 5.0]], 4, 3);
        check(&[[0.0, 0.0, 10.0, 0.0], [2.0, 4e-4, 8.0, -4e-4]], 4, 3);
        check(&[[0.0, 0.0, 10.0, 0.0], [0.0, 1e-9, 10.0, -1e-9]], 2, 1);
        check(&[[0.0, 0.0, 1e-9, 0.0]], 1, 0);
    }

    #[test]
    fn three_lines_through_almost_one_point_meet_in_one() {
        check(&[[-9.0, 0.0, 9.0, 0.0], [0.0, -9.0, 0.0, 9.0], [-9.0, -9.0002, 9.0, 8.9998]], 7, 6);
    }
}
