//! Paper may tear where a cut ends within it, or where a corner points inwards.

use super::Rule;
use crate::measure::Paper;
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::to_world;
use model::{InnerCorner, Layout, Panel, PanelId, Point};
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    name: "tearing-corner",
    severities: &[Severity::Warning, Severity::Note],
    about: "Paper may tear where a cut ends within it, or where a corner points inwards.\n\n\
            Pulled, paper tears on from a sharp inner corner: the strain gathers there, the more the sharper it is \
            (Inglis 1913, from memory), which is why slits end in a punched hole. A fold that ends in the corner \
            takes the strain off where it leaves no panel with more than a half turn of paper: so it is at the \
            cut-away corner between two flaps, of which nothing is said. Where a fold ends there and a panel still \
            goes round the corner, every closing pulls at it.",
    example: "The base may tear where a cut ends in it, 2 in from the left and 6 in from the top of the sheet.",
    check,
};

/// Turns by less than this are the joints of a curve: the sine of 17°, as in the layout's own list of inner corners.
const STRAIGHT: f64 = 0.3;

fn check(context: &Context<'_>) -> Vec<Finding> {
    context.papers().iter().flat_map(|paper| corners(context, paper)).collect()
}

/// The inner corners of a panel from which it may tear.
#[derive(Default)]
struct Torn<'a> {
    at: Vec<&'a InnerCorner>,
    /// Those of them at which something folds.
    folded: usize,
}

/// The inner corners of a paper, panel by panel.
fn corners(context: &Context<'_>, paper: &Paper<'_>) -> Vec<Finding> {
    // A part's own little sheet numbers its panels itself, in the same order.
    let (layout, places): (&Layout, BTreeMap<PanelId, PanelId>) = match paper.part {
        None => (context.layout, paper.panels.iter().map(|panel| (panel.id, panel.id)).collect()),
        Some((_, laid)) => {
            let own = laid.sheet.folio().into_iter().flat_map(|folio| &folio.panels);
            (&laid.sheet, own.copied().zip(laid.panels.iter().map(|panel| panel.id)).collect())
        }
    };
    let mut torn: BTreeMap<PanelId, Torn<'_>> = BTreeMap::new();
    for corner in &layout.inner_corners {
        // The end of a cut with one panel all round is no corner of its outline.
        let is_all_round = corner.ends_cut && corner.folds == 0;
        let goes_round = |id: &&PanelId| is_all_round || goes_round(layout.panel(**id), corner.at);
        let Some(place) = corner.panels.iter().find(goes_round).and_then(|panel| places.get(panel)) else { continue };
        let of = torn.entry(*place).or_default();
        of.at.push(corner);
        of.folded += usize::from(corner.folds > 0);
    }
    torn.iter().map(|(panel, torn)| finding(context, paper, *panel, torn)).collect()
}

/// Whether a panel has clearly more than a half turn of paper round a point of its boundary.
fn goes_round(panel: &Panel, at: Point) -> bool {
    let turns = |boundary: &Vec<Point>| {
        let n = boundary.len();
        (0..n).filter(|&i| boundary[i] == at).any(|i| {
            let [before, here, after] = [boundary[(i + n - 1) % n], at, boundary[(i + 1) % n]].map(to_world);
            let (from, to) = ((here - before).normalize_or_zero(), (after - here).normalize_or_zero());
            // Boundaries have their paper on the right, so a turn to the left is inwards.
            let left = from.perp_dot(to);
            left > STRAIGHT || (left > 0.0 && from.dot(to) < 0.0)
        })
    };
    turns(&panel.outline) || panel.holes.iter().any(turns)
}

fn finding(context: &Context<'_>, paper: &Paper<'_>, panel: PanelId, torn: &Torn<'_>) -> Finding {
    let first = torn.at.iter().find(|corner| torn.folded == 0 || corner.folds > 0).or(torn.at.first());
    let at = first.map(|corner| corner.at);
    let mut place = at.map(|at| context.place(at)).unwrap_or_default();
    if paper.part.is_some() {
        place = place.replace("the sheet", "its own sheet");
    }
    let kind = if first.is_some_and(|corner| corner.ends_cut) { "a cut ends in it" } else { "it is cut to a corner" };
    let more = match torn.at.len() {
        0 | 1 => String::new(),
        all => format!(", and at {} more", all - 1),
    };
    let why = if torn.folded > 0 { ", where a fold pulls at it" } else { "" };
    let words = format!("{} may tear where {kind}{why}, {place}{more}.", context.the(panel));
    Finding {
        rule: RULE.name,
        severity: if torn.folded > 0 { Severity::Warning } else { Severity::Note },
        sentence: sentence(&words),
        mend: "Punch a small hole there, cut it round, or glue a patch behind it.".to_owned(),
        spot: Spot { panels: vec![panel], at: at.filter(|_| paper.part.is_none()), ..Spot::default() },
        fixes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, at, four_flaps, length};
    use crate::testing::{findings, said};
    use model::Length;
    use model::part::{Own, Part, Placement, Source};
    use model::{Crease, Document, Line, LineId, PanelRef, PartId, PartKind, Place, Size, Spot, Turn, Work};

    fn drawn(from: (&str, &str), to: (&str, &str)) -> Place {
        let spot = |(x, y): (&str, &str)| Spot::At(at(x, y));
        Place::Drawn { from: spot(from), to: spot(to), bow: Length::ZERO }
    }

    #[track_caller]
    fn severities(document: &Document, expected: &[Severity]) {
        let found = findings(document).into_iter().filter(|finding| finding.rule == "tearing-corner");
        let found: Vec<_> = found.map(|finding| finding.severity).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn a_cut_that_ends_within_paper_is_a_note_with_its_place() {
        let slit = Sketch::on("12x12in").line(1, drawn(("0", "6"), ("2", "6")), Work::Cut).base("8", "8").0;
        let says = "The base may tear where a cut ends in it, 2 in from the left and 6 in from the top of the sheet.";
        assert_eq!(said(&slit, "tearing-corner"), [says]);
        severities(&slit, &[Severity::Note]);
        // A slit with both ends in the paper, and one from edge to edge.
        let inner = Sketch::on("12x12in").line(1, drawn(("4", "6"), ("6", "6")), Work::Cut).base("8", "8").0;
        assert!(said(&inner, "tearing-corner")[0].ends_with("of the sheet, and at 1 more."));
        let through = Sketch::on("12x12in").line(1, drawn(("0", "6"), ("12", "6")), Work::Cut).base("8", "8").0;
        assert_eq!(said(&through, "tearing-corner"), [""; 0]);
    }

    #[test]
    fn a_fold_that_ends_in_the_corner_takes_the_strain_off() {
        assert_eq!(said(&four_flaps(), "tearing-corner"), [""; 0]);
        // Two flaps beside one another: the cut between them ends on their fold.
        let pair = Sketch::on("12x12in").score(1, Turn::None, "4").line(2, drawn(("0", "6"), ("4", "6")), Work::Cut);
        assert_eq!(said(&pair.base("8", "8").0, "tearing-corner"), [""; 0]);
    }

    /// A sheet of which the upper left corner is cut away, 3 in square.
    fn angular() -> Sketch {
        let cut = Sketch::on("12x12in").line(1, drawn(("3", "0"), ("3", "3")), Work::Cut);
        cut.line(2, drawn(("0", "3"), ("3", "3")), Work::Cut).base("8", "8")
    }

    #[test]
    fn a_panel_cut_to_a_corner_is_a_note_and_one_with_a_fold_pulling_at_it_a_warning() {
        let says =
            "The base may tear where it is cut to a corner, 3 in from the left and 3 in from the top of the sheet.";
        assert_eq!(said(&angular().0, "tearing-corner"), [says]);
        severities(&angular().0, &[Severity::Note]);
        // A fold that leaves the corner at 45°: 225° of the base go round it.
        let pulled = angular().line(3, drawn(("3", "3"), ("0", "6")), Work::Score(Crease::VALLEY)).0;
        severities(&pulled, &[Severity::Warning]);
        assert!(said(&pulled, "tearing-corner")[0].contains("where a fold pulls at it"));
        // Straight on from one of the cuts, it leaves 90° and 180°.
        severities(&angular().line(3, drawn(("3", "3"), ("3", "12")), Work::Score(Crease::VALLEY)).0, &[]);
    }

    #[test]
    fn corners_of_what_is_cut_off_are_no_matter() {
        // A slit in the strip that comes off at the left.
        let strip = Sketch::on("12x12in").score(1, Turn::None, "4").base("8", "8");
        let mut strip = strip.line(2, drawn(("0", "6"), ("2", "6")), Work::Cut).0;
        assert_eq!(said(&strip, "tearing-corner").len(), 1);
        strip.lines[0].work = Work::Cut;
        assert_eq!(said(&strip, "tearing-corner"), [""; 0]);
    }

    #[test]
    fn a_part_is_told_with_the_place_on_its_own_sheet() {
        let mut document = Sketch::on("12x12in").base("6", "6").0;
        let slit = Line::new(LineId(1), drawn(("2", "0"), ("2", "1")), Work::Cut);
        let own = Own {
            size: Size::new(length("4"), length("3")).unwrap(),
            lines: vec![slit],
            corners: Vec::new(),
            base: at("1", "2"),
            folded: Vec::new(),
        };
        let place = Placement::centred(PanelRef::Sheet(document.base.unwrap()));
        let (name, kind, source) = ("Label".to_owned(), PartKind::Own(own), Source::FolioStock);
        document.parts.push(Part { id: PartId(1), name, kind, source, place, also: Vec::new() });
        let says =
            "\"Label\" may tear where a cut ends in it, 2 in from the left and 1 in from the top of its own sheet.";
        assert_eq!(said(&document, "tearing-corner"), [says]);
    }
}
