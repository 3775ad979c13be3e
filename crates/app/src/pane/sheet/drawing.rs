//! Drawing a line, or measuring: press on the sheet and drag from spot to spot. What each end snaps to is named as the
//! pointer goes.

use super::along::Walk;
use super::{Canvas, SheetPane, dimension, drag, pick};
use crate::naming::part::on_part;
use crate::pane::{Action, Scene};
use crate::theme::{bold, colour};
use draw::style;
use egui::{Painter, PointerButton, Pos2, Sense, Stroke, Ui, Vec2};
use model::change::add_line;
use model::{Length, Line, PartId, Place, Point, Spot, Turn, Work};
use session::Selected;
use session::own::Little;
use session::spot::{self, SnappedSpot};

/// What is done by dragging over the sheet with a tool in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Tool {
    /// Lines are drawn.
    #[default]
    Draw,
    /// Distances are read.
    Measure,
    /// Scores are cut along.
    CutAlong,
}

/// The tool while it is in hand.
#[derive(Debug, Clone, Default)]
pub(super) struct Pen {
    /// Which one.
    tool: Tool,
    /// Why nothing came of what was done last.
    pub(super) why: Option<String>,
    /// What has been gone along, while scores are cut along.
    pub(super) walk: Option<Walk>,
    /// Where the line starts, while one is being drawn.
    from: Option<SnappedSpot>,
    /// Where the pointer has snapped to.
    to: Option<SnappedSpot>,
}

impl SheetPane {
    /// Takes up the pen, or lays it down.
    pub(crate) fn draw_or_stop(&mut self) {
        self.take_up(Pen::default());
    }

    /// Takes up the measure, or lays it down.
    pub(crate) fn measure_or_stop(&mut self) {
        self.take_up(Pen { tool: Tool::Measure, ..Pen::default() });
    }

    /// Takes up the knife that cuts along scores, or lays it down.
    pub(crate) fn cut_along_or_stop(&mut self) {
        self.take_up(Pen { tool: Tool::CutAlong, ..Pen::default() });
    }

    fn take_up(&mut self, pen: Pen) {
        let same = self.pen.as_ref().is_some_and(|now| now.tool == pen.tool);
        self.measured = None;
        self.pen = if same { None } else { Some(pen) };
    }

    /// Lays down pen and measure; says whether one was in hand, or something measured.
    pub(crate) fn lay_down_pen(&mut self) -> bool {
        let measured = self.measured.take().is_some();
        self.pen.take().is_some() || measured
    }

    /// The tool in hand.
    pub(super) fn in_hand(&self) -> Option<Tool> {
        self.pen.as_ref().map(|pen| pen.tool)
    }

    /// Follows the pointer with the pen, over all lines and panels.
    pub(super) fn draw(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>) {
        let Some(pen) = &mut self.pen else { return };
        let response = ui.interact(canvas.rect, ui.scope_id().with("pen"), Sense::click_and_drag());
        if ui.rect_contains_pointer(canvas.rect) {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Crosshair);
        }
        if pen.tool == Tool::CutAlong {
            return pen.cut_along(ui, canvas, scene, &response);
        }
        let measures = pen.tool == Tool::Measure;
        if response.drag_started_by(PointerButton::Primary)
            && let Some(press) = ui.input(|input| input.pointer.press_origin())
        {
            pen.from = snapped(ui, canvas, scene, (press, !measures));
            pen.why = None;
            self.measured = None;
        }
        let released = ui.input(|input| input.events.iter().find_map(drag::release));
        let pointer = released.or_else(|| ui.input(|input| input.pointer.latest_pos()));
        let on_canvas = pointer.filter(|at| canvas.rect.contains(*at));
        pen.to = on_canvas.and_then(|at| snapped(ui, canvas, scene, (at, !measures)));
        let done = self.measured.as_ref().filter(|_| pen.from.is_none());
        scene.now_hint = Some(match &pen.to {
            _ if pen.why.is_some() => pen.why.clone().unwrap_or_default(),
            _ if done.is_some() => done.map(|(from, to)| apart(scene, from, to)).unwrap_or_default(),
            Some(to) if pen.from.is_some() => hint("Ends", to, scene.turn),
            Some(to) => hint("Starts", to, scene.turn),
            None => "Press on the sheet and drag from spot to spot. Escape ends it.".to_owned(),
        });
        if response.clicked() {
            pen.why = Some(no_way(measures));
        }
        if response.drag_stopped_by(PointerButton::Primary) {
            let ends = (pen.from.take(), pen.to.clone());
            match ends {
                (Some(from), Some(to)) if from.at == to.at => pen.why = Some(no_way(measures)),
                (Some(from), Some(to)) if measures => self.measured = Some((from, to)),
                (Some(from), Some(to)) => finish(scene, &from, &to),
                _ => {}
            }
        }
    }

    /// The line as it would be, and what the pointer has snapped to.
    pub(super) fn ghost(&self, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
        if let Some((from, to)) = &self.measured {
            measure(painter, canvas, scene, from, to);
        }
        if let Some(walk) = self.pen.as_ref().and_then(|pen| pen.walk.as_ref()) {
            walk.paint(painter, canvas);
        }
        let Some(Pen { from, to: Some(to), .. }) = &self.pen else { return };
        if self.measured.is_some() && from.is_none() {
            return;
        }
        let ink = colour(style::SELECTION);
        let ring = |at: Pos2| {
            painter.circle(at, 6.0, colour(style::WHITE), Stroke::new(2.0, ink));
        };
        let end = canvas.at(to.at);
        let mut text = words(to, scene.turn);
        if let Some(from) = from {
            let start = canvas.at(from.at);
            painter.line_segment([start, end], Stroke::new(2.0, ink));
            ring(start);
            let long = (to.at - from.at).length().readable(scene.session.document().units);
            text = format!("{long} to {text}");
        }
        ring(end);
        dimension::label(painter, canvas.rect, end + Vec2::new(0.0, 26.0), &text, bold(12.5), ink);
    }
}

/// That a press alone draws and measures nothing.
fn no_way(measures: bool) -> String {
    format!("Drag from one spot to another to {}.", if measures { "measure" } else { "draw a line" })
}

/// How far two spots are apart, in a sentence: straight, and along the edges of the sheet as it lies.
fn apart(scene: &Scene<'_>, from: &SnappedSpot, to: &SnappedSpot) -> String {
    let units = scene.session.document().units;
    let size = scene.session.derived().layout.size;
    let [a, b] = [from.at, to.at].map(|at| scene.turn.to_board(at, size));
    let (across, down) = ((b.across - a.across).abs(), (b.down - a.down).abs());
    let far = (to.at - from.at).length().readable(units);
    if across == Length::ZERO || down == Length::ZERO {
        return format!("{far} apart.");
    }
    format!("{far} apart: {} across and {} down.", across.readable(units), down.readable(units))
}

/// What was measured, drawn over the sheet.
fn measure(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>, from: &SnappedSpot, to: &SnappedSpot) {
    let (ink, ends) = (colour(style::SELECTION), [canvas.at(from.at), canvas.at(to.at)]);
    painter.line_segment(ends, Stroke::new(2.0, ink));
    for at in ends {
        painter.circle(at, 4.0, colour(style::WHITE), Stroke::new(2.0, ink));
    }
    let at = ends[0].lerp(ends[1], 0.5) + Vec2::new(0.0, 20.0);
    dimension::label(painter, canvas.rect, at, apart(scene, from, to).trim_end_matches('.'), bold(12.5), ink);
}

/// Where an end of a line would lie, in a sentence. A spot has its place on the sheet as drawn, however it is turned now.
pub(super) fn hint(verb: &str, to: &SnappedSpot, turn: Turn) -> String {
    format!("{verb} at: {}.", words(to, turn))
}

fn words(to: &SnappedSpot, turn: Turn) -> String {
    let as_drawn = turn != Turn::None && matches!(to.spot, Spot::At(_));
    format!("{}{}", to.words, if as_drawn { ", on the sheet as drawn" } else { "" })
}

/// The selected part of her own, with its little sheet.
fn own<'a>(scene: &Scene<'a>) -> Option<(PartId, Little<'a>)> {
    let part = scene.session.selected().part()?;
    Some((part, Little::of(scene.session.document(), &scene.session.derived().layout, part)?))
}

/// What the pointer snaps to: on the little sheet of the selected part where `draws` and it lies over that, else on the folio's.
/// Where it is, is said on the folio's sheet.
fn snapped(ui: &Ui, canvas: &Canvas, scene: &Scene<'_>, (at, draws): (Pos2, bool)) -> Option<SnappedSpot> {
    let fineness = drag::fineness(ui.input(|input| input.modifiers));
    let (place, reach) = (canvas.place(at)?, canvas.reach());
    if let Some((_, little)) = own(scene).filter(|(_, little)| draws && little.holds(place)) {
        let spot = spot::snap(little.document, little.layout, None, little.on_own(place), reach, fineness);
        let at = little.on_sheet(spot.at);
        return Some(SnappedSpot { at, spot: Spot::At(at), ..spot });
    }
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    Some(spot::snap(document, layout, None, place, reach, fineness))
}

/// Adds the line as a cut, and selects it. One that goes across the selected part of her own cuts that, and is worked on then.
fn finish(scene: &mut Scene<'_>, from: &SnappedSpot, to: &SnappedSpot) {
    let document = scene.session.document();
    if let Some((part, little)) = own(scene)
        && let Some(ends) = little.across(from.at, to.at)
    {
        let drawn = session::own::draw(document, &scene.session.derived().layout, part, ends.map(Spot::At));
        return match drawn {
            Ok(Some((edit, line))) => {
                scene.edit(format!("Draw a line on {}", document.part_name(part)), edit);
                scene.ask(Action::WorkOn((part, line)));
            }
            Ok(None) => {}
            Err(refusal) => scene.ask(Action::Complain(on_part(&document.part_name(part), &refusal))),
        };
    }
    let id = document.next_line();
    let place = Place::Drawn { from: from.spot, to: to.spot, bow: Length::ZERO };
    let edit = add_line(document, Line::new(id, place, Work::Cut));
    let at = Some(Point::new((from.at.x + to.at.x).half(), (from.at.y + to.at.y).half()));
    scene.ask(Action::EditAndSelect("Draw a line".to_owned(), edit, Selected::Line { id, at }));
}

impl Canvas {
    /// How far the pointer reaches on the sheet for a spot to snap to.
    pub(super) fn reach(&self) -> Length {
        let mm = f64::from(pick::END_REACH) / f64::from(self.view.scale);
        Length::from_mm_rounded(mm).unwrap_or(Length::ZERO)
    }
}
