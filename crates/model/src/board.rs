//! The scoring table: what to press where, turn by turn, as it is done on a scoring board.

use crate::document::Document;
use crate::layout::Layout;
use crate::length::Length;
use crate::line::{Crease, LineId, Work};
use crate::turn::Turn;
use std::collections::BTreeMap;

/// The scores of one turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnScores {
    /// How the sheet lies.
    pub turn: Turn,
    /// From left to right: how far from the left edge, and which lines lie there.
    pub scores: Vec<(Length, Vec<LineId>)>,
}

/// What folds in one step of the closing order: the scores with a fold in the folio, each with how it folds.
pub type StepFolds = Vec<(LineId, Crease)>;

/// The scoring table: the turns that have scores, in order.
#[must_use]
pub fn scoring_table(document: &Document, layout: &Layout) -> Vec<TurnScores> {
    let mut turns: BTreeMap<Turn, BTreeMap<Length, Vec<LineId>>> = BTreeMap::new();
    for line in document.lines.iter().filter(|line| !line.work.is_cut()) {
        if let Some(Ok(placed)) = layout.lines.get(&line.id) {
            turns.entry(placed.turn).or_default().entry(placed.across).or_default().push(line.id);
        }
    }
    turns.into_iter().map(|(turn, scores)| TurnScores { turn, scores: scores.into_iter().collect() }).collect()
}

/// The closing order, without what does not fold in the folio and without steps that then are empty.
#[must_use]
pub fn closing_order(document: &Document, layout: &Layout) -> Vec<StepFolds> {
    let fold = |&id: &LineId| match document.line(id)?.work {
        Work::Score(crease) if layout.folio_folds(id).next().is_some() => Some((id, crease)),
        _ => None,
    };
    let steps = document.steps.iter().map(|step| step.lines.iter().filter_map(fold).collect::<StepFolds>());
    steps.filter(|step| !step.is_empty()).collect()
}

impl Turn {
    /// How the sheet lies, in words: "turned once to the left".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::None => "as drawn",
            Self::Once => "turned once to the left",
            Self::Twice => "turned twice to the left",
            Self::Thrice => "turned three times to the left",
        }
    }
}
