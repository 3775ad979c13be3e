//! The closing order, each step in the midst of it.

use super::{Told, said, titled};
use crate::block::{Block, Figure, Step};
use crate::picture::closing;
use crate::style::{BESIDE, BESIDE_HIGH};
use kurbo::Size;
use model::board::{StepFolds, closing_order};
use model::words::listed;

/// The most panels that a step names; of more a reader would look for none.
const MOST_NAMED: usize = 4;

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let order = closing_order(document, layout);
    let Some(folded) = told.subject.folded.filter(|_| !order.is_empty()) else { return Vec::new() };
    let step = |step: &StepFolds| {
        let text = format!("Fold along {}.", step.words(document, layout));
        let moved = moved(told, step);
        Step {
            number: format!("{}.", step.step + 1),
            figure: Some(Figure {
                picture: closing(layout, folded, &told.subject.printed(), step.step, Size::new(BESIDE, BESIDE_HIGH)),
                caption: String::new(),
                alt: format!("The folio in the midst of step {}: {text}", step.step + 1),
            }),
            text,
            notes: moved.into_iter().collect(),
            cautions: Vec::new(),
        }
    };
    let blocks = vec![
        said("Each picture shows the folio in the midst of its step, the base lying still."),
        Block::Steps(order.iter().map(step).collect()),
    ];
    titled("Close it in this order", blocks)
}

/// "The Left gusset and the Left flap move."
fn moved(told: Told<'_>, step: &StepFolds) -> Option<String> {
    let layout = told.subject.layout;
    let (_, folding) = told.subject.folded?;
    let moving = folding.moving(step.step);
    let own = moving.iter().filter(|&&id| layout.part_of(id).is_none());
    let names: Vec<String> = own.map(|&id| format!("the {}", layout.panel(id).name)).collect();
    match names.len() {
        0 => None,
        1 => Some(format!("{} moves.", super::capital(&names[0]))),
        2..=MOST_NAMED => Some(format!("{} move.", super::capital(&listed(names)))),
        count => Some(format!("{count} panels move.")),
    }
}
