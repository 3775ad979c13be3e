//! Lines and parts aligned by commands.

use super::parts::{place, with_mat};
use super::*;
use egui::Key;

fn select_also(bench: &mut Bench, label: &str) {
    bench.get_by_role_and_label(Role::Button, label).click_modifiers(Modifiers::COMMAND);
    bench.run();
}

#[test]
fn lines_go_to_the_distance_of_the_first_selected() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Right fold");
    select_also(&mut bench, "Select Score line Left fold");
    press(&mut bench, "Align 2 lines");
    assert_eq!((across(&bench, 1), across(&bench, 2)), (9 * 64, 9 * 64));
    assert_eq!(bench.state().session().undo_label(), Some("Align 2 lines with Right fold"));
    key(&mut bench, Modifiers::SHIFT, Key::E);
    assert!(exists(&bench, "They all lie there already."));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(bench.state().session().document(), &document());
}

#[test]
fn lines_that_cross_or_are_locked_are_not_aligned() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    key(&mut bench, Modifiers::SHIFT, Key::E);
    assert!(exists(&bench, "Choose two lines or more to align them"));
    select_also(&mut bench, "Select Score line Top fold");
    key(&mut bench, Modifiers::SHIFT, Key::E);
    assert!(exists(&bench, "Lines are aligned that run the same way; choose upright or level ones."));
    press(&mut bench, "Select Score line Right fold");
    key(&mut bench, Modifiers::NONE, Key::K);
    press(&mut bench, "Select Score line Left fold");
    select_also(&mut bench, "Select Score line Right fold");
    key(&mut bench, Modifiers::SHIFT, Key::E);
    assert!(exists(&bench, "\"Right fold\" is locked; free it before it is moved."));
    assert_eq!(across(&bench, 2), 9 * 64);
}

#[test]
fn lines_are_put_on_the_nearest_grooves() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    key(&mut bench, Modifiers::SHIFT, Key::G);
    assert!(exists(&bench, "They lie on grooves already."));
    type_into(&mut bench, "Distance of the selected line", "3 5/64");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    press(&mut bench, "Select Score line Left fold");
    select_also(&mut bench, "Select Score line Top fold");
    press(&mut bench, "Put on grooves");
    // 5/64 in is nearer to 1/8 in than to nothing.
    assert_eq!((across(&bench, 1), across(&bench, 3)), (3 * 64 + 8, 2 * 64));
    assert_eq!(bench.state().session().undo_label(), Some("Put 2 lines on grooves"));
}

#[test]
fn a_part_is_put_against_the_sides_of_its_panel_as_they_are_seen() {
    let mut bench = with_mat();
    bench.get_by_label("Photo mat on the sheet").focus();
    bench.run();
    // The base is 6 by 10 in, the mat 2 by 1.
    let go = |bench: &mut Bench, letter| {
        key(bench, Modifiers::COMMAND | Modifiers::SHIFT, letter);
        // In half inches.
        let (across, down) = place(bench, 1);
        (across / 32, down / 32)
    };
    assert_eq!(go(&mut bench, Key::L), (-4, 0));
    assert_eq!(go(&mut bench, Key::T), (-4, -9));
    assert_eq!(go(&mut bench, Key::R), (4, -9));
    assert_eq!(go(&mut bench, Key::U), (4, 9));
    assert_eq!(go(&mut bench, Key::E), (0, 9));
    assert_eq!(go(&mut bench, Key::D), (0, 0));
    assert_eq!(bench.state().session().undo_label(), Some("Move Photo mat"));
    assert_eq!(go(&mut bench, Key::D), (0, 0));
    assert!(exists(&bench, "\"Photo mat\" lies there already."));
    key(&mut bench, Modifiers::NONE, Key::T);
    // Turned once to the left, the left border of the panel is the upper one of the sheet as drawn.
    assert_eq!(go(&mut bench, Key::L), (0, -9));
}

#[test]
fn a_part_is_aligned_by_its_menu_and_nothing_without_a_part() {
    let mut bench = with_mat();
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::L);
    assert!(exists(&bench, "Click a part first."));
    press(&mut bench, "Parts (1)");
    press(&mut bench, "Select Photo mat");
    bench.get_by_role_and_label(Role::Button, "Align").click_accesskit();
    bench.run();
    press(&mut bench, "Part to the right");
    assert_eq!(place(&bench, 1), (2 * 64, 0));
}

#[test]
fn the_mirror_stands_upright_as_the_sheet_is_seen() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Top fold");
    key(&mut bench, Modifiers::NONE, Key::T);
    // Turned once to the left, the top fold stands upright at the left; its image stands at the right.
    key(&mut bench, Modifiers::NONE, Key::M);
    assert_eq!(across(&bench, 3), 10 * 64);
}
