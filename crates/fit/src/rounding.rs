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
    down_by(length, step(unit))
}

/// The shortest length of whole [`step`]s that is no shorter: for what something has to go round.
#[must_use]
pub fn up(length: Length, unit: Unit) -> Length {
    -down(-length, unit)
}

/// What is proposed to be cut, no larger than there is room for: as it is where it lies on a mark of the ruler, 1/64 in or
/// half a millimetre, else down to whole thirty-seconds of an inch or halves of a millimetre (our choice).
#[must_use]
pub fn to_cut(length: Length, unit: Unit) -> Length {
    let (mark, step) = match unit {
        Unit::Inch => (Length::SIXTY_FOURTH, Length::from_sixty_fourths(2)),
        Unit::Millimetre | Unit::Centimetre => (Length::from_nm(500_000), Length::from_nm(500_000)),
    };
    if length.is_multiple_of(mark) { length } else { down_by(length, step) }
}

/// How thick a stack may be: down to whole thirty-seconds of an inch or tenths of a millimetre.
#[must_use]
pub fn thick_down(length: Length, unit: Unit) -> Length {
    down_by(length, thick_step(unit))
}

/// How thick something is, at most: up to whole thirty-seconds of an inch or tenths of a millimetre.
#[must_use]
pub fn thick_up(length: Length, unit: Unit) -> Length {
    -thick_down(-length, unit)
}

/// How large something is at a glance, and at most: up to whole sixteenths of an inch or millimetres.
#[must_use]
pub fn size_up(length: Length, unit: Unit) -> Length {
    let step = match unit {
        Unit::Inch => Length::from_sixty_fourths(4),
        Unit::Millimetre | Unit::Centimetre => Length::MILLIMETRE,
    };
    -down_by(-length, step)
}

/// A thickness of paper is no measure of a ruler; what is finer than this is not read off one.
const fn thick_step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_sixty_fourths(2),
        Unit::Millimetre | Unit::Centimetre => Length::from_nm(100_000),
    }
}

fn down_by(length: Length, step: Length) -> Length {
    Length::from_nm(length.nm().div_euclid(step.nm()) * step.nm())
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

    #[track_caller]
    fn check_with(round: fn(Length, Unit) -> Length, mm: f64, unit: Unit, expected: &str) {
        assert_eq!(round(Length::from_mm_rounded(mm).unwrap(), unit).text(unit), expected, "{mm}");
    }

    #[test]
    fn what_is_proposed_to_be_cut_lies_on_a_mark() {
        check_with(to_cut, 73.65, Unit::Millimetre, "73.5 mm");
        check_with(to_cut, 73.5, Unit::Millimetre, "73.5 mm");
        check_with(to_cut, 73.5, Unit::Centimetre, "7.35 cm");
        // 5 55/64 in is on a ruler; a little less is 5 27/32 in.
        check_with(to_cut, 148.828_125, Unit::Inch, "5 55/64 in");
        check_with(to_cut, 148.8, Unit::Inch, "5 27/32 in");
    }

    #[test]
    fn the_closed_folio_is_said_no_smaller_than_it_is() {
        check_with(size_up, 148.8, Unit::Inch, "5 7/8 in");
        check_with(size_up, 139.7, Unit::Inch, "5 1/2 in");
        check_with(size_up, 139.7, Unit::Millimetre, "140 mm");
        check_with(thick_up, 7.55, Unit::Millimetre, "7.6 mm");
        check_with(thick_up, 7.55, Unit::Inch, "5/16 in");
        check_with(thick_up, 0.3, Unit::Inch, "1/32 in");
        check_with(thick_down, 5.15, Unit::Millimetre, "5.1 mm");
        check_with(thick_down, 5.15, Unit::Inch, "3/16 in");
        check_with(thick_down, 0.5, Unit::Inch, "0 in");
    }
}
