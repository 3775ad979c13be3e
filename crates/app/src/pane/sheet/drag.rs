//! Dragging a line: it follows the pointer from groove to groove, and everything derived with it.

use super::{Canvas, SheetPane, pick};
use crate::pane::{Action, Scene};
use egui::{Context, Event, Key, Modifiers, PointerButton, Pos2, Ui};
use model::{Length, LineId};
use session::{Fineness, Selected};

/// A drag under way.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dragged {
    /// The line held.
    pub(super) id: LineId,
    /// How far across its own turn the pointer took hold, from the line.
    grip: Length,
    /// Where the pointer has pulled it to; `None` before the first pull.
    to: Option<Length>,
}

/// How fine a drag or a push is: plain goes by grooves, shift by quarters of them, control finest.
pub(super) fn fineness(modifiers: Modifiers) -> Fineness {
    if modifiers.command || modifiers.ctrl {
        Fineness::Finest
    } else if modifiers.shift {
        Fineness::Fine
    } else {
        Fineness::Grooves
    }
}

impl SheetPane {
    /// Follows a drag under way and ends it. Done before anything is drawn, with the canvas as it was last seen, so that
    /// every pane shows what the drag has come to.
    pub(crate) fn follow_drag(&mut self, ctx: &Context, scene: &mut Scene<'_>) {
        let (Some(drag), Some(canvas)) = (self.drag, self.canvas) else { return };
        if !scene.session.in_gesture() {
            // Undo, or another edit, has ended it.
            self.drag = None;
            return;
        }
        if ctx.input(|input| input.key_pressed(Key::Escape)) {
            scene.ask(Action::CancelDrag);
            self.drag = None;
            return;
        }
        // Where she let go, though the pointer may have moved on within the frame.
        let released = ctx.input(|input| input.events.iter().find_map(release));
        if let Some(at) = released.or_else(|| ctx.input(|input| input.pointer.interact_pos())) {
            let modifiers = ctx.input(|input| input.modifiers);
            self.drag = Some(pull(drag, &canvas, scene, at, fineness(modifiers)));
        }
        if released.is_some() || !ctx.input(|input| input.pointer.button_down(PointerButton::Primary)) {
            scene.ask(Action::FinishDrag);
            self.drag = None;
        }
    }

    /// Takes hold of the line under the pointer when a drag starts.
    pub(super) fn start_drag(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        self.canvas = Some(*canvas);
        if self.drag.is_some() {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
            return;
        }
        let started = ui.ctx().drag_started_id().is_some() && ui.input(|input| input.pointer.primary_down());
        let press = ui.input(|input| input.pointer.press_origin()).filter(|at| canvas.rect.contains(*at));
        if let (true, Some(press)) = (started, press) {
            self.start(ui, canvas, scene, press);
            // The pull is followed from the next frame on.
            ui.ctx().request_repaint();
        }
    }

    fn start(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, press: Pos2) {
        let on_line = ui.ctx().dragged_id().is_some_and(|held| {
            pick::segments(&scene.session.derived().layout).any(|(line, _)| super::line::id(line) == held)
        });
        let under = if on_line { pick::at(canvas, scene, press) } else { Vec::new() };
        let selected = scene.session.selected().line().filter(|id| under.contains(id));
        let Some(id) = selected.or(under.first().copied()) else { return };
        let layout = &scene.session.derived().layout;
        let Some(Ok(placed)) = layout.lines.get(&id) else { return };
        let Some(point) = canvas.place(press) else { return };
        let grip = placed.turn.to_board(point, layout.size).across - placed.across;
        scene.ask(Action::Select(Selected::Line { id, at: Some(point) }));
        scene.ask(Action::BeginDrag(format!("Move {}", scene.session.document().line_name(id))));
        self.drag = Some(Dragged { id, grip, to: None });
    }
}

/// Where the primary button was let go, if that is what an event tells.
fn release(event: &Event) -> Option<Pos2> {
    match event {
        Event::PointerButton { pos, button: PointerButton::Primary, pressed: false, .. } => Some(*pos),
        _ => None,
    }
}

/// Pulls the line to where the pointer is; asks for nothing when it rests where it was pulled to before.
fn pull(drag: Dragged, canvas: &Canvas, scene: &mut Scene<'_>, at: Pos2, fineness: Fineness) -> Dragged {
    // Before the gesture has begun the document is the one it will start from.
    let session = scene.session;
    let now = (session.document(), &session.derived().layout);
    let (document, layout) = session.gesture_start().unwrap_or(now);
    let (Some(Ok(placed)), Some(point)) = (layout.lines.get(&drag.id), canvas.place(at)) else { return drag };
    let across = placed.turn.to_board(point, layout.size).across - drag.grip;
    let step = session::snap::step(document, fineness).0;
    let width = placed.turn.size_of(layout.size).0;
    let snapped = session::snap::snap(document, layout, drag.id, across, fineness).across;
    let snapped = on_sheet(snapped, step, width);
    // A press that barely moves leaves a line where it is, on a groove or not.
    let barely = (across - placed.across).abs() * 2 < step;
    let to = if barely { placed.across } else { snapped };
    if drag.to != Some(to) {
        let edit = model::change::move_line(document, layout, drag.id, to);
        scene.ask(Action::Drag(edit));
    }
    Dragged { to: Some(to), ..drag }
}

/// A line pulled off the sheet stops a groove short of the edge: on the edge there is nothing to score, and what ends
/// there would be of no length.
fn on_sheet(across: Length, step: Length, width: Length) -> Length {
    if step + step > width { across } else { across.clamp(step, width - step) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(across: i64, width: i64, expected: i64) {
        let eighths = |count: i64| Length::EIGHTH * count;
        assert_eq!(on_sheet(eighths(across), Length::EIGHTH, eighths(width)), eighths(expected));
    }

    #[test]
    fn a_line_stops_a_groove_short_of_the_edge() {
        check(0, 68, 1);
        check(68, 68, 67);
        check(9, 68, 9);
        check(1, 1, 1);
    }
}
