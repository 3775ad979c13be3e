//! Whom keys are meant for: a field, what is carried, a line of a part of her own, or the design.

use super::Window;
use crate::pane::OwnLine;
use crate::{commands, pane};
use egui::Context;
use model::PartKind;
use session::Command;

impl Window {
    /// Does what the pressed keys say.
    pub(super) fn hear_keys(&mut self, ctx: &Context) {
        let own_line = self.own_line(ctx);
        for command in self.shortcuts(ctx) {
            match own_line.and_then(|of| commands::own_change(&self.session, of, command)) {
                Some(change) => self.make(ctx, change),
                None => self.run(ctx, command),
            }
        }
    }

    fn shortcuts(&self, ctx: &Context) -> Vec<Command> {
        if self.is_typing(ctx) || self.reorder.is_carrying() {
            return Vec::new();
        }
        let focused = ctx.memory(egui::Memory::focused);
        let document = self.session.document();
        let on_line = |id| document.lines.iter().any(|line| pane::sheet::line_id(line.id) == id);
        let on_part = |id| document.parts.iter().any(|part| pane::sheet::part_id(part.id) == id);
        let is_free = focused.is_none_or(|id| on_line(id) || on_part(id)) || self.own_line(ctx).is_some();
        let mut pressed = commands::pressed(ctx, is_free);
        // In the middle of a drag there is nothing to do but to take it back.
        pressed.retain(|command| !self.session.in_gesture() || *command == Command::Undo);
        pressed
    }

    /// The line of the selected part that is worked on, where that part is of her own making: the one that has the keys, else
    /// the one that was chosen last.
    pub(super) fn own_line(&self, ctx: &Context) -> Option<OwnLine> {
        let part = self.session.document().part(self.session.selected().part()?)?;
        let PartKind::Own(own) = &part.kind else { return None };
        let focused = ctx.memory(egui::Memory::focused);
        let mut lines = own.lines.iter().map(|line| (part.id, line.id));
        let has_keys = |&of: &OwnLine| focused == Some(pane::sheet::own_line_id(of));
        lines.clone().find(has_keys).or_else(|| lines.find(|&of| self.own_line == Some(of)))
    }

    /// Whether keys are meant for a field or a question, not for the design.
    pub(super) fn is_typing(&self, ctx: &Context) -> bool {
        // What is open is known from the frame before: in this one nothing has been shown yet.
        let has_menu = self.menu.is_some() || egui::Popup::is_any_open(ctx);
        self.dialog.is_some() || self.asking.is_some() || has_menu || ctx.text_edit_focused()
    }

    /// Whether she lets go of what is selected. In a drag, escape puts the line back and no more; in a field it takes back
    /// what was typed, and has taken the focus away by now.
    pub(super) fn escaped(&self, ctx: &Context) -> bool {
        let pressed = ctx.input(|input| input.key_pressed(egui::Key::Escape));
        let carries = self.session.in_gesture() || self.reorder.is_carrying();
        pressed && !carries && !self.was_typing && !self.is_typing(ctx)
    }
}
