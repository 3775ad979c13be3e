//! The export dialog: the kinds at the left, what can be chosen of one, and what it will look like.

mod options;

use super::{Answer, Purpose, answers, title};
use crate::export::{Choices, Kind, Looks, Preview};
use crate::field::{Drafts, sentence};
use crate::icon::Icon;
use crate::paint;
use crate::pane::Scene;
use crate::theme::{caption, colour, complaint};
use crate::tip::Tip as _;
use crate::view_transform::ViewTransform;
use draw::list::Drawing;
use draw::style;
use egui::{Color32, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, accesskit};

/// Width of the dialog, px: with its margins it fits a window of 1280.
const WIDTH: f32 = 880.0;

/// Its width where there is not room for that, px: what it will look like stands under the rest.
const NARROW: f32 = 450.0;

/// Width of the list of kinds, and of the options, px.
const COLUMNS: (f32, f32) = (130.0, 290.0);

/// Height of all three columns, px.
const HEIGHT: f32 = 430.0;

/// What the dialog needs of the window.
#[derive(Debug)]
pub(crate) struct Exports<'a> {
    /// What was last chosen.
    pub(crate) choices: &'a mut Choices,
    /// What it will look like.
    pub(crate) preview: &'a mut Preview,
    /// How the window looks at the design.
    pub(crate) looks: Looks,
}

/// How wide it is in a window with so much room.
pub(super) fn width(room: f32) -> f32 {
    if room < WIDTH { NARROW } else { WIDTH }
}

pub(super) fn ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    kind: &mut Kind,
    exports: &mut Exports<'_>,
) -> Option<Answer> {
    title(ui, "Export");
    let before = *kind;
    let is_narrow = ui.available_width() < WIDTH;
    ui.horizontal_top(|ui| {
        let height = if is_narrow { 0.0 } else { HEIGHT };
        let column = |ui: &mut Ui, width: f32, add: &mut dyn FnMut(&mut Ui)| {
            ui.allocate_ui_with_layout(Vec2::new(width, height), egui::Layout::top_down(egui::Align::Min), |ui| {
                ui.set_min_size(Vec2::new(width, height));
                add(ui);
            });
        };
        column(ui, COLUMNS.0, &mut |ui| {
            for one in Kind::ALL {
                let button = ui.add_sized([COLUMNS.0, 26.0], egui::Button::selectable(*kind == one, one.name()));
                if button.tip(one.about()).clicked() {
                    *kind = one;
                }
            }
        });
        column(ui, COLUMNS.1, &mut |ui| {
            ui.add(egui::Label::new(kind.about()).wrap());
            ui.add_space(4.0);
            options::ui(ui, scene, drafts, *kind, exports);
        });
        if !is_narrow {
            let width = ui.available_width();
            column(ui, width, &mut |ui| preview(ui, scene, *kind, exports));
        }
    });
    if before != *kind {
        exports.preview.page = 0;
    }
    let is_made = !matches!(shown(scene, *kind, exports), Some(Err(_)));
    let answer = if is_made {
        answers(ui, [("Export to a file…", Answer::Ask(Purpose::Export(*kind))), ("Keep editing", Answer::Never)])
    } else {
        answers(ui, [("Keep editing", Answer::Never)])
    };
    if is_narrow {
        preview(ui, scene, *kind, exports);
    }
    answer
}

/// The pages of what is chosen.
fn shown<'a>(scene: &Scene<'_>, kind: Kind, exports: &'a mut Exports<'_>) -> Option<&'a Result<Vec<Drawing>, String>> {
    let export = exports.choices.export(kind, exports.looks);
    exports.preview.pages(scene, &export)
}

fn preview(ui: &mut Ui, scene: &Scene<'_>, kind: Kind, exports: &mut Exports<'_>) {
    let page = exports.preview.page;
    let (count, to_turn) = match shown(scene, kind, exports) {
        None => {
            ui.label(caption("There is nothing to look at before it is written."));
            return;
        }
        Some(Err(why)) => {
            let why = sentence(why);
            ui.add(egui::Label::new(complaint(&why)).wrap());
            return;
        }
        Some(Ok(pages)) => {
            let page = page.min(pages.len().saturating_sub(1));
            if let Some(drawing) = pages.get(page) {
                sheet(ui, drawing);
            }
            (pages.len(), page)
        }
    };
    exports.preview.page = to_turn;
    if count > 1 {
        ui.horizontal(|ui| {
            if Icon::Up.button(ui, "Page before", to_turn > 0).clicked() {
                exports.preview.page = to_turn - 1;
            }
            ui.label(format!("Page {} of {count}", to_turn + 1));
            if Icon::Down.button(ui, "Next page", to_turn + 1 < count).clicked() {
                exports.preview.page = to_turn + 1;
            }
        });
    }
}

/// A page as it will be, on white paper.
fn sheet(ui: &mut Ui, drawing: &Drawing) {
    let room = Vec2::new(ui.available_width(), HEIGHT - 40.0);
    let (rect, response) = ui.allocate_exact_size(room, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Image, true, &drawing.description));
    let page = drawing.size.to_rect();
    let view = ViewTransform::fitting(page, rect, 6.0);
    let corners = [kurbo::Point::ZERO, kurbo::Point::new(page.x1, page.y1)].map(|corner| view.to_screen(corner));
    let paper = egui::Rect::from_two_pos(corners[0], corners[1]);
    let painter = ui.painter_at(rect);
    painter.rect_filled(paper, 0.0, Color32::WHITE);
    paint::paint(&painter.with_clip_rect(paper.intersect(rect)), &drawing.nodes, &view);
    painter.rect_stroke(paper, 0.0, Stroke::new(1.0, colour(style::DESK_LINE)), StrokeKind::Outside);
}
