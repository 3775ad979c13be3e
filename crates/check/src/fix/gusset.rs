//! Gussets whose two scores are folded all the way: they stand up when each is folded by 90°, both in one step.

use crate::{Context, Fix};
use model::{Edit, FoldAngle, Line, LineId, PanelId, Step, Work};
use std::collections::BTreeSet;

impl Context<'_> {
    /// Folds both sides of a gusset among these panels by 90°, where they are folded flat and less stands in the way of
    /// closing then. Each takes a folding to find out.
    pub(crate) fn squared(&self, panels: &[PanelId]) -> Option<Fix> {
        let on_sheet = |panel: &&PanelId| self.layout.part_of(**panel).is_none();
        let gussets = panels.iter().filter(on_sheet).filter(|panel| self.layout.panel(**panel).is_gusset);
        gussets.into_iter().find_map(|&gusset| {
            let lines = self.flat_sides(gusset)?;
            self.if_closer(format!("Fold both sides of {} by 90°", self.the(gusset)), self.square(&lines))
        })
    }

    /// The two scores on either side of a gusset, where both are folded flat.
    fn flat_sides(&self, gusset: PanelId) -> Option<[LineId; 2]> {
        let beside = self.layout.folds.iter().filter(|fold| fold.panels.contains(&gusset));
        let lines: BTreeSet<LineId> = beside.map(|fold| fold.line).collect();
        let is_flat = |id: &LineId| {
            let work = self.document.line(*id).map(|line| line.work);
            matches!(work, Some(Work::Score(crease)) if crease.angle == FoldAngle::Flat)
        };
        let lines: Vec<LineId> = lines.into_iter().filter(is_flat).collect();
        lines.try_into().ok()
    }

    /// Both lines folded by 90°, in the step of the one that folds first.
    fn square(&self, lines: &[LineId; 2]) -> Edit {
        let squared = |line: &Line| match line.work {
            Work::Score(mut crease) => {
                crease.angle = FoldAngle::Square;
                Edit::ReplaceLine(Line { work: Work::Score(crease), ..line.clone() })
            }
            _ => Edit::ReplaceLine(line.clone()),
        };
        let mut edits: Vec<Edit> = lines.iter().filter_map(|&id| self.document.line(id)).map(squared).collect();
        let of_either = |step: &&Step| lines.iter().any(|line| step.lines.contains(line));
        if self.document.steps.iter().filter(of_either).count() == 2 {
            let mut steps: Vec<Step> =
                self.document.steps.iter().map(|step| step.without(|line| lines.contains(&line))).collect();
            if let Some(first) = self.document.steps.iter().position(|step| of_either(&step)) {
                steps[first].lines.extend(lines);
            }
            steps.retain(|step| !step.is_empty());
            edits.push(Edit::SetSteps(steps));
        }
        Edit::All(edits)
    }
}
