//! Where scores are pressed on a sheet with parts cut from its offcuts.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, four_flaps, length, line};
use foliowright_model::board::{ScoringTable, scoring_table, scoring_table_sparing};
use foliowright_model::pressed::pressed;
use foliowright_model::{
    Crease, Direction, Document, Face, Layout, Length, LineId, PieceId, Place, Spot, Stop, Turn, Work,
};
use std::collections::BTreeSet;

/// Four flaps, the corners cut off, and a score down the left flap that crosses both of its corners.
fn crossed() -> Sketch {
    Sketch(four_flaps()).score(5, Turn::None, "2").base("6", "6")
}

/// The pieces round these points, in inches.
fn pieces(layout: &Layout, points: &[(&str, &str)]) -> BTreeSet<PieceId> {
    points.iter().map(|(x, y)| layout.panel(layout.panel_at(at(x, y)).unwrap()).piece).collect()
}

/// From where to where a line is pressed, with its face, turn and distance, as the table says it.
fn runs(table: &ScoringTable, id: u32) -> Vec<(Face, Turn, Length, Length, Length)> {
    let turns = table.turns.iter().flat_map(|turn| turn.scores.iter().map(move |(across, runs)| (turn, across, runs)));
    turns
        .flat_map(|(turn, across, runs)| {
            let own = runs.iter().filter(|run| run.line == LineId(id));
            own.map(|run| (turn.face, turn.turn, *across, run.from, run.to))
        })
        .collect()
}

#[track_caller]
fn check(document: &Document, used: &[(&str, &str)], id: u32, expected: &[(Face, Turn, &str, &str, &str)]) {
    let layout = Layout::of(document);
    let table = scoring_table_sparing(document, &layout, &pieces(&layout, used));
    let expected: Vec<_> = expected
        .iter()
        .map(|&(face, turn, across, from, to)| (face, turn, length(across), length(from), length(to)))
        .collect();
    assert_eq!(runs(&table, id), expected, "line {id}, {used:?}");
}

#[test]
fn a_score_stops_where_it_would_run_over_an_offcut_that_is_used() {
    let document = crossed().0;
    let (top, bottom) = (("1", "1"), ("1", "11"));
    let down = |from, to| [(Face::Back, Turn::None, "2", from, to)];
    // Into the back, as it lies turned over, the upper edge is the lower one of the sheet.
    check(&document, &[], 5, &down("0", "12"));
    check(&document, &[("11", "1")], 5, &down("0", "12"));
    check(&document, &[top], 5, &down("0", "9"));
    check(&document, &[bottom], 5, &down("3", "12"));
    check(&document, &[top, bottom], 5, &down("3", "9"));
    // What only runs along the edge of the offcut, on its cut, goes on.
    check(&document, &[top, bottom], 1, &[(Face::Back, Turn::None, "3", "0", "12")]);
}

#[test]
fn the_front_and_other_turns_stop_as_well() {
    let mountain = Work::Score(Crease { direction: Direction::Mountain, ..Crease::VALLEY });
    let mut document = crossed().score(6, Turn::Once, "10").0;
    for line in &mut document.lines {
        if line.id == LineId(6) {
            line.work = mountain;
        }
    }
    // Its left edge is the top: 10 in from there, it crosses the lower corners, the right one first.
    check(&document, &[("11", "11")], 6, &[(Face::Front, Turn::Once, "10", "3", "12")]);
    check(&document, &[("1", "11")], 6, &[(Face::Front, Turn::Once, "10", "0", "9")]);
}

#[test]
fn a_table_says_whether_scores_stop_and_what_is_left_of_none() {
    let document = crossed().0;
    let layout = Layout::of(&document);
    let table = |used: &[(&str, &str)]| scoring_table_sparing(&document, &layout, &pieces(&layout, used));
    assert!(table(&[("1", "1")]).stops_for_parts);
    assert!(!table(&[("11", "1")]).stops_for_parts, "no score runs over that corner");
    assert_eq!(table(&[]), scoring_table(&document, &layout));
    assert!(ScoringTable::default().nothing_words().is_some_and(|words| words.contains("no score lines yet")));
}

#[test]
fn a_score_that_lies_on_a_used_offcut_alone_is_not_pressed() {
    let cut = Place::Drawn { from: Spot::At(at("4", "0")), to: Spot::At(at("4", "6")), bow: Length::ZERO };
    let strip = Sketch::on("12x6in").score(2, Turn::None, "2").line(3, cut, Work::Cut).base("8", "3").0;
    let layout = Layout::of(&strip);
    let table = scoring_table_sparing(&strip, &layout, &pieces(&layout, &[("1", "1")]));
    assert_eq!(runs(&table, 2), []);
    let words = table.nothing_words();
    assert_eq!(words, Some("Press no score: all of them lie on offcuts that parts are cut from."));
    // Without a base nothing is told from the folio.
    let unmarked = Document { base: None, ..strip };
    check(&unmarked, &[("1", "1"), ("8", "3")], 2, &[(Face::Back, Turn::None, "2", "0", "6")]);
}

#[test]
fn a_run_between_an_offcut_and_the_sheets_edge_is_needed_only_where_the_folio_folds() {
    // A strip along the top is cut off and lost; the corners under it are used.
    let document = crossed().score(6, Turn::Once, "1").cut(7, 6, Stop::Edge, Stop::Edge).0;
    check(&document, &[("1", "2")], 5, &[(Face::Back, Turn::None, "2", "0", "9")]);
    let layout = Layout::of(&document);
    let placed = layout.lines[&LineId(5)].unwrap();
    let paths = pressed(&layout, LineId(5), &placed, &pieces(&layout, &[("1", "2")]));
    assert_eq!(paths.len(), 1);
    assert_eq!((paths[0][0], *paths[0].last().unwrap()), (at("2", "3"), at("2", "12")));
}

#[test]
fn a_score_along_a_ruler_tells_its_ends_on_the_sheet() {
    let slant = Place::Drawn { from: Spot::At(at("0", "0")), to: Spot::At(at("12", "12")), bow: Length::ZERO };
    let sketch = Sketch::on("12x12in").score(1, Turn::None, "3").score(3, Turn::Once, "3").base("5", "6");
    let sketch = sketch.cut(11, 1, Stop::Edge, line(3)).cut(12, 3, Stop::Edge, Stop::Edge);
    let document = sketch.line(20, slant, Work::Score(Crease::VALLEY)).0;
    let layout = Layout::of(&document);
    let ends = |used: &BTreeSet<PieceId>| {
        let table = scoring_table_sparing(&document, &layout, used);
        table.by_ruler.iter().map(|score| (score.line.0, score.runs.clone())).collect::<Vec<_>>()
    };
    assert_eq!(ends(&BTreeSet::new()), [(20, vec![[at("0", "0"), at("12", "12")]])]);
    let used = pieces(&layout, &[("1", "2")]);
    assert_eq!(ends(&used), [(20, vec![[at("3", "3"), at("12", "12")]])]);
}
