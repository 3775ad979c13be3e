//! Places that are one place but for rounding become one, so that all that follows compares numbers of places and
//! never distances again.

use glam::DVec2;
use std::collections::BTreeMap;

/// Points nearer to each other than this, in mm, are one place, and a point nearer to a line than this lies on it.
///
/// A micrometre. Reflecting a metre of paper two hundred times in doubles is off by 1e-10 mm, and lengths given in inches
/// and in millimetres disagree by less than a nanometre; nothing that a knife can do is as small. If it grew to the
/// thickness of paper, panels shortened so as to lie inside others would be taken for equally long ones.
pub const SAME_PLACE: f64 = 1e-3;

/// Coordinates lie within this distance of the origin, in mm: a kilometre. Far beyond it doubles grow coarser than
/// [`SAME_PLACE`].
pub const FARTHEST: f64 = 1e6;

/// The side of the squares that places are looked up by, in mm. Any length well above [`SAME_PLACE`] gives the same
/// places; small squares hold few of them.
const SQUARE: f64 = 0.25;

/// Moves the grid of squares off round numbers, where most corners lie.
const OFF_GRID: f64 = 0.137;

/// Numbered places, no two of them within [`SAME_PLACE`] of each other.
#[derive(Debug, Clone, Default)]
pub(crate) struct Places {
    points: Vec<DVec2>,
    /// For each square that holds places, the last of them; and for each place, that before it in its square.
    squares: BTreeMap<u64, u32>,
    before: Vec<Option<u32>>,
}

impl Places {
    /// The number of the place at `point`, which is new if none is near.
    pub(crate) fn number(&mut self, point: DVec2) -> u32 {
        if let Some(known) = self.near(point) {
            return known;
        }
        let number = u32::try_from(self.points.len()).expect("fewer places than coordinates in memory");
        self.points.push(point);
        self.before.push(self.squares.insert(key(square(point)), number));
        number
    }

    /// Where place `number` is.
    pub(crate) fn at(&self, number: u32) -> DVec2 {
        self.points[number as usize]
    }

    /// How many places there are.
    pub(crate) const fn count(&self) -> usize {
        self.points.len()
    }

    fn near(&self, point: DVec2) -> Option<u32> {
        let (low, high) = (square(point - SAME_PLACE), square(point + SAME_PLACE));
        let is_near = |number: &u32| self.at(*number).distance_squared(point) <= SAME_PLACE * SAME_PLACE;
        for x in low.0..=high.0 {
            for y in low.1..=high.1 {
                let last = self.squares.get(&key((x, y))).copied();
                // The first of them that came.
                let places = std::iter::successors(last, |&number| self.before[number as usize]);
                if let Some(number) = places.filter(is_near).last() {
                    return Some(number);
                }
            }
        }
        None
    }
}

#[expect(clippy::cast_possible_truncation, reason = "coordinates are within FARTHEST of the origin")]
fn square(point: DVec2) -> (i64, i64) {
    let key = ((point + OFF_GRID) / SQUARE).floor();
    (key.x as i64, key.y as i64)
}

/// A square as one number, which is compared in half the time: its two are below 2^31 by [`FARTHEST`].
const fn key((x, y): (i64, i64)) -> u64 {
    ((x.cast_unsigned()) << 32) | (y.cast_unsigned() & 0xffff_ffff)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_a_micrometre_apart_are_one_place() {
        let mut places = Places::default();
        let first = places.number(DVec2::new(10.0, 0.0));
        assert_eq!(places.number(DVec2::new(10.0 - 1e-10, 1e-4)), first);
        assert_ne!(places.number(DVec2::new(10.0, 0.002)), first);
        assert_eq!(places.count(), 2);
    }

    #[test]
    fn places_are_found_across_the_squares_they_are_looked_up_by() {
        // On a line between two squares, and a little to either side of it.
        let border = 4.0 * SQUARE - OFF_GRID;
        let mut places = Places::default();
        let first = places.number(DVec2::new(border - 4e-4, border + 4e-4));
        assert_eq!(places.number(DVec2::new(border + 4e-4, border - 1e-4)), first);
    }
}
