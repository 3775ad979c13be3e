//! A score in the folio is in no step of the closing order, so it stays flat.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Trouble;
use model::{Edit, LineId};

pub(super) const RULE: Rule = Rule {
    name: "never-folds",
    severities: &[Severity::Warning],
    about: "A score in the folio is in no step of the closing order, so it stays flat.",
    example: "\"Score 4\" is in no step of the closing order, so it stays flat.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let offers = Offers::plain();
    let finding = |trouble: &Trouble| {
        let Trouble::NotInSteps { line } = trouble else { return None };
        Some(Finding {
            rule: RULE.name,
            severity: Severity::Warning,
            sentence: format!("{} is in no step of the closing order, so it stays flat.", context.line(*line)),
            mend: "Put it into a step, or delete it.".to_owned(),
            spot: Spot { lines: vec![*line], ..Spot::default() },
            fixes: offers.of(|| folded_last(context, *line)),
        })
    };
    folding.troubles().iter().filter_map(finding).collect()
}

fn folded_last(context: &Context<'_>, line: LineId) -> Option<Fix> {
    let mut steps = context.document.steps.clone();
    steps.push(context.layout.step_of(&[line]));
    let has_it = steps.last().is_some_and(|step| !step.is_empty());
    let label = format!("Fold {} last, in a step of its own", context.layout.line_name(context.document, line));
    has_it.then(|| Fix::new(label, Edit::SetSteps(steps)))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::four_flaps;
    use crate::testing::{mended, said};

    #[test]
    fn a_score_in_no_step_is_named() {
        let mut document = four_flaps();
        document.steps.pop();
        let says = "\"Score 4\" is in no step of the closing order, so it stays flat.";
        assert_eq!(said(&document, "never-folds"), [says]);
        let [(label, folded)] = mended(&document, "never-folds").try_into().unwrap();
        assert_eq!((label.as_str(), folded), ("Fold Score 4 last, in a step of its own", four_flaps()));
    }
}
