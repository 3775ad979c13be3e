//! The measures of a part, each a field.

use super::try_change;
use crate::field::{self, Drafts, Field};
use crate::form::{length, row};
use crate::pane::Scene;
use egui::{Id, Ui};
use model::{Length, Part, PartKind, PartSlot, Slot};

/// Width of the fields, px.
const FIELD: f32 = 110.0;

/// Shows a field for every measure.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part) {
    for (name, value) in part.kind.measures() {
        let id = Id::unique(("measure of part", part.id.0, name));
        let title = capital(name);
        row(ui, &title, |ui| {
            let label = format!("{title} of the part");
            let said = scene.at(Slot::Part(part.id, PartSlot::Measure(name)));
            length(ui, drafts, (id, &label, FIELD), value, said, |value| {
                let Some(kind) = part.kind.with_measure(name, value) else {
                    return Err(format!("The {name} can't be that."));
                };
                try_change(scene, "Change", part.id, |part| part.kind = kind)
            });
        });
        drafts.say_why(ui, id);
    }
    if let PartKind::Insert(insert) = part.kind {
        thickness(ui, scene, drafts, part, insert.caliper);
    }
}

/// How thick an insert is that is no paper of its own; empty for that of its paper.
fn thickness(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part, caliper: Option<Length>) {
    let units = scene.session.document().units;
    let id = Id::unique(("thickness of insert", part.id.0));
    let shown = caliper.map(|caliper| caliper.text(units)).unwrap_or_default();
    row(ui, "Thickness", |ui| {
        let field = Field { id, name: "Thickness of the insert", shown: &shown, hint: "as its paper", width: FIELD };
        drafts.field(ui, field, |text| {
            let caliper = if text.is_empty() { None } else { Some(field::length(text, units)?) };
            if caliper.is_some_and(|caliper| caliper <= Length::ZERO) {
                return Err("Give more than nothing, or leave it empty for that of its paper.".to_owned());
            }
            try_change(scene, "Change", part.id, |part| {
                if let PartKind::Insert(insert) = &mut part.kind {
                    insert.caliper = caliper;
                }
            })
        });
    });
    drafts.say_why(ui, id);
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
