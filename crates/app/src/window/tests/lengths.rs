//! Named lengths: the list of them, formulas in fields, what a drag lets go of, and the question for all of them.

use super::*;
use egui::Key;

/// The usual sheet with "reach" of 3 in, by which the left fold lies.
fn named() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Lengths");
    press(&mut bench, "Name a length");
    type_into(&mut bench, "Name of length 1", "reach");
    type_into(&mut bench, "Value of reach", "3");
    press(&mut bench, "Lines");
    type_into(&mut bench, "Distance of Left fold", "Reach");
    bench
}

fn document_of(bench: &Bench) -> &Document {
    bench.state().session().document()
}

#[test]
fn a_field_takes_a_formula_and_shows_it() {
    let mut bench = named();
    assert_eq!(shown(&bench, "Distance of Left fold"), "reach");
    assert_eq!(across(&bench, 1), 3 * 64, "said otherwise, it lies where it lay");
    type_into(&mut bench, "Distance of Left fold", "reach + 1/2");
    assert_eq!(across(&bench, 1), 3 * 64 + 32);
    // Too long for the list: what it comes to, until it is worked on.
    assert_eq!(shown(&bench, "Distance of Left fold"), "= 3 1/2 in");
    bench.get_by_role_and_label(Role::TextInput, "Distance of Left fold").focus();
    bench.run();
    assert_eq!(shown(&bench, "Distance of Left fold"), "reach + 1/2 in");
    type_into(&mut bench, "Distance of Left fold", "reich");
    assert!(exists(&bench, "There is no length called \"reich\""));
    type_into(&mut bench, "Distance of Left fold", "5");
    assert_eq!((shown(&bench, "Distance of Left fold").as_str(), across(&bench, 1)), ("5 in", 5 * 64));
    assert!(document_of(&bench).lengths.formulas.is_empty());
}

#[test]
fn a_plain_length_in_place_of_its_formula_is_kept_plain() {
    let mut bench = named();
    type_into(&mut bench, "Distance of Left fold", "3");
    assert_eq!(shown(&bench, "Distance of Left fold"), "3 in");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(shown(&bench, "Distance of Left fold"), "reach");
}

#[test]
fn what_uses_a_name_follows_it_in_one_step() {
    let mut bench = named();
    press(&mut bench, "Lengths (1)");
    assert!(exists(&bench, "Used once."));
    type_into(&mut bench, "Value of reach", "4 1/2");
    assert_eq!(across(&bench, 1), 4 * 64 + 32);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(across(&bench, 1), 3 * 64);
    type_into(&mut bench, "Value of reach", "13");
    assert!(exists(&bench, "beyond the edge of the sheet"), "what can't follow is told");
    assert_eq!(across(&bench, 1), 3 * 64);
    type_into(&mut bench, "Value of reach", "3");
    type_into(&mut bench, "Name of length 1", "left part");
    type_into(&mut bench, "What left part is", "From the edge to the fold.");
    press(&mut bench, "Lines");
    assert_eq!(shown(&bench, "Distance of Left fold"), "left part");
    assert_eq!(document_of(&bench).lengths.list[0].about, "From the edge to the fold.");
}

#[test]
fn a_drag_lets_go_of_the_formula_and_says_so() {
    let mut bench = named();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    bench.drop_at(to);
    bench.run();
    assert_eq!(across(&bench, 1), 4 * 64);
    assert!(exists(&bench, "The distance of \"Left fold\" no longer follows reach."));
    assert_eq!(shown(&bench, "Distance of Left fold"), "4 in");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(shown(&bench, "Distance of Left fold"), "reach");
}

#[test]
fn a_name_in_use_is_removed_only_for_its_value() {
    let mut bench = named();
    press(&mut bench, "Lengths (1)");
    press(&mut bench, "Remove reach");
    assert!(exists(&bench, "\"reach\" is used for the distance of \"Left fold\""));
    press(&mut bench, "Keep it");
    assert!(!exists(&bench, "is used for"));
    press(&mut bench, "Remove reach");
    press(&mut bench, "Put its value there");
    assert!(document_of(&bench).lengths.is_empty() && document_of(&bench).lengths.formulas.is_empty());
    assert_eq!(across(&bench, 1), 3 * 64);
    assert!(exists(&bench, "No length has a name yet."));
}

#[test]
fn all_named_lengths_are_asked_for_at_once() {
    let mut bench = named();
    press(&mut bench, "Lengths (1)");
    press(&mut bench, "Name a length");
    type_into(&mut bench, "Value of length 1", "2 * reach");
    type_into(&mut bench, "What reach is", "How far the fold is from the edge.");
    press(&mut bench, "Set them all…");
    assert!(!exists(&bench, "How long length 1 is"), "it follows from the other");
    assert!(exists(&bench, "How far the fold is from the edge."));
    let write = |bench: &mut Bench, text: &str| {
        bench.get_by_role_and_label(Role::TextInput, "How long reach is").click();
        bench.run();
        bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
        bench.get_by_role_and_label(Role::TextInput, "How long reach is").type_text(text);
        bench.run();
    };
    write(&mut bench, "20");
    press(&mut bench, "Use these lengths");
    assert!(exists(&bench, "beyond the edge of the sheet"), "it stays open");
    write(&mut bench, "5");
    press(&mut bench, "Use these lengths");
    assert!(!exists(&bench, "Use these lengths"));
    assert_eq!((across(&bench, 1), document_of(&bench).lengths.list[1].value), (5 * 64, Length::INCH * 10));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(across(&bench, 1), 3 * 64, "it was one step");
    press(&mut bench, "Set them all…");
    press(&mut bench, "Leave them as they are");
    assert!(!exists(&bench, "Use these lengths"));
}

#[test]
fn measures_and_corners_take_formulas_too() {
    let mut bench = named();
    let panel = on_sheet(&bench, 1.0, 6.0);
    click_at(&mut bench, panel);
    choose(&mut bench, "Corner: Of this panel", "Round");
    type_into(&mut bench, "Measure of corner: Of this panel", "reach / 8");
    assert_eq!(shown(&bench, "Measure of corner: Of this panel"), "reach / 8");
    assert_eq!(document_of(&bench).corners.last().unwrap().shape.measure(), Length::INCH * 3 / 8);
    press(&mut bench, "Lengths (1)");
    type_into(&mut bench, "Value of reach", "4");
    assert_eq!(document_of(&bench).corners.last().unwrap().shape.measure(), Length::INCH / 2);
}
