//! Plans near one that is known.

use crate::lists::{Order, pass};
use crate::price::{Best, Priced};
use crate::problem::Problem;
use crate::table::Grid;

/// A plan that gains as much with fewer cuts, if one comes up.
pub(crate) fn tidied(problem: &Problem, grid: &Grid, priced: &Priced, best: Best, width: usize, steps: u64) -> Best {
    let mut steps = steps;
    let order = Order { problem, grid, priced, beyond: best.gain - 1, width };
    match pass(&order, &mut steps).best {
        Some((found, _)) => found,
        None => best,
    }
}
