//! Each line on the sheet as a thing of its own: for the pointer, the keyboard and the screen reader alike.

use super::{Canvas, drag, pick};
use crate::naming::{line_label, where_it_lies};
use crate::paint;
use crate::pane::{Action, Scene};
use crate::theme::colour;
use crate::tip::Tip as _;
use draw::board::Board;
use draw::sheet::role_of;
use draw::style;
use egui::{
    EventFilter, Id, Key, Painter, PointerButton, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, accesskit,
};
use model::{Length, Line, LineId, Placed, Point};
use session::{Fineness, Selected, lock};

/// A line's name among the window's things, the same in every frame.
pub(crate) fn id(line: LineId) -> Id {
    Id::unique(("line on the sheet", line.0))
}

/// Makes every line a node that can be pointed at, focused and moved; the selected one lies on top, then scores, then
/// cuts. Says whether one was clicked with the pointer, and on which enter was pressed.
pub(super) fn nodes(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, dragging: bool) -> (bool, Option<LineId>) {
    let session = scene.session;
    let selected = session.selected().line();
    let mut lines: Vec<(&Line, Placed)> = session
        .document()
        .lines
        .iter()
        .filter_map(|line| Some((line, session.derived().layout.lines.get(&line.id)?.ok()?)))
        .collect();
    lines.sort_by_key(|(line, _)| (selected == Some(line.id), line.work.is_score()));
    let mut clicked = false;
    // In a second pass of the same frame the key that left a field must not go back to it.
    let enters = !dragging && ui.ctx().current_pass_index() == 0 && ui.input(|input| input.key_pressed(Key::Enter));
    let mut entered = None;
    for (line, placed) in lines {
        clicked |= node(ui, canvas, scene, line, &placed, dragging);
        if enters && ui.memory(|memory| memory.has_focus(id(line.id))) {
            entered = Some(line.id);
        }
    }
    (clicked, entered)
}

fn node(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, line: &Line, placed: &Placed, dragging: bool) -> bool {
    let ends = [canvas.at(placed.segment.a), canvas.at(placed.segment.b)];
    let id = id(line.id);
    let response = ui.interact(hold(ui, canvas, &pick::path(canvas, placed)), id, Sense::click_and_drag());
    let document = scene.session.document();
    let label = line_label(document, line.id);
    describe(ui, canvas, scene, line, placed, &response);
    let by_pointer = ui.input(|input| input.pointer.button_clicked(PointerButton::Primary));
    // What has the focus is what the commands work on.
    let focused = response.gained_focus() && !scene.session.selected_lines().contains(&line.id);
    if (focused || response.clicked()) && !by_pointer {
        scene.ask(Action::Select(Selected::Line { id: line.id, at: Some(middle(placed)) }));
    }
    if response.has_focus() {
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, arrows));
        keys(ui, canvas.board, scene, line.id, placed);
    }
    let requests = |action| ui.input(|input| input.num_accesskit_action_requests(id, action));
    for (action, steps) in [(accesskit::Action::Increment, 1), (accesskit::Action::Decrement, -1)] {
        if requests(action) > 0 {
            push(scene, line.id, placed, steps, Fineness::Grooves);
        }
    }
    let clicked = response.clicked() && by_pointer;
    if !dragging && response.hovered() {
        let moves = lock::holder(document, line.id).is_none();
        let is_upright = (ends[0].x - ends[1].x).abs() < 1.0;
        let cursor = match (moves, placed.on_board()) {
            (false, _) => egui::CursorIcon::PointingHand,
            (true, None) => egui::CursorIcon::Grab,
            (true, Some(_)) if is_upright => egui::CursorIcon::ResizeHorizontal,
            (true, Some(_)) => egui::CursorIcon::ResizeVertical,
        };
        let tip = where_it_lies(document, &scene.session.derived().layout, line.id);
        response.on_hover_cursor(cursor).told_at_pointer(&format!("{label}\n{tip}"));
    }
    clicked
}

/// What can be done with a line on the sheet.
const TAKES: &str = "Drag it, or push it with the arrows; it is measured in the list of lines.";

/// What a screen reader is told of a line: a distance that can be changed, or a line from spot to spot.
fn describe(ui: &Ui, canvas: &Canvas, scene: &Scene<'_>, line: &Line, placed: &Placed, response: &egui::Response) {
    let document = scene.session.document();
    let label = line_label(document, line.id);
    let Some((turn, across)) = placed.on_board() else {
        response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, &label));
        ui.ctx().accesskit_node_builder(id(line.id), |node| node.set_description(TAKES));
        return;
    };
    response.widget_info(|| WidgetInfo::slider(true, across.mm(), &label));
    let (step, _) = session::snap::step(document, Fineness::Grooves);
    ui.ctx().accesskit_node_builder(id(line.id), |node| {
        node.set_description(TAKES);
        node.set_min_numeric_value(0.0);
        node.set_max_numeric_value(turn.size_of(canvas.board.size).0.mm());
        node.set_numeric_value_step(step.mm());
        node.set_value(across.text(document.units));
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
}

/// The part of the screen where a line is taken hold of: all along it, or about the place nearest to the pointer where it
/// lies aslant, since a rectangle round it would take in much that is no line.
pub(super) fn hold(ui: &Ui, canvas: &Canvas, path: &[Pos2]) -> Rect {
    let (Some(&a), Some(&b)) = (path.first(), path.last()) else { return Rect::NOTHING };
    if path.len() == 2 && ((a.x - b.x).abs() < 0.5 || (a.y - b.y).abs() < 0.5) {
        return Rect::from_two_pos(a, b).expand(pick::REACH);
    }
    let pointer = ui.input(|input| input.pointer.latest_pos()).filter(|at| canvas.rect.contains(*at));
    let nearest = pointer.and_then(|at| Some((at, pick::nearest_on(path, at)?)));
    let held = nearest.filter(|(at, on)| on.distance(*at) <= pick::END_REACH).map(|(_, on)| on);
    let middle = if path.len() == 2 { a.lerp(b, 0.5) } else { path[path.len() / 2] };
    Rect::from_center_size(held.unwrap_or(middle), Vec2::splat(2.0 * pick::END_REACH))
}

/// What the keys do while a line has the focus: arrows push it across, or go along it from stretch to stretch.
fn keys(ui: &Ui, board: Board, scene: &mut Scene<'_>, id: LineId, placed: &Placed) {
    let arrows = [(Key::ArrowRight, 1, 0), (Key::ArrowLeft, -1, 0), (Key::ArrowDown, 0, 1), (Key::ArrowUp, 0, -1)];
    let fineness = drag::fineness(ui.input(|input| input.modifiers));
    let curved = placed.bow != Length::ZERO;
    for (key, right, down) in arrows.into_iter().filter(|_| !curved) {
        if !ui.input(|input| input.key_pressed(key)) {
            continue;
        }
        let way = placed.on_board().map_or(0, |(turn, _)| board.push(turn, right, down));
        match way {
            0 => along(scene, board, id, right + down),
            way => push(scene, id, placed, way, fineness),
        }
    }
}

/// Moves a line by steps of its own turn's grooves; a locked one stays, and says so.
fn push(scene: &mut Scene<'_>, id: LineId, placed: &Placed, steps: i64, fineness: Fineness) {
    let document = scene.session.document();
    let layout = &scene.session.derived().layout;
    if let Some(why) = lock::refusal(document, id) {
        return scene.ask(Action::Complain(why));
    }
    let Some((_, now)) = placed.on_board() else { return };
    let (step, _) = session::snap::step(document, fineness);
    let across = session::snap::snap(document, layout, id, now + step * steps, fineness).across;
    if let Some(edit) = model::change::move_line(document, layout, id, across) {
        let label = format!("Move {}", document.line_name(id));
        if scene.session.selected_lines().len() > 1 {
            // The others stay selected.
            return scene.edit(label, edit);
        }
        let at = Some(middle(placed));
        scene.ask(Action::EditAndSelect(label, edit, Selected::Line { id, at }));
    }
}

/// Selects the next stretch of a line, in the direction given on the board as seen.
fn along(scene: &mut Scene<'_>, board: Board, id: LineId, way: i64) {
    let layout = &scene.session.derived().layout;
    let key = |point: Point| {
        let at = board.at(point);
        at.x + at.y
    };
    let own = layout.stretches.iter().filter(|stretch| stretch.lines.contains(&id) && stretch.work.is_some());
    let mut middles: Vec<Point> = own
        .map(|stretch| {
            Point::new(half(stretch.segment.a.x, stretch.segment.b.x), half(stretch.segment.a.y, stretch.segment.b.y))
        })
        .collect();
    middles.sort_by(|a, b| key(*a).total_cmp(&key(*b)));
    let Selected::Line { at: Some(now), .. } = scene.session.selected() else {
        let at = middles.first().copied();
        return scene.ask(Action::Select(Selected::Line { id, at }));
    };
    let next = if way > 0 {
        middles.into_iter().find(|point| key(*point) > key(now) + 1e-6)
    } else {
        middles.into_iter().rev().find(|point| key(*point) < key(now) - 1e-6)
    };
    if next.is_some() {
        scene.ask(Action::Select(Selected::Line { id, at: next }));
    }
}

/// What is under the pointer, selected, focused or spoken of by a finding, drawn over the sheet.
pub(super) fn marks(ui: &Ui, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
    let session = scene.session;
    let selected = session.selected();
    let all = session.selected_lines();
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|_| ui.rect_contains_pointer(canvas.rect));
    let hovered = pointer.and_then(|at| pick::at(canvas, scene, at).first().copied());
    let focused = ui.memory(egui::Memory::focused);
    for (line, placed) in pick::placed(&session.derived().layout) {
        let path = pick::path(canvas, &placed);
        let spoken = scene.spot.is_some_and(|spot| spot.lines.contains(&line));
        if hovered == Some(line) || spoken {
            painter.line(path.clone(), Stroke::new(8.0, colour(style::HOVER)));
        }
        if all.contains(&line) {
            painter.line(path.clone(), Stroke::new(6.0, colour(style::SELECTION.with_alpha(70))));
            let drawn = placed.on_board().is_none() && selected.line() == Some(line);
            for end in path.first().into_iter().chain(path.last()) {
                handle(painter, *end, drawn);
            }
        }
        if focused == Some(id(line)) {
            ring(painter, &path);
        }
    }
    // A curve is worked as a whole, whatever stretches it is laid out in.
    let curved = |id| matches!(session.derived().layout.lines.get(&id), Some(Ok(placed)) if placed.bow != Length::ZERO);
    let whole = all.len() > 1 || selected.line().is_some_and(curved);
    if let Some(stretch) = selected.stretch(&session.derived().layout).filter(|_| !whole) {
        let ends = [canvas.at(stretch.segment.a), canvas.at(stretch.segment.b)];
        let mut stroke = style::stroke_for(role_of(stretch.work));
        painter.line_segment(ends, Stroke::new(7.0, colour(style::PAPER_FRONT)));
        painter.line_segment(ends, Stroke::new(7.0, colour(style::SELECTION.with_alpha(70))));
        stroke.colour = style::SELECTION;
        paint::line(painter, ends, &stroke, canvas.view.scale, 3.0);
    }
}

/// The end of a selected line; round and larger where it can be taken hold of.
pub(super) fn handle(painter: &Painter, at: Pos2, can_be_held: bool) {
    if can_be_held {
        painter.circle(at, 6.0, colour(style::WHITE), Stroke::new(2.0, colour(style::SELECTION)));
    } else {
        painter.rect_filled(Rect::from_center_size(at, Vec2::splat(7.0)), 1.0, colour(style::SELECTION));
    }
}

/// A ring round the line that has the focus, along it whichever way it lies.
pub(super) fn ring(painter: &Painter, path: &[Pos2]) {
    let (Some(&a), Some(&b)) = (path.first(), path.last()) else { return };
    let along = (b - a).normalized() * (pick::REACH + 1.0);
    let aside = along.rot90();
    // As far aside as the line bends away from its chord.
    let bends = path.iter().map(|&at| (at - a).dot(aside) / aside.length().max(f32::MIN_POSITIVE));
    let (low, high) = bends.fold((0.0_f32, 0.0_f32), |(low, high), bend| (low.min(bend), high.max(bend)));
    let unit = aside / aside.length().max(f32::MIN_POSITIVE);
    let [near, far] = [unit * low - aside, unit * high + aside];
    let corners = vec![a - along + near, b + along + near, b + along + far, a - along + far];
    painter.add(Shape::closed_line(corners, Stroke::new(1.2, colour(style::SELECTION))));
}

/// The middle of a line; of a curve, its top.
pub(crate) fn middle(placed: &Placed) -> Point {
    let path = placed.path();
    match path.len() {
        0..=2 => {
            let (a, b) = (placed.segment.a, placed.segment.b);
            Point::new(half(a.x, b.x), half(a.y, b.y))
        }
        count => path[count / 2],
    }
}

fn half(a: Length, b: Length) -> Length {
    (a + b).half()
}
