//! A window of 1280 by 720 px at every size of what is in it that can be chosen.

use super::parts::{item, put, with_mat};
use super::*;
use crate::arrangement::{Arrangement, Pane};
use egui::{Key, Rect};
use keep::Keep;
use model::part::usual;

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

/// The list of parts in a window of a scale, with a mat that was put on and is selected.
fn with_part(percent: f32) -> Bench {
    let mut bench = at_scale(percent);
    if !is_in_sight(&bench, "Close the lists") {
        key(&mut bench, Modifiers::NONE, Key::F4);
    }
    press(&mut bench, "Parts");
    put(&mut bench, "Flat pocket");
    put(&mut bench, "Mat");
    bench
}

fn field(bench: &Bench, label: &str) -> Rect {
    bench.get_by_role_and_label(Role::TextInput, label).rect()
}

fn button(bench: &Bench, label: &str) -> Rect {
    bench.get_by_role_and_label(Role::Button, label).rect()
}

fn focused(bench: &Bench) -> Option<String> {
    bench.query_by(|node| node.is_focused()).and_then(|node| node.accesskit_node().label())
}

#[test]
fn the_row_of_a_part_lies_over_its_details_and_both_are_in_sight() {
    for percent in SCALES {
        let mut bench = with_part(percent);
        for row in ["Select Mat 2", "Select Pocket 1"] {
            press(&mut bench, row);
            let (row_at, name) = (button(&bench, row), field(&bench, "Name of the selected part"));
            let window = bench.ctx.content_rect();
            assert!(window.contains_rect(row_at) && window.contains_rect(name), "{percent} %, {row}: {row_at}, {name}");
            // The title of the details and the words under it stand between them.
            assert!(row_at.bottom() + 30.0 < name.top(), "{percent} %, {row}: {row_at} over {name}");
            click_at(&mut bench, name.center());
            assert_eq!(focused(&bench).as_deref(), Some("Name of the selected part"), "{percent} %, {row}");
            key(&mut bench, Modifiers::NONE, Key::Escape);
            click_at(&mut bench, row_at.center());
            assert!(bench.state().session().selected().part().is_some(), "{percent} %, {row}");
        }
    }
}

#[test]
fn the_row_of_a_part_that_is_selected_first_is_brought_into_sight() {
    for percent in SCALES {
        let mut bench = with_mat();
        bench.set_size(Vec2::new(1280.0, 720.0) * 100.0 / percent);
        bench.run();
        if !is_in_sight(&bench, "Close the lists") {
            key(&mut bench, Modifiers::NONE, Key::F4);
        }
        press(&mut bench, "Parts (1)");
        press(&mut bench, "Select Photo mat");
        let (row, name) = (button(&bench, "Select Photo mat"), field(&bench, "Name of the selected part"));
        let over = button(&bench, "Parts (1)");
        assert!(row.top() > over.bottom() && row.bottom() + 30.0 < name.top(), "{percent} %: {over}, {row}, {name}");
    }
}

#[test]
fn the_menu_of_parts_lies_within_the_window_and_is_scrolled() {
    for percent in SCALES {
        let mut bench = with_part(percent);
        bench.get_by_role_and_label(Role::Button, "Add a part…").scroll_to_me();
        bench.run();
        press(&mut bench, "Add a part…");
        let window = bench.ctx.content_rect();
        // Every one is brought into sight and can be chosen, the first again after the last.
        for sort in usual::Sort::ALL.into_iter().chain([usual::Sort::ALL[0]]) {
            item(&bench, sort.label()).scroll_to_me();
            bench.run();
            let at = item(&bench, sort.label()).rect();
            assert!(window.contains_rect(at), "{percent} %, {}: {at} in {window}", sort.label());
        }
    }
}

#[test]
fn panes_are_as_wide_as_before_once_there_is_room_again() {
    let room = tempfile::tempdir().unwrap();
    let keep = Keep::at(room.path());
    let window = Window::new(document(), None, Box::new(Scripted::new([]))).remembering(keep.clone());
    let mut bench = bench_of(window);
    bench.set_size(Vec2::new(1280.0, 720.0));
    bench.run();
    press(&mut bench, "Got it");
    let usual = (button(&bench, "Close the lists"), canvas(&bench, "Sheet"), canvas(&bench, "Folded view"));
    for percent in SCALES {
        bench.set_size(Vec2::new(1280.0, 720.0) * 100.0 / percent);
        bench.run();
        // A click somewhere chooses no size.
        let sheet = canvas(&bench, "Sheet").unwrap();
        click_at(&mut bench, sheet.right_bottom() - Vec2::splat(3.0));
    }
    bench.set_size(Vec2::new(1280.0, 720.0));
    bench.run();
    let again = (button(&bench, "Close the lists"), canvas(&bench, "Sheet"), canvas(&bench, "Folded view"));
    assert_eq!(again, usual);
    let kept: Arrangement = keep.read("window").unwrap();
    assert!([Pane::Lists, Pane::Folded].iter().all(|pane| kept.size(*pane, 0.0) < 1.0), "none was chosen: {kept:?}");
}

#[test]
fn the_details_of_every_part_fit_into_the_narrowest_list() {
    // At this size the list is as narrow as it becomes.
    let mut bench = at_scale(130.0);
    press(&mut bench, "Parts");
    let edge = button(&bench, "Close the lists").right() + 12.0;
    for sort in usual::Sort::ALL {
        put(&mut bench, sort.label());
        assert!(bench.state().session().selected().part().is_some(), "{}", sort.label());
        let is_shown = |role| matches!(role, Role::Button | Role::ComboBox | Role::TextInput | Role::Label);
        let in_list = Rect::from_min_max(Pos2::new(0.0, 120.0), Pos2::new(edge - 40.0, f32::INFINITY));
        let beyond: Vec<_> = bench
            .query_all_by(|node| is_shown(node.role()))
            .filter(|node| in_list.contains(node.rect().min) && node.rect().right() > edge - 12.0)
            .map(|node| (node.accesskit_node().label(), node.value(), node.rect()))
            .collect();
        assert!(beyond.is_empty(), "{}, {edge}: {beyond:?}", sort.label());
    }
}

#[test]
fn the_orders_lie_under_what_folds_the_folio() {
    for percent in SCALES {
        let mut bench = at_scale(percent);
        for order in ["Closing order", "Making order"] {
            if !is_in_sight(&bench, "Close the orders") {
                key(&mut bench, Modifiers::NONE, Key::F6);
            }
            press(&mut bench, order);
            let slider = bench.get_by_role_and_label(Role::Slider, "How far the folio is closed").rect();
            let (window, heading) = (bench.ctx.content_rect(), button(&bench, order));
            assert!(slider.bottom() <= heading.top(), "{percent} %, {order}: {slider} over {heading}");
            assert!(window.contains_rect(heading), "{percent} %, {order}: {heading} in {window}");
        }
    }
}

#[test]
fn long_lists_open_with_their_title_and_search_in_sight() {
    for percent in SCALES {
        for (modifiers, pressed, title) in [
            (Modifiers::NONE, Key::F1, "All commands"),
            (Modifiers::COMMAND, Key::H, "Steps so far"),
            (Modifiers::COMMAND | Modifiers::SHIFT, Key::O, "Open recent"),
        ] {
            let mut bench = at_scale(percent);
            key(&mut bench, modifiers, pressed);
            let window = bench.ctx.content_rect();
            let is_title = |node: &egui_kittest::Node<'_>| node.value().as_deref() == Some(title);
            let title_at = bench.query_all_by_role(Role::Label).find(is_title).unwrap().rect();
            let seen = [title_at, field(&bench, "Search"), button(&bench, "Close")];
            for rect in seen {
                assert!(window.contains_rect(rect), "{percent} %, {title}: {rect} in {window}");
            }
            assert_eq!(focused(&bench).as_deref(), Some("Search"), "{percent} %, {title}");
            (0..3).for_each(|_| key(&mut bench, Modifiers::NONE, Key::PageDown));
            let search = field(&bench, "Search");
            assert!((search.top() - seen[1].top()).abs() < 0.5, "{percent} %, {title}: only the list is scrolled");
        }
    }
}

#[test]
fn what_is_exported_is_looked_at_without_going_sideways() {
    for percent in SCALES {
        let mut bench = at_scale(percent);
        key(&mut bench, Modifiers::COMMAND, Key::P);
        let window = bench.ctx.content_rect();
        let page = bench.query_all_by_role(Role::Image).last().unwrap().rect();
        let right = page.right().max(button(&bench, "Export to a file…").right());
        assert!(right <= window.right() && page.width() > 150.0, "{percent} %: {page} in {window}");
        let choice = button(&bench, "Cards and mats");
        assert!(window.contains_rect(choice) && !page.intersects(choice), "{percent} %: {choice} beside {page}");
    }
}

#[test]
fn another_part_is_read_from_its_name_on() {
    let mut bench = with_part(100.0);
    let name = field(&bench, "Name of the selected part");
    bench.hover_at(name.center());
    bench.step();
    bench.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: Vec2::new(0.0, -120.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
        modifiers: Modifiers::NONE,
    });
    bench.run();
    let scrolled = field(&bench, "Name of the selected part");
    assert!(scrolled.top() < name.top() - 60.0, "{scrolled} was {name}");
    press(&mut bench, "Select Pocket 1");
    let other = field(&bench, "Name of the selected part");
    assert!((other.top() - name.top()).abs() < 40.0, "{other} where {name} was");
}
