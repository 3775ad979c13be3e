//! How the panes lie beside one another, and which of the lists are shown.

use super::Status;
use crate::arrangement::{Arrangement, Pane, Tight, View};
use crate::commands;
use crate::field::Drafts;
use crate::icon::Icon;
use crate::pane::folded::FoldedPane;
use crate::pane::lengths::LengthsPane;
use crate::pane::lines::LinesPane;
use crate::pane::panel::PanelPane;
use crate::pane::parts::PartsPane;
use crate::pane::reorder::Reorder;
use crate::pane::sheet::SheetPane;
use crate::pane::{Action, LeftList, OrderList, Scene, bar, findings, making, steps, welcome};
use crate::theme::{self, caption, complaint};
use crate::tip::Tip as _;
use egui::panel::PanelState;
use egui::{Align, CentralPanel, Layout, Panel, Ui};
use session::{Command, Selected};
use std::ops::RangeInclusive;

/// The least width of the list of lines, px: its fields and buttons side by side.
const LEAST_LINES: f32 = 304.0;

/// The least width of the sheet's pane, px, where there is room for it; and where there is not.
const LEAST_SHEET: f32 = 420.0;
const TIGHT_SHEET: f32 = 340.0;

/// The least of it beside one other pane in a narrow window, px.
const BESIDE_ONE: f32 = 296.0;

/// In a window lower than this, px, findings and orders take no more of its height than that part.
const MANY_ROWS: f32 = 620.0;
const ROWS: f32 = 0.3;

/// Width of the cross that closes a pane, with its gap, px.
const CROSS: f32 = 34.0;

/// The least heights of findings and orders, px: their headings and a row.
const LEAST_FINDINGS: f32 = 80.0;
const LEAST_ORDERS: f32 = 90.0;

/// Height of what is said where findings are closed, px.
const SAID: f32 = 48.0;

/// Below this height of the window the first start is told of in one sentence, px.
const FEW_WORDS: f32 = 500.0;

/// The least width of the folded view, px: its row of buttons.
const LEAST_FOLDED: f32 = 340.0;

/// The panes of a frame, and what they need beside the scene.
pub(super) struct Panes<'a> {
    pub(super) sheet: &'a mut SheetPane,
    pub(super) folded: &'a mut FoldedPane,
    pub(super) lines: &'a mut LinesPane,
    pub(super) panel: &'a mut PanelPane,
    pub(super) parts: &'a mut PartsPane,
    pub(super) lengths: &'a mut LengthsPane,
    pub(super) list: LeftList,
    pub(super) order: &'a mut OrderList,
    pub(super) reorder: &'a mut Reorder,
    pub(super) drafts: &'a mut Drafts,
    pub(super) arrangement: &'a mut Arrangement,
    /// Whether she is to be told how to begin.
    pub(super) greets: bool,
    /// Whether the window was of another size in the frame before.
    pub(super) is_resized: bool,
    /// Whether silenced findings are shown.
    pub(super) shows_silenced: bool,
    pub(super) status: Option<&'a Status>,
    pub(super) hint: Option<&'a str>,
    pub(super) file: Option<&'a std::path::Path>,
}

impl Panes<'_> {
    /// Shows all panes that are not closed.
    pub(super) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        let frame = theme::pane_frame();
        // The lines between panes let what is behind them show through.
        ui.painter().rect_filled(ui.max_rect(), 0.0, theme::colour(theme::palette().desk));
        Panel::top("bar").frame(frame).show(ui, |ui| bar::ui(ui, scene, self.drafts, self.file, self.arrangement));
        if self.greets {
            let in_short = ui.ctx().content_rect().height() < FEW_WORDS;
            let told = Panel::top("welcome").frame(frame).show(ui, |ui| welcome::ui(ui, in_short)).inner;
            if told {
                self.arrangement.greeted();
            }
        }
        let whole = ui.available_width();
        let is_narrow = self.arrangement.tight().is_narrow;
        let least_sheet = (whole - LEAST_LINES - LEAST_FOLDED).clamp(TIGHT_SHEET, LEAST_SHEET);
        if self.arrangement.shows(Pane::Lists) {
            let (id, most) = if is_narrow {
                ("lines alone", whole - BESIDE_ONE)
            } else {
                ("lines", (whole - least_sheet - LEAST_FOLDED).min(480.0))
            };
            let most = most.max(LEAST_LINES);
            let size = self.arrangement.size(Pane::Lists, 316.0).clamp(LEAST_LINES, most);
            self.forget_size(ui, id);
            let panel = Panel::left(id).frame(frame).default_size(size).size_range(LEAST_LINES..=most);
            let shown = panel.show(ui, |ui| self.lists(ui, scene));
            self.note_size(ui, Pane::Lists, size, shown.response.rect.width());
        }
        if self.arrangement.shows(Pane::Folded) && self.arrangement.filling().is_none() {
            let (id, least_sheet, usual) = if is_narrow {
                ("folded alone", BESIDE_ONE, whole * 0.45)
            } else {
                // On a large screen the folio grows along with the sheet.
                ("folded", least_sheet, (whole * 0.34).max(420.0))
            };
            // What is left for the sheet is never less than the panes beside it.
            let most = (ui.available_width() - least_sheet).max(LEAST_FOLDED);
            let size = self.arrangement.size(Pane::Folded, usual).clamp(LEAST_FOLDED, most);
            self.forget_size(ui, id);
            let panel = Panel::right(id).frame(frame).default_size(size).size_range(LEAST_FOLDED..=most);
            let shown = panel.show(ui, |ui| self.folding(ui, scene));
            self.note_size(ui, Pane::Folded, size, shown.response.rect.width());
        }
        if self.arrangement.shows(Pane::Findings) {
            let most = most_rows(ui, LEAST_FINDINGS..=400.0);
            let size = self.arrangement.size(Pane::Findings, 170.0).clamp(LEAST_FINDINGS, most);
            self.forget_size(ui, "findings");
            let panel = Panel::bottom("findings").frame(frame).resizable(true).default_size(size);
            let shown = panel.size_range(LEAST_FINDINGS..=most).show(ui, |ui| {
                self.say(ui);
                if findings::ui(ui, scene, self.shows_silenced) {
                    scene.ask(Action::Run(Command::ShowFindings));
                }
            });
            self.note_size(ui, Pane::Findings, size, shown.response.rect.height());
        } else {
            // What is said needs a place all the same.
            Panel::bottom("said").frame(frame).resizable(false).exact_size(SAID).show(ui, |ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    if let Some(counts) = findings::counts(scene)
                        && ui.button(counts).tip(Command::ShowFindings.entry().tooltip).clicked()
                    {
                        scene.ask(Action::Run(Command::ShowFindings));
                    }
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| self.say(ui));
                });
            });
        }
        CentralPanel::default().frame(frame).show(ui, |ui| {
            if self.arrangement.shows_sheet() {
                self.sheet.ui(ui, scene);
            } else {
                self.folding(ui, scene);
            }
        });
    }

    /// Lets a pane be as large as it was chosen to be where the window has become another: a small one makes panes smaller
    /// only for the time.
    fn forget_size(&self, ui: &Ui, pane: &'static str) {
        if self.is_resized {
            let id = ui.scope_id().with(pane);
            ui.ctx().data_mut(|data| data.remove::<PanelState>(id));
        }
    }

    /// Notes how large a pane is while she may be changing that, unless it is no larger or smaller than it was to be.
    fn note_size(&mut self, ui: &Ui, pane: Pane, was: f32, size: f32) {
        let is_tight = self.arrangement.tight() != Tight::default();
        let is_other = (size - was).abs() > 1.0;
        if is_other && !is_tight && ui.input(|input| input.pointer.any_down() || input.pointer.any_released()) {
            self.arrangement.note_size(pane, size);
        }
    }

    fn lists(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        self.panel.ui(ui, scene, self.list);
        lists(ui, scene, self.list);
        match self.list {
            LeftList::Lines => self.lines.ui(ui, scene),
            LeftList::Parts => self.parts.ui(ui, scene),
            LeftList::Lengths => self.lengths.ui(ui, scene),
        }
    }

    fn folding(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        let steps = scene.session.document().steps.len();
        let now = (0..steps).find(|&step| {
            let from = f64::from(u32::try_from(step).unwrap_or(u32::MAX));
            let time = self.folded.time();
            time > from && time <= from + 1.0
        });
        if self.arrangement.shows(Pane::Orders) {
            let most = most_rows(ui, LEAST_ORDERS..=500.0);
            let size = self.arrangement.size(Pane::Orders, 220.0).clamp(LEAST_ORDERS, most);
            self.forget_size(ui, "steps");
            let is_low = self.arrangement.tight().is_low;
            let shown = Panel::bottom("steps")
                .frame(egui::Frame::new().inner_margin(egui::Margin { top: 10, ..egui::Margin::ZERO }))
                .resizable(true)
                .default_size(size)
                .size_range(LEAST_ORDERS..=most)
                .show(ui, |ui| {
                    orders(ui, scene, self.order, is_low);
                    match self.order {
                        OrderList::Closing => steps::ui(ui, scene, self.reorder, now),
                        OrderList::Making => making::ui(ui, scene, self.reorder),
                    }
                });
            self.note_size(ui, Pane::Orders, size, shown.response.rect.height());
        }
        self.folded.ui(ui, scene, self.arrangement.filling() == Some(View::Folded));
    }

    fn say(&self, ui: &mut Ui) {
        if let Some(hint) = self.hint {
            ui.add(egui::Label::new(caption(hint)).wrap());
            return;
        }
        let Some(Status { text, is_complaint }) = self.status else { return };
        let text = if *is_complaint { complaint(text) } else { caption(text) };
        ui.add(egui::Label::new(text).wrap());
    }
}

/// How high findings or orders may be, px, within a range.
fn most_rows(ui: &Ui, range: RangeInclusive<f32>) -> f32 {
    let height = ui.ctx().content_rect().height();
    if height < MANY_ROWS { (height * ROWS).clamp(*range.start(), *range.end()) } else { *range.end() }
}

/// Which list is shown at the left.
fn lists(ui: &mut Ui, scene: &mut Scene<'_>, now: LeftList) {
    let (document, selected) = (scene.session.document(), scene.session.selected());
    let parts = document.parts.len();
    let parts = if parts == 0 { "Parts".to_owned() } else { format!("Parts ({parts})") };
    let lengths = document.lengths.list.len();
    let lengths = if lengths == 0 { "Lengths".to_owned() } else { format!("Lengths ({lengths})") };
    ui.horizontal(|ui| {
        let lists = [
            (LeftList::Lines, "Lines", "List the lines, and what can be changed of the one that is selected."),
            (LeftList::Parts, &parts, "List the parts, and what can be changed of the one that is selected."),
            (LeftList::Lengths, &lengths, "List the lengths that have a name, to be used wherever a length is typed."),
        ];
        for (list, name, tip) in lists {
            if tab(ui, name, tip, now == list) {
                scene.ask(Action::ShowList(list));
                // The details belong to the list that is left.
                let is_elsewhere = match list {
                    LeftList::Lines => selected.part().is_some(),
                    LeftList::Parts => selected.line().is_some(),
                    LeftList::Lengths => selected.line().is_some() || selected.part().is_some(),
                };
                if is_elsewhere {
                    scene.ask(Action::Select(Selected::Nothing));
                }
            }
        }
        close(ui, scene, Command::ShowLists, "Close the lists");
    });
}

/// Which order is shown at the lower right. In a low window its button is left to the menu of the folio.
fn orders(ui: &mut Ui, scene: &mut Scene<'_>, now: &mut OrderList, is_low: bool) {
    ui.horizontal_wrapped(|ui| {
        let orders = [
            (OrderList::Closing, "Closing order", "List the steps in which the folio closes."),
            (OrderList::Making, "Making order", "List the jobs in which the folio and its parts are made."),
        ];
        for (order, name, tip) in orders {
            if tab(ui, name, tip, *now == order) {
                *now = order;
            }
        }
        if *now == OrderList::Closing && !is_low {
            let label = commands::label(scene.session, Command::FindOrder).into_owned();
            let words = ui.painter().layout_no_wrap(label, theme::plain(theme::BODY), egui::Color32::PLACEHOLDER);
            let needed = words.size().x + 2.0 * ui.spacing().button_padding.x + CROSS;
            if ui.available_size_before_wrap().x < needed {
                ui.end_row();
            }
            commands::button(ui, scene, Command::FindOrder);
        }
        close(ui, scene, Command::ShowOrders, "Close the orders");
    });
}

/// A small cross at the right that closes a pane.
fn close(ui: &mut Ui, scene: &mut Scene<'_>, command: Command, label: &str) {
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        if Icon::Close.small(ui, label).clicked() {
            scene.ask(Action::Run(command));
        }
    });
}

/// A heading that can be chosen; says whether it was.
fn tab(ui: &mut Ui, name: &str, tip: &str, on: bool) -> bool {
    ui.add(egui::Button::selectable(on, theme::heading(name))).tip(tip).clicked()
}
