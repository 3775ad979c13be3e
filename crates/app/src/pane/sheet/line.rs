//! Each line on the sheet as a thing of its own: for the pointer, the keyboard and the screen reader alike.

use super::{Canvas, drag, pick};
use crate::naming::{line_label, where_it_lies};
use crate::paint;
use crate::pane::{Action, Scene};
use crate::theme::colour;
use draw::board::Board;
use draw::list::Role;
use draw::style;
use egui::{EventFilter, Id, Key, Painter, PointerButton, Rect, Sense, Stroke, Ui, WidgetInfo, accesskit};
use model::{Direction, Length, Line, LineId, Placed, Point, Work};
use session::{Fineness, Selected};

/// A line's name among the window's things, the same in every frame.
pub(crate) fn id(line: LineId) -> Id {
    Id::unique(("line on the sheet", line.0))
}

/// Makes every line a node that can be pointed at, focused and moved; the selected one lies on top, then scores, then
/// cuts. Says whether one was clicked with the pointer.
pub(super) fn nodes(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, dragging: bool) -> bool {
    let session = scene.session;
    let selected = session.selected().line();
    let mut lines: Vec<(&Line, Placed)> = session
        .document()
        .lines
        .iter()
        .filter_map(|line| Some((line, session.derived().layout.lines.get(&line.id)?.ok()?)))
        .collect();
    lines.sort_by_key(|(line, _)| (selected == Some(line.id), !line.work.is_cut()));
    let mut clicked = false;
    for (line, placed) in lines {
        clicked |= node(ui, canvas, scene, line, &placed, dragging);
    }
    clicked
}

fn node(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, line: &Line, placed: &Placed, dragging: bool) -> bool {
    let ends = [canvas.at(placed.segment.a), canvas.at(placed.segment.b)];
    let rect = Rect::from_two_pos(ends[0], ends[1]).expand(pick::REACH);
    let id = id(line.id);
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let document = scene.session.document();
    let label = line_label(document, line.id);
    let (width, _) = placed.turn.size_of(canvas.board.size);
    response.widget_info(|| WidgetInfo::slider(true, placed.across.mm(), &label));
    let (step, _) = session::snap::step(document, Fineness::Grooves);
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_min_numeric_value(0.0);
        node.set_max_numeric_value(width.mm());
        node.set_numeric_value_step(step.mm());
        node.set_value(placed.across.text(document.units));
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
    let by_pointer = ui.input(|input| input.pointer.button_clicked(PointerButton::Primary));
    // What has the focus is what the commands work on.
    let focused = response.gained_focus() && scene.session.selected().line() != Some(line.id);
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
        let upright = (ends[0].x - ends[1].x).abs() < 1.0;
        let cursor = if upright { egui::CursorIcon::ResizeHorizontal } else { egui::CursorIcon::ResizeVertical };
        let tip = where_it_lies(document, &scene.session.derived().layout, line.id);
        response.on_hover_cursor(cursor).on_hover_text_at_pointer(format!("{label}\n{tip}"));
    }
    clicked
}

/// What the keys do while a line has the focus: arrows push it across, or go along it from stretch to stretch.
fn keys(ui: &Ui, board: Board, scene: &mut Scene<'_>, id: LineId, placed: &Placed) {
    let arrows = [(Key::ArrowRight, 1, 0), (Key::ArrowLeft, -1, 0), (Key::ArrowDown, 0, 1), (Key::ArrowUp, 0, -1)];
    let fineness = drag::fineness(ui.input(|input| input.modifiers));
    for (key, right, down) in arrows {
        if !ui.input(|input| input.key_pressed(key)) {
            continue;
        }
        match board.push(placed.turn, right, down) {
            0 => along(scene, board, id, right + down),
            way => push(scene, id, placed, way, fineness),
        }
    }
}

/// Moves a line by steps of its own turn's grooves.
fn push(scene: &mut Scene<'_>, id: LineId, placed: &Placed, steps: i64, fineness: Fineness) {
    let document = scene.session.document();
    let layout = &scene.session.derived().layout;
    let (step, _) = session::snap::step(document, fineness);
    let across = session::snap::snap(document, layout, id, placed.across + step * steps, fineness).across;
    if let Some(edit) = model::change::move_line(document, layout, id, across) {
        let label = format!("Move {}", document.line_name(id));
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
    let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|_| ui.rect_contains_pointer(canvas.rect));
    let hovered = pointer.and_then(|at| pick::at(canvas, scene, at).first().copied());
    let focused = ui.memory(egui::Memory::focused);
    for (line, segment) in pick::segments(&session.derived().layout) {
        let ends = [canvas.at(segment.a), canvas.at(segment.b)];
        let spoken = scene.spot.is_some_and(|spot| spot.lines.contains(&line));
        if hovered == Some(line) || spoken {
            painter.line_segment(ends, Stroke::new(8.0, colour(style::HOVER)));
        }
        if selected.line() == Some(line) {
            painter.line_segment(ends, Stroke::new(6.0, colour(style::SELECTION.with_alpha(70))));
            for end in ends {
                painter.rect_filled(Rect::from_center_size(end, egui::Vec2::splat(7.0)), 1.0, colour(style::SELECTION));
            }
        }
        if focused == Some(id(line)) {
            let ring = Rect::from_two_pos(ends[0], ends[1]).expand(pick::REACH + 1.0);
            painter.rect_stroke(ring, 4.0, Stroke::new(1.2, colour(style::SELECTION)), egui::StrokeKind::Outside);
        }
    }
    if let Some(stretch) = selected.stretch(&session.derived().layout) {
        let ends = [canvas.at(stretch.segment.a), canvas.at(stretch.segment.b)];
        let role = role(stretch.work);
        let mut stroke = style::stroke_for(role);
        painter.line_segment(ends, Stroke::new(7.0, colour(style::PAPER_FRONT)));
        painter.line_segment(ends, Stroke::new(7.0, colour(style::SELECTION.with_alpha(70))));
        stroke.colour = style::SELECTION;
        paint::line(painter, ends, &stroke, canvas.view.scale, 3.0);
    }
}

/// What a stretch is drawn as.
pub(crate) fn role(work: Option<Work>) -> Role {
    match work {
        None => Role::Outline,
        Some(Work::Cut) => Role::Cut,
        Some(Work::Score(crease)) if crease.direction == Direction::Valley => Role::Valley,
        Some(Work::Score(_)) => Role::Mountain,
    }
}

/// The middle of a line.
pub(crate) fn middle(placed: &Placed) -> Point {
    let (a, b) = (placed.segment.a, placed.segment.b);
    Point::new(half(a.x, b.x), half(a.y, b.y))
}

fn half(a: Length, b: Length) -> Length {
    (a + b).half()
}
