//! Loops: panels that hang together in a ring, by folds, glue, or paper all round a crossing.
//!
//! Most steps turn every fold evenly and need nothing of this. Where that would tear a loop, its folds may still move
//! together at other rates ([`driven`]): a slanting crossing of four folds, a pocket on two parallel hinges, a glued
//! ring. The path is followed in small steps from where the loop is closed to where it closes again. Folds that the
//! step does not name follow only if they are folded already, or are in the loop for its glue alone: flat paper
//! is not expected to give way at any score.
//!
//! Whether a pattern can fold rigidly is hard to decide in general (Akitaya, Demaine, Horiyama, Hull, Ku and Tachi,
//! 2020), so a loop that is not found to move here is only that.

use crate::assembly::Assembly;
use crate::folding::Folding;
use crate::hinge::Hinge;
use crate::linkage::{Linkage, Pivot, quarters};
use crate::step::{Lead, Motion, groups};
use glam::{DAffine3, DVec2, DVec3};
use model::{LineId, PanelId};
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::FRAC_PI_2;

/// Steps in which a path is followed: 1.4° of a fold by 180°.
const STEPS: usize = 128;

/// No fold turns more than this in one of them, in radians; what does has leapt to another way of folding.
const LEAP: f64 = 0.35;

/// How near a fold must come to a whole number of quarter turns, in radians.
const SAME_TURN: f64 = 1e-7;

/// How far a closed loop may gape, in mm: a micrometre.
const CLOSES: f64 = 1e-3;

/// How little folds that follow are held back, against those that a step names.
const LIGHT: f64 = 1e6;

/// The most folds that are moved together: the time grows with the cube.
const MOST_PIVOTS: usize = 24;

/// Panels that hang together in a ring, and whether it can move.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    /// Its panels, in ascending order.
    pub panels: Vec<PanelId>,
    /// Its folds, as places in [`Assembly::joints`], ascending.
    pub joints: Vec<usize>,
    /// The lines they lie on, in ascending order.
    pub lines: Vec<LineId>,
    /// By how much it fails to close, in mm: the greatest distance between the two panels of a fold along it.
    pub gap: f64,
    /// In how many ways its folds may begin to turn; some may lead nowhere, as in flat paper.
    pub freedoms: usize,
    /// Whether it moves; else it is rigid as it lies.
    pub moves: bool,
}

/// What hangs together in rings before step `step` of `folding` (its count of steps for the closed state), were every
/// fold free to turn. Rings that have folds in common are told as one. Empty when there is no such step.
#[must_use]
pub fn mobility(assembly: &Assembly, folding: &Folding, step: usize) -> Vec<Ring> {
    let Some(frames) = folding.frames.get(step) else { return Vec::new() };
    let all: Vec<usize> = (0..assembly.joints.len()).collect();
    let group = groups(assembly, &all);
    let ends = |joint: usize| assembly.joints[joint].panels.map(|panel| group[panel]);
    blocks(&all.iter().map(|&joint| ends(joint)).collect::<Vec<_>>())
        .into_iter()
        .map(|joints| ring(assembly, frames, &group, joints))
        .collect()
}

/// The motion of a step whose folds hang on one another, from `frames`, where joints are `turned`; `None` where it is
/// not found.
pub(crate) fn driven(assembly: &Assembly, frames: &[DAffine3], turned: &[i32], folding: &[usize]) -> Option<Motion> {
    let alone = Drive::new(assembly, frames, turned, folding, &[]).and_then(Drive::motion);
    alone.or_else(|| {
        let following = following(assembly, turned, folding);
        if following.is_empty() {
            return None;
        }
        Drive::new(assembly, frames, turned, folding, &following).and_then(Drive::motion)
    })
}

/// A step that is to be driven through its loops.
struct Drive {
    group: Vec<usize>,
    base: usize,
    linkage: Linkage,
    /// For each pivot, how far it is to turn, in radians; `None` for one that follows.
    goal: Vec<Option<f64>>,
    /// For each pivot, which of its joint's panels carries the other.
    near: Vec<usize>,
}

impl Drive {
    fn new(
        assembly: &Assembly,
        frames: &[DAffine3],
        turned: &[i32],
        folding: &[usize],
        following: &[usize],
    ) -> Option<Self> {
        let mut loosened: Vec<usize> = folding.iter().chain(following).copied().collect();
        loosened.sort_unstable();
        let group = groups(assembly, &loosened);
        let count = group.iter().max().map_or(0, |most| most + 1);
        let pivots: Option<Vec<Pivot>> =
            loosened.iter().map(|&joint| pivot(assembly, frames, &group, joint, turned[joint])).collect();
        let pivots = pivots.filter(|pivots| pivots.len() <= MOST_PIVOTS && pivots.iter().all(is_free))?;
        let linkage = Linkage::new(pivots, count, group[assembly.base]);
        if !linkage.has_loops() {
            return None;
        }
        let goal = |pivot: &Pivot| {
            let crease = crate::vertex::signed_quarters(&assembly.joints[pivot.joint]);
            let whole = f64::from(crease - pivot.quarters) * FRAC_PI_2;
            folding.binary_search(&pivot.joint).is_ok().then_some(whole)
        };
        let goal = linkage.pivots.iter().map(goal).collect();
        let near = |pivot: &Pivot| usize::from(group[assembly.joints[pivot.joint].panels[0]] != pivot.groups[0]);
        let near = linkage.pivots.iter().map(near).collect();
        Some(Self { base: group[assembly.base], group, linkage, goal, near })
    }

    /// Follows the loops from the start to where all named folds are as they should be.
    fn motion(mut self) -> Option<Motion> {
        let still = vec![0.0; self.goal.len()];
        let weights: Vec<f64> = self.goal.iter().map(|goal| if goal.is_some() { 1.0 } else { LIGHT }).collect();
        if self.linkage.gap(&still) > CLOSES {
            return None;
        }
        let wanted = |progress: f64, now: &[f64]| -> Vec<f64> {
            self.goal.iter().zip(now).map(|(goal, now)| goal.map_or(*now, |whole| whole * progress)).collect()
        };
        let mut path = vec![still];
        for step in 1..=STEPS {
            let before = &path[step - 1];
            // As fast as in the step before: that keeps to the way that was taken where several part.
            let guess: Vec<f64> = match step.checked_sub(2).map(|earlier| &path[earlier]) {
                Some(earlier) => before.iter().zip(earlier).map(|(now, then)| 2.0 * now - then).collect(),
                None => wanted(share(1), before),
            };
            let turns = if step == STEPS {
                self.end(&guess)?
            } else {
                self.linkage.nearest(&guess, &wanted(share(step), &guess), &weights)?
            };
            if turns.iter().zip(before).any(|(now, then)| (now - then).abs() > LEAP) {
                return None;
            }
            path.push(turns);
        }
        self.linkage.path = path;
        Some(self.made())
    }

    /// The turns in the end: named folds as they should be, and those that follow at whole quarter turns.
    fn end(&self, guess: &[f64]) -> Option<Vec<f64>> {
        let fixed: Vec<f64> = self.goal.iter().map(|goal| if goal.is_some() { 0.0 } else { 1.0 }).collect();
        let start: Vec<f64> = self.goal.iter().zip(guess).map(|(goal, guess)| goal.unwrap_or(*guess)).collect();
        let found = if self.linkage.gap(&start) < CLOSES { start } else { self.linkage.closed(&start, &fixed)? };
        let square: Vec<f64> = found.iter().map(|turn| f64::from(quarters(*turn).0) * FRAC_PI_2).collect();
        let is_square = found.iter().all(|turn| quarters(*turn).1 < SAME_TURN.max(CLOSES));
        (is_square && self.linkage.gap(&square) < CLOSES).then_some(square)
    }

    fn made(self) -> Motion {
        let linkage = self.linkage;
        let count = linkage.carrier.len();
        let mut motion = Motion {
            chains: vec![Vec::new(); count],
            parent: (0..count).collect(),
            leads: vec![None; count],
            group: self.group,
            linkage: None,
        };
        let mut reached = vec![self.base];
        let mut next = 0;
        while let Some(&at) = reached.get(next) {
            next += 1;
            for (number, pivot) in linkage.pivots.iter().enumerate() {
                let far = pivot.groups[1];
                if pivot.groups[0] != at || linkage.carrier[far] != Some(number) {
                    continue;
                }
                let whole = linkage.path.last().map_or(0.0, |end| end[number]);
                let pace = pace(&linkage.path, number);
                let last = Hinge { pace, ..Hinge::new(pivot.at, pivot.along, quarters(whole).0) };
                motion.chains[far] = motion.chains[at].iter().copied().chain([last]).collect();
                motion.parent[far] = at;
                motion.leads[far] = Some(Lead { joint: pivot.joint, near: self.near[number] });
                reached.push(far);
            }
        }
        motion.linkage = Some(linkage);
        motion
    }
}

/// How fast a pivot turns at most, in radians for the whole step, with room for what lies between the steps.
fn pace(path: &[Vec<f64>], pivot: usize) -> f64 {
    let most = path.windows(2).map(|pair| (pair[1][pivot] - pair[0][pivot]).abs()).fold(0.0, f64::max);
    1.5 * most / share(1)
}

/// A joint as a pivot; `None` when it has no length.
pub(crate) fn pivot(
    assembly: &Assembly,
    frames: &[DAffine3],
    group: &[usize],
    joint: usize,
    quarters: i32,
) -> Option<Pivot> {
    let shape = &assembly.joints[joint];
    let &(from, to) = shape.stretches.first()?;
    let [from, to] = [from, to].map(|at| frames[shape.panels[0]].transform_point3(at.extend(0.0)));
    // The first panel lies to the left: a valley turns the second against the stretch's direction.
    let along = (from - to).normalize_or_zero();
    let groups = shape.panels.map(|panel| group[panel]);
    (along != DVec3::ZERO).then_some(Pivot { joint, groups, at: from, along, quarters })
}

/// Whether a pivot joins two groups.
fn is_free(pivot: &Pivot) -> bool {
    pivot.groups[0] != pivot.groups[1]
}

/// The folds that may follow when `folding` turn: those of the same rings that are folded already, or that glue alone
/// has brought into a ring.
fn following(assembly: &Assembly, turned: &[i32], folding: &[usize]) -> Vec<usize> {
    let by_paper: BTreeSet<usize> = {
        let ends: Vec<[usize; 2]> = assembly.joints.iter().map(|joint| joint.panels).collect();
        blocks(&ends).into_iter().flatten().collect()
    };
    let may = |joint: &usize| {
        let glued = !assembly.bonds.is_empty() && !by_paper.contains(joint);
        folding.binary_search(joint).is_err() && (turned[*joint] != 0 || glued)
    };
    let candidates: Vec<usize> = (0..assembly.joints.len()).filter(may).collect();
    let mut loosened: Vec<usize> = folding.iter().copied().chain(candidates).collect();
    loosened.sort_unstable();
    let group = groups(assembly, &loosened);
    let ends: Vec<[usize; 2]> =
        loosened.iter().map(|&joint| assembly.joints[joint].panels.map(|panel| group[panel])).collect();
    let named = |&place: &usize| folding.binary_search(&loosened[place]).is_ok();
    let rings = blocks(&ends).into_iter().filter(|ring| ring.iter().any(named));
    let all: BTreeSet<usize> = rings.flatten().filter(|place| !named(place)).map(|place| loosened[place]).collect();
    all.into_iter().collect()
}

/// The rings of a graph given by the ends of its edges: sets of edges of which any two lie on a common ring, each
/// ascending. Edges on no ring are in none (biconnected parts; Hopcroft and Tarjan 1973).
fn blocks(ends: &[[usize; 2]]) -> Vec<Vec<usize>> {
    let nodes = ends.iter().flatten().max().map_or(0, |most| most + 1);
    let mut around: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    for (edge, [a, b]) in ends.iter().enumerate().filter(|(_, [a, b])| a != b) {
        around[*a].push(edge);
        around[*b].push(edge);
    }
    let mut number = vec![usize::MAX; nodes];
    let mut low = vec![usize::MAX; nodes];
    let (mut count, mut open, mut out) = (0, Vec::new(), Vec::new());
    let mut seen = vec![false; ends.len()];
    for root in 0..nodes {
        if number[root] != usize::MAX {
            continue;
        }
        (number[root], low[root], count) = (count, count, count + 1);
        // Each node on the way with the edge that led to it and the next edge to try.
        let mut way: Vec<(usize, Option<usize>, usize)> = vec![(root, None, 0)];
        while let Some(&mut (node, by, ref mut next)) = way.last_mut() {
            let Some(&edge) = around[node].get(*next) else {
                way.pop();
                let (Some(&(before, _, _)), Some(by)) = (way.last(), by) else { continue };
                low[before] = low[before].min(low[node]);
                if low[node] >= number[before] {
                    let first = open.iter().rposition(|&edge| edge == by).unwrap_or(0);
                    let mut block = open.split_off(first);
                    block.sort_unstable();
                    if block.len() > 1 {
                        out.push(block);
                    }
                }
                continue;
            };
            *next += 1;
            if std::mem::replace(&mut seen[edge], true) {
                continue;
            }
            open.push(edge);
            let other = if ends[edge][0] == node { ends[edge][1] } else { ends[edge][0] };
            if number[other] == usize::MAX {
                (number[other], low[other], count) = (count, count, count + 1);
                way.push((other, Some(edge), 0));
            } else {
                low[node] = low[node].min(number[other]);
            }
        }
    }
    out.sort_unstable();
    out
}

fn ring(assembly: &Assembly, frames: &[DAffine3], group: &[usize], joints: Vec<usize>) -> Ring {
    let panels: BTreeSet<usize> = joints.iter().flat_map(|&joint| assembly.joints[joint].panels).collect();
    let lines: BTreeSet<LineId> = joints.iter().map(|&joint| assembly.joints[joint].line).collect();
    let gap = joints.iter().map(|&joint| gape(assembly, frames, joint)).fold(0.0, f64::max);
    // Groups of this ring alone, numbered afresh.
    let numbers: BTreeMap<usize, usize> = {
        let here: BTreeSet<usize> = panels.iter().map(|&panel| group[panel]).collect();
        here.into_iter().enumerate().map(|(number, group)| (group, number)).collect()
    };
    let of: Vec<usize> = group.iter().map(|group| numbers.get(group).copied().unwrap_or(0)).collect();
    let pivots: Vec<Pivot> = joints.iter().filter_map(|&joint| pivot(assembly, frames, &of, joint, 0)).collect();
    let linkage = Linkage::new(pivots, numbers.len(), 0);
    let (freedoms, moves) = freedoms(&linkage);
    let id = |panel: usize| assembly.panels[panel].id;
    Ring {
        panels: panels.into_iter().map(id).collect(),
        lines: lines.into_iter().collect(),
        joints,
        gap,
        freedoms,
        moves,
    }
}

/// How far a joint's panels have come apart along it, in mm.
fn gape(assembly: &Assembly, frames: &[DAffine3], joint: usize) -> f64 {
    let joint = &assembly.joints[joint];
    let [near, far] = joint.panels.map(|panel| frames[panel]);
    let off = |at: DVec2| near.transform_point3(at.extend(0.0)).distance(far.transform_point3(at.extend(0.0)));
    joint.stretches.iter().flat_map(|&(from, to)| [off(from), off(to)]).fold(0.0, f64::max)
}

/// In how many ways turns may begin, and whether one of them, or two together, leads anywhere.
fn freedoms(linkage: &Linkage) -> (usize, bool) {
    /// How far to go for a try, in radians of all turns together: far above what rounding leaves, below what locks.
    const TRY: f64 = 0.05;
    let still = vec![0.0; linkage.pivots.len()];
    let ways = linkage.freedoms(&still);
    let even = vec![1.0; still.len()];
    let leads = |way: &[f64]| {
        let length = way.iter().map(|part| part * part).sum::<f64>().sqrt();
        let guess: Vec<f64> = way.iter().map(|part| part / length * TRY).collect();
        let found = linkage.closed(&guess, &even);
        found.is_some_and(|turns| turns.iter().map(|part| part * part).sum::<f64>().sqrt() > TRY / 2.0)
    };
    let mixed = |a: &[f64], b: &[f64], sign: f64| a.iter().zip(b).map(|(a, b)| a + sign * b).collect::<Vec<_>>();
    let alone = ways.iter().any(|way| leads(way));
    let pairs = || ways.iter().enumerate().flat_map(|(i, a)| ways[i + 1..].iter().map(move |b| (a, b)));
    let moves = alone || pairs().any(|(a, b)| [1.0, -1.0].iter().any(|&sign| leads(&mixed(a, b, sign))));
    (ways.len(), moves)
}

#[expect(clippy::cast_precision_loss, reason = "a count of steps is far below 2^52")]
fn share(step: usize) -> f64 {
    step as f64 / STEPS as f64
}
