//! The lines of a part of the maker's own on the sheet, while the part is selected: its little sheet is shown laid flat where
//! the part lies, and each line on it can be pointed at, focused, dragged and pushed as the folio's own lines are.

use super::dimension::{self, Inset};
use super::{Canvas, SheetPane, drag, line, pick};
use crate::label::Labels;
use crate::naming::part::on_part;
use crate::naming::{line_label, where_it_lies};
use crate::paint;
use crate::pane::parts::distance_id;
use crate::pane::{Action, LeftList, OwnLine, Scene};
use crate::theme::colour;
use crate::tip::Tip as _;
use draw::sheet::role_of;
use draw::style;
use egui::{EventFilter, Id, Key, Painter, PointerButton, Pos2, Sense, Shape, Stroke, Ui, WidgetInfo, accesskit};
use model::change::{move_drawn, move_line};
use model::{BoardPoint, Document, Edit, Length, LineId, PartId, Placed, Point, Vector};
use session::gap::gaps;
use session::own::{self, Little};
use session::{lock, snap};

/// Such a line's name among the window's things, the same in every frame.
pub(crate) fn id((part, line): OwnLine) -> Id {
    Id::unique(("line of a part", part.0, line.0))
}

/// What the history calls moving such a line: "Move Score 1 of Part 2".
pub(super) fn step(document: &Document, little: &Document, (part, line): OwnLine) -> String {
    format!("Move {} of {}", little.line_name(line), document.part_name(part))
}

/// Where a line runs on the screen.
fn path(canvas: &Canvas, little: &Little<'_>, placed: &Placed) -> Vec<Pos2> {
    placed.path().into_iter().map(|point| canvas.at(little.on_sheet(point))).collect()
}

impl SheetPane {
    /// The selected part and its little sheet, where it has one to work on.
    pub(super) fn little<'a>(&self, scene: &Scene<'a>) -> Option<(PartId, Little<'a>)> {
        if self.pen.is_none() { self.seen_little(scene) } else { None }
    }

    /// The same, also while a pen in hand takes hold of nothing.
    fn seen_little<'a>(&self, scene: &Scene<'a>) -> Option<(PartId, Little<'a>)> {
        let session = scene.session;
        let part = session.selected().part().filter(|_| !self.hides_parts)?;
        Some((part, Little::of(session.document(), &session.derived().layout, part)?))
    }

    /// Makes every line of the selected part a node, over the part's own. Says whether one was clicked with the pointer.
    pub(super) fn own_nodes(&self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, dragging: bool) -> bool {
        let Some((part, little)) = self.little(scene) else { return false };
        let mut clicked = false;
        for (line, placed) in pick::placed(little.layout) {
            clicked |= node(ui, canvas, scene, &little, ((part, line), placed), dragging);
        }
        clicked
    }

    /// The line of the selected part that a drag has taken hold of: the nearest to where it was pressed.
    pub(super) fn own_line_at(&self, ui: &Ui, canvas: &Canvas, scene: &Scene<'_>, press: Pos2) -> Option<OwnLine> {
        let (part, little) = self.little(scene)?;
        let held = ui.ctx().dragged_id()?;
        let lines: Vec<(LineId, Placed)> = pick::placed(little.layout).collect();
        if !lines.iter().any(|(line, _)| id((part, *line)) == held) {
            return None;
        }
        let away = |placed: &Placed| {
            pick::nearest_on(&path(canvas, &little, placed), press).map_or(f32::INFINITY, |on| on.distance(press))
        };
        let near = lines.iter().map(|(line, placed)| (away(placed), *line));
        let nearest = near.min_by(|a, b| a.0.round().total_cmp(&b.0.round()).then(a.1.cmp(&b.1)))?;
        (nearest.0 <= pick::END_REACH).then_some((part, nearest.1))
    }

    /// Draws the little sheet of the selected part with its lines, and the distances of the one that is held or focused.
    pub(super) fn paint_own(
        &self,
        ui: &Ui,
        painter: &Painter,
        canvas: &Canvas,
        scene: &Scene<'_>,
        labels: &mut Labels,
    ) {
        let Some((part, little)) = self.seen_little(scene) else { return };
        outline(painter, canvas, &little);
        let held = self.drag.filter(|drag| drag.of == Some(part)).map(|drag| drag.id);
        let focused = ui.memory(egui::Memory::focused);
        let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|at| canvas.rect.contains(*at));
        let pointer = pointer.filter(|_| self.pen.is_none());
        for (line, placed) in pick::placed(little.layout) {
            let path = path(canvas, &little, &placed);
            let is_near = |at: Pos2| pick::nearest_on(&path, at).is_some_and(|on| on.distance(at) <= pick::REACH);
            let has_focus = focused == Some(id((part, line)));
            let is_chosen = scene.own_line == Some((part, line));
            if held == Some(line) || (is_chosen && held.is_none()) {
                painter.line(path.clone(), Stroke::new(6.0, colour(style::SELECTION.with_alpha(70))));
            } else if held.is_none() && pointer.is_some_and(is_near) {
                painter.line(path.clone(), Stroke::new(8.0, colour(style::HOVER)));
            }
            let said = little.document.line(line);
            let stroke = style::stroke_for(role_of(said.map(|line| line.work)));
            for ends in path.windows(2) {
                paint::line(painter, [ends[0], ends[1]], &stroke, canvas.view.scale, 1.5);
            }
            if said.is_some_and(|line| matches!(line.place, model::Place::Drawn { .. })) {
                path.first().into_iter().chain(path.last()).for_each(|&end| line::handle(painter, end, true));
            }
            if has_focus {
                line::ring(painter, &path);
            }
            if held == Some(line) || (is_chosen && held.is_none()) {
                distances(painter, canvas, scene, &little, ((part, line), &placed), labels);
            }
        }
        if let (Some(_), Some(at), Some(sentence)) = (held, pointer, scene.refused) {
            dimension::refusal(painter, canvas.rect, at, sentence);
        }
    }
}

fn node(
    ui: &Ui,
    canvas: &Canvas,
    scene: &mut Scene<'_>,
    little: &Little<'_>,
    (of, placed): (OwnLine, Placed),
    dragging: bool,
) -> bool {
    let path = path(canvas, little, &placed);
    let response = ui.interact(line::hold(ui, canvas, &path), id(of), Sense::click_and_drag());
    let label = format!("{} of {}", line_label(little.document, of.1), scene.session.document().part_name(of.0));
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, &label));
    let response =
        response.described("Drag it, or push it with the arrows. Enter types its distance, X cuts or scores it, V and G fold it otherwise.");
    if response.has_focus() {
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id(of), arrows));
        keys(ui, canvas, scene, little, (of, &placed));
    }
    let by_pointer = ui.input(|input| input.pointer.button_clicked(PointerButton::Primary));
    if response.clicked() && !by_pointer {
        type_distance(ui, scene, little, of);
    }
    let clicked = response.clicked() && by_pointer;
    if clicked {
        // The arrows are for it from then on.
        response.request_focus();
        scene.ask(Action::WorkOn(of));
    }
    if !dragging && response.hovered() {
        let lies = where_it_lies(little.document, little.layout, of.1);
        response.on_hover_cursor(egui::CursorIcon::Grab).told_at_pointer(&format!("{label}\n{lies}"));
    }
    clicked
}

/// Takes the keys to the field of a line's distance among the details of its part.
fn type_distance(ui: &Ui, scene: &mut Scene<'_>, little: &Little<'_>, of: OwnLine) {
    let line = little.document.line(of.1);
    if line.is_some_and(|line| matches!(line.place, model::Place::Measured { .. })) {
        scene.ask(Action::ShowList(LeftList::Parts));
        scene.ask(Action::WorkOn(of));
        ui.memory_mut(|memory| memory.request_focus(distance_id(of)));
    } else {
        let name = little.document.line_name(of.1);
        scene.ask(Action::Complain(format!("\"{name}\" is drawn from spot to spot; drag its ends")));
    }
}

/// Arrows push a line by grooves, with shift by quarters of them, with control finest: one that is measured across its turn,
/// one that is drawn as a whole.
fn keys(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, little: &Little<'_>, (of, placed): (OwnLine, &Placed)) {
    let arrows = [
        (Key::ArrowRight, 1.0, 0.0),
        (Key::ArrowLeft, -1.0, 0.0),
        (Key::ArrowDown, 0.0, 1.0),
        (Key::ArrowUp, 0.0, -1.0),
    ];
    let fineness = drag::fineness(ui.input(|input| input.modifiers));
    let step = snap::step(little.document, fineness).0;
    for (key, right, down) in arrows {
        if !ui.input(|input| input.key_pressed(key)) {
            continue;
        }
        let to = kurbo::Point::new(step.mm() * right, step.mm() * down);
        let way = canvas.board.place(kurbo::Point::ZERO).zip(canvas.board.place(to)).map(|(from, to)| to - from);
        let Some(way) = way.map(|way| little.way_on_own(way)) else { continue };
        if let Some(why) = lock::refusal(little.document, of.1) {
            return scene.ask(Action::Complain(why));
        }
        if let Some(on_little) = pushed(little, (of.1, placed), way, fineness) {
            let session = scene.session;
            match own::edit(session.document(), &session.derived().layout, of.0, on_little) {
                Ok(Some(edit)) => scene.edit(self::step(session.document(), little.document, of), edit),
                Ok(None) => {}
                Err(refusal) => {
                    let part = session.document().part_name(of.0);
                    scene.ask(Action::Complain(on_part(&part, &refusal)));
                }
            }
        }
    }
}

/// A line pushed by so far on its little sheet, to rest on the grid.
fn pushed(
    little: &Little<'_>,
    (line, placed): (LineId, &Placed),
    way: Vector,
    fineness: session::Fineness,
) -> Option<Edit> {
    let (document, layout) = (little.document, little.layout);
    let Some((turn, now)) = placed.on_board() else { return move_drawn(document, layout, line, way) };
    let zero = Point::default();
    let across = turn.to_board(zero + way, layout.size).across - turn.to_board(zero, layout.size).across;
    let to = snap::snap(document, layout, line, now + across, fineness).across;
    // Along itself a line goes nowhere.
    if across == Length::ZERO { None } else { move_line(document, layout, line, to) }
}

/// The little sheet's edges, dashed: folded parts of it may lie elsewhere.
fn outline(painter: &Painter, canvas: &Canvas, little: &Little<'_>) {
    let (zero, size) = (Length::ZERO, little.layout.size);
    let (width, height) = (size.width(), size.height());
    let corners = [(zero, zero), (width, zero), (width, height), (zero, height), (zero, zero)];
    let corners = corners.map(|(x, y)| canvas.at(little.on_sheet(Point::new(x, y))));
    painter.extend(Shape::dashed_line(&corners, Stroke::new(1.2, colour(style::SELECTION)), 6.0, 4.0));
}

/// How far a line lies from what is measured from and from its neighbours.
fn distances(
    painter: &Painter,
    canvas: &Canvas,
    scene: &Scene<'_>,
    little: &Little<'_>,
    (of, placed): (OwnLine, &Placed),
    labels: &mut Labels,
) {
    let Some((turn, _)) = placed.on_board() else { return };
    let down = placed.from + (placed.to - placed.from) / 4;
    let units = scene.session.document().units;
    for (number, gap) in gaps(little.document, little.layout, of.1).into_iter().enumerate() {
        let at = |across| canvas.at(little.on_sheet(turn.from_board(BoardPoint { across, down }, little.layout.size)));
        let name = id(of).with(number);
        let ends = [at(gap.from), at(gap.to)];
        let inset = Inset::of(painter, canvas, name, ends, gap.width().readable(units), number == 0, labels);
        if let Some(inset) = inset {
            inset.paint(painter, canvas);
        }
    }
}
