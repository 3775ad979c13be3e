//! The scoring table: what to press where, turn by turn, as it is done on a scoring board.

use crate::document::{Document, Step};
use crate::layout::Layout;
use crate::length::Length;
use crate::line::{Crease, Direction, LineId, Work};
use crate::resolve::Placed;
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

/// What folds in one step of the closing order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepFolds {
    /// Which step of the document, counted from 0.
    pub step: usize,
    /// The scores with a fold in the folio, each with how it folds.
    pub folds: Vec<(LineId, Crease)>,
}

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

/// The closing order: the steps in which something folds in the folio, each with its number in the document.
#[must_use]
pub fn closing_order(document: &Document, layout: &Layout) -> Vec<StepFolds> {
    // A line that is named twice folds the first time.
    let fold = |step: usize, id: LineId| match document.line(id)?.work {
        Work::Score(crease) if document.step_of(id) == Some(step) && layout.folio_folds(id).next().is_some() => {
            Some((id, crease))
        }
        _ => None,
    };
    let folds = |(step, of): (usize, &Step)| StepFolds {
        step,
        folds: of.lines.iter().filter_map(|&id| fold(step, id)).collect(),
    };
    document.steps.iter().enumerate().map(folds).filter(|step| !step.folds.is_empty()).collect()
}

impl StepFolds {
    /// What folds, in words: "Left fold (valley, 180°) together with Right fold (valley, 180°)".
    #[must_use]
    pub fn words(&self, document: &Document) -> String {
        let fold = |(id, crease): &(LineId, Crease)| format!("{} ({})", document.line_name(*id), crease.words());
        self.folds.iter().map(fold).collect::<Vec<_>>().join(" together with ")
    }
}

impl Crease {
    /// Which way and how far, in words: "valley, 180°".
    #[must_use]
    pub fn words(self) -> String {
        format!("{}, {}°", self.direction.word(), self.angle.degrees())
    }
}

impl Direction {
    /// "valley" or "mountain".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Valley => "valley",
            Self::Mountain => "mountain",
        }
    }
}

/// The nearest lines that run beside one, to its left and to its right on its own turn; the sheet's edges where there
/// are none.
#[must_use]
pub fn neighbours(layout: &Layout, placed: &Placed) -> (Length, Length) {
    let (width, _) = placed.turn.size_of(layout.size);
    let beside = layout.lines.values().filter_map(|other| other.ok()).filter_map(|other| {
        let same = other.turn.is_upright() == placed.turn.is_upright();
        same.then(|| placed.turn.to_board(other.segment.a, layout.size).across)
    });
    beside.fold((Length::ZERO, width), |(left, right), across| {
        if across < placed.across {
            (left.max(across), right)
        } else if across > placed.across {
            (left, right.min(across))
        } else {
            (left, right)
        }
    })
}

/// The middle of the widest stretch of board without a line on it: where a new score is of most use.
#[must_use]
pub fn free_place(layout: &Layout, turn: Turn) -> Length {
    let (width, _) = turn.size_of(layout.size);
    let beside = layout.lines.values().filter_map(|other| other.ok());
    let beside = beside.filter(|other| other.turn.is_upright() == turn.is_upright());
    let mut places: Vec<Length> = beside.map(|other| turn.to_board(other.segment.a, layout.size).across).collect();
    places.extend([Length::ZERO, width]);
    places.sort_unstable();
    let gaps = places.windows(2).map(|pair| (pair[1] - pair[0], pair[0]));
    // The leftmost of equals, so that it doesn't jump about.
    let widest = gaps.reduce(|best, next| if next.0 > best.0 { next } else { best });
    widest.map_or(width.half(), |(gap, from)| from + gap.half())
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

    /// Which edge of the sheet as drawn then lies at the left: "left", "top", "right", "bottom".
    #[must_use]
    pub const fn left_edge(self) -> &'static str {
        match self {
            Self::None => "left",
            Self::Once => "top",
            Self::Twice => "right",
            Self::Thrice => "bottom",
        }
    }
}
