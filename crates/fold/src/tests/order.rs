//! The rule against crossings, tried on every order of a pile: how many pass is known from outside.

use super::{Sheet, VALLEY};
use crate::assembly::assemble;
use crate::crossing::crossings;
use crate::facet::{facets, seams};
use crate::hinge::Hinge;
use crate::layer::{Lie, Side};
use crate::relations::Relations;
use glam::{DAffine3, DVec3};
use model::Layout;

/// All orders of `count` things.
fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut out = Vec::new();
    for shorter in orders(count - 1) {
        for place in 0..count {
            let mut longer = shorter.clone();
            longer.insert(place, count - 1);
            out.push(longer);
        }
    }
    out
}

/// Where a strip of lengths comes to lie when every line is folded flat, as maps along it: panel by panel.
fn folded(lengths: &[f64], along: DVec3) -> Vec<DAffine3> {
    let across = DVec3::Z.cross(along);
    let (mut at, mut frame) = (0.0, DAffine3::IDENTITY);
    let mut out = vec![frame];
    for length in &lengths[..lengths.len() - 1] {
        at += length;
        frame *= Hinge::new(along * at, across, 2).turned(1.0);
        out.push(frame);
    }
    out
}

/// How many orders of a map of columns and rows do not cross, whatever its folds; and, given folds for a strip (`V` or
/// `M`), how many of them fold it so.
fn count(columns: &[f64], rows: &[f64], folds: Option<&str>) -> usize {
    let mut sheet = Sheet::new(columns.iter().sum(), rows.iter().sum());
    let sums = |lengths: &[f64]| -> Vec<f64> {
        let ends = lengths.iter().scan(0.0, |sum, length| {
            *sum += length;
            Some(*sum)
        });
        ends.take(lengths.len() - 1).collect()
    };
    for x in sums(columns) {
        sheet = sheet.down(x, VALLEY);
    }
    for y in sums(rows) {
        sheet = sheet.across(y, VALLEY);
    }
    let document = sheet.base(columns[0] / 2.0, rows[0] / 2.0).document;
    let assembly = assemble(&document, &Layout::of(&document)).unwrap();
    let facets = facets(&assembly.panels);
    let seams = seams(&assembly, &facets);
    // Panels are in reading order.
    let (over, up) = (folded(columns, DVec3::X), folded(rows, -DVec3::Y));
    let frames: Vec<DAffine3> = up.iter().flat_map(|up| over.iter().map(move |over| *over * *up)).collect();
    let lie = Lie::new(&facets, &frames);
    let passes = |order: &&Vec<usize>| {
        let mut relations = Relations::none(facets.len());
        for (low, &a) in order.iter().enumerate() {
            for &b in order[low + 1..].iter().filter(|&&b| lie.covered(a, b).is_some()) {
                relations.set(&lie, a, b, Some(if lie.normal(a).z > 0.0 { Side::Front } else { Side::Back }));
            }
        }
        let folds_so = folds.is_none_or(|folds| {
            folds.chars().enumerate().all(|(i, fold)| (relations.side(i, i + 1) == Some(Side::Front)) == (fold == 'V'))
        });
        folds_so && crossings(&seams, &lie, &relations).is_empty()
    };
    orders(facets.len()).iter().filter(passes).count()
}

#[test]
fn strips_of_stamps_have_the_known_count_of_orders() {
    // OEIS A000136.
    for (panels, expected) in [(2, 2), (3, 6), (4, 16), (5, 50), (6, 144)] {
        assert_eq!(count(&vec![10.0; panels], &[10.0], None), expected, "{panels} stamps");
    }
}

#[test]
fn maps_have_the_known_count_of_orders() {
    // OEIS A001415: 2 x 2 and 2 x 3.
    assert_eq!(count(&[10.0; 2], &[10.0; 2], None), 8);
    assert_eq!(count(&[10.0; 3], &[10.0; 2], None), 60);
}

#[test]
fn strips_with_given_folds_have_the_known_count_of_orders() {
    // The folding reference, 1.6, recomputed there; orders that differ only in panels that do not overlap are one
    // order there, so only piles in which all overlap are listed.
    for (lengths, folds, expected) in [
        (&[100.0, 100.0, 98.0][..], "VV", 2),
        (&[98.0, 100.0, 100.0], "VV", 2),
        (&[100.0, 98.0, 100.0], "VV", 0),
        (&[100.0, 100.0, 100.0], "VM", 1),
        (&[100.0, 99.0, 98.0, 97.0], "VVV", 1),
        (&[97.0, 98.0, 99.0, 100.0], "VVV", 1),
        (&[100.0; 4], "VVV", 3),
        (&[100.0; 4], "VMV", 1),
        (&[20.0, 10.0, 20.0], "VM", 1),
        (&[40.0, 30.0, 20.0, 10.0], "VVV", 1),
    ] {
        assert_eq!(count(lengths, &[40.0], Some(folds)), expected, "{lengths:?} {folds}");
    }
}

/// A base with a wall up at its right edge, and a second panel over or under it whose own wall stands at the same edge:
/// whether the two pass through one another. The case says whether the second panel is above, its wall goes up, and
/// (if so) stands on the inside. By hand.
#[track_caller]
fn check([second_above, second_wall_up, inner]: [bool; 3], expected: bool) {
    let sheet = Sheet::new(200.0, 40.0).down(50.0, VALLEY).down(100.0, VALLEY).down(150.0, VALLEY);
    let document = sheet.base(75.0, 20.0).document;
    let assembly = assemble(&document, &Layout::of(&document)).unwrap();
    let facets = facets(&assembly.panels);
    let all = seams(&assembly, &facets);
    // Panels 0 and 1 are a wall and its base, 2 and 3 another base and wall. The joint of 1 and 2 is left out, so that
    // the pair can lie as the case says.
    let seams: Vec<_> = all.into_iter().filter(|seam| seam.facets != [1, 2]).collect();
    let quarter = |up: bool, x: f64, way: f64| {
        let along = if up { DVec3::Y } else { -DVec3::Y } * way;
        Hinge::new(DVec3::X * x, along, 1).turned(1.0)
    };
    let over = Hinge::new(DVec3::X * 100.0, DVec3::Y, 2).turned(1.0);
    // Over the line at 100 the second base lies on the first, and its outer edge comes to lie at 50; its front is down.
    let frames = [quarter(true, 50.0, 1.0), DAffine3::IDENTITY, over, over * quarter(!second_wall_up, 150.0, -1.0)];
    let lie = Lie::new(&facets, &frames);
    let mut relations = Relations::none(facets.len());
    relations.set(&lie, 1, 2, Some(if second_above { Side::Front } else { Side::Back }));
    if second_wall_up {
        assert!(lie.covered(0, 3).is_some());
        // The first wall's front looks over its base, where an inner wall is.
        relations.set(&lie, 0, 3, Some(if inner { Side::Front } else { Side::Back }));
    }
    assert_eq!(!crossings(&seams, &lie, &relations).is_empty(), expected);
}

#[test]
fn walls_on_one_edge_are_nested_or_cross() {
    check([true, true, true], false);
    check([true, true, false], true);
    check([false, true, false], false);
    check([false, true, true], true);
    check([true, false, false], true);
    check([false, false, false], false);
}
