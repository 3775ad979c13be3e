//! What lies between the lines of an arrangement: its cells, which of them each stretch parts, and which regions
//! cover them.
//!
//! Cells are told apart by walking along stretches; whether a region covers a cell follows from crossing its boundary
//! an odd number of times on the way in from outside. Only a part that hangs together with nothing else is placed by
//! asking which cell it lies in.

use crate::arrangement::Arrangement;
use crate::bits::Bits;
use glam::DVec2;

/// The cell outside of everything.
pub(crate) const OUTSIDE: usize = 0;

/// The cells of an arrangement.
#[derive(Debug, Clone, Default)]
pub(crate) struct Cells {
    /// For each stretch the cells to the left and to the right of its way from its first end to its second.
    pub beside: Vec<[usize; 2]>,
    /// For each cell the loops around it and around its holes, as half-stretches with the cell on their left.
    loops: Vec<Vec<Vec<usize>>>,
    /// For each cell the least and greatest coordinates of its boundary.
    boxes: Vec<[DVec2; 2]>,
}

impl Cells {
    /// Tells the cells of an arrangement apart.
    pub(crate) fn new(arrangement: &Arrangement) -> Self {
        let walk = Walk::new(arrangement);
        let owner = walk.owners();
        let mut loops = vec![Vec::new(); owner.iter().max().map_or(1, |most| most + 1)];
        let mut left = vec![OUTSIDE; walk.to.len()];
        for (path, &cell) in walk.loops.into_iter().zip(&owner) {
            for &half in &path {
                left[half] = cell;
            }
            loops[cell].push(path);
        }
        let mut cells =
            Self { beside: left.chunks(2).map(|pair| [pair[0], pair[1]]).collect(), loops, boxes: Vec::new() };
        cells.boxes = (0..cells.count()).map(|cell| cells.box_of(arrangement, cell)).collect();
        cells
    }

    /// How many there are, [`OUTSIDE`] among them.
    pub(crate) const fn count(&self) -> usize {
        self.loops.len()
    }

    /// For each cell the regions that cover it. A region's boundary is made of the lines that it owns.
    pub(crate) fn covers(&self, arrangement: &Arrangement, regions: usize) -> Vec<Bits> {
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); self.count()];
        for (stretch, &[left, right]) in self.beside.iter().enumerate() {
            at[left].push(stretch);
            at[right].push(stretch);
        }
        let mut covers: Vec<Option<Bits>> = vec![None; self.count()];
        covers[OUTSIDE] = Some(Bits::none(regions));
        let mut reached = vec![OUTSIDE];
        while let Some(cell) = reached.pop() {
            for &stretch in &at[cell] {
                let [left, right] = self.beside[stretch];
                let other = if left == cell { right } else { left };
                if covers[other].is_none() {
                    let mut cover = covers[cell].clone().expect("only cells with a cover are reached");
                    let owners = arrangement.owners(stretch).iter().map(|&owner| owner as usize);
                    owners.filter(|&owner| owner < regions).for_each(|owner| cover.flip(owner));
                    covers[other] = Some(cover);
                    reached.push(other);
                }
            }
        }
        covers.into_iter().map(|cover| cover.unwrap_or_else(|| Bits::none(regions))).collect()
    }

    /// The area of a cell, in mm²; of [`OUTSIDE`] negative, that of all the rest.
    pub(crate) fn area(&self, arrangement: &Arrangement, cell: usize) -> f64 {
        self.sides(arrangement, cell).map(|[a, b]| a.perp_dot(b)).sum::<f64>() / 2.0
    }

    /// Whether a point that is on no stretch lies in a cell.
    pub(crate) fn holds(&self, arrangement: &Arrangement, cell: usize, point: DVec2) -> bool {
        let [low, high] = self.boxes[cell];
        let near = low.cmple(point).all() && point.cmple(high).all();
        let around = near && is_around(self.sides(arrangement, cell), point);
        if cell == OUTSIDE { !around } else { around }
    }

    /// A point well inside a cell: in the middle of the widest place on a level line half-way between two corners.
    pub(crate) fn inside(&self, arrangement: &Arrangement, cell: usize) -> DVec2 {
        let sides: Vec<[DVec2; 2]> = self.sides(arrangement, cell).collect();
        let mut heights: Vec<f64> = sides.iter().map(|[a, _]| a.y).collect();
        heights.sort_by(f64::total_cmp);
        let mut best = (-1.0, sides.first().map_or(DVec2::ZERO, |[a, _]| *a));
        for pair in heights.windows(2).filter(|pair| pair[1] > pair[0]) {
            let y = f64::midpoint(pair[0], pair[1]);
            let mut crossed: Vec<f64> = sides
                .iter()
                .filter(|[a, b]| (a.y > y) != (b.y > y))
                .map(|[a, b]| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)))
                .collect();
            crossed.sort_by(f64::total_cmp);
            for span in crossed.chunks_exact(2) {
                let room = (span[1] - span[0]).min(pair[1] - pair[0]);
                if room > best.0 {
                    best = (room, DVec2::new(f64::midpoint(span[0], span[1]), y));
                }
            }
        }
        best.1
    }

    fn box_of(&self, arrangement: &Arrangement, cell: usize) -> [DVec2; 2] {
        let start = [DVec2::INFINITY, DVec2::NEG_INFINITY];
        self.sides(arrangement, cell).fold(start, |[low, high], [a, _]| [low.min(a), high.max(a)])
    }

    fn sides<'a>(&'a self, arrangement: &'a Arrangement, cell: usize) -> impl Iterator<Item = [DVec2; 2]> + 'a {
        self.loops[cell].iter().flatten().map(|&half| {
            let [a, b] = arrangement.ends(half / 2);
            if half % 2 == 0 { [a, b] } else { [b, a] }
        })
    }
}

/// Half-stretches: 2s runs from the first end of stretch s to its second, 2s + 1 back.
struct Walk<'a> {
    arrangement: &'a Arrangement,
    /// The place each half-stretch runs to.
    to: Vec<u32>,
    loops: Vec<Vec<usize>>,
}

impl<'a> Walk<'a> {
    fn new(arrangement: &'a Arrangement) -> Self {
        let to: Vec<u32> = arrangement.stretches.iter().flat_map(|ends| [ends[1], ends[0]]).collect();
        let mut leaving: Vec<(u32, f64, usize)> = (0..to.len())
            .map(|half| {
                let start = to[half ^ 1];
                let ends = [start, to[half]].map(|end| arrangement.places.at(end));
                (start, turn(ends[1] - ends[0]), half)
            })
            .collect();
        leaving.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
        let mut next = vec![0; to.len()];
        for around in leaving.chunk_by(|a, b| a.0 == b.0) {
            for (i, &(.., half)) in around.iter().enumerate() {
                // Arriving against `half`, leave by its neighbour clockwise: that keeps the same cell on the left.
                next[half ^ 1] = around[(i + around.len() - 1) % around.len()].2;
            }
        }
        let loops = loops(&next);
        Self { arrangement, to, loops }
    }

    /// For each loop the cell it bounds. An anticlockwise loop makes a cell; another is a hole in the smallest of those
    /// around it.
    fn owners(&self) -> Vec<usize> {
        let areas: Vec<f64> =
            self.loops.iter().map(|path| self.sides(path).map(|[a, b]| a.perp_dot(b)).sum()).collect();
        let part = self.parts();
        let mut cell = OUTSIDE;
        let number = areas.iter().map(|&area| {
            cell += usize::from(area > 0.0);
            if area > 0.0 { cell } else { OUTSIDE }
        });
        let mut owner: Vec<usize> = number.collect();
        let inner: Vec<usize> = (0..owner.len()).filter(|&l| owner[l] == OUTSIDE).collect();
        if inner.len() > 1 {
            let outer: Vec<usize> = (0..owner.len()).filter(|&l| owner[l] != OUTSIDE).collect();
            for hole in inner {
                let corner = self.to[self.loops[hole][0]];
                let point = self.arrangement.places.at(corner);
                let around = outer.iter().copied().filter(|&l| {
                    part[self.to[self.loops[l][0]] as usize] != part[corner as usize]
                        && is_around(self.sides(&self.loops[l]), point)
                });
                let smallest = around.min_by(|&a, &b| areas[a].total_cmp(&areas[b]));
                owner[hole] = smallest.map_or(OUTSIDE, |l| owner[l]);
            }
        }
        owner
    }

    fn sides<'b>(&'b self, path: &'b [usize]) -> impl Iterator<Item = [DVec2; 2]> + 'b {
        path.iter().map(|&half| [self.to[half ^ 1], self.to[half]].map(|end| self.arrangement.places.at(end)))
    }

    /// For each place a number that it shares with those it hangs together with.
    fn parts(&self) -> Vec<u32> {
        let mut part: Vec<u32> = (0..).take(self.arrangement.places.count()).collect();
        fn top(part: &mut [u32], mut at: u32) -> u32 {
            while part[at as usize] != at {
                part[at as usize] = part[part[at as usize] as usize];
                at = part[at as usize];
            }
            at
        }
        for ends in &self.arrangement.stretches {
            let [a, b] = ends.map(|end| top(&mut part, end));
            part[a.max(b) as usize] = a.min(b);
        }
        (0..).take(part.len()).map(|at| top(&mut part, at)).collect()
    }
}

fn loops(next: &[usize]) -> Vec<Vec<usize>> {
    let mut seen = vec![false; next.len()];
    let mut out = Vec::new();
    for start in 0..next.len() {
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

/// Whether a closed path goes round a point: a level ray to the right crosses it an odd number of times.
fn is_around(sides: impl Iterator<Item = [DVec2; 2]>, point: DVec2) -> bool {
    let crossed = sides.filter(|[a, b]| {
        (a.y > point.y) != (b.y > point.y) && a.x + (b.x - a.x) * ((point.y - a.y) / (b.y - a.y)) > point.x
    });
    crossed.count() % 2 == 1
}

/// Grows with the angle of `way` from the right, anticlockwise, from 0 to 4. Only used to sort by.
fn turn(way: DVec2) -> f64 {
    let share = way.y.abs() / (way.x.abs() + way.y.abs());
    match (way.x >= 0.0, way.y >= 0.0) {
        (true, true) => share,
        (false, true) => 2.0 - share,
        (false, false) => 2.0 + share,
        (true, false) => 4.0 - share,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::arrangement::Line;

    /// Squares `[x, y, side]` as regions; the expected cells as `(area, regions)`, [`OUTSIDE`] left out, by hand.
    #[track_caller]
    fn check(squares: &[[f64; 3]], expected: &[(f64, &[usize])]) {
        let lines: Vec<Line> = (0..).zip(squares).flat_map(|(owner, square)| around(owner, square)).collect();
        let arrangement = Arrangement::new(&lines);
        let cells = Cells::new(&arrangement);
        let covers = cells.covers(&arrangement, squares.len());
        let mut found: Vec<(f64, Vec<usize>)> =
            (1..cells.count()).map(|cell| (cells.area(&arrangement, cell), covers[cell].iter().collect())).collect();
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let expected: Vec<(f64, Vec<usize>)> = expected.iter().map(|(area, of)| (*area, of.to_vec())).collect();
        assert_eq!(found, expected);
        for cell in 1..cells.count() {
            let point = cells.inside(&arrangement, cell);
            let holding: Vec<usize> = (0..cells.count()).filter(|&c| cells.holds(&arrangement, c, point)).collect();
            assert_eq!(holding, [cell], "the point {point} of cell {cell}");
        }
    }

    fn around(owner: u32, &[x, y, side]: &[f64; 3]) -> [Line; 4] {
        let corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)].map(DVec2::from);
        [0, 1, 2, 3].map(|i| Line { ends: [corners[i], corners[(i + 1) % 4]], owner })
    }

    #[test]
    fn squares_that_cross_share_a_cell() {
        check(&[[0.0, 0.0, 10.0], [5.0, 5.0, 10.0]], &[(25.0, &[0, 1]), (75.0, &[0]), (75.0, &[1])]);
        check(&[[0.0, 0.0, 10.0], [0.0, 0.0, 10.0]], &[(100.0, &[0, 1])]);
        check(&[[0.0, 0.0, 10.0], [10.0, 0.0, 10.0]], &[(100.0, &[0]), (100.0, &[1])]);
    }

    #[test]
    fn a_square_within_another_leaves_a_cell_with_a_hole() {
        check(&[[0.0, 0.0, 10.0], [3.0, 3.0, 4.0]], &[(16.0, &[0, 1]), (84.0, &[0])]);
        check(
            &[[0.0, 0.0, 10.0], [3.0, 3.0, 4.0], [4.0, 4.0, 1.0], [20.0, 0.0, 2.0]],
            &[(1.0, &[0, 1, 2]), (4.0, &[3]), (15.0, &[0, 1]), (84.0, &[0])],
        );
    }

    #[test]
    fn without_lines_there_is_only_the_outside() {
        check(&[], &[]);
    }
}
