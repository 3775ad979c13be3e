//! A step of the closing order folds nothing.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::Edit;

pub(super) const RULE: Rule = Rule {
    name: "empty-step",
    severities: &[Severity::Note],
    about: "A step of the closing order folds nothing.\n\n\
            Its lines fold nothing in the folio any more, or have folded in a step before; a line folds once. The \
            closed folio is the same without it, and a maker who follows the steps looks for what to do there in vain.",
    example: "Step 2 folds nothing: \"Score 1\" has folded in step 1.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let steps = assembly.steps.iter().enumerate();
    // What a part folds that is left out or has no place is told with that.
    let is_there = |id| context.layout.part(id).is_some() && !assembly.left_out.contains_key(&id);
    let all_there = |step: usize| {
        let step = context.document.steps.get(step);
        step.is_some_and(|step| step.parts.iter().all(|&(id, _)| is_there(id)))
    };
    let empty = steps.filter(|(at, step)| step.joints.is_empty() && step.tucks.is_empty() && all_there(*at));
    let offers = Offers::plain();
    empty.filter_map(|(step, _)| finding(context, step, &offers)).collect()
}

fn finding(context: &Context<'_>, step: usize, offers: &Offers<'_>) -> Option<Finding> {
    let document = context.document;
    let lines = context.layout.lines_of(document.steps.get(step)?);
    let first = |line| document.steps[..step].iter().position(|before| context.layout.lines_of(before).contains(line));
    let again = lines.iter().find_map(|line| Some((context.line(*line), first(line)?)));
    let why = match (again, lines.first()) {
        (Some((line, before)), _) => format!(": {line} has folded in step {}", before + 1),
        (None, Some(line)) => format!(": {} is no fold of the folio", context.line(*line)),
        (None, None) => String::new(),
    };
    let without = || {
        let mut left = document.steps.clone();
        left.remove(step);
        Some(Fix::new(format!("Take step {} out", step + 1), Edit::SetSteps(left)))
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!("Step {} folds nothing{why}.", step + 1),
        mend: "Take the step out, or put a score into it that has not folded yet.".to_owned(),
        spot: Spot { lines, step: Some(step), ..Spot::default() },
        fixes: offers.of(without),
    })
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps};
    use crate::testing::{mended, said};
    use model::{Document, LineId, Step, Turn};

    fn strip(steps: &[&[u32]]) -> Document {
        Sketch::on("12x6in").score(1, Turn::None, "3").score(2, Turn::None, "9").base("6", "3").steps(steps).0
    }

    #[test]
    fn a_line_that_has_folded_before_is_named_and_the_step_taken_out() {
        let twice = strip(&[&[1], &[1], &[2]]);
        assert_eq!(said(&twice, "empty-step"), ["Step 2 folds nothing: \"Score 1\" has folded in step 1."]);
        let [(label, mended)] = mended(&twice, "empty-step").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Take step 2 out", strip(&[&[1], &[2]])));
        assert_eq!(said(&strip(&[&[1], &[1, 2]]), "empty-step"), [""; 0], "the other line folds there");
    }

    #[test]
    fn a_cut_folds_nothing() {
        let mut document = four_flaps();
        document.base = Some(crate::testing::common::at("6", "6"));
        document.steps = vec![Step::of(vec![LineId(1)]), Step::of(vec![LineId(11)])];
        assert_eq!(said(&document, "empty-step"), ["Step 2 folds nothing: \"Cut 11\" is no fold of the folio."]);
    }
}
