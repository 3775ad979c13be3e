//! Several lines selected at once, and what is done with them.

use super::*;
use egui::Key;

fn selected(bench: &Bench) -> Vec<u32> {
    bench.state().session().selected_lines().into_iter().map(|id| id.0).collect()
}

fn click_with(bench: &mut Bench, modifiers: Modifiers, label: &str) {
    bench.get_by_role_and_label(Role::Button, label).click_modifiers(modifiers);
    bench.run();
}

fn all() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    click_with(&mut bench, Modifiers::COMMAND, "Select Score line Right fold");
    click_with(&mut bench, Modifiers::SHIFT, "Select Score line Top fold");
    bench
}

#[test]
fn control_and_shift_select_along_in_the_list() {
    let mut bench = all();
    assert_eq!(selected(&bench), [1, 2, 3]);
    assert!(exists(&bench, "3 lines selected"));
    click_with(&mut bench, Modifiers::COMMAND, "Select Score line Right fold");
    assert_eq!(selected(&bench), [1, 3]);
    press(&mut bench, "Select Score line Right fold");
    assert_eq!(selected(&bench), [2], "a plain click selects one");
}

#[test]
fn control_selects_along_on_the_sheet() {
    let mut bench = bench();
    let places = [on_sheet(&bench, 3.0, 8.0), on_sheet(&bench, 9.0, 8.0)];
    click_at(&mut bench, places[0]);
    bench.event(egui::Event::ModifiersChanged(Modifiers::COMMAND));
    for (at, expected) in [(places[1], vec![1, 2]), (on_sheet(&bench, 6.0, 8.0), vec![1, 2]), (places[0], vec![2])] {
        click_at(&mut bench, at);
        assert_eq!(selected(&bench), expected);
    }
}

#[test]
fn commands_on_lines_say_how_many() {
    let mut bench = all();
    let offered = |bench: &Bench, label: &str| bench.query_by_role_and_label(Role::Button, label).is_some();
    assert!(offered(&bench, "Delete 3 lines") && offered(&bench, "Align 3 lines"));
    click_with(&mut bench, Modifiers::COMMAND, "Select Score line Right fold");
    press(&mut bench, "Delete 2 lines");
    assert_eq!(bench.state().session().document().lines.len(), 1);
    assert_eq!(bench.state().session().undo_label(), Some("Delete 2 lines"));
}

#[test]
fn several_are_deleted_in_one_step() {
    let mut bench = all();
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert!(bench.state().session().document().lines.is_empty());
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(bench.state().session().document(), &document());
}

#[test]
fn what_is_done_with_several_is_told_with_how_many() {
    let mut bench = all();
    for (pressed, modifiers, said) in [
        (Key::V, Modifiers::NONE, "Folded 3 scores the other way: 3 mountains."),
        (Key::G, Modifiers::NONE, "Folded 3 scores by 90°."),
        (Key::K, Modifiers::NONE, "Locked 3 lines."),
        (Key::K, Modifiers::NONE, "Freed 3 lines."),
        (Key::M, Modifiers::NONE, "Mirrored 2 of 3 lines."),
        (Key::G, Modifiers::SHIFT, "They lie on grooves already."),
        (Key::X, Modifiers::NONE, "3 lines are selected; click the one stretch that is to be cut or scored."),
        (Key::Delete, Modifiers::NONE, "Deleted 3 lines."),
    ] {
        key(&mut bench, modifiers, pressed);
        assert!(exists(&bench, said), "{said}: {:?}", bench.state().status);
    }
    assert_eq!(bench.state().session().steps().1, 6, "what changed nothing is no step");
}

#[test]
fn cuts_that_go_with_a_score_are_told() {
    let mut bench = bench();
    let place = on_sheet(&bench, 3.0, 8.0);
    click_at(&mut bench, place);
    key(&mut bench, Modifiers::NONE, Key::X);
    press(&mut bench, "Select Score line Left fold");
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert!(exists(&bench, "Deleted \"Left fold\" and 1 cut along it."));
}

#[test]
fn all_are_locked_and_freed_together() {
    let mut bench = all();
    let locked = |bench: &Bench| (1..=3).filter(|&id| line_of(bench, id).locked).count();
    press(&mut bench, "Lock or free");
    assert_eq!(locked(&bench), 3);
    press(&mut bench, "Mirror left–right");
    assert!(exists(&bench, "is locked; free it before it is moved"), "in the model's words");
    press(&mut bench, "Lock or free");
    assert_eq!(locked(&bench), 0);
}

#[test]
fn lines_are_mirrored_and_copied_to_the_opposite_side() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Top fold");
    bench.get_by_role_and_label(Role::Button, "Mirror or copy").click();
    bench.run();
    press(&mut bench, "Copy top–bottom");
    assert_eq!((across(&bench, 4), selected(&bench)), (10 * 64, vec![4]));
    assert_eq!(line_of(&bench, 4).name, "Top fold, opposite");
    key(&mut bench, Modifiers::SHIFT, Key::M);
    assert_eq!(across(&bench, 4), 2 * 64, "mirrored back onto the first");
}

#[test]
fn gaps_are_made_equal() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    key(&mut bench, Modifiers::NONE, Key::A);
    type_into(&mut bench, "Distance of the selected line", "4");
    press(&mut bench, "Select Score line Left fold");
    click_with(&mut bench, Modifiers::COMMAND, "Select Score line Right fold");
    let button = bench.get_by_role_and_label(Role::Button, "Space evenly");
    assert!(button.accesskit_node().is_disabled(), "two have nothing between them");
    click_with(&mut bench, Modifiers::COMMAND, "Select Score line 4");
    press(&mut bench, "Space evenly");
    assert_eq!(across(&bench, 4), 6 * 64);
}
