//! The scoring table: what to press where, turn by turn, as it is done on a scoring board.

use crate::document::{Document, Step, Tucked};
use crate::geometry::Point;
use crate::layout::{Layout, PanelId, PieceId};
use crate::length::Length;
use crate::line::{Crease, Direction, Face, LineId};
use crate::part::PartId;
use crate::pressed::{broken, pressed};
use crate::resolve::Placed;
use crate::turn::Turn;
use crate::words::listed;
use std::collections::{BTreeMap, BTreeSet};

/// What is pressed on the scoring board, in the order it is done: the front turn by turn, then the back.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ScoringTable {
    /// The turns that have scores, the fewest that the board's grooves allow.
    pub turns: Vec<TurnScores>,
    /// Scores that are drawn between two spots, which no turn of the sheet brings under the board's fence; those of the front
    /// first.
    pub by_ruler: Vec<RuledScore>,
    /// Whether a score stops short of an offcut that a part is cut from.
    pub stops_for_parts: bool,
}

/// Why scores stop in the middle of the sheet.
pub const STOPS_FOR_PARTS: &str = "Where a part is cut from an offcut, scores stop short of that offcut.";

impl ScoringTable {
    /// What is said where nothing is pressed; `None` where something is.
    #[must_use]
    pub const fn nothing_words(&self) -> Option<&'static str> {
        match (self.turns.is_empty() && self.by_ruler.is_empty(), self.stops_for_parts) {
            (false, _) => None,
            (true, false) => Some("This design has no score lines yet."),
            (true, true) => Some("Press no score: all of them lie on offcuts that parts are cut from."),
        }
    }
}

/// A score that is pressed along a ruler.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuledScore {
    /// The face that it is pressed into.
    pub face: Face,
    /// The line.
    pub line: LineId,
    /// From where to where, on the sheet as drawn. One pair for a line that is pressed all along.
    pub runs: Vec<[Point; 2]>,
}

/// The scores pressed into one face on one turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnScores {
    /// The face that lies up. For the back the sheet is turned over away from the maker, so that what lies at the left
    /// stays there.
    pub face: Face,
    /// How the sheet lies; for the back, how it lay before it was turned over.
    pub turn: Turn,
    /// From left to right, by how far from the left edge.
    pub scores: BTreeMap<Length, Vec<ScoreRun>>,
}

/// A stretch that is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ScoreRun {
    /// Where it starts, below the upper edge of the sheet as it lies.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The line.
    pub line: LineId,
}

/// What folds in one step of the closing order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepFolds {
    /// Which step of the document, counted from 0.
    pub step: usize,
    /// The scores with a fold in the folio or in a part on it, by their numbers among all lines, each with how it folds.
    pub folds: Vec<(LineId, Crease)>,
    /// What is tucked: the panel that moves, and the one under which it comes to lie.
    pub tucks: Vec<[PanelId; 2]>,
}

/// The scoring table of a design whose offcuts are of no use.
#[must_use]
pub fn scoring_table(document: &Document, layout: &Layout) -> ScoringTable {
    scoring_table_sparing(document, layout, &BTreeSet::new())
}

/// The scoring table of a design that has parts cut from its offcuts `spared`: nothing is pressed across these.
///
/// Scores of a turn and of the turn opposite to it are pressed on one of the two, as long as none that lies in a groove
/// comes to lie beside one.
#[must_use]
pub fn scoring_table_sparing(document: &Document, layout: &Layout, spared: &BTreeSet<PieceId>) -> ScoringTable {
    let broken = broken(layout, spared);
    let mut table = ScoringTable { stops_for_parts: !broken.is_empty(), ..ScoringTable::default() };
    let mut faces: BTreeMap<(Face, Turn), BTreeMap<Length, Vec<ScoreRun>>> = BTreeMap::new();
    for line in &document.lines {
        let (Some(crease), Some(Ok(placed))) = (line.work.crease(), layout.lines.get(&line.id)) else { continue };
        let whole = [placed.segment.a, placed.segment.b];
        let runs =
            if broken.contains(&line.id) { ends_of(&pressed(layout, line.id, placed, spared)) } else { vec![whole] };
        if runs.is_empty() {
            continue;
        }
        let Some((turn, across)) = placed.on_board() else {
            table.by_ruler.push(RuledScore { face: crease.face(), line: line.id, runs });
            continue;
        };
        let down = |point| placed.down(point, layout.size);
        let runs = runs.into_iter().map(|[from, to]| ScoreRun { from: down(from), to: down(to), line: line.id });
        faces.entry((crease.face(), turn)).or_default().entry(across).or_default().extend(runs);
    }
    table.by_ruler.sort_by_key(|score| score.face);
    for face in [Face::Front, Face::Back] {
        for (turn, opposite) in [(Turn::None, Turn::Twice), (Turn::Once, Turn::Thrice)] {
            let mut take = |turn| faces.remove(&(face, turn)).unwrap_or_default();
            let pair = [(turn, take(turn)), (opposite, take(opposite))];
            table.turns.extend(fewest(pair, layout, document.groove).into_iter().map(|(turn, scores)| {
                let (_, height) = turn.size_of(layout.size);
                TurnScores { face, turn, scores: if face == Face::Back { upended(scores, height) } else { scores } }
            }));
        }
    }
    table
}

/// From where to where runs go.
fn ends_of(runs: &[Vec<Point>]) -> Vec<[Point; 2]> {
    runs.iter().filter_map(|run| Some([*run.first()?, *run.last()?])).collect()
}

type Scores = BTreeMap<Length, Vec<ScoreRun>>;

/// The scores of two opposite turns, all on one of them where the grooves allow.
fn fewest(pair: [(Turn, Scores); 2], layout: &Layout, groove: Length) -> Vec<(Turn, Scores)> {
    let [(first, own), (second, others)] = pair;
    let (width, height) = first.size_of(layout.size);
    let may = |scores: &Scores| {
        groove <= Length::ZERO
            || scores.keys().all(|across| !across.is_multiple_of(groove) || (width - *across).is_multiple_of(groove))
    };
    let turned = |scores: Scores| -> Scores {
        upended(scores, height).into_iter().map(|(across, runs)| (width - across, runs)).collect()
    };
    let merged = |mut into: Scores, from: Scores| {
        for (across, runs) in turned(from) {
            into.entry(across).or_default().extend(runs);
        }
        into
    };
    let all = if may(&others) && (own.len() >= others.len() || !may(&own)) {
        vec![(first, merged(own, others))]
    } else if may(&own) {
        vec![(second, merged(others, own))]
    } else {
        vec![(first, own), (second, others)]
    };
    all.into_iter().filter(|(_, scores)| !scores.is_empty()).collect()
}

/// The same scores with the lower edge at the top.
fn upended(scores: Scores, height: Length) -> Scores {
    let run = |run: ScoreRun| ScoreRun { from: height - run.to, to: height - run.from, line: run.line };
    scores.into_iter().map(|(across, runs)| (across, runs.into_iter().map(run).collect())).collect()
}

/// The closing order: the steps in which something folds in the folio, each with its number in the document.
#[must_use]
pub fn closing_order(document: &Document, layout: &Layout) -> Vec<StepFolds> {
    // A line that is named twice folds the first time.
    let fold = |step: usize, id: LineId| {
        let crease = document.line(id)?.work.crease()?;
        (document.step_of(id) == Some(step) && layout.folio_folds(id).next().is_some()).then_some((id, crease))
    };
    let of_part = |step: usize, &(part, own): &(PartId, LineId)| {
        let first = document.step_of_part_line(part, own) == Some(step);
        let part = layout.part(part).filter(|part| first && part.laid.is_some())?;
        let id = *part.lines.get(&own)?;
        let fold = part.folds.iter().find(|fold| fold.line == id)?;
        Some((id, fold.crease))
    };
    let folds = |(step, of): (usize, &Step)| {
        let on_sheet = of.lines.iter().filter_map(|&id| fold(step, id));
        let tuck = |tuck: &Tucked| Some([layout.panel_of(tuck.panel)?, layout.panel_of(tuck.under)?]);
        StepFolds {
            step,
            folds: on_sheet.chain(of.parts.iter().filter_map(|line| of_part(step, line))).collect(),
            tucks: of.tucks.iter().filter_map(tuck).collect(),
        }
    };
    document.steps.iter().enumerate().map(folds).filter(|step| !step.folds.is_empty()).collect()
}

impl StepFolds {
    /// ", tucking Left flap under Top flap"; nothing where nothing is tucked.
    #[must_use]
    pub fn tuck_words(&self, layout: &Layout) -> String {
        let name = |panel: PanelId| &layout.panel(panel).name;
        let tucks = self.tucks.iter().map(|&[panel, under]| format!("{} under {}", name(panel), name(under)));
        let tucks = listed(tucks);
        if tucks.is_empty() { tucks } else { format!(", tucking {tucks}") }
    }

    /// What folds, in words: "Left fold (valley, 180°) together with Right fold (valley, 180°)".
    #[must_use]
    pub fn words(&self, document: &Document, layout: &Layout) -> String {
        let fold =
            |(id, crease): &(LineId, Crease)| format!("{} ({})", layout.line_name(document, *id), crease.words());
        let folds = self.folds.iter().map(fold).collect::<Vec<_>>().join(" together with ");
        format!("{folds}{}", self.tuck_words(layout))
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
    /// "valley", "mountain" or "either way".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Valley => "valley",
            Self::Mountain => "mountain",
            Self::Either => "either way",
        }
    }
}

/// The nearest lines that run beside one, to its left and to its right on its own turn; the sheet's edges where there
/// are none. `None` for a line that is drawn between two spots.
#[must_use]
pub fn neighbours(layout: &Layout, placed: &Placed) -> Option<(Length, Length)> {
    let (turn, own) = placed.on_board()?;
    let (width, _) = turn.size_of(layout.size);
    let sides = beside(layout, turn).fold((Length::ZERO, width), |(left, right), across| {
        if across < own {
            (left.max(across), right)
        } else if across > own {
            (left, right.min(across))
        } else {
            (left, right)
        }
    });
    Some(sides)
}

/// The middle of the widest stretch of board without a line on it: where a new score is of most use.
#[must_use]
pub fn free_place(layout: &Layout, turn: Turn) -> Length {
    let (width, _) = turn.size_of(layout.size);
    let mut places: Vec<Length> = beside(layout, turn).collect();
    places.extend([Length::ZERO, width]);
    places.sort_unstable();
    let gaps = places.windows(2).map(|pair| (pair[1] - pair[0], pair[0]));
    // The leftmost of equals, so that it doesn't jump about.
    let widest = gaps.reduce(|best, next| if next.0 > best.0 { next } else { best });
    widest.map_or(width.half(), |(gap, from)| from + gap.half())
}

/// How far from the left edge the lines lie that run up and down on a turn.
fn beside(layout: &Layout, turn: Turn) -> impl Iterator<Item = Length> {
    let placed = layout.lines.values().filter_map(|other| other.as_ref().ok());
    placed.filter_map(move |other| {
        let (own, _) = other.on_board()?;
        (own.is_upright() == turn.is_upright()).then(|| turn.to_board(other.segment.a, layout.size).across)
    })
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
