//! Designs that are begun from something, from a starter or from what should go in; and those that are looked at side by
//! side.

use super::Window;
use crate::ask_lengths::AskLengths;
use crate::comparison::Comparison;
use crate::dialog::{Dialog, Then};
use crate::gallery::{self, Gallery};
use crate::going_in::GoingIn;
use file::starters::ALL;
use model::Document;
use std::path::Path;

/// What a window keeps to begin designs from.
#[derive(Debug, Default)]
pub(crate) struct Begins {
    /// The starters with their pictures.
    pub(crate) gallery: Gallery,
    /// What was last said should go in.
    pub(crate) going_in: GoingIn,
    /// What is begun once unsaved changes are seen to.
    begun: Option<Begun>,
}

/// What a design is begun from.
#[derive(Debug)]
pub(super) enum Begun {
    /// The starter of this number.
    Starter(usize),
    /// The folio for what goes in.
    Contents(Box<Document>),
}

impl Window {
    /// Shows the starters to choose from.
    pub(super) fn show_gallery(&mut self) {
        self.session.finish_gesture();
        self.dialog = Some(Dialog::Gallery(0));
    }

    /// Asks what should go in.
    pub(super) fn ask_contents(&mut self) {
        self.session.finish_gesture();
        self.dialog = Some(Dialog::Contents);
    }

    /// Begins the folio for what goes in, where there is one.
    pub(super) fn begin_contents(&mut self, ctx: &egui::Context) {
        if let Some(document) = self.begins.going_in.folio() {
            self.begin(ctx, Begun::Contents(Box::new(document)));
        }
    }

    /// Begins a design, once unsaved changes are seen to.
    pub(super) fn begin(&mut self, ctx: &egui::Context, begun: Begun) {
        self.dialog = None;
        self.begins.begun = Some(begun);
        self.guard(ctx, Then::Begin);
    }

    /// Begins the design that waits.
    pub(super) fn begin_waiting(&mut self) {
        match self.begins.begun.take() {
            Some(Begun::Starter(number)) => {
                if let Some(document) = ALL.get(number).and_then(gallery::design) {
                    self.open_starter(document);
                }
            }
            Some(Begun::Contents(document)) => {
                self.open(*document, None);
                self.report("This is the folio for what goes in. Save it to keep it.".to_owned());
            }
            None => {}
        }
    }

    /// Shows a variation beside the design that it came from.
    pub(super) fn compare_variation(&mut self) {
        self.session.finish_gesture();
        self.comparison = Comparison::of_variation(self.session.document());
        self.dialog = self.comparison.is_some().then_some(Dialog::Compare(None));
    }

    /// Shows the open design beside one from a file, which is only read.
    pub(super) fn compare_with(&mut self, path: &Path) -> Result<(), disk::DiskError> {
        let other = disk::read_design(path)?;
        let file = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
        self.comparison = Some(Comparison::with(&other, self.session.document(), &file));
        self.dialog = Some(Dialog::Compare(None));
        Ok(())
    }

    /// Opens a starter as a design without a file, its pictures among it: every starter that was chosen passes here, so that
    /// what is to be asked of one before work on it begins is asked here.
    fn open_starter(&mut self, document: Document) {
        let said = format!("This is a copy of \"{}\". Save it to keep it.", document.title);
        self.open(document, None);
        self.report(said);
        // Whoever does not care for them begins with the lengths that it has.
        self.asking = AskLengths::of(self.session.document());
    }
}
