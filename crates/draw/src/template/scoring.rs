//! The scoring table as a maker works through it: one side of the sheet after the other, turn by turn.

use model::board::{ScoringTable, TurnScores};
use model::{Document, Face, Layout, Length, Turn, Unit};
use std::collections::BTreeMap;

/// The scores pressed into one side on one turn, from left to right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TurnRows {
    pub(super) turn: Turn,
    pub(super) rows: Vec<ScoreRow>,
}

/// What is pressed at one distance over one run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct ScoreRow {
    /// From the left edge.
    pub(super) distance: String,
    /// From where to where, below the upper edge as it lies.
    pub(super) run: String,
    /// The lines there.
    pub(super) names: String,
}

impl TurnRows {
    /// The run that all of several scores have.
    pub(super) fn shared_run(&self) -> Option<&str> {
        let (first, others) = self.rows.split_first()?;
        (!others.is_empty() && others.iter().all(|row| row.run == first.run)).then_some(first.run.as_str())
    }
}

/// The scores of a table that are pressed into one face.
///
/// For the back the sheet is turned over away from the maker: what lay at the left stays there, and what lay at the
/// top lies at the bottom. Distances from the left hold; runs count from the other end.
pub(super) fn scores(document: &Document, layout: &Layout, table: &ScoringTable, face: Face) -> Vec<TurnRows> {
    let rows = |of_turn: &TurnScores| {
        let (_, height) = of_turn.turn.size_of(layout.size);
        let mut rows = Vec::new();
        for (&across, pressed) in &of_turn.scores {
            let mut runs: BTreeMap<(Length, Length), Vec<String>> = BTreeMap::new();
            for run in pressed {
                runs.entry((run.from, run.to)).or_default().push(document.line_name(run.line));
            }
            rows.extend(runs.into_iter().map(|(run, names)| ScoreRow {
                distance: unbroken(across, document.units),
                run: run_words(document, run, height),
                names: names.join(", "),
            }));
        }
        TurnRows { turn: of_turn.turn, rows }
    };
    table.turns.iter().filter(|of_turn| of_turn.face == face).map(rows).collect()
}

fn run_words(document: &Document, (from, to): (Length, Length), height: Length) -> String {
    let text = |length: Length| unbroken(length, document.units);
    match (from == Length::ZERO, to == height) {
        (true, true) => "edge to edge".to_owned(),
        (true, false) => format!("from the edge to {} down", text(to)),
        (false, true) => format!("from {} down to the edge", text(from)),
        (false, false) => format!("from {} to {} down", text(from), text(to)),
    }
}

/// A length that is never parted at a line's end: "8" and "3/4 in" apart would be misread.
fn unbroken(length: Length, unit: Unit) -> String {
    length.readable(unit).replace(' ', "\u{A0}")
}

/// How the sheet lies: "Turned once to the left (top edge at the left)".
pub(super) fn lying(turn: Turn) -> String {
    let mut words = turn.words().to_owned();
    words[..1].make_ascii_uppercase();
    format!("{words} ({} edge at the left)", left_edge(turn))
}

const fn left_edge(turn: Turn) -> &'static str {
    match turn {
        Turn::None => "left",
        Turn::Once => "top",
        Turn::Twice => "right",
        Turn::Thrice => "bottom",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Point, Size};

    /// The middles of the edges of an 8 x 11 in sheet: the one named lies at the board's left fence.
    #[test]
    fn the_edge_that_is_named_lies_at_the_left() {
        let sheet = Size::parse("8x11in").unwrap();
        let inch = |n: i64| Length::INCH * n;
        let middles = [
            ("left", Point::new(inch(0), inch(5))),
            ("top", Point::new(inch(4), inch(0))),
            ("right", Point::new(inch(8), inch(5))),
            ("bottom", Point::new(inch(4), inch(11))),
        ];
        for turn in Turn::ALL {
            let at_left: Vec<&str> = middles
                .iter()
                .filter(|(_, middle)| turn.to_board(*middle, sheet).across == Length::ZERO)
                .map(|(name, _)| *name)
                .collect();
            assert_eq!(at_left, [left_edge(turn)], "{turn:?}");
        }
        assert_eq!(lying(Turn::Once), "Turned once to the left (top edge at the left)");
    }
}
