//! Where a part lies: on which panel and face, how far from which border, how it is turned.

use super::{add, change, try_change};
use crate::commands;
use crate::field::{Drafts, Field};
use crate::form::{buttons, choice, length, row};
use crate::icon::Icon;
use crate::menu;
use crate::naming::part::panel_name;
use crate::pane::{Scene, try_edit};
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::{Id, Ui};
use model::part::change::{turn, with_carried};
use model::part::{Anchor, AnchorFrom, Placement, Rotation};
use model::{Face, Length, PanelRef, Part, PartSlot, Point, Slot, Turn};
use session::Command;
use session::part::on_host;

/// Across or down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Axis {
    Across,
    Down,
}

/// Shows where it lies. Nothing for what lies on no panel.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part) {
    if !part.kind.is_on_a_panel() {
        return;
    }
    row(ui, "On", |ui| panel(ui, scene, part));
    row(ui, "Face", |ui| {
        let faces = [(Face::Front, "On its front"), (Face::Back, "On its back")];
        if let Some(face) = buttons(ui, &faces, part.place.face) {
            change(scene, "Change the face of", part.id, |part| part.place.face = face);
        }
    });
    row(ui, "Shows", |ui| {
        let faces = [(Face::Front, "Its own front"), (Face::Back, "Its back")];
        if let Some(showing) = buttons(ui, &faces, part.place.showing) {
            change(scene, "Turn over", part.id, |part| part.place.showing = showing);
        }
    });
    anchor(ui, scene, drafts, part, Axis::Across);
    anchor(ui, scene, drafts, part, Axis::Down);
    if scene.turn != Turn::None {
        ui.add(egui::Label::new(caption("Left and top are those of the sheet as drawn.")).wrap());
    }
    rotation(ui, scene, drafts, part);
}

fn panel(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part) {
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    let own = with_carried(document, &[part.id]);
    let is_possible = |on: &PanelRef| !matches!(on, PanelRef::Part(id, _) if own.contains(id));
    let named = |on: PanelRef| (on, panel_name(document, layout, on));
    let options = || add::panels(layout).into_iter().filter(is_possible).map(named).collect();
    // Named by the same mark as in the list, wherever in the panel it was put.
    let now = layout.panel_of(part.place.on).and_then(|panel| layout.panel_ref(panel)).unwrap_or(part.place.on);
    let shown = panel_name(document, layout, part.place.on);
    if let Some(on) = choice(ui, "Panel that the part lies on", &shown, now, options) {
        change(scene, "Move", part.id, |part| part.place.on = on);
    }
}

impl Axis {
    const fn of(self, place: &Placement) -> Anchor {
        match self {
            Self::Across => place.across,
            Self::Down => place.down,
        }
    }

    const fn set(self, place: &mut Placement, anchor: Anchor) {
        match self {
            Self::Across => place.across = anchor,
            Self::Down => place.down = anchor,
        }
    }

    const fn slot(self) -> PartSlot {
        match self {
            Self::Across => PartSlot::Across,
            Self::Down => PartSlot::Down,
        }
    }

    const fn along(self, point: Point) -> Length {
        match self {
            Self::Across => point.x,
            Self::Down => point.y,
        }
    }

    const fn border(self, from: AnchorFrom) -> &'static str {
        match (self, from) {
            (_, AnchorFrom::Middle) => "from middle",
            (Self::Across, AnchorFrom::Start) => "from left",
            (Self::Across, AnchorFrom::End) => "from right",
            (Self::Down, AnchorFrom::Start) => "from top",
            (Self::Down, AnchorFrom::End) => "from bottom",
        }
    }

    const fn words(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Across => ("Across", "How far across the part lies", "What it is measured from across"),
            Self::Down => ("Down", "How far down the part lies", "What it is measured from down"),
        }
    }
}

/// A distance and what it is measured from; another choice of that leaves the part where it is.
fn anchor(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part, axis: Axis) {
    let id = Id::unique(("anchor of part", part.id.0, axis));
    let now = axis.of(&part.place);
    let (title, field_name, choice_name) = axis.words();
    row(ui, title, |ui| {
        let said = scene.at(Slot::Part(part.id, axis.slot()));
        length(ui, drafts, (id, field_name, 84.0), now.distance, said, |distance| {
            try_change(scene, "Move", part.id, |part| axis.set(&mut part.place, Anchor { distance, ..now }))
        });
        let options = || {
            [AnchorFrom::Start, AnchorFrom::Middle, AnchorFrom::End]
                .map(|from| (from, axis.border(from).to_owned()))
                .to_vec()
        };
        if let Some(from) = choice(ui, choice_name, axis.border(now.from), now.from, options) {
            let anchor = measured_from(scene, part, axis, from);
            change(scene, "Measure anew", part.id, |part| axis.set(&mut part.place, anchor));
        }
    });
    drafts.say_why(ui, id);
}

/// The anchor from elsewhere that leaves the part where it is.
fn measured_from(scene: &Scene<'_>, part: &Part, axis: Axis, from: AnchorFrom) -> Anchor {
    let layout = &scene.session.derived().layout;
    let anchor = Anchor { from, distance: Length::ZERO };
    let bounds = layout.part(part.id).and_then(|of| {
        let laid = of.laid?;
        let main = of.panels.iter().find(|panel| panel.id == of.main)?;
        Some((on_host(&laid, main), layout.panel(laid.on).bounds()))
    });
    let Some(((low, high), (least, most))) = bounds else { return anchor };
    let [low, high, least, most] = [low, high, least, most].map(|point| axis.along(point));
    anchor.moved_to(low, least, most, high - low)
}

fn rotation(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part) {
    let id = Id::unique(("rotation of part", part.id.0));
    let shown = format!("{}°", part.place.rotation);
    let mut by = None;
    row(ui, "Turned", |ui| {
        // All of it side by side in the narrowest pane.
        ui.spacing_mut().item_spacing.x = 4.0;
        let field = Field { id, name: "How far the part is turned", shown: &shown, hint: "", width: 64.0 };
        drafts.field(ui, field, |text| {
            let to = Rotation::parse(text).ok_or("Give degrees with at most two decimals, such as 90 or 12.5.")?;
            by = Some(Rotation::from_hundredths(to.hundredths() - part.place.rotation.hundredths()));
            Ok(())
        });
        let quarter = Rotation::QUARTER.hundredths();
        for (icon, label, hundredths) in [
            (Icon::TurnLeft, "Turn the part a quarter to the left", -quarter),
            (Icon::TurnRight, "Turn the part a quarter to the right", quarter),
        ] {
            if icon.button(ui, label, true).clicked() {
                by = Some(Rotation::from_hundredths(hundredths));
            }
        }
        ui.label(caption("to the right"));
    });
    drafts.say_why(ui, id);
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    let edit = by.and_then(|by| turn(document, layout, part.id, by));
    if let Some(edit) = edit
        && let Err(why) = try_edit(scene, format!("Turn {}", document.part_name(part.id)), edit)
    {
        scene.ask(crate::pane::Action::Complain(why));
    }
}

/// The sides of its panel that the part is put against, as they are seen.
const SIDES: [Command; 6] = [
    Command::PartLeft,
    Command::PartMiddleAcross,
    Command::PartRight,
    Command::PartTop,
    Command::PartMiddleDown,
    Command::PartBottom,
];

/// What is done with the part as a whole.
pub(super) fn commands(ui: &mut Ui, scene: &mut Scene<'_>) {
    ui.horizontal_wrapped(|ui| {
        for command in [Command::TurnPart, Command::TurnPartOver, Command::DuplicatePart, Command::DeletePart] {
            commands::button(ui, scene, command);
        }
        let menu = ui.menu_button("Align", |ui| {
            menu::scrolled(ui, |ui| {
                for command in SIDES {
                    commands::button(ui, scene, command);
                }
            });
        });
        menu.response.tip("Put it against a side of its panel, or in the middle.");
    });
}
