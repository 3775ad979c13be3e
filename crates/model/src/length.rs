//! Exact lengths: whole nanometres, read and printed the way makers write them.

pub(crate) mod read;

use read::parse;
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length, exact to the nanometre, positive or negative.
///
/// 1/64 in is 396 875 nm, 1 mm is 1 000 000 nm and 1 mil is 25 400 nm, so what a maker types in either
/// system is held without rounding (1 in = 25.4 mm exactly, by the international yard of 1959).
///
/// ```
/// use foliowright_model::{Length, Unit};
/// let gusset: Length = "1/4 in".parse()?;
/// assert_eq!(gusset, Length::from_mm_exact(6, 350_000));
/// assert_eq!(gusset.text(Unit::Inch), "1/4 in");
/// # Ok::<(), foliowright_model::LengthError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

/// The unit a length is read or printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Unit {
    /// Inches, printed as fractions to a sixty-fourth.
    #[default]
    Inch,
    /// Millimetres, printed as decimals.
    Millimetre,
    /// Centimetres: read, and printed when asked for.
    Centimetre,
}

impl Unit {
    /// "in", "mm" or "cm".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
        }
    }

    /// The unit to show things in when a maker has typed a size such as `12x12in`, `210x297mm` or `A4`: the one it ends
    /// in; without one, inches for names with an x in them and for the sheets sold in inches, else millimetres.
    #[must_use]
    pub fn of_text(text: &str) -> Self {
        let text = text.trim().to_lowercase();
        let ends = |units: &[&str]| units.iter().any(|unit| text.ends_with(unit));
        if ends(&["mm"]) {
            Self::Millimetre
        } else if ends(&["cm"]) {
            Self::Centimetre
        } else if ends(&["in", "\"", "inch", "inches", "letter", "legal", "tabloid"]) || text.contains('x') {
            Self::Inch
        } else {
            Self::Millimetre
        }
    }
}

/// Why a text is no length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LengthError {
    /// There is nothing to read.
    Empty,
    /// Something that is no number stands where one is expected.
    NotANumber(String),
    /// The number is followed by something that is no unit.
    UnknownUnit(String),
    /// There is a number but no unit.
    MissingUnit(String),
    /// A fraction is over nothing.
    OverZero(String),
    /// The length falls between two nanometres; the nearest one that doesn't is given.
    NotExact(String, Length),
    /// The length is beyond [`Length::LIMIT`].
    TooLarge(String),
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "no length is given; write one such as \"2 3/4 in\" or \"70 mm\""),
            Self::NotANumber(text) => {
                write!(f, "\"{text}\" is not a length; write one such as \"2 3/4 in\", \"2.75 in\" or \"70 mm\"")
            }
            Self::UnknownUnit(text) => write!(f, "\"{text}\" is not a unit; use in, mm or cm"),
            Self::MissingUnit(text) => write!(f, "\"{text}\" has no unit; add in, mm or cm"),
            Self::OverZero(text) => write!(f, "\"{text}\" divides by nothing; give the fraction a bottom figure"),
            Self::NotExact(text, near) => write!(
                f,
                "\"{text}\" has no exact length; the nearest is {}, or {} on a ruler",
                near.text(Unit::Millimetre),
                near.snapped(Length::SIXTY_FOURTH).text(Unit::Inch)
            ),
            Self::TooLarge(text) => write!(f, "\"{text}\" is more than 10 m; no sheet is that large"),
        }
    }
}

impl std::error::Error for LengthError {}

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// One sixty-fourth of an inch.
    pub const SIXTY_FOURTH: Self = Self(396_875);
    /// One sixteenth of an inch.
    pub const SIXTEENTH: Self = Self(1_587_500);
    /// One eighth of an inch, the groove spacing of a common scoring board (common practice, no source).
    pub const EIGHTH: Self = Self(3_175_000);
    /// One inch.
    pub const INCH: Self = Self(25_400_000);
    /// One millimetre.
    pub const MILLIMETRE: Self = Self(1_000_000);
    /// Ten metres: the longest length that is read. Larger than any sheet, small enough that a billion of them
    /// add up within an `i64`.
    pub const LIMIT: Self = Self(10_000_000_000);

    /// A length of so many nanometres.
    #[must_use]
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// A length of whole millimetres and nanometres: `from_mm_exact(6, 350_000)` is 6.35 mm.
    #[must_use]
    pub const fn from_mm_exact(mm: i64, nm: i64) -> Self {
        Self(mm * 1_000_000 + nm)
    }

    /// A length of so many sixty-fourths of an inch.
    #[must_use]
    pub const fn from_sixty_fourths(count: i64) -> Self {
        Self(count * Self::SIXTY_FOURTH.0)
    }

    /// The one rounding from derived floats back to an authored length: to the nearest nanometre, halves away
    /// from zero. `None` when the value is not finite or beyond [`Length::LIMIT`].
    #[must_use]
    pub fn from_mm_rounded(mm: f64) -> Option<Self> {
        let nm = (mm * 1e6).round();
        #[expect(clippy::cast_precision_loss, reason = "the limit is far below 2^53")]
        let limit = Self::LIMIT.0 as f64;
        #[expect(clippy::cast_possible_truncation, reason = "finite and within the limit")]
        (nm.is_finite() && nm.abs() <= limit).then_some(Self(nm as i64))
    }

    /// Nanometres.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// Millimetres, for derived values: exact to 1 part in 2^53.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "authored lengths are far below 2^53 nm")]
    pub fn mm(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// Without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The nearest whole multiple of `step`, halves away from zero; `self` when `step` is not positive.
    #[must_use]
    pub const fn snapped(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        let half = step.0 / 2;
        let shifted = if self.0 >= 0 { self.0 + half } else { self.0 - half };
        Self(shifted / step.0 * step.0)
    }

    /// Whether it is a whole multiple of `step`. Everything is a multiple of a step that is not positive.
    #[must_use]
    pub const fn is_multiple_of(self, step: Self) -> bool {
        step.0 <= 0 || self.0 % step.0 == 0
    }

    /// Half of it, rounded towards zero to a nanometre.
    #[must_use]
    pub const fn half(self) -> Self {
        Self(self.0 / 2)
    }

    /// Reads a length that may leave out its unit, which is then `unit`.
    ///
    /// Takes whole numbers, decimals, fractions (`3/4`), mixed numbers (`2 3/4`, `2-3/4`, `2¾`), a sign, and the
    /// units in, inch, inches, ", mm, cm.
    ///
    /// # Errors
    /// Says what is wrong with the text; see [`LengthError`].
    pub fn parse_in(text: &str, unit: Unit) -> Result<Self, LengthError> {
        parse(text, Some(unit))
    }

    /// The length as text in `unit`, exactly: reading it back gives the same length.
    ///
    /// Inches are fractions to a sixty-fourth where that is exact, else decimals, else millimetres.
    #[must_use]
    pub fn text(self, unit: Unit) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let nm = self.0.unsigned_abs();
        match unit {
            Unit::Inch if nm.is_multiple_of(Self::SIXTY_FOURTH.0.unsigned_abs()) => {
                format!("{sign}{} in", fraction(nm / Self::SIXTY_FOURTH.0.unsigned_abs()))
            }
            // 1/100 000 in is 254 nm.
            Unit::Inch if nm.is_multiple_of(254) => format!("{sign}{} in", decimal(nm / 254, 5)),
            Unit::Inch | Unit::Millimetre => format!("{sign}{} mm", decimal(nm, 6)),
            Unit::Centimetre => format!("{sign}{} cm", decimal(nm, 7)),
        }
    }

    /// The length as text for reading only: rounded to a sixty-fourth of an inch or a hundredth of a millimetre,
    /// with "about" before it when that rounds.
    #[must_use]
    pub fn readable(self, unit: Unit) -> String {
        let step = match unit {
            Unit::Inch => Self::SIXTY_FOURTH,
            Unit::Millimetre | Unit::Centimetre => Self(10_000),
        };
        if self.is_multiple_of(step) { self.text(unit) } else { format!("about {}", self.snapped(step).text(unit)) }
    }
}

impl std::str::FromStr for Length {
    type Err = LengthError;

    /// Reads a length with its unit, as in a project file.
    fn from_str(text: &str) -> Result<Self, LengthError> {
        parse(text, None)
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, by: i64) -> Self {
        Self(self.0 * by)
    }
}

impl Div<i64> for Length {
    type Output = Self;
    fn div(self, by: i64) -> Self {
        Self(self.0 / by)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

/// `count` sixty-fourths as a mixed number in lowest terms.
fn fraction(count: u64) -> String {
    let (whole, mut top, mut bottom) = (count / 64, count % 64, 64);
    while top > 0 && top.is_multiple_of(2) {
        top /= 2;
        bottom /= 2;
    }
    match (whole, top) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{top}/{bottom}"),
        _ => format!("{whole} {top}/{bottom}"),
    }
}

/// `value` / 10^`places` without trailing noughts.
fn decimal(value: u64, places: u32) -> String {
    let scale = 10_u64.pow(places);
    let digits = format!("{:0width$}", value % scale, width = places as usize);
    let digits = digits.trim_end_matches('0');
    if digits.is_empty() { (value / scale).to_string() } else { format!("{}.{digits}", value / scale) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn check(text: &str, nm: i64) {
        assert_eq!(text.parse::<Length>().map(Length::nm), Ok(nm), "{text}");
    }

    #[track_caller]
    fn refuse(text: &str, says: &str) {
        let said = text.parse::<Length>().unwrap_err().to_string();
        assert!(said.contains(says), "{text}: {said}");
    }

    #[test]
    fn reads_what_makers_write() {
        // 1 in = 25.4 mm exactly: international yard and pound agreement, 1959.
        check("1 in", 25_400_000);
        check("2 3/4 in", 69_850_000);
        check("2-3/4in", 69_850_000);
        check("2¾\"", 69_850_000);
        check("¾ inch", 19_050_000);
        check("2.75 inches", 69_850_000);
        check(".5 in", 12_700_000);
        check("1/64 in", 396_875);
        check("-1/8 in", -3_175_000);
        check("70 mm", 70_000_000);
        check("6.35mm", 6_350_000);
        check("7.1 cm", 71_000_000);
        check("0.000001 mm", 1);
        check("10000 mm", 10_000_000_000);
    }

    #[test]
    fn refusals_say_what_was_wrong() {
        refuse("", "no length");
        refuse("2 3/4", "no unit");
        refuse("two in", "is not a unit");
        refuse("2..5 in", "is not a length");
        refuse("2 3 in", "is not a length");
        refuse("1/0 in", "divides by nothing");
        refuse("1/3 in", "8.466667 mm");
        refuse("3 furlongs", "\"furlongs\" is not a unit");
        refuse("99999999 in", "more than 10 m");
        refuse("99999999999999999999999999 in", "is not a length");
        refuse("1e9 mm", "is not a unit");
        refuse(&format!("1 in{}junk", " ".repeat(80)), "is not a length");
    }

    #[test]
    fn a_unit_left_out_is_the_one_offered() {
        assert_eq!(Length::parse_in("2 1/2", Unit::Inch), Ok(Length::from_nm(63_500_000)));
        assert_eq!(Length::parse_in("2.5", Unit::Centimetre), Ok(Length::from_nm(25_000_000)));
        assert_eq!(Length::parse_in("1 in", Unit::Millimetre), Ok(Length::INCH));
    }

    #[test]
    fn prints_the_shortest_exact_text() {
        #[track_caller]
        fn prints(nm: i64, unit: Unit, text: &str) {
            assert_eq!(Length::from_nm(nm).text(unit), text);
        }
        prints(69_850_000, Unit::Inch, "2 3/4 in");
        prints(0, Unit::Inch, "0 in");
        prints(-3_175_000, Unit::Inch, "-1/8 in");
        prints(71_120_000, Unit::Inch, "2.8 in");
        prints(70_000_000, Unit::Inch, "70 mm");
        prints(69_850_000, Unit::Millimetre, "69.85 mm");
        prints(69_850_000, Unit::Centimetre, "6.985 cm");
        prints(1, Unit::Inch, "0.000001 mm");
    }

    #[test]
    fn the_unit_of_a_typed_size_is_the_one_it_ends_in() {
        for (text, unit) in [
            ("12x12in", Unit::Inch),
            ("12x12", Unit::Inch),
            ("letter", Unit::Inch),
            ("127x254 mm", Unit::Millimetre),
            ("21 x 29.7 cm", Unit::Centimetre),
            ("A4", Unit::Millimetre),
        ] {
            assert_eq!(Unit::of_text(text), unit, "{text}");
        }
    }

    #[test]
    fn snapping_goes_to_the_nearer_groove() {
        let near = |nm: i64| Length::from_nm(nm).snapped(Length::EIGHTH).nm();
        assert_eq!(near(3_175_000), 3_175_000);
        assert_eq!(near(4_000_000), 3_175_000);
        assert_eq!(near(5_000_000), 6_350_000);
        assert_eq!(near(-5_000_000), -6_350_000);
        assert_eq!(Length::from_nm(77).snapped(Length::ZERO).nm(), 77);
    }

    #[test]
    fn the_one_rounding_refuses_what_is_no_length() {
        assert_eq!(Length::from_mm_rounded(6.35), Some(Length::from_nm(6_350_000)));
        assert_eq!(Length::from_mm_rounded(f64::NAN), None);
        assert_eq!(Length::from_mm_rounded(1e12), None);
    }

    proptest! {
        #[test]
        fn printed_text_reads_back_exactly(nm in -10_000_000_000_i64..=10_000_000_000, unit in 0..3) {
            let unit = [Unit::Inch, Unit::Millimetre, Unit::Centimetre][unit as usize];
            let length = Length::from_nm(nm);
            prop_assert_eq!(length.text(unit).parse::<Length>(), Ok(length));
        }

        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}") {
            if let Ok(length) = text.parse::<Length>() {
                prop_assert!(length.abs() <= Length::LIMIT);
            }
        }
    }
}
