//! Maps: rectangles of unit squares with every line folded, against published counts and the definition. Larger ones
//! are in `tests/outside`. Boxes of unit cubes, whose foldings are counted along with those of maps (OEIS A001417: 96 for
//! 2 x 2 x 2), are left out: a figure lies in a plane.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Side, count, grid, map, ready, states, word};
use foliowright_order::{Answer, Figure, State};
use glam::DVec2;
use std::collections::BTreeMap;

fn pile(state: &State) -> Vec<usize> {
    state.pile_at(DVec2::new(5.0, 5.0))
}

/// Orders, words of folds realised, and how many words have so many orders.
#[track_caller]
fn check(rows: usize, columns: usize, orders: u128, words: usize, histogram: &[(usize, usize)]) {
    let figure = map(rows, columns);
    assert_eq!(count(&figure), orders, "{rows} x {columns}");
    let mut of_word: BTreeMap<String, usize> = BTreeMap::new();
    for state in states(&figure) {
        *of_word.entry(word(&state)).or_default() += 1;
    }
    assert_eq!(of_word.len(), words, "{rows} x {columns}");
    let mut found: BTreeMap<usize, usize> = BTreeMap::new();
    of_word.values().for_each(|&orders| *found.entry(orders).or_default() += 1);
    if !histogram.is_empty() {
        assert_eq!(found.into_iter().collect::<Vec<_>>(), histogram, "{rows} x {columns}");
    }
}

#[test]
fn maps_have_as_many_orders_as_published() {
    // Orders: OEIS A001415 (2 x n), A001416 (3 x n), A001418 (n x n). Words and histograms: by trying all permutations, or inserting panel
    // after panel.
    check(2, 2, 8, 8, &[(1, 8)]);
    check(2, 3, 60, 32, &[(1, 16), (2, 10), (4, 6)]);
    check(2, 4, 320, 128, &[(1, 44), (2, 36), (3, 12), (4, 20), (5, 12), (7, 4)]);
    check(2, 5, 1980, 504, &[]);
    let three = [(1, 40), (2, 16), (3, 48), (4, 60), (5, 16), (6, 16), (8, 24), (10, 16), (16, 4), (20, 8), (40, 4)];
    check(3, 3, 1368, 252, &three);
    check(2, 6, 10_512, 1964, &[]);
    check(3, 4, 15_552, 1948, &[]);
}

#[test]
fn larger_maps_have_as_many_orders_as_published() {
    // OEIS A001415 (2 x n) and A001418 (n x n).
    for (rows, columns, orders) in [(2, 7, 60_788), (2, 8, 320_896), (4, 4, 300_608)] {
        assert_eq!(count(&map(rows, columns)), orders, "{rows} x {columns}");
    }
}

#[test]
fn turning_a_map_makes_no_difference() {
    for (rows, columns) in [(2, 3), (2, 4)] {
        assert_eq!(count(&map(rows, columns)), count(&map(columns, rows)));
    }
}

#[test]
fn all_orders_of_four_squares() {
    // OEIS A001418, the example: cells 1 2 / 3 4 in reading order.
    let mut found: Vec<String> = states(&map(2, 2))
        .iter()
        .map(|state| pile(state).iter().map(|panel| (panel + 1).to_string()).collect())
        .collect();
    found.sort();
    assert_eq!(found, ["1243", "1342", "2134", "2431", "3124", "3421", "4213", "4312"]);
}

#[test]
fn orders_are_those_of_the_definition() {
    // Two joints of one side and parity don't interleave (Koehler 1968, Lunnon 1971), tried on all permutations.
    for (rows, columns) in [(2, 2), (1, 6), (2, 3), (3, 2), (1, 7), (2, 4)] {
        let mut found: Vec<Vec<usize>> = states(&map(rows, columns)).iter().map(pile).collect();
        found.sort();
        assert_eq!(found, by_definition(rows, columns), "{rows} x {columns}");
    }
}

fn by_definition(rows: usize, columns: usize) -> Vec<Vec<usize>> {
    let mut joints: BTreeMap<(char, usize), Vec<[usize; 2]>> = BTreeMap::new();
    for row in 0..rows {
        for column in 0..columns {
            let panel = row * columns + column;
            if column + 1 < columns {
                joints.entry(('x', column % 2)).or_default().push([panel, panel + 1]);
            }
            if row + 1 < rows {
                joints.entry(('y', row % 2)).or_default().push([panel, panel + columns]);
            }
        }
    }
    let holds = |pile: &[usize]| {
        let height = |panel: usize| pile.iter().position(|&other| other == panel).unwrap();
        joints.values().all(|class| {
            let spans: Vec<[usize; 2]> =
                class.iter().map(|pair| pair.map(height)).map(|[a, b]| [a.min(b), a.max(b)]).collect();
            let cross = |x: &[usize; 2], y: &[usize; 2]| x[0] < y[0] && y[0] < x[1] && x[1] < y[1];
            !spans.iter().any(|x| spans.iter().any(|y| cross(x, y)))
        })
    };
    let mut piles = vec![Vec::new()];
    for panel in 0..rows * columns {
        piles = piles
            .iter()
            .flat_map(|pile: &Vec<usize>| {
                (0..=pile.len()).map(move |at| {
                    let mut pile = pile.clone();
                    pile.insert(at, panel);
                    pile
                })
            })
            .collect();
    }
    piles.retain(|pile| holds(pile));
    piles.sort();
    piles
}

/// Three by three panels with folds as words: between left and right neighbours row by row, and between the rows.
fn nine(rows: [&str; 3], gaps: [&str; 2]) -> Figure {
    let fold = |word: &str, at: usize| common::folds(word)[at];
    grid(&[10.0; 3], &[10.0; 3], |row, column, side| {
        Some(match side {
            Side::Right => fold(rows[row], column),
            Side::Above => fold(gaps[row], column),
        })
    })
    .folded()
}

#[test]
fn exactly_four_maps_of_nine_are_fine_at_each_vertex_and_do_not_fold() {
    // By inserting panel after panel; no source.
    let impossible = [
        (["MV", "MM", "VM"], ["VMM", "MMV"]),
        (["MV", "VV", "VM"], ["VVM", "MVV"]),
        (["VM", "MM", "MV"], ["MMV", "VMM"]),
        (["VM", "VV", "MV"], ["MVV", "VVM"]),
    ];
    for (rows, gaps) in impossible {
        let Answer::Conflict(conflict) = ready(&nine(rows, gaps)).solve() else { panic!("{rows:?} {gaps:?} folds") };
        assert!(conflict.is_least && conflict.joints.len() > 4, "not the fault of one vertex: {conflict:?}");
    }
    let mut fine_but_impossible = 0;
    for code in 0..1_u32 << 12 {
        let letters: String = (0..12).map(|bit| if code >> bit & 1 == 1 { 'M' } else { 'V' }).collect();
        let figure = nine([&letters[..2], &letters[2..4], &letters[4..6]], [&letters[6..9], &letters[9..]]);
        if is_fine_at_each_vertex(&letters) && matches!(ready(&figure).solve(), Answer::Conflict(_)) {
            fine_but_impossible += 1;
        }
    }
    assert_eq!(fine_but_impossible, 4);
}

/// Four right angles fold flat with one mountain or three (Maekawa and Justin).
fn is_fine_at_each_vertex(letters: &str) -> bool {
    let letters: Vec<char> = letters.chars().collect();
    let vertices = (0..2).flat_map(|row| (0..2).map(move |column| (row, column)));
    vertices.into_iter().all(|(row, column)| {
        let round = [2 * row + column, 2 * row + 2 + column, 6 + 3 * row + column, 7 + 3 * row + column];
        round.iter().filter(|&&crease| letters[crease] == 'M').count() % 2 == 1
    })
}
