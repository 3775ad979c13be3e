//! Questions over the window: a new sheet, unsaved changes, a path to type, the paper and board, and what is shown in their
//! place: starters, two designs side by side.
//!
//! A dialog asks and hands back what was answered; the window does what follows from it.

mod about;
mod compare;
mod contents;
mod export;
mod gallery;
mod guide;
mod list;
mod paper;
mod safe;
mod stock;

pub(crate) use export::Exports;
pub(crate) use list::{List, Sort};
pub(crate) use safe::LeftRow;

use crate::arrangement::Arrangement;
use crate::comparison::Comparison;
use crate::export::Kind;
use crate::field::{Drafts, Field, sentence};
use crate::pane::Scene;
use crate::theme::{bold, caption, complaint, dialog_frame};
use crate::tip::Tip as _;
use crate::window::Begins;
use egui::{Id, Key, Modal, RichText, ScrollArea, TextEdit, Ui};
use model::{Size, StockId};
use session::Command;
use std::path::PathBuf;

/// Width of a question, px: wide enough for the longest row of answers.
const WIDTH: f32 = 450.0;

/// Below this room for it a question is scrolled where it is higher, px: most are lower.
const LOW: f32 = 520.0;

/// What of the window a question leaves free around its contents, px.
const AROUND: egui::Vec2 = egui::vec2(64.0, 72.0);

/// What waits until unsaved changes are seen to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Then {
    /// An empty design.
    New,
    /// Another design.
    Open,
    /// Another design whose path is known.
    OpenWaiting,
    /// A design that is begun from something.
    Begin,
    /// A variation of this design.
    Vary,
    /// The end of the program.
    Quit,
}

/// What a file is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// To open a design.
    Open,
    /// To compare this one with it.
    Compare,
    /// To save this one, and then what waited for it.
    Save(Option<Then>),
    /// To save a variation of this one.
    Vary,
    /// To write an export.
    Export(Kind),
}

impl Purpose {
    /// Whether the file is only read.
    pub(crate) const fn reads(self) -> bool {
        matches!(self, Self::Open | Self::Compare)
    }
}

/// Work that the window waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Task {
    /// An export is written.
    Export,
    /// Mends are tried.
    Mend,
}

/// A question that is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Dialog {
    /// Changes are not saved; something waits.
    Unsaved(Then),
    /// How large the new sheet is.
    NewSheet {
        /// What has been typed.
        size: String,
        /// Why that is no size.
        complaint: Option<String>,
    },
    /// The desktop's dialog is open.
    Waiting(Purpose),
    /// A path is typed here, for want of a dialog.
    Path {
        /// What for.
        purpose: Purpose,
        /// What has been typed.
        text: String,
        /// Why that won't do.
        complaint: Option<String>,
    },
    /// There is such a file already.
    Replace(Purpose, PathBuf),
    /// Somebody else has changed the file that is to be saved; something may wait.
    Changed(PathBuf, Option<Then>),
    /// What a crash has left.
    Recover(Vec<LeftRow>),
    /// What is exported, and how.
    Export(Kind),
    /// Work is under way: how much of how much is done.
    Working(Task, usize, usize),
    /// A long list to choose from.
    List(List),
    /// The starters to choose from, and the one that enter chooses.
    Gallery(usize),
    /// What should go in.
    Contents,
    /// Two designs side by side, and the sentence that is lit on both.
    Compare(Option<usize>),
    /// What the program is.
    About,
    /// A page of the guide.
    Guide,
    /// The paper and the board: the further paper that is seen, else the folio's.
    Paper(Option<StockId>),
    /// How large the other sheet is that the design is to be put on.
    MoveSheet {
        /// What has been typed.
        size: String,
        /// Why that won't do.
        complaint: Option<String>,
    },
}

/// What was answered.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Answer {
    /// Never mind.
    Never,
    /// Go ahead, where the question itself works out what that means; it stays open where that can't be done.
    Stay,
    /// Save first.
    Save(Then),
    /// Go on without saving.
    Discard(Then),
    /// A sheet of this size, and the unit it was said in.
    Sheet(Size, model::Unit),
    /// Not the desktop's dialog: a path field.
    TypePath(Purpose),
    /// This path, as typed.
    Path(Purpose, PathBuf),
    /// Yes, replace it.
    Replace(Purpose, PathBuf),
    /// Ask for the file.
    Ask(Purpose),
    /// Yes, replace what somebody else has put in this file.
    Overwrite(PathBuf, Option<Then>),
    /// Open what somebody else has put in this file, in the place of what is here.
    OpenTheirs(PathBuf),
    /// Open this one of what a crash has left.
    Recover(usize),
    /// Remove this one of what a crash has left.
    DiscardLeft(usize),
    /// Do what a command says.
    Run(Command),
    /// Go to where so many steps of history are made.
    GoTo(usize),
    /// Open this design.
    Recent(PathBuf),
    /// Begin with the starter of this number.
    Starter(usize),
    /// Begin the folio for what goes in.
    Contents,
}

/// What questions need beside the scene.
pub(crate) struct Desk<'a, 'b> {
    /// What is typed into fields.
    pub(crate) drafts: &'a mut Drafts,
    /// What was chosen of exports.
    pub(crate) exports: &'a mut Exports<'b>,
    /// How the window is arranged, and which designs were open.
    pub(crate) arrangement: &'a Arrangement,
    /// What designs are begun from.
    pub(crate) begins: &'a mut Begins,
    /// The two designs that are compared.
    pub(crate) comparison: Option<&'a Comparison>,
}

/// Shows the open question, if there is one; gives what was answered.
pub(crate) fn ui(
    ctx: &egui::Context,
    dialog: &mut Dialog,
    scene: &mut Scene<'_>,
    desk: Desk<'_, '_>,
) -> Option<Answer> {
    let Desk { drafts, exports, arrangement, begins, comparison } = desk;
    // Each kind of question has a size of its own to remember.
    let id = Id::unique(("dialog", format!("{:?}", std::mem::discriminant(dialog))));
    let (room, width) = (ctx.content_rect().size() - AROUND, dialog.width(ctx.content_rect().width() - AROUND.x));
    let modal = Modal::new(id).frame(dialog_frame()).show(ctx, |ui| {
        // In a window that is too small for all of it, the rest is scrolled to.
        let scrolls = [width > room.x, room.y < LOW];
        ui.set_width(width.min(room.x));
        let area = ScrollArea::new(scrolls).max_width(room.x).max_height(room.y).min_scrolled_height(room.y);
        let mut contents = |ui: &mut Ui| {
            ui.set_width(width);
            ui.spacing_mut().item_spacing.y = 10.0;
            match dialog {
                Dialog::Unsaved(then) => unsaved(ui, *then, &scene.session.document().title),
                Dialog::NewSheet { size, complaint } => new_sheet(ui, size, complaint),
                Dialog::Waiting(purpose) => waiting(ui, *purpose),
                Dialog::Path { purpose, text, complaint } => path(ui, *purpose, text, complaint.as_deref()),
                Dialog::Replace(purpose, path) => replace(ui, *purpose, path),
                Dialog::Changed(path, then) => safe::changed(ui, path, *then),
                Dialog::Recover(rows) => safe::recover(ui, rows),
                Dialog::Export(kind) => export::ui(ui, scene, drafts, kind, exports),
                Dialog::Working(task, done, all) => working(ui, *task, (*done, *all)),
                Dialog::Gallery(at) => gallery::ui(ui, &mut begins.gallery, at),
                Dialog::Contents => contents::ui(ui, scene, drafts, &mut begins.going_in),
                Dialog::Compare(lit) => comparison.and_then(|comparison| compare::ui(ui, comparison, lit)),
                Dialog::About => about::ui(ui),
                Dialog::Guide => guide::ui(ui),
                Dialog::List(list) => list::ui(ui, scene, list, arrangement),
                Dialog::Paper(shown) => paper::ui(ui, scene, drafts, shown),
                Dialog::MoveSheet { size, complaint } => paper::move_sheet(ui, scene, size, complaint),
            }
        };
        if scrolls == [false, false] { contents(ui) } else { area.show(ui, &mut contents).inner }
    });
    let closed = ctx.input(|input| input.key_pressed(Key::Escape));
    modal.inner.or_else(|| closed.then_some(Answer::Never))
}

impl Dialog {
    /// How wide it is in a window with so much room, px.
    fn width(&self, room: f32) -> f32 {
        match self {
            Self::Export(_) => export::width(room),
            Self::Gallery(_) => gallery::WIDTH,
            Self::Contents => contents::WIDTH,
            Self::Compare(_) => compare::WIDTH,
            Self::About => about::WIDTH,
            Self::Guide => guide::WIDTH,
            _ => WIDTH,
        }
    }
}

fn title(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).font(bold(17.0)));
}

/// Buttons at the lower right, the first answer the most usual one: enter gives it, unless it loses what is in a file.
/// Gives the answer whose button was pressed.
fn answers<const N: usize>(ui: &mut Ui, choices: [(&str, Answer); N]) -> Option<Answer> {
    let mut chosen = None;
    ui.add_space(4.0);
    let row = egui::vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, egui::Layout::right_to_left(egui::Align::Center), |ui| {
        for (index, (label, answer)) in choices.into_iter().enumerate() {
            let text = if index == 0 { RichText::new(label).font(bold(13.5)) } else { RichText::new(label) };
            let button = ui.button(text).tip(tip(&answer));
            let ready = index == 0 && !matches!(answer, Answer::Replace(..));
            if ready && ui.memory(|memory| memory.focused().is_none()) {
                button.request_focus();
            }
            if button.clicked() {
                chosen = Some(answer);
            }
        }
    });
    chosen
}

/// What an answer does, in a sentence.
const fn tip(answer: &Answer) -> &'static str {
    match answer {
        Answer::Never => "Close this and leave the design as it is. (Escape)",
        Answer::Stay => "Do it with what is typed above. (Enter)",
        Answer::Save(_) => "Save the changes to the design's file, then go on.",
        Answer::Discard(_) => "Go on and let the changes go.",
        Answer::Path(Purpose::Open, _) => "Open the design at this path.",
        Answer::Path(Purpose::Compare, _) => "Show the open design beside the one at this path.",
        Answer::Path(..) => "Write to this path.",
        Answer::TypePath(_) => "Type the path of the file instead.",
        Answer::Replace(..) => "Replace what is in the file.",
        Answer::Ask(Purpose::Export(_)) => "Choose a file, and write the export to it.",
        Answer::Ask(_) => "Choose another file to save to.",
        Answer::Overwrite(..) => "Save over what somebody else has put in the file.",
        Answer::OpenTheirs(_) => "Open what is in the file now, and let the changes here go.",
        Answer::Recover(_) => "Open this work as changes that are not saved yet.",
        Answer::DiscardLeft(_) => "Remove this work for good.",
        Answer::Starter(_) | Answer::Contents => "Open it as a new design that is not saved yet.",
        Answer::Sheet(..) => "Begin a design on a sheet of this size.",
        Answer::Run(_) => "Do what this command says.",
        Answer::GoTo(_) => "Go to the design as it was after this step.",
        Answer::Recent(_) => "Open this design.",
    }
}

fn unsaved(ui: &mut Ui, then: Then, name: &str) -> Option<Answer> {
    title(ui, "Save the changes first?");
    let what = match then {
        Then::New => "before you start another design",
        Then::Begin => "before you begin another design",
        Then::Vary => "before you make a variation of it",
        Then::Open | Then::OpenWaiting => "before you open another design",
        Then::Quit => "before you close Foliowright",
    };
    ui.label(format!("\"{name}\" has changes that are not saved. Save them {what}, or they are lost."));
    answers(ui, [("Save", Answer::Save(then)), ("Don't save", Answer::Discard(then)), ("Keep editing", Answer::Never)])
}

fn new_sheet(ui: &mut Ui, size: &mut String, why_not: &mut Option<String>) -> Option<Answer> {
    title(ui, "A new design");
    let label = ui.label("How large is the sheet? Such as \"12 x 12 in\", \"210 x 297 mm\", \"A4\" or \"letter\".");
    let edit = TextEdit::singleline(size).id(Id::unique("new sheet size")).desired_width(f32::INFINITY);
    let response = ui.add(edit).labelled_by(label.id).accessible_name("Size of the sheet");
    let response = response.tip("How large the sheet is: two lengths with a unit, or the name of a paper size.");
    let entered = entered(ui, &response, size, why_not.is_some());
    if response.changed() {
        *why_not = None;
    }
    if let Some(text) = why_not {
        ui.add(egui::Label::new(complaint(text)).wrap());
    }
    let pressed = answers(ui, [("Start", Answer::Stay), ("Keep editing", Answer::Never)]);
    match pressed {
        Some(Answer::Never) => Some(Answer::Never),
        Some(_) => sized(size, why_not),
        None if entered => sized(size, why_not),
        None => None,
    }
}

/// Whether enter was pressed in a field; the field gets the focus when nothing else has it.
fn entered(ui: &Ui, field: &egui::Response, text: &str, has_complaint: bool) -> bool {
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    if !entered && ui.memory(|memory| memory.focused().is_none()) {
        field.request_focus();
        // What was refused is mended where it stands.
        if !has_complaint {
            crate::field::select_all(ui.ctx(), field.id, text);
        }
    }
    entered
}

fn sized(text: &str, why_not: &mut Option<String>) -> Option<Answer> {
    match Size::parse(text) {
        Ok(size) => Some(Answer::Sheet(size, model::Unit::of_text(text))),
        Err(error) => {
            *why_not = Some(sentence(&error.to_string()));
            None
        }
    }
}

fn waiting(ui: &mut Ui, purpose: Purpose) -> Option<Answer> {
    title(ui, "Choose the file in the other window");
    ui.label("If no window has come up, type the path here instead.");
    answers(ui, [("Type a path…", Answer::TypePath(purpose)), ("Keep editing", Answer::Never)])
}

fn path(ui: &mut Ui, purpose: Purpose, text: &mut String, why_not: Option<&str>) -> Option<Answer> {
    let (heading, verb) = match purpose {
        Purpose::Open => ("Open a design", "Open"),
        Purpose::Compare => ("Compare with a design", "Compare"),
        Purpose::Save(_) => ("Save the design", "Save"),
        Purpose::Vary => ("Save the variation", "Save"),
        Purpose::Export(_) => ("Export", "Export"),
    };
    title(ui, heading);
    let label = ui.label("The path of the file:");
    let edit = TextEdit::singleline(text).id(Id::unique("path of a file")).desired_width(f32::INFINITY);
    let response = ui.add(edit).labelled_by(label.id).accessible_name("Path of the file");
    let response = response.tip("Where the file is, with the folders that it lies in.");
    let entered = entered(ui, &response, text, why_not.is_some());
    if let Some(text) = why_not {
        ui.add(egui::Label::new(complaint(text)).wrap());
    }
    let answer = Answer::Path(purpose, PathBuf::from(text.trim()));
    let pressed = answers(ui, [(verb, answer.clone()), ("Keep editing", Answer::Never)]);
    pressed.or_else(|| entered.then_some(answer))
}

fn replace(ui: &mut Ui, purpose: Purpose, path: &std::path::Path) -> Option<Answer> {
    title(ui, "Replace the file?");
    ui.label(format!("There is a file \"{}\" already. What is in it now will be lost.", path.display()));
    answers(ui, [("Replace", Answer::Replace(purpose, path.to_owned())), ("Keep editing", Answer::Never)])
}

fn working(ui: &mut Ui, task: Task, (done, all): (usize, usize)) -> Option<Answer> {
    let (name, begins, of) = match task {
        Task::Export => ("Exporting", "Drawing", "pictures"),
        Task::Mend => ("Mending", "Trying mends", "mends tried"),
    };
    title(ui, name);
    #[expect(clippy::cast_precision_loss, reason = "a share to be seen")]
    let share = if all == 0 { 0.0 } else { done as f32 / all as f32 };
    let words = if all == 0 { begins.to_owned() } else { format!("{done} of {all} {of}") };
    ui.add(egui::ProgressBar::new(share).text(words));
    answers(ui, [("Stop", Answer::Never)])
}

/// A field under its name; `key` tells it from a field of the same name elsewhere.
fn property(
    ui: &mut Ui,
    drafts: &mut Drafts,
    key: &str,
    (name, shown): (&str, &str),
    take: impl FnOnce(&str) -> Result<(), String>,
) {
    hinted(ui, drafts, key, (name, shown, ""), take);
}

/// The same with what stands there while the field is empty.
fn hinted(
    ui: &mut Ui,
    drafts: &mut Drafts,
    key: &str,
    (name, shown, hint): (&str, &str, &str),
    take: impl FnOnce(&str) -> Result<(), String>,
) {
    let id = Id::unique(("paper", key, name));
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.label(caption(name)).explained(name);
        drafts.field(ui, Field { id, name, shown, hint, width: f32::INFINITY }, take);
        drafts.say_why(ui, id);
    });
}
