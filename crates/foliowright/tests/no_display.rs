//! Without a display the program says so in one sentence. Elsewhere than on Linux there is no such variable to take
//! away.
#![cfg(target_os = "linux")]

use std::process::Command;

#[track_caller]
fn check(arguments: &[&str], display: Option<&str>, says: &str) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_foliowright"));
    program.args(arguments).env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    program.envs(display.map(|display| ("DISPLAY", display)));
    let output = program.output().expect("the program starts");
    let said = String::from_utf8(output.stderr).expect("it speaks UTF-8");
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert_eq!(said.lines().count(), 1, "one sentence: {said}");
    assert!(said.contains(says), "{said}");
    assert!(output.stdout.is_empty());
}

#[test]
fn no_display_is_said_with_the_command_that_needs_none() {
    check(&[], None, "foliowright export template FILE -o OUT.pdf");
}

#[test]
fn a_display_that_is_not_there_is_none() {
    check(&[], Some(":4711"), "no display");
}

#[test]
fn a_file_that_cannot_be_read_is_said_first() {
    check(&["/nowhere/at/all.folio"], None, "/nowhere/at/all.folio");
}

#[test]
fn one_file_at_a_time() {
    check(&["a.folio", "b.folio"], None, "b.folio");
}
