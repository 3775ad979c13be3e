//! The details of what is selected, at the foot of a list. They stay as high as they are while the same thing is selected,
//! so that no row moves from under the pointer when another is added or goes.

use egui::{Frame, Id, Margin, Panel, ScrollArea, Ui};

/// Room for what may be added while something is worked on, px: three rows.
const SPARE: f32 = 84.0;

/// Over the details, px.
const MARGIN: i8 = 8;

/// What is remembered between frames.
#[derive(Debug, Default)]
pub(crate) struct Foot {
    of: Option<Id>,
    height: f32,
}

impl Foot {
    /// Shows the details of one thing in at most a share of the pane. Says whether they are as high as they stay: not yet
    /// where another thing is shown.
    pub(crate) fn ui(
        &mut self,
        ui: &mut Ui,
        name: &'static str,
        share: f32,
        of: Id,
        contents: impl FnOnce(&mut Ui),
    ) -> bool {
        let frame = Frame::new().inner_margin(Margin { top: MARGIN, ..Margin::ZERO });
        let most = ui.available_height() * share;
        let is_new = self.of != Some(of);
        let height = if is_new { most } else { self.height.min(most) };
        let panel = Panel::bottom(name).frame(frame);
        let panel = if is_new { panel } else { panel.exact_size(height + f32::from(MARGIN)) };
        panel.show(ui, |ui| {
            let area =
                ScrollArea::vertical().auto_shrink([false, is_new]).max_height(height).min_scrolled_height(height);
            // What is said of another thing is read from its name on.
            let area = if is_new { area.vertical_scroll_offset(0.0) } else { area };
            let content = area.show(ui, contents).content_size.y;
            // Where that is not enough it grows, since what was added is to be seen.
            let wanted = if is_new { content + SPARE } else { self.height.max(content) };
            if is_new || wanted > self.height {
                ui.ctx().request_repaint();
            }
            self.height = wanted;
        });
        self.of = Some(of);
        !is_new
    }
}
