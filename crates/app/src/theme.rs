//! How the window looks: colours, type and spacing, all taken from the one palette in [`draw::style`].
//!
//! The window is a table with a sheet on it: a warm desk, a darker table top under the paper, ink for what matters.
//! Nothing here decides what is shown.

use draw::style::{self, Colour};
use draw::text::Face;
use egui::style::{HandleShape, Selection, WidgetVisuals, Widgets};
use egui::text::{LayoutJob, TextWrapping};
use egui::{Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, RichText, Stroke, TextStyle};
use serde::{Deserialize, Serialize};
use std::cell::Cell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Light or dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(crate) enum Tone {
    /// A light desk.
    #[default]
    Light,
    /// A dark one. Paper keeps its own colours.
    Dark,
}

/// The colours of the desk that the sheet lies on; paper, and all that is drawn on it, has its own in [`draw::style`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Palette {
    /// The desk: panes beside the sheet.
    pub(crate) desk: Colour,
    /// Buttons and rulers on it.
    pub(crate) raised: Colour,
    /// A button or row under the pointer.
    pub(crate) hover: Colour,
    /// A button pressed or switched on, a row selected.
    pub(crate) active: Colour,
    /// The ground of a field.
    pub(crate) field: Colour,
    /// The table under the paper.
    pub(crate) table: Colour,
    /// Frames of fields and lines between panes.
    pub(crate) line: Colour,
    /// Text.
    pub(crate) text: Colour,
    /// Secondary text.
    pub(crate) quiet: Colour,
    /// What is selected or in focus, beside the paper.
    pub(crate) selection: Colour,
    /// A finding that stops the work, and what was refused.
    pub(crate) error: Colour,
    /// A finding to look at before cutting.
    pub(crate) warning: Colour,
    /// A finding to know about.
    pub(crate) note: Colour,
    /// That all is well.
    pub(crate) good: Colour,
    /// What a shadow is made of.
    pub(crate) shadow: Colour,
}

/// By day.
const LIGHT: Palette = Palette {
    desk: style::DESK,
    raised: style::DESK_RAISED,
    hover: style::DESK_HOVER,
    active: style::DESK_ACTIVE,
    field: style::WHITE,
    table: style::TABLE,
    line: style::DESK_LINE,
    text: style::DESK_TEXT,
    quiet: style::DESK_TEXT_QUIET,
    selection: style::SELECTION,
    error: style::FINDING_ERROR,
    warning: style::FINDING_WARNING,
    note: style::FINDING_NOTE,
    good: style::VALLEY_INK,
    shadow: style::DESK_TEXT,
};

/// By night: the same hues turned round, warm greys under light ink.
const DARK: Palette = Palette {
    desk: Colour::solid(0x29, 0x27, 0x24),
    raised: Colour::solid(0x3A, 0x37, 0x33),
    hover: Colour::solid(0x47, 0x43, 0x3E),
    active: Colour::solid(0x24, 0x48, 0x5E),
    field: Colour::solid(0x1C, 0x1B, 0x19),
    table: Colour::solid(0x48, 0x45, 0x40),
    line: Colour::solid(0x8E, 0x88, 0x7E),
    text: Colour::solid(0xF1, 0xEE, 0xE8),
    quiet: Colour::solid(0xC4, 0xBE, 0xB4),
    selection: Colour::solid(0x6B, 0xBC, 0xEC),
    error: Colour::solid(0xFF, 0xA2, 0x6B),
    warning: Colour::solid(0xE6, 0xC4, 0x5C),
    note: Colour::solid(0x8C, 0xCB, 0xF2),
    good: Colour::solid(0x63, 0xD2, 0xAC),
    shadow: Colour::solid(0x00, 0x00, 0x00),
};

thread_local! {
    /// The tone of the window that is being drawn. Text and frames are made in many places that have no context at hand.
    static TONE: Cell<Tone> = const { Cell::new(Tone::Light) };
}

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
    // The size of the interface is a command of the table.
    ctx.options_mut(|options| {
        options.zoom_with_keyboard = false;
        // As long as most desktops allow (common practice, no source): a slow screen must not eat a double click.
        options.input_options.max_double_click_delay = 0.5;
    });
    set_tone(ctx, Tone::Light);
}

/// Lays out the window's colours by day or by night.
pub(crate) fn set_tone(ctx: &egui::Context, tone: Tone) {
    use_tone(tone);
    ctx.set_theme(match tone {
        Tone::Light => egui::Theme::Light,
        Tone::Dark => egui::Theme::Dark,
    });
    ctx.all_styles_mut(|look| restyle(look, tone));
}

/// Chooses the palette for what is drawn next on this thread. A window says so at the start of each frame.
pub(crate) fn use_tone(tone: Tone) {
    TONE.set(tone);
}

/// The palette of the window that is being drawn.
pub(crate) fn palette() -> &'static Palette {
    match TONE.get() {
        Tone::Light => &LIGHT,
        Tone::Dark => &DARK,
    }
}

/// An ink made for paper, so mixed that it is also seen on a raised ground of the desk: 3 : 1, the least at which a line
/// is seen (WCAG 2.2, 1.4.11).
pub(crate) fn seen(ink: Colour) -> Colour {
    let Palette { raised, text, .. } = *palette();
    let mut mixes = (0..=u8::MAX).step_by(15).map(|parts| ink.mixed(text, parts));
    mixes.find(|mix| mix.contrast(raised) >= 3.0).unwrap_or(text)
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
    RichText::new(text).font(bold(HEADING)).color(colour(palette().text))
}

/// A caption: what a field or a group is.
pub(crate) fn caption(text: &str) -> RichText {
    RichText::new(text).font(plain(SMALL)).color(colour(palette().quiet))
}

/// What went wrong, beside where it did.
pub(crate) fn complaint(text: &str) -> RichText {
    RichText::new(text).font(plain(SMALL + 0.5)).color(colour(palette().error))
}

/// The frame of a pane on the desk.
pub(crate) fn pane_frame() -> egui::Frame {
    egui::Frame::new().fill(colour(palette().desk)).inner_margin(Margin::symmetric(MARGIN, 8))
}

/// The frame of a question over the window.
pub(crate) fn dialog_frame() -> egui::Frame {
    egui::Frame::new()
        .fill(colour(palette().desk))
        .stroke(Stroke::new(1.0, colour(palette().line)))
        .corner_radius(CornerRadius::same(3))
        .inner_margin(Margin::same(20))
        .shadow(egui::Shadow { offset: [0, 6], blur: 24, spread: 0, color: colour(palette().shadow.with_alpha(60)) })
}

/// A text on one line, its end left out for dots where it is wider than there is room.
pub(crate) fn shortened(painter: &egui::Painter, text: &str, font: FontId, width: f32) -> Arc<egui::Galley> {
    let mut job = LayoutJob::simple_singleline(text.to_owned(), font, colour(palette().text));
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

fn restyle(look: &mut egui::Style, tone: Tone) {
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
    *visuals = match tone {
        Tone::Light => egui::Visuals::light(),
        Tone::Dark => egui::Visuals::dark(),
    };
    visuals.panel_fill = colour(palette().desk);
    visuals.window_fill = colour(palette().desk);
    visuals.window_stroke = Stroke::new(1.0, colour(palette().line));
    visuals.window_corner_radius = CornerRadius::same(3);
    visuals.menu_corner_radius = CornerRadius::same(3);
    visuals.extreme_bg_color = colour(palette().field);
    visuals.faint_bg_color = colour(palette().raised);
    visuals.error_fg_color = colour(palette().error);
    visuals.warn_fg_color = colour(palette().warning);
    visuals.hyperlink_color = colour(palette().selection);
    visuals.weak_text_color = Some(colour(palette().quiet));
    visuals.selection =
        Selection { bg_fill: colour(palette().active), stroke: Stroke::new(1.0, colour(palette().text)) };
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
        fg_stroke: Stroke::new(1.0, colour(palette().text)),
        expansion: 0.0,
    };
    let quiet_edge = palette().line.with_alpha(110);
    Widgets {
        noninteractive: look(palette().desk, quiet_edge, 1.0),
        inactive: look(palette().raised, quiet_edge, 1.0),
        hovered: look(palette().hover, palette().line, 1.0),
        active: look(palette().active, palette().selection, 1.0),
        open: look(palette().hover, palette().line, 1.0),
    }
}

/// The ground of a row in a list: selected, under the pointer or in focus. Gives the painter for what is on it.
pub(crate) fn row(ui: &egui::Ui, response: &egui::Response, rect: egui::Rect, selected: bool) -> egui::Painter {
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let fill = match (selected, response.hovered() || response.has_focus()) {
        (true, _) => colour(palette().active),
        (false, true) => colour(palette().hover),
        (false, false) => egui::Color32::TRANSPARENT,
    };
    painter.rect_filled(rect, 3.0, fill);
    if response.has_focus() {
        let ring = egui::Stroke::new(1.5, colour(palette().selection));
        painter.rect_stroke(rect, 3.0, ring, egui::StrokeKind::Inside);
    }
    painter
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.2, 1.4.3 (text, 4.5 : 1) and 1.4.11 (what tells a field or a state, 3 : 1).
    #[test]
    fn by_day_and_by_night_everything_can_be_read() {
        for (name, of) in [("light", LIGHT), ("dark", DARK)] {
            let Palette { desk, raised, hover, active, field, .. } = of;
            let check = |ink: Colour, what: &str, grounds: &[Colour], least: f64| {
                for &ground in grounds {
                    let contrast = ink.contrast(ground);
                    assert!(contrast >= least, "{name}: {what} on {ground:?} has {contrast:.2}");
                }
            };
            check(of.text, "text", &[desk, raised, hover, active, field, of.table], 4.5);
            check(of.quiet, "quiet text", &[desk, raised, active, field], 4.5);
            check(of.error, "an error", &[desk, field], 4.5);
            for (ink, what) in [(of.warning, "a warning"), (of.note, "a note"), (of.good, "all well")] {
                check(ink, what, &[desk], 4.5);
                check(ink, what, &[active], 3.0);
            }
            check(of.selection, "the focus", &[desk, raised, field], 3.0);
            check(of.line, "a frame", &[desk], 3.0);
        }
    }

    #[test]
    fn inks_for_paper_are_seen_on_the_desk_too() {
        for tone in [Tone::Light, Tone::Dark] {
            use_tone(tone);
            for ink in [style::CUT_INK, style::VALLEY_INK, style::MOUNTAIN_INK, style::EITHER_INK, style::DIMENSION] {
                assert!(seen(ink).contrast(palette().raised) >= 3.0, "{tone:?}: {ink:?}");
            }
        }
        use_tone(Tone::Light);
        assert_eq!(seen(style::CUT_INK), style::CUT_INK, "a dark ink on a light desk is as it is");
    }

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
