//! The largest upright rectangle within an outline, with room for a margin round it.
//!
//! Between two upright lines it is exact how high a rectangle may be: whatever of the outline runs between them bars the
//! heights that it takes up, and the highest gap that is left inside is the answer. So only the two lines are looked for.
//! Where all edges are level or upright, a largest rectangle touches corners on either side, and trying all pairs of them
//! finds it exactly. Where edges slant, evenly spaced lines are tried too, and the best few pairs are bettered by ever
//! smaller moves until a micrometre makes no difference: what is found lies inside for certain, and is the largest in its
//! neighbourhood.
//!
//! Everything is in whole nanometres, rounded inwards.

use model::polygon::{Inside, bounds, edges, locate, without_straight_corners};
use model::{Length, Point};

/// Into how many parts the width is divided for lines to try where edges slant.
const LINES: i64 = 24;

/// From how many pairs of lines the search goes on.
const STARTS: usize = 4;

/// The most corners whose places are all tried; of more, evenly many are picked. Rounded corners have dozens.
const MOST_PLACES: usize = 96;

/// Moves less than this are not tried: 1 µm, a hundredth of what a knife can follow.
const FINEST: i64 = 1_000;

/// An upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Rectangle {
    /// Its least corner.
    pub(crate) low: Point,
    /// Its greatest corner.
    pub(crate) high: Point,
    /// Whether it is exact: no rounding, and none is larger.
    pub(crate) is_exact: bool,
}

impl Rectangle {
    pub(crate) fn width(&self) -> Length {
        self.high.x - self.low.x
    }

    pub(crate) fn height(&self) -> Length {
        self.high.y - self.low.y
    }
}

/// An outline with its openings.
struct Shape<'a> {
    outline: &'a [Point],
    holes: &'a [Vec<Point>],
    edges: Vec<(Point, Point)>,
    margin: i64,
}

/// Two upright lines and what lies between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Found {
    /// The area within the margin, in nm².
    value: i128,
    x: (i64, i64),
    y: (i64, i64),
}

/// The rectangle with the largest area that, with a margin all round, lies inside an outline and outside of its holes;
/// `None` where there is none. Of equal ones the first from the left.
pub(crate) fn largest(outline: &[Point], holes: &[Vec<Point>], margin: Length) -> Option<Rectangle> {
    let around = std::iter::once(outline).chain(holes.iter().map(Vec::as_slice));
    let edges: Vec<(Point, Point)> = around.flat_map(edges).collect();
    let is_upright = edges.iter().all(|(a, b)| a.x == b.x || a.y == b.y);
    let shape = Shape { outline, holes, edges, margin: margin.nm().max(0) };
    let (places, all) = shape.places(is_upright);
    let mut best = shape.of_pairs(&places);
    if !is_upright {
        best = best.into_iter().map(|start| shape.bettered(start)).collect();
        best.sort_by_key(|found| std::cmp::Reverse(found.value));
    }
    let Found { x, y, .. } = *best.first()?;
    let at = |x: i64, y: i64| Point::new(Length::from_nm(x), Length::from_nm(y));
    let (low, high) = (at(x.0 + shape.margin, y.0 + shape.margin), at(x.1 - shape.margin, y.1 - shape.margin));
    Some(Rectangle { low, high, is_exact: is_upright && all })
}

impl Shape<'_> {
    /// Where upright lines are tried, ascending, and whether those through all corners are among them.
    fn places(&self, is_upright: bool) -> (Vec<i64>, bool) {
        let plain =
            |path: &[Point]| without_straight_corners(path).iter().map(|corner| corner.x.nm()).collect::<Vec<_>>();
        let mut places = plain(self.outline);
        places.extend(self.holes.iter().flat_map(|hole| plain(hole)));
        places.sort_unstable();
        places.dedup();
        let all = places.len() <= MOST_PLACES;
        if !all {
            let last = places.len() - 1;
            places = (0..MOST_PLACES).map(|i| places[i * last / (MOST_PLACES - 1)]).collect();
        }
        if !is_upright {
            let (low, high) = bounds(self.outline);
            let wide = high.x.nm() - low.x.nm();
            places.extend((1..LINES).map(|i| low.x.nm() + wide / LINES * i));
            places.sort_unstable();
            places.dedup();
        }
        (places, all)
    }

    /// The best pairs of these lines.
    fn of_pairs(&self, places: &[i64]) -> Vec<Found> {
        let (low, high) = bounds(self.outline);
        let most_high = high.y.nm() - low.y.nm();
        let mut best: Vec<Found> = Vec::new();
        for (i, &from) in places.iter().enumerate() {
            for &to in &places[i + 1..] {
                let worst = if best.len() == STARTS { best[STARTS - 1].value } else { 0 };
                if self.value(to - from, most_high) <= worst {
                    continue;
                }
                let Some(found) = self.between(from, to).filter(|found| found.value > worst) else { continue };
                best.push(found);
                // Stable, so that of equal ones the first stays.
                best.sort_by_key(|found| std::cmp::Reverse(found.value));
                best.truncate(STARTS);
            }
        }
        best
    }

    /// Moves the two lines apart, together or along for as long as that betters it.
    fn bettered(&self, start: Found) -> Found {
        let (low, high) = bounds(self.outline);
        let (low, high) = (low.x.nm(), high.x.nm());
        let mut best = start;
        let mut by = ((high - low) / LINES).max(FINEST);
        while by >= FINEST {
            let moves = [(-1, 0), (1, 0), (0, -1), (0, 1), (-1, 1), (1, -1), (-1, -1), (1, 1)];
            let tried = moves.into_iter().filter_map(|(a, b)| {
                let (from, to) = ((best.x.0 + a * by).max(low), (best.x.1 + b * by).min(high));
                if from < to { self.between(from, to) } else { None }
            });
            match tried.max_by_key(|found| found.value).filter(|found| found.value > best.value) {
                Some(found) => best = found,
                None => by /= 2,
            }
        }
        best
    }

    /// The highest rectangle between two upright lines; `None` where none has room for the margin.
    fn between(&self, from: i64, to: i64) -> Option<Found> {
        let mut barred: Vec<(i64, i64)> = self.edges.iter().filter_map(|edge| barred(*edge, from, to)).collect();
        barred.sort_unstable();
        let mut best: Option<(i64, i64)> = None;
        let mut up_to = barred.first()?.0;
        for (start, end) in barred {
            let highest = best.map_or(2 * self.margin, |(low, high)| high - low);
            if start - up_to > highest && self.is_inside(from + (to - from) / 2, up_to + (start - up_to) / 2) {
                best = Some((up_to, start));
            }
            up_to = up_to.max(end);
        }
        let y = best?;
        let value = self.value(to - from, y.1 - y.0);
        (value > 0).then_some(Found { value, x: (from, to), y })
    }

    /// The area of a rectangle less its margins; nothing where there is no room for them.
    fn value(&self, wide: i64, high: i64) -> i128 {
        let (wide, high) = (wide - 2 * self.margin, high - 2 * self.margin);
        if wide <= 0 || high <= 0 { 0 } else { i128::from(wide) * i128::from(high) }
    }

    fn is_inside(&self, x: i64, y: i64) -> bool {
        locate(Point::new(Length::from_nm(x), Length::from_nm(y)), self.outline, self.holes) == Inside::Yes
    }
}

/// The heights that an edge takes up strictly between two upright lines, rounded outwards.
fn barred((a, b): (Point, Point), from: i64, to: i64) -> Option<(i64, i64)> {
    let (a, b) = if a.x <= b.x { (a, b) } else { (b, a) };
    let [(ax, ay), (bx, by)] = [a, b].map(|point| (point.x.nm(), point.y.nm()));
    if bx <= from || ax >= to {
        return None;
    }
    if ax == bx || ay == by {
        return Some((ay.min(by), ay.max(by)));
    }
    // Where the edge crosses a line: below and above in whole nanometres.
    let at = |x: i64| {
        let way = i128::from(by - ay) * i128::from(x - ax);
        let wide = i128::from(bx - ax);
        let below = ay + i64::try_from(way.div_euclid(wide)).unwrap_or_default();
        (below, if way.rem_euclid(wide) == 0 { below } else { below + 1 })
    };
    let start = if ax >= from { (ay, ay) } else { at(from) };
    let end = if bx <= to { (by, by) } else { at(to) };
    Some((start.0.min(end.0), start.1.max(end.1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    fn at(x: f64, y: f64) -> Point {
        Point::new(Length::from_mm_rounded(x).unwrap(), Length::from_mm_rounded(y).unwrap())
    }

    fn path(corners: &[(f64, f64)]) -> Vec<Point> {
        corners.iter().map(|&(x, y)| at(x, y)).collect()
    }

    #[track_caller]
    fn check(outline: &[(f64, f64)], holes: &[&[(f64, f64)]], margin: f64, expected: (f64, f64), is_exact: bool) {
        let holes: Vec<Vec<Point>> = holes.iter().map(|hole| path(hole)).collect();
        let margin = Length::from_mm_rounded(margin).unwrap();
        let found = largest(&path(outline), &holes, margin).unwrap();
        let size = (found.width().mm(), found.height().mm());
        // Near its best the area hardly changes, so that sizes differ more than areas do.
        let near = if is_exact { 0.0 } else { 0.1 };
        assert!((size.0 - expected.0).abs() <= near && (size.1 - expected.1).abs() <= near, "{size:?}");
        let (area, most) = (size.0 * size.1, expected.0 * expected.1);
        assert!((area - most).abs() <= most * 1e-5, "{area} and not {most}");
        assert_eq!(found.is_exact, is_exact);
    }

    #[test]
    fn a_rectangle_is_filled_but_for_the_margin() {
        check(&[(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)], &[], 3.175, (53.65, 33.65), true);
    }

    #[test]
    fn level_and_upright_edges_are_exact() {
        // An L: the foot, 100 by 30, is larger than the leg, 20 by 90.
        let l = [(0.0, 0.0), (20.0, 0.0), (20.0, 60.0), (100.0, 60.0), (100.0, 90.0), (0.0, 90.0)];
        check(&l, &[], 0.0, (100.0, 30.0), true);
        // A frame: beside its opening 40 by 100, above it 100 by 30.
        let hole: &[(f64, f64)] = &[(40.0, 30.0), (40.0, 60.0), (60.0, 60.0), (60.0, 30.0)];
        let square = [(0.0, 0.0), (100.0, 0.0), (100.0, 90.0), (0.0, 90.0)];
        check(&square, &[hole], 5.0, (30.0, 80.0), true);
    }

    // Known of triangles and circles (school geometry): half of a triangle, 2/π of a circle.

    #[test]
    fn a_triangle_holds_half_its_area() {
        check(&[(0.0, 0.0), (80.0, 0.0), (0.0, 60.0)], &[], 0.0, (40.0, 30.0), false);
        check(&[(0.0, 60.0), (30.0, 0.0), (80.0, 60.0)], &[], 0.0, (40.0, 30.0), false);
        // With a margin m inside legs p and q: (w + 2m)/p + (h + 2m)/q = 1, so w = (p (1 - 2m/q) - 2m)/2.
        check(&[(0.0, 0.0), (80.0, 0.0), (0.0, 60.0)], &[], 3.0, (33.0, 24.75), false);
    }

    #[test]
    fn a_diamond_and_a_circle_hold_a_square() {
        check(&[(0.0, 40.0), (40.0, 0.0), (80.0, 40.0), (40.0, 80.0)], &[], 0.0, (40.0, 40.0), false);
        let circle: Vec<(f64, f64)> = (0..240)
            .map(|i| {
                let angle = f64::from(i) * std::f64::consts::PI / 120.0;
                (50.0 * libm::cos(angle), 50.0 * libm::sin(angle))
            })
            .collect();
        // The corners of the square are corners of the polygon of 240 sides.
        let side = 100.0 / std::f64::consts::SQRT_2;
        check(&circle, &[], 0.0, (side, side), false);
    }

    #[test]
    fn a_clipped_corner_costs_what_it_must() {
        // 100 by 100 less a corner of 10 by 10: its whole width and 90 high, or 90 wide; along the slant
        // (90 + s)(100 - s) is largest for s = 5.
        check(&[(0.0, 0.0), (90.0, 0.0), (100.0, 10.0), (100.0, 100.0), (0.0, 100.0)], &[], 0.0, (95.0, 95.0), false);
    }

    #[test]
    fn what_is_found_lies_inside() {
        let leaning = path(&[(3.3, 0.1), (71.7, 13.9), (66.1, 58.3), (12.9, 47.7)]);
        let found = largest(&leaning, &[], Length::ZERO).unwrap();
        for corner in
            [found.low, found.high, Point::new(found.low.x, found.high.y), Point::new(found.high.x, found.low.y)]
        {
            assert_ne!(locate(corner, &leaning, &[]), Inside::No);
        }
    }

    #[test]
    fn a_margin_may_leave_nothing() {
        assert_eq!(largest(&path(&[(0.0, 0.0), (6.0, 0.0), (6.0, 40.0), (0.0, 40.0)]), &[], at(3.0, 0.0).x), None);
        assert_eq!(largest(&[], &[], Length::ZERO), None);
    }

    /// The largest rectangle of whole cells in a grid, by trying all of them.
    fn brute(cells: &[Vec<bool>], margin: usize) -> usize {
        let (high, wide) = (cells.len(), cells[0].len());
        let mut best = 0;
        for (y, x) in (0..high).flat_map(|y| (0..wide).map(move |x| (y, x))) {
            for (to_y, to_x) in (y..high).flat_map(|y| (x..wide).map(move |x| (y, x))) {
                if (y..=to_y).all(|row| cells[row][x..=to_x].iter().all(|&cell| cell)) {
                    let side = |from: usize, to: usize| (to + 1 - from).saturating_sub(2 * margin);
                    best = best.max(side(y, to_y) * side(x, to_x));
                }
            }
        }
        best
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 60,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(5),
            ..ProptestConfig::default()
        })]

        #[test]
        fn stairs_with_a_window_are_exact(
            heights in prop::collection::vec(2..9_usize, 2..9), window in (0..8_usize, 0..8_usize), margin in 0..2_usize,
        ) {
            // Columns of cells of 1 mm, as high as said from the lower border, with one cell taken out.
            let wide = heights.len();
            let mut cells: Vec<Vec<bool>> =
                (0..9).map(|row| heights.iter().map(|&height| row + height >= 9).collect()).collect();
            let whole = |count: usize| Length::MILLIMETRE * i64::try_from(count).unwrap();
            let corner = |x: usize, y: usize| Point::new(whole(x), whole(y));
            let tops = heights.iter().enumerate();
            let mut outline: Vec<Point> =
                tops.flat_map(|(x, &height)| [corner(x, 9 - height), corner(x + 1, 9 - height)]).collect();
            outline.extend([corner(wide, 9), corner(0, 9)]);
            let mut holes = Vec::new();
            let (x, y) = window;
            // Well inside, so that the window does not touch the border.
            let is_inside = x > 0 && x + 1 < wide && y < 8 && (x - 1..=x + 1).all(|x| y > 9 - heights[x]);
            if is_inside {
                cells[y][x] = false;
                holes.push(vec![corner(x, y), corner(x, y + 1), corner(x + 1, y + 1), corner(x + 1, y)]);
            }
            let found = largest(&outline, &holes, whole(margin));
            let area = found.map_or(0, |found| {
                i128::from(found.width().nm()) * i128::from(found.height().nm()) / 1_000_000_000_000
            });
            prop_assert_eq!(area, i128::try_from(brute(&cells, margin)).unwrap());
            prop_assert!(found.is_none_or(|found| found.is_exact));
        }

        #[test]
        fn a_convex_outline_holds_what_is_found(
            angles in prop::collection::btree_set(0..360_u32, 3..12), radius in 20.0..200.0_f64,
        ) {
            let corner = |&angle: &u32| {
                let angle = f64::from(angle).to_radians();
                at(radius * libm::cos(angle), radius * libm::sin(angle))
            };
            let outline: Vec<Point> = angles.iter().map(corner).collect();
            let area = model::polygon::signed_area(&outline).mm2();
            prop_assume!(area > radius * radius * 0.05);
            let found = largest(&outline, &[], Length::ZERO).unwrap();
            let (low, high) = (found.low, found.high);
            for corner in [low, high, Point::new(low.x, high.y), Point::new(high.x, low.y)] {
                prop_assert_ne!(locate(corner, &outline, &[]), Inside::No);
            }
        }
    }
}
