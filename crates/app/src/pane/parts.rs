//! The list of parts, in the order in which they are put on, and the details of the selected one.

mod add;
mod detail;
mod fits;
mod glue;
mod kind;
mod measure;
mod own;
mod paper;
mod place;

use crate::field::Drafts;
use crate::icon::Icon;
use crate::menu::{self, Of};
use crate::naming::part as naming;
use crate::pane::foot::Foot;
use crate::pane::{Action, Scene};
use crate::theme::{self, BODY, SMALL, bold, caption, colour, palette, plain};
use crate::tip::Tip as _;
use egui::{Id, Pos2, Rect, ScrollArea, Sense, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use model::part::change::reorder;
use model::{Part, PartId};
use session::Selected;

/// Height of a row: a name, and under it where the paper comes from, px.
const ROW: f32 = 40.0;

/// The two buttons of a row with what lies between, px.
const BUTTONS: f32 = 2.0 * 26.0 + 3.0;

/// The part of the pane that the details of the selected part may take.
const DETAILS: f32 = 0.66;

/// The least room for the list and what stands over it, px: with less there is none for a row, so both are scrolled together.
const LOW: f32 = 165.0;

/// The least height of the details for the sake of that room, px, and what lies between both.
const LEAST_DETAILS: f32 = 200.0;
const BETWEEN: f32 = 10.0;

/// What the pane remembers between frames.
#[derive(Debug, Default)]
pub(crate) struct PartsPane {
    drafts: Drafts,
    add: add::Menu,
    /// The part whose row was brought into view last.
    brought: Option<PartId>,
    foot: Foot,
}

impl PartsPane {
    /// Forgets what was typed and chosen: another design is open.
    pub(crate) fn clear(&mut self) {
        *self = Self::default();
    }

    /// Opens the menu of what can be put on, in the next frame.
    pub(crate) const fn open_menu(&mut self) {
        self.add.open();
    }

    /// Shows the pane.
    pub(crate) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        let mut stays = true;
        if let Some(part) = scene.session.selected().part() {
            let of = Id::unique((scene.design, part.0));
            let whole = ui.available_height();
            let most = whole - LOW - BETWEEN;
            let share = if most < LEAST_DETAILS { DETAILS } else { DETAILS.min(most / whole) };
            stays = self.foot.ui(ui, "part details", share, of, |ui| detail::ui(ui, scene, &mut self.drafts));
        }
        let is_low = ui.available_height() < LOW;
        if !is_low {
            self.head(ui, scene);
        }
        ScrollArea::vertical().auto_shrink(false).min_scrolled_height(0.0).show(ui, |ui| {
            if is_low {
                self.head(ui, scene);
            }
            ui.spacing_mut().item_spacing.y = 3.0;
            let parts = &scene.session.document().parts;
            let selected = scene.session.selected().part();
            for (place, part) in parts.iter().enumerate() {
                let rect = row(ui, scene, part, place);
                if selected == Some(part.id) && self.brought != selected {
                    ui.scroll_to_rect(rect, None);
                }
            }
            // While what is under the list still grows, the row may have to be brought into view anew.
            self.brought = selected.filter(|_| stays);
            if parts.is_empty() {
                ui.add_space(6.0);
                let text = "No parts yet. Click a panel on the sheet, then Add a part.";
                ui.add(egui::Label::new(caption(text)).wrap());
            }
        });
    }

    /// What stands over the list.
    fn head(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        self.add.ui(ui, scene);
        ledger(ui, scene);
    }
}

/// How much of the sheet is used.
fn ledger(ui: &mut Ui, scene: &Scene<'_>) {
    let Some(supply) = &scene.session.derived().supply else { return };
    let (with, without) = (supply.ledger.use_per_cent(), supply.ledger.folio_per_cent());
    let text = format!("Used of the sheet: {with:.0} % (folio {without:.0} %, parts {:.0} %).", with - without);
    ui.add(egui::Label::new(caption(&text)).wrap());
}

fn row(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part, place: usize) -> Rect {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW), Sense::hover());
    let buttons = Rect::from_min_max(Pos2::new(rect.right() - BUTTONS, rect.top() + 7.0), rect.max);
    name(ui, scene, part, Rect::from_min_max(rect.min, Pos2::new(buttons.left() - 6.0, rect.bottom())));
    let document = scene.session.document();
    let called = document.part_name(part.id);
    let last = document.parts.len().saturating_sub(1);
    let mut edit = None;
    ui.scope_builder(UiBuilder::new().max_rect(buttons), |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 3.0;
            if Icon::Up.button(ui, &format!("Put {called} on earlier"), place > 0).clicked() {
                edit = reorder(document, part.id, place.saturating_sub(1));
            }
            if Icon::Down.button(ui, &format!("Put {called} on later"), place < last).clicked() {
                edit = reorder(document, part.id, place + 1);
            }
        });
    });
    ui.advance_cursor_after_rect(rect);
    if let Some(edit) = edit {
        scene.edit(format!("Reorder {called}"), edit);
    }
    rect
}

fn name(ui: &Ui, scene: &mut Scene<'_>, part: &Part, rect: Rect) {
    let (document, derived) = (scene.session.document(), scene.session.derived());
    let selected = scene.session.selected() == Selected::Part(part.id);
    let called = document.part_name(part.id);
    let response = ui.interact(rect, Id::unique(("row of part", part.id.0)), Sense::click());
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, true, selected, format!("Select {called}")));
    let painter = theme::row(ui, &response, rect, selected);
    let faults = naming::faults(document, derived, part.id);
    let supply = naming::supply(document, derived, part);
    let mut right = rect.right() - 4.0;
    if !faults.is_empty() || supply.is_err() {
        let sign = Rect::from_center_size(Pos2::new(right - 9.0, rect.top() + 13.0), Vec2::splat(15.0));
        Icon::Error.paint(&painter, sign, colour(palette().error));
        right -= 22.0;
    }
    let left = rect.left() + 8.0;
    let font = if selected { bold(BODY) } else { plain(BODY) };
    let title = theme::shortened(&painter, &called, font, right - left);
    painter.galley(Pos2::new(left, rect.top() + 3.0), title, colour(palette().text));
    let from = supply.clone().unwrap_or_else(|_| "no paper for it".to_owned());
    let details: Vec<String> =
        [naming::size(document, &derived.layout, part.id), from].into_iter().filter(|text| !text.is_empty()).collect();
    // Laid out with the quiet ink, since a galley keeps the ink it was laid out with.
    let mut job = egui::text::LayoutJob::simple_singleline(details.join(", "), plain(SMALL), colour(palette().quiet));
    job.wrap = egui::text::TextWrapping::truncate_at_width((rect.right() - 4.0 - left).max(0.0));
    painter.galley(Pos2::new(left, rect.top() + 21.0), painter.layout_job(job), colour(palette().quiet));
    let menu = menu::asked(scene, &response);
    if response.clicked() || menu.is_some() {
        scene.ask(Action::Select(Selected::Part(part.id)));
    }
    if let Some(at) = menu {
        scene.ask(Action::ShowMenu(at, Of::Selected));
    }
    let response = response.described("Select this part.");
    let tip = faults.into_iter().chain(supply.err()).collect::<Vec<_>>().join("\n");
    if !tip.is_empty() {
        response.told(&tip);
    }
}

/// Asks for a change of one part, as one step of history, if it leaves a part that can be made; says why not if it doesn't.
fn try_change(scene: &mut Scene<'_>, label: &str, id: PartId, how: impl FnOnce(&mut Part)) -> Result<(), String> {
    let document = scene.session.document();
    let Some(was) = document.part(id) else { return Ok(()) };
    let mut part = was.clone();
    how(&mut part);
    if let Err(fault) = model::part::pattern::PartPattern::of(&part, document) {
        return Err(crate::field::sentence(&format!("{} {}", document.part_name(id), fault.phrase(document))));
    }
    let Some(edit) = model::part::change::change(document, id, |now| *now = part) else { return Ok(()) };
    super::try_edit(scene, format!("{label} {}", document.part_name(id)), edit)
}

/// The same where nothing was typed: what stands in the way is said in the status line.
fn change(scene: &mut Scene<'_>, label: &str, id: PartId, how: impl FnOnce(&mut Part)) {
    if let Err(why) = try_change(scene, label, id, how) {
        scene.ask(Action::Complain(why));
    }
}
