//! How the window looks: colours, type and spacing, all taken from the one palette in [`draw::style`].
//!
//! The window is a table with a sheet on it: a warm desk, a darker table top under the paper, ink for what matters.
//! Nothing here decides what is shown.

use draw::style::{self, Colour};
use draw::text::Face;
use egui::style::{HandleShape, Selection, WidgetVisuals, Widgets};
use egui::text::{LayoutJob, TextWrapping};
use egui::{Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, RichText, Stroke, TextStyle};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Height of the text of fields, buttons and lists, px.
pub(crate) const BODY: f32 = 13.5;

/// Height of captions and figures on the rulers, px.
pub(crate) const SMALL: f32 = 11.5;

/// Height of the headings of panes, px.
pub(crate) const HEADING: f32 = 15.0;

/// Between a pane's frame and what is in it, px.
pub(crate) const MARGIN: i8 = 12;

/// Name of the family that holds the bold face.
const BOLD: &str = "bold";

/// Gives a context the window's fonts and style.
pub(crate) fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    ctx.set_theme(egui::Theme::Light);
    ctx.all_styles_mut(restyle);
}

/// A colour of the palette for the screen.
pub(crate) const fn colour(colour: Colour) -> Color32 {
    let Colour { r, g, b, a } = colour;
    Color32::from_rgba_premultiplied(faded(r, a), faded(g, a), faded(b, a), a)
}

/// A channel times an opacity out of 255, rounded.
const fn faded(channel: u8, alpha: u8) -> u8 {
    // At most 255, so that the low byte is all of it.
    ((channel as u16 * alpha as u16 + 127) / 255).to_le_bytes()[0]
}

/// A colour that the maker gave her paper.
pub(crate) const fn paper(given: model::Colour) -> Color32 {
    let [r, g, b] = given.0;
    colour(Colour::solid(r, g, b))
}

/// A font of the plain face.
pub(crate) const fn plain(size: f32) -> FontId {
    FontId::new(size, FontFamily::Proportional)
}

/// A font of the bold face.
pub(crate) fn bold(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name(BOLD.into()))
}

/// The heading of a pane or of a part of it.
pub(crate) fn heading(text: &str) -> RichText {
    RichText::new(text).font(bold(HEADING)).color(colour(style::DESK_TEXT))
}

/// A caption: what a field or a group is.
pub(crate) fn caption(text: &str) -> RichText {
    RichText::new(text).font(plain(SMALL)).color(colour(style::DESK_TEXT_QUIET))
}

/// What went wrong, beside where it did.
pub(crate) fn complaint(text: &str) -> RichText {
    RichText::new(text).font(plain(SMALL + 0.5)).color(colour(style::FINDING_ERROR))
}

/// The frame of a pane on the desk.
pub(crate) fn pane_frame() -> egui::Frame {
    egui::Frame::new().fill(colour(style::DESK)).inner_margin(Margin::symmetric(MARGIN, 8))
}

/// The frame of a question over the window.
pub(crate) fn dialog_frame() -> egui::Frame {
    egui::Frame::new()
        .fill(colour(style::DESK))
        .stroke(Stroke::new(1.0, colour(style::DESK_LINE)))
        .corner_radius(CornerRadius::same(3))
        .inner_margin(Margin::same(20))
        .shadow(egui::Shadow { offset: [0, 6], blur: 24, spread: 0, color: colour(style::DESK_TEXT.with_alpha(60)) })
}

/// A text on one line, its end left out for dots where it is wider than there is room.
pub(crate) fn shortened(painter: &egui::Painter, text: &str, font: FontId, width: f32) -> Arc<egui::Galley> {
    let mut job = LayoutJob::simple_singleline(text.to_owned(), font, colour(style::DESK_TEXT));
    job.wrap = TextWrapping::truncate_at_width(width.max(0.0));
    painter.layout_job(job)
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let fallback = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    for (name, face) in [("noto", Face::Regular), ("noto-bold", Face::Bold)] {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(face.data())));
    }
    let family = |first: &str| std::iter::once(first.to_owned()).chain(fallback.iter().cloned()).collect::<Vec<_>>();
    fonts.families.insert(FontFamily::Proportional, family("noto"));
    fonts.families.insert(FontFamily::Name(BOLD.into()), family("noto-bold"));
    fonts
}

fn restyle(look: &mut egui::Style) {
    look.text_styles = BTreeMap::from([
        (TextStyle::Small, plain(SMALL)),
        (TextStyle::Body, plain(BODY)),
        (TextStyle::Button, plain(BODY)),
        (TextStyle::Heading, bold(HEADING)),
        (TextStyle::Monospace, FontId::new(BODY, FontFamily::Monospace)),
    ]);
    let spacing = &mut look.spacing;
    spacing.item_spacing = egui::vec2(8.0, 6.0);
    spacing.button_padding = egui::vec2(9.0, 4.0);
    spacing.interact_size = egui::vec2(36.0, 26.0);
    spacing.menu_margin = Margin::same(8);
    spacing.tooltip_width = 320.0;
    spacing.scroll = egui::style::ScrollStyle::thin();
    look.interaction.tooltip_delay = 0.6;
    look.interaction.selectable_labels = false;
    look.animation_time = 0.0;
    let visuals = &mut look.visuals;
    *visuals = egui::Visuals::light();
    visuals.panel_fill = colour(style::DESK);
    visuals.window_fill = colour(style::DESK);
    visuals.window_stroke = Stroke::new(1.0, colour(style::DESK_LINE));
    visuals.window_corner_radius = CornerRadius::same(3);
    visuals.menu_corner_radius = CornerRadius::same(3);
    visuals.extreme_bg_color = colour(style::WHITE);
    visuals.faint_bg_color = colour(style::DESK_RAISED);
    visuals.error_fg_color = colour(style::FINDING_ERROR);
    visuals.warn_fg_color = colour(style::FINDING_WARNING);
    visuals.hyperlink_color = colour(style::SELECTION);
    visuals.weak_text_color = Some(colour(style::DESK_TEXT_QUIET));
    visuals.selection =
        Selection { bg_fill: colour(style::DESK_ACTIVE), stroke: Stroke::new(1.0, colour(style::DESK_TEXT)) };
    visuals.handle_shape = HandleShape::Rect { aspect_ratio: 0.5 };
    visuals.slider_trailing_fill = true;
    visuals.widgets = widgets();
}

fn widgets() -> Widgets {
    let look = |fill: Colour, edge: Colour, width: f32| WidgetVisuals {
        bg_fill: colour(fill),
        weak_bg_fill: colour(fill),
        bg_stroke: Stroke::new(width, colour(edge)),
        corner_radius: CornerRadius::same(3),
        fg_stroke: Stroke::new(1.0, colour(style::DESK_TEXT)),
        expansion: 0.0,
    };
    let quiet_edge = style::DESK_LINE.with_alpha(110);
    Widgets {
        noninteractive: look(style::DESK, quiet_edge, 1.0),
        inactive: look(style::DESK_RAISED, quiet_edge, 1.0),
        hovered: look(style::DESK_HOVER, style::DESK_LINE, 1.0),
        active: look(style::DESK_ACTIVE, style::SELECTION, 1.0),
        open: look(style::DESK_HOVER, style::DESK_LINE, 1.0),
    }
}

/// The ground of a row in a list: selected, under the pointer or in focus. Gives the painter for what is on it.
pub(crate) fn row(ui: &egui::Ui, response: &egui::Response, rect: egui::Rect, selected: bool) -> egui::Painter {
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let fill = match (selected, response.hovered() || response.has_focus()) {
        (true, _) => colour(style::DESK_ACTIVE),
        (false, true) => colour(style::DESK_HOVER),
        (false, false) => egui::Color32::TRANSPARENT,
    };
    painter.rect_filled(rect, 3.0, fill);
    if response.has_focus() {
        let ring = egui::Stroke::new(1.5, colour(style::SELECTION));
        painter.rect_stroke(rect, 3.0, ring, egui::StrokeKind::Inside);
    }
    painter
}

#[cfg(test)]
mod tests {
    use super::*;

    /// sRGB bytes times alpha, by hand.
    #[test]
    fn a_clear_colour_is_premultiplied() {
        let cases = [
            (Colour::solid(10, 20, 30), [10, 20, 30, 255]),
            (Colour::solid(255, 0, 100).with_alpha(0), [0, 0, 0, 0]),
            (Colour::solid(255, 0, 100).with_alpha(51), [51, 0, 20, 51]),
        ];
        for (given, expected) in cases {
            assert_eq!(colour(given).to_array(), expected, "{given:?}");
        }
    }
}
