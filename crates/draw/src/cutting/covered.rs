//! Which stretches are cut already, so that no blade runs along an edge twice.

use super::edge::{Edge, spot};
use kurbo::Point as Spot;
use model::{Length, Point};

/// Cuts as near to each other as this, mm, are one: no machine places a blade better, and what lies between them would
/// only tear (common practice, no source).
const NEAR: f64 = 0.01;

/// What is cut, or ends by itself.
#[derive(Debug, Default)]
pub(super) struct Covered {
    walls: Vec<(Spot, Spot)>,
}

impl Covered {
    pub(super) fn add(&mut self, edge: Edge) {
        self.walls.push((spot(edge.a), spot(edge.b)));
    }

    /// What is left of a stretch.
    pub(super) fn left_of(&self, edge: Edge) -> Vec<Edge> {
        let (a, b) = (spot(edge.a), spot(edge.b));
        let length = libm::hypot(b.x - a.x, b.y - a.y);
        let mut taken: Vec<(f64, f64)> = self.walls.iter().filter_map(|&wall| shared((a, b), length, wall)).collect();
        if taken.is_empty() {
            return vec![edge];
        }
        taken.sort_by(|p, q| p.0.total_cmp(&q.0));
        taken.push((length, length));
        let (mut left, mut from) = (Vec::new(), 0.0_f64);
        let point = |at: f64| match at {
            at if at <= 0.0 => edge.a,
            at if at >= length => edge.b,
            at => nearest(a.lerp(b, at / length)).unwrap_or(edge.b),
        };
        for (start, end) in taken {
            if start - from > NEAR {
                left.push(Edge { a: point(from), b: point(start), ..edge });
            }
            from = from.max(end);
        }
        left
    }
}

/// From where to where along a stretch a wall lies on it.
fn shared((a, b): (Spot, Spot), length: f64, (c, d): (Spot, Spot)) -> Option<(f64, f64)> {
    let apart = |(p, q): (f64, f64), (r, s): (f64, f64)| p.max(q) + NEAR < r.min(s) || r.max(s) + NEAR < p.min(q);
    if length <= NEAR || apart((a.x, b.x), (c.x, d.x)) || apart((a.y, b.y), (c.y, d.y)) {
        return None;
    }
    let way = (b - a) / length;
    let (along, beside) = ([(c - a).dot(way), (d - a).dot(way)], [way.cross(c - a), way.cross(d - a)]);
    let (low, high) = if along[0] <= along[1] { (0, 1) } else { (1, 0) };
    let run = along[high] - along[low];
    let (from, to) = (along[low].max(0.0), along[high].min(length));
    if to - from <= NEAR {
        return None;
    }
    let off = |at: f64| beside[low] + (beside[high] - beside[low]) * (at - along[low]) / run;
    let snapped = |at: f64| match at {
        at if at < NEAR => 0.0,
        at if at > length - NEAR => length,
        at => at,
    };
    [from, to].into_iter().all(|at| off(at).abs() <= NEAR).then(|| (snapped(from), snapped(to)))
}

fn nearest(at: Spot) -> Option<Point> {
    Some(Point::new(Length::from_mm_rounded(at.x)?, Length::from_mm_rounded(at.y)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    type Line = ((f64, f64), (f64, f64));

    fn edge((a, b): Line) -> Edge {
        let at = |point: (f64, f64)| nearest(point.into()).unwrap();
        Edge { a: at(a), b: at(b), line: None, circle: None }
    }

    #[track_caller]
    fn check(walls: &[Line], of: Line, expected: &[Line]) {
        let mut covered = Covered::default();
        walls.iter().for_each(|&wall| covered.add(edge(wall)));
        let expected: Vec<Edge> = expected.iter().map(|&one| edge(one)).collect();
        assert_eq!(covered.left_of(edge(of)), expected);
    }

    #[test]
    fn what_is_cut_already_is_left_out() {
        let side = ((0.0, 0.0), (10.0, 0.0));
        check(&[], side, &[side]);
        check(&[((12.0, 0.0), (-1.0, 0.0))], side, &[]);
        check(&[((2.0, 0.0), (4.0, 0.0))], side, &[((0.0, 0.0), (2.0, 0.0)), ((4.0, 0.0), (10.0, 0.0))]);
        check(&[((4.0, 0.0), (0.0, 0.0)), ((3.0, 0.0), (9.995, 0.0))], side, &[]);
        check(&[((0.0, 0.009), (10.0, -0.009))], side, &[]);
    }

    #[test]
    fn what_crosses_or_lies_beside_takes_nothing() {
        let side = ((0.0, 0.0), (10.0, 0.0));
        check(&[((5.0, -3.0), (5.0, 3.0)), ((0.0, 0.02), (10.0, 0.02))], side, &[side]);
        check(&[((0.0, 0.0), (10.0, 1.0)), ((10.0, 0.0), (20.0, 0.0))], side, &[side]);
    }
}
