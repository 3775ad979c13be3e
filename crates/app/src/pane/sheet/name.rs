//! Names of panels and offcuts on the sheet, at a size that can be read at any zoom.

use super::Canvas;
use crate::label::Labels;
use crate::pane::Scene;
use crate::theme::{bold, colour, plain};
use draw::laid::LaidPart;
use draw::style;
use egui::epaint::TextShape;
use egui::{Color32, Galley, Id, Painter, Pos2, Rect, Vec2};
use model::{Layout, Panel, PartId, polygon};
use std::f32::consts::FRAC_PI_2;
use std::sync::Arc;

/// Sizes that are tried in turn, px.
const SIZES: [f32; 3] = [14.0, 12.0, 10.0];

/// Half the height of a name with a little air, px.
const HALF: f32 = 9.0;

/// The part of a panel that its name may take.
const SHARE: Vec2 = Vec2::new(0.9, 0.9);

/// Names every panel of the folio, and each offcut once; a name without room is left out. Where it is shown what is cut
/// from offcuts, their names stand in what is left of them; those of panels where no part lies over them.
pub(super) fn paint(
    painter: &Painter,
    canvas: &Canvas,
    scene: &Scene<'_>,
    (parts, plans): (&[LaidPart], bool),
    labels: &mut Labels,
) {
    let layout = &scene.session.derived().layout;
    let is_printed = scene.prints.on_sheet(None, model::Face::Front).is_some();
    let plate = is_printed.then(|| colour(style::PLATE));
    for (panel, text) in named(layout) {
        let is_base = layout.base == Some(panel.id);
        let ink = if layout.folio().is_some_and(|folio| folio.id == panel.piece) {
            colour(style::LABEL)
        } else {
            colour(style::DESK_TEXT_QUIET)
        };
        let used = scene.session.derived().supply.as_ref().and_then(|supply| supply.offcut(panel.piece));
        let hand = Hand { is_bold: is_base, ink, ground: plate };
        let label = Id::unique(("name on the sheet", text));
        match used.filter(|offcut| plans && !offcut.is_untouched) {
            Some(offcut) => {
                let rooms = left(canvas, offcut).into_iter().flat_map(|room| free(room, |_| true));
                fitted(painter, labels, label, rooms, (text, hand));
            }
            None => {
                let is_free = |at| covering(canvas, parts, at).is_none();
                let rooms = room(canvas, panel).into_iter().flat_map(|room| free(room, is_free));
                fitted(painter, labels, label, rooms, (text, hand));
            }
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
    let by_area = offcut.remainders.iter().map(|rect| (rect.area(), rect));
    let (_, largest) = by_area.max_by_key(|(area, _)| *area)?;
    let far = model::Point::new(largest.corner.x + largest.size.width(), largest.corner.y + largest.size.height());
    Some(Rect::from_two_pos(canvas.at(largest.corner), canvas.at(far)).intersect(canvas.rect))
}

/// The uppermost part in front of the sheet at a point of the screen, of parts from low to high.
pub(super) fn covering(canvas: &Canvas, parts: &[LaidPart], at: Pos2) -> Option<PartId> {
    let point = canvas.view.to_drawing(at);
    let around = |part: &&LaidPart| part.outlines.iter().any(|outline| crate::paint::is_inside(outline, point));
    parts.iter().rev().filter(|part| !part.is_behind).find(around).map(|part| part.id)
}

/// All of a rectangle, and the halves and quarters of it along its edges, where a name is free to stand, each by its number.
pub(super) fn free(all: Rect, is_free: impl Fn(Pos2) -> bool) -> impl Iterator<Item = (usize, Rect)> {
    // As high as a name is, and most of the way across.
    let spots = |room: &Rect| {
        let middle = room.center();
        [-0.3, 0.0, 0.3].map(|part| [-HALF, 0.0, HALF].map(|down| middle + Vec2::new(room.width() * part, down)))
    };
    let Vec2 { x, y } = all.size();
    let parted = [0.5, 0.25].into_iter().flat_map(move |part| {
        [
            Rect::from_min_size(all.min, Vec2::new(x, y * part)),
            Rect::from_min_size(all.min + Vec2::new(0.0, y * (1.0 - part)), Vec2::new(x, y * part)),
            Rect::from_min_size(all.min, Vec2::new(x * part, y)),
            Rect::from_min_size(all.min + Vec2::new(x * (1.0 - part), 0.0), Vec2::new(x * part, y)),
        ]
    });
    let rooms = std::iter::once(all).chain(parted).enumerate();
    rooms.filter(move |(_, room)| spots(room).into_iter().flatten().all(&is_free))
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

/// A name in the middle of the first of some rectangles where it covers no other label, at the largest size that fits;
/// upright where it only fits so. Left out where there is none.
pub(super) fn fitted(
    painter: &Painter,
    labels: &mut Labels,
    label: Id,
    rooms: impl IntoIterator<Item = (usize, Rect)>,
    (text, hand): (&str, Hand),
) {
    let Hand { is_bold, ink, ground } = hand;
    let galleys = SIZES.map(|size| {
        let font = if is_bold { bold(size) } else { plain(size) };
        painter.layout_no_wrap(text.to_owned(), font, ink)
    });
    let places = rooms.into_iter().flat_map(|(room, rect)| {
        galleys.iter().enumerate().filter_map(move |(size, galley)| {
            let (rect, lies) = lying(rect, galley)?;
            Some((room * SIZES.len() + size, rect, lies))
        })
    });
    let Some((galley, rect, is_level)) = labels.place(label, places) else { return };
    if let Some(ground) = ground {
        painter.rect_filled(rect, 2.0, ground);
    }
    let size = galley.size();
    if is_level {
        painter.galley(rect.center() - size / 2.0, galley, ink);
    } else {
        // Reading up, the galley's left end at the bottom.
        let start = rect.center() + Vec2::new(-size.y / 2.0, size.x / 2.0);
        painter.add(TextShape::new(start, galley, ink).with_angle(-FRAC_PI_2));
    }
}

/// A name where it lies, and whether it reads level.
type Lying = (Arc<Galley>, Rect, bool);

/// How a name lies in the middle of a rectangle, level or along a narrow upright panel, if it fits at all.
fn lying(room: Rect, galley: &Arc<Galley>) -> Option<(Rect, Lying)> {
    let (free, taken) = (room.size() * SHARE, galley.size());
    let is_level = taken.x <= free.x && taken.y <= free.y;
    let is_upright = taken.x <= free.y && taken.y <= free.x;
    if !is_level && !is_upright {
        return None;
    }
    let lies = if is_level { taken } else { Vec2::new(taken.y, taken.x) };
    let rect = Rect::from_center_size(room.center(), lies + Vec2::splat(2.0));
    Some((rect, (Arc::clone(galley), rect, is_level)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square of 100 px, free where `is_free` says so by its tenths.
    #[track_caller]
    fn check(is_free: impl Fn(f32, f32) -> bool, expected: Option<[f32; 4]>) {
        let all = Rect::from_min_size(Pos2::ZERO, Vec2::splat(100.0));
        let found = free(all, |at| is_free(at.x, at.y))
            .next()
            .map(|(_, room)| [room.left(), room.top(), room.right(), room.bottom()]);
        assert_eq!(found, expected);
    }

    #[test]
    fn a_name_goes_where_nothing_covers_it() {
        check(|_, _| true, Some([0.0, 0.0, 100.0, 100.0]));
        check(|_, y| y < 45.0, Some([0.0, 0.0, 100.0, 50.0]));
        check(|_, y| y < 30.0, Some([0.0, 0.0, 100.0, 25.0]));
        check(|_, y| y > 75.0, Some([0.0, 75.0, 100.0, 100.0]));
        check(|x, _| x > 55.0, Some([50.0, 0.0, 100.0, 100.0]));
        check(|_, _| false, None);
    }
}
