//! What a part's kind leaves to choose beside its measures: glued edges, corner, hinged edge, and the like.

use super::change;
use crate::form::{buttons, choice, row};
use crate::naming::part::{edge_name, mouth};
use crate::pane::Scene;
use crate::theme::caption;
use crate::tip::Tip as _;
use egui::Ui;
use model::part::{AnchorFrom, ClosureKind, PanelCorner, Pocket, TuckCorner};
use model::{Part, PartKind, SheetEdge};

/// Shows the choices.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part) {
    match &part.kind {
        PartKind::Pocket(pocket) => glued(ui, scene, part, pocket),
        PartKind::TuckCorner(tuck) => corner(ui, scene, part, *tuck),
        PartKind::Page(page) => edge(ui, scene, part, "Hinged at", page.hinged, |kind, edge| {
            if let PartKind::Page(page) = kind {
                page.hinged = edge;
            }
        }),
        PartKind::Flap(flap) => edge(ui, scene, part, "Leaf at", flap.edge, |kind, edge| {
            if let PartKind::Flap(flap) = kind {
                flap.edge = edge;
            }
        }),
        PartKind::Tab(tab) => edge(ui, scene, part, "Glued at", tab.glued, |kind, edge| {
            if let PartKind::Tab(tab) = kind {
                tab.glued = edge;
            }
        }),
        PartKind::Band(band) => way(ui, scene, part, band.is_upright),
        PartKind::Closure(closure) => closure_kind(ui, scene, part, closure.kind),
        PartKind::Hinge(_) | PartKind::Mat(_) | PartKind::Insert(_) | PartKind::Own(_) => {}
    }
}

/// The four edges of a pocket, each glued or not, and the mouth that they leave.
fn glued(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part, pocket: &Pocket) {
    row(ui, "Glued at", |ui| {
        narrow(ui);
        for edge in SheetEdge::ALL {
            let on = pocket.glued.has(edge);
            let button = egui::Button::selectable(on, edge_name(edge)).frame_when_inactive(true);
            let response = ui.add(button).accessible_name(format!("Glued at the {}", edge.word()));
            let response = response.tip("Glue the pocket along this edge, or leave it open as its mouth.");
            if response.clicked() {
                change(scene, "Change the glue of", part.id, |part| {
                    if let PartKind::Pocket(pocket) = &mut part.kind {
                        pocket.glued = pocket.glued.with(edge, !on);
                    }
                });
            }
        }
    });
    row(ui, "", |ui| {
        ui.label(caption(&mouth(pocket)));
    });
}

/// Four edges and more side by side in the narrowest pane.
fn narrow(ui: &mut Ui) {
    ui.spacing_mut().button_padding.x = 5.0;
    ui.spacing_mut().item_spacing.x = 3.0;
}

/// The corner; a part that lies in its corner of the panel goes to the other one.
fn corner(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part, tuck: TuckCorner) {
    row(ui, "Corner", |ui| {
        let options = || PanelCorner::ALL.map(|corner| (corner, corner.words().to_owned())).to_vec();
        let chosen = choice(ui, "Corner of the panel", tuck.corner.words(), tuck.corner, options);
        if let Some(corner) = chosen {
            change(scene, "Change the corner of", part.id, |part| move_to(part, corner));
        }
    });
}

fn move_to(part: &mut Part, corner: PanelCorner) {
    if let PartKind::TuckCorner(tuck) = &mut part.kind {
        tuck.corner = corner;
    }
    let [level, upright] = corner.edges();
    let border = |is_first: bool| if is_first { AnchorFrom::Start } else { AnchorFrom::End };
    let place = &mut part.place;
    if place.across.from != AnchorFrom::Middle {
        place.across.from = border(upright == SheetEdge::Left);
    }
    if place.down.from != AnchorFrom::Middle {
        place.down.from = border(level == SheetEdge::Top);
    }
}

fn edge(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    part: &Part,
    name: &str,
    now: SheetEdge,
    set: impl FnOnce(&mut PartKind, SheetEdge),
) {
    row(ui, name, |ui| {
        narrow(ui);
        let edges = SheetEdge::ALL.map(|edge| (edge, edge_name(edge)));
        if let Some(edge) = buttons(ui, &edges, now) {
            change(scene, "Change the edge of", part.id, |part| set(&mut part.kind, edge));
        }
    });
}

fn way(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part, is_upright: bool) {
    row(ui, "Goes round", |ui| {
        narrow(ui);
        let ways = [(false, "Side to side"), (true, "Top to bottom")];
        if let Some(is_upright) = buttons(ui, &ways, is_upright) {
            change(scene, "Change the way of", part.id, |part| {
                if let PartKind::Band(band) = &mut part.kind {
                    band.is_upright = is_upright;
                }
            });
        }
    });
}

fn closure_kind(ui: &mut Ui, scene: &mut Scene<'_>, part: &Part, now: ClosureKind) {
    row(ui, "Kind", |ui| {
        let options = || ClosureKind::ALL.map(|kind| (kind, kind.word().to_owned())).to_vec();
        if let Some(kind) = choice(ui, "Kind of closure", now.word(), now, options) {
            change(scene, "Change the kind of", part.id, |part| {
                if let PartKind::Closure(closure) = &mut part.kind {
                    closure.kind = kind;
                }
            });
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::part::{Anchor, Placement, Source};
    use model::{Length, PanelRef, PartId, Point};

    #[test]
    fn a_tuck_corner_goes_to_the_corner_it_is_made_for() {
        let inch = Length::INCH;
        let tuck = TuckCorner {
            across: inch,
            down: inch,
            corner: PanelCorner::BottomRight,
            band: Length::ZERO,
            strip: Length::EIGHTH,
        };
        let at = |from| Anchor { from, distance: Length::EIGHTH };
        let place = Placement {
            across: at(AnchorFrom::End),
            down: at(AnchorFrom::End),
            ..Placement::centred(PanelRef::Sheet(Point::default()))
        };
        let (kind, source) = (PartKind::TuckCorner(tuck), Source::AnyOffcut);
        let mut part = Part { id: PartId(1), name: String::new(), kind, source, place, also: Vec::new() };
        move_to(&mut part, PanelCorner::TopRight);
        assert_eq!((part.place.across, part.place.down), (at(AnchorFrom::End), at(AnchorFrom::Start)));
        move_to(&mut part, PanelCorner::BottomLeft);
        assert_eq!((part.place.across, part.place.down), (at(AnchorFrom::Start), at(AnchorFrom::End)));
    }
}
