//! The scoring table: side by side and turn by turn, each with the sheet as it then lies.

use super::{Told, capital, said, table, titled};
use crate::block::{Block, Figure};
use crate::picture::scored_turn;
use crate::style::BESIDE;
use crate::voice::Version;
use allot::Allotment;
use kurbo::Size;
use model::board::{RuledScore, STOPS_FOR_PARTS, ScoreRun, TurnScores, scoring_table_sparing};
use model::words::listed;
use model::{Face, Length};
use std::collections::BTreeMap;

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let used = told.subject.supply.map(Allotment::used).unwrap_or_default();
    let scores = scoring_table_sparing(document, layout, &used);
    if let Some(words) = scores.nothing_words() {
        return titled("Score", vec![said(words)]);
    }
    let mut blocks = vec![said(
        "Score before you cut, while the whole sheet lies square on the board. Distances are from the left edge of the sheet \
         as it lies, and how far down is from its upper edge as it then lies. Paper folds away from the side that it is scored \
         on.",
    )];
    if scores.stops_for_parts {
        blocks.push(said(STOPS_FOR_PARTS));
    }
    for face in [Face::Front, Face::Back] {
        let turns: Vec<&TurnScores> = scores.turns.iter().filter(|turn| turn.face == face).collect();
        let ruled: Vec<&RuledScore> = scores.by_ruler.iter().filter(|score| score.face == face).collect();
        if turns.is_empty() && ruled.is_empty() {
            continue;
        }
        blocks.push(Block::Heading(2, format!("Into the {}", face.word())));
        if face == Face::Back && !turns.is_empty() {
            blocks.push(said(
                "Lay the sheet front up as it is said here, then turn it over away from you, top to bottom: the edge at the \
                 left stays at the left.",
            ));
        }
        blocks.extend(turns.iter().map(|turn| on_turn(told, turn)));
        if !ruled.is_empty() {
            let names = listed(ruled.iter().map(|score| document.line_name(score.line)));
            let ends_it = if let [_] = ruled.as_slice() { "it ends" } else { "they end" };
            blocks.push(said(format!(
                "Along a ruler: {names}. Mark where {ends_it} on the template, and press from mark to mark."
            )));
            blocks.push(ends(told, &ruled));
        }
    }
    titled("Score", blocks)
}

/// The sheet on one turn and a row for all that is pressed at one distance over one run.
fn on_turn(told: Told<'_>, turn: &TurnScores) -> Block {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let (_, height) = turn.turn.size_of(layout.size);
    let mut rows = Vec::new();
    for (&across, pressed) in &turn.scores {
        let mut runs: BTreeMap<(Length, Length), Vec<&ScoreRun>> = BTreeMap::new();
        for run in pressed {
            runs.entry((run.from, run.to)).or_default().push(run);
        }
        rows.extend(runs.into_iter().map(|(ends, lines)| {
            let names = lines.iter().map(|run| document.line_name(run.line)).collect::<Vec<_>>().join(", ");
            vec![told.voice.length(across), told.voice.say(|version| run_words(ends, height, version)), names]
        }));
    }
    let side = if turn.face == Face::Back { ", then turned over away from you" } else { "" };
    let lies = format!("{} ({} edge at the left){side}", capital(turn.turn.words()), turn.turn.left_edge());
    let figure = Figure {
        picture: scored_turn(
            document,
            layout,
            &told.subject.printed(),
            turn,
            &|length| told.voice.length(length),
            Size::new(BESIDE, 90.0),
        ),
        caption: format!("The {} of the sheet as it lies", turn.face.word()),
        alt: format!("The {} of the sheet, {lies}, with the scores of this turn.", turn.face.word()),
    };
    let scores = table("", &["From the left edge", "How far down", "Line"], rows);
    Block::Beside(figure, vec![said(format!("{lies}:")), scores])
}

fn run_words((from, to): (Length, Length), height: Length, version: &Version<'_>) -> String {
    let text = |length: Length| length.readable(version.unit());
    match (from == Length::ZERO, to == height) {
        (true, true) => "edge to edge".to_owned(),
        (true, false) => format!("from the edge to {}", text(to)),
        (false, true) => format!("from {} to the edge", text(from)),
        (false, false) => format!("from {} to {}", text(from), text(to)),
    }
}

/// Where lines that are scored along a ruler end, on the sheet as drawn.
fn ends(told: Told<'_>, scores: &[&RuledScore]) -> Block {
    let spot = |point: model::Point| {
        told.voice.say(|version| {
            let unit = version.unit();
            format!("{} from the left, {} from the top", point.x.readable(unit), point.y.readable(unit))
        })
    };
    let rows = scores.iter().flat_map(|score| {
        score.runs.iter().map(|&[a, b]| vec![told.subject.document.line_name(score.line), spot(a), spot(b)])
    });
    table("Ends of lines scored along a ruler, on the sheet as drawn", &["Line", "From", "To"], rows.collect())
}
