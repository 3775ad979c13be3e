//! The best plan for a problem within some steps: prices first, then passes with longer and longer lists, then the
//! neighbours of the best plan, then the same gain with fewer cuts.

use crate::lists::{Order, pass};
use crate::neighbour::search;
use crate::price::{Best, Priced, refine};
use crate::problem::Problem;
use crate::table::Grid;
use crate::tidy::tidied;

/// A plan and the most that any plan gains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Solved {
    pub(crate) best: Best,
    pub(crate) bound: i128,
}

/// Lists of the first pass, and how much longer they are in every further one.
const FIRST_WIDTH: usize = 4;

/// No longer lists than this: a pass would take minutes.
const LAST_WIDTH: usize = 16_384;

/// About how many steps a pass takes for each step of a table, at the least.
const PASS_STEPS: u64 = 40;

/// Solves a problem.
pub(crate) fn solve(problem: &Problem, steps: u64) -> Solved {
    let share = steps / 8;
    let mut solved = proved_or_found(problem, &mut (share * 4));
    if solved.best.gain < solved.bound {
        solved.best = search(problem, solved.best, share * 3);
    }
    solved.best = simpler(problem, solved.best, share);
    solved
}

/// Prices and passes alone; takes what it needs off the steps.
pub(crate) fn proved_or_found(problem: &Problem, steps: &mut u64) -> Solved {
    let mut best = Best::none(problem);
    let grid = Grid::new(problem, most_points(*steps));
    let priced =
        with_share(steps, 4, |steps| refine(problem, &grid, Priced::at_worth(problem, &grid), steps, &mut best));
    let capacity = problem.roots.iter().map(|root| i128::from(root[0]) * i128::from(root[1])).sum();
    let mut bound = problem.gain_from_area(capacity).min(problem.most_gain());
    if grid.is_whole() {
        bound = bound.min(problem.gain_below(priced.bound));
    } else if best.gain < bound {
        bound = bound.min(with_share(steps, 8, |steps| coarse_bound(problem, &priced, best.gain, steps)));
    }
    if best.gain < bound && grid.steps() * PASS_STEPS > *steps / 4 {
        best = with_share(steps, 4, |steps| at_a_glance(problem, &priced, best, steps));
    }
    let mut width = FIRST_WIDTH;
    while best.gain < bound && *steps > grid.steps() && width <= LAST_WIDTH {
        let order = Order { problem, grid: &grid, priced: &priced, beyond: best.gain, width };
        let outcome = pass(&order, steps);
        best = outcome.best.unwrap_or(best);
        if grid.is_whole() && outcome.is_finished {
            bound = bound.min(outcome.bound.max(best.gain));
        }
        width *= 4;
    }
    Solved { bound: bound.max(best.gain), best }
}

/// Does something within one so-manieth of the steps.
fn with_share<T>(steps: &mut u64, part: u64, does: impl FnOnce(&mut u64) -> T) -> T {
    let share = *steps / part;
    let mut left = share;
    let done = does(&mut left);
    *steps -= share - left;
    done
}

/// One pass over few places for cuts.
fn at_a_glance(problem: &Problem, priced: &Priced, best: Best, steps: &mut u64) -> Best {
    let mut points = 16;
    while points < 512 && (points as u64 + 8).pow(3) * PASS_STEPS < *steps {
        points += 8;
    }
    let grid = Grid::new(problem, points);
    let priced = Priced::new(problem, &grid, priced.prices.clone());
    let order = Order { problem, grid: &grid, priced: &priced, beyond: best.gain, width: FIRST_WIDTH };
    pass(&order, steps).best.unwrap_or(best)
}

/// A plan that gains as much with fewer cuts, if one comes up.
fn simpler(problem: &Problem, best: Best, mut steps: u64) -> Best {
    let mut points = most_points(steps);
    let mut grid = Grid::new(problem, points);
    while grid.steps() * PASS_STEPS > steps && points > 16 {
        points /= 2;
        grid = Grid::new(problem, points);
    }
    let mut known = best.clone();
    let priced =
        with_share(&mut steps, 4, |steps| refine(problem, &grid, Priced::at_worth(problem, &grid), steps, &mut known));
    let order = Order { problem, grid: &grid, priced: &priced, beyond: best.gain, width: FIRST_WIDTH };
    tidied(&order, best, &mut steps)
}

/// So many points each way that prices can be bettered a few times.
fn most_points(steps: u64) -> usize {
    let mut most = 32_usize;
    while most < 4096 && (most as u64).pow(3) * 4 < steps {
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
