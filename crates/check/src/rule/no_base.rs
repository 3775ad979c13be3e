//! No panel is marked to lie still, so nothing can fold.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::{Edit, PanelId};
use std::cmp::Reverse;
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "no-base",
    severities: &[Severity::Error],
    about: "No panel is marked to lie still, so nothing can fold.",
    example: "No panel is marked as the base, so nothing can fold round it.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    if context.layout.base.is_some() {
        return Vec::new();
    }
    let sentence = match context.document.base {
        None => "No panel is marked as the base, so nothing can fold round it.".to_owned(),
        Some(at) => format!("The mark for the base lies in no panel: it is {}.", context.place(at)),
    };
    let mend = "Select the panel that should lie still and make it the base.".to_owned();
    vec![Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence,
        mend,
        spot: Spot::default(),
        fixes: largest(context).into_iter().collect(),
    }]
}

/// Lets the largest panel lie still, of those that something folds by where there are any: what is cut off may be larger. Of
/// several, the first in reading order.
fn largest(context: &Context<'_>) -> Option<Fix> {
    let Context { layout, .. } = *context;
    let folded: BTreeSet<PanelId> = layout.folds.iter().flat_map(|fold| fold.panels).collect();
    let counts = |panel: &&model::Panel| folded.is_empty() || folded.contains(&panel.id);
    let inside = |panel: &model::Panel| Some((panel.area, Reverse(panel.id), panel.inside?));
    let (.., at) = layout.panels.iter().filter(counts).filter_map(inside).max()?;
    Some(Fix::new("Make the largest panel the base", Edit::SetBase(Some(at))))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{at, four_flaps, length};
    use crate::testing::{mended, said};

    #[test]
    fn a_design_without_a_base_is_told() {
        let mut document = four_flaps();
        assert_eq!(said(&document, "no-base"), [""; 0]);
        document.base = None;
        assert_eq!(said(&document, "no-base"), ["No panel is marked as the base, so nothing can fold round it."]);
        let [(label, based)] = mended(&document, "no-base").try_into().unwrap();
        assert_eq!(label, "Make the largest panel the base");
        // The middle one, of 6 by 6 in; every other is 3 in wide or high.
        let is_middle = |point: model::Point| [point.x, point.y].iter().all(|&at| at > length("3") && at < length("9"));
        assert!(based.base.is_some_and(is_middle), "{:?}", based.base);
        // What is cut off is no base, however large.
        let mut offcut = crate::testing::common::Sketch::on("12x12in").score(1, model::Turn::None, "3").0;
        let cut = model::change::measured_score(model::LineId(2), model::Turn::None, length("5"));
        offcut.lines.push(model::Line { work: model::Work::Cut, ..cut });
        offcut.base = None;
        let [(_, based)] = mended(&offcut, "no-base").try_into().unwrap();
        assert!(based.base.is_some_and(|base| base.x < length("5")), "{:?}", based.base);
        let mut document = four_flaps();
        document.base = Some(at("3", "6"));
        let lies =
            "The mark for the base lies in no panel: it is 3 in from the left and 6 in from the top of the sheet.";
        assert_eq!(said(&document, "no-base"), [lies]);
    }
}
