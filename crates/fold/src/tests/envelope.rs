//! Bases with flaps round them.

use super::{MOUNTAIN, Sheet, VALLEY, at};
use crate::Trouble;
use std::collections::BTreeSet;

/// A square base of 100 mm with four flaps of a depth, left, top, right, bottom (lines 1 to 4), corners cut away.
pub(super) fn envelope(depth: f64) -> Sheet {
    let (low, high, end) = (depth, depth + 100.0, 2.0 * depth + 100.0);
    let scores = Sheet::new(end, end)
        .down_from(low, (low, high), VALLEY)
        .across_from(low, (low, high), VALLEY)
        .down_from(high, (low, high), VALLEY)
        .across_from(high, (low, high), VALLEY);
    let corners = [(0.0, low), (high, end)];
    let cut =
        corners.into_iter().fold(scores, |sheet, x| corners.into_iter().fold(sheet, |sheet, y| sheet.cut_out(x, y)));
    cut.base(depth + 50.0, depth + 50.0)
}

fn orders() -> Vec<[u32; 4]> {
    let all = (0..256_u32).map(|n| [n / 64, n / 16 % 4, n / 4 % 4, n % 4].map(|line| line + 1));
    all.filter(|order| order.iter().collect::<BTreeSet<_>>().len() == 4).collect()
}

/// How many layer orders the 24 closing orders of an envelope give; each flap must lie on those closed before it.
#[track_caller]
fn check(depth: f64, expected: usize) {
    let middle = depth + 50.0;
    let flaps = [(5.0, middle), (middle, 5.0), (2.0 * middle - 5.0, middle), (middle, 2.0 * middle - 5.0)];
    let mut found = BTreeSet::new();
    for order in orders() {
        let folded = envelope(depth).steps(&order.each_ref().map(std::slice::from_ref)).fold();
        assert_eq!(folded.troubles(), [], "{depth} {order:?}");
        let mut relations = Vec::new();
        for i in 0..4 {
            assert_eq!(folded.above(flaps[i], (middle, middle)), Some(true));
            for j in 0..i {
                let later = |k: usize| order.iter().position(|&line| line as usize == k + 1);
                let above = folded.above(flaps[i], flaps[j]);
                assert!(above.is_none_or(|above| above == (later(i) > later(j))), "{order:?}: {i} and {j}");
                relations.push(above);
            }
        }
        found.insert(relations);
    }
    assert_eq!(found.len(), expected, "depth {depth}");
}

#[test]
fn flaps_lie_on_those_closed_before_them() {
    // The folding reference, 1.7: 16 orders when only neighbours overlap, of which 2 are woven and cannot be reached
    // by closing one flap after the other; 4! when all overlap.
    check(45.0, 14);
    check(60.0, 24);
}

#[test]
fn what_lies_on_what_has_its_area() {
    // By hand: each flap of 60 mm covers 60 x 100 of the base; flaps round a corner share 60 x 60, flaps across 20 x 100.
    let folded = envelope(60.0).steps(&[&[1], &[2], &[3], &[4]]).fold();
    let mut areas: Vec<f64> = folded.folding.overlaps().iter().map(|overlap| overlap.area).collect();
    areas.sort_by(f64::total_cmp);
    let expected = [2000.0, 2000.0, 3600.0, 3600.0, 3600.0, 3600.0, 6000.0, 6000.0, 6000.0, 6000.0];
    assert_eq!(areas.len(), expected.len(), "{areas:?}");
    assert!(areas.iter().zip(expected).all(|(area, wanted)| (area - wanted).abs() < 1e-6), "{areas:?}");
}

#[test]
fn flaps_that_close_at_once_and_overlap_strike_one_another() {
    let folded = envelope(45.0).steps(&[&[1, 2]]).fold();
    let (left, top) = (folded.panel(5.0, 90.0), folded.panel(90.0, 5.0));
    let strikes = folded.troubles().iter().any(|trouble| match trouble {
        // Equally steep, they meet along the diagonal as soon as they lean over the base: with thickness, a little before.
        Trouble::Collides { step: 0, moving, with, degrees, .. } => {
            BTreeSet::from([*moving, *with]) == BTreeSet::from([left, top]) && (89.0..92.0).contains(degrees)
        }
        _ => false,
    });
    assert!(strikes, "{:?}", folded.troubles());
    assert_eq!(envelope(45.0).steps(&[&[1, 3], &[2, 4]]).fold().troubles().len(), 0, "opposite flaps only touch");
}

/// A flap with an edge of its own (line 1 at 20 mm, line 2 at 60 mm), base, and a flap on the other side (line 3).
fn with_edge(edge: model::Work) -> Sheet {
    Sheet::new(220.0, 50.0).down(20.0, edge).down(60.0, VALLEY).down(160.0, VALLEY).base(110.0, 25.0)
}

#[test]
fn an_edge_folds_before_its_flap_is_covered_and_not_after() {
    let free = [with_edge(VALLEY).steps(&[&[1], &[2], &[3]]), with_edge(MOUNTAIN).steps(&[&[2], &[1], &[3]])];
    for sheet in free {
        assert_eq!(sheet.fold().troubles(), []);
    }
    let under = with_edge(VALLEY).steps(&[&[2], &[1], &[3]]).fold();
    let (edge, flap) = (under.panel(10.0, 25.0), under.panel(190.0, 25.0));
    let base = under.panel(110.0, 25.0);
    assert!(under.troubles().contains(&Trouble::Blocked { step: 1, moving: edge, by: base }), "{:?}", under.troubles());
    let covered = with_edge(MOUNTAIN).steps(&[&[2], &[3], &[1]]).fold();
    let trouble = Trouble::Blocked { step: 2, moving: edge, by: flap };
    assert!(covered.troubles().contains(&trouble), "{:?}", covered.troubles());
}

#[test]
fn corners_that_were_not_cut_away_are_named() {
    let kept =
        Sheet::new(200.0, 200.0).down(50.0, VALLEY).across(50.0, VALLEY).down(150.0, VALLEY).across(150.0, VALLEY);
    let folded = kept.base(100.0, 100.0).steps(&[&[1], &[2], &[3], &[4]]).fold();
    let joined = |step: usize, line: u32, corner: (f64, f64), at_x: f64, at_y: f64| {
        let panel = |x: f64, y: f64| folded.panel(x, y);
        let mut beside = [panel(100.0, corner.1), panel(corner.0, 100.0)];
        // Anticlockwise round the crossing: the neighbour before the corner, then the one after it.
        if (corner.0 < 100.0) != (corner.1 < 100.0) {
            beside.reverse();
        }
        let panels = vec![panel(corner.0, corner.1), beside[0], beside[1]];
        Trouble::Joined { step, lines: vec![model::LineId(line)], panels, at: at(at_x, at_y) }
    };
    let expected = [
        joined(1, 2, (25.0, 25.0), 50.0, 50.0),
        joined(3, 4, (25.0, 175.0), 50.0, 150.0),
        joined(3, 4, (175.0, 175.0), 150.0, 150.0),
    ];
    assert_eq!(folded.step_troubles(), expected);
    assert_eq!([0, 1, 2, 3].map(|step| folded.folding.moves(step)), [true, false, true, false]);
}
