//! The mats for the faces of the selected panel: how large they may be, and a button that puts each on.

use crate::pane::{Action, Scene};
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::{Label, Ui};
use fit::MatFit;
use model::part::change::add;
use model::part::{Anchor, AnchorFrom, Mat, Placement, Source};
use model::{Panel, Part, PartKind};
use session::Selected;

/// Shows a button for each face that shows at some stage and has room for a mat; nothing for other panels.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, panel: &Panel) {
    let session = scene.session;
    let (document, derived) = (session.document(), session.derived());
    let steps = derived.folded.as_ref().map_or(0, |(_, folding)| folding.steps());
    let mats: Vec<&MatFit> = derived.mats(document).iter().filter(|mat| mat.panel == panel.id).collect();
    for mat in mats {
        let unit = document.units;
        let size = format!("{} x {}", mat.width.text(unit), mat.height.text(unit));
        let button = ui.button(format!("Put a mat on its {}, {size}", mat.face.word()));
        let seen = format!("Seen {}.", fit::words::seen(mat, steps));
        if button.tip(&seen).clicked()
            && let Some(part) = part(scene, mat)
        {
            let selected = Selected::Part(part.id);
            let edit = add(document, part);
            scene.ask(Action::EditAndSelect(format!("Put a mat on {}", mat.name), edit, selected));
        }
    }
    if let Some((assembly, _)) = &derived.folded
        && assembly.place(panel.id).is_some()
        && !derived.mats(document).iter().any(|mat| mat.panel == panel.id)
    {
        ui.add(Label::new(caption("No face of it that shows has room for a mat.")).wrap());
    }
}

/// The mat as a part of a further paper, or of the folio's where there is no other.
fn part(scene: &Scene<'_>, mat: &MatFit) -> Option<Part> {
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    let (low, _) = layout.panel(mat.panel).bounds();
    let from_start = |distance| Anchor { from: AnchorFrom::Start, distance };
    let place = Placement {
        face: mat.face,
        across: from_start(mat.at.x - low.x),
        down: from_start(mat.at.y - low.y),
        ..Placement::centred(layout.panel_ref(mat.panel)?)
    };
    let source = document.further_stocks.first().map_or(Source::FolioStock, |further| Source::Stock(further.id));
    let kind = PartKind::Mat(Mat { width: mat.width, height: mat.height });
    Some(Part { id: document.next_part(), name: String::new(), kind, source, place, also: Vec::new() })
}
