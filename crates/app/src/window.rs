//! The window as a whole: its panes, what they ask for, and what becomes of it.

mod arrange;
mod begin;
mod bring;
mod choices;
mod files;
mod keys;
mod let_go;
mod look;
mod mend;
mod panes;
mod safe;
#[cfg(test)]
mod tests;

use crate::arrangement::{Arrangement, Pane};
use crate::artwork::Artwork;
use crate::ask_lengths::AskLengths;
use crate::chooser::Chooser;
use crate::comparison::Comparison;
use crate::dialog::{self, Dialog, Exports, List, Purpose, Sort, Then};
use crate::export::{Choices, Kind, Looks, Preview, Work};
use crate::field::{Drafts, sentence};
use crate::menu::{self, Menu};
use crate::pane::folded::FoldedPane;
use crate::pane::lengths::LengthsPane;
use crate::pane::lines::LinesPane;
use crate::pane::panel::PanelPane;
use crate::pane::parts::PartsPane;
use crate::pane::reorder::Reorder;
use crate::pane::sheet::SheetPane;
use crate::pane::{Action, LeftList, OrderList, OwnLine, Scene};
use crate::theme;
use crate::tip::Hush;
use crate::{commands, pane};
use check::Spot;
use egui::Ui;
use keep::Keep;
use model::{Document, PanelId, Turn};
use panes::Panes;
use safe::Safe;
use session::{Command, Selected, Selection, Session};
use std::path::PathBuf;
use std::time::Duration;

pub(crate) use begin::Begins;

/// The window: one open design and how it is looked at.
pub struct Window {
    session: Session,
    file: Option<PathBuf>,
    /// Counts the designs opened, so that panes notice another one.
    design: u64,
    turn: Turn,
    hovered: Option<PanelId>,
    spot: Option<Spot>,
    /// The line of the selected part of her own that was chosen last.
    own_line: Option<OwnLine>,
    refused: Option<String>,
    status: Option<Status>,
    /// What is under way while the pointer draws or drags, in place of the status.
    hint: Option<String>,
    sheet: SheetPane,
    folded: FoldedPane,
    lines: LinesPane,
    panel: PanelPane,
    parts: PartsPane,
    lengths: LengthsPane,
    /// The menu of a thing, while it is open.
    menu: Option<Menu>,
    /// Whether keys asked for one in this frame.
    asks_menu: bool,
    hush: Hush,
    /// Whether silenced findings are shown.
    shows_silenced: bool,
    /// The question for named lengths, while it is open.
    asking: Option<AskLengths>,
    list: LeftList,
    order: OrderList,
    /// A row of it that is carried.
    reorder: Reorder,
    drafts: Drafts,
    dialog: Option<Dialog>,
    /// What was last chosen of each export of this design.
    choices: Choices,
    /// Those of them that are remembered.
    kept_choices: Choices,
    preview: Preview,
    /// What is printed on its papers.
    artwork: Artwork,
    /// An export under way, and where to.
    work: Option<(Work, Kind, PathBuf)>,
    /// Mends that are being tried.
    mending: Option<mend::Mending>,
    /// What is known of the clipboard.
    clipboard: bring::Clipboard,
    chooser: Box<dyn Chooser>,
    /// Where things are remembered from one run to the next.
    keep: Keep,
    safe: Safe,
    /// How the window is arranged, as it is now and as it was kept last.
    arrangement: Arrangement,
    kept: Arrangement,
    /// The tone and size that the context was given.
    laid_out: Option<(theme::Tone, u16)>,
    /// How large the window was in the frame before.
    size: egui::Vec2,
    /// The file that was noted last among those that were open.
    noted_file: Option<PathBuf>,
    /// A design that is opened once unsaved changes are seen to.
    waiting: Option<PathBuf>,
    /// What designs are begun from.
    begins: Begins,
    /// The two designs that were compared last.
    comparison: Option<Comparison>,
    titled: String,
    /// Whether keys were meant for a field or a question in the frame before.
    was_typing: bool,
    ending: bool,
}

/// The last thing to say to the maker.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Status {
    text: String,
    is_complaint: bool,
}

impl std::fmt::Debug for Window {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Window").field("session", &self.session).field("file", &self.file).finish_non_exhaustive()
    }
}

impl Window {
    /// A window on a design, which came from `file` if from any.
    #[must_use]
    pub fn new(document: Document, file: Option<PathBuf>, chooser: Box<dyn Chooser>) -> Self {
        let choices = Choices::usual(&document);
        let safe = Safe::of(file.as_deref());
        Self {
            session: Session::new(document),
            file,
            design: 0,
            turn: Turn::None,
            hovered: None,
            spot: None,
            own_line: None,
            refused: None,
            status: None,
            hint: None,
            sheet: SheetPane::default(),
            folded: FoldedPane::default(),
            lines: LinesPane::default(),
            panel: PanelPane::default(),
            parts: PartsPane::default(),
            lengths: LengthsPane::default(),
            menu: None,
            asks_menu: false,
            hush: Hush::default(),
            shows_silenced: false,
            asking: None,
            list: LeftList::default(),
            order: OrderList::default(),
            reorder: Reorder::default(),
            drafts: Drafts::default(),
            dialog: None,
            kept_choices: choices.clone(),
            choices,
            preview: Preview::default(),
            artwork: Artwork::default(),
            work: None,
            mending: None,
            clipboard: bring::Clipboard::default(),
            chooser,
            keep: Keep::nowhere(),
            safe,
            arrangement: Arrangement::default(),
            kept: Arrangement::default(),
            laid_out: None,
            size: egui::Vec2::ZERO,
            noted_file: None,
            waiting: None,
            begins: Begins::default(),
            comparison: None,
            titled: String::new(),
            was_typing: false,
            ending: false,
        }
    }

    /// Gives a context the window's fonts and style; once, before the first frame.
    pub fn set_up(ctx: &egui::Context) {
        theme::install(ctx);
    }

    /// The open design.
    #[must_use]
    pub const fn session(&self) -> &Session {
        &self.session
    }

    /// How the sheet lies on the board.
    #[must_use]
    pub const fn turn(&self) -> Turn {
        self.turn
    }

    /// How far the folded view is closed: 0 flat, the number of steps closed.
    #[must_use]
    pub const fn fold_time(&self) -> f64 {
        self.folded.time()
    }

    /// The file that the design was opened from or saved to last.
    #[must_use]
    pub const fn file(&self) -> Option<&PathBuf> {
        self.file.as_ref()
    }

    /// Whether the window is done: everything is saved, or let go.
    #[must_use]
    pub const fn is_ending(&self) -> bool {
        self.ending
    }

    /// Draws one frame and does what was asked for in it.
    pub fn ui(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.lay_out(&ctx);
        let is_resized = self.follow_size(&ctx);
        self.hush.follow(&ctx);
        let escaped = self.escaped(&ctx);
        self.was_typing = self.is_typing(&ctx);
        self.hear(&ctx);
        self.follow_work();
        self.follow_mending(Duration::ZERO);
        self.guard_closing(&ctx);
        let dropping = self.take_dropped(&ctx);
        self.hear_clipboard(&ctx);
        self.hear_keys(&ctx);
        if escaped && !self.sheet.lay_down_pen() {
            self.select(Selected::Nothing);
        }
        let dragged = self.follow_drag(&ctx);
        let now = (self.design, self.session.revision());
        self.artwork.follow(&ctx, self.file.as_deref(), self.session.document(), now);
        let hint = dropping.or_else(|| dragged.clone()).or_else(|| self.hint.clone());
        let greets = self.greets();
        let before = (self.session.revision(), self.session.selected_lines(), self.session.selected(), self.turn);
        let mut scene = Scene::new(
            &self.session,
            self.design,
            self.turn,
            self.hovered,
            self.spot.as_ref(),
            self.refused.as_deref(),
        );
        scene.own_line = self.own_line(&ctx);
        scene.asks_menu = std::mem::take(&mut self.asks_menu);
        scene.can_paste = self.clipboard.holds_something();
        scene.prints = self.artwork.prints();
        scene.readings = self.artwork.readings();
        let mut panes = Panes {
            sheet: &mut self.sheet,
            folded: &mut self.folded,
            lines: &mut self.lines,
            panel: &mut self.panel,
            parts: &mut self.parts,
            lengths: &mut self.lengths,
            list: self.list,
            order: &mut self.order,
            reorder: &mut self.reorder,
            drafts: &mut self.drafts,
            arrangement: &mut self.arrangement,
            greets,
            is_resized,
            shows_silenced: self.shows_silenced,
            status: self.status.as_ref(),
            hint: hint.as_deref(),
            file: self.file.as_deref(),
        };
        panes.ui(ui, &mut scene);
        if std::mem::take(&mut scene.asks_menu) {
            scene.ask(menu::of_selected(&ctx));
        }
        if self.menu.as_mut().is_some_and(|menu| menu.ui(&ctx, &mut scene)) {
            self.menu = None;
        }
        let looks = Looks { turn: self.turn, view: panes.folded.view(), time: panes.folded.time() };
        let mut exports = Exports { choices: &mut self.choices, preview: &mut self.preview, looks };
        let answer = self.dialog.as_mut().and_then(|open| {
            let desk = dialog::Desk {
                drafts: &mut self.drafts,
                exports: &mut exports,
                arrangement: &self.arrangement,
                begins: &mut self.begins,
                comparison: self.comparison.as_ref(),
            };
            dialog::ui(&ctx, open, &mut scene, desk)
        });
        if self.asking.as_mut().is_some_and(|asking| asking.ui(&ctx, &mut scene)) {
            self.asking = None;
        }
        scene.say_otherwise();
        let (hovered, hint, actions) = (scene.now_hovered, scene.now_hint.or(dragged), scene.actions);
        for action in actions {
            self.act(&ctx, action);
        }
        if let Some(answer) = answer {
            self.answered(&ctx, answer);
        }
        if (&hovered, &hint) != (&self.hovered, &self.hint) {
            self.hovered = hovered;
            self.hint = hint;
            ctx.request_repaint();
        }
        let now = (self.session.revision(), self.session.selected_lines(), self.session.selected(), self.turn);
        if before != now {
            // What was drawn so far shows the design as it was; draw all of it again within this frame.
            ctx.request_discard("the design has changed");
        }
        self.reorder.rest(&ctx);
        self.remember_choices();
        self.name_window(&ctx);
        self.keep_work();
        self.keep_arrangement(&ctx);
    }

    /// Follows a drag under way; gives what to say of it.
    fn follow_drag(&mut self, ctx: &egui::Context) -> Option<String> {
        let mut scene = Scene::new(&self.session, self.design, self.turn, self.hovered, None, None);
        self.sheet.follow_drag(ctx, &mut scene);
        let hint = scene.now_hint;
        for action in scene.actions {
            self.act(ctx, action);
        }
        hint
    }

    fn act(&mut self, ctx: &egui::Context, action: Action) {
        match action {
            Action::Run(command) => self.run(ctx, command),
            Action::Edit(label, edit) => self.change(ctx, &label, edit, None),
            Action::EditAndSelect(label, edit, selected) => self.change(ctx, &label, edit, Some(selected.into())),
            Action::Select(selected) => self.select(selected),
            Action::SelectAlso(id, at) => {
                self.session.select_also(id, at);
                self.spot = None;
            }
            Action::SelectLines(lines) => {
                self.session.select(lines.into_iter().collect::<Selection>());
                self.show_list_of_selected();
                self.spot = None;
            }
            Action::WorkOn(line) => self.own_line = Some(line),
            Action::ShowList(list) => self.list = list,
            Action::AskLengths => self.asking = AskLengths::of(self.session.document()),
            Action::Complain(text) => self.complain(&text),
            Action::Report(text) => self.report(text),
            Action::ShowMenu(at, of) => self.menu = Some(Menu::new(ctx, at, of)),
            Action::BeginDrag(label) => self.session.begin_gesture(&label),
            Action::Drag(edit) => {
                self.refused = self.session.drag(edit).err().map(|refusal| sentence(&refusal.to_string()));
                self.spot = None;
            }
            Action::FinishDrag => {
                let before = self.session.gesture_start().map(|(document, _)| document.clone());
                self.session.finish_gesture();
                self.refused = None;
                self.status = None;
                if let Some(before) = before {
                    self.say_what_let_go(&before);
                }
            }
            Action::CancelDrag => {
                self.session.cancel_gesture();
                self.refused = None;
            }
            Action::Swing(panel) => self.swing(Some(panel)),
            Action::ShowSpot(spot) => {
                if let Some(step) = spot.step {
                    self.folded.set_time(f64::from(u32::try_from(step + 1).unwrap_or(u32::MAX)));
                }
                self.spot = Some(spot);
            }
        }
    }

    fn change(&mut self, ctx: &egui::Context, label: &str, edit: model::Edit, select: Option<Selection>) {
        let before = self.session.document().clone();
        match self.session.apply(label, edit) {
            Ok(()) => {
                self.spot = None;
                self.status = None;
                self.say_what_let_go(&before);
                if let Some(selection) = select {
                    self.session.select(selection);
                    self.show_list_of_selected();
                    // A new line or part is what the keys work on next.
                    let selected = self.session.selected();
                    let line = selected.line().map(pane::sheet::line_id);
                    if let Some(id) = line.or(selected.part().map(pane::sheet::part_id)) {
                        ctx.memory_mut(|memory| memory.request_focus(id));
                    }
                }
            }
            Err(refusal) => self.complain(&refusal.to_string()),
        }
    }

    /// Brings up the list in which what is selected is shown in detail.
    fn show_list_of_selected(&mut self) {
        match self.session.selected() {
            Selected::Line { .. } => self.list = LeftList::Lines,
            Selected::Part(_) => self.list = LeftList::Parts,
            Selected::Nothing | Selected::Panel(_) => {}
        }
    }

    fn select(&mut self, selected: Selected) {
        self.own_line = None;
        self.session.select(selected);
        self.show_list_of_selected();
        self.spot = None;
        if self.status.as_ref().is_some_and(|status| status.is_complaint) {
            self.status = None;
        }
    }

    /// Makes the change that a command comes to, or says why it can't be made.
    fn make(&mut self, ctx: &egui::Context, change: Result<commands::Change, String>) {
        match change {
            Ok(change) => {
                self.change(ctx, &change.label, change.edit, change.select);
                self.own_line = change.own_line.or(self.own_line);
                if let (Some(said), None) = (change.said, &self.status) {
                    self.report(said);
                }
            }
            Err(why) => self.complain(&why),
        }
    }

    /// Does what a command says.
    fn run(&mut self, ctx: &egui::Context, command: Command) {
        let command = command.meant(self.session.selected());
        if let Some(change) = commands::change(&self.session, self.turn, command) {
            return self.make(ctx, change);
        }
        if !self.arrange(command) && !self.exchange(ctx, command) && !self.look(command) {
            self.ask_for(ctx, command);
        }
    }

    /// Does what a command says of files, history or the sheet.
    fn ask_for(&mut self, ctx: &egui::Context, command: Command) {
        match command {
            Command::New => self.guard(ctx, Then::New),
            Command::NewFromStarter => self.show_gallery(),
            Command::NewForContents => self.ask_contents(),
            Command::Open => self.guard(ctx, Then::Open),
            Command::OpenRecent => self.list(List::new(Sort::Recent)),
            Command::ShowHistory => self.list(List::at(Sort::History, self.session.steps().1)),
            Command::AllCommands => self.list(List::new(Sort::Commands)),
            Command::Paper => {
                self.session.finish_gesture();
                self.dialog = Some(Dialog::Paper(None));
            }
            Command::Quit => self.guard(ctx, Then::Quit),
            Command::Save => self.save(ctx, None),
            Command::SaveAs => self.ask(ctx, Purpose::Save(None)),
            Command::Vary => self.guard(ctx, Then::Vary),
            Command::WhatChanged => self.compare_variation(),
            Command::CompareWith => {
                self.session.finish_gesture();
                self.ask(ctx, Purpose::Compare);
            }
            Command::About => self.dialog = Some(Dialog::About),
            Command::FromNothing => self.dialog = Some(Dialog::Guide),
            Command::ShowMenu => {
                self.session.finish_gesture();
                self.asks_menu = true;
            }
            Command::MendAll => self.mend_all(ctx),
            Command::ShowSilenced => {
                self.shows_silenced = !self.shows_silenced;
                self.arrangement.show(Pane::Findings);
            }
            Command::Export => self.show_exports(Kind::Template),
            Command::ExportPicture => self.show_exports(Kind::Picture),
            Command::Undo => self.step_in_history(Session::undo),
            Command::Redo => self.step_in_history(Session::redo),
            Command::DrawLine => self.sheet.draw_or_stop(),
            Command::Measure => self.sheet.measure_or_stop(),
            Command::CutAlong => self.sheet.cut_along_or_stop(),
            Command::MoveSheet => {
                let document = self.session.document();
                let size = document.stock.size.text(document.units);
                self.dialog = Some(Dialog::MoveSheet { size, complaint: None });
            }
            Command::TurnSheet => self.turn = self.turn.once_more(),
            Command::FitSheet => self.sheet.fit(),
            Command::ShowParts => self.sheet.show_or_hide_parts(),
            Command::AddPart => {
                self.arrangement.show(Pane::Lists);
                self.list = LeftList::Parts;
                self.parts.open_menu();
                ctx.request_repaint();
            }
            // All others change the design or how it is looked at, and are done by now.
            _ => {}
        }
    }

    /// Opens a long list to choose from.
    fn list(&mut self, list: List) {
        self.session.finish_gesture();
        self.dialog = Some(list.into());
    }

    /// Opens the question of what is exported, at one kind.
    fn show_exports(&mut self, kind: Kind) {
        self.session.finish_gesture();
        self.preview.page = 0;
        self.dialog = Some(Dialog::Export(kind));
    }

    fn step_in_history(&mut self, step: impl Fn(&mut Session) -> Result<bool, model::Refusal>) {
        self.spot = None;
        self.status = None;
        if let Err(refusal) = step(&mut self.session) {
            self.complain(&refusal.to_string());
        }
    }

    fn complain(&mut self, text: &str) {
        self.status = Some(Status { text: sentence(text), is_complaint: true });
    }

    fn report(&mut self, text: String) {
        self.status = Some(Status { text, is_complaint: false });
    }

    fn name_window(&mut self, ctx: &egui::Context) {
        let changed = if self.session.is_changed() { " (changes not saved)" } else { "" };
        let title = format!("{}{changed} - Foliowright", self.session.document().title);
        if title != self.titled {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.titled = title;
        }
    }
}
