//! The title page, and the credits at the end.

use super::{Told, counted, said, titled};
use crate::block::{Block, Figure};
use crate::picture::{closed, named_sheet, opened};
use fit::words::{size_at_a_glance, thickness_at_a_glance};
use kurbo::Size;

/// How large the two pictures are at most.
const ROOM: Size = Size::new(72.0, 78.0);

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let document = told.subject.document;
    let title = if document.title.trim().is_empty() { "Untitled folio" } else { &document.title };
    vec![
        Block::Title(title.to_owned()),
        said("How to make it, step by step"),
        Block::Figures(pictures(told), true),
        said(summary(told)),
        said(format!(
            "Work from front to back: gather paper and tools, score, cut, {}and close the folio. The front of the sheet is \
             the side that lies inside when a valley is folded; pictures show the front unless they say otherwise.",
            match document.parts.len() {
                0 => "",
                1 => "make the part, put it on, ",
                _ => "make the parts, put them on, ",
            }
        )),
        Block::Contents,
    ]
}

fn pictures(told: Told<'_>) -> Vec<Figure> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let printed = told.subject.printed();
    match told.subject.folded.filter(|(_, folding)| folding.steps() > 0) {
        Some(folded) => vec![
            Figure {
                picture: closed(layout, folded, &printed, ROOM),
                caption: "The closed folio".to_owned(),
                alt: format!("{}: the closed folio, seen from the lower right.", document.title),
            },
            Figure {
                picture: opened(layout, folded, &printed, ROOM),
                caption: "The folio laid open".to_owned(),
                alt: format!("{}: the folio laid open, its front with what is put on it.", document.title),
            },
        ],
        None => vec![Figure {
            picture: named_sheet(document, layout, &printed, ROOM),
            caption: "The sheet".to_owned(),
            alt: format!("{}: the flat sheet.", document.title),
        }],
    }
}

fn summary(told: Told<'_>) -> String {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let sheet = crate::voice::sheet_size(told.voice, document.stock.size);
    let Some(folio) = layout.folio() else {
        return format!(
            "One sheet of {sheet}. No panel of this design is marked as its base yet, so it is not known which part of the \
             sheet is the folio and how it folds; mark one and make the booklet again."
        );
    };
    let panels = counted(folio.panels.len(), "panel");
    let parts = match layout.parts.len() {
        0 => String::new(),
        count => format!(" with {} on it", counted(count, "part")),
    };
    let made = format!("One sheet of {sheet} becomes a folio of {panels}{parts}.");
    match told.subject.folded.filter(|(_, folding)| folding.steps() > 0) {
        Some((_, folding)) => {
            let size = folding.closed_size();
            let is_known = document.stock.thickness().is_some();
            let closed = told.voice.say(|version| {
                let wide = size_at_a_glance([size.x, size.y], version.unit());
                let thick = thickness_at_a_glance(size.z, version.unit());
                if is_known { format!("{wide} and {thick}") } else { wide }
            });
            format!("{made} Closed, it is {closed}.")
        }
        None => format!("{made} No step of its closing is said yet."),
    }
}

pub(super) fn credits(told: Told<'_>) -> Vec<Block> {
    let document = told.subject.document;
    let own = document.credit.lines().filter(|line| !line.trim().is_empty()).map(str::to_owned);
    let all: Vec<String> = own.chain(compare::credit(document).unwrap_or_default()).collect();
    if all.is_empty() {
        return Vec::new();
    }
    titled("Where the idea comes from", all.into_iter().map(said).collect())
}
