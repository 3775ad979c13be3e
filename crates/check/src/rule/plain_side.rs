//! The closed folio shows the plain side of paper whose other side is printed.

use super::Rule;
use crate::measure::closed_at;
use crate::shown::{LEAST_SHARE, SeenFace, papers, per_cent, seen};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::View;
use model::{Edit, PanelId, Pattern, SheetEdge, Side, Stock};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "plain-side",
    severities: &[Severity::Note],
    about: "The closed folio shows the plain side of paper whose other side is printed.\n\n\
            Paper printed on one side shows its back wherever a flap folds over or the folio is turned round. That \
            can be meant, so it is a note, with how much of what is seen it is.",
    example: "The closed folio shows the plain side of printed paper on 100 % of its front and 100 % of its back.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    finding(context).into_iter().collect()
}

fn finding(context: &Context<'_>) -> Option<Finding> {
    let (_, folding) = context.folded?;
    let is_one_sided = |stock: &Stock| is_printed(&stock.front) != is_printed(&stock.back);
    if folding.steps() == 0 || !papers(context).any(is_one_sided) {
        return None;
    }
    let views = View::ALL.map(|view| seen(context, closed_at(folding), view));
    let plain = |faces: &[SeenFace<'_>]| faces.iter().filter(|face| is_plain(face)).map(|face| face.share).sum::<f64>();
    let shares: Vec<(View, f64)> = View::ALL.into_iter().zip(views.each_ref().map(|faces| plain(faces))).collect();
    let told: Vec<&(View, f64)> = shares.iter().filter(|(_, share)| *share >= LEAST_SHARE).collect();
    if told.is_empty() {
        return None;
    }
    let of = told.iter().map(|(view, share)| format!("{} of its {}", per_cent(*share), view.word()));
    let all: Vec<&SeenFace<'_>> = views.iter().flatten().collect();
    let shows_plain = |face: &&&SeenFace<'_>| is_plain(face) && face.share >= LEAST_SHARE;
    let panels: BTreeSet<PanelId> = all.iter().filter(shows_plain).map(|face| face.panel).collect();
    let fix = turned_over(context, &all);
    let turn = if fix.is_some() { "Turn the paper over before it is scored, or cover" } else { "Cover" };
    let words = model::words::listed(of);
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!("The closed folio shows the plain side of printed paper on {words}."),
        mend: format!("{turn} what shows with mats; leave it if it is meant."),
        spot: Spot { panels: panels.into_iter().collect(), ..Spot::default() },
        fixes: fix.into_iter().collect(),
    })
}

fn is_printed(side: &Side) -> bool {
    side.pattern != Pattern::Plain || side.artwork.is_some()
}

fn is_plain(face: &SeenFace<'_>) -> bool {
    !is_printed(face.side()) && is_printed(face.stock.side(face.face.other()))
}

/// The paper turned over, where all that shows of it is plain now, so that all will be printed, and nothing is cut from
/// what is left of it.
fn turned_over(context: &Context<'_>, faces: &[&SeenFace<'_>]) -> Option<Fix> {
    let document = context.document;
    let stock = &document.stock;
    let has_parts_of_it = document.parts.iter().any(|part| part.stock(document) == Some(stock));
    // What shows of other papers stays as it is.
    if has_parts_of_it || faces.iter().any(|face| face.part.is_some() == is_plain(face)) {
        return None;
    }
    // About its upright middle, as a page is turned: left and right change places.
    let over = |side: &Side| {
        let pattern = match side.pattern {
            Pattern::OneWay(SheetEdge::Left) => Pattern::OneWay(SheetEdge::Right),
            Pattern::OneWay(SheetEdge::Right) => Pattern::OneWay(SheetEdge::Left),
            pattern => pattern,
        };
        Side { pattern, ..side.clone() }
    };
    let turned = Stock { front: over(&stock.back), back: over(&stock.front), ..stock.clone() };
    Some(Fix::new("Turn the paper over", Edit::SetStock(turned)))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps};
    use crate::testing::part::{flap_and_base, mat, part};
    use crate::testing::{mends, said};
    use model::{Document, Face, Pattern, SheetEdge, Turn};

    /// A strip of 12 by 6 in folded in half, printed on one side.
    fn half(printed: Face) -> Document {
        let mut document = Sketch::on("12x6in").score(1, Turn::None, "6").base("9", "3").steps(&[&[1]]).0;
        document.stock.side_mut(printed).pattern = Pattern::AnyWay;
        document
    }

    #[test]
    fn paper_with_its_print_inside_is_told_and_turned_over() {
        let inside = half(Face::Front);
        let says =
            "The closed folio shows the plain side of printed paper on 100 % of its front and 100 % of its back.";
        assert_eq!(said(&inside, "plain-side"), [says]);
        assert_eq!(mends(&inside, "plain-side"), ["Turn the paper over"]);
        assert_eq!(said(&half(Face::Back), "plain-side"), [""; 0]);
    }

    #[test]
    fn paper_that_is_plain_or_printed_on_both_sides_is_no_matter() {
        let mut document = half(Face::Front);
        document.stock.back.pattern = Pattern::OneWay(SheetEdge::Top);
        assert_eq!(said(&document, "plain-side"), [""; 0]);
        (document.stock.front.pattern, document.stock.back.pattern) = (Pattern::Plain, Pattern::Plain);
        assert_eq!(said(&document, "plain-side"), [""; 0]);
    }

    #[test]
    fn the_share_is_what_a_flap_covers() {
        // A flap of 3 in over a base of 9 by 12: a third of the front shows its back, by hand.
        let mut document = flap_and_base(Vec::new());
        document.stock.front.pattern = Pattern::AnyWay;
        let says = "The closed folio shows the plain side of printed paper on 33 % of its front and 100 % of its back.";
        assert_eq!(said(&document, "plain-side"), [says]);
        assert_eq!(mends(&document, "plain-side"), [""; 0], "turned over, the other two thirds would be plain");
        document.stock.front.pattern = Pattern::Plain;
        document.stock.back.pattern = Pattern::AnyWay;
        let says = "The closed folio shows the plain side of printed paper on 67 % of its front.";
        assert_eq!(said(&document, "plain-side"), [says]);
    }

    #[test]
    fn a_mat_covers_what_is_plain() {
        let mut document = half(Face::Back);
        document.stock.back.pattern = Pattern::Plain;
        document.stock.front.pattern = Pattern::AnyWay;
        let flap = model::PanelRef::Sheet(crate::testing::common::at("3", "3"));
        let mut cover = part(1, mat("6", "6"), flap);
        cover.place.face = Face::Back;
        document.parts.push(cover);
        let says = "The closed folio shows the plain side of printed paper on 100 % of its back.";
        assert_eq!(said(&document, "plain-side"), [says]);
    }

    #[test]
    fn an_open_sheet_is_not_closed() {
        let mut open = four_flaps();
        open.steps.clear();
        open.stock.back.pattern = Pattern::AnyWay;
        assert_eq!(said(&open, "plain-side"), [""; 0]);
    }
}
