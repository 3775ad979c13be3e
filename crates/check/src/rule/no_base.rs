//! No panel is marked to lie still, so nothing can fold.

use crate::{Context, Finding, Severity, Spot};

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    if context.layout.base.is_some() {
        return Vec::new();
    }
    let sentence = match context.document.base {
        None => "No panel is marked as the base, so nothing can fold round it.".to_owned(),
        Some(at) => format!("The mark for the base lies in no panel: it is {}.", context.place(at)),
    };
    let mend = "Select the panel that should lie still and make it the base.".to_owned();
    vec![Finding {
        rule: "no-base",
        severity: Severity::Error,
        sentence,
        mend,
        spot: Spot::default(),
        fixes: Vec::new(),
    }]
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{at, four_flaps};
    use crate::testing::said;

    #[test]
    fn a_design_without_a_base_is_told() {
        let mut document = four_flaps();
        assert_eq!(said(&document, "no-base"), [""; 0]);
        document.base = None;
        assert_eq!(said(&document, "no-base"), ["No panel is marked as the base, so nothing can fold round it."]);
        document.base = Some(at("3", "6"));
        let lies =
            "The mark for the base lies in no panel: it is 3 in from the left and 6 in from the top of the sheet.";
        assert_eq!(said(&document, "no-base"), [lies]);
    }
}
