//! Which other layer orders the closed folio could have, and which of them folding alone reaches.
//!
//! Planes are looked at one by one. Walls on one line keep the order in which they were reached, so an exchange of nested
//! boxes is not among the alternatives.

use crate::assembly::Assembly;
use crate::figure::Flat;
use crate::folding::Folding;
use crate::layer::Lie;
use crate::plan::{PlannedStep, Reached, reachable};
use crate::relations::Relations;
use crate::settle::settled;
use crate::stage::{Bench, Stage};
use crate::verify;
use glam::DVec3;
use model::PanelId;
pub use order::Count;
use order::{Problem, State};

/// How much is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extent {
    /// Stop counting, and listing, beyond so many orders of parts that do not depend on one another.
    pub most: u64,
    /// How many steps may be tried to see which orders folding reaches.
    pub effort: u64,
}

/// The layer orders that one plane of the closed folio can have.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneOrders {
    /// The panels in it, ascending.
    pub panels: Vec<PanelId>,
    /// How many orders there are.
    pub count: Count,
    /// The pairs of panels that lie on one another in one way only, whatever the order: the lower one first.
    pub forced: Vec<(PanelId, PanelId)>,
    /// The orders themselves, up to [`Extent::most`].
    pub orders: Vec<LayerOrder>,
}

/// One layer order of a plane.
#[derive(Debug, Clone, PartialEq)]
pub struct LayerOrder {
    /// Each pair of panels that lie on one another: the lower one first. Pairs that lie so in one place and the other way
    /// in another, as a tab through a slit, are left out.
    pub pairs: Vec<(PanelId, PanelId)>,
    /// How it can be reached.
    pub access: Access,
}

/// Pairs of panels that lie on one another, the lower one first.
type Pairs = Vec<(PanelId, PanelId)>;

/// How a layer order can be reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Access {
    /// It is the one that the own steps reach.
    Own,
    /// By these steps.
    Steps(Vec<PlannedStep>),
    /// Not by folding alone: something has to be tucked under something that lies there already.
    NeedsTuck,
    /// The work did not suffice to tell.
    Unknown,
}

impl Default for Extent {
    /// Up to 64 orders, and work for some tenths of a second for a folio of ten folds.
    fn default() -> Self {
        Self { most: 64, effort: 1000 }
    }
}

/// The layer orders that the closed state of `folding`, which is that of `assembly`, could have, plane by plane. Planes
/// in which nothing lies on anything, and those that no order is known for, are left out.
#[must_use]
pub fn alternatives(assembly: &Assembly, folding: &Folding, extent: Extent) -> Vec<PlaneOrders> {
    let assembly = settled(assembly);
    let bench = Bench::new(&assembly);
    let Some(frames) = folding.frames.last().filter(|frames| frames.len() == assembly.panels.len()) else {
        return Vec::new();
    };
    let stage = Stage { frames: frames.clone(), turned: folding.turned.clone(), relations: folding.relations.clone() };
    let known = verify::problems(&bench, &stage, false).into_iter();
    let known: Vec<(Flat, Problem)> = known.filter_map(|(flat, problem)| Some((flat, problem?))).collect();
    // Where there is nothing but the order that was reached, nothing is to be looked for.
    let is_open = known.iter().any(|(_, problem)| problem.count(1) != Count::Exact(1));
    let reached = if is_open { reachable(&bench, extent.effort) } else { Reached::default() };
    known.iter().map(|(flat, problem)| of_plane(&bench, &stage, (flat, problem), &reached, extent)).collect()
}

fn of_plane(
    bench: &Bench,
    stage: &Stage,
    (flat, problem): (&Flat, &Problem),
    reached: &Reached,
    extent: Extent,
) -> PlaneOrders {
    let listing = problem.list(extent.most);
    let pairs = pairs(flat, problem);
    let id = |facet: usize| bench.assembly.panels[flat.panels[facet]].id;
    let lies = |&(a, b): &(usize, usize), above: Option<bool>| match above {
        Some(true) => Some((id(b), id(a))),
        Some(false) => Some((id(a), id(b))),
        None => None,
    };
    let of_state = |state: &State| pairs.iter().filter_map(|pair| lies(pair, state.above(pair.0, pair.1))).collect();
    let lie = bench.lie(stage);
    let of_panel = facets_of(bench, flat);
    let seen = |relations: &Relations| -> Pairs {
        let above = |&(a, b): &(usize, usize)| above(&lie, relations, flat.seen.up, [&of_panel[a][..], &of_panel[b]]);
        pairs.iter().filter_map(|pair| lies(pair, above(pair))).collect()
    };
    let own = seen(&stage.relations);
    let by_steps: Vec<(Pairs, &Vec<PlannedStep>)> =
        reached.states.iter().map(|(relations, steps)| (seen(relations), steps)).collect();
    let access = |pairs: &Pairs| match by_steps.iter().find(|(reached, _)| reached == pairs) {
        _ if *pairs == own => Access::Own,
        Some((_, steps)) => Access::Steps((*steps).clone()),
        None if reached.is_complete => Access::NeedsTuck,
        None => Access::Unknown,
    };
    let most = usize::try_from(extent.most).unwrap_or(usize::MAX);
    let orders = listing.states().take(most).map(|state| of_state(&state));
    let orders: Vec<LayerOrder> = orders.map(|pairs: Pairs| LayerOrder { access: access(&pairs), pairs }).collect();
    let forced = match orders.as_slice() {
        // What is so in the one order there is, is so in all.
        [one] if listing.count() == Count::Exact(1) => one.pairs.clone(),
        _ => pairs.iter().filter_map(|pair| lies(pair, problem.forced(pair.0, pair.1))).collect(),
    };
    let mut panels: Vec<PanelId> = (0..flat.whole).map(id).collect();
    panels.sort_unstable();
    PlaneOrders { panels, count: listing.count(), forced, orders }
}

/// The pairs of panels that overlap, as facets.
fn pairs(flat: &Flat, problem: &Problem) -> Vec<(usize, usize)> {
    let whole = |[a, b]: [usize; 2]| a < flat.whole && b < flat.whole;
    let mut pairs: Vec<(usize, usize)> =
        problem.overlaps().iter().filter(|overlap| whole(overlap.facets)).map(|o| (o.facets[0], o.facets[1])).collect();
    pairs.dedup();
    pairs
}

/// For each facet of a plane, those of its panel.
fn facets_of(bench: &Bench, flat: &Flat) -> Vec<Vec<usize>> {
    let mut of_panel = vec![Vec::new(); bench.assembly.panels.len()];
    bench.facets.iter().enumerate().for_each(|(number, facet)| of_panel[facet.panel].push(number));
    flat.panels.iter().map(|&panel| of_panel[panel].clone()).collect()
}

/// Whether the first of two panels, told by their facets, lies above the second in some state; `None` where it does in one place and not in
/// another.
fn above(lie: &Lie, relations: &Relations, up: DVec3, [a, b]: [&[usize]; 2]) -> Option<bool> {
    let each = a.iter().flat_map(|&p| b.iter().map(move |&q| (p, q)));
    let mut all = each.filter_map(|(p, q)| relations.above(lie, q, p, up));
    let first = all.next()?;
    all.all(|other| other == first).then_some(first)
}
