//! The buttons over the sheet, and what can be done on it.

use super::drawing::Tool;
use crate::commands;
use crate::menu;
use crate::pane::Scene;
use crate::theme::{SMALL, caption, colour, palette, plain};
use crate::tip::Tip as _;
use egui::Ui;
use session::{Command, Selected};

/// Where the pane is narrower or lower than this, px, all but the first buttons are in a menu: the sheet keeps its room.
const SHORT: egui::Vec2 = egui::vec2(420.0, 340.0);

/// Width of that menu, px: the longest command and its keys.
const MENU: f32 = 250.0;

/// Shows them.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, tool: Option<Tool>, parts: bool) {
    let room = ui.available_size();
    if room.x < SHORT.x || room.y < SHORT.y {
        ui.horizontal(|ui| short(ui, scene, tool, parts));
        return;
    }
    let hint = hint(scene, tool);
    let wide = |text: &str| ui.painter().layout_no_wrap(text.to_owned(), plain(SMALL), colour(palette().text)).size().x;
    let (turn_wide, hint_wide) = (wide(scene.turn.words()), wide(hint));
    let has_room = ui
        .horizontal_wrapped(|ui| {
            for (command, on) in all(scene, tool, parts) {
                match on {
                    Some(on) => commands::switch(ui, scene, command, on),
                    None => commands::button(ui, scene, command),
                };
            }
            // Whatever is said, the sheet keeps its room: the words have a line of their own where the buttons leave none.
            let room = ui.available_size_before_wrap().x;
            let has_room = turn_wide + 8.0 < room;
            if has_room {
                ui.label(caption(scene.turn.words()));
                if turn_wide + hint_wide + 40.0 < room {
                    ui.separator();
                    ui.label(caption(hint));
                }
            }
            has_room
        })
        .inner;
    if !has_room {
        ui.horizontal(|ui| {
            ui.label(caption(scene.turn.words()));
            ui.separator();
            ui.add(egui::Label::new(caption(hint)).truncate());
        });
    }
}

/// What there is to take in hand, and whether it is; `None` for what is done at once.
fn all(scene: &Scene<'_>, tool: Option<Tool>, parts: bool) -> Vec<(Command, Option<bool>)> {
    let mut all = vec![
        (Command::AddScore, None),
        (Command::DrawLine, Some(tool == Some(Tool::Draw))),
        (Command::CutAlong, Some(tool == Some(Tool::CutAlong))),
        (Command::Measure, Some(tool == Some(Tool::Measure))),
        (Command::FitSheet, None),
        (Command::TurnSheet, None),
    ];
    if !scene.session.document().parts.is_empty() {
        all.push((Command::ShowParts, Some(parts)));
    }
    all
}

/// The same in one short line.
fn short(ui: &mut Ui, scene: &mut Scene<'_>, tool: Option<Tool>, parts: bool) {
    commands::button(ui, scene, Command::AddScore);
    commands::switch(ui, scene, Command::DrawLine, tool == Some(Tool::Draw));
    let tools = ui.menu_button("More", |ui| {
        ui.set_min_width(MENU);
        for (command, on) in all(scene, tool, parts).split_off(2) {
            commands::item(ui, scene, command, on);
        }
    });
    tools.response.tip("Cut along lines, measure, and say how the sheet lies.");
    ui.add(egui::Label::new(caption(&format!("{}: {}", scene.turn.words(), hint(scene, tool)))).truncate());
}

/// What the pointer or a key does now.
fn hint(scene: &Scene<'_>, tool: Option<Tool>) -> &'static str {
    match scene.session.selected() {
        _ if tool == Some(Tool::CutAlong) => "Drag along scores to cut them. Escape ends it.",
        _ if tool.is_some() => "Drag from spot to spot. Escape ends it.",
        Selected::Panel(point) if menu::is_offcut(&scene.session.derived().layout, point) => {
            "Drag the offcut onto a panel to make a part of it."
        }
        Selected::Panel(_) => "What can be done with the panel is at the left.",
        Selected::Part(_) => "Arrows move the part by a groove; Alt and a click go deeper.",
        Selected::Line { .. } => "Arrows move the line by a groove, with Shift by a quarter of one.",
        Selected::Nothing => "Click a line or a panel to work on it; drag a line to move it.",
    }
}
