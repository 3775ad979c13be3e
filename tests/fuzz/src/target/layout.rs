//! Any lines: the ledger adds up to the sheet, all can be said, and the design is written and read back.

use crate::bytes::Bytes;
use crate::design::design;
use model::board::scoring_table;
use model::cutting::cut_list;
use model::polygon::signed_area;
use model::{Area, Document, Layout};

pub(crate) fn run(data: &[u8]) {
    let document = design(&mut Bytes(data), 16);
    let layout = Layout::of(&document);
    adds_up(&layout);
    let table = scoring_table(&document, &layout);
    assert!(table.turns.len() <= 4);
    for step in cut_list(&document, &layout) {
        assert!(step.sentence.ends_with('.'), "{}", step.sentence);
    }
    reads_back(&document);
}

pub(crate) fn adds_up(layout: &Layout) {
    let ledger = layout.ledger;
    assert_eq!(ledger.folio + ledger.offcuts + ledger.slots + ledger.waste, ledger.sheet);
    let panels: Area = layout.panels.iter().map(|panel| panel.area).sum();
    let voids: Area = layout.voids.iter().map(|void| void.area).sum();
    assert_eq!(panels + voids, ledger.sheet);
    for panel in &layout.panels {
        let pieces: i128 = panel.convex.iter().map(|piece| signed_area(piece).half_nm2()).sum();
        assert_eq!(pieces, panel.area.half_nm2());
    }
}

/// What is written is read back, unless it goes beyond what a file may say.
fn reads_back(document: &Document) {
    let text = file::to_text(document);
    if let Ok(read) = file::from_text(&text) {
        assert_eq!(read, *document, "{text}");
    }
}
