//! What is said of a corner can't be done: it is not there, a fold ends in it, or it takes more of a side than there is.
//!
//! The corner stays square until it is mended, so the design is not what the maker thinks it is.

use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use model::{Border, CornerFault, CornerShape, CornerTrouble, Which};

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    context.layout.corner_troubles.iter().filter_map(|trouble| finding(context, trouble)).collect()
}

fn finding(context: &Context<'_>, trouble: &CornerTrouble) -> Option<Finding> {
    let corner = context.document.corners.get(trouble.by)?;
    let unit = context.document.units;
    let panel = trouble.panel;
    let shape = match corner.shape {
        CornerShape::Square => "left square".to_owned(),
        CornerShape::Round(radius) => format!("rounded by {}", radius.readable(unit)),
        CornerShape::Clip(distance) => format!("clipped by {}", distance.readable(unit)),
    };
    let which = match (corner.which, panel) {
        (Which::Between(a, b), Some(panel)) => {
            format!("the corner of {} between {} and {}", context.the(panel), border(context, a), border(context, b))
        }
        (_, Some(panel)) if trouble.at == corner.mark => format!("the corners of {}", context.the(panel)),
        (_, Some(panel)) => format!("the corner of {} {}", context.the(panel), context.place(trouble.at)),
        (_, None) => format!("a corner {}", context.place(trouble.at)),
    };
    let (why, mend) = match trouble.fault {
        CornerFault::NoPanel => {
            ("there is no panel any more".to_owned(), "Take the corner out, or set it anew.".to_owned())
        }
        CornerFault::MarkTakenOff => {
            return Some(Finding {
                rule: "misplaced-corner",
                severity: Severity::Warning,
                sentence: format!("What is said of {which} is marked on paper that is taken off."),
                mend: "Choose the corner anew.".to_owned(),
                spot: Spot { at: Some(trouble.at), ..Spot::default() },
                fixes: Vec::new(),
            });
        }
        CornerFault::NotThere => ("the two don't meet there".to_owned(), "Choose the corner anew.".to_owned()),
        CornerFault::NotFree => (
            "a fold ends there or the paper goes on round it".to_owned(),
            "Leave it square, or cut the fold away there.".to_owned(),
        ),
        CornerFault::NoneFree => (
            "a fold ends in each of them or the paper goes on round it".to_owned(),
            "Leave them square, or choose another panel.".to_owned(),
        ),
        CornerFault::Curved => {
            ("one of its sides is a curve".to_owned(), "Let the curve end where the corner should.".to_owned())
        }
        CornerFault::NoMeasure => {
            ("that is no measure".to_owned(), "Give a radius or a distance of more than nothing.".to_owned())
        }
        CornerFault::TooLarge(most) => (
            format!("there is room for {} only", most.readable(unit)),
            format!("Make it {} at most.", most.readable(unit)),
        ),
    };
    Some(Finding {
        rule: "misplaced-corner",
        severity: Severity::Warning,
        sentence: format!("{} can't be {shape}: {why}.", sentence(&which)),
        mend,
        spot: Spot { panels: panel.into_iter().collect(), at: Some(trouble.at), ..Spot::default() },
        fixes: Vec::new(),
    })
}

fn border(context: &Context<'_>, border: Border) -> String {
    match border {
        Border::Edge(edge) => format!("the sheet's {} edge", edge.word()),
        Border::Line(id) => context.line(id),
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::said;
    use model::{Border, Corner, CornerShape, LineId, SheetEdge, Turn, Which};

    #[track_caller]
    fn check(which: Which, shape: CornerShape, says: &[&str]) {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").0;
        document.corners = vec![Corner { mark: at("1", "6"), which, shape }];
        assert_eq!(said(&document, "misplaced-corner"), says);
    }

    #[test]
    fn a_corner_says_why_it_stays_square() {
        let top = Border::Edge(SheetEdge::Top);
        let left = Border::Edge(SheetEdge::Left);
        let fold = Border::Line(LineId(1));
        let round = |radius| CornerShape::Round(length(radius));
        check(Which::Between(left, top), round("1"), &[]);
        check(Which::AllOfPanel, round("1"), &[]);
        check(
            Which::Between(top, fold),
            round("1"),
            &[
                "The corner of the left flap between the sheet's top edge and \"Score 1\" can't be rounded by 1 in: a fold \
               ends there or the paper goes on round it.",
            ],
        );
        check(
            Which::AllOfPanel,
            round("-1"),
            &["The corners of the left flap can't be rounded by -1 in: that is no measure."],
        );
        check(
            Which::Between(left, Border::Line(LineId(7))),
            CornerShape::Clip(length("1/4")),
            &[
                "The corner of the left flap between the sheet's left edge and \"Score 7\" can't be clipped by 1/4 in: the two \
               don't meet there.",
            ],
        );
        check(
            Which::Between(left, top),
            round("3 1/2"),
            &[
                "The corner of the left flap between the sheet's left edge and the sheet's top edge can't be rounded by \
               3 1/2 in: there is room for 3 in only.",
            ],
        );
    }

    #[test]
    fn a_mark_outside_of_every_panel_is_told() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").0;
        document.corners =
            vec![Corner { mark: at("3", "6"), which: Which::AllOfPanel, shape: CornerShape::Round(length("1")) }];
        let says = said(&document, "misplaced-corner");
        assert!(says[0].ends_with("can't be rounded by 1 in: there is no panel any more."), "{says:?}");
    }
}
