//! What is under the pointer: lines, parts, the panel.

use super::Canvas;
use crate::pane::Scene;
use egui::Pos2;
use model::{Layout, LineId, PartId, Placed};
use session::Selected;

/// How far from a line the pointer still takes hold of it, px.
pub(super) const REACH: f32 = 6.0;

/// How far the pointer reaches for an end of a selected line, and a line that is drawn for what it snaps to, px.
pub(super) const END_REACH: f32 = 9.0;

/// Something that a click picks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Under {
    /// A line.
    Line(LineId),
    /// A part.
    Part(PartId),
    /// The panel that all else lies on.
    Panel,
}

impl Under {
    /// What is selected, as something to pick.
    pub(super) const fn of(selected: Selected) -> Option<Self> {
        match selected {
            Selected::Line { id, .. } => Some(Self::Line(id)),
            Selected::Part(id) => Some(Self::Part(id)),
            Selected::Panel(_) => Some(Self::Panel),
            Selected::Nothing => None,
        }
    }
}

/// What one click after another in the same place picks: lines before parts, and the panel where no line is near.
pub(super) fn under(lines: &[LineId], parts: &[PartId]) -> Vec<Under> {
    let panel = if lines.is_empty() { Some(Under::Panel) } else { None };
    let lines = lines.iter().copied().map(Under::Line);
    lines.chain(parts.iter().copied().map(Under::Part)).chain(panel).collect()
}

/// The lines under a point of the screen: scores before cuts, the nearer first.
pub(super) fn at(canvas: &Canvas, scene: &Scene<'_>, at: Pos2) -> Vec<LineId> {
    let document = scene.session.document();
    let is_score = |id| document.line(id).is_some_and(|line| line.work.is_score());
    let mut under: Vec<(bool, f32, LineId)> = placed(&scene.session.derived().layout)
        .map(|(id, placed)| (!is_score(id), nearest(canvas, &placed, at).distance(at), id))
        .filter(|(_, distance, _)| *distance <= REACH)
        .collect();
    // Lines on one another differ by less than a pixel's rounding.
    under.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.round().total_cmp(&b.1.round())).then(a.2.cmp(&b.2)));
    under.into_iter().map(|(.., id)| id).collect()
}

/// Every line that has a place.
pub(super) fn placed(layout: &Layout) -> impl Iterator<Item = (LineId, Placed)> {
    layout.lines.iter().filter_map(|(id, placed)| placed.ok().map(|placed| (*id, placed)))
}

/// Where a line runs on the screen.
pub(super) fn path(canvas: &Canvas, placed: &Placed) -> Vec<Pos2> {
    placed.path().into_iter().map(|point| canvas.at(point)).collect()
}

/// The point of a line on the screen that is nearest to another.
pub(super) fn nearest(canvas: &Canvas, placed: &Placed, at: Pos2) -> Pos2 {
    nearest_on(&path(canvas, placed), at).unwrap_or_else(|| canvas.at(placed.segment.a))
}

/// The point of a path that is nearest to another; `None` for one without length.
pub(super) fn nearest_on(path: &[Pos2], at: Pos2) -> Option<Pos2> {
    let parts = path.windows(2).map(|part| on_part(part[0], part[1], at));
    let closer = |best: Pos2, next: Pos2| if next.distance(at) < best.distance(at) { next } else { best };
    parts.reduce(closer)
}

/// Which end of a line the pointer reaches, 0 or 1; the nearer.
pub(super) fn end(canvas: &Canvas, placed: &Placed, at: Pos2) -> Option<usize> {
    end_at([placed.segment.a, placed.segment.b].map(|end| canvas.at(end)), at)
}

/// Which of two ends on the screen the pointer reaches.
pub(super) fn end_at(ends: [Pos2; 2], at: Pos2) -> Option<usize> {
    let ends = ends.map(|end| end.distance(at));
    let nearer = usize::from(ends[1] < ends[0]);
    (ends[nearer] <= END_REACH).then_some(nearer)
}

/// The point of a straight stretch that is nearest to another.
pub(super) fn on_part(a: Pos2, b: Pos2, at: Pos2) -> Pos2 {
    let along = b - a;
    let t = ((at - a).dot(along) / along.length_sq().max(f32::MIN_POSITIVE)).clamp(0.0, 1.0);
    a + along * t
}
