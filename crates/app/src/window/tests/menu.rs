//! The menu of what can be done with a thing, by the right button and by keys.

use super::parts::{selected_part, with_mat};
use super::*;
use egui::{Key, PointerButton};
use model::{Direction, FoldAngle, Work};

pub(super) fn right_click(bench: &mut Bench, at: Pos2) {
    bench.hover_at(at);
    bench.step();
    for pressed in [true, false] {
        let button = PointerButton::Secondary;
        bench.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers: Modifiers::NONE });
        bench.step();
    }
    bench.run();
}

/// The commands of the menu that is open, without what else is in the window.
fn offers(bench: &Bench, label: &str) -> bool {
    bench.query_all_by_role_and_label(Role::Button, label).last().is_some()
}

/// Chooses an item of the menu, which lies over whatever has the same name.
fn take(bench: &mut Bench, label: &str) {
    bench.query_all_by_role_and_label(Role::Button, label).last().unwrap().click();
    bench.run();
}

#[test]
fn a_line_on_the_sheet_offers_what_lines_are_worked_by() {
    let mut bench = bench();
    let at = on_sheet(&bench, 3.0, 8.0);
    right_click(&mut bench, at);
    assert_eq!(selected_line(&bench), Some(1));
    for label in ["Switch score and cut", "Fold flat or square", "Copy left–right", "Delete line"] {
        assert!(offers(&bench, label), "{label}");
    }
    assert!(!offers(&bench, "Space evenly"), "one line has nothing to be spaced");
    take(&mut bench, "Fold flat or square");
    let Work::Score(crease) = line_of(&bench, 1).work else { panic!("a score") };
    assert_eq!(crease.angle, FoldAngle::Square);
    assert!(!offers(&bench, "Copy left–right"), "the menu is closed");
}

#[test]
fn lines_that_are_selected_together_stay_so() {
    let mut bench = bench();
    key(&mut bench, Modifiers::COMMAND, Key::A);
    let at = on_sheet(&bench, 3.0, 8.0);
    right_click(&mut bench, at);
    assert_eq!(bench.state().session().selected_lines().len(), 3);
    assert!(offers(&bench, "Delete 3 lines") && offers(&bench, "Space evenly") && !offers(&bench, "Delete line"));
    take(&mut bench, "Delete 3 lines");
    assert!(bench.state().session().document().lines.is_empty());
}

#[test]
fn a_panel_a_part_and_the_table_each_offer_their_own() {
    let mut bench = with_mat();
    let panel = on_sheet(&bench, 1.0, 8.0);
    right_click(&mut bench, panel);
    assert!(matches!(bench.state().session().selected(), Selected::Panel(_)));
    assert!(offers(&bench, "Cut this panel away") && offers(&bench, "Make this the base"));
    assert!(!offers(&bench, "Keep this offcut"), "it is none");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    right_click(&mut bench, panel);
    take(&mut bench, "Cut this panel away");
    right_click(&mut bench, panel);
    let count = |label: &str| bench.query_all_by_role_and_label(Role::Button, label).count();
    // In the list at the left stand both; the menu has but what can be done.
    assert_eq!((count("Keep this offcut"), count("Make this the base")), (2, 1));
    take(&mut bench, "Keep this offcut");
    let part = on_sheet(&bench, 6.0, 7.2);
    right_click(&mut bench, part);
    assert_eq!(selected_part(&bench), Some(1));
    take(&mut bench, "Part to the left");
    assert!(bench.state().session().is_changed());
    let corner = bench.get_by_label("Sheet").rect().left_top() + Vec2::splat(8.0);
    right_click(&mut bench, corner);
    assert_eq!(bench.state().session().selected(), Selected::Nothing);
    assert!(offers(&bench, "Select all lines"));
}

#[test]
fn a_drag_with_the_right_button_moves_the_view_and_opens_no_menu() {
    let mut bench = bench();
    let at = on_sheet(&bench, 3.0, 8.0);
    bench.hover_at(at);
    bench.step();
    let press = |pos, pressed| {
        let button = PointerButton::Secondary;
        egui::Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE }
    };
    bench.event(press(at, true));
    bench.step();
    for part in 1_u8..=6 {
        bench.hover_at(at + Vec2::new(10.0 * f32::from(part), 0.0));
        bench.step();
    }
    bench.event(press(at + Vec2::new(60.0, 0.0), false));
    bench.run();
    assert!(!offers(&bench, "Delete line"));
    assert!((on_sheet(&bench, 3.0, 8.0).x - at.x - 60.0).abs() < 2.0);
}

#[test]
fn keys_open_it_and_choose_in_it() {
    let mut bench = bench();
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    for (modifiers, pressed) in [(Modifiers::SHIFT, Key::F10), (Modifiers::NONE, Key::Menu)] {
        key(&mut bench, modifiers, pressed);
        assert!(bench.query_all_by_role_and_label(Role::Button, "Switch score and cut").last().unwrap().is_focused());
        key(&mut bench, Modifiers::NONE, Key::ArrowDown);
        let second = bench.query_all_by_role_and_label(Role::Button, "Fold the other way").last().unwrap();
        assert!(second.is_focused(), "the arrows go on in it");
        key(&mut bench, Modifiers::NONE, Key::Escape);
        assert!(bench.get_by_label("Score line Left fold").is_focused(), "the line has the keys again");
        assert_eq!(selected_line(&bench), Some(1), "and stays selected");
    }
    key(&mut bench, Modifiers::SHIFT, Key::F10);
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    let Work::Score(crease) = line_of(&bench, 1).work else { panic!("a score") };
    assert_eq!(crease.direction, Direction::Mountain);
    assert!(!offers(&bench, "Mirror left–right"), "it is closed");
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(across(&bench, 1), 3 * 64 + 8, "and the keys work on the line");
}

#[test]
fn a_step_goes_earlier_by_its_menu_where_nothing_stands_in_the_way() {
    let mut bench = super::reorder::covered();
    let step = |bench: &Bench, label: &str| {
        bench.get_by(|node| node.label().is_some_and(|name| name.starts_with(label))).rect().center()
    };
    let at = step(&bench, "Step 3  ");
    right_click(&mut bench, at);
    assert_eq!(selected_line(&bench), Some(1));
    assert!(!offers(&bench, "Fold the step later"), "it is the last");
    take(&mut bench, "Fold the step earlier");
    assert_eq!(super::reorder::order(&bench), [3, 1, 2]);
    assert!(exists(&bench, "Step 3 as step 2: nothing stands in the way."));
    // The same by its keys; what would break the order is refused with its reason.
    key(&mut bench, Modifiers::COMMAND, Key::PageDown);
    assert_eq!(super::reorder::order(&bench), [3, 2, 1]);
    press(&mut bench, "Select Score line Tip fold");
    key(&mut bench, Modifiers::COMMAND, Key::PageDown);
    assert_eq!(super::reorder::order(&bench), [2, 3, 1]);
    key(&mut bench, Modifiers::COMMAND, Key::PageDown);
    assert_eq!(super::reorder::order(&bench), [2, 3, 1], "it would come too late");
    assert!(exists(&bench, "Not as step 3: the right flap 2 cannot fold in step 3"));
    key(&mut bench, Modifiers::SHIFT, Key::J);
    assert_eq!(bench.state().session().document().steps.len(), 2);
    key(&mut bench, Modifiers::SHIFT, Key::K);
    assert_eq!(bench.state().session().document().steps.len(), 3);
}

#[test]
fn a_row_of_a_list_and_a_finding_have_theirs() {
    let mut document = document();
    let score = measured_score(LineId(4), Turn::None, Length::SIXTEENTH * 97);
    document.apply(add_line(&document, score)).unwrap();
    let mut bench = bench_with(document, None, []);
    let row = bench.get_by_label("Select Score line Right fold").rect().center();
    right_click(&mut bench, row);
    assert!(selected_line(&bench) == Some(2) && offers(&bench, "Lock or free"));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    let is_finding = |label: String| label.contains("between the grooves of the board");
    let finding = bench.get_by(|node| node.role() == Role::Button && node.label().is_some_and(is_finding));
    finding.scroll_to_me();
    bench.run();
    let is_finding = |label: String| label.contains("between the grooves of the board");
    let finding = bench.get_by(|node| node.role() == Role::Button && node.label().is_some_and(is_finding));
    finding.focus();
    bench.run();
    key(&mut bench, Modifiers::SHIFT, Key::F10);
    assert_eq!(selected_line(&bench), Some(4), "it shows its place");
    assert!(offers(&bench, "Mirror left–right"), "and what can be done with that");
    take(&mut bench, "Move Score 4 to 6 in");
    assert_eq!(across(&bench, 4), 6 * 64);
}

#[test]
fn keys_are_for_an_open_menu_and_not_for_the_design() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    bench.get_by_role_and_label(Role::Button, "View").click();
    bench.run();
    assert!(offers(&bench, "Larger"));
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert_eq!(bench.state().session().document().lines.len(), 3, "a menu is open");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!offers(&bench, "Larger"));
    assert_eq!(selected_line(&bench), Some(1), "escape closes the menu and no more");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!(selected_line(&bench), None);
}

/// The empty table beside the folded folio.
fn beside_folio(bench: &Bench) -> Pos2 {
    bench.get_by_role_and_label(Role::Canvas, "Folded view").rect().left_top() + Vec2::splat(12.0)
}

#[test]
fn the_folded_folio_has_the_jobs_on_it_as_a_whole() {
    let mut document = document();
    document.base = Some(model::Point::new(Length::INCH * 6, Length::INCH * 8));
    let mut bench = bench_with(document, None, []);
    let at = beside_folio(&bench);
    right_click(&mut bench, at);
    assert_eq!(bench.state().session().selected(), Selected::Nothing);
    for label in ["Fold", "Close up", "From the back", "Spread the layers", "See through", "Add score"] {
        assert!(offers(&bench, label), "{label}");
    }
    assert!(!offers(&bench, "Select all lines"), "it is not the sheet's");
    take(&mut bench, "Close up");
    assert!((bench.state().fold_time() - 3.0).abs() < 1e-9, "three lines fold in three steps");
    // By keys it is the folio's too, though a line is selected.
    press(&mut bench, "Select Score line Left fold");
    bench.get_by_label("The folded folio").focus();
    bench.run();
    key(&mut bench, Modifiers::SHIFT, Key::F10);
    assert!(offers(&bench, "From the back") && !offers(&bench, "Lock or free 1"), "of the folio");
    take(&mut bench, "Lay flat");
    assert!(bench.state().fold_time().abs() < 1e-9);
    assert_eq!(selected_line(&bench), Some(1), "it stays selected");
}

#[test]
fn without_a_base_the_folio_offers_what_needs_none() {
    let mut document = document();
    document.base = None;
    let mut bench = bench_with(document, None, []);
    let at = beside_folio(&bench);
    right_click(&mut bench, at);
    assert!(offers(&bench, "Only the folded view") && !offers(&bench, "From the back"));
}

#[test]
fn the_empty_table_offers_tools_and_how_the_sheet_is_seen() {
    let mut bench = bench();
    let corner = bench.get_by_label("Sheet").rect().left_top() + Vec2::splat(8.0);
    right_click(&mut bench, corner);
    for label in ["Measure", "Cut along lines", "Only the sheet", "Move to another sheet…"] {
        assert!(offers(&bench, label), "{label}");
    }
    take(&mut bench, "Only the sheet");
    assert!(bench.query_by_role_and_label(Role::Canvas, "Folded view").is_none());
}
