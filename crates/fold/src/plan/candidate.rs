//! Which steps may be tried: lines, lines that lie on one axis now, and the two folds of a gusset.

use crate::assembly::Assembly;
use crate::stage::{Bench, Stage};
use glam::DVec3;
use model::{FoldAngle, LineId};
use std::collections::{BTreeMap, BTreeSet};

/// Axes nearer than this, in mm, and as parallel, are one: as steps have it.
const SAME_AXIS: f64 = 1e-6;

/// The joints of one line, which fold together.
#[derive(Debug, Clone)]
pub(super) struct Fold {
    pub(super) joints: Vec<usize>,
    /// How many folds lie between the base and what it moves, at least.
    pub(super) far: usize,
}

/// All lines that are not folded from the start, in ascending order.
pub(super) fn folds(assembly: &Assembly) -> Vec<Fold> {
    let mut by_line: BTreeMap<LineId, Vec<usize>> = BTreeMap::new();
    for (j, joint) in assembly.joints.iter().enumerate().filter(|(j, _)| assembly.start.turned[*j] == 0) {
        by_line.entry(joint.line).or_default().push(j);
    }
    let far = |joints: &Vec<usize>| {
        let reach = |&j: &usize| assembly.joints[j].panels.map(|panel| assembly.ways[panel].folds);
        joints.iter().map(|j| reach(j).into_iter().max().unwrap_or(0)).min().unwrap_or(0)
    };
    by_line.into_values().map(|joints| Fold { far: far(&joints), joints }).collect()
}

/// Sets of folds that may fold next, given which have; those that take the most in one step first, then those that move
/// what is to lie within, then those farthest from the base.
pub(super) fn candidates(
    bench: &Bench,
    stage: &Stage,
    (folds, is_folded, late): (&[Fold], &[bool], &[usize]),
) -> Vec<Vec<usize>> {
    let open: Vec<usize> = (0..folds.len()).filter(|&fold| !is_folded[fold]).collect();
    let mut sets: BTreeSet<Vec<usize>> = open.iter().map(|&fold| vec![fold]).collect();
    sets.extend(on_one_axis(bench, stage, folds, &open));
    sets.extend(gussets(bench.assembly, folds, &open));
    let lateness = |set: &Vec<usize>| set.iter().map(|&fold| late[fold]).max().unwrap_or(0);
    let far = |set: &Vec<usize>| set.iter().map(|&fold| folds[fold].far).max().unwrap_or(0);
    let mut sets: Vec<Vec<usize>> = sets.into_iter().collect();
    // Stable, so that of equals the one with the least numbers comes first.
    sets.sort_by_key(|set| (lateness(set), std::cmp::Reverse(set.len()), std::cmp::Reverse(far(set))));
    sets
}

/// Sets of two or more folds that lie on one axis.
fn on_one_axis(bench: &Bench, stage: &Stage, folds: &[Fold], open: &[usize]) -> Vec<Vec<usize>> {
    let mut axes: Vec<(DVec3, DVec3, Vec<usize>)> = Vec::new();
    for &fold in open {
        let Some((at, along)) = axis(bench, stage, &folds[fold].joints) else { continue };
        let same = |(other, way, _): &&mut (DVec3, DVec3, Vec<usize>)| {
            way.cross(along).length() < SAME_AXIS && (at - *other).cross(*way).length() < SAME_AXIS
        };
        match axes.iter_mut().find(same) {
            Some((_, _, members)) => members.push(fold),
            None => axes.push((at, along, vec![fold])),
        }
    }
    axes.into_iter().map(|(_, _, members)| members).filter(|members| members.len() > 1).collect()
}

/// The axis on which all of some joints lie now; `None` where they lie on several.
fn axis(bench: &Bench, stage: &Stage, joints: &[usize]) -> Option<(DVec3, DVec3)> {
    let mut ends = joints.iter().flat_map(|&j| {
        let joint = &bench.assembly.joints[j];
        let frame = &stage.frames[joint.panels[0]];
        let placed = move |point: glam::DVec2| frame.transform_point3(point.extend(0.0));
        joint.stretches.iter().map(move |&(from, to)| (placed(from), placed(to)))
    });
    let (from, to) = ends.next()?;
    let along = (to - from).normalize_or_zero();
    let on = |point: DVec3| (point - from).cross(along).length() < SAME_AXIS;
    ends.all(|(from, to)| on(from) && on(to)).then_some((from, along))
}

/// Pairs of parallel square folds with a wall between them.
fn gussets(assembly: &Assembly, folds: &[Fold], open: &[usize]) -> Vec<Vec<usize>> {
    let mut out = Vec::new();
    for (i, &first) in open.iter().enumerate() {
        for &second in &open[i + 1..] {
            let pairs = folds[first].joints.iter().flat_map(|&a| folds[second].joints.iter().map(move |&b| (a, b)));
            if pairs.into_iter().any(|(a, b)| make_gusset(assembly, a, b)) {
                out.push(vec![first, second]);
            }
        }
    }
    out
}

fn make_gusset(assembly: &Assembly, a: usize, b: usize) -> bool {
    let (a, b) = (&assembly.joints[a], &assembly.joints[b]);
    let square = |joint: &crate::Joint| joint.crease.angle == FoldAngle::Square;
    // One is on the way to the wall between them, the other beyond: two walls on one panel are no gusset.
    let far = |panel: usize| assembly.ways[panel].folds;
    let leads = |joint: &crate::Joint, wall: usize| joint.panels.iter().any(|&panel| far(panel) < far(wall));
    let mut walls = a.panels.iter().filter(|panel| b.panels.contains(panel));
    let between = walls.any(|&wall| leads(a, wall) != leads(b, wall));
    let way = |joint: &crate::Joint| joint.stretches.first().map(|(from, to)| (*to - *from).normalize_or_zero());
    let parallel = way(a).zip(way(b)).is_some_and(|(a, b)| a.perp_dot(b).abs() < SAME_AXIS);
    square(a) && square(b) && between && parallel
}

/// Whether two folds can't share a step, whatever is folded before: they border on one panel, not on one line there, and
/// are no gusset.
pub(super) fn never_together(assembly: &Assembly, first: &Fold, second: &Fold) -> bool {
    let pairs = || first.joints.iter().flat_map(|&a| second.joints.iter().map(move |&b| (a, b)));
    let apart = |(a, b): (usize, usize)| {
        let (a, b) = (&assembly.joints[a], &assembly.joints[b]);
        let beside = a.panels.iter().any(|panel| b.panels.contains(panel));
        let (Some(&(p, q)), Some(&(r, s))) = (a.stretches.first(), b.stretches.first()) else { return false };
        let along = (q - p).normalize_or_zero();
        let off = |point: glam::DVec2| along.perp_dot(point - p).abs() > SAME_AXIS;
        beside && (off(r) || off(s))
    };
    pairs().any(apart) && !pairs().any(|(a, b)| make_gusset(assembly, a, b))
}
