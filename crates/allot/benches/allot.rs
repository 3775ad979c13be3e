//! How long it takes to allot paper to a folio's parts, quickly and thoroughly. Nothing is asserted, since machines differ.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]
#![expect(clippy::unwrap_used, reason = "a bench may fail")]

extern crate nest as foliowright_nest;

#[path = "../tests/common/mod.rs"]
mod common;

use common::{Sketch, at, four_flaps, hinge, length, mat};
use foliowright_allot::{Settings, allot};
use model::part::Source;
use model::{Corner, CornerShape, Layout, Turn, Which};
use std::time::Instant;

/// The best of so many runs.
const RUNS: usize = 5;

fn main() {
    println!("{:>46} {:>12} {:>12}", "", "quick, ms", "thorough, ms");
    row("12 hinges and mats into four corners", corners(12));
    row("6 into four corners", corners(6));
    row("12 into a slanting offcut and a strip", slanting());
    row("12 into four rounded corners", rounded());
    row("24, more than fit, into four corners", corners(24));
}

fn corners(count: usize) -> Sketch {
    let parts = [("1/2", "3"), ("3/4", "2 1/2"), ("1", "1 1/2"), ("5/8", "2 3/4"), ("7/8", "1 7/8")];
    (0..count).fold(four_flaps(), |sketch, i| {
        let (short, long) = parts[i % parts.len()];
        let kind = if i % 3 == 0 { hinge(short, long) } else { mat(long, short) };
        sketch.part(kind, Source::AnyOffcut)
    })
}

fn slanting() -> Sketch {
    let sketch =
        Sketch::on("12x12in").cut_between(1, at("5", "12"), at("12", "3")).cut(2, Turn::None, "2").base("6", "4");
    (0..12).fold(sketch, |sketch, i| {
        let (short, long) = [("1", "4"), ("3/4", "3"), ("2", "2 1/2")][i % 3];
        sketch.part(mat(long, short), Source::AnyOffcut)
    })
}

fn rounded() -> Sketch {
    let mut sketch = corners(12);
    let shape = CornerShape::Round(length("1/2"));
    let marks = [("1", "1"), ("11", "1"), ("1", "11"), ("11", "11")].map(|(x, y)| at(x, y));
    sketch.0.corners.extend(marks.map(|mark| Corner { mark, which: Which::AllOfPiece, shape }));
    sketch
}

fn row(name: &str, sketch: Sketch) {
    let layout = Layout::of(&sketch.0);
    let best = |settings: Settings| {
        let run = |_| {
            let start = Instant::now();
            std::hint::black_box(allot(&sketch.0, &layout, &settings));
            start.elapsed().as_secs_f64() * 1e3
        };
        (0..RUNS).map(run).fold(f64::INFINITY, f64::min)
    };
    println!("{name:>46} {:>12.2} {:>12.1}", best(Settings::default()), best(Settings::default().thorough()));
}
