//! Small signs painted as shapes, since no font is sure to have them; and buttons that bear one.

use crate::theme::{colour, palette};
use crate::tip::Tip as _;
use egui::{Color32, Painter, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, accesskit};

/// A sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Icon {
    /// A triangle to the right: start.
    Play,
    /// Two bars: stop.
    Pause,
    /// An arrow head up.
    Up,
    /// An arrow head down.
    Down,
    /// Two links drawn together.
    Join,
    /// Two links drawn apart.
    Apart,
    /// An arrow that goes in under a bar.
    Tuck,
    /// A disc: worth knowing.
    Note,
    /// A triangle: it will disappoint.
    Warning,
    /// A square on its corner: it will not work.
    Error,
    /// A tick: nothing to say.
    Good,
    /// A padlock: it stays where it is.
    Locked,
    /// An arc with an arrow head: a quarter to the left.
    TurnLeft,
    /// The same to the right.
    TurnRight,
    /// A cross: away with it.
    Close,
    /// Six dots: it can be taken hold of.
    Grip,
}

impl Icon {
    /// Paints the sign in the middle of a rectangle.
    pub(crate) fn paint(self, painter: &Painter, rect: Rect, ink: Color32) {
        let middle = rect.center();
        let unit = rect.width().min(rect.height()) / 16.0;
        let at = |x: f32, y: f32| middle + Vec2::new(x, y) * unit;
        let stroke = Stroke::new(1.6, ink);
        let fill = |points: Vec<Pos2>| {
            painter.add(Shape::convex_polygon(points, ink, Stroke::NONE));
        };
        let line = |points: Vec<Pos2>| {
            painter.add(Shape::line(points, stroke));
        };
        match self {
            Self::Play => fill(vec![at(-4.0, -6.0), at(6.0, 0.0), at(-4.0, 6.0)]),
            Self::Pause => {
                fill(vec![at(-5.0, -6.0), at(-1.5, -6.0), at(-1.5, 6.0), at(-5.0, 6.0)]);
                fill(vec![at(1.5, -6.0), at(5.0, -6.0), at(5.0, 6.0), at(1.5, 6.0)]);
            }
            Self::Up => line(vec![at(-5.0, 2.5), at(0.0, -2.5), at(5.0, 2.5)]),
            Self::Down => line(vec![at(-5.0, -2.5), at(0.0, 2.5), at(5.0, -2.5)]),
            Self::Join => {
                line(vec![at(-5.0, -6.0), at(0.0, -1.5), at(5.0, -6.0)]);
                line(vec![at(-5.0, 6.0), at(0.0, 1.5), at(5.0, 6.0)]);
            }
            Self::Apart => {
                line(vec![at(-5.0, -2.0), at(0.0, -6.5), at(5.0, -2.0)]);
                line(vec![at(-5.0, 2.0), at(0.0, 6.5), at(5.0, 2.0)]);
            }
            Self::Tuck => {
                line(vec![at(-6.0, -4.0), at(6.0, -4.0)]);
                line(vec![at(-6.0, 5.5), at(-6.0, 1.0), at(3.0, 1.0)]);
                line(vec![at(0.0, -2.0), at(3.5, 1.0), at(0.0, 4.0)]);
            }
            Self::Note => {
                painter.circle_filled(middle, 5.0 * unit, ink);
            }
            Self::Warning => fill(vec![at(0.0, -6.5), at(7.0, 5.5), at(-7.0, 5.5)]),
            Self::Error => fill(vec![at(0.0, -7.0), at(7.0, 0.0), at(0.0, 7.0), at(-7.0, 0.0)]),
            Self::Locked => {
                fill(vec![at(-5.0, -1.0), at(5.0, -1.0), at(5.0, 6.5), at(-5.0, 6.5)]);
                line(vec![at(-3.0, -1.0), at(-3.0, -4.5), at(-1.5, -6.5), at(1.5, -6.5), at(3.0, -4.5), at(3.0, -1.0)]);
            }
            Self::TurnLeft | Self::TurnRight => {
                // The mirror image of one another.
                let side = if self == Self::TurnLeft { -1.0 } else { 1.0 };
                line(
                    [(-5.0, 5.0), (-4.5, 0.5), (-2.5, -2.5), (0.5, -3.8), (3.0, -4.0)]
                        .map(|(x, y)| at(x * side, y))
                        .to_vec(),
                );
                fill(vec![at(2.0 * side, -7.5), at(7.0 * side, -4.0), at(2.0 * side, -0.5)]);
            }
            Self::Close => {
                line(vec![at(-4.5, -4.5), at(4.5, 4.5)]);
                line(vec![at(-4.5, 4.5), at(4.5, -4.5)]);
            }
            Self::Grip => {
                for (x, y) in [(-2.5, -5.0), (2.5, -5.0), (-2.5, 0.0), (2.5, 0.0), (-2.5, 5.0), (2.5, 5.0)] {
                    painter.circle_filled(at(x, y), 1.3, ink);
                }
            }
            Self::Good => line(vec![at(-5.5, 0.5), at(-1.5, 4.5), at(6.0, -5.0)]),
        }
    }

    /// A small button without a ground of its own that bears the sign; `label` says what it does.
    pub(crate) fn small(self, ui: &mut Ui, label: &str) -> Response {
        let (rect, response) = ui.allocate_exact_size(Vec2::splat(20.0), Sense::click());
        response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, label));
        if ui.is_rect_visible(rect) {
            if response.hovered() {
                ui.painter().rect_filled(rect, 3.0, colour(palette().hover));
            }
            if response.has_focus() {
                let ring = Stroke::new(2.0, colour(palette().selection));
                ui.painter().rect_stroke(rect, 3.0, ring, egui::StrokeKind::Inside);
            }
            self.paint(ui.painter(), rect.shrink(4.0), colour(palette().quiet));
        }
        response.tip(&format!("{}.", label.trim_end_matches('…')))
    }

    /// A square button that bears the sign; `label` says what it does.
    pub(crate) fn button(self, ui: &mut Ui, label: &str, enabled: bool) -> Response {
        self.told(ui, label, &format!("{}.", label.trim_end_matches('…')), enabled)
    }

    /// The same with a tooltip of its own.
    pub(crate) fn told(self, ui: &mut Ui, label: &str, tip: &str, enabled: bool) -> Response {
        let side = ui.spacing().interact_size.y;
        let sense = if enabled { Sense::click() } else { Sense::hover() };
        let (rect, response) = ui.allocate_exact_size(Vec2::splat(side), sense);
        response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, enabled, label));
        if ui.is_rect_visible(rect) {
            let look = if enabled { ui.style().interact(&response) } else { ui.style().noninteractive() };
            let fill = if enabled { look.weak_bg_fill } else { Color32::TRANSPARENT };
            ui.painter().rect(rect.shrink(1.0), look.corner_radius, fill, look.bg_stroke, egui::StrokeKind::Inside);
            if response.has_focus() {
                let ring = Stroke::new(2.0, colour(palette().selection));
                ui.painter().rect_stroke(rect, look.corner_radius, ring, egui::StrokeKind::Inside);
            }
            let ink = if enabled { palette().text } else { palette().text.with_alpha(80) };
            self.paint(ui.painter(), rect.shrink(side * 0.22), colour(ink));
        }
        response.tip(tip)
    }
}
