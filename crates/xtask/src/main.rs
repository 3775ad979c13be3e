//! The repository's own chores: `cargo xtask ci` runs every check there is, `cargo xtask tidy` the ones that look at the
//! sources themselves.
//!
//! Knows the repository and nothing about folios. Two chores change files of it: `cargo xtask artwork` the pictures
//! that the starters' papers are printed with, `cargo xtask licences --write` the list of what the program is built from.

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a chore talks to whoever started it")]

mod artwork;
mod ci;
mod deb;
mod licences;
mod tidy;
mod tree;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

const USAGE: &str = "\
cargo xtask ci [--fast]   every check, cheap ones first; --fast leaves out those that need programs besides Cargo
cargo xtask tidy          only the checks of the sources themselves
cargo xtask deb [PROGRAM] the program as a Debian package, in target/debian; built in release where none is named
cargo xtask licences      only the licences of what the program is built from, and whether it was yanked
cargo xtask licences --write   the list of them that the program shows, anew
cargo xtask artwork       paints the pictures of the starters' papers anew";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let root = root();
    let outcome = match words.as_slice() {
        ["ci"] => ci::run(&root, ci::Extent::All),
        ["ci", "--fast"] => ci::run(&root, ci::Extent::CargoOnly),
        ["tidy"] => tidy::run(&root),
        ["deb"] => deb::run(&root, None).map(|place| println!("{}", place.display())),
        ["deb", program] => deb::run(&root, Some(program)).map(|place| println!("{}", place.display())),
        ["licences"] => licences::run(&root),
        ["licences", "--write"] => licences::write(&root),
        ["artwork"] => artwork::run(&root),
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}

/// The top folder of the repository, two above this crate's.
fn root() -> PathBuf {
    // Cargo says where the crate is now; where it was built may have moved since.
    let here = std::env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| env!("CARGO_MANIFEST_DIR").into(), PathBuf::from);
    here.ancestors().nth(2).map_or_else(|| PathBuf::from("."), Path::to_owned)
}
