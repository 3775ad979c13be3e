//! Where a part's paper comes from, as the maker wants it and as it is planned.

use super::change;
use crate::form::{choice, row};
use crate::naming::part::{piece_of, source, supply};
use crate::pane::Scene;
use crate::theme::{caption, complaint};
use egui::Ui;
use model::part::Source;
use model::{Document, Layout, Part};

/// Shows the choice and what comes of it.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part) {
    let derived = scene.session.derived();
    let (document, layout) = (scene.session.document(), &derived.layout);
    let now = as_listed(layout, part.source);
    row(ui, "Paper", |ui| {
        let named = |of: Source| (of, source(document, layout, of));
        let options = || sources(document, layout).into_iter().map(named).collect();
        if let Some(source) = choice(ui, "Where its paper comes from", &source(document, layout, now), now, options) {
            change(scene, "Change the paper of", part.id, |part| part.source = source);
        }
    });
    let notes = derived.supply.as_ref().and_then(|supply| supply.supply(part.id)).map(|supply| &supply.notes);
    row(ui, "", |ui| {
        let text = match supply(document, derived, part) {
            Ok(_) if part.source == Source::Bought => return,
            Ok(from) => caption(&format!("It is {}.", cut(&from))),
            Err(why) => complaint(&why),
        };
        ui.add(egui::Label::new(text).wrap());
    });
    for note in notes.into_iter().flatten() {
        ui.add(egui::Label::new(caption(&note.to_string())).wrap());
    }
}

/// "cut from Offcut 2", "Offcut 2 as it is".
fn cut(from: &str) -> String {
    if from.starts_with("from") { format!("cut {from}") } else { from.to_owned() }
}

/// Every paper there is to choose.
fn sources(document: &Document, layout: &Layout) -> Vec<Source> {
    let marks = || layout.offcuts().filter_map(|piece| piece.panels.iter().find_map(|&id| layout.panel(id).inside));
    let stocks = document.further_stocks.iter().map(|stock| Source::Stock(stock.id));
    let mut all = vec![Source::AnyOffcut];
    all.extend(marks().map(Source::Offcut));
    all.extend(marks().map(Source::Whole));
    all.push(Source::FolioStock);
    all.extend(stocks);
    all.push(Source::Bought);
    all
}

/// The same paper with an offcut named by the mark that it has in the list.
fn as_listed(layout: &Layout, source: Source) -> Source {
    let piece = piece_of(layout, source).and_then(|piece| layout.pieces.get(piece.0));
    let mark = piece.and_then(|piece| piece.panels.iter().find_map(|&id| layout.panel(id).inside));
    match (source, mark) {
        (Source::Offcut(_), Some(mark)) => Source::Offcut(mark),
        (Source::Whole(_), Some(mark)) => Source::Whole(mark),
        _ => source,
    }
}
