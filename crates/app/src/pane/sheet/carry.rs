//! Dragging an offcut onto a panel: over one it shows what it would be there, and let go it becomes that part.

use super::{Canvas, SheetPane, drag};
use crate::pane::{Action, Scene};
use crate::theme::colour;
use allot::Suggestion;
use draw::style;
use egui::{Context, Key, Painter, PointerButton, Pos2, Response, Shape, Stroke, Ui, Vec2};
use model::{Edit, PanelId, PieceId, Point, Vector};
use session::carry::{Ground, Pull, ground_at, landing, uses_over};
use session::{Derived, Selected};
use std::collections::BTreeSet;

/// An offcut that is carried.
#[derive(Debug, Clone)]
pub(super) struct Carried {
    piece: PieceId,
    name: String,
    press: Pos2,
    /// From the pointer to the middle of the offcut, as it was taken hold of.
    grip: Vector,
    /// What it is over now.
    over: Option<Over>,
    /// Which of the parts that it would do for is meant, counted on by keys.
    choice: usize,
    /// The change that was asked for last.
    edit: Option<Edit>,
}

/// A panel that an offcut is carried over, and what it would do for there.
#[derive(Debug, Clone)]
struct Over {
    ground: Ground,
    uses: Vec<Suggestion>,
}

impl Carried {
    /// The panel that it would be put on.
    pub(super) fn over(&self) -> Option<PanelId> {
        self.over.as_ref().filter(|_| self.edit.is_some()).map(|over| over.ground.panel)
    }
}

impl SheetPane {
    /// Takes hold of an offcut that is pressed on and pulled, in place of the table.
    pub(super) fn lift(&mut self, ui: &Ui, canvas: &Canvas, table: &Response, scene: &mut Scene<'_>) {
        if self.pen.is_some() || self.is_dragging() || ui.input(|input| input.modifiers.shift) {
            return;
        }
        let pointer = ui.input(|input| input.pointer.press_origin().or(input.pointer.hover_pos()));
        let derived = scene.session.derived();
        let Some((point, piece)) = pointer.and_then(|at| offcut(canvas, derived, at)) else { return };
        if table.hovered() {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Grab);
        }
        let press = ui.input(|input| input.pointer.press_origin());
        let (true, Some(press)) = (table.drag_started_by(PointerButton::Primary), press) else { return };
        let of = &derived.layout.pieces[piece.0];
        let (low, high) = of.bounds;
        let middle = Point::new((low.x + high.x).half(), (low.y + high.y).half());
        // Arrows choose among parts now and don't go from line to line.
        ui.ctx().memory_mut(|memory| {
            if let Some(focused) = memory.focused() {
                memory.surrender_focus(focused);
            }
        });
        scene.ask(Action::BeginDrag(format!("Use {}", of.name)));
        let (name, grip) = (of.name.clone(), middle - point);
        self.carried = Some(Carried { piece, name, press, grip, over: None, choice: 0, edit: None });
        ui.ctx().request_repaint();
    }

    /// Follows an offcut that is carried, and lets it go.
    pub(super) fn follow_offcut(&mut self, ctx: &Context, scene: &mut Scene<'_>) {
        let (Some(mut carried), Some(canvas)) = (self.carried.take(), self.canvas) else { return };
        if !scene.session.in_gesture() {
            // Undo, or another edit, has ended it.
            return;
        }
        if ctx.input(|input| input.key_pressed(Key::Escape)) {
            return scene.ask(Action::CancelDrag);
        }
        // A second pass of the same frame must not count the same key again.
        if ctx.current_pass_index() == 0 {
            let pressed = |key| usize::from(ctx.input(|input| input.key_pressed(key)));
            let count = carried.over.as_ref().map_or(1, |over| over.uses.len().max(1));
            carried.choice = (carried.choice + pressed(Key::ArrowDown) + (count - 1) * pressed(Key::ArrowUp)) % count;
        }
        let released = ctx.input(|input| input.events.iter().find_map(drag::release));
        let at = released.or_else(|| ctx.input(|input| input.pointer.interact_pos()));
        if let Some(at) = at {
            carried.pull(ctx, &canvas, scene, at);
        }
        if released.is_some() || !ctx.input(|input| input.pointer.button_down(PointerButton::Primary)) {
            return carried.let_go(scene);
        }
        self.carried = Some(carried);
    }

    /// The outline of what is carried at the pointer, while it is over no panel that it would do for.
    pub(super) fn ghost_offcut(&self, ui: &Ui, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
        let Some(carried) = self.carried.as_ref().filter(|carried| carried.edit.is_none()) else { return };
        let Some(at) = ui.input(|input| input.pointer.latest_pos()) else { return };
        let by: Vec2 = at - carried.press;
        let layout = match scene.session.gesture_start() {
            Some((_, layout)) => layout,
            None => &scene.session.derived().layout,
        };
        let Some(piece) = layout.pieces.get(carried.piece.0) else { return };
        let ink = Stroke::new(1.8, colour(style::SELECTION));
        for &panel in &piece.panels {
            let mut outline: Vec<Pos2> = layout.panel(panel).outline.iter().map(|&at| canvas.at(at) + by).collect();
            outline.extend(outline.first().copied());
            painter.extend(Shape::dashed_line(&outline, ink, 7.0, 5.0));
        }
    }
}

impl Carried {
    /// Brings it to where the pointer is; asks for nothing when it rests where it was before.
    fn pull(&mut self, ctx: &Context, canvas: &Canvas, scene: &mut Scene<'_>, at: Pos2) {
        let session = scene.session;
        let now = (session.document(), session.derived());
        let start = session.gesture_start().zip(session.gesture_start_derived());
        let (document, derived) = start.map_or(now, |((document, _), derived)| (document, derived));
        let point = canvas.place(at);
        let ground = point.and_then(|point| ground_at(derived, point, &BTreeSet::new()));
        if self.over.as_ref().map(|over| over.ground) != ground {
            self.choice = 0;
            self.over = ground.map(|ground| Over { ground, uses: uses_over(document, derived, self.piece, ground) });
        }
        let fineness = drag::fineness(ctx.input(|input| input.modifiers));
        let landed = point.zip(self.over.as_ref()).and_then(|(point, over)| {
            let part = &over.uses.get(self.choice)?.part;
            let pull = Pull { at: point, grip: self.grip, fineness, reach: canvas.reach(), turn: scene.turn };
            landing(document, derived, part, over.ground, pull)
        });
        let edit = landed.as_ref().map(|landed| landed.edit.clone());
        scene.now_hint = Some(self.hint(derived, landed.map(|landed| landed.to).as_deref()));
        if edit != self.edit {
            scene.ask(Action::Drag(edit.clone()));
        }
        self.edit = edit;
    }

    /// What would become of it here.
    fn hint(&self, derived: &Derived, to: Option<&str>) -> String {
        let Some(over) = &self.over else {
            return format!("{} is over no panel of the folio. Escape puts it back.", self.name);
        };
        let panel = &derived.layout.panel(over.ground.panel).name;
        match (over.uses.get(self.choice), to) {
            (Some(used), Some(to)) => {
                let others = if over.uses.len() > 1 { " Arrow down makes something else of it." } else { "" };
                format!("{} on {panel}, {to}.{others}", used.label)
            }
            _ => self.no_use(panel),
        }
    }

    fn no_use(&self, panel: &str) -> String {
        format!("Nothing that is left of {} would do for a part on {panel}; try another panel.", self.name)
    }

    fn let_go(self, scene: &mut Scene<'_>) {
        let derived = scene.session.gesture_start_derived().unwrap_or(scene.session.derived());
        let used = self.over.as_ref().and_then(|over| over.uses.get(self.choice)).filter(|_| self.edit.is_some());
        if let Some(used) = used {
            scene.ask(Action::FinishDrag);
            return scene.ask(Action::Select(Selected::Part(used.part.id)));
        }
        let why = match &self.over {
            Some(over) => self.no_use(&derived.layout.panel(over.ground.panel).name),
            None => format!("Let {} go over a panel of the folio to make a part of it.", self.name),
        };
        scene.ask(Action::CancelDrag);
        scene.ask(Action::Complain(why));
    }
}

/// The offcut under a point of the screen, while there is a folio that it is no part of.
fn offcut(canvas: &Canvas, derived: &Derived, at: Pos2) -> Option<(Point, PieceId)> {
    let layout = &derived.layout;
    let folio = layout.folio().filter(|_| canvas.rect.contains(at))?.id;
    let point = canvas.place(at)?;
    let piece = layout.panel(layout.panel_at(point)?).piece;
    (piece != folio).then_some((point, piece))
}
