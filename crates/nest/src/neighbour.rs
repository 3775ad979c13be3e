//! Plans near one that is known: a piece of it, or a piece of each of two leftovers, is cut anew from the parts in it and
//! some of those left out. What gains no less is kept (large neighbourhood search: P. Shaw, CP 1998).

use crate::price::{Best, tally};
use crate::problem::{Problem, Tally};
use crate::sketch::Sketch;
use crate::solve::proved_or_found;

/// The number that the choices start from. Any does; it is fixed so that they are the same every time.
const SEED: u64 = 2026;

/// The most kinds that take part in one trial, so that counts stay in sixteen lanes.
const MOST_KINDS: usize = 12;

/// Steps of one trial: enough for some forty places for cuts each way.
const TRIAL: u64 = 3_000_000;

/// No more trials in a row without anything better.
const PATIENCE: usize = 2_000;

/// The best plan that is found near another one.
pub(crate) fn search(problem: &Problem, start: Best, mut steps: u64) -> Best {
    let mut now = start;
    let mut dice = Dice(SEED);
    let trial = TRIAL.min(steps / 16).max(1);
    let (mut idle, mut first) = (0, 0);
    while steps >= trial && idle < PATIENCE && now.gain < problem.most_gain() && !problem.roots.is_empty() {
        let mut left = trial;
        // Every leftover as a whole comes first, one after the other.
        let picks = if first < now.sketches.len() {
            first += 1;
            vec![Pick { root: first - 1, path: Vec::new(), room: problem.roots[first - 1] }]
        } else {
            picks(problem, &now, &mut dice)
        };
        let gain = now.gain;
        now = anew(problem, now, &picks, &mut dice, &mut left);
        // At least a little, so that trials come to an end.
        steps -= (trial - left).max(trial / 64).max(1);
        idle = if now.gain > gain { 0 } else { idle + 1 };
    }
    now
}

/// A piece of a plan: which way to it from the root, and how much room there is for it.
#[derive(Debug, Clone)]
struct Pick {
    root: usize,
    /// Whether the second half is meant, at every join.
    path: Vec<bool>,
    room: [i64; 2],
}

/// One piece, or one of each of two roots.
fn picks(problem: &Problem, best: &Best, dice: &mut Dice) -> Vec<Pick> {
    let one = dice.below(problem.roots.len());
    let other = dice.below(problem.roots.len());
    let mut roots = vec![one];
    roots.extend((other != one && dice.below(3) > 0).then_some(other));
    let size = if roots.len() > 1 { 5 } else { 8 };
    let pick = |root: usize, dice: &mut Dice| {
        let most = 1 + dice.below(size);
        pick(&best.sketches[root], root, problem.roots[root], most, dice)
    };
    roots.into_iter().map(|root| pick(root, dice)).collect()
}

/// Goes down a sketch until no more than so many parts are left.
fn pick(sketch: &Sketch, root: usize, mut room: [i64; 2], most: usize, dice: &mut Dice) -> Pick {
    let (mut at, mut path) = (sketch, Vec::new());
    while let Sketch::Join { axis, first, second } = at {
        if at.parts() <= most {
            break;
        }
        // What is loose goes to the half that is picked.
        let is_second = dice.below(2) == 1;
        let (half, other) = if is_second { (second, first) } else { (first, second) };
        room[axis.index()] -= axis.of(other.size());
        path.push(is_second);
        at = half;
    }
    Pick { root, path, room }
}

/// The plan with some pieces cut anew, if that gains no less.
fn anew(problem: &Problem, mut best: Best, picks: &[Pick], dice: &mut Dice, steps: &mut u64) -> Best {
    let freed: Vec<Sketch> = picks.iter().map(|pick| take(&mut best.sketches[pick.root], &pick.path)).collect();
    let kept = tally(problem, &best.sketches);
    let inside = tally(problem, &freed);
    let part = problem.restricted(&kept, picks.iter().map(|pick| pick.room).collect());
    let kinds = kinds(&part, &inside, dice);
    let solved = proved_or_found(&part.of_kinds(&kinds), steps).best;
    let before = part.gain(&inside);
    let better = solved.gain >= before;
    let found: Vec<Sketch> =
        if better { solved.sketches.into_iter().map(|sketch| sketch.renamed(&kinds)).collect() } else { freed };
    for (pick, sketch) in picks.iter().zip(found) {
        put(&mut best.sketches[pick.root], &pick.path, sketch);
    }
    let gain = problem.gain(&tally(problem, &best.sketches));
    best.sketches.iter_mut().for_each(Sketch::prune);
    Best { gain, ..best }
}

/// The kinds inside, and some others at random that there are still parts of.
fn kinds(part: &Problem, inside: &Tally, dice: &mut Dice) -> Vec<usize> {
    let fits = |kind: usize| {
        let small = |shape: &crate::problem::Shape, root: &[i64; 2]| shape.width <= root[0] && shape.height <= root[1];
        part.kinds[kind].shapes.iter().any(|shape| part.roots.iter().any(|root| small(shape, root)))
    };
    let (mut kinds, mut others): (Vec<usize>, Vec<usize>) =
        (0..inside.len()).filter(|&kind| part.kinds[kind].most > 0 && fits(kind)).partition(|&kind| inside[kind] > 0);
    while kinds.len() < MOST_KINDS && !others.is_empty() {
        kinds.push(others.swap_remove(dice.below(others.len())));
    }
    kinds
}

/// Takes a piece out of a sketch.
fn take(sketch: &mut Sketch, path: &[bool]) -> Sketch {
    std::mem::replace(piece(sketch, path), Sketch::Empty)
}

fn put(sketch: &mut Sketch, path: &[bool], with: Sketch) {
    *piece(sketch, path) = with;
}

fn piece<'a>(sketch: &'a mut Sketch, path: &[bool]) -> &'a mut Sketch {
    let mut at = sketch;
    for &is_second in path {
        match at {
            Sketch::Join { first, second, .. } => at = if is_second { second } else { first },
            Sketch::Empty | Sketch::Part { .. } => return at,
        }
    }
    at
}

/// Numbers that look random and are always the same: splitmix64 (G. L. Steele, D. Lea and C. H. Flood, OOPSLA 2014;
/// constants from memory).
struct Dice(u64);

impl Dice {
    /// Any of the numbers from nought up; nought when there are none.
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^= bits >> 31;
        usize::try_from(bits % (count as u64).max(1)).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Kind, Shape};
    use crate::sketch::Axis;

    fn part(kind: usize) -> Sketch {
        Sketch::Part { kind, shape: Shape { width: 3, height: 2 } }
    }

    #[test]
    fn a_piece_goes_out_and_in_again() {
        let join = |first, second| Sketch::Join { axis: Axis::X, first: Box::new(first), second: Box::new(second) };
        let whole = join(part(0), join(part(1), part(2)));
        let mut sketch = whole.clone();
        let piece = take(&mut sketch, &[true, false]);
        assert_eq!((piece.clone(), sketch.size()), (part(1), [6, 2]));
        put(&mut sketch, &[true, false], piece);
        assert_eq!(sketch, whole);
    }

    #[test]
    fn a_piece_may_use_what_is_loose_beside_it() {
        let sketch = Sketch::Join { axis: Axis::Y, first: Box::new(part(0)), second: Box::new(part(1)) };
        let pick = pick(&sketch, 0, [10, 9], 1, &mut Dice(1));
        assert_eq!((pick.path.len(), pick.room), (1, [10, 7]));
    }

    #[test]
    fn nothing_gets_worse() {
        let kind = |width, height| Kind { shapes: vec![Shape { width, height }], most: 2, least: 0, worth: 1 };
        let kinds = vec![kind(3, 2), kind(4, 4), kind(5, 1)];
        let problem = Problem::new(kinds, vec![[9, 5], [4, 4]]);
        let start = Best { sketches: vec![part(0), Sketch::Empty], gain: 1 };
        let found = search(&problem, start, 20_000_000);
        assert_eq!(found.gain, problem.gain(&tally(&problem, &found.sketches)));
        assert!(found.gain >= 5, "{}", found.gain);
    }
}
