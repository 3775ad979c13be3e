//! Usual measures of parts, in sixty-fourths of an inch and in whole millimetres, and rounding to a ruler's marks.
//!
//! All of them are common practice without a source, except where one is named.

use crate::length::{Length, Unit};

/// A measure as it is said in either system; the two are near one another and not equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measure {
    sixty_fourths: i64,
    tenths: i64,
}

/// How much smaller than its panel a part is, on each side, so that it lies clear of folds and of what folds over it:
/// 1/8 in, or 3 mm (common practice, no source).
pub const ALLOWANCE: Measure = Measure::new(8, 30);
/// How far glue stays away from a fold: 1/32 in, or 1 mm (common practice, no source).
pub const CLEARANCE: Measure = Measure::new(2, 10);
/// A line of glue: 1/4 in, or 6 mm (common practice, no source).
pub const GLUE_STRIP: Measure = Measure::new(16, 60);
/// How deep a pocket's gusset is: 1/4 in, or 6 mm (common practice, no source).
pub const GUSSET: Measure = Measure::new(16, 60);
/// A hinge's leaf, and the strip that a page or a flap hangs by: 1/2 in, or 12 mm (common practice, no source).
pub const LEAF: Measure = Measure::new(32, 120);
/// How much shorter a hinge is than what it carries, at each end: 1/8 in, or 3 mm (common practice, no source).
pub const HINGE_END: Measure = Measure::new(8, 30);
/// How wide a band across a corner is: 1/2 in, or 12 mm (common practice, no source).
pub const CORNER_BAND: Measure = Measure::new(32, 120);
/// How wide a belly band is: 1 1/2 in, or 40 mm (common practice, no source).
pub const BELLY_BAND: Measure = Measure::new(96, 400);
/// How much longer than once round a belly band is, so that it slides: 1/8 in, or 3 mm (common practice, no source).
pub const BAND_SLACK: Measure = Measure::new(8, 30);
/// How far the ends of a belly band lie on one another: 1/2 in, or 12 mm (common practice, no source).
pub const BAND_OVERLAP: Measure = Measure::new(32, 120);
/// How wide a tab is along its edge: 1 in, or 25 mm (common practice, no source).
pub const TAB_ALONG: Measure = Measure::new(64, 250);
/// How far a tab stands out: 1/2 in, or 12 mm (common practice, no source).
pub const TAB_OUT: Measure = Measure::new(32, 120);
/// The head of a small brad: 1/4 in, or 6 mm (common practice, no source).
pub const BRAD: Measure = Measure::new(16, 60);
/// How much a brad's head and legs together are thick: 1/32 in, or 1 mm (common practice, no source).
pub const BRAD_THICK: Measure = Measure::new(2, 10);
/// A small magnet or a hook-and-loop dot across: 3/8 in, or 10 mm (common practice, no source).
pub const DOT: Measure = Measure::new(24, 100);
/// A flat magnet's thickness: 1 mm, said so in both systems (common practice, no source).
pub const MAGNET_THICK: Length = Length::MILLIMETRE;
/// One half of a hook-and-loop pair: 2 mm, said so in both systems (common practice, no source).
pub const HOOK_AND_LOOP_THICK: Length = Length::from_mm_exact(2, 0);
/// How wide a ribbon is: 3/8 in, or 10 mm (common practice, no source).
pub const RIBBON: Measure = Measure::new(24, 100);
/// A ribbon's thickness: 1/64 in, or 0.4 mm (common practice, no source).
pub const RIBBON_THICK: Measure = Measure::new(1, 4);
/// A card of ID-1 size, width, height and thickness: 85.60 by 53.98 by 0.76 mm (ISO/IEC 7810).
pub const ID_1: [Length; 3] =
    [Length::from_mm_exact(85, 600_000), Length::from_mm_exact(53, 980_000), Length::from_mm_exact(0, 760_000)];

impl Measure {
    const fn new(sixty_fourths: i64, tenths: i64) -> Self {
        Self { sixty_fourths, tenths }
    }

    /// As a design in `units` has it.
    #[must_use]
    pub const fn of(self, units: Unit) -> Length {
        match units {
            Unit::Inch => Length::from_sixty_fourths(self.sixty_fourths),
            Unit::Millimetre | Unit::Centimetre => Length::from_nm(self.tenths * 100_000),
        }
    }
}

/// The marks that sizes are rounded to: sixteenths of an inch, or whole millimetres.
#[must_use]
pub const fn mark(units: Unit) -> Length {
    match units {
        Unit::Inch => Length::SIXTEENTH,
        Unit::Millimetre | Unit::Centimetre => Length::MILLIMETRE,
    }
}

/// The greatest mark that is no more than a length; the length itself, and at least a nanometre, where that is nothing.
#[must_use]
pub fn rounded_down(length: Length, units: Unit) -> Length {
    let step = mark(units).nm();
    let down = Length::from_nm(length.nm().div_euclid(step) * step);
    if down > Length::ZERO { down } else { length.max(Length::from_nm(1)) }
}

/// The least mark that is no less than a length.
#[must_use]
pub fn rounded_up(length: Length, units: Unit) -> Length {
    let step = mark(units).nm();
    let past = length.nm().rem_euclid(step);
    if past == 0 { length } else { length + Length::from_nm(step - past) }
}
