//! Closing a folio, step by step.

use crate::assembly::Assembly;
use crate::at_once::at_once;
use crate::axis::with_thickness;
use crate::folding::Folding;
use crate::laid::Kept;
use crate::layer::{Lie, part_way};
use crate::settle::settled;
use crate::stage::{Bench, Paper, Stage, Tucked};
use crate::step::{Motion, connected};
use crate::trouble::Trouble;
use crate::{height, verify, vertex};
use glam::{DAffine3, DVec3};
use model::Direction;
use std::borrow::Cow;
use std::collections::BTreeSet;

/// Folds `assembly` by its steps. A step that cannot be made for paper that holds it together is left out; one in
/// whose way something lies is made all the same, and reported.
///
/// That panels pass through one another is told of the closed state; of the state after a step where the closed state
/// and all steps so far are in order, and there are no more than 40 facets.
///
/// Pairs of facets are tested one against the other, so the time grows with the square of their count.
#[must_use]
pub fn close(assembly: &Assembly) -> Folding {
    let assembly = told(assembly);
    let (mut folding, states) = folded_with(&assembly, States::UntilTrouble);
    let closes = !folding.troubles.iter().any(|trouble| matches!(trouble, Trouble::Crosses { .. }));
    if closes && let Some(first) = states.into_iter().find(|state| !state.is_empty()) {
        let step = first.first().and_then(Trouble::step);
        let later = folding.troubles.iter().position(|trouble| trouble.step().is_none() || trouble.step() > step);
        let at = later.unwrap_or(folding.troubles.len());
        folding.troubles.splice(at..at, first);
    }
    folding
}

/// For each step, what passes through what in the state after it ([`Trouble::Crosses`]), judged as if the steps were not
/// trusted. However many panels there are: see [`close`] for what that looks at.
#[must_use]
pub fn verify_steps(assembly: &Assembly) -> Vec<Vec<Trouble>> {
    folded_with(&told(assembly), States::Each).1
}

/// Every joint told which way it folds.
fn told(assembly: &Assembly) -> Cow<'_, Assembly> {
    if assembly.joints.iter().any(|joint| joint.crease.direction == Direction::Either) {
        Cow::Owned(settled(assembly))
    } else {
        Cow::Borrowed(assembly)
    }
}

/// Which states between steps are verified.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum States {
    None,
    /// Those up to the first trouble, of small folios, but for the closed one.
    UntilTrouble,
    Each,
}

impl States {
    fn takes(self, bench: &Bench, step: usize) -> bool {
        match self {
            Self::None => false,
            Self::UntilTrouble => {
                let is_last = step + 1 == bench.assembly.steps.len();
                !is_last && bench.facets.len() <= verify::MOST_FACETS
            }
            Self::Each => true,
        }
    }
}

/// The same as [`close`] where every joint is told which way it folds, of the closed state alone.
pub(crate) fn close_settled(assembly: &Assembly) -> Folding {
    folded_with(assembly, States::None).0
}

/// Folds, and verifies the states between steps: what is wrong after each step that is looked at.
fn folded_with(assembly: &Assembly, states: States) -> (Folding, Vec<Vec<Trouble>>) {
    let bench = Bench::new(assembly);
    let mut stage = bench.start();
    let mut ways = Vec::with_capacity(assembly.steps.len());
    let mut between = Vec::new();
    let mut frames = vec![stage.frames.clone()];
    let (level, lift, weave) = height::lifts(assembly, &stage.turned, &bench.lie(&stage), &stage.relations);
    // Where the middle of each panel's paper is, with thickness.
    let raised = |(frame, &lift): (&DAffine3, &f64)| *frame * DAffine3::from_translation(DVec3::Z * lift);
    let mut thick: Vec<DAffine3> = stage.frames.iter().zip(&lift).map(raised).collect();
    let (mut levels, mut lifts, mut woven) = (vec![level], vec![lift], vec![weave]);
    let mut motions = Vec::with_capacity(assembly.steps.len());
    for step in 0..assembly.steps.len() {
        let (motion, way) = make(&bench, (&mut stage, &mut thick), step);
        ways.push(way);
        let lie = Lie::new(&bench.facets, &stage.frames);
        let (level, lift, weave) = height::lifts(assembly, &stage.turned, &lie, &stage.relations);
        levels.push(level);
        lifts.push(lift);
        woven.push(weave);
        motions.push(motion);
        if states.takes(&bench, step) {
            between.push((step, stage.clone()));
        }
        frames.push(stage.frames.clone());
    }
    let (told, mut wrong, crossings) = looked_at(&bench, ways, &between, &stage);
    if states == States::UntilTrouble {
        let is_well = |(step, _): &&(usize, Stage)| told[..=*step].iter().all(Vec::is_empty);
        wrong.truncate(between.iter().take_while(is_well).count());
    }
    let mut troubles: Vec<Trouble> = told.into_iter().flatten().chain(crossings).collect();
    let closed = Lie::new(&bench.facets, &stage.frames);
    let unflat = vertex::unflat(assembly, &troubles);
    troubles.extend(unflat);
    troubles.extend(assembly.loose.iter().map(|&line| Trouble::NotInSteps { line }));
    let (planes, order) = height::planes(assembly, &stage.turned, &closed, &stage.relations);
    let folding = Folding {
        panels: assembly.panels.iter().map(|panel| panel.id).collect(),
        outlines: assembly.panels.iter().map(|panel| panel.outline.clone()).collect(),
        holes: assembly.panels.iter().map(|panel| panel.holes.clone()).collect(),
        convex: assembly.panels.iter().map(|panel| panel.convex.clone()).collect(),
        frames,
        motions,
        lifts,
        levels,
        woven,
        planes,
        order,
        folded: folded(assembly, &stage.turned),
        troubles,
        tucked: assembly.steps.iter().map(|step| !step.tucks.is_empty()).collect(),
        calipers: assembly.panels.iter().map(|panel| panel.caliper).collect(),
        turned: stage.turned,
        relations: stage.relations,
        kept: Kept::default(),
    };
    (folding, wrong)
}

/// Paper of fewer facets is looked at in less time than it takes to begin a second thread.
const LEAST_SHARED: usize = 6;

/// Looks at a folding: what is wrong on the way of each step, what passes through what in the states after some steps,
/// and in the last.
///
/// The ways take about as long as the states, and neither needs the other, so both are done at once where there are
/// two processors.
fn looked_at(
    bench: &Bench,
    ways: Vec<Result<Way, Vec<Trouble>>>,
    between: &[(usize, Stage)],
    last: &Stage,
) -> (Vec<Vec<Trouble>>, Vec<Vec<Trouble>>, Vec<Trouble>) {
    let look = || ways.into_iter().map(|way| way.map_or_else(|held| held, |way| way.told(bench))).collect();
    let verify = || {
        let after = between.iter().map(|(step, stage)| verify::crossings_after(bench, stage, *step)).collect();
        (after, verify::crossings(bench, last))
    };
    let (told, (wrong, crossings)) =
        if bench.facets.len() < LEAST_SHARED { (look(), verify()) } else { at_once(look, verify) };
    (told, wrong, crossings)
}

/// The way that a step took.
struct Way {
    step: usize,
    before: Vec<DAffine3>,
    thick: Vec<DAffine3>,
    after: Vec<DAffine3>,
    motion: Motion,
    /// The pairs of panels of which the first can't move as it should for the second.
    blocked: BTreeSet<(usize, usize)>,
    stiff: Motion,
    tucked: Vec<Tucked>,
}

impl Way {
    /// What stands in it.
    fn told(self, bench: &Bench) -> Vec<Trouble> {
        let paper = Paper { is_thick: bench.assembly.is_thick(), before: &self.thick, motion: &self.stiff };
        let [start, end] = [&self.before, &self.after].map(|frames| Lie::new(&bench.facets, frames));
        let mut found = bench.hindrances_of([&start, &end], self.step, (&self.motion, &self.blocked), paper);
        bench.tell_tucked(self.step, self.tucked, &mut found);
        found
    }
}

/// Makes one step.
///
/// # Errors
/// A step that cannot be made is left out, for what is told.
fn make(
    bench: &Bench,
    (stage, thick): (&mut Stage, &mut Vec<DAffine3>),
    step: usize,
) -> (Motion, Result<Way, Vec<Trouble>>) {
    let of_step = &bench.assembly.steps[step];
    match bench.motion(stage, step, &of_step.joints) {
        Ok(motion) => {
            let before = stage.frames.clone();
            let flat = Lie::new(&bench.facets, &before);
            let blocked = stage.relations.blocked(&flat, &motion);
            let landed = bench.land(stage, &motion, &of_step.joints);
            let stiff = with_thickness(bench.assembly, &motion, &flat, thick, &landed);
            let moved = part_way(thick, &stiff, 1.0);
            let thick = std::mem::replace(thick, moved);
            let after = stage.frames.clone();
            let tucked = bench.tucked(stage, of_step);
            (motion.clone(), Ok(Way { step, before, thick, after, motion, blocked, stiff, tucked }))
        }
        Err(held) => (Motion::still(bench.assembly.panels.len()), Err(held)),
    }
}

/// For each panel, whether it hangs on the base by glue and joints that have turned alone.
fn folded(assembly: &Assembly, turned: &[i32]) -> Vec<bool> {
    let mut beside = vec![Vec::new(); assembly.panels.len()];
    let joints = assembly.joints.iter().zip(turned).filter(|(_, turned)| **turned != 0).map(|(joint, _)| joint.panels);
    for [a, b] in joints.chain(assembly.bonds.iter().map(|bond| bond.panels)) {
        beside[a].push(b);
        beside[b].push(a);
    }
    let part = connected(&beside);
    part.iter().map(|&number| number == part[assembly.base]).collect()
}
