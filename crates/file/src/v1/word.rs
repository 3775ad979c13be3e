//! The words that version 1 has to itself: three lists that later versions made longer.

use crate::quoted::Worded;
use crate::word::{Measure, not};
use model::{Direction, LineId, Stop};

/// What makes the line.
#[derive(Clone, Copy)]
pub(super) enum Tool {
    Score,
    Cut,
}

/// Which way a score folds.
#[derive(Clone, Copy)]
pub(super) struct Way(pub(super) Direction);

/// Where a run starts or ends.
pub(super) struct End(pub(super) Stop);

impl Worded for Tool {
    const EXPECTED: &'static str = "\"score\" or \"cut\"";

    fn read(text: &str) -> Result<Self, String> {
        match text {
            "score" => Ok(Self::Score),
            "cut" => Ok(Self::Cut),
            _ => Err(not(text, Self::EXPECTED)),
        }
    }
}

impl Worded for Way {
    const EXPECTED: &'static str = "\"valley\" or \"mountain\"";

    fn read(text: &str) -> Result<Self, String> {
        match text {
            "valley" => Ok(Self(Direction::Valley)),
            "mountain" => Ok(Self(Direction::Mountain)),
            _ => Err(not(text, Self::EXPECTED)),
        }
    }
}

impl Worded for End {
    const EXPECTED: &'static str = "\"edge\", a line such as \"line 3\" or a length such as \"2 3/4 in\"";

    fn read(text: &str) -> Result<Self, String> {
        match text {
            "edge" => Ok(Self(Stop::Edge)),
            _ if text.starts_with("line") => LineId::read(text).map(|line| Self(Stop::Line(line))),
            // A word without a figure was not meant as a length.
            _ if !text.contains(char::is_numeric) => Err(not(text, Self::EXPECTED)),
            _ => Measure::read(text).map(|measure| Self(Stop::At(measure.length))),
        }
    }
}
