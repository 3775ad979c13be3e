//! One program with every fuzz target; the variable `FUZZ_TARGET` names the one to run.
//!
//! A target takes any bytes and must neither panic nor hang, and what it asserts must hold. One program and not one a target,
//! since building takes longer than most runs.

#![no_main]

mod bytes;
mod design;
mod target;

use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;
use target::TARGETS;

/// What to do with the bytes.
static TARGET: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let name = std::env::var("FUZZ_TARGET").unwrap_or_default();
    let names = || TARGETS.map(|(name, _)| name).join(", ");
    let found = TARGETS.iter().find(|(known, _)| *known == name);
    found.map(|(_, target)| *target).unwrap_or_else(|| panic!("set FUZZ_TARGET to one of {}", names()))
});

fuzz_target!(|data: &[u8]| TARGET(data));
