//! Points, vectors, sizes and areas on the flat sheet, all exact.
//!
//! The sheet lies front up with its top edge away from the maker: x runs to the right and y towards her, from the
//! top left corner.

use crate::length::{Length, LengthError, Unit};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Sub};

/// A place on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Point {
    /// To the right of the sheet's left edge.
    pub x: Length,
    /// Down from the sheet's top edge.
    pub y: Length,
}

/// A way from one place to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Vector {
    /// To the right.
    pub x: Length,
    /// Down.
    pub y: Length,
}

/// Width and height, both positive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Size {
    width: Length,
    height: Length,
}

/// An area, exact: held in half square nanometres, since a triangle between whole nanometres may be a half.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Area(i128);

impl Point {
    /// A point from its distances from the left and the top edge.
    #[must_use]
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }

    /// Millimetres from the left and the top edge, for derived values.
    #[must_use]
    pub fn mm(self) -> (f64, f64) {
        (self.x.mm(), self.y.mm())
    }
}

impl Sub for Point {
    type Output = Vector;
    fn sub(self, from: Self) -> Vector {
        Vector { x: self.x - from.x, y: self.y - from.y }
    }
}

impl Add<Vector> for Point {
    type Output = Self;
    fn add(self, by: Vector) -> Self {
        Self { x: self.x + by.x, y: self.y + by.y }
    }
}

impl Vector {
    /// Twice the signed area of the triangle the two span, in square nanometres: positive when `other` lies
    /// clockwise of `self` as the maker sees it (y runs down).
    #[must_use]
    pub const fn cross(self, other: Self) -> i128 {
        self.x.nm() as i128 * other.y.nm() as i128 - self.y.nm() as i128 * other.x.nm() as i128
    }

    /// The dot product, in square nanometres.
    #[must_use]
    pub const fn dot(self, other: Self) -> i128 {
        self.x.nm() as i128 * other.x.nm() as i128 + self.y.nm() as i128 * other.y.nm() as i128
    }
}

impl Vector {
    /// So much of this way as `part` is of `whole`, which has the same sign and is no less; to the nearest nanometre.
    #[must_use]
    pub(crate) fn part(self, part: Length, whole: Length) -> Self {
        crate::arrangement::part_of(self, i128::from(part.nm().abs()), i128::from(whole.nm().abs()).max(1))
    }
}

impl Size {
    /// A size; `None` unless both sides are positive and at most [`Length::LIMIT`].
    #[must_use]
    pub fn new(width: Length, height: Length) -> Option<Self> {
        let fits = |side: Length| side > Length::ZERO && side <= Length::LIMIT;
        (fits(width) && fits(height)).then_some(Self { width, height })
    }

    /// The size nearest to what is asked for: see [`Size::new`] for what a side may be.
    #[must_use]
    pub fn nearest(width: Length, height: Length) -> Self {
        let side = |side: Length| side.clamp(Length::from_nm(1), Length::LIMIT);
        Self { width: side(width), height: side(height) }
    }

    /// From left to right.
    #[must_use]
    pub const fn width(self) -> Length {
        self.width
    }

    /// From top to bottom.
    #[must_use]
    pub const fn height(self) -> Length {
        self.height
    }

    /// The area.
    #[must_use]
    pub const fn area(self) -> Area {
        Area(2 * self.width.nm() as i128 * self.height.nm() as i128)
    }

    /// The four corners, clockwise from the top left.
    #[must_use]
    pub const fn corners(self) -> [Point; 4] {
        let (w, h, o) = (self.width, self.height, Length::ZERO);
        [Point::new(o, o), Point::new(w, o), Point::new(w, h), Point::new(o, h)]
    }

    /// Reads `12x12in`, `8 1/2 x 11 in`, `210 x 297 mm` or the name of a paper size such as `A4` or `letter`.
    ///
    /// # Errors
    /// Says which side is no length, or that the size is not positive.
    pub fn parse(text: &str) -> Result<Self, SizeError> {
        if let Some(size) = crate::paper::named(text.trim()) {
            return Ok(size);
        }
        let lower = text.trim().to_lowercase();
        let (first, second) = lower.split_once(['x', '×']).ok_or_else(|| SizeError::NoCross(text.trim().to_owned()))?;
        let unit = unit_at_end(second);
        let (width, height) = match unit {
            Some(unit) => (Length::parse_in(first, unit), Length::parse_in(second, unit)),
            None => (first.parse(), second.parse()),
        };
        let (width, height) = (width.map_err(SizeError::Side)?, height.map_err(SizeError::Side)?);
        Self::new(width, height).ok_or(SizeError::NotPositive)
    }

    /// The size as text: `12 x 12 in`.
    #[must_use]
    pub fn text(self, unit: Unit) -> String {
        let (width, height) = (self.width.text(unit), self.height.text(unit));
        match (width.rsplit_once(' '), height.rsplit_once(' ')) {
            (Some((number, a)), Some((_, b))) if a == b => format!("{number} x {height}"),
            _ => format!("{width} x {height}"),
        }
    }
}

/// Why a text is no size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SizeError {
    /// It is neither two lengths with an x between them nor a paper size.
    NoCross(String),
    /// One of the sides is no length.
    Side(LengthError),
    /// A side is zero, negative or beyond ten metres.
    NotPositive,
}

impl fmt::Display for SizeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoCross(text) => {
                let shown: String = text.chars().take(40).collect();
                write!(f, "\"{shown}\" is not a size; write one such as \"12x12in\", \"210x297mm\" or \"A4\"")
            }
            Self::Side(error) => error.fmt(f),
            Self::NotPositive => write!(f, "both sides of a sheet must be more than nothing and at most 10 m"),
        }
    }
}

impl std::error::Error for SizeError {}

impl Area {
    /// No area.
    pub const ZERO: Self = Self(0);

    /// An area of so many half square nanometres.
    #[must_use]
    pub const fn from_half_nm2(half: i128) -> Self {
        Self(half)
    }

    /// Half square nanometres.
    #[must_use]
    pub const fn half_nm2(self) -> i128 {
        self.0
    }

    /// Square millimetres, for reading.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "for reading only")]
    pub fn mm2(self) -> f64 {
        self.0 as f64 / 2e12
    }
}

impl Add for Area {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Area {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Sum for Area {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

fn unit_at_end(text: &str) -> Option<Unit> {
    let text = text.trim_end();
    let ends = |units: &[&str]| units.iter().any(|unit| text.ends_with(unit));
    if ends(&["mm"]) {
        Some(Unit::Millimetre)
    } else if ends(&["cm"]) {
        Some(Unit::Centimetre)
    } else if ends(&["in", "\"", "inch", "inches"]) {
        Some(Unit::Inch)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: Result<(i64, i64), &str>) {
        match (Size::parse(text), expected) {
            (Ok(size), Ok((w, h))) => assert_eq!((size.width().nm(), size.height().nm()), (w, h), "{text}"),
            (Err(error), Err(says)) => assert!(error.to_string().contains(says), "{text}: {error}"),
            (got, _) => panic!("{text}: {got:?}"),
        }
    }

    #[test]
    fn sizes_are_read_as_makers_write_them() {
        check("12x12in", Ok((304_800_000, 304_800_000)));
        check("8 1/2 x 11 in", Ok((215_900_000, 279_400_000)));
        check("210 × 297 mm", Ok((210_000_000, 297_000_000)));
        check("1 in x 30 mm", Ok((25_400_000, 30_000_000)));
        check("A4", Ok((210_000_000, 297_000_000)));
        check("12in", Err("is not a size"));
        check("12x", Err("no unit"));
        check("12x in", Err("is not a length"));
        check("0x12in", Err("more than nothing"));
        check("-3x12in", Err("more than nothing"));
    }

    #[test]
    fn a_size_prints_its_unit_once_where_it_can() {
        let size = Size::parse("8 1/2 x 11 in").unwrap();
        assert_eq!(size.text(Unit::Inch), "8 1/2 x 11 in");
        assert_eq!(Size::parse(&size.text(Unit::Millimetre)), Ok(size));
    }

    #[test]
    fn cross_is_positive_clockwise_as_seen() {
        let along = |x, y| Vector { x: Length::from_nm(x), y: Length::from_nm(y) };
        assert_eq!(along(1, 0).cross(along(0, 1)), 1);
        assert_eq!(along(2, 3).dot(along(4, 5)), 23);
    }
}
