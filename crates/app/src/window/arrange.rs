//! How the window is arranged, by the commands for it; and remembering that from one run to the next.

use super::Window;
use crate::arrangement::{self, Arrangement, Pane, View};
use crate::theme;
use keep::Keep;
use session::Command;

impl Window {
    /// The window with a place to remember things from one run to the next.
    #[must_use]
    pub fn remembering(mut self, keep: Keep) -> Self {
        self.arrangement = keep.read(arrangement::NAME).unwrap_or_default();
        self.kept = self.arrangement.clone();
        self.keep = keep;
        self.recall_choices();
        self.begin_keeping();
        self
    }

    /// Begins a frame: colours and sizes as they are arranged.
    pub(super) fn lay_out(&mut self, ctx: &egui::Context) {
        let looks = (self.arrangement.tone(), self.arrangement.percent());
        theme::use_tone(looks.0);
        if self.laid_out != Some(looks) {
            theme::set_tone(ctx, looks.0);
            ctx.set_zoom_factor(self.arrangement.scale());
            self.laid_out = Some(looks);
            // What was drawn with the old looks is drawn again.
            ctx.request_repaint();
        }
    }

    /// Arranges the panes for the window's size; says whether that is another than in the frame before.
    pub(super) fn follow_size(&mut self, ctx: &egui::Context) -> bool {
        let size = ctx.content_rect().size();
        self.arrangement.fit(size);
        std::mem::replace(&mut self.size, size) != size
    }

    /// Ends a frame: what has changed is kept, but for while the pointer is still at it.
    pub(super) fn keep_arrangement(&mut self, ctx: &egui::Context) {
        if self.noted_file != self.file {
            self.noted_file.clone_from(&self.file);
            if let Some(file) = &self.file {
                self.arrangement.note_recent(&std::path::absolute(file).unwrap_or_else(|_| file.clone()));
            }
        }
        let busy = ctx.input(|input| input.pointer.any_down());
        if self.arrangement != self.kept && !busy {
            // Where it can't be kept, the window still works as it should.
            self.keep.write(arrangement::NAME, &self.arrangement);
            self.kept.clone_from(&self.arrangement);
        }
    }

    /// Whether she is to be told how to begin: where nothing can be remembered she would be told each time.
    pub(super) fn greets(&self) -> bool {
        self.keep.folder().is_some() && self.arrangement.is_new()
    }

    /// Does what a command says about the window's arrangement; says whether it was one.
    pub(super) fn arrange(&mut self, command: Command) -> bool {
        let now: &mut Arrangement = &mut self.arrangement;
        match command {
            Command::FillSheet => now.fill_or_not(View::Sheet),
            Command::FillFolded => now.fill_or_not(View::Folded),
            Command::ShowLists => now.show_or_close(Pane::Lists),
            Command::ShowFolded => now.show_or_close(Pane::Folded),
            Command::ShowOrders => now.show_or_close(Pane::Orders),
            Command::ShowFindings => now.show_or_close(Pane::Findings),
            Command::LightOrDark => now.switch_tone(),
            Command::Larger => now.rescale(true),
            Command::Smaller => now.rescale(false),
            Command::UsualSize => now.usual_scale(),
            _ => return false,
        }
        true
    }
}
