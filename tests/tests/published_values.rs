//! Values that others have published, each with its source, against what the program makes of a design or a text.

use foliowright_tests::{design, strip};
use model::{Length, Size, Unit};

/// Within a nanometre, in mm: folded positions are floats.
#[track_caller]
fn near(got: f64, published: f64) {
    assert!((got - published).abs() < 1e-6, "{got} instead of {published}");
}

#[test]
fn paper_sizes_are_those_of_their_standards() {
    #[track_caller]
    fn case(name: &str, width_mm: f64, height_mm: f64) {
        let size = Size::parse(name).unwrap_or_else(|error| panic!("{name}: {error}"));
        near(size.width().mm(), width_mm);
        near(size.height().mm(), height_mm);
    }
    // ISO 216:2007, table 1.
    case("A0", 841.0, 1189.0);
    case("A4", 210.0, 297.0);
    case("A5", 148.0, 210.0);
    case("A6", 105.0, 148.0);
    case("B5", 176.0, 250.0);
    // ANSI/ASME Y14.1: sizes A and B, 8 1/2 x 11 in and 11 x 17 in; 1 in is 25.4 mm (yard and pound agreement, 1959).
    case("letter", 215.9, 279.4);
    case("tabloid", 279.4, 431.8);
}

#[test]
fn an_a0_sheet_is_a_square_metre_but_for_its_rounding() {
    // ISO 216:2007, 3.1: A0 has one square metre; its sides are rounded to the millimetre.
    let area = Size::parse("A0").unwrap().area().mm2();
    assert!((area - 1e6).abs() < (841.0 + 1189.0) / 2.0, "{area}");
}

#[test]
fn a_letter_fold_closes_with_its_inner_panel_shortened() {
    // A printer's folding guide has an 11 in sheet at 3 11/16, 3 11/16 and 3 5/8 in, the inner panel being the short one.
    let text =
        strip("11 in", "8 1/2 in", "0.1 mm", &[("3 11/16 in", "valley"), ("7 3/8 in", "valley")], ("1 in", "1 in"));
    let (_, derived) = design(&text).unwrap();
    let (_, folding) = derived.folded.as_ref().unwrap();
    assert_eq!(folding.troubles(), []);
    near(folding.closed_size().x, Length::from_sixty_fourths(3 * 64 + 44).mm());
    let widths: Vec<String> = derived.layout.panels.iter().map(|panel| panel.extent().0.text(Unit::Inch)).collect();
    assert_eq!(widths, ["3 11/16 in", "3 11/16 in", "3 5/8 in"]);
}

#[test]
fn panels_on_one_another_are_as_thick_as_a_pack_of_as_many_sheets() {
    // ISO 534:2011: the thickness of a pack is that of its sheets together (bulking thickness, without trapped air).
    let folds = ["valley", "mountain", "valley", "mountain", "valley"];
    for count in 1..=folds.len() {
        let distances: Vec<String> = (1..=count).map(|i| format!("{} mm", 30 * i)).collect();
        let scores: Vec<(&str, &str)> = distances.iter().map(String::as_str).zip(folds).collect();
        let text = strip(&format!("{} mm", 30 * (count + 1)), "80 mm", "0.25 mm", &scores, ("11 mm", "11 mm"));
        let (_, derived) = design(&text).unwrap();
        let (_, folding) = derived.folded.as_ref().unwrap();
        assert_eq!(folding.troubles(), [], "{count} folds");
        let sheets = u32::try_from(count).unwrap() + 1;
        near(folding.closed_size().z, 0.25 * f64::from(sheets));
        near(folding.closed_size().x, 30.0);
    }
}
