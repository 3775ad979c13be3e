//! The list of lines, by the turn they are worked on, and the details of the selected one.

mod detail;
mod ends;
mod order;
mod run;
mod several;
mod work;

use crate::field::{Drafts, sentence};
use crate::form::length;
use crate::icon::Icon;
use crate::menu::{self, Of};
use crate::naming::line_label;
use crate::paint;
use crate::pane::foot::Foot;
use crate::pane::{Action, Scene, try_edit};
use crate::theme::{self, BODY, SMALL, bold, caption, colour, palette, plain, seen};
use crate::tip::Tip as _;
use draw::sheet::role_of;
use draw::style;
use egui::{Id, Pos2, Rect, ScrollArea, Sense, Stroke, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use model::{Datum, Edit, Line, LineId, LineSlot, Place, Slot};
use order::Order;
use session::{Selected, lock};

/// Width of the distance fields, px.
const FIELD: f32 = 98.0;

/// Between a line's name and its distance, px: room for the sign of what is measured from another line.
const BESIDE: f32 = 14.0;

/// Width of the sample of a line's look, px.
const SAMPLE: f32 = 26.0;

/// What the pane remembers between frames.
#[derive(Debug, Default)]
pub(crate) struct LinesPane {
    drafts: Drafts,
    /// The order in which lines were listed last, and where.
    order: Order,
    list: Option<Rect>,
    foot: Foot,
}

/// The part of the pane that the details of the selected line may take.
const DETAILS: f32 = 0.64;

impl LinesPane {
    /// Forgets what was typed: another design is open.
    pub(crate) fn clear(&mut self) {
        *self = Self::default();
    }

    /// Shows the pane.
    pub(crate) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        if let Some(line) = scene.session.selected().line() {
            let several = scene.session.selected_lines().len() > 1;
            let of = Id::unique((scene.design, (!several).then_some(line.0)));
            self.foot.ui(ui, "line details", DETAILS, of, |ui| {
                if several {
                    several::ui(ui, scene);
                } else {
                    detail::ui(ui, scene, &mut self.drafts);
                }
            });
        }
        let list = ui.available_rect_before_wrap();
        ScrollArea::vertical().auto_shrink(false).min_scrolled_height(0.0).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 3.0;
            self.list(ui, scene);
        });
        self.list = Some(list);
    }

    fn list(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        let document = scene.session.document();
        let now = order::order(document, &scene.session.derived().layout);
        let pointer = ui.input(|input| input.pointer.latest_pos());
        let over = self.list.zip(pointer).is_some_and(|(list, at)| list.contains(at));
        self.order = if over { order::kept(&self.order, now) } else { now };
        for (of, ids) in self.order.clone() {
            group(ui, of.name());
            for line in ids.iter().filter_map(|&id| document.line(id)) {
                self.row(ui, scene, line);
            }
        }
        if document.lines.is_empty() {
            ui.add_space(6.0);
            ui.label(caption("No lines yet. Click the ruler over the sheet, or Add score."));
        }
    }

    fn row(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, line: &Line) {
        let height = ui.spacing().interact_size.y;
        let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), height), Sense::hover());
        let field = Rect::from_min_max(Pos2::new(rect.right() - FIELD, rect.top()), rect.max);
        let name = Rect::from_min_max(rect.min, Pos2::new(field.left() - BESIDE, rect.bottom()));
        row_name(ui, scene, line, name);
        match line.place {
            Place::Measured { from, .. } => {
                if let Datum::Line(other) = from {
                    let beside = Rect::from_min_max(name.right_top(), field.left_bottom());
                    let other = line_name(scene, other);
                    ui.put(beside, egui::Label::new(caption("+"))).told(&format!("Measured from {other}"));
                }
                let id = Id::unique(("distance in the list", line.id.0));
                ui.scope_builder(UiBuilder::new().max_rect(field), |ui| {
                    let name = format!("Distance of {}", scene.session.document().line_name(line.id));
                    distance(ui, scene, &mut self.drafts, line, (id, &name, FIELD));
                });
                self.drafts.say_why(ui, id);
            }
            Place::Along { line: host, .. } => said(ui, field, &format!("along {}", line_name(scene, host))),
            Place::Drawn { .. } => {
                let placed = scene.session.derived().layout.lines.get(&line.id).and_then(|placed| placed.ok());
                let units = scene.session.document().units;
                let long = placed.map(|placed| format!("{} long", (placed.to - placed.from).readable(units)));
                said(ui, field, &long.unwrap_or_default());
            }
        }
        if let Some(Err(fault)) = scene.session.derived().layout.lines.get(&line.id) {
            let text = sentence(&format!("it {}", fault.phrase(scene.session.document())));
            ui.add(egui::Label::new(theme::complaint(&text)).wrap());
        }
    }
}

/// What stands where a distance would.
fn said(ui: &Ui, field: Rect, text: &str) {
    let galley = theme::shortened(ui.painter(), text, plain(SMALL), FIELD - 4.0);
    let at = Pos2::new(field.left() + 4.0, field.center().y - galley.size().y / 2.0);
    ui.painter().galley(at, galley, colour(palette().quiet));
}

/// The heading of a group of lines, with a rule like the edge of a board.
fn group(ui: &mut Ui, text: &str) {
    ui.add_space(5.0);
    let label = ui.label(caption(text)).explained(text);
    let rule = label.rect.right() + 8.0..=ui.max_rect().right();
    ui.painter().hline(rule, label.rect.center().y, Stroke::new(1.0, colour(palette().line.with_alpha(90))));
}

fn row_name(ui: &Ui, scene: &mut Scene<'_>, line: &Line, rect: Rect) {
    let document = scene.session.document();
    let selected = scene.session.is_selected(line.id);
    let response = ui.interact(rect, Id::unique(("row of line", line.id.0)), Sense::click());
    let label = format!("Select {}", line_label(document, line.id));
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, true, selected, &label));
    let painter = theme::row(ui, &response, rect, selected);
    let middle = rect.center().y;
    let sample = [Pos2::new(rect.left() + 6.0, middle), Pos2::new(rect.left() + 6.0 + SAMPLE, middle)];
    let mut stroke = style::stroke_for(role_of(Some(line.work)));
    stroke.colour = seen(stroke.colour);
    paint::line(&painter, sample, &stroke, 2.0, 1.8);
    let font = if selected { bold(BODY) } else { plain(BODY) };
    let left = sample[1].x + 10.0;
    let room = if line.locked { 18.0 } else { 2.0 };
    let galley = theme::shortened(&painter, &document.line_name(line.id), font, rect.right() - left - room);
    let at = Pos2::new(left, middle - galley.size().y / 2.0);
    let shortened = galley.elided;
    painter.galley(at, galley, colour(palette().text));
    if line.locked {
        let sign = Rect::from_center_size(Pos2::new(rect.right() - 9.0, middle), Vec2::splat(13.0));
        Icon::Locked.paint(&painter, sign, colour(palette().quiet));
    }
    if response.clicked() {
        let placed = scene.session.derived().layout.lines.get(&line.id).and_then(|placed| placed.ok());
        let at = placed.map(|placed| super::sheet::middle(&placed));
        let along_with = ui.input(|input| input.modifiers.command || input.modifiers.shift);
        scene.ask(if along_with {
            Action::SelectAlso(line.id, at)
        } else {
            Action::Select(Selected::Line { id: line.id, at })
        });
    }
    if let Some(at) = menu::asked(scene, &response) {
        // Several that are selected stay so, when it is one of them.
        if !selected {
            let place = scene.session.derived().layout.lines.get(&line.id).and_then(|placed| placed.ok());
            let at = place.map(|placed| super::sheet::middle(&placed));
            scene.ask(Action::Select(Selected::Line { id: line.id, at }));
        }
        scene.ask(Action::ShowMenu(at, Of::Selected));
    }
    let whole = if shortened { format!("{}: ", document.line_name(line.id)) } else { String::new() };
    response.tip(&format!("{whole}Select it; with Ctrl or Shift, along with others."));
}

/// The field of a line's distance, as she measured it.
fn distance(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line, of: (Id, &str, f32)) {
    let Place::Measured { turn, from, distance, run } = line.place else { return };
    let said = scene.at(Slot::Line(line.id, LineSlot::Distance));
    length(ui, drafts, of, distance, said, |distance| {
        may_move(scene, line.id)?;
        let place = Place::Measured { turn, from, distance, run };
        let edit = Edit::ReplaceLine(Line { place, ..line.clone() });
        try_edit(scene, format!("Move {}", line_name(scene, line.id)), edit)
    });
}

/// Whether a line may be put elsewhere; says why not while it is locked.
fn may_move(scene: &Scene<'_>, id: LineId) -> Result<(), String> {
    lock::refusal(scene.session.document(), id).map_or(Ok(()), |why| Err(sentence(&why)))
}

fn line_name(scene: &Scene<'_>, id: LineId) -> String {
    scene.session.document().line_name(id)
}
