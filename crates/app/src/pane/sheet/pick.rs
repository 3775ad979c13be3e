//! Which lines are under the pointer.

use super::Canvas;
use crate::pane::Scene;
use egui::Pos2;
use model::{Layout, LineId, Segment};

/// How far from a line the pointer still takes hold of it, px.
pub(super) const REACH: f32 = 6.0;

/// The lines under a point of the screen: scores before cuts, the nearer first.
pub(super) fn at(canvas: &Canvas, scene: &Scene<'_>, at: Pos2) -> Vec<LineId> {
    let document = scene.session.document();
    let layout = &scene.session.derived().layout;
    let is_cut = |id| document.line(id).is_some_and(|line| line.work.is_cut());
    let mut under: Vec<(bool, f32, LineId)> = segments(layout)
        .map(|(id, segment)| (is_cut(id), distance(canvas, segment, at), id))
        .filter(|(_, distance, _)| *distance <= REACH)
        .collect();
    // Lines on one another differ by less than a pixel's rounding.
    under.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.round().total_cmp(&b.1.round())).then(a.2.cmp(&b.2)));
    under.into_iter().map(|(.., id)| id).collect()
}

/// Every line that has a place.
pub(super) fn segments(layout: &Layout) -> impl Iterator<Item = (LineId, Segment)> {
    layout.lines.iter().filter_map(|(id, placed)| placed.ok().map(|placed| (*id, placed.segment)))
}

fn distance(canvas: &Canvas, segment: Segment, at: Pos2) -> f32 {
    let (a, b) = (canvas.at(segment.a), canvas.at(segment.b));
    let along = b - a;
    let t = ((at - a).dot(along) / along.length_sq().max(f32::MIN_POSITIVE)).clamp(0.0, 1.0);
    (a + along * t).distance(at)
}
