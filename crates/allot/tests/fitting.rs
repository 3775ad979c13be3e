//! What offcuts would do for, likeliest and least wasteful first.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate nest as foliowright_nest;

mod common;

use common::{Sketch, at, four_flaps, length, mat};
use foliowright_allot::{Origin, Settings, Suggestion, allot, fitting};
use model::part::Source;
use model::{Area, Layout, PanelRef, PartId, PartKind, Pattern, PieceId, Point, SheetEdge, Turn};

fn suggested(sketch: &Sketch, piece: usize, on: Point) -> Vec<Suggestion> {
    let (layout, found) = sketch.allotted();
    let suggestions = fitting(&sketch.0, &layout, &found, PieceId(piece), PanelRef::Sheet(on));
    assert!(suggestions.windows(2).all(|pair| pair[0].waste <= pair[1].waste));
    for suggestion in &suggestions {
        comes_from_there(sketch, suggestion, piece);
    }
    suggestions
}

/// Put into the design as it is, the part comes out of the offcut, and of an untouched one all of it.
#[track_caller]
fn comes_from_there(sketch: &Sketch, suggestion: &Suggestion, from: usize) {
    let mut with = Sketch(sketch.0.clone());
    with.0.parts.push(suggestion.part.clone());
    let (_, found) = with.allotted();
    let supply = found.supply(suggestion.part.id).unwrap();
    match (&supply.from, suggestion.part.source) {
        (Origin::Offcut { piece, whole, .. }, Source::Whole(_)) => assert_eq!((*piece, *whole), (PieceId(from), true)),
        (Origin::Offcut { piece, .. }, _) => assert_eq!(*piece, PieceId(from)),
        (other, _) => panic!("{}: {other:?}", suggestion.label),
    }
}

#[track_caller]
fn check(sketch: &Sketch, expected: &[&str]) {
    let base = sketch.0.base.unwrap();
    let labels: Vec<String> = suggested(sketch, 1, base).into_iter().map(|suggestion| suggestion.label).collect();
    assert_eq!(labels, expected);
}

#[test]
fn a_strip_is_a_hinge_or_a_band() {
    let upright = Sketch::on("12x12in").cut(1, Turn::None, "1").base("6", "6");
    check(&upright, &["Hinge, 1 x 12 in", "Mat, 1 x 12 in", "Own shape, 1 x 12 in"]);
    // Lying along the top it is a hinge all the same, turned by a quarter when it is cut.
    let level = Sketch::on("12x12in").cut(1, Turn::Once, "1").base("6", "6");
    check(&level, &["Hinge, 1 x 12 in", "Mat, 12 x 1 in", "Own shape, 12 x 1 in"]);
    // Round a base of 5 in: twice that, 1/8 in to slide, and the rest laps over.
    let narrow = Sketch::on("12x12in").cut(1, Turn::Once, "1").score(2, Turn::None, "5").base("2", "6");
    check(&narrow, &["Band, 12 x 1 in"]);
}

#[test]
fn a_corner_is_a_pocket_a_page_a_mat_or_a_tuck_corner() {
    let expected =
        ["Pocket, 3 x 3 in", "Page, 3 x 3 in", "Mat, 3 x 3 in", "Own shape, 3 x 3 in", "Tuck corner, 3 x 3 in"];
    check(&four_flaps(), &expected);
    let suggestions = suggested(&four_flaps(), 1, at("6", "6"));
    let wastes: Vec<i128> = suggestions.iter().map(|suggestion| suggestion.waste.half_nm2()).collect();
    // A triangle is half of its square.
    assert_eq!(wastes, [0, 0, 0, 0, length("3").nm().pow(2).into()]);
}

#[test]
fn a_triangle_is_a_tuck_corner() {
    let sketch = Sketch::on("12x12in").cut_between(1, at("8", "12"), at("12", "8")).base("4", "4");
    let suggestions = suggested(&sketch, 1, at("4", "4"));
    assert_eq!((suggestions[0].label.as_str(), suggestions[0].waste), ("Tuck corner, 4 x 4 in", Area::ZERO));
    assert_eq!((suggestions[1].label.as_str(), suggestions[1].waste), ("Own shape, 4 x 4 in", Area::ZERO));
    assert_eq!(suggestions[2].label, "Pocket, 2 x 2 in");
}

#[test]
fn what_is_left_of_a_cut_offcut_counts() {
    let sketch = Sketch::on("12x12in").cut(1, Turn::None, "2").base("6", "6").part(mat("2", "10"), Source::AnyOffcut);
    let labels: Vec<String> = suggested(&sketch, 1, at("6", "6")).into_iter().map(|found| found.label).collect();
    let expected = [
        "Pocket, 2 x 2 in",
        "Page, 2 x 2 in",
        "Tab, 2 x 2 in",
        "Mat, 2 x 2 in",
        "Own shape, 2 x 2 in",
        "Tuck corner, 2 x 2 in",
    ];
    assert_eq!(labels, expected);
}

#[test]
fn an_offcut_with_a_score_and_a_slant_is_a_shape_of_its_own_that_is_glued_on() {
    let sketch = Sketch::on("12x12in").cut(1, Turn::None, "4").score(2, Turn::Once, "1");
    let sketch = sketch.cut_between(3, at("0", "3"), at("3", "0")).cut_between(4, at("0", "10"), at("4", "10"));
    let sketch = sketch.base("8", "8");
    let is_shape = |found: &Suggestion| found.label == "Own shape, 4 x 10 in";
    let shape = (1..=3).flat_map(|piece| suggested(&sketch, piece, at("8", "8"))).find(is_shape);
    let PartKind::Own(own) = shape.as_ref().map(|found| &found.part.kind).unwrap() else { panic!("a shape") };
    assert_eq!(own.lines.len(), 2);
    assert_eq!(shape.unwrap().part.also.len(), 1, "its main panel is glued");
}

#[test]
fn nothing_is_suggested_that_would_not_do() {
    // Taken whole, and used up.
    let whole = four_flaps().part(mat("2", "2"), Source::Whole(at("1", "1")));
    assert_eq!(suggested(&whole, 1, at("6", "6")), []);
    let used_up = four_flaps().part(mat("3", "3"), Source::Offcut(at("1", "1")));
    assert_eq!(suggested(&used_up, 1, at("6", "6")), []);
    // The folio is no offcut, and there is no panel 99.
    assert_eq!(suggested(&four_flaps(), 0, at("6", "6")), []);
    let layout = Layout::of(&four_flaps().0);
    let found = allot(&four_flaps().0, &layout, &Settings::default());
    assert_eq!(fitting(&four_flaps().0, &layout, &found, PieceId(99), PanelRef::Part(PartId(9), 0)), []);
    // A panel 1 in wide has no room for it.
    let narrow = Sketch::on("12x12in").cut(1, Turn::None, "3").score(2, Turn::None, "11").base("6", "6");
    let labels: Vec<String> = suggested(&narrow, 1, at("11 1/2", "6")).into_iter().map(|found| found.label).collect();
    assert_eq!(labels, Vec::<String>::new());
}

#[test]
fn a_pattern_is_upright_in_what_is_suggested() {
    let mut sketch = Sketch::on("12x12in").cut(1, Turn::Once, "1").base("6", "6");
    sketch.0.stock.front.pattern = Pattern::OneWay(SheetEdge::Top);
    // A level strip with its pattern upright is a hinge that lies level, so turned on its panel.
    let suggestions = suggested(&sketch, 1, at("6", "6"));
    assert_eq!(suggestions[0].label, "Hinge, 1 x 12 in");
    assert_eq!(suggestions[0].part.place.rotation, model::part::Rotation::QUARTER);
}
