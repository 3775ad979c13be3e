//! The starters to choose from, each a card with its pictures.

use super::{Answer, answers, title};
use crate::gallery::{Card, Gallery};
use crate::paint;
use crate::theme::{self, SMALL, bold, caption, colour, palette, plain};
use crate::tip::Tip as _;
use crate::view_transform::ViewTransform;
use draw::list::Drawing;
use egui::text::{LayoutJob, TextWrapping};
use egui::{EventFilter, Id, Key, Painter, Pos2, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui, Vec2};
use egui::{WidgetInfo, accesskit};

/// Width of the dialog, px: with its margins it fits the narrowest window.
pub(super) const WIDTH: f32 = 1000.0;

/// Cards in a row.
const COLUMNS: usize = 4;

/// Between cards, px.
const GAP: f32 = 10.0;

/// The least and the greatest height of a card, px.
const HEIGHT: (f32, f32) = (206.0, 300.0);

/// What the question takes of the window's height beside the cards, px: its margins, its title and its answers.
const BESIDE: f32 = 176.0;

/// Height of the words on a card, px: its name, its paper, and four lines on what it is.
const WORDS: f32 = 112.0;

/// Between what is on a card and its edge, px.
const INSET: f32 = 8.0;

/// Shows the cards; `at` is the one that enter chooses.
pub(super) fn ui(ui: &mut Ui, gallery: &mut Gallery, at: &mut usize) -> Option<Answer> {
    title(ui, "New from a starter");
    ui.label(caption("A copy of it is opened, and no file is written before you save. Arrows and Enter choose one."));
    let ctx = ui.ctx().clone();
    let cards = gallery.cards(&ctx);
    let moved = step(ui, at, cards.len());
    let rows = cards.len().div_ceil(COLUMNS);
    let most = (ctx.content_rect().height() - BESIDE).max(HEIGHT.0);
    let width = (WIDTH - GAP * 3.0) / 4.0;
    let height = ((most - GAP) / 2.0).clamp(HEIGHT.0, HEIGHT.1);
    let mut chosen = None;
    ScrollArea::vertical().max_height(most).min_scrolled_height(most).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing = Vec2::splat(GAP);
        for row in 0..rows {
            ui.horizontal(|ui| {
                for (number, card) in cards.iter().enumerate().skip(row * COLUMNS).take(COLUMNS) {
                    let response = show(ui, card, Vec2::new(width, height), number, *at == number);
                    if response.gained_focus() {
                        *at = number;
                    }
                    if number == *at && (moved || ui.memory(|memory| memory.focused().is_none())) {
                        response.request_focus();
                        response.scroll_to_me(None);
                    }
                    if response.clicked() {
                        chosen = Some(Answer::Starter(number));
                    }
                }
            });
        }
    });
    chosen.or_else(|| answers(ui, [("Begin with this one", Answer::Starter(*at)), ("Keep editing", Answer::Never)]))
}

fn id(number: usize) -> Id {
    Id::unique(("starter", number))
}

/// Goes from card to card by the arrows; says whether it did.
fn step(ui: &Ui, at: &mut usize, count: usize) -> bool {
    let before = *at;
    let on_a_card = ui.memory(egui::Memory::focused).is_none_or(|focused| (0..count).any(|card| id(card) == focused));
    if !on_a_card {
        return false;
    }
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    let last = count.saturating_sub(1);
    if pressed(Key::ArrowRight) {
        *at = (*at + 1).min(last);
    }
    if pressed(Key::ArrowLeft) {
        *at = at.saturating_sub(1);
    }
    if pressed(Key::ArrowDown) && *at + COLUMNS <= last {
        *at += COLUMNS;
    }
    if pressed(Key::ArrowUp) && *at >= COLUMNS {
        *at -= COLUMNS;
    }
    *at != before
}

fn show(ui: &mut Ui, card: &Card, size: Vec2, number: usize, is_at: bool) -> egui::Response {
    let (_, rect) = ui.allocate_space(size);
    let response = ui.interact(rect, id(number), Sense::click());
    let label = format!("{}, {}. {}", card.title, card.paper, card.about);
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, true, is_at, &label));
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id(number), arrows));
    if ui.is_rect_visible(rect) {
        let painter = theme::row(ui, &response, rect, is_at);
        painter.rect_stroke(rect, 3.0, Stroke::new(1.0, colour(palette().line)), StrokeKind::Inside);
        let inside = rect.shrink(INSET);
        let table = Rect::from_min_max(inside.min, Pos2::new(inside.right(), inside.bottom() - WORDS));
        pictures(&painter, card, table);
        let below = Rect::from_min_max(Pos2::new(inside.left(), table.bottom() + 4.0), inside.max);
        words(&painter, card, below);
    }
    response.tip("Begin with a copy of this starter.")
}

/// The closed folio at the left, laid open at the right.
fn pictures(painter: &Painter, card: &Card, table: Rect) {
    painter.rect_filled(table, 3.0, colour(palette().table));
    let Some(pictures) = &card.pictures else {
        let galley = painter.layout_no_wrap("Drawing…".to_owned(), plain(SMALL), colour(palette().text));
        painter.galley(table.center() - galley.size() / 2.0, galley, colour(palette().text));
        return;
    };
    let middle = table.center().x;
    let left = Rect::from_min_max(table.min, Pos2::new(middle, table.bottom()));
    let right = Rect::from_min_max(Pos2::new(middle, table.top()), table.max);
    for (picture, room) in [(&pictures.closed, left), (&pictures.open, right)] {
        fitted(&painter.with_clip_rect(room.intersect(painter.clip_rect())), picture, room);
    }
}

fn fitted(painter: &Painter, picture: &Drawing, room: Rect) {
    let view = ViewTransform::fitting(picture.size.to_rect(), room, 0.0);
    paint::paint(painter, &picture.nodes, &view);
}

fn words(painter: &Painter, card: &Card, room: Rect) {
    let (ink, quiet) = (colour(palette().text), colour(palette().quiet));
    let mut at = room.min;
    let name = theme::shortened(painter, &card.title, bold(13.5), room.width());
    let height = name.size().y;
    painter.galley_with_override_text_color(at, name, ink);
    at.y += height;
    let paper = theme::shortened(painter, &card.paper, plain(SMALL), room.width());
    let height = paper.size().y;
    painter.galley_with_override_text_color(at, paper, quiet);
    at.y += height + 2.0;
    let mut job = LayoutJob::simple(card.about.to_owned(), plain(SMALL), ink, room.width());
    job.wrap = TextWrapping { max_width: room.width(), max_rows: 5, ..TextWrapping::default() };
    painter.galley_with_override_text_color(at, painter.layout_job(job), ink);
}
