//! Closing a folio, step by step.

use crate::assembly::Assembly;
use crate::at_once::along;
use crate::axis::with_thickness;
use crate::folding::{Folding, Woven};
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
    let (made, Looked { ways: told, between: mut wrong, closed: crossings }) = made_and_looked_at(&bench, states);
    let Made { stage, closed, between, frames, motions, lifts, levels, woven } = made;
    if states == States::UntilTrouble {
        let is_well = |(step, _): &&(usize, Stage)| told[..=*step].iter().all(Vec::is_empty);
        wrong.truncate(between.iter().take_while(is_well).count());
    }
    let mut troubles: Vec<Trouble> = told.into_iter().flatten().chain(crossings).collect();
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

/// What comes of making all steps.
struct Made<'a> {
    /// How all is in the end.
    stage: Stage,
    closed: Lie<'a>,
    /// The steps the states after which are to be verified, with those.
    between: Vec<(usize, Stage)>,
    /// Where each panel is before the first step and after each.
    frames: Vec<Vec<DAffine3>>,
    motions: Vec<Motion>,
    lifts: Vec<Vec<f64>>,
    levels: Vec<Vec<i32>>,
    woven: Vec<Vec<Woven>>,
}

/// Makes all steps, and hands on how each was made, or why it can't be.
fn made<'a>(bench: &'a Bench<'a>, states: States, hand_on: &mut dyn FnMut(Result<Way, Vec<Trouble>>)) -> Made<'a> {
    let assembly = bench.assembly;
    let mut stage = bench.start();
    let mut lie = Lie::new(&bench.facets, stage.frames.clone());
    let (level, lift, weave) = height::lifts(assembly, &stage.turned, &lie, &stage.relations);
    // Where the middle of each panel's paper is, with thickness.
    let raised = |(frame, &lift): (&DAffine3, &f64)| *frame * DAffine3::from_translation(DVec3::Z * lift);
    let mut thick: Vec<DAffine3> = stage.frames.iter().zip(&lift).map(raised).collect();
    let (mut levels, mut lifts, mut woven) = (vec![level], vec![lift], vec![weave]);
    let (mut frames, mut motions, mut between) = (Vec::new(), Vec::new(), Vec::new());
    for step in 0..assembly.steps.len() {
        frames.push(stage.frames.clone());
        let (motion, way) = make(bench, (&mut stage, &mut lie, &mut thick), step);
        hand_on(way);
        let (level, lift, weave) = height::lifts(assembly, &stage.turned, &lie, &stage.relations);
        levels.push(level);
        lifts.push(lift);
        woven.push(weave);
        motions.push(motion);
        if states.takes(bench, step) {
            between.push((step, stage.clone()));
        }
    }
    frames.push(stage.frames.clone());
    Made { stage, closed: lie, between, frames, motions, lifts, levels, woven }
}

/// Paper of fewer facets is looked at in less time than it takes to begin a second thread.
const LEAST_SHARED: usize = 6;

/// What is wrong with a folding.
struct Looked {
    /// On the way of each step.
    ways: Vec<Vec<Trouble>>,
    /// What passes through what in the states after some steps.
    between: Vec<Vec<Trouble>>,
    /// The same in the last.
    closed: Vec<Trouble>,
}

/// Makes all steps and looks at them.
///
/// The way of a step is looked at while the next are made and the states verified, where there are two processors.
fn made_and_looked_at<'a>(bench: &'a Bench<'a>, states: States) -> (Made<'a>, Looked) {
    let mut before = Lie::new(&bench.facets, &*bench.assembly.start.frames);
    let mut look = |way: Result<Way, Vec<Trouble>>| match way {
        Ok(mut way) => {
            let after = Lie::new(&bench.facets, std::mem::take(&mut way.after));
            let told = way.told(bench, [&before, &after]);
            before = after;
            told
        }
        Err(held) => held,
    };
    let verified = |hand_on: &mut dyn FnMut(Result<Way, Vec<Trouble>>)| {
        let made = made(bench, states, hand_on);
        let after = made.between.iter().map(|(step, stage)| verify::crossings_after(bench, stage, *step)).collect();
        let crossings = verify::crossings(bench, &made.stage);
        (made, after, crossings)
    };
    let ((made, between, closed), ways) = if bench.facets.len() < LEAST_SHARED {
        let mut ways = Vec::new();
        (verified(&mut |way| ways.push(look(way))), ways)
    } else {
        along(verified, look)
    };
    (made, Looked { ways, between, closed })
}

/// The way that a step took.
struct Way {
    step: usize,
    thick: Vec<DAffine3>,
    after: Vec<DAffine3>,
    motion: Motion,
    /// The pairs of panels of which the first can't move as it should for the second.
    blocked: BTreeSet<(usize, usize)>,
    stiff: Motion,
    tucked: Vec<Tucked>,
}

impl Way {
    /// What stands in it, told how panels lie before and after.
    fn told(self, bench: &Bench, lies: [&Lie; 2]) -> Vec<Trouble> {
        let paper = Paper { is_thick: bench.assembly.is_thick(), before: &self.thick, motion: &self.stiff };
        let mut found = bench.hindrances_of(lies, self.step, (&self.motion, &self.blocked), paper);
        bench.tell_tucked(self.step, self.tucked, &mut found);
        found
    }
}

/// Makes one step: `lie` is how panels lie in the stage, before and afterwards.
///
/// # Errors
/// A step that cannot be made is left out, for what is told.
fn make<'a>(
    bench: &'a Bench,
    (stage, lie, thick): (&mut Stage, &mut Lie<'a>, &mut Vec<DAffine3>),
    step: usize,
) -> (Motion, Result<Way, Vec<Trouble>>) {
    let of_step = &bench.assembly.steps[step];
    match bench.motion(stage, step, &of_step.joints) {
        Ok(motion) => {
            let blocked = stage.relations.blocked(lie, &motion);
            let (end, landed) = bench.land(stage, &motion, &of_step.joints);
            let stiff = with_thickness(bench.assembly, &motion, lie, thick, &landed);
            *lie = end;
            let moved = part_way(thick, &stiff, 1.0);
            let thick = std::mem::replace(thick, moved);
            let after = stage.frames.clone();
            let tucked = bench.tucked(stage, of_step);
            (motion.clone(), Ok(Way { step, thick, after, motion, blocked, stiff, tucked }))
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
