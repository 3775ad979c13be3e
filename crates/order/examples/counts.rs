//! Counts the layer orders of maps: `counts 1x12 4x4` prints "1x12 146376" and "4x4 300608".
//!
//! For the counts that are too large for tests that are built without optimization; `tests/outside` holds them to the
//! published ones.

#[path = "../tests/common/mod.rs"]
mod common;

use foliowright_order::{Count, Effort, prepare};

#[expect(clippy::print_stdout, clippy::print_stderr, reason = "an example that prints")]
fn main() {
    for size in std::env::args().skip(1) {
        let sides = size.split_once('x').and_then(|(rows, columns)| Some((rows.parse().ok()?, columns.parse().ok()?)));
        let Some((rows, columns)) = sides else {
            eprintln!("\"{size}\" is no size of a map; write it as 4x4");
            std::process::exit(2);
        };
        match prepare(&common::map(rows, columns)).map(|problem| problem.with_effort(Effort(u64::MAX)).count(u64::MAX))
        {
            Ok(Count::Exact(count)) => println!("{size} {count}"),
            Ok(other) => println!("{size} {other:?}"),
            Err(fault) => println!("{size} {fault}"),
        }
    }
}
