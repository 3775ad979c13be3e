//! The layout derived from documents: panels, folds, pieces, names, faults, the ledger.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, four_flaps, length, line};
use foliowright_model::polygon::{Inside, locate};
use foliowright_model::{
    Crease, Datum, Layout, Length, LineFault, LineId, PieceId, Place, Point, Run, Stop, Turn, Work,
};
use proptest::prelude::*;

#[test]
fn corners_cut_away_leave_a_cross_and_four_offcuts() {
    let layout = Layout::of(&four_flaps());
    assert_eq!(layout.pieces.len(), 5);
    let mut names: Vec<&str> =
        layout.folio().unwrap().panels.iter().map(|&id| layout.panel(id).name.as_str()).collect();
    names.sort_unstable();
    assert_eq!(names, ["Base", "Bottom flap", "Left flap", "Right flap", "Top flap"]);
    assert_eq!(layout.folds.len(), 4);
    // By hand: 144 in² less four corners of 9 in².
    assert_eq!(layout.ledger.folio.half_nm2(), 2 * 108 * i128::from(Length::INCH.nm()).pow(2));
    assert_eq!(layout.ledger.folio + layout.ledger.offcuts, layout.ledger.sheet);
}

#[test]
fn the_trades_example_gives_its_five_strips_and_a_gusset() {
    // A 12 in sheet scored at 2 3/4, 6 1/4, 6 1/2 and 10 1/2 in gives strips of 2 3/4, 3 1/2, 1/4, 4 and 1 1/2 in
    // (common practice, no source).
    let sketch = Sketch::on("12x12in")
        .score(1, Turn::None, "2 3/4")
        .score(2, Turn::None, "6 1/4")
        .score(3, Turn::None, "6 1/2")
        .score(4, Turn::None, "10 1/2")
        .base("4", "6");
    let layout = Layout::of(&sketch.0);
    let widths: Vec<Length> = layout.panels.iter().map(|panel| panel.extent().0).collect();
    assert_eq!(widths, ["2 3/4", "3 1/2", "1/4", "4", "1 1/2"].map(length));
    let names: Vec<&str> = layout.panels.iter().map(|panel| panel.name.as_str()).collect();
    assert_eq!(names, ["Left flap", "Base", "Right gusset", "Right flap", "Right flap 2"]);
}

#[test]
fn the_panel_next_to_the_base_has_the_plain_name() {
    // Corners not cut away: the one at the upper left is read before the top flap, and hangs on it.
    let sketch = Sketch::on("12x12in")
        .score(1, Turn::None, "3")
        .score(2, Turn::None, "9")
        .score(3, Turn::Once, "3")
        .score(4, Turn::Once, "9")
        .base("6", "6");
    let layout = Layout::of(&sketch.0);
    let called = |x: &str, y: &str| layout.panel(layout.panel_at(at(x, y)).unwrap()).name.clone();
    assert_eq!([called("6", "1"), called("1", "6"), called("11", "6")], ["Top flap", "Left flap", "Right flap"]);
    assert_eq!(called("1", "1"), "Top flap 2");
}

#[test]
fn a_panel_is_called_by_the_side_of_the_fold_it_lies_on() {
    // A base that reaches far to the left of its fold at 3 in: the flap below the cut is still the left one.
    let run = Run { from: Stop::At(length("3")), to: Stop::Edge };
    let cut = Run { from: line(1), to: Stop::Edge };
    let sketch = Sketch::on("12x12in")
        .line(1, measured(Turn::None, Datum::Edge, "3", run), Work::Score(Crease::VALLEY))
        .line(2, measured(Turn::Once, Datum::Edge, "3", cut), Work::Cut)
        .base("6", "6");
    let layout = Layout::of(&sketch.0);
    let names: Vec<&str> = layout.panels.iter().map(|panel| panel.name.as_str()).collect();
    assert_eq!(names, ["Base", "Left flap"]);
}

#[test]
fn turns_measure_from_their_own_left_edge() {
    let layout = Layout::of(
        &Sketch::on("8x11in")
            .score(1, Turn::None, "1")
            .score(2, Turn::Once, "1")
            .score(3, Turn::Twice, "1")
            .score(4, Turn::Thrice, "1")
            .0,
    );
    let segment = |id| layout.lines[&LineId(id)].unwrap().segment;
    assert_eq!((segment(1).a, segment(1).b), (at("1", "0"), at("1", "11")));
    assert_eq!((segment(2).a, segment(2).b), (at("8", "1"), at("0", "1")));
    assert_eq!((segment(3).a, segment(3).b), (at("7", "11"), at("7", "0")));
    assert_eq!((segment(4).a, segment(4).b), (at("0", "10"), at("8", "10")));
}

fn measured(turn: Turn, from: Datum, distance: &str, run: Run) -> Place {
    Place::Measured { turn, from, distance: length(distance), run }
}

#[test]
fn what_is_measured_from_a_line_lies_beside_it() {
    let by = |turn, distance| measured(turn, Datum::Line(LineId(1)), distance, Run::FULL);
    let sketch = Sketch::on("8x11in")
        .score(1, Turn::None, "3")
        .line(2, by(Turn::None, "1/4"), Work::Cut)
        .line(3, by(Turn::None, "-1/4"), Work::Cut)
        .line(4, by(Turn::Twice, "1/4"), Work::Cut);
    let layout = Layout::of(&sketch.0);
    let x = |id| layout.lines[&LineId(id)].unwrap().segment.a.x;
    // On the sheet upside down, to the right is to the left as drawn.
    assert_eq!([x(2), x(3), x(4)], ["3 1/4", "2 3/4", "2 3/4"].map(length));
}

#[track_caller]
fn check_fault(place: Place, expected: LineFault) {
    let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Once, "4").0;
    let line = foliowright_model::Line::new(LineId(3), place, Work::Cut);
    document.lines.push(line);
    let layout = Layout::of(&document);
    assert_eq!(layout.lines[&LineId(3)], Err(expected));
    assert_eq!(layout.panels.len(), 4, "the others stay");
    assert!(!expected.phrase(&document).is_empty());
}

#[test]
fn a_line_without_a_place_is_left_out_and_says_why() {
    let stops = |from, to| Run { from, to };
    let edge = |distance, run| measured(Turn::None, Datum::Edge, distance, run);
    check_fault(edge("13", Run::FULL), LineFault::OffSheet(Length::INCH));
    check_fault(edge("-1/2", Run::FULL), LineFault::OffSheet(length("1/2")));
    check_fault(edge("5", stops(Stop::Edge, Stop::At(length("14")))), LineFault::OffSheet(length("2")));
    check_fault(edge("5", stops(Stop::At(length("4")), line(2))), LineFault::EmptyRun);
    check_fault(edge("5", stops(line(2), Stop::At(length("2")))), LineFault::EmptyRun);
    check_fault(edge("5", stops(line(1), Stop::Edge)), LineFault::NotCrossing(LineId(1)));
    check_fault(edge("5", stops(line(9), Stop::Edge)), LineFault::UnknownLine(LineId(9)));
    check_fault(edge("5", stops(line(3), Stop::Edge)), LineFault::NotCrossing(LineId(3)));
    check_fault(Place::Along { line: LineId(3), run: Run::FULL }, LineFault::Circle(LineId(3)));
    check_fault(measured(Turn::None, Datum::Line(LineId(2)), "1", Run::FULL), LineFault::NotParallel(LineId(2)));
    check_fault(Place::Along { line: LineId(8), run: Run::FULL }, LineFault::UnknownLine(LineId(8)));
}

#[test]
fn two_lines_may_stop_at_each_other() {
    let stops = |turn, distance, from, to| measured(turn, Datum::Edge, distance, Run { from, to });
    let sketch = Sketch::on("12x12in").line(1, stops(Turn::None, "4", line(2), Stop::Edge), Work::Cut).line(
        2,
        stops(Turn::Once, "5", Stop::Edge, line(1)),
        Work::Cut,
    );
    let layout = Layout::of(&sketch.0);
    let segment = |id| layout.lines[&LineId(id)].unwrap().segment;
    assert_eq!((segment(1).a, segment(1).b), (at("4", "5"), at("4", "12")));
    assert_eq!((segment(2).a, segment(2).b), (at("12", "5"), at("4", "5")));
    assert_eq!(layout.pieces.len(), 2);
}

#[test]
fn a_long_chain_and_a_circle_are_resolved_without_a_deep_stack() {
    let mut document = Sketch::on("12x12in").0;
    let n = 2000;
    for id in 1..=n {
        // Each is measured from the next; the last closes the circle.
        let from = Datum::Line(LineId(id % n + 1));
        let place = measured(Turn::None, from, "0", Run::FULL);
        document.lines.push(foliowright_model::Line::new(LineId(id), place, Work::Cut));
    }
    assert!(Layout::of(&document).lines.values().all(Result::is_err));
    document.lines[0].place = measured(Turn::None, Datum::Edge, "5", Run::FULL);
    assert!(Layout::of(&document).lines.values().all(Result::is_ok));
}

#[test]
fn a_cut_outweighs_a_score_and_an_earlier_score_a_later() {
    let mountain = Crease { direction: foliowright_model::Direction::Mountain, ..Crease::VALLEY };
    let along = Place::Along { line: LineId(1), run: Run::FULL };
    let scored = Sketch::on("12x12in").score(1, Turn::None, "6").line(2, along, Work::Score(mountain)).base("1", "1");
    let layout = Layout::of(&scored.0);
    assert_eq!((layout.folds.len(), layout.folds[0].line, layout.folds[0].crease), (1, LineId(1), Crease::VALLEY));
    let cut = Layout::of(&scored.line(3, along, Work::Cut).0);
    assert_eq!((cut.folds.len(), cut.pieces.len()), (0, 2));
}

#[test]
fn without_a_base_everything_is_an_offcut() {
    let mut document = four_flaps();
    document.base = None;
    let layout = Layout::of(&document);
    assert_eq!((layout.base, layout.folio()), (None, None));
    assert_eq!(layout.ledger.offcuts, layout.ledger.sheet);
    assert_eq!(layout.pieces[0].name, "Offcut 1");
    document.base = Some(at("3", "5"));
    assert_eq!(Layout::of(&document).base, None, "on a line is in no panel");
}

#[test]
fn pieces_are_numbered_in_reading_order_after_the_folio() {
    let layout = Layout::of(&four_flaps());
    let corners: Vec<(&str, Point)> = layout.pieces.iter().map(|piece| (piece.name.as_str(), piece.bounds.0)).collect();
    assert_eq!(
        corners,
        [
            ("Folio", at("0", "0")),
            ("Offcut 1", at("0", "0")),
            ("Offcut 2", at("9", "0")),
            ("Offcut 3", at("0", "9")),
            ("Offcut 4", at("9", "9")),
        ]
    );
    assert!(layout.pieces[0].is_folio && layout.pieces.iter().enumerate().all(|(i, piece)| piece.id == PieceId(i)));
}

/// Random documents: lines on any turn, at any distance, from any stop, along one another.
fn documents() -> impl Strategy<Value = foliowright_model::Document> {
    let stop = (0..3_u8, 1..13_u32, 0..13_i64).prop_map(|(kind, id, inch)| match kind {
        0 => Stop::Edge,
        1 => Stop::Line(LineId(id)),
        _ => Stop::At(Length::INCH * inch),
    });
    let run = (stop.clone(), stop).prop_map(|(from, to)| Run { from, to });
    let place = (0..3_u8, 0..4_u8, 1..13_u32, -2..50_i64, run).prop_map(|(kind, turn, id, quarter, run)| {
        let (turn, distance) = (Turn::from_count(turn).unwrap(), Length::from_sixty_fourths(quarter * 16));
        match kind {
            0 => Place::Along { line: LineId(id), run },
            1 => Place::Measured { turn, from: Datum::Line(LineId(id)), distance, run },
            _ => Place::Measured { turn, from: Datum::Edge, distance, run: Run::FULL },
        }
    });
    let line = (place, any::<bool>());
    (prop::collection::vec(line, 0..12), 0..13_i64, 0..13_i64).prop_map(|(lines, x, y)| {
        let mut document = Sketch::on("12x12in").0;
        document.base = Some(Point::new(Length::INCH * x, Length::INCH * y));
        for (i, (place, cut)) in lines.into_iter().enumerate() {
            let id = LineId(u32::try_from(i).unwrap() + 1);
            let work = if cut { Work::Cut } else { Work::Score(Crease::VALLEY) };
            document.lines.push(foliowright_model::Line::new(id, place, work));
        }
        document
    })
}

proptest! {
    #[test]
    fn the_ledger_adds_up_to_the_sheet(document in documents()) {
        let layout = Layout::of(&document);
        prop_assert_eq!(layout.ledger.folio + layout.ledger.offcuts, layout.ledger.sheet);
        let panels: foliowright_model::Area = layout.panels.iter().map(|panel| panel.area).sum();
        prop_assert_eq!(panels, layout.ledger.sheet);
        for panel in &layout.panels {
            let pieces: i128 =
                panel.convex.iter().map(|piece| foliowright_model::polygon::signed_area(piece).half_nm2()).sum();
            prop_assert_eq!(pieces, panel.area.half_nm2());
        }
    }

    #[test]
    fn every_point_is_in_one_panel_or_on_a_line(document in documents(), x in 0..12_192_i64, y in 0..12_192_i64) {
        let layout = Layout::of(&document);
        let point = Point::new(Length::from_nm(x * 25_000 + 1), Length::from_nm(y * 25_000 + 1));
        let places: Vec<Inside> =
            layout.panels.iter().map(|panel| locate(point, &panel.outline, &panel.holes)).collect();
        let inside = places.iter().filter(|place| **place == Inside::Yes).count();
        let touching = places.iter().filter(|place| **place == Inside::Boundary).count();
        prop_assert!(inside == 1 && touching == 0 || inside == 0 && touching >= 1, "{:?}", places);
    }
}

#[test]
fn the_scoring_table_goes_turn_by_turn_from_left_to_right() {
    let sketch = Sketch::on("12x12in")
        .score(1, Turn::Once, "7")
        .score(2, Turn::None, "3")
        .score(3, Turn::Once, "2 1/2")
        .score(4, Turn::None, "3")
        .cut(5, 2, Stop::Edge, line(1));
    let layout = Layout::of(&sketch.0);
    let table = foliowright_model::board::scoring_table(&sketch.0, &layout);
    let shown: Vec<(Turn, Vec<(Length, usize)>)> =
        table.turns.iter().map(|t| (t.turn, t.scores.iter().map(|(d, runs)| (*d, runs.len())).collect())).collect();
    let expected =
        vec![(Turn::None, vec![(length("3"), 2)]), (Turn::Once, vec![(length("2 1/2"), 1), (length("7"), 1)])];
    assert_eq!(shown, expected);
    let order = foliowright_model::board::closing_order(&sketch.steps(&[&[1], &[9], &[2, 4], &[3]]).0, &layout);
    let ids: Vec<(usize, Vec<u32>)> =
        order.iter().map(|step| (step.step, step.folds.iter().map(|(id, _)| id.0).collect())).collect();
    assert_eq!(ids, [(0, vec![1]), (2, vec![2]), (3, vec![3])], "line 4 lies on line 2, and line 9 is not there");
}

/// Scores on an 8 x 12 in sheet: id, turn, inches from the left.
fn scored(scores: &[(u32, Turn, i64)]) -> Layout {
    let mut sketch = Sketch::on("8x12in");
    for &(id, turn, inches) in scores {
        sketch = sketch.score(id, turn, &inches.to_string());
    }
    Layout::of(&sketch.0)
}

#[test]
fn neighbours_run_the_same_way() {
    let layout = scored(&[(1, Turn::None, 3), (2, Turn::None, 5), (3, Turn::Twice, 1), (4, Turn::Once, 4)]);
    let beside = |id: u32| foliowright_model::board::neighbours(&layout, &layout.lines[&LineId(id)].unwrap());
    // Upside down, 1 in from the left is 7 in from the left as drawn.
    assert_eq!(beside(2), Some((Length::INCH * 3, Length::INCH * 7)));
    assert_eq!(beside(1), Some((Length::ZERO, Length::INCH * 5)));
    assert_eq!(beside(3), Some((Length::ZERO, Length::INCH * 3)));
    assert_eq!(beside(4), Some((Length::ZERO, Length::INCH * 12)));
}

#[test]
fn a_new_score_goes_where_there_is_room() {
    assert_eq!(foliowright_model::board::free_place(&scored(&[]), Turn::None), Length::INCH * 4);
    assert_eq!(foliowright_model::board::free_place(&scored(&[(1, Turn::None, 2)]), Turn::None), Length::INCH * 5);
    assert_eq!(foliowright_model::board::free_place(&scored(&[(1, Turn::None, 2)]), Turn::Once), Length::INCH * 6);
}
