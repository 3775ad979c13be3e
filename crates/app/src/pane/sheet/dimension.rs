//! Live distances beside a line that is dragged or selected.

use super::{Canvas, SheetPane};
use crate::label::Labels;
use crate::pane::Scene;
use crate::theme::{bold, colour, plain};
use draw::style;
use egui::{Color32, FontId, Id, Painter, Pos2, Rect, Stroke, Ui, Vec2};
use model::{Length, LineId, Placed, Turn};
use session::gap::{Gap, gaps};

/// Height of a distance on the canvas, px.
const SIZE: f32 = 13.0;

/// Length of the bars at the ends of a distance, px.
const BAR: f32 = 5.0;

/// Between one row of distances and the next, px.
const ROW: f32 = 26.0;

/// How many rows below its own a distance may stand, and above it, where others are in its way.
const ROWS: (u8, u8) = (8, 5);

/// A gap beside a line, as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Figure {
    /// The gap.
    pub(super) gap: Gap,
    /// Its two ends on the screen.
    ends: [Pos2; 2],
    /// Whether it is the one that the line is measured by.
    strong: bool,
    text: String,
    /// The slip that its text stands on.
    pub(super) slip: Rect,
}

impl Figure {
    /// What it takes on the screen: its text, and its bars where there is room between them.
    fn extent(&self) -> [Rect; 2] {
        let [a, b] = self.ends;
        // Those of two distances that meet at the line are one.
        let (along, aside) = (-1.0, BAR);
        let is_level = (b.x - a.x).abs() > (b.y - a.y).abs();
        let more = if is_level { Vec2::new(along, aside) } else { Vec2::new(aside, along) };
        let bars = Rect::from_two_pos(a, b).expand2(more);
        [self.slip, if bars.is_positive() { bars } else { self.slip }]
    }
}

impl SheetPane {
    /// The line whose distances are shown: the one that is held, else the selected one.
    fn measured_line(&self, scene: &Scene<'_>) -> Option<LineId> {
        self.drag.filter(|drag| drag.of.is_none()).map(|drag| drag.id).or(scene.session.selected().line())
    }

    /// How far that line lies from the left edge of its own turn, from what it is measured from and from its neighbours on
    /// both sides; nothing for one that is drawn from spot to spot. Each stands in the first row where it covers no other.
    pub(super) fn figures(&self, ui: &Ui, canvas: &Canvas, scene: &Scene<'_>, labels: &mut Labels) -> Vec<Figure> {
        let Some(id) = self.measured_line(scene) else { return Vec::new() };
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        let Some(Ok(placed)) = layout.lines.get(&id) else { return Vec::new() };
        let Some((turn, _)) = placed.on_board() else { return Vec::new() };
        let pointer = ui.input(|input| input.pointer.hover_pos());
        let held = self.drag.and(pointer).and_then(|at| canvas.place(at));
        let (_, height) = turn.size_of(layout.size);
        let down = match held {
            Some(point) => turn.to_board(point, layout.size).down.clamp(Length::ZERO, height),
            None => quarter(canvas, placed),
        };
        let gaps = gaps(document, layout, id);
        let first = gaps.first().map(|gap| gap.is_before);
        let figure = |at: usize, gap: Gap, row: f32| {
            let text = gap.width().readable(document.units);
            let ends = ends(canvas, turn, (gap.from, gap.to, down), row * ROW);
            let strong = at == 0;
            let seen = ends.map(|end| end.clamp(canvas.rect.min, canvas.rect.max));
            let slip = slip(ui.painter(), canvas.rect, seen[0].lerp(seen[1], 0.5), &text, font(strong));
            Figure { gap, ends, strong, text, slip }
        };
        let mut figures = Vec::new();
        for (at, gap) in gaps.into_iter().enumerate() {
            // What lies on the other side of the line than the first begins in the second row.
            let row = u8::from(first.is_some_and(|first| first != gap.is_before));
            let rows = (row..=row + ROWS.0).map(f32::from).chain((1..=ROWS.1).map(|row| -f32::from(row)));
            let places = rows.map(|row| figure(at, gap, row)).map(|figure| (figure.extent(), figure)).enumerate();
            let places = places.map(|(number, (extent, figure))| (number, extent, figure));
            figures.extend(labels.place_anyway(super::gap::id(id, gap.bound), places));
        }
        figures
    }

    /// Draws those distances; of a line that is drawn from spot to spot, how long it is.
    pub(super) fn measures(&self, ui: &Ui, painter: &Painter, canvas: &Canvas, scene: &Scene<'_>, figures: &[Figure]) {
        let pointer = ui.input(|input| input.pointer.hover_pos());
        let Some(id) = self.measured_line(scene) else { return };
        let layout = &scene.session.derived().layout;
        let Some(Ok(placed)) = layout.lines.get(&id) else { return };
        for figure in figures {
            let ink = bars(painter, figure.ends, figure.strong);
            label(painter, canvas.rect, figure.slip.center(), &figure.text, font(figure.strong), ink);
            if ui.memory(|memory| memory.has_focus(super::gap::id(id, figure.gap.bound))) {
                let ring = Stroke::new(1.2, colour(style::SELECTION));
                painter.rect_stroke(figure.slip.expand(3.0), 3.0, ring, egui::StrokeKind::Outside);
            }
        }
        if placed.on_board().is_none() {
            let at = canvas.at(super::middle(placed)) + Vec2::new(0.0, 22.0);
            let text = format!("{} long", (placed.to - placed.from).readable(scene.session.document().units));
            label(painter, canvas.rect, at, &text, bold(SIZE), colour(style::SELECTION));
        }
        if let (Some(at), Some(sentence)) = (pointer.filter(|_| self.drag.is_some()), scene.refused) {
            refusal(painter, canvas.rect, at, sentence);
        }
    }
}

/// A quarter of the way down what is seen of a line.
fn quarter(canvas: &Canvas, placed: &Placed) -> Length {
    let corners = [canvas.rect.min, canvas.rect.max];
    let down = corners.map(|at| canvas.place(at).map(|point| placed.down(point, canvas.board.size)));
    let (mut from, mut to) = (placed.from, placed.to);
    if let [Some(a), Some(b)] = down {
        (from, to) = (from.max(a.min(b)).min(placed.to), to.min(a.max(b)).max(placed.from));
    }
    from + (to - from) / 4
}

/// The two ends of a distance on the screen, so far aside of the place it is measured at.
fn ends(canvas: &Canvas, turn: Turn, (from, to, down): (Length, Length, Length), shift: f32) -> [Pos2; 2] {
    let at = |across| canvas.view.to_screen(canvas.board.of_turn(turn, across, down));
    let (a, b) = (at(from), at(to));
    let aside = (b - a).normalized().rot90();
    // Rows lie below one another on the screen, or to the right of one another.
    let aside = if aside.x + aside.y < 0.0 { -aside } else { aside };
    [a + aside * shift, b + aside * shift]
}

/// A distance from a border to what lies within it.
#[derive(Debug)]
pub(super) struct Inset {
    ends: [Pos2; 2],
    text: String,
    strong: bool,
    slip: Rect,
}

impl Inset {
    /// With bars at its ends and its text on a slip; where there is no room between them, the text stands outside. It goes
    /// aside where it would cover others.
    pub(super) fn of(
        painter: &Painter,
        canvas: &Canvas,
        side: Id,
        ends: [Pos2; 2],
        text: String,
        strong: bool,
        labels: &mut Labels,
    ) -> Option<Self> {
        let [border, within] = ends;
        let way = within - border;
        let along = way.normalized();
        let size = slip(painter, canvas.rect, border, &text, font(strong)).size();
        let needed = (along * size).length();
        let [seen, far] = ends.map(|end| end.clamp(canvas.rect.min, canvas.rect.max));
        let at = if way.length() > needed { seen.lerp(far, 0.5) } else { border - along * (needed / 2.0 + 3.0) };
        let aside = along.rot90();
        let step = (aside * size).length() + 4.0;
        let places = [0.0, 1.0, -1.0, 2.0, -2.0].into_iter().enumerate().map(|(number, steps)| {
            let slip = kept(Rect::from_center_size(at + aside * (step * steps), size), canvas.rect);
            (number, [slip], slip)
        });
        labels.place_anyway(side, places).map(|slip| Self { ends, text, strong, slip })
    }

    /// Draws it.
    pub(super) fn paint(&self, painter: &Painter, canvas: &Canvas) {
        let ink = bars(painter, self.ends, self.strong);
        label(painter, canvas.rect, self.slip.center(), &self.text, font(self.strong), ink);
    }
}

fn font(strong: bool) -> FontId {
    if strong { bold(SIZE) } else { plain(SIZE) }
}

/// A line with a bar at each end; gives its ink.
fn bars(painter: &Painter, [a, b]: [Pos2; 2], strong: bool) -> Color32 {
    let aside = (b - a).normalized().rot90();
    let ink = if strong { colour(style::SELECTION) } else { colour(style::DIMENSION) };
    let stroke = Stroke::new(if strong { 1.6 } else { 1.2 }, ink);
    painter.line_segment([a, b], stroke);
    for end in [a, b] {
        painter.line_segment([end - aside * BAR, end + aside * BAR], stroke);
    }
    ink
}

/// A text on a slip of paper, kept within the canvas.
pub(super) fn label(painter: &Painter, within: Rect, at: Pos2, text: &str, font: FontId, ink: Color32) {
    let slip = slip(painter, within, at, text, font.clone());
    let galley = painter.layout_no_wrap(text.to_owned(), font, ink);
    painter.rect(slip, 3.0, colour(style::WHITE), Stroke::new(1.0, ink), egui::StrokeKind::Inside);
    painter.galley(slip.center() - galley.size() / 2.0, galley, ink);
}

/// Where such a slip lies.
fn slip(painter: &Painter, within: Rect, at: Pos2, text: &str, font: FontId) -> Rect {
    let size = painter.layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER).size() + Vec2::new(12.0, 4.0);
    kept(Rect::from_center_size(at, size), within)
}

pub(super) fn refusal(painter: &Painter, within: Rect, at: Pos2, sentence: &str) {
    let ink = colour(style::FINDING_ERROR);
    let galley = painter.layout(sentence.to_owned(), plain(SIZE), ink, 280.0);
    let size = galley.size() + Vec2::new(16.0, 10.0);
    let slip = kept(Rect::from_min_size(at + Vec2::new(16.0, 22.0), size), within);
    painter.rect(slip, 3.0, colour(style::WHITE), Stroke::new(1.5, ink), egui::StrokeKind::Inside);
    painter.galley(slip.center() - galley.size() / 2.0, galley, ink);
}

/// The rectangle, moved as little as needed to lie within another.
pub(super) fn kept(rect: Rect, within: Rect) -> Rect {
    let room = within.shrink(4.0);
    let left = (room.min - rect.min).max(Vec2::ZERO);
    let right = (room.max - rect.max).min(Vec2::ZERO);
    rect.translate(left + right)
}
