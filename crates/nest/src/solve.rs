//! The best plan for a problem within some steps: prices first, then passes with longer and longer lists, then the
//! neighbours of the best plan, then the same gain with fewer cuts.

use crate::lists::{Order, pass};
use crate::neighbour;
use crate::price::{Best, Priced, refine};
use crate::problem::Problem;
use crate::table::Grid;

/// A plan and the most that any plan gains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Solved {
    pub(crate) best: Best,
    pub(crate) bound: i128,
}

/// Lists of the first pass.
const FIRST_WIDTH: usize = 4;

/// No longer lists than this: a pass would take minutes.
const LAST_WIDTH: usize = 16_384;

/// Lists of the pass for fewer cuts.
const TIDY_WIDTH: usize = 24;

/// Solves a problem; `best` is a plan known already.
pub(crate) fn solve(problem: &Problem, best: Best, mut steps: u64) -> Solved {
    let grid = Grid::new(problem, most_points(steps));
    let mut best = best;
    let mut refining = steps / 4;
    let before = refining;
    let priced = refine(problem, &grid, Priced::at_worth(problem, &grid), &mut refining, &mut best);
    steps -= before - refining;
    let capacity = problem.roots.iter().map(|root| i128::from(root[0]) * i128::from(root[1])).sum();
    let mut bound = problem.gain_from_area(capacity).min(problem.most_gain());
    if grid.is_whole() {
        bound = bound.min(problem.gain_below(priced.bound));
    } else {
        let mut bounding = steps / 8;
        bound = bound.min(coarse_bound(problem, &priced, best.gain, &mut bounding));
        steps -= steps / 8 - bounding;
    }
    let tidying = steps / 8;
    let mut left = steps - tidying;
    let mut width = FIRST_WIDTH;
    while best.gain < bound && left > 0 && width <= LAST_WIDTH {
        let order = Order { problem, grid: &grid, priced: &priced, beyond: best.gain, width };
        let outcome = pass(&order, &mut left);
        if let Some((found, _)) = outcome.best {
            best = found;
        }
        if !outcome.is_finished {
            break;
        }
        if grid.is_whole() {
            bound = bound.min(outcome.bound.max(best.gain));
        }
        width *= 4;
    }
    best = neighbour::tidied(problem, &grid, &priced, best, TIDY_WIDTH, tidying);
    Solved { bound: bound.max(best.gain), best }
}

/// So many points each way that prices can be bettered a few times.
fn most_points(steps: u64) -> usize {
    let mut most = 48_usize;
    while most < 4096 && (most as u64).pow(3) * 6 < steps {
        most += 16;
    }
    most
}

/// A bound where the raster is not whole, from a coarse one that is.
fn coarse_bound(problem: &Problem, priced: &Priced, aim: i128, steps: &mut u64) -> i128 {
    let points = most_points(*steps);
    let (coarse, tiny) = problem.coarse(i64::try_from(points).unwrap_or(i64::MAX));
    let grid = Grid::new(&coarse, points + 1);
    // Nothing is taken from it but its bound; its plans don't fit.
    let mut aim = Best { gain: aim, ..Best::none(&coarse) };
    let priced = refine(&coarse, &grid, Priced::new(&coarse, &grid, priced.prices.clone()), steps, &mut aim);
    coarse.gain_below(priced.bound) + tiny
}
