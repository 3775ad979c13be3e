//! What can be done with several selected lines at once.

use crate::commands;
use crate::pane::Scene;
use crate::theme::{bold, caption};
use crate::tip::Tip as _;
use egui::{RichText, Ui};
use session::Command;

/// What moves lines to the other side, or copies them there.
const ACROSS: [Command; 4] =
    [Command::MirrorLeftRight, Command::MirrorTopBottom, Command::CopyLeftRight, Command::CopyTopBottom];

/// Shows how many lines are selected, and the commands on them.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>) {
    let session = scene.session;
    let ids = session.selected_lines();
    ui.label(RichText::new(format!("{} lines selected", ids.len())).font(bold(14.0)));
    let names: Vec<String> = ids.iter().map(|&id| session.document().line_name(id)).collect();
    ui.add(egui::Label::new(caption(&format!("{}.", names.join(", ")))).wrap());
    ui.add_space(2.0);
    ui.horizontal_wrapped(|ui| {
        commands::button(ui, scene, Command::SpaceEvenly);
        commands::button(ui, scene, Command::AlignLines);
        commands::button(ui, scene, Command::ToGrooves);
        commands::button(ui, scene, Command::Lock);
        for command in ACROSS {
            commands::button(ui, scene, command);
        }
        commands::button(ui, scene, Command::DeleteLine);
    });
    ui.add_space(6.0);
}

/// The same for one line, out of the way of its own fields.
pub(super) fn menu(ui: &mut Ui, scene: &mut Scene<'_>) {
    let menu = ui.menu_button("Mirror or copy", |ui| {
        for command in ACROSS {
            commands::button(ui, scene, command);
        }
    });
    menu.response.tip("Move it to the other side of the sheet, or add the same there.");
}
