//! Orders that come from others, turned over or rolled round, against going through them all.

mod common;

use common::{count, equal_strip, flaps, map, ready, states, strip, vertex};
use foliowright_order::{Count, Facet, Figure, Fold, Given, State};
use glam::DVec2;
use std::collections::BTreeSet;

fn pile(state: &State) -> Vec<usize> {
    state.pile_at(DVec2::new(5.0, 5.0))
}

/// A map of which one fold is given.
fn with_a_fold(mut figure: Figure, joint: usize) -> Figure {
    figure.joints[joint].fold = Some(Fold::Valley);
    figure
}

/// A figure of which one order is given.
fn with_an_order(mut figure: Figure, lower: usize, upper: usize) -> Figure {
    figure.given.push(Given::new(lower, upper));
    figure
}

/// A figure without some of its joints, as if it were cut there.
fn without(mut figure: Figure, cut: &[usize]) -> Figure {
    let mut at = 0..;
    figure.joints.retain(|_| at.next().is_none_or(|at| !cut.contains(&at)));
    figure
}

/// Three bars along the sides of a triangle: each lies over or under each other, and no spot is common to all.
fn bars() -> Figure {
    let corners = [(0.0, 0.0), (100.0, 0.0), (50.0, 80.0)].map(DVec2::from);
    let bar = |from: DVec2, to: DVec2| {
        let (along, across) = ((to - from).normalize() * 15.0, (to - from).normalize().perp() * 5.0);
        let (from, to) = (from - along, to + along);
        Facet { outline: vec![from - across, to - across, to + across, from + across], ..Facet::default() }
    };
    let facets = (0..3).map(|side| bar(corners[side], corners[(side + 1) % 3])).collect();
    Figure { facets, ..Figure::default() }
}

#[test]
fn bars_round_a_triangle_may_go_round_in_a_ring() {
    // By hand: each pair either way, 2^3.
    assert_eq!(count(&bars()), 8);
}

#[test]
fn what_is_counted_by_symmetry_is_what_is_listed() {
    let strips = (2..=9).map(|panels| equal_strip(&"?".repeat(panels - 1)));
    let maps = [(2, 2), (2, 3), (3, 2), (2, 4), (3, 3)].map(|(rows, columns)| map(rows, columns));
    let even = [4, 6, 8].map(|sectors: u32| {
        let sectors = vec![360.0 / f64::from(sectors); usize::try_from(sectors).unwrap()];
        vertex(&sectors, &"?".repeat(sectors.len()))
    });
    // These have no such symmetry, or half of it: panels run on across folds, lie side by side, or something is given.
    let others = [
        strip(&[20.0, 10.0, 20.0], "??"),
        strip(&[10.0, 20.0, 10.0], "??"),
        strip(&[10.0, 20.0, 10.0, 20.0], "???"),
        equal_strip("??V??"),
        vertex(&[60.0, 90.0, 120.0, 90.0], "????"),
        flaps(100.0, 100.0, 40.0, "????"),
        flaps(100.0, 100.0, 70.0, "????"),
        with_a_fold(map(2, 3), 3),
        with_an_order(map(2, 3), 4, 1),
        with_an_order(map(2, 2), 0, 3),
        without(map(2, 3), &[0]),
        without(map(2, 4), &[2, 5]),
        bars(),
    ];
    for figure in strips.chain(maps).chain(even).chain(others) {
        let listed: Vec<String> = states(&figure).iter().map(|state| format!("{state:?}")).collect();
        let distinct: BTreeSet<&String> = listed.iter().collect();
        assert_eq!(distinct.len(), listed.len(), "each is listed once");
        assert_eq!(count(&figure), u128::try_from(listed.len()).unwrap(), "{figure:?}");
    }
}

#[test]
fn the_lowest_panel_of_a_map_may_lie_on_top() {
    // Lunnon 1968, from memory: rolled round, an order of a map is an order. It is what counting relies on, not listing.
    for (rows, columns) in [(1, 7), (2, 3), (3, 3)] {
        let piles: BTreeSet<Vec<usize>> = states(&map(rows, columns)).iter().map(pile).collect();
        for pile in &piles {
            let mut rolled = pile.clone();
            rolled.rotate_left(1);
            assert!(piles.contains(&rolled), "{rows} x {columns}: {pile:?} and not {rolled:?}");
        }
    }
}

#[test]
fn a_listing_cut_short_is_the_beginning_of_the_whole() {
    for figure in [map(2, 3), equal_strip("??????"), flaps(100.0, 100.0, 70.0, "????")] {
        let all = states(&figure);
        let total = u64::try_from(all.len()).unwrap();
        for cap in [1, total / 2 - 1, total / 2, total / 2 + 1, total - 1, total, total + 1] {
            let listing = ready(&figure).list(cap);
            let some: Vec<State> = listing.states().collect();
            assert_eq!(some, all[..usize::try_from(cap.min(total)).unwrap()], "{cap} of {total}");
            assert_eq!(listing.is_complete(), cap >= total);
            let expected = if cap < total { Count::MoreThan(cap.into()) } else { Count::Exact(total.into()) };
            assert_eq!(listing.count(), expected);
            let counted = ready(&figure).count(cap);
            assert!(counted == expected || counted == Count::Exact(total.into()), "{counted:?}");
        }
    }
}
