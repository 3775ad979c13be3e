//! Straight stretches that follow one another, joined into the tracks that a blade runs in one go.

use super::circle::Circle;
use super::contour::{Bend, Track};
use kurbo::Point as Spot;
use model::{LineId, Point, Segment};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// A straight stretch to cut or to press.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edge {
    /// Where it starts.
    pub(super) a: Point,
    /// Where it ends.
    pub(super) b: Point,
    /// The line that it is of.
    pub(super) line: Option<LineId>,
    /// The circle that it is laid out along.
    pub(super) circle: Option<Circle>,
}

/// What becomes of edges that meet at an angle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum AtCorners {
    /// The blade turns and goes on.
    Turn,
    /// Each is done on its own.
    Stop,
}

/// Two edges of one line are one line still where they meet at 17° at most, as stretches of an arc do, and slanting ones
/// that bend to the nanometre: a cosine of 0.956.
const BENT: f64 = 0.956;

/// Edges of different lines go straight on where they meet at less than half a minute of arc.
const STRAIGHT: f64 = 1.0 - 1e-8;

/// A point between two others is left out where it lies beside the straight way between them by so little, in nm.
const BESIDE: i128 = 2;

impl Edge {
    pub(super) const fn reversed(self) -> Self {
        Self { a: self.b, b: self.a, ..self }
    }

    pub(super) fn moved(self, to: &dyn Fn(Point) -> Point) -> Self {
        let circle = self.circle.map(|circle| circle.moved(to));
        Self { a: to(self.a), b: to(self.b), circle, ..self }
    }

    /// The same whichever way it runs.
    pub(super) fn ends(self) -> Segment {
        Segment { a: self.a.min(self.b), b: self.a.max(self.b) }
    }

    fn way(self) -> (f64, f64) {
        let way = self.b - self.a;
        let (x, y) = (way.x.mm(), way.y.mm());
        let length = libm::hypot(x, y).max(f64::MIN_POSITIVE);
        (x / length, y / length)
    }

    /// How straight another goes on where this ends: the cosine of the angle between them; `None` when it does not.
    fn goes_on(self, next: Self) -> Option<f64> {
        let ((ux, uy), (vx, vy)) = (self.way(), next.way());
        let cosine = ux * vx + uy * vy;
        let is_one = self.circle.is_some() || (self.line.is_some() && self.line == next.line);
        (cosine >= if is_one && self.circle == next.circle { BENT } else { STRAIGHT }).then_some(cosine)
    }
}

/// Joins edges into runs, head to tail. Where more than two meet, those that go straight on do.
pub(super) fn runs(edges: &[Edge], corners: AtCorners) -> Vec<Vec<Edge>> {
    let next = partners(edges, corners);
    let mut used = vec![false; edges.len()];
    let mut out = Vec::new();
    // From where a run ends first, then round what closes.
    let starts = (0..edges.len()).flat_map(|i| [(i, false), (i, true)]);
    let open = starts.clone().filter(|&(i, back)| next[i][usize::from(back)].is_none());
    for (first, back) in open.chain(starts.filter(|(_, back)| !back)) {
        if used[first] {
            continue;
        }
        let (mut run, mut at) = (Vec::new(), Some((first, back)));
        while let Some((i, back)) = at.filter(|(i, _)| !used[*i]) {
            used[i] = true;
            run.push(if back { edges[i].reversed() } else { edges[i] });
            // On from its other end.
            at = next[i][usize::from(!back)];
        }
        out.push(from_a_corner(run));
    }
    out
}

/// For each edge, at its start and at its end, the edge that the run goes on with and whether that is run backwards.
fn partners(edges: &[Edge], corners: AtCorners) -> Vec<[Option<(usize, bool)>; 2]> {
    let mut meeting: BTreeMap<Point, Vec<(usize, bool)>> = BTreeMap::new();
    for (i, edge) in edges.iter().enumerate() {
        meeting.entry(edge.a).or_default().push((i, false));
        meeting.entry(edge.b).or_default().push((i, true));
    }
    let mut next = vec![[None, None]; edges.len()];
    let mut join = |(i, at_end): (usize, bool), (j, other_end): (usize, bool)| {
        next[i][usize::from(at_end)] = Some((j, other_end));
        next[j][usize::from(other_end)] = Some((i, at_end));
    };
    for here in meeting.values() {
        let into = |(i, at_end): (usize, bool)| if at_end { edges[i] } else { edges[i].reversed() };
        let mut pairs = Vec::new();
        for (m, &one) in here.iter().enumerate() {
            for &other in &here[m + 1..] {
                pairs.extend(into(one).goes_on(into(other).reversed()).map(|cosine| (cosine, one, other)));
            }
        }
        pairs.sort_by(|(a, ..), (b, ..)| b.total_cmp(a));
        let mut free = here.clone();
        for (_, one, other) in pairs {
            if free.contains(&one) && free.contains(&other) {
                join(one, other);
                free.retain(|end| *end != one && *end != other);
            }
        }
        if let ([one, other], AtCorners::Turn) = (free.as_slice(), corners) {
            join(*one, *other);
        }
    }
    next
}

/// A run that closes, started at a corner, so that no mark of the blade's start is left on a straight side or a curve.
fn from_a_corner(mut run: Vec<Edge>) -> Vec<Edge> {
    let closes = run.len() > 1 && run.first().map(|edge| edge.a) == run.last().map(|edge| edge.b);
    if closes {
        let n = run.len();
        let is_corner = |i: usize| run[(i + n - 1) % n].goes_on(run[i]).is_none();
        let start = (0..n).min_by_key(|&i| (Reverse(is_corner(i)), run[i].a.y, run[i].a.x)).unwrap_or(0);
        run.rotate_left(start);
    }
    run
}

impl Track {
    /// The track of a run: what lies straight is one stretch, what lies on a circle one arc.
    pub(super) fn of(run: &[Edge]) -> Option<Self> {
        let start = run.first()?.a;
        let mut bends: Vec<Bend> = Vec::new();
        let mut rest = run;
        while let Some(first) = rest.first() {
            let (count, bend) = match first.circle {
                Some(circle) => arc(rest, circle),
                None => straight(rest),
            };
            bends.push(bend);
            rest = &rest[count..];
        }
        Some(Self { start: spot(start), bends })
    }
}

/// How many edges from the first on lie on one arc of this circle, and that arc.
fn arc(run: &[Edge], circle: Circle) -> (usize, Bend) {
    let (mut sweep, mut count) = (0.0_f64, 0);
    for edge in run.iter().take_while(|edge| edge.circle == Some(circle)) {
        let turn = circle.sweep(spot(edge.a), spot(edge.b));
        // Back along the circle, or on beyond a half turn, another arc begins.
        let goes_on = sweep * turn >= 0.0 && (sweep + turn).abs() <= HALF_TURN;
        if count > 0 && !goes_on {
            break;
        }
        sweep += turn;
        count += 1;
    }
    (count, Bend { to: spot(run[count - 1].b), sweep })
}

/// A half turn, and what rounding adds to it.
const HALF_TURN: f64 = std::f64::consts::PI + 1e-4;

/// How many edges from the first on lie on one straight line, and that line.
fn straight(run: &[Edge]) -> (usize, Bend) {
    let start = run[0].a;
    let mut count = 1;
    while let Some(edge) = run.get(count).filter(|edge| edge.circle.is_none()) {
        let (way, via) = (edge.b - start, edge.a - start);
        let is_beside = way.cross(via).abs() > BESIDE * i128::from(way.length().nm());
        if is_beside || via.dot(edge.b - edge.a) <= 0 {
            break;
        }
        count += 1;
    }
    (count, Bend::straight(spot(run[count - 1].b)))
}

/// In mm.
pub(super) fn spot(point: Point) -> Spot {
    point.mm().into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Length;

    fn edge(a: (i64, i64), b: (i64, i64)) -> Edge {
        let at = |(x, y)| Point::new(Length::MILLIMETRE * x, Length::MILLIMETRE * y);
        Edge { a: at(a), b: at(b), line: None, circle: None }
    }

    #[track_caller]
    fn check(edges: &[Edge], corners: AtCorners, expected: &[&[(f64, f64)]]) {
        let tracks = runs(edges, corners).into_iter().map(|run| Track::of(&run).unwrap()).map(|track| {
            let ends = track.bends.iter().map(|bend| (bend.to.x, bend.to.y));
            std::iter::once((track.start.x, track.start.y)).chain(ends).collect::<Vec<_>>()
        });
        assert_eq!(tracks.collect::<Vec<_>>(), expected);
    }

    #[test]
    fn an_outline_is_one_track_that_starts_at_a_corner() {
        // The left side is in two stretches, and given in no order.
        let square = [
            edge((0, 2), (0, 4)),
            edge((4, 4), (0, 4)),
            edge((4, 0), (4, 4)),
            edge((0, 0), (0, 2)),
            edge((0, 0), (4, 0)),
        ];
        let round: &[(f64, f64)] = &[(0.0, 0.0), (0.0, 4.0), (4.0, 4.0), (4.0, 0.0), (0.0, 0.0)];
        check(&square, AtCorners::Turn, &[round]);
    }

    #[test]
    fn lines_that_cross_go_straight_on() {
        let cross = [edge((0, 5), (5, 5)), edge((5, 5), (9, 5)), edge((5, 0), (5, 5)), edge((5, 5), (5, 9))];
        check(&cross, AtCorners::Stop, &[&[(0.0, 5.0), (9.0, 5.0)], &[(5.0, 0.0), (5.0, 9.0)]]);
        check(&cross, AtCorners::Turn, &[&[(0.0, 5.0), (9.0, 5.0)], &[(5.0, 0.0), (5.0, 9.0)]]);
    }

    #[test]
    fn scores_stop_at_corners_and_blades_do_not() {
        let bent = [edge((0, 0), (5, 0)), edge((5, 0), (5, 5))];
        check(&bent, AtCorners::Stop, &[&[(0.0, 0.0), (5.0, 0.0)], &[(5.0, 0.0), (5.0, 5.0)]]);
        check(&bent, AtCorners::Turn, &[&[(0.0, 0.0), (5.0, 0.0), (5.0, 5.0)]]);
    }

    #[test]
    fn a_flattened_arc_becomes_an_arc_again() {
        let at = |x, y| Point::new(Length::MILLIMETRE * x, Length::MILLIMETRE * y);
        let (a, b, bow) = (at(10, 0), at(10, 40), Length::MILLIMETRE * 20);
        let circle = Circle::over(Segment { a, b }, bow);
        let line = Some(LineId(1));
        let points = model::curve::arc(a, b, bow);
        assert!(points.len() > 20);
        let edges: Vec<Edge> = points.windows(2).map(|pair| Edge { a: pair[0], b: pair[1], line, circle }).collect();
        let [run] = runs(&edges, AtCorners::Stop).try_into().unwrap();
        let track = Track::of(&run).unwrap();
        assert_eq!(track.bends.len(), 1);
        // A half circle of 20 mm; down the sheet and to the left is anticlockwise.
        assert!((track.length() - std::f64::consts::PI * 20.0).abs() < 1e-5, "{}", track.length());
        assert!((track.bends[0].sweep + std::f64::consts::PI).abs() < 1e-6);
    }
}
