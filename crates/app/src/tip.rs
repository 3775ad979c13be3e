//! Tooltips: one sentence for whoever points at a thing, and the same for whoever hears it described.

use egui::Response;

/// A thing in the window that says in a sentence what it is for.
pub(crate) trait Tip {
    /// Says it beside the pointer, whether the thing can be used now or not, and to a screen reader.
    fn tip(self, sentence: &str) -> Self;
}

impl Tip for Response {
    fn tip(self, sentence: &str) -> Self {
        if self.ctx.has_accesskit_node(self.id) {
            self.ctx.accesskit_node_builder(self.id, |node| node.set_description(sentence));
        }
        self.on_hover_text(sentence).on_disabled_hover_text(sentence)
    }
}
