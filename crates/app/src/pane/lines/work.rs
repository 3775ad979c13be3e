//! What is done along the selected line, changed in the design.

use crate::field::Drafts;
use crate::pane::work::{Asked, Worked, rows};
use crate::pane::{Scene, try_edit};
use egui::{Id, Ui};
use model::{Line, LineSlot, Slot, Work};
use session::work::{set_work, switch_kind};

/// Shows the kind of work and its figures.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, line: &Line) {
    let said = scene.at(Slot::Line(line.id, LineSlot::Width));
    let of = Worked { id: Id::unique(("work of line", line.id.0)), work: line.work, said };
    let document = scene.session.document();
    let asked = rows(ui, drafts, of, |work| {
        let edit = set_work(document, line, work);
        try_edit(scene, label(scene, line, work), edit)
    });
    match asked {
        Some(Asked::Kind(kind)) => {
            if let Some(edit) = switch_kind(document, &scene.session.derived().layout, line.id, kind) {
                scene.edit(format!("Make {} a {}", document.line_name(line.id), kind.word().to_lowercase()), edit);
            }
        }
        Some(Asked::Work(work)) => scene.edit(label(scene, line, work), set_work(document, line, work)),
        None => {}
    }
}

fn label(scene: &Scene<'_>, line: &Line, work: Work) -> String {
    let verb = if work.is_score() { "Fold" } else { "Change" };
    format!("{verb} {}", scene.session.document().line_name(line.id))
}
