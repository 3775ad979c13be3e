//! `cargo xtask tidy`: what no compiler checks about the repository, such as which crate may use which.
//!
//! Each check takes the files as they were read and gives sentences, one for each thing that is wrong.

mod colour;
mod dependency;
mod documents;
mod leftover;
mod module;
mod platform;
mod pure;
mod rust_text;

use crate::tree::Tree;
use anyhow::{Result, bail};
use std::path::Path;

/// Every check, in the order in which a reader would want to hear of it.
const CHECKS: [fn(&Tree) -> Vec<String>; 7] =
    [dependency::check, pure::check, platform::check, colour::check, module::check, leftover::check, documents::check];

/// Checks the repository at `root`.
///
/// # Errors
/// Says how many things are wrong, after printing each.
pub(crate) fn run(root: &Path) -> Result<()> {
    let tree = Tree::read(root)?;
    let wrong: Vec<String> = CHECKS.iter().flat_map(|check| check(&tree)).collect();
    for sentence in &wrong {
        println!("{sentence}");
    }
    match wrong.len() {
        0 => Ok(()),
        1 => bail!("one thing is untidy"),
        count => bail!("{count} things are untidy"),
    }
}

/// Runs one check on made-up files.
#[cfg(test)]
#[track_caller]
fn expect(check: fn(&Tree) -> Vec<String>, files: &[(&str, &str)], wrong: &[&str]) {
    assert_eq!(check(&Tree::of(files)), wrong);
}
