//! How many orders a design can be made in, against published counts of the linear extensions of partial orders.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Said, Sketch, at, closure, keeps_its_promises, mat, of, part};
use foliowright_make::Making;
use model::part::{ClosureKind, Job, Source};
use model::{Face, PanelRef, Part};
use std::collections::BTreeMap;

/// A sheet without scores and cuts, so that its parts are put on it in any order that they allow themselves.
fn sheet() -> Sketch {
    Sketch::on("40x40in")
}

fn on_sheet() -> PanelRef {
    PanelRef::Sheet(at("20", "20"))
}

fn bought(id: u32, on: PanelRef, side: &str) -> Part {
    part(id, mat(side, side), on).from(Source::Bought)
}

/// The number of orders in which all jobs can be done, by what can be done next from each set of jobs done.
fn orders(making: &Making) -> u64 {
    fn from(making: &Making, done: &mut Vec<Job>, known: &mut BTreeMap<Vec<Job>, u64>) -> u64 {
        let mut key = done.clone();
        key.sort();
        if let Some(&count) = known.get(&key) {
            return count;
        }
        let next = making.next(done);
        let mut count = u64::from(next.is_empty());
        for job in next {
            done.push(job);
            count += from(making, done, known);
            done.pop();
        }
        known.insert(key, count);
        count
    }
    from(making, &mut Vec::new(), &mut BTreeMap::new())
}

#[track_caller]
fn check(sketch: &Sketch, expected: u64) {
    let making = sketch.making();
    assert_eq!(making.circles, []);
    keeps_its_promises(&making);
    assert_eq!(orders(&making), expected);
}

/// Nothing in common: n! orders (OEIS A000142).
#[test]
fn parts_side_by_side_have_as_many_orders_as_permutations() {
    for (count, expected) in [(1, 1), (2, 2), (3, 6), (4, 24), (5, 120), (6, 720), (7, 5040)] {
        let place = |id: u32| bought(id, on_sheet(), "2").moved(&format!("{}", i64::from(id) * 3 - 12), "0");
        check(&(1..=count).map(place).fold(sheet(), Sketch::part), expected);
    }
}

/// A zigzag, each part behind its neighbours or before them: the Euler zigzag numbers 1, 1, 2, 5, 16, 61, 272, 1385
/// (OEIS A000111; Andre 1881). Dots lie half under the one mat and half under the next.
#[test]
fn mats_over_dots_have_as_many_orders_as_alternating_permutations() {
    for (count, expected) in [(1, 1), (2, 1), (3, 2), (4, 5), (5, 16), (6, 61), (7, 272), (8, 1385)] {
        let place = |id: u32| {
            let across = i64::from(id) - 5;
            let kind = if id % 2 == 1 { mat("2", "2") } else { closure(ClosureKind::Magnet) };
            part(id, kind, on_sheet()).from(Source::Bought).moved(&across.to_string(), "0")
        };
        check(&(1..=count).map(place).fold(sheet(), Sketch::part), expected);
    }
}

/// Each part on an earlier one: n! over the product of how many parts each carries, itself included (Knuth, The Art of
/// Computer Programming, volume 3, section 5.1.4, exercise 20; from memory).
#[test]
fn mats_on_mats_have_as_many_orders_as_the_hook_formula_says() {
    // A binary tree of 7: 7! / (7 * 3 * 3) = 80.
    let tree = |parents: &[u32]| {
        let place = |(i, &parent): (usize, &u32)| {
            let id = u32::try_from(i).unwrap() + 1;
            let on = if parent == 0 { on_sheet() } else { of(parent, 0) };
            bought(id, on, "2").moved(&format!("{}", i64::from(id) * 3 - 12), "0")
        };
        parents.iter().enumerate().map(place).fold(sheet(), Sketch::part)
    };
    check(&tree(&[0, 1, 1, 2, 2, 3, 3]), 80);
    // A chain of 4, and a star of 5: 5! / 5 = 24.
    check(&tree(&[0, 1, 2, 3]), 1);
    check(&tree(&[0, 1, 1, 1, 1]), 24);
    // A chain of 3 beside a chain of 4: 7 over 3.
    check(&tree(&[0, 1, 2, 0, 4, 5, 6]), 35);
}

/// Two rows of three, of which each lower one comes before the upper beside it: standard Young tableaux of 2 by n, the
/// Catalan numbers (OEIS A000108). Down the rows by what lies on what, along them through brads and the sheet.
#[test]
fn a_ladder_has_as_many_orders_as_the_catalan_numbers() {
    for (columns, expected) in [(1, 1), (2, 2), (3, 5), (4, 14)] {
        let mut sketch = sheet();
        // The lower row is a chain of mats, each on the one before; the upper row a chain too, and each of it is glued to
        // the lower one beside it as well.
        for column in 0..columns {
            let (lower, upper) = (2 * column + 1, 2 * column + 2);
            let (on_lower, on_upper) = match column {
                0 => (on_sheet(), of(lower, 0)),
                _ => (of(lower - 2, 0), of(upper - 2, 0)),
            };
            sketch = sketch.part(bought(lower, on_lower, "2"));
            let second = bought(upper, on_upper, "2");
            let area = model::part::GlueArea::Whole;
            sketch = sketch.part(if column == 0 {
                second.moved("0", "3")
            } else {
                second.glued_too(0, Face::Back, of(lower, 0), area)
            });
        }
        check(&sketch, expected);
    }
}
