//! Glue that the maker puts on a part besides that of its kind: to what, and taken off again.

use super::{add, change};
use crate::form::{choice, row};
use crate::naming::part::panel_name;
use crate::pane::Scene;
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::Ui;
use model::part::change::with_carried;
use model::part::{GlueArea, Gluing};
use model::{Layout, PanelRef, Part};

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
        let is_possible =
            |on: &PanelRef| *on != part.place.on && !matches!(on, PanelRef::Part(id, _) if own.contains(id));
        let named = |on: PanelRef| (Some(on), panel_name(document, layout, on));
        let options = || add::panels(layout).into_iter().filter(is_possible).map(named).collect();
        let chosen = choice(ui, "Glue it to…", "Glue it to…", None, options).flatten();
        if let Some(to) = chosen {
            let gluing = gluing(layout, part, to);
            change(scene, "Glue", part.id, |part| part.also.extend(gluing));
        }
    });
}

/// Glue all over the face of the main panel that lies below.
fn gluing(layout: &Layout, part: &Part, to: PanelRef) -> Option<Gluing> {
    let of = layout.part(part.id)?;
    let panel = of.panels.iter().position(|panel| panel.id == of.main)?;
    Some(Gluing { panel, face: part.place.showing.other(), to, area: GlueArea::Whole })
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
