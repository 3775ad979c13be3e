//! What the program is: its version and licence, and what it is built from.

use super::{Answer, answers, title};
use crate::theme::caption;
use about::{Dependency, dependencies};
use egui::{Align, Label, Layout, ScrollArea, Ui, Vec2};

/// Width of the dialog, px: the longest line of the licence.
pub(super) const WIDTH: f32 = 620.0;

/// Height of a row of the list, px.
const ROW: f32 = 18.0;

/// What the dialog takes of the window's height beside the list, px.
const BESIDE: f32 = 260.0;

/// The least and the greatest height of the list, px.
const HEIGHT: (f32, f32) = (160.0, 420.0);

/// Shows it.
pub(super) fn ui(ui: &mut Ui) -> Option<Answer> {
    title(ui, &format!("Foliowright {}", about::VERSION));
    for sentence in [about::LICENCE, about::FONTS] {
        ui.add(Label::new(sentence).wrap());
    }
    let all: Vec<Dependency> = dependencies().collect();
    let words =
        format!("It is built from {} crates, each under its own licence; then comes the MIT licence:", all.len());
    ui.add(Label::new(words).wrap());
    let licence: Vec<&str> = about::MIT.lines().collect();
    let height = (ui.ctx().content_rect().height() - BESIDE).clamp(HEIGHT.0, HEIGHT.1);
    let rows = all.len() + 1 + licence.len();
    ui.spacing_mut().item_spacing.y = 0.0;
    ScrollArea::vertical().max_height(height).min_scrolled_height(height).auto_shrink(false).show_rows(
        ui,
        ROW,
        rows,
        |ui, shown| {
            for at in shown {
                let text = match all.get(at) {
                    Some(Dependency { name, version, licence }) => format!("{name} {version}: {licence}"),
                    None => licence.get(at.wrapping_sub(all.len() + 1)).copied().unwrap_or_default().to_owned(),
                };
                let left = Layout::left_to_right(Align::Center);
                ui.allocate_ui_with_layout(Vec2::new(ui.available_width(), ROW), left, |ui| {
                    ui.set_min_size(ui.available_size());
                    ui.add(Label::new(caption(&text)).truncate());
                });
            }
        },
    );
    ui.spacing_mut().item_spacing.y = 10.0;
    answers(ui, [("Close", Answer::Never)])
}
