//! What keeps the work safe: unsaved changes are kept for after a crash, what a crash left is offered, a file that somebody
//! else has changed is not replaced unasked, and a second window on the same design is noticed.

use super::Window;
use crate::chooser::Chooser;
use crate::dialog::{Dialog, LeftRow, Purpose, Then};
use crate::field::sentence;
use disk::{Fault, Opened, Version};
use keep::claim::Claim;
use keep::recovery::{self, Left, Recovery};
use model::Document;
use std::path::{Path, PathBuf};

/// What a window holds to keep its work safe.
pub(super) struct Safe {
    /// Where unsaved changes are kept.
    recovery: Recovery,
    /// Whether something is kept there.
    is_kept: bool,
    /// The state of the design that was looked at last: which design, which revision, whether it had unsaved changes.
    seen: Option<(u64, u64, bool)>,
    /// What the design's file held when it was read or saved last.
    version: Option<Version>,
    /// That the design's file is open here.
    claim: Option<Claim>,
    /// What a crash left, while it is offered.
    left: Vec<Left>,
}

impl Safe {
    /// For a design from a file, which is as it is there.
    pub(super) fn of(file: Option<&Path>) -> Self {
        let version = file.and_then(|file| disk::open_design(file).ok()?.version);
        Self { recovery: Recovery::none(), is_kept: false, seen: None, version, claim: None, left: Vec::new() }
    }
}

impl Window {
    /// A window on a design that was opened from a file.
    #[must_use]
    pub fn opened(opened: Opened, chooser: Box<dyn Chooser>) -> Self {
        let mut window = Self::new(opened.document, Some(opened.path), chooser);
        window.safe.version = opened.version;
        if opened.is_backup {
            window.show_backup();
        }
        window
    }

    /// Begins to keep the work safe, and offers what a crash has left.
    pub(super) fn begin_keeping(&mut self) {
        self.safe.recovery = Recovery::new(&self.keep);
        self.claim_file();
        self.safe.left = recovery::left(&self.keep);
        self.offer_left();
    }

    /// Ends a frame: changes that are not saved yet are kept, and no longer once they are saved or let go. In the middle of
    /// a drag there is nothing to keep yet.
    pub(super) fn keep_work(&mut self) {
        let is_unsaved = self.session.is_changed() && !self.ending;
        let now = (self.design, self.session.revision(), is_unsaved);
        if self.session.in_gesture() || self.safe.seen == Some(now) {
            return;
        }
        self.safe.seen = Some(now);
        if is_unsaved {
            let (document, version) = (self.session.document(), self.safe.version);
            self.safe.recovery.keep(document, self.file.as_deref(), version);
        } else if self.safe.is_kept {
            self.safe.recovery.forget();
        }
        self.safe.is_kept = is_unsaved;
    }

    /// Puts a design that was read from a file in the place of the open one.
    pub(super) fn open_read(&mut self, opened: Opened) {
        self.open(opened.document, Some(opened.path));
        self.safe.version = opened.version;
        if opened.is_backup {
            self.show_backup();
        }
        self.claim_file();
    }

    /// Notes that another design is open, from a file that is not known yet.
    pub(super) fn let_go_of_file(&mut self) {
        self.safe.version = None;
        self.safe.claim = None;
    }

    /// Saves the design. Its own file is only replaced while it is as it was last seen here.
    pub(super) fn write_design(&mut self, path: &Path, asks: bool) -> Result<String, disk::DiskError> {
        let document = self.session.document();
        let is_own = self.file.as_deref() == Some(path);
        let saved = if is_own && asks {
            disk::replace_design(path, document, self.safe.version)?
        } else {
            disk::save_design(path, document)?
        };
        // Pictures come along to where the design is now; those that can't are told, and the design is saved all the same.
        let left = if is_own { Vec::new() } else { disk::artwork::bring(self.file.as_deref(), path, document) };
        let left = left_behind(&left);
        self.safe.version = Some(saved.version);
        let not_kept = saved.not_kept.map(|error| {
            let why = sentence(&error.to_string());
            format!(" What was there before could not be kept beside it: {why}")
        });
        Ok(format!("Saved to {}.{}{left}", path.display(), not_kept.unwrap_or_default()))
    }

    /// Asks what to do where a file could not be saved; nothing is lost.
    pub(super) fn ask_after(&mut self, error: disk::DiskError, then: Option<Then>, path: &Path) {
        if matches!(error.fault, Fault::ChangedFile) {
            self.dialog = Some(Dialog::Changed(path.to_owned(), then));
        } else {
            self.refuse_path(Purpose::Save(then), path, error.to_string());
        }
    }

    /// Opens what somebody else has put in the design's file, in the place of what is here.
    pub(super) fn open_theirs(&mut self, path: &Path) {
        match disk::open_design(path) {
            Ok(opened) => self.open_read(opened),
            Err(error) => self.refuse_path(Purpose::Save(None), path, error.to_string()),
        }
    }

    /// Opens what a crash has left, as changes that are not saved yet.
    pub(super) fn recover(&mut self, number: usize) {
        self.dialog = None;
        if number >= self.safe.left.len() {
            return;
        }
        let left = self.safe.left.swap_remove(number);
        // The others wait for the next start.
        self.safe.left.clear();
        let (document, file, version): (Document, Option<PathBuf>, _) =
            (left.document.clone(), left.file.clone(), left.version);
        self.open(document, file);
        self.session.mark_unsaved();
        self.safe.version = version;
        self.safe.recovery = Recovery::of(left);
        (self.safe.is_kept, self.safe.seen) = (true, None);
        self.report("This is the work that was not saved. Save it to keep it.".to_owned());
        self.claim_file();
    }

    /// Removes what a crash has left.
    pub(super) fn discard_left(&mut self, number: usize) {
        if number < self.safe.left.len() {
            self.safe.left.remove(number).discard();
        }
        self.offer_left();
    }

    /// Leaves what a crash has left for the next start.
    pub(super) fn leave_left(&mut self) {
        self.safe.left.clear();
    }

    fn offer_left(&mut self) {
        let row = |left: &Left| LeftRow {
            title: left.document.title.clone(),
            from: left.file.as_ref().map(|file| file.display().to_string()),
            age: left.age_in_words(),
        };
        let rows: Vec<LeftRow> = self.safe.left.iter().map(row).collect();
        self.dialog = (!rows.is_empty()).then_some(Dialog::Recover(rows));
    }

    fn show_backup(&mut self) {
        self.session.mark_unsaved();
        self.report("This is the design as it was before it was last saved. Save it to put it back.".to_owned());
    }

    /// Notes that the design's file is open here, and says so where another window has it open too.
    pub(super) fn claim_file(&mut self) {
        // Let go first: it may be the same file.
        self.safe.claim = None;
        let Some(file) = &self.file else { return };
        match Claim::of(&self.keep, file) {
            Some(claim) => self.safe.claim = Some(claim),
            None => {
                let name = file.display();
                let text = format!(
                    "\"{name}\" is open in another window too; saving here looks first whether it was saved there"
                );
                self.complain(&text);
            }
        }
    }
}

/// What is said of pictures that could not be brought along to where a design is saved; nothing where all were.
pub(super) fn left_behind(errors: &[disk::DiskError]) -> String {
    errors.iter().map(|error| format!(" A picture did not come along: {error}.")).collect()
}
