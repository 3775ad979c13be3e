//! The cuts, each with the sheet as it then is and what comes off.

use super::{Told, said, titled};
use crate::block::{Block, Figure, Step};
use crate::picture::cut_states;
use crate::style::{BESIDE, BESIDE_HIGH};
use kurbo::Size;
use make::Caution;
use model::Turn;
use model::cutting::cut_list;
use model::words::listed;

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let cuts = cut_list(document, layout);
    if cuts.is_empty() {
        return Vec::new();
    }
    let sentences =
        told.voice.say_all(|version| cut_list(&version.document, layout).into_iter().map(|cut| cut.sentence).collect());
    let states = cut_states(document, layout, &cuts);
    let mut blocks = vec![
        said(
            "Mark all cuts before the first one: their distances are from the sheet's uncut edges. A heavy line is the cut \
             that is made now; what comes off by it lies a little away from the rest.",
        ),
        Block::Caution(Caution::Blades.sentence().to_owned()),
    ];
    let mut last = None;
    let mut steps = Vec::new();
    for (number, ((cut, sentence), state)) in (1..).zip(cuts.iter().zip(sentences).zip(&states)) {
        if last != Some(cut.under) {
            if !steps.is_empty() {
                blocks.push(Block::Steps(std::mem::take(&mut steps)));
            }
            let lies = |turn: Turn| format!("With the sheet {} ({} edge at the left)", turn.words(), turn.left_edge());
            blocks.push(Block::Heading(2, cut.under.heading(lies)));
            last = Some(cut.under);
        }
        let free = match state.freed.len() {
            0 => vec!["Nothing is free yet.".to_owned()],
            1 => vec![format!("Now {} is free.", state.freed[0])],
            _ => vec![format!("Now {} are free.", listed(state.freed.iter().cloned()))],
        };
        let figure = Figure {
            picture: state.picture(document, layout, &told.subject.printed(), Size::new(BESIDE, BESIDE_HIGH)),
            caption: String::new(),
            alt: format!("The sheet at cut {number}. {}", free.first().map_or("", String::as_str)),
        };
        steps.push(Step {
            number: format!("{number}."),
            text: sentence,
            notes: free,
            cautions: Vec::new(),
            figure: Some(figure),
        });
    }
    blocks.push(Block::Steps(steps));
    titled("Cut", blocks)
}
