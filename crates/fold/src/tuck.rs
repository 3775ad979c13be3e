//! Tucking: a flap ends under a panel on which it would otherwise lie. The paper bends round the edge of that panel, so
//! how it gets there is not looked at; that the flap is free to, and how everything lies in the end, is.

use crate::assembly::Assembly;
use crate::layer::Lie;
use crate::overlap::{is_proper, shared};
use crate::relations::Relations;
use glam::{DVec2, DVec3};
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
    /// The flap, with what it carries.
    pub(crate) moving: BTreeSet<usize>,
    /// The panels that are over the flap in the end, ascending.
    pub(crate) over: BTreeSet<usize>,
}

/// The panels that hold a flap by something else than the folds of its step, ascending: with those its edge is not free.
/// What is only glued to it goes along with it.
pub(crate) fn held(assembly: &Assembly, folding: &[usize], tuck: Tuck) -> Vec<usize> {
    let carried = carried(assembly, tuck.moving);
    let joints = assembly.joints.iter().enumerate().filter(|(j, _)| folding.binary_search(j).is_err());
    let joined = joints.filter_map(|(_, joint)| other(joint.panels, tuck.moving));
    let glued = assembly.bonds.iter().filter_map(|bond| other(bond.panels, tuck.moving));
    joined.chain(glued.filter(|panel| !carried.contains(panel))).collect::<BTreeSet<usize>>().into_iter().collect()
}

/// Of two panels, the one that a third is not; `None` where it is neither.
fn other([a, b]: [usize; 2], panel: usize) -> Option<usize> {
    match (a == panel, b == panel) {
        (true, false) => Some(b),
        (false, true) => Some(a),
        _ => None,
    }
}

/// A flap with all that is glued to it and hangs together with nothing else but by it, such as a mat on it.
pub(crate) fn carried(assembly: &Assembly, flap: usize) -> BTreeSet<usize> {
    let pairs =
        || assembly.joints.iter().map(|joint| joint.panels).chain(assembly.bonds.iter().map(|bond| bond.panels));
    let mut all = BTreeSet::from([flap]);
    for first in assembly.bonds.iter().filter_map(|bond| other(bond.panels, flap)) {
        let mut reached = BTreeSet::from([first]);
        let mut open = vec![first];
        while let Some(panel) = open.pop() {
            let next = pairs().filter_map(|pair| other(pair, panel)).filter(|&next| next != flap);
            open.extend(next.filter(|&next| reached.insert(next)).collect::<Vec<_>>());
        }
        if !reached.contains(&assembly.base) {
            all.extend(reached);
        }
    }
    all
}

/// Puts a flap that has landed, with what it carries, under what it is tucked under. `None` when it has not landed on that.
pub(crate) fn tuck(assembly: &Assembly, relations: &mut Relations, end: &Lie, tuck: Tuck) -> Option<Pocket> {
    let moving = carried(assembly, tuck.moving);
    let of = |panel: usize| (0..end.facets.len()).filter(move |&facet| end.facets[facet].panel == panel);
    let on_it = of(tuck.under).flat_map(|x| of(tuck.moving).map(move |m| (x, m)));
    let up = on_it.filter_map(|(x, m)| relations.above(end, x, m, end.normal(x)).map(|above| (x, above))).next();
    // From what the flap would lie on towards the flap.
    let up = up.map(|(x, above)| if above { end.normal(x) } else { -end.normal(x) })?;
    let over = over(relations, end, (tuck.moving, &moving), carried(assembly, tuck.under), up);
    let pocket = Pocket { moving, over };
    for m in pocket.moving.iter().flat_map(|&panel| of(panel)) {
        for y in (0..end.facets.len()).filter(|&y| pocket.over.contains(&end.facets[y].panel)) {
            if relations.above(end, y, m, up) == Some(true) {
                let flipped = relations.side(y, m).map(crate::layer::Side::other);
                relations.set(end, y, m, flipped);
            }
        }
    }
    Some(pocket)
}

/// The panels that the flap is tucked under, and all that lie on them, or on one of those, over the flap.
fn over(
    relations: &Relations,
    end: &Lie,
    (flap, moving): (usize, &BTreeSet<usize>),
    under: BTreeSet<usize>,
    up: DVec3,
) -> BTreeSet<usize> {
    let stays = |facet: usize| !moving.contains(&end.facets[facet].panel);
    let flap: Vec<usize> = (0..end.facets.len()).filter(|&facet| end.facets[facet].panel == flap).collect();
    let of = |m: usize| (0..end.facets.len()).map(move |x| end.covered(m, x)).collect();
    let covered: Vec<Vec<Option<Vec<DVec2>>>> = flap.into_iter().map(of).collect();
    let lies_on_there = |x: usize, y: usize| {
        relations.above(end, x, y, up) == Some(true)
            && covered.iter().any(|on_flap| match (&on_flap[x], &on_flap[y]) {
                (Some(x), Some(y)) => is_proper(&shared(x, y)),
                _ => false,
            })
    };
    let mut next: Vec<usize> = under.iter().copied().collect();
    let mut over = under;
    while let Some(panel) = next.pop() {
        for x in (0..end.facets.len()).filter(|&x| end.facets[x].panel == panel) {
            for y in (0..end.facets.len()).filter(|&y| stays(y) && lies_on_there(x, y)) {
                if over.insert(end.facets[y].panel) {
                    next.push(end.facets[y].panel);
                }
            }
        }
    }
    over
}
