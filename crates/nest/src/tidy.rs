//! The same gain with fewer cuts, and then with a larger remainder: leftovers stay whole where the parts fit others more
//! snugly. That nothing simpler exists is not claimed.

use crate::carve::{Cost, cost};
use crate::lists::{Order, root_lists};
use crate::price::{Best, Priced, tally};
use crate::problem::{Problem, Tally};
use crate::sketch::Sketch;
use std::cmp::Reverse;

/// Lists of the pass: more is slow and rarely simpler.
const WIDTH: usize = 32;

/// So many plans for the first few roots are kept.
const KEPT: usize = 192;

/// What can be cut from one root.
struct Choice {
    sketch: Sketch,
    tally: Tally,
    cost: Cost,
}

/// What is cut from the first few roots.
#[derive(Clone)]
struct Partial {
    tally: Tally,
    price: i64,
    cost: Cost,
    choices: Vec<usize>,
}

/// The simplest plan found that gains no less.
pub(crate) fn tidied(order: &Order<'_>, best: Best, steps: &mut u64) -> Best {
    let problem = order.problem;
    let order = Order { beyond: best.gain - 1, width: WIDTH, ..*order };
    let lists = root_lists(&order, steps).unwrap_or_else(|| vec![Vec::new(); problem.roots.len()]);
    let choices: Vec<Vec<Choice>> =
        (0..problem.roots.len()).map(|root| of_root(problem, &best, root, &lists[root])).collect();
    let mut partials =
        vec![Partial { tally: vec![0; problem.kinds.len()], price: 0, cost: Cost::NONE, choices: Vec::new() }];
    let mut around: i64 = order.grid.roots.iter().map(|&root| order.priced.inside.ticks[order.grid.index(root)]).sum();
    for (root, choices) in choices.iter().enumerate() {
        around -= order.priced.inside.ticks[order.grid.index(order.grid.roots[root])];
        let floor = problem.ticks_of(best.gain - 1) - order.priced.surplus - around;
        partials = with_root(problem, order.priced, &partials, choices, floor);
    }
    let known =
        best.sketches.iter().enumerate().fold(Cost::NONE, |all, (root, sketch)| all.and(of(problem, sketch, root)));
    let good = partials.into_iter().filter(|partial| problem.gain(&partial.tally) >= best.gain && partial.cost < known);
    let Some(simplest) = good.min_by_key(|partial| partial.cost) else { return best };
    let mut simpler = Best { gain: best.gain - 1, ..Best::none(problem) };
    let sketches = simplest.choices.iter().zip(&choices).map(|(&choice, of)| of[choice].sketch.clone());
    simpler.offer(problem, sketches);
    if simpler.gain >= best.gain { simpler } else { best }
}

/// What the root's list has, what is cut from any root now and fits, and nothing.
fn of_root(problem: &Problem, best: &Best, root: usize, list: &[Sketch]) -> Vec<Choice> {
    let room = problem.roots[root];
    let fits = |sketch: &&Sketch| sketch.size()[0] <= room[0] && sketch.size()[1] <= room[1];
    let sketches = list.iter().chain(&best.sketches).chain([&Sketch::Empty]).filter(fits);
    let choice = |sketch: &Sketch| {
        let tally = tally(problem, [sketch]);
        Choice { sketch: sketch.clone(), tally, cost: of(problem, sketch, root) }
    };
    sketches.map(choice).collect()
}

/// What a sketch costs in a root.
fn of(problem: &Problem, sketch: &Sketch, root: usize) -> Cost {
    let own = cost(sketch, problem.roots[root], problem.kerf);
    let touch = if *sketch == Sketch::Empty { 0 } else { problem.touch.get(root).copied().unwrap_or(0) };
    Cost { cuts: own.cuts + touch, ..own }
}

/// Every plan so far with every choice for another root; the dearest are kept that none covers at no more cost.
fn with_root(problem: &Problem, priced: &Priced, partials: &[Partial], choices: &[Choice], floor: i64) -> Vec<Partial> {
    let mut all = Vec::new();
    for partial in partials {
        for (index, choice) in choices.iter().enumerate() {
            let sum = partial.tally.iter().zip(&choice.tally).zip(&problem.kinds);
            let tally: Tally = sum.map(|((a, b), kind)| (a + b).min(kind.most)).collect();
            let price = tally.iter().zip(&priced.prices).map(|(&count, price)| i64::from(count) * price).sum();
            if price > floor {
                let choices = partial.choices.iter().copied().chain([index]).collect();
                all.push(Partial { tally, price, cost: partial.cost.and(choice.cost), choices });
            }
        }
    }
    all.sort_by_key(|partial| (Reverse(partial.price), partial.cost));
    let mut kept: Vec<Partial> = Vec::new();
    for partial in all {
        let covers = |a: &Tally, b: &Tally| a.iter().zip(b).all(|(a, b)| a >= b);
        let is_covered = kept.iter().any(|other| other.cost <= partial.cost && covers(&other.tally, &partial.tally));
        if !is_covered {
            kept.push(partial);
        }
        if kept.len() == KEPT {
            break;
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Kind, Shape};
    use crate::table::Grid;

    #[track_caller]
    fn check(roots: &[[i64; 2]], used: usize) {
        let shape = Shape { width: 3, height: 2 };
        let kinds = vec![Kind { shapes: vec![shape], most: 1, least: 0, worth: 6 }];
        let problem = Problem::new(kinds, roots.to_vec());
        let grid = Grid::new(&problem, 50);
        let priced = Priced::at_worth(&problem, &grid);
        let mut best = Best { gain: 6, ..Best::none(&problem) };
        best.sketches[0] = Sketch::Part { kind: 0, shape };
        let order = Order { problem: &problem, grid: &grid, priced: &priced, beyond: 0, width: 1 };
        let found = tidied(&order, best, &mut 1_000_000);
        let touched: Vec<usize> = (0..roots.len()).filter(|&root| found.sketches[root] != Sketch::Empty).collect();
        assert_eq!(touched, [used]);
    }

    #[test]
    fn a_part_is_cut_where_it_takes_the_fewest_cuts() {
        check(&[[9, 9], [3, 9], [3, 2]], 2);
        check(&[[9, 9], [3, 9], [4, 3]], 1);
    }

    #[test]
    fn the_larger_leftover_stays_whole() {
        check(&[[9, 9], [5, 4], [7, 7]], 1);
    }
}
