//! Random small figures against every order there could be, each put to the test by sections across its joints.

mod common;

use common::section::{given, orders, pairs};
use common::{Random, Side, count, flaps, grid, ready, states, vertex};
use foliowright_order::{Answer, Figure, Fold, Given, State};
use glam::DVec2;

/// More pairs than this are too many orders to try.
const MOST_PAIRS: usize = 10;

const FOLDS: [Fold; 4] = [Fold::Valley, Fold::Mountain, Fold::Either, Fold::Either];

/// A small figure of convex panels, now and then with some orders given.
fn figure(random: &mut Random) -> Figure {
    let mut figure = match random.below(4) {
        0 => {
            let sizes = [20.0, 30.0, 45.0, 70.0, 110.0];
            let (width, depth) = (*random.pick(&sizes), *random.pick(&sizes));
            flaps(width, *random.pick(&sizes), depth, &word(random, 4))
        }
        1 => {
            let angles: &[[f64; 4]] =
                &[[60.0, 90.0, 120.0, 90.0], [90.0; 4], [60.0, 60.0, 120.0, 120.0], [50.0, 80.0, 130.0, 100.0]];
            let angles = random.pick(angles);
            vertex(angles, &word(random, 4))
        }
        _ => lines(random),
    };
    if random.below(3) == 0 {
        let facets = figure.facets.len();
        let (lower, step) = (random.below(facets), 1 + random.below(facets - 1));
        figure.given.push(Given::new(lower, (lower + step) % facets));
    }
    figure
}

fn word(random: &mut Random, letters: usize) -> String {
    (0..letters).map(|_| *random.pick(&['M', 'V', '?', '?'])).collect()
}

/// A few columns and rows, each line between them folded or flat along all its length, panels of different sizes.
fn lines(random: &mut Random) -> Figure {
    let (columns, rows) = *random.pick(&[(2, 2), (3, 1), (4, 1), (5, 1), (3, 2), (4, 2)]);
    let mut sizes =
        |count: usize| -> Vec<f64> { (0..count).map(|_| *random.pick(&[10.0, 20.0, 30.0, 15.0])).collect() };
    let (widths, heights) = (sizes(columns), sizes(rows));
    let flat_columns: Vec<bool> = (0..columns).map(|_| random.below(3) == 0).collect();
    let flat_rows: Vec<bool> = (0..rows).map(|_| random.below(2) == 0).collect();
    let folds: Vec<Fold> = (0..columns * rows * 2).map(|_| *random.pick(&FOLDS)).collect();
    let pattern = grid(&widths, &heights, |row, column, side| {
        let (is_flat, at) = match side {
            Side::Right => (flat_columns[column], 0),
            Side::Above => (flat_rows[row], 1),
        };
        (!is_flat).then(|| folds[2 * (row * columns + column) + at])
    });
    pattern.folded()
}

/// The figures to try, with their pairs.
fn figures(count: usize) -> Vec<(Figure, Vec<[usize; 2]>)> {
    let mut random = Random(2024);
    let made = std::iter::repeat_with(|| figure(&mut random)).map(|figure| {
        let pairs = pairs(&figure);
        (figure, pairs)
    });
    made.filter(|(_, pairs)| (2..=MOST_PAIRS).contains(&pairs.len())).take(count).collect()
}

/// Those orders of a figure that are as its folds and given orders say.
fn expected(figure: &Figure, pairs: &[[usize; 2]]) -> Vec<Vec<bool>> {
    let is_above = |first_above: &[bool], upper: usize, lower: usize| {
        let at = pairs.binary_search(&[upper.min(lower), upper.max(lower)]).ok()?;
        Some(first_above[at] == (upper < lower))
    };
    let mut all = orders(figure, pairs);
    all.retain(|first_above| {
        let folds = figure.joints.iter().all(|joint| {
            let [a, b] = joint.facets;
            let (up, down) = if figure.facets[a].face_up { (a, b) } else { (b, a) };
            match joint.fold {
                Some(Fold::Valley) => is_above(first_above, down, up) == Some(true),
                Some(Fold::Mountain) => is_above(first_above, up, down) == Some(true),
                _ => true,
            }
        });
        folds && figure.given.iter().all(|given| is_above(first_above, given.upper, given.lower) != Some(false))
    });
    all
}

fn read(state: &State, pairs: &[[usize; 2]]) -> Vec<bool> {
    pairs.iter().map(|&[a, b]| state.above(a, b).expect("they overlap in one place")).collect()
}

#[test]
fn every_order_is_found_and_no_other() {
    let (mut some, mut none) = (0, 0);
    for (figure, pairs) in figures(150) {
        let mut found: Vec<Vec<bool>> = states(&figure).iter().map(|state| read(state, &pairs)).collect();
        let mut expected = expected(&figure, &pairs);
        found.sort();
        expected.sort();
        assert_eq!(found, expected, "{figure:?}");
        assert_eq!(count(&figure), u128::try_from(expected.len()).expect("few"));
        *(if expected.is_empty() { &mut none } else { &mut some }) += 1;
    }
    assert!(some > 40 && none > 20, "{some} with orders, {none} without");
}

#[test]
fn orders_are_allowed_when_some_order_has_them() {
    let mut random = Random(77);
    let mut refused = 0;
    for (figure, pairs) in figures(60) {
        let expected = expected(&figure, &pairs);
        let problem = ready(&figure);
        for first_above in &expected {
            let Answer::Order(state) = problem.allows(&given(&pairs, first_above)) else { panic!("{figure:?}") };
            assert_eq!(read(&state, &pairs), *first_above);
        }
        for _ in 0..8 {
            let asked: Vec<bool> = pairs.iter().map(|_| random.below(2) == 1).collect();
            let some = 1 + random.below(pairs.len());
            let fits = expected.iter().any(|order| order[..some] == asked[..some]);
            match problem.allows(&given(&pairs[..some], &asked[..some])) {
                Answer::Order(state) => assert!(fits && read(&state, &pairs)[..some] == asked[..some]),
                Answer::Conflict(conflict) => {
                    assert!(!fits && conflict.is_least);
                    refused += 1;
                    // What it names conflicts by itself, and none of what was asked can be spared.
                    let names = |but: Option<usize>| -> Vec<Given> {
                        let kept = conflict.asked.iter().filter(|&&at| Some(at) != but);
                        let all = given(&pairs, &asked);
                        kept.map(|&at| all[at]).collect()
                    };
                    assert!(matches!(problem.allows(&names(None)), Answer::Conflict(_)));
                    let base = reduced(&figure, &conflict);
                    assert!(matches!(ready(&base).allows(&names(None)), Answer::Conflict(_)));
                    for &at in &conflict.asked {
                        assert!(matches!(ready(&base).allows(&names(Some(at))), Answer::Order(_)), "{conflict:?}");
                    }
                }
                Answer::Undecided => panic!("undecided"),
            }
        }
    }
    assert!(refused > 50, "{refused}");
}

/// The figure with only what a conflict names: other joints cut, other directions left open.
fn reduced(figure: &Figure, conflict: &foliowright_order::Conflict) -> Figure {
    let joints = conflict.joints.iter().map(|&joint| {
        let mut kept = figure.joints[joint].clone();
        if kept.fold.is_some() && !conflict.directions.contains(&joint) {
            kept.fold = Some(Fold::Either);
        }
        kept
    });
    Figure {
        facets: figure.facets.clone(),
        joints: joints.collect(),
        bonds: conflict.bonds.iter().map(|&bond| figure.bonds[bond].clone()).collect(),
        given: conflict.given.iter().map(|&given| figure.given[given]).collect(),
    }
}

#[test]
fn a_conflict_names_what_conflicts_and_nothing_else() {
    let mut seen = 0;
    for (figure, _) in figures(150) {
        let Answer::Conflict(conflict) = ready(&figure).solve() else { continue };
        seen += 1;
        assert!(conflict.is_least && conflict.asked.is_empty());
        let base = reduced(&figure, &conflict);
        assert!(matches!(ready(&base).solve(), Answer::Conflict(_)), "{conflict:?}");
        for at in 0..base.joints.len() {
            let mut less = base.clone();
            less.joints.remove(at);
            assert!(matches!(ready(&less).solve(), Answer::Order(_)), "without joint {at} of {conflict:?}");
            let mut open = base.clone();
            if conflict.directions.contains(&conflict.joints[at]) {
                open.joints[at].fold = Some(Fold::Either);
                assert!(matches!(ready(&open).solve(), Answer::Order(_)), "with {at} open of {conflict:?}");
            }
        }
        for at in 0..base.given.len() {
            let mut less = base.clone();
            less.given.remove(at);
            assert!(matches!(ready(&less).solve(), Answer::Order(_)), "without given {at} of {conflict:?}");
        }
        for &joint in &conflict.joints {
            assert!(figure.joints[joint].facets.iter().all(|facet| conflict.facets.contains(facet)));
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn pairs_are_forced_when_all_orders_agree_on_them() {
    let mut forced = 0;
    for (figure, pairs) in figures(80) {
        let expected = expected(&figure, &pairs);
        let problem = ready(&figure);
        for (at, &[a, b]) in pairs.iter().enumerate() {
            let can = |first: bool| expected.iter().any(|order| order[at] == first);
            let leeway = problem.leeway(a, b);
            assert_eq!(leeway.len(), 1);
            assert_eq!((leeway[0].first_above, leeway[0].second_above), (Some(can(true)), Some(can(false))));
            let only = if can(true) == can(false) { None } else { Some(can(true)) };
            assert_eq!((problem.forced(a, b), problem.forced(b, a)), (only, only.map(|above| !above)));
            forced += usize::from(only.is_some());
        }
    }
    assert!(forced > 50, "{forced}");
}

#[test]
fn a_figure_seen_from_below_has_the_orders_turned_over() {
    for (figure, pairs) in figures(60) {
        let mut below = figure.clone();
        let turn = |point: DVec2| DVec2::new(-point.x, point.y);
        for facet in &mut below.facets {
            facet.outline.iter_mut().for_each(|corner| *corner = turn(*corner));
            facet.face_up = !facet.face_up;
        }
        for joint in &mut below.joints {
            joint.segment = (turn(joint.segment.0), turn(joint.segment.1));
        }
        for given in &mut below.given {
            (given.lower, given.upper) = (given.upper, given.lower);
        }
        let mut above: Vec<Vec<bool>> = states(&figure).iter().map(|state| read(state, &pairs)).collect();
        let mut turned: Vec<Vec<bool>> =
            states(&below).iter().map(|state| read(state, &pairs).iter().map(|above| !above).collect()).collect();
        above.sort();
        turned.sort();
        assert_eq!(above, turned, "{figure:?}");
    }
}

#[test]
fn a_figure_turned_in_its_plane_has_the_same_orders() {
    let mut random = Random(31);
    for (figure, pairs) in figures(60) {
        let angle = f64::from(u32::try_from(random.below(6283)).expect("small")) / 1000.0;
        let (way, shift) = (DVec2::new(libm::cos(angle), libm::sin(angle)), DVec2::new(123.4, -567.8));
        let mut turned = figure.clone();
        let turn = |point: DVec2| way.rotate(point) + shift;
        for facet in &mut turned.facets {
            facet.outline.iter_mut().for_each(|corner| *corner = turn(*corner));
            facet.outline.reverse();
        }
        for joint in &mut turned.joints {
            joint.segment = (turn(joint.segment.1), turn(joint.segment.0));
        }
        let read_all = |figure: &Figure| -> Vec<Vec<bool>> {
            let mut all: Vec<Vec<bool>> = states(figure).iter().map(|state| read(state, &pairs)).collect();
            all.sort();
            all
        };
        assert_eq!(read_all(&figure), read_all(&turned), "{figure:?}");
    }
}
