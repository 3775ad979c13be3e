//! From the table of commands to the window: buttons, shortcuts, and whether there is something to work on.

mod change;
mod clip;
mod crease;
mod own;
mod part;
mod step;

pub(crate) use change::{change, stretch};
pub(crate) use clip::{copied, is_clip, pasted};
pub(crate) use own::change as own_change;
pub(crate) use part::usual;
pub(crate) use step::{outcome, step_of};

pub(crate) use change::Change;

use crate::pane::{Action, Scene};
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::{Button, KeyboardShortcut, Modifiers, Response, Ui};
use session::command::TABLE;
use session::{Command, Key, Selected, Session, Shortcut, offcut};
use std::borrow::Cow;

/// Two lines have nothing between them to be spaced.
const LEAST_SPACED: usize = 3;

/// One line has nothing to be aligned with.
const LEAST_ALIGNED: usize = 2;

/// A button for a command, with its tooltip and shortcut; grey while it has nothing to work on.
pub(crate) fn button(ui: &mut Ui, scene: &mut Scene<'_>, command: Command) -> Response {
    let label = label(scene.session, command);
    add(ui, scene, command, Button::new(label))
}

/// The same for a command that switches something on and off.
pub(crate) fn switch(ui: &mut Ui, scene: &mut Scene<'_>, command: Command, on: bool) -> Response {
    let label = label(scene.session, command);
    add(ui, scene, command, Button::selectable(on, label).frame_when_inactive(true))
}

/// What a command is called now: by how many lines it works on.
pub(crate) fn label(session: &Session, command: Command) -> Cow<'static, str> {
    command.label(session.selected_lines().len())
}

/// A command in a menu, with its keys; on or off where it switches something.
pub(crate) fn item(ui: &mut Ui, scene: &mut Scene<'_>, command: Command, on: Option<bool>) -> Response {
    let entry = command.entry();
    let label = label(scene.session, command).into_owned();
    let keys = command.keys().map(Shortcut::text).unwrap_or_default();
    let mut ticked = on.unwrap_or_default();
    let possible = is_possible(scene, command);
    let response = ui
        .horizontal(|ui| {
            let response = match on {
                Some(_) => ui.add_enabled(possible, egui::Checkbox::new(&mut ticked, label)),
                None => ui.add_enabled(possible, Button::new(label)),
            };
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| ui.label(caption(&keys)));
            response.tip(entry.tooltip)
        })
        .inner;
    if response.clicked() {
        scene.ask(Action::Run(command));
    }
    response
}

fn add(ui: &mut Ui, scene: &mut Scene<'_>, command: Command, button: Button<'_>) -> Response {
    let possible = is_possible(scene, command);
    let response = ui.add_enabled(possible, button);
    let tip = tip(scene.session, command);
    let response = response.tip(&tip);
    if response.clicked() {
        scene.ask(Action::Run(command));
    }
    response
}

/// What a command does, and its keys: "Take the last change back: Move Score 1. (Ctrl+Z)".
pub(crate) fn tip(session: &Session, command: Command) -> String {
    let entry = command.entry();
    let last = match command {
        Command::Undo => session.undo_label(),
        Command::Redo => session.redo_label(),
        _ => None,
    };
    let what = match last {
        Some(label) => format!("{}: {label}.", entry.tooltip.trim_end_matches('.')),
        None => entry.tooltip.to_owned(),
    };
    match command.keys() {
        Some(shortcut) => format!("{what} ({})", shortcut.text()),
        None => what,
    }
}

/// The commands whose shortcuts were pressed. Shortcuts with more keys are looked at first, since one with fewer
/// would answer to them too.
pub(crate) fn pressed(ctx: &egui::Context, focus_is_free: bool) -> Vec<Command> {
    let keys = |shortcut: Shortcut| usize::from(shortcut.control) + usize::from(shortcut.shift);
    let mut table: Vec<(Command, Shortcut)> =
        TABLE.iter().filter_map(|entry| Some((entry.command, entry.shortcut?))).collect();
    table.sort_by_key(|(_, shortcut)| std::cmp::Reverse(keys(*shortcut)));
    // The space bar presses the button that has the focus.
    table.retain(|(_, shortcut)| focus_is_free || shortcut.key != Key::Space);
    ctx.input_mut(|input| {
        let hit = |shortcut: Shortcut| on_keyboard(shortcut).is_some_and(|keys| input.consume_shortcut(&keys));
        let mut hit = hit;
        let mut all: Vec<Command> =
            table.into_iter().filter(|(_, shortcut)| hit(*shortcut)).map(|(command, _)| command).collect();
        // On most keyboards the plus is above the equals sign, and nobody reaches for shift.
        if input.consume_key(Modifiers::COMMAND, egui::Key::Equals) {
            all.push(Command::Larger);
        }
        // The other usual keys for it.
        if input.consume_key(Modifiers::COMMAND, egui::Key::Y) {
            all.push(Command::Redo);
        }
        // Where the keyboard has a key for it.
        if input.consume_key(Modifiers::NONE, egui::Key::Menu) {
            all.push(Command::ShowMenu);
        }
        all
    })
}

fn on_keyboard(shortcut: Shortcut) -> Option<KeyboardShortcut> {
    let key = match shortcut.key {
        Key::Char(letter) => egui::Key::from_name(letter.encode_utf8(&mut [0; 4]))?,
        Key::Delete => egui::Key::Delete,
        Key::Space => egui::Key::Space,
        Key::Escape => egui::Key::Escape,
        Key::Home => egui::Key::Home,
        Key::PageUp => egui::Key::PageUp,
        Key::PageDown => egui::Key::PageDown,
        Key::Function(number) => egui::Key::from_name(&format!("F{number}"))?,
    };
    let control = if shortcut.control { Modifiers::COMMAND } else { Modifiers::NONE };
    let shift = if shortcut.shift { Modifiers::SHIFT } else { Modifiers::NONE };
    Some(KeyboardShortcut::new(control | shift, key))
}

/// Whether a command has something to work on.
pub(crate) fn is_possible(scene: &Scene<'_>, command: Command) -> bool {
    let session = scene.session;
    let selected = session.selected();
    let layout = &session.derived().layout;
    let line = selected.line().and_then(|id| session.document().line(id));
    let panel = || match selected {
        Selected::Panel(point) => layout.panel_at(point),
        _ => None,
    };
    match command {
        Command::Undo => session.undo_label().is_some() || session.in_gesture(),
        Command::Redo => session.redo_label().is_some(),
        Command::Paste => scene.can_paste,
        Command::SwitchStretch => session.selected_lines().len() < 2 && stretch(selected, layout).is_some(),
        Command::ReverseFold | Command::SwitchAngle => crease::folds(session).next().is_some(),
        Command::DeleteLine
        | Command::DuplicateLine
        | Command::Lock
        | Command::ToGrooves
        | Command::MirrorLeftRight
        | Command::MirrorTopBottom
        | Command::CopyLeftRight
        | Command::CopyTopBottom => line.is_some(),
        Command::SpaceEvenly => session.selected_lines().len() >= LEAST_SPACED,
        Command::AlignLines => session.selected_lines().len() >= LEAST_ALIGNED,
        Command::SetBase => panel().is_some_and(|panel| layout.base != Some(panel)),
        Command::CutAway => panel().is_some_and(|panel| offcut::may_cut_away(layout, panel)),
        Command::KeepOffcut => panel().is_some_and(|panel| offcut::may_keep(session.document(), layout, panel)),
        Command::DeletePart => selected.part().is_some(),
        Command::DuplicatePart
        | Command::TurnPart
        | Command::TurnPartOver
        | Command::PartLeft
        | Command::PartRight
        | Command::PartTop
        | Command::PartBottom
        | Command::PartMiddleAcross
        | Command::PartMiddleDown => {
            let on_a_panel = |part: &model::Part| part.kind.is_on_a_panel();
            selected.part().and_then(|id| session.document().part(id)).is_some_and(on_a_panel)
        }
        Command::Cut | Command::Copy => line.is_some() || selected.part().is_some(),
        Command::SelectAll => !session.document().lines.is_empty(),
        Command::AddPart => layout.base.is_some(),
        Command::FitParts | Command::ShowParts => !session.document().parts.is_empty(),
        Command::SwingFlap => panel().is_some() && session.derived().folded.is_some(),
        Command::PlayFold
        | Command::Unfold
        | Command::Close
        | Command::StepBack
        | Command::StepOn
        | Command::FrontView
        | Command::BackView
        | Command::SlantView
        | Command::SpreadLayers
        | Command::SeeThrough
        | Command::FindOrder => session.derived().folded.is_some(),
        Command::StepEarlier | Command::StepLater | Command::JoinStep | Command::PartStep => {
            step::is_possible(session, command)
        }
        Command::MendAll => session.derived().findings.iter().any(session::mend::is_asked_for),
        Command::ShowSilenced => !session.document().silences.is_empty(),
        Command::WhatChanged => session.document().variation_of.is_some(),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shortcut_is_on_the_keyboard() {
        for entry in TABLE {
            assert!(entry.shortcut.is_none_or(|shortcut| on_keyboard(shortcut).is_some()), "{}", entry.label);
        }
    }
}
