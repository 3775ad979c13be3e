//! Display lists on the screen: fills, dashed lines and text of a drawing as shapes of the window.
//!
//! It draws what the list says and nothing else. Only what print doesn't need is added: no line is thinner than a
//! pixel can show, and no dash shorter.

mod dash;
mod fill;
mod image;

use crate::theme::{bold, colour, plain};
use crate::view_transform::{ViewTransform, px};
use draw::list::{Node, Shape};
use draw::text::{Face, TextRun, Turned};
use egui::epaint::{PathStroke, TextShape};
use egui::{Color32, Painter, Pos2};
use kurbo::{Affine, BezPath, PathEl, Rect};
use std::f32::consts::{FRAC_PI_2, PI};

/// The thinnest line on the screen, px.
const LEAST_WIDTH: f32 = 1.2;

/// How far a curve's chords may stray from it, px.
const FLATNESS: f64 = 0.2;

/// Draws nodes, back to front.
pub(crate) fn paint(painter: &Painter, nodes: &[Node], view: &ViewTransform) {
    paint_nodes(painter, nodes, view, Affine::IDENTITY);
}

/// An outline given as points, filled.
pub(crate) fn area(painter: &Painter, points: &[kurbo::Point], view: &ViewTransform, ink: Color32) {
    let outline: Vec<Pos2> = points.iter().map(|&point| view.to_screen(point)).collect();
    fill::outlines(painter, &[outline], ink);
}

/// Whether a point lies inside an outline.
pub(crate) fn is_inside(outline: &[kurbo::Point], point: kurbo::Point) -> bool {
    let n = outline.len();
    (0..n).fold(false, |inside, i| {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        let crosses = (a.y > point.y) != (b.y > point.y);
        let x = a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x);
        inside != (crosses && point.x < x)
    })
}

/// A straight line that looks like the drawing's lines of that stroke.
pub(crate) fn line(painter: &Painter, ends: [Pos2; 2], stroke: &draw::list::Stroke, scale: f32, width: f32) {
    dash::line(painter, &ends, stroke, scale, egui::Stroke::new(width, colour(stroke.colour)));
}

/// How wide a stroke is on the screen, px.
pub(crate) fn width_of(stroke: &draw::list::Stroke, scale: f32) -> f32 {
    (px(stroke.width) * scale).max(LEAST_WIDTH)
}

fn paint_nodes(painter: &Painter, nodes: &[Node], view: &ViewTransform, place: Affine) {
    for node in nodes {
        match node {
            Node::Item { shape, .. } => paint_shape(painter, shape, view, place),
            Node::Tagged { nodes, .. } => paint_nodes(painter, nodes, view, place),
            Node::Group { place: inner, clip, nodes } => {
                let place = place * *inner;
                let inside = match clip {
                    Some(clip) => painter.with_clip_rect(painter.clip_rect().intersect(on_screen(*clip, view, place))),
                    None => painter.clone(),
                };
                paint_nodes(&inside, nodes, view, place);
            }
        }
    }
}

fn on_screen(rect: Rect, view: &ViewTransform, place: Affine) -> egui::Rect {
    let rect = place.transform_rect_bbox(rect);
    egui::Rect::from_two_pos(view.to_screen(rect.origin()), view.to_screen(kurbo::Point::new(rect.x1, rect.y1)))
}

fn paint_shape(painter: &Painter, shape: &Shape, view: &ViewTransform, place: Affine) {
    match shape {
        Shape::Fill { path, colour: ink } => {
            let outlines: Vec<Vec<Pos2>> = polylines(path, view, place).into_iter().map(|(points, _)| points).collect();
            fill::outlines(painter, &outlines, colour(*ink));
        }
        Shape::Line { path, stroke } => {
            let ink = egui::Stroke::new(width_of(stroke, view.scale), colour(stroke.colour));
            for (mut points, closed) in polylines(path, view, place) {
                if closed && stroke.dashes.is_empty() {
                    painter.add(egui::Shape::closed_line(points, PathStroke::from(ink)));
                    continue;
                }
                if let (true, Some(&first)) = (closed, points.first()) {
                    points.push(first);
                }
                dash::line(painter, &points, stroke, view.scale, ink);
            }
        }
        Shape::Text(run) => paint_text(painter, run, view, place),
        Shape::Image(image) => {
            let outlines: Vec<Vec<Pos2>> =
                polylines(&image.clip, view, place).into_iter().map(|(points, _)| points).collect();
            image::paint(painter, image, &outlines, view, place);
        }
    }
}

fn paint_text(painter: &Painter, run: &TextRun, view: &ViewTransform, place: Affine) {
    let size = px(run.size()) * view.scale;
    // Below this nothing can be read, and the glyphs would only fill the atlas.
    if size < 3.0 {
        return;
    }
    let font = match run.face() {
        Face::Regular => plain(size),
        Face::Bold => bold(size),
    };
    let ink = colour(run.colour());
    let galley = painter.layout_no_wrap(run.text().to_owned(), font, ink);
    let angle = match run.reading() {
        Turned::Upright => 0.0,
        Turned::Left => -FRAC_PI_2,
        Turned::Right => FRAC_PI_2,
        Turned::Over => PI,
    };
    // The galley hangs from its upper left corner; the run stands on its baseline.
    let ascent = galley.rows.first().and_then(|row| row.glyphs.first()).map_or(size, |glyph| glyph.pos.y);
    let start = view.to_screen(place * run.start());
    let up = egui::emath::Rot2::from_angle(angle) * egui::vec2(0.0, -ascent);
    painter.add(TextShape::new(start + up, galley, ink).with_angle(angle));
}

/// The subpaths of a path as points on the screen, each with whether it is closed.
fn polylines(path: &BezPath, view: &ViewTransform, place: Affine) -> Vec<(Vec<Pos2>, bool)> {
    let mut lines: Vec<(Vec<Pos2>, bool)> = Vec::new();
    let tolerance = FLATNESS / f64::from(view.scale);
    kurbo::flatten(place * path, tolerance, |element| match element {
        PathEl::MoveTo(point) => lines.push((vec![view.to_screen(point)], false)),
        PathEl::ClosePath => {
            if let Some((_, closed)) = lines.last_mut() {
                *closed = true;
            }
        }
        PathEl::LineTo(point) | PathEl::QuadTo(_, point) | PathEl::CurveTo(_, _, point) => {
            if let Some((points, _)) = lines.last_mut() {
                points.push(view.to_screen(point));
            }
        }
    });
    lines.retain(|(points, _)| points.len() > 1);
    lines
}
