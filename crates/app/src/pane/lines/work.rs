//! What is done along the selected line: scored, cut, slotted, trimmed, notched or only drawn; and how.

use crate::field::Drafts;
use crate::form::{buttons, choice, length, row};
use crate::naming::angle_name;
use crate::pane::{Scene, try_edit};
use crate::tip::Tip as _;
use egui::{Id, Ui};
use model::change::set_crease;
use model::{Crease, Direction, Face, FoldAngle, Line, LineId, LineSlot, Notch, Slot, Strip, StripSide, Work};
use session::work::{Kind, set_work, switch_kind};

/// Shows the kind of work and its figures.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line) {
    row(ui, "Done along it", |ui| kind(ui, scene, line));
    match line.work {
        Work::Score(crease) => fold(ui, scene, line.id, crease),
        Work::Slot(strip) => strip_rows(ui, scene, drafts, line, (strip, Work::Slot)),
        Work::Trim(strip) => strip_rows(ui, scene, drafts, line, (strip, Work::Trim)),
        Work::Notch(notch) => notch_rows(ui, scene, drafts, line, notch),
        Work::Cut | Work::Guide => {}
    }
}

fn kind(ui: &mut Ui, scene: &mut Scene<'_>, line: &Line) {
    let now = Kind::of(line.work);
    let options = || Kind::ALL.into_iter().map(|kind| (kind, kind.word().to_owned())).collect();
    let Some(kind) = choice(ui, "What is done along the line", now.word(), now, options) else { return };
    let document = scene.session.document();
    if let Some(edit) = switch_kind(document, &scene.session.derived().layout, line.id, kind) {
        scene.edit(format!("Make {} a {}", document.line_name(line.id), kind.word().to_lowercase()), edit);
    }
}

fn fold(ui: &mut Ui, scene: &mut Scene<'_>, id: LineId, crease: Crease) {
    let mut next = None;
    row(ui, "Fold", |ui| {
        // Three of them side by side in the narrowest pane.
        ui.spacing_mut().button_padding.x = 4.0;
        ui.spacing_mut().item_spacing.x = 3.0;
        let ways =
            [(Direction::Valley, "Valley"), (Direction::Mountain, "Mountain"), (Direction::Either, "Either way")];
        let direction = buttons(ui, &ways, crease.direction);
        next = direction.map(|direction| Crease { direction, ..crease });
    });
    row(ui, "Angle", |ui| {
        let angles = [FoldAngle::Flat, FoldAngle::Square].map(|angle| (angle, angle_name(angle)));
        let angle = buttons(ui, &angles, crease.angle);
        next = next.or(angle.map(|angle| Crease { angle, ..crease }));
    });
    row(ui, "Pressed into", |ui| {
        let shown = match crease.pressed {
            None => "the side that suits",
            Some(Face::Front) => "the front",
            Some(Face::Back) => "the back",
        };
        let options = || {
            let faces = [
                (None, "the side that suits the fold"),
                (Some(Face::Front), "the front"),
                (Some(Face::Back), "the back"),
            ];
            faces.map(|(face, name)| (face, name.to_owned())).to_vec()
        };
        let pressed = choice(ui, "Face it is pressed into", shown, crease.pressed, options);
        next = next.or(pressed.map(|pressed| Crease { pressed, ..crease }));
    });
    let document = scene.session.document();
    if let Some(edit) = next.and_then(|crease| set_crease(document, id, crease)) {
        scene.edit(format!("Fold {}", document.line_name(id)), edit);
    }
}

fn strip_rows(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    drafts: &mut Drafts,
    line: &Line,
    (strip, made): (Strip, fn(Strip) -> Work),
) {
    let id = Id::unique(("width of strip", line.id.0));
    row(ui, "Width", |ui| {
        let said = scene.at(Slot::Line(line.id, LineSlot::Width));
        length(ui, drafts, (id, "Width of the strip", 110.0), strip.width, said, |width| {
            change(scene, line, made(Strip { width, ..strip }))
        });
    });
    drafts.say_why(ui, id);
    sides(ui, |ui| {
        let sides = [(StripSide::Left, "Left"), (StripSide::Right, "Right"), (StripSide::Centred, "Centred")];
        if let Some(side) = buttons(ui, &sides, strip.side) {
            let work = made(Strip { side, ..strip });
            scene.edit(label(scene, line), set_work(scene.session.document(), line, work));
        }
    });
}

fn notch_rows(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line, notch: Notch) {
    let id = Id::unique(("depth of notch", line.id.0));
    row(ui, "Depth", |ui| {
        let said = scene.at(Slot::Line(line.id, LineSlot::Width));
        length(ui, drafts, (id, "Depth of the notch", 110.0), notch.depth, said, |depth| {
            change(scene, line, Work::Notch(Notch { depth, ..notch }))
        });
    });
    drafts.say_why(ui, id);
    sides(ui, |ui| {
        if let Some(to_left) = buttons(ui, &[(true, "Left"), (false, "Right")], notch.to_left) {
            let work = Work::Notch(Notch { to_left, ..notch });
            scene.edit(label(scene, line), set_work(scene.session.document(), line, work));
        }
    });
}

/// A row of sides, with what left and right mean.
fn sides(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let shown = ui.scope(|ui| row(ui, "Side", add));
    shown.response.told("Left and right as seen with the line's start at the top.");
}

fn change(scene: &mut Scene<'_>, line: &Line, work: Work) -> Result<(), String> {
    let edit = set_work(scene.session.document(), line, work);
    try_edit(scene, label(scene, line), edit)
}

fn label(scene: &Scene<'_>, line: &Line) -> String {
    format!("Change {}", scene.session.document().line_name(line.id))
}
