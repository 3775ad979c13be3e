//! Steps, looked for depth first.

use super::candidate::{Fold, candidates, folds, never_together};
use super::wish::Sided;
use super::{Hindered, Plan, PlannedStep};
use crate::assembly::StepJoints;
use crate::layer::Lie;
use crate::overlap::middle;
use crate::relations::Relations;
use crate::stage::{Bench, Stage};
use crate::step::{Motion, connected};
use crate::trouble::Trouble;
use crate::tuck::{Tuck, held};
use crate::verify;
use glam::DVec3;
use model::{Direction, LineId};
use std::collections::BTreeMap;

/// Distances from an axis below this, in mm, show no side of it.
const NO_SIDE: f64 = 1e-6;

/// The part of the work that is spent on plans with fewer steps than the first one found.
const BETTERING: u64 = 16;

/// How a search ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum End {
    Found(Plan),
    /// There is nothing to be found.
    Exhausted,
    /// The work did not suffice.
    Spent,
}

/// Every closed state that some steps reach: what lies on what, and the steps that were found first.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Reached {
    pub(crate) states: BTreeMap<Relations, Vec<PlannedStep>>,
    /// Whether these are all.
    pub(crate) is_complete: bool,
}

/// A search for steps.
pub(super) struct Search<'a> {
    bench: &'a Bench<'a>,
    folds: Vec<Fold>,
    layers: &'a [Sided],
    /// How many flaps may be tucked.
    tucks: usize,
    /// For each fold, how late it should come for the sake of what should lie farther out.
    late: Vec<usize>,
    /// How many steps may still be tried.
    left: u64,
    /// For states that lead nowhere, by what is folded, how it lies and how many flaps are tucked: with how many steps left
    /// that is known.
    dead: BTreeMap<(Vec<bool>, Relations, usize), usize>,
    path: Vec<PlannedStep>,
    farthest: Option<(usize, Vec<PlannedStep>, Stage, Vec<bool>)>,
    reached: Option<Reached>,
}

/// All closed states that steps reach, without tucks.
pub(crate) fn reachable(bench: &Bench, effort: u64) -> Reached {
    let mut search = Search::new(bench, &[], 0, effort);
    search.reached = Some(Reached::default());
    let is_folded = vec![false; search.folds.len()];
    let end = search.deeper(&bench.start(), &is_folded, usize::MAX);
    let mut reached = search.reached.take().unwrap_or_default();
    reached.is_complete = end == End::Exhausted;
    reached
}

impl<'a> Search<'a> {
    pub(super) fn new(bench: &'a Bench<'a>, layers: &'a [Sided], tucks: usize, effort: u64) -> Self {
        let folds = folds(bench.assembly);
        let late = lateness(bench, &folds, layers);
        Self {
            bench,
            folds,
            layers,
            tucks,
            late,
            left: effort,
            dead: BTreeMap::new(),
            path: Vec::new(),
            farthest: None,
            reached: None,
        }
    }

    /// Steps that close the design, after its own first `kept` ones.
    pub(super) fn plan(&mut self, kept: usize) -> End {
        let mut stage = self.bench.start();
        let mut is_folded = vec![false; self.folds.len()];
        for of_step in self.bench.assembly.steps.iter().take(kept) {
            self.farthest = Some((0, self.path.clone(), stage.clone(), is_folded.clone()));
            // Whether it ends all hope shows in what follows, with the reason.
            let Ok(next) = self.made(&stage, of_step) else { return End::Exhausted };
            stage = next;
            self.path.push(self.named(&of_step.joints, of_step.tucks.clone()));
            is_folded = self.folded(&stage);
        }
        self.farthest = None;
        let mut best = match self.deeper(&stage, &is_folded, usize::MAX) {
            End::Found(plan) => plan,
            end => return end,
        };
        let least = kept.max(apart(self.bench, &self.folds));
        self.left = self.left.min(self.left / BETTERING + 1);
        loop {
            self.path.truncate(kept);
            if best.steps.len() <= least {
                return End::Found(Plan { is_least: true, ..best });
            }
            let limit = best.steps.len() - 1;
            match self.deeper(&stage, &is_folded, limit) {
                End::Found(plan) => best = plan,
                end => return End::Found(Plan { is_least: end == End::Exhausted, ..best }),
            }
        }
    }

    /// How many steps may still be tried.
    pub(super) const fn left(&self) -> u64 {
        self.left
    }

    /// The farthest state that was found.
    pub(super) fn farthest(&self) -> Vec<PlannedStep> {
        self.farthest.as_ref().map_or_else(Vec::new, |(_, path, _, _)| path.clone())
    }

    /// What stands in the way of every step from there.
    pub(super) fn hindered(&self) -> Vec<Hindered> {
        let Some((_, path, stage, is_folded)) = &self.farthest else { return Vec::new() };
        if is_folded.iter().all(|&is_folded| is_folded) {
            return vec![Hindered { lines: Vec::new(), troubles: verify::crossings(self.bench, stage) }];
        }
        let sets = candidates(self.bench, stage, (&self.folds, is_folded, &self.late));
        let hindered = |set: Vec<usize>| {
            let joints = self.joints(&set);
            let troubles = match self.bench.motion(stage, path.len(), &joints) {
                Ok(motion) => self.bench.hindrances(stage, path.len(), &motion),
                Err(held) => held,
            };
            Hindered { lines: self.lines(&joints), troubles }
        };
        sets.into_iter().map(hindered).filter(|hindered| !hindered.troubles.is_empty()).collect()
    }

    /// Steps from a state on, with no more of them in all than `limit`.
    fn deeper(&mut self, stage: &Stage, is_folded: &[bool], limit: usize) -> End {
        let done = is_folded.iter().filter(|&&is_folded| is_folded).count();
        if self.farthest.as_ref().is_none_or(|(most, ..)| done > *most) {
            self.farthest = Some((done, self.path.clone(), stage.clone(), is_folded.to_vec()));
        }
        if done == is_folded.len() {
            return self.close(stage);
        }
        let steps_left = limit - self.path.len().min(limit);
        let key = (is_folded.to_vec(), stage.relations.clone(), self.tucked());
        if steps_left == 0 || self.dead.get(&key).is_some_and(|&known| known >= steps_left) {
            return End::Exhausted;
        }
        for set in candidates(self.bench, stage, (&self.folds, is_folded, &self.late)) {
            if self.left == 0 {
                return End::Spent;
            }
            self.left -= 1;
            let joints = self.joints(&set);
            let Ok((next, tucks)) = self.attempt(stage, &joints) else { continue };
            let then = self.folded(&next);
            self.path.push(self.named(&joints, tucks));
            let end = self.deeper(&next, &then, limit);
            self.path.pop();
            if end != End::Exhausted {
                return end;
            }
        }
        self.dead.insert(key, steps_left);
        End::Exhausted
    }

    /// A state in which all is folded: taken if it holds.
    fn close(&mut self, stage: &Stage) -> End {
        let holds = self.layers.iter().all(|wish| wish.is_met(self.bench, &stage.relations))
            && verify::crossings(self.bench, stage).is_empty();
        match &mut self.reached {
            Some(reached) if holds => {
                reached.states.entry(stage.relations.clone()).or_insert_with(|| self.path.clone());
                End::Exhausted
            }
            None if holds => {
                End::Found(Plan { steps: self.path.clone(), is_least: false, directions: BTreeMap::new() })
            }
            _ => End::Exhausted,
        }
    }

    /// One step more as it is said, if it is legal.
    fn made(&self, stage: &Stage, of_step: &StepJoints) -> Result<Stage, Vec<Trouble>> {
        let (bench, step) = (self.bench, self.path.len());
        let motion = bench.motion(stage, step, &of_step.joints)?;
        let mut hindrances = bench.hindrances(stage, step, &motion);
        let mut next = bench.landed(stage, &motion, &of_step.joints);
        let done = bench.tucked(&mut next, of_step);
        bench.tell_tucked(step, done, &mut hindrances);
        if hindrances.is_empty() { Ok(next) } else { Err(hindrances) }
    }

    /// One step more, if it is legal and does not end all hope.
    fn attempt(&self, stage: &Stage, joints: &[usize]) -> Result<(Stage, Vec<Tuck>), Vec<Trouble>> {
        let bench = self.bench;
        let step = self.path.len();
        let motion = bench.motion(stage, step, joints)?;
        let tucked = self.tucked();
        if self.tucks == tucked && bench.is_blocked(stage, &motion) {
            return Err(Vec::new());
        }
        let mut next = bench.landed(stage, &motion, joints);
        let clusters = rigid(bench, &next);
        let mut tucks = self.needed_tucks(&next, &clusters, (joints, &motion));
        tucks.truncate(self.tucks.saturating_sub(tucked));
        let of_step = StepJoints { joints: joints.to_vec(), tucks };
        let mut hindrances = Vec::new();
        let done = bench.tucked(&mut next, &of_step);
        bench.tell_tucked(step, done, &mut hindrances);
        if !hindrances.is_empty() || self.is_spoilt(&next, &clusters) || is_stuck(bench, &next, &clusters) {
            return Err(hindrances);
        }
        let mut hindrances = bench.hindrances(stage, step, &motion);
        if !of_step.tucks.is_empty() {
            // Once more, to take out what the tucks make no hindrance.
            let done = bench.tucked(&mut bench.landed(stage, &motion, joints), &of_step);
            bench.tell_tucked(step, done, &mut hindrances);
        }
        if hindrances.is_empty() { Ok((next, of_step.tucks)) } else { Err(hindrances) }
    }

    /// Whether a wish can't be met any more: panels that stay as they lie to one another lie wrong.
    fn is_spoilt(&self, stage: &Stage, clusters: &[usize]) -> bool {
        self.layers.iter().any(|wish| {
            let stays = wish.inner().is_some_and(|inner| clusters[inner] == clusters[wish.outer()]);
            stays && !wish.is_met(self.bench, &stage.relations)
        })
    }

    /// The tucks that put right what has landed wrong.
    fn needed_tucks(&self, stage: &Stage, clusters: &[usize], (joints, motion): (&[usize], &Motion)) -> Vec<Tuck> {
        let hinged = |panel: usize| joints.iter().any(|&j| self.bench.assembly.joints[j].panels.contains(&panel));
        let moves = |panel: usize| hinged(panel) && !motion.chain(panel).is_empty();
        let mut tucks = Vec::new();
        for wish in self.layers {
            let Some(inner) = wish.inner() else { continue };
            let outer = wish.outer();
            if clusters[inner] != clusters[outer] || wish.is_met(self.bench, &stage.relations) {
                continue;
            }
            let ways = [(inner, outer), (outer, inner)].map(|(moving, under)| Tuck { moving, under });
            let free = |tuck: &&Tuck| moves(tuck.moving) && held(self.bench.assembly, joints, **tuck).is_empty();
            tucks.extend(ways.iter().find(free));
        }
        tucks
    }

    /// For each fold, whether it has folded, or followed others that have.
    fn folded(&self, stage: &Stage) -> Vec<bool> {
        self.folds.iter().map(|fold| fold.joints.iter().all(|&joint| stage.turned[joint] != 0)).collect()
    }

    /// How many flaps are tucked by now.
    fn tucked(&self) -> usize {
        self.path.iter().map(|step| step.tucks.len()).sum()
    }

    fn joints(&self, set: &[usize]) -> Vec<usize> {
        let mut joints: Vec<usize> = set.iter().flat_map(|&fold| &self.folds[fold].joints).copied().collect();
        joints.sort_unstable();
        joints
    }

    fn lines(&self, joints: &[usize]) -> Vec<LineId> {
        let mut lines: Vec<LineId> = joints.iter().map(|&joint| self.bench.assembly.joints[joint].line).collect();
        lines.sort_unstable();
        lines.dedup();
        lines
    }

    fn named(&self, joints: &[usize], tucks: Vec<Tuck>) -> PlannedStep {
        PlannedStep { lines: self.lines(joints), joints: joints.to_vec(), tucks }
    }
}

/// How many folds there are of which no two can ever share a step: so many steps are needed at least. Not the most that
/// could be found, but those beside the base.
fn apart(bench: &Bench, folds: &[Fold]) -> usize {
    let mut by_way: Vec<usize> = (0..folds.len()).collect();
    by_way.sort_by_key(|&fold| folds[fold].far);
    let mut chosen: Vec<usize> = Vec::new();
    for fold in by_way {
        if chosen.iter().all(|&other| never_together(bench.assembly, &folds[fold], &folds[other])) {
            chosen.push(fold);
        }
    }
    chosen.len()
}

/// How late each fold should come: after those of what should lie farther in than what it moves.
fn lateness(bench: &Bench, folds: &[Fold], layers: &[Sided]) -> Vec<usize> {
    let count = bench.assembly.panels.len();
    let mut rank = vec![0; count];
    // As often as there are wishes, so that a chain of them is in order in the end; a ring stays in some.
    for _ in 0..layers.len() {
        for wish in layers {
            match wish.inner() {
                Some(inner) => rank[wish.outer()] = rank[wish.outer()].max((rank[inner] + 1).min(layers.len())),
                None => rank[wish.outer()] = layers.len() + 1,
            }
        }
    }
    let of_joint = |&j: &usize| {
        let [a, b] = bench.assembly.joints[j].panels;
        let far = |panel: usize| bench.assembly.ways[panel].folds;
        if far(a) > far(b) { rank[a] } else { rank[b] }
    };
    folds.iter().map(|fold| fold.joints.iter().map(of_joint).max().unwrap_or(0)).collect()
}

/// For each panel a number, the same for those that stay in place to one another from now on: glued, or joined by folds
/// that have folded.
fn rigid(bench: &Bench, stage: &Stage) -> Vec<usize> {
    let mut beside = vec![Vec::new(); bench.assembly.panels.len()];
    let folded = bench.assembly.joints.iter().zip(&stage.turned).filter(|(_, turned)| **turned != 0);
    let glued = bench.assembly.bonds.iter().map(|bond| bond.panels);
    for [a, b] in folded.map(|(joint, _)| joint.panels).chain(glued) {
        beside[a].push(b);
        beside[b].push(a);
    }
    connected(&beside)
}

/// Whether some fold can never fold: what stays in place to one of its panels lies on what does to the other, on the side
/// to which that will move.
fn is_stuck(bench: &Bench, stage: &Stage, clusters: &[usize]) -> bool {
    let lie = bench.lie(stage);
    let open = bench.assembly.joints.iter().zip(&stage.turned).filter(|(_, turned)| **turned == 0);
    open.into_iter().any(|(joint, _)| {
        let [near, far] = joint.panels;
        let Some(&(from, to)) = joint.stretches.first() else { return false };
        let frame = &stage.frames[near];
        let at = frame.transform_point3(from.extend(0.0));
        let along = (frame.transform_point3(to.extend(0.0)) - at).normalize_or_zero();
        let front = frame.matrix3.z_axis;
        // The far panel is to the right of the stretch, and a valley brings its front towards that of the near one.
        let beyond = along.cross(front);
        let rises = if joint.crease.direction == Direction::Mountain { -front } else { front };
        holds(bench, &lie, stage, (clusters, [near, far]), |spot| {
            let aside = beyond.dot(spot - at);
            (aside.abs() > NO_SIDE).then(|| if aside > 0.0 { rises } else { -rises })
        })
    })
}

/// Whether something that stays with the first panel lies on something that stays with the second, where that moves
/// towards it.
fn holds(
    bench: &Bench,
    lie: &Lie,
    stage: &Stage,
    (clusters, [near, far]): (&[usize], [usize; 2]),
    moves: impl Fn(DVec3) -> Option<DVec3>,
) -> bool {
    let of = |panel: usize| {
        (0..bench.facets.len()).filter(move |&facet| clusters[bench.facets[facet].panel] == clusters[panel])
    };
    of(far).any(|p| {
        of(near).filter(|&q| stage.relations.side(p, q).is_some()).any(|q| {
            let Some(covered) = lie.covered(p, q) else { return false };
            let spot = lie.frame(p).transform_point3(middle(&covered).extend(0.0));
            moves(spot).is_some_and(|way| {
                // Only what lies in the plane of the fold turns straight up; the rest is left to the steps.
                way.dot(lie.normal(p)).abs() > 0.5 && stage.relations.above(lie, p, q, way) == Some(true)
            })
        })
    })
}
