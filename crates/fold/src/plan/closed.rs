//! Where every panel lies when all is folded, whatever the order of steps.

use crate::hinge::along_chain;
use crate::relations::Relations;
use crate::stage::{Bench, Stage};
use crate::step::hinge;
use crate::vertex::signed_quarters;
use glam::{DAffine3, DVec3};

/// Places nearer than this, in mm, are one.
const SAME_PLACE: f64 = 1e-5;

/// A panel beside another, and the joint between them with the side of it that the other is on; `None` for glue.
type Beside = (usize, Option<(usize, usize)>);

/// The closed state, without what lies on what.
///
/// # Errors
/// The joints that would be torn: they close a way round that does not lead back to where it began.
pub(super) fn closed(bench: &Bench) -> Result<Stage, Vec<usize>> {
    let assembly = bench.assembly;
    let start = bench.start();
    let mut around: Vec<Vec<Beside>> = vec![Vec::new(); assembly.panels.len()];
    for (j, joint) in assembly.joints.iter().enumerate() {
        for side in 0..2 {
            around[joint.panels[side]].push((joint.panels[1 - side], Some((j, side))));
        }
    }
    for [a, b] in assembly.bonds.iter().map(|bond| bond.panels) {
        around[a].push((b, None));
        around[b].push((a, None));
    }
    let mut frames = start.frames.clone();
    let mut is_placed = vec![false; frames.len()];
    let mut reached = vec![assembly.base];
    is_placed[assembly.base] = true;
    let mut next = 0;
    while let Some(&at) = reached.get(next) {
        next += 1;
        for &(other, by) in &around[at] {
            if !is_placed[other] {
                is_placed[other] = true;
                frames[other] = across(bench, &start, &frames, (at, other, by));
                reached.push(other);
            }
        }
    }
    let mut torn = Vec::new();
    for (j, joint) in assembly.joints.iter().enumerate() {
        let [a, b] = joint.panels;
        if !is_same(&across(bench, &start, &frames, (a, b, Some((j, 0)))), &frames[b]) {
            torn.push(j);
        }
    }
    let turned = assembly.joints.iter().map(signed_quarters).collect();
    let relations = Relations::none(bench.facets.len());
    if torn.is_empty() { Ok(Stage { frames, turned, relations }) } else { Err(torn) }
}

/// Where a panel comes to lie from one beside it.
fn across(
    bench: &Bench,
    start: &Stage,
    frames: &[DAffine3],
    (at, other, by): (usize, usize, Option<(usize, usize)>),
) -> DAffine3 {
    let carried = frames[at] * start.frames[at].inverse() * start.frames[other];
    match by {
        Some((j, side)) if start.turned[j] == 0 => hinge(&bench.assembly.joints[j], side, 0, frames)
            .map_or(carried, |hinge| along_chain(&[hinge], 1.0) * carried),
        _ => carried,
    }
}

fn is_same(a: &DAffine3, b: &DAffine3) -> bool {
    // Three points a decimetre apart fix a rigid motion.
    let points = [DVec3::ZERO, DVec3::X * 100.0, DVec3::Y * 100.0];
    points.iter().all(|&point| a.transform_point3(point).distance(b.transform_point3(point)) < SAME_PLACE)
}
