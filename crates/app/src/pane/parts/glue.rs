//! Glue that the maker puts on a part besides that of its kind: to what, and taken off again.

use super::{add, change};
use crate::form::{choice, row};
use crate::naming::part::panel_name;
use crate::pane::Scene;
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::Ui;
use model::part::GlueArea;
use model::part::change::with_carried;
use model::part::own::glue_below;
use model::{PanelRef, Part, PartKind};

/// Shows the list, and what else it could be glued to.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part) {
    if !part.kind.is_on_a_panel() {
        return;
    }
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    for (place, gluing) in part.also.iter().enumerate() {
        let to = panel_name(document, layout, gluing.to);
        row(ui, if place == 0 { "Glued to" } else { "" }, |ui| {
            if ui.button("Take off").tip("Take this glue off.").clicked() {
                change(scene, "Take glue off", part.id, |part| {
                    part.also.remove(place);
                });
            }
            ui.add(egui::Label::new(caption(&format!("{to}, {}", area_words(gluing.area)))).truncate());
        });
    }
    row(ui, "More glue", |ui| {
        let own = with_carried(document, &[part.id]);
        // What it lies on is glued by its kind already, but a shape of her own has no such glue.
        let has_own = !matches!(part.kind, PartKind::Own(_));
        let is_glued_to = |on: PanelRef| part.also.iter().any(|gluing| gluing.to == on);
        let is_done = |on: PanelRef| if has_own { on == part.place.on } else { is_glued_to(on) };
        let is_possible = |on: &PanelRef| !is_done(*on) && !matches!(on, PanelRef::Part(id, _) if own.contains(id));
        let named = |on: PanelRef| (Some(on), panel_name(document, layout, on));
        let options = || add::panels(layout).into_iter().filter(is_possible).map(named).collect();
        let chosen = choice(ui, "Glue it to…", "Glue it to…", None, options).flatten();
        if let Some(to) = chosen {
            let gluing = glue_below(part, document, to);
            change(scene, "Glue", part.id, |part| part.also.extend(gluing));
        }
    });
}

fn area_words(area: GlueArea) -> String {
    match area {
        GlueArea::Whole => "all over".to_owned(),
        GlueArea::Strips(edges, _) => {
            format!("along the {}", model::words::listed(edges.iter().map(|edge| edge.word().to_owned())))
        }
        GlueArea::None => "no glue".to_owned(),
    }
}
