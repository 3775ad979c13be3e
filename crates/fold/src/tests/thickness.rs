//! Thickness, gaps and gussets of folios folded by hand.

use super::random::{sheet, steps, stroke};
use super::{MOUNTAIN, Sheet, VALLEY, VALLEY_WALL};
use crate::{
    Allowance, Assembly, Back, FoldGap, Folding, GussetFit, Scoring, assemble, close, creep, gaps, gussets, outline,
    reach, thickness,
};
use model::{Caliper, Layout};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Paper of 0.3 mm, folded.
fn fold(sheet: &Sheet) -> (Assembly, Folding) {
    let mut document = sheet.document.clone();
    document.stock.caliper = Caliper::Measured(super::mm(0.3));
    let assembly = assemble(&document, &Layout::of(&document)).unwrap();
    let folding = close(&assembly);
    (assembly, folding)
}

/// A strip 50 mm high with valleys so far from its left edge, based between the two named, each folded in one step.
fn strip(width: f64, scores: &[f64], base: f64, steps: &[&[u32]]) -> Sheet {
    let sheet = scores.iter().fold(Sheet::new(width, 50.0), |sheet, &at| sheet.down(at, VALLEY));
    sheet.base(base, 25.0).steps(steps)
}

/// Layers, height in mm and area in mm² of all areas, the thinnest first.
#[track_caller]
fn check(sheet: &Sheet, expected: &[(usize, f64, f64)]) {
    let (assembly, folding) = fold(sheet);
    let thickness = thickness(&assembly, &folding);
    assert_eq!(thickness.areas.len(), expected.len(), "{thickness:?}");
    for (area, &(layers, height, mm2)) in thickness.areas.iter().zip(expected) {
        assert_eq!(area.layers, layers, "{thickness:?}");
        assert!((area.height - height).abs() < 1e-9, "{} is not {height}", area.height);
        assert!((area.area() - mm2).abs() < 1e-6, "{} is not {mm2}", area.area());
    }
    assert!((thickness.greatest - expected.last().unwrap().1).abs() < 1e-9);
    assert!(thickness.at.is_some());
}

#[test]
fn each_area_is_as_thick_as_its_layers() {
    check(&strip(100.0, &[60.0], 30.0, &[&[1]]), &[(1, 0.3, 1000.0), (2, 0.6, 2000.0)]);
    // A letter fold of 100, 100 and 98 mm, by hand: the last panel is not bent down where the one under it ends.
    check(&strip(298.0, &[100.0, 200.0], 150.0, &[&[2], &[1]]), &[(2, 0.9, 100.0), (3, 0.9, 4900.0)]);
    // Flat, there is one.
    check(&strip(100.0, &[60.0], 30.0, &[]), &[(1, 0.3, 5000.0)]);
}

#[test]
fn a_gusset_keeps_its_tray_open() {
    // A wall of 10 mm, a flap of 40 mm over a base of 60: a flap's middle lies 10 mm above the base's.
    let tray = Sheet::new(110.0, 50.0).down(60.0, VALLEY_WALL).down(70.0, VALLEY_WALL).base(30.0, 25.0);
    let tray = tray.steps(&[&[1, 2]]);
    check(&tray, &[(1, 0.3, 1000.0), (2, 10.3, 2000.0)]);
    let (assembly, folding) = fold(&tray);
    let areas = thickness(&assembly, &folding).areas;
    assert_eq!(areas.iter().map(|area| area.paper).collect::<Vec<_>>(), [0.3, 0.6]);
}

#[test]
fn a_folds_gap_counts_the_layers_at_its_crease() {
    let all = |sheet: &Sheet| {
        let (assembly, folding) = fold(sheet);
        gaps(&assembly, &folding, &Allowance::default())
    };
    let brief = |gaps: Vec<FoldGap>| gaps.iter().map(|gap| (gap.layers, gap.scoring)).collect::<Vec<_>>();
    // A letter fold: the flap that closes last goes round the other where that reaches its crease.
    let letter = |inner: f64| all(&strip(200.0 + inner, &[100.0, 200.0], 150.0, &[&[2], &[1]]));
    assert_eq!(brief(letter(100.0)), [(1, Scoring::Wide), (0, Scoring::Single)]);
    assert_eq!(brief(letter(98.0)), [(0, Scoring::Single), (0, Scoring::Single)]);
    let wide = letter(100.0)[0];
    // One layer of 0.3 mm and the paper itself.
    assert!((wide.needed - 0.6).abs() < 1e-9 && (wide.stack - 0.3).abs() < 1e-9 && wide.has == 0.0, "{wide:?}");
    // A roll of four panels of 100 mm from the right: the last fold goes round two layers, the one before round one.
    let roll = all(&strip(400.0, &[100.0, 200.0, 300.0], 50.0, &[&[3], &[2], &[1]]));
    assert_eq!(roll.iter().map(|gap| gap.layers).collect::<Vec<_>>(), [2, 1, 0]);
    // An accordion wraps nothing.
    let accordion = Sheet::new(300.0, 50.0).down(100.0, VALLEY).down(200.0, MOUNTAIN).base(50.0, 25.0);
    assert_eq!(brief(all(&accordion.steps(&[&[2], &[1]]))), [(0, Scoring::Single); 2]);
}

#[test]
fn layers_beside_one_another_at_a_crease_are_not_added_up() {
    // Two flaps from above and below, 20 mm high each, lie on a base of 50 mm; a flap from the left closes over both.
    let sheet = Sheet::new(100.0, 90.0).down_from(40.0, (20.0, 70.0), VALLEY);
    let sheet = sheet.across_from(20.0, (40.0, 100.0), VALLEY).across_from(70.0, (40.0, 100.0), VALLEY);
    let sheet = sheet.cut_out((0.0, 40.0), (0.0, 20.0)).cut_out((0.0, 40.0), (70.0, 90.0));
    let (assembly, folding) = fold(&sheet.base(70.0, 45.0).steps(&[&[2], &[3], &[1]]));
    assert_eq!(folding.troubles(), []);
    let all = gaps(&assembly, &folding, &Allowance::default());
    let mut layers: Vec<usize> = all.iter().map(|gap| gap.layers).collect();
    layers.sort_unstable();
    assert_eq!(layers, [0, 0, 1]);
}

/// A base of 60 mm with a gusset of some width and a flap of 55 mm over it, and two flaps, 50 mm from above and from
/// below, that lie in between on the base.
fn wrapping(gusset: f64) -> Sheet {
    let sheet = Sheet::new(115.0 + gusset, 160.0);
    let sheet = sheet.down_from(60.0, (50.0, 110.0), VALLEY_WALL).down_from(60.0 + gusset, (50.0, 110.0), VALLEY_WALL);
    let right = 115.0 + gusset;
    let sheet = sheet.across_from(50.0, (0.0, 60.0), VALLEY).across_from(110.0, (0.0, 60.0), VALLEY);
    let sheet = sheet.cut_out((60.0, right), (0.0, 50.0)).cut_out((60.0, right), (110.0, 160.0));
    sheet.base(30.0, 80.0).steps(&[&[3], &[4], &[1, 2]])
}

fn fit(sheet: &Sheet, allowance: &Allowance) -> GussetFit {
    let (assembly, folding) = fold(sheet);
    let fits = gussets(&assembly, &folding, allowance);
    assert_eq!(fits.len(), 1, "{fits:?}");
    fits[0]
}

#[test]
fn a_gusset_is_measured_by_what_it_wraps() {
    // Two layers of 0.3 mm where both flaps lie, and half of its own paper on either side: 0.9 mm, by hand.
    let fit = fit(&wrapping(0.5), &Allowance { groove: 3.175, ..Allowance::default() });
    assert_eq!(fit.layers, 2);
    for (got, expected) in [(fit.wraps, 0.6), (fit.least, 0.9), (fit.has, 0.5), (fit.next_groove.unwrap(), 3.175)] {
        assert!((got - expected).abs() < 1e-9, "{fit:?}");
    }
    let wide = self::fit(&wrapping(10.0), &Allowance { kappa: 1.0, clearance: 0.5, groove: 0.0 });
    assert!((wide.least - 1.7).abs() < 1e-9 && (wide.has - 10.0).abs() < 1e-9 && wide.next_groove.is_none());
}

#[test]
fn a_step_is_no_gusset() {
    // Up and away: what it links does not lie over one another.
    let up = Sheet::new(110.0, 50.0).down(60.0, VALLEY_WALL).down(70.0, super::MOUNTAIN_WALL).base(30.0, 25.0);
    let (assembly, folding) = fold(&up.steps(&[&[1, 2]]));
    assert_eq!(gussets(&assembly, &folding, &Allowance::default()), []);
}

#[test]
fn the_bottom_of_a_tray_is_no_gusset_but_its_walls_are() {
    // Walls of 10 mm on either side of a bottom of 60 mm, with flaps of 50 and of 25 mm: the second lies on the first.
    let tray = [50.0, 60.0, 120.0, 130.0].into_iter().fold(Sheet::new(155.0, 50.0), |s, at| s.down(at, VALLEY_WALL));
    let (assembly, folding) = fold(&tray.base(90.0, 25.0).steps(&[&[1, 2], &[3, 4]]));
    let all = gussets(&assembly, &folding, &Allowance::default());
    assert_eq!(all.iter().map(|fit| fit.layers).collect::<Vec<_>>(), [0, 1]);
    assert!(all.iter().all(|fit| (fit.has - 10.0).abs() < 1e-9), "{all:?}");
    assert_eq!(gaps(&assembly, &folding, &Allowance::default()).len(), 4);
}

#[test]
fn what_goes_round_others_falls_short() {
    // A roll of four panels of 100 mm, 0.3 mm: round two layers 2 x 0.3 mm, round one 0.3 mm, pressed sharp.
    let (assembly, folding) = fold(&strip(400.0, &[100.0, 200.0, 300.0], 50.0, &[&[3], &[2], &[1]]));
    let by = |back| creep(&assembly, &folding, back).iter().map(|creep| creep.by).collect::<Vec<_>>();
    let near = |got: &[f64], expected: &[f64]| {
        assert!(got.len() == expected.len() && got.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{got:?}");
    };
    near(&by(Back::Sharp), &[0.6, 0.3]);
    near(&by(Back::USUAL), &[0.78, 0.39]);
    let reached: Vec<f64> = reach(&assembly, &folding, Back::Sharp).iter().map(|reach| reach.real).collect();
    near(&reached, &[99.4, 99.7, 100.0]);
    assert!(reach(&assembly, &folding, Back::Sharp).iter().all(|reach| (reach.flat - 100.0).abs() < 1e-9));
}

#[test]
fn paper_of_unknown_thickness_has_layers_all_the_same() {
    let mut sheet = strip(298.0, &[100.0, 200.0], 150.0, &[&[2], &[1]]);
    sheet.document.stock.caliper = Caliper::Unknown;
    let assembly = assemble(&sheet.document, &Layout::of(&sheet.document)).unwrap();
    let thickness = thickness(&assembly, &close(&assembly));
    assert_eq!(thickness.areas.iter().map(|area| area.layers).collect::<Vec<_>>(), [2, 3]);
    assert!(thickness.greatest.abs() < f64::MIN_POSITIVE);
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 60,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(12),
        ..ProptestConfig::default()
    })]

    /// Layers times area is the area of all panels that lie flat; the areas make up the outline.
    #[test]
    fn no_paper_is_lost(
        strokes in prop::collection::vec(stroke(), 0..12), steps in steps(), base in (0..12_u8, 0..12_u8),
    ) {
        let (assembly, folding) = fold(&sheet(&strokes, &steps, base, false));
        let thickness = thickness(&assembly, &folding);
        let poses = folding.flat_pose(f64::INFINITY);
        let flat = |(shape, pose): (&crate::PanelShape, &glam::DAffine3)| {
            let area: f64 = shape.convex.iter().map(|part| crate::overlap::area(part)).sum();
            pose.matrix3.z_axis.z.abs() * area
        };
        let paper: f64 = assembly.panels.iter().zip(&poses).map(flat).sum();
        #[expect(clippy::cast_precision_loss, reason = "a few layers")]
        let piled: f64 = thickness.areas.iter().map(|area| area.layers as f64 * area.area()).sum();
        prop_assert!((paper - piled).abs() <= 1e-9 * paper, "{} of {} mm²", piled, paper);
        let covered: f64 = thickness.areas.iter().map(crate::ThicknessArea::area).sum();
        let whole: f64 = outline(&folding, f64::INFINITY).iter().map(|region| region.area).sum();
        prop_assert!((covered - whole).abs() <= 1e-9 * whole, "{} of {} mm²", covered, whole);
        for area in &thickness.areas {
            prop_assert!(area.height >= area.paper - 1e-9, "{:?}", area);
        }
        for gap in gaps(&assembly, &folding, &Allowance::default()) {
            prop_assert!(gap.layers < assembly.panels.len() && (gap.stack > 0.0) == (gap.layers > 0), "{:?}", gap);
        }
    }
}
