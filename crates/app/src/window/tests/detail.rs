//! The details of the selected line: what is done along it, where it starts and ends, whether it is locked.

use super::*;
use egui::Key;
use model::{Direction, Face, Notch, Run, Stop, Strip, StripSide, Work};

fn selected() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    bench
}

fn run(bench: &Bench) -> Run {
    line_of(bench, 1).place.run()
}

#[test]
fn a_score_folds_either_way_and_is_pressed_into_a_face() {
    let mut bench = selected();
    press(&mut bench, "Either way");
    choose(&mut bench, "Face it is pressed into", "the back");
    let crease = line_of(&bench, 1).work.crease().unwrap();
    assert_eq!((crease.direction, crease.pressed), (Direction::Either, Some(Face::Back)));
    choose(&mut bench, "Face it is pressed into", "the side that suits the fold");
    assert_eq!(line_of(&bench, 1).work.crease().unwrap().pressed, None);
}

#[test]
fn a_score_becomes_a_slot_with_a_width_and_a_side() {
    let mut bench = selected();
    choose(&mut bench, "What is done along the line", "Slot");
    assert_eq!(bench.state().session().document().step_of(LineId(1)), None, "it folds no more");
    type_into(&mut bench, "Width of the strip", "1/4");
    press(&mut bench, "Left");
    let strip = Strip { width: Length::INCH / 4, side: StripSide::Left };
    assert_eq!(line_of(&bench, 1).work, Work::Slot(strip));
    assert_eq!(bench.state().session().derived().layout.voids.len(), 2, "the line across parts it in two");
    type_into(&mut bench, "Width of the strip", "0");
    assert!(exists(&bench, "has no width"), "in the model's words");
    assert!(exists(&bench, "Slot line Left fold"));
}

#[test]
fn no_row_moves_when_others_are_added_under_it() {
    let mut bench = selected();
    let top = |bench: &Bench| bench.get_by_role_and_label(Role::ComboBox, "What is done along the line").rect().top();
    let before = top(&bench);
    choose(&mut bench, "What is done along the line", "Slot");
    assert!((top(&bench) - before).abs() < 0.5, "with a width and a side: {before} {}", top(&bench));
    choose(&mut bench, "What is done along the line", "Guide");
    assert!((top(&bench) - before).abs() < 0.5, "and without them");
    press(&mut bench, "Select Score line Right fold");
    press(&mut bench, "Select Guide line Left fold");
    assert!(top(&bench) > before + 0.5, "another time it takes no more than it needs");
}

#[test]
fn a_trim_is_a_hairline_and_a_notch_has_a_depth() {
    let mut bench = selected();
    choose(&mut bench, "What is done along the line", "Trim");
    type_into(&mut bench, "Width of the strip", "1/8");
    assert!(exists(&bench, "make it a slot"));
    choose(&mut bench, "What is done along the line", "Notch");
    type_into(&mut bench, "Depth of the notch", "3/4");
    press(&mut bench, "Left");
    assert_eq!(line_of(&bench, 1).work, Work::Notch(Notch { depth: Length::INCH * 3 / 4, to_left: true }));
}

#[test]
fn a_run_stops_at_a_distance_at_a_line_and_past_a_line() {
    let mut bench = selected();
    choose(&mut bench, "Where the line starts", "at a distance");
    type_into(&mut bench, "Distance where it starts", "1");
    assert_eq!(run(&bench).from, Stop::At(Length::INCH));
    choose(&mut bench, "Where the line starts", "at a line");
    assert_eq!(run(&bench).from, Stop::Line(LineId(3)), "the only one that crosses it");
    choose(&mut bench, "Where the line starts", "past a line");
    type_into(&mut bench, "Distance where it starts", "1/2");
    assert_eq!(run(&bench), Run { from: Stop::Past(LineId(3), Length::INCH / 2), to: Stop::Edge });
    type_into(&mut bench, "Distance where it starts", "-9");
    assert!(exists(&bench, "beyond the edge of the sheet"));
    choose(&mut bench, "Where the line starts", "at the edge");
    assert_eq!(run(&bench), Run::FULL);
}

#[test]
fn a_locked_line_stays_and_says_so() {
    let mut bench = selected();
    bench.get_by_role_and_label(Role::CheckBox, "Locked").click();
    bench.run();
    assert!(line_of(&bench, 1).locked);
    let said = "\"Left fold\" is locked; free it first.";
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    assert!(!bench.state().session().in_gesture());
    bench.drop_at(to);
    bench.run();
    assert!(exists(&bench, said));
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert!(exists(&bench, said));
    type_into(&mut bench, "Distance of the selected line", "5");
    assert_eq!(across(&bench, 1), 3 * 64);
    press_key_twice_to_leave(&mut bench);
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::K);
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!((across(&bench, 1), line_of(&bench, 1).locked), (3 * 64 + 8, false));
}

/// Takes back what stands in a refused field, and leaves it.
fn press_key_twice_to_leave(bench: &mut Bench) {
    key(bench, Modifiers::NONE, Key::Escape);
}

#[test]
fn the_side_that_a_cut_takes_follows_the_mirror() {
    let mut bench = selected();
    choose(&mut bench, "What is done along the line", "Slot");
    press(&mut bench, "Left");
    key(&mut bench, Modifiers::NONE, Key::M);
    assert_eq!(across(&bench, 1), 9 * 64);
    let Work::Slot(strip) = line_of(&bench, 1).work else { panic!("a slot") };
    assert_eq!(strip.side, StripSide::Right);
}
