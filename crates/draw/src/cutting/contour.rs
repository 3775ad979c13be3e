//! What a blade follows: runs of straight stretches and arcs of circles.

use kurbo::Point;

/// A stretch of a track, from where the one before it ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Where it ends, mm across and down.
    pub to: Point,
    /// The angle through which it turns about the centre of its circle, in radians: clockwise as drawn when positive,
    /// nothing when it is straight. A half turn and a little at most.
    pub sweep: f64,
}

/// One uninterrupted way of a tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Track {
    /// Where it starts, mm across and down from the upper left corner.
    pub start: Point,
    /// What it runs through.
    pub bends: Vec<Bend>,
}

/// What is done as one thing: a hole, an outline, a score with all its dashes, a name with all its letters.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    /// Its tracks in the order in which they are run; one unless it is broken.
    pub tracks: Vec<Track>,
}

impl Bend {
    /// A straight stretch.
    #[must_use]
    pub const fn straight(to: Point) -> Self {
        Self { to, sweep: 0.0 }
    }

    /// Whether it is a straight line.
    #[must_use]
    pub fn is_straight(self) -> bool {
        self.sweep.abs() < FLAT
    }

    /// The radius of its circle, mm: half the chord by the sine of half the angle. Of no use for a straight stretch.
    #[must_use]
    pub fn radius(self, from: Point) -> f64 {
        let half_sine = libm::sin(self.sweep.abs() / 2.0);
        chord(from, self.to) / (2.0 * half_sine.max(f64::MIN_POSITIVE))
    }

    /// The tangent of a quarter of the angle, positive when it turns clockwise as drawn.
    #[must_use]
    pub fn bulge(self) -> f64 {
        libm::tan(self.sweep / 4.0)
    }

    /// How long it is, mm.
    #[must_use]
    pub fn length(self, from: Point) -> f64 {
        if self.is_straight() { chord(from, self.to) } else { self.radius(from) * self.sweep.abs() }
    }

    /// The point after this share of it, 0 to 1.
    #[must_use]
    pub fn at(self, from: Point, share: f64) -> Point {
        if self.is_straight() {
            return from.lerp(self.to, share);
        }
        // The centre lies beside the middle of the chord, half of it by the tangent of half the angle away.
        let way = self.to - from;
        let beside = 0.5 / libm::tan(self.sweep / 2.0);
        let centre = from.midpoint(self.to) + kurbo::Vec2::new(-way.y, way.x) * beside;
        let (sine, cosine) = (libm::sin(self.sweep * share), libm::cos(self.sweep * share));
        let arm = from - centre;
        centre + kurbo::Vec2::new(arm.x * cosine - arm.y * sine, arm.x * sine + arm.y * cosine)
    }
}

/// Below this many radians an arc is straight: of one a metre long the middle rises by less than a nanometre.
const FLAT: f64 = 1e-9;

fn chord(a: Point, b: Point) -> f64 {
    libm::hypot(b.x - a.x, b.y - a.y)
}

impl Track {
    /// A straight line.
    #[must_use]
    pub fn line(from: Point, to: Point) -> Self {
        Self { start: from, bends: vec![Bend::straight(to)] }
    }

    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Point {
        self.bends.last().map_or(self.start, |bend| bend.to)
    }

    /// Whether it ends where it starts.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.bends.len() > 1 && self.end() == self.start
    }

    /// Its stretches, each with where it starts.
    pub fn stretches(&self) -> impl Iterator<Item = (Point, Bend)> + '_ {
        let starts = std::iter::once(self.start).chain(self.bends.iter().map(|bend| bend.to));
        starts.zip(self.bends.iter().copied())
    }

    /// How long it is, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.stretches().map(|(from, bend)| bend.length(from)).sum()
    }

    /// What lies between two distances along it, mm; `None` where that is nothing.
    #[must_use]
    pub(super) fn between(&self, from: f64, to: f64) -> Option<Self> {
        let (mut out, mut done) = (None::<Self>, 0.0);
        for (start, bend) in self.stretches() {
            let length = bend.length(start);
            let [first, last] = [from, to].map(|at| ((at - done) / length.max(f64::MIN_POSITIVE)).clamp(0.0, 1.0));
            done += length;
            if last <= first {
                continue;
            }
            // Where it is not cut short it ends just where it did.
            let end = if last < 1.0 { bend.at(start, last) } else { bend.to };
            let part = Bend { to: end, sweep: bend.sweep * (last - first) };
            let begin = || if first > 0.0 { bend.at(start, first) } else { start };
            out.get_or_insert_with(|| Self { start: begin(), bends: Vec::new() }).bends.push(part);
        }
        out
    }

    /// The same from end to start.
    #[must_use]
    pub(super) fn reversed(&self) -> Self {
        let back = |(from, bend): (Point, Bend)| Bend { to: from, sweep: -bend.sweep };
        let mut bends: Vec<Bend> = self.stretches().map(back).collect();
        bends.reverse();
        Self { start: self.end(), bends }
    }

    /// The same on a sheet of this width that is turned over like a page.
    #[must_use]
    pub(super) fn turned_over(&self, width: f64) -> Self {
        let over = |point: Point| Point::new(width - point.x, point.y);
        let bends = self.bends.iter().map(|bend| Bend { to: over(bend.to), sweep: -bend.sweep });
        Self { start: over(self.start), bends: bends.collect() }
    }
}

impl Contour {
    /// One uninterrupted track.
    #[must_use]
    pub fn of(track: Track) -> Self {
        Self { tracks: vec![track] }
    }

    /// How long its tracks are together, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.tracks.iter().map(Track::length).sum()
    }

    pub(super) fn start(&self) -> Option<Point> {
        self.tracks.first().map(|track| track.start)
    }

    pub(super) fn end(&self) -> Option<Point> {
        self.tracks.last().map(Track::end)
    }

    /// The same from end to start.
    pub(super) fn reversed(&self) -> Self {
        Self { tracks: self.tracks.iter().rev().map(Track::reversed).collect() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    /// A quarter of a circle of 10 mm from the top to the right, then 5 mm down.
    fn hook() -> Track {
        let bends = vec![Bend { to: Point::new(10.0, 10.0), sweep: FRAC_PI_2 }, Bend::straight(Point::new(10.0, 15.0))];
        Track { start: Point::ZERO, bends }
    }

    #[track_caller]
    fn near(a: Point, b: (f64, f64)) {
        assert!((a.x - b.0).abs() < 1e-9 && (a.y - b.1).abs() < 1e-9, "{a:?} is not {b:?}");
    }

    #[test]
    fn an_arc_has_its_radius_length_and_middle() {
        let hook = hook();
        let (from, bend) = hook.stretches().next().unwrap();
        assert!((bend.radius(from) - 10.0).abs() < 1e-9);
        assert!((hook.length() - (5.0 * PI + 5.0)).abs() < 1e-9);
        // The centre is 10 mm below the start, so the middle lies up and to the right of it.
        let half = 10.0 * libm::sqrt(0.5);
        near(bend.at(from, 0.5), (half, 10.0 - half));
        // A quarter turn: tan 22.5° = √2 - 1.
        assert!((bend.bulge() - (libm::sqrt(2.0) - 1.0)).abs() < 1e-12);
    }

    #[test]
    fn a_part_of_a_track_keeps_its_arcs() {
        let hook = hook();
        let part = hook.between(2.5 * PI, 5.0 * PI + 2.0).unwrap();
        let half = 10.0 * libm::sqrt(0.5);
        near(part.start, (half, 10.0 - half));
        near(part.end(), (10.0, 12.0));
        assert!((part.length() - (2.5 * PI + 2.0)).abs() < 1e-9);
        assert_eq!(hook.between(3.0, 3.0), None);
        assert_eq!(hook.between(0.0, 1e3).unwrap(), hook);
    }

    #[test]
    fn back_and_turned_over_turn_the_other_way() {
        let back = hook().reversed();
        near(back.start, (10.0, 15.0));
        assert!((back.bends[1].sweep + FRAC_PI_2).abs() < 1e-12);
        let over = hook().turned_over(30.0);
        near(over.end(), (20.0, 15.0));
        assert!((over.bends[0].sweep + FRAC_PI_2).abs() < 1e-12);
        assert_eq!(over.turned_over(30.0), hook());
    }
}
