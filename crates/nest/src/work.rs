//! A task from its parts and paper to a plan: outlines are opened in every way, each gives a problem, and the best of
//! their solutions is laid out.

use crate::fault::{TaskFault, examine};
use crate::layout::{Layout, Rank};
use crate::outline::{self, Block, Opened};
use crate::plan::Plan;
use crate::solve::solve;
use crate::task::{Knife, Leftover, Task};
use crate::wanted::Wanted;

/// The most combinations of ways to cut outlines that are tried.
const MOST_TRIES: usize = 24;

/// The plan for a task.
///
/// # Errors
/// Says what is wrong with the task; see [`TaskFault`].
pub fn nest(task: &Task) -> Result<Plan, TaskFault> {
    examine(task)?;
    let ways: Vec<Vec<Opened>> = task.leftovers.iter().map(|leftover| ways(leftover, task.knife)).collect();
    let wanted = Wanted::new(&task.parts, task.knife, task.goal);
    let tries = tries(&ways);
    let steps = task.effort.steps / (tries.len() as u64).max(1);
    let mut best: Option<(Plan, Rank)> = None;
    for choice in tries {
        let opened: Vec<&Opened> = ways.iter().zip(&choice).map(|(ways, &way)| &ways[way]).collect();
        let (problem, usable) = wanted.problem(&opened);
        let solved = solve(&problem, steps);
        let layout =
            Layout { leftovers: &task.leftovers, knife: task.knife, wanted: &wanted, opened: &opened, usable: &usable };
        let (plan, rank) = layout.plan(&problem, &solved);
        if best.as_ref().is_none_or(|(_, known)| rank > *known) {
            best = Some((plan, rank));
        }
    }
    Ok(best.map(|(plan, _)| plan).expect("every outline has a way"))
}

fn ways(leftover: &Leftover, knife: Knife) -> Vec<Opened> {
    match leftover {
        Leftover::Rect(rect) => {
            vec![Opened { openings: Vec::new(), blocks: vec![Block { rect: *rect, rough: [true; 4] }] }]
        }
        Leftover::Outline(corners) => outline::ways(corners, knife),
    }
}

/// Which way of each leftover to try together: all, or one leftover's ways at a time when that is too many.
fn tries(ways: &[Vec<Opened>]) -> Vec<Vec<usize>> {
    let all = ways.iter().try_fold(1_usize, |all, ways| all.checked_mul(ways.len()).filter(|&all| all <= MOST_TRIES));
    let first = vec![0; ways.len()];
    if all.is_none() {
        let other = |leftover: usize| (1..ways[leftover].len()).map(move |way| (leftover, way));
        let others = (0..ways.len()).flat_map(other).take(MOST_TRIES - 1).map(|(leftover, way)| {
            let mut choice = first.clone();
            choice[leftover] = way;
            choice
        });
        return std::iter::once(first.clone()).chain(others).collect();
    }
    ways.iter().enumerate().fold(vec![first], |choices, (leftover, ways)| {
        let with = |choice: &Vec<usize>, way: usize| {
            let mut choice = choice.clone();
            choice[leftover] = way;
            choice
        };
        choices.iter().flat_map(|choice| (0..ways.len()).map(move |way| with(choice, way))).collect()
    })
}
