//! Convex polygons in a plane: area, middle, what two share. Millimetres, anticlockwise.

use glam::DVec2;

/// Overlaps narrower than this, in mm, count as touching.
///
/// A micrometre: a thousand times the unit of authored lengths, so that lengths rounded from different units do not
/// overlap by accident; a hundredth of the thinnest paper, so nothing that a maker could see is lost.
pub const LEAST_WIDTH: f64 = 1e-3;

/// The area of an outline, in mm²: positive when it runs anticlockwise.
#[must_use]
pub fn area(outline: &[DVec2]) -> f64 {
    edges(outline).map(|(a, b)| a.perp_dot(b)).sum::<f64>() / 2.0
}

/// The middle (centroid) of a convex outline with some area; the mean of its corners otherwise.
#[must_use]
pub fn middle(outline: &[DVec2]) -> DVec2 {
    let Some(&first) = outline.first() else { return DVec2::ZERO };
    let (mut sum, mut weight) = (DVec2::ZERO, 0.0);
    for (a, b) in edges(outline) {
        let part = (a - first).perp_dot(b - first);
        sum += (a + b - 2.0 * first) * part / 3.0;
        weight += part;
    }
    let mean = || outline.iter().fold(DVec2::ZERO, |sum, &point| sum + point) / count(outline.len());
    if weight.abs() > f64::MIN_POSITIVE { first + sum / weight } else { mean() }
}

/// What two convex outlines share; fewer than three corners when nothing.
///
/// One is clipped by each edge of the other in turn (Sutherland and Hodgman 1974); edges that pass well beside the upright
/// box round what is left clip nothing, or all, and are not looked at corner by corner.
#[must_use]
pub fn shared(subject: &[DVec2], clip: &[DVec2]) -> Vec<DVec2> {
    let mut clipped = Clip { shape: subject.to_vec(), ..Clip::default() };
    clipped.by(clip);
    clipped.shape
}

/// Room to clip outlines in, one after the other, without asking for more each time.
#[derive(Debug, Default)]
pub(crate) struct Clip {
    /// The outline that is clipped, then what is left of it.
    pub(crate) shape: Vec<DVec2>,
    sides: Vec<f64>,
    kept: Vec<DVec2>,
}

impl Clip {
    /// Leaves of the outline what it shares with another, as [`shared`] does.
    pub(crate) fn by(&mut self, other: &[DVec2]) {
        let Self { shape, sides, kept } = self;
        clip(shape, other, sides, kept);
    }
}

fn clip(shape: &mut Vec<DVec2>, clip: &[DVec2], sides: &mut Vec<f64>, kept: &mut Vec<DVec2>) {
    let (mut low, mut high) = bounds(shape);
    for (a, b) in edges(clip) {
        let way = b - a;
        let side = |x: f64, y: f64| way.x * (y - a.y) - way.y * (x - a.x);
        let pick = |least: bool, along: f64, from: f64, to: f64| if (along > 0.0) == least { from } else { to };
        let [least, greatest] =
            [true, false].map(|least| side(pick(least, -way.y, low.x, high.x), pick(least, way.x, low.y, high.y)));
        if least > CLEAR {
            continue;
        }
        if greatest < -CLEAR {
            shape.clear();
            return;
        }
        sides.clear();
        sides.extend(shape.iter().map(|&point| side_of(point, a, b)));
        if sides.iter().all(|&side| side >= 0.0) {
            continue;
        }
        kept.clear();
        keep_left(shape, sides, kept);
        std::mem::swap(shape, kept);
        if shape.is_empty() {
            return;
        }
        (low, high) = bounds(shape);
    }
}

/// Beyond this, in mm², rounding does not hide on which side of an edge something is: a metre times a picometre.
const CLEAR: f64 = 1e-6;

/// The least and greatest coordinates of an outline.
fn bounds(outline: &[DVec2]) -> (DVec2, DVec2) {
    let start = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    outline.iter().fold(start, |(low, high), &point| (low.min(point), high.max(point)))
}

/// The part of a convex outline to the left of the line from `a` to `b`.
#[must_use]
pub fn left_of(outline: &[DVec2], a: DVec2, b: DVec2) -> Vec<DVec2> {
    let sides: Vec<f64> = outline.iter().map(|&point| side_of(point, a, b)).collect();
    let mut kept = Vec::with_capacity(outline.len() + 1);
    keep_left(outline, &sides, &mut kept);
    kept
}

/// How far a point is to the left of the line from `a` to `b`, times its length.
fn side_of(point: DVec2, a: DVec2, b: DVec2) -> f64 {
    (b - a).perp_dot(point - a)
}

/// Adds the part of an outline where `sides`, one for each corner, are not negative.
fn keep_left(outline: &[DVec2], sides: &[f64], kept: &mut Vec<DVec2>) {
    for (i, &p) in outline.iter().enumerate() {
        let next = if i + 1 < outline.len() { i + 1 } else { 0 };
        let (at_p, at_q) = (sides[i], sides[next]);
        if at_p >= 0.0 {
            kept.push(p);
        }
        if (at_p > 0.0 && at_q < 0.0) || (at_p < 0.0 && at_q > 0.0) {
            kept.push(p.lerp(outline[next], at_p / (at_p - at_q)));
        }
    }
}

/// Whether a convex outline is wider than [`LEAST_WIDTH`], judged by its area and the length of its boundary
/// (for a thin strip, twice the one over the other is its width).
#[must_use]
pub fn is_proper(outline: &[DVec2]) -> bool {
    let round: f64 = edges(outline).map(|(a, b)| a.distance(b)).sum();
    outline.len() >= 3 && 2.0 * area(outline) > LEAST_WIDTH * round
}

/// The smallest convex outline round the points, anticlockwise (Andrew's monotone chain, 1979).
#[must_use]
pub fn hull(points: &[DVec2]) -> Vec<DVec2> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |points: &mut dyn Iterator<Item = DVec2>| {
        let mut out: Vec<DVec2> = Vec::new();
        for point in points {
            while let [.., a, b] = out.as_slice()
                && (*b - *a).perp_dot(point - *a) <= 0.0
            {
                out.pop();
            }
            out.push(point);
        }
        out.pop();
        out
    };
    let mut out = chain(&mut sorted.iter().copied());
    out.extend(chain(&mut sorted.iter().rev().copied()));
    out
}

/// The edges of a closed outline.
pub fn edges(outline: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

#[expect(clippy::cast_precision_loss, reason = "a count of corners is far below 2^52")]
fn count(corners: usize) -> f64 {
    corners as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 500,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(5),
            ..ProptestConfig::default()
        })]

        #[test]
        fn passing_edges_over_changes_nothing(
            a in prop::collection::vec((0.0..300.0_f64, 0.0..300.0_f64), 3..40),
            b in prop::collection::vec((0.0..300.0_f64, 0.0..300.0_f64), 3..40),
            shrink in 0.05..1.0_f64,
        ) {
            let round = |points: Vec<(f64, f64)>, scale: f64| {
                hull(&points.into_iter().map(|point| DVec2::from(point) * scale).collect::<Vec<_>>())
            };
            let (a, b) = (round(a, 1.0), round(b, shrink));
            // Clipped by each edge in turn, none passed over.
            let plain = edges(&b).fold(a.clone(), |rest, (from, to)| left_of(&rest, from, to));
            prop_assert_eq!(shared(&a, &b), plain);
        }
    }

    fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<DVec2> {
        [(x, y), (x + w, y), (x + w, y + h), (x, y + h)].map(DVec2::from).to_vec()
    }

    /// Area shared by two rectangles, by hand.
    #[track_caller]
    fn check(a: [f64; 4], b: [f64; 4], expected: f64) {
        let [x, y, w, h] = a;
        let [p, q, r, s] = b;
        let both = shared(&rectangle(x, y, w, h), &rectangle(p, q, r, s));
        assert!((area(&both) - expected).abs() < 1e-9, "{a:?} and {b:?} share {}", area(&both));
        assert_eq!(is_proper(&both), expected > 0.1, "{a:?} and {b:?}");
    }

    #[test]
    fn rectangles_share_what_they_should() {
        check([0.0, 0.0, 10.0, 10.0], [5.0, 5.0, 10.0, 10.0], 25.0);
        check([0.0, 0.0, 10.0, 10.0], [2.0, 3.0, 1.0, 1.0], 1.0);
        check([0.0, 0.0, 10.0, 10.0], [10.0, 0.0, 10.0, 10.0], 0.0);
        check([0.0, 0.0, 10.0, 10.0], [20.0, 20.0, 1.0, 1.0], 0.0);
        check([0.0, 0.0, 10.0, 100.0], [9.9999, 0.0, 10.0, 100.0], 0.01);
    }

    #[test]
    fn the_middle_of_a_triangle_is_where_its_medians_meet() {
        let triangle = [(0.0, 0.0), (9.0, 0.0), (0.0, 3.0)].map(DVec2::from);
        assert!(middle(&triangle).distance(DVec2::new(3.0, 1.0)) < 1e-12);
    }

    #[test]
    fn a_hull_leaves_out_what_lies_inside() {
        let mut points = rectangle(0.0, 0.0, 4.0, 2.0);
        points.extend([DVec2::new(1.0, 1.0), DVec2::new(2.0, 0.0)]);
        assert_eq!(hull(&points), rectangle(0.0, 0.0, 4.0, 2.0));
    }
}
