//! What was chosen of exports, recalled with a design and remembered once it has been chosen.

use super::Window;
use crate::dialog::Dialog;
use crate::export::{recall, remember};

impl Window {
    /// Takes over what was last chosen of exports for the open design.
    pub(super) fn recall_choices(&mut self) {
        self.choices = recall(&self.keep, self.file.as_deref(), self.session.document());
        self.kept_choices = self.choices.clone();
    }

    /// Remembers what was chosen of exports, once that is no longer asked. A design without a file has no name to remember it
    /// by until it is saved.
    pub(super) fn remember_choices(&mut self) {
        if matches!(self.dialog, Some(Dialog::Export(_))) || self.choices == self.kept_choices {
            return;
        }
        if let Some(file) = &self.file {
            remember(&self.keep, file, &self.choices);
            self.kept_choices = self.choices.clone();
        }
    }
}
