//! Parts: put on, moved and taken off, on the sheet, in their list and in the folded view.

use super::*;
use egui::Key;
use model::part::{Source, change, usual};
use model::{PartId, PartKind, Point};

const INCH: Length = Length::INCH;

/// The sheet of the other tests, with its upper left corner panel cut away.
pub(super) fn with_offcut() -> Document {
    let mut document = document();
    let layout = model::Layout::of(&document);
    let corner = layout.panel_at(Point::new(INCH, INCH)).unwrap();
    document.apply(session::offcut::cut_away(&document, &layout, corner).unwrap()).unwrap();
    document
}

/// An item of an open menu, which lies over any button of the same name.
pub(super) fn item<'a>(bench: &'a Bench, label: &'a str) -> egui_kittest::Node<'a> {
    bench.query_all_by_role_and_label(Role::Button, label).last().unwrap()
}

/// Puts a part on the base in the middle of the sheet by the menu.
pub(super) fn put(bench: &mut Bench, sort: &str) {
    // In a low window both may have to be scrolled to.
    bench.get_by_role_and_label(Role::Button, "Add a part…").scroll_to_me();
    bench.run();
    press(bench, "Add a part…");
    item(bench, sort).scroll_to_me();
    bench.run();
    item(bench, sort).click();
    bench.run();
}

/// The window with a mat of 2 by 1 in in the middle of the base, which is 6 by 10 in, 3 in from the left, 2 in from the top.
pub(super) fn with_mat() -> Bench {
    let mut document = document();
    let on = model::PanelRef::Sheet(Point::new(INCH * 6, INCH * 6));
    let kind = PartKind::Mat(model::part::Mat { width: INCH * 2, height: INCH });
    let place = model::part::Placement::centred(on);
    let part = model::Part {
        id: PartId(1),
        name: "Photo mat".to_owned(),
        kind,
        source: Source::FolioStock,
        place,
        also: Vec::new(),
    };
    document.apply(change::add(&document, part)).unwrap();
    bench_with(document, None, [])
}

pub(super) fn part(bench: &Bench, id: u32) -> model::Part {
    bench.state().session().document().part(PartId(id)).unwrap().clone()
}

/// How far a part lies from where its anchors are, in sixty-fourths of an inch.
pub(super) fn place(bench: &Bench, id: u32) -> (i64, i64) {
    let place = part(bench, id).place;
    let sixty_fourths = |length: Length| length.nm() * 64 / INCH.nm();
    (sixty_fourths(place.across.distance), sixty_fourths(place.down.distance))
}

pub(super) fn selected_part(bench: &Bench) -> Option<u32> {
    bench.state().session().selected().part().map(|id| id.0)
}

#[test]
fn a_pocket_is_put_on_the_base_dragged_changed_and_deleted() {
    let mut bench = bench();
    press(&mut bench, "Parts");
    put(&mut bench, "Flat pocket");
    assert_eq!(selected_part(&bench), Some(1));
    let session = bench.state().session();
    assert_eq!(session.undo_label(), Some("Add flat pocket"));
    let base = session.derived().layout.base;
    assert_eq!(session.derived().layout.part(PartId(1)).unwrap().laid.unwrap().on, base.unwrap());
    let before = place(&bench, 1);
    let from = middle_of(&bench, "Pocket 1 on the sheet");
    let to = from - Vec2::new(0.0, inch(&bench));
    drag(&mut bench, from, to);
    assert!(bench.state().session().in_gesture());
    assert!(exists(&bench, "It lies"), "what it snapped to is said");
    bench.drop_at(to);
    bench.run();
    assert_eq!(place(&bench, 1).1 - before.1, 64, "an inch up from the lower border, in grooves");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(place(&bench, 1), before);
    type_into(&mut bench, "Width of the part", "4");
    let PartKind::Pocket(pocket) = part(&bench, 1).kind else { panic!("a pocket") };
    assert_eq!(pocket.width, INCH * 4);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench.get_by_label("Pocket 1 on the sheet").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert!(bench.state().session().document().parts.is_empty());
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(bench.state().session().document().parts.len(), 1, "one step of history");
}

#[test]
fn every_kind_in_the_menu_is_put_on_with_a_place() {
    for sort in usual::Sort::ALL {
        let mut bench = bench();
        press(&mut bench, "Parts");
        put(&mut bench, sort.label());
        let session = bench.state().session();
        assert_eq!(selected_part(&bench), Some(1), "{}", sort.label());
        assert!(session.derived().layout.part_faults.is_empty(), "{}", sort.label());
        let left_out = &session.derived().folded.as_ref().unwrap().0.left_out;
        assert!(left_out.is_empty(), "{}: {left_out:?}", sort.label());
    }
}

#[test]
fn a_drag_comes_to_rest_on_the_middle_and_on_a_border() {
    let mut bench = with_mat();
    let from = middle_of(&bench, "Photo mat on the sheet");
    let inch = inch(&bench);
    // 2 in to the left is where its left border meets that of the panel.
    let to = from - Vec2::new(inch * 2.0 - 3.0, -3.0);
    drag(&mut bench, from, to);
    assert!(exists(&bench, "across: left border; down: middle"));
    bench.drop_at(to);
    bench.run();
    assert_eq!((place(&bench, 1), bench.state().session().in_gesture()), ((-2 * 64, 0), false));
    assert_eq!(bench.state().session().undo_label(), Some("Move Photo mat"));
}

#[test]
fn escape_puts_a_dragged_part_back() {
    let mut bench = with_mat();
    let from = middle_of(&bench, "Photo mat on the sheet");
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    assert_eq!(place(&bench, 1).0, 64);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench.drop_at(to);
    bench.run();
    assert_eq!((place(&bench, 1), bench.state().session().undo_label()), ((0, 0), None));
}

#[test]
fn arrows_push_a_part_as_it_is_seen() {
    let mut bench = with_mat();
    bench.get_by_label("Photo mat on the sheet").focus();
    bench.run();
    assert_eq!(selected_part(&bench), Some(1), "what has the focus is what commands work on");
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    key(&mut bench, Modifiers::SHIFT, Key::ArrowUp);
    assert_eq!(place(&bench, 1), (8, -2), "a groove, and a quarter of one");
    for _ in 0..2 {
        key(&mut bench, Modifiers::COMMAND, Key::Z);
    }
    key(&mut bench, Modifiers::NONE, Key::T);
    bench.get_by_label("Photo mat on the sheet").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    // Turned once to the left, what is right on the board is down on the sheet.
    assert_eq!(place(&bench, 1), (0, 8));
}

#[test]
fn a_line_within_reach_wins_over_a_part_and_clicks_go_deeper() {
    let mut bench = with_mat();
    let at = middle_of(&bench, "Photo mat on the sheet");
    click_at(&mut bench, at);
    assert_eq!(selected_part(&bench), Some(1));
    click_at(&mut bench, at);
    assert!(matches!(bench.state().session().selected(), Selected::Panel(_)), "the panel under it");
    click_at(&mut bench, at);
    assert_eq!(selected_part(&bench), Some(1), "and round again");
    // On the left fold, which the mat is laid over by its number of inches from the middle.
    type_into(&mut bench, "How far across the part lies", "-2 1/2");
    let fold = on_sheet(&bench, 3.0, 7.0);
    click_at(&mut bench, fold);
    assert_eq!(selected_line(&bench), Some(1));
    click_at(&mut bench, fold);
    assert_eq!(selected_part(&bench), Some(1));
}

#[test]
fn alt_and_a_click_pick_what_lies_under_what_is_selected() {
    let mut bench = with_mat();
    press(&mut bench, "Parts (1)");
    press(&mut bench, "Select Photo mat");
    let at = middle_of(&bench, "Photo mat on the sheet");
    bench.event(egui::Event::ModifiersChanged(Modifiers::ALT));
    bench.hover_at(at);
    bench.step();
    for pressed in [true, false] {
        let button = egui::PointerButton::Primary;
        bench.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers: Modifiers::ALT });
        bench.step();
    }
    bench.run();
    assert!(matches!(bench.state().session().selected(), Selected::Panel(_)));
}

#[test]
fn a_part_is_selected_by_its_face_in_the_folded_view() {
    let mut bench = with_mat();
    key(&mut bench, Modifiers::NONE, Key::F);
    let folded = bench.get_by_label("Folded view").rect().center();
    click_at(&mut bench, folded);
    assert_eq!(selected_part(&bench), Some(1), "the mat lies in the middle of the base");
    assert!(exists(&bench, "On the front of Base."));
}

#[test]
fn parts_are_hidden_and_shown_again() {
    let mut bench = with_mat();
    press(&mut bench, "Show parts");
    assert!(!exists(&bench, "Photo mat on the sheet"));
    key(&mut bench, Modifiers::NONE, Key::H);
    assert!(exists(&bench, "Photo mat on the sheet"));
    assert!(!bench.state().session().is_changed(), "hiding is looking");
}

#[test]
fn parts_are_put_on_in_another_order() {
    let mut bench = bench();
    press(&mut bench, "Parts");
    put(&mut bench, "Mat");
    put(&mut bench, "Tab");
    press(&mut bench, "Put Tab 2 on earlier");
    let order =
        |bench: &Bench| bench.state().session().document().parts.iter().map(|part| part.id.0).collect::<Vec<_>>();
    assert_eq!(order(&bench), [2, 1]);
    press(&mut bench, "Put Tab 2 on later");
    assert_eq!(order(&bench), [1, 2]);
}

#[test]
fn a_copy_lies_a_little_aside_and_is_selected() {
    let mut bench = with_mat();
    bench.get_by_label("Photo mat on the sheet").focus();
    bench.run();
    key(&mut bench, Modifiers::COMMAND, Key::D);
    assert_eq!((selected_part(&bench), place(&bench, 2)), (Some(2), (16, 16)));
}

#[test]
fn keys_open_the_menu_of_parts() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::P);
    bench.query_all_by_role_and_label(Role::Button, "Gusseted pocket").last().unwrap().click();
    bench.run();
    assert_eq!(selected_part(&bench), Some(1));
}

#[test]
fn lists_are_changed_by_hand_and_with_what_is_selected() {
    let mut bench = with_mat();
    assert!(exists(&bench, "Select Score line Left fold") && !exists(&bench, "Select Photo mat"));
    press(&mut bench, "Parts (1)");
    press(&mut bench, "Select Photo mat");
    assert!(exists(&bench, "Name of the selected part"));
    press(&mut bench, "Lines");
    assert_eq!(selected_part(&bench), None, "its details belong to the other list");
    let at = middle_of(&bench, "Photo mat on the sheet");
    click_at(&mut bench, at);
    assert!(exists(&bench, "Name of the selected part"));
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    assert!(exists(&bench, "Select Score line Left fold"));
}

#[test]
fn a_flap_folds_in_a_step_that_selects_it() {
    let mut bench = bench();
    press(&mut bench, "Parts");
    put(&mut bench, "Flap");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!(selected_part(&bench), None);
    press(&mut bench, "Step 4  Flap 1's fold");
    assert_eq!(selected_part(&bench), Some(1));
}

#[test]
fn without_a_base_nothing_is_put_on() {
    let mut document = document();
    document.base = None;
    let mut bench = bench_with(document, None, []);
    key(&mut bench, Modifiers::NONE, Key::P);
    assert!(exists(&bench, "Choose a base panel on the sheet first."));
    let middle = on_sheet(&bench, 6.0, 6.0);
    click_at(&mut bench, middle);
    press(&mut bench, "Make this the base");
    assert!(!exists(&bench, "Gusseted pocket"), "the menu waits to be asked for");
}
