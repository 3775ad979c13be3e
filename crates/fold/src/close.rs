//! Closing a folio, step by step.

use crate::assembly::Assembly;
use crate::axis::with_thickness;
use crate::folding::Folding;
use crate::layer::{Lie, part_way};
use crate::settle::settled;
use crate::stage::{Bench, Paper, Stage};
use crate::step::{Motion, connected};
use crate::trouble::Trouble;
use crate::{height, verify, vertex};
use glam::DAffine3;
use model::Direction;

/// Folds `assembly` by its steps. A step that cannot be made for paper that holds it together is left out; one in
/// whose way something lies is made all the same, and reported.
///
/// Pairs of facets are tested one against the other, so the time grows with the square of their count.
#[must_use]
pub fn close(assembly: &Assembly) -> Folding {
    if assembly.joints.iter().any(|joint| joint.crease.direction == Direction::Either) {
        close_settled(&settled(assembly))
    } else {
        close_settled(assembly)
    }
}

/// The same where every joint is told which way it folds.
pub(crate) fn close_settled(assembly: &Assembly) -> Folding {
    let bench = Bench::new(assembly);
    let mut stage = bench.start();
    // Where the middle of each panel's paper is, with thickness.
    let mut thick = stage.frames.clone();
    let mut troubles = Vec::new();
    let mut frames = vec![stage.frames.clone()];
    let (level, lift) = height::lifts(assembly, &stage.turned, &bench.lie(&stage), &stage.relations);
    let (mut levels, mut lifts) = (vec![level], vec![lift]);
    let mut motions = Vec::with_capacity(assembly.steps.len());
    for step in 0..assembly.steps.len() {
        let motion = make(&bench, (&mut stage, &mut thick), step, &mut troubles);
        let lie = Lie::new(&bench.facets, &stage.frames);
        let (level, lift) = height::lifts(assembly, &stage.turned, &lie, &stage.relations);
        levels.push(level);
        lifts.push(lift);
        motions.push(motion);
        frames.push(stage.frames.clone());
    }
    let closed = Lie::new(&bench.facets, &stage.frames);
    troubles.extend(verify::crossings(&bench, &stage));
    let unflat = vertex::unflat(assembly, &troubles);
    troubles.extend(unflat);
    troubles.extend(assembly.loose.iter().map(|&line| Trouble::NotInSteps { line }));
    let (planes, order) = height::planes(assembly, &stage.turned, &closed, &stage.relations);
    Folding {
        panels: assembly.panels.iter().map(|panel| panel.id).collect(),
        outlines: assembly.panels.iter().map(|panel| panel.outline.clone()).collect(),
        convex: assembly.panels.iter().map(|panel| panel.convex.clone()).collect(),
        frames,
        motions,
        lifts,
        levels,
        planes,
        order,
        folded: folded(assembly, &stage.turned),
        troubles,
        tucked: assembly.steps.iter().map(|step| !step.tucks.is_empty()).collect(),
        caliper: assembly.caliper,
        turned: stage.turned,
        relations: stage.relations,
    }
}

/// Makes one step, after noting what stands in its way.
fn make(
    bench: &Bench,
    (stage, thick): (&mut Stage, &mut Vec<DAffine3>),
    step: usize,
    troubles: &mut Vec<Trouble>,
) -> Motion {
    let of_step = &bench.assembly.steps[step];
    match bench.motion(stage, step, &of_step.joints) {
        Ok(motion) => {
            let (after, landed) = bench.landing(stage, &motion, &of_step.joints);
            let stiff = with_thickness(bench.assembly, &motion, &bench.lie(stage), thick, &landed);
            let paper = Paper { caliper: bench.assembly.caliper, before: thick, motion: &stiff };
            let mut hindrances = bench.hindrances_of(stage, &after.frames, step, &motion, paper);
            *thick = part_way(thick, &stiff, 1.0);
            *stage = after;
            bench.tucked(stage, step, of_step, &mut hindrances);
            troubles.extend(hindrances);
            motion
        }
        Err(held) => {
            troubles.extend(held);
            Motion::still(bench.assembly.panels.len())
        }
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
