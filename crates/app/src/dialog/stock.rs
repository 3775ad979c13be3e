//! The fields of one paper: its size, weight, thickness, faces, grain and core.

use super::{hinted, property};
use crate::field::{self, Drafts, sentence};
use crate::theme::{self, caption};
use crate::tip::Tip as _;
use egui::{ComboBox, Sense, Ui, Vec2};
use model::{Bulk, Caliper, Colour, Face, Grain, Length, Pattern, SheetEdge, Size, Stock, Unit, Weight};

/// Shows the fields of a paper; `key` tells them from those of another. Gives the paper as it would be, when something was
/// changed; `may` says why it can't be so.
pub(super) fn ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    (key, stock, units): (&str, &Stock, Unit),
    may: &dyn Fn(&Stock) -> Result<(), String>,
) -> Option<Stock> {
    let mut next = stock.clone();
    let mut changed = false;
    let mut take = |new: Stock| -> Result<(), String> {
        may(&new)?;
        next = new;
        changed = true;
        Ok(())
    };
    let of = (key, stock);
    ui.columns(2, |column| {
        name(&mut column[0], drafts, of, &mut take);
        size(&mut column[1], drafts, of, units, &mut take);
    });
    ui.columns(2, |column| {
        weight(&mut column[0], drafts, of, &mut take);
        known(&mut column[1], stock, &mut take);
    });
    ui.columns(2, |column| caliper(column, drafts, (key, stock, units), &mut take));
    ui.add(egui::Label::new(caption(&thickness(stock))).wrap());
    for face in [Face::Front, Face::Back] {
        ui.columns(2, |column| side(column, drafts, (key, stock, face), &mut take));
    }
    ui.columns(2, |column| {
        grain(&mut column[0], stock, &mut take);
        colour(&mut column[1], drafts, (key, "Colour where it is cut", stock.core), |core| {
            take(Stock { core, ..stock.clone() })
        });
    });
    changed.then_some(next)
}

type Take<'a> = dyn FnMut(Stock) -> Result<(), String> + 'a;

fn name(ui: &mut Ui, drafts: &mut Drafts, (key, stock): (&str, &Stock), take: &mut Take<'_>) {
    property(ui, drafts, key, ("Name of the paper", &stock.name), |text| {
        take(Stock { name: text.to_owned(), ..stock.clone() })
    });
}

fn size(ui: &mut Ui, drafts: &mut Drafts, (key, stock): (&str, &Stock), units: Unit, take: &mut Take<'_>) {
    property(ui, drafts, key, ("Size of the sheet", &stock.size.text(units)), |text| {
        let size = Size::parse(text).map_err(|error| sentence(&error.to_string()))?;
        take(Stock { size, ..stock.clone() })
    });
}

fn weight(ui: &mut Ui, drafts: &mut Drafts, (key, stock): (&str, &Stock), take: &mut Take<'_>) {
    let weight = stock.weight.map(|weight| weight.to_string()).unwrap_or_default();
    hinted(ui, drafts, key, ("Weight", &weight, "80 lb cover or 216 g/m2"), |text| {
        let weight = if text.is_empty() { None } else { Some(Weight::parse(text).map_err(|why| sentence(&why))?) };
        take(Stock { weight, ..stock.clone() })
    });
}

/// How the thickness is known.
fn known(ui: &mut Ui, stock: &Stock, take: &mut Take<'_>) {
    let kinds = [
        ("measured", Caliper::Measured(stock.thickness().unwrap_or(Stock::USUAL_CALIPER))),
        ("estimated from its bulk", Caliper::FromBulk(Bulk::USUAL[2].1)),
        ("not known", Caliper::Unknown),
    ];
    let is = |kind: &Caliper| std::mem::discriminant(kind) == std::mem::discriminant(&stock.caliper);
    let shown = kinds.iter().find(|(_, kind)| is(kind)).map_or("", |(name, _)| *name);
    let options: Vec<(Caliper, &str)> = kinds.iter().map(|(name, kind)| (*kind, *name)).collect();
    titled(ui, "Thickness", |ui| {
        if let Some(caliper) = choice(ui, "How the thickness is known", shown, &options, is) {
            // A way to know it that the paper can be in is never refused.
            drop(take(Stock { caliper, ..stock.clone() }));
        }
    });
}

/// The figure that the thickness is known by.
fn caliper(column: &mut [Ui], drafts: &mut Drafts, (key, stock, units): (&str, &Stock, Unit), take: &mut Take<'_>) {
    let [left, right] = column else { return };
    match stock.caliper {
        Caliper::Unknown => {}
        Caliper::Measured(thick) => {
            property(left, drafts, key, ("Thickness of the paper", &thick.text(units)), |text| {
                let thick = field::length(text, units)?;
                if thick <= Length::ZERO {
                    return Err("A sheet is thicker than nothing.".to_owned());
                }
                take(Stock { caliper: Caliper::Measured(thick), ..stock.clone() })
            });
        }
        Caliper::FromBulk(bulk) => {
            property(left, drafts, key, ("Bulk, cm³/g", &bulk.to_string()), |text| {
                let bulk = Bulk::parse(text).map_err(|why| sentence(&why))?;
                take(Stock { caliper: Caliper::FromBulk(bulk), ..stock.clone() })
            });
            let usual = Bulk::USUAL.iter().find(|(_, usual)| *usual == bulk).map_or("another finish", |(name, _)| name);
            let options: Vec<(Bulk, &str)> = Bulk::USUAL.iter().map(|(name, bulk)| (*bulk, *name)).collect();
            titled(right, "Finish", |ui| {
                if let Some(bulk) = choice(ui, "Finish of the paper", usual, &options, |other| *other == bulk) {
                    drop(take(Stock { caliper: Caliper::FromBulk(bulk), ..stock.clone() }));
                }
            });
        }
    }
}

/// What is known of a paper's thickness, in a sentence. In millimetres, since no ruler has marks so fine.
fn thickness(stock: &Stock) -> String {
    let known = stock.thickness().map(|thick| thick.readable(Unit::Millimetre));
    match (stock.caliper, known, stock.weight) {
        (Caliper::Measured(_), Some(thick), _) => sentence(&format!("{thick} thick, as measured")),
        (Caliper::FromBulk(bulk), Some(thick), Some(weight)) => {
            let grams = weight.grammage();
            sentence(&format!("{thick} thick: {grams:.0} g/m² at a bulk of {bulk} cm³/g"))
        }
        (Caliper::FromBulk(_), _, _) => "Say how heavy it is, and the thickness follows from its bulk.".to_owned(),
        _ => "Without a thickness nothing is said of how thick the folio gets.".to_owned(),
    }
}

fn side(column: &mut [Ui], drafts: &mut Drafts, (key, stock, face): (&str, &Stock, Face), take: &mut Take<'_>) {
    let [left, right] = column else { return };
    let (title, name, colour_name) = match face {
        Face::Front => ("Front", "Pattern of the front", "Colour of the front"),
        Face::Back => ("Back", "Pattern of the back", "Colour of the back"),
    };
    let one_way = SheetEdge::ALL.map(Pattern::OneWay);
    let options: Vec<(Pattern, &str)> = [Pattern::Plain, Pattern::AnyWay]
        .into_iter()
        .chain(one_way)
        .map(|pattern| (pattern, pattern_name(pattern)))
        .collect();
    let side = stock.side(face);
    let with = |change: &dyn Fn(&mut model::Side)| {
        let mut next = stock.clone();
        change(next.side_mut(face));
        next
    };
    titled(left, title, |ui| {
        let now = side.pattern;
        if let Some(pattern) = choice(ui, name, pattern_name(now), &options, |other| *other == now) {
            drop(take(with(&|side| side.pattern = pattern)));
        }
    });
    colour(right, drafts, (key, colour_name, side.colour), |colour| take(with(&|side| side.colour = colour)));
}

const fn pattern_name(pattern: Pattern) -> &'static str {
    match pattern {
        Pattern::Plain => "plain",
        Pattern::AnyWay => "printed, any way up",
        Pattern::OneWay(SheetEdge::Top) => "printed, up to the top",
        Pattern::OneWay(SheetEdge::Right) => "printed, up to the right",
        Pattern::OneWay(SheetEdge::Bottom) => "printed, up to the bottom",
        Pattern::OneWay(SheetEdge::Left) => "printed, up to the left",
    }
}

fn grain(ui: &mut Ui, stock: &Stock, take: &mut Take<'_>) {
    let options =
        [(None, "not known"), (Some(Grain::Upright), "from top to bottom"), (Some(Grain::Level), "from side to side")];
    let shown = options.iter().find(|(grain, _)| *grain == stock.grain).map_or("", |(_, name)| *name);
    titled(ui, "Grain", |ui| {
        if let Some(grain) = choice(ui, "Way the grain runs", shown, &options, |other| *other == stock.grain) {
            drop(take(Stock { grain, ..stock.clone() }));
        }
    });
}

/// A field for a colour, with a sample of it; empty for none.
fn colour(
    ui: &mut Ui,
    drafts: &mut Drafts,
    (key, name, now): (&str, &str, Option<Colour>),
    mut take: impl FnMut(Option<Colour>) -> Result<(), String>,
) {
    let shown = now.map(|colour| colour.to_string()).unwrap_or_default();
    hinted(ui, drafts, key, (name, &shown, "#7a9b3c"), |text| {
        if text.is_empty() {
            return take(None);
        }
        let wrong = || format!("\"{text}\" is not a colour; write it as # and six digits, such as #7a9b3c.");
        take(Some(Colour::parse(text).ok_or_else(wrong)?))
    });
    if let Some(colour) = now {
        let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), 6.0), Sense::hover());
        ui.painter().rect_filled(rect, 2.0, theme::paper(colour));
    }
}

fn titled(ui: &mut Ui, title: &str, add: impl FnOnce(&mut Ui)) {
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.label(caption(title)).explained(title);
        add(ui);
    });
}

/// A choice among few things; gives one that there is not now.
fn choice<T: Copy>(ui: &mut Ui, name: &str, shown: &str, options: &[(T, &str)], is: impl Fn(&T) -> bool) -> Option<T> {
    let mut chosen = None;
    ComboBox::from_id_salt(name)
        .width(ui.available_width())
        .truncate()
        .selected_text(shown)
        .show_ui(ui, |ui| {
            for (option, text) in options {
                if ui.selectable_label(is(option), *text).clicked() && !is(option) {
                    chosen = Some(*option);
                }
            }
        })
        .response
        .accessible_name(name)
        .tip(&format!("{name}: opens a list to choose from."));
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(weight: &str, caliper: Caliper, expected: &str) {
        let weight = Weight::parse(weight).ok();
        let stock = Stock { weight, caliper, ..Stock::plain(Size::parse("12x12in").unwrap()) };
        assert_eq!(thickness(&stock), expected);
    }

    #[test]
    fn a_thickness_is_told_with_where_it_comes_from() {
        check("", Caliper::Measured(Length::from_nm(280_000)), "0.28 mm thick, as measured.");
        // 80 lb cover is 216.3 g/m² (printers' tables); times 1.25 µm a g/m² that is 0.270 mm.
        let smooth = Caliper::FromBulk(Bulk::parse("1.25").unwrap());
        check("80 lb cover", smooth, "About 0.27 mm thick: 216 g/m² at a bulk of 1.25 cm³/g.");
        check("", smooth, "Say how heavy it is, and the thickness follows from its bulk.");
    }
}
