//! How the window is arranged, and that it is so again next time.

use super::*;
use egui::Key;
use keep::Keep;

fn bench_at(keep: Keep) -> Bench {
    let window = Window::new(document(), None, Box::new(Scripted::new([]))).remembering(keep);
    bench_of(window)
}

fn width(bench: &Bench, label: &str) -> f32 {
    bench.get_by_role_and_label(Role::Canvas, label).rect().width()
}

fn is_there(bench: &Bench, role: Role, label: &str) -> bool {
    bench.query_by_role_and_label(role, label).is_some()
}

#[test]
fn either_view_fills_the_window_on_a_key() {
    let mut bench = bench();
    let before = width(&bench, "Sheet");
    key(&mut bench, Modifiers::NONE, Key::F2);
    assert!(width(&bench, "Sheet") > 1300.0);
    assert!(!is_there(&bench, Role::Canvas, "Folded view") && !exists(&bench, "Closing order"));
    key(&mut bench, Modifiers::NONE, Key::F3);
    assert!(width(&bench, "Folded view") > 1300.0 && !is_there(&bench, Role::Canvas, "Sheet"));
    key(&mut bench, Modifiers::NONE, Key::F3);
    assert!((width(&bench, "Sheet") - before).abs() < 1.0, "as it was");
}

#[test]
fn panes_are_closed_by_their_cross_and_come_back_by_a_key() {
    let mut bench = bench();
    for (cross, left, key_of) in [
        ("Close the lists", "Select Score line Left fold", Key::F4),
        ("Close the orders", "Find an order", Key::F6),
        ("Close the findings", "Close the findings", Key::F7),
        ("Close the folded view", "Slanted", Key::F5),
    ] {
        press(&mut bench, cross);
        assert!(!is_there(&bench, Role::Button, left), "{cross}");
        key(&mut bench, Modifiers::NONE, key_of);
        assert!(is_there(&bench, Role::Button, cross), "{cross} again");
    }
    press(&mut bench, "Close the folded view");
    key(&mut bench, Modifiers::NONE, Key::Num2);
    assert!(is_there(&bench, Role::Canvas, "Folded view"), "what is asked of it is to be seen");
}

#[test]
fn what_goes_wrong_is_said_without_the_findings_too() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::F7);
    key(&mut bench, Modifiers::NONE, Key::V);
    bench.event(egui::Event::Paste("a shopping list".to_owned()));
    bench.step();
    bench.run();
    assert!(exists(&bench, "What is on the clipboard is no line"));
}

#[test]
fn the_arrangement_is_as_it_was_next_time() {
    let room = tempfile::tempdir().unwrap();
    let keep = Keep::at(room.path());
    let mut first = bench_at(keep.clone());
    let edge = first.get_by_role_and_label(Role::Canvas, "Sheet").rect();
    let usual = edge.width();
    let handle = Pos2::new(edge.right() + 12.0, edge.center().y);
    drag(&mut first, handle, handle - Vec2::new(120.0, 0.0));
    first.drop_at(handle - Vec2::new(120.0, 0.0));
    first.run();
    let narrowed = width(&first, "Sheet");
    assert!(narrowed < usual - 80.0, "{usual} became {narrowed}");
    key(&mut first, Modifiers::NONE, Key::F7);
    key(&mut first, Modifiers::NONE, Key::F8);
    key(&mut first, Modifiers::COMMAND, Key::Plus);
    let second = bench_at(keep);
    assert!(!is_there(&second, Role::Button, "Close the findings"));
    assert!((second.ctx.zoom_factor() - 1.15).abs() < 1e-3);
    assert!(second.ctx.global_style().visuals.dark_mode);
    let kept: crate::arrangement::Arrangement = Keep::at(room.path()).read("window").unwrap();
    assert!(kept.size(crate::arrangement::Pane::Folded, 0.0) > 480.0, "{kept:?}");
}

#[test]
fn what_is_kept_and_cannot_be_read_is_no_trouble() {
    let room = tempfile::tempdir().unwrap();
    for text in ["{", "[]", r#"{"scale": 65535, "sizes": {"Lists": 65535, "Folded": 0}, "closed": ["Lists"]}"#] {
        std::fs::write(room.path().join("window.json"), text).unwrap();
        let bench = bench_at(Keep::at(room.path()));
        assert!(width(&bench, "Sheet") > 100.0, "{text}");
    }
}

#[test]
fn the_first_start_says_how_to_begin_and_no_other_does() {
    let room = tempfile::tempdir().unwrap();
    let mut first = bench_at(Keep::at(room.path()));
    assert!(exists(&first, "Drag a line on the sheet"));
    press(&mut first, "Got it");
    assert!(!exists(&first, "Drag a line on the sheet"));
    assert!(!exists(&bench_at(Keep::at(room.path())), "Drag a line on the sheet"));
    assert!(!exists(&bench(), "Drag a line on the sheet"), "where nothing is remembered it would be said each time");
}

#[test]
fn larger_is_on_the_key_without_shift_too() {
    let mut bench = bench();
    for (pressed, expected) in [(Key::Equals, 1.15), (Key::Minus, 1.0), (Key::Minus, 0.9), (Key::Num0, 1.0)] {
        key(&mut bench, Modifiers::COMMAND, pressed);
        assert!((bench.ctx.zoom_factor() - expected).abs() < 1e-3, "{pressed:?}");
    }
}
