//! What becomes of the offcut that the selected panel is of: the parts cut from it, and what else it would do for.

use crate::commands;
use crate::pane::{LeftList, Scene};
use crate::theme::caption;
use crate::tip::Tip as _;
use allot::OffcutUse;
use egui::{Label, Response, Ui};
use model::part::change::add;
use model::words::listed;
use model::{Area, Document, Panel, Piece, PieceId, Unit};
use session::room::beside_others;
use session::{Command, Selected};

/// Square millimetres in a square inch.
const SQUARE_INCH: f64 = 25.4 * 25.4;

/// Square millimetres in a square centimetre.
const SQUARE_CENTIMETRE: f64 = 100.0;

/// Shows what an offcut is used for, and the menu of what it would do for on the base. Nothing for a panel of the folio.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, panel: &Panel, list: LeftList) {
    let session = scene.session;
    let (document, layout) = (session.document(), &session.derived().layout);
    let piece = &layout.pieces[panel.piece.0];
    if piece.is_folio || layout.base.is_none() {
        return;
    }
    if let Some(used) = session.derived().supply.as_ref().and_then(|supply| supply.offcut(piece.id)) {
        ui.add(Label::new(caption(&used_words(document, used))).wrap());
    }
    ui.horizontal_wrapped(|ui| {
        uses(ui, scene, piece);
        // The list of parts has that button itself.
        if list != LeftList::Parts {
            commands::button(ui, scene, Command::FitParts);
        }
    });
}

/// The menu of what an offcut would do for.
pub(crate) fn uses(ui: &mut Ui, scene: &mut Scene<'_>, piece: &Piece) -> Response {
    ui.menu_button("Use this offcut as…", |ui| suggestions(ui, scene, (piece.id, &piece.name)))
        .response
        .tip("Parts that this offcut, or what is left of it, would do for, put on the base where there is room.")
}

/// "Cut from it: Hinge 1 and Tab 2."
fn used_words(document: &Document, used: &OffcutUse) -> String {
    match used.parts.as_slice() {
        [] => "No part is cut from it.".to_owned(),
        parts => format!("Cut from it: {}.", listed(parts.iter().map(|&part| document.part_name(part)))),
    }
}

fn suggestions(ui: &mut Ui, scene: &mut Scene<'_>, (piece, name): (PieceId, &str)) {
    let (document, derived) = (scene.session.document(), scene.session.derived());
    let Some(base) = derived.layout.base else { return };
    let found = session::carry::uses(document, derived, piece, base);
    if found.is_empty() {
        ui.label(caption("Nothing of it is left that would do for a part on the base."));
    }
    for suggestion in found {
        let response = ui.button(&suggestion.label).tip(&lost(suggestion.waste, document.units));
        if response.clicked() {
            let selected = Selected::Part(suggestion.part.id);
            let label = format!("Use {name} as {}", suggestion.part.kind.word().to_lowercase());
            let edit = add(document, beside_others(document, &derived.layout, suggestion.part));
            scene.ask(crate::pane::Action::EditAndSelect(label, edit, selected));
            ui.close();
        }
    }
}

/// How much of the paper would be left or lost.
fn lost(area: Area, units: Unit) -> String {
    let (whole, unit) = match units {
        Unit::Inch => (SQUARE_INCH, "sq in"),
        Unit::Millimetre | Unit::Centimetre => (SQUARE_CENTIMETRE, "cm²"),
    };
    let area = area.mm2() / whole;
    if area < 0.05 { "All of it is used.".to_owned() } else { format!("{area:.1} {unit} of it are left or lost.") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Size;

    #[test]
    fn what_is_lost_is_said_in_the_units_of_the_design() {
        let area = |size: &str| Size::parse(size).unwrap().area();
        assert_eq!(lost(Area::ZERO, Unit::Inch), "All of it is used.");
        assert_eq!(lost(area("2x3in"), Unit::Inch), "6.0 sq in of it are left or lost.");
        assert_eq!(lost(area("20x30mm"), Unit::Centimetre), "6.0 cm² of it are left or lost.");
    }
}
