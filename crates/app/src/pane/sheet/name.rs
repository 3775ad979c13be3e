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

/// Names every panel of the folio, and each offcut once; a name without room is left out. Where it is shown what is cut
/// from offcuts, their names stand in what is left of them.
pub(super) fn paint(painter: &Painter, canvas: &Canvas, scene: &Scene<'_>, plans: bool) {
    let layout = &scene.session.derived().layout;
    for (panel, text) in named(layout) {
        let is_base = layout.base == Some(panel.id);
        let ink = if layout.folio().is_some_and(|folio| folio.id == panel.piece) {
            colour(style::LABEL)
        } else {
            colour(style::DESK_TEXT_QUIET)
        };
        let used = scene.session.derived().supply.as_ref().and_then(|supply| supply.offcut(panel.piece));
        let room = match used.filter(|offcut| plans && !offcut.is_untouched) {
            Some(offcut) => left(canvas, offcut),
            None => room(canvas, panel),
        };
        if let Some(room) = room {
            fitted(painter, room, text, Hand { is_bold: is_base, ink, ground: None });
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

/// The largest rectangle that is left of an offcut, on the screen.
fn left(canvas: &Canvas, offcut: &allot::OffcutUse) -> Option<Rect> {
    let area = |rect: &nest::Rect| rect.size.width().mm() * rect.size.height().mm();
    let largest = offcut.remainders.iter().max_by(|a, b| area(a).total_cmp(&area(b)))?;
    let far = model::Point::new(largest.corner.x + largest.size.width(), largest.corner.y + largest.size.height());
    Some(Rect::from_two_pos(canvas.at(largest.corner), canvas.at(far)).intersect(canvas.rect))
}

/// How a name is written.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hand {
    /// In the bold face.
    pub(super) is_bold: bool,
    /// Its colour.
    pub(super) ink: Color32,
    /// What is laid under it, so that it is read over hatching.
    pub(super) ground: Option<Color32>,
}

/// A name in the middle of a rectangle, at the largest size that fits; upright where it only fits so.
pub(super) fn fitted(painter: &Painter, room: Rect, text: &str, hand: Hand) {
    let Hand { is_bold, ink, ground } = hand;
    let free = room.size() * SHARE;
    for size in SIZES {
        let font = if is_bold { bold(size) } else { plain(size) };
        let galley = painter.layout_no_wrap(text.to_owned(), font, ink);
        let taken = galley.size();
        let is_level = taken.x <= free.x && taken.y <= free.y;
        // Along a narrow upright panel: reading up, the galley's left end at the bottom.
        let is_upright = taken.x <= free.y && taken.y <= free.x;
        if !is_level && !is_upright {
            continue;
        }
        let lies = if is_level { taken } else { Vec2::new(taken.y, taken.x) };
        if let Some(ground) = ground {
            painter.rect_filled(Rect::from_center_size(room.center(), lies + Vec2::splat(2.0)), 2.0, ground);
        }
        if is_level {
            painter.galley(room.center() - taken / 2.0, galley, ink);
        } else {
            let start = room.center() + Vec2::new(-taken.y / 2.0, taken.x / 2.0);
            painter.add(TextShape::new(start, galley, ink).with_angle(-FRAC_PI_2));
        }
        return;
    }
}
