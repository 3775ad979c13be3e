//! Copying, cutting out, pasting, duplicating; selecting by a frame; measuring.

use super::*;
use egui::{Event, Key, OutputCommand};

fn on_clipboard(bench: &Bench) -> Option<String> {
    bench.output().platform_output.commands.iter().find_map(|command| match command {
        OutputCommand::CopyText(text) => Some(text.clone()),
        _ => None,
    })
}

/// Presses the keys of the clipboard as the windowing crate hands them on; gives what was copied.
fn clipboard(bench: &mut Bench, event: Event) -> Option<String> {
    bench.event(event);
    bench.step();
    let text = on_clipboard(bench);
    bench.run();
    text
}

fn selected(bench: &Bench) -> Vec<u32> {
    bench.state().session().selected_lines().into_iter().map(|id| id.0).collect()
}

#[test]
fn a_line_is_copied_into_another_design() {
    let mut from = bench();
    press(&mut from, "Select Score line Right fold");
    let text = clipboard(&mut from, Event::Copy).unwrap();
    assert!(exists(&from, "Copied Right fold."));
    let empty = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    let mut to = bench_with(empty, None, []);
    assert_eq!(clipboard(&mut to, Event::Paste(text)), None);
    assert_eq!((across(&to, 1), selected(&to)), (9 * 64, vec![1]));
    assert_eq!(line_of(&to, 1).name, "Right fold");
    key(&mut to, Modifiers::COMMAND, Key::Z);
    assert!(to.state().session().document().lines.is_empty());
}

#[test]
fn what_is_cut_out_comes_back_where_it_was() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    let text = clipboard(&mut bench, Event::Cut).unwrap();
    assert_eq!(bench.state().session().document().lines.len(), 2);
    clipboard(&mut bench, Event::Paste(text));
    let names: Vec<i64> =
        bench.state().session().document().lines.iter().map(|line| across(&bench, line.id.0)).collect();
    assert_eq!(names, [9 * 64, 2 * 64, 3 * 64]);
}

#[test]
fn what_is_no_line_is_not_pasted_and_nothing_is_not_copied() {
    let mut bench = bench();
    clipboard(&mut bench, Event::Paste("a shopping list".to_owned()));
    assert!(exists(&bench, "What is on the clipboard is no line and no part"));
    assert_eq!(clipboard(&mut bench, Event::Copy), None);
    assert!(exists(&bench, "Click the lines or the part to copy first."));
    assert_eq!(bench.state().session().document(), &document());
}

/// Whether *Paste* can be chosen where all commands are listed.
fn lists_paste(bench: &mut Bench) -> bool {
    key(bench, Modifiers::NONE, Key::F1);
    let row = bench.get_by_role_and_label(Role::Button, "Paste, Ctrl+V");
    let possible = !row.accesskit_node().is_disabled();
    key(bench, Modifiers::NONE, Key::Escape);
    possible
}

/// Whether the menu of the empty table offers it.
fn offers_paste(bench: &mut Bench) -> bool {
    key(bench, Modifiers::NONE, Key::Escape);
    key(bench, Modifiers::SHIFT, Key::F10);
    let offered = bench.query_by_role_and_label(Role::Button, "Paste").is_some();
    key(bench, Modifiers::NONE, Key::Escape);
    offered
}

#[test]
fn paste_is_offered_once_something_was_copied() {
    let mut bench = bench();
    assert!(!lists_paste(&mut bench) && !offers_paste(&mut bench));
    key(&mut bench, Modifiers::COMMAND, Key::V);
    assert!(exists(&bench, "Nothing was copied that could be pasted; copy a line or a part first."));
    press(&mut bench, "Select Score line Right fold");
    let text = clipboard(&mut bench, Event::Copy).unwrap();
    assert!(lists_paste(&mut bench) && offers_paste(&mut bench));
    // Something else was copied elsewhere meanwhile.
    clipboard(&mut bench, Event::Paste("a shopping list".to_owned()));
    assert!(!lists_paste(&mut bench) && !offers_paste(&mut bench));
    // It was copied in another window.
    clipboard(&mut bench, Event::Paste(text));
    assert!(lists_paste(&mut bench) && offers_paste(&mut bench));
}

#[test]
fn a_clipboard_that_is_empty_is_told() {
    // Of the keys the windowing crate hands on only that they come up.
    let mut bench = bench();
    let up = |modifiers| Event::Key { key: Key::V, physical_key: None, pressed: false, repeat: false, modifiers };
    for modifiers in [Modifiers::COMMAND, Modifiers::NONE] {
        clipboard(&mut bench, up(modifiers));
        assert!(exists(&bench, "Nothing was copied that could be pasted"));
        press(&mut bench, "Select Score line Left fold");
        assert!(!exists(&bench, "Nothing was copied that could be pasted"));
    }
    // After something came nothing is missing, nor after the letter alone.
    press(&mut bench, "Select Score line Right fold");
    let text = clipboard(&mut bench, Event::Copy).unwrap();
    clipboard(&mut bench, Event::Paste(text));
    clipboard(&mut bench, up(Modifiers::COMMAND));
    key(&mut bench, Modifiers::NONE, Key::V);
    assert!(!exists(&bench, "Nothing was copied that could be pasted"));
    // Asked for by its name, with nothing there any more.
    bench.state_mut().clipboard.await_text();
    for _ in 0..4 {
        bench.step();
    }
    assert!(exists(&bench, "Nothing was copied that could be pasted"));
    assert!(!lists_paste(&mut bench));
}

#[test]
fn while_she_types_the_clipboard_is_the_fields() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    bench.get_by_role_and_label(Role::TextInput, "Title of the design").click();
    bench.run();
    clipboard(&mut bench, Event::Paste("Seeds".to_owned()));
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(bench.state().session().document().title.contains("Seeds"));
    assert_eq!(bench.state().session().document().lines.len(), 3);
}

#[test]
fn lines_are_duplicated_aside() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    key(&mut bench, Modifiers::COMMAND, Key::D);
    // Two grooves of 1/8 in.
    assert_eq!((across(&bench, 4), selected(&bench)), (3 * 64 + 16, vec![4]));
}

#[test]
fn all_lines_are_selected_by_a_key_and_some_by_a_frame() {
    let mut bench = bench();
    key(&mut bench, Modifiers::COMMAND, Key::A);
    assert_eq!(selected(&bench), [1, 2, 3]);
    let (from, to) = (on_sheet(&bench, 2.0, 3.0), on_sheet(&bench, 4.0, 11.5));
    bench.event(Event::ModifiersChanged(Modifiers::SHIFT));
    drag(&mut bench, from, to);
    assert!(exists(&bench, "1 line in the frame."));
    bench.drop_at(to);
    bench.run();
    assert_eq!(selected(&bench), [1]);
}

#[test]
fn a_distance_is_measured_from_spot_to_spot() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::D);
    let (from, to) = (on_sheet(&bench, 3.0, 6.0), on_sheet(&bench, 9.0, 2.0));
    drag(&mut bench, from, to);
    bench.drop_at(to);
    bench.run();
    // The square root of 6² + 4² is 7.2111, read to the nearest 1/64 in: 7 27/128 lies between 13/64 and 14/64.
    assert!(exists(&bench, "apart: 6 in across and 4 in down."), "6 in and 4 in are read");
    assert_eq!(bench.state().session().document(), &document(), "nothing is drawn");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!exists(&bench, "apart:"));
}
