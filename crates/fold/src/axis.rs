//! Where the hinges of a step lie in paper that has a thickness.
//!
//! A score opens on the valley side, so there is its axis: half the caliper of the paper that folds in front of the middle
//! of it for a valley, behind it for a mountain. A fold by 180° over other layers needs its axis half-way between the
//! middles of its panels as they come to lie, so that what lands just finds room on what it lands on. Widths inside, from
//! face to face, are then what they are on paper without thickness.

use crate::assembly::Assembly;
use crate::hinge::Hinge;
use crate::layer::Lie;
use crate::step::{Lead, Motion, own};
use glam::{DAffine3, DVec3};
use model::Direction;

/// The motion of a step for panels the middles of which lie at `thick` when it starts; `motion` is the same for paper
/// without thickness, from `flat`. `landed` holds the pairs of facets of which one comes to lie on the other.
pub(crate) fn with_thickness(
    assembly: &Assembly,
    motion: &Motion,
    flat: &Lie,
    thick: &[DAffine3],
    landed: &[(usize, usize)],
) -> Motion {
    if !assembly.is_thick() || motion.linkage.is_some() {
        return motion.clone();
    }
    let room = room(assembly, motion, flat, thick, landed);
    let mut out = motion.clone();
    let mut by_depth: Vec<usize> = (0..motion.chains.len()).collect();
    by_depth.sort_by_key(|&group| motion.chains[group].len());
    for group in by_depth {
        let (Some(lead), Some(last)) = (motion.leads[group], motion.chains[group].last()) else { continue };
        let Some(&(on_sheet, _)) = assembly.joints[lead.joint].stretches.first() else { continue };
        let near = &thick[assembly.joints[lead.joint].panels[lead.near]];
        let at = near.transform_point3(on_sheet.extend(0.0)) + opening(assembly, lead, near) * (room[group] / 2.0);
        let carrying = out.chains[motion.parent[group]].clone();
        out.chains[group] = carrying.into_iter().chain([Hinge { at, ..*last }]).collect();
    }
    out
}

/// For each group, how far the middles of the panels at its last hinge lie apart when that has turned by 180°.
fn room(assembly: &Assembly, motion: &Motion, flat: &Lie, thick: &[DAffine3], landed: &[(usize, usize)]) -> Vec<f64> {
    let of_paper = |lead: &Option<Lead>| {
        lead.map_or(0.0, |lead| assembly.caliper_of(assembly.joints[lead.joint].panels[lead.near]))
    };
    let mut room: Vec<f64> = motion.leads.iter().map(of_paper).collect();
    for &(a, b) in landed {
        let [p, q] = [a, b].map(|facet| motion.group[flat.facets[facet].panel]);
        let (moving, still, group, hinge) = match own(&motion.chains[p], &motion.chains[q]) {
            ([hinge], []) => (a, b, p, hinge),
            ([], [hinge]) => (b, a, q, hinge),
            _ => continue,
        };
        let Some(lead) = motion.leads[group].filter(|_| hinge.quarters == 2) else { continue };
        let near = assembly.joints[lead.joint].panels[lead.near];
        let up = opening(assembly, lead, &thick[near]);
        let lift = |panel: usize, on_sheet: DVec3| {
            up.dot(thick[panel].transform_point3(on_sheet) - flat.frames[panel].transform_point3(on_sheet))
        };
        let of_facet = |facet: usize| {
            let on_sheet = flat.facets[facet].shape.first().map_or(DVec3::ZERO, |corner| corner.extend(0.0));
            lift(flat.facets[facet].panel, on_sheet)
        };
        let of_near = assembly.joints[lead.joint].stretches.first().map_or(0.0, |(at, _)| lift(near, at.extend(0.0)));
        let half = |facet: usize| assembly.caliper_of(flat.facets[facet].panel) / 2.0;
        let needed = of_facet(moving) + of_facet(still) - 2.0 * of_near + half(moving) + half(still);
        room[group] = room[group].max(needed);
    }
    room
}

/// Which way a joint opens, seen from its near panel: towards that panel's front for a valley. Of length 1.
fn opening(assembly: &Assembly, lead: Lead, near: &DAffine3) -> DVec3 {
    let front = near.matrix3.z_axis;
    if assembly.joints[lead.joint].crease.direction == Direction::Mountain { -front } else { front }
}
