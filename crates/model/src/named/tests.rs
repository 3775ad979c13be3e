//! Named lengths and what follows from them: every slot, every change, each taken back by its inverse.

use super::change::{add, remove, remove_for_its_value, rename, set_about, set_value, with_copies, with_formula};
use super::*;
use crate::change::{add_line, measured_score, move_line, perform};
use crate::corner::{Corner, CornerShape, Which};
use crate::edit::Refusal;
use crate::geometry::{Point, Size};
use crate::layout::Layout;
use crate::line::{Line, LineId, Place, Run, Spot, Stop, Strip, StripSide, Work};
use crate::part::{Mat, PanelRef, Part, PartId, PartKind, Placement, Source};
use crate::slot::{LineSlot, PartSlot, Side, SpotSlot};
use crate::turn::Turn;

const INCH: Length = Length::INCH;

fn made(document: &Document, edit: Edit) -> Document {
    let performed = perform(document, &Layout::of(document), edit).unwrap();
    let mut back = performed.document.clone();
    back.apply(performed.inverse).unwrap();
    assert_eq!(&back, document, "the inverse takes all of it back");
    performed.document
}

fn refused(edit: Result<Edit, Refusal>) -> String {
    edit.unwrap_err().to_string()
}

/// A 12 x 12 in sheet with the lengths width 4 in, margin 1/4 in and half, which is width / 2.
fn document() -> Document {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    for (name, value) in [("width", "4 in"), ("margin", "1/4 in"), ("half", "width / 2")] {
        let value = document.lengths.read(value, None).unwrap();
        document = made(&document, add(&document, name, value, "").unwrap());
    }
    document
}

/// The same with a line of each kind, a corner and a part, all without formulas.
fn furnished() -> Document {
    let mut document = document();
    let at = |x, y| Spot::At(Point::new(INCH * x, INCH * y));
    let drawn = Place::Drawn { from: at(5, 5), to: Spot::On(LineId(1), INCH), bow: INCH / 2 };
    let run = Run { from: Stop::At(INCH), to: Stop::Past(LineId(2), INCH) };
    let level = measured_score(LineId(2), Turn::Once, INCH * 6);
    let slot = Work::Slot(Strip { width: Length::EIGHTH, side: StripSide::Centred });
    for line in [
        measured_score(LineId(1), Turn::None, INCH * 3),
        level,
        Line {
            place: measured_score(LineId(3), Turn::None, INCH * 9).place.with_run(run),
            ..Line::new(LineId(3), drawn, slot)
        },
        Line::new(LineId(4), drawn, Work::Cut),
    ] {
        document = made(&document, add_line(&document, line));
    }
    let corner =
        |x| Corner { mark: Point::new(INCH * x, INCH), which: Which::AllOfPanel, shape: CornerShape::Round(INCH / 4) };
    document = made(&document, Edit::SetCorners(vec![corner(1), corner(11)]));
    let kind = PartKind::Mat(Mat { width: INCH * 2, height: INCH });
    let place = Placement::centred(PanelRef::Sheet(Point::new(INCH, INCH * 2)));
    let part = Part { id: PartId(1), name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() };
    made(&document, Edit::SetParts(vec![part]))
}

/// The design with a formula in a slot, whose value is put there too.
fn with(document: &Document, slot: Slot, text: &str) -> Document {
    let typed = document.lengths.read(text, None).unwrap();
    let mut next = document.clone();
    next.put_length(slot, typed.length).unwrap();
    next.lengths.formulas.insert(slot, typed.formula.unwrap());
    assert_eq!(settle(document, &mut next), None, "the formula holds");
    next
}

#[test]
fn every_slot_follows_its_name_in_one_step_and_back() {
    let bare = furnished();
    let all = bare.slots();
    assert_eq!(all.len(), 2 + 10 + 2 + 4, "{all:?}");
    for slot in all {
        let length = bare.length_in(slot).unwrap();
        let mut named = made(&bare, add(&bare, "own", length.into(), "").unwrap());
        named.lengths.formulas.insert(slot, Formula::of_name("own"));
        let longer = (length + Length::SIXTEENTH).text(Unit::Inch);
        let after = made(&named, set_value(&named, "own", &longer, None).unwrap());
        assert_eq!(after.length_in(slot), Some(length + Length::SIXTEENTH), "{slot:?}");
        assert_eq!(after.lengths.formulas, named.lengths.formulas, "{slot:?}");
        let text = after.slot_name(slot);
        assert!(text.starts_with("the "), "{text}");
        assert_eq!(after.uses_of("Own"), [text]);
    }
}

#[test]
fn a_name_of_names_follows_too() {
    let slot = Slot::Line(LineId(1), LineSlot::Distance);
    let document = with(&furnished(), slot, "half + margin");
    assert_eq!(document.length_in(slot), Some(INCH * 2 + INCH / 4));
    let after = made(&document, set_value(&document, "width", "6", Some(Unit::Inch)).unwrap());
    assert_eq!(after.length_in(slot), Some(INCH * 3 + INCH / 4));
    assert_eq!(after.lengths.find("half").unwrap().value, INCH * 3);
}

#[test]
fn what_puts_another_length_there_lets_go_of_the_formula() {
    let slot = Slot::Line(LineId(1), LineSlot::Distance);
    let before = with(&furnished(), slot, "half + margin");
    let layout = Layout::of(&before);
    let moved = made(&before, move_line(&before, &layout, LineId(1), INCH * 3).unwrap());
    assert!(moved.lengths.formulas.is_empty());
    let gone = let_go(&before, &moved);
    assert_eq!(gone.len(), 1);
    assert_eq!((gone[0].0, gone[0].1.to_string().as_str()), (slot, "half + margin"));
    // Something else of the line is changed: it stays.
    let locked = Line { locked: true, ..before.line(LineId(1)).unwrap().clone() };
    let after = made(&before, Edit::ReplaceLine(locked));
    assert_eq!(after.lengths, before.lengths);
    assert!(let_go(&before, &after).is_empty());
    // The line is gone, and its formula with it.
    let deleted = crate::change::delete_line(&before, &layout, LineId(1)).unwrap();
    let after = made(&before, deleted);
    assert!(after.lengths.formulas.is_empty() && let_go(&before, &after).is_empty());
}

#[test]
fn a_corner_keeps_its_formula_when_another_goes() {
    let before = with(&furnished(), Slot::Corner(1), "margin");
    let rest = made(&before, Edit::SetCorners(vec![before.corners[1]]));
    assert_eq!(rest.lengths.formulas.keys().collect::<Vec<_>>(), [&Slot::Corner(0)]);
    let changed = Corner { shape: CornerShape::Round(INCH), ..before.corners[1] };
    assert!(made(&before, Edit::SetCorners(vec![before.corners[0], changed])).lengths.formulas.is_empty());
}

#[test]
fn a_formula_is_typed_into_a_slot_and_a_length_in_its_place() {
    let document = furnished();
    let slot = Slot::Line(LineId(1), LineSlot::Distance);
    let line = |distance| measured_score(LineId(1), Turn::None, distance);
    let typed = document.lengths.read("Width - Margin", Some(Unit::Inch)).unwrap();
    let edit = with_formula(&document, Edit::ReplaceLine(line(typed.length)), slot, typed.formula).unwrap();
    let after = made(&document, edit);
    assert_eq!(after.typed_in(slot).unwrap().text(Unit::Inch), "width - margin");
    // The same length in figures.
    let edit = with_formula(&after, Edit::ReplaceLine(line(typed.length)), slot, None).unwrap();
    assert_eq!(made(&after, edit).typed_in(slot).unwrap().text(Unit::Inch), "3 3/4 in");
    // A corner that is said anew comes last.
    let corner = Corner { shape: CornerShape::Round(INCH / 2), ..document.corners[0] };
    let typed = document.lengths.read("2 * margin", None).unwrap();
    let edit = Edit::SetCorners(vec![document.corners[1], corner]);
    let after = made(&document, with_formula(&document, edit, Slot::Corner(0), typed.formula).unwrap());
    assert_eq!(after.typed_in(Slot::Corner(1)).unwrap().text(Unit::Inch), "2 * margin");
}

#[test]
fn a_copy_has_the_formulas_of_lengths_that_it_keeps() {
    let distance = |id| Slot::Line(LineId(id), LineSlot::Distance);
    let width = |id| Slot::Line(LineId(id), LineSlot::Width);
    let document = with(&with(&furnished(), distance(3), "2 * width"), width(3), "margin");
    let copy = Line { id: LineId(9), ..document.line(LineId(3)).unwrap().clone() };
    let moved =
        Place::Measured { turn: Turn::None, from: crate::line::Datum::Edge, distance: INCH * 7, run: copy.place.run() };
    let edit = Edit::InsertLine { at: 9, line: Line { place: moved, ..copy } };
    let lines = BTreeMap::from([(LineId(3), LineId(9))]);
    let formulas = &document.lengths.formulas;
    let after = made(&document, with_copies(&document, edit, formulas, &lines, &BTreeMap::new()).unwrap());
    assert_eq!(after.typed_in(width(9)).unwrap().text(Unit::Inch), "margin");
    assert_eq!(after.typed_in(distance(9)).unwrap().text(Unit::Inch), "7 in");
}

#[test]
fn a_name_is_changed_everywhere() {
    let slot = Slot::Part(PartId(1), PartSlot::Measure("width"));
    let document = with(&furnished(), slot, "width - 2 * margin");
    let after = made(&document, rename(&document, "WIDTH", "card  width").unwrap());
    assert_eq!(after.typed_in(slot).unwrap().text(Unit::Inch), "card width - 2 * margin");
    assert_eq!(after.lengths.find("half").unwrap().typed().text(Unit::Inch), "card width / 2");
    let after = made(&after, rename(&after, "card width", "Card width").unwrap());
    assert_eq!(after.lengths.list[0].name, "Card width");
    let after = made(&after, set_about(&after, "margin", " Between card and fold. ").unwrap());
    assert_eq!(after.lengths.find("margin").unwrap().about, "Between card and fold.");
}

#[test]
fn a_name_in_use_is_not_taken_away_but_for_its_value() {
    let distance = Slot::Line(LineId(1), LineSlot::Distance);
    let spot = Slot::Line(LineId(4), LineSlot::From(SpotSlot::X));
    let document = with(&with(&furnished(), distance, "width"), spot, "width + margin");
    assert_eq!(
        refused(remove(&document, "width")),
        "\"width\" is used for \"half\", the distance of \"Score 1\", the start from the left of \"Cut 4\"; put its \
         value there, or use another length"
    );
    let after = made(&document, remove_for_its_value(&document, "width").unwrap());
    assert_eq!(after.typed_in(spot).unwrap().text(Unit::Inch), "4 in + margin");
    assert_eq!(after.typed_in(distance).unwrap(), (INCH * 4).into());
    assert_eq!(after.lengths.find("half").unwrap().typed(), (INCH * 2).into());
    let after = made(&after, remove(&after, "half").unwrap());
    assert_eq!(after.lengths.list.len(), 1);
}

#[test]
fn refusals_name_what_stands_in_the_way() {
    let document = with(&furnished(), Slot::Line(LineId(1), LineSlot::Distance), "width - margin");
    let value = |name, text| refused(set_value(&document, name, text, Some(Unit::Inch)));
    assert_eq!(value("with", "2"), "there is no length called \"with\"; there is width, margin, half");
    assert!(value("width", "half").contains("\"half\" can't be used for \"width\""));
    assert!(value("width", "2 * width").contains("\"width\" can't be used for \"width\""));
    assert!(value("width", "1/3 in").contains("no exact length"));
    assert!(value("width", "9 in + 0.0000001 in").contains("no exact length"));
    let width = |text| set_value(&document, "width", text, Some(Unit::Inch)).unwrap();
    let refusal = perform(&document, &Layout::of(&document), width("13")).unwrap_err().to_string();
    assert_eq!(refusal, "\"Score 1\" lies 3/4 in beyond the edge of the sheet");
    let part = with(&document, Slot::Part(PartId(1), PartSlot::Measure("width")), "width - 2 in");
    assert_eq!(refused(set_value(&part, "width", "1", Some(Unit::Inch))), "the width of \"Mat 1\" can't be -1 in");
    let sheet = with(&document, Slot::Sheet(Side::Width), "3 * width");
    assert_eq!(refused(set_value(&sheet, "width", "-1", Some(Unit::Inch))), "the width of the sheet can't be -3 in");
    for (name, says) in [
        ("", "needs a name"),
        ("Width", "already"),
        ("2 cards", "begin with a letter"),
        ("a-b", "begin with a letter"),
        ("in reach", "the word \"in\""),
        ("line 3", "the word \"line\""),
        (&"x".repeat(41), "too long"),
    ] {
        let said = refused(add(&document, name, INCH.into(), ""));
        assert!(said.contains(says), "{name}: {said}");
    }
    let mut full = document.clone();
    for i in 0..NamedLengths::MOST - 3 {
        full.apply(add(&full, &format!("n{i}"), INCH.into(), "").unwrap()).unwrap();
    }
    assert_eq!(full.apply(add(&full, "more", INCH.into(), "").unwrap()), Err(Refusal::TooManyLengths));
}

#[test]
fn what_is_typed_is_a_length_or_a_formula() {
    let document = document();
    let read = |text| document.lengths.read(text, Some(Unit::Inch));
    assert_eq!(read("1/4"), Ok((INCH / 4).into()));
    assert_eq!(read("12 - 2 3/4"), Ok((INCH * 9 + INCH / 4).into()), "without names it is but its value");
    assert_eq!(read("WIDTH/2").unwrap().text(Unit::Inch), "width / 2");
    let said = |text| read(text).unwrap_err().to_string();
    assert_eq!(said("3 furlongs"), "\"furlongs\" is not a unit; use in, mm or cm");
    assert!(said("3 width").contains("\"3 * width\""));
    assert!(said("1/3").contains("\"1/3\" has no exact length"));
    assert!(said("wide").contains("no length called \"wide\""));
}
