//! Dragging a part over its panel, or to another: it follows the pointer, comes to rest at borders, the middle and the
//! grid, and says so.

use super::{Canvas, SheetPane, drag};
use crate::pane::{Action, Scene};
use egui::{Context, Key, PointerButton, Pos2};
use model::polygon::bounds;
use model::{Document, Edit, Length, PanelId, PartId, Point, Turn, Vector};
use session::carry::{Pull, landing, other_ground};
use session::part::{drag as dragged, on_host, outline, parts_at};
use session::{Derived, Fineness, Selected, snap};

/// A part that is held, and where it was taken hold of.
#[derive(Debug, Clone)]
pub(super) struct Held {
    id: PartId,
    press: Point,
    /// From the pointer to the middle of the part, as it was taken hold of.
    grip: Vector,
    /// The other panel that it would go to now.
    pub(super) over: Option<PanelId>,
    /// The change that was asked for last.
    edit: Option<Edit>,
}

impl SheetPane {
    /// Takes hold of the part under the pointer: the selected one, else the uppermost. Says whether there is one.
    pub(super) fn take_hold(&mut self, canvas: &Canvas, scene: &mut Scene<'_>, press: Pos2) -> bool {
        let Some(point) = canvas.place(press).filter(|_| !self.hides_parts) else { return false };
        let session = scene.session;
        let under = parts_at(session.derived(), point);
        let selected = session.selected().part().filter(|id| under.contains(id));
        let Some(id) = selected.or(under.first().copied()) else { return false };
        let middle = outline(session.derived(), id).map(|outline| middle(bounds(&outline)));
        scene.ask(Action::Select(Selected::Part(id)));
        scene.ask(Action::BeginDrag(format!("Move {}", session.document().part_name(id))));
        let grip = middle.unwrap_or(point) - point;
        self.held = Some(Held { id, press: point, grip, over: None, edit: None });
        true
    }

    /// Follows the drag of a part and ends it.
    pub(super) fn follow_part(&mut self, ctx: &Context, scene: &mut Scene<'_>) {
        let (Some(held), Some(canvas)) = (self.held.take(), self.canvas) else { return };
        if !scene.session.in_gesture() {
            // Undo, or another edit, has ended it.
            return;
        }
        if ctx.input(|input| input.key_pressed(Key::Escape)) {
            return scene.ask(Action::CancelDrag);
        }
        let released = ctx.input(|input| input.events.iter().find_map(drag::release));
        let at = released.or_else(|| ctx.input(|input| input.pointer.interact_pos()));
        let fineness = drag::fineness(ctx.input(|input| input.modifiers));
        let held = match at {
            Some(at) => pull(held, &canvas, scene, at, fineness),
            None => held,
        };
        if released.is_some() || !ctx.input(|input| input.pointer.button_down(PointerButton::Primary)) {
            return scene.ask(Action::FinishDrag);
        }
        self.held = Some(held);
    }
}

fn middle((low, high): (Point, Point)) -> Point {
    Point::new((low.x + high.x).half(), (low.y + high.y).half())
}

/// Pulls a part to where the pointer is; asks for nothing when it rests where it was pulled to before.
fn pull(held: Held, canvas: &Canvas, scene: &mut Scene<'_>, at: Pos2, fineness: Fineness) -> Held {
    let session = scene.session;
    let now = (session.document(), session.derived());
    let start = session.gesture_start().zip(session.gesture_start_derived());
    let (document, derived) = start.map_or(now, |((document, _), derived)| (document, derived));
    let Some(point) = canvas.place(at) else { return held };
    let by = point - held.press;
    let ground = other_ground(document, derived, held.id, point);
    // A press that barely moves leaves a part where it is, on a groove or not.
    let barely = by.length() * 2 < snap::step(document, fineness).0;
    let landed = ground.zip(document.part(held.id)).and_then(|(ground, part)| {
        let pull = Pull { at: point, grip: held.grip, fineness, reach: canvas.reach(), turn: scene.turn };
        Some((ground.panel, landing(document, derived, part, ground, pull)?))
    });
    let over = landed.as_ref().map(|(panel, _)| *panel);
    let (edit, to) = if let Some((panel, landing)) = landed {
        let name = &derived.layout.panel(panel).name;
        (Some(landing.edit), format!("on {name}, {}", landing.to))
    } else if barely {
        (None, "where it was".to_owned())
    } else {
        let reach = (canvas.reach(), scene.turn);
        let Some(dragged) = dragged(document, derived, held.id, by, fineness, reach) else { return held };
        (dragged.edit, dragged.to)
    };
    scene.now_hint = Some(hint(session.document(), session.derived(), held.id, &to, scene.turn));
    if edit != held.edit {
        scene.ask(Action::Drag(edit.clone()));
    }
    Held { edit, over, ..held }
}

/// What a part snapped to, and how far from the borders of its panel it lies, as that is seen.
pub(super) fn hint(document: &Document, derived: &Derived, id: PartId, to: &str, turn: Turn) -> String {
    let layout = &derived.layout;
    let name = document.part_name(id);
    let distances = layout.part(id).and_then(|part| {
        // On a part, left and right are not those of the sheet.
        let laid = part.laid.filter(|laid| layout.part_of(laid.on).is_none())?;
        let main = part.panels.iter().find(|panel| panel.id == part.main)?;
        let least = |(low, high): (Point, Point)| {
            let [a, b] = [low, high].map(|corner| turn.to_board(corner, layout.size));
            (a.across.min(b.across), a.down.min(b.down))
        };
        let (own, host) = (least(on_host(&laid, main)), least(layout.panel(laid.on).bounds()));
        let text = |length: Length| length.readable(document.units);
        Some(format!(" It lies {} from the left and {} from the top.", text(own.0 - host.0), text(own.1 - host.1)))
    });
    format!("{name}: {to}.{}", distances.unwrap_or_default())
}
