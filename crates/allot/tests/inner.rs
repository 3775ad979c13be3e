//! Rectangles inside offcuts that slant: as large as geometry says they can be.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use foliowright_allot::{MOST_RECTS, SLIVER, inner_rects};
use model::{Length, Point};
use nest::Rect;
use proptest::prelude::*;

const MM: i64 = 1_000_000;

fn outline(corners: &[(i64, i64)]) -> Vec<Point> {
    corners.iter().map(|&(x, y)| Point::new(Length::from_nm(x), Length::from_nm(y))).collect()
}

fn nm2(rect: Rect) -> i128 {
    rect.area().half_nm2() / 2
}

/// The first rectangle of an outline in millimetres has so many square millimetres, to one part in a million: coordinates
/// are whole nanometres.
#[track_caller]
fn check(corners: &[(i64, i64)], square_mm: f64) {
    for (mirrored, upside_down) in [(false, false), (true, false), (false, true), (true, true)] {
        let place = |&(x, y): &(i64, i64)| {
            (if mirrored { 1000 - x } else { x } * MM, if upside_down { 1000 - y } else { y } * MM)
        };
        let points: Vec<(i64, i64)> = corners.iter().map(place).collect();
        let turned: Vec<(i64, i64)> = points.iter().map(|&(x, y)| (y, x)).collect();
        for points in [points, turned] {
            let found = inner_rects(&outline(&points)).first().unwrap().area().mm2();
            assert!((found - square_mm).abs() <= square_mm * 1e-6, "{found} is not {square_mm} in {points:?}");
        }
    }
}

/// A rectangle on a side of a triangle is at most half of it, and half of it when it is half as high: x (1 - x) is largest
/// in the middle.
#[test]
fn half_of_a_triangle_with_a_level_side_is_used() {
    check(&[(0, 0), (80, 0), (0, 60)], 1200.0);
    check(&[(0, 0), (90, 0), (30, 70)], 1575.0);
    // The apex beyond the side: u of the way down the paper reaches from 120 u to 90 and beyond, so (90 - 120 u) 70 u is
    // largest at u = 3/8.
    check(&[(0, 0), (90, 0), (120, 70)], 45.0 * 26.25);
}

/// A corner clipped by c off a rectangle of w by h: (w - x) (h - c + x) is largest at x = (w - h + c) / 2, from 0 to c.
#[test]
fn the_clip_is_met_where_it_gives_most() {
    let clipped = |w: i64, h: i64, c: i64| [(c, 0), (w, 0), (w, h), (0, h), (0, c)];
    check(&clipped(100, 90, 30), 80.0 * 80.0);
    check(&clipped(100, 30, 20), 80.0 * 30.0);
    check(&clipped(60, 60, 20), 50.0 * 50.0);
}

/// Level sides of 40 and 100, 60 high: (60 - y) (40 + y) is largest at y = 10.
#[test]
fn a_trapezium_is_used_from_near_its_short_side() {
    check(&[(30, 0), (70, 0), (100, 60), (0, 60)], 50.0 * 50.0);
    check(&[(0, 0), (40, 0), (100, 60), (0, 60)], 50.0 * 50.0);
}

#[test]
fn a_sliver_is_left_out() {
    let wide = SLIVER.nm();
    assert_eq!(inner_rects(&outline(&[(0, 0), (wide - 1, 0), (wide - 1, 90 * MM), (0, 90 * MM)])), []);
    assert_eq!(inner_rects(&outline(&[(0, 0), (wide, 0), (wide, 90 * MM), (0, 90 * MM)])).len(), 1);
    assert_eq!(inner_rects(&[]), []);
}

/// Stairs down to the right, in millimetres.
fn stairs() -> impl Strategy<Value = Vec<(i64, i64)>> {
    proptest::collection::vec((4..40_i64, 4..40_i64), 1..6).prop_map(|steps| {
        let (mut x, mut y, mut corners) = (0, 0, vec![]);
        for (along, down) in steps {
            corners.push((x, y));
            x += along;
            corners.push((x, y));
            y += down;
        }
        corners.extend([(x, y), (0, y)]);
        corners
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// By its corners: a rectangle in stairs reaches from some step's top to the bottom, and from the left to that step's end,
    /// or less; the largest of these is found.
    #[test]
    fn stairs_are_used_as_well_as_they_can_be(corners in stairs()) {
        let bottom = corners.iter().map(|corner| corner.1).max().unwrap();
        let treads = corners.chunks_exact(2).take(corners.len() / 2 - 1).map(|tread| (tread[1].0, bottom - tread[0].1));
        let best = treads.map(|(width, height)| i128::from(width * MM) * i128::from(height * MM)).max().unwrap();
        let points: Vec<(i64, i64)> = corners.iter().map(|&(x, y)| (x * MM, y * MM)).collect();
        let found = inner_rects(&outline(&points));
        prop_assert_eq!(nm2(found[0]), best);
        prop_assert!(found.len() <= MOST_RECTS && found.windows(2).all(|pair| pair[0].area() >= pair[1].area()));
    }
}
