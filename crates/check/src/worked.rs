//! What several rules look at and takes a while to work out: each once a check, when a rule first asks.

use crate::fix::corner::{Corner, corners};
use crate::lie;
use crate::{Context, Fix};
use fit::{CornerSet, Holders, PocketFit, TrayFit};
use fold::{Allowance, Assembly, FoldGap, Folding, GussetFit, Ring, Thickness, Trouble, mobility};
use make::Making;
use model::Point;
use model::part::ClosureKind;
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

/// What has been worked out so far.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    thickness: OnceCell<Option<Thickness>>,
    gaps: OnceCell<Vec<FoldGap>>,
    gussets: OnceCell<Vec<GussetFit>>,
    making: OnceCell<Making>,
    pockets: OnceCell<Vec<PocketFit>>,
    corners: OnceCell<Vec<CornerSet>>,
    trays: OnceCell<Vec<TrayFit>>,
    bodies: OnceCell<Vec<usize>>,
    rigid: OnceCell<BTreeMap<usize, Ring>>,
    whole_corners: OnceCell<Vec<Corner>>,
    squared: OnceCell<Option<(usize, Fix)>>,
}

impl Context<'_> {
    /// What is left between folds on the board that the maker has.
    pub(crate) fn allowance(&self) -> Allowance {
        Allowance { groove: self.document.groove.mm().max(0.0), ..Allowance::default() }
    }

    /// How thick the closed folio is; `None` without a base.
    pub(crate) fn thickness(&self) -> Option<&Thickness> {
        let work = || self.folded.map(|(assembly, folding)| fold::thickness(assembly, folding));
        self.worked.thickness.get_or_init(work).as_ref()
    }

    /// What gussets go round; none without a base.
    pub(crate) fn gussets(&self) -> &[GussetFit] {
        let work = |(assembly, folding)| fold::gussets(assembly, folding, &self.allowance());
        self.worked.gussets.get_or_init(|| self.folded.map(work).unwrap_or_default())
    }

    /// What folds go round that are flat when closed, then those of gussets; none without a base.
    pub(crate) fn gaps(&self) -> &[FoldGap] {
        let work = |(assembly, folding)| fold::gaps_with(assembly, folding, &self.allowance(), self.gussets());
        self.worked.gaps.get_or_init(|| self.folded.map(work).unwrap_or_default())
    }

    /// What is glued together: for each panel (a place in [`Assembly::panels`]) the number of its body, the same for all
    /// that is glued to it, straight or by way of others, with no fold and no ribbon
    /// between. None without a base.
    pub(crate) fn bodies(&self) -> &[usize] {
        let work = || self.folded.map(|(assembly, _)| bodies(self, assembly)).unwrap_or_default();
        self.worked.bodies.get_or_init(work)
    }

    /// For what keeps a step from folding, by its place in [`Folding::troubles`]: the ring closed by glue that holds it, where
    /// there is one and it can't move.
    pub(crate) fn rigid_rings(&self) -> &BTreeMap<usize, Ring> {
        let work = |(assembly, folding)| rigid_rings(self, assembly, folding);
        self.worked.rigid.get_or_init(|| self.folded.map(work).unwrap_or_default())
    }

    /// The corners of the folio that may be cut away as a whole; none without a base.
    pub(crate) fn corners(&self) -> &[Corner] {
        self.worked.whole_corners.get_or_init(|| corners(self.layout))
    }

    /// What becomes of all flat gussets that are made to stand: see [`Context::square_all`].
    pub(crate) fn all_squared(&self) -> Option<&(usize, Fix)> {
        self.worked.squared.get_or_init(|| self.square_all()).as_ref()
    }

    /// In which order the folio is made.
    pub(crate) fn making(&self) -> &Making {
        self.worked.making.get_or_init(|| Making::of(self.document, self.layout))
    }

    /// What goes into pockets.
    pub(crate) fn pockets(&self) -> &[PocketFit] {
        self.worked.pockets.get_or_init(|| fit::pockets(self.document, self.layout))
    }

    /// All that may hold an insert.
    pub(crate) fn holders(&self) -> Holders<'_> {
        let corners = self.worked.corners.get_or_init(|| fit::corner_sets(self.document, self.layout));
        let trays = |(assembly, folding)| fit::trays(self.document, self.layout, assembly, folding);
        let trays = self.worked.trays.get_or_init(|| self.folded.map(trays).unwrap_or_default());
        Holders { pockets: self.pockets(), corners, trays }
    }
}

fn bodies(context: &Context<'_>, assembly: &Assembly) -> Vec<usize> {
    // A ribbon bends, and holds nothing still that it is glued to.
    let is_limp = |panel: usize| {
        let part = context.layout.part_of(assembly.panels[panel].id).and_then(|part| context.document.part(part.id));
        part.and_then(lie::closure) == Some(ClosureKind::Ribbon)
    };
    let stiff = assembly.bonds.iter().filter(|bond| !bond.area.is_empty() && !is_limp(bond.panels[0]));
    let mut bodies: Vec<usize> = (0..assembly.panels.len()).collect();
    for [a, b] in stiff.map(|bond| bond.panels) {
        let (kept, gone) = (bodies[a].min(bodies[b]), bodies[a].max(bodies[b]));
        bodies.iter_mut().filter(|body| **body == gone).for_each(|body| *body = kept);
    }
    bodies
}

/// Before how many steps rings are looked for: it takes a while, and who mends the first is told of the next.
const MOST_STEPS: usize = 4;

fn rigid_rings(context: &Context<'_>, assembly: &Assembly, folding: &Folding) -> BTreeMap<usize, Ring> {
    let mut rigid = BTreeMap::new();
    if assembly.bonds.is_empty() {
        return rigid;
    }
    let is_glued = |ring: &Ring| {
        let places = ring.panels.iter().filter_map(|&panel| assembly.place(panel));
        places.map(|place| context.bodies()[place]).collect::<BTreeSet<_>>().len() < ring.panels.len()
    };
    // Paper that is kept round a corner is told with the corner, where lines meet; a ring is told in the middle of a fold.
    let is_corner = |at: Point| context.layout.stretches.iter().any(|it| [it.segment.a, it.segment.b].contains(&at));
    let mut by_step: BTreeMap<usize, Vec<Ring>> = BTreeMap::new();
    for (place, trouble) in folding.troubles().iter().enumerate() {
        let Trouble::Joined { step, lines, at, .. } = trouble else { continue };
        if is_corner(*at) || (by_step.len() >= MOST_STEPS && !by_step.contains_key(step)) {
            continue;
        }
        let rings = by_step.entry(*step).or_insert_with(|| {
            let all = mobility(assembly, folding, *step).into_iter();
            all.filter(|ring| !ring.moves && is_glued(ring)).collect()
        });
        let holds = |ring: &&Ring| ring.lines.iter().any(|line| lines.contains(line));
        if let Some(ring) = rings.iter().find(holds) {
            rigid.insert(place, ring.clone());
        }
    }
    rigid
}
