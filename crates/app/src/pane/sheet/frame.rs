//! Selecting lines by a frame: with shift held, a drag over the table or a panel takes in every line that lies in it.

use super::{Canvas, SheetPane, pick};
use crate::pane::{Action, Scene};
use crate::theme::colour;
use draw::style;
use egui::{Painter, PointerButton, Pos2, Rect, Response, Stroke, Ui};
use model::LineId;

impl SheetPane {
    /// Follows a frame under way; says whether there is one. A line is taken in by half of it, so that a frame need not go
    /// round the whole sheet for a score from edge to edge.
    pub(super) fn frame_lines(&mut self, ui: &Ui, canvas: &Canvas, table: &Response, scene: &mut Scene<'_>) -> bool {
        let shift = ui.input(|input| input.modifiers.shift);
        if shift && table.drag_started_by(PointerButton::Primary) && self.pen.is_none() {
            self.framing = ui.input(|input| input.pointer.press_origin());
        }
        let (Some(from), Some(to)) = (self.framing, ui.input(|input| input.pointer.latest_pos())) else { return false };
        let frame = Rect::from_two_pos(from, to);
        let within = within(canvas, scene, frame);
        scene.now_hint = Some(match within.len() {
            1 => "1 line in the frame.".to_owned(),
            count => format!("{count} lines in the frame."),
        });
        if !ui.input(|input| input.pointer.primary_down()) {
            self.framing = None;
            if !within.is_empty() {
                scene.ask(Action::SelectLines(within));
            }
        }
        ui.ctx().request_repaint();
        true
    }

    /// Draws the frame.
    pub(super) fn paint_frame(&self, ui: &Ui, painter: &Painter) {
        let (Some(from), Some(to)) = (self.framing, ui.input(|input| input.pointer.latest_pos())) else { return };
        let rect = Rect::from_two_pos(from, to);
        let ink = colour(style::SELECTION);
        painter.rect(rect, 0.0, colour(style::HOVER), Stroke::new(1.2, ink), egui::StrokeKind::Inside);
    }
}

/// The lines of which at least half lies in a frame.
fn within(canvas: &Canvas, scene: &Scene<'_>, frame: Rect) -> Vec<LineId> {
    let lines = pick::placed(&scene.session.derived().layout);
    let mut within = Vec::new();
    for (id, placed) in lines {
        if share(&pick::path(canvas, &placed), frame) >= 0.5 {
            within.push(id);
        }
    }
    within
}

/// How much of a path lies in a frame, of 1, by eighths of each of its parts.
fn share(path: &[Pos2], frame: Rect) -> f32 {
    let (mut inside, mut all) = (0.0, 0.0);
    for part in path.windows(2) {
        let step = part[0].distance(part[1]) / 8.0;
        for place in 0..8_u8 {
            let at = part[0].lerp(part[1], (f32::from(place) + 0.5) / 8.0);
            all += step;
            if frame.contains(at) {
                inside += step;
            }
        }
    }
    if all > 0.0 { inside / all } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_of_a_path_lies_in_a_frame() {
        let frame = Rect::from_min_max(Pos2::ZERO, Pos2::new(10.0, 10.0));
        for (from, to, expected) in
            [((0.0, 5.0), (10.0, 5.0), 1.0), ((0.0, 5.0), (20.0, 5.0), 0.5), ((0.0, 50.0), (9.0, 50.0), 0.0)]
        {
            let path = [Pos2::from(from), Pos2::from(to)];
            assert!((share(&path, frame) - expected).abs() < 1e-6, "{from:?} to {to:?}");
        }
        assert!(share(&[], frame).abs() < 1e-6);
    }
}
