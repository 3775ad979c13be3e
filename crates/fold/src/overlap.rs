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
/// One is clipped by each edge of the other in turn (Sutherland and Hodgman 1974).
#[must_use]
pub fn shared(subject: &[DVec2], clip: &[DVec2]) -> Vec<DVec2> {
    let mut shape = subject.to_vec();
    for (a, b) in edges(clip) {
        if shape.is_empty() {
            break;
        }
        shape = left_of(&shape, a, b);
    }
    shape
}

/// The part of a convex outline to the left of the line from `a` to `b`.
#[must_use]
pub fn left_of(outline: &[DVec2], a: DVec2, b: DVec2) -> Vec<DVec2> {
    let side = |p: DVec2| (b - a).perp_dot(p - a);
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (p, q) in edges(outline) {
        let (at_p, at_q) = (side(p), side(q));
        if at_p >= 0.0 {
            kept.push(p);
        }
        if (at_p > 0.0 && at_q < 0.0) || (at_p < 0.0 && at_q > 0.0) {
            kept.push(p.lerp(q, at_p / (at_p - at_q)));
        }
    }
    kept
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
