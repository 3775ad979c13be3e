//! Asking which file: the desktop's own dialogs behind a small trait, and a scripted twin for tests.

use std::cell::RefCell;
use std::collections::VecDeque;
use std::path::PathBuf;
use std::rc::Rc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// What the dialog is called.
    pub title: String,
    /// Whether a file is to be read, else written.
    pub open: bool,
    /// A name to begin with when writing.
    pub name: String,
    /// The folder to begin in.
    pub folder: Option<PathBuf>,
    /// What kind of file, in words, and its extensions without a dot.
    pub kind: (&'static str, &'static [&'static str]),
}

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Chosen {
    /// A file. When writing, the dialog has asked whether to replace one that is there.
    File(PathBuf),
    /// She thought better of it.
    Nothing,
    /// There is no dialog on this desktop.
    NoDialog,
}

/// Something that can ask which file. It must not block: the answer is fetched later.
pub trait Chooser {
    /// Starts asking. An answer still due to an earlier request is forgotten.
    fn ask(&mut self, request: Request, ctx: &egui::Context);

    /// The answer, once there is one. Asked at every frame until then.
    fn answer(&mut self, ctx: &egui::Context) -> Option<Chosen>;

    /// Waits no longer for an answer.
    fn forget(&mut self);
}

/// The desktop's own dialogs. They are asked in a thread, since a desktop service that dies would keep them waiting
/// for ever.
#[derive(Debug, Default)]
pub struct DesktopDialogs {
    waiting: Option<Receiver<Chosen>>,
    /// Whether the keyboard has gone to something else since, as to a dialog.
    went_elsewhere: bool,
}

/// A dialog that closes without a file sooner than this has not been seen by anyone: there is none on this desktop.
const SOONEST: Duration = Duration::from_millis(400);

impl Chooser for DesktopDialogs {
    fn ask(&mut self, request: Request, ctx: &egui::Context) {
        let (sender, receiver) = channel();
        let ctx = ctx.clone();
        let asking = thread::Builder::new().name("file dialog".to_owned()).spawn(move || {
            let since = Instant::now();
            let chosen = match dialog(request) {
                Some(path) => Chosen::File(path),
                None if since.elapsed() < SOONEST => Chosen::NoDialog,
                None => Chosen::Nothing,
            };
            // Nobody listens any more when the maker has typed a path in the meantime.
            drop(sender.send(chosen));
            ctx.request_repaint();
        });
        self.waiting = asking.is_ok().then_some(receiver);
        self.went_elsewhere = false;
    }

    fn answer(&mut self, ctx: &egui::Context) -> Option<Chosen> {
        self.went_elsewhere |= !ctx.input(|input| input.focused);
        let answer = match self.waiting.as_ref().map(Receiver::try_recv) {
            // Where the machine is busy it can take long to find out that there is no dialog.
            Some(Ok(Chosen::Nothing)) if !self.went_elsewhere => Chosen::NoDialog,
            Some(Ok(chosen)) => chosen,
            Some(Err(TryRecvError::Empty)) => return None,
            // The thread could not start, or ended without a word.
            Some(Err(TryRecvError::Disconnected)) | None => Chosen::NoDialog,
        };
        self.waiting = None;
        Some(answer)
    }

    fn forget(&mut self) {
        self.waiting = None;
    }
}

fn dialog(request: Request) -> Option<PathBuf> {
    let (kind, extensions) = request.kind;
    let mut dialog = rfd::FileDialog::new().set_title(request.title).add_filter(kind, extensions);
    if let Some(folder) = request.folder {
        dialog = dialog.set_directory(folder);
    }
    if request.open { dialog.pick_file() } else { dialog.set_file_name(request.name).save_file() }
}

/// A chooser that answers from a script, in order; without a line left it says that there is no dialog.
#[derive(Debug, Clone, Default)]
pub struct Scripted {
    script: Rc<RefCell<VecDeque<Chosen>>>,
    asked: Rc<RefCell<Vec<Request>>>,
}

impl Scripted {
    /// A chooser that gives these answers.
    #[must_use]
    pub fn new(answers: impl IntoIterator<Item = Chosen>) -> Self {
        Self { script: Rc::new(RefCell::new(answers.into_iter().collect())), asked: Rc::default() }
    }

    /// What it has been asked so far.
    #[must_use]
    pub fn asked(&self) -> Vec<Request> {
        self.asked.borrow().clone()
    }
}

impl Chooser for Scripted {
    fn ask(&mut self, request: Request, _ctx: &egui::Context) {
        self.asked.borrow_mut().push(request);
    }

    fn answer(&mut self, _ctx: &egui::Context) -> Option<Chosen> {
        Some(self.script.borrow_mut().pop_front().unwrap_or(Chosen::NoDialog))
    }

    fn forget(&mut self) {}
}
