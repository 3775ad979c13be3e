//! What should go in, and the folio that comes of it.

use super::{Answer, answers, title};
use crate::field::{self, Drafts, Field, sentence};
use crate::form;
use crate::going_in::{Answer as Outcome, Found, GoingIn, Wish};
use crate::icon::Icon;
use crate::paint;
use crate::pane::Scene;
use crate::theme::{caption, colour, complaint, palette};
use crate::tip::Tip as _;
use crate::view_transform::ViewTransform;
use contents::{MOST_OF_IT, MOST_THINGS, Thing};
use egui::{Id, Layout, ScrollArea, Sense, Ui, Vec2, WidgetInfo, accesskit};
use model::{Length, Size, Stock, Unit};

/// Width of the dialog, px: with its margins it fits the narrowest window.
pub(super) const WIDTH: f32 = 980.0;

/// Width of the form, px.
const FORM: f32 = 560.0;

/// What the dialog takes of the window's height beside its columns, px.
const BESIDE: f32 = 180.0;

/// The least and the greatest height of its columns, px.
const HEIGHT: (f32, f32) = (300.0, 560.0);

/// Widths of the fields of a thing, px: name, how many, width, height, thickness.
const COLUMNS: [f32; 5] = [150.0, 56.0, 80.0, 80.0, 80.0];

/// Shows the form at the left and what comes of it at the right.
pub(super) fn ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, going_in: &mut GoingIn) -> Option<super::Answer> {
    title(ui, "New for what goes in");
    let height = (ui.ctx().content_rect().height() - BESIDE).clamp(HEIGHT.0, HEIGHT.1);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 20.0;
        column(ui, Vec2::new(FORM, height), |ui| {
            let wish = going_in.wish(scene.session.document());
            ScrollArea::vertical().id_salt("form").auto_shrink(false).show(ui, |ui| show_form(ui, drafts, wish));
        });
        let ctx = ui.ctx().clone();
        let width = ui.available_width();
        column(ui, Vec2::new(width, height), |ui| match going_in.answer(&ctx) {
            None => {
                ui.label(caption("Working it out…"));
            }
            Some(Err(why)) => {
                ui.add(egui::Label::new(complaint(&sentence(why))).wrap());
            }
            Some(Ok(found)) => show_found(ui, found),
        });
    });
    if matches!(going_in.answer(ui.ctx()), Some(Outcome::Ok(_))) {
        answers(ui, [("Begin this folio", Answer::Contents), ("Keep editing", Answer::Never)])
    } else {
        answers(ui, [("Keep editing", Answer::Never)])
    }
}

fn column(ui: &mut Ui, size: Vec2, add: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(size, Layout::top_down(egui::Align::Min), |ui| {
        ui.set_min_size(size);
        ui.set_max_size(size);
        ui.spacing_mut().item_spacing = Vec2::new(8.0, 6.0);
        add(ui);
    });
}

fn show_form(ui: &mut Ui, drafts: &mut Drafts, wish: &mut Wish) {
    ui.horizontal(|ui| {
        ui.label("Lengths are said in");
        let units = [(Unit::Inch, "inches"), (Unit::Millimetre, "millimetres"), (Unit::Centimetre, "centimetres")];
        if let Some(unit) = form::buttons(ui, &units, wish.unit) {
            wish.set_unit(unit);
        }
    });
    ui.columns(3, |columns| {
        let unit = wish.unit;
        sheet(&mut columns[0], drafts, &mut wish.stock, unit);
        let stock = &mut wish.stock;
        let shown = stock.thickness().unwrap_or(Stock::USUAL_CALIPER).text(unit);
        let tip = "How thick one sheet of the paper is; gussets are wide enough for its layers.";
        under(&mut columns[1], drafts, ("Thickness of the paper", &shown, tip), |text| {
            GoingIn::set_caliper(stock, field::length(text, unit)?)
        });
        let groove = &mut wish.groove;
        let shown = groove.text(unit);
        let tip = "How far apart the grooves of your scoring board are; every measure is a whole number of them.";
        under(&mut columns[2], drafts, ("Grooves of the board every", &shown, tip), |text| {
            *groove = above_zero(field::length(text, unit)?)?;
            Ok(())
        });
    });
    ui.add_space(4.0);
    heads(ui);
    let mut gone = None;
    let unit = wish.unit;
    for (at, (number, thing)) in wish.things.iter_mut().enumerate() {
        if row(ui, drafts, (at, *number), thing, unit) {
            gone = Some(at);
        }
    }
    if let Some(at) = gone {
        wish.things.remove(at);
    }
    let room = wish.things.len() < MOST_THINGS;
    let button = ui.add_enabled(room, egui::Button::new("Add a thing"));
    if button.tip("Add a row for something else that should go in.").clicked() {
        wish.add();
    }
}

fn sheet(ui: &mut Ui, drafts: &mut Drafts, stock: &mut Stock, unit: Unit) {
    let shown = stock.size.text(unit);
    let tip = "How large the sheet is that the folio is made from, such as \"12 x 12 in\" or \"A4\".";
    under(ui, drafts, ("Size of the sheet", &shown, tip), |text| {
        stock.size = Size::parse(text).map_err(|error| sentence(&error.to_string()))?;
        Ok(())
    });
}

/// A field under its name.
fn under(
    ui: &mut Ui,
    drafts: &mut Drafts,
    (name, shown, tip): (&str, &str, &str),
    take: impl FnOnce(&str) -> Result<(), String>,
) {
    let id = Id::unique(("going in", name));
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.label(caption(name)).explained(name);
        drafts.told(ui, Field { id, name, shown, hint: "", width: f32::INFINITY }, tip, take);
        drafts.say_why(ui, id);
    });
}

/// What stands over the rows.
fn heads(ui: &mut Ui) {
    ui.horizontal(|ui| {
        for (word, width) in ["What goes in", "Number", "Width", "Height", "Thickness"].into_iter().zip(COLUMNS) {
            let left = Layout::left_to_right(egui::Align::Center);
            ui.allocate_ui_with_layout(Vec2::new(width, 16.0), left, |ui| {
                ui.set_min_width(width);
                ui.add(egui::Label::new(caption(word)).extend());
            });
        }
    });
}

/// The fields of one thing; says whether it is to go.
fn row(ui: &mut Ui, drafts: &mut Drafts, (at, number): (usize, u32), thing: &mut Thing, unit: Unit) -> bool {
    let what = if thing.name.is_empty() { format!("thing {}", at + 1) } else { thing.name.clone() };
    let id = |field: &str| Id::unique(("going in", number, field));
    let mut gone = false;
    ui.horizontal(|ui| {
        let field = |word: &str, width: f32| (id(word), format!("{word} of {what}"), width);
        let (name_id, name, width) = field("Name", COLUMNS[0]);
        let shown = thing.name.clone();
        let hint = "What is it?";
        let tip = "What it is called, on the sheet and in the order of making.";
        drafts.told(ui, Field { id: name_id, name: &name, shown: &shown, hint, width }, tip, |text| {
            thing.name = text.to_owned();
            Ok(())
        });
        let (count_id, name, width) = field("Number", COLUMNS[1]);
        let shown = thing.count.to_string();
        let tip = "How many of it go in, one on another.";
        drafts.told(ui, Field { id: count_id, name: &name, shown: &shown, hint: "", width }, tip, |text| {
            thing.count = count(text)?;
            Ok(())
        });
        let measures = [
            ("Width", "How wide one is as it is read.", &mut thing.width),
            ("Height", "How high one is as it is read.", &mut thing.height),
            ("Thickness", "How thick one is.", &mut thing.thickness),
        ];
        for ((word, tip, measure), column) in measures.into_iter().zip(&COLUMNS[2..]) {
            let (id, name, width) = field(word, *column);
            let shown = measure.text(unit);
            drafts.told(ui, Field { id, name: &name, shown: &shown, hint: "", width }, tip, |text| {
                *measure = above_zero(field::length(text, unit)?)?;
                Ok(())
            });
        }
        gone = Icon::Close.small(ui, &format!("Leave {what} out")).clicked();
    });
    for word in ["Number", "Width", "Height", "Thickness"] {
        drafts.say_why(ui, id(word));
    }
    gone
}

fn above_zero(length: Length) -> Result<Length, String> {
    if length > Length::ZERO { Ok(length) } else { Err("Give more than 0.".to_owned()) }
}

fn count(text: &str) -> Result<u32, String> {
    let number = text.parse::<u32>().ok().filter(|number| (1..=MOST_OF_IT).contains(number));
    number.ok_or_else(|| format!("\"{text}\" is no count; give a whole number from 1 to {MOST_OF_IT}."))
}

/// The sheet with its lines, and its measures in words.
fn show_found(ui: &mut Ui, found: &Found) {
    let words = 15.5 * f32::from(u8::try_from(found.said.len()).unwrap_or(u8::MAX));
    let height = (ui.available_height() - words - 12.0).max(120.0);
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), height), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Image, true, "The sheet of this folio"));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 4.0, colour(palette().table));
    let view = ViewTransform::fitting(found.board.rect(), rect, 10.0);
    paint::paint(&painter, &found.nodes, &view);
    ScrollArea::vertical().id_salt("measures").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for sentence in &found.said {
            ui.add(egui::Label::new(caption(sentence)).wrap());
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_count_is_a_whole_number_of_things() {
        assert_eq!(count("4"), Ok(4));
        for text in ["0", "-1", "1.5", "many", "10001", "99999999999"] {
            assert!(count(text).unwrap_err().contains("from 1 to 10000"), "{text}");
        }
        assert!(above_zero(Length::ZERO).is_err() && above_zero(Length::INCH).is_ok());
    }
}
