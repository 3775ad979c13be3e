//! What fits into the selected part, and whether it fits where it lies.

use crate::pane::Scene;
use crate::theme::{bold, caption, complaint};
use egui::{Label, RichText, Ui};
use fit::{Holds, words};
use model::Part;

/// The most cards that are listed, from the largest down: what takes those takes smaller ones.
const MOST_CARDS: usize = 6;

/// Shows what goes in; nothing for a part that holds nothing and lies in nothing.
pub(super) fn ui(ui: &mut Ui, scene: &Scene<'_>, part: &Part) {
    let session = scene.session;
    let (document, derived) = (session.document(), session.derived());
    let fits = derived.fits(document);
    let units = document.units;
    let mut lines: Vec<String> = Vec::new();
    for pocket in fits.pockets.iter().filter(|fit| fit.part == part.id) {
        lines.push(words::pocket(pocket, units));
        let cards = match &pocket.holds {
            Holds::Pocket(inside) => &inside.cards[..],
            // Nothing goes in where it is only laid or glued on.
            Holds::Surface { .. } | Holds::Corner(_) => &[],
        };
        lines.extend(cards.iter().rev().take(MOST_CARDS).map(|card| words::card(card, units)));
    }
    let sets = fits.corners.iter().filter(|set| set.corners.iter().any(|corner| corner.part == part.id));
    lines.extend(sets.map(|set| words::corners(set, document)));
    let insert = fits.inserts.iter().find(|fit| fit.part == part.id);
    if lines.is_empty() && insert.is_none() {
        return;
    }
    ui.add_space(4.0);
    ui.label(RichText::new("What fits").font(bold(13.0)));
    for line in lines {
        ui.add(Label::new(caption(&line)).wrap());
    }
    if let Some(insert) = insert {
        let text = words::insert(insert, document, &derived.layout);
        ui.add(Label::new(if insert.fits() { caption(&text) } else { complaint(&text) }).wrap());
        if let Some(loaded) = &fits.loaded {
            ui.add(Label::new(caption(&words::load(loaded, document))).wrap());
        }
    }
}
