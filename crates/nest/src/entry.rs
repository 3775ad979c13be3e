//! What can be cut from one rectangle: counts, and how they come about. Which of them are worth keeping.

use crate::counts::Counts;
use crate::problem::Shape;
use crate::sketch::{Axis, Sketch};
use std::cmp::Reverse;

/// Something that can be cut from a rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Entry {
    /// What it costs at the prices of the day, in ticks.
    pub(crate) price: i64,
    /// How many cuts it takes.
    pub(crate) cuts: u16,
    /// Whether a strip of the rectangle's whole height is left on its right, and one of its whole width below.
    pub(crate) loose: [bool; 2],
    pub(crate) origin: Origin,
}

/// Where an entry comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Origin {
    /// Something that is written down.
    Node(u32),
    /// Two things side by side, not written down yet.
    Join(Axis, u32, u32),
}

/// One step of how an entry comes about.
#[derive(Debug, Clone, Copy)]
enum Node {
    /// Nothing is cut.
    Nothing,
    /// A single part.
    Part(usize, Shape),
    /// Two halves.
    Join(Axis, u32, u32),
}

/// What is written down, with the counts of each.
#[derive(Debug, Clone)]
pub(crate) struct Book<'a, const N: usize> {
    nodes: Vec<Node>,
    counts: Vec<Counts<N>>,
    most: Counts<N>,
    prices: &'a [i64],
}

/// The node where nothing is cut.
pub(crate) const NOTHING: u32 = 0;

impl Entry {
    /// Nothing cut.
    pub(crate) const NOTHING: Self = Self { price: 0, cuts: 0, loose: [false; 2], origin: Origin::Node(NOTHING) };

    /// The same in a rectangle that is longer along an axis.
    pub(crate) fn stretched(self, axis: Axis) -> Self {
        let mut loose = self.loose;
        loose[axis.index()] = true;
        let cut = u16::from(!self.loose[axis.index()]);
        Self { cuts: self.cuts.saturating_add(cut), loose, ..self }
    }

    /// What it is written down as; one that is not counts as nothing.
    pub(crate) fn node(&self) -> u32 {
        match self.origin {
            Origin::Node(node) => node,
            Origin::Join(..) => NOTHING,
        }
    }
}

impl<'a, const N: usize> Book<'a, N> {
    /// A book with nothing in it but nothing.
    pub(crate) fn new(most: Counts<N>, prices: &'a [i64]) -> Self {
        Self { nodes: vec![Node::Nothing], counts: vec![Counts::NONE], most, prices }
    }

    pub(crate) fn len(&self) -> usize {
        self.nodes.len()
    }

    /// The counts of an entry.
    pub(crate) fn counts(&self, entry: &Entry) -> Counts<N> {
        match entry.origin {
            Origin::Node(node) => self.counts[node as usize],
            Origin::Join(_, one, other) => self.counts[one as usize].plus(&self.counts[other as usize], &self.most),
        }
    }

    /// Writes down a part.
    pub(crate) fn part(&mut self, kind: usize, shape: Shape) -> Entry {
        let node = self.write(Node::Part(kind, shape), Counts::one(kind));
        Entry { price: self.prices[kind], origin: Origin::Node(node), ..Entry::NOTHING }
    }

    /// Two entries side by side, of each kind no more than there may be; `is_loose` when a strip is left beside them.
    pub(crate) fn joined(&self, one: &Entry, other: &Entry, axis: Axis, is_loose: bool) -> Entry {
        let (first, second) = (one.node(), other.node());
        let (a, b) = (&self.counts[first as usize], &self.counts[second as usize]);
        let price = if a.exceeds_with(b, &self.most) {
            a.plus(b, &self.most).cost(self.prices)
        } else {
            one.price + other.price
        };
        let mut loose = [false; 2];
        loose[axis.index()] = other.loose[axis.index()] || is_loose;
        let more = u16::from(is_loose && !other.loose[axis.index()]);
        let cuts = one.cuts.saturating_add(other.cuts).saturating_add(1 + more);
        Entry { price, cuts, loose, origin: Origin::Join(axis, first, second) }
    }

    /// Writes entries down, so that they can be joined.
    pub(crate) fn write_down(&mut self, entries: &mut [Entry]) {
        for entry in entries {
            if let Origin::Join(axis, one, other) = entry.origin {
                let counts = self.counts(entry);
                entry.origin = Origin::Node(self.write(Node::Join(axis, one, other), counts));
            }
        }
    }

    fn write(&mut self, node: Node, counts: Counts<N>) -> u32 {
        self.nodes.push(node);
        self.counts.push(counts);
        u32::try_from(self.nodes.len() - 1).unwrap_or(NOTHING)
    }

    /// Keeps the dearest `width` entries that no other one covers, dearest first. Gives the price of the dearest one
    /// that was left out only for want of room. When `is_tidy`, one with fewer cuts than what covers it is kept as well.
    pub(crate) fn keep_best(
        &self,
        entries: &mut Vec<Entry>,
        width: usize,
        is_tidy: bool,
        steps: &mut u64,
    ) -> Option<i64> {
        entries.sort_unstable_by_key(|entry| (Reverse(entry.price), entry.cuts, entry.loose, order(entry.origin)));
        let mut kept: Vec<Entry> = Vec::with_capacity(width.min(entries.len()));
        let mut counts: Vec<Counts<N>> = Vec::with_capacity(width.min(entries.len()));
        let mut lost = None;
        let mut work = entries.len() * 8;
        for entry in entries.iter() {
            let own = self.counts(entry);
            work += (kept.len() + 2) * (1 + N / 16);
            let mut known = kept.iter().zip(&counts).rev();
            if known.any(|(other, counts)| (!is_tidy || other.cuts <= entry.cuts) && counts.covers(&own)) {
                continue;
            }
            if kept.len() == width {
                lost = Some(entry.price);
                break;
            }
            kept.push(*entry);
            counts.push(own);
        }
        *steps = steps.saturating_sub(work as u64);
        *entries = kept;
        lost
    }

    /// The plan that a node stands for.
    pub(crate) fn sketch(&self, node: u32) -> Sketch {
        match self.nodes[node as usize] {
            Node::Nothing => Sketch::Empty,
            Node::Part(kind, shape) => Sketch::Part { kind, shape },
            Node::Join(axis, first, second) => {
                let (first, second) = (Box::new(self.sketch(first)), Box::new(self.sketch(second)));
                Sketch::Join { axis, first, second }
            }
        }
    }

    /// What a node was joined from.
    pub(crate) fn halves(&self, node: u32) -> Option<(u32, u32)> {
        match self.nodes[node as usize] {
            Node::Join(_, first, second) => Some((first, second)),
            Node::Nothing | Node::Part(..) => None,
        }
    }
}

/// Any fixed order, so that equally good entries come out the same everywhere.
fn order(origin: Origin) -> (Option<Axis>, u32, u32) {
    match origin {
        Origin::Node(node) => (None, node, 0),
        Origin::Join(axis, one, other) => (Some(axis), one, other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHAPE: Shape = Shape { width: 2, height: 1 };

    /// Rows of parts of two kinds that cost 5 and 3.
    #[track_caller]
    fn check(rows: &[&[usize]], width: usize, kept: &[i64], lost: Option<i64>) {
        let mut book = Book::<8>::new(Counts::of(&[3, 3]), &[5, 3]);
        let mut entries: Vec<Entry> = Vec::new();
        for row in rows {
            let mut entry = Entry::NOTHING;
            for &kind in *row {
                let part = book.part(kind, SHAPE);
                let mut joined = [book.joined(&entry, &part, Axis::X, false)];
                book.write_down(&mut joined);
                entry = joined[0];
            }
            entries.push(entry);
        }
        assert_eq!(book.keep_best(&mut entries, width, false, &mut 1_000), lost);
        assert_eq!(entries.iter().map(|entry| entry.price).collect::<Vec<_>>(), kept);
    }

    #[test]
    fn what_another_entry_covers_is_left_out() {
        check(&[&[0], &[0, 1], &[1, 1]], 9, &[8, 6], None);
        check(&[&[0], &[1], &[0, 0]], 1, &[10], Some(3));
        check(&[&[0], &[0]], 1, &[5], None);
    }

    #[test]
    fn no_more_than_there_may_be_are_counted() {
        check(&[&[0, 0, 0, 0], &[0, 0, 0]], 9, &[15], None);
        check(&[&[1, 1, 1, 1, 0]], 9, &[14], None);
    }

    #[test]
    fn a_strip_that_is_left_already_takes_no_further_cut() {
        let mut book = Book::<8>::new(Counts::of(&[3, 3]), &[5, 3]);
        let part = book.part(0, SHAPE);
        let once = part.stretched(Axis::X);
        assert_eq!((once.cuts, once.stretched(Axis::X).cuts, once.stretched(Axis::Y).cuts), (1, 1, 2));
        assert_eq!(book.joined(&part, &once, Axis::X, true).cuts, 2);
        assert_eq!(book.joined(&part, &once, Axis::Y, true).cuts, 3);
    }
}
