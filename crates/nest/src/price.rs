//! Prices of parts: with the right ones, what is cut at those prices and what is bought at them nearly agree, and their
//! sum bounds what any plan gains (Lagrangian relaxation of the counts: M. L. Fisher, Management Science 27, 1981;
//! the steps are those of B. T. Polyak, 1969, with the best plan known as the aim).

use crate::problem::{Problem, Tally};
use crate::sketch::Sketch;
use crate::table::{Grid, Table, inside, sketch};

/// The most rounds of bettering prices; after some dozens the bound hardly moves.
const ROUNDS: usize = 80;

/// Rounds without a better bound after which the steps are halved.
const PATIENCE: usize = 4;

/// A plan for every root, and what it gains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Best {
    pub(crate) sketches: Vec<Sketch>,
    pub(crate) gain: i128,
}

/// Prices and what follows from them.
#[derive(Debug, Clone)]
pub(crate) struct Priced {
    pub(crate) prices: Vec<i64>,
    /// What buyers gain at those prices, in ticks.
    pub(crate) surplus: i64,
    /// What every cell gains at them.
    pub(crate) inside: Table,
    /// No plan gains more ticks.
    pub(crate) bound: i64,
}

impl Best {
    /// Nothing cut.
    pub(crate) fn none(problem: &Problem) -> Self {
        Self { sketches: vec![Sketch::Empty; problem.roots.len()], gain: 0 }
    }

    /// Takes a plan when it gains more, without the parts in it that there are too many of.
    pub(crate) fn offer(&mut self, problem: &Problem, sketches: impl Iterator<Item = Sketch>) {
        let mut left: Tally = problem.kinds.iter().map(|kind| kind.most).collect();
        let sketches: Vec<Sketch> = sketches.map(|sketch| sketch.within(&mut left)).collect();
        let gain = problem.gain(&tally(problem, &sketches));
        if gain > self.gain {
            *self = Self { sketches, gain };
        }
    }
}

/// How many of each kind are in some sketches.
pub(crate) fn tally<'a>(problem: &Problem, sketches: impl IntoIterator<Item = &'a Sketch>) -> Tally {
    let mut tally = vec![0; problem.kinds.len()];
    sketches.into_iter().for_each(|sketch| sketch.count(&mut tally));
    tally
}

impl Priced {
    pub(crate) fn new(problem: &Problem, grid: &Grid, prices: Vec<i64>) -> Self {
        let surplus = (0..prices.len()).map(|kind| problem.demand(kind, prices[kind]).2).sum();
        let inside = inside(grid, problem, &prices);
        let cut = inside.of_all(grid);
        Self { prices, surplus, inside, bound: surplus.saturating_add(cut) }
    }

    /// Each part at its worth.
    pub(crate) fn at_worth(problem: &Problem, grid: &Grid) -> Self {
        Self::new(problem, grid, (0..problem.kinds.len()).map(|kind| problem.last_ticks(kind)).collect())
    }

    /// The plans that gain the most at these prices, regardless of counts.
    fn sketches(&self, problem: &Problem, grid: &Grid) -> Vec<Sketch> {
        grid.roots.iter().map(|&root| sketch(grid, problem, &self.prices, &self.inside, root)).collect()
    }

    /// Prices a step on: up for what is bought and not cut, down for what is cut more often than it is bought. `None`
    /// when nothing is either. The step is `length` 1024ths of the way to the aim.
    fn moved(&self, problem: &Problem, sketches: &[Sketch], aim: i64, length: i64) -> Option<Vec<i64>> {
        let over: Vec<i64> = tally(problem, sketches)
            .iter()
            .enumerate()
            .map(|(kind, &cut)| {
                let (low, high, _) = problem.demand(kind, self.prices[kind]);
                i64::from(cut) - i64::from(cut.clamp(low, high))
            })
            .collect();
        let norm: i128 = over.iter().map(|&over| i128::from(over) * i128::from(over)).sum();
        let way = i128::from((self.bound - aim).max(1)) * i128::from(length);
        (norm > 0).then(|| {
            let step = |over: i64| i64::try_from(i128::from(over) * way / (norm * 1024)).unwrap_or(0);
            let price =
                |(kind, &over): (usize, &i64)| (self.prices[kind] - step(over)).clamp(0, problem.first_ticks(kind));
            over.iter().enumerate().map(price).collect()
        })
    }
}

/// The prices with the least bound that could be found within some steps; plans met on the way are offered.
pub(crate) fn refine(problem: &Problem, grid: &Grid, start: Priced, steps: &mut u64, best: &mut Best) -> Priced {
    let (mut now, mut length, mut idle) = (start.clone(), 1024, 0);
    let mut least = start;
    for _ in 0..ROUNDS {
        let sketches = now.sketches(problem, grid);
        let moved = now.moved(problem, &sketches, problem.ticks_of(best.gain), length);
        best.offer(problem, sketches.into_iter());
        let done = problem.gain_below(least.bound) <= best.gain;
        let Some(prices) = moved.filter(|_| !done && *steps > grid.steps()) else { break };
        *steps -= grid.steps();
        now = Priced::new(problem, grid, prices);
        if now.bound < least.bound {
            (least, idle) = (now.clone(), 0);
        } else {
            idle += 1;
        }
        if idle >= PATIENCE {
            (now, length, idle) = (least.clone(), length / 2, 0);
        }
        if length == 0 {
            break;
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Kind, Shape};

    #[test]
    fn better_prices_bound_what_worths_alone_do_not() {
        // One part of 4 by 4 and one of 2 by 2: at their worths the small one would be cut sixteen times over.
        let kind = |side, worth| Kind { shapes: vec![Shape { width: side, height: side }], most: 1, least: 0, worth };
        let problem = Problem::new(vec![kind(4, 16), kind(2, 10)], vec![[8, 8]]);
        let grid = Grid::new(&problem, 50);
        let start = Priced::at_worth(&problem, &grid);
        let mut best = Best::none(&problem);
        let (before, mut steps) = (problem.gain_below(start.bound), 1_000_000);
        let refined = refine(&problem, &grid, start, &mut steps, &mut best);
        let after = problem.gain_below(refined.bound);
        assert!((26..before).contains(&after), "{after} {before}");
        assert!(best.gain <= 26 && best.gain > 0);
        assert_eq!(best.gain, problem.gain(&tally(&problem, &best.sketches)));
    }
}
