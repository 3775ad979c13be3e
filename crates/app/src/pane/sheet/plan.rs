//! Where parts are cut from: each on its offcut of the sheet.

use super::Canvas;
use super::name::{self, Hand};
use crate::label::Labels;
use crate::paint;
use crate::pane::Scene;
use crate::theme::colour;
use allot::{Cutout, Origin};
use draw::artwork::over_parts;
use draw::list::{Node, Shape};
use draw::style;
use draw::supply::supply_nodes;
use egui::{Id, Painter, Rect, Stroke, StrokeKind};
use model::Point;

/// Draws every part that is cut from an offcut where it is cut from.
pub(super) fn paint(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>, labels: &mut Labels) {
    let derived = scene.session.derived();
    let Some(supply) = &derived.supply else { return };
    let nodes = supply_nodes(&derived.layout, supply, canvas.board);
    let mut nodes = over_parts(nodes, scene.prints, canvas.board);
    // Names are written at a size that can be read at any zoom.
    nodes.retain(|node| !matches!(node, Node::Item { shape: Shape::Text(_), .. }));
    paint::paint(painter, &nodes, &canvas.view);
    for (number, planned) in supply.supplies.iter().enumerate() {
        if let Origin::Offcut { cutout, .. } = &planned.from {
            let hand = Hand { is_bold: false, ink: colour(style::LABEL), ground: Some(colour(style::PART_FRONT)) };
            let room = place(canvas, cutout).intersect(canvas.rect);
            let text = scene.session.document().part_name(planned.part);
            let label = Id::unique(("name of a part to be cut", number));
            name::fitted(painter, labels, label, [(0, room)], (&text, hand));
        }
    }
    let selected = scene.session.selected().part().and_then(|id| supply.supply(id));
    if let Some(Origin::Offcut { cutout, .. }) = selected.map(|supply| &supply.from) {
        frame(painter, canvas, cutout);
    }
}

/// The rectangle on the screen that a part is cut from.
fn place(canvas: &Canvas, cutout: &Cutout) -> Rect {
    let (low, size) = (cutout.rect.corner, cutout.rect.size);
    Rect::from_two_pos(canvas.at(low), canvas.at(Point::new(low.x + size.width(), low.y + size.height())))
}

/// The frame round where the selected part is cut from.
fn frame(painter: &Painter, canvas: &Canvas, cutout: &Cutout) {
    let stroke = Stroke::new(4.0, colour(style::SELECTION.with_alpha(110)));
    painter.rect_stroke(place(canvas, cutout), 0.0, stroke, StrokeKind::Middle);
}
