//! A storm of events on the window: whatever is pressed, clicked, dragged and typed, nothing panics, the sheet's area adds
//! up, the design can be written and read again, and everything can be taken back and made again.
//!
//! `cargo run --example storm -p foliowright-app -- 100000` goes on for longer.

#[path = "storm/maker.rs"]
mod maker;

use maker::{Maker, with_own};
use model::Document;

#[track_caller]
fn check(starter: &str, seed: u64, change: impl FnOnce(Document) -> Document) {
    let starter = file::starters::ALL.iter().find(|one| one.name == starter).expect("there is such a starter");
    let document = file::from_text(starter.text).expect("starters can be read");
    let mut maker = Maker::new(change(document), seed);
    maker.work(500);
    assert!(maker.steps() > 0, "in 500 doings something was changed");
}

#[test]
fn the_demo_weathers_a_storm() {
    check("seed-swap", 1, |document| document);
}

#[test]
fn a_shape_of_her_own_weathers_a_storm() {
    check("seed-swap", 2, with_own);
}
