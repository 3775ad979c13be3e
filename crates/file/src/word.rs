//! Words and numbers that all versions of the format have in common: lengths, units, lines, turns, angles.
//!
//! What a version reads never changes. A word that gains a meaning in a later version gets a type of its own in the
//! files of each.

use crate::quoted::{Numbered, Worded, Written};
use model::{Datum, FoldAngle, Length, LineId, Turn, Unit};
use schemars::{Schema, json_schema};

/// A length with the unit it is written in, which reading has no use for.
#[derive(Clone, Copy)]
pub(crate) struct Measure {
    pub(crate) length: Length,
    pub(crate) unit: Unit,
}

/// A length without a sign in the plain spellings, as a regular expression of both ECMAScript and Python.
pub(crate) const UNSIGNED: &str = "(?:[0-9]{1,9}(?:\\.[0-9]{1,9})?|(?:[0-9]{1,9}[ -])?[0-9]{1,9}/[0-9]{1,9}\
                                   |(?:[0-9]{1,9} ?)?[½¼¾⅛⅜⅝⅞⅓⅔⅕⅖]) ?(?:in|inch|inches|\"|mm|cm)";

/// A line in words, as a regular expression.
pub(crate) const LINE: &str = "line [0-9]{1,10}";

impl Worded for Measure {
    const EXPECTED: &'static str = "a length in quotes such as \"2 3/4 in\" or \"70 mm\"";

    fn read(text: &str) -> Result<Self, String> {
        let length = text.parse().map_err(|error: model::LengthError| error.to_string())?;
        Ok(Self { length, unit: Unit::default() })
    }
}

impl Written for Measure {
    const NAME: &'static str = "Length";

    fn words(&self) -> String {
        self.length.text(self.unit)
    }

    fn schema() -> Schema {
        let about = "A length with its unit, exact to the nanometre and at most 10 m";
        spelled(&format!("[-+−]?{UNSIGNED}"), about, &["2 3/4 in", "70 mm"])
    }
}

impl Worded for Datum {
    const EXPECTED: &'static str = "\"edge\" or a line such as \"line 3\"";

    fn read(text: &str) -> Result<Self, String> {
        let line = || line_called(text).map(Self::Line).ok_or_else(|| not(text, Self::EXPECTED));
        if text == "edge" { Ok(Self::Edge) } else { line() }
    }
}

impl Written for Datum {
    const NAME: &'static str = "Datum";

    fn words(&self) -> String {
        match self {
            Self::Edge => "edge".to_owned(),
            Self::Line(line) => line.words(),
        }
    }

    fn schema() -> Schema {
        spelled(&format!("(?:edge|{LINE})"), "The left edge of the sheet as it lies, or a line", &["edge", "line 3"])
    }
}

impl Worded for LineId {
    const EXPECTED: &'static str = "a line such as \"line 3\"";

    fn read(text: &str) -> Result<Self, String> {
        line_called(text).ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for LineId {
    const NAME: &'static str = "LineName";

    fn words(&self) -> String {
        format!("line {}", self.0)
    }

    fn schema() -> Schema {
        spelled(LINE, "A line by its id", &["line 3"])
    }
}

/// Implements [`Worded`] and [`Written`] for a type with one word for each value.
macro_rules! one_word {
    ($type:ty, $name:literal, $about:literal, $expected:literal, $($word:literal => $value:path),+) => {
        impl $crate::quoted::Worded for $type {
            const EXPECTED: &'static str = $expected;

            fn read(text: &str) -> Result<Self, String> {
                match text {
                    $($word => Ok($value),)+
                    _ => Err($crate::word::not(text, Self::EXPECTED)),
                }
            }
        }

        impl $crate::quoted::Written for $type {
            const NAME: &'static str = $name;

            fn words(&self) -> String {
                match self {
                    $($value => $word.to_owned(),)+
                }
            }

            fn schema() -> schemars::Schema {
                schemars::json_schema!({ "description": concat!($about, "."), "type": "string", "enum": [$($word),+] })
            }
        }
    };
}
pub(crate) use one_word;

one_word!(Unit, "Unit", "What lengths are shown in", "\"in\", \"mm\" or \"cm\"",
    "in" => Unit::Inch, "mm" => Unit::Millimetre, "cm" => Unit::Centimetre);

impl Numbered for Turn {
    const EXPECTED: &'static str = "a count of quarter turns, 0 to 3,";
    const NAME: &'static str = "Turn";
    const ALL: &'static [u64] = &[0, 1, 2, 3];

    fn read(number: u64) -> Option<Self> {
        u8::try_from(number).ok().and_then(Self::from_count)
    }

    fn number(&self) -> u64 {
        self.count().into()
    }
}

impl Numbered for FoldAngle {
    const EXPECTED: &'static str = "180 or 90";
    const NAME: &'static str = "FoldAngle";
    const ALL: &'static [u64] = &[180, 90];

    fn read(number: u64) -> Option<Self> {
        match number {
            180 => Some(Self::Flat),
            90 => Some(Self::Square),
            _ => None,
        }
    }

    fn number(&self) -> u64 {
        self.degrees().unsigned_abs().into()
    }
}

/// The line that `line 3` names.
pub(crate) fn line_called(text: &str) -> Option<LineId> {
    let digits = text.strip_prefix("line ").filter(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()))?;
    digits.parse().ok().map(LineId)
}

/// The sentence about a text that is not what belongs in its place.
pub(crate) fn not(text: &str, expected: &str) -> String {
    let shown: String = text.chars().take(40).collect();
    format!("{shown:?} stands where {expected} belongs; write that instead")
}

/// The schema of text that is spelled as a regular expression says from its start to its end.
pub(crate) fn spelled(pattern: &str, about: &str, examples: &[&str]) -> Schema {
    let (about, pattern) = (format!("{about}."), format!("^{pattern}$"));
    json_schema!({ "description": about, "type": "string", "pattern": pattern, "examples": examples })
}
