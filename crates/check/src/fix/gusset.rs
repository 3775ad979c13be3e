//! Gussets whose two scores are folded all the way: they stand up when each is folded by 90°, both in one step.

use super::MOST_TRIED;
use crate::{Context, Fix};
use fold::to_world;
use model::change::fold_in_step;
use model::{Crease, Document, Edit, Fold, FoldAngle, Line, LineId, PanelId, Work};
use std::cell::LazyCell;
use std::collections::BTreeSet;

/// A gusset that may be made to stand, with the scores on its two sides.
pub(crate) struct Flat {
    pub(crate) gusset: PanelId,
    sides: [LineId; 2],
}

impl Context<'_> {
    /// Folds both sides of a gusset by 90°, one of these panels or beside one, where they are folded flat and less stands in
    /// the way of closing then; with how much that is. Where less still is left if all do that are in the way somewhere,
    /// all of them. Each takes a folding to find out.
    pub(crate) fn squared(&self, panels: &[PanelId]) -> Option<(usize, Fix)> {
        self.trials()?;
        let near = self.flat_gussets(&self.with_beside(panels)).into_iter().take(MOST_TRIED);
        let near: Vec<Fix> = near.filter_map(|flat| self.standing(&[flat])).collect();
        let all = self.all_squared().filter(|_| !near.is_empty()).cloned();
        self.closer(near).next().into_iter().chain(all).min_by_key(|(left, _)| *left)
    }

    /// Folds both sides of all gussets by 90° that are folded flat where something stands in the way, where those are several
    /// and less does then; with how much that is.
    pub(crate) fn square_all(&self) -> Option<(usize, Fix)> {
        let all = self.flat_in_the_way();
        let fix = self.standing(&all).filter(|_| all.len() > 1);
        self.closer(fix).next()
    }

    fn standing(&self, flat: &[Flat]) -> Option<Fix> {
        let label = format!("Fold {} by 90°", self.both_sides(flat));
        Some(Fix::new(label, Edit::All(squares(self.document.clone(), flat)?)))
    }

    /// The gussets that are folded flat where something stands in the way of closing.
    pub(crate) fn flat_in_the_way(&self) -> Vec<Flat> {
        let Some((_, folding)) = self.folded else { return Vec::new() };
        let panels: BTreeSet<PanelId> = folding.troubles().iter().flat_map(fold::Trouble::panels).collect();
        let mut flat = self.flat_gussets(&self.with_beside(&panels.into_iter().collect::<Vec<PanelId>>()));
        flat.sort_by_key(|flat| flat.gusset);
        flat
    }

    /// "both sides of the left gusset".
    pub(crate) fn both_sides(&self, of: &[Flat]) -> String {
        format!("both sides of {}", self.these(&of.iter().map(|flat| flat.gusset).collect::<Vec<PanelId>>()))
    }

    /// Panels, then those beside them: beside the base lie all sides, whether they have to do with it or not.
    fn with_beside(&self, panels: &[PanelId]) -> Vec<PanelId> {
        let mut all = panels.to_vec();
        for &panel in panels.iter().filter(|panel| Some(**panel) != self.layout.base) {
            all.extend(self.layout.folds.iter().filter_map(|fold| fold.across_from(panel)));
        }
        all
    }

    /// The gussets among some panels whose sides are both folded flat. Scores that run on across flaps have a strip of each
    /// between them: of those with the same sides, the one nearest to the base.
    pub(crate) fn flat_gussets(&self, panels: &[PanelId]) -> Vec<Flat> {
        let is_gusset = |panel: &PanelId| self.layout.panels.get(panel.0).is_some_and(|panel| panel.is_gusset);
        let hops = LazyCell::new(|| self.layout.depths());
        let mut flat: Vec<Flat> = Vec::new();
        for &gusset in panels.iter().filter(|panel| is_gusset(panel)) {
            if let Some(sides) = self.flat_sides(gusset)
                && flat.iter().all(|known| known.sides != sides)
            {
                let all = self.layout.panels.iter().map(|panel| panel.id).filter(is_gusset);
                let alike = all.filter(|&panel| self.flat_sides(panel) == Some(sides));
                let nearest = alike.filter_map(|panel| Some((hops.get(&panel)?, panel))).min();
                flat.push(Flat { gusset: nearest.map_or(gusset, |(_, panel)| panel), sides });
            }
        }
        flat
    }

    /// The scores on the two long sides of a gusset, the lesser first, where both are folded flat: of the parallel ones round
    /// it those that are nearest to one another.
    fn flat_sides(&self, gusset: PanelId) -> Option<[LineId; 2]> {
        let beside: Vec<&Fold> = self.layout.folds.iter().filter(|fold| fold.panels.contains(&gusset)).collect();
        let pairs =
            beside.iter().enumerate().flat_map(|(at, &one)| beside[at + 1..].iter().map(move |&two| [one, two]));
        let apart = pairs.filter_map(|pair| Some((apart(pair)?, pair)));
        let (_, sides) = apart.min_by(|(a, _), (b, _)| a.total_cmp(b))?;
        let mut sides = sides.map(|fold| fold.line);
        sides.sort_unstable();
        let is_flat = |&id: &LineId| crease(self.document, id).is_some_and(|crease| crease.angle == FoldAngle::Flat);
        sides.iter().all(is_flat).then_some(sides)
    }
}

/// Makes gussets of a design stand, one after another since each says all the steps anew: both sides folded by 90°, in the
/// step of the one that folds first. `None` where a side is no score any more.
pub(crate) fn squares(mut document: Document, flat: &[Flat]) -> Option<Vec<Edit>> {
    let one = |flat: &Flat| {
        let edit = square(&document, flat.sides)?;
        document.apply(edit.clone()).ok()?;
        Some(edit)
    };
    flat.iter().map(one).collect()
}

fn square(document: &Document, sides: [LineId; 2]) -> Option<Edit> {
    let squared = |id: LineId| {
        let work = Work::Score(Crease { angle: FoldAngle::Square, ..crease(document, id)? });
        Some(Edit::ReplaceLine(Line { work, ..document.line(id)?.clone() }))
    };
    let [one, other] = sides.map(squared);
    let mut edits = vec![one?, other?];
    let steps = sides.map(|line| Some((document.step_of(line)?, line)));
    if let [Some(one), Some(other)] = steps {
        let ((first, _), (_, later)) = (one.min(other), one.max(other));
        edits.push(fold_in_step(document, later, first));
    }
    Some(Edit::All(edits))
}

/// How a line is creased; `None` for one that is no score.
fn crease(document: &Document, id: LineId) -> Option<Crease> {
    match document.line(id)?.work {
        Work::Score(crease) => Some(crease),
        _ => None,
    }
}

/// How far apart two parallel folds are, in mm; `None` where they are not parallel, or lie on one line.
fn apart([one, other]: [&Fold; 2]) -> Option<f64> {
    let (a, b) = (one.stretches.first()?, other.stretches.first()?);
    let is_parallel = (a.b - a.a).cross(b.b - b.a) == 0 && (a.b - a.a).cross(b.a - a.a) != 0;
    let way = (to_world(a.b) - to_world(a.a)).normalize_or_zero();
    is_parallel.then(|| way.perp_dot(to_world(b.a) - to_world(a.a)).abs())
}
