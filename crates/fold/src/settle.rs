//! Which way a score folds that may fold either way: as a valley where that closes, else as a mountain.

use crate::assembly::Assembly;
use crate::close::close_settled;
use crate::trouble::Trouble;
use model::Direction;

/// The assembly with every joint that may fold either way told which. Steps are settled in their order, each by what stands
/// in its way after those before it; the joints of one step fold the same way.
pub(crate) fn settled(assembly: &Assembly) -> Assembly {
    let mut out = assembly.clone();
    for step in 0..assembly.steps.len() {
        let open: Vec<usize> =
            assembly.steps[step].joints.iter().copied().filter(|&joint| is_open(assembly, joint)).collect();
        if open.is_empty() {
            continue;
        }
        let hindered = |direction: Direction| {
            let mut trial = out.clone();
            set(&mut trial, &open, direction);
            trial.steps.truncate(step + 1);
            close_settled(&trial).troubles().iter().filter(|trouble| counts(trouble, step)).count()
        };
        let valley = hindered(Direction::Valley);
        let direction =
            if valley > 0 && hindered(Direction::Mountain) < valley { Direction::Mountain } else { Direction::Valley };
        set(&mut out, &open, direction);
    }
    // What no step folds stays flat either way.
    let rest: Vec<usize> = (0..out.joints.len()).filter(|&joint| is_open(&out, joint)).collect();
    set(&mut out, &rest, Direction::Valley);
    out
}

fn is_open(assembly: &Assembly, joint: usize) -> bool {
    assembly.joints[joint].crease.direction == Direction::Either
}

/// Whether a trouble shows in a step, or in the state after it.
fn counts(trouble: &Trouble, step: usize) -> bool {
    trouble.step().map_or(matches!(trouble, Trouble::Crosses { .. }), |at| at == step)
}

fn set(assembly: &mut Assembly, joints: &[usize], direction: Direction) {
    for &joint in joints {
        assembly.joints[joint].crease.direction = direction;
    }
}
