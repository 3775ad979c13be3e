//! Lines drawn at any angle, arcs, stops past a line, guides: where they lie and what they part.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, length, line};
use foliowright_model::{
    Area, Crease, Datum, Layout, Length, LineFault, LineId, Place, Run, Spot, Stop, Strip, StripSide, Turn, Work,
};

const SCORE: Work = Work::Score(Crease::VALLEY);

fn drawn(from: Spot, to: Spot) -> Place {
    Place::Drawn { from, to, bow: Length::ZERO }
}

/// Square inches of the panels, in reading order.
fn square_inches(layout: &Layout) -> Vec<f64> {
    layout.panels.iter().map(|panel| (panel.area.mm2() / 645.16 * 1e6).round() / 1e6).collect()
}

fn fault(sketch: &Sketch, id: u32) -> LineFault {
    Layout::of(&sketch.0).lines[&LineId(id)].unwrap_err()
}

#[test]
fn a_line_from_corner_to_corner_halves_the_sheet() {
    let sketch = Sketch::on("8x11in").line(1, drawn(Spot::At(at("0", "0")), Spot::At(at("8", "11"))), SCORE);
    let layout = Layout::of(&sketch.base("1", "9").0);
    assert_eq!(square_inches(&layout), [44.0, 44.0]);
    assert_eq!(layout.folds.len(), 1);
}

#[test]
fn a_clip_across_a_flap_follows_the_lines_it_is_drawn_between() {
    // From where the score at 3 crosses the one at 2 of the first turn to 1 in down the score at 9.
    let sketch = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Once, "2").score(3, Turn::None, "9");
    let place = drawn(Spot::Crossing(LineId(1), LineId(2)), Spot::On(LineId(3), length("1")));
    let mut document = sketch.line(4, place, Work::Cut).0;
    let ends = |document: &foliowright_model::Document| Layout::of(document).lines[&LineId(4)].unwrap().segment;
    assert_eq!((ends(&document).a, ends(&document).b), (at("3", "2"), at("9", "1")));
    document.lines[0].place =
        Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("4"), run: Run::FULL };
    assert_eq!((ends(&document).a, ends(&document).b), (at("4", "2"), at("9", "1")));
}

#[test]
fn a_run_stops_at_a_slanting_line() {
    // The line from (0, 4) to (8, 8) is at 4 + x / 2: at x = 3 that is 5 1/2 in down.
    let slant = drawn(Spot::At(at("0", "4")), Spot::At(at("8", "8")));
    let run = Run { from: Stop::Edge, to: line(1) };
    let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("3"), run };
    let layout = Layout::of(&Sketch::on("8x11in").line(1, slant, SCORE).line(2, place, SCORE).0);
    assert_eq!(layout.lines[&LineId(2)].unwrap().to, length("5 1/2"));
    // It meets the slanting line exactly: three panels, none of which dangles.
    let areas = square_inches(&layout);
    assert_eq!(areas.len(), 3, "{areas:?}");
    // By hand: left of it 3 x (4 + 5 1/2) / 2 = 14 1/4; right of it 5 x (5 1/2 + 8) / 2 = 33 3/4; below 88 - 48 = 40.
    assert_eq!(areas, [14.25, 33.75, 40.0]);
}

#[test]
fn a_run_stops_at_a_slanting_line_between_whole_nanometres() {
    // At x = 1 in the line from (0, 0) to (7, 11) is at 39.914285... mm.
    let slant = drawn(Spot::At(at("0", "0")), Spot::At(at("7", "11")));
    let run = Run { from: line(1), to: Stop::Edge };
    let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("1"), run };
    let layout = Layout::of(&Sketch::on("7x11in").line(1, slant, SCORE).line(2, place, SCORE).base("6", "1").0);
    assert_eq!((layout.panels.len(), layout.folds.len()), (3, 3));
    assert_eq!(layout.panels.iter().map(|panel| panel.area).sum::<Area>(), layout.ledger.sheet);
}

#[test]
fn a_run_goes_past_a_line_by_a_distance() {
    let run = Run { from: Stop::Past(LineId(1), length("-1/4")), to: Stop::Past(LineId(1), length("1/2")) };
    let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("3"), run };
    let layout = Layout::of(&Sketch::on("12x12in").score(1, Turn::Once, "4").line(2, place, Work::Cut).0);
    let placed = layout.lines[&LineId(2)].unwrap();
    assert_eq!((placed.from, placed.to), (length("3 3/4"), length("4 1/2")));
}

#[test]
fn an_arc_takes_a_half_circle_off_a_flap() {
    // A half circle of radius 2 in over the chord from (4, 2) to (8, 2), risen to the top: π 2² / 2 = 6.2832 in².
    let arc = Place::Drawn { from: Spot::At(at("8", "2")), to: Spot::At(at("4", "2")), bow: length("2") };
    let chord = drawn(Spot::At(at("4", "2")), Spot::At(at("8", "2")));
    let layout = Layout::of(&Sketch::on("12x12in").line(1, arc, Work::Cut).line(2, chord, Work::Cut).0);
    let areas = square_inches(&layout);
    let half = areas.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((half - std::f64::consts::TAU).abs() < 0.003, "{areas:?}");
    let top = layout.panels.iter().map(|panel| panel.bounds().0.y).collect::<Vec<_>>();
    assert!(top.contains(&length("0")) && top.iter().any(|y| y.abs() < length("1/64")), "it rises to the top edge");
}

#[test]
fn a_guide_parts_nothing_and_is_measured_from() {
    let guide = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("6"), run: Run::FULL };
    let from =
        Place::Measured { turn: Turn::None, from: Datum::Line(LineId(1)), distance: length("1"), run: Run::FULL };
    let layout = Layout::of(&Sketch::on("12x12in").line(1, guide, Work::Guide).line(2, from, SCORE).0);
    let widths: Vec<Length> = layout.panels.iter().map(|panel| panel.extent().0).collect();
    assert_eq!(widths, ["7", "5"].map(length));
}

#[test]
fn a_slanting_line_meets_what_passes_through_its_ends() {
    // Steps of 1/64 in make slants of every kind; each stops at the line through its own end, and switches whole.
    for (x, y) in (1..40).map(|i| (Length::from_sixty_fourths(100 + 7 * i), Length::from_sixty_fourths(300 - 5 * i))) {
        let slant = drawn(Spot::At(at("1", "1")), Spot::At(foliowright_model::Point::new(x, y)));
        let across = |turn, distance| Place::Measured { turn, from: Datum::Edge, distance, run: Run::FULL };
        let along = Place::Along { line: LineId(1), run: Run { from: line(2), to: line(3) } };
        let sketch = Sketch::on("12x12in")
            .line(1, slant, SCORE)
            .line(2, across(Turn::None, length("1")), SCORE)
            .line(3, across(Turn::Once, y), SCORE)
            .line(4, along, Work::Cut);
        let layout = Layout::of(&sketch.0);
        let placed = layout.lines[&LineId(4)].unwrap();
        assert_eq!((placed.from, placed.to), (Length::ZERO, placed.reach(layout.size)));
    }
}

#[test]
fn a_cut_along_a_slanting_score_lies_on_it() {
    // However the slant falls between whole nanometres: a sheet with one slant and two lines across it has six panels,
    // and cuts along parts of the slant make no slivers.
    for i in 1..60_i64 {
        let end = foliowright_model::Point::new(length("12"), Length::from_sixty_fourths(300 + 7 * i));
        let slant = drawn(Spot::At(at("0", "1")), Spot::At(end));
        let part = |from, to| Place::Along { line: LineId(1), run: Run { from, to } };
        let sketch = Sketch::on("12x12in")
            .line(1, slant, SCORE)
            .score(2, Turn::None, "3 1/8")
            .score(3, Turn::None, "7 5/16")
            .line(4, part(Stop::Edge, line(2)), Work::Cut)
            .line(5, part(line(2), line(3)), Work::Cut)
            .base("11", "1/2");
        let layout = Layout::of(&sketch.0);
        assert_eq!(layout.panels.len(), 6, "{i}");
        assert_eq!(layout.folds.iter().filter(|fold| fold.line == LineId(1)).count(), 1, "{i}");
        let strip = Strip { width: length("1/8"), side: StripSide::Left };
        let slotted = sketch.line(6, part(Stop::Edge, line(2)), Work::Slot(strip));
        let slotted = Layout::of(&slotted.line(7, part(line(2), line(3)), Work::Slot(strip)).0);
        let small = slotted.panels.iter().filter(|panel| panel.area.mm2() < 1.0).count();
        assert_eq!(small, 0, "{i}: no slivers beside the slots");
    }
}

#[test]
fn a_part_of_a_drawn_cut_becomes_a_score() {
    let slant = drawn(Spot::At(at("0", "1")), Spot::At(at("12", "9")));
    let document = Sketch::on("12x12in")
        .score(2, Turn::None, "3")
        .score(3, Turn::None, "7")
        .line(1, slant, Work::Cut)
        .base("11", "1/2")
        .0;
    let layout = Layout::of(&document);
    let middle = layout.stretches.iter().find(|s| s.lines == [LineId(1)] && s.segment.a.x == length("3")).unwrap();
    let edit = foliowright_model::change::switch_stretch(&document, &layout, middle).unwrap();
    let done = foliowright_model::change::perform(&document, &layout, edit).unwrap();
    let works: Vec<Option<Work>> = done
        .layout
        .stretches
        .iter()
        .filter(|s| s.segment.a.x != s.segment.b.x && s.segment.a.y != s.segment.b.y)
        .map(|s| s.work)
        .collect();
    assert_eq!(works, [Some(Work::Cut), Some(SCORE), Some(Work::Cut)]);
    assert_eq!(done.document.lines.len(), 6, "a guide, two cuts along it and a score");
    let mut back = done.document;
    back.apply(done.inverse).unwrap();
    assert_eq!(back, document);
}

#[test]
fn an_arc_beyond_the_largest_sheet_is_off_it() {
    let arc = Place::Drawn {
        from: Spot::At(foliowright_model::Point::new(Length::ZERO, Length::ZERO)),
        to: Spot::At(foliowright_model::Point::new(Length::LIMIT, Length::ZERO)),
        bow: Length::LIMIT.half(),
    };
    let sketch = Sketch::on("1000x400cm").line(1, arc, Work::Cut);
    assert!(matches!(fault(&sketch, 1), LineFault::OffSheet(_)));
}

#[test]
fn what_has_no_place_says_why() {
    let sheet = || Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::None, "9");
    let spot = |x: &str, y: &str| Spot::At(at(x, y));
    #[track_caller]
    fn check(sketch: Sketch, place: Place, work: Work, expected: LineFault) {
        assert_eq!(fault(&sketch.line(7, place, work), 7), expected);
    }
    let arc = |bow: &str| Place::Drawn { from: spot("1", "1"), to: spot("5", "1"), bow: length(bow) };
    check(sheet(), drawn(spot("1", "1"), spot("1", "1")), Work::Cut, LineFault::EmptyRun);
    check(sheet(), drawn(spot("1", "1"), spot("12 1/4", "1")), Work::Cut, LineFault::OffSheet(length("1/4")));
    check(
        sheet(),
        drawn(Spot::Crossing(LineId(1), LineId(2)), spot("1", "1")),
        Work::Cut,
        LineFault::NotCrossing(LineId(2)),
    );
    check(
        sheet(),
        drawn(Spot::On(LineId(8), length("1")), spot("1", "1")),
        Work::Cut,
        LineFault::UnknownLine(LineId(8)),
    );
    check(sheet(), drawn(Spot::On(LineId(7), length("1")), spot("1", "1")), Work::Cut, LineFault::Circle(LineId(7)));
    check(sheet(), arc("2 1/4"), Work::Cut, LineFault::BowTooDeep);
    check(sheet(), arc("1"), SCORE, LineFault::CurvedWork);
    check(sheet(), arc("-1 1/2"), Work::Cut, LineFault::OffSheet(length("1/2")));
    let strip = |width: &str| Strip { width: length(width), side: StripSide::Centred };
    let along = Place::Along { line: LineId(1), run: Run::FULL };
    check(sheet(), along, Work::Slot(strip("0")), LineFault::NoWidth);
    check(sheet(), along, Work::Trim(strip("1/16")), LineFault::WideTrim(length("1/16")));
    let beside =
        Place::Measured { turn: Turn::Once, from: Datum::Line(LineId(1)), distance: length("1"), run: Run::FULL };
    check(sheet(), beside, SCORE, LineFault::NotParallel(LineId(1)));
    let at_curve = Run { from: Stop::Edge, to: line(3) };
    let stops = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("3"), run: at_curve };
    check(sheet().line(3, arc("-1"), Work::Cut), stops, SCORE, LineFault::Curved(LineId(3)));
    let part = Place::Along { line: LineId(3), run: Run { from: Stop::At(length("1")), to: Stop::Edge } };
    check(sheet().line(3, arc("-1"), Work::Cut), part, Work::Cut, LineFault::PartOfCurve);
    // Each says so in words that follow the line's name.
    let sketch = sheet().line(7, arc("2 1/4"), Work::Cut);
    let words = fault(&sketch, 7).phrase(&sketch.0);
    assert_eq!(words, "rises by more than half its length; make it shallower or longer");
}
