//! Whole sheets for parts that no leftover holds: how many it takes, and how each is cut.

use crate::fault::{MOST_LEFTOVERS, TaskFault, examine_knife, examine_parts};
use crate::layout::Layout;
use crate::outline::{Block, Opened};
use crate::plan::Plan;
use crate::price::{Best, tally};
use crate::problem::Problem;
use crate::sketch::Sketch;
use crate::solve::{Solved, solve};
use crate::task::{Effort, Goal, Knife, Leftover, Part, Rect};
use crate::wanted::Wanted;
use model::Size;

/// Sheets that are cut alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetPlan {
    /// How many of them.
    pub times: u32,
    /// How each is cut. Its only leftover is the sheet, and nothing is missing from it.
    pub plan: Plan,
}

/// The sheets that parts take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheets {
    /// How they are cut.
    pub sheets: Vec<SheetPlan>,
    /// No fewer sheets hold all parts that a sheet can hold.
    pub at_least: u32,
    /// How many of each part are larger than a sheet.
    pub too_large: Vec<u32>,
}

impl Sheets {
    /// How many sheets there are.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.sheets.iter().map(|sheet| sheet.times).sum()
    }
}

/// The least of the steps that are spent on one sheet.
const LEAST_STEPS: u64 = 200_000;

/// The sheets of one size that it takes to cut all of some parts, as few as could be found. The least of each part and
/// its worth are not looked at.
///
/// # Errors
/// Says what is wrong with the parts or the knife; see [`TaskFault`].
pub fn extra_sheets(parts: &[Part], sheet: Size, knife: Knife, effort: Effort) -> Result<Sheets, TaskFault> {
    examine_parts(parts)?;
    examine_knife(knife)?;
    let maker = Maker { sheet: Leftover::of_size(sheet), opened: whole(sheet), knife };
    let too_large: Vec<u32> = parts.iter().map(|part| if maker.holds(part) { 0 } else { part.count }).collect();
    let fitting: Vec<Part> = parts
        .iter()
        .zip(&too_large)
        .map(|(part, large)| Part { count: part.count - large, least: 0, ..*part })
        .collect();
    let one_by_one = maker.one_by_one(&fitting, effort.steps / 2);
    let count: u32 = one_by_one.iter().map(|(times, _)| times).sum();
    let (sheets, at_least) = match maker.in_fewer(&fitting, count, effort.steps / 2) {
        Fewer::Found(sheets, at_least) => (sheets, at_least),
        Fewer::NotFound(at_least) => (one_by_one, at_least),
    };
    let sheets = sheets.into_iter().map(|(times, plan)| SheetPlan { times, plan }).collect();
    Ok(Sheets { sheets, at_least, too_large })
}

fn whole(sheet: Size) -> Opened {
    Opened { openings: Vec::new(), blocks: vec![Block { rect: Rect::at_origin(sheet), rough: [true; 4] }] }
}

struct Maker {
    sheet: Leftover,
    opened: Opened,
    knife: Knife,
}

/// Whether fewer sheets do, and how many it takes at least.
enum Fewer {
    Found(Vec<(u32, Plan)>, u32),
    NotFound(u32),
}

impl Maker {
    /// Whether a sheet holds a part.
    fn holds(&self, part: &Part) -> bool {
        let one = [Part { count: 1, least: 0, ..*part }];
        self.problem(&Wanted::new(&one, self.knife, Goal::Area), 1).most_gain() > 0
    }

    /// The problem of cutting parts from so many sheets.
    fn problem(&self, wanted: &Wanted<'_>, sheets: usize) -> Problem {
        wanted.problem(&vec![&self.opened; sheets]).0
    }

    /// Fills one sheet after the other as well as it can be filled.
    fn one_by_one(&self, parts: &[Part], steps: u64) -> Vec<(u32, Plan)> {
        let mut left = parts.to_vec();
        let mut share = steps / 8;
        let mut sheets = Vec::new();
        while left.iter().any(|part| part.count > 0) {
            let wanted = Wanted::new(&left, self.knife, Goal::Area);
            let solved = solve(&self.problem(&wanted, 1), share.max(LEAST_STEPS));
            share -= share / 8;
            let Some((plan, counts)) = self.plan(&wanted, &solved.best.sketches[..1]) else { break };
            let often =
                left.iter().zip(&counts).filter(|(_, count)| **count > 0).map(|(part, count)| part.count / count);
            let times = often.min().unwrap_or(1).max(1);
            left.iter_mut().zip(&counts).for_each(|(part, count)| part.count -= count * times);
            sheets.push((times, plan));
        }
        sheets
    }

    /// All parts from one sheet fewer than are known to do, and again, while that works.
    fn in_fewer(&self, parts: &[Part], count: u32, steps: u64) -> Fewer {
        let wanted = Wanted::new(parts, self.knife, Goal::Area);
        let mut at_least = self.by_area(&wanted, count);
        let (mut known, mut found) = (count, None);
        while known > at_least && known as usize <= MOST_LEFTOVERS {
            let problem = self.problem(&wanted, known as usize - 1);
            let all = self.problem(&wanted, known as usize).most_gain();
            let solved = solve(&problem, steps / 2);
            if solved.bound < all {
                at_least = known;
            }
            if solved.best.gain < all {
                break;
            }
            known -= 1;
            found = Some(solved);
        }
        match found.map(|solved| self.each(parts, &solved)) {
            Some(sheets) => Fewer::Found(sheets, at_least),
            None => Fewer::NotFound(at_least),
        }
    }

    /// No fewer sheets hold the area of all parts; at most `count`.
    fn by_area(&self, wanted: &Wanted<'_>, count: u32) -> u32 {
        let one = self.problem(wanted, 1);
        let all = self.problem(wanted, count as usize).most_gain();
        let area: i128 = one.roots.iter().map(|root| i128::from(root[0]) * i128::from(root[1])).sum();
        let (mut low, mut high) = (0, count);
        while low < high {
            let middle = (low + high) / 2;
            let holds = wanted.whole(&one).gain_from_area(area * i128::from(middle)) >= all;
            (low, high) = if holds { (low, middle) } else { (middle + 1, high) };
        }
        low
    }

    /// A plan for each sheet of a solution.
    fn each(&self, parts: &[Part], solved: &Solved) -> Vec<(u32, Plan)> {
        let mut left = parts.to_vec();
        let mut sheets = Vec::new();
        for sketch in &solved.best.sketches {
            let wanted = Wanted::new(&left, self.knife, Goal::Area);
            if let Some((plan, counts)) = self.plan(&wanted, std::slice::from_ref(sketch)) {
                left.iter_mut().zip(&counts).for_each(|(part, count)| part.count -= count);
                sheets.push((1, plan));
            }
        }
        sheets
    }

    /// The plan for one sheet, and how many of each part are on it; `None` when it is empty.
    fn plan(&self, wanted: &Wanted<'_>, sketch: &[Sketch]) -> Option<(Plan, Vec<u32>)> {
        let problem = self.problem(wanted, 1);
        let kinds = tally(&problem, sketch).into_iter().enumerate();
        let kinds = kinds.flat_map(|(kind, count)| std::iter::repeat_n(kind, usize::try_from(count).unwrap_or(0)));
        let (_, counts) = wanted.hand_out(kinds);
        let on_it: Vec<Part> = wanted.parts.iter().zip(&counts).map(|(part, &count)| Part { count, ..*part }).collect();
        let wanted = Wanted::new(&on_it, self.knife, Goal::Area);
        let (problem, usable) = wanted.problem(&[&self.opened]);
        let gain = problem.gain(&tally(&problem, sketch));
        let solved = Solved { best: Best { sketches: sketch.to_vec(), gain }, bound: gain };
        let layout = Layout {
            leftovers: std::slice::from_ref(&self.sheet),
            knife: self.knife,
            wanted: &wanted,
            opened: &[&self.opened],
            usable: &usable,
        };
        counts.iter().any(|&count| count > 0).then(|| (layout.plan(&problem, &solved).0, counts))
    }
}
