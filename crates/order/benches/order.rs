//! How long layer orders take to find and to count. `cargo bench -p foliowright-order` prints medians in microseconds;
//! nothing is asserted but that answers are what they should be, since machines differ.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

#[path = "../tests/common/mod.rs"]
mod common;

use common::{Random, equal_strip, flaps, grid, map, simply_folded, strip};
use foliowright_order::{Answer, Conflict, Count, Figure, Fold, Given, Problem, prepare};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// All orders of a map of four by four: OEIS A001418.
const ORDERS: u128 = 300_608;

/// How long a general solver outside takes to go through them, in µs: OR-Tools CP-SAT 9.15 on one core of two shared Xeon
/// processors, one run. `tests/outside/peers` has it do so again, beside ours, on the machine at hand.
const OUTSIDE: f64 = 18.7e6;

/// Runs of each; the median of fewer jumps about on a busy machine.
const RUNS: usize = 15;

fn main() {
    println!("median of {RUNS} runs, µs");
    println!("{:>34}{:>8}{:>10}{:>12}{:>12}{:>12}", "", "panels", "overlaps", "prepare", "solve", "count");
    row("letter fold", &strip(&[100.0, 100.0, 98.0], "VV"), true);
    row("four flaps, all valleys", &flaps(100.0, 80.0, 60.0, "VVVV"), true);
    row(
        "roll of 10",
        &strip(&[109.0, 108.0, 107.0, 106.0, 105.0, 104.0, 103.0, 102.0, 101.0, 100.0], "VVVVVVVVV"),
        true,
    );
    row("folio of 4 x 4 unequal panels", &folio(4, 4), true);
    row("folio of 5 x 4 unequal panels", &folio(5, 4), true);
    for (rows, columns, orders) in [(3, 4, 15_552), (4, 4, ORDERS)] {
        let figure = map(rows, columns);
        row(&format!("map {rows} x {columns}, either way"), &figure, true);
        assert_eq!(ready(&figure).count(1 << 30), Count::Exact(orders));
    }
    for seed in 1..=3 {
        row(&format!("map 8 x 12, simple folds {seed}"), &simply_folded(8, 12, &mut Random(seed)), false);
    }
    row("map 8 x 12, either way", &map(8, 12), false);
    for panels in [50, 200, 500] {
        row(&format!("{panels} pleats"), &pleats(panels), false);
    }
    for panels in [50, 200, 500] {
        row(&format!("{panels} equal, random ways"), &random_ways(panels), false);
    }
    for panels in [50, 200, 500] {
        row(&format!("roll of {panels}"), &roll(panels), false);
    }
    for side in [7, 14, 20] {
        row(&format!("flat sheet of {side} x {side}"), &flat(side), false);
    }
    for side in [7, 10, 14] {
        row(&format!("unequal map {side} x {side}"), &unequal(side), false);
    }
    conflict("short middle in 20", &short_middle(20));
    conflict("short middle in 200", &short_middle(200));
    conflict("short middle in 500", &short_middle(500));
    conflict("one wrong crease in 8 x 12", &one_wrong(8, 12));
    conflict("one short panel in a roll of 50", &one_short(50));
    conflict("one short panel in a roll of 200", &one_short(200));
    allows();
    listed();
}

fn row(name: &str, figure: &Figure, counted: bool) {
    let problem = ready(figure);
    let prepared = median(|| drop(black_box(prepare(figure))));
    assert!(matches!(problem.solve(), Answer::Order(_)), "{name} has an order");
    let solved = median(|| drop(black_box(problem.solve())));
    let counted = counted.then(|| median(|| assert_ne!(black_box(problem.count(1 << 30)), Count::Exact(0))));
    let micros = |time: Duration| format!("{:.1}", time.as_secs_f64() * 1e6);
    println!(
        "{name:>34}{:>8}{:>10}{:>12}{:>12}{:>12}",
        figure.facets.len(),
        problem.overlaps().len(),
        micros(prepared),
        micros(solved),
        counted.map(micros).unwrap_or_default()
    );
}

fn conflict(name: &str, figure: &Figure) {
    let problem = ready(figure);
    let Answer::Conflict(found) = problem.solve() else { panic!("{name} has no order") };
    let time = median(|| drop(black_box(problem.solve())));
    let Conflict { joints, facets, directions, is_least, .. } = found;
    println!(
        "{name:>34}: {} µs, joints {joints:?}, directions {directions:?}, panels {facets:?}, least {is_least}",
        time.as_micros()
    );
}

fn allows() {
    let problem = ready(&map(8, 12));
    let Answer::Order(state) = problem.solve() else { panic!("a map folds") };
    let asked: Vec<Given> = problem
        .overlaps()
        .iter()
        .map(|overlap| overlap.facets)
        .map(|[a, b]| if state.above(a, b) == Some(true) { Given::new(b, a) } else { Given::new(a, b) })
        .collect();
    println!(
        "{:>34}: {} µs",
        "all 4560 orders of 8 x 12 verified",
        median(|| drop(black_box(problem.allows(&asked)))).as_micros()
    );
    println!(
        "{:>34}: {} µs",
        "leeway of two of its panels",
        median(|| drop(black_box(problem.leeway(3, 77)))).as_micros()
    );
}

/// Every order of a map of four by four found and kept, from its outlines on, beside the solver outside.
fn listed() {
    let figure = map(4, 4);
    let all = || ready(&figure).list(1 << 30);
    assert_eq!(all().count(), Count::Exact(ORDERS));
    assert_eq!(all().states().map(black_box).count(), usize::try_from(ORDERS).expect("it fits"));
    let time = median(|| drop(black_box(all()))).as_secs_f64() * 1e6;
    println!("{:>34}{:>12}{:>16}{:>20}{:>16}", "", "orders", "prepare+list", "CP-SAT (recorded)", "CP-SAT / ours");
    println!("{:>34}{ORDERS:>12}{time:>16.1}{OUTSIDE:>20.1}{:>16.1}", "map 4 x 4, all orders listed", OUTSIDE / time);
}

fn ready(figure: &Figure) -> Problem {
    prepare(figure).expect("the figures here are well formed")
}

fn median(stage: impl Fn()) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            stage();
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[RUNS / 2]
}

/// Covers with pockets along one edge and flaps that get smaller: columns and rows of unequal sizes.
fn folio(columns: usize, rows: usize) -> Figure {
    let widths: Vec<f64> = [100.0, 99.0, 98.0, 60.0, 30.0][..columns].to_vec();
    let heights: Vec<f64> = [140.0, 60.0, 59.0, 20.0][..rows].to_vec();
    grid(&widths, &heights, |_, _, _| Some(Fold::Either)).folded()
}

fn pleats(panels: usize) -> Figure {
    equal_strip(&"VM".repeat(panels)[..panels - 1])
}

fn random_ways(panels: usize) -> Figure {
    let mut random = Random(7);
    let word: String = (1..panels).map(|_| *random.pick(&['M', 'V'])).collect();
    equal_strip(&word)
}

fn roll(panels: usize) -> Figure {
    let lengths: Vec<f64> = std::iter::successors(Some(200.0), |length| Some(length - 0.25)).take(panels).collect();
    strip(&lengths, &"V".repeat(panels - 1))
}

fn flat(side: usize) -> Figure {
    grid(&vec![10.0; side], &vec![10.0; side], |_, _, _| None).folded()
}

/// A map of columns and rows of many sizes, folded up simply.
fn unequal(side: usize) -> Figure {
    let mut random = Random(5);
    let mut sizes = || -> Vec<f64> { (0..side).map(|_| *random.pick(&[10.0, 13.0, 17.0, 20.0, 24.0, 31.0])).collect() };
    let (widths, heights) = (sizes(), sizes());
    grid(&widths, &heights, |_, _, _| Some(Fold::Either)).folded()
}

fn short_middle(panels: usize) -> Figure {
    let mut lengths = vec![100.0; panels];
    lengths[panels / 2] = 98.0;
    let word: String = (1..panels).map(|i| if i == panels / 2 || i == panels / 2 + 1 { 'V' } else { '?' }).collect();
    strip(&lengths, &word)
}

fn one_wrong(rows: usize, columns: usize) -> Figure {
    let mut figure = simply_folded(rows, columns, &mut Random(1));
    let middle = figure.joints.len() / 2;
    let fold = &mut figure.joints[middle].fold;
    *fold = Some(if *fold == Some(Fold::Valley) { Fold::Mountain } else { Fold::Valley });
    figure
}

/// A roll with one panel half-way that is too short for its neighbours.
fn one_short(panels: usize) -> Figure {
    let mut lengths: Vec<f64> = std::iter::successors(Some(200.0), |length| Some(length - 0.25)).take(panels).collect();
    lengths[panels / 2] = 100.0;
    strip(&lengths, &"V".repeat(panels - 1))
}
