//! Long lists: all commands, the steps so far, the designs that were open last.

use super::*;
use egui::Key;

fn write(bench: &mut Bench, text: &str) {
    bench.get_by_role_and_label(Role::TextInput, "Search").type_text(text);
    bench.run();
}

#[test]
fn every_command_is_in_the_list_with_its_keys() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::F1);
    for entry in session::command::TABLE {
        let label = match entry.shortcut {
            Some(shortcut) => format!("{}, {}", entry.label, shortcut.text()),
            None => entry.label.to_owned(),
        };
        assert!(bench.query_all_by_role_and_label(Role::Button, &label).next().is_some(), "{label}");
    }
}

#[test]
fn a_command_is_found_by_words_and_done_by_enter() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::F1);
    write(&mut bench, "add press");
    assert!(!exists(&bench, "Add score, A"), "nothing says so");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(exists(&bench, "No command is called so."), "and nothing is done");
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    write(&mut bench, "add SCORE turn");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!(bench.state().session().document().lines.len(), 4);
    assert!(!exists(&bench, "All commands,"), "the list is gone");
}

#[test]
fn arrows_go_through_the_list() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::F1);
    write(&mut bench, "turn sheet quarter");
    let turned = bench.state().turn();
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    key(&mut bench, Modifiers::NONE, Key::ArrowUp);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_ne!(bench.state().turn(), turned);
}

#[test]
fn history_goes_to_any_step_and_back() {
    let mut bench = bench();
    for _ in 0..3 {
        key(&mut bench, Modifiers::NONE, Key::A);
    }
    let last = bench.state().session().document().clone();
    key(&mut bench, Modifiers::COMMAND, Key::H);
    press(&mut bench, "1  Add score");
    assert_eq!(bench.state().session().document().lines.len(), 4);
    key(&mut bench, Modifiers::COMMAND, Key::H);
    press(&mut bench, "The design as it was at first");
    assert_eq!(bench.state().session().document(), &document());
    key(&mut bench, Modifiers::COMMAND, Key::H);
    press(&mut bench, "3  Add score, taken back");
    assert_eq!(bench.state().session().document(), &last);
}

#[test]
fn a_recent_design_is_opened_once_changes_are_seen_to() {
    let room = tempfile::tempdir().unwrap();
    let (one, two) = (room.path().join("one.folio"), room.path().join("two.folio"));
    for path in [&one, &two] {
        disk::save_design(path, &document()).unwrap();
    }
    let open = |file: &std::path::Path| {
        let window = Window::new(document(), Some(file.to_owned()), Box::new(Scripted::new([])))
            .remembering(keep::Keep::at(room.path().join("state")));
        bench_of(window)
    };
    drop(open(&one));
    let mut bench = open(&two);
    key(&mut bench, Modifiers::NONE, Key::A);
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    press(&mut bench, "one");
    press(&mut bench, "Don't save");
    assert_eq!(bench.state().file(), Some(&one));
    std::fs::remove_file(&two).unwrap();
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    press(&mut bench, "two");
    assert!(exists(&bench, "two.folio"), "it says which design is not there");
    press(&mut bench, "Keep editing");
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    assert!(bench.query_by_role_and_label(Role::Button, "two").is_none(), "and offers it no more");
}
