//! From millimetres on a drawing to pixels on the screen and back: pan and zoom of a canvas.

use egui::{Pos2, Rect, Vec2};
use kurbo::Point;

/// The least and greatest zoom, px a mm: a sheet of a metre still fits a small canvas, and a nanometre's slip of the
/// pointer is still far below what the finest snap tells apart.
const ZOOM: (f32, f32) = (0.1, 60.0);

/// Where a drawing lies on the screen: its origin, and how large.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ViewTransform {
    /// Px a mm, positive.
    pub(crate) scale: f32,
    /// Where the drawing's origin lies.
    pub(crate) origin: Pos2,
}

impl ViewTransform {
    /// Shows all of `drawing` in the middle of `canvas`, with a margin in px.
    pub(crate) fn fitting(drawing: kurbo::Rect, canvas: Rect, margin: f32) -> Self {
        let size = Vec2::new(px(drawing.width()), px(drawing.height())).max(Vec2::splat(1.0));
        let room = (canvas.size() - Vec2::splat(2.0 * margin)).max(Vec2::splat(10.0));
        let scale = (room.x / size.x).min(room.y / size.y).clamp(ZOOM.0, ZOOM.1);
        let middle = drawing.center();
        let origin = canvas.center() - Vec2::new(px(middle.x), px(middle.y)) * scale;
        Self { scale, origin }
    }

    /// Where a point of the drawing lies on the screen.
    pub(crate) fn to_screen(self, point: Point) -> Pos2 {
        self.origin + Vec2::new(px(point.x), px(point.y)) * self.scale
    }

    /// The point of the drawing that lies there, in mm.
    pub(crate) fn to_drawing(self, at: Pos2) -> Point {
        let way = at - self.origin;
        let scale = f64::from(self.scale);
        Point::new(f64::from(way.x) / scale, f64::from(way.y) / scale)
    }

    /// Zooms so that what lies at `at` stays there.
    #[must_use]
    pub(crate) fn zoomed(self, factor: f32, at: Pos2) -> Self {
        let scale = (self.scale * factor).clamp(ZOOM.0, ZOOM.1);
        Self { scale, origin: at + (self.origin - at) * (scale / self.scale) }
    }

    /// Moves the drawing by so many px.
    #[must_use]
    pub(crate) fn panned(self, by: Vec2) -> Self {
        Self { origin: self.origin + by, ..self }
    }

    /// Moves the drawing so that a point of it lies at a place on the screen.
    #[must_use]
    pub(crate) fn with_point_at(self, point: Point, at: Pos2) -> Self {
        self.panned(at - self.to_screen(point))
    }
}

/// A figure for the screen: a float of half the width is finer than any pixel.
#[expect(clippy::cast_possible_truncation, reason = "pixels need no more")]
pub(crate) const fn px(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    fn canvas() -> Rect {
        Rect::from_min_size(Pos2::new(100.0, 50.0), Vec2::new(400.0, 300.0))
    }

    #[track_caller]
    fn check(at: Pos2, expected: Pos2) {
        assert!(at.distance(expected) < 1e-2, "{at:?} is not {expected:?}");
    }

    #[test]
    fn a_drawing_is_fitted_to_the_middle() {
        // 200 mm by 100 mm into 380 by 280 px: 1.9 px a mm.
        let view = ViewTransform::fitting(kurbo::Rect::new(0.0, 0.0, 200.0, 100.0), canvas(), 10.0);
        check(view.to_screen(Point::new(100.0, 50.0)), canvas().center());
        check(view.to_screen(Point::ZERO), Pos2::new(110.0, 105.0));
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        let mut view = ViewTransform { scale: 2.0, origin: Pos2::new(30.0, 40.0) };
        let at = Pos2::new(210.0, 170.0);
        let point = view.to_drawing(at);
        for factor in [1.3, 0.2, 500.0, 1e-6] {
            view = view.zoomed(factor, at);
            let back = view.to_drawing(at);
            assert!((back - point).hypot() < 0.02, "{factor}: {back:?}");
        }
    }

    #[test]
    fn screen_and_drawing_convert_both_ways() {
        let view = ViewTransform { scale: 2.5, origin: Pos2::new(30.0, 40.0) };
        let point = Point::new(12.5, -7.0);
        assert!((view.to_drawing(view.to_screen(point)) - point).hypot() < 1e-4);
        check(view.panned(Vec2::new(5.0, 0.0)).to_screen(Point::ZERO), Pos2::new(35.0, 40.0));
        check(view.with_point_at(point, Pos2::new(1.0, 2.0)).to_screen(point), Pos2::new(1.0, 2.0));
    }

    #[test]
    fn a_drawing_of_no_size_is_no_trouble() {
        let view = ViewTransform::fitting(kurbo::Rect::ZERO, Rect::NOTHING, 10.0);
        assert!(view.scale.is_finite() && view.scale > 0.0);
    }
}
