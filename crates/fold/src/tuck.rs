//! Tucking: a flap ends under a panel on which it would otherwise lie. The paper bends round the edge of that panel, so
//! how it gets there is not looked at; that the flap is free to, and how everything lies in the end, is.

use crate::assembly::Assembly;
use crate::layer::{Lie, Relations};
use crate::overlap::{is_proper, shared};
use glam::DVec3;
use std::collections::BTreeSet;

/// A flap that is tucked under a panel when its step is over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tuck {
    /// The flap, as a place in [`Assembly::panels`]. It hangs on the folds of its step alone.
    pub moving: usize,
    /// What it ends under, as a place there.
    pub under: usize,
}

/// What a flap would be tucked under, together with all that lies on it there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pocket {
    pub(crate) moving: usize,
    /// The panels that are over the flap in the end, ascending.
    pub(crate) over: BTreeSet<usize>,
}

/// The panels that hold a flap by something else than the folds of its step, ascending: with those its edge is not free.
pub(crate) fn held(assembly: &Assembly, folding: &[usize], tuck: Tuck) -> Vec<usize> {
    let other = |[a, b]: [usize; 2]| match (a == tuck.moving, b == tuck.moving) {
        (true, false) => Some(b),
        (false, true) => Some(a),
        _ => None,
    };
    let joints = assembly.joints.iter().enumerate().filter(|(j, _)| folding.binary_search(j).is_err());
    let joined = joints.filter_map(|(_, joint)| other(joint.panels));
    let glued = assembly.bonds.iter().filter_map(|bond| other(bond.panels));
    joined.chain(glued).collect::<BTreeSet<usize>>().into_iter().collect()
}

/// Puts a flap that has landed under what it is tucked under. `None` when it has not landed on that.
pub(crate) fn tuck(relations: &mut Relations, end: &Lie, tuck: Tuck) -> Option<Pocket> {
    let of = |panel: usize| (0..end.facets.len()).filter(move |&facet| end.facets[facet].panel == panel);
    let on_it = of(tuck.under).flat_map(|x| of(tuck.moving).map(move |m| (x, m)));
    let up = on_it.filter_map(|(x, m)| relations.above(end, x, m, end.normal(x)).map(|above| (x, above))).next();
    // From what the flap would lie on towards the flap.
    let up = up.map(|(x, above)| if above { end.normal(x) } else { -end.normal(x) })?;
    let pocket = Pocket { moving: tuck.moving, over: over(relations, end, tuck, up) };
    for m in of(tuck.moving) {
        for y in (0..end.facets.len()).filter(|&y| pocket.over.contains(&end.facets[y].panel)) {
            if relations.above(end, y, m, up) == Some(true) {
                let flipped = relations.side(y, m).map(crate::layer::Side::other);
                relations.set(end, y, m, flipped);
            }
        }
    }
    Some(pocket)
}

/// The panel that the flap is tucked under and all that lie on it, or on one of those, over the flap.
fn over(relations: &Relations, end: &Lie, tuck: Tuck, up: DVec3) -> BTreeSet<usize> {
    let flap: Vec<usize> = (0..end.facets.len()).filter(|&facet| end.facets[facet].panel == tuck.moving).collect();
    let lies_on_there = |x: usize, y: usize| {
        relations.above(end, x, y, up) == Some(true)
            && flap.iter().any(|&m| match (end.covered(m, x), end.covered(m, y)) {
                (Some(x), Some(y)) => is_proper(&shared(&x, &y)),
                _ => false,
            })
    };
    let mut over = BTreeSet::from([tuck.under]);
    let mut next = vec![tuck.under];
    while let Some(panel) = next.pop() {
        for x in (0..end.facets.len()).filter(|&x| end.facets[x].panel == panel) {
            for y in (0..end.facets.len()).filter(|&y| end.facets[y].panel != tuck.moving && lies_on_there(x, y)) {
                if over.insert(end.facets[y].panel) {
                    next.push(end.facets[y].panel);
                }
            }
        }
    }
    over
}
