//! Dashed lines on the screen.

use egui::{Painter, Pos2, Shape, Stroke};

/// The shortest gap that is still seen as one, px.
const LEAST_GAP: f32 = 3.0;

/// The shortest dash that is still seen, px: the dot of a dash-dot line.
const LEAST_DASH: f32 = 1.8;

/// The most dashes of one line; beyond that it is drawn solid, since the zoom shows but a sliver of it.
const MOST_DASHES: f32 = 4_000.0;

/// Draws an open line with the dashes of a drawing's stroke, which are in mm.
pub(super) fn line(painter: &Painter, points: &[Pos2], stroke: &draw::list::Stroke, scale: f32, ink: Stroke) {
    let lengths = on_screen(&stroke.dashes, scale);
    let start = crate::view_transform::px(stroke.dash_start) * scale;
    painter.extend(dashes(points, &lengths, start).into_iter().map(|ends| Shape::line_segment(ends, ink)));
}

/// Dashes and gaps in px, grown together until gaps and dots can be seen.
fn on_screen(dashes: &[f64], scale: f32) -> Vec<f32> {
    let lengths: Vec<f32> = dashes.iter().map(|&mm| crate::view_transform::px(mm)).collect();
    let least_gap = lengths.iter().skip(1).step_by(2).copied().fold(f32::INFINITY, f32::min);
    let grown = if least_gap > 0.0 { scale.max(LEAST_GAP / least_gap) } else { scale };
    lengths
        .iter()
        .enumerate()
        .map(|(i, mm)| (mm * grown).max(if i % 2 == 0 { LEAST_DASH } else { LEAST_GAP }))
        .collect()
}

/// The dashes along a line; a corner inside a dash parts it. A pattern of nothing gives the line as it is.
fn dashes(points: &[Pos2], pattern: &[f32], start: f32) -> Vec<[Pos2; 2]> {
    let whole: f32 = pattern.iter().sum();
    let sides = || points.windows(2).map(|pair| (pair[0], pair[1]));
    let length: f32 = sides().map(|(a, b)| a.distance(b)).sum();
    let bearable = whole > 0.0 && length.is_finite() && length / whole * 2.0 < MOST_DASHES;
    if pattern.len() < 2 || !bearable {
        return sides().map(|(a, b)| [a, b]).collect();
    }
    let mut drawn = Vec::new();
    let (mut index, mut left) = (0, pattern[0]);
    let mut skip = start.rem_euclid(whole);
    while skip >= left {
        skip -= left;
        index = (index + 1) % pattern.len();
        left = pattern[index];
    }
    left -= skip;
    for (a, b) in sides() {
        let side = a.distance(b);
        let mut at = 0.0;
        while at < side {
            let step = left.min(side - at);
            if index % 2 == 0 && step > 0.0 {
                drawn.push([a.lerp(b, at / side), a.lerp(b, (at + step) / side)]);
            }
            at += step;
            left -= step;
            if left <= 0.0 {
                index = (index + 1) % pattern.len();
                left = pattern[index];
            }
        }
    }
    drawn
}

#[cfg(test)]
mod tests {
    use super::*;

    fn along(length: f32) -> Vec<Pos2> {
        vec![Pos2::ZERO, Pos2::new(length, 0.0)]
    }

    #[track_caller]
    fn check(length: f32, pattern: &[f32], start: f32, expected: &[(f32, f32)]) {
        let drawn: Vec<(f32, f32)> = dashes(&along(length), pattern, start).iter().map(|[a, b]| (a.x, b.x)).collect();
        assert_eq!(drawn.len(), expected.len(), "{drawn:?}");
        for ((a, b), (c, d)) in drawn.iter().zip(expected) {
            assert!((a - c).abs() < 1e-3 && (b - d).abs() < 1e-3, "{drawn:?}");
        }
    }

    #[test]
    fn dashes_and_gaps_follow_the_pattern() {
        check(20.0, &[6.0, 4.0], 0.0, &[(0.0, 6.0), (10.0, 16.0)]);
        check(20.0, &[6.0, 4.0], 8.0, &[(2.0, 8.0), (12.0, 18.0)]);
        check(12.0, &[5.0, 2.0, 1.0, 2.0], 0.0, &[(0.0, 5.0), (7.0, 8.0), (10.0, 12.0)]);
        check(5.0, &[], 0.0, &[(0.0, 5.0)]);
        check(0.0, &[6.0, 4.0], 0.0, &[]);
        check(1e9, &[6.0, 4.0], 0.0, &[(0.0, 1e9)]);
    }

    #[test]
    fn a_corner_parts_a_dash_but_not_the_pattern() {
        let points = [Pos2::ZERO, Pos2::new(4.0, 0.0), Pos2::new(4.0, 8.0)];
        let drawn = dashes(&points, &[6.0, 3.0], 0.0);
        assert_eq!(drawn.len(), 3, "{drawn:?}");
        assert_eq!(drawn[1], [Pos2::new(4.0, 0.0), Pos2::new(4.0, 2.0)]);
        assert_eq!(drawn[2][0], Pos2::new(4.0, 5.0));
    }

    #[test]
    fn gaps_can_be_seen_at_any_zoom() {
        for scale in [0.1, 1.0, 2.0, 40.0] {
            let lengths = on_screen(&[3.0, 0.75, 0.125, 0.75], scale);
            assert!(
                lengths[1] >= LEAST_GAP && lengths[2] >= LEAST_DASH && lengths[0] >= 3.9 * lengths[1],
                "{lengths:?}"
            );
        }
    }
}
