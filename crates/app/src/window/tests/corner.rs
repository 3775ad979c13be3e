//! Corners of panels rounded and clipped by their handles.

use super::*;
use egui::Key;
use model::CornerShape::{Clip, Round, Square};
use model::{Corner, CornerShape, Which};

const TOP_LEFT: &str = "Top left corner of";

/// The corner panel at the top left is selected: 3 by 2 in, with one free corner.
fn corner_panel() -> Bench {
    let mut bench = bench();
    let place = on_sheet(&bench, 1.5, 1.0);
    click_at(&mut bench, place);
    bench
}

fn handle(bench: &Bench) -> Pos2 {
    bench.get_by_label_contains(TOP_LEFT).rect().center()
}

fn shapes(bench: &Bench) -> Vec<CornerShape> {
    bench.state().session().document().corners.iter().map(|corner: &Corner| corner.shape).collect()
}

/// Pulls the handle by so many inches to the right and down, and keeps hold of it.
fn pull(bench: &mut Bench, right: f32, down: f32) -> Pos2 {
    let from = handle(bench);
    let to = from + Vec2::new(right, down) * inch(bench);
    drag(bench, from, to);
    to
}

#[test]
fn a_corner_is_rounded_by_pulling_it_inwards_and_made_square_again() {
    let mut bench = corner_panel();
    let to = pull(&mut bench, 0.52, 0.49);
    assert_eq!(shapes(&bench), [Round(Length::INCH / 2)], "while it is held");
    assert!(exists(&bench, "rounded by 1/2 in. Hold Alt to clip it."));
    bench.drop_at(to);
    bench.run();
    assert!(!bench.state().session().in_gesture());
    let said = bench.state().session().document().corners[0];
    assert!(matches!(said.which, Which::Between(..)), "of one corner");
    assert_eq!(bench.state().session().steps().0, ["Shape a corner"]);
    assert_eq!(bench.state().session().derived().layout.voids.len(), 1);
    let to = pull(&mut bench, -0.6, -0.6);
    bench.drop_at(to);
    bench.run();
    assert!(shapes(&bench).is_empty(), "square again");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(shapes(&bench), [Round(Length::INCH / 2)]);
}

#[test]
fn with_alt_it_is_clipped() {
    let mut bench = corner_panel();
    bench.event(egui::Event::ModifiersChanged(Modifiers::ALT));
    let to = pull(&mut bench, 0.25, 0.25);
    assert_eq!(shapes(&bench), [Clip(Length::INCH / 4)]);
    bench.event(egui::Event::ModifiersChanged(Modifiers::NONE));
    bench.step();
    assert_eq!(shapes(&bench), [Round(Length::INCH / 4)], "as long as it is held");
    bench.drop_at(to);
    bench.run();
}

#[test]
fn a_corner_takes_no_more_than_there_is() {
    let mut bench = corner_panel();
    // The shorter side is 2 in long.
    pull(&mut bench, 4.0, 4.0);
    assert_eq!(shapes(&bench), [Round(Length::INCH * 2)]);
    assert!(exists(&bench, "There is room for no more."));
    assert!(bench.state().session().derived().layout.corner_troubles.is_empty());
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(shapes(&bench).is_empty() && !bench.state().session().is_changed());
}

#[test]
fn handles_are_worked_by_keys_and_by_a_screen_reader() {
    let mut bench = corner_panel();
    let node = bench.get_by_label_contains(TOP_LEFT);
    assert_eq!((node.accesskit_node().role(), node.value()), (Role::Slider, Some("square".to_owned())));
    node.focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowUp);
    key(&mut bench, Modifiers::SHIFT, Key::ArrowUp);
    assert_eq!(shapes(&bench), [Round(Length::INCH * 5 / 32)], "a groove, and a quarter of one");
    bench.get_by_label_contains(TOP_LEFT).decrement_accesskit();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    assert!(shapes(&bench).is_empty());
}

#[test]
fn only_the_panel_that_is_pointed_at_or_selected_has_handles() {
    let mut bench = bench();
    assert!(!exists(&bench, TOP_LEFT));
    let over = on_sheet(&bench, 1.5, 1.0);
    bench.hover_at(over);
    bench.run();
    assert!(exists(&bench, TOP_LEFT));
    // The base is folded at its left, right and top; its lower corners lie where folds end.
    let base = on_sheet(&bench, 6.0, 7.0);
    bench.hover_at(base);
    bench.run();
    assert!(!exists(&bench, "corner of"));
}

#[test]
fn one_corner_stays_square_where_all_others_are_round() {
    let mut bench = corner_panel();
    choose(&mut bench, "Corner: Of the folio", "Round");
    let to = pull(&mut bench, -0.5, -0.5);
    bench.drop_at(to);
    bench.run();
    assert_eq!(shapes(&bench), [Round(Length::INCH / 4), Square]);
    assert_eq!(bench.state().session().derived().layout.voids.len(), 3);
}
