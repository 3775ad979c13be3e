//! What is seen of folios folded by hand.

use super::random::{Stroke, sheet, steps, stroke};
use super::{Folded, MOUNTAIN, Sheet, VALLEY, VALLEY_WALL};
use crate::{Folding, Trouble, View, VisibleFace, assemble, close, outline, visible};
use model::{Face, Layout, Point, Work};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

const CLOSED: f64 = f64::INFINITY;

/// Where a panel is on the sheet, which face of it is seen, where its up points, and how much of it is seen in mm².
type Seen = ((f64, f64), Face, f64, f64);

#[track_caller]
fn check(folded: &Folded, time: f64, view: View, expected: &[Seen]) {
    let seen = visible(&folded.folding, time, view);
    assert_eq!(seen.len(), expected.len(), "{seen:?}");
    for &((x, y), face, up, area) in expected {
        let panel = folded.panel(x, y);
        let Some(one) = seen.iter().find(|seen| seen.panel == panel) else { panic!("{x}/{y} is not seen") };
        assert_eq!((one.face, one.up), (face, up), "{x}/{y}");
        assert!((one.area() - area).abs() < 1e-6, "{x}/{y}: {} mm² and not {area}", one.area());
    }
}

#[test]
fn a_flap_shows_its_back_and_what_it_leaves_free() {
    // 60 mm of base, 40 mm of flap; by hand.
    let valley = Sheet::new(100.0, 50.0).down(60.0, VALLEY).base(30.0, 25.0).steps(&[&[1]]).fold();
    let (base, flap) = ((30.0, 25.0), (80.0, 25.0));
    check(&valley, 0.0, View::Front, &[(base, Face::Front, 0.0, 3000.0), (flap, Face::Front, 0.0, 2000.0)]);
    check(&valley, CLOSED, View::Front, &[(base, Face::Front, 0.0, 1000.0), (flap, Face::Back, 0.0, 2000.0)]);
    check(&valley, CLOSED, View::Back, &[(base, Face::Back, 0.0, 3000.0)]);
    // Half way, the flap stands upright.
    check(&valley, 0.5, View::Front, &[(base, Face::Front, 0.0, 3000.0)]);
    let mountain = Sheet::new(100.0, 50.0).down(60.0, MOUNTAIN).base(30.0, 25.0).steps(&[&[1]]).fold();
    check(&mountain, CLOSED, View::Front, &[(base, Face::Front, 0.0, 3000.0)]);
    check(&mountain, CLOSED, View::Back, &[(base, Face::Back, 0.0, 1000.0), (flap, Face::Front, 0.0, 2000.0)]);
}

#[test]
fn a_flap_folded_down_from_the_top_is_upside_down() {
    let folded = Sheet::new(50.0, 100.0).across(40.0, VALLEY).base(25.0, 70.0).steps(&[&[1]]).fold();
    let (flap, base) = ((25.0, 20.0), (25.0, 70.0));
    check(&folded, CLOSED, View::Front, &[(flap, Face::Back, 180.0, 2000.0), (base, Face::Front, 0.0, 1000.0)]);
}

#[test]
fn a_flap_on_a_gusset_covers_the_base_and_the_gusset_is_edge_on() {
    // A wall of 10 mm stands 60 mm from the left; its flap of 40 mm lies over the base.
    let folded = Sheet::new(110.0, 50.0).down(60.0, VALLEY_WALL).down(70.0, VALLEY_WALL).base(30.0, 25.0);
    let folded = folded.steps(&[&[1, 2]]).fold();
    let (base, flap) = ((30.0, 25.0), (90.0, 25.0));
    check(&folded, CLOSED, View::Front, &[(base, Face::Front, 0.0, 1000.0), (flap, Face::Back, 0.0, 2000.0)]);
    check(&folded, CLOSED, View::Back, &[(base, Face::Back, 0.0, 3000.0)]);
}

#[test]
fn the_base_is_seen_round_a_window_and_what_lies_behind_in_it() {
    // A window of 20 x 10 mm in the base, and a flap folded behind it.
    let window = Sheet::new(100.0, 50.0).down(50.0, MOUNTAIN).cut_out((10.0, 30.0), (20.0, 30.0));
    let folded = window.base(5.0, 5.0).steps(&[&[1]]).fold();
    let (base, flap) = ((5.0, 5.0), (80.0, 25.0));
    check(&folded, CLOSED, View::Front, &[(base, Face::Front, 0.0, 2300.0), (flap, Face::Back, 0.0, 200.0)]);
    check(&folded, CLOSED, View::Back, &[(flap, Face::Front, 0.0, 2500.0)]);
    let seen = visible(&folded.folding, CLOSED, View::Front);
    let [region] = seen.iter().find(|seen| seen.panel == folded.panel(5.0, 5.0)).unwrap().regions.as_slice() else {
        panic!("{seen:?}")
    };
    assert_eq!((region.outline.len(), region.holes.len(), region.holes[0].len()), (4, 1, 4));
    assert_eq!(outline(&folded.folding, 0.0).iter().map(|region| region.holes.len()).sum::<usize>(), 1);
}

#[test]
fn layers_show_in_order_even_of_paper_of_unknown_thickness() {
    // Two flaps over a base of 40 mm, each 40 mm wide: the later one hides the earlier.
    let mut sheet = Sheet::new(120.0, 50.0).down(40.0, VALLEY).down(80.0, VALLEY).base(60.0, 25.0);
    sheet.document.stock.caliper = model::Caliper::Unknown;
    let (left, base, right) = ((20.0, 25.0), (60.0, 25.0), (100.0, 25.0));
    let folded = sheet.clone().steps(&[&[1], &[2]]).fold();
    check(&folded, 1.0, View::Front, &[(left, Face::Back, 0.0, 2000.0), (right, Face::Front, 0.0, 2000.0)]);
    check(&folded, CLOSED, View::Front, &[(right, Face::Back, 0.0, 2000.0)]);
    check(&folded, CLOSED, View::Back, &[(base, Face::Back, 0.0, 2000.0)]);
    check(&sheet.steps(&[&[2], &[1]]).fold(), CLOSED, View::Front, &[(left, Face::Back, 0.0, 2000.0)]);
}

#[test]
fn the_outline_keeps_its_notches() {
    // A base of 60 x 50 mm and a flap of 20 mm beyond it that is not folded, only as high as the middle part.
    let sheet = Sheet::new(80.0, 50.0).down(60.0, VALLEY).cut_out((60.0, 80.0), (0.0, 10.0));
    let sheet = sheet.cut_out((60.0, 80.0), (40.0, 50.0)).base(30.0, 25.0);
    let folded = sheet.steps(&[]).fold();
    let [region] = outline(&folded.folding, CLOSED).try_into().unwrap();
    // By hand: an octagon of 60 x 50 + 20 x 30 mm², running anticlockwise.
    assert_eq!((region.outline.len(), region.holes.len(), region.area), (8, 0, 3600.0));
    assert!((crate::overlap::area(&region.outline) - 3600.0).abs() < 1e-9);
    let inside = region.inner_point().unwrap();
    assert!(inside.x > 0.0 && inside.x < 80.0 && inside.y < 0.0 && inside.y > -50.0, "{inside}");
}

/// What is seen, each panel by the middle of its box on the sheet, with the whole nanometres² left out.
fn told(folding: &Folding, layout: &Layout, view: View, mirrored: bool, flipped: bool) -> Vec<String> {
    let one = |seen: &VisibleFace| {
        let (low, high) = model::polygon::bounds(&layout.panel(seen.panel).outline);
        let middle = Point::new((low.x + high.x).half(), (low.y + high.y).half()).mm();
        let x = if mirrored { 120.0 - middle.0 } else { middle.0 };
        let up = if mirrored || flipped { (360.0 - seen.up) % 360.0 } else { seen.up };
        let face = if flipped == (seen.face == Face::Front) { "back" } else { "front" };
        format!("{x:.3}/{:.3} {face} {up:.3} {:.6}", middle.1, seen.area())
    };
    let mut all: Vec<String> = visible(folding, CLOSED, view).iter().map(one).collect();
    all.sort();
    all
}

/// Whether nothing has passed through anything, so that it is clear what lies on what.
fn is_clear(folding: &Folding) -> bool {
    !folding
        .troubles()
        .iter()
        .any(|trouble| matches!(trouble, Trouble::Blocked { .. } | Trouble::Collides { .. } | Trouble::Crosses { .. }))
}

fn other_way(work: Work) -> Work {
    match work {
        Work::Score(crease) => Work::Score(model::Crease { direction: crease.direction.reversed(), ..crease }),
        other => other,
    }
}

/// Four flaps of 40 mm round a base as wide, each folded once more somewhere, either way.
fn four_flaps() -> impl Strategy<Value = (Vec<Stroke>, Vec<Vec<u32>>)> {
    let way = prop::collection::vec(prop_oneof![Just(VALLEY), Just(MOUNTAIN)], 8);
    // The outer folds first, which nothing lies on yet.
    let order = (Just(vec![5, 6, 7, 8_u32]).prop_shuffle(), Just(vec![1, 2, 3, 4_u32]).prop_shuffle());
    (way, prop::collection::vec(1..4_u8, 4), order).prop_map(|(way, outer, (first, then))| {
        let places = [(true, 4), (true, 8), (false, 4), (false, 8)];
        let further = [(true, outer[0]), (true, 12 - outer[1]), (false, outer[2]), (false, 12 - outer[3])];
        let scores = places.into_iter().chain(further).zip(way).map(|((down, at), work)| (down, at, 4, 8, work));
        let ends = [(0, 4), (8, 12)];
        let corners = places.into_iter().flat_map(|(down, at)| ends.map(|(from, to)| (down, at, from, to, Work::Cut)));
        (scores.chain(corners).collect(), first.into_iter().chain(then).map(|line| vec![line]).collect())
    })
}

fn images_agree(strokes: &[Stroke], steps: &[Vec<u32>], base: (u8, u8)) -> Result<(), TestCaseError> {
    let fold = |strokes: &[Stroke], mirrored| {
        let sheet = sheet(strokes, steps, base, mirrored);
        let layout = Layout::of(&sheet.document);
        let folding = close(&assemble(&sheet.document, &layout).unwrap());
        (layout, folding)
    };
    let (layout, folding) = fold(strokes, false);
    if !is_clear(&folding) {
        return Ok(());
    }
    let (mirror, mirrored) = fold(strokes, true);
    let reversed: Vec<Stroke> = strokes.iter().map(|&(a, b, c, d, work)| (a, b, c, d, other_way(work))).collect();
    let (same, turned) = fold(&reversed, false);
    for [view, other] in [[View::Front, View::Back], [View::Back, View::Front]] {
        let seen = told(&folding, &layout, view, false, false);
        prop_assert_eq!(&seen, &told(&mirrored, &mirror, view, true, false));
        prop_assert_eq!(&seen, &told(&turned, &same, other, false, true));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 60,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(11),
        ..ProptestConfig::default()
    })]

    #[test]
    fn what_is_seen_adds_up_to_the_outline(
        strokes in prop::collection::vec(stroke(), 0..12), steps in steps(), base in (0..12_u8, 0..12_u8),
        time in 0.0..7.0_f64,
    ) {
        let folded = sheet(&strokes, &steps, base, false).fold();
        for time in [time, time.floor(), CLOSED] {
            let whole: f64 = outline(&folded.folding, time).iter().map(|region| region.area).sum();
            for view in View::ALL {
                let seen: f64 = visible(&folded.folding, time, view).iter().map(VisibleFace::area).sum();
                // A part in a thousand million: slivers that count as nothing, and nanometres of slanting edges.
                prop_assert!((seen - whole).abs() <= 1e-9 * whole, "{} of {} mm² at {}", seen, whole, time);
            }
        }
    }

    #[test]
    fn a_mirrored_folio_shows_its_mirror_image_and_a_folio_folded_the_other_way_its_other_side(
        strokes in prop::collection::vec(stroke(), 1..8), steps in steps(), base in (0..12_u8, 0..12_u8),
    ) {
        images_agree(&strokes, &steps, base)?;
    }

    #[test]
    fn so_do_four_folded_flaps((strokes, steps) in four_flaps()) {
        images_agree(&strokes, &steps, (5, 5))?;
    }
}
