//! One pass over all rectangles from small to large: what can be cut from each is put together from what can be cut from
//! two smaller ones, with copies counted. Entries that no better plan can have in it are dropped; when lists never run
//! over, nothing is lost and the best plan is the best there is.
//!
//! Building up from small rectangles: P. Y. Wang, Operations Research 31, 1983; with a bound on what is around them:
//! K. V. Viswanathan and A. Bagchi, Operations Research 41, 1993. Bounds here come from prices instead of plain worths.

use crate::counts::Counts;
use crate::entry::{Book, Entry};
use crate::price::{Best, Priced};
use crate::problem::Problem;
use crate::sketch::{Axis, Sketch};
use crate::table::{Cell, Grid, NEVER, Table, outside};
use std::cmp::Reverse;

/// The most entries of a pass: some hundred megabytes.
const MOST_ENTRIES: usize = 1_500_000;

/// How many entries are put together before the worst are dropped: so many times the width.
const ROOM: usize = 8;

/// What a pass is about.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Order<'a> {
    pub(crate) problem: &'a Problem,
    pub(crate) grid: &'a Grid,
    pub(crate) priced: &'a Priced,
    /// Only plans that gain more than this are looked for.
    pub(crate) beyond: i128,
    /// How many entries a rectangle keeps.
    pub(crate) width: usize,
}

/// What a pass came to.
#[derive(Debug, Clone)]
pub(crate) struct Outcome {
    /// The best plan seen that gains more than was asked for.
    pub(crate) best: Option<Best>,
    /// No plan gains more than this and the best one.
    pub(crate) bound: i128,
    /// Whether it came to its end.
    pub(crate) is_finished: bool,
}

/// Runs a pass with as many lanes as there are kinds.
pub(crate) fn pass(order: &Order<'_>, steps: &mut u64) -> Outcome {
    match order.problem.kinds.len() {
        0..=8 => Pass::<8>::new(order).run(steps),
        9..=16 => Pass::<16>::new(order).run(steps),
        17..=32 => Pass::<32>::new(order).run(steps),
        _ => Pass::<64>::new(order).run(steps),
    }
}

/// What can be cut from each root, with few cuts kept beside much gain; `None` when there are too few steps.
pub(crate) fn root_lists(order: &Order<'_>, steps: &mut u64) -> Option<Vec<Vec<Sketch>>> {
    match order.problem.kinds.len() {
        0..=8 => Pass::<8>::tidy(order).root_lists(steps),
        9..=16 => Pass::<16>::tidy(order).root_lists(steps),
        17..=32 => Pass::<32>::tidy(order).root_lists(steps),
        _ => Pass::<64>::tidy(order).root_lists(steps),
    }
}

struct Pass<'a, const N: usize> {
    order: &'a Order<'a>,
    outside: Table,
    /// An entry has to promise more ticks than this.
    beyond: i64,
    lists: Vec<Vec<Entry>>,
    book: Book<'a, N>,
    /// The most ticks that anything dropped for want of room promised.
    lost: i64,
    /// Whether entries with fewer cuts are kept beside those that cover them.
    is_tidy: bool,
}

/// A list in the making.
struct Found {
    entries: Vec<Entry>,
    /// What can be gained around them.
    around: i64,
    /// An entry has to cost more than this.
    floor: i64,
    width: usize,
}

impl<'a, const N: usize> Pass<'a, N> {
    fn new(order: &'a Order<'a>) -> Self {
        let beyond = order.problem.ticks_of(order.beyond) - order.priced.surplus;
        let most: Vec<i16> = order.problem.kinds.iter().map(|kind| kind.most).collect();
        Self {
            order,
            outside: outside(order.grid, &order.priced.inside, beyond),
            beyond,
            lists: vec![Vec::new(); order.grid.cells()],
            book: Book::new(Counts::of(&most), &order.priced.prices),
            lost: NEVER,
            is_tidy: false,
        }
    }

    fn tidy(order: &'a Order<'a>) -> Self {
        Self { is_tidy: true, ..Self::new(order) }
    }

    fn run(mut self, steps: &mut u64) -> Outcome {
        if !self.fill_all(steps) {
            return self.given_up();
        }
        let best = self.best(steps);
        let bound = self.order.problem.gain_below(self.lost.max(NEVER / 2) + self.order.priced.surplus);
        Outcome { best, bound, is_finished: true }
    }

    fn root_lists(mut self, steps: &mut u64) -> Option<Vec<Vec<Sketch>>> {
        let grid = self.order.grid;
        let list = |pass: &Self, root: Cell| {
            let entries = &pass.lists[grid.index(root)];
            entries.iter().map(|entry| pass.book.sketch(entry.node())).collect()
        };
        self.fill_all(steps).then(|| grid.roots.iter().map(|&root| list(&self, root)).collect())
    }

    /// Makes all lists; whether the steps were enough.
    fn fill_all(&mut self, steps: &mut u64) -> bool {
        let grid = self.order.grid;
        *steps = steps.saturating_sub(grid.steps());
        for i in 1..grid.x.points().len() {
            for j in 1..grid.reach(i) {
                self.fill((i, j), steps);
                if *steps == 0 || self.book.len() > MOST_ENTRIES {
                    return false;
                }
            }
        }
        true
    }

    fn given_up(&self) -> Outcome {
        let bound = self.order.problem.gain_below(self.order.priced.bound);
        Outcome { best: None, bound, is_finished: false }
    }

    /// Makes the list of a cell.
    fn fill(&mut self, cell: Cell, steps: &mut u64) {
        let (i, j) = cell;
        let grid = self.order.grid;
        let around = self.outside.ticks[grid.index(cell)];
        if around <= NEVER / 2 {
            return;
        }
        let mut found = Found { entries: Vec::new(), around, floor: self.beyond - around, width: self.order.width };
        for (axis, smaller) in [(Axis::X, (i - 1, j)), (Axis::Y, (i, j - 1))] {
            let list = self.lists[grid.index(smaller)].iter().take_while(|entry| entry.price > found.floor);
            found.entries.extend(list.map(|entry| entry.stretched(axis)));
        }
        self.single(cell, &mut found);
        for (a, b) in grid.x.pairs(i) {
            let loose = grid.x.is_loose(i, (a, b));
            self.join(Axis::X, loose, [(a, j), (b, j)], &mut found, steps);
        }
        for (a, b) in grid.y.pairs(j) {
            let loose = grid.y.is_loose(j, (a, b));
            self.join(Axis::Y, loose, [(i, a), (i, b)], &mut found, steps);
        }
        self.settle(&mut found, steps);
        self.book.write_down(&mut found.entries);
        self.lists[grid.index(cell)] = found.entries;
    }

    /// The parts of exactly the size of a cell.
    fn single(&mut self, cell: Cell, found: &mut Found) {
        let [width, height] = self.order.grid.size(cell);
        for (kind, of) in self.order.problem.kinds.iter().enumerate().filter(|(_, of)| of.most > 0) {
            let fits = of.shapes.iter().find(|shape| shape.width == width && shape.height == height);
            if let Some(&shape) = fits.filter(|_| self.order.priced.prices[kind] > found.floor) {
                found.entries.push(self.book.part(kind, shape));
            }
        }
    }

    fn join(&mut self, axis: Axis, is_loose: bool, cells: [Cell; 2], found: &mut Found, steps: &mut u64) {
        let [first, second] = cells.map(|cell| self.order.grid.index(cell));
        *steps = steps.saturating_sub(1);
        let Some(dearest) = self.lists[second].first().map(|entry| entry.price) else { return };
        for one in 0..self.lists[first].len() {
            let entry = self.lists[first][one];
            if entry.price + dearest <= found.floor {
                break;
            }
            for other in &self.lists[second] {
                *steps = steps.saturating_sub(2 + N as u64 / 8);
                if entry.price + other.price <= found.floor {
                    break;
                }
                let joined = self.book.joined(&entry, other, axis, is_loose);
                if joined.price > found.floor {
                    found.entries.push(joined);
                }
            }
            if found.entries.len() > ROOM * found.width + 64 {
                self.settle(found, steps);
            }
        }
    }

    /// Drops what is covered, and what there is no room for.
    fn settle(&mut self, found: &mut Found, steps: &mut u64) {
        if let Some(price) = self.book.keep_best(&mut found.entries, found.width, self.is_tidy, steps) {
            self.lost = self.lost.max(price + found.around);
        }
        if let Some(last) = found.entries.get(found.width - 1).map(|entry| entry.price - 1) {
            // The list is full: only a dearer one can come in, and what is skipped for that is lost for want of room.
            if last > found.floor {
                self.lost = self.lost.max(last + found.around);
                found.floor = last;
            }
        }
    }

    /// Puts the lists of all roots together, one root after the other.
    fn best(&mut self, steps: &mut u64) -> Option<Best> {
        let grid = self.order.grid;
        let problem = self.order.problem;
        let roots: Vec<usize> = grid.roots.iter().map(|&root| grid.index(root)).collect();
        let mut around: i64 = roots.iter().map(|&root| self.order.priced.inside.ticks[root]).sum();
        let mut all = vec![Entry::NOTHING];
        for &root in &roots {
            around -= self.order.priced.inside.ticks[root];
            all = self.with_root(&all, root, around, steps);
        }
        let gain = |entry: &Entry| problem.gain(&self.book.counts(entry).lanes()[..problem.kinds.len()]);
        let best = all.iter().max_by_key(|entry| (gain(entry), Reverse(entry.cuts)))?;
        let mut sketches = Vec::new();
        let mut chain = best.node();
        for _ in &roots {
            let (before, node) = self.book.halves(chain)?;
            sketches.push(self.book.sketch(node));
            chain = before;
        }
        let mut offered = Best { gain: -1, ..Best::none(problem) };
        offered.offer(problem, sketches.into_iter().rev());
        (offered.gain > self.order.beyond).then_some(offered)
    }

    /// What was chosen for the roots before, each with everything that can be cut from another one.
    fn with_root(&mut self, all: &[Entry], root: usize, around: i64, steps: &mut u64) -> Vec<Entry> {
        let width = self.order.width.saturating_mul(ROOM);
        let mut found = Found { entries: Vec::new(), around, floor: self.beyond - around, width };
        for before in all {
            for entry in self.lists[root].iter().chain([&Entry::NOTHING]) {
                *steps = steps.saturating_sub(2 + N as u64 / 8);
                if before.price + entry.price <= found.floor {
                    break;
                }
                let joined = self.book.joined(before, entry, Axis::X, false);
                // No cut lies between two leftovers.
                found.entries.push(Entry { cuts: joined.cuts - 1, ..joined });
            }
            if found.entries.len() > 4 * width + 64 {
                self.settle(&mut found, steps);
            }
        }
        self.settle(&mut found, steps);
        self.book.write_down(&mut found.entries);
        found.entries
    }
}
