//! Tiny tasks solved by trying every cut at every place, which knows nothing of rasters, prices or bounds.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{keeps_its_promises, size, task};
use foliowright_nest::{Goal, Knife, Part, Quality, Task, Turning, nest};
use model::Length;
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

type Counts = Vec<u32>;
type Known = BTreeMap<(i64, i64), BTreeSet<Counts>>;

/// Every set of parts that can be cut from a rectangle.
fn cuttable(task: &Task, width: i64, height: i64, known: &mut Known) -> BTreeSet<Counts> {
    if let Some(found) = known.get(&(width, height)) {
        return found.clone();
    }
    let mut found = BTreeSet::from([vec![0; task.parts.len()]]);
    for (i, part) in task.parts.iter().enumerate() {
        let (w, h) = (part.size.width().nm(), part.size.height().nm());
        let fits = w <= width && h <= height;
        let turned = part.turning == Turning::Quarter && h <= width && w <= height;
        if part.count > 0 && (fits || turned) {
            let mut one = vec![0; task.parts.len()];
            one[i] = 1;
            found.insert(one);
        }
    }
    let kerf = task.knife.kerf.nm();
    let upright = (1..width).map(|at| ((at, height), ((width - at - kerf).max(0), height)));
    let level = (1..height).map(|at| ((width, at), (width, (height - at - kerf).max(0))));
    for (one, other) in upright.chain(level).collect::<Vec<_>>() {
        let (one, other) = (cuttable(task, one.0, one.1, known), cuttable(task, other.0, other.1, known));
        found.extend(together(task, &one, &other));
    }
    known.insert((width, height), found.clone());
    found
}

fn together(task: &Task, one: &BTreeSet<Counts>, other: &BTreeSet<Counts>) -> BTreeSet<Counts> {
    let sum = |a: &Counts, b: &Counts| a.iter().zip(b).map(|(a, b)| a + b).collect::<Counts>();
    let sums = one.iter().flat_map(|a| other.iter().map(move |b| sum(a, b)));
    sums.filter(|sum| sum.iter().zip(&task.parts).all(|(count, part)| *count <= part.count)).collect()
}

/// How many that have to be there are, then what the goal counts.
fn best(task: &Task) -> (u32, u128) {
    let mut known = Known::new();
    let mut all = BTreeSet::from([vec![0; task.parts.len()]]);
    for leftover in &task.leftovers {
        let foliowright_nest::Leftover::Rect(rect) = leftover else { panic!("only rectangles here") };
        let edges = 2 * task.knife.edge.nm();
        let (width, height) = (rect.size.width().nm() - edges, rect.size.height().nm() - edges);
        if width > 0 && height > 0 {
            all = together(task, &all, &cuttable(task, width, height, &mut known));
        }
    }
    all.iter().map(|counts| rank(task, counts)).max().unwrap()
}

fn rank(task: &Task, counts: &[u32]) -> (u32, u128) {
    let least = counts.iter().zip(&task.parts).map(|(count, part)| *count.min(&part.least)).sum();
    let worth = |part: &Part| match task.goal {
        Goal::Area => part.size.area().half_nm2().unsigned_abs() / 2,
        Goal::Worth => part.worth.into(),
        Goal::Pieces => 1,
    };
    (least, counts.iter().zip(&task.parts).map(|(count, part)| u128::from(*count) * worth(part)).sum())
}

fn parts() -> impl Strategy<Value = Vec<Part>> {
    let one = (1..6_i64, 1..6_i64, 1..4_u32, 0..3_u32, 0..9_u32, any::<bool>());
    let one = one.prop_map(|(width, height, count, least, worth, turns)| Part {
        size: size(width, height),
        turning: if turns { Turning::Quarter } else { Turning::Kept },
        count,
        least: least.saturating_sub(1).min(count),
        worth,
    });
    proptest::collection::vec(one, 1..4)
}

fn tasks() -> impl Strategy<Value = Task> {
    let leftovers = proptest::collection::vec((1..9_i64, 1..9_i64), 1..3);
    (leftovers, parts(), 0..2_i64, 0..2_i64, 0..3).prop_map(|(leftovers, parts, kerf, edge, goal)| Task {
        knife: Knife { kerf: Length::from_nm(kerf), edge: Length::from_nm(edge) },
        goal: [Goal::Area, Goal::Worth, Goal::Pieces][goal as usize],
        ..task(&leftovers, &parts)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_proved_is_the_best_of_all(task in tasks()) {
        let plan = nest(&task).unwrap();
        keeps_its_promises(&task, &plan);
        let placed: Vec<u32> = task.parts.iter().zip(&plan.missing).map(|(part, missing)| part.count - missing).collect();
        prop_assert_eq!(plan.quality, Quality::Proved);
        prop_assert_eq!(rank(&task, &placed), best(&task));
    }
}
