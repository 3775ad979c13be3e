//! What every rectangle can gain at given prices when parts may be cut as often as they fit, and what can be gained
//! around it. Both are bounds for the task proper, where copies are counted.
//!
//! The first is the recursion of P. C. Gilmore and R. E. Gomory (Operations Research 14, 1966) over rasters, without
//! limit to the number of stages. The second turns it round: what the best plan that has the rectangle in it gains outside of it.

use crate::problem::Problem;
use crate::raster::{Raster, Side};
use crate::sketch::{Axis, Sketch};

/// Rectangles of a problem: pairs of points of two rasters that fit in one of its roots.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    pub(crate) x: Raster,
    pub(crate) y: Raster,
    /// For every point along x, how many along y go with it.
    reach: Vec<usize>,
    /// The cell of every root.
    pub(crate) roots: Vec<Cell>,
}

/// A point along x and one along y.
pub(crate) type Cell = (usize, usize);

/// A number of ticks for every cell of a grid.
#[derive(Debug, Clone)]
pub(crate) struct Table {
    pub(crate) ticks: Vec<i64>,
}

impl Table {
    /// What all roots gain together.
    pub(crate) fn of_all(&self, grid: &Grid) -> i64 {
        grid.roots.iter().fold(0, |all, &root| both(all, self.ticks[grid.index(root)]))
    }
}

/// Where nothing can be gained at all: no plan has the cell in it. Adding a few gains to it keeps it below nought.
pub(crate) const NEVER: i64 = i64::MIN / 4;

impl Grid {
    /// The rectangles of a problem, with about `most` points each way at most.
    pub(crate) fn new(problem: &Problem, most: usize) -> Self {
        let raster = |axis: Axis| {
            let lengths: Vec<i64> = problem.roots.iter().map(|&root| axis.of(root)).collect();
            Raster::new(&sides(problem, axis), &lengths, most)
        };
        let (x, y) = (raster(Axis::X), raster(Axis::Y));
        let roots: Vec<Cell> = problem.roots.iter().map(|root| (x.below(root[0]), y.below(root[1]))).collect();
        let reach = (0..x.points().len())
            .map(|i| roots.iter().filter(|root| root.0 >= i).map(|root| root.1 + 1).max().unwrap_or(0))
            .collect();
        Self { x, y, reach, roots }
    }

    pub(crate) fn is_whole(&self) -> bool {
        self.x.is_whole && self.y.is_whole
    }

    pub(crate) fn index(&self, (i, j): Cell) -> usize {
        i * self.y.points().len() + j
    }

    pub(crate) fn cells(&self) -> usize {
        self.x.points().len() * self.y.points().len()
    }

    pub(crate) fn reach(&self, i: usize) -> usize {
        self.reach[i]
    }

    /// Width and height of a cell.
    pub(crate) fn size(&self, (i, j): Cell) -> [i64; 2] {
        [self.x.points()[i], self.y.points()[j]]
    }

    /// About how many steps a table takes.
    pub(crate) fn steps(&self) -> u64 {
        let along = |raster: &Raster, i: usize| raster.pairs(i).count();
        let y: Vec<usize> = (0..self.y.points().len()).map(|j| along(&self.y, j)).collect();
        let row = |i: usize| self.reach[i] * (along(&self.x, i) + 1) + y[..self.reach[i]].iter().sum::<usize>();
        (0..self.reach.len()).map(|i| row(i) as u64).sum()
    }
}

fn sides(problem: &Problem, axis: Axis) -> Vec<Side> {
    let count = |most: i16| usize::try_from(most).unwrap_or(0);
    let kinds = problem.kinds.iter();
    let all =
        kinds.flat_map(|kind| kind.shapes.iter().map(move |shape| (axis.of([shape.width, shape.height]), kind.most)));
    all.map(|(side, most)| (side, count(most))).collect()
}

/// What every cell can gain.
pub(crate) fn inside(grid: &Grid, problem: &Problem, prices: &[i64]) -> Table {
    let mut ticks = vec![0; grid.cells()];
    for (kind, price) in problem.kinds.iter().zip(prices).filter(|(kind, _)| kind.most > 0) {
        for shape in &kind.shapes {
            if let (Some(i), Some(j)) = (grid.x.at(shape.width), grid.y.at(shape.height)) {
                let cell = grid.index((i, j));
                ticks[cell] = ticks[cell].max(*price);
            }
        }
    }
    let height = grid.y.points().len();
    for i in 1..grid.x.points().len() {
        let (before, from) = ticks.split_at_mut(i * height);
        let row = &mut from[..grid.reach(i)];
        raise(row, &before[(i - 1) * height..], None);
        for (a, b) in grid.x.pairs(i) {
            raise(row, &before[a * height..], Some(&before[b * height..]));
        }
        for j in 1..row.len() {
            let best = grid.y.pairs(j).map(|(a, b)| both(row[a], row[b])).max().unwrap_or(0);
            row[j] = row[j].max(best).max(row[j - 1]);
        }
    }
    Table { ticks }
}

/// The most ticks that a cell is said to gain. Counts are left out of account here, so that a cell may hold a part that is
/// much smaller than it more often than numbers go; no plan that minds the counts gains as much.
const MOST: i64 = i64::MAX / 8;

/// What two cells gain together.
fn both(one: i64, other: i64) -> i64 {
    (one + other).min(MOST)
}

/// Raises a row to another one or to the sum of two.
fn raise(row: &mut [i64], one: &[i64], other: Option<&[i64]>) {
    match other {
        Some(other) => {
            for ((cell, a), b) in row.iter_mut().zip(one).zip(other) {
                *cell = (*cell).max(both(*a, *b));
            }
        }
        None => row.iter_mut().zip(one).for_each(|(cell, a)| *cell = (*cell).max(*a)),
    }
}

/// What can be gained outside of every cell, given what can be gained inside. Cells that are in no plan with more than
/// `beyond` ticks inside and outside together get [`NEVER`].
pub(crate) fn outside(grid: &Grid, inside: &Table, beyond: i64) -> Table {
    let mut ticks = vec![NEVER; grid.cells()];
    let all = inside.of_all(grid);
    for root in grid.roots.iter().map(|&root| grid.index(root)) {
        ticks[root] = ticks[root].max((all - inside.ticks[root]).max(0));
    }
    let height = grid.y.points().len();
    for i in (1..grid.x.points().len()).rev() {
        for j in (1..grid.reach(i)).rev() {
            let cell = i * height + j;
            let around = ticks[cell];
            if around + inside.ticks[cell] <= beyond {
                ticks[cell] = NEVER;
                continue;
            }
            let mut part = |a: usize, b: usize| {
                if around + inside.ticks[a] + inside.ticks[b] > beyond {
                    ticks[a] = ticks[a].max(both(around, inside.ticks[b]));
                    ticks[b] = ticks[b].max(both(around, inside.ticks[a]));
                }
            };
            part(cell - height, j);
            part(cell - 1, i * height);
            grid.x.pairs(i).for_each(|(a, b)| part(a * height + j, b * height + j));
            grid.y.pairs(j).for_each(|(a, b)| part(i * height + a, i * height + b));
        }
    }
    Table { ticks }
}

/// One plan for a cell that gains what the table says.
pub(crate) fn sketch(grid: &Grid, problem: &Problem, prices: &[i64], table: &Table, cell: Cell) -> Sketch {
    let ticks = |cell: Cell| table.ticks[grid.index(cell)];
    let all = ticks(cell);
    if all == 0 {
        return Sketch::Empty;
    }
    let (mut i, mut j) = cell;
    while i > 0 && ticks((i - 1, j)) == all {
        i -= 1;
    }
    while j > 0 && ticks((i, j - 1)) == all {
        j -= 1;
    }
    if let Some(part) = single(problem, prices, grid.size((i, j)), all) {
        return part;
    }
    let join = |axis: Axis, first: Cell, second: Cell| {
        let go = |cell: Cell| Box::new(sketch(grid, problem, prices, table, cell));
        Sketch::Join { axis, first: go(first), second: go(second) }
    };
    if let Some((a, b)) = grid.x.pairs(i).find(|&(a, b)| both(ticks((a, j)), ticks((b, j))) == all) {
        return join(Axis::X, (a, j), (b, j));
    }
    match grid.y.pairs(j).find(|&(a, b)| both(ticks((i, a)), ticks((i, b))) == all) {
        Some((a, b)) => join(Axis::Y, (i, a), (i, b)),
        None => Sketch::Empty,
    }
}

/// A part that fits and costs exactly that much.
fn single(problem: &Problem, prices: &[i64], size: [i64; 2], ticks: i64) -> Option<Sketch> {
    let kinds = problem.kinds.iter().enumerate().filter(|(kind, of)| of.most > 0 && prices[*kind] == ticks);
    let fits = |shape: &&crate::problem::Shape| shape.width <= size[0] && shape.height <= size[1];
    kinds.filter_map(|(kind, of)| of.shapes.iter().find(fits).map(|&shape| Sketch::Part { kind, shape })).next()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Kind, Shape};

    /// Parts of 3 by 2 worth 6, and one of 2 by 2 worth 5, from two sheets.
    fn problem() -> Problem {
        let kind = |width, height, most, worth| Kind { shapes: vec![Shape { width, height }], most, least: 0, worth };
        Problem::new(vec![kind(3, 2, 9, 6), kind(2, 2, 1, 5)], vec![[8, 5], [3, 3]])
    }

    #[test]
    fn a_cell_gains_as_if_parts_were_not_counted() {
        let (problem, prices) = (problem(), [6, 5]);
        let grid = Grid::new(&problem, 50);
        assert!(grid.is_whole());
        let table = inside(&grid, &problem, &prices);
        let gains = |width, height| table.ticks[grid.index((grid.x.below(width), grid.y.below(height)))];
        assert_eq!([gains(3, 2), gains(5, 3), gains(8, 5), gains(2, 1)], [6, 11, 2 * (6 + 6 + 5), 0]);
        let root = sketch(&grid, &problem, &prices, &table, grid.roots[0]);
        let mut tally = vec![0; 2];
        root.count(&mut tally);
        assert_eq!(tally, [4, 2]);
    }

    #[test]
    fn what_is_around_a_cell_and_in_it_is_no_more_than_all() {
        let (problem, prices) = (problem(), [6, 5]);
        let grid = Grid::new(&problem, 50);
        let table = inside(&grid, &problem, &prices);
        let around = outside(&grid, &table, NEVER);
        let cell = |width, height| grid.index((grid.x.below(width), grid.y.below(height)));
        // Around a 2 by 2 in the large sheet: two rows of 8 less that part, and the small sheet.
        assert_eq!(around.ticks[cell(2, 2)], 34 - 5 + 6);
        assert_eq!(around.ticks[cell(8, 5)], 6);
        let all = 34 + 6;
        assert!(around.ticks.iter().zip(&table.ticks).all(|(around, inside)| around + inside <= all));
        let none = outside(&grid, &table, all);
        assert_eq!(none.ticks[cell(2, 2)], NEVER);
    }
}
