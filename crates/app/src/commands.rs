//! From the table of commands to the window: buttons, shortcuts, and what a command does to the design.

use crate::pane::{Action, Scene};
use egui::{Button, KeyboardShortcut, Modifiers, Response, Ui};
use model::board::free_place;
use model::change::{add_line, delete_line, measured_score, set_crease, switch_stretch};
use model::{BoardPoint, Crease, Edit, FoldAngle, Layout, LineId, Stretch, Turn, Work};
use session::command::TABLE;
use session::{Command, Key, Selected, Session, Shortcut};

/// What a command would do to the design.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Change {
    /// Its name in the history.
    pub(crate) label: String,
    /// What is changed.
    pub(crate) edit: Edit,
    /// What is selected then, where that changes.
    pub(crate) select: Option<Selected>,
}

/// A button for a command, with its tooltip and shortcut; grey while it has nothing to work on.
pub(crate) fn button(ui: &mut Ui, scene: &mut Scene<'_>, command: Command) -> Response {
    let possible = is_possible(scene.session, command);
    let response = ui.add_enabled(possible, Button::new(command.entry().label));
    let tip = tip(scene.session, command);
    let response = response.on_hover_text(&tip).on_disabled_hover_text(&tip);
    if response.clicked() {
        scene.ask(Action::Run(command));
    }
    response
}

/// What a command does, and its keys: "Take the last change back: Move Score 1. (Ctrl+Z)".
fn tip(session: &Session, command: Command) -> String {
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
    match entry.shortcut {
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
        table.into_iter().filter(|(_, shortcut)| hit(*shortcut)).map(|(command, _)| command).collect()
    })
}

fn on_keyboard(shortcut: Shortcut) -> Option<KeyboardShortcut> {
    let key = match shortcut.key {
        Key::Char(letter) => egui::Key::from_name(letter.encode_utf8(&mut [0; 4]))?,
        Key::Delete => egui::Key::Delete,
        Key::Space => egui::Key::Space,
        Key::Escape => egui::Key::Escape,
        Key::Home => egui::Key::Home,
        Key::Function(number) => egui::Key::from_name(&format!("F{number}"))?,
    };
    let control = if shortcut.control { Modifiers::COMMAND } else { Modifiers::NONE };
    let shift = if shortcut.shift { Modifiers::SHIFT } else { Modifiers::NONE };
    Some(KeyboardShortcut::new(control | shift, key))
}

/// Whether a command has something to work on.
pub(crate) fn is_possible(session: &Session, command: Command) -> bool {
    let selected = session.selected();
    let line = selected.line().and_then(|id| session.document().line(id));
    match command {
        Command::Undo => session.undo_label().is_some() || session.in_gesture(),
        Command::Redo => session.redo_label().is_some(),
        Command::DeleteLine => line.is_some(),
        Command::SwitchStretch => stretch(selected, &session.derived().layout).is_some(),
        Command::ReverseFold | Command::SwitchAngle => line.is_some_and(|line| !line.work.is_cut()),
        Command::SetBase => match selected {
            Selected::Panel(point) => {
                let layout = &session.derived().layout;
                layout.panel_at(point).is_some_and(|panel| layout.base != Some(panel))
            }
            _ => false,
        },
        Command::PlayFold | Command::Unfold | Command::Close => session.derived().folded.is_some(),
        _ => true,
    }
}

/// What a command would change; `None` when it changes nothing of the design.
///
/// # Errors
/// Says in a sentence why it can't.
pub(crate) fn change(session: &Session, turn: Turn, command: Command) -> Option<Result<Change, String>> {
    match command {
        Command::AddScore => Some(Ok(new_score(session, turn))),
        Command::DeleteLine => Some(with_line(session, |id| {
            let edit = delete_line(session.document(), &session.derived().layout, id)
                .map_err(|refusal| refusal.to_string())?;
            let label = format!("Delete {}", session.document().line_name(id));
            Ok(Change { label, edit, select: Some(Selected::Nothing) })
        })),
        Command::SwitchStretch => Some(switched(session)),
        Command::ReverseFold => {
            Some(creased(session, |crease| Crease { direction: crease.direction.reversed(), ..crease }))
        }
        Command::SwitchAngle => Some(creased(session, |crease| {
            let angle = if crease.angle == FoldAngle::Flat { FoldAngle::Square } else { FoldAngle::Flat };
            Crease { angle, ..crease }
        })),
        Command::SetBase => Some(new_base(session)),
        _ => None,
    }
}

/// The stretch that a selection means: the one pointed at, or the only one of the line.
pub(crate) fn stretch(selected: Selected, layout: &Layout) -> Option<&Stretch> {
    let id = selected.line()?;
    let own = || layout.stretches.iter().filter(|stretch| stretch.lines.contains(&id) && stretch.work.is_some());
    let only = || if own().count() == 1 { own().next() } else { None };
    selected.stretch(layout).or_else(only)
}

fn new_score(session: &Session, turn: Turn) -> Change {
    let document = session.document();
    let layout = &session.derived().layout;
    let id = document.next_line();
    let across = free_place(layout, turn).snapped(document.groove);
    let (_, height) = turn.size_of(layout.size);
    let middle = turn.from_board(BoardPoint { across, down: height.half() }, layout.size);
    Change {
        label: "Add score".to_owned(),
        edit: add_line(document, measured_score(id, turn, across)),
        select: Some(Selected::Line { id, at: Some(middle) }),
    }
}

fn switched(session: &Session) -> Result<Change, String> {
    let layout = &session.derived().layout;
    let stretch = stretch(session.selected(), layout)
        .ok_or_else(|| "Point at the stretch of the line that is to be cut or scored".to_owned())?;
    let edit = switch_stretch(session.document(), layout, stretch).map_err(|refusal| refusal.to_string())?;
    let label = if matches!(stretch.work, Some(Work::Cut)) { "Score the stretch" } else { "Cut the stretch" };
    Ok(Change { label: label.to_owned(), edit, select: None })
}

fn creased(session: &Session, to: impl Fn(Crease) -> Crease) -> Result<Change, String> {
    with_line(session, |id| {
        let document = session.document();
        let cut = || format!("\"{}\" is a cut and does not fold", document.line_name(id));
        let Some(Work::Score(crease)) = document.line(id).map(|line| line.work) else { return Err(cut()) };
        let edit = set_crease(document, id, to(crease)).ok_or_else(cut)?;
        Ok(Change { label: format!("Fold {}", document.line_name(id)), edit, select: None })
    })
}

fn new_base(session: &Session) -> Result<Change, String> {
    let layout = &session.derived().layout;
    let panel = match session.selected() {
        Selected::Panel(point) => layout.panel_at(point),
        _ => None,
    };
    let inside = panel.and_then(|panel| layout.panel(panel).inside);
    let inside = inside.ok_or_else(|| "Click the panel that is to lie still first".to_owned())?;
    Ok(Change { label: "Choose the base".to_owned(), edit: Edit::SetBase(Some(inside)), select: None })
}

fn with_line(session: &Session, work: impl Fn(LineId) -> Result<Change, String>) -> Result<Change, String> {
    let id = session.selected().line().ok_or_else(|| "Click a line first".to_owned())?;
    work(id)
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Document, Length, Size, Unit};

    #[test]
    fn every_shortcut_is_on_the_keyboard() {
        for entry in TABLE {
            assert!(entry.shortcut.is_none_or(|shortcut| on_keyboard(shortcut).is_some()), "{}", entry.label);
        }
    }

    #[test]
    fn a_new_score_lies_in_the_widest_gap_on_the_turn_shown() {
        let session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        for (turn, inches) in [(Turn::None, 6), (Turn::Once, 4)] {
            let change = change(&session, turn, Command::AddScore).unwrap().unwrap();
            let mut after = session.clone();
            after.apply(&change.label, change.edit).unwrap();
            let placed = after.derived().layout.lines[&LineId(1)].unwrap();
            assert_eq!((placed.turn, placed.across), (turn, Length::INCH * inches));
        }
    }

    #[test]
    fn a_command_without_something_to_work_on_says_so() {
        let session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        let said = |command| change(&session, Turn::None, command).unwrap().unwrap_err();
        assert_eq!(said(Command::DeleteLine), "Click a line first");
        assert!(said(Command::SwitchStretch).contains("stretch"));
        assert!(said(Command::SetBase).contains("panel"));
        assert_eq!(change(&session, Turn::None, Command::Save), None);
    }

    #[test]
    fn commands_turn_and_cut_the_selected_line() {
        let mut session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        let run = |session: &mut Session, command| {
            let change = change(session, Turn::None, command).unwrap().unwrap();
            session.apply(&change.label, change.edit).unwrap();
            change.select.into_iter().for_each(|selected| session.select(selected));
        };
        run(&mut session, Command::AddScore);
        run(&mut session, Command::ReverseFold);
        run(&mut session, Command::SwitchAngle);
        let crease = session.document().lines[0].work;
        assert_eq!(crease, Work::Score(Crease { direction: model::Direction::Mountain, angle: FoldAngle::Square }));
        run(&mut session, Command::SwitchStretch);
        assert_eq!(session.derived().layout.pieces.len(), 2, "cut through from edge to edge");
        run(&mut session, Command::DeleteLine);
        assert!(session.document().lines.is_empty());
    }
}
