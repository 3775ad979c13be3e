//! Lengths and names typed into fields.

use super::*;
use egui::Key;

#[test]
fn a_typed_distance_moves_the_line() {
    let mut bench = bench();
    for (text, sixty_fourths) in [("4 1/2", 288), ("127 mm", 320), ("3-3/8in", 216)] {
        type_into(&mut bench, "Distance of Left fold", text);
        assert_eq!(across(&bench, 1), sixty_fourths, "{text}");
    }
}

#[test]
fn a_bad_distance_is_kept_with_its_complaint() {
    let mut bench = bench();
    for (text, complaint) in
        [("two", "no length called"), ("1/0", "divides by nothing"), ("14", "2 in beyond the edge of the sheet")]
    {
        type_into(&mut bench, "Distance of Left fold", text);
        assert!(exists(&bench, complaint), "{text}");
        let field = bench.get_by_role_and_label(Role::TextInput, "Distance of Left fold");
        assert_eq!(field.value().as_deref(), Some(text), "nothing is lost");
        assert_eq!(across(&bench, 1), 3 * 64);
    }
    type_into(&mut bench, "Distance of Left fold", "4");
    assert!(!exists(&bench, "beyond the edge"));
    assert_eq!(across(&bench, 1), 4 * 64);
}

#[test]
fn letters_typed_into_a_field_are_no_shortcuts() {
    let mut bench = bench();
    let before = bench.state().session().document().lines.len();
    type_into(&mut bench, "Title of the design", "Tax bag");
    assert_eq!(bench.state().session().document().title, "Tax bag");
    assert_eq!(bench.state().session().document().lines.len(), before, "A adds no score");
    assert_eq!(bench.state().turn(), Turn::None, "T turns nothing");
}

#[test]
fn a_line_is_renamed_folded_the_other_way_and_measured_from_another() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Right fold");
    type_into(&mut bench, "Name of the selected line", "Far fold");
    assert!(exists(&bench, "Score line Far fold"));
    press(&mut bench, "Mountain");
    press(&mut bench, "Square, 90°");
    let work = bench.state().session().document().line(LineId(2)).unwrap().work;
    let crease =
        model::Crease { direction: model::Direction::Mountain, angle: model::FoldAngle::Square, pressed: None };
    assert_eq!(work, model::Work::Score(crease));
    bench.get_by_role_and_label(Role::ComboBox, "Measured from").click();
    bench.run();
    bench.get_by_role_and_label(Role::Button, "Left fold").click();
    bench.run();
    let field = bench.get_by_role_and_label(Role::TextInput, "Distance of Far fold");
    assert_eq!((field.value().as_deref(), across(&bench, 2)), (Some("6 in"), 9 * 64), "it stays where it is");
}

#[test]
fn the_paper_changes_only_where_the_lines_still_fit() {
    let mut bench = bench();
    press(&mut bench, "Paper…");
    type_into(&mut bench, "Size of the sheet", "8 x 12 in");
    assert!(exists(&bench, "1 in beyond the edge of the sheet"));
    type_into(&mut bench, "Size of the sheet", "10 x 12 in");
    type_into(&mut bench, "Grooves of the board every", "1/4");
    press(&mut bench, "Done");
    let document = bench.state().session().document();
    assert_eq!((document.stock.size, document.groove), (Size::parse("10x12in").unwrap(), Length::INCH / 4));
}

#[test]
fn escape_in_a_field_takes_back_what_was_typed_and_no_more() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    let name = |bench: &Bench| bench.get_by_role_and_label(Role::TextInput, "Name of the selected line").value();
    bench.get_by_role_and_label(Role::TextInput, "Name of the selected line").click();
    bench.run();
    bench.get_by_role_and_label(Role::TextInput, "Name of the selected line").type_text("er");
    bench.run();
    assert!(name(&bench).unwrap().contains("er"));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!((name(&bench).as_deref(), selected_line(&bench)), (Some("Left fold"), Some(1)));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!(selected_line(&bench), None, "now there is nothing else to let go of");
}

#[test]
fn a_refused_distance_keeps_the_focus_and_goes_when_the_line_moves() {
    let mut bench = bench();
    type_into(&mut bench, "Distance of Left fold", "banana");
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.get_by_role_and_label(Role::TextInput, "Distance of Left fold").type_text("1/3");
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(exists(&bench, "the nearest is 21/64 in"), "no click was needed to try again");
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    let field = bench.get_by_role_and_label(Role::TextInput, "Distance of Left fold");
    assert_eq!(field.value().as_deref(), Some("3 1/8 in"), "the field shows where the line is");
    assert!(!exists(&bench, "the nearest is"));
}

/// Drags a line a little and types a distance in the middle of it.
fn type_in_a_drag(bench: &mut Bench, text: &str) {
    let from = middle_of(bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    drag(bench, from, from + Vec2::new(40.0, 0.0));
    bench.event(egui::Event::Text(text.to_owned()));
    bench.step();
}

#[test]
fn a_distance_is_typed_while_a_line_is_dragged() {
    let mut bench = bench();
    type_in_a_drag(&mut bench, "12 - 7 3/4");
    assert_eq!(across(&bench, 1), 4 * 64 + 16);
    bench.hover_at(Pos2::new(600.0, 500.0));
    bench.step();
    assert_eq!(across(&bench, 1), 4 * 64 + 16, "the pointer pulls no more");
    key(&mut bench, Modifiers::NONE, egui::Key::Enter);
    assert!(!bench.state().session().in_gesture());
    bench.drop_at(Pos2::new(600.0, 500.0));
    bench.run();
    assert_eq!(across(&bench, 1), 4 * 64 + 16);
    key(&mut bench, Modifiers::COMMAND, egui::Key::Z);
    assert_eq!(bench.state().session().document(), &document(), "it is one step");
}

#[test]
fn what_is_typed_in_a_drag_and_is_no_distance_moves_nothing() {
    let mut bench = bench();
    type_in_a_drag(&mut bench, "1/3");
    assert!(exists(&bench, "between the marks of a ruler"));
    key(&mut bench, Modifiers::NONE, egui::Key::Escape);
    assert_eq!(across(&bench, 1), 3 * 64);
}
