//! The circles that arcs of a design lie on, so that a blade runs along the arc itself and not along the short straight
//! stretches that it is laid out by.

use kurbo::Point as Spot;
use model::{CornerShape, Document, Layout, Length, LineId, Point, Segment, Stretch, VoidKind, Work};
use std::collections::BTreeMap;

/// A circle on the flat sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Circle {
    /// To the nanometre.
    pub(super) centre: Point,
    /// In mm.
    radius: f64,
}

/// How far from its circle a stretch of a flattened arc may lie, mm: 0.005 mm for its middle by how arcs are laid out
/// (and for an end where another line crosses such a stretch), and what the nanometres round.
const NEAR: f64 = 0.005_1;

/// A circle is looked for on one side of its chord only up to this many times the chord away, since beyond that an arc is
/// as good as straight.
const MOST_RADII: f64 = 1e4;

impl Circle {
    /// The circle of an arc over a chord whose middle rises by `bow` to the left; `None` for one that is straight.
    ///
    /// For a chord c and a rise h the radius is (c² / 4 + h²) / 2h (from the right triangle of half a chord).
    pub(super) fn over(chord: Segment, bow: Length) -> Option<Self> {
        let ((ax, ay), (bx, by)) = (chord.a.mm(), chord.b.mm());
        let (way, rise) = ((bx - ax, by - ay), bow.mm().abs());
        let length = libm::hypot(way.0, way.1);
        if length <= 0.0 || rise * MOST_RADII < length {
            return None;
        }
        let radius = (length * length / 4.0 + rise * rise) / (2.0 * rise);
        // Left of the way as the maker has it is (-y, x); the centre lies short of the arc's top by the radius.
        let side = if bow > Length::ZERO { 1.0 } else { -1.0 };
        let off = side * (rise - radius) / length;
        Self::around((ax + bx) / 2.0 - way.1 * off, (ay + by) / 2.0 + way.0 * off, radius)
    }

    /// The circle in a corner that touches both sides.
    fn in_corner(tip: Point, sides: [Point; 2], radius: Length) -> Option<Self> {
        let unit = |to: Point| {
            let way = to - tip;
            let (x, y) = (way.x.mm(), way.y.mm());
            let length = libm::hypot(x, y);
            (length > 0.0).then(|| (x / length, y / length))
        };
        let [(ux, uy), (vx, vy)] = [unit(sides[0])?, unit(sides[1])?];
        let half = (ux + vx, uy + vy);
        // Along the half of the angle, radius by the sine of half of it away: |u + v| = 2 cos, |u - v| = 2 sin.
        let (cosine, sine) = (libm::hypot(half.0, half.1) / 2.0, libm::hypot(ux - vx, uy - vy) / 2.0);
        if cosine <= 0.0 || sine <= 0.0 {
            return None;
        }
        let (away, (x, y)) = (radius.mm() / sine, tip.mm());
        Self::around(x + half.0 / (2.0 * cosine) * away, y + half.1 / (2.0 * cosine) * away, radius.mm())
    }

    fn around(x: f64, y: f64, radius: f64) -> Option<Self> {
        let centre = Point::new(Length::from_mm_rounded(x)?, Length::from_mm_rounded(y)?);
        Some(Self { centre, radius })
    }

    /// The same elsewhere.
    pub(super) fn moved(self, to: &dyn Fn(Point) -> Point) -> Self {
        Self { centre: to(self.centre), ..self }
    }

    /// The angle about its centre from one place to another, positive clockwise as drawn.
    pub(super) fn sweep(self, from: Spot, to: Spot) -> f64 {
        let centre = Spot::from(self.centre.mm());
        let (u, v) = (from - centre, to - centre);
        libm::atan2(u.cross(v), u.dot(v))
    }

    fn is_under(self, segment: Segment) -> bool {
        let (a, b) = (Spot::from(segment.a.mm()), Spot::from(segment.b.mm()));
        let centre = Spot::from(self.centre.mm());
        let away = |at: Spot| (libm::hypot(at.x - centre.x, at.y - centre.y) - self.radius).abs();
        [a, a.midpoint(b), b].into_iter().all(|at| away(at) <= NEAR)
    }
}

/// All circles that a layout's arcs lie on.
#[derive(Debug)]
pub(super) struct Circles {
    lines: BTreeMap<LineId, Circle>,
    corners: Vec<Circle>,
}

impl Circles {
    pub(super) fn of(document: &Document, layout: &Layout) -> Self {
        let arc = |id: &LineId| {
            let placed = layout.lines.get(id)?.as_ref().ok()?;
            let bow = match document.line(*id)?.work {
                Work::Notch(notch) if notch.to_left => notch.depth,
                Work::Notch(notch) => -notch.depth,
                Work::Cut | Work::Score(_) => placed.bow,
                Work::Slot(_) | Work::Trim(_) | Work::Guide => Length::ZERO,
            };
            Circle::over(placed.segment, bow)
        };
        let lines = layout.lines.keys().filter_map(|id| Some((*id, arc(id)?))).collect();
        Self { lines, corners: corners(document, layout) }
    }

    /// The circle that a stretch is laid out along.
    pub(super) fn under(&self, stretch: &Stretch) -> Option<Circle> {
        let of_lines = stretch.lines.iter().filter_map(|line| self.lines.get(line));
        let of_corners = self.corners.iter().filter(|_| stretch.lines.is_empty());
        of_lines.chain(of_corners).copied().find(|circle| circle.is_under(stretch.segment))
    }
}

/// The circles of rounded corners: each is known by the corner that was taken off and where its sides lead.
fn corners(document: &Document, layout: &Layout) -> Vec<Circle> {
    let mut found = Vec::new();
    for work in &layout.corners {
        let Some(CornerShape::Round(radius)) = document.corners.get(work.by).map(|corner| corner.shape) else {
            continue;
        };
        let voids = layout.voids.iter().filter(|void| void.kind == VoidKind::Corner(work.by));
        let outlines: Vec<&Vec<Point>> = voids.map(|void| &void.outline).collect();
        for taken in &work.corners {
            let at_tip = outlines.iter().find_map(|outline| {
                let n = outline.len();
                let i = outline.iter().position(|&point| point == taken.at)?;
                Some([outline[(i + n - 1) % n], outline[(i + 1) % n]])
            });
            found.extend(at_tip.and_then(|sides| Circle::in_corner(taken.at, sides, radius)));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::MILLIMETRE * x, Length::MILLIMETRE * y)
    }

    #[track_caller]
    fn check(found: Option<Circle>, centre: Point, radius: f64) {
        let found = found.unwrap();
        assert_eq!(found.centre, centre);
        assert!((found.radius - radius).abs() < 1e-9, "{}", found.radius);
    }

    #[test]
    fn the_circle_over_a_chord() {
        // A chord of 8 and a rise of 2: radius 5, as 4² = 2 (2 · 5 - 2). To the left of the way down is smaller x.
        let down = Segment { a: at(20, 0), b: at(20, 8) };
        check(Circle::over(down, Length::MILLIMETRE * 2), at(23, 4), 5.0);
        check(Circle::over(down, Length::MILLIMETRE * -2), at(17, 4), 5.0);
        check(Circle::over(down, Length::MILLIMETRE * 4), at(20, 4), 4.0);
        assert_eq!(Circle::over(down, Length::ZERO), None);
    }

    #[test]
    fn the_circle_in_a_corner() {
        check(Circle::in_corner(at(0, 0), [at(0, 9), at(7, 0)], Length::MILLIMETRE * 3), at(3, 3), 3.0);
        // Sides 3 : 4 : 5 apart: the half angle's tangent is 1/2, so the circle of 2 touches 4 along.
        check(Circle::in_corner(at(0, 0), [at(10, 0), at(6, 8)], Length::MILLIMETRE * 2), at(4, 2), 2.0);
    }

    #[test]
    fn every_stretch_of_an_arc_is_known_and_its_chord_is_not() {
        let chord = Segment { a: at(0, 0), b: at(90, 0) };
        let circle = Circle::over(chord, Length::MILLIMETRE * 30).unwrap();
        let points = model::curve::arc(chord.a, chord.b, Length::MILLIMETRE * 30);
        assert!(points.windows(2).all(|pair| circle.is_under(Segment { a: pair[0], b: pair[1] })));
        assert!(!circle.is_under(chord));
    }
}
