//! The words that version 2 writes of parts: which panel and line of them, where their paper comes from, how they lie and
//! what is done to make them.

use crate::quoted::{Worded, Written};
use crate::v2::named::{FORMULA, Reckoned, Reckons};
use crate::word::{LINE, UNSIGNED, line_called, not, one_word, spelled};
use model::part::{Anchor, AnchorFrom, ClosureKind, Job, PanelCorner, Paper, Rotation, Source};
use model::{Formula, LineId, PartId, SheetEdge, StockId, Typed, Unit};
use schemars::Schema;
use std::num::NonZeroU32;

impl Reckons for Across {
    fn formula(&self) -> Option<&Formula> {
        self.formula.as_ref()
    }

    fn put(&mut self, typed: Typed) {
        self.anchor.distance = typed.length;
        self.formula = typed.formula;
    }
}

impl Reckons for Down {
    fn formula(&self) -> Option<&Formula> {
        self.formula.as_ref()
    }

    fn put(&mut self, typed: Typed) {
        self.anchor.distance = typed.length;
        self.formula = typed.formula;
    }
}

/// A panel of a part, counted from 0 as in the model; from 1 in the file.
pub(crate) struct PartPanel(pub(super) PartId, pub(super) usize);

/// A line of a part.
pub(crate) struct PartLine(pub(in crate::v2) PartId, pub(in crate::v2) LineId);

/// Where paper comes from, but for one offcut, which takes more than words.
pub(crate) struct SourceWords(pub(super) Source);

/// Where glue is, but for strips, which take more than words.
pub(super) enum AreaWord {
    Whole,
    None,
}

/// How far across a part lies, with the unit it is written in.
pub(crate) struct Across {
    pub(super) anchor: Anchor,
    pub(super) unit: Unit,
    pub(super) formula: Option<Formula>,
}

/// How far down a part lies, with the unit it is written in.
pub(crate) struct Down {
    pub(super) anchor: Anchor,
    pub(super) unit: Unit,
    pub(super) formula: Option<Formula>,
}

one_word!(SheetEdge, "Edge", "An edge of an upright rectangle", "\"top\", \"right\", \"bottom\" or \"left\"",
    "top" => SheetEdge::Top, "right" => SheetEdge::Right, "bottom" => SheetEdge::Bottom, "left" => SheetEdge::Left);

one_word!(PanelCorner, "PanelCorner", "Which corner of its panel it lies in",
    "\"top left\", \"top right\", \"bottom right\" or \"bottom left\"",
    "top left" => PanelCorner::TopLeft, "top right" => PanelCorner::TopRight,
    "bottom right" => PanelCorner::BottomRight, "bottom left" => PanelCorner::BottomLeft);

one_word!(ClosureKind, "ClosureKind", "What it is shut with",
    "\"brad\", \"magnet\", \"hook and loop\" or \"ribbon\"",
    "brad" => ClosureKind::Brad, "magnet" => ClosureKind::Magnet, "hook and loop" => ClosureKind::HookAndLoop,
    "ribbon" => ClosureKind::Ribbon);

one_word!(AreaWord, "GlueArea", "All over, or nowhere: it only lies there",
    "\"whole\", \"none\" or strips along edges, such as { \"edges\": [\"left\"], \"strip\": \"1/4 in\" },",
    "whole" => AreaWord::Whole, "none" => AreaWord::None);

/// A part in words, as a regular expression.
const PART: &str = "part [0-9]{1,10}";

/// The part that `part 3` names.
fn part_called(text: &str) -> Option<PartId> {
    number_after("part ", text).map(PartId)
}

fn number_after(word: &str, text: &str) -> Option<u32> {
    let digits = text.strip_prefix(word).filter(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()))?;
    digits.parse().ok()
}

/// The panel that a maker counts as `number`, counted from 0.
pub(super) fn panel_at(number: u32) -> Option<usize> {
    usize::try_from(number.checked_sub(1)?).ok()
}

/// The number of a panel counted from 0, as a maker counts.
pub(super) fn panel_number(at: usize) -> NonZeroU32 {
    // No part has more panels than there are numbers.
    u32::try_from(at).ok().and_then(|at| NonZeroU32::MIN.checked_add(at)).unwrap_or(NonZeroU32::MAX)
}

impl Worded for PartPanel {
    const EXPECTED: &'static str = "a point inside a panel of the sheet, such as { \"x\": \"6 in\", \"y\": \"5 in\" }, \
                                    or a panel of a part, such as \"part 2 panel 1\",";

    fn read(text: &str) -> Result<Self, String> {
        let named = || {
            let (part, panel) = text.split_once(" panel ")?;
            Some(Self(part_called(part)?, panel_at(number_after("", panel)?)?))
        };
        named().ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for PartPanel {
    const NAME: &'static str = "PartPanel";

    fn words(&self) -> String {
        format!("part {} panel {}", self.0.0, panel_number(self.1))
    }

    fn schema() -> Schema {
        let about = "A panel of a part, counted from 1 in reading order on the part's own little sheet";
        spelled(&format!("{PART} panel [1-9][0-9]{{0,9}}"), about, &["part 2 panel 1"])
    }
}

impl Worded for PartLine {
    const EXPECTED: &'static str = "a line of a part such as \"part 2 line 1\"";

    fn read(text: &str) -> Result<Self, String> {
        let named = || {
            let at = text.find(" line ")?;
            Some(Self(part_called(&text[..at])?, line_called(&text[at + 1..])?))
        };
        named().ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for PartLine {
    const NAME: &'static str = "PartLine";

    fn words(&self) -> String {
        format!("part {} {}", self.0.0, self.1.words())
    }

    fn schema() -> Schema {
        let about = "A line of a part, by its number on the part's own little sheet";
        spelled(&format!("{PART} {LINE}"), about, &["part 2 line 1"])
    }
}

impl Worded for SourceWords {
    const EXPECTED: &'static str = "\"any offcut\", \"folio stock\", a further stock such as \"stock 4\", \"bought\" or \
                                    one offcut, such as { \"offcut\": { \"x\": \"1 in\", \"y\": \"1 in\" } },";

    fn read(text: &str) -> Result<Self, String> {
        let source = match text {
            "any offcut" => Some(Source::AnyOffcut),
            "folio stock" => Some(Source::FolioStock),
            "bought" => Some(Source::Bought),
            _ => number_after("stock ", text).map(|id| Source::Stock(StockId(id))),
        };
        source.map(Self).ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for SourceWords {
    const NAME: &'static str = "Source";

    fn words(&self) -> String {
        match self.0 {
            // One offcut is written with its point, and never here.
            Source::AnyOffcut | Source::Offcut(_) | Source::Whole(_) => "any offcut".to_owned(),
            Source::FolioStock => "folio stock".to_owned(),
            Source::Stock(id) => format!("stock {}", id.0),
            Source::Bought => "bought".to_owned(),
        }
    }

    fn schema() -> Schema {
        let about = "Whichever offcut it fits into, a further sheet of the folio's paper, a further stock by its id, or no \
                     paper at all";
        let examples = ["any offcut", "folio stock", "stock 4", "bought"];
        spelled("(?:any offcut|folio stock|stock [0-9]{1,10}|bought)", about, &examples)
    }
}

impl Worded for Job {
    const EXPECTED: &'static str = "a job such as \"score folio\", \"cut part 2\", \"fold part 2\", \"put part 2\" or \
                                    \"close\"";

    fn read(text: &str) -> Result<Self, String> {
        let paper = |name: &str| if name == "folio" { Some(Paper::Folio) } else { part_called(name).map(Paper::Part) };
        let job = match text.split_once(' ') {
            None if text == "close" => Some(Self::Close),
            Some(("score", name)) => paper(name).map(Self::Score),
            Some(("cut", name)) => paper(name).map(Self::Cut),
            Some(("fold", name)) => part_called(name).map(Self::Fold),
            Some(("put", name)) => part_called(name).map(Self::Put),
            _ => None,
        };
        job.ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for Job {
    const NAME: &'static str = "Job";

    fn words(&self) -> String {
        let paper = |paper: &Paper| match paper {
            Paper::Folio => "folio".to_owned(),
            Paper::Part(id) => format!("part {}", id.0),
        };
        match self {
            Self::Score(of) => format!("score {}", paper(of)),
            Self::Cut(of) => format!("cut {}", paper(of)),
            Self::Fold(id) => format!("fold part {}", id.0),
            Self::Put(id) => format!("put part {}", id.0),
            Self::Close => "close".to_owned(),
        }
    }

    fn schema() -> Schema {
        let about = "Scoring or cutting the folio or a part, folding a part before it is put in place, putting it in its \
                     place, or closing the folio";
        let pattern = format!("(?:(?:score|cut) (?:folio|{PART})|(?:fold|put) {PART}|close)");
        spelled(&pattern, about, &["score folio", "cut part 2", "fold part 2", "put part 2", "close"])
    }
}

/// The words for the start, the middle and the end of the way across.
const ACROSS: [&str; 3] = ["left", "middle", "right"];

/// The words for the start, the middle and the end of the way down.
const DOWN: [&str; 3] = ["top", "middle", "bottom"];

const FROM: [AnchorFrom; 3] = [AnchorFrom::Start, AnchorFrom::Middle, AnchorFrom::End];

/// An anchor, and the formula of its distance where that is one.
fn anchor(text: &str, ends: [&str; 3], expected: &str) -> Result<(Anchor, Option<Formula>), String> {
    let refused = || not(text, expected);
    let (distance, end) = text.split_once(" from ").ok_or_else(refused)?;
    let at = ends.iter().position(|word| *word == end.trim()).ok_or_else(refused)?;
    let Reckoned { length, formula, .. } = Reckoned::read(distance)?;
    Ok((Anchor { from: FROM[at], distance: length }, formula))
}

fn anchor_words(anchor: Anchor, formula: Option<&Formula>, unit: Unit, [start, middle, end]: [&str; 3]) -> String {
    let word = match anchor.from {
        AnchorFrom::Start => start,
        AnchorFrom::Middle => middle,
        AnchorFrom::End => end,
    };
    let distance = formula.map_or_else(|| anchor.distance.text(unit), Formula::to_string);
    format!("{distance} from {word}")
}

fn anchor_pattern(ends: [&str; 3]) -> String {
    format!("(?:[-+−]?{UNSIGNED}|-?{FORMULA}) from (?:{})", ends.join("|"))
}

impl Worded for Across {
    const EXPECTED: &'static str =
        "a distance such as \"1/2 in from left\", \"0 in from middle\" or \"2 mm from right\"";

    fn read(text: &str) -> Result<Self, String> {
        let (anchor, formula) = anchor(text, ACROSS, Self::EXPECTED)?;
        Ok(Self { anchor, unit: Unit::default(), formula })
    }
}

impl Written for Across {
    const NAME: &'static str = "Across";

    fn words(&self) -> String {
        anchor_words(self.anchor, self.formula.as_ref(), self.unit, ACROSS)
    }

    fn schema() -> Schema {
        let about = "How far a part's main panel lies inwards from a side of the panel under it, or its middle to the right \
                     of that panel's middle";
        spelled(&anchor_pattern(ACROSS), about, &["1/2 in from left", "0 in from middle"])
    }
}

impl Worded for Down {
    const EXPECTED: &'static str =
        "a distance such as \"1/2 in from top\", \"0 in from middle\" or \"2 mm from bottom\"";

    fn read(text: &str) -> Result<Self, String> {
        let (anchor, formula) = anchor(text, DOWN, Self::EXPECTED)?;
        Ok(Self { anchor, unit: Unit::default(), formula })
    }
}

impl Written for Down {
    const NAME: &'static str = "Down";

    fn words(&self) -> String {
        anchor_words(self.anchor, self.formula.as_ref(), self.unit, DOWN)
    }

    fn schema() -> Schema {
        let about = "How far a part's main panel lies inwards from the top or the bottom of the panel under it, or its \
                     middle below that panel's middle";
        spelled(&anchor_pattern(DOWN), about, &["1/2 in from top", "0 in from middle"])
    }
}

impl Worded for Rotation {
    const EXPECTED: &'static str = "an angle in degrees, in quotes, such as \"90\" or \"12.5\"";

    fn read(text: &str) -> Result<Self, String> {
        Self::parse(text).ok_or_else(|| not(text, Self::EXPECTED))
    }
}

impl Written for Rotation {
    const NAME: &'static str = "Rotation";

    fn words(&self) -> String {
        self.to_string()
    }

    fn schema() -> Schema {
        let about = "Degrees clockwise as the sheet is drawn, with at most two decimals";
        spelled("-?[0-9]{1,5}(?:\\.[0-9]{1,2})?", about, &["90", "12.5"])
    }
}
