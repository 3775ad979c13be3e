//! The bar along the top: the design's name, and the commands on it as a whole.

use crate::commands;
use crate::field::{Drafts, Field};
use crate::pane::Scene;
use crate::theme::caption;
use egui::{Button, Id, Ui};
use model::Edit;
use session::Command;
use std::path::Path;

/// The width below which the name and the buttons go on two lines, px.
const NARROW: f32 = 1230.0;

/// Width of the design's name, px.
const NAME: f32 = 230.0;

/// The buttons, in groups.
const GROUPS: [&[Command]; 3] = [
    &[Command::New, Command::Open, Command::Save, Command::SaveAs],
    &[Command::Undo, Command::Redo],
    &[Command::Export, Command::ExportPicture],
];

/// Shows the bar; says whether the paper and the board were asked for.
pub(crate) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, file: Option<&Path>) -> bool {
    let mut paper = false;
    let narrow = ui.available_width() < NARROW;
    ui.horizontal(|ui| {
        name(ui, scene, drafts);
        if !narrow {
            ui.separator();
            paper = buttons(ui, scene);
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.add(egui::Label::new(caption(&state(scene, file))).truncate());
        });
    });
    if narrow {
        ui.horizontal_wrapped(|ui| paper = buttons(ui, scene));
    }
    paper
}

fn name(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
    let field = Field {
        id: Id::unique("title of the design"),
        name: "Title of the design",
        shown: &scene.session.document().title,
        hint: "What do you call it?",
        width: NAME,
    };
    drafts.field(ui, field, |text| {
        scene.edit("Rename the design", Edit::SetTitle(text.to_owned()));
        Ok(())
    });
}

fn buttons(ui: &mut Ui, scene: &mut Scene<'_>) -> bool {
    for group in GROUPS {
        for &command in group {
            commands::button(ui, scene, command);
        }
        ui.separator();
    }
    ui.add(Button::new("Paper…"))
        .on_hover_text("The sheet and what paper it is, other papers, the board's grooves, the units.")
        .clicked()
}

/// The file's name, and whether it holds all of the design.
fn state(scene: &Scene<'_>, file: Option<&Path>) -> String {
    let name = file.and_then(Path::file_name).map(|name| name.to_string_lossy().into_owned());
    match (name, scene.session.is_changed()) {
        (Some(name), true) => format!("{name}, changes not saved"),
        (Some(name), false) => format!("{name}, saved"),
        (None, true) => "Not saved yet".to_owned(),
        (None, false) => "No changes yet".to_owned(),
    }
}
