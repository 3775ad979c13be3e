//! Tucking what folds in a step under something that lies there already.

use crate::icon::Icon;
use crate::pane::Scene;
use crate::tip::Tip as _;
use egui::{Popup, Ui};
use model::change::{tuck, untuck};

/// The button that tucks, with its menu: the ways that work, worked out when it is opened.
pub(super) fn button(ui: &mut Ui, scene: &mut Scene<'_>, step: usize) {
    let number = step + 1;
    let response = Icon::Tuck.button(ui, &format!("Tuck what step {number} folds…"), true);
    let mut edit = None;
    Popup::menu(&response).show(|ui| {
        let (document, derived) = (scene.session.document(), scene.session.derived());
        let ways = session::tuck::ways(document, derived, step);
        for way in &ways {
            if ui.button(&way.label).tip("Let it end under this as the step folds.").clicked() {
                edit = tuck(document, step, way.tucked).map(|edit| (format!("Tuck {}", way.label), edit));
            }
        }
        let out = untuck(document, step);
        if out.is_some() && ui.button("On top again").tip("Let it lie on top of what is there.").clicked() {
            edit = out.map(|edit| ("Tuck nothing".to_owned(), edit));
        } else if ways.is_empty() && document.steps.get(step).is_some_and(|step| step.tucks.is_empty()) {
            ui.label("Nothing that folds in this step can be tucked under anything.");
        }
    });
    if let Some((label, edit)) = edit {
        scene.edit(label, edit);
    }
}
