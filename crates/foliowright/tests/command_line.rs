//! The built program as a maker starts it: a process of its own, its streams, its exit code.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// An empty folder, one for each test.
fn folder(test: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(test);
    if folder.exists() {
        fs::remove_dir_all(&folder).unwrap();
    }
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// A run without a display.
fn run(folder: &Path, words: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_foliowright"));
    for display in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"] {
        command.env_remove(display);
    }
    command.args(words).current_dir(folder).output().unwrap()
}

/// What a run that must succeed prints.
#[track_caller]
fn done(folder: &Path, words: &[&str]) -> String {
    let Output { status, stdout, stderr } = run(folder, words);
    assert!(status.success(), "{words:?}: {}", String::from_utf8_lossy(&stderr));
    assert!(stderr.is_empty(), "{words:?}: {}", String::from_utf8_lossy(&stderr));
    String::from_utf8(stdout).unwrap()
}

/// A run that must end with `code` and one line on standard error that says `says`.
#[track_caller]
fn refused(folder: &Path, words: &[&str], code: i32, says: &str) {
    let Output { status, stdout, stderr } = run(folder, words);
    let said = String::from_utf8(stderr).unwrap();
    assert_eq!(status.code(), Some(code), "{words:?}: {said}");
    assert!(stdout.is_empty(), "{words:?}: {}", String::from_utf8_lossy(&stdout));
    assert_eq!(said.lines().count(), 1, "{words:?}: {said}");
    assert!(said.contains(says), "{words:?}: {said}");
}

#[test]
fn a_starter_is_copied_checked_described_and_exported() {
    let folder = folder("copied");
    let folder = folder.as_path();
    assert_eq!(done(folder, &["starters", "--copy", "seed-swap", "."]).trim(), "./seed-swap.folio");
    done(folder, &["check", "seed-swap.folio"]);
    assert!(done(folder, &["describe", "seed-swap.folio"]).starts_with("Seed swap folio\n"));
    done(folder, &["export", "template", "seed-swap.folio", "-o", "out.pdf"]);
    done(folder, &["export", "picture", "seed-swap.folio", "-o", "out.svg", "--fold", "closed"]);
    done(folder, &["export", "picture", "seed-swap.folio", "-o", "out.png", "--width", "200"]);
    for (file, start) in [("out.pdf", b"%PDF-".as_slice()), ("out.svg", b"<?xml"), ("out.png", b"\x89PNG\r\n")] {
        assert!(fs::read(folder.join(file)).unwrap().starts_with(start), "{file}");
    }
}

#[test]
fn an_export_is_the_same_bytes_each_time() {
    let folder = folder("bytes");
    let folder = folder.as_path();
    done(folder, &["starters", "--copy", "seed-swap", "."]);
    for (kind, name, other) in
        [("template", "a.pdf", "b.pdf"), ("picture", "a.svg", "b.svg"), ("picture", "a.png", "b.png")]
    {
        for output in [name, other] {
            done(folder, &["export", kind, "seed-swap.folio", "-o", output]);
        }
        let [first, second] = [name, other].map(|output| fs::read(folder.join(output)).unwrap());
        assert!(first == second, "{name} and {other} differ");
    }
}

#[test]
fn without_a_display_one_sentence_names_what_works_all_the_same() {
    let folder = folder("display");
    let folder = folder.as_path();
    done(folder, &["starters", "--copy", "seed-swap", "."]);
    refused(folder, &[], 2, "foliowright export template");
    refused(folder, &["seed-swap.folio"], 2, "foliowright export template");
    refused(folder, &["no-such.folio"], 2, "no-such.folio");
    refused(folder, &["a.folio", "b.folio"], 2, "b.folio");
}
