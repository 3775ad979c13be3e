//! Each part on the sheet as a thing of its own: for the pointer, the keyboard and the screen reader alike.

use super::dimension::Inset;
use super::name::{Hand, covering, fitted, free};
use super::{Canvas, SheetPane, drag};
use crate::label::Labels;
use crate::naming::part as naming;
use crate::paint;
use crate::pane::{Action, Scene};
use crate::theme::{colour, plain};
use crate::tip::Tip as _;
use draw::artwork::Printed;
use draw::laid::{LaidLook, LaidPart, glue_nodes, laid_parts, printed_laid_nodes};
use draw::list::Node;
use draw::style;
use egui::{
    EventFilter, Id, Key, Painter, PointerButton, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, accesskit,
};
use model::{PartId, Turn};
use session::part::{part_at, push};
use session::{Selected, snap};

/// The parts' drawing, kept while nothing changes.
#[derive(Debug)]
pub(super) struct Laid {
    of: (u64, u64, u64, Turn),
    nodes: Vec<Node>,
    parts: Vec<LaidPart>,
}

/// A part's name among the window's things, the same in every frame.
pub(crate) fn id(part: PartId) -> Id {
    Id::unique(("part on the sheet", part.0))
}

/// Makes every part a node that can be pointed at, focused and moved, the lower ones first. Says whether one was clicked
/// with the pointer.
pub(super) fn nodes(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, parts: &[LaidPart], dragging: bool) -> bool {
    let mut clicked = false;
    for part in parts {
        let Some(rect) = bounds(canvas, part) else { continue };
        clicked |= node(ui, canvas, scene, (part.id, rect), dragging);
    }
    clicked
}

fn node(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, (part, rect): (PartId, Rect), dragging: bool) -> bool {
    let response = ui.interact(rect, id(part), Sense::click_and_drag());
    let session = scene.session;
    let (document, derived) = (session.document(), session.derived());
    let name = document.part_name(part);
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, format!("{name} on the sheet")));
    let response = response.described("Drag it, or push it with the arrows.");
    let by_pointer = ui.input(|input| input.pointer.button_clicked(PointerButton::Primary));
    // What has the focus is what the commands work on.
    let focused = response.gained_focus() && session.selected().part() != Some(part);
    if (focused || response.clicked()) && !by_pointer {
        scene.ask(Action::Select(Selected::Part(part)));
    }
    if response.has_focus() {
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id(part), arrows));
        keys(ui, canvas, scene, part);
    }
    let clicked = response.clicked() && by_pointer;
    let pointer = ui.input(|input| input.pointer.hover_pos());
    let is_seen = || {
        let place = pointer.and_then(|at| canvas.place(at));
        place.and_then(|at| part_at(derived, at)) == Some(part)
    };
    if !dragging && response.hovered() && is_seen() {
        let lies = document.part(part).map(|part| naming::where_it_lies(document, &derived.layout, part));
        let tip = format!("{name}, {}\n{}", naming::size(document, &derived.layout, part), lies.unwrap_or_default());
        response.on_hover_cursor(egui::CursorIcon::Grab).told_at_pointer(&tip);
    }
    clicked
}

/// Arrows push a part by grooves, with shift by quarters of them, with control finest.
fn keys(ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, part: PartId) {
    let arrows = [
        (Key::ArrowRight, 1.0, 0.0),
        (Key::ArrowLeft, -1.0, 0.0),
        (Key::ArrowDown, 0.0, 1.0),
        (Key::ArrowUp, 0.0, -1.0),
    ];
    let session = scene.session;
    let document = session.document();
    let step = snap::step(document, drag::fineness(ui.input(|input| input.modifiers))).0;
    for (key, right, down) in arrows {
        if !ui.input(|input| input.key_pressed(key)) {
            continue;
        }
        let to = kurbo::Point::new(step.mm() * right, step.mm() * down);
        let way = canvas.board.place(kurbo::Point::ZERO).zip(canvas.board.place(to)).map(|(from, to)| to - from);
        let edit = way.and_then(|way| push(document, session.derived(), part, way));
        if let Some(edit) = edit {
            scene.edit(format!("Move {}", document.part_name(part)), edit);
        }
    }
}

/// The rectangle on the screen around what is seen of a part.
fn bounds(canvas: &Canvas, part: &LaidPart) -> Option<Rect> {
    let corners = part.outlines.iter().flatten().map(|&point| canvas.view.to_screen(point));
    let rect = corners.fold(Rect::NOTHING, |mut rect, at| {
        rect.extend_with(at);
        rect
    });
    let rect = rect.intersect(canvas.rect);
    rect.is_positive().then_some(rect)
}

impl SheetPane {
    /// Shows parts on the sheet, or the bare sheet.
    pub(crate) const fn show_or_hide_parts(&mut self) {
        self.hides_parts = !self.hides_parts;
    }

    /// Draws the parts anew where something has changed.
    pub(super) fn lay_parts(&mut self, canvas: &Canvas, scene: &Scene<'_>) {
        let of = (scene.design, scene.session.revision(), scene.readings, scene.turn);
        if self.laid.as_ref().is_some_and(|laid| laid.of == of) {
            return;
        }
        let derived = scene.session.derived();
        self.laid = derived.folded.as_ref().filter(|_| !derived.layout.parts.is_empty()).map(|(assembly, folding)| {
            let look = LaidLook { names: false, glue: false };
            let printed = Printed { prints: scene.prints, supply: derived.supply.as_ref() };
            let nodes = printed_laid_nodes(&derived.layout, (assembly, folding), canvas.board, look, &printed);
            Laid { of, nodes, parts: laid_parts(&derived.layout, assembly, folding, canvas.board) }
        });
    }

    /// The parts that are shown, those behind the sheet first, then from low to high.
    pub(super) fn shown_parts(&self) -> &[LaidPart] {
        self.laid.as_ref().filter(|_| !self.hides_parts).map_or(&[], |laid| &laid.parts)
    }

    /// Draws the parts over the sheet: their paper, what is pointed at or selected, the glue of the selected one, names.
    pub(super) fn paint_parts(
        &self,
        ui: &Ui,
        painter: &Painter,
        canvas: &Canvas,
        scene: &Scene<'_>,
        labels: &mut Labels,
    ) {
        let Some(laid) = self.laid.as_ref().filter(|_| !self.hides_parts) else { return };
        paint::paint(painter, &laid.nodes, &canvas.view);
        let layout = &scene.session.derived().layout;
        let selected = scene.session.selected().part();
        for part in &laid.parts {
            let is_lit = layout.part(part.id).is_some_and(|of| of.panels.iter().any(|panel| scene.is_lit(panel.id)));
            for outline in part.outlines.iter().filter(|_| is_lit) {
                paint::area(painter, outline, &canvas.view, colour(style::HOVER));
            }
        }
        if let (Some(id), Some((assembly, folding))) = (selected, &scene.session.derived().folded) {
            if let Some(of) = layout.part(id) {
                paint::paint(painter, &glue_nodes(of, assembly, &folding.pose(0.0), canvas.board), &canvas.view);
            }
            for part in laid.parts.iter().filter(|part| part.id == id) {
                frame(painter, canvas, part);
            }
        }
        for part in &laid.parts {
            if part.is_behind {
                name_behind(painter, canvas, scene, part, labels);
            } else {
                name(painter, canvas, scene, (part, &laid.parts), labels);
            }
            if ui.memory(|memory| memory.has_focus(id(part.id)))
                && let Some(rect) = bounds(canvas, part)
            {
                let ring = Stroke::new(1.2, colour(style::SELECTION));
                painter.rect_stroke(rect.expand(3.0), 0.0, ring, egui::StrokeKind::Outside);
            }
        }
    }

    /// Where the selected part would lie, if it is left out.
    pub(super) fn ghost_part(&self, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
        if !self.hides_parts {
            left_out(painter, canvas, scene);
        }
    }

    /// How far the held or selected part lies from the borders of its panel, where that is a panel of the sheet.
    pub(super) fn part_measures(
        &self,
        painter: &Painter,
        canvas: &Canvas,
        scene: &Scene<'_>,
        labels: &mut Labels,
    ) -> Vec<Inset> {
        // While a line of it is worked on the distances are those of the line.
        let is_seen = !self.hides_parts && self.drag.is_none() && scene.own_line.is_none();
        let Some(id) = scene.session.selected().part().filter(|_| is_seen) else { return Vec::new() };
        let layout = &scene.session.derived().layout;
        let units = scene.session.document().units;
        let laid = layout.part(id).and_then(|part| Some((part, part.laid?)));
        let Some((part, laid)) = laid.filter(|(_, laid)| layout.part_of(laid.on).is_none()) else { return Vec::new() };
        let Some(main) = part.panels.iter().find(|panel| panel.id == part.main) else { return Vec::new() };
        let (low, high) = session::part::on_host(&laid, main);
        let (least, most) = layout.panel(laid.on).bounds();
        let middle = ((low.x + high.x).half(), (low.y + high.y).half());
        let point = model::Point::new;
        [
            (point(least.x, middle.1), point(low.x, middle.1), low.x - least.x),
            (point(most.x, middle.1), point(high.x, middle.1), most.x - high.x),
            (point(middle.0, least.y), point(middle.0, low.y), low.y - least.y),
            (point(middle.0, most.y), point(middle.0, high.y), most.y - high.y),
        ]
        .into_iter()
        .enumerate()
        .filter(|(_, (.., long))| *long > model::Length::ZERO)
        .filter_map(|(side, (border, within, long))| {
            let ends = [canvas.at(border), canvas.at(within)];
            let side = Id::unique(("distance of a part", id.0, side));
            Inset::of(painter, canvas, side, ends, long.readable(units), self.held.is_some(), labels)
        })
        .collect()
    }
}

/// Where the selected part would lie that can't be put together with the rest.
fn left_out(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
    let derived = scene.session.derived();
    let is_left_out = |id: &PartId| derived.folded.as_ref().is_some_and(|(all, _)| all.left_out.contains_key(id));
    let Some(id) = scene.session.selected().part().filter(is_left_out) else { return };
    let Some(outline) = session::part::outline(derived, id) else { return };
    let mut corners: Vec<Pos2> = outline.into_iter().map(|point| canvas.at(point)).collect();
    corners.extend(corners.first().copied());
    let ink = Stroke::new(1.8, colour(style::FINDING_ERROR));
    painter.extend(Shape::dashed_line(&corners, ink, 7.0, 5.0));
}

/// The frame round the selected part.
fn frame(painter: &Painter, canvas: &Canvas, part: &LaidPart) {
    for outline in &part.outlines {
        let corners: Vec<Pos2> = outline.iter().map(|&point| canvas.view.to_screen(point)).collect();
        painter.add(Shape::closed_line(corners, Stroke::new(4.0, colour(style::SELECTION.with_alpha(110)))));
    }
}

/// The name of a part before the sheet, where no other part covers it.
fn name(
    painter: &Painter,
    canvas: &Canvas,
    scene: &Scene<'_>,
    (part, parts): (&LaidPart, &[LaidPart]),
    labels: &mut Labels,
) {
    let Some(top) = part.outlines.last() else { return };
    let corners = top.iter().map(|&point| canvas.view.to_screen(point));
    let all = corners.fold(Rect::NOTHING, |rect, at| rect.union(Rect::from_pos(at))).intersect(canvas.rect);
    if !all.is_positive() {
        return;
    }
    let is_bold = scene.session.selected().part() == Some(part.id);
    let derived = scene.session.derived();
    let printed = Printed { prints: scene.prints, supply: derived.supply.as_ref() };
    let is_printed = derived.layout.part(part.id).is_some_and(|of| {
        let faces = [model::Face::Front, model::Face::Back].into_iter();
        faces.into_iter().any(|face| printed.on_panel(&derived.layout, of.main, face).is_some())
    });
    let plate = is_printed.then(|| colour(style::PLATE));
    let ground = if is_bold { Some(colour(style::PART_FRONT)) } else { plate };
    let text = scene.session.document().part_name(part.id);
    let rooms = free(all, |at| covering(canvas, parts, at) == Some(part.id));
    let label = Id::unique(("name of a part", part.id.0));
    fitted(painter, labels, label, rooms, (&text, Hand { is_bold, ink: colour(style::LABEL), ground }));
}

/// The name of a part behind the sheet, in its corner: in the middle the panel's own name is read.
fn name_behind(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>, part: &LaidPart, labels: &mut Labels) {
    let Some(rect) = bounds(canvas, part) else { return };
    let ink = colour(style::DESK_TEXT_QUIET);
    let galley = painter.layout_no_wrap(scene.session.document().part_name(part.id), plain(11.0), ink);
    if galley.size().x + 8.0 <= rect.width() && galley.size().y + 6.0 <= rect.height() {
        let place = rect.left_bottom() + Vec2::new(4.0, -3.0 - galley.size().y);
        let label = Id::unique(("name of a part behind", part.id.0));
        if let Some(at) = labels.place(label, [(0, Rect::from_min_size(place, galley.size()), place)]) {
            painter.galley(at, galley, ink);
        }
    }
}
