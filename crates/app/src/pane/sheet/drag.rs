//! Dragging: a line follows the pointer from groove to groove, an end of a drawn line from spot to spot, and everything
//! derived with them.

use super::{Canvas, SheetPane, pick};
use crate::field;
use crate::pane::{Action, Scene};
use egui::{Context, Event, Key, Modifiers, PointerButton, Pos2, Ui};
use model::change::{move_drawn, move_end, move_line};
use model::{Document, Edit, Layout, Length, LineId, PartId, Placed, Point, Spot, Turn, Vector};
use session::own::{self, Little};
use session::{Fineness, Selected, lock, spot};

/// A drag under way.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dragged {
    /// The line held.
    pub(super) id: LineId,
    /// The part on whose little sheet it lies, where it is not one of the folio's.
    pub(super) of: Option<PartId>,
    hold: Hold,
}

/// The sheet that a dragged line lies on: the folio's, or the little one of a part.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground<'a> {
    pub(super) document: &'a Document,
    pub(super) layout: &'a Layout,
    pub(super) little: Option<Little<'a>>,
}

impl<'a> Ground<'a> {
    /// That of a drag, as it was when the drag began. `None` where a part has none to work on.
    pub(super) fn of(scene: &Scene<'a>, part: Option<PartId>) -> Option<Self> {
        let (document, layout) = start(scene);
        let Some(part) = part else { return Some(Self { document, layout, little: None }) };
        let little = Little::of(document, layout, part)?;
        Some(Self { document: little.document, layout: little.layout, little: Some(little) })
    }

    /// Where a place on the folio's sheet lies on it.
    fn place(&self, point: Point) -> Point {
        self.little.map_or(point, |little| little.on_own(point))
    }

    /// Where a point of it lies on the folio's sheet.
    pub(super) fn on_sheet(&self, point: Point) -> Point {
        self.little.map_or(point, |little| little.on_sheet(point))
    }

    /// A way on the folio's sheet as it goes on it.
    pub(super) fn way(&self, way: Vector) -> Vector {
        self.little.map_or(way, |little| little.way_on_own(way))
    }
}

/// The design as it was when the drag began; before it has, as it will be then.
fn start<'a>(scene: &Scene<'a>) -> (&'a Document, &'a Layout) {
    let session = scene.session;
    session.gesture_start().unwrap_or((session.document(), &session.derived().layout))
}

/// Asks for what an edit of the ground comes to; says why where it comes to nothing.
pub(super) fn ask(scene: &mut Scene<'_>, part: Option<PartId>, edit: Option<Edit>) {
    let (document, layout) = start(scene);
    let made = match (part, edit) {
        (Some(part), Some(edit)) => own::edit(document, layout, part, edit),
        (_, edit) => Ok(edit),
    };
    match made {
        Ok(edit) => scene.ask(Action::Drag(edit)),
        Err(refusal) => scene.now_hint = Some(field::sentence(&refusal.to_string())),
    }
}

/// What is held of a line, and where it has been pulled to; `None` before the first pull.
#[derive(Debug, Clone, Copy)]
enum Hold {
    /// The line across its own turn; the pointer took hold so far from it.
    Across { grip: Length, to: Option<Length> },
    /// Its start (0) or end (1).
    End { end: usize, to: Option<Spot> },
    /// All of a line that is drawn; the pointer took hold of it there.
    Whole { press: Point, by: Option<Vector> },
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
        self.follow_part(ctx, scene);
        self.follow_offcut(ctx, scene);
        self.follow_corner(ctx, scene);
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
        if self.type_distance(ctx, scene, drag) {
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

    /// While a line is dragged, what she types is its distance from the left edge of its turn; enter, or letting go, takes
    /// it. Says whether anything is typed.
    fn type_distance(&mut self, ctx: &Context, scene: &mut Scene<'_>, drag: Dragged) -> bool {
        if !matches!(drag.hold, Hold::Across { .. }) {
            return false;
        }
        let before = self.typed.clone();
        // A second pass of the same frame must not type the same again.
        if ctx.current_pass_index() == 0 {
            ctx.input(|input| input.events.iter().for_each(|event| edit_typed(&mut self.typed, event)));
        }
        if self.typed.trim().is_empty() {
            self.typed.clear();
            return false;
        }
        let Some(Ground { document, layout, .. }) = Ground::of(scene, drag.of) else { return false };
        let typed = self.typed.trim();
        scene.now_hint = Some(match field::length(typed, document.units) {
            Ok(length) => {
                if before != self.typed {
                    ask(scene, drag.of, move_line(document, layout, drag.id, length));
                }
                format!("{typed} from the left edge of its turn. Enter takes it.")
            }
            Err(why) => format!("{typed}: {why}"),
        });
        let ended =
            ctx.input(|input| input.key_pressed(Key::Enter) || !input.pointer.button_down(PointerButton::Primary));
        if ended {
            scene.ask(Action::FinishDrag);
            self.drag = None;
            self.typed.clear();
        }
        true
    }

    /// Takes hold of the line or part under the pointer when a drag starts.
    pub(super) fn start_drag(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        self.canvas = Some(*canvas);
        // What is selected lies on top for the hand, but not for a tool.
        if self.pen.is_some() {
            return;
        }
        if self.is_dragging() {
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
        let session = scene.session;
        let layout = &session.derived().layout;
        if let Some((part, id)) = self.own_line_at(ui, canvas, scene, press) {
            return self.start_own(canvas, scene, (part, id), press);
        }
        // What is selected lies on top for the hand, whatever is drawn over it.
        let selected = session.selected().part().filter(|_| !self.hides_parts);
        if let (Some(id), Some(point)) = (selected, canvas.place(press))
            && session::part::parts_at(session.derived(), point).contains(&id)
        {
            self.take_hold(canvas, scene, press);
            return;
        }
        let on_line = ui
            .ctx()
            .dragged_id()
            .is_some_and(|held| pick::placed(layout).any(|(line, _)| super::line::id(line) == held));
        let under = if on_line { pick::at(canvas, scene, press) } else { Vec::new() };
        let main = session.selected().line();
        // An end of the selected line is held a little beyond it.
        let held_end = main.filter(|_| on_line).filter(|&id| end_of(canvas, scene, id, press).is_some());
        let Some(id) = held_end.or(main.filter(|id| under.contains(id))).or(under.first().copied()) else {
            let on_part = |held| self.shown_parts().iter().any(|part| super::part::id(part.id) == held);
            if ui.ctx().dragged_id().is_some_and(on_part) {
                // Within the rectangle round a part, but beside it.
                self.pans = !self.take_hold(canvas, scene, press);
            }
            return;
        };
        let (Some(Ok(placed)), Some(point)) = (layout.lines.get(&id), canvas.place(press)) else { return };
        let several = session.selected_lines();
        if several.len() < 2 || !several.contains(&id) {
            scene.ask(Action::Select(Selected::Line { id, at: Some(point) }));
        }
        if let Some(why) = lock::refusal(session.document(), id) {
            scene.ask(Action::Complain(why));
            return;
        }
        let hold = match (placed.on_board(), end_of(canvas, scene, id, press)) {
            (_, Some(end)) => Hold::End { end, to: None },
            (Some((turn, across)), None) => {
                Hold::Across { grip: turn.to_board(point, layout.size).across - across, to: None }
            }
            (None, None) => Hold::Whole { press: point, by: None },
        };
        let whole = matches!(hold, Hold::Whole { .. });
        // What lies along a drawn line goes with it.
        let id = if whole { drawn_host(session.document(), id) } else { id };
        scene.ask(Action::BeginDrag(format!("Move {}", session.document().line_name(id))));
        self.typed.clear();
        self.drag = Some(Dragged { id, of: None, hold });
    }

    /// Takes hold of a line on a part's little sheet; the part stays selected.
    fn start_own(&mut self, canvas: &Canvas, scene: &mut Scene<'_>, (part, id): (PartId, LineId), press: Pos2) {
        let Some((ground, point)) = Ground::of(scene, Some(part)).zip(canvas.place(press)) else { return };
        let (Some(Ok(placed)), Some(little)) = (ground.layout.lines.get(&id), ground.little) else { return };
        if let Some(why) = lock::refusal(ground.document, id) {
            return scene.ask(Action::Complain(why));
        }
        let point = ground.place(point);
        let is_drawn = matches!(ground.document.line(id).map(|line| line.place), Some(model::Place::Drawn { .. }));
        let ends = [placed.segment.a, placed.segment.b].map(|end| canvas.at(little.on_sheet(end)));
        let hold = match (placed.on_board(), pick::end_at(ends, press).filter(|_| is_drawn)) {
            (_, Some(end)) => Hold::End { end, to: None },
            (Some((turn, across)), None) => {
                Hold::Across { grip: turn.to_board(point, ground.layout.size).across - across, to: None }
            }
            (None, None) => Hold::Whole { press: point, by: None },
        };
        let id = if matches!(hold, Hold::Whole { .. }) { drawn_host(ground.document, id) } else { id };
        scene.ask(Action::BeginDrag(super::own::step(scene.session.document(), ground.document, (part, id))));
        self.typed.clear();
        self.drag = Some(Dragged { id, of: Some(part), hold });
    }
}

/// What an event makes of the distance that is typed.
fn edit_typed(typed: &mut String, event: &Event) {
    match event {
        Event::Text(text) if typed.len() + text.len() <= MOST_TYPED => typed.push_str(text),
        Event::Key { key: Key::Backspace, pressed: true, .. } => {
            typed.pop();
        }
        _ => {}
    }
}

/// The longest distance that is typed, in bytes: "123 45/64 in - 123 45/64 in" fits.
const MOST_TYPED: usize = 40;

/// The line that a line lies along, or that one along, and so on; itself where it lies along none.
fn drawn_host(document: &model::Document, id: LineId) -> LineId {
    let along = |id: &LineId| match document.line(*id)?.place {
        model::Place::Along { line, .. } => Some(line),
        _ => None,
    };
    // As many rounds as there may be links, lest they go in a circle.
    std::iter::successors(Some(id), along).take(document.lines.len()).last().unwrap_or(id)
}

/// Which end of a drawn line the pointer has hold of.
fn end_of(canvas: &Canvas, scene: &Scene<'_>, id: LineId, at: Pos2) -> Option<usize> {
    let line = scene.session.document().line(id)?;
    let placed = scene.session.derived().layout.lines.get(&id)?.ok()?;
    matches!(line.place, model::Place::Drawn { .. }).then(|| pick::end(canvas, &placed, at)).flatten()
}

/// Where the primary button was let go, if that is what an event tells.
pub(super) fn release(event: &Event) -> Option<Pos2> {
    match event {
        Event::PointerButton { pos, button: PointerButton::Primary, pressed: false, .. } => Some(*pos),
        _ => None,
    }
}

/// Pulls what is held to where the pointer is; asks for nothing when it rests where it was pulled to before.
fn pull(drag: Dragged, canvas: &Canvas, scene: &mut Scene<'_>, at: Pos2, fineness: Fineness) -> Dragged {
    let Some(ground @ Ground { document, layout, .. }) = Ground::of(scene, drag.of) else { return drag };
    let (Some(Ok(placed)), Some(point)) = (layout.lines.get(&drag.id), canvas.place(at)) else { return drag };
    let point = ground.place(point);
    let (hold, edit) = match drag.hold {
        Hold::End { end, to } => {
            let snapped = spot::snap(document, layout, Some(drag.id), point, canvas.reach(), fineness);
            let verb = if end == 0 { "Starts" } else { "Ends" };
            scene.now_hint = Some(super::drawing::hint(verb, &snapped, scene.turn));
            let moved = to != Some(snapped.spot);
            let edit = moved.then(|| move_end(document, drag.id, end, snapped.spot));
            (Hold::End { end, to: Some(snapped.spot) }, edit)
        }
        Hold::Whole { press, by } => {
            let Some(new) = session::snap::whole(document, layout, drag.id, point - press, fineness) else {
                return drag;
            };
            let name = document.line_name(drag.id);
            let (design, whole) = start(scene);
            let seen = ground.little.map_or(new, |little| little.way_on_sheet(new));
            scene.now_hint = Some(format!("{name}: {}.", moved_words(design, whole, seen, scene.turn)));
            let edit = (by != Some(new)).then(|| move_drawn(document, layout, drag.id, new));
            (Hold::Whole { press, by: Some(new) }, edit)
        }
        Hold::Across { grip, to } => {
            let Some(new) = across(document, layout, (drag.id, placed), point, grip, fineness) else { return drag };
            let edit = (to != Some(new)).then(|| move_line(document, layout, drag.id, new));
            (Hold::Across { grip, to: Some(new) }, edit)
        }
    };
    if let Some(edit) = edit {
        ask(scene, drag.of, edit);
    }
    Dragged { hold, ..drag }
}

/// "1 in to the right and 1/2 in down", as it is seen.
fn moved_words(document: &model::Document, layout: &model::Layout, by: Vector, turn: Turn) -> String {
    let zero = Point::new(Length::ZERO, Length::ZERO);
    let [from, to] = [zero, zero + by].map(|at| turn.to_board(at, layout.size));
    let words = |by: Length, back: &str, on: &str| {
        let way = if by < Length::ZERO { back } else { on };
        (by != Length::ZERO).then(|| format!("{} {way}", by.abs().readable(document.units)))
    };
    let across = words(to.across - from.across, "to the left", "to the right");
    let down = words(to.down - from.down, "up", "down");
    match (across, down) {
        (Some(across), Some(down)) => format!("{across} and {down}"),
        (across, down) => across.or(down).unwrap_or_else(|| "where it was".to_owned()),
    }
}

/// How far across its own turn a line comes to lie that is held so far from the pointer.
fn across(
    document: &model::Document,
    layout: &model::Layout,
    (id, placed): (LineId, &Placed),
    point: model::Point,
    grip: Length,
    fineness: Fineness,
) -> Option<Length> {
    let (turn, now) = placed.on_board()?;
    let across = turn.to_board(point, layout.size).across - grip;
    let step = session::snap::step(document, fineness).0;
    let width = turn.size_of(layout.size).0;
    // A press that barely moves leaves a line where it is, on a groove or not.
    let barely = (across - now).abs() * 2 < step;
    let snapped = session::snap::snap(document, layout, id, across, fineness).across;
    Some(if barely { now } else { on_sheet(snapped, step, width) })
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
