//! A window of 1280 by 720 px at every size of what is in it that can be chosen.

use super::*;
use egui::{Key, Rect};

/// The sizes that can be chosen, in percent, and two screens with more px to a point.
const SCALES: [f32; 11] = [70.0, 80.0, 90.0, 100.0, 115.0, 125.0, 130.0, 150.0, 175.0, 180.0, 200.0];

/// The least of the sheet's canvas and of the folio's that can be worked on, points: what is drawn at the least scale of a
/// 12 in sheet has its lines at least two reaches of the pointer apart.
const LEAST: Vec2 = Vec2::new(210.0, 130.0);

fn at_scale(percent: f32) -> Bench {
    let mut bench = bench();
    bench.set_size(Vec2::new(1280.0, 720.0) * 100.0 / percent);
    bench.run();
    bench
}

fn canvas(bench: &Bench, label: &str) -> Option<Rect> {
    bench.query_by_role_and_label(Role::Canvas, label).map(|node| node.rect())
}

/// Whether a button is there and wholly within the window.
fn is_in_sight(bench: &Bench, label: &str) -> bool {
    let window = bench.ctx.content_rect().expand(0.5);
    bench.query_all_by_role_and_label(Role::Button, label).any(|node| window.contains_rect(node.rect()))
}

#[test]
fn both_views_keep_a_size_to_work_at_and_nothing_is_cut_off() {
    for percent in SCALES {
        let bench = at_scale(percent);
        let window = bench.ctx.content_rect().expand(0.5);
        let views = ["Sheet", "Folded view"].map(|label| canvas(&bench, label).unwrap());
        for view in views {
            assert!(window.contains_rect(view), "{percent} %: {view} in {window}");
            assert!(view.width() >= LEAST.x && view.height() >= LEAST.y, "{percent} %: {view} in {window}");
        }
        assert!(views[0].right() <= views[1].left(), "{percent} %: {views:?}");
        // Where findings are not shown, how many there are is.
        let is_count = |label: String| label.starts_with(|c: char| c.is_ascii_digit()) && label.contains("error");
        let count = bench.query_by(|node| node.role() == Role::Button && node.label().is_some_and(is_count));
        let is_seen = count.is_some_and(|count| window.contains_rect(count.rect()));
        assert!(is_in_sight(&bench, "Close the findings") || is_seen, "{percent} %: {count:?}");
        for button in ["View", "Help", "Undo", "Redo", "Add score", "Draw a line", "Front", "Back", "Slanted", "Fold"] {
            assert!(is_in_sight(&bench, button), "{percent} %: {button}");
        }
    }
}

#[test]
fn every_pane_comes_by_its_key_and_leaves_the_sheet_its_room() {
    for percent in SCALES {
        let mut bench = at_scale(percent);
        for (pressed, cross) in [
            (Key::F4, "Close the lists"),
            (Key::F5, "Close the folded view"),
            (Key::F6, "Close the orders"),
            (Key::F7, "Close the findings"),
        ] {
            if !is_in_sight(&bench, cross) {
                key(&mut bench, Modifiers::NONE, pressed);
            }
            assert!(is_in_sight(&bench, cross), "{percent} %: {cross}");
            let (sheet, window) = (canvas(&bench, "Sheet").unwrap(), bench.ctx.content_rect());
            assert!(sheet.width() >= LEAST.x && sheet.height() >= 70.0, "{percent} %, {cross}: {sheet} in {window}");
        }
    }
}

#[test]
fn what_is_in_menus_for_want_of_room_is_done_from_there() {
    let mut bench = at_scale(200.0);
    press(&mut bench, "Design");
    assert!(is_in_sight(&bench, "Open…"));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    let more =
        |bench: &Bench| bench.query_all_by_role_and_label(Role::Button, "More").map(|node| node.rect()).collect();
    let mut at: Vec<Rect> = more(&bench);
    at.sort_by(|a, b| a.left().total_cmp(&b.left()));
    let [tools, folio] = at[..] else { panic!("one over the sheet, one under the folio: {at:?}") };
    click_at(&mut bench, tools.center());
    press(&mut bench, "Turn the sheet");
    assert_eq!(bench.state().turn(), Turn::Once);
    click_at(&mut bench, folio.center());
    bench.query_all_by_role_and_label(Role::Button, "Find an order").last().unwrap().scroll_to_me();
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!exists(&bench, "Find an order"));
}

#[test]
fn a_question_that_is_higher_than_the_window_is_scrolled() {
    let mut bench = at_scale(200.0);
    for (modifiers, pressed) in
        [(Modifiers::COMMAND, Key::B), (Modifiers::COMMAND, Key::P), (Modifiers::COMMAND, Key::T)]
    {
        key(&mut bench, modifiers, pressed);
        assert!(bench.state().dialog.is_some(), "{pressed:?}");
        key(&mut bench, Modifiers::NONE, Key::Escape);
        assert!(bench.state().dialog.is_none(), "{pressed:?}");
    }
}
