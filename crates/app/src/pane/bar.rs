//! The bar along the top: the design's name, and the commands on it as a whole.

use crate::arrangement::{Arrangement, Pane, View};
use crate::commands;
use crate::field::{Drafts, Field};
use crate::menu::WIDTH;
use crate::pane::Scene;
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::{Id, ScrollArea, Ui};
use model::Edit;
use session::Command;
use std::path::Path;

/// The width below which the name and the buttons go on two lines, px: where they fit beside one another.
const NARROW: f32 = 1375.0;

/// The width below which the buttons do not fit on a line of their own, px: all but the most usual are in menus then.
const SHORT: f32 = 1140.0;

/// Width of the design's name, px; in a short bar.
const NAME: f32 = 180.0;
const SHORT_NAME: f32 = 140.0;

/// Of the window's height a menu leaves this much, px: the bar over it.
const OVER_MENU: f32 = 70.0;

/// Width of a menu, px: the longest command and its keys.
const MENU: f32 = 270.0;

/// Ways to begin a design.
const BEGINNINGS: [Command; 3] = [Command::New, Command::NewFromStarter, Command::NewForContents];

/// What is done with two designs.
const COMPARISONS: [Command; 3] = [Command::Vary, Command::WhatChanged, Command::CompareWith];

/// The buttons, in groups.
const GROUPS: [&[Command]; 4] = [
    &[Command::Open, Command::OpenRecent, Command::Save, Command::SaveAs],
    &[Command::Undo, Command::Redo, Command::ShowHistory],
    &[Command::Export, Command::ExportPicture],
    &[Command::Paper],
];

/// Shows the bar.
pub(crate) fn ui(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    drafts: &mut Drafts,
    file: Option<&Path>,
    arrangement: &Arrangement,
) {
    let narrow = ui.available_width() < NARROW;
    let short = ui.available_width() < SHORT;
    ui.horizontal(|ui| {
        name(ui, scene, drafts, if short { SHORT_NAME } else { NAME });
        if short {
            short_buttons(ui, scene, arrangement);
        } else if !narrow {
            ui.separator();
            buttons(ui, scene, arrangement);
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.add(egui::Label::new(caption(&state(scene, file))).truncate());
        });
    });
    if narrow && !short {
        ui.horizontal_wrapped(|ui| buttons(ui, scene, arrangement));
    }
}

fn name(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, width: f32) {
    let field = Field {
        id: Id::unique("title of the design"),
        name: "Title of the design",
        shown: &scene.session.document().title,
        hint: "What do you call it?",
        width,
    };
    drafts.field(ui, field, |text| {
        scene.edit("Rename the design", Edit::SetTitle(text.to_owned()));
        Ok(())
    });
}

fn buttons(ui: &mut Ui, scene: &mut Scene<'_>, arrangement: &Arrangement) {
    menu(ui, "New", "Begin a design: empty, from a starter, or from what should go in.", |ui| {
        items(ui, scene, &BEGINNINGS);
    });
    for group in GROUPS {
        for &command in group {
            commands::button(ui, scene, command);
        }
        ui.separator();
    }
    menu(ui, "Compare", "Begin a variation, or look at two designs side by side.", |ui| {
        items(ui, scene, &COMPARISONS);
    });
    view_and_help(ui, scene, arrangement);
}

/// The same in little room.
fn short_buttons(ui: &mut Ui, scene: &mut Scene<'_>, arrangement: &Arrangement) {
    menu(ui, "Design", "Begin, open, save, export or compare a design.", |ui| {
        items(ui, scene, &BEGINNINGS);
        for group in GROUPS.into_iter().chain([COMPARISONS.as_slice()]) {
            ui.separator();
            items(ui, scene, group);
        }
    });
    commands::button(ui, scene, Command::Undo);
    commands::button(ui, scene, Command::Redo);
    view_and_help(ui, scene, arrangement);
}

fn view_and_help(ui: &mut Ui, scene: &mut Scene<'_>, arrangement: &Arrangement) {
    menu(ui, "View", "Say what of the window is shown, and how large.", |ui| view(ui, scene, arrangement));
    menu(ui, "Help", "Search all commands, read how to begin, or see what the program is.", |ui| {
        items(ui, scene, &[Command::AllCommands, Command::FromNothing, Command::About]);
    });
}

/// A button under which there is more to choose from.
fn menu(ui: &mut Ui, name: &str, tip: &str, add: impl FnOnce(&mut Ui)) {
    let most = ui.ctx().content_rect().height() - OVER_MENU;
    ui.menu_button(name, |ui| {
        // The keys stand at the right, so a menu takes all the width that it may.
        ui.set_max_width(WIDTH);
        ScrollArea::vertical().max_height(most).min_scrolled_height(most).show(ui, add)
    })
    .response
    .tip(tip);
}

fn items(ui: &mut Ui, scene: &mut Scene<'_>, commands: &[Command]) {
    ui.set_min_width(MENU);
    for &command in commands {
        commands::item(ui, scene, command, None);
    }
}

/// What of the window is shown, and how.
fn view(ui: &mut Ui, scene: &mut Scene<'_>, arrangement: &Arrangement) {
    ui.set_min_width(MENU);
    let fills = |view| arrangement.filling() == Some(view);
    let shows = |pane| arrangement.shows(pane);
    let switches = [
        (Command::FillSheet, fills(View::Sheet)),
        (Command::FillFolded, fills(View::Folded)),
        (Command::ShowLists, shows(Pane::Lists)),
        (Command::ShowFolded, shows(Pane::Folded)),
        (Command::ShowOrders, shows(Pane::Orders)),
        (Command::ShowFindings, shows(Pane::Findings)),
    ];
    for (command, on) in switches {
        commands::item(ui, scene, command, Some(on));
    }
    ui.separator();
    for command in [Command::LightOrDark, Command::Larger, Command::Smaller, Command::UsualSize] {
        commands::item(ui, scene, command, None);
    }
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
