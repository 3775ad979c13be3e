//! Corners that have to come off as a whole: where gussets cross, a corner is more than one panel, and what of it is left hangs
//! on a flap.

use super::gusset::{Flat, squares};
use crate::{Context, Fix};
use fold::to_world;
use glam::DVec2;
use model::change::move_step;
use model::offcut::cut_away_together;
use model::{Edit, Fold, Layout, PanelId, PartLayout, Segment};
use std::collections::{BTreeMap, BTreeSet};

/// Folds whose ways differ by less than this run alongside one another: the sine of an angle that no maker draws, and more
/// than rounding to nanometres turns a fold of a few mm by.
const ALONGSIDE: f64 = 1e-5;

/// The panels of a corner.
#[derive(Debug, Clone)]
pub(crate) struct Corner {
    panels: BTreeSet<PanelId>,
    /// The panels nearest to the base on its two sides.
    between: Option<[PanelId; 2]>,
}

impl Corner {
    /// A panel alone, whatever hangs together with it.
    pub(crate) fn single(panel: PanelId) -> Self {
        Self { panels: BTreeSet::from([panel]), between: None }
    }

    /// Whether it is one panel alone.
    pub(crate) fn is_single(&self) -> bool {
        self.panels.len() == 1
    }

    /// "the whole corner between the left gusset and the top gusset"; a single panel by its name.
    pub(crate) fn words(&self, context: &Context<'_>) -> String {
        match self.between {
            Some([one, other]) if !self.is_single() => {
                format!("the whole corner between {} and {}", context.the(one), context.the(other))
            }
            _ => context.these(&self.panels.iter().copied().collect::<Vec<_>>()),
        }
    }

    /// Cuts it away. `None` where a part lies on it: that is no corner to throw away.
    pub(crate) fn cut(&self, context: &Context<'_>) -> Option<Fix> {
        let lies_on_it = |part: &PartLayout| part.laid.is_some_and(|laid| self.panels.contains(&laid.on));
        if context.layout.parts.iter().any(lies_on_it) {
            return None;
        }
        let edit = cut_away_together(context.document, context.layout, &self.panels).ok()?;
        Some(Fix::new(format!("Cut {} away", self.words(context)), edit))
    }

    /// Cuts it away and folds both sides of gussets by 90° that are folded flat: of those beside it, and then of all that are
    /// in the way somewhere. None where there are none.
    pub(crate) fn cut_and_squared(&self, context: &Context<'_>) -> Vec<Fix> {
        let beside = self.between.map(|sides| context.flat_gussets(&sides)).unwrap_or_default();
        let all = context.flat_in_the_way();
        let is_more = all.len() > beside.len();
        let squared = |flat: Vec<Flat>| {
            let Fix { label, edit } = self.cut(context)?;
            let label = format!("{label} and fold {} by 90°", context.both_sides(&flat));
            let mut now = context.document.clone();
            now.apply(edit.clone()).ok()?;
            let edits = std::iter::once(edit).chain(squares(now, &flat)?);
            Some(Fix::new(label, Edit::All(edits.collect())))
        };
        let all = is_more.then_some(all);
        [Some(beside), all].into_iter().flatten().filter(|flat| !flat.is_empty()).filter_map(squared).collect()
    }

    /// Cuts it away and folds a step before all others; `None` where it is the first.
    pub(crate) fn cut_and_first(&self, context: &Context<'_>, step: usize) -> Option<Fix> {
        let Fix { label, edit } = self.cut(context)?;
        let mut now = context.document.clone();
        now.apply(edit.clone()).ok()?;
        let first = move_step(&now, step, 0)?;
        let label = format!("{label} and fold step {} before step 1", step + 1);
        Some(Fix::new(label, Edit::All(vec![edit, first])))
    }
}

impl Context<'_> {
    /// All of the corner that a panel is part of; a panel that lies straight out from the base is one alone. `None` for a
    /// panel of a part.
    pub(crate) fn corner(&self, panel: PanelId) -> Option<Corner> {
        self.layout.panels.get(panel.0)?;
        let whole = self.corners().iter().find(|corner| corner.panels.contains(&panel));
        Some(whole.cloned().unwrap_or_else(|| Corner::single(panel)))
    }
}

/// Every corner of a folio: what hangs together and is reached from the base round a corner only. What lies straight out from
/// the base, by folds that run alongside one another, is a gusset or a flap.
pub(crate) fn corners(layout: &Layout) -> Vec<Corner> {
    let net = Net::of(layout);
    let hops = layout.depths();
    let straight = net.straight();
    let mut left: BTreeSet<PanelId> = hops.keys().copied().filter(|panel| !straight.contains(panel)).collect();
    let mut corners = Vec::new();
    while let Some(&first) = left.iter().next() {
        let panels = net.reached(first, |fold| fold.panels.iter().all(|panel| !straight.contains(panel)));
        left.retain(|panel| !panels.contains(panel));
        corners.push(Corner { between: net.between(&panels, &hops), panels });
    }
    corners
}

/// A layout with the folds round each panel of the sheet.
struct Net<'a> {
    layout: &'a Layout,
    round: Vec<Vec<&'a Fold>>,
}

impl<'a> Net<'a> {
    fn of(layout: &'a Layout) -> Self {
        let mut round = vec![Vec::new(); layout.panels.len()];
        for fold in &layout.folds {
            for panel in fold.panels {
                round[panel.0].push(fold);
            }
        }
        Self { layout, round }
    }

    /// What lies straight out from the base, with the base.
    fn straight(&self) -> BTreeSet<PanelId> {
        let Some(base) = self.layout.base else { return BTreeSet::new() };
        let mut by_way: Vec<(DVec2, BTreeSet<PanelId>)> = Vec::new();
        for fold in &self.round[base.0] {
            if let Some(&first) = fold.stretches.first()
                && !by_way.iter().any(|(way, _)| runs_along(fold, *way))
            {
                by_way.push((way(first), self.reached(base, |fold| runs_along(fold, way(first)))));
            }
        }
        by_way.into_iter().flat_map(|(_, reached)| reached).chain([base]).collect()
    }

    /// What is reached from a panel by some folds, with that panel.
    fn reached(&self, from: PanelId, by: impl Fn(&Fold) -> bool) -> BTreeSet<PanelId> {
        let mut reached = BTreeSet::from([from]);
        let mut open = vec![from];
        while let Some(at) = open.pop() {
            let next = self.round[at.0].iter().filter(|fold| by(fold)).filter_map(|fold| fold.across_from(at));
            open.extend(next.filter(|next| reached.insert(*next)));
        }
        reached
    }

    /// The panels nearest to the base on the two sides of a corner; `None` where it has more sides or fewer.
    fn between(&self, corner: &BTreeSet<PanelId>, hops: &BTreeMap<PanelId, usize>) -> Option<[PanelId; 2]> {
        let across =
            corner.iter().flat_map(|&panel| self.round[panel.0].iter().filter_map(move |fold| fold.across_from(panel)));
        let mut beside: BTreeSet<PanelId> = across.filter(|panel| !corner.contains(panel)).collect();
        let mut nearest = Vec::new();
        while let Some(&first) = beside.iter().next() {
            // Panels beside the corner that are joined to one another, a gusset and its flap, are one side of it.
            let side = self.reached(first, |fold| fold.panels.iter().all(|panel| beside.contains(panel)));
            nearest.extend(side.iter().copied().min_by_key(|panel| hops.get(panel)));
            beside.retain(|panel| !side.contains(panel));
        }
        nearest.try_into().ok()
    }
}

/// The way of a stretch; one of no length has none.
fn way(stretch: Segment) -> DVec2 {
    (to_world(stretch.b) - to_world(stretch.a)).normalize_or_zero()
}

/// Whether a fold runs along a way, all of it.
fn runs_along(fold: &Fold, along: DVec2) -> bool {
    fold.stretches.iter().all(|&stretch| way(stretch).perp_dot(along).abs() < ALONGSIDE)
}
