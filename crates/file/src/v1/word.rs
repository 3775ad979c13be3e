//! The words and numbers of version 1: how lengths, stops, lines, units and the like are spelled.

use crate::quoted::{Numbered, Worded};
use model::{Datum, Direction, FoldAngle, Length, LineId, Stop, Turn, Unit};

/// A length with the unit it is written in, which reading has no use for.
#[derive(Clone, Copy)]
pub(super) struct Measure {
    pub(super) length: Length,
    pub(super) unit: Unit,
}

/// Where a run starts or ends, with the unit it is written in.
pub(super) struct End {
    pub(super) stop: Stop,
    pub(super) unit: Unit,
}

/// What makes the line.
#[derive(Clone, Copy)]
pub(super) enum Tool {
    Score,
    Cut,
}

impl Worded for Measure {
    const EXPECTED: &'static str = "a length in quotes such as \"2 3/4 in\" or \"70 mm\"";

    fn read(text: &str) -> Result<Self, String> {
        let length = text.parse().map_err(|error: model::LengthError| error.to_string())?;
        Ok(Self { length, unit: Unit::default() })
    }

    fn words(&self) -> String {
        self.length.text(self.unit)
    }
}

impl Worded for End {
    const EXPECTED: &'static str = "\"edge\", a line such as \"line 3\" or a length such as \"2 3/4 in\"";

    fn read(text: &str) -> Result<Self, String> {
        let unit = Unit::default();
        let stop = match text {
            "edge" => Stop::Edge,
            _ if text.starts_with("line") => Stop::Line(LineId::read(text)?),
            // A word without a figure was not meant as a length.
            _ if !text.contains(char::is_numeric) => return Err(not(text, Self::EXPECTED)),
            _ => Stop::At(Measure::read(text)?.length),
        };
        Ok(Self { stop, unit })
    }

    fn words(&self) -> String {
        match self.stop {
            Stop::Edge => "edge".to_owned(),
            Stop::Line(line) => line.words(),
            Stop::At(length) => length.text(self.unit),
        }
    }
}

impl Worded for Datum {
    const EXPECTED: &'static str = "\"edge\" or a line such as \"line 3\"";

    fn read(text: &str) -> Result<Self, String> {
        let line = || line_called(text).map(Self::Line).ok_or_else(|| not(text, Self::EXPECTED));
        if text == "edge" { Ok(Self::Edge) } else { line() }
    }

    fn words(&self) -> String {
        match self {
            Self::Edge => "edge".to_owned(),
            Self::Line(line) => line.words(),
        }
    }
}

impl Worded for LineId {
    const EXPECTED: &'static str = "a line such as \"line 3\"";

    fn read(text: &str) -> Result<Self, String> {
        line_called(text).ok_or_else(|| not(text, Self::EXPECTED))
    }

    fn words(&self) -> String {
        format!("line {}", self.0)
    }
}

/// Implements [`Worded`] for a type with one word for each value.
macro_rules! one_word {
    ($type:ty, $expected:literal, $($word:literal => $value:path),+) => {
        impl Worded for $type {
            const EXPECTED: &'static str = $expected;

            fn read(text: &str) -> Result<Self, String> {
                match text {
                    $($word => Ok($value),)+
                    _ => Err(not(text, Self::EXPECTED)),
                }
            }

            fn words(&self) -> String {
                match self {
                    $($value => $word.to_owned(),)+
                }
            }
        }
    };
}

one_word!(Unit, "\"in\", \"mm\" or \"cm\"", "in" => Unit::Inch, "mm" => Unit::Millimetre, "cm" => Unit::Centimetre);
one_word!(Tool, "\"score\" or \"cut\"", "score" => Tool::Score, "cut" => Tool::Cut);
one_word!(Direction, "\"valley\" or \"mountain\"", "valley" => Direction::Valley, "mountain" => Direction::Mountain);

impl Numbered for Turn {
    const EXPECTED: &'static str = "a count of quarter turns, 0 to 3,";

    fn read(number: u64) -> Option<Self> {
        u8::try_from(number).ok().and_then(Self::from_count)
    }

    fn number(&self) -> u64 {
        self.count().into()
    }
}

impl Numbered for FoldAngle {
    const EXPECTED: &'static str = "180 or 90";

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

fn line_called(text: &str) -> Option<LineId> {
    let digits = text.strip_prefix("line ").filter(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()))?;
    digits.parse().ok().map(LineId)
}

fn not(text: &str, expected: &str) -> String {
    let shown: String = text.chars().take(40).collect();
    format!("{shown:?} stands where {expected} belongs; write that instead")
}
