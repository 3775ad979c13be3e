//! The menu of what can be done with a thing: by a click with the right button, or by keys. It offers the commands of the
//! table that the thing is for and that can be done now, with their keys.

use crate::commands;
use crate::naming::step_name;
use crate::pane::panel::uses;
use crate::pane::{Action, Scene};
use crate::theme::caption;
use crate::tip::Tip as _;
use check::Spot;
use egui::{Context, Id, LayerId, Popup, PopupAnchor, PopupKind, Pos2, Response, ScrollArea, Ui};
use model::{Layout, Piece};
use session::{Command, Selected};

/// Width of the menu, px: the longest command and its keys.
pub(crate) const WIDTH: f32 = 300.0;

/// What a menu takes of the window's height beside its commands, px, and the least that these take.
const BESIDE: f32 = 60.0;
const LEAST: f32 = 120.0;

/// What lines are worked by.
const LINE: [&[Command]; 4] = [
    &[Command::SwitchStretch, Command::ReverseFold, Command::SwitchAngle, Command::Lock],
    &[Command::SpaceEvenly, Command::AlignLines, Command::ToGrooves],
    &[
        Command::MirrorLeftRight,
        Command::MirrorTopBottom,
        Command::CopyLeftRight,
        Command::CopyTopBottom,
        Command::DuplicateLine,
    ],
    &[Command::Cut, Command::Copy, Command::DeleteLine],
];

/// What is done with a panel of the folio.
const PANEL: [&[Command]; 3] =
    [&[Command::SetBase, Command::SwingFlap], &[Command::CutAway], &[Command::AddPart, Command::Paste]];

/// What is done with an offcut.
const OFFCUT: [&[Command]; 2] = [&[Command::KeepOffcut], &[Command::FitParts]];

/// What is done with a part.
const PART: [&[Command]; 3] = [
    &[Command::TurnPart, Command::TurnPartOver, Command::DuplicatePart],
    &[
        Command::PartLeft,
        Command::PartRight,
        Command::PartTop,
        Command::PartBottom,
        Command::PartMiddleAcross,
        Command::PartMiddleDown,
    ],
    &[Command::Cut, Command::Copy, Command::DeletePart],
];

/// What is done with a step of the closing order.
const STEP: [&[Command]; 1] = [&[Command::StepEarlier, Command::StepLater, Command::JoinStep, Command::PartStep]];

/// What is done with the sheet where nothing lies.
const SHEET: [&[Command]; 4] = [
    &[Command::AddScore, Command::DrawLine, Command::CutAlong, Command::Measure, Command::Paste],
    &[Command::SelectAll],
    &[Command::FitSheet, Command::TurnSheet, Command::ShowParts, Command::FillSheet],
    &[Command::Paper, Command::MoveSheet],
];

/// What is done with the folded folio.
const FOLIO: [&[Command]; 5] = [
    &[Command::PlayFold, Command::Unfold, Command::Close, Command::StepBack, Command::StepOn],
    &[Command::FrontView, Command::BackView, Command::SlantView],
    &[Command::SpreadLayers, Command::SeeThrough, Command::FillFolded],
    &[Command::FindOrder, Command::MendAll],
    &[Command::AddScore, Command::AddPart, Command::ExportPicture],
];

/// What a menu is of.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Of {
    /// What is selected.
    Selected,
    /// The step in which what is selected folds.
    Step,
    /// The folded folio.
    Folio,
    /// The finding that speaks of this.
    Finding(Spot),
}

/// A menu that is open.
#[derive(Debug)]
pub(crate) struct Menu {
    at: Pos2,
    of: Of,
    /// What had the keyboard when it was opened.
    from: Option<Id>,
    is_new: bool,
}

/// Where a menu is asked for of a thing: at the pointer, or beneath the thing that has the keyboard.
pub(crate) fn asked(scene: &mut Scene<'_>, response: &Response) -> Option<Pos2> {
    if response.secondary_clicked() {
        return response.interact_pointer_pos().or_else(|| Some(response.rect.center()));
    }
    let by_keys = scene.asks_menu && response.has_focus();
    scene.asks_menu &= !by_keys;
    by_keys.then(|| response.rect.left_bottom())
}

/// What is in a menu: in a window that is too low for all of it, the rest is scrolled to.
pub(crate) fn scrolled<R>(ui: &mut Ui, items: impl FnOnce(&mut Ui) -> R) -> R {
    let height = (ui.ctx().content_rect().height() - BESIDE).max(LEAST);
    ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, items).inner
}

impl Menu {
    /// A menu at a place.
    pub(crate) fn new(ctx: &Context, at: Pos2, of: Of) -> Self {
        Self { at, of, from: ctx.memory(egui::Memory::focused), is_new: true }
    }

    /// Shows it; says whether it is done with.
    pub(crate) fn ui(&mut self, ctx: &Context, scene: &mut Scene<'_>) -> bool {
        let id = Id::unique("menu of a thing");
        let mut is_open = true;
        let name = self.name(scene);
        let first = std::mem::take(&mut self.is_new);
        // Keys may leave it at once; the pointer is asked about by the popup.
        Popup::new(id, ctx.clone(), PopupAnchor::Position(self.at), LayerId::background())
            .kind(PopupKind::Menu)
            .layout(egui::Layout::top_down_justified(egui::Align::Min))
            .gap(0.0)
            .accessible_name(name.clone())
            .open_bool(&mut is_open)
            .show(|ui| {
                ui.set_width(WIDTH);
                ui.spacing_mut().item_spacing.y = 3.0;
                ui.label(caption(&name));
                let (items, is_done) = scrolled(ui, |ui| self.items(ui, scene));
                if let Some(item) = items.first().filter(|_| first) {
                    item.request_focus();
                }
                if items.is_empty() {
                    ui.label("Nothing can be done with it now.");
                }
                if is_done {
                    ui.close();
                }
            });
        if !is_open && let Some(from) = self.from {
            ctx.memory_mut(|memory| memory.request_focus(from));
        }
        !is_open
    }

    /// What it is of, in words.
    fn name(&self, scene: &Scene<'_>) -> String {
        let session = scene.session;
        let (document, layout) = (session.document(), &session.derived().layout);
        match (&self.of, session.selected()) {
            (Of::Finding(_), _) => "This finding".to_owned(),
            (Of::Folio, _) => "The folio".to_owned(),
            (Of::Step, _) => {
                let name = |step| format!("Step {}, {}", step + 1, step_name(session, step));
                commands::step_of(session).map_or_else(|| "No step".to_owned(), name)
            }
            (Of::Selected, Selected::Line { id, .. }) => match session.selected_lines().len() {
                count @ 2.. => format!("{count} lines"),
                _ => document.line_name(id),
            },
            (Of::Selected, Selected::Part(id)) => document.part_name(id),
            (Of::Selected, Selected::Panel(point)) => panel_name(layout, point).unwrap_or_default(),
            (Of::Selected, Selected::Nothing) => "The sheet".to_owned(),
        }
    }

    /// Shows what can be done; says whether something was done by that.
    fn items(&self, ui: &mut Ui, scene: &mut Scene<'_>) -> (Vec<Response>, bool) {
        let of_selected: &[&[Command]] = match scene.session.selected() {
            _ if self.of == Of::Folio => &FOLIO,
            Selected::Line { .. } => &LINE,
            Selected::Panel(point) if is_offcut(&scene.session.derived().layout, point) => &OFFCUT,
            Selected::Panel(_) => &PANEL,
            Selected::Part(_) => &PART,
            Selected::Nothing if self.of == Of::Selected => &SHEET,
            Selected::Nothing => &[],
        };
        let mut items = Vec::new();
        match &self.of {
            Of::Selected | Of::Folio => {}
            Of::Step => group(ui, scene, STEP[0], &mut items),
            Of::Finding(spot) => {
                mends(ui, scene, spot, &mut items);
                group(ui, scene, &[Command::MendAll, Command::ShowSilenced], &mut items);
            }
        }
        for commands in of_selected {
            group(ui, scene, commands, &mut items);
        }
        let is_done = items.iter().any(Response::clicked);
        // That opens a menu of its own, and this one stays for it.
        if self.of == Of::Selected
            && let Some(piece) = offcut(scene)
        {
            items.push(uses(ui, scene, piece));
        }
        (items, is_done)
    }
}

/// The mends of a finding.
fn mends(ui: &mut Ui, scene: &mut Scene<'_>, spot: &Spot, items: &mut Vec<Response>) {
    let findings = &scene.session.derived().findings;
    for fix in findings.iter().filter(|finding| finding.spot == *spot).flat_map(|finding| &finding.fixes) {
        let response = ui.button(&fix.label).tip("Mend it so, as one step that can be taken back.");
        if response.clicked() {
            scene.edit(fix.label.as_str(), fix.edit.clone());
        }
        items.push(response);
    }
}

/// Those of some commands that can be done now, set off from what stands over them.
fn group(ui: &mut Ui, scene: &mut Scene<'_>, commands: &[Command], items: &mut Vec<Response>) {
    let possible: Vec<Command> =
        commands.iter().copied().filter(|&command| commands::is_possible(scene, command)).collect();
    if !possible.is_empty() && !items.is_empty() {
        ui.separator();
    }
    items.extend(possible.into_iter().map(|command| commands::item(ui, scene, command, None)));
}

/// What the panel at a place is called, or the offcut that it is of.
fn panel_name(layout: &Layout, point: model::Point) -> Option<String> {
    let panel = layout.panel(layout.panel_at(point)?);
    let piece = &layout.pieces[panel.piece.0];
    Some(if piece.is_folio { panel.name.clone() } else { piece.name.clone() })
}

/// The offcut that is selected, where there is a base to put parts of it on.
fn offcut<'a>(scene: &Scene<'a>) -> Option<&'a Piece> {
    let layout = &scene.session.derived().layout;
    let Selected::Panel(point) = scene.session.selected() else { return None };
    let panel = layout.panel_at(point).filter(|_| layout.base.is_some() && is_offcut(layout, point))?;
    layout.pieces.get(layout.panel(panel).piece.0)
}

/// Whether a place lies on what was cut from the folio.
pub(crate) fn is_offcut(layout: &Layout, point: model::Point) -> bool {
    let piece = layout.panel_at(point).map(|panel| layout.panel(panel).piece);
    layout.folio().is_some_and(|folio| piece.is_some_and(|piece| piece != folio.id))
}

/// Opens the menu of what is selected, under what has the keyboard or in the middle of the window.
pub(crate) fn of_selected(ctx: &Context) -> Action {
    let focused = ctx.memory(egui::Memory::focused).and_then(|id| ctx.read_response(id));
    let at = focused.map_or_else(|| ctx.content_rect().center(), |response| response.rect.center());
    Action::ShowMenu(at, Of::Selected)
}
