//! Where things come to lie.

use super::{Folded, MOUNTAIN, MOUNTAIN_WALL, Sheet, VALLEY, VALLEY_WALL, near};
use crate::Trouble;
use glam::DVec3;
use model::{LineId, Work};

/// A sheet 100 x 50, base at the right of a line at 40: where the point 39 mm left of the line and 10 mm down is when
/// half of the fold is done, and at the end. By hand.
#[track_caller]
fn check(work: Work, halfway: [f64; 3], closed: [f64; 3]) {
    let folded = Sheet::new(100.0, 50.0).down(40.0, work).base(70.0, 25.0).steps(&[&[1]]).fold();
    assert_eq!(folded.troubles(), []);
    near(folded.at(1.0, 10.0, 0.0), [1.0, -10.0, 0.0]);
    near(folded.at(1.0, 10.0, 0.5), halfway);
    near(folded.at(1.0, 10.0, 1.0), closed);
    near(folded.at(1.0, 10.0, 7.0), closed);
    near(folded.at(1.0, 10.0, f64::NAN), [1.0, -10.0, 0.0]);
    near(folded.at(70.0, 10.0, 0.5), [70.0, -10.0, 0.0]);
}

#[test]
fn a_valley_comes_up_and_over_a_mountain_goes_down_and_under() {
    let root = 39.0 * 0.5_f64.sqrt();
    check(VALLEY, [40.0, -10.0, 39.0], [79.0, -10.0, 0.0]);
    check(MOUNTAIN, [40.0, -10.0, -39.0], [79.0, -10.0, 0.0]);
    check(VALLEY_WALL, [40.0 - root, -10.0, root], [40.0, -10.0, 39.0]);
    check(MOUNTAIN_WALL, [40.0 - root, -10.0, -root], [40.0, -10.0, -39.0]);
}

#[test]
fn a_gusset_lifts_its_flap() {
    // Wall 10 mm, flap 30 mm; halfway the wall leans at 45 degrees and the flap stands upright. By hand.
    let sheet = Sheet::new(100.0, 50.0).down(60.0, VALLEY_WALL).down(70.0, VALLEY_WALL).base(30.0, 25.0);
    let folded = sheet.steps(&[&[1, 2]]).fold();
    assert_eq!(folded.troubles(), []);
    let lean = 10.0 * 0.5_f64.sqrt();
    near(folded.at(99.0, 5.0, 0.5), [60.0 + lean, -5.0, lean + 29.0]);
    near(folded.at(65.0, 5.0, 1.0), [60.0, -5.0, 5.0]);
    near(folded.at(99.0, 5.0, 1.0), [31.0, -5.0, 10.0]);
    let size = folded.folding.closed_size();
    assert!(size.distance(DVec3::new(60.0, 50.0, 10.3)) < 1e-9, "with 0.3 mm of paper: {size}");
    assert_eq!(folded.folding.planes().len(), 3);
    assert_eq!(folded.folding.height(folded.panel(99.0, 5.0)), Some(10.0));
}

#[test]
fn layers_lie_one_caliper_apart() {
    let gate = Sheet::new(300.0, 50.0).down(100.0, VALLEY).down(200.0, VALLEY).base(150.0, 25.0).steps(&[&[1], &[2]]);
    let folded = gate.fold();
    let (left, middle, right) = (folded.panel(50.0, 5.0), folded.panel(150.0, 5.0), folded.panel(250.0, 5.0));
    let folding = &folded.folding;
    assert_eq!([left, middle, right].map(|panel| folding.layer(panel)), [Some(1), Some(0), Some(2)]);
    let heights: Vec<f64> = folding.pose(2.0).iter().map(|pose| pose.translation.z).collect();
    assert!((heights[0] - 0.3).abs() < 1e-12 && heights[1].abs() < 1e-12 && (heights[2] - 0.6).abs() < 1e-12);
    assert!((folding.closed_size().z - 0.9).abs() < 1e-12);
    assert_eq!(folding.above(right, left), Some(true));
    assert_eq!(folding.above(middle, left), Some(false));
    assert_eq!(folding.planes()[0].layers, [(0, vec![middle]), (1, vec![left]), (2, vec![right])]);
    assert_eq!(folding.closed_outline().len(), 4);
}

#[test]
fn what_goes_under_the_base_is_below_it() {
    let sheet = Sheet::new(300.0, 50.0).down(100.0, MOUNTAIN).down(200.0, MOUNTAIN).base(150.0, 25.0);
    let folded = sheet.steps(&[&[2], &[1]]).fold();
    let layers = [50.0, 150.0, 250.0].map(|x| folded.folding.layer(folded.panel(x, 5.0)));
    assert_eq!(layers, [Some(-2), Some(0), Some(-1)]);
    let (low, high) = folded.folding.closed_bounds();
    assert!((low.z + 0.75).abs() < 1e-12 && (high.z - 0.15).abs() < 1e-12);
}

#[test]
fn a_score_that_no_step_folds_is_told() {
    let folded = Sheet::new(100.0, 50.0).down(40.0, VALLEY).down(70.0, VALLEY).base(50.0, 25.0).steps(&[&[2]]).fold();
    assert_eq!(folded.troubles(), [Trouble::NotInSteps { line: LineId(1) }]);
    near(folded.at(1.0, 10.0, 1.0), [1.0, -10.0, 0.0]);
}

#[test]
fn a_ring_of_paper_folds_along_one_line_on_both_sides_of_its_opening() {
    let ring = Sheet::new(100.0, 100.0).cut_out((30.0, 70.0), (30.0, 70.0)).down(50.0, VALLEY).base(10.0, 50.0);
    let folded = ring.steps(&[&[5]]).fold();
    assert_eq!(folded.troubles(), []);
    near(folded.at(90.0, 50.0, 1.0), [10.0, -50.0, 0.0]);
    assert_eq!(folded.above((90.0, 50.0), (10.0, 50.0)), Some(true));
}

#[test]
fn a_panel_has_folded_when_all_folds_to_the_base_have() {
    // From the base at the left: a fold, one that no step names, a fold. What lies beyond the second stays as it is.
    let strip = || Sheet::new(40.0, 10.0).down(10.0, VALLEY).down(20.0, VALLEY).down(30.0, MOUNTAIN).base(5.0, 5.0);
    let check = |folded: &Folded, expected: [bool; 4]| {
        let got = [5.0, 15.0, 25.0, 35.0].map(|x| folded.folding.is_folded(folded.panel(x, 5.0)));
        assert_eq!(got, expected);
    };
    check(&strip().steps(&[]).fold(), [true, false, false, false]);
    check(&strip().steps(&[&[3], &[1]]).fold(), [true, true, false, false]);
    check(&strip().steps(&[&[3], &[2], &[1]]).fold(), [true; 4]);
    // A step that cannot be made folds nothing: here a square fold across one that goes on.
    let held = Sheet::new(20.0, 20.0).down(10.0, VALLEY).across(10.0, VALLEY_WALL).base(5.0, 5.0).steps(&[&[1, 2]]);
    let folded = held.fold();
    assert!(!folded.troubles().is_empty() && !folded.folding.is_folded(folded.panel(15.0, 5.0)));
}
