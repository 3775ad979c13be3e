//! What commands do to the folded view.

use super::Window;
use crate::arrangement::Pane;
use draw::folded::View;
use model::PanelId;
use session::{Command, Selected};

impl Window {
    /// Does what a command says of the folded view; says whether it was one.
    pub(super) fn look(&mut self, command: Command) -> bool {
        let folded = self.session.derived().folded.as_ref();
        let steps = folded.map_or(0, |(_, folding)| folding.steps());
        match command {
            Command::PlayFold => self.folded.play_or_stop(steps),
            Command::Unfold => self.folded.set_time(0.0),
            Command::Close => self.folded.set_time(f64::from(u32::try_from(steps).unwrap_or(u32::MAX))),
            Command::StepBack => self.folded.step_back(),
            Command::StepOn => self.folded.step_on(steps),
            Command::FrontView => self.folded.look_from(View::FRONT),
            Command::BackView => self.folded.look_from(View::BACK),
            Command::SlantView => self.folded.look_from(View::SLANTED),
            Command::SeeThrough => self.folded.see_through_or_not(),
            Command::SpreadLayers => self.folded.spread_or_not(steps),
            Command::SwingFlap => {
                let panel = match self.session.selected() {
                    Selected::Panel(point) => self.session.derived().layout.panel_at(point),
                    _ => None,
                };
                self.swing(panel);
            }
            _ => return false,
        }
        // What is asked of the folded view is to be seen.
        self.arrangement.show(Pane::Folded);
        true
    }

    /// Opens or closes a flap, with whatever is in its way.
    pub(super) fn swing(&mut self, panel: Option<PanelId>) {
        let Some((_, folding)) = &self.session.derived().folded else { return };
        let Some(panel) = panel else { return self.complain("Click the flap to open or close first") };
        let name = &self.session.derived().layout.panel(panel).name;
        match session::flap::toggled(folding, panel, self.folded.time()) {
            Some(time) => self.folded.fold_to(time),
            None => self.complain(&format!("no step of the closing order moves {name}")),
        }
    }
}
