//! Two designs side by side, and what is different in words. A sentence that is chosen is lit on both sheets.

use super::{Answer, answers, title};
use crate::comparison::{Comparison, Mark, Side};
use crate::label::Labels;
use crate::paint;
use crate::theme::{SMALL, bold, colour, heading, palette};
use crate::tip::Tip as _;
use crate::view_transform::ViewTransform;
use draw::style;
use egui::{Galley, Id, Painter, Pos2, Rect, ScrollArea, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, accesskit};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Width of the dialog, px: with its margins it fits the narrowest window.
pub(super) const WIDTH: f32 = 1000.0;

/// Height of the sentences, px, before they are scrolled.
const WORDS: f32 = 132.0;

/// What the dialog takes of the window's height beside sheets and sentences, px.
const BESIDE: f32 = 222.0;

/// The least and the greatest height of a sheet, px.
const SHEET: (f32, f32) = (200.0, 520.0);

/// Between the sheets, px.
const GAP: f32 = 12.0;

/// Radius of a number beside what is different, px.
const BADGE: f32 = 8.0;

/// How many places along a line its number may have.
const PLACES: usize = 9;

/// Shows them; `lit` is the sentence that was chosen.
pub(super) fn ui(ui: &mut Ui, comparison: &Comparison, lit: &mut Option<usize>) -> Option<Answer> {
    title(ui, comparison.title);
    ui.add(egui::Label::new(comparison.heading.as_str()).wrap());
    let height = (ui.ctx().content_rect().height() - WORDS - BESIDE).clamp(SHEET.0, SHEET.1);
    let width = (ui.available_width() - GAP) / 2.0;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        for (side, word) in comparison.sides.iter().zip(comparison.words) {
            ui.vertical(|ui| {
                ui.set_width(width);
                ui.spacing_mut().item_spacing.y = 4.0;
                ui.add(egui::Label::new(heading(&format!("{word}: {}", side.name))).truncate());
                sheet(ui, comparison, side, Vec2::new(width, height), (word, *lit));
            });
        }
    });
    ScrollArea::vertical().max_height(WORDS).min_scrolled_height(WORDS).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (number, difference) in comparison.says.iter().enumerate() {
            let text = format!("{}. {}", number + 1, difference.says);
            if !comparison.is_seen(number) {
                ui.horizontal(|ui| {
                    // In line with the buttons.
                    ui.add_space(ui.spacing().button_padding.x);
                    ui.add(egui::Label::new(text).wrap());
                });
                continue;
            }
            let on = *lit == Some(number);
            let button = egui::Button::selectable(on, text).wrap();
            if ui.add(button).tip("Light on both sheets what this sentence is about.").clicked() {
                *lit = if on { None } else { Some(number) };
            }
        }
    });
    answers(ui, [("Keep editing", Answer::Never)])
}

fn sheet(ui: &mut Ui, comparison: &Comparison, side: &Side, size: Vec2, (word, lit): (&str, Option<usize>)) {
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let words = |number: usize| comparison.says.get(number).map(|difference| difference.says.as_str());
    let name = match lit.filter(|&number| comparison.marks(side, number).next().is_some()).and_then(words) {
        Some(says) => format!("{word}: {}. Lit: {says}", side.name),
        None => format!("{word}: {}", side.name),
    };
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Image, true, &name));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 4.0, colour(palette().table));
    // Both of one scale, so that a sheet of another size is seen to be one.
    let largest = comparison.sides.iter().map(|side| side.board.rect()).reduce(|all, one| all.union(one));
    let view = ViewTransform::fitting(largest.unwrap_or_default(), rect, 12.0);
    let aside = largest.map_or(Vec2::ZERO, |all| {
        let own = side.board.rect();
        Vec2::new(
            crate::view_transform::px(all.width() - own.width()),
            crate::view_transform::px(all.height() - own.height()),
        ) * view.scale
            / 2.0
    });
    let view = view.panned(aside);
    paint::paint(&painter, &side.nodes, &view);
    let mut numbers: Vec<(usize, Vec<Pos2>)> = Vec::new();
    for number in 0..comparison.says.len() {
        for mark in comparison.marks(side, number) {
            numbers.push((number, draw_mark(&painter, mark, &view, number, lit == Some(number))));
        }
    }
    let mut labels = Labels::default();
    let mut said = BTreeSet::new();
    for (index, (number, places)) in numbers.into_iter().enumerate() {
        let label = Id::unique(("difference", index));
        let galley = numeral(&painter, number, lit == Some(number));
        let size = Vec2::new((galley.size().x + 8.0).max(2.0 * BADGE), 2.0 * BADGE);
        let slips = places.into_iter().map(|at| Rect::from_center_size(at, size)).enumerate();
        // Each number is seen once; where it has no room beside the others of its lines, that is enough.
        let slip = if said.insert(number) {
            labels.place_anyway(label, slips.map(|(at, slip)| (at, [slip], slip)))
        } else {
            labels.place(label, slips.map(|(at, slip)| (at, slip, slip)))
        };
        if let Some(slip) = slip {
            badge(&painter, slip, galley, lit == Some(number));
        }
    }
}

/// Draws where something lies, lit or not; gives where its number may go.
fn draw_mark(painter: &Painter, mark: Mark<'_>, view: &ViewTransform, number: usize, is_lit: bool) -> Vec<Pos2> {
    let ink = colour(style::SELECTION);
    let (wide, thin) = if is_lit { (11.0, 2.5) } else { (6.0, 1.2) };
    let wash = colour(style::SELECTION.with_alpha(if is_lit { 130 } else { 60 }));
    match mark {
        Mark::Line(path) => {
            let path: Vec<Pos2> = path.iter().map(|&point| view.to_screen(point)).collect();
            painter.line(path.clone(), Stroke::new(wide, wash));
            (0..PLACES).map(|further| along(&path, share(number, further))).collect()
        }
        Mark::Part(outlines) => {
            let mut all = Rect::NOTHING;
            for outline in outlines {
                let outline: Vec<Pos2> = outline.iter().map(|&point| view.to_screen(point)).collect();
                outline.iter().for_each(|&at| all.extend_with(at));
                painter.add(Shape::closed_line(outline.clone(), Stroke::new(wide / 2.0, wash)));
                let mut closed = outline;
                closed.extend(closed.first().copied());
                painter.extend(Shape::dashed_line(&closed, Stroke::new(thin, ink), 6.0, 4.0));
            }
            let inset = all.shrink(BADGE + 3.0);
            vec![inset.left_top(), inset.right_top(), inset.left_bottom(), inset.right_bottom()]
        }
    }
}

/// How far along its line a number stands: each elsewhere, so that the numbers of lines that cross do not all lie in the
/// middle of the sheet. Multiples of the golden ratio, whole turns left out, lie far from one another however many there are.
/// `further` counts the places that it goes on to where another number is in the way.
fn share(number: usize, further: usize) -> f32 {
    const GOLDEN: f32 = 0.618_034;
    #[expect(clippy::cast_precision_loss, reason = "there are not so many sentences")]
    let turns = number as f32 * GOLDEN;
    #[expect(clippy::cast_precision_loss, reason = "there are a few places")]
    let further = further as f32 / PLACES as f32;
    0.15 + 0.7 * (turns + further).fract()
}

/// The point of a path that lies so far along it, in shares of its length.
fn along(path: &[Pos2], share: f32) -> Pos2 {
    let whole: f32 = path.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
    let mut left = whole * share;
    for pair in path.windows(2) {
        let long = pair[0].distance(pair[1]);
        if left <= long {
            return pair[0].lerp(pair[1], left / long.max(f32::MIN_POSITIVE));
        }
        left -= long;
    }
    path.last().copied().unwrap_or_default()
}

/// The number of a sentence, as it stands beside what is different.
fn numeral(painter: &Painter, number: usize, is_lit: bool) -> Arc<Galley> {
    let ink = if is_lit { style::WHITE } else { style::LABEL };
    painter.layout_no_wrap((number + 1).to_string(), bold(SMALL), colour(ink))
}

fn badge(painter: &Painter, slip: Rect, numeral: Arc<Galley>, is_lit: bool) {
    let ground = if is_lit { style::SELECTION } else { style::WHITE };
    let edge = Stroke::new(1.2, colour(style::SELECTION));
    painter.rect(slip, BADGE, colour(ground), edge, egui::StrokeKind::Inside);
    painter.galley(slip.center() - numeral.size() / 2.0, numeral, colour(style::LABEL));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stands_so_far_along_its_line() {
        let path = [Pos2::new(0.0, 0.0), Pos2::new(30.0, 0.0), Pos2::new(30.0, 10.0)];
        for (share, expected) in [(0.0, path[0]), (0.5, Pos2::new(20.0, 0.0)), (1.0, path[2])] {
            assert!(along(&path, share).distance(expected) < 1e-3, "{share}");
        }
        assert_eq!(along(&[], 0.5), Pos2::ZERO);
    }
}
