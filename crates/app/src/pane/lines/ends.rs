//! The two ends of a selected line that is drawn from spot to spot, and how far it bows.

use super::may_move;
use crate::field::Drafts;
use crate::form::{choice, length, row};
use crate::pane::{Action, Scene, try_edit};
use crate::theme::caption;
use egui::{Id, Ui};
use model::change::move_end;
use model::{Edit, Length, Line, LineId, LineSlot, Place, Point, Slot, Spot, SpotSlot, Turn};
use session::lock;
use session::spot::{SpotKind, crossing, hosts, said_as};

/// Shows both ends and the bow. Nothing for a line that is not drawn.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line) {
    let Place::Drawn { from, to, bow } = line.place else { return };
    End { end: 0, spot: from, line }.ui(ui, scene, drafts);
    End { end: 1, spot: to, line }.ui(ui, scene, drafts);
    if scene.turn != Turn::None && [from, to].iter().any(|spot| matches!(spot, Spot::At(_))) {
        ui.add(egui::Label::new(caption("Left and top are those of the sheet as drawn.")).wrap());
    }
    let id = Id::unique(("bow of line", line.id.0));
    row(ui, "Bow", |ui| {
        let said = scene.at(Slot::Line(line.id, LineSlot::Bow));
        length(ui, drafts, (id, "Bow of the line", 80.0), bow, said, |bow| {
            may_move(scene, line.id)?;
            let place = Place::Drawn { from, to, bow };
            let label = format!("Bow {}", scene.session.document().line_name(line.id));
            try_edit(scene, label, Edit::ReplaceLine(Line { place, ..line.clone() }))
        });
    });
    drafts.say_why(ui, id);
    let said = "Seen with its start at the top, it bows to the left; with - before the figure, to the right.";
    ui.add(egui::Label::new(caption(said)).wrap());
}

/// One end: 0 the start, 1 the end.
#[derive(Clone, Copy)]
struct End<'a> {
    end: usize,
    spot: Spot,
    line: &'a Line,
}

impl End<'_> {
    fn word(self) -> &'static str {
        if self.end == 0 { "start" } else { "end" }
    }

    fn id(self, part: &str) -> Id {
        Id::unique(("end of line", self.line.id.0, self.end, part))
    }

    const fn slot(self, of: SpotSlot) -> Slot {
        let slot = if self.end == 0 { LineSlot::From(of) } else { LineSlot::To(of) };
        Slot::Line(self.line.id, slot)
    }

    fn ui(self, ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts) {
        row(ui, if self.end == 0 { "Starts" } else { "Ends" }, |ui| self.kind(ui, scene));
        let word = self.word();
        let mut why = None;
        match self.spot {
            Spot::At(Point { x, y }) => {
                let (right, down) = (self.id("x"), self.id("y"));
                row(ui, "from the left", |ui| {
                    let name = format!("From the left to its {word}");
                    let said = scene.at(self.slot(SpotSlot::X));
                    length(ui, drafts, (right, &name, 110.0), x, said, |x| self.put(scene, Spot::At(Point::new(x, y))));
                });
                drafts.say_why(ui, right);
                row(ui, "from the top", |ui| {
                    let name = format!("From the top to its {word}");
                    let said = scene.at(self.slot(SpotSlot::Y));
                    length(ui, drafts, (down, &name, 110.0), y, said, |y| self.put(scene, Spot::At(Point::new(x, y))));
                });
                why = Some(down);
            }
            Spot::Crossing(a, b) => {
                row(ui, "", |ui| self.first(ui, scene, a));
                row(ui, "crosses", |ui| self.second(ui, scene, (a, b)));
            }
            Spot::On(host, down) => {
                let id = self.id("down");
                row(ui, "", |ui| {
                    let name = format!("Along the line to its {word}");
                    let said = scene.at(self.slot(SpotSlot::At));
                    length(ui, drafts, (id, &name, 76.0), down, said, |down| self.put(scene, Spot::On(host, down)));
                    ui.label(caption("along"));
                });
                row(ui, "", |ui| self.host(ui, scene, (host, down)));
                why = Some(id);
            }
        }
        if let Some(id) = why {
            drafts.say_why(ui, id);
        }
    }

    fn kind(self, ui: &mut Ui, scene: &mut Scene<'_>) {
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        let now = self.now(scene);
        let said = |kind| said_as(document, layout, self.line.id, now?, kind);
        let is = SpotKind::of(self.spot);
        let possible = || SpotKind::ALL.into_iter().filter(|kind| *kind == is || said(*kind).is_some());
        let options = || possible().map(|kind| (kind, kind_name(kind).to_owned())).collect();
        let name = format!("How its {} is placed", self.word());
        if let Some(spot) = choice(ui, &name, kind_name(is), is, options).and_then(said) {
            self.ask(scene, spot);
        }
    }

    /// Where the end lies now.
    fn now(self, scene: &Scene<'_>) -> Option<Point> {
        let placed = scene.session.derived().layout.lines.get(&self.line.id)?.ok()?;
        Some(if self.end == 0 { placed.segment.a } else { placed.segment.b })
    }

    /// The first line of a crossing; the second is then the one that crosses it nearest to where the end lies.
    fn first(self, ui: &mut Ui, scene: &mut Scene<'_>, a: LineId) {
        let name = format!("First line at its {}", self.word());
        let Some(chosen) = self.lines(ui, scene, &name, a, None) else { return };
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        let near = self.now(scene).unwrap_or(Point::new(Length::ZERO, Length::ZERO));
        match crossing(document, layout, Some(self.line.id), chosen, near).first() {
            Some(&(other, _)) => self.ask(scene, Spot::Crossing(chosen, other)),
            None => {
                let name = document.line_name(chosen);
                scene.ask(Action::Complain(format!("nothing crosses \"{name}\" on the sheet; choose another line")));
            }
        }
    }

    fn second(self, ui: &mut Ui, scene: &mut Scene<'_>, (a, b): (LineId, LineId)) {
        let name = format!("Second line at its {}", self.word());
        if let Some(chosen) = self.lines(ui, scene, &name, b, Some(a)) {
            self.ask(scene, Spot::Crossing(a, chosen));
        }
    }

    fn host(self, ui: &mut Ui, scene: &mut Scene<'_>, (host, down): (LineId, Length)) {
        let name = format!("Line at its {}", self.word());
        if let Some(chosen) = self.lines(ui, scene, &name, host, None) {
            let layout = &scene.session.derived().layout;
            let reach = layout.lines.get(&chosen).and_then(|placed| placed.ok()).map(|placed| placed.to);
            self.ask(scene, Spot::On(chosen, reach.map_or(down, |reach| down.min(reach))));
        }
    }

    /// A choice among the lines that the end may be placed by, or those of them that cross one.
    fn lines(self, ui: &mut Ui, scene: &Scene<'_>, name: &str, now: LineId, across: Option<LineId>) -> Option<LineId> {
        let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
        let own = Some(self.line.id);
        let near = self.now(scene)?;
        let ids = || -> Vec<LineId> {
            match across {
                Some(first) => crossing(document, layout, own, first, near).into_iter().map(|(id, _)| id).collect(),
                None => hosts(document, layout, own).map(|(id, _)| id).collect(),
            }
        };
        let options = || ids().into_iter().map(|id| (id, document.line_name(id))).collect();
        choice(ui, name, &document.line_name(now), now, options)
    }

    fn ask(self, scene: &mut Scene<'_>, spot: Spot) {
        let document = scene.session.document();
        if let Some(why) = lock::refusal(document, self.line.id) {
            scene.ask(Action::Complain(why));
        } else if let Some(edit) = move_end(document, self.line.id, self.end, spot) {
            scene.edit(format!("Move {}", document.line_name(self.line.id)), edit);
        }
    }

    fn put(self, scene: &mut Scene<'_>, spot: Spot) -> Result<(), String> {
        may_move(scene, self.line.id)?;
        let document = scene.session.document();
        let label = format!("Move {}", document.line_name(self.line.id));
        match move_end(document, self.line.id, self.end, spot) {
            Some(edit) => try_edit(scene, label, edit),
            None => Ok(()),
        }
    }
}

const fn kind_name(kind: SpotKind) -> &'static str {
    match kind {
        SpotKind::At => "at a spot of the sheet",
        SpotKind::Crossing => "where lines cross",
        SpotKind::On => "on a line",
    }
}
