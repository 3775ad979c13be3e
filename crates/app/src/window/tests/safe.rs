//! Work is not lost: by a crash, by somebody else's change of the file, by a disk that takes nothing.

use super::*;
use egui::Key;
use keep::Keep;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A window that remembers, in a folder that goes away again.
fn kept_bench(keep: &Keep, file: Option<&Path>, answers: impl IntoIterator<Item = Chosen>) -> Bench {
    let chooser = Box::new(Scripted::new(answers));
    let window = match file {
        Some(file) => Window::opened(disk::open_design(file).unwrap(), chooser),
        None => Window::new(document(), None, chooser),
    };
    let window = window.remembering(keep.clone());
    bench_of(window)
}

/// A folder with a saved design, and a keep beside it.
fn room() -> (TempDir, Keep, PathBuf) {
    let room = tempfile::tempdir().unwrap();
    let (keep, path) = (Keep::at(room.path().join("state")), room.path().join("swap.folio"));
    disk::save_design(&path, &document()).unwrap();
    (room, keep, path)
}

fn change(bench: &mut Bench) {
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(bench, Modifiers::NONE, Key::ArrowRight);
}

/// The window is gone as by a crash: nothing is said to it.
fn crash(bench: Bench) -> Document {
    bench.state().session().document().clone()
}

fn records(keep: &Keep) -> usize {
    let entries = fs::read_dir(keep.folder().unwrap().join("recovery")).into_iter().flatten();
    entries
        .filter(|entry| entry.as_ref().is_ok_and(|entry| entry.path().extension().is_some_and(|e| e == "json")))
        .count()
}

const QUESTION: &str = "Recover work that was not saved?";

#[test]
fn what_a_crash_took_is_offered_and_saved_where_it_belongs() {
    let (_room, keep, path) = room();
    let mut bench = kept_bench(&keep, Some(&path), []);
    change(&mut bench);
    let work = crash(bench);
    assert_eq!(disk::read_design(&path).unwrap(), document(), "the file is as it was");

    let mut bench = kept_bench(&keep, None, []);
    assert!(exists(&bench, QUESTION) && exists(&bench, "changed less than a minute ago"));
    assert!(exists(&bench, &path.display().to_string()));
    press(&mut bench, "Recover");
    assert_eq!(bench.state().session().document(), &work);
    assert!(bench.state().session().is_changed() && bench.state().file() == Some(&path));
    assert_eq!(disk::read_design(&path).unwrap(), document(), "nothing is saved unasked");
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert_eq!(disk::read_design(&path).unwrap(), work);
    drop(bench);
    assert_eq!(records(&keep), 0, "what is saved is not offered again");
    assert!(!exists(&kept_bench(&keep, None, []), QUESTION));
}

#[test]
fn a_design_without_a_file_is_recovered_too() {
    let (_room, keep, _) = room();
    let mut bench = kept_bench(&keep, None, []);
    change(&mut bench);
    let work = crash(bench);
    let mut bench = kept_bench(&keep, None, []);
    assert!(exists(&bench, "Never saved to a file"));
    press(&mut bench, "Recover");
    assert_eq!((bench.state().session().document(), bench.state().file()), (&work, None));
    // The next crash, before anything else is done.
    crash(bench);
    assert!(exists(&kept_bench(&keep, None, []), QUESTION));
}

#[test]
fn what_is_left_for_later_is_offered_again_and_what_is_discarded_is_not() {
    let (_room, keep, _) = room();
    let mut bench = kept_bench(&keep, None, []);
    change(&mut bench);
    crash(bench);
    let mut bench = kept_bench(&keep, None, []);
    press(&mut bench, "Later");
    assert!(!exists(&bench, QUESTION) && !bench.state().session().is_changed());
    drop(bench);
    let mut bench = kept_bench(&keep, None, []);
    press(&mut bench, "Discard");
    assert!(!exists(&bench, QUESTION));
    assert_eq!(records(&keep), 0);
}

#[test]
fn the_work_of_a_window_that_is_open_is_not_offered() {
    let (_room, keep, path) = room();
    let mut first = kept_bench(&keep, Some(&path), []);
    change(&mut first);
    let second = kept_bench(&keep, Some(&path), []);
    assert!(!exists(&second, QUESTION));
    assert!(exists(&second, "is open in another window too"));
}

#[test]
fn changes_let_go_are_not_offered() {
    let (_room, keep, _) = room();
    let mut bench = kept_bench(&keep, None, []);
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::Q);
    press(&mut bench, "Don't save");
    drop(bench);
    assert_eq!(records(&keep), 0);
}

/// A window with a change, on a file that somebody else has changed too.
fn both_changed(answers: impl IntoIterator<Item = Chosen>) -> (TempDir, PathBuf, Bench, Document) {
    let (room, keep, path) = room();
    let mut bench = kept_bench(&keep, Some(&path), answers);
    change(&mut bench);
    let theirs = Document { title: "Theirs".to_owned(), ..document() };
    disk::save_design(&path, &theirs).unwrap();
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert!(exists(&bench, "The file has changed"));
    assert_eq!(disk::read_design(&path).unwrap(), theirs, "it is not replaced unasked");
    (room, path, bench, theirs)
}

#[test]
fn somebody_elses_change_is_replaced_when_she_says_so_and_kept_beside_it() {
    let (_room, path, mut bench, theirs) = both_changed([]);
    press(&mut bench, "Replace it");
    assert_eq!(&disk::read_design(&path).unwrap(), bench.state().session().document());
    assert!(!bench.state().session().is_changed());
    assert_eq!(disk::open_design(&disk::backup(&path)).unwrap().document, theirs);
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert!(!bench.state().session().is_changed(), "and no question the next time");
}

#[test]
fn somebody_elses_change_is_opened_or_left_alone() {
    let (_room, path, mut bench, theirs) = both_changed([]);
    press(&mut bench, "Open theirs");
    assert_eq!(bench.state().session().document(), &theirs);
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert_eq!(&disk::read_design(&path).unwrap(), bench.state().session().document());

    let elsewhere = path.with_file_name("mine.folio");
    let (_room, path, mut bench, theirs) = both_changed([Chosen::File(elsewhere)]);
    press(&mut bench, "Keep editing");
    assert!(bench.state().session().is_changed());
    key(&mut bench, Modifiers::COMMAND, Key::S);
    press(&mut bench, "Save elsewhere…");
    assert!(!bench.state().session().is_changed());
    assert_eq!(disk::read_design(&path).unwrap(), theirs);
}

#[test]
fn a_disk_that_takes_nothing_leaves_the_work_in_the_window() {
    let (room, keep, path) = room();
    let mut bench = kept_bench(&keep, Some(&path), []);
    change(&mut bench);
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert!(exists(&bench, "marked read-only") && bench.state().session().is_changed());
    let elsewhere = room.path().join("elsewhere.folio");
    type_into(&mut bench, "Path of the file", &elsewhere.to_string_lossy());
    assert_eq!(&disk::read_design(&elsewhere).unwrap(), bench.state().session().document());
    assert!(!bench.state().session().is_changed());
}

#[test]
fn the_version_before_the_last_is_opened_in_the_place_of_the_design() {
    let (_room, keep, path) = room();
    let last = Document { title: "Last".to_owned(), ..document() };
    disk::save_design(&path, &last).unwrap();
    let mut bench = kept_bench(&keep, Some(&disk::backup(&path)), []);
    assert!(exists(&bench, "as it was before it was last saved") && bench.state().session().is_changed());
    assert_eq!((bench.state().session().document(), bench.state().file()), (&document(), Some(&path)));
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert_eq!(disk::read_design(&path).unwrap(), document());
    assert_eq!(disk::open_design(&disk::backup(&path)).unwrap().document, last);
}
