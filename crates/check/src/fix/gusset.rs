//! Gussets whose two scores are folded all the way: they stand up when each is folded by 90°, both in one step.

use crate::{Context, Fix};
use model::change::fold_in_step;
use model::{Crease, Edit, FoldAngle, Line, LineId, PanelId, Work};
use std::collections::BTreeSet;

/// A score with how it is creased.
type Score<'a> = (&'a Line, Crease);

impl Context<'_> {
    /// Folds both sides of a gusset among these panels by 90°, where they are folded flat and less stands in the way of
    /// closing then. Each takes a folding to find out.
    pub(crate) fn squared(&self, panels: &[PanelId]) -> Option<Fix> {
        let on_sheet = |panel: &&PanelId| self.layout.part_of(**panel).is_none();
        let mut gussets = panels.iter().filter(on_sheet).filter(|panel| self.layout.panel(**panel).is_gusset);
        gussets.find_map(|&gusset| {
            let sides = self.flat_sides(gusset)?;
            self.if_closer(format!("Fold both sides of {} by 90°", self.the(gusset)), self.square(sides))
        })
    }

    /// The two scores on either side of a gusset, where both are folded flat.
    fn flat_sides(&self, gusset: PanelId) -> Option<[Score<'_>; 2]> {
        let beside = self.layout.folds.iter().filter(|fold| fold.panels.contains(&gusset));
        let lines: BTreeSet<LineId> = beside.map(|fold| fold.line).collect();
        let flat = |id: LineId| match self.document.line(id)? {
            line @ Line { work: Work::Score(crease), .. } if crease.angle == FoldAngle::Flat => Some((line, *crease)),
            _ => None,
        };
        lines.into_iter().filter_map(flat).collect::<Vec<Score<'_>>>().try_into().ok()
    }

    /// Both folded by 90°, in the step of the one that folds first.
    fn square(&self, sides: [Score<'_>; 2]) -> Edit {
        let squared = |(line, crease): Score<'_>| {
            let work = Work::Score(Crease { angle: FoldAngle::Square, ..crease });
            Edit::ReplaceLine(Line { work, ..line.clone() })
        };
        let mut edits = sides.map(squared).to_vec();
        let steps = sides.map(|(line, _)| Some((self.document.step_of(line.id)?, line.id)));
        if let [Some(one), Some(other)] = steps {
            let ((first, _), (_, later)) = (one.min(other), one.max(other));
            edits.push(fold_in_step(self.document, later, first));
        }
        Edit::All(edits)
    }
}
