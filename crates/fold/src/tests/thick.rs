//! Motion of paper with thickness.

use super::motion::{cover, tab};
use super::{Sheet, VALLEY, VALLEY_WALL};
use crate::{Assembly, Folding, Trouble, close};
use glam::DVec3;
use model::{PanelId, Work};

/// The sheet folded from paper of another thickness, in mm.
fn folded(sheet: &Sheet, caliper: f64) -> (Assembly, Folding) {
    let mut assembly = sheet.assemble();
    assembly.panels.iter_mut().for_each(|panel| panel.caliper = caliper);
    let folding = close(&assembly);
    (assembly, folding)
}

/// The first strike: what moves, what it strikes, after how many degrees, where.
fn strike(folding: &Folding) -> Option<(PanelId, PanelId, f64, DVec3)> {
    folding.troubles().iter().find_map(|trouble| match *trouble {
        Trouble::Collides { moving, with, degrees, at, .. } => Some((moving, with, degrees, at)),
        _ => None,
    })
}

/// A cover `width` wide closes over a tab 25 mm tall, 60 mm from its hinge: at what angle above the base it strikes,
/// and how far from the hinge and how high above the middle of the base's paper.
#[track_caller]
fn check(width: f64, caliper: f64, expected: Option<(f64, f64, f64)>) {
    let (_, folding) = folded(&cover(width, 60.0), caliper);
    match (strike(&folding), expected) {
        (None, None) => assert_eq!(folding.troubles(), []),
        (Some((_, _, degrees, at)), Some((angle, x, z))) => {
            assert!((180.0 - degrees - angle).abs() < 1e-6, "{width}, {caliper}: at {}", 180.0 - degrees);
            assert!(at.distance(DVec3::new(width + x, -25.0, z)) < 1e-3, "{width}, {caliper}: {at}");
        }
        (got, _) => panic!("{width}, {caliper}: {got:?}"),
    }
}

#[test]
fn a_cover_strikes_a_wall_at_the_same_angle_whatever_the_thickness() {
    // The folding reference, 3.5: atan2(25, 60). Scores open on the inside, so widths inside are those of the sheet,
    // and the tab's edge is 25 mm above the front of the base.
    for caliper in [0.0, 0.1, 0.3, 1.5] {
        let at = Some((22.619_864_948, 60.0, 25.0 + caliper / 2.0));
        check(100.0, caliper, at);
        check(65.0, caliper, at);
        check(60.0, caliper, None);
        // It passes under the tab's edge and meets its inside, at acos(60 / 61).
        let (low, angle) = (libm::sqrt(61.0 * 61.0 - 60.0 * 60.0), libm::acos(60.0 / 61.0).to_degrees());
        check(61.0, caliper, Some((angle, 60.0, low + caliper / 2.0)));
    }
}

#[test]
fn layers_on_a_cover_strike_earlier() {
    // A cover of 100 mm with its outer 60 mm folded in strikes the tab with that second layer. Half-way between the
    // middles of base and cover, two calipers apart in the end, is the axis; the layer's face is half a caliper beyond
    // it. The folding reference, 3.5: a face so far from the axis touches a point at radius r earlier by asin(h / r).
    for caliper in [0.3, 1.5] {
        let sheet = tab(Sheet::new(310.0, 50.0), 220.0, 25.0).down(160.0, VALLEY).down(60.0, VALLEY);
        let (_, folding) = folded(&sheet.base(165.0, 5.0).steps(&[&[4], &[6], &[5]]), caliper);
        let up = 25.0 - caliper / 2.0;
        let reach = libm::hypot(60.0, up);
        let angle = libm::atan2(up, 60.0) + libm::asin(caliper / 2.0 / reach);
        let all: Vec<f64> = folding
            .troubles()
            .iter()
            .filter_map(|trouble| match trouble {
                Trouble::Collides { degrees, .. } => Some(180.0 - degrees),
                _ => None,
            })
            .collect();
        let first = all.iter().copied().fold(0.0, f64::max);
        assert!((first - angle.to_degrees()).abs() < 1e-6, "{caliper}: {all:?}, not {}", angle.to_degrees());
    }
}

/// A pile of layers on a base, over which a gusset with its flap closes: whether the flap strikes it.
#[track_caller]
fn over(layers: u32, gusset: f64, caliper: f64, expected: bool) {
    // From the left: flap, gusset, base, and a strip of pleats to lie on the base.
    let mut sheet = Sheet::new(100.0 + gusset + 100.0 + 80.0 * f64::from(layers), 50.0);
    let start = 100.0 + gusset;
    sheet = sheet.down(100.0, VALLEY_WALL).down(start, VALLEY_WALL);
    for layer in 0..layers {
        let work = if layer % 2 == 0 { VALLEY } else { super::MOUNTAIN };
        sheet = sheet.down(start + 100.0 + 80.0 * f64::from(layer), work);
    }
    let mut steps: Vec<Vec<u32>> = (3..3 + layers).rev().map(|line| vec![line]).collect();
    steps.push(vec![1, 2]);
    let steps: Vec<&[u32]> = steps.iter().map(Vec::as_slice).collect();
    let (_, folding) = folded(&sheet.base(start + 5.0, 25.0).steps(&steps), caliper);
    assert_eq!(strike(&folding).is_some(), expected, "{layers} layers under {gusset} mm: {:?}", folding.troubles());
}

#[test]
fn a_flap_rests_on_a_pile_that_its_gusset_is_made_for_and_strikes_a_thicker_one() {
    over(2, 3.0, 1.0, false);
    // As thick as the gusset is high: it rests.
    over(3, 3.0, 1.0, false);
    over(8, 3.0, 1.0, true);
    over(8, 3.0, 0.0, false);
    over(8, 10.0, 1.0, false);
}

#[test]
fn what_only_touches_is_no_strike() {
    // The folding reference, 3.4: coplanar starts and ends, panels that share a crease, edges on the hinge, flaps that
    // come to rest edge to edge or on a wall.
    for caliper in [0.0, 0.3, 1.0] {
        let gate = Sheet::new(200.0, 50.0).down(50.0, VALLEY).down(150.0, VALLEY).base(100.0, 25.0);
        let wall = tab(Sheet::new(180.0, 50.0), 70.0, 20.0).down(100.0, VALLEY_WALL).down(120.0, VALLEY_WALL);
        let beside = Sheet::new(150.0, 100.0)
            .across_from(50.0, (0.0, 50.0), Work::Cut)
            .down_from(50.0, (0.0, 50.0), VALLEY_WALL)
            .down_from(50.0, (50.0, 100.0), VALLEY)
            .base(100.0, 50.0);
        for sheet in [gate.steps(&[&[1, 2]]), wall.base(5.0, 5.0).steps(&[&[4], &[5, 6]]), beside.steps(&[&[2], &[3]])]
        {
            let (_, folding) = folded(&sheet, caliper);
            assert_eq!(folding.troubles(), [], "{caliper} mm");
        }
    }
}

#[test]
fn a_mirrored_folio_strikes_at_the_mirrored_place() {
    for (width, distance) in [(100.0, 60.0), (80.0, 75.5)] {
        let whole = width + 150.0;
        let (_, left) = folded(&cover(width, distance), 0.4);
        // The same from the right: the tab's free edge towards the sheet's left edge.
        let mirrored = Sheet::new(whole, 50.0)
            .across_from(20.0, (150.0 - distance - 25.0, 150.0 - distance), Work::Cut)
            .across_from(30.0, (150.0 - distance - 25.0, 150.0 - distance), Work::Cut)
            .down_from(150.0 - distance - 25.0, (20.0, 30.0), Work::Cut)
            .down_from(150.0 - distance, (20.0, 30.0), VALLEY_WALL)
            .down(150.0, VALLEY)
            .base(145.0, 5.0)
            .steps(&[&[4], &[5]]);
        let (_, right) = folded(&mirrored, 0.4);
        let ((_, _, a, at), (_, _, b, other)) = (strike(&left).unwrap(), strike(&right).unwrap());
        assert!((a - b).abs() < 1e-9, "{a} and {b}");
        assert!(at.distance(DVec3::new(whole - other.x, other.y, other.z)) < 1e-6, "{at} and {other}");
    }
}
