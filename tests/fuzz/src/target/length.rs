//! Any text is refused with a sentence, or is a measure that is written and read back as it is; sums and shares of lengths
//! stay exact.

use model::{Bulk, Length, Size, Unit, Weight};

const UNITS: [Unit; 3] = [Unit::Inch, Unit::Millimetre, Unit::Centimetre];

pub(crate) fn run(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else { return };
    for unit in UNITS {
        match Length::parse_in(text, unit) {
            Ok(length) => holds(length),
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
    if let Ok(length) = text.parse::<Length>() {
        holds(length);
    }
    if let Ok(size) = Size::parse(text) {
        UNITS.iter().for_each(|&unit| assert_eq!(Size::parse(&size.text(unit)), Ok(size), "{text}"));
    }
    if let Ok(weight) = Weight::parse(text) {
        assert_eq!(Weight::parse(&weight.to_string()), Ok(weight), "{text}");
        assert!(weight.grammage().is_finite());
    }
    if let Ok(bulk) = Bulk::parse(text) {
        assert_eq!(Bulk::parse(&bulk.to_string()), Ok(bulk), "{text}");
    }
    // Two lengths in one text are added and taken apart again.
    if let Some((one, other)) = text.split_once(';')
        && let (Ok(one), Ok(other)) = (one.parse::<Length>(), other.parse::<Length>())
    {
        assert_eq!(one + other - other, one);
        assert_eq!((one + other).half() + (one + other - (one + other).half()), one + other);
        assert!(one.snapped(Length::SIXTY_FOURTH).is_multiple_of(Length::SIXTY_FOURTH));
    }
}

fn holds(length: Length) {
    assert!(length.abs() <= Length::LIMIT);
    for unit in UNITS {
        let written = length.text(unit);
        assert_eq!(written.parse(), Ok(length), "{written}");
        assert!(!length.readable(unit).is_empty());
    }
}
