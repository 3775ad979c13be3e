//! Where the run of the selected line starts and ends.

use crate::field::Drafts;
use crate::form::{choice, length, row};
use crate::pane::{Scene, try_edit};
use egui::{Id, Ui};
use model::{Length, Line, LineId, LineSlot, Slot, Stop};
use session::run::{RunEnd, StopKind, crossing, said_as, set_stop};

/// Shows both ends of the run.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line) {
    end(ui, scene, drafts, line, RunEnd::Start);
    end(ui, scene, drafts, line, RunEnd::End);
}

/// What the fields of an end are called.
const fn name(end: RunEnd) -> (&'static str, &'static str, &'static str, &'static str) {
    match end {
        RunEnd::Start => ("Starts", "Where the line starts", "Distance where it starts", "Line where it starts"),
        RunEnd::End => ("Ends", "Where the line ends", "Distance where it ends", "Line where it ends"),
    }
}

fn end(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line, end: RunEnd) {
    let stop = end.of(line.place.run());
    let (heading, kind_name, distance_name, line_name) = name(end);
    row(ui, heading, |ui| kind(ui, scene, line, (end, stop), kind_name));
    let id = Id::unique(("stop of line", line.id.0, end));
    let slot = Slot::Line(line.id, if end == RunEnd::Start { LineSlot::Start } else { LineSlot::End });
    let mut field = |ui: &mut Ui, scene: &mut Scene<'_>, value: Length, made: &dyn Fn(Length) -> Stop| {
        let said = scene.at(slot);
        length(ui, drafts, (id, distance_name, 80.0), value, said, |value| set(scene, line, end, made(value)));
    };
    match stop {
        Stop::Edge => return,
        Stop::At(at) => row(ui, "", |ui| {
            field(ui, scene, at, &Stop::At);
            ui.label(crate::theme::caption("from its upper end"));
        }),
        Stop::Line(at) => row(ui, "", |ui| lines(ui, scene, line, (end, at), line_name, &Stop::Line)),
        Stop::Past(at, by) => {
            row(ui, "", |ui| {
                field(ui, scene, by, &|by| Stop::Past(at, by));
                ui.label(crate::theme::caption("further down than"));
            });
            row(ui, "", |ui| lines(ui, scene, line, (end, at), line_name, &|at| Stop::Past(at, by)));
        }
    }
    drafts.say_why(ui, id);
}

fn kind(ui: &mut Ui, scene: &mut Scene<'_>, line: &Line, (end, stop): (RunEnd, Stop), name: &str) {
    let session = scene.session;
    let (document, layout) = (session.document(), &session.derived().layout);
    let on_board =
        layout.lines.get(&line.id).is_some_and(|placed| placed.is_ok_and(|placed| placed.on_board().is_some()));
    let now = StopKind::of(stop);
    let said = |kind| said_as(document, layout, line.id, end, kind);
    let word = |kind| match (kind, end) {
        (StopKind::Edge, RunEnd::Start) if !on_board => "at its start",
        (StopKind::Edge, RunEnd::End) if !on_board => "at its end",
        (StopKind::Edge, _) => "at the edge",
        (StopKind::At, _) => "at a distance",
        (StopKind::Line, _) => "at a line",
        (StopKind::Past, _) => "past a line",
    };
    // A line that nothing crosses has no line to stop at.
    let possible = || StopKind::ALL.into_iter().filter(|kind| *kind == now || said(*kind).is_some());
    let options = || possible().map(|kind| (kind, word(kind).to_owned())).collect();
    let chosen = choice(ui, name, word(now), now, options).and_then(said);
    if let Some(edit) = chosen.and_then(|stop| set_stop(line, end, stop)) {
        scene.edit(format!("Change where {} {}", document.line_name(line.id), verb(end)), edit);
    }
}

const fn verb(end: RunEnd) -> &'static str {
    match end {
        RunEnd::Start => "starts",
        RunEnd::End => "ends",
    }
}

/// The lines that a run may stop at.
fn lines(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    line: &Line,
    (end, at): (RunEnd, LineId),
    name: &str,
    made: &dyn Fn(LineId) -> Stop,
) {
    let session = scene.session;
    let document = session.document();
    let crossing = || crossing(document, &session.derived().layout, line.id).into_iter();
    let options = || crossing().map(|(_, id)| (id, document.line_name(id))).collect();
    let Some(chosen) = choice(ui, name, &document.line_name(at), at, options) else { return };
    if let Some(edit) = set_stop(line, end, made(chosen)) {
        scene.edit(format!("Change where {} {}", document.line_name(line.id), verb(end)), edit);
    }
}

fn set(scene: &mut Scene<'_>, line: &Line, end: RunEnd, stop: Stop) -> Result<(), String> {
    let Some(edit) = set_stop(line, end, stop) else { return Ok(()) };
    let label = format!("Change where {} {}", scene.session.document().line_name(line.id), verb(end));
    try_edit(scene, label, edit)
}
