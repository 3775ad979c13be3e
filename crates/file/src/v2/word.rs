//! The words that version 2 writes beside those of all versions.

use super::named::{FORMULA, Reckoned, Reckons};
use crate::quoted::{Worded, Written};
use crate::word::{LINE, UNSIGNED, line_called, not, one_word, spelled};
use model::{
    Border, Bulk, Colour, Direction, Face, Formula, Grade, Grain, Length, Pattern, SheetEdge, Stop, StripSide, Typed,
    Unit, Weight,
};
use schemars::{Schema, json_schema};

/// What is done along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tool {
    Score,
    Cut,
    Slot,
    Trim,
    Notch,
    Guide,
}

/// Where a run starts or ends, with the unit it is written in.
pub(crate) struct End {
    pub(super) stop: Stop,
    pub(super) unit: Unit,
    pub(super) formula: Option<Formula>,
}

impl Reckons for End {
    fn formula(&self) -> Option<&Formula> {
        self.formula.as_ref()
    }

    fn put(&mut self, typed: Typed) {
        match &mut self.stop {
            Stop::At(length) | Stop::Past(_, length) => *length = typed.length,
            Stop::Edge | Stop::Line(_) => {}
        }
        self.formula = typed.formula;
    }
}

/// The SHA-256 of a file.
pub(crate) struct Digest(pub(super) [u8; 32]);

one_word!(Tool, "Work", "What is done along a line",
    "\"score\", \"cut\", \"slot\", \"trim\", \"notch\" or \"guide\"",
    "score" => Tool::Score, "cut" => Tool::Cut, "slot" => Tool::Slot, "trim" => Tool::Trim, "notch" => Tool::Notch,
    "guide" => Tool::Guide);

one_word!(Direction, "Fold", "Which way a score folds: the fronts come together, or the backs, or either way",
    "\"valley\", \"mountain\" or \"either\"",
    "valley" => Direction::Valley, "mountain" => Direction::Mountain, "either" => Direction::Either);

one_word!(Face, "Face", "A face of the sheet", "\"front\" or \"back\"", "front" => Face::Front, "back" => Face::Back);

one_word!(StripSide, "SideOfLine", "The side of a line, with the sheet so turned that the line starts at the top",
    "\"left\", \"right\" or \"centred\"",
    "left" => StripSide::Left, "right" => StripSide::Right, "centred" => StripSide::Centred);

one_word!(Grain, "Grain", "Which way the fibres run on the sheet as drawn", "\"upright\" or \"level\"",
    "upright" => Grain::Upright, "level" => Grain::Level);

impl Worded for Pattern {
    const EXPECTED: &'static str = "\"plain\", \"any way\", \"top up\", \"right up\", \"bottom up\" or \"left up\"";

    fn read(text: &str) -> Result<Self, String> {
        match text {
            "plain" => Ok(Self::Plain),
            "any way" => Ok(Self::AnyWay),
            _ => edge_before(" up", text).map(Self::OneWay).ok_or_else(|| not(text, Self::EXPECTED)),
        }
    }
}

impl Written for Pattern {
    const NAME: &'static str = "Pattern";

    fn words(&self) -> String {
        match self {
            Self::Plain => "plain".to_owned(),
            Self::AnyWay => "any way".to_owned(),
            Self::OneWay(edge) => format!("{} up", edge.word()),
        }
    }

    fn schema() -> Schema {
        let about = "Not printed, printed and right any way, or printed with an up that points to an edge of the sheet \
                     as drawn.";
        let words: Vec<String> = [Self::Plain, Self::AnyWay]
            .into_iter()
            .chain(SheetEdge::ALL.map(Self::OneWay))
            .map(|pattern| pattern.words())
            .collect();
        json_schema!({ "description": about, "type": "string", "enum": words })
    }
}

fn edge_before(suffix: &str, text: &str) -> Option<SheetEdge> {
    let word = text.strip_suffix(suffix)?;
    SheetEdge::ALL.into_iter().find(|edge| edge.word() == word)
}

impl Worded for End {
    const EXPECTED: &'static str = "\"edge\", a line such as \"line 3\", a place past it such as \"line 3 + 1/4 in\" or \
                                    a length such as \"2 3/4 in\"";

    fn read(text: &str) -> Result<Self, String> {
        let end = |stop, formula| Self { stop, unit: Unit::default(), formula };
        // A name may begin with the same letters.
        let after = text.strip_prefix("line").map(|rest| rest.chars().next());
        Ok(match (text, after) {
            ("edge", _) => end(Stop::Edge, None),
            (_, Some(next)) if next.is_none_or(|next| !next.is_alphabetic()) => {
                let (stop, formula) = stop_at_line(text)?;
                end(stop, formula)
            }
            _ => match Reckoned::read(text) {
                Ok(Reckoned { length, formula, .. }) => end(Stop::At(length), formula),
                // A word without a figure was not meant as a length.
                Err(_) if !text.contains(char::is_numeric) => return Err(not(text, Self::EXPECTED)),
                Err(says) => return Err(says),
            },
        })
    }
}

/// `line 3`, `line 3 + 1/4 in`, `line 3 - 1/4 in` or `line 3 + gap`.
fn stop_at_line(text: &str) -> Result<(Stop, Option<Formula>), String> {
    let refused = || not(text, End::EXPECTED);
    let Some(split) = text.find(['+', '-', '−']) else {
        return line_called(text).map(|line| (Stop::Line(line), None)).ok_or_else(refused);
    };
    let line = line_called(text[..split].trim_end()).ok_or_else(refused)?;
    let mut rest = text[split..].chars();
    let below = rest.next() == Some('+');
    let past = rest.as_str().trim_start();
    if past.starts_with(['+', '-', '−']) {
        return Err(refused());
    }
    match Reckoned::read(past)? {
        Reckoned { length, formula: None, .. } => Ok((Stop::Past(line, if below { length } else { -length }), None)),
        Reckoned { formula, .. } if below => Ok((Stop::Past(line, Length::ZERO), formula)),
        // What is taken away is the first that is reckoned with.
        _ => Ok((Stop::Past(line, Length::ZERO), Reckoned::read(&format!("-{past}"))?.formula)),
    }
}

impl Written for End {
    const NAME: &'static str = "Stop";

    fn words(&self) -> String {
        match (self.stop, &self.formula) {
            (Stop::At(_), Some(formula)) => formula.to_string(),
            (Stop::Past(line, _), Some(formula)) => {
                let text = formula.to_string();
                match text.strip_prefix('-') {
                    Some(rest) => format!("{} - {rest}", line.words()),
                    None => format!("{} + {text}", line.words()),
                }
            }
            (Stop::Edge, _) => "edge".to_owned(),
            (Stop::Line(line), _) => line.words(),
            (Stop::At(length), None) => length.text(self.unit),
            (Stop::Past(line, past), None) => {
                let sign = if past < Length::ZERO { '-' } else { '+' };
                format!("{} {sign} {}", line.words(), past.abs().text(self.unit))
            }
        }
    }

    fn schema() -> Schema {
        let pattern = format!("(?:edge|{LINE}(?: [+-] (?:{UNSIGNED}|{FORMULA}))?|[-+−]?{UNSIGNED}|-?{FORMULA})");
        let about = "The sheet's edge, where a line crosses, so far past that, or a length below the upper edge as the \
                     sheet lies";
        spelled(&pattern, about, &["edge", "line 3", "line 3 + 1/4 in", "2 3/4 in"])
    }
}

impl Worded for Border {
    const EXPECTED: &'static str = "a line such as \"line 3\" or an edge of the sheet such as \"top edge\"";

    fn read(text: &str) -> Result<Self, String> {
        let border = edge_before(" edge", text).map(Self::Edge).or_else(|| line_called(text).map(Self::Line));
        border.ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for Border {
    const NAME: &'static str = "Border";

    fn words(&self) -> String {
        match self {
            Self::Edge(edge) => format!("{} edge", edge.word()),
            Self::Line(line) => line.words(),
        }
    }

    fn schema() -> Schema {
        let edges = SheetEdge::ALL.map(SheetEdge::word).join("|");
        let pattern = format!("(?:(?:{edges}) edge|{LINE})");
        spelled(&pattern, "What bounds a panel: a line, or an edge of the sheet as drawn", &["line 3", "top edge"])
    }
}

/// The most characters of a weight or a bulk that are read.
const LONGEST_FIGURE: usize = 40;

/// Reads what the model reads, but for text that its sentence could not show in full.
fn figure<T>(text: &str, expected: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<T, String> {
    let odd = text.chars().count() > LONGEST_FIGURE || text.contains(char::is_control);
    if odd { Err(not(text, expected)) } else { read(text) }
}

impl Worded for Weight {
    const EXPECTED: &'static str = "a weight in quotes such as \"216 g/m2\" or \"80 lb cover\"";

    fn read(text: &str) -> Result<Self, String> {
        figure(text, Self::EXPECTED, Self::parse)
    }
}

impl Written for Weight {
    const NAME: &'static str = "Weight";

    fn words(&self) -> String {
        self.to_string()
    }

    fn schema() -> Schema {
        let grades = Grade::ALL.map(Grade::word).join("|");
        let figure = "(?:(?:[1-9][0-9]{0,2}|[12][0-9]{3})(?:\\.[0-9]{1,3})?|3000(?:\\.0{1,3})?\
                      |0\\.(?:[1-9][0-9]{0,2}|0[1-9][0-9]?|00[1-9]))";
        let pattern = format!("{figure}(?: ?(?:g/m2|g/m²|gsm)| ?(?:lb|lbs|#) (?:{grades}))");
        spelled(&pattern, "The paper's weight as the shop says it", &["216 g/m2", "80 lb cover"])
    }
}

impl Worded for Bulk {
    const EXPECTED: &'static str = "a bulk in quotes such as \"1.25\"";

    fn read(text: &str) -> Result<Self, String> {
        figure(text, Self::EXPECTED, Self::parse)
    }
}

impl Written for Bulk {
    const NAME: &'static str = "Bulk";

    fn words(&self) -> String {
        self.to_string()
    }

    fn schema() -> Schema {
        let pattern = "(?:0\\.[3-9][0-9]{0,2}|[1-4](?:\\.[0-9]{1,3})?|5(?:\\.0{1,3})?)";
        spelled(pattern, "The paper's bulk in cm³/g, 0.3 to 5", &["1.25"])
    }
}

impl Worded for Colour {
    const EXPECTED: &'static str = "a colour such as \"#7a9b3c\"";

    fn read(text: &str) -> Result<Self, String> {
        Self::parse(text).ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for Colour {
    const NAME: &'static str = "Colour";

    fn words(&self) -> String {
        self.to_string()
    }

    fn schema() -> Schema {
        spelled("#[0-9a-fA-F]{6}", "Red, green and blue as in sRGB, two hexadecimal digits each", &["#7a9b3c"])
    }
}

impl Worded for Digest {
    const EXPECTED: &'static str = "a SHA-256 of 64 hexadecimal digits in lower case";

    fn read(text: &str) -> Result<Self, String> {
        digest(text).map(Self).ok_or_else(|| not(text, Self::EXPECTED))
    }
}

fn digest(text: &str) -> Option<[u8; 32]> {
    let lower = |byte: &u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(byte);
    (text.len() == 64 && text.as_bytes().iter().all(lower)).then_some(())?;
    let mut bytes = [0; 32];
    for (i, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(&text[2 * i..2 * i + 2], 16).ok()?;
    }
    Some(bytes)
}

impl Written for Digest {
    const NAME: &'static str = "Sha256";

    fn words(&self) -> String {
        self.0.iter().map(|byte| format!("{byte:02x}")).collect()
    }

    fn schema() -> Schema {
        // That of an empty file.
        let empty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        spelled("[0-9a-f]{64}", "The SHA-256 of the file", &[empty])
    }
}
