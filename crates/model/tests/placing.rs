//! Lines placed in bulk, and designs moved to other sheets.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, four_flaps, length, line};
use foliowright_model::change::{move_line, perform};
use foliowright_model::placing::{Mirror, copy_opposite, lock, mirror, space_evenly};
use foliowright_model::resize::move_to_sheet;
use foliowright_model::{
    Datum, Document, Edit, Layout, Length, LineId, Place, Refusal, Run, Size, Stock, Stop, Strip, StripSide, Turn, Work,
};
use std::collections::BTreeSet;

fn ids(numbers: &[u32]) -> BTreeSet<LineId> {
    numbers.iter().map(|&id| LineId(id)).collect()
}

#[track_caller]
fn done(document: &Document, edit: impl FnOnce(&Document, &Layout) -> Result<Edit, Refusal>) -> (Document, Layout) {
    let layout = Layout::of(document);
    let done = perform(document, &layout, edit(document, &layout).unwrap()).unwrap();
    (done.document, done.layout)
}

fn refused(document: &Document, edit: impl FnOnce(&Document, &Layout) -> Result<Edit, Refusal>) -> String {
    edit(document, &Layout::of(document)).unwrap_err().to_string()
}

/// How far from the left edge a line lies on its own turn, in inches.
fn across(layout: &Layout, id: u32) -> String {
    let (_, across) = layout.lines[&LineId(id)].unwrap().on_board().unwrap();
    across.text(foliowright_model::Unit::Inch)
}

fn measured(from: u32, distance: &str) -> Place {
    Place::Measured { turn: Turn::None, from: Datum::Line(LineId(from)), distance: length(distance), run: Run::FULL }
}

#[test]
fn lines_are_spaced_evenly_whatever_they_are_measured_from() {
    let sketch = Sketch::on("12x12in").score(1, Turn::None, "2").score(2, Turn::None, "3").score(4, Turn::None, "10");
    let score = Work::Score(foliowright_model::Crease::VALLEY);
    let document = sketch.line(3, measured(2, "1/4"), score).line(5, measured(3, "1/8"), Work::Guide).0;
    let (even, layout) = done(&document, |d, l| space_evenly(d, l, &ids(&[1, 2, 3, 4])));
    // 2 to 10 in thirds is 2 2/3: to the nearest 1/64 in, 4 43/64 and 7 21/64.
    assert_eq!([1, 2, 3, 4].map(|id| across(&layout, id)), ["2 in", "4 43/64 in", "7 21/64 in", "10 in"]);
    assert!(
        matches!(even.lines[3].place, Place::Measured { from: Datum::Line(LineId(2)), .. }),
        "still measured from 2"
    );
    assert_eq!(across(&layout, 5), "7 29/64 in", "what is measured from it follows");
    let (_, halves) = done(&document, |d, l| space_evenly(d, l, &ids(&[1, 3, 4])));
    assert_eq!(across(&halves, 3), "6 in");
}

#[test]
fn what_cannot_be_spaced_says_why() {
    let document = Sketch::on("12x12in")
        .score(1, Turn::None, "2")
        .score(2, Turn::None, "3")
        .score(3, Turn::None, "10")
        .score(4, Turn::Once, "5")
        .0;
    assert!(refused(&document, |d, l| space_evenly(d, l, &ids(&[1, 2]))).contains("three lines or more"));
    assert!(refused(&document, |d, l| space_evenly(d, l, &ids(&[1, 2, 4]))).contains("run the same way"));
    let (locked, _) = done(&document, |d, _| Ok(lock(d, &ids(&[2]), true).unwrap()));
    assert!(refused(&locked, |d, l| space_evenly(d, l, &ids(&[1, 2, 3]))).contains("\"Score 2\" is locked"));
}

#[test]
fn a_locked_line_stays_and_still_follows() {
    let document = Sketch::on("12x12in").score(1, Turn::None, "2").score(2, Turn::None, "3").0;
    let (locked, layout) = done(&document, |d, _| Ok(lock(d, &ids(&[1]), true).unwrap()));
    assert_eq!(move_line(&locked, &layout, LineId(1), length("4")), None);
    assert!(move_line(&locked, &layout, LineId(2), length("4")).is_some());
    assert_eq!(lock(&locked, &ids(&[1]), true), None, "nothing to do");
    assert!(refused(&locked, |d, l| mirror(d, l, &ids(&[1]), Mirror::LeftRight)).contains("is locked"));
}

#[test]
fn a_flap_and_its_slot_are_copied_to_the_opposite_side() {
    let upper = Run { from: Stop::Edge, to: line(9) };
    let slot = Work::Slot(Strip { width: length("1/8"), side: StripSide::Left });
    let document = Sketch::on("12x12in")
        .score(9, Turn::Once, "4")
        .score(1, Turn::None, "2 3/4")
        .line(2, measured(1, "1/4"), Work::Score(foliowright_model::Crease::VALLEY))
        .line(3, Place::Along { line: LineId(1), run: upper }, slot)
        .0;
    let (copied, layout) = done(&document, |d, l| copy_opposite(d, l, &ids(&[1, 2, 3]), Mirror::LeftRight));
    assert_eq!(copied.lines.len(), 7);
    assert_eq!([10, 11].map(|id| across(&layout, id)), ["9 1/4 in", "9 in"]);
    let copy = |id: u32| copied.line(LineId(id)).unwrap();
    // The gusset is measured from its own copy, to the other side; the slot lies on the copied score, stops at the same
    // cross score, and has changed sides.
    let expected =
        Place::Measured { turn: Turn::None, from: Datum::Line(LineId(10)), distance: length("-1/4"), run: Run::FULL };
    assert_eq!(copy(11).place, expected);
    assert_eq!(copy(12).place, Place::Along { line: LineId(10), run: upper });
    assert_eq!(copy(12).work, Work::Slot(Strip { width: length("1/8"), side: StripSide::Right }));
    assert_eq!(copied.steps.len(), document.steps.len() + 2, "the copied scores fold");
    let middle = Sketch::on("12x12in").score(1, Turn::None, "6").0;
    let says = refused(&middle, |d, l| copy_opposite(d, l, &ids(&[1]), Mirror::LeftRight));
    assert!(says.contains("its own mirror image"), "{says}");
}

#[test]
fn a_slot_mirrored_top_to_bottom_stays_on_its_side() {
    // Upright at 6 in, the upper 4 in, 1/2 in to its left: from 5 1/2 to 6 in before and after.
    let run = Run { from: Stop::Edge, to: Stop::At(length("4")) };
    let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("6"), run };
    let slot = Work::Slot(Strip { width: length("1/2"), side: StripSide::Left });
    let document = Sketch::on("12x12in").line(1, place, slot).0;
    let (_, layout) = done(&document, |d, l| mirror(d, l, &ids(&[1]), Mirror::TopBottom));
    let (low, high) = foliowright_model::polygon::bounds(&layout.voids[0].outline);
    assert_eq!((low, high), (at("5 1/2", "8"), at("6", "12")));
    let (_, layout) = done(&document, |d, l| mirror(d, l, &ids(&[1]), Mirror::LeftRight));
    let (low, high) = foliowright_model::polygon::bounds(&layout.voids[0].outline);
    assert_eq!((low, high), (at("6", "0"), at("6 1/2", "4")));
}

#[test]
fn arcs_and_corner_marks_go_along_to_another_sheet() {
    // A half round of 1 in stays one; two marks at places that change roles stay each in its own panel.
    let arc = Place::Drawn {
        from: foliowright_model::Spot::At(at("5", "12")),
        to: foliowright_model::Spot::At(at("3", "12")),
        bow: length("1"),
    };
    let round = |x: &str, y: &str| foliowright_model::Corner {
        mark: at(x, y),
        which: foliowright_model::Which::AllOfPanel,
        shape: foliowright_model::CornerShape::Round(length("1/8")),
    };
    let mut document =
        Sketch::on("24x24in").score(1, Turn::None, "8").score(2, Turn::None, "16").line(3, arc, Work::Cut).0;
    document.corners = vec![round("18", "12"), round("9", "6")];
    let (moved, layout) = sheet(&document, "12x12in");
    let across = moved.corners.iter().map(|corner| layout.panel(layout.panel_at(corner.mark).unwrap()).bounds().0.x);
    assert_eq!(across.collect::<Vec<_>>(), [length("8"), length("4")]);
    assert!(layout.lines[&LineId(3)].is_ok_and(|arc| arc.bow == length("1/2")));
}

#[test]
fn on_metric_paper_a_mirrored_score_stays_in_a_groove() {
    // A4 is 210 mm wide and the board's grooves are 4 mm apart: 40 mm from the left is in a groove, 170 is not.
    let mut document = Sketch::on("A4").0;
    document.groove = Length::MILLIMETRE * 4;
    let place =
        Place::Measured { turn: Turn::None, from: Datum::Edge, distance: Length::MILLIMETRE * 40, run: Run::FULL };
    document.lines.push(foliowright_model::Line::new(LineId(1), place, Work::Cut));
    let (mirrored, _) = done(&document, |d, l| mirror(d, l, &ids(&[1]), Mirror::LeftRight));
    let Place::Measured { turn, distance, .. } = mirrored.lines[0].place else { panic!("it is measured") };
    assert_eq!((turn, distance), (Turn::Twice, Length::MILLIMETRE * 40));
}

#[track_caller]
fn sheet(document: &Document, size: &str) -> (Document, Layout) {
    let stock = Stock { size: Size::parse(size).unwrap(), ..document.stock.clone() };
    done(document, |d, l| move_to_sheet(d, l, stock))
}

#[test]
fn a_smaller_sheet_shrinks_panels_and_keeps_gussets() {
    // Strips of 2 3/4, 1/4 (gusset), 6, 1/4 (gusset) and 2 3/4 in; on 8 in, 7 1/2 are left for the three panels, which
    // had 11 1/2: 2 3/4 becomes 1 51/64, in the board's grooves 1 3/4, and the base takes the rest.
    let score = Work::Score(foliowright_model::Crease::VALLEY);
    let mut document = Sketch::on("12x12in")
        .score(1, Turn::None, "2 3/4")
        .line(2, measured(1, "1/4"), score)
        .score(3, Turn::None, "9")
        .line(4, measured(3, "1/4"), score)
        .base("6", "6")
        .0;
    document.lines[2].place =
        Place::Measured { turn: Turn::Twice, from: Datum::Edge, distance: length("3"), run: Run::FULL };
    let (moved, layout) = sheet(&document, "8x12in");
    let widths: Vec<Length> = layout.panels.iter().map(|panel| panel.extent().0).collect();
    assert_eq!(widths, ["1 3/4", "1/4", "4", "1/4", "1 3/4"].map(length));
    assert!(
        matches!(moved.lines[1].place, Place::Measured { from: Datum::Line(LineId(1)), distance, .. } if distance == length("1/4"))
    );
    assert!(matches!(moved.lines[2].place, Place::Measured { turn: Turn::Twice, .. }), "still from the right edge");
    assert_eq!(layout.panel(layout.base.unwrap()).name, "Base");
    assert_eq!(moved.base.map(|base| base.y), Some(length("6")), "nothing moves the other way");
}

#[test]
fn the_same_size_changes_nothing() {
    let mut document = four_flaps();
    document.base = Some(at("6", "6"));
    let (moved, _) = sheet(&document, "12x12in");
    assert_eq!(moved, document);
}

#[test]
fn a_sheet_too_small_for_what_is_kept_is_refused() {
    let score = Work::Score(foliowright_model::Crease::VALLEY);
    let document = Sketch::on("12x12in").score(1, Turn::None, "2").line(2, measured(1, "1/4"), score).0;
    let stock = Stock { size: Size::parse("1/4x12in").unwrap(), ..document.stock.clone() };
    let says = refused(&document, |d, l| move_to_sheet(d, l, stock));
    assert_eq!(says, "gussets and allowances take 1/4 in of the new sheet's 1/4 in; choose a larger one");
}
