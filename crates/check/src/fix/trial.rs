//! Fixes that are tried out before they are offered: what an edit makes of the folding.

use super::Fix;
use crate::Context;
use fold::overlap::left_of;
use fold::{Assembly, Folding, Trouble, Wishes};
use glam::DVec2;
use model::change::{add_line, perform};
use model::{
    Document, Edit, Layout, Length, Line, Place, Point, Run, Step, Stop, Strip, StripSide, Tucked, Turn, Work,
};
use std::collections::BTreeSet;

/// How many steps a closing order is looked for in: a folio of few flaps is closed in some dozens, and a design is checked
/// at every move of what is dragged in it.
const EFFORT: u64 = 100;

/// A design after an edit, with how it closes.
pub(crate) struct Tried {
    document: Document,
    layout: Layout,
    assembly: Assembly,
    folding: Folding,
}

impl Tried {
    /// What a rule may look at then; where the paper of parts comes from is not worked out.
    pub(crate) fn context(&self) -> Context<'_> {
        Context::new(&self.document, &self.layout, Some((&self.assembly, &self.folding)), None)
    }
}

impl Context<'_> {
    /// The design after an edit. `None` where it is refused or would leave it without a base, where a line would lose its
    /// place, and where more would stand in the way of closing than now.
    pub(crate) fn tried(&self, edit: &Edit) -> Option<Tried> {
        let (_, folding) = self.trials()?;
        let performed = perform(self.document, self.layout, edit.clone()).ok()?;
        let (document, layout) = (performed.document, performed.layout);
        let lost = |layout: &Layout| layout.lines.values().filter(|placed| placed.is_err()).count();
        let assembly = fold::assemble(&document, &layout).filter(|_| lost(&layout) <= lost(self.layout))?;
        let closed = fold::close(&assembly);
        let is_as_good = hindrances(&closed) <= hindrances(folding);
        is_as_good.then_some(Tried { document, layout, assembly, folding: closed })
    }

    /// An edit as a fix, where less stands in the way of closing after it than now.
    pub(crate) fn if_closer(&self, label: impl Into<String>, edit: Edit) -> Option<Fix> {
        self.left_after(&edit).map(|_| Fix::new(label, edit))
    }

    /// Those of some fixes after which less stands in the way of closing than now, with how much that is.
    pub(crate) fn closer(&self, fixes: impl IntoIterator<Item = Fix>) -> impl Iterator<Item = (usize, Fix)> {
        fixes.into_iter().filter_map(|fix| Some((self.left_after(&fix.edit)?, fix)))
    }

    /// How much stands in the way of closing after an edit; `None` where that is no less than now.
    fn left_after(&self, edit: &Edit) -> Option<usize> {
        let (_, folding) = self.folded?;
        let left = hindrances(&self.tried(edit)?.folding);
        (left < hindrances(folding)).then_some(left)
    }

    /// An edit as a fix, where it leaves the folio as many panels as it has, and of what is counted there is less after it.
    pub(crate) fn if_fewer(
        &self,
        label: impl Into<String>,
        edit: Edit,
        count: impl Fn(&Context<'_>) -> usize,
    ) -> Option<Fix> {
        let panels = |layout: &Layout| layout.folio().map_or(0, |folio| folio.panels.len());
        let tried = self.tried(&edit).filter(|tried| panels(&tried.layout) == panels(self.layout))?;
        (count(&tried.context()) < count(self)).then(|| Fix::new(label, edit))
    }

    /// Folds in another order that closes the folio, where one is found within few tries.
    pub(crate) fn replanned(&self) -> Option<Fix> {
        let (assembly, _) = self.trials()?;
        let plan = fold::plan(assembly, &Wishes { effort: EFFORT, ..Wishes::default() }).ok()?;
        let named = |place: usize| self.layout.panel_ref(assembly.panels.get(place)?.id);
        let tucked = |tuck: &fold::Tuck| Some(Tucked { panel: named(tuck.moving)?, under: named(tuck.under)? });
        let step = |step: &fold::PlannedStep| Step {
            tucks: step.tucks.iter().filter_map(tucked).collect(),
            ..self.layout.step_of(&step.lines)
        };
        let mut steps: Vec<Step> = plan.steps.iter().map(step).collect();
        // What folds nothing in the folio stays in its steps, after all others.
        let folded: BTreeSet<_> = steps.iter().flat_map(|step| step.lines.iter().copied()).collect();
        let of_parts: BTreeSet<_> = steps.iter().flat_map(|step| step.parts.iter().copied()).collect();
        let idle = self.document.steps.iter().map(|step| {
            let mut idle = step.without(|line| folded.contains(&line));
            idle.parts.retain(|line| !of_parts.contains(line));
            idle.tucks.clear();
            idle
        });
        steps.extend(idle.filter(|step| !step.is_empty()));
        self.if_closer("Fold in another order, which closes", Edit::SetSteps(steps))
    }

    /// Cuts off what of a panel of the folio (a place in [`Assembly::panels`]) lies beyond an upright or a level line on the
    /// sheet: through `at`, in the world's mm, and off towards `out`. A hairline is trimmed away. `None` for a slanting
    /// line, a panel of a part, and where nothing lies beyond.
    pub(crate) fn cut_off(&self, panel: usize, at: DVec2, out: DVec2) -> Option<Edit> {
        /// Directions are worked out from whole nanometres, and are off by their last digits only.
        const SAME: f64 = 1e-9;
        /// A nanometre, in mm.
        const ON_IT: f64 = 1e-6;
        let (assembly, _) = self.folded?;
        let shape = assembly.panels.get(panel).filter(|shape| self.layout.part_of(shape.id).is_none())?;
        let turn = match (out.x.abs() < SAME, out.y.abs() < SAME) {
            (false, true) => Turn::None,
            (true, false) => Turn::Once,
            _ => return None,
        };
        let size = self.layout.size;
        let (_, height) = turn.size_of(size);
        let on_board = |point: DVec2| Some(turn.to_board(on_sheet(point)?, size));
        let beyond = shape.convex.iter().flat_map(|convex| left_of(convex, at, at - out.perp()));
        let beyond: Vec<DVec2> = beyond.collect();
        let far = beyond.iter().map(|&corner| (corner - at).dot(out)).fold(0.0, f64::max);
        let ends = beyond.iter().filter(|&&corner| (corner - at).dot(out).abs() < ON_IT);
        let ends: Vec<Length> = ends.filter_map(|&end| Some(on_board(end)?.down)).collect();
        let (first, last) = (*ends.iter().min()?, *ends.iter().max()?);
        let stop = |down: Length, edge: Length| if down == edge { Stop::Edge } else { Stop::At(down) };
        let run = Run { from: stop(first, Length::ZERO), to: stop(last, height) };
        let (across, past) = (on_board(at)?.across, on_board(at + out)?.across);
        let width = Length::from_mm_rounded(far)?;
        let side = if past > across { StripSide::Right } else { StripSide::Left };
        let work = if width > Work::WIDEST_TRIM { Work::Cut } else { Work::Trim(Strip { width, side }) };
        let place = Place::Measured { turn, from: model::Datum::Edge, distance: across, run };
        (width > Length::ZERO && first < last)
            .then(|| add_line(self.document, Line::new(self.document.next_line(), place, work)))
    }
}

/// What stands in the way of closing, but for scores that no step names, and for what only tells more of what is joined.
pub(super) fn hindrances(folding: &Folding) -> usize {
    let is_no_more = |trouble: &&Trouble| matches!(trouble, Trouble::NotInSteps { .. } | Trouble::Unflat { .. });
    folding.troubles().iter().filter(|trouble| !is_no_more(trouble)).count()
}

/// A place in the world's plane on the sheet.
fn on_sheet(point: DVec2) -> Option<Point> {
    Some(Point::new(Length::from_mm_rounded(point.x)?, Length::from_mm_rounded(-point.y)?))
}
