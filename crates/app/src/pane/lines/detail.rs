//! The selected line in detail.

use super::{distance, ends, run, several, work};
use crate::commands;
use crate::field::{Drafts, Field};
use crate::form::row;
use crate::naming::{StepNames, measured_from, where_it_lies};
use crate::pane::{Scene, try_edit};
use crate::theme::{SMALL, bold, caption, colour, palette, plain};
use crate::tip::Tip as _;
use egui::{ComboBox, Id, RichText, Ui};
use model::change::{fold_alone, fold_in_step};
use model::{Datum, Document, Edit, Layout, Length, Line, LineId, Place};
use session::Command;

/// Shows what the selected line is and lets every part of it be changed.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
    let session = scene.session;
    let Some(line) = session.selected().line().and_then(|id| session.document().line(id)) else { return };
    let document = session.document();
    ui.label(RichText::new(document.line_name(line.id)).font(bold(14.0)));
    // Room for two lines, so that no row moves when it takes one more or less.
    let line_of_text = ui.painter().layout_no_wrap(" ".to_owned(), plain(SMALL), colour(palette().quiet)).size().y;
    ui.scope(|ui| {
        ui.set_min_height(2.0 * line_of_text);
        ui.add(egui::Label::new(caption(&where_it_lies(document, &session.derived().layout, line.id))).wrap());
    });
    ui.add_space(2.0);
    row(ui, "Name", |ui| name(ui, scene, drafts, line));
    place(ui, scene, drafts, line);
    work::ui(ui, scene, drafts, line);
    if line.work.is_score() {
        row(ui, "Step", |ui| step(ui, scene, line.id));
    }
    match line.place {
        Place::Measured { .. } | Place::Along { .. } => run::ui(ui, scene, drafts, line),
        Place::Drawn { .. } => ends::ui(ui, scene, drafts, line),
    }
    row(ui, "", |ui| {
        locked(ui, scene, line);
        several::menu(ui, scene);
    });
    ui.add_space(2.0);
    ui.horizontal_wrapped(|ui| {
        commands::button(ui, scene, Command::SwitchStretch);
        commands::button(ui, scene, Command::DeleteLine);
    });
    ui.add_space(6.0);
}

/// How far across the line lies, or along what.
fn place(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line) {
    match line.place {
        Place::Measured { .. } => {
            let id = Id::unique(("distance in detail", line.id.0));
            row(ui, "Distance", |ui| distance(ui, scene, drafts, line, (id, "Distance of the selected line", 110.0)));
            drafts.say_why(ui, id);
            row(ui, "From", |ui| datum(ui, scene, line));
        }
        Place::Along { .. } => {
            row(ui, "Lies", |ui| {
                ui.add(egui::Label::new(measured_from(scene.session.document(), line.place)).truncate());
            });
        }
        // Its two ends say it all.
        Place::Drawn { .. } => {}
    }
}

fn locked(ui: &mut Ui, scene: &mut Scene<'_>, line: &Line) {
    let mut locked = line.locked;
    let tip = "A locked line can't be dragged, pushed or mirrored.";
    if ui.checkbox(&mut locked, "Locked").tip(tip).clicked() {
        scene.ask(crate::pane::Action::Run(Command::Lock));
    }
}

fn name(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line) {
    let unnamed = scene.session.document().line_name(line.id);
    let field = Field {
        id: Id::unique(("name of line", line.id.0)),
        name: "Name of the selected line",
        shown: &line.name,
        hint: &unnamed,
        width: ui.available_width(),
    };
    drafts.field(ui, field, |text| {
        let renamed = Line { name: text.to_owned(), ..line.clone() };
        try_edit(scene, "Rename the line".to_owned(), Edit::ReplaceLine(renamed))
    });
}

/// What the distance is measured from; another choice leaves the line where it is.
fn datum(ui: &mut Ui, scene: &mut Scene<'_>, line: &Line) {
    let Place::Measured { turn, from, run, .. } = line.place else { return };
    let session = scene.session;
    let document = session.document();
    let mut chosen = None;
    let shown = measured_from(document, line.place);
    ComboBox::from_id_salt("measured from")
        .width(ui.available_width())
        .truncate()
        .selected_text(shown)
        .show_ui(ui, |ui| {
            for (datum, distance) in data(document, &session.derived().layout, line.id) {
                let place = Place::Measured { turn, from: datum, distance, run };
                if ui.selectable_label(datum == from, measured_from(document, place)).clicked() && datum != from {
                    chosen = Some(Edit::ReplaceLine(Line { place, ..line.clone() }));
                }
            }
        })
        .response
        .accessible_name("Measured from")
        .tip("Measure from the edge or from another line; it stays where it is.");
    if let Some(edit) = chosen {
        scene.edit("Measure from another line", edit);
    }
}

/// What a line may be measured from, and how far it lies from there: the edge, and every line beside it that is not
/// itself placed by it.
fn data(document: &Document, layout: &Layout, id: LineId) -> Vec<(Datum, Length)> {
    let Some(Ok(placed)) = layout.lines.get(&id) else { return Vec::new() };
    let Some((turn, own)) = placed.on_board() else { return Vec::new() };
    let mut data = vec![(Datum::Edge, own)];
    for line in &document.lines {
        let Some(Ok(other)) = layout.lines.get(&line.id) else { continue };
        let beside = other.on_board().is_some_and(|(its, _)| its.is_upright() == turn.is_upright());
        if !beside || document.hangs_on(line.id, id) {
            continue;
        }
        let across = turn.to_board(other.segment.a, layout.size).across;
        if across != own {
            data.push((Datum::Line(line.id), own - across));
        }
    }
    data
}

fn step(ui: &mut Ui, scene: &mut Scene<'_>, id: LineId) {
    let document = scene.session.document();
    let own = document.step_of(id);
    let shown = own.map_or_else(|| "Does not fold".to_owned(), |step| format!("Step {}", step + 1));
    let mut chosen = None;
    ComboBox::from_id_salt("step")
        .width(ui.available_width())
        .truncate()
        .selected_text(shown)
        .show_ui(ui, |ui| {
            let names = StepNames::of(scene.session);
            for step in 0..document.steps.len() {
                let text = format!("Step {}: {}", step + 1, names.name(step));
                if ui.selectable_label(own == Some(step), text).clicked() && own != Some(step) {
                    chosen = Some(fold_in_step(document, id, step));
                }
            }
            if ui.selectable_label(false, "A step of its own").clicked() {
                chosen = Some(fold_alone(document, id));
            }
        })
        .response
        .accessible_name("Closing step of the line")
        .tip("Choose the step of the closing order in which this line folds.");
    if let Some(edit) = chosen {
        scene.edit("Change the closing order", edit);
    }
}
