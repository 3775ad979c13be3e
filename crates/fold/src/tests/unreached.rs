//! What simple folds do not reach, though it folds flat: against all that the solver of layer orders knows of a map.

use super::reach::{Layers, Reached, map};
use crate::layer::Side;
use crate::stage::Stage;
use glam::DVec2;
use std::collections::{BTreeMap, BTreeSet};

/// A map folded up, as the solver has it. Its joints follow one another as those of [`map`] do.
fn figure(rows: usize, columns: usize) -> order::Figure {
    let corner = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(DVec2::from);
    let mut figure = order::Figure::default();
    for (row, column) in (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))) {
        let panel = row * columns + column;
        let face_up = (row + column) % 2 == 0;
        figure.facets.push(order::Facet { outline: corner.to_vec(), face_up, ..order::Facet::default() });
        // Every second line comes to lie on the same edge.
        let upright = if column % 2 == 0 { (corner[1], corner[2]) } else { (corner[0], corner[3]) };
        let level = if row % 2 == 0 { (corner[3], corner[2]) } else { (corner[0], corner[1]) };
        let beside = (column + 1 < columns).then_some((panel + 1, upright));
        let below = (row + 1 < rows).then_some((panel + columns, level));
        for (other, segment) in beside.into_iter().chain(below) {
            figure.joints.push(order::Joint { facets: [panel, other], segment, fold: Some(order::Fold::Either) });
        }
    }
    figure
}

/// The word of a map's folds, joint by joint, and its pile from the bottom.
type Folded = (String, Vec<usize>);

fn solved(rows: usize, columns: usize) -> BTreeSet<Folded> {
    let listing = order::prepare(&figure(rows, columns)).unwrap().list(1 << 20);
    assert!(listing.is_complete());
    let letter = |fold| if fold == order::Fold::Valley { 'V' } else { 'M' };
    let folded =
        |state: order::State| (state.folds().flatten().map(letter).collect(), state.pile_at(DVec2::new(5.0, 5.0)));
    listing.states().map(folded).collect()
}

fn reached(rows: u32, columns: u32) -> BTreeSet<Folded> {
    let assembly = map(rows, columns);
    let reached = Reached::new(&assembly);
    let letter = |&turned: &i32| if turned > 0 { 'V' } else { 'M' };
    let folded = |stage: &Stage| (stage.turned.iter().map(letter).collect(), pile(stage));
    reached.closed(Layers::Some).into_iter().map(folded).collect()
}

/// The panels of a closed map from the bottom.
fn pile(stage: &Stage) -> Vec<usize> {
    let is_above = |a: usize, b: usize| {
        let face_up = stage.frames[b].matrix3.z_axis.z > 0.0;
        stage.relations.side(b, a) == Some(if face_up { Side::Front } else { Side::Back })
    };
    let panels = 0..stage.frames.len();
    let mut pile: Vec<usize> = panels.clone().collect();
    pile.sort_by_key(|&panel| panels.clone().filter(|&other| other != panel && is_above(panel, other)).count());
    pile
}

fn words(of: &BTreeSet<Folded>) -> BTreeSet<&str> {
    of.iter().map(|(word, _)| word.as_str()).collect()
}

/// A word from the folds between neighbours, row by row, and those between the rows.
fn word(rows: &[&str], gaps: &[&str]) -> String {
    let mut word = String::new();
    for (row, beside) in rows.iter().enumerate() {
        for column in 0..=beside.len() {
            word.extend(beside.chars().nth(column));
            word.extend(gaps.get(row).and_then(|gap| gap.chars().nth(column)));
        }
    }
    word
}

/// Whether some line right across a map is folded one way all along.
fn has_a_uniform_line(word: &str, rows: usize, columns: usize) -> bool {
    // Whether it runs level, and after which row or column.
    let line = |joint: &order::Joint| {
        let [a, b] = joint.facets;
        if b == a + 1 { (false, a % columns) } else { (true, a / columns) }
    };
    let mut ways: BTreeMap<(bool, usize), BTreeSet<char>> = BTreeMap::new();
    for (joint, letter) in figure(rows, columns).joints.iter().zip(word.chars()) {
        ways.entry(line(joint)).or_default().insert(letter);
    }
    ways.values().any(|letters| letters.len() == 1)
}

#[test]
fn steps_and_solver_tell_a_maps_orders_alike() {
    // The folding reference, 1.6: 60 orders, of which steps reach 40 and this one not; 1368, of which they reach 296.
    let (all, some) = (solved(2, 3), reached(2, 3));
    assert!(some.is_subset(&all) && (some.len(), all.len()) == (40, 60));
    let is_there = |of: &BTreeSet<Folded>| of.iter().any(|(_, pile)| *pile == [0, 1, 4, 5, 2, 3]);
    assert!(is_there(&all) && !is_there(&some));
    let (all, some) = (solved(3, 3), reached(3, 3));
    assert!(some.is_subset(&all) && (some.len(), all.len()) == (296, 1368));
}

#[test]
fn a_map_of_nine_folds_simply_if_some_line_is_folded_one_way() {
    // The folding reference, 1.6: 28 words fold flat and not simply, those without a line that is folded one way all along.
    let (all, some) = (solved(3, 3), reached(3, 3));
    let unreached: BTreeSet<&str> = words(&all).difference(&words(&some)).copied().collect();
    let without: BTreeSet<&str> = words(&all).into_iter().filter(|word| !has_a_uniform_line(word, 3, 3)).collect();
    assert_eq!(unreached.len(), 28);
    assert_eq!(unreached, without);
    assert!(unreached.contains(word(&["MM", "MV", "VV"], &["MVV", "MMV"]).as_str()));
}

#[test]
fn a_line_folded_one_way_does_not_suffice_for_a_map_of_eight() {
    // The folding reference, 1.6.
    let word = word(&["MMM", "VMV"], &["MMVV"]);
    let (all, some) = (solved(2, 4), reached(2, 4));
    assert!(has_a_uniform_line(&word, 2, 4));
    assert!(words(&all).contains(word.as_str()) && !words(&some).contains(word.as_str()));
}
