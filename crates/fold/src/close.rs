//! Closing a folio, step by step.

use crate::assembly::Assembly;
use crate::facet::{facets, seams};
use crate::folding::Folding;
use crate::layer::{Lie, Relations, part_way};
use crate::settle::settled;
use crate::step::{Motion, connected, motion};
use crate::trouble::Trouble;
use crate::{crossing, height, sweep, vertex};
use glam::DAffine3;
use model::{Direction, LineId, PanelId, Point, Segment};
use std::collections::BTreeSet;

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
    let facets = facets(&assembly.panels);
    let seams = seams(assembly, &facets);
    let mut state = State {
        assembly,
        turned: vec![0; assembly.joints.len()],
        relations: Relations::none(facets.len()),
        troubles: Vec::new(),
    };
    let mut frames = vec![vec![DAffine3::IDENTITY; assembly.panels.len()]];
    let mut lifts = vec![vec![0.0; assembly.panels.len()]];
    let mut motions = Vec::with_capacity(assembly.steps.len());
    let mut now = frames[0].clone();
    for step in 0..assembly.steps.len() {
        let start = Lie::new(&facets, &now);
        let motion = state.step(step, &start);
        let end = part_way(&now, &motion, 1.0);
        let lie = Lie::new(&facets, &end);
        state.relations.land(&lie, &now, &motion);
        lifts.push(height::lifts(assembly, &state.turned, &lie, &state.relations));
        motions.push(motion);
        frames.push(end.clone());
        now = end;
    }
    let closed = Lie::new(&facets, &now);
    state.troubles.extend(crossing::crossings(&seams, &closed, &state.relations).into_iter().map(|panels| {
        let panels = panels.into_iter().map(|panel| assembly.panels[panel].id).collect();
        Trouble::Crosses { panels }
    }));
    state.troubles.extend(assembly.loose.iter().map(|&line| Trouble::NotInSteps { line }));
    let (planes, order) = height::planes(assembly, &state.turned, &closed, &state.relations);
    Folding {
        panels: assembly.panels.iter().map(|panel| panel.id).collect(),
        outlines: assembly.panels.iter().map(|panel| panel.outline.clone()).collect(),
        convex: assembly.panels.iter().map(|panel| panel.convex.clone()).collect(),
        frames,
        motions,
        lifts,
        planes,
        order,
        folded: folded(assembly, &state.turned),
        troubles: state.troubles,
        caliper: assembly.caliper,
    }
}

struct State<'a> {
    assembly: &'a Assembly,
    /// How far each joint is folded, in quarter turns, valleys positive.
    turned: Vec<i32>,
    relations: Relations,
    troubles: Vec<Trouble>,
}

impl State<'_> {
    /// The motion of a step, after noting what stands in its way.
    fn step(&mut self, step: usize, start: &Lie) -> Motion {
        let assembly = self.assembly;
        let folding = &assembly.steps[step].joints;
        let held = vertex::troubles(assembly, &self.turned, step, folding);
        if !held.is_empty() {
            self.troubles.extend(held);
            return Motion::still(assembly.panels.len());
        }
        let motion = match motion(assembly, start.frames, folding) {
            Ok(motion) => motion,
            Err(stuck) => {
                self.troubles.extend(joined(assembly, step, &stuck));
                return Motion::still(assembly.panels.len());
            }
        };
        let id = |panel: usize| assembly.panels[panel].id;
        let blocked = self.relations.blocked(start, &motion);
        let apart = |panels: (usize, usize)| !blocked.contains(&panels) && !blocked.contains(&(panels.1, panels.0));
        let strikes: Vec<sweep::Strike> = sweep::strikes(start, &motion);
        let collides = strikes.iter().filter(|strike| apart((strike.moving, strike.with))).map(|strike| {
            Trouble::Collides { step, moving: id(strike.moving), with: id(strike.with), degrees: strike.degrees }
        });
        let blocks = blocked.iter().map(|&(moving, by)| Trouble::Blocked { step, moving: id(moving), by: id(by) });
        self.troubles.extend(blocks.chain(collides));
        for &joint in folding {
            self.turned[joint] = vertex::signed_quarters(&assembly.joints[joint]);
        }
        motion
    }
}

/// For each panel, whether it hangs on the base by joints that have turned alone.
fn folded(assembly: &Assembly, turned: &[i32]) -> Vec<bool> {
    let mut beside = vec![Vec::new(); assembly.panels.len()];
    for (joint, _) in assembly.joints.iter().zip(turned).filter(|(_, turned)| **turned != 0) {
        let [a, b] = joint.panels;
        beside[a].push(b);
        beside[b].push(a);
    }
    let part = connected(&beside);
    part.iter().map(|&number| number == part[assembly.base]).collect()
}

/// One trouble for the joints that keep a step from moving, at the first of them.
fn joined(assembly: &Assembly, step: usize, stuck: &[usize]) -> Option<Trouble> {
    let joints = || stuck.iter().map(|&j| &assembly.joints[j]);
    let at = joints().flat_map(|joint| &joint.segments).map(middle_of).next()?;
    let lines: BTreeSet<LineId> = joints().map(|joint| joint.line).collect();
    let panels: BTreeSet<PanelId> = joints().flat_map(|joint| joint.panels).map(|p| assembly.panels[p].id).collect();
    Some(Trouble::Joined { step, lines: lines.into_iter().collect(), panels: panels.into_iter().collect(), at })
}

fn middle_of(segment: &Segment) -> Point {
    Point::new((segment.a.x + segment.b.x).half(), (segment.a.y + segment.b.y).half())
}
