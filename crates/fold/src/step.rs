//! How a step moves panels: which groups hang together, and about which hinges each turns.

use crate::assembly::{Assembly, Joint, PanelShape};
use crate::hinge::{Hinge, along_chain};
use crate::linkage::Linkage;
use glam::{DAffine3, DVec3};
use model::Direction;
use std::collections::BTreeSet;

/// The same place, in mm: far above the rounding of folded positions (1e-10 mm), far below anything drawn.
const SAME_PLACE: f64 = 1e-6;

/// Parts of a step at which two ways round a loop have to agree. Motions that differ at all differ at a third.
pub(crate) const PROBES: [f64; 3] = [1.0 / 3.0, 2.0 / 3.0, 1.0];

/// How one step moves the panels.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Motion {
    /// For each panel, its group: panels that stay in place to one another, joined or not.
    pub(crate) group: Vec<usize>,
    /// For each group, the hinges that carry it, outermost first, as they lie when the step starts.
    pub(crate) chains: Vec<Vec<Hinge>>,
    /// For each group, the one that its last hinge hangs on; its own number for the base's group, and for groups that
    /// have become part of another.
    pub(crate) parent: Vec<usize>,
    /// For each group, the joint that its last hinge is, and which of its panels is nearer to the base.
    pub(crate) leads: Vec<Option<Lead>>,
    /// How joints turn whose angles hang on one another; then hinges tell their axes and paces only.
    pub(crate) linkage: Option<Linkage>,
}

/// A joint about which a group turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Lead {
    pub(crate) joint: usize,
    /// The place in [`Joint::panels`] of the panel that carries the other.
    pub(crate) near: usize,
}

impl Motion {
    /// Nothing moves.
    pub(crate) fn still(panels: usize) -> Self {
        Self { group: vec![0; panels], chains: vec![Vec::new()], parent: vec![0], leads: vec![None], linkage: None }
    }

    /// How each group has moved when `progress` of the step is done.
    pub(crate) fn moved(&self, progress: f64) -> Vec<DAffine3> {
        if let Some(linkage) = &self.linkage {
            return linkage.moved_at(progress);
        }
        let mut by_depth: Vec<usize> = (0..self.chains.len()).collect();
        by_depth.sort_by_key(|&group| self.chains[group].len());
        let mut moved = vec![DAffine3::IDENTITY; self.chains.len()];
        for group in by_depth {
            if let Some(hinge) = self.chains[group].last() {
                moved[group] = moved[self.parent[group]] * hinge.turned(progress);
            }
        }
        moved
    }

    /// Groups that move alike become one.
    fn merged(mut self) -> Self {
        let alike = |a: &[Hinge], b: &[Hinge]| a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.is_same(b));
        let into: Vec<usize> = (0..self.chains.len())
            .map(|i| (0..i).find(|&earlier| alike(&self.chains[earlier], &self.chains[i])).unwrap_or(i))
            .collect();
        for group in self.group.iter_mut().chain(&mut self.parent) {
            *group = into[*group];
        }
        self
    }

    /// How far the last hinge of a group has turned when `progress` of the step is done, in radians.
    pub(crate) fn turn(&self, group: usize, progress: f64) -> f64 {
        match &self.linkage {
            Some(linkage) => linkage.carrier[group].map_or(0.0, |pivot| linkage.turns_at(progress)[pivot].abs()),
            None => self.chains[group].last().map_or(0.0, |hinge| hinge.radians() * progress),
        }
    }

    /// The joints that this step leaves folded otherwise than their creases say, since they follow others round a loop:
    /// each with how far it is folded in the end, in quarter turns, valleys positive.
    pub(crate) fn following(&self) -> Vec<(usize, i32)> {
        self.linkage.as_ref().map_or_else(Vec::new, Linkage::ends)
    }

    /// The hinges that carry a panel.
    pub(crate) fn chain(&self, panel: usize) -> &[Hinge] {
        &self.chains[self.group[panel]]
    }
}

/// Where groups are at one moment of a step, each worked out when it is asked for.
#[derive(Debug)]
pub(crate) struct Poses<'a> {
    motion: &'a Motion,
    progress: f64,
    /// Counts moments, from 1.
    moment: usize,
    /// For each group, the moment for which it was last worked out, and how it has moved then.
    known: Vec<(usize, DAffine3)>,
}

impl<'a> Poses<'a> {
    /// Before the step.
    pub(crate) fn new(motion: &'a Motion) -> Self {
        Self { motion, progress: 0.0, moment: 1, known: vec![(0, DAffine3::IDENTITY); motion.chains.len()] }
    }

    /// When `progress` of the step is done.
    pub(crate) const fn move_to(&mut self, progress: f64) {
        self.progress = progress;
        self.moment += 1;
    }

    /// How a group has moved, as in [`Motion::moved`].
    pub(crate) fn of(&mut self, group: usize) -> DAffine3 {
        let (moment, moved) = self.known[group];
        if moment == self.moment {
            return moved;
        }
        if let Some(linkage) = &self.motion.linkage {
            let all = linkage.moved_at(self.progress);
            self.known = all.into_iter().map(|moved| (self.moment, moved)).collect();
            return self.known[group].1;
        }
        let moved = match self.motion.chains[group].last() {
            Some(hinge) => self.of(self.motion.parent[group]) * hinge.turned(self.progress),
            None => DAffine3::IDENTITY,
        };
        self.known[group] = (self.moment, moved);
        moved
    }
}

/// The motion that folds `folding` (places in the joints) from `frames`.
///
/// # Errors
/// The joints that cannot fold: their panels hang together some other way, or would be torn.
pub(crate) fn motion(assembly: &Assembly, frames: &[DAffine3], folding: &[usize]) -> Result<Motion, Vec<usize>> {
    let group = groups(assembly, folding);
    let count = group.iter().max().map_or(0, |most| most + 1);
    let within = |&j: &usize| {
        let [a, b] = assembly.joints[j].panels;
        group[a] == group[b]
    };
    let stuck: Vec<usize> = folding.iter().copied().filter(within).collect();
    if !stuck.is_empty() {
        return Err(stuck);
    }
    let mut chains: Vec<Option<Vec<Hinge>>> = vec![None; count];
    let mut parent: Vec<usize> = (0..count).collect();
    let mut leads = vec![None; count];
    chains[group[assembly.base]] = Some(Vec::new());
    let mut reached = vec![group[assembly.base]];
    let mut next = 0;
    while let Some(&at) = reached.get(next) {
        next += 1;
        for &j in folding {
            let joint = &assembly.joints[j];
            let Some(near) = (0..2).find(|&side| group[joint.panels[side]] == at) else { continue };
            let far = group[joint.panels[1 - near]];
            let (None, Some(chain)) = (&chains[far], &chains[at]) else { continue };
            let mut chain = chain.clone();
            let turn = hinge(joint, near, 0, frames);
            if chain.last().zip(turn.as_ref()).is_some_and(|(last, turn)| turn.takes_back(last)) {
                // Turned back about the same line, it moves as what the one before hangs on.
                let as_one = parent[at];
                chain.pop();
                parent[far] = if chain.is_empty() { far } else { parent[as_one] };
                leads[far] = leads[as_one];
            } else {
                chain.extend(turn);
                parent[far] = at;
                leads[far] = Some(Lead { joint: j, near });
            }
            chains[far] = Some(chain);
            reached.push(far);
        }
    }
    let chains: Vec<Vec<Hinge>> = chains.into_iter().map(Option::unwrap_or_default).collect();
    let motion = Motion { group, chains, parent, leads, linkage: None };
    // Groups by two hinges that do not agree: all that join them are at fault, whichever was taken to lead.
    let between = |j: usize| {
        let [a, b] = assembly.joints[j].panels.map(|panel| motion.group[panel]);
        [a.min(b), a.max(b)]
    };
    let torn: BTreeSet<[usize; 2]> =
        folding.iter().filter(|&&j| tears(&assembly.joints[j], &motion, frames)).map(|&j| between(j)).collect();
    let stuck: Vec<usize> = folding.iter().copied().filter(|&j| torn.contains(&between(j))).collect();
    if stuck.is_empty() { Ok(motion.merged()) } else { Err(stuck) }
}

/// The hinge by which the panel across from side `near` turns, as stretch number `stretch` of the joint lies now.
///
/// With the near panel on the left of the stretch's way `d` and its front towards `n`, the far one is to the right;
/// a turn by `+d` would take it to the back, so a valley turns by `-d`.
pub(crate) fn hinge(joint: &Joint, near: usize, stretch: usize, frames: &[DAffine3]) -> Option<Hinge> {
    let &(from, to) = joint.stretches.get(stretch)?;
    let frame = &frames[joint.panels[near]];
    let (from, to) = (frame.transform_point3(PanelShape::lifted(from)), frame.transform_point3(PanelShape::lifted(to)));
    let near_on_left = near == 0;
    let forwards = (joint.crease.direction == Direction::Mountain) == near_on_left;
    let along = (if forwards { to - from } else { from - to }) / from.distance(to);
    Some(Hinge::new(from, along, joint.crease.angle.degrees() / 90))
}

/// Whether the motion pulls the joint apart or turns its panels by anything but the joint's own fold.
fn tears(joint: &Joint, motion: &Motion, frames: &[DAffine3]) -> bool {
    let [near, far] = joint.panels;
    (0..joint.stretches.len()).any(|stretch| {
        let Some(hinge) = hinge(joint, 0, stretch, frames) else { return false };
        PROBES.iter().any(|&t| {
            let wanted = along_chain(motion.chain(near), t) * hinge.turned(t);
            let got = along_chain(motion.chain(far), t);
            let off = |point: DVec3| wanted.transform_point3(point).distance(got.transform_point3(point)) > SAME_PLACE;
            // Three points a decimetre apart fix a rigid motion.
            [DVec3::ZERO, DVec3::X * 100.0, DVec3::Y * 100.0].iter().any(|&aside| off(hinge.at + aside))
        })
    })
}

/// For each panel the number of its group when the joints `folding` are loosened and all others, and glue, are stiff.
pub(crate) fn groups(assembly: &Assembly, folding: &[usize]) -> Vec<usize> {
    let count = assembly.panels.len();
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); count];
    for (j, joint) in assembly.joints.iter().enumerate() {
        if folding.binary_search(&j).is_err() {
            let [a, b] = joint.panels;
            beside[a].push(b);
            beside[b].push(a);
        }
    }
    for [a, b] in assembly.bonds.iter().map(|bond| bond.panels) {
        beside[a].push(b);
        beside[b].push(a);
    }
    connected(&beside)
}

/// The hinges that each of two chains has of its own, after those they begin with in common.
pub(crate) fn own<'a>(a: &'a [Hinge], b: &'a [Hinge]) -> (&'a [Hinge], &'a [Hinge]) {
    let common = a.iter().zip(b).take_while(|(a, b)| a.is_same(b)).count();
    (&a[common..], &b[common..])
}

/// Numbers the connected parts of a graph, in the order of their first member.
pub(crate) fn connected(beside: &[Vec<usize>]) -> Vec<usize> {
    let mut part = vec![usize::MAX; beside.len()];
    let mut parts = 0;
    for start in 0..beside.len() {
        if part[start] != usize::MAX {
            continue;
        }
        part[start] = parts;
        let mut reached = vec![start];
        while let Some(at) = reached.pop() {
            for &next in &beside[at] {
                if part[next] == usize::MAX {
                    part[next] = parts;
                    reached.push(next);
                }
            }
        }
        parts += 1;
    }
    part
}
