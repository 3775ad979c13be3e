//! Gussets: narrow panels that stand between two others, and whether what lies between those fits.

use crate::assembly::{Assembly, Joint};
use crate::folding::Folding;
use crate::gap::{Allowance, SAME_WAY};
use crate::laid::{Laid, Over};
use crate::overlap::LEAST_WIDTH;
use crate::pile::Piles;
use glam::{DAffine3, DVec2, DVec3};

/// How a gusset goes round what lies between the panels it links.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GussetFit {
    /// The gusset, as a place in [`Assembly::panels`].
    pub panel: usize,
    /// Its two folds, as places in [`Assembly::joints`].
    pub joints: [usize; 2],
    /// The most layers that lie between the panels it links.
    pub layers: usize,
    /// The greatest thickness of what lies between, in mm.
    pub wraps: f64,
    /// How wide it has to be for that, in mm.
    pub least: f64,
    /// The next width on the board's grooves, in mm; `None` without a board.
    pub next_groove: Option<f64>,
    /// How wide it is, in mm.
    pub has: f64,
}

/// Every gusset of the closed folio: a panel that stands between two others, which lie on the same side of it and reach
/// farther than it is wide. By panel.
#[must_use]
pub fn gussets(assembly: &Assembly, folding: &Folding, allowance: &Allowance) -> Vec<GussetFit> {
    let frames = folding.flat_pose(f64::INFINITY);
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); assembly.panels.len()];
    for (j, joint) in assembly.joints.iter().enumerate() {
        for panel in joint.panels {
            beside[panel].push(j);
        }
    }
    let mut out = Vec::new();
    for (panel, joints) in beside.iter().enumerate() {
        // What lies flat on it or beside it stands on no gusset: a base with hundreds of flaps has none to try in pairs.
        let up = frames[panel].matrix3.z_axis;
        let stands = |&&j: &&usize| {
            let joint = &assembly.joints[j];
            leaves(joint, across(joint, panel), &frames).is_some_and(|way| up.dot(way).abs() >= 1.0 - SAME_WAY)
        };
        let joints: Vec<usize> = joints.iter().filter(stands).copied().collect();
        let pairs = joints.iter().enumerate().flat_map(|(i, &a)| joints[i + 1..].iter().map(move |&b| [a, b]));
        let fits = pairs.filter_map(|pair| fit(assembly, folding, allowance, &frames, panel, pair));
        out.extend(fits.max_by(|a, b| (a.least - a.has).total_cmp(&(b.least - b.has))));
    }
    out
}

/// The panel on the other side of a fold.
fn across(joint: &Joint, panel: usize) -> usize {
    joint.panels[usize::from(joint.panels[0] == panel)]
}

/// How a panel fits as the gusset between two of its folds, on each of which a panel stands square on it; `None` where it is
/// none.
fn fit(
    assembly: &Assembly,
    folding: &Folding,
    allowance: &Allowance,
    frames: &[DAffine3],
    panel: usize,
    joints: [usize; 2],
) -> Option<GussetFit> {
    let [first, second] = joints.map(|j| &assembly.joints[j]);
    let has = width(first, second)?;
    let (p, q) = (across(first, panel), across(second, panel));
    let [to_p, to_q] = [(first, p), (second, q)].map(|(joint, panel)| leaves(joint, panel, frames));
    // Both stand on the same side.
    if p == q || to_p?.dot(to_q?) < 1.0 - SAME_WAY {
        return None;
    }
    // Else it is the bottom of a tray, and they are its walls.
    if [(first, p), (second, q)].iter().any(|(joint, panel)| depth(joint, &assembly.panels[*panel].outline) <= has) {
        return None;
    }
    let (layers, wraps) = between(assembly, folding, frames, p, q);
    let least = allowance.square_back(wraps, assembly.caliper_of(panel));
    Some(GussetFit { panel, joints, layers, wraps, least, next_groove: allowance.next_groove(least), has })
}

/// How far apart the lines of two folds are on the flat sheet, in mm; `None` unless they are parallel and apart.
fn width(first: &Joint, second: &Joint) -> Option<f64> {
    let (&(from, to), &(at, end)) = (first.stretches.first()?, second.stretches.first()?);
    let way = (to - from).normalize_or_zero();
    let apart = way.perp_dot(at - from).abs();
    let is_parallel = way.perp_dot((end - at).normalize_or_zero()).abs() < SAME_WAY;
    (is_parallel && apart > LEAST_WIDTH).then_some(apart)
}

/// How far an outline on the flat sheet reaches from a fold's line, in mm.
pub(crate) fn depth(joint: &Joint, outline: &[DVec2]) -> f64 {
    let Some(&(from, to)) = joint.stretches.first() else { return 0.0 };
    let way = (to - from).normalize_or_zero();
    outline.iter().map(|&corner| way.perp_dot(corner - from).abs()).fold(0.0, f64::max)
}

/// Which way a panel leaves a crease of its own, of length 1.
fn leaves(joint: &Joint, panel: usize, frames: &[DAffine3]) -> Option<DVec3> {
    let &(from, to) = joint.stretches.first()?;
    let way = (to - from).normalize_or_zero();
    let inwards = if joint.panels[0] == panel { way.perp() } else { -way.perp() };
    Some(frames[panel].transform_vector3(inwards.extend(0.0)))
}

/// The most layers between two panels that lie over one another in parallel planes, and how thick they are, in mm: where
/// they are thickest.
fn between(assembly: &Assembly, folding: &Folding, frames: &[DAffine3], p: usize, q: usize) -> (usize, f64) {
    if frames[p].matrix3.z_axis.z.abs() > 1.0 - SAME_WAY {
        return folding.laid(f64::INFINITY, |laid| most_between(assembly, laid, p, q));
    }
    most_between(assembly, &Laid::of(Piles::closed_on(folding, p), 0..frames.len()), p, q)
}

/// The same of level panels.
fn most_between(assembly: &Assembly, laid: &Laid, p: usize, q: usize) -> (usize, f64) {
    let is_level = |panel: usize| laid.piles.frames[panel].matrix3.z_axis.z.abs() > 1.0 - SAME_WAY;
    let stack = |over: &Over| {
        let place = |panel| over.pile.iter().position(|&one| one == panel);
        let (at, end) = (place(p)?, place(q)?);
        let layers = over.pile[at.min(end) + 1..at.max(end)].iter().filter(|&&panel| is_level(panel));
        Some(layers.fold((0, 0.0), |(count, thick), &panel| (count + 1, thick + assembly.caliper_of(panel))))
    };
    let most = laid.over().filter_map(stack).max_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    most.unwrap_or((0, 0.0))
}
