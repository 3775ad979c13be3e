//! What can be put on, and what it is put on.

use crate::commands;
use crate::form::{buttons, choice, row};
use crate::menu;
use crate::naming::part::panel_name;
use crate::pane::{Action, Scene};
use crate::theme::caption;
use crate::tip::{Tip as _, meaning};
use egui::{Popup, Ui};
use model::part::change::add;
use model::part::usual::Sort;
use model::{Face, Layout, PanelRef, PartId, PartKind};
use session::{Command, Selected};

/// Where the next part goes, and whether the menu is to open.
#[derive(Debug, Default)]
pub(super) struct Menu {
    opens: bool,
    /// What the maker chose, and the selection that she chose it for.
    chosen: Option<(Selected, PanelRef, Face)>,
}

impl Menu {
    /// Opens the menu in the next frame.
    pub(super) const fn open(&mut self) {
        self.opens = true;
    }

    /// Shows what the next part is put on, and the button that opens the menu.
    pub(super) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        let opens = std::mem::take(&mut self.opens);
        let Some((on, face)) = self.host(scene) else {
            ui.add(egui::Label::new(caption("Choose a base panel on the sheet first.")).wrap());
            return;
        };
        let selected = scene.session.selected();
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        row(ui, "Goes on", |ui| {
            let shown = panel_name(document, layout, on);
            let options = || panels(layout).into_iter().map(|on| (on, panel_name(document, layout, on))).collect();
            if let Some(on) = choice(ui, "Panel that the next part goes on", &shown, on, options) {
                self.chosen = Some((selected, on, face));
            }
        });
        row(ui, "", |ui| {
            let faces = [(Face::Front, "Front face"), (Face::Back, "Back face")];
            if let Some(face) = buttons(ui, &faces, face) {
                self.chosen = Some((selected, on, face));
            }
        });
        ui.horizontal_wrapped(|ui| {
            let response = commands::button(ui, scene, Command::AddPart);
            if opens {
                response.scroll_to_me(None);
                Popup::open_id(ui.ctx(), Popup::default_response_id(&response));
            }
            // Opened by the command alone, whether by its button or its key.
            Popup::menu(&response)
                .open_memory(None)
                .accessible_name("What can be put on")
                .show(|ui| menu::scrolled(ui, |ui| sorts(ui, scene, on, face)));
            commands::button(ui, scene, Command::FitParts);
        });
    }

    /// The panel and face that the next part goes on: what the maker chose while the same is selected, else what the
    /// selection suggests, else the front of the base.
    fn host(&self, scene: &Scene<'_>) -> Option<(PanelRef, Face)> {
        let layout = &scene.session.derived().layout;
        let selected = scene.session.selected();
        let kept = self.chosen.filter(|(of, on, _)| *of == selected && layout.panel_of(*on).is_some());
        let folio = layout.folio()?.id;
        let suggested = || match selected {
            Selected::Panel(point) => {
                let panel = layout.panel_at(point).filter(|&panel| layout.panel(panel).piece == folio)?;
                Some((layout.panel_ref(panel)?, Face::Front))
            }
            Selected::Part(id) => own_panel(scene, id).or_else(|| {
                let place = scene.session.document().part(id)?.place;
                layout.panel_of(place.on).map(|_| (place.on, place.face))
            }),
            _ => None,
        };
        let base = || Some((layout.panel_ref(layout.base?)?, Face::Front));
        kept.map(|(_, on, face)| (on, face)).or_else(suggested).or_else(base)
    }
}

/// The face that is seen of a part that others are put on: a page, and what a hinge carries.
fn own_panel(scene: &Scene<'_>, id: PartId) -> Option<(PanelRef, Face)> {
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    let part = document.part(id)?;
    let carrier = match part.place.on {
        PanelRef::Part(host, _) => document.part(host).map(|host| &host.kind),
        PanelRef::Sheet(_) => None,
    };
    let carries = matches!(part.kind, PartKind::Page(_)) || matches!(carrier, Some(PartKind::Hinge(_)));
    let main = layout.part(id).filter(|_| carries)?.main;
    Some((layout.panel_ref(main)?, part.place.showing))
}

/// Every panel that something can be put on: the folio's, then those of parts.
pub(super) fn panels(layout: &Layout) -> Vec<PanelRef> {
    let folio = layout.folio().into_iter().flat_map(|piece| piece.panels.iter().copied());
    let parts = layout.parts.iter().flat_map(|part| part.panels.iter().map(|panel| panel.id));
    folio.chain(parts).filter_map(|panel| layout.panel_ref(panel)).collect()
}

/// What a kind of part is, in the words of the glossary where it has them.
fn what(sort: Sort) -> String {
    meaning(sort.label()).unwrap_or_else(|| format!("{}: put one on this panel.", sort.label()))
}

fn sorts(ui: &mut Ui, scene: &mut Scene<'_>, on: PanelRef, face: Face) {
    ui.set_min_width(170.0);
    for sort in Sort::ALL {
        if ui.button(sort.label()).tip(&what(sort)).clicked() {
            put(scene, sort, on, face);
            ui.close();
        }
    }
}

fn put(scene: &mut Scene<'_>, sort: Sort, on: PanelRef, face: Face) {
    let Some(part) = commands::usual(scene.session, sort, on, face) else {
        scene.ask(Action::Complain("that panel is not there any more; choose another".to_owned()));
        return;
    };
    let selected = Selected::Part(part.id);
    let edit = add(scene.session.document(), part);
    scene.ask(Action::EditAndSelect(format!("Add {}", sort.label().to_lowercase()), edit, selected));
}
