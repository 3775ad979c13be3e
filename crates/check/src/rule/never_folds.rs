//! A score in the folio is in no step of the closing order, so it stays flat.

use crate::{Context, Finding, Severity, Spot};
use fold::Trouble;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let finding = |trouble: &Trouble| {
        let Trouble::NotInSteps { line } = trouble else { return None };
        Some(Finding {
            rule: "never-folds",
            severity: Severity::Warning,
            sentence: format!("{} is in no step of the closing order, so it stays flat.", context.line(*line)),
            mend: "Put it into a step, or delete it.".to_owned(),
            spot: Spot { lines: vec![*line], ..Spot::default() },
            fixes: Vec::new(),
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::four_flaps;
    use crate::testing::said;

    #[test]
    fn a_score_in_no_step_is_named() {
        let mut document = four_flaps();
        document.steps.pop();
        let says = "\"Score 4\" is in no step of the closing order, so it stays flat.";
        assert_eq!(said(&document, "never-folds"), [says]);
    }
}
