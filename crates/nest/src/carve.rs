//! From a sketch to cuts at places: where paper is left over, it is cut off so that there are few cuts and the largest
//! remainder is as large as it can be for the halves of the sketch.

use crate::plan::{Cut, Paper, Way};
use crate::sketch::{Axis, Sketch};
use crate::task::Rect;
use model::Length;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// A part in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Carved {
    pub(crate) kind: usize,
    pub(crate) rect: Rect,
}

/// What is carved from all rectangles so far.
#[derive(Debug, Clone, Default)]
pub(crate) struct Yield {
    pub(crate) parts: Vec<Carved>,
    pub(crate) remainders: Vec<Rect>,
}

/// Cuts a sketch, which fits, from a rectangle.
pub(crate) fn carve(sketch: &Sketch, rect: Rect, kerf: Length, out: &mut Yield) -> Paper {
    let mut carver = Carver { kerf: kerf.nm(), halves: vec![(Half::Empty, [0, 0])], known: BTreeMap::new() };
    let root = carver.flatten(sketch);
    carver.paper(root, rect, out)
}

/// How many cuts a sketch takes in a rectangle of that size with a kerf added, and the largest remainder.
pub(crate) fn cost(sketch: &Sketch, size: [i64; 2], kerf: i64) -> Cost {
    let mut carver = Carver { kerf, halves: vec![(Half::Empty, [0, 0])], known: BTreeMap::new() };
    let root = carver.flatten(sketch);
    carver.best(root, size.map(|side| side - kerf)).0
}

/// The half that nothing is wanted from.
const EMPTY: usize = 0;

/// A sketch with its nodes numbered.
enum Half {
    Empty,
    Part(usize),
    Join(Axis, usize, usize),
}

struct Carver {
    kerf: i64,
    /// Each with the width and height it takes up, without a kerf after it.
    halves: Vec<(Half, [i64; 2])>,
    known: BTreeMap<(usize, [i64; 2]), (Cost, Step)>,
}

/// Fewer cuts first, then the larger of the remainders.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Cost {
    pub(crate) cuts: usize,
    /// The area of the largest remainder.
    pub(crate) largest: Reverse<i128>,
}

/// What to do first with a half in a rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    /// Nothing: it is a part, or nothing is wanted from it.
    Rest,
    /// Cut off what is not needed along an axis.
    Shorten(Axis),
    /// Part the halves, the second one first if so.
    Part { is_swapped: bool },
}

impl Cost {
    /// No cut and no remainder.
    pub(crate) const NONE: Self = Self { cuts: 0, largest: Reverse(0) };

    /// Both.
    pub(crate) fn and(self, other: Self) -> Self {
        Self { cuts: self.cuts + other.cuts, largest: self.largest.min(other.largest) }
    }

    fn with_cut(self, other: Self) -> Self {
        let both = self.and(other);
        Self { cuts: both.cuts + 1, ..both }
    }

    fn of_remainder(size: [i64; 2]) -> Self {
        Self { cuts: 0, largest: Reverse(i128::from(size[0].max(0)) * i128::from(size[1].max(0))) }
    }
}

impl Carver {
    fn flatten(&mut self, sketch: &Sketch) -> usize {
        let half = match sketch {
            Sketch::Empty => return EMPTY,
            Sketch::Part { kind, .. } => Half::Part(*kind),
            Sketch::Join { axis, first, second } => Half::Join(*axis, self.flatten(first), self.flatten(second)),
        };
        let size = sketch.size().map(|side| side - self.kerf);
        self.halves.push((half, size));
        self.halves.len() - 1
    }

    /// The best first step for a half in a rectangle of that size, and what all of it costs.
    fn best(&mut self, half: usize, size: [i64; 2]) -> (Cost, Step) {
        if let Some(&known) = self.known.get(&(half, size)) {
            return known;
        }
        let needed = self.halves[half].1;
        let joined = match self.halves[half].0 {
            Half::Empty => return (Cost::of_remainder(size), Step::Rest),
            Half::Part(..) => None,
            Half::Join(axis, first, second) => Some((axis, [first, second])),
        };
        let mut options = Vec::new();
        for axis in [Axis::X, Axis::Y].into_iter().filter(|axis| axis.of(needed) < axis.of(size)) {
            let [kept, cut_off] = self.parted(size, axis, axis.of(needed));
            let cost = self.best(half, kept).0.with_cut(Cost::of_remainder(cut_off));
            options.push((cost, Step::Shorten(axis)));
        }
        if let Some((axis, halves)) = joined {
            for is_swapped in [false, true] {
                let [first, second] = if is_swapped { [halves[1], halves[0]] } else { halves };
                let sizes = self.parted(size, axis, axis.of(self.halves[first].1));
                let cost = self.best(first, sizes[0]).0.with_cut(self.best(second, sizes[1]).0);
                options.push((cost, Step::Part { is_swapped }));
            }
        }
        let best = options.into_iter().min_by_key(|(cost, _)| *cost).unwrap_or((Cost::NONE, Step::Rest));
        self.known.insert((half, size), best);
        best
    }

    /// The sizes on both sides of a cut; the second may be nothing or less.
    fn parted(&self, size: [i64; 2], axis: Axis, at: i64) -> [[i64; 2]; 2] {
        let mut sizes = [size; 2];
        sizes[0][axis.index()] = at;
        sizes[1][axis.index()] = axis.of(size) - at - self.kerf;
        sizes
    }

    fn paper(&mut self, half: usize, rect: Rect, out: &mut Yield) -> Paper {
        let size = [rect.size.width().nm(), rect.size.height().nm()];
        let step = self.best(half, size).1;
        match (step, &self.halves[half].0) {
            (Step::Rest, Half::Part(kind)) => {
                out.parts.push(Carved { kind: *kind, rect });
                Paper::Part(out.parts.len() - 1)
            }
            (Step::Shorten(axis), _) => {
                let at = axis.of(self.halves[half].1);
                self.cut(rect, axis, at, [half, EMPTY], out)
            }
            (Step::Part { is_swapped }, &Half::Join(axis, first, second)) => {
                let halves = if is_swapped { [second, first] } else { [first, second] };
                let at = axis.of(self.halves[halves[0]].1);
                self.cut(rect, axis, at, halves, out)
            }
            _ => remainder(rect, out),
        }
    }

    fn cut(&mut self, paper: Rect, axis: Axis, at: i64, halves: [usize; 2], out: &mut Yield) -> Paper {
        let (first, second, cut) = parted(paper, axis, Length::from_nm(at), Length::from_nm(self.kerf));
        let Some(first) = first else { return remainder(paper, out) };
        let first = Box::new(self.paper(halves[0], first, out));
        let second = second.map(|second| Box::new(self.paper(halves[1], second, out)));
        Paper::Cut(Cut { first, second, ..cut })
    }
}

fn remainder(rect: Rect, out: &mut Yield) -> Paper {
    out.remainders.push(rect);
    Paper::Remainder(out.remainders.len() - 1)
}

/// A rectangle cut so far from its left or top edge: what is kept, what is on the other side of the kerf if anything,
/// and the cut with nothing on its sides yet.
pub(crate) fn parted(paper: Rect, axis: Axis, at: Length, kerf: Length) -> (Option<Rect>, Option<Rect>, Cut) {
    let [l, t, r, b] = [paper.left(), paper.top(), paper.right(), paper.bottom()];
    let (start, end) = axis.of([(l, r), (t, b)]);
    let from = start + at;
    let to = (from + kerf).min(end);
    let (first, second, way) = match axis {
        Axis::X => (Rect::between(l, t, from, b), Rect::between(to, t, r, b), Way::Upright),
        Axis::Y => (Rect::between(l, t, r, from), Rect::between(l, to, r, b), Way::Level),
    };
    let cut = Cut { paper, way, at: from, kerf: to - from, first: Box::new(Paper::Trim(paper)), second: None };
    (first, second, cut)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Shape;
    use model::Size;

    fn part(width: i64, height: i64) -> Sketch {
        Sketch::Part { kind: 0, shape: Shape { width, height } }
    }

    fn join(axis: Axis, first: Sketch, second: Sketch) -> Sketch {
        Sketch::Join { axis, first: Box::new(first), second: Box::new(second) }
    }

    #[track_caller]
    fn check(sketch: &Sketch, size: (i64, i64), kerf: i64, cuts: usize, remainders: &[(i64, i64)]) {
        let nm = Length::from_nm;
        let mut out = Yield::default();
        let rect = Rect::at_origin(Size::new(nm(size.0), nm(size.1)).unwrap());
        let paper = carve(sketch, rect, nm(kerf), &mut out);
        fn count(paper: &Paper) -> usize {
            match paper {
                Paper::Cut(cut) => 1 + count(&cut.first) + cut.second.as_deref().map_or(0, count),
                _ => 0,
            }
        }
        assert_eq!(count(&paper), cuts);
        let mut sizes: Vec<_> =
            out.remainders.iter().map(|rect| (rect.size.width().nm(), rect.size.height().nm())).collect();
        sizes.sort_unstable();
        assert_eq!(sizes, remainders);
    }

    #[test]
    fn the_larger_remainder_is_kept_whole() {
        check(&part(3, 2), (10, 4), 0, 2, &[(3, 2), (7, 4)]);
        check(&part(3, 2), (4, 10), 0, 2, &[(1, 2), (4, 8)]);
        check(&part(3, 2), (3, 2), 0, 0, &[]);
        check(&Sketch::Empty, (3, 2), 0, 0, &[(3, 2)]);
    }

    #[test]
    fn what_parts_beside_each_other_leave_is_cut_off_at_once() {
        check(&join(Axis::X, part(3, 2), part(4, 2)), (10, 5), 0, 3, &[(3, 2), (10, 3)]);
        check(&join(Axis::X, part(3, 2), part(4, 5)), (7, 5), 0, 2, &[(3, 3)]);
    }

    #[test]
    fn a_kerf_may_hang_over_the_edge() {
        // Sketches hold parts with a kerf added: 3 x 2 here.
        check(&part(4, 3), (3, 2), 1, 0, &[]);
        check(&part(4, 3), (4, 2), 1, 1, &[]);
        check(&part(4, 3), (5, 2), 1, 1, &[(1, 2)]);
        check(&join(Axis::X, part(4, 3), part(4, 3)), (7, 2), 1, 1, &[]);
    }
}
