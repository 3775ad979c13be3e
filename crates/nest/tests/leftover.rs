//! What makers ask: folio parts from the leftovers of one sheet, and small cases whose answer is plain.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{keeps_its_promises, part, size, task};
use foliowright_nest::{
    Effort, Goal, Knife, Leftover, Paper, Part, Plan, Quality, Rect, Task, Turning, extra_sheets, nest,
};
use model::{Length, Point};

/// Five leftovers of a sheet of 12 by 12 in, in sixteenths.
const LEFTOVERS: [(i64, i64); 5] = [(192, 56), (64, 80), (64, 56), (40, 48), (24, 136)];

/// Hinges, pockets, a mat, cards, bands, tabs, tags and spacers, 25 in all: width, height, count.
const CASE_A: [(i64, i64, u32); 10] = [
    (96, 12, 4),
    (64, 12, 4),
    (136, 16, 1),
    (64, 40, 2),
    (48, 40, 1),
    (40, 56, 2),
    (80, 16, 2),
    (24, 24, 4),
    (28, 20, 3),
    (32, 16, 2),
];

/// The same with broader hinges and bands.
const CASE_B: [(i64, i64, u32); 10] = [
    (96, 16, 4),
    (64, 16, 4),
    (136, 16, 1),
    (64, 40, 2),
    (48, 48, 1),
    (40, 56, 2),
    (80, 24, 2),
    (24, 24, 4),
    (28, 20, 3),
    (32, 16, 2),
];

fn parts(case: &[(i64, i64, u32)]) -> Vec<Part> {
    case.iter().map(|&(width, height, count)| part(width, height, count)).collect()
}

#[track_caller]
fn solved(task: &Task) -> Plan {
    let plan = nest(task).unwrap();
    keeps_its_promises(task, &plan);
    plan
}

/// Optima of an integer programme of our own over all patterns of cuts.
#[test]
fn leftovers_of_one_sheet_are_used_as_well_as_they_can_be() {
    for (case, area, count) in [(CASE_A, 24_224, 23), (CASE_B, 23_952, 20)] {
        for (goal, best) in [(Goal::Area, area), (Goal::Pieces, count)] {
            let plan = solved(&Task { goal, ..task(&LEFTOVERS, &parts(&case)) });
            assert_eq!((plan.reached, plan.quality), (best, Quality::Proved));
        }
    }
}

#[test]
fn lengths_of_any_nanometre_do_as_well() {
    let scale = 1_587_500 + 13;
    let leftovers = LEFTOVERS.map(|(width, height)| (width * scale + 40, height * scale + 30));
    let parts: Vec<Part> = CASE_A.iter().map(|&(w, h, count)| part(w * scale, h * scale, count)).collect();
    let plan = solved(&Task { goal: Goal::Pieces, ..task(&leftovers, &parts) });
    assert_eq!(plan.placements.len(), 23);
}

#[test]
fn a_part_is_cut_from_the_leftover_it_fits_best() {
    let plan = solved(&task(&[(90, 90), (30, 90), (30, 20)], &[part(20, 30, 1)]));
    assert_eq!((plan.placements[0].leftover, plan.placements[0].turned, plan.cuts), (2, true, 0));
    let plan = solved(&task(&[(90, 90), (60, 50), (70, 80)], &[part(20, 30, 1)]));
    assert_eq!((plan.placements[0].leftover, plan.cuts), (1, 2));
    assert_eq!(plan.largest_remainder(), size(90, 90).area());
}

#[test]
fn equal_parts_take_one_cut_each() {
    // A strip of four hinges: one cut for the strip, three between them, and none at its end.
    let plan = solved(&task(&[(96, 56)], &[part(96, 12, 4)]));
    assert_eq!((plan.placements.len(), plan.cuts, plan.remainders.len()), (4, 4, 1));
    assert_eq!(plan.largest_remainder(), size(96, 8).area());
}

#[test]
fn what_has_to_be_there_comes_first() {
    let large = part(10, 10, 1);
    let small = Part { least: 1, ..part(2, 2, 3) };
    let plan = solved(&task(&[(10, 10)], &[large, small]));
    assert_eq!((plan.missing.clone(), plan.has_least), (vec![1, 0], true));
    let plan = solved(&task(&[(10, 10)], &[Part { least: 1, ..part(11, 2, 1) }, large]));
    assert_eq!((plan.missing.clone(), plan.has_least), (vec![1, 0], false));
}

#[test]
fn a_part_with_a_direction_is_not_turned() {
    let kept = Part { turning: Turning::Kept, ..part(5, 3, 1) };
    assert!(solved(&task(&[(3, 5)], &[kept])).placements.is_empty());
    assert!(solved(&task(&[(3, 5)], &[part(5, 3, 1)])).placements[0].turned);
}

#[test]
fn the_knife_takes_its_width_between_parts_and_no_more() {
    let knife = Knife { kerf: Length::from_nm(1), edge: Length::ZERO };
    for (width, count) in [(11, 2), (10, 1), (12, 2)] {
        let plan = solved(&Task { knife, ..task(&[(width, 4)], &[part(5, 4, 9)]) });
        assert_eq!(plan.placements.len(), count, "{width}");
    }
}

#[test]
fn rough_edges_are_trimmed_off_first() {
    let knife = Knife { kerf: Length::ZERO, edge: Length::from_nm(2) };
    let plan = solved(&Task { knife, ..task(&[(14, 9)], &[part(5, 5, 9)]) });
    assert_eq!((plan.placements.len(), plan.cuts), (2, 5));
    assert_eq!(plan.leftovers[0].trim.half_nm2() / 2, 14 * 9 - 10 * 5);
    let untouched = solved(&Task { knife, ..task(&[(14, 9)], &[part(11, 5, 1)]) });
    assert_eq!((untouched.cuts, untouched.remainders.len()), (0, 1));
}

/// An L of 80 by 120 with arms 30 and 20 wide.
fn ell() -> Leftover {
    let corners = [(0, 0), (30, 0), (30, 100), (80, 100), (80, 120), (0, 120)];
    Leftover::Outline(corners.map(|(x, y)| Point::new(Length::from_nm(x), Length::from_nm(y))).to_vec())
}

#[test]
fn an_ell_is_opened_the_way_that_suits_the_parts() {
    for (wanted, openings) in [(part(30, 120, 1), 1), (part(80, 20, 1), 1), (part(30, 100, 1), 1), (part(40, 60, 1), 0)]
    {
        let task = Task { leftovers: vec![ell()], ..task(&[], &[wanted]) };
        let plan = solved(&task);
        assert_eq!((plan.placements.len(), plan.leftovers[0].openings.len()), (openings, openings));
    }
    let both = Task { leftovers: vec![ell()], ..task(&[], &[part(30, 100, 1), part(80, 20, 1)]) };
    let plan = solved(&both);
    assert_eq!((plan.placements.len(), plan.cuts, plan.quality), (2, 1, Quality::Proved));
}

#[test]
fn an_ell_is_opened_for_what_has_to_be_there() {
    // The long arm whole gives more area, the foot whole what has to be there.
    let wanted = [part(30, 120, 1), Part { least: 1, ..part(70, 20, 1) }];
    let plan = solved(&Task { leftovers: vec![ell()], ..task(&[], &wanted) });
    assert_eq!((plan.missing, plan.has_least), (vec![1, 0], true));
}

#[test]
fn nothing_asked_or_nothing_there_is_fine() {
    let plan = solved(&task(&[(5, 5)], &[]));
    assert_eq!((plan.cuts, plan.remainders.len(), plan.quality), (0, 1, Quality::Proved));
    let plan = solved(&task(&[], &[part(5, 5, 2)]));
    assert_eq!((plan.missing.clone(), plan.quality), (vec![2], Quality::Proved));
    assert_eq!(solved(&task(&[(4, 4)], &[part(5, 5, 2)])).quality, Quality::Proved);
}

#[test]
fn the_largest_lengths_there_are_do_no_harm() {
    let most = Length::LIMIT.nm();
    let rect = Rect { corner: Point::new(-Length::LIMIT, Length::LIMIT), size: size(most, most) };
    let wanted = [Part { least: 1, ..part(most, most / 3, 2) }, part(most / 7, most / 2 + 1, 60)];
    let knife = Knife { kerf: Length::from_nm(1), edge: Length::ZERO };
    let effort = Effort { steps: 10_000_000 };
    let task = Task { leftovers: vec![Leftover::Rect(rect); 3], knife, effort, ..task(&[], &wanted) };
    assert!(solved(&task).has_least);
    let all_trim = Knife { kerf: Length::LIMIT, edge: Length::LIMIT };
    assert!(solved(&Task { knife: all_trim, ..task }).placements.is_empty());
}

#[test]
fn what_did_not_fit_is_cut_from_few_sheets() {
    let effort = Effort::default();
    // Four quarters a sheet.
    let sheets = extra_sheets(&[part(6, 6, 9)], size(12, 12), Knife::default(), effort).unwrap();
    assert_eq!((sheets.count(), sheets.at_least, sheets.sheets[0].times), (3, 3, 2));
    // Filled greedily the small ones would go together; each has to lie beside a large one.
    let mixed = [part(8, 12, 2), part(4, 12, 2), part(13, 2, 1)];
    let sheets = extra_sheets(&mixed, size(12, 12), Knife::default(), effort).unwrap();
    assert_eq!((sheets.count(), sheets.at_least, sheets.too_large), (2, 2, vec![0, 0, 1]));
}

#[test]
fn cuts_come_in_their_order() {
    let plan = solved(&task(&[(10, 4)], &[part(3, 2, 1)]));
    let Paper::Cut(first) = &plan.leftovers[0].bodies[0].paper else { panic!("it is cut") };
    // Turned, the part leaves the larger remainder, eight by four, which comes off first.
    assert_eq!((first.at.nm(), plan.largest_remainder()), (2, size(8, 4).area()));
}
