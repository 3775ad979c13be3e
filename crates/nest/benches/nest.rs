//! Published instances of cutting rectangles, and leftovers of our own: what is found, what is published, how long it
//! takes. Nothing is asserted, since machines differ and instances may be read anew.
//!
//! `FOLIOWRIGHT_NEST_DATA` names a directory with `g2kp_constrained_guillotine.json`,
//! `g2ukp_unconstrained_guillotine.json` and `leftover_12x12_samples.json`; without it only a built-in instance runs.
//! `FOLIOWRIGHT_NEST_STEPS` sets the effort, `FOLIOWRIGHT_NEST_ONLY` picks instances by a word in their names.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use foliowright_nest::{Effort, Goal, Knife, Leftover, Part, Quality, Task, Turning, nest};
use model::{Length, Size};
use serde_json::Value;
use std::path::Path;
use std::time::Instant;

/// cgcut1: N. Christofides and C. Whitlock, Operations Research 25, 1977; width, height, worth, count.
const CGCUT1: [[i64; 4]; 7] =
    [[8, 4, 66, 2], [3, 7, 35, 1], [8, 2, 24, 3], [3, 4, 17, 5], [3, 3, 11, 2], [3, 2, 8, 2], [2, 1, 2, 1]];

fn main() {
    println!("{:>32} {:>10} {:>10} {:>10}  {:<7} {:>9}", "instance", "found", "published", "bound", "", "ms");
    let parts = CGCUT1.map(|[width, height, worth, count]| part(width, height, worth, count, Turning::Kept));
    row("cgcut1, built in", &task([(15, 10)].to_vec(), parts.to_vec(), Goal::Worth), Some(244));
    for (papers, kinds, copies) in [(1, 10, 1), (3, 20, 1), (5, 25, 1), (8, 40, 1), (8, 12, 4), (8, 40, 5)] {
        for goal in [Goal::Area, Goal::Pieces] {
            drawer(papers, kinds, copies, goal);
        }
    }
    let Some(folder) = std::env::var_os("FOLIOWRIGHT_NEST_DATA") else { return };
    leftovers(&Path::new(&folder).join("leftover_12x12_samples.json"));
    knapsacks(&Path::new(&folder).join("g2kp_constrained_guillotine.json"), true);
    knapsacks(&Path::new(&folder).join("g2ukp_unconstrained_guillotine.json"), false);
}

fn read(path: &Path) -> Value {
    let text = std::fs::read_to_string(path).unwrap_or_default();
    serde_json::from_str(&text).unwrap_or_default()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map(Vec::as_slice).unwrap_or_default()
}

fn number(value: &Value, key: &str) -> i64 {
    value[key].as_i64().unwrap_or_default()
}

/// One unit of an instance is a tenth of a millimetre.
fn size(width: i64, height: i64) -> Size {
    Size::new(Length::from_nm(width * UNIT), Length::from_nm(height * UNIT)).expect("instances are small")
}

const UNIT: i64 = 100_000;

fn part(width: i64, height: i64, worth: i64, count: i64, turning: Turning) -> Part {
    let (worth, count) = (u32::try_from(worth).unwrap_or(0), u32::try_from(count).unwrap_or(0));
    Part { size: size(width, height), turning, count, least: 0, worth }
}

fn task(leftovers: Vec<(i64, i64)>, parts: Vec<Part>, goal: Goal) -> Task {
    let leftovers = leftovers.into_iter().map(|(width, height)| Leftover::of_size(size(width, height))).collect();
    let steps = std::env::var("FOLIOWRIGHT_NEST_STEPS").ok().and_then(|steps| steps.parse().ok());
    let effort = steps.map_or(Effort::default(), |steps| Effort { steps });
    Task { leftovers, parts, knife: Knife::default(), goal, effort }
}

fn row(name: &str, task: &Task, published: Option<i64>) {
    if std::env::var("FOLIOWRIGHT_NEST_ONLY").is_ok_and(|only| !name.contains(&only)) {
        return;
    }
    let start = Instant::now();
    let plan = match nest(task) {
        Ok(plan) => plan,
        Err(fault) => return println!("{name:>32} {fault}"),
    };
    let time = start.elapsed().as_millis();
    let unit = if task.goal == Goal::Area { u128::from(UNIT.unsigned_abs()).pow(2) } else { 1 };
    let found = plan.reached / unit;
    let (word, bound) = match plan.quality {
        Quality::Proved => ("proved", found),
        Quality::Found { bound } => ("found", bound / unit),
    };
    let published = published.map_or(String::from("-"), |value| value.to_string());
    let apart = if published == "-" || published == found.to_string() { "" } else { "differs" };
    let (placed, cuts) = (plan.placements.len(), plan.cuts);
    println!(
        "{name:>32} {found:>10} {published:>10} {bound:>10}  {word:<7} {time:>9}  {placed} parts, {cuts} cuts {apart}"
    );
}

/// Leftovers and parts of any half millimetres, rather more parts than paper.
fn drawer(papers: usize, kinds: usize, copies: i64, goal: Goal) {
    let mut state = 42_u64;
    let mut any = |from: i64, to: i64| {
        // Constants of D. E. Knuth's MMIX generator (The Art of Computer Programming, volume 2, 3.3.4).
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        5 * (from + i64::try_from(state >> 33).unwrap_or(0) % (to - from))
    };
    let papers_: Vec<(i64, i64)> = (0..papers).map(|_| (any(120, 600), any(80, 400))).collect();
    let area: i64 = papers_.iter().map(|(width, height)| width * height).sum();
    let mut parts: Vec<(i64, i64)> = (0..kinds).map(|_| (any(20, 240), any(20, 140))).collect();
    // Shrunk or stretched to about six fifths of the paper.
    let wanted: i64 = parts.iter().map(|(width, height)| width * height * copies).sum();
    let scale = (1..200).take_while(|scale| wanted * scale * scale <= area * 12_000).last().unwrap_or(1);
    parts
        .iter_mut()
        .for_each(|(width, height)| (*width, *height) = (*width * scale / 500 * 5, *height * scale / 500 * 5));
    let parts = parts.into_iter().map(|(w, h)| part(w.max(5), h.max(5), 1, copies, Turning::Quarter)).collect();
    row(&format!("drawer {papers}, {kinds} x {copies} {goal:?}"), &task(papers_, parts, goal), None);
}

/// Our own cases: parts into five leftovers of one sheet.
fn leftovers(path: &Path) {
    let data = read(path);
    let pair = |value: &Value| (value[0].as_i64().unwrap_or_default(), value[1].as_i64().unwrap_or_default());
    let papers: Vec<(i64, i64)> = list(&data, "leftovers").iter().map(pair).collect();
    for result in list(&data, "results") {
        let case = result["case"].as_str().unwrap_or_default();
        let goal = if result["objective"] == "count" { Goal::Pieces } else { Goal::Area };
        let part =
            |item: &Value| part(number(item, "w"), number(item, "h"), 1, number(item, "count"), Turning::Quarter);
        let parts = list(&data["cases"], case).iter().map(part).collect();
        row(&format!("leftovers {case} {goal:?}"), &task(papers.clone(), parts, goal), Some(number(result, "value")));
    }
}

/// One sheet, parts with worths, without turning and with it.
fn knapsacks(path: &Path, counted: bool) {
    let data = read(path);
    for instance in list(&data, "instances") {
        let kinds = i64::try_from(list(instance, "items").len()).unwrap_or(1).max(1);
        let name = instance["name"].as_str().unwrap_or_default();
        let key = if counted { "optimum_guillotine_fixed_published" } else { "optimum_fixed" };
        let turned_key = if counted { "optimum_guillotine_rotation_recomputed" } else { "optimum_rotation" };
        for (turning, key) in [(Turning::Kept, key), (Turning::Quarter, turned_key)] {
            let count = |item: &Value| if counted { number(item, "demand") } else { 9_999 / kinds };
            let part =
                |item: &Value| part(number(item, "w"), number(item, "h"), number(item, "value"), count(item), turning);
            let parts = list(instance, "items").iter().map(part).collect();
            let paper = (number(instance, "W"), number(instance, "H"));
            let turned = if turning == Turning::Quarter { ", turned" } else { "" };
            let kind = if counted { "" } else { " any number" };
            row(&format!("{name}{kind}{turned}"), &task(vec![paper], parts, Goal::Worth), instance[key].as_i64());
        }
    }
}
