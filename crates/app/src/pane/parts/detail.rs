//! The selected part in detail.

use super::{fits, glue, kind, measure, own, paper, place, try_change};
use crate::field::{Drafts, Field};
use crate::form::row;
use crate::naming::part::{faults, kind_words, where_it_lies};
use crate::pane::Scene;
use crate::theme::{bold, caption, complaint};
use egui::{Id, Label, RichText, Ui};
use model::{Part, PartKind};

/// Shows what the selected part is and lets every part of it be changed.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
    let session = scene.session;
    let Some(part) = session.selected().part().and_then(|id| session.document().part(id)) else { return };
    let (document, derived) = (session.document(), session.derived());
    ui.label(RichText::new(document.part_name(part.id)).font(bold(14.0)));
    let text = format!("{}. {}", kind_words(&part.kind), where_it_lies(document, &derived.layout, part));
    ui.add(Label::new(caption(&text)).wrap());
    for fault in faults(document, derived, part.id) {
        ui.add(Label::new(complaint(&fault)).wrap());
    }
    ui.add_space(2.0);
    row(ui, "Name", |ui| name(ui, scene, drafts, part));
    measure::ui(ui, scene, drafts, part);
    kind::ui(ui, scene, part);
    if matches!(part.kind, PartKind::Own(_)) {
        heading(ui, "Its lines");
        own::ui(ui, scene, drafts, part);
    }
    if part.kind.is_on_a_panel() {
        heading(ui, "Where it lies");
    }
    place::ui(ui, scene, drafts, part);
    heading(ui, "Paper and glue");
    paper::ui(ui, scene, part);
    glue::ui(ui, scene, part);
    fits::ui(ui, scene, part);
    ui.add_space(4.0);
    place::commands(ui, scene);
    ui.add_space(6.0);
}

fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(4.0);
    ui.label(RichText::new(text).font(bold(13.0)));
}

fn name(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part) {
    let unnamed = scene.session.document().part_name(part.id);
    let field = Field {
        id: Id::unique(("name of part", part.id.0)),
        name: "Name of the selected part",
        shown: &part.name,
        hint: &unnamed,
        width: ui.available_width(),
    };
    drafts.field(ui, field, |text| try_change(scene, "Rename", part.id, |part| part.name = text.to_owned()));
}
