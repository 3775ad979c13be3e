//! Names of panels and offcuts on the sheet, at a size that can be read at any zoom.

use super::Canvas;
use crate::pane::Scene;
use crate::theme::{bold, colour, plain};
use draw::style;
use egui::epaint::TextShape;
use egui::{Color32, Painter, Rect, Vec2};
use model::{Layout, Panel, polygon};
use std::f32::consts::FRAC_PI_2;

/// Sizes that are tried in turn, px.
const SIZES: [f32; 3] = [14.0, 12.0, 10.0];

/// The part of a panel that its name may take.
const SHARE: Vec2 = Vec2::new(0.9, 0.9);

/// Names every panel of the folio, and each offcut once; a name without room is left out.
pub(super) fn paint(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>) {
    let layout = &scene.session.derived().layout;
    for (panel, text) in named(layout) {
        let is_base = layout.base == Some(panel.id);
        let ink = if layout.folio().is_some_and(|folio| folio.id == panel.piece) {
            colour(style::LABEL)
        } else {
            colour(style::DESK_TEXT_QUIET)
        };
        if let Some(room) = room(canvas, panel) {
            name(painter, room, text, is_base, ink);
        }
    }
}

fn named(layout: &Layout) -> impl Iterator<Item = (&Panel, &str)> {
    layout.pieces.iter().flat_map(|piece| {
        let panels = piece.panels.iter().map(|&id| layout.panel(id));
        let largest = panels.clone().max_by_key(|panel| (panel.area, std::cmp::Reverse(panel.id)));
        let offcut = largest.filter(|_| !piece.is_folio).map(|panel| (panel, piece.name.as_str()));
        let folio = panels.filter(|_| piece.is_folio).map(|panel| (panel, panel.name.as_str()));
        folio.chain(offcut)
    })
}

/// What is seen of the largest convex part of a panel, as a rectangle on the screen.
fn room(canvas: &Canvas, panel: &Panel) -> Option<Rect> {
    let largest = panel.convex.iter().max_by_key(|piece| polygon::signed_area(piece))?;
    let (low, high) = polygon::bounds(largest);
    let room = Rect::from_two_pos(canvas.at(low), canvas.at(high)).intersect(canvas.rect);
    room.is_positive().then_some(room)
}

fn name(painter: &Painter, room: Rect, text: &str, is_base: bool, ink: Color32) {
    let free = room.size() * SHARE;
    for size in SIZES {
        let font = if is_base { bold(size) } else { plain(size) };
        let galley = painter.layout_no_wrap(text.to_owned(), font, ink);
        let taken = galley.size();
        if taken.x <= free.x && taken.y <= free.y {
            painter.galley(room.center() - taken / 2.0, galley, ink);
            return;
        }
        // Along a narrow upright panel: reading up, the galley's left end at the bottom.
        if taken.x <= free.y && taken.y <= free.x {
            let start = room.center() + Vec2::new(-taken.y / 2.0, taken.x / 2.0);
            painter.add(TextShape::new(start, galley, ink).with_angle(-FRAC_PI_2));
            return;
        }
    }
}
