//! The sheet on the table: pan and zoom, rulers, hover and selection, dragging and drawing lines.
//!
//! Millimetres become pixels here by a transform of the window's own, so that what is under the pointer is exactly
//! what the screen reader and the tests find there.

mod along;
mod carry;
mod corner;
mod dimension;
mod drag;
mod drawing;
mod frame;
mod gap;
mod hold;
mod line;
mod name;
mod own;
mod part;
mod pick;
mod plan;
mod ruler;
mod tools;

pub(crate) use line::{id as line_id, middle};
pub(crate) use own::id as own_line_id;
pub(crate) use part::id as part_id;

use crate::label::{Labels, Stood};
use crate::menu::Of;
use crate::paint;
use crate::pane::{Action, Scene, bound_canvas};
use crate::theme::{colour, palette};
use crate::view_transform::ViewTransform;
use carry::Carried;
use corner::{Corners, Shaping};
use drag::Dragged;
use draw::board::Board;
use draw::list::Node;
use draw::sheet::{SheetLook, printed_sheet_nodes};
use draw::style;
use drawing::Pen;
use egui::{Painter, PointerButton, Pos2, Rect, Sense, Stroke, Ui, UiBuilder, accesskit};
use gap::Typing;
use hold::Held;
use model::{Panel, Turn};
use part::Laid;
use pick::Under;
use session::Selected;
use session::spot::SnappedSpot;

/// Between the sheet and the canvas's edge when all of it is shown, px.
const FIT_MARGIN: f32 = 34.0;

/// The part of a small canvas that it takes at most.
const MOST_MARGIN: f32 = 0.08;

/// How fast the wheel zooms: one notch of 50 px is a little over a tenth.
const ZOOM_A_PIXEL: f32 = 0.0025;

/// What the sheet's pane remembers between frames. Nothing of the design.
#[derive(Debug, Default)]
pub(crate) struct SheetPane {
    /// Where the sheet lies on the screen; `None` until the canvas is known.
    view: Option<ViewTransform>,
    /// What the view was made for; when this changes, the view follows.
    framed: Option<Framed>,
    /// Whether all of the sheet is to be shown, whatever the canvas's size.
    fitted: bool,
    drawn: Option<Drawn>,
    drag: Option<Dragged>,
    /// The distance that is typed while a line is dragged.
    typed: String,
    /// The distance that is typed where it stands on the sheet.
    typing: Typing,
    /// The part that is held, while one is dragged.
    held: Option<Held>,
    /// The offcut that is carried, while one is.
    carried: Option<Carried>,
    /// The handles at corners of panels.
    corners: Vec<Corners>,
    /// The corner that is pulled at, while one is.
    shaping: Option<Shaping>,
    /// The parts' drawing.
    laid: Option<Laid>,
    /// Whether parts are left out.
    hides_parts: bool,
    /// Whether a drag beside a part moves the view.
    pans: bool,
    /// Where labels stood when they were last drawn, and what they were seen in.
    labelled: Option<(Labelled, Stood)>,
    /// The canvas as it was last drawn, by which a drag is followed.
    canvas: Option<Canvas>,
    /// The place last clicked, and what it picked: there again means what lies deeper.
    last_pick: Option<(Pos2, u64, Under)>,
    /// The pen, while lines are drawn with it.
    pen: Option<Pen>,
    /// What was measured last, while it is shown.
    measured: Option<(SnappedSpot, SnappedSpot)>,
    /// Where the corner of a frame is, while lines are selected by one.
    framing: Option<Pos2>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Framed {
    design: u64,
    board: Board,
    canvas: Rect,
}

/// The sheet's drawing, kept while nothing changes.
#[derive(Debug)]
struct Drawn {
    of: (u64, u64, u64, Turn),
    nodes: Vec<Node>,
}

/// What labels are seen in: with another view or another thing selected they find their places anew.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Labelled {
    design: u64,
    canvas: Rect,
    view: ViewTransform,
    board: Board,
    selected: (Option<model::LineId>, Option<model::PartId>),
}

impl Labelled {
    fn of(canvas: &Canvas, scene: &Scene<'_>) -> Self {
        let selected = scene.session.selected();
        let selected = (selected.line(), selected.part());
        Self { design: scene.design, canvas: canvas.rect, view: canvas.view, board: canvas.board, selected }
    }
}

/// What a frame of the canvas needs to know.
#[derive(Debug, Clone, Copy)]
struct Canvas {
    rect: Rect,
    board: Board,
    view: ViewTransform,
}

impl Canvas {
    /// Where a place on the sheet lies on the screen.
    fn at(&self, point: model::Point) -> Pos2 {
        self.view.to_screen(self.board.at(point))
    }

    /// The place on the sheet under a point of the screen.
    fn place(&self, at: Pos2) -> Option<model::Point> {
        self.board.place(self.view.to_drawing(at))
    }
}

impl SheetPane {
    /// Shows all of the sheet from the next frame on.
    pub(crate) const fn fit(&mut self) {
        self.fitted = true;
        self.framed = None;
    }

    /// Shows the pane.
    pub(crate) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        tools::ui(ui, scene, self.in_hand(), !self.hides_parts);
        ui.add_space(2.0);
        let whole = ui.available_rect_before_wrap();
        let corner = whole.min + ruler::THICKNESS;
        let rect = Rect::from_min_max(corner.min(whole.max), whole.max);
        let board = Board { size: scene.session.derived().layout.size, turn: scene.turn };
        let view = self.frame(Framed { design: scene.design, board, canvas: rect });
        let canvas = Canvas { rect, board, view };
        let inside = UiBuilder::new()
            .id_salt("sheet")
            .max_rect(rect)
            .accessibility_role(accesskit::Role::Canvas)
            .accessibility_label("Sheet");
        ui.scope_builder(inside, |ui| {
            ui.set_clip_rect(rect.intersect(ui.clip_rect()));
            bound_canvas(ui, rect);
            self.work_on(ui, &canvas, scene);
            self.show(ui, &canvas, scene);
            self.gap_field(ui, &canvas, scene);
        });
        ruler::ui(ui, whole, &canvas, scene);
        ui.advance_cursor_after_rect(whole);
    }

    /// The view for this frame: kept, fitted, or carried along when the sheet is turned.
    fn frame(&mut self, now: Framed) -> ViewTransform {
        let margin = FIT_MARGIN.min(now.canvas.size().min_elem() * MOST_MARGIN);
        let fitting = || ViewTransform::fitting(now.board.rect(), now.canvas, margin);
        let view = match (self.view, self.framed) {
            (Some(view), Some(then)) if then == now || self.is_dragging() => view,
            (Some(view), Some(then)) if !self.fitted && then.design == now.design => {
                let middle = view.to_drawing(then.canvas.center());
                let point = then.board.place(middle).map_or(middle, |point| now.board.at(point));
                view.with_point_at(point, now.canvas.center())
            }
            _ => {
                self.fitted = true;
                fitting()
            }
        };
        self.framed = Some(now);
        self.view = Some(view);
        view
    }

    /// Whether something on the sheet is dragged.
    const fn is_dragging(&self) -> bool {
        self.drag.is_some() || self.held.is_some() || self.carried.is_some() || self.shaping.is_some()
    }

    fn work_on(&mut self, ui: &mut Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        let table = ui.interact(canvas.rect, ui.scope_id().with("table"), Sense::click_and_drag());
        self.lift(ui, canvas, &table, scene);
        self.move_view(ui, canvas, &table, scene);
        self.lay_parts(canvas, scene);
        let dragging = self.is_dragging();
        let on_part = part::nodes(ui, canvas, scene, self.shown_parts(), dragging);
        let (on_line, entered) = line::nodes(ui, canvas, scene, dragging);
        let on_own = self.own_nodes(ui, canvas, scene, dragging);
        let clicked = (on_line || on_part) && !on_own;
        if let Some(line) = entered {
            self.type_distance_of(ui.ctx(), scene, line);
        }
        let pointer = ui.input(|input| input.pointer.interact_pos()).filter(|at| canvas.rect.contains(*at));
        let over = ui.rect_contains_pointer(canvas.rect) && ui.ctx().dragged_id().is_none();
        if let Some(at) = pointer.filter(|_| over) {
            let free = pick::at(canvas, scene, at).is_empty();
            let place = canvas.place(at).filter(|_| free);
            scene.now_hovered = place.and_then(|point| {
                let layout = &scene.session.derived().layout;
                let part = self.parts_at(scene, point).first().and_then(|&id| layout.part(id));
                part.map(|part| part.main).or_else(|| layout.panel_at(point))
            });
        }
        self.menu(ui, canvas, scene, pointer.filter(|_| over));
        let by_pointer = ui.input(|input| input.pointer.button_clicked(PointerButton::Primary));
        if let (true, Some(at)) = (by_pointer && (clicked || table.clicked()), pointer) {
            self.click(ui, canvas, scene, at);
        }
        self.corners(ui, canvas, scene);
        self.gap_nodes(ui, canvas, scene);
        self.start_drag(ui, canvas, scene);
        // Laid over everything else, so that the pen takes hold of nothing.
        self.draw(ui, canvas, scene);
    }

    /// Opens the menu of what is clicked with the right button, which is selected by that: what is selected already where it
    /// lies there too, else what a click would pick. By keys that of a line or part in focus.
    fn menu(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, pointer: Option<Pos2>) {
        let clicked = ui.input(|input| input.pointer.button_clicked(PointerButton::Secondary));
        let Some(at) = pointer.filter(|_| clicked && self.pen.is_none() && !self.is_dragging()) else { return };
        let place = canvas.place(at);
        let parts = place.map(|point| self.parts_at(scene, point)).unwrap_or_default();
        let under = pick::under(&pick::at(canvas, scene, at), &parts);
        let is_selected = |one: &Under| match one {
            Under::Line(id) => scene.session.is_selected(*id),
            Under::Part(id) => scene.session.selected().part() == Some(*id),
            Under::Panel => false,
        };
        if !under.iter().any(is_selected) {
            let selected = selected_by(scene, under.first().copied(), place);
            focus(ui, selected);
            scene.ask(Action::Select(selected));
        }
        scene.ask(Action::ShowMenu(at, Of::Selected));
    }

    /// The parts that are seen at a place, the uppermost first.
    fn parts_at(&self, scene: &Scene<'_>, point: model::Point) -> Vec<model::PartId> {
        if self.shown_parts().is_empty() { Vec::new() } else { session::part::parts_at(scene.session.derived(), point) }
    }

    /// Picks what lies under the pointer: a line within its reach, else the uppermost part, else the panel. A click in the
    /// same place again, or with Alt held, goes deeper.
    fn click(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, at: Pos2) {
        let place = canvas.place(at);
        let parts = place.map(|point| self.parts_at(scene, point)).unwrap_or_default();
        let under = pick::under(&pick::at(canvas, scene, at), &parts);
        let (deeper, along_with) =
            ui.input(|input| (input.modifiers.alt, input.modifiers.command || input.modifiers.shift));
        let now = scene.session.revision();
        let is_again = |(then, revision, _): &(Pos2, u64, Under)| then.distance(at) < pick::REACH && *revision == now;
        let again = self.last_pick.filter(is_again).map(|(_, _, last)| last);
        let last = if deeper { Under::of(scene.session.selected()) } else { again };
        let next = last.and_then(|last| under.iter().position(|one| *one == last)).map_or(0, |last| last + 1);
        let picked = under.get(next % under.len().max(1)).copied();
        self.last_pick = picked.map(|one| (at, now, one));
        if along_with {
            // With a key held what is chosen already stays chosen.
            if let Some(Under::Line(id)) = picked {
                scene.ask(Action::SelectAlso(id, place));
            }
            return;
        }
        let selected = selected_by(scene, picked, place);
        focus(ui, selected);
        scene.ask(Action::Select(selected));
    }

    fn move_view(&mut self, ui: &Ui, canvas: &Canvas, table: &egui::Response, scene: &mut Scene<'_>) {
        let mut view = canvas.view;
        let held = |button| {
            ui.input(|input| {
                let pointer = &input.pointer;
                pointer.button_down(button) && pointer.press_origin().is_some_and(|at| canvas.rect.contains(at))
            })
        };
        if self.frame_lines(ui, canvas, table, scene) {
            return;
        }
        self.pans &= ui.input(|input| input.pointer.primary_down());
        if self.pans
            || (table.dragged_by(PointerButton::Primary) && self.carried.is_none())
            || held(PointerButton::Middle)
            || held(PointerButton::Secondary)
        {
            view = view.panned(ui.input(|input| input.pointer.delta()));
        }
        if ui.rect_contains_pointer(canvas.rect) {
            let (scroll, pinch, at) =
                ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta(), input.pointer.latest_pos()));
            let factor = (scroll * ZOOM_A_PIXEL).exp() * pinch;
            if let (Some(at), true) = (at, (factor - 1.0).abs() > 1e-4) {
                view = view.zoomed(factor, at);
            }
        }
        if view != canvas.view {
            self.fitted = false;
            self.view = Some(view);
            // What is drawn in this frame was placed before the move.
            ui.ctx().request_repaint();
        }
    }

    fn show(&mut self, ui: &Ui, canvas: &Canvas, scene: &Scene<'_>) {
        let painter = ui.painter().with_clip_rect(canvas.rect);
        let sheet = canvas.board.rect();
        let paper = Rect::from_two_pos(
            canvas.view.to_screen(sheet.origin()),
            canvas.view.to_screen(kurbo::Point::new(sheet.x1, sheet.y1)),
        );
        painter.rect_filled(canvas.rect, 0.0, colour(palette().table));
        let shade =
            egui::Shadow { offset: [0, 4], blur: 18, spread: 0, color: colour(palette().shadow.with_alpha(70)) };
        painter.add(shade.as_shape(paper, 0.0));
        paint::paint(&painter, self.nodes(scene), &canvas.view);
        panels(&painter, canvas, scene);
        // Distances have their places before names have.
        let mut labels = self.labels_of(canvas, scene);
        let figures = self.figures(ui, canvas, scene, &mut labels);
        let insets = self.part_measures(&painter, canvas, scene, &mut labels);
        let plans = !self.hides_parts;
        if plans {
            plan::paint(&painter, canvas, scene, &mut labels);
        }
        name::paint(&painter, canvas, scene, (self.shown_parts(), plans), &mut labels);
        self.paint_parts(ui, &painter, canvas, scene, &mut labels);
        self.light_target(&painter, canvas, scene);
        line::marks(ui, &painter, canvas, scene);
        self.measures(ui, &painter, canvas, scene, &figures);
        self.ghost_part(&painter, canvas, scene);
        self.ghost_offcut(ui, &painter, canvas, scene);
        for inset in &insets {
            inset.paint(&painter, canvas);
        }
        self.paint_own(ui, &painter, canvas, scene, &mut labels);
        self.labelled = Some((Labelled::of(canvas, scene), labels.stood()));
        self.paint_corners(ui, &painter, canvas, scene);
        self.ghost(&painter, canvas, scene);
        self.paint_frame(ui, &painter);
    }

    /// Labels that keep the places which they had, while it is the same that they are seen in.
    fn labels_of(&self, canvas: &Canvas, scene: &Scene<'_>) -> Labels {
        let same = self.labelled.as_ref().filter(|(of, _)| *of == Labelled::of(canvas, scene));
        same.map_or_else(Labels::default, |(_, stood)| Labels::after(stood.clone()))
    }

    /// Lights the panel that what is dragged would go to.
    fn light_target(&self, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
        let over = self.held.as_ref().and_then(|held| held.over);
        let Some(id) = over.or_else(|| self.carried.as_ref().and_then(Carried::over)) else { return };
        // As it was before, since another part goes by other numbers now.
        let derived = scene.session.gesture_start_derived().unwrap_or(scene.session.derived());
        let Some(outline) = session::part::panel_outline(derived, id) else { return };
        let outline: Vec<Pos2> = outline.into_iter().map(|point| canvas.at(point)).collect();
        painter.add(egui::Shape::closed_line(outline, Stroke::new(6.0, colour(style::SELECTION.with_alpha(110)))));
    }

    /// What is drawn of the bare sheet.
    #[cfg(test)]
    pub(crate) fn shown_nodes(&self) -> &[Node] {
        self.drawn.as_ref().map_or(&[], |drawn| &drawn.nodes)
    }

    fn nodes(&mut self, scene: &Scene<'_>) -> &[Node] {
        let of = (scene.design, scene.session.revision(), scene.readings, scene.turn);
        if self.drawn.as_ref().is_none_or(|drawn| drawn.of != of) {
            let look = SheetLook { turn: scene.turn, names: false, distances: false };
            let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
            let nodes = printed_sheet_nodes(document, layout, scene.prints, &look);
            self.drawn = Some(Drawn { of, nodes });
        }
        self.drawn.as_ref().map_or(&[], |drawn| &drawn.nodes)
    }
}

/// What is selected by picking something at a place.
fn selected_by(scene: &Scene<'_>, picked: Option<Under>, place: Option<model::Point>) -> Selected {
    let layout = &scene.session.derived().layout;
    match (picked, place) {
        (Some(Under::Line(id)), at) => Selected::Line { id, at },
        (Some(Under::Part(id)), _) => Selected::Part(id),
        // Well inside the panel, so that it is still meant when a corner of it is taken off.
        (_, Some(point)) => layout
            .panel_at(point)
            .map_or(Selected::Nothing, |panel| Selected::Panel(layout.panel(panel).inside.unwrap_or(point))),
        (_, None) => Selected::Nothing,
    }
}

/// Turns the keyboard to a line or part.
fn focus(ui: &Ui, selected: Selected) {
    let line = selected.line().map(line::id);
    if let Some(id) = line.or(selected.part().map(part::id)) {
        ui.ctx().memory_mut(|memory| memory.request_focus(id));
    }
}

/// Washes over panels: under the pointer, selected, spoken of by a finding.
fn panels(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
    let layout = &scene.session.derived().layout;
    let selected = match scene.session.selected() {
        Selected::Panel(point) => layout.panel_at(point),
        _ => None,
    };
    for panel in &layout.panels {
        if scene.is_lit(panel.id) {
            wash(painter, canvas, panel);
        }
        if selected == Some(panel.id) {
            let outline: Vec<Pos2> = panel.outline.iter().map(|&point| canvas.at(point)).collect();
            // See-through, so that folds are still told from cuts.
            let stroke = Stroke::new(6.0, colour(style::SELECTION.with_alpha(110)));
            painter.add(egui::Shape::closed_line(outline, stroke));
        }
    }
    if let Some(at) = scene.spot.and_then(|spot| spot.at) {
        painter.circle_stroke(canvas.at(at), 11.0, Stroke::new(2.5, colour(style::FINDING_ERROR)));
    }
}

fn wash(painter: &Painter, canvas: &Canvas, panel: &Panel) {
    for piece in &panel.convex {
        let corners: Vec<kurbo::Point> = piece.iter().map(|&point| canvas.board.at(point)).collect();
        paint::area(painter, &corners, &canvas.view, colour(style::HOVER));
    }
}
