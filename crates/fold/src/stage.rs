//! How far a closing has come, and one step more: what moves, what stands in its way, how everything lies afterwards.

use crate::assembly::{Assembly, StepJoints};
use crate::closure::driven;
use crate::facet::{Facet, facets};
use crate::layer::{Lie, part_way};
use crate::relations::Relations;
use crate::step::{Motion, motion};
use crate::sweep::{Scene, Strike, strikes};
use crate::trouble::Trouble;
use crate::tuck::{Pocket, Tuck, held, tuck};
use crate::vertex;
use glam::DAffine3;
use model::{LineId, PanelId, Point, Segment};
use std::collections::BTreeSet;

/// Everything that is the same all through a closing.
#[derive(Debug)]
pub(crate) struct Bench<'a> {
    pub(crate) assembly: &'a Assembly,
    pub(crate) facets: Vec<Facet>,
}

/// How everything lies between two steps.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stage {
    /// Where each panel is, without thickness.
    pub(crate) frames: Vec<DAffine3>,
    /// How far each joint is folded, in quarter turns, valleys positive.
    pub(crate) turned: Vec<i32>,
    /// What lies on what.
    pub(crate) relations: Relations,
}

/// Paper with its thickness in a step: where the middle of each panel lies before it, and how those move.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Paper<'a> {
    /// Whether any of it is of a known thickness, which then counts.
    pub(crate) is_thick: bool,
    pub(crate) before: &'a [DAffine3],
    pub(crate) motion: &'a Motion,
}

/// What came of a tuck.
#[derive(Debug)]
pub(crate) enum Tucked {
    /// It is under what it should be.
    Under(Pocket),
    /// It is not, for it is held by these or did not land there.
    Not(Tuck, Vec<usize>),
}

impl<'a> Bench<'a> {
    pub(crate) fn new(assembly: &'a Assembly) -> Self {
        Self { assembly, facets: facets(&assembly.panels) }
    }

    pub(crate) fn start(&self) -> Stage {
        let start = &self.assembly.start;
        Stage { frames: start.frames.clone(), turned: start.turned.clone(), relations: start.relations.clone() }
    }

    pub(crate) fn lie<'s>(&'s self, stage: &'s Stage) -> Lie<'s> {
        Lie::new(&self.facets, &*stage.frames)
    }

    /// The motion of a step.
    ///
    /// # Errors
    /// What the paper that holds it together says to it.
    pub(crate) fn motion(&self, stage: &Stage, step: usize, folding: &[usize]) -> Result<Motion, Vec<Trouble>> {
        let assembly = self.assembly;
        // What has followed others round a loop may be folded already.
        let is_left = |&joint: &usize| stage.turned[joint] != vertex::signed_quarters(&assembly.joints[joint]);
        let left: Vec<usize> = folding.iter().copied().filter(is_left).collect();
        let held = vertex::troubles(assembly, &stage.turned, step, &left);
        let stuck = if held.is_empty() && left.iter().all(|&joint| stage.turned[joint] == 0) {
            match motion(assembly, &stage.frames, &left) {
                Ok(motion) => return Ok(motion),
                Err(stuck) => joined(assembly, step, &stuck).into_iter().collect(),
            }
        } else if held.is_empty() {
            joined(assembly, step, &left).into_iter().collect()
        } else {
            held
        };
        // At four right angles one line folds flat before the other moves, so no loop through one can be driven.
        if stuck.iter().any(|trouble| vertex::is_square_corner(assembly, trouble)) {
            return Err(stuck);
        }
        driven(assembly, &stage.frames, &stage.turned, &left).ok_or(stuck)
    }

    /// What stands in the way of a motion, were paper without thickness.
    pub(crate) fn hindrances(&self, stage: &Stage, step: usize, motion: &Motion) -> Vec<Trouble> {
        let frames = part_way(&stage.frames, motion, 1.0);
        let paper = Paper { is_thick: false, before: &stage.frames, motion };
        let (start, end) = (self.lie(stage), Lie::new(&self.facets, frames));
        let blocked = stage.relations.blocked(&start, motion);
        self.hindrances_of([&start, &end], step, (motion, &blocked), paper)
    }

    /// What stands in the way of a motion, told how panels lie before and after it and which are blocked: those, then what is
    /// struck on the way.
    pub(crate) fn hindrances_of(
        &self,
        [start, end]: [&Lie; 2],
        step: usize,
        (motion, blocked): (&Motion, &BTreeSet<(usize, usize)>),
        paper: Paper,
    ) -> Vec<Trouble> {
        let scene = Scene {
            assembly: self.assembly,
            start,
            end,
            motion,
            is_thick: paper.is_thick,
            scored: if paper.is_thick { self.assembly.scored() } else { 0.0 },
            thick: paper.before,
            stiff: paper.motion,
        };
        let id = |panel: usize| self.assembly.panels[panel].id;
        let apart = |panels: (usize, usize)| !blocked.contains(&panels) && !blocked.contains(&(panels.1, panels.0));
        let strikes: Vec<Strike> = strikes(&scene);
        let struck = strikes.iter().filter(|strike| apart((strike.moving, strike.with)));
        let collides = struck.map(|&Strike { moving, with, degrees, at }| Trouble::Collides {
            step,
            moving: id(moving),
            with: id(with),
            degrees,
            at,
        });
        let blocks = blocked.iter().map(|&(moving, by)| Trouble::Blocked { step, moving: id(moving), by: id(by) });
        blocks.chain(collides).collect()
    }

    /// Whether something lies on what moves, on the side to which it does.
    pub(crate) fn is_blocked(&self, stage: &Stage, motion: &Motion) -> bool {
        !stage.relations.blocked(&self.lie(stage), motion).is_empty()
    }

    /// The stage after a motion, as everything lands.
    pub(crate) fn landed(&self, stage: &Stage, motion: &Motion, folding: &[usize]) -> Stage {
        let mut after = stage.clone();
        self.land(&mut after, motion, folding);
        after
    }

    /// Makes a stage that after a motion. Gives how all lies then, and the pairs of facets that have come to lie on one
    /// another.
    pub(crate) fn land(&self, stage: &mut Stage, motion: &Motion, folding: &[usize]) -> (Lie<'_>, Vec<(usize, usize)>) {
        let frames = part_way(&stage.frames, motion, 1.0);
        let before = std::mem::replace(&mut stage.frames, frames);
        let end = Lie::new(&self.facets, stage.frames.clone());
        let landed = stage.relations.land(&end, &before, motion);
        for &joint in folding {
            stage.turned[joint] = vertex::signed_quarters(&self.assembly.joints[joint]);
        }
        for (joint, quarters) in motion.following() {
            stage.turned[joint] = quarters;
        }
        (end, landed)
    }

    /// Tucks what a step tucks.
    pub(crate) fn tucked(&self, stage: &mut Stage, of_step: &StepJoints) -> Vec<Tucked> {
        let one = |&each: &Tuck| {
            let holding = held(self.assembly, &of_step.joints, each);
            let done = if holding.is_empty() {
                let Stage { frames, relations, .. } = &mut *stage;
                tuck(self.assembly, relations, &Lie::new(&self.facets, &**frames), each)
            } else {
                None
            };
            done.map_or(Tucked::Not(each, holding), Tucked::Under)
        };
        of_step.tucks.iter().map(one).collect()
    }

    /// Tells what could not be tucked. What lies in the way of what was is no hindrance, so it is taken out of
    /// `hindrances`.
    pub(crate) fn tell_tucked(&self, step: usize, tucked: Vec<Tucked>, hindrances: &mut Vec<Trouble>) {
        let id = |panel: usize| self.assembly.panels[panel].id;
        for each in tucked {
            match each {
                Tucked::Under(pocket) => hindrances.retain(|trouble| !self.gives_way(&pocket, trouble)),
                Tucked::Not(each, holding) => hindrances.push(Trouble::CannotTuck {
                    step,
                    moving: id(each.moving),
                    under: id(each.under),
                    held_by: holding.into_iter().map(id).collect(),
                }),
            }
        }
    }

    fn gives_way(&self, pocket: &Pocket, trouble: &Trouble) -> bool {
        let (Trouble::Blocked { moving: a, by: b, .. } | Trouble::Collides { moving: a, with: b, .. }) = trouble else {
            return false;
        };
        let places = [a, b].map(|&id| self.assembly.place(id));
        let is_of = |all: &BTreeSet<usize>, place: Option<usize>| place.is_some_and(|place| all.contains(&place));
        let is_between = |a, b| is_of(&pocket.moving, a) && is_of(&pocket.over, b);
        is_between(places[0], places[1]) || is_between(places[1], places[0])
    }
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
