//! A handle at each free corner of the panel that is selected or pointed at, and of the selected part of the maker's own:
//! pulled inwards it rounds the corner, with Alt it clips it.

use super::drag::Ground;
use super::{Canvas, SheetPane, dimension, drag};
use crate::naming::corner_names;
use crate::pane::{Action, Scene};
use crate::theme::{bold, colour};
use crate::tip::Tip as _;
use draw::style;
use egui::{
    Context, EventFilter, Id, Key, Painter, PointerButton, Pos2, Rect, Response, Sense, Stroke, Ui, Vec2, WidgetInfo,
    accesskit,
};
use model::{CornerShape, Edit, FreeCorner, Layout, PanelId, PartId, Point, Turn, Unit};
use session::corner::{Pulled, pulled, pushed};
use session::own;
use session::{Fineness, Selected};

/// How far within the panel a handle lies while its corner is square, px: out of the reach of the lines that meet there.
const INSET: f32 = 17.0;

/// Half the width of a handle to the pointer, px.
const REACH: f32 = 7.0;

/// The least width of a panel that has handles, px: room for one at either side.
const LEAST: f32 = 64.0;

/// The handles of a panel, kept while nothing changes.
#[derive(Debug)]
pub(super) struct Corners {
    of: (u64, u64, Where, Turn),
    handles: Vec<Handle>,
}

/// A panel of the sheet, or of the little sheet of a part.
type Where = (Option<PartId>, PanelId);

/// A free corner with its name.
#[derive(Debug, Clone)]
struct Handle {
    /// "Top left corner of Base".
    name: String,
    free: FreeCorner,
    /// The part that it is of, if it is of none of the folio's panels.
    of: Option<PartId>,
    /// The corner on the folio's sheet, and the ends of its two sides there.
    tip: Point,
    ends: [Point; 2],
}

/// A corner that is pulled at.
#[derive(Debug, Clone)]
pub(super) struct Shaping {
    handle: Handle,
    press: Point,
    /// What it has come to.
    shape: CornerShape,
    edit: Option<Edit>,
}

impl Handle {
    fn id(&self) -> Id {
        let part = self.of.map(|part| part.0);
        Id::unique(("corner on the sheet", part, &self.name, self.free.tip.x.nm(), self.free.tip.y.nm()))
    }

    /// Where it lies on the screen while its corner is so.
    fn at(&self, canvas: &Canvas, shape: CornerShape) -> Pos2 {
        let tip = canvas.at(self.tip);
        let [before, after] = self.ends.map(|end| (canvas.at(end) - tip).normalized());
        let inwards = (before + after).normalized();
        #[expect(clippy::cast_possible_truncation, reason = "a place on the screen")]
        let far = shape.measure().mm() as f32 * canvas.view.scale / inwards.dot(before).max(0.2);
        tip + inwards * (INSET + far)
    }

    /// "rounded by 1/2 in".
    fn words(shape: CornerShape, units: Unit) -> String {
        match shape {
            CornerShape::Square => "square".to_owned(),
            CornerShape::Round(radius) => format!("rounded by {}", radius.readable(units)),
            CornerShape::Clip(distance) => format!("clipped by {}", distance.readable(units)),
        }
    }
}

impl SheetPane {
    /// Makes the handles of the panels that have them now, and takes hold of one.
    pub(super) fn corners(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        if self.pen.is_some() || self.is_dragging() {
            return;
        }
        let panels = self.cornered(canvas, scene);
        self.corners.retain(|corners| panels.contains(&corners.of.2));
        for panel in panels {
            let of = (scene.design, scene.session.revision(), panel, scene.turn);
            if self.corners.iter().all(|corners| corners.of != of) {
                self.corners.retain(|corners| corners.of.2 != panel);
                self.corners.push(Corners { of, handles: handles(scene, panel) });
            }
        }
        let mut taken = None;
        for handle in self.corners.iter().flat_map(|corners| &corners.handles) {
            let at = handle.at(canvas, handle.free.corner.shape);
            let response =
                ui.interact(Rect::from_center_size(at, Vec2::splat(2.0 * REACH)), handle.id(), Sense::drag());
            worked(ui, scene, handle, &response);
            if response.drag_started_by(PointerButton::Primary) {
                taken = ui.input(|input| input.pointer.press_origin()).map(|press| (handle.clone(), press));
            }
            response.on_hover_cursor(egui::CursorIcon::Grab).told(&format!(
                "{}, {}. Drag it inwards to round it, with Alt to clip it.",
                handle.name,
                Handle::words(handle.free.corner.shape, scene.session.document().units)
            ));
        }
        if let Some((handle, press)) = taken.and_then(|(handle, press)| Some((handle, canvas.place(press)?))) {
            if handle.of.is_none() {
                scene.ask(Action::Select(Selected::Panel(handle.free.corner.mark)));
            }
            scene.ask(Action::BeginDrag("Shape a corner".to_owned()));
            let shape = handle.free.corner.shape;
            self.shaping = Some(Shaping { handle, press, shape, edit: None });
        }
    }

    /// The panels that have handles now: those of the selected part of the maker's own, else of the folio.
    fn cornered(&self, canvas: &Canvas, scene: &Scene<'_>) -> Vec<Where> {
        let Some((part, little)) = self.little(scene) else {
            return panels(canvas, scene).into_iter().map(|panel| (None, panel)).collect();
        };
        let folio = little.layout.folio().map(|piece| piece.panels.as_slice()).unwrap_or_default();
        let has_room = |panel: &&PanelId| {
            let (low, high) = little.layout.panel(**panel).bounds();
            has_room(canvas, [low, high].map(|corner| little.on_sheet(corner)))
        };
        folio.iter().filter(has_room).map(|&panel| (Some(part), panel)).collect()
    }

    /// Follows a corner that is pulled at, and ends that.
    pub(super) fn follow_corner(&mut self, ctx: &Context, scene: &mut Scene<'_>) {
        let (Some(mut shaping), Some(canvas)) = (self.shaping.take(), self.canvas) else { return };
        if !scene.session.in_gesture() {
            // Undo, or another edit, has ended it.
            return;
        }
        if ctx.input(|input| input.key_pressed(Key::Escape)) {
            return scene.ask(Action::CancelDrag);
        }
        let released = ctx.input(|input| input.events.iter().find_map(drag::release));
        let at = released.or_else(|| ctx.input(|input| input.pointer.interact_pos()));
        if let Some(point) = at.and_then(|at| canvas.place(at)) {
            shaping.pull(ctx, scene, point);
        }
        if released.is_some() || !ctx.input(|input| input.pointer.button_down(PointerButton::Primary)) {
            return scene.ask(Action::FinishDrag);
        }
        self.shaping = Some(shaping);
    }

    /// Draws the handles, and the measure of the one that is held.
    pub(super) fn paint_corners(&self, ui: &Ui, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
        let ink = Stroke::new(2.0, colour(style::SELECTION));
        if let Some(Shaping { handle, shape, .. }) = &self.shaping {
            let at = handle.at(canvas, *shape);
            painter.circle(at, 6.0, colour(style::SELECTION), ink);
            let text = Handle::words(*shape, scene.session.document().units);
            dimension::label(painter, canvas.rect, at + Vec2::new(0.0, 22.0), &text, bold(12.5), ink.color);
            return;
        }
        if self.pen.is_some() || self.is_dragging() {
            return;
        }
        for handle in self.corners.iter().flat_map(|corners| &corners.handles) {
            let at = handle.at(canvas, handle.free.corner.shape);
            painter.circle(at, 4.5, colour(style::WHITE), Stroke::new(1.5, ink.color));
            if ui.memory(|memory| memory.has_focus(handle.id())) {
                painter.circle_stroke(at, 8.0, Stroke::new(1.2, ink.color));
            }
        }
    }
}

impl Shaping {
    fn pull(&mut self, ctx: &Context, scene: &mut Scene<'_>, to: Point) {
        let Some(ground @ Ground { document, layout, .. }) = Ground::of(scene, self.handle.of) else { return };
        let modifiers = ctx.input(|input| input.modifiers);
        let free = &self.handle.free;
        // Alt makes the other of the two of it.
        let clips = modifiers.alt != matches!(free.corner.shape, CornerShape::Clip(_));
        let Pulled { shape, edit, is_all } =
            pulled(document, layout, free, ground.way(to - self.press), clips, drag::fineness(modifiers));
        let words = Handle::words(shape, document.units);
        let more = if is_all { " There is room for no more." } else { "" };
        let other = if clips { "round" } else { "clip" };
        let alt = if modifiers.alt { String::new() } else { format!(" Hold Alt to {other} it.") };
        scene.now_hint = Some(format!("{}: {words}.{more}{alt}", self.handle.name));
        if edit != self.edit {
            drag::ask(scene, self.handle.of, edit.clone());
        }
        self.shape = shape;
        self.edit = edit;
    }
}

/// Where there is room for handles.
fn has_room(canvas: &Canvas, corners: [Point; 2]) -> bool {
    let [low, high] = corners.map(|corner| canvas.at(corner));
    Rect::from_two_pos(low, high).size().min_elem() >= LEAST
}

/// The panels of the folio that have handles now: the selected one and the one under the pointer, where there is room.
fn panels(canvas: &Canvas, scene: &Scene<'_>) -> Vec<PanelId> {
    let layout = &scene.session.derived().layout;
    let selected = match scene.session.selected() {
        Selected::Panel(point) => layout.panel_at(point),
        _ => None,
    };
    let hovered = scene.hovered.filter(|panel| panel.0 < layout.panels.len() && Some(*panel) != selected);
    let has_room = |panel: &PanelId| has_room(canvas, layout.panel(*panel).bounds().into());
    selected.into_iter().chain(hovered).filter(has_room).collect()
}

fn handles(scene: &Scene<'_>, (part, panel): Where) -> Vec<Handle> {
    let Some(ground @ Ground { document, layout, .. }) = Ground::of(scene, part) else { return Vec::new() };
    let panel = layout.panel(panel);
    // A part's corners are named as it is cut out.
    let turn = if part.is_some() { Turn::None } else { scene.turn };
    let of = part.map_or_else(
        || panel.name.clone(),
        |part| format!("{}, {}", scene.session.document().part_name(part), panel.name.to_lowercase()),
    );
    let Some(mark) = panel.inside else { return Vec::new() };
    let mut all = Layout::corners_by_side(document, mark);
    let tips: Vec<Point> = all.iter().map(|free| free.tip).collect();
    let names = corner_names(&tips, &panel.outline, turn, layout.size);
    all.iter_mut().for_each(|free| free.corner.mark = mark);
    let named = names.into_iter().zip(all).filter(|(_, free)| !free.is_curved);
    let handle = |(name, free): (_, FreeCorner)| {
        let (tip, ends) = (ground.on_sheet(free.tip), free.ends.map(|end| ground.on_sheet(end)));
        Handle { name: format!("{name} corner of {of}"), free, of: part, tip, ends }
    };
    named.map(handle).collect()
}

/// What keys and a screen reader do with a handle: a measure that grows and shrinks by grooves.
fn worked(ui: &Ui, scene: &mut Scene<'_>, handle: &Handle, response: &Response) {
    let Some(Ground { document, layout, .. }) = Ground::of(scene, handle.of) else { return };
    let shape = handle.free.corner.shape;
    let id = handle.id();
    response.widget_info(|| WidgetInfo::slider(true, shape.measure().mm(), &handle.name));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_min_numeric_value(0.0);
        node.set_numeric_value_step(session::snap::step(document, Fineness::Grooves).0.mm());
        node.set_value(Handle::words(shape, document.units));
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
    if response.gained_focus() && handle.of.is_none() {
        scene.ask(Action::Select(Selected::Panel(handle.free.corner.mark)));
    }
    let requests = |action| ui.input(|input| input.num_accesskit_action_requests(id, action)) > 0;
    let mut steps =
        i64::from(requests(accesskit::Action::Increment)) - i64::from(requests(accesskit::Action::Decrement));
    let mut fineness = Fineness::Grooves;
    if response.has_focus() {
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, arrows));
        let pressed = |key| i64::from(ui.input(|input| input.key_pressed(key)));
        steps += pressed(Key::ArrowRight) + pressed(Key::ArrowUp) - pressed(Key::ArrowLeft) - pressed(Key::ArrowDown);
        fineness = drag::fineness(ui.input(|input| input.modifiers));
    }
    if steps != 0
        && let Some(edit) = pushed(document, layout, &handle.free, steps, fineness).edit
    {
        let (design, whole) = (scene.session.document(), &scene.session.derived().layout);
        let made =
            handle.of.map_or_else(|| Ok(Some(edit.clone())), |part| own::edit(design, whole, part, edit.clone()));
        match made {
            Ok(edit) => edit.into_iter().for_each(|edit| scene.edit("Shape a corner", edit)),
            Err(refusal) => scene.ask(Action::Complain(refusal.to_string())),
        }
    }
}
