//! Paper sizes by name.

use crate::geometry::Size;
use crate::length::Length;

/// A named paper size: name, width and height in tenths of a millimetre, portrait where it is oblong.
///
/// A and B series: ISO 216:2007, each size half the one before, rounded down to the millimetre; untrimmed sheets RA and
/// SRA: ISO 217:2013. Letter, legal and tabloid in inches (Letter is ANSI A, tabloid ANSI B). Square craft sheets: common
/// practice, no source.
const NAMED: [(&str, i64, i64); 40] = [
    ("A0", 8410, 11890),
    ("A1", 5940, 8410),
    ("A2", 4200, 5940),
    ("A3", 2970, 4200),
    ("A4", 2100, 2970),
    ("A5", 1480, 2100),
    ("A6", 1050, 1480),
    ("A7", 740, 1050),
    ("A8", 520, 740),
    ("A9", 370, 520),
    ("A10", 260, 370),
    ("B0", 10000, 14140),
    ("B1", 7070, 10000),
    ("B2", 5000, 7070),
    ("B3", 3530, 5000),
    ("B4", 2500, 3530),
    ("B5", 1760, 2500),
    ("B6", 1250, 1760),
    ("B7", 880, 1250),
    ("B8", 620, 880),
    ("B9", 440, 620),
    ("B10", 310, 440),
    ("RA0", 8600, 12200),
    ("RA1", 6100, 8600),
    ("RA2", 4300, 6100),
    ("RA3", 3050, 4300),
    ("RA4", 2150, 3050),
    ("SRA0", 9000, 12800),
    ("SRA1", 6400, 9000),
    ("SRA2", 4500, 6400),
    ("SRA3", 3200, 4500),
    ("SRA4", 2250, 3200),
    ("letter", 2159, 2794),
    ("legal", 2159, 3556),
    ("tabloid", 2794, 4318),
    ("12x12", 3048, 3048),
    ("8x8", 2032, 2032),
    ("6x6", 1524, 1524),
    ("6x12", 1524, 3048),
    ("8.5x11", 2159, 2794),
];

/// The size called `name`, in upper or lower case; `None` when there is none.
#[must_use]
pub fn named(name: &str) -> Option<Size> {
    let tenth = |count: i64| Length::from_nm(count * 100_000);
    let (_, width, height) = NAMED.iter().find(|(known, ..)| known.eq_ignore_ascii_case(name))?;
    Size::new(tenth(*width), tenth(*height))
}

/// The names that [`named`] knows.
pub fn names() -> impl Iterator<Item = &'static str> {
    NAMED.iter().map(|(name, ..)| *name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_iso_size_is_half_the_one_before() {
        // ISO 216:2007: halve the longer side, round down to a whole millimetre.
        for series in ["A", "B"] {
            for step in 0..10 {
                let size = |n: i32| named(&format!("{series}{n}")).unwrap();
                let (larger, smaller) = (size(step), size(step + 1));
                let halved = larger.height().half().nm() / 1_000_000 * 1_000_000;
                assert_eq!((smaller.width().nm(), smaller.height()), (halved, larger.width()), "{series}{step}");
            }
        }
    }

    #[test]
    fn untrimmed_sheets_are_as_the_standard_prints_them() {
        // ISO 217:2013: whole centimetres.
        let size = |name: &str| named(name).map(|size| (size.width().nm() / 1_000_000, size.height().nm() / 1_000_000));
        assert_eq!(size("RA3"), Some((305, 430)));
        assert_eq!(size("SRA0"), Some((900, 1280)));
        assert_eq!(size("SRA4"), Some((225, 320)));
    }

    #[test]
    fn inch_sizes_are_exact_in_inches() {
        // Letter 8 1/2 x 11 in, tabloid 11 x 17 in (ANSI A and B); the rest by their own names.
        for (name, text) in [("letter", "8 1/2x11in"), ("tabloid", "11x17in"), ("12x12", "12x12in"), ("6x12", "6x12in")]
        {
            assert_eq!(named(name), Size::parse(text).ok(), "{name}");
        }
    }

    #[test]
    fn every_name_is_known() {
        assert!(names().all(|name| named(name).is_some()));
        assert_eq!(named("A99"), None);
    }
}
