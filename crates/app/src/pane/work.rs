//! What is done along a line, of the folio or of a part: scored, cut, slotted, trimmed, notched or only drawn; and how.

use crate::field::{Drafts, Saying};
use crate::form::{buttons, choice, length, row};
use crate::naming::angle_name;
use crate::tip::Tip as _;
use egui::{Id, Ui};
use model::{Crease, Direction, Face, FoldAngle, Notch, Strip, StripSide, Work};
use session::work::Kind;

/// A line's work, to be shown.
pub(crate) struct Worked<'a> {
    /// What tells the line from all others, in every frame.
    pub(crate) id: Id,
    /// What is done along it.
    pub(crate) work: Work,
    /// How a figure of it is said.
    pub(crate) said: Saying<'a>,
}

/// What was asked for by a button or a choice.
pub(crate) enum Asked {
    /// Work of another kind, with usual figures.
    Kind(Kind),
    /// The same kind with another figure.
    Work(Work),
}

/// Shows the kind of work and its figures. What is typed goes to `take`; what is chosen is given.
pub(crate) fn rows(
    ui: &mut Ui,
    drafts: &mut Drafts,
    of: Worked<'_>,
    take: impl FnOnce(Work) -> Result<(), String>,
) -> Option<Asked> {
    let mut kind = None;
    row(ui, "Done along it", |ui| {
        let now = Kind::of(of.work);
        let options = || Kind::ALL.into_iter().map(|kind| (kind, kind.word().to_owned())).collect();
        kind = choice(ui, "What is done along the line", now.word(), now, options);
    });
    let work = match of.work {
        Work::Score(crease) => fold(ui, crease).map(Work::Score),
        Work::Slot(strip) => strip_rows(ui, drafts, of, (strip, Work::Slot), take),
        Work::Trim(strip) => strip_rows(ui, drafts, of, (strip, Work::Trim), take),
        Work::Notch(notch) => notch_rows(ui, drafts, of, notch, take),
        Work::Cut | Work::Guide => None,
    };
    kind.map(Asked::Kind).or(work.map(Asked::Work))
}

/// Several buttons side by side in the narrowest pane.
pub(crate) fn narrow(ui: &mut Ui) {
    ui.spacing_mut().button_padding.x = 4.0;
    ui.spacing_mut().item_spacing.x = 3.0;
}

fn fold(ui: &mut Ui, crease: Crease) -> Option<Crease> {
    let mut next = None;
    row(ui, "Fold", |ui| {
        narrow(ui);
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
    next
}

fn strip_rows(
    ui: &mut Ui,
    drafts: &mut Drafts,
    of: Worked<'_>,
    (strip, made): (Strip, fn(Strip) -> Work),
    take: impl FnOnce(Work) -> Result<(), String>,
) -> Option<Work> {
    let id = of.id.with("width of strip");
    row(ui, "Width", |ui| {
        length(ui, drafts, (id, "Width of the strip", 110.0), strip.width, of.said, |width| {
            take(made(Strip { width, ..strip }))
        });
    });
    drafts.say_why(ui, id);
    let mut next = None;
    sides(ui, |ui| {
        let sides = [(StripSide::Left, "Left"), (StripSide::Right, "Right"), (StripSide::Centred, "Centred")];
        next = buttons(ui, &sides, strip.side).map(|side| made(Strip { side, ..strip }));
    });
    next
}

fn notch_rows(
    ui: &mut Ui,
    drafts: &mut Drafts,
    of: Worked<'_>,
    notch: Notch,
    take: impl FnOnce(Work) -> Result<(), String>,
) -> Option<Work> {
    let id = of.id.with("depth of notch");
    row(ui, "Depth", |ui| {
        length(ui, drafts, (id, "Depth of the notch", 110.0), notch.depth, of.said, |depth| {
            take(Work::Notch(Notch { depth, ..notch }))
        });
    });
    drafts.say_why(ui, id);
    let mut next = None;
    sides(ui, |ui| {
        let side = buttons(ui, &[(true, "Left"), (false, "Right")], notch.to_left);
        next = side.map(|to_left| Work::Notch(Notch { to_left, ..notch }));
    });
    next
}

/// A row of sides, with what left and right mean.
fn sides(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let shown = ui.scope(|ui| row(ui, "Side", add));
    shown.response.told("Left and right as seen with the line's start at the top.");
}
