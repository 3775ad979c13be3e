//! Arcs of circles as runs of short straight stretches, and the outlines that strips and notches have.
//!
//! Curves are flattened once, here, to whole nanometres; what follows from them is as exact as for straight lines.

use crate::geometry::{Point, Vector};
use crate::length::Length;
use crate::line::{Notch, Strip, StripSide};
use crate::resolve::Segment;

/// How far a flattened arc is from the circle at most, in mm: a twentieth of what a knife or a printer can place.
const SAGITTA: f64 = 0.005;

/// The most stretches of one arc: a half circle of the longest line a sheet can have needs fewer.
const MOST_STRETCHES: u32 = 2_000;

impl Vector {
    /// Its length, to the nanometre below.
    #[must_use]
    pub fn length(self) -> Length {
        let square = self.dot(self).unsigned_abs();
        Length::from_nm(i64::try_from(square.isqrt()).unwrap_or(i64::MAX))
    }

    /// So far to the left of this way, as the maker has it who looks along it from its start at the top of the board.
    #[must_use]
    pub fn to_left(self, by: Length) -> Self {
        Self { x: -self.y, y: self.x }.scaled_to(by)
    }

    /// The same way with another length, to the nearest nanometre; negative for the way back. Exact for an upright or
    /// level way. Nothing when this has no length.
    #[must_use]
    pub fn scaled_to(self, length: Length) -> Self {
        let zero = Length::ZERO;
        let signed = |along: Length| if along < zero { -length } else { length };
        if self.x == zero && self.y == zero {
            return self;
        }
        if self.x == zero || self.y == zero {
            let only = |along: Length| if along == zero { zero } else { signed(along) };
            return Self { x: only(self.x), y: only(self.y) };
        }
        let (x, y) = (self.x.mm(), self.y.mm());
        let factor = length.mm() / libm::hypot(x, y);
        Self { x: nearest(x * factor), y: nearest(y * factor) }
    }
}

/// The points of an arc from `a` to `b`, both among them, whose middle rises by `bow` to the left of the way (to the
/// right when negative). Two points when it is straight. `|bow|` is at most half the way's length.
///
/// With a chord of c and a rise of h, the arc's half angle is φ = 2 atan(2h / c) and its radius c / (2 sin φ) (the
/// tangent half-angle formula for a circle's segment).
#[must_use]
pub fn arc(a: Point, b: Point, bow: Length) -> Vec<Point> {
    let way = b - a;
    let (x, y) = (way.x.mm(), way.y.mm());
    let chord = libm::hypot(x, y);
    if bow == Length::ZERO || a == b {
        return vec![a, b];
    }
    let rise = bow.mm().abs();
    let half_angle = 2.0 * libm::atan(2.0 * rise / chord);
    let radius = chord / (2.0 * libm::sin(half_angle));
    let count = stretches(radius, 2.0 * half_angle);
    let sign = if bow > Length::ZERO { 1.0 } else { -1.0 };
    let [along, left] = [(x / chord, y / chord), (-y / chord * sign, x / chord * sign)];
    let (ax, ay) = a.mm();
    let middle = (ax + x / 2.0, ay + y / 2.0);
    let at = |i: u32| {
        let angle = half_angle * (2.0 * f64::from(i) / f64::from(count) - 1.0);
        let (s, up) = (radius * libm::sin(angle), radius * libm::cos(angle) - (radius - rise));
        let place = |m: f64, u: f64, l: f64| nearest(m + s * u + up * l);
        Point::new(place(middle.0, along.0, left.0), place(middle.1, along.1, left.1))
    };
    let inner = (1..count).map(at);
    std::iter::once(a).chain(inner).chain(std::iter::once(b)).collect()
}

/// Into how many stretches an arc is divided so that none is further than [`SAGITTA`] from it.
fn stretches(radius: f64, angle: f64) -> u32 {
    // One stretch over an angle t is r (1 - cos(t / 2)) from the circle at its middle.
    let step = 2.0 * libm::acos((1.0 - SAGITTA / radius).max(0.0));
    (1..MOST_STRETCHES).find(|&count| step * f64::from(count) >= angle).unwrap_or(MOST_STRETCHES)
}

/// The outline of a strip along a stretch of a line that goes this way. `past` says how far the far side of the strip is
/// carried on beyond the start and the end, so that it reaches the sheet's edge where the stretch does.
#[must_use]
pub fn strip_outline(segment: Segment, way: Vector, strip: Strip, past: [Length; 2]) -> Vec<Point> {
    let (left, right) = match strip.side {
        StripSide::Left => (strip.width, Length::ZERO),
        StripSide::Right => (Length::ZERO, strip.width),
        StripSide::Centred => (strip.width.half(), strip.width - strip.width.half()),
    };
    let side = |width: Length| {
        let by = way.to_left(width);
        let [before, after] = if width == Length::ZERO { [Length::ZERO; 2] } else { past };
        [segment.a + by + way.scaled_to(-before), segment.b + by + way.scaled_to(after)]
    };
    let ([a, b], [d, c]) = (side(left), side(-right));
    vec![a, b, c, d]
}

/// The outline of a notch over a stretch.
#[must_use]
pub fn notch_outline(segment: Segment, notch: Notch) -> Vec<Point> {
    let bow = if notch.to_left { notch.depth } else { -notch.depth };
    arc(segment.a, segment.b, bow)
}

fn nearest(mm: f64) -> Length {
    // Beyond the largest sheet it only matters that it is, and on which side.
    let beyond = if mm < 0.0 { -Length::LIMIT * 4 } else { Length::LIMIT * 4 };
    Length::from_mm_rounded(mm).unwrap_or(beyond)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::polygon::signed_area;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::MILLIMETRE * x, Length::MILLIMETRE * y)
    }

    #[test]
    fn a_half_circle_has_its_area_and_rises_to_the_left() {
        // Down the sheet, left is the maker's left: smaller x. π r² / 2 for r = 10 mm.
        let points = arc(at(50, 0), at(50, 20), Length::MILLIMETRE * 10);
        let area = signed_area(&points).mm2().abs();
        assert!((area - std::f64::consts::PI * 50.0).abs() < 0.2, "{area}");
        assert!(points.iter().all(|point| point.x <= Length::MILLIMETRE * 50));
        assert!(points.contains(&at(40, 10)));
        let right = arc(at(50, 0), at(50, 20), Length::MILLIMETRE * -10);
        assert!(right.contains(&at(60, 10)));
    }

    #[test]
    fn a_flattened_arc_stays_near_its_circle() {
        for (chord, bow) in [(100_i32, 3_i32), (100, 50), (7, 1), (250, 40)] {
            let points = arc(at(0, 0), at(chord.into(), 0), Length::MILLIMETRE * i64::from(bow));
            let (c, h) = (f64::from(chord), f64::from(bow));
            let radius = (c * c / 4.0 + h * h) / (2.0 * h);
            // Left of the way to the right is down the sheet; the centre lies on the other side of the middle.
            let centre = (c / 2.0, h - radius);
            for pair in points.windows(2) {
                let middle = ((pair[0].x.mm() + pair[1].x.mm()) / 2.0, (pair[0].y.mm() + pair[1].y.mm()) / 2.0);
                let away = ((middle.0 - centre.0).powi(2) + (middle.1 - centre.1).powi(2)).sqrt();
                assert!((radius - away).abs() < 0.0051, "{chord} {bow}: {}", radius - away);
            }
        }
    }

    #[test]
    fn strips_lie_on_the_side_that_was_said() {
        let down = Segment { a: at(10, 0), b: at(10, 30) };
        let width = Length::MILLIMETRE * 2;
        let xs = |side| {
            let outline = strip_outline(down, down.b - down.a, Strip { width, side }, [Length::ZERO; 2]);
            let all = outline.iter().map(|point| point.x.nm() / 1_000_000);
            (all.clone().min().unwrap(), all.max().unwrap())
        };
        assert_eq!(xs(StripSide::Left), (8, 10));
        assert_eq!(xs(StripSide::Right), (10, 12));
        assert_eq!(xs(StripSide::Centred), (9, 11));
    }

    #[test]
    fn scaling_is_exact_along_the_edges() {
        let way = Vector { x: Length::ZERO, y: Length::from_nm(-7) };
        assert_eq!(way.scaled_to(Length::INCH), Vector { x: Length::ZERO, y: -Length::INCH });
        assert_eq!(Vector::default().scaled_to(Length::INCH), Vector::default());
        let slanting = Vector { x: Length::MILLIMETRE * 3, y: Length::MILLIMETRE * 4 };
        assert_eq!(slanting.length(), Length::MILLIMETRE * 5);
        assert_eq!(
            slanting.scaled_to(Length::MILLIMETRE * 10),
            Vector { x: Length::MILLIMETRE * 6, y: Length::MILLIMETRE * 8 }
        );
    }
}
