//! The sheet as a whole: its panels, what comes off, and what the lines mean.

use super::{Told, table, titled};
use crate::block::{Block, Figure};
use crate::picture::{legend, named_sheet};
use kurbo::Size;

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let sheet = Figure {
        picture: named_sheet(document, layout, &told.subject.printed(), Size::new(168.0, 128.0)),
        caption: "The front of the sheet".to_owned(),
        alt: format!(
            "{}: the front of the flat sheet of {} with its lines and the names of its panels and offcuts.",
            document.title,
            layout.size.text(document.units)
        ),
    };
    let key = Figure {
        picture: legend(document, layout),
        caption: String::new(),
        alt: "What the lines mean: a solid line is cut, dashes are a valley, dashes with dots a mountain.".to_owned(),
    };
    let mut blocks = vec![Block::Figures(vec![sheet], false), Block::Figures(vec![key], false)];
    let folio = layout.folio().map(|piece| piece.id);
    let panels = layout.panels.iter().filter(|panel| Some(panel.piece) == folio);
    let rows = panels.map(|panel| {
        let (width, height) = panel.extent();
        vec![panel.name.clone(), told.voice.length(width), told.voice.length(height)]
    });
    blocks.push(table("The panels of the folio", &["Panel", "Width", "Height"], rows.collect()));
    let offcuts = layout.offcuts().map(|piece| {
        let (low, high) = piece.bounds;
        vec![piece.name.clone(), told.voice.length(high.x - low.x), told.voice.length(high.y - low.y)]
    });
    blocks.push(table(
        "What comes off, each with the rectangle around it",
        &["Piece", "Width", "Height"],
        offcuts.collect(),
    ));
    titled("The sheet", blocks)
}
