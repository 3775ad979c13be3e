//! Opening, saving and exporting: what is asked before, and what is said after.

use super::Window;
use super::begin::Begun;
use super::safe::left_behind;
use crate::chooser::{Chosen, Request};
use crate::dialog::{Answer, Dialog, Purpose, Task, Then};
use crate::export::{Ended, Looks, Preview, Work};
use crate::field::sentence;
use model::{Document, Unit};
use session::Session;
use std::path::{Path, PathBuf};

/// What a design's file is called in dialogs, and its extension.
const DESIGN: (&str, &[&str]) = ("Foliowright design", &["folio"]);

/// The same when one is opened: the version before the last lies beside a design.
const DESIGN_OR_BACKUP: (&str, &[&str]) = ("Foliowright design", &["folio", "folio~"]);

impl Window {
    /// Fetches the answer of the desktop's dialog, once there is one.
    pub(super) fn hear(&mut self, ctx: &egui::Context) {
        let Some(Dialog::Waiting(purpose)) = self.dialog else { return };
        match self.chooser.answer(ctx) {
            None => {}
            Some(Chosen::Nothing) => self.dialog = None,
            Some(Chosen::NoDialog) => self.type_path(purpose),
            Some(Chosen::File(path)) => {
                self.dialog = None;
                self.take_path(ctx, purpose, path);
            }
        }
    }

    /// Holds the window open while there are changes to see to.
    pub(super) fn guard_closing(&mut self, ctx: &egui::Context) {
        if !self.ending && ctx.input(|input| input.viewport().close_requested()) {
            if self.session.is_changed() {
                ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
                self.guard(ctx, Then::Quit);
            } else {
                self.ending = true;
            }
        }
    }

    /// Goes on with what would lose changes, once they are seen to.
    pub(super) fn guard(&mut self, ctx: &egui::Context, then: Then) {
        self.session.finish_gesture();
        if self.session.is_changed() {
            self.dialog = Some(Dialog::Unsaved(then));
        } else {
            self.go_on(ctx, then);
        }
    }

    /// Saves to the file the design came from, or asks for one.
    pub(super) fn save(&mut self, ctx: &egui::Context, then: Option<Then>) {
        match self.file.clone() {
            Some(path) => self.save_to(ctx, &path, then),
            None => self.ask(ctx, Purpose::Save(then)),
        }
    }

    /// Asks for a file with the desktop's dialog.
    pub(super) fn ask(&mut self, ctx: &egui::Context, purpose: Purpose) {
        let (title, kind) = match purpose {
            Purpose::Open => ("Open a design", DESIGN_OR_BACKUP),
            Purpose::Compare => ("Compare with a design", DESIGN_OR_BACKUP),
            Purpose::Save(_) => ("Save the design", DESIGN),
            Purpose::Vary => ("Save the variation", DESIGN),
            Purpose::Export(kind) => ("Export", kind.files()),
        };
        let request = Request {
            title: title.to_owned(),
            open: purpose.reads(),
            name: self.suggestion(purpose),
            folder: self.file.as_deref().and_then(Path::parent).map(Path::to_owned),
            kind,
        };
        self.chooser.ask(request, ctx);
        self.dialog = Some(Dialog::Waiting(purpose));
        ctx.request_repaint();
    }

    /// Does what follows from an answered question.
    pub(super) fn answered(&mut self, ctx: &egui::Context, answer: Answer) {
        match answer {
            Answer::Stay => {}
            Answer::Never => {
                self.chooser.forget();
                if let Some((work, ..)) = &self.work {
                    work.call_off();
                }
                self.call_off_mending();
                self.leave_left();
                self.dialog = None;
            }
            Answer::Save(then) => {
                self.dialog = None;
                self.save(ctx, Some(then));
            }
            Answer::Discard(then) => {
                self.dialog = None;
                self.go_on(ctx, then);
            }
            Answer::Sheet(size, units) => {
                self.dialog = None;
                self.open(Document::new(size, units), None);
            }
            Answer::TypePath(purpose) => {
                self.chooser.forget();
                self.type_path(purpose);
            }
            Answer::Path(purpose, path) => self.take_typed(ctx, purpose, path),
            Answer::Replace(purpose, path) => {
                self.dialog = None;
                self.take_path(ctx, purpose, path);
            }
            Answer::Ask(purpose) => self.ask(ctx, purpose),
            Answer::Overwrite(path, then) => {
                self.dialog = None;
                self.save_over(ctx, &path, then, false);
            }
            Answer::OpenTheirs(path) => {
                self.dialog = None;
                self.open_theirs(&path);
            }
            Answer::Recover(number) => self.recover(number),
            Answer::DiscardLeft(number) => self.discard_left(number),
            Answer::Run(command) => {
                self.dialog = None;
                self.run(ctx, command);
            }
            Answer::GoTo(count) => {
                self.dialog = None;
                self.go_to(count);
            }
            Answer::Recent(path) => {
                self.dialog = None;
                self.open_path(ctx, path);
            }
            Answer::Starter(number) => self.begin(ctx, Begun::Starter(number)),
            Answer::Contents => self.begin_contents(ctx),
        }
    }

    fn go_on(&mut self, ctx: &egui::Context, then: Then) {
        match then {
            Then::New => {
                let size = match self.session.document().units {
                    Unit::Inch => "12 x 12 in",
                    Unit::Millimetre | Unit::Centimetre => "300 x 300 mm",
                };
                self.dialog = Some(Dialog::NewSheet { size: size.to_owned(), complaint: None });
            }
            Then::Open => self.ask(ctx, Purpose::Open),
            Then::OpenWaiting => self.open_waiting(ctx),
            Then::Begin => self.begin_waiting(),
            Then::Vary => self.ask(ctx, Purpose::Vary),
            Then::Quit => {
                self.ending = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
        }
    }

    fn type_path(&mut self, purpose: Purpose) {
        let text = match (purpose.reads(), self.file.as_deref().and_then(Path::parent)) {
            (true, Some(folder)) => folder.join("").to_string_lossy().into_owned(),
            (true, None) => String::new(),
            (false, folder) => {
                folder.unwrap_or_else(|| Path::new("")).join(self.suggestion(purpose)).to_string_lossy().into_owned()
            }
        };
        self.dialog = Some(Dialog::Path { purpose, text, complaint: None });
    }

    /// A path typed by hand: nobody has asked yet whether to replace a file.
    fn take_typed(&mut self, ctx: &egui::Context, purpose: Purpose, path: PathBuf) {
        if path.as_os_str().is_empty() {
            self.refuse_path(purpose, &path, "Type the path of a file".to_owned());
            return;
        }
        let path = with_extension(path, purpose);
        let is_own = matches!(purpose, Purpose::Save(_)) && self.file.as_ref() == Some(&path);
        if !purpose.reads() && path.exists() && !is_own {
            self.dialog = Some(Dialog::Replace(purpose, path));
            return;
        }
        self.dialog = None;
        self.take_path(ctx, purpose, path);
    }

    pub(super) fn take_path(&mut self, ctx: &egui::Context, purpose: Purpose, path: PathBuf) {
        let path = with_extension(path, purpose);
        let done: Result<(), String> = match purpose {
            Purpose::Open => match disk::open_design(&path) {
                Ok(opened) => {
                    self.open_read(opened);
                    return;
                }
                Err(error) => Err(error.to_string()),
            },
            Purpose::Compare => match self.compare_with(&path) {
                Ok(()) => return,
                Err(error) => Err(error.to_string()),
            },
            Purpose::Save(then) => {
                self.save_to(ctx, &path, then);
                return;
            }
            Purpose::Vary => match self.vary(&path) {
                Ok(()) => return,
                Err(error) => Err(error.to_string()),
            },
            Purpose::Export(kind) => {
                let export = self.choices.export(kind, self.looks());
                let (wake, document) = (ctx.clone(), self.session.document());
                let file = self.file.as_deref();
                let work = Work::begin(document, file, export, path.clone(), move || wake.request_repaint());
                self.work = Some((work, kind, path));
                self.dialog = Some(Dialog::Working(Task::Export, 0, 0));
                return;
            }
        };
        if let Err(why) = done {
            self.refuse_path(purpose, &path, why);
        }
    }

    /// Saves a variation with its pictures, and goes on with it.
    fn vary(&mut self, path: &Path) -> Result<(), disk::DiskError> {
        let document = self.session.document();
        let variation = document.variation(format!("{}, a variation", document.title));
        disk::save_design(path, &variation)?;
        let left = disk::artwork::bring(self.file.as_deref(), path, &variation);
        self.open_read(disk::open_design(path)?);
        self.report(format!("This is the variation now, saved to {}.{}", path.display(), left_behind(&left)));
        Ok(())
    }

    /// How the window looks at the design.
    pub(super) const fn looks(&self) -> Looks {
        Looks { turn: self.turn, view: self.folded.view(), time: self.folded.time() }
    }

    /// Follows an export under way to its end.
    pub(super) fn follow_work(&mut self) {
        let Some((work, ..)) = &self.work else { return };
        let Some(end) = work.ended() else {
            let (done, all) = work.progress();
            if matches!(self.dialog, Some(Dialog::Working(Task::Export, ..))) {
                self.dialog = Some(Dialog::Working(Task::Export, done, all));
            }
            return;
        };
        let Some((_, kind, path)) = self.work.take() else { return };
        if matches!(self.dialog, Some(Dialog::Working(Task::Export, ..))) {
            self.dialog = None;
        }
        match end {
            Ended::Written(said) => self.report(said.join(" ")),
            Ended::Refused(why) => self.refuse_path(Purpose::Export(kind), &path, why),
            Ended::CalledOff => self.report("Nothing was exported.".to_owned()),
        }
    }

    fn save_to(&mut self, ctx: &egui::Context, path: &Path, then: Option<Then>) {
        self.save_over(ctx, path, then, true);
    }

    /// Saves, and then goes on; `asks` before it replaces what somebody else has put there.
    fn save_over(&mut self, ctx: &egui::Context, path: &Path, then: Option<Then>, asks: bool) {
        self.session.finish_gesture();
        match self.write_design(path, asks) {
            Ok(said) => {
                self.session.mark_saved();
                self.file = Some(path.to_owned());
                self.report(said);
                self.claim_file();
                if let Some(then) = then {
                    self.go_on(ctx, then);
                }
            }
            Err(error) => self.ask_after(error, then, path),
        }
    }

    /// Says why a path won't do, and lets another be typed; nothing is lost.
    pub(super) fn refuse_path(&mut self, purpose: Purpose, path: &Path, why: String) {
        let text = path.to_string_lossy().into_owned();
        self.dialog = Some(Dialog::Path { purpose, text, complaint: Some(sentence(&why)) });
    }

    /// Puts another design in the place of the open one.
    pub(super) fn open(&mut self, document: Document, file: Option<PathBuf>) {
        self.let_go_of_file();
        self.session = Session::new(document);
        self.file = file;
        self.design += 1;
        self.turn = model::Turn::None;
        self.hovered = None;
        self.spot = None;
        self.refused = None;
        self.status = None;
        self.lines.clear();
        self.panel.clear();
        self.parts.clear();
        self.lengths.clear();
        self.asking = None;
        self.sheet.lay_down_pen();
        self.drafts.clear();
        self.folded = crate::pane::folded::FoldedPane::default();
        self.sheet.fit();
        self.recall_choices();
        self.preview = Preview::default();
    }

    /// A file's name to begin with, after the design's title.
    fn suggestion(&self, purpose: Purpose) -> String {
        let kept = |c: char| if c.is_alphanumeric() || matches!(c, ' ' | '-' | ',') { c } else { '-' };
        let title: String = self.session.document().title.chars().map(kept).take(60).collect();
        let title = title.trim();
        let title = if title.is_empty() { "Folio" } else { title };
        match purpose {
            Purpose::Save(_) if let Some(name) = self.file.as_deref().and_then(Path::file_name) => {
                name.to_string_lossy().into_owned()
            }
            Purpose::Open | Purpose::Compare | Purpose::Save(_) => format!("{title}.folio"),
            Purpose::Vary => format!("{title}, a variation.folio"),
            Purpose::Export(kind) => {
                let (words, ending) = kind.suggested();
                format!("{title}{words}.{ending}")
            }
        }
    }
}

/// The path with the extension that its purpose needs, where it has none.
fn with_extension(path: PathBuf, purpose: Purpose) -> PathBuf {
    let extension = match purpose {
        Purpose::Open | Purpose::Compare => return path,
        Purpose::Save(_) | Purpose::Vary => "folio",
        Purpose::Export(kind) => kind.suggested().1,
    };
    if path.extension().is_some() { path } else { path.with_extension(extension) }
}
