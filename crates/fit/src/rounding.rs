//! The one rounding of what is worked out back to what a maker measures, always to the safe side.

use model::{Length, Unit};

/// What a maker can still measure and cut: 1/64 in on a ruler in inches, 0.1 mm on one in millimetres (common practice,
/// no source).
#[must_use]
pub const fn step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::SIXTY_FOURTH,
        Unit::Millimetre | Unit::Centimetre => Length::from_nm(100_000),
    }
}

/// The longest length of whole [`step`]s that is no longer: for what has to go into something.
#[must_use]
pub fn down(length: Length, unit: Unit) -> Length {
    let step = step(unit);
    Length::from_nm(length.nm().div_euclid(step.nm()) * step.nm())
}

/// The shortest length of whole [`step`]s that is no shorter: for what something has to go round.
#[must_use]
pub fn up(length: Length, unit: Unit) -> Length {
    -down(-length, unit)
}

/// [`down`] for millimetres worked out in floats, which are brought to the nearest nanometre first; nothing for what is no
/// length at all.
#[must_use]
pub fn down_mm(mm: f64, unit: Unit) -> Length {
    down(Length::from_mm_rounded(mm).unwrap_or_default(), unit)
}

/// [`up`] for millimetres worked out in floats, which are brought to the nearest nanometre first. What is no length at all
/// is the longest there is.
#[must_use]
pub fn up_mm(mm: f64, unit: Unit) -> Length {
    up(Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT), unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(mm: f64, unit: Unit, least: &str, most: &str) {
        assert_eq!((down_mm(mm, unit).text(unit).as_str(), up_mm(mm, unit).text(unit).as_str()), (least, most), "{mm}");
    }

    #[test]
    fn rounding_goes_to_the_safe_side() {
        check(25.4, Unit::Inch, "1 in", "1 in");
        // What floats make of an inch is an inch.
        check(25.399_999_999_9, Unit::Inch, "1 in", "1 in");
        // 62.99 sixty-fourths.
        check(25.0, Unit::Inch, "31/32 in", "63/64 in");
        check(1.96, Unit::Millimetre, "1.9 mm", "2 mm");
        check(-0.05, Unit::Millimetre, "-0.1 mm", "0 mm");
        check(f64::NAN, Unit::Millimetre, "0 mm", "10000 mm");
    }
}
