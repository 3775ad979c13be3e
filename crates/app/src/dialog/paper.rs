//! The paper and the board: units, the folio's paper and further ones, the board's grooves; and the move to another sheet.

use super::{Answer, answers, entered, property, stock, title};
use crate::commands;
use crate::field::{self, Drafts, sentence};
use crate::pane::Scene;
use crate::theme::complaint;
use crate::tip::Tip as _;
use egui::{ComboBox, Id, ScrollArea, TextEdit, Ui};
use model::change::perform;
use model::resize::move_to_sheet;
use model::{Cutting, Document, Edit, FurtherStock, Length, Size, Stock, StockId, Unit, paper};
use session::Command;

/// The most that the fields take of the screen's height, px: a small laptop shows all of the question.
const MOST_HEIGHT: f32 = 640.0;

/// Shows the papers; `shown` is the further one whose fields are seen, else those of the folio's.
pub(super) fn ui(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    drafts: &mut Drafts,
    shown: &mut Option<StockId>,
) -> Option<Answer> {
    title(ui, "Paper and board");
    let most = (ui.ctx().content_rect().height() - 170.0).clamp(120.0, MOST_HEIGHT);
    ScrollArea::vertical().auto_shrink([false, true]).max_height(most).min_scrolled_height(most).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 8.0;
        units(ui, scene);
        board(ui, scene, drafts);
        which(ui, scene, shown);
        match *shown {
            Some(id) => further(ui, scene, drafts, id),
            None => own(ui, scene, drafts),
        }
        cutting(ui, scene, drafts);
        ui.add_space(4.0);
    });
    answers(ui, [("Done", Answer::Never)])
}

fn units(ui: &mut Ui, scene: &mut Scene<'_>) {
    let units = scene.session.document().units;
    ui.horizontal(|ui| {
        ui.label("Lengths are shown in");
        for (unit, label) in
            [(Unit::Inch, "inches"), (Unit::Millimetre, "millimetres"), (Unit::Centimetre, "centimetres")]
        {
            let button = ui.selectable_label(units == unit, label);
            if button.tip(&format!("Show every length of this design in {label}.")).clicked() && units != unit {
                scene.edit("Change the units", Edit::SetUnits(unit));
            }
        }
    });
}

fn board(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
    let document = scene.session.document();
    let units = document.units;
    property(ui, drafts, "board", ("Grooves of the board every", &document.groove.text(units)), |text| {
        let edit = Edit::SetGroove(field::length(text, units)?);
        may(scene, &edit)?;
        scene.edit("Change the board", edit);
        Ok(())
    });
    property(ui, drafts, "board", ("Where the idea came from", &document.credit), |text| {
        scene.edit("Change the credit", Edit::SetCredit(text.to_owned()));
        Ok(())
    });
}

/// How parts are cut from offcuts.
fn cutting(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
    let document = scene.session.document();
    let units = document.units;
    let cutting = document.cutting;
    property(ui, drafts, "board", ("Trim off offcuts before cutting parts", &cutting.edge.text(units)), |text| {
        let edge = field::length(text, units)?;
        if edge < Length::ZERO {
            return Err("What is trimmed off can't be less than nothing; give 0 for clean edges.".to_owned());
        }
        scene.edit("Change the trim of offcuts", Edit::SetCutting(Cutting { edge, ..cutting }));
        Ok(())
    });
    let mut along_grain = cutting.along_grain;
    let tip = "Turn parts so that they fold along the grain, where there is an offcut for them that way.";
    if ui.checkbox(&mut along_grain, "Cut parts so that their folds run along the grain").tip(tip).changed() {
        scene.edit("Change how parts are cut", Edit::SetCutting(Cutting { along_grain, ..cutting }));
    }
}

/// Whether a change can be made; says why not.
fn may(scene: &Scene<'_>, edit: &Edit) -> Result<(), String> {
    let session = scene.session;
    let tried = perform(session.document(), &session.derived().layout, edit.clone());
    tried.map(drop).map_err(|refusal| sentence(&refusal.to_string()))
}

/// The papers by name, and a button for another one.
fn which(ui: &mut Ui, scene: &mut Scene<'_>, shown: &mut Option<StockId>) {
    let document = scene.session.document();
    // One that has been removed is not there to be shown.
    *shown = shown.filter(|id| document.further_stock(*id).is_some());
    ui.horizontal_wrapped(|ui| {
        let tip = "Show the paper that the folio is cut from.";
        if ui.selectable_label(shown.is_none(), "The folio's paper").tip(tip).clicked() {
            *shown = None;
        }
        for (at, further) in document.further_stocks.iter().enumerate() {
            let name = match further.stock.name.as_str() {
                "" => format!("Paper {}", at + 2),
                name => name.to_owned(),
            };
            let button = ui.selectable_label(*shown == Some(further.id), name);
            if button.tip("Show this paper, which parts can be cut from.").clicked() {
                *shown = Some(further.id);
            }
        }
        let room = document.further_stocks.len() < Document::MOST_STOCKS;
        let button = ui.add_enabled(room, egui::Button::new("Add a paper"));
        if button.tip("Add another paper, which parts can be cut from.").clicked() {
            let id = next_id(document);
            let mut stocks = document.further_stocks.clone();
            stocks.push(FurtherStock { id, stock: Stock::plain(document.stock.size) });
            scene.edit("Add a paper", Edit::SetFurtherStocks(stocks));
            *shown = Some(id);
        }
    });
}

/// An id that no further paper has.
fn next_id(document: &Document) -> StockId {
    let free = (1..).find(|&id| document.further_stock(StockId(id)).is_none());
    // There are fewer papers than numbers.
    StockId(free.unwrap_or_default())
}

fn own(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
    let session = scene.session;
    let document = session.document();
    let units = document.units;
    let changed =
        stock::ui(ui, drafts, ("own", &document.stock, units), &|stock| may(scene, &Edit::SetStock(stock.clone())));
    if let Some(stock) = changed {
        scene.edit("Change the paper", Edit::SetStock(stock));
    }
    commands::button(ui, scene, Command::MoveSheet);
}

fn further(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, id: StockId) {
    let document = scene.session.document();
    let Some(now) = document.further_stock(id) else { return };
    let key = format!("further {}", id.0);
    if let Some(stock) = stock::ui(ui, drafts, (&key, now, document.units), &|_| Ok(())) {
        let with = |further: &FurtherStock| match further.id == id {
            true => FurtherStock { id, stock: stock.clone() },
            false => further.clone(),
        };
        let stocks = document.further_stocks.iter().map(with).collect();
        scene.edit("Change the paper", Edit::SetFurtherStocks(stocks));
    }
    if ui.button("Remove this paper").tip("Take this paper out of the design.").clicked() {
        let left = document.further_stocks.iter().filter(|further| further.id != id).cloned().collect();
        scene.edit("Remove a paper", Edit::SetFurtherStocks(left));
    }
}

/// The question how large the other sheet is; the move is made when the answer will do.
pub(super) fn move_sheet(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    size: &mut String,
    why_not: &mut Option<String>,
) -> Option<Answer> {
    title(ui, "Move to another sheet");
    ui.add(
        egui::Label::new("Panels grow or shrink with the sheet; gussets and narrow strips keep their width.").wrap(),
    );
    let label = ui.label("How large is the other sheet? Such as \"8 x 8 in\", \"A4\" or \"letter\".");
    let mut go = false;
    ui.horizontal(|ui| {
        let edit = TextEdit::singleline(size).id(Id::unique("other sheet size")).desired_width(220.0);
        let response = ui.add(edit).labelled_by(label.id).accessible_name("Size of the other sheet");
        let response = response.tip("How large it is: two lengths with a unit, or the name of a paper size.");
        if response.changed() {
            *why_not = None;
        }
        go = entered(ui, &response, size, why_not.is_some());
        named_sizes(ui, size, why_not);
    });
    if let Some(text) = why_not {
        ui.add(egui::Label::new(complaint(text)).wrap());
    }
    match answers(ui, [("Move", Answer::Stay), ("Keep this sheet", Answer::Never)]) {
        Some(Answer::Stay) => go = true,
        Some(other) => return Some(other),
        None => {}
    }
    if go { moved(scene, size, why_not) } else { None }
}

/// Sizes by name, put into the field.
fn named_sizes(ui: &mut Ui, size: &mut String, why_not: &mut Option<String>) {
    ComboBox::from_id_salt("named sizes")
        .selected_text("Named sizes")
        .show_ui(ui, |ui| {
            for name in paper::names() {
                if ui.selectable_label(false, name).clicked() {
                    name.clone_into(size);
                    *why_not = None;
                }
            }
        })
        .response
        .accessible_name("Named sizes")
        .tip("Put a paper size into the field by its name.");
}

/// Asks for the move, and is done; or says why it can't be.
fn moved(scene: &mut Scene<'_>, size: &str, why_not: &mut Option<String>) -> Option<Answer> {
    let session = scene.session;
    let (document, layout) = (session.document(), &session.derived().layout);
    let edit = Size::parse(size).map_err(|error| error.to_string()).and_then(|size| {
        let stock = Stock { size, ..document.stock.clone() };
        let edit = move_to_sheet(document, layout, stock).map_err(|refusal| refusal.to_string())?;
        perform(document, layout, edit.clone()).map_err(|refusal| refusal.to_string())?;
        Ok(edit)
    });
    match edit {
        Ok(edit) => {
            scene.edit("Move to another sheet", edit);
            Some(Answer::Never)
        }
        Err(why) => {
            *why_not = Some(sentence(&why));
            None
        }
    }
}
