//! Answers questions as another program puts them: one task a line on standard input, in JSON, one plan a line on
//! standard output, with the time it took.
//!
//! A task is `{"papers": [[w, h], …], "parts": [{"w", "h", "count", "turns", "worth"}, …], "goal", "steps"}` with whole
//! lengths; a goal is `area`, `worth` or `pieces`. A plan has what it reached, what is proved (`bound`), placements
//! as `[part, paper, x, y, w, h]`, and microseconds.

#![expect(clippy::print_stdout, reason = "it answers whoever asks")]

use foliowright_nest::{Effort, Goal, Knife, Leftover, Part, Plan, Quality, Task, Turning, nest};
use model::{Length, Size};
use serde_json::{Value, json};
use std::io::BufRead;
use std::time::Instant;

/// One unit of a question is a hundredth of a millimetre, so that every length of it stays a length of paper.
const UNIT: i64 = 10_000;

fn main() {
    for line in std::io::stdin().lock().lines().map_while(Result::ok) {
        let question: Value = serde_json::from_str(&line).unwrap_or_default();
        let answer = match task(&question) {
            Some(task) => answer(&task),
            None => json!({ "fault": "no task" }),
        };
        println!("{answer}");
    }
}

fn number(value: &Value, key: &str) -> Option<u32> {
    value[key].as_u64().and_then(|number| u32::try_from(number).ok())
}

fn size(width: &Value, height: &Value) -> Option<Size> {
    let length = |value: &Value| value.as_i64()?.checked_mul(UNIT).map(Length::from_nm);
    Size::new(length(width)?, length(height)?)
}

fn task(question: &Value) -> Option<Task> {
    let papers = question["papers"].as_array()?.iter();
    let leftovers = papers.map(|paper| Some(Leftover::of_size(size(&paper[0], &paper[1])?)));
    let parts = question["parts"].as_array()?.iter().map(|part| {
        let turning = if part["turns"].as_bool()? { Turning::Quarter } else { Turning::Kept };
        let (count, worth) = (number(part, "count")?, number(part, "worth").unwrap_or(0));
        Some(Part { size: size(&part["w"], &part["h"])?, turning, count, least: 0, worth })
    });
    let goal = match question["goal"].as_str()? {
        "area" => Goal::Area,
        "worth" => Goal::Worth,
        "pieces" => Goal::Pieces,
        _ => return None,
    };
    let effort = question["steps"].as_u64().map_or(Effort::default(), |steps| Effort { steps });
    Some(Task {
        leftovers: leftovers.collect::<Option<Vec<_>>>()?,
        parts: parts.collect::<Option<Vec<_>>>()?,
        knife: Knife::default(),
        goal,
        effort,
    })
}

fn answer(task: &Task) -> Value {
    let start = Instant::now();
    let found = nest(task);
    let time = u64::try_from(start.elapsed().as_micros()).unwrap_or(u64::MAX);
    match found {
        Ok(plan) => said(&plan, task.goal, time),
        Err(fault) => json!({ "fault": fault.to_string() }),
    }
}

fn said(plan: &Plan, goal: Goal, time: u64) -> Value {
    let unit = if goal == Goal::Area { u128::from(UNIT.unsigned_abs()).pow(2) } else { 1 };
    let counted = |value: u128| u64::try_from(value / unit).unwrap_or(u64::MAX);
    let bound = match plan.quality {
        Quality::Proved => plan.reached,
        Quality::Found { bound } => bound,
    };
    let placements = plan.placements.iter().map(|placement| {
        let rect = placement.rect;
        let sides = [rect.left(), rect.top(), rect.size.width(), rect.size.height()].map(|length| length.nm() / UNIT);
        json!([placement.part, placement.leftover, sides[0], sides[1], sides[2], sides[3]])
    });
    json!({
        "reached": counted(plan.reached),
        "bound": counted(bound),
        "placements": placements.collect::<Vec<_>>(),
        "cuts": plan.cuts,
        "microseconds": time,
    })
}
