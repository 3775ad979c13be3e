//! Where parts are cut from: each on its offcut of the sheet.

use super::Canvas;
use crate::paint;
use crate::pane::Scene;
use crate::theme::colour;
use allot::{Cutout, Origin};
use draw::style;
use draw::supply::supply_nodes;
use egui::{Painter, Pos2, Stroke};

/// Draws every part that is cut from an offcut where it is cut from.
pub(super) fn paint(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
    let derived = scene.session.derived();
    let Some(supply) = &derived.supply else { return };
    paint::paint(painter, &supply_nodes(&derived.layout, supply, canvas.board), &canvas.view);
    let selected = scene.session.selected().part().and_then(|id| supply.supply(id));
    if let Some(Origin::Offcut { cutout, .. }) = selected.map(|supply| &supply.from) {
        frame(painter, canvas, cutout);
    }
}

/// The frame round where the selected part is cut from.
fn frame(painter: &Painter, canvas: &Canvas, cutout: &Cutout) {
    let (low, size) = (cutout.rect.corner, cutout.rect.size);
    let (right, bottom) = (low.x + size.width(), low.y + size.height());
    let corners = [(low.x, low.y), (right, low.y), (right, bottom), (low.x, bottom)];
    let corners: Vec<Pos2> = corners.map(|(x, y)| canvas.at(model::Point::new(x, y))).to_vec();
    let stroke = Stroke::new(4.0, colour(style::SELECTION.with_alpha(110)));
    painter.add(egui::Shape::closed_line(corners, stroke));
}
