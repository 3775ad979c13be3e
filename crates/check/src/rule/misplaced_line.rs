//! A line has no place on the sheet: it lies beyond the edge, or what it is placed by is gone or goes in a circle.
//!
//! It is left out of everything until it is mended, so the design is not what the maker thinks it is.

use crate::{Context, Finding, Severity, Spot};

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let finding = |(&id, fault): (&model::LineId, &model::LineFault)| Finding {
        rule: "misplaced-line",
        severity: Severity::Error,
        sentence: format!("{} {}.", context.line(id), fault.phrase(context.document)),
        mend: "Give it a distance and a run that lie on the sheet, or delete it.".to_owned(),
        spot: Spot { lines: vec![id], ..Spot::default() },
    };
    let faults = context.layout.lines.iter().filter_map(|(id, placed)| Some((id, placed.as_ref().err()?)));
    faults.map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, length};
    use crate::testing::said;
    use model::Turn;

    #[test]
    fn a_line_past_the_sheet_says_by_how_much() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").0;
        assert_eq!(said(&document, "misplaced-line"), [""; 0]);
        document.lines[0] = model::change::measured_score(model::LineId(1), Turn::None, length("12 1/4"));
        assert_eq!(said(&document, "misplaced-line"), ["\"Score 1\" lies 1/4 in beyond the edge of the sheet."]);
    }
}
