//! What is said of a corner can't be done: it is not there, a fold ends in it, or it takes more of a side than there is.

use super::Rule;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::placing::finest;
use model::{Border, Corner, CornerFault, CornerShape, CornerTrouble, Edit, Length, Which};

pub(super) const RULE: Rule = Rule {
    name: "misplaced-corner",
    severities: &[Severity::Warning],
    about: "What is said of a corner can't be done: it is not there, a fold ends in it, or it takes more of a side \
            than there is.\n\n\
            The corner stays square until it is mended, so the design is not what the maker thinks it is.",
    example: "The corner of the left flap between the sheet's top edge and \"Score 1\" can't be rounded by 1 in: a fold ends there or the paper goes on round it.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::plain();
    context.layout.corner_troubles.iter().filter_map(|trouble| finding(context, trouble, &offers)).collect()
}

fn finding(context: &Context<'_>, trouble: &CornerTrouble, offers: &Offers<'_>) -> Option<Finding> {
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
                rule: RULE.name,
                severity: Severity::Warning,
                sentence: format!("What is said of {which} is marked on paper that is taken off."),
                mend: "Choose the corner anew.".to_owned(),
                spot: Spot { at: Some(trouble.at), ..Spot::default() },
                fixes: offers.of(|| marked_anew(context, trouble.by)),
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
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!("{} can't be {shape}: {why}.", sentence(&which)),
        mend,
        spot: Spot { panels: panel.into_iter().collect(), at: Some(trouble.at), ..Spot::default() },
        fixes: offers.of(|| fixes(context, trouble, *corner)),
    })
}

fn fixes(context: &Context<'_>, trouble: &CornerTrouble, corner: Corner) -> Vec<Fix> {
    let unit = context.document.units;
    let of_one = matches!(corner.which, Which::Between(..));
    let left = |label: &str| taken_out(context, trouble.by, label);
    match trouble.fault {
        CornerFault::TooLarge(_) => {
            let most = most(context, trouble.by);
            let (word, shape) = match corner.shape {
                CornerShape::Round(_) => ("Round", CornerShape::Round(most)),
                CornerShape::Clip(_) | CornerShape::Square => ("Clip", CornerShape::Clip(most)),
            };
            let what = if of_one { "it" } else { "them" };
            let mut corners = context.document.corners.clone();
            corners[trouble.by].shape = shape;
            let smaller = Fix::new(format!("{word} {what} by {}", most.readable(unit)), Edit::SetCorners(corners));
            let smaller = (most > Length::ZERO).then_some(smaller);
            // Of several, others may well be shaped as said.
            smaller.into_iter().chain(of_one.then(|| left("Leave it square"))).collect()
        }
        CornerFault::NotFree | CornerFault::NoMeasure if of_one => vec![left("Leave it square")],
        CornerFault::Curved if !of_one => Vec::new(),
        CornerFault::Curved => vec![left("Leave it square")],
        CornerFault::NoneFree | CornerFault::NotFree | CornerFault::NoMeasure => vec![left("Leave them square")],
        CornerFault::NoPanel | CornerFault::NotThere | CornerFault::MarkTakenOff => vec![left("Take the corner out")],
    }
}

/// The largest measure that there is room for at every corner that one thing is said of, down to what a ruler shows.
fn most(context: &Context<'_>, by: usize) -> Length {
    let room = context.layout.corner_troubles.iter().filter(|trouble| trouble.by == by).filter_map(|trouble| {
        let CornerFault::TooLarge(most) = trouble.fault else { return None };
        Some(most)
    });
    let most = room.min().unwrap_or_default();
    let shown = most - Length::from_nm(most.nm() % finest(context.document.units).nm());
    if shown > Length::ZERO { shown } else { most }
}

fn taken_out(context: &Context<'_>, by: usize, label: &str) -> Fix {
    let mut corners = context.document.corners.clone();
    corners.remove(by);
    Fix::new(label, Edit::SetCorners(corners))
}

/// Marks what is said of corners inside a panel whose corners it shapes.
fn marked_anew(context: &Context<'_>, by: usize) -> Option<Fix> {
    let work = context.layout.corners.iter().find(|work| work.by == by)?;
    let panel = context.layout.panel(work.corners.first()?.panel);
    let mut corners = context.document.corners.clone();
    corners.get_mut(by)?.mark = panel.inside?;
    Some(Fix::new(format!("Mark it in the middle of {}", context.the(panel.id)), Edit::SetCorners(corners)))
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
    use crate::testing::{mended, mends, said};
    use model::{Border, Corner, CornerShape, Document, LineId, SheetEdge, Turn, Which};

    fn with(which: Which, shape: CornerShape) -> Document {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").0;
        document.corners = vec![Corner { mark: at("1", "6"), which, shape }];
        document
    }

    #[track_caller]
    fn check(which: Which, shape: CornerShape, says: &[&str]) {
        let document = with(which, shape);
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

    #[test]
    fn a_corner_gets_what_there_is_room_for_or_is_left_square() {
        let left = Border::Edge(SheetEdge::Left);
        let between = |border| Which::Between(left, border);
        let round = |radius| CornerShape::Round(length(radius));
        let large = with(between(Border::Edge(SheetEdge::Top)), round("3 1/2"));
        let [(label, smaller), (other, square)] = mended(&large, "misplaced-corner").try_into().unwrap();
        assert_eq!((label.as_str(), smaller.corners[0].shape), ("Round it by 3 in", round("3")));
        assert_eq!((other.as_str(), square.corners.len()), ("Leave it square", 0));
        // Both free corners of the flap: its upper and its lower side are 3 in long.
        let clip = with(Which::AllOfPanel, CornerShape::Clip(length("7")));
        let [(label, smaller)] = mended(&clip, "misplaced-corner").try_into().unwrap();
        assert_eq!((label.as_str(), smaller.corners[0].shape), ("Clip them by 3 in", CornerShape::Clip(length("3"))));
        // On a flap of 7 in the two share a left side of 12 in.
        let mut wide = Sketch::on("12x12in").score(1, Turn::None, "7").base("9", "6").0;
        wide.corners = vec![Corner { shape: CornerShape::Clip(length("8")), ..clip.corners[0] }];
        assert_eq!(mends(&wide, "misplaced-corner"), ["Clip them by 6 in"]);
        let labels = |document| mends(&document, "misplaced-corner");
        assert_eq!(labels(with(between(Border::Line(LineId(7))), round("1"))), ["Take the corner out"]);
        assert_eq!(labels(with(Which::AllOfPanel, round("-1"))), ["Leave them square"]);
    }

    #[test]
    fn a_mark_on_paper_that_is_taken_off_is_set_inside() {
        let mut document = with(Which::AllOfPanel, CornerShape::Clip(length("2")));
        document.corners[0].mark = at("1/4", "1/4");
        let [(label, marked)] = mended(&document, "misplaced-corner").try_into().unwrap();
        assert_eq!(label, "Mark it in the middle of the left flap");
        assert_eq!(model::Layout::of(&marked).panels, model::Layout::of(&document).panels);
    }
}
