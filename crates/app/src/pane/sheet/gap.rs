//! Distances beside the selected line, changed where they stand: each can be clicked or reached by the tab key, and then
//! typed.

use super::{Canvas, SheetPane, dimension, line};
use crate::field::{self, Drafts, Field, sentence};
use crate::pane::{Action, Scene};
use crate::theme::{SMALL, colour, plain};
use crate::tip::Tip as _;
use draw::style;
use egui::{Context, Frame, Id, Key, Rect, RichText, Sense, Stroke, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use model::{Edit, LineId};
use session::gap::{self, Bound, Gap};

/// Width of the field, px.
const FIELD: f32 = 96.0;

/// Width of what is said under it, px.
const SAID: f32 = 260.0;

/// The distance that is typed.
#[derive(Debug, Default)]
pub(super) struct Typing {
    open: Option<Open>,
    drafts: Drafts,
}

#[derive(Debug, Clone)]
struct Open {
    line: LineId,
    /// Which of its distances; the first of them where that is not said.
    bound: Option<Bound>,
    /// The frame in which it was opened, until the field has the focus: the key that opened it is not meant for the field.
    since: Option<u64>,
    /// Why what was typed is not done.
    why: Option<String>,
}

/// The name of a distance among the window's things.
pub(super) fn id(line: LineId, bound: Bound) -> Id {
    Id::unique(("gap on the sheet", line.0, bound))
}

/// "Distance from Left fold to Right fold".
fn name(scene: &Scene<'_>, line: LineId, gap: Gap) -> String {
    let [from, to] = gap.names(scene.session.document(), line);
    format!("Distance from {from} to {to}")
}

impl SheetPane {
    /// Opens the field of the distance that a line is measured by.
    pub(super) fn type_distance_of(&mut self, ctx: &Context, scene: &mut Scene<'_>, line: LineId) {
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        if gap::gaps(document, layout, line).is_empty() {
            let name = document.line_name(line);
            let why = format!("\"{name}\" is drawn from spot to spot; its ends are typed in the list of lines");
            return scene.ask(Action::Complain(why));
        }
        self.typing.open = Some(Open { line, bound: None, since: Some(ctx.cumulative_frame_nr()), why: None });
    }

    /// Makes every distance that is shown a thing of its own, which opens its field.
    pub(super) fn gap_nodes(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        let selected = scene.session.selected().line();
        if self.typing.open.as_ref().is_some_and(|open| Some(open.line) != selected) {
            self.typing = Typing::default();
        }
        let Some(line) = selected.filter(|_| self.pen.is_none() && !self.is_dragging()) else { return };
        for figure in self.figures(ui, canvas, scene, &mut self.labels_of(canvas, scene)) {
            let gap = figure.gap;
            let response = ui.interact(figure.slip.expand(2.0), id(line, gap.bound), Sense::click());
            let label = name(scene, line, gap);
            response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, &label));
            let text = gap.width().text(scene.session.document().units);
            ui.ctx().accesskit_node_builder(response.id, |node| node.set_value(text));
            if response.hovered() {
                // It is the distance that is pointed at, not the panel under it.
                scene.now_hovered = None;
            }
            // In a second pass of the same frame the key that closed a field must not open it again.
            if response.clicked() && ui.ctx().current_pass_index() == 0 {
                let since = Some(ui.ctx().cumulative_frame_nr());
                self.typing.open = Some(Open { line, bound: Some(gap.bound), since, why: None });
            }
            response.on_hover_cursor(egui::CursorIcon::Text).told(&format!("{label}. Click to type another."));
        }
    }

    /// Shows the field that is open, over the sheet. Enter takes what was typed, escape leaves it as it was; either way the
    /// keys work on the line then.
    pub(super) fn gap_field(&mut self, ui: &mut Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        let Some(mut open) = self.typing.open.take() else { return };
        if open.since == Some(ui.ctx().cumulative_frame_nr()) {
            ui.ctx().request_repaint();
            self.typing.open = Some(open);
            return;
        }
        let is_it = |gap: Gap| open.bound.is_none_or(|bound| bound == gap.bound);
        let figure = self
            .figures(ui, canvas, scene, &mut self.labels_of(canvas, scene))
            .into_iter()
            .find(|figure| is_it(figure.gap));
        let Some(figure) = figure.filter(|_| scene.session.selected().line() == Some(open.line)) else { return };
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        let (gap, units) = (figure.gap, document.units);
        open.bound = Some(gap.bound);
        let shown = gap.width().text(units);
        let name = format!("{} to type", name(scene, open.line, gap));
        let field =
            Field { id: id(open.line, gap.bound).with("field"), name: &name, shown: &shown, hint: "", width: FIELD };
        if open.since.take().is_some() {
            field::select_all(ui.ctx(), field.id, &shown);
            ui.memory_mut(|memory| memory.request_focus(field.id));
        }
        let size = Vec2::new(FIELD + 8.0, ui.spacing().interact_size.y);
        let rect = dimension::kept(Rect::from_center_size(figure.slip.center(), size), canvas.rect);
        let mut asked = None;
        let response = ui
            .scope_builder(UiBuilder::new().max_rect(rect), |ui| {
                self.typing.drafts.field(ui, field, |text| {
                    let taken = field::length(text, units).and_then(|width| {
                        gap::set(document, layout, open.line, gap, width).map_err(|why| sentence(&why))
                    });
                    open.why = taken.as_ref().err().cloned();
                    taken.map(|edit| asked = Some(edit))
                })
            })
            .inner;
        if response.changed() {
            open.why = None;
        }
        if let Some(why) = &open.why {
            said(ui, canvas, rect, why);
        }
        if let Some(edit) = asked {
            // Its neighbour is moved where that follows it.
            let moved = if let Edit::ReplaceLine(moved) = &edit { moved.id } else { open.line };
            scene.edit(format!("Move {}", document.line_name(moved)), edit);
        }
        if !response.lost_focus() || open.why.is_some() {
            self.typing.open = Some(open);
            return;
        }
        if ui.input(|input| input.key_pressed(Key::Enter) || input.key_pressed(Key::Escape)) {
            ui.memory_mut(|memory| memory.request_focus(line::id(open.line)));
        }
    }
}

/// Why what was typed is not done, on a slip under the field.
fn said(ui: &mut Ui, canvas: &Canvas, field: Rect, why: &str) {
    let ink = colour(style::FINDING_ERROR);
    let room = Rect::from_min_size(field.left_bottom() + Vec2::new(0.0, 4.0), Vec2::new(SAID, 60.0));
    let room = dimension::kept(room, canvas.rect);
    ui.scope_builder(UiBuilder::new().max_rect(room), |ui| {
        Frame::new()
            .fill(colour(style::WHITE))
            .stroke(Stroke::new(1.5, ink))
            .corner_radius(3)
            .inner_margin(6)
            .show(ui, |ui| ui.add(egui::Label::new(RichText::new(why).font(plain(SMALL)).color(ink)).wrap()));
    });
}
