//! The lines on the little sheet of a part of her own: each with where it lies, what is done along it and when it folds; and
//! which of its panels is glued down.

use crate::field::{Drafts, sentence};
use crate::form::{choice, length, row};
use crate::naming::part::on_part;
use crate::naming::{line_label, where_it_lies};
use crate::pane::sheet::own_line_id;
use crate::pane::work::{Asked, Worked, narrow, rows};
use crate::pane::{Action, OwnLine, Scene};
use crate::theme::{self, BODY, bold, caption, colour, palette, plain};
use crate::tip::Tip as _;
use egui::{Id, Label, Pos2, Rect, Sense, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use model::{Edit, Line, PanelId, Part, PartId, PartKind, Place, Refusal, Work};
use session::own::{Little, OwnWork, add_score, set_main};

/// Width of the field of a line's distance, px.
const FIELD: f32 = 92.0;

/// Shows the lines, what a new one is added by, and the main panel.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part) {
    let PartKind::Own(own) = &part.kind else { return };
    let session = scene.session;
    let Some(little) = Little::of(session.document(), &session.derived().layout, part.id) else {
        let text = "Its lines can be worked on while it lies on a panel of the folio.";
        ui.add(Label::new(caption(text)).wrap());
        return;
    };
    if own.lines.is_empty() {
        ui.add(Label::new(caption("No lines yet: a plain rectangle.")).wrap());
    }
    for line in &own.lines {
        let of = (part.id, line.id);
        line_row(ui, scene, drafts, &little, (of, line));
        if scene.own_line == Some(of) {
            figures(ui, scene, drafts, &little, (of, line));
        }
    }
    ui.horizontal_wrapped(|ui| {
        // Upright and level as it is seen.
        let turns = [scene.turn, scene.turn.once_more()].map(|turn| little.turn_of(turn));
        for (turn, label) in turns.into_iter().zip(["Add upright score", "Add level score"]) {
            let tip = "Score the shape from edge to edge where there is most room; drag it on the sheet, or type where it lies.";
            if ui.button(label).tip(tip).clicked() {
                let added = add_score(session.document(), &session.derived().layout, part.id, turn);
                let label = format!("{label} to {}", session.document().part_name(part.id));
                let line = added.as_ref().ok().and_then(Option::as_ref).map(|(_, line)| *line);
                done(scene, label, added.map(|added| added.map(|(edit, _)| edit)));
                scene.actions.extend(line.map(|line| Action::WorkOn((part.id, line))));
            }
        }
    });
    main_panel(ui, scene, part);
    let text = "Draw a line (L) cuts the shape while it is selected; what lies beyond a cut comes off.";
    ui.add(Label::new(caption(text)).wrap());
}

/// The field of a line's distance.
pub(crate) fn distance_id(of: OwnLine) -> Id {
    Id::unique(("distance of a line of a part", of.0.0, of.1.0))
}

/// Asks for a change, or says why there can be none.
fn done(scene: &mut Scene<'_>, label: String, edit: Result<Option<Edit>, Refusal>) {
    match edit {
        Ok(Some(edit)) => scene.edit(label, edit),
        Ok(None) => {}
        Err(refusal) => {
            let part = scene.session.selected().part().map(|part| part_name(scene, part)).unwrap_or_default();
            scene.ask(Action::Complain(on_part(&part, &refusal)));
        }
    }
}

/// "Score 1 of Own shape 2".
fn name(scene: &Scene<'_>, little: &Little<'_>, of: OwnLine) -> String {
    format!("{} of {}", little.document.line_name(of.1), scene.session.document().part_name(of.0))
}

/// A line by its name, to open its figures; beside it how far it lies from what it is measured from, or how long it is.
fn line_row(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    drafts: &mut Drafts,
    little: &Little<'_>,
    (of, line): (OwnLine, &Line),
) {
    let height = ui.spacing().interact_size.y;
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), height), Sense::hover());
    let field = Rect::from_min_max(Pos2::new(rect.right() - FIELD, rect.top()), rect.max);
    let own = Rect::from_min_max(rect.min, Pos2::new(field.left() - 8.0, rect.bottom()));
    let is_open = scene.own_line == Some(of);
    let shown = ui.scope_id().with("the line in sight");
    if is_open && ui.data(|data| data.get_temp::<OwnLine>(shown)) != Some(of) {
        // One that is newly worked on comes in sight, with its figures under it.
        ui.scroll_to_rect(rect.expand2(Vec2::new(0.0, 2.0 * height)), None);
        ui.data_mut(|data| data.insert_temp(shown, of));
    }
    let response = ui.interact(own, Id::unique(("row of a line of a part", of.0.0, of.1.0)), Sense::click());
    let label = format!("Select {} in the list of {}", line_label(little.document, of.1), part_name(scene, of.0));
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, true, is_open, &label));
    let painter = theme::row(ui, &response, own, is_open);
    let font = if is_open { bold(BODY) } else { plain(BODY) };
    let text = theme::shortened(&painter, &line_label(little.document, of.1), font, own.width() - 14.0);
    painter.galley(Pos2::new(own.left() + 8.0, own.center().y - text.size().y / 2.0), text, colour(palette().text));
    if response.clicked() {
        scene.ask(Action::WorkOn(of));
        // The arrows and the other keys are for it on the sheet.
        ui.memory_mut(|memory| memory.request_focus(own_line_id(of)));
    }
    response.tip(&where_it_lies(little.document, little.layout, of.1));
    if let Place::Measured { distance, .. } = line.place {
        let id = distance_id(of);
        let label = format!("Distance of {}", name(scene, little, of));
        ui.scope_builder(UiBuilder::new().max_rect(field), |ui| {
            let units = scene.session.document().units;
            length(ui, drafts, (id, &label, FIELD), distance, units, |distance| {
                let session = scene.session;
                let work = OwnWork::new(session.document(), &session.derived().layout, of);
                typed(scene, of, format!("Move {}", name(scene, little, of)), work.at_distance(distance))
            });
        });
        drafts.say_why(ui, id);
    } else if let Some(Ok(placed)) = little.layout.lines.get(&of.1) {
        let long = format!("{} long", (placed.to - placed.from).readable(scene.session.document().units));
        ui.put(field, Label::new(caption(&long)).truncate());
    }
}

fn part_name(scene: &Scene<'_>, part: PartId) -> String {
    scene.session.document().part_name(part)
}

/// Asks for a change by what was typed, or says why there can be none.
fn typed(scene: &mut Scene<'_>, of: OwnLine, label: String, edit: Result<Option<Edit>, Refusal>) -> Result<(), String> {
    let edit = edit.map_err(|refusal| sentence(&on_part(&part_name(scene, of.0), &refusal)))?;
    edit.map_or(Ok(()), |edit| crate::pane::try_edit(scene, label, edit))
}

/// What is done along a line, how it folds and when; and the button that takes it out.
fn figures(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, little: &Little<'_>, (of, line): (OwnLine, &Line)) {
    let session = scene.session;
    let own = OwnWork::new(session.document(), &session.derived().layout, of);
    let called = name(scene, little, of);
    let id = Id::unique(("work of a line of a part", of.0.0, of.1.0));
    let worked = Worked { id, work: line.work, said: session.document().units.into() };
    let label = |work: Work| format!("{} {called}", if work.is_score() { "Fold" } else { "Change" });
    let asked = rows(ui, drafts, worked, |work| typed(scene, of, label(work), own.worked(work)));
    match asked {
        Some(Asked::Kind(kind)) => {
            done(scene, format!("Make {called} a {}", kind.word().to_lowercase()), own.switched(kind));
        }
        Some(Asked::Work(work)) => done(scene, label(work), own.worked(work)),
        None => {}
    }
    if line.work.is_score() {
        row(ui, "Folded", |ui| {
            narrow(ui);
            let times = [
                (true, "Before gluing", "Fold it before the part is put in place."),
                (false, "With the folio", "Fold it as a step of closing the folio."),
            ];
            for (before, label, tip) in times {
                let is_so = own.is_folded_before() == before;
                let button = egui::Button::selectable(is_so, label).frame_when_inactive(true);
                if ui.add(button).tip_above(tip).clicked() && !is_so {
                    done(scene, format!("Fold {called}"), Ok(own.folded_before(before)));
                }
            }
        });
    }
    row(ui, "", |ui| {
        let tip = "Take this line off the shape, with what lies along it.";
        if ui.button("Delete this line").tip(tip).clicked() {
            done(scene, format!("Delete {called}"), own.deleted());
        }
    });
}

/// Which panel lies where the part is put, and carries the glue.
fn main_panel(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part) {
    let session = scene.session;
    let layout = &session.derived().layout;
    let Some(of) = layout.part(part.id).filter(|of| of.panels.len() > 1) else { return };
    row(ui, "Main panel", |ui| {
        let named = |panel: &model::Panel| (panel.id, panel.name.clone());
        let options = || of.panels.iter().map(named).collect::<Vec<(PanelId, String)>>();
        let shown = &layout.panel(of.main).name;
        let chosen = choice(ui, "Main panel of the part", shown, of.main, options);
        let inside = chosen.and_then(|panel| of.panels.iter().find(|one| one.id == panel)?.inside);
        if let Some(base) = inside {
            let edit = set_main(session.document(), layout, part.id, base);
            done(scene, format!("Change the main panel of {}", part_name(scene, part.id)), edit);
        }
    });
}
