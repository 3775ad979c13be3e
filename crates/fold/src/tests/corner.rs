//! Crossings with paper all round.

use super::{Folded, MOUNTAIN, Sheet, VALLEY, VALLEY_WALL};
use crate::Trouble;
use std::collections::BTreeSet;

/// A square folded in four: the upper and lower half of the line down the middle (lines 1, 2), the left and the right
/// half of the one across (lines 3, 4); `V` or `M` each. The base is the upper left quarter.
pub(super) fn quarters(folds: [char; 4]) -> Sheet {
    let work = |fold| if fold == 'V' { VALLEY } else { MOUNTAIN };
    Sheet::new(100.0, 100.0)
        .down_from(50.0, (0.0, 50.0), work(folds[0]))
        .down_from(50.0, (50.0, 100.0), work(folds[1]))
        .across_from(50.0, (0.0, 50.0), work(folds[2]))
        .across_from(50.0, (50.0, 100.0), work(folds[3]))
        .base(25.0, 25.0)
}

/// The quarters from bottom to top, numbered in reading order.
fn pile(folded: &Folded) -> String {
    let cells = [(25.0, 25.0), (75.0, 25.0), (25.0, 75.0), (75.0, 75.0)].map(|(x, y)| folded.panel(x, y));
    let [plane] = folded.folding.planes() else { panic!("the pile is not flat") };
    let layers = plane.layers.iter().flat_map(|(_, panels)| panels);
    layers.map(|panel| (cells.iter().position(|cell| cell == panel).unwrap() + 1).to_string()).collect()
}

#[test]
fn a_square_folds_in_four_one_whole_line_after_the_other() {
    let mut piles = BTreeSet::new();
    for word in 0..16_u32 {
        let folds = [0, 1, 2, 3].map(|i| if word >> i & 1 == 0 { 'V' } else { 'M' });
        for (first, steps) in [(0, [[1, 2], [3, 4]]), (2, [[3, 4], [1, 2]])] {
            let folded = quarters(folds).steps(&[&steps[0], &steps[1]]).fold();
            // The folding reference, 1.4 and 1.5: the first line is folded the same way all along, and of the four
            // folds three go one way (Maekawa).
            let mountains = folds.iter().filter(|&&fold| fold == 'M').count();
            let expected = folds[first] == folds[first + 1] && mountains % 2 == 1;
            assert_eq!(folded.troubles().is_empty(), expected, "{folds:?} {steps:?}: {:?}", folded.troubles());
            if expected {
                piles.insert(pile(&folded));
            }
        }
    }
    // OEIS A001418: the eight ways to fold a 2 x 2 map, as given there.
    let known = ["1243", "1342", "2134", "2431", "3124", "3421", "4213", "4312"];
    assert_eq!(piles, known.map(str::to_owned).into());
}

/// What keeps a square from folding so: the step, the lines, and the corner panel's middle.
#[track_caller]
fn check(sheet: &Sheet, step: usize, lines: &[u32], corner: (f64, f64)) {
    let folded = sheet.fold();
    let panel = folded.panel(corner.0, corner.1);
    match folded.step_troubles().as_slice() {
        [Trouble::Joined { step: got, lines: of, panels, .. }] => {
            assert_eq!(*got, step);
            assert_eq!(of.iter().map(|line| line.0).collect::<Vec<_>>(), lines);
            assert_eq!((panels[0], panels.len()), (panel, 3));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn other_ways_round_a_corner_are_named() {
    check(&quarters(['V'; 4]).steps(&[&[1, 2], &[3, 4]]), 1, &[3, 4], (75.0, 75.0));
    check(&quarters(['V', 'V', 'V', 'M']).steps(&[&[1, 2, 3, 4]]), 0, &[1, 2, 3, 4], (75.0, 75.0));
    let half = quarters(['V', 'V', 'V', 'M']).steps(&[&[1], &[2], &[3], &[4]]).fold();
    let stuck = half.step_troubles();
    assert!(stuck.iter().all(|trouble| matches!(trouble, Trouble::Joined { .. })) && stuck.len() == 4);
    let walls = Sheet::new(100.0, 100.0).down(50.0, VALLEY_WALL).across(50.0, VALLEY_WALL).base(25.0, 25.0);
    check(&walls.steps(&[&[1], &[2]]), 1, &[2], (75.0, 75.0));
}

#[test]
fn the_corner_of_two_gussets_is_one_trouble() {
    // Two gussets cross in four points; their panels hang together.
    let sheet = Sheet::new(200.0, 200.0).down(100.0, VALLEY_WALL).down(110.0, VALLEY_WALL);
    let sheet = sheet.across(100.0, VALLEY_WALL).across(110.0, VALLEY_WALL).base(50.0, 50.0);
    check(&sheet.steps(&[&[1, 2], &[3, 4]]), 1, &[3, 4], (105.0, 105.0));
}

#[test]
fn a_line_that_ends_at_another_cannot_fold_with_paper_all_round() {
    let sheet = Sheet::new(100.0, 100.0).down(50.0, VALLEY).across_from(50.0, (50.0, 100.0), VALLEY).base(25.0, 50.0);
    let folded = sheet.steps(&[&[2], &[1]]).fold();
    assert!(matches!(folded.step_troubles().as_slice(), [Trouble::Joined { step: 0, .. }]), "{:?}", folded.troubles());
}

#[test]
fn a_fold_that_stops_at_an_opening_leaves_its_panels_joined_round_it() {
    // The line runs from the sheet's edge to a hole; beyond it the paper is whole.
    let sheet = Sheet::new(100.0, 100.0).cut_out((30.0, 70.0), (30.0, 70.0)).down_from(50.0, (0.0, 30.0), VALLEY);
    // Nothing is parted by it, so nothing folds and no step is at fault.
    assert_eq!(sheet.clone().base(10.0, 50.0).steps(&[&[5]]).fold().troubles(), []);
    // A second line from the hole parts the paper, yet the two are not one hinge.
    let bent = sheet.down_from(60.0, (70.0, 100.0), VALLEY).base(10.0, 50.0).steps(&[&[5, 6]]).fold();
    let [Trouble::Joined { step: 0, panels, .. }] = bent.troubles() else { panic!("{:?}", bent.troubles()) };
    assert_eq!(panels.len(), 2);
    let one = Sheet::new(100.0, 100.0).cut_out((30.0, 70.0), (30.0, 70.0)).down_from(50.0, (0.0, 30.0), VALLEY);
    let one = one.down_from(50.0, (70.0, 100.0), VALLEY).base(10.0, 50.0).steps(&[&[5], &[6]]).fold();
    let steps: Vec<Option<usize>> = one.troubles().iter().map(Trouble::step).collect();
    assert_eq!(steps, [Some(0), Some(1)], "each half is held by the other: {:?}", one.troubles());
}

#[test]
fn folds_that_bend_round_a_panel_hold_it() {
    // Two scores that meet in the middle of the paper, and end at its edges.
    let sheet =
        Sheet::new(100.0, 100.0).down_from(50.0, (50.0, 100.0), VALLEY).across_from(50.0, (50.0, 100.0), VALLEY);
    let folded = sheet.base(25.0, 25.0).steps(&[&[1, 2]]).fold();
    let expected = Trouble::Joined {
        step: 0,
        lines: vec![model::LineId(1), model::LineId(2)],
        panels: vec![folded.panel(75.0, 75.0), folded.panel(25.0, 25.0)],
        at: super::at(50.0, 50.0),
    };
    assert_eq!(folded.step_troubles(), [expected]);
}
