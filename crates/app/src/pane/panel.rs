//! The selected panel: what it is, what is done with it, and its corners.

mod mat;
mod offcut;

pub(crate) use offcut::uses;

use crate::commands;
use crate::field::{self, Drafts};
use crate::form::length;
use crate::naming::corner_names;
use crate::pane::foot::Foot;
use crate::pane::{LeftList, Scene, try_edit};
use crate::theme::{bold, caption};
use crate::tip::Tip as _;
use egui::{ComboBox, Id, RichText, Ui};
use model::change::{perform, shape_corner};
use model::panel_name::name_panel;
use model::{Corner, CornerShape, Document, Layout, Length, Panel, PanelId, Point, Size, Slot, Turn, Unit, Which};
use session::{Command, Selected};

/// The part of the pane that it may take.
const SHARE: f32 = 0.6;

/// Width of the captions before the choices, px.
const CAPTION: f32 = 104.0;

/// Width of a choice of shape, px.
const CHOICE: f32 = 92.0;

/// What the pane remembers between frames.
#[derive(Debug, Default)]
pub(crate) struct PanelPane {
    drafts: Drafts,
    corners: Option<Corners>,
    foot: Foot,
}

/// The free corners of a panel, kept while nothing changes.
#[derive(Debug)]
struct Corners {
    of: (u64, u64, Point, Turn),
    free: Vec<(String, Corner)>,
}

/// One row: what it is called, and the corner or corners it speaks of.
struct Row<'a> {
    name: &'a str,
    corner: Corner,
    /// What stands there while nothing is said of these corners themselves.
    unsaid: Option<&'a str>,
}

impl PanelPane {
    /// Forgets what was typed: another design is open.
    pub(crate) fn clear(&mut self) {
        *self = Self::default();
    }

    /// Shows the pane at the foot of another list while a panel is selected.
    pub(crate) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, list: LeftList) {
        let Selected::Panel(point) = scene.session.selected() else { return };
        let layout = &scene.session.derived().layout;
        let Some(id) = layout.panel_at(point) else { return };
        let of = Id::unique((scene.design, &layout.panel(id).name));
        let mut foot = std::mem::take(&mut self.foot);
        foot.ui(ui, "panel details", SHARE, of, |ui| {
            head(ui, scene, &mut self.drafts, layout.panel(id), list);
            offcut::ui(ui, scene, layout.panel(id), list);
            mat::ui(ui, scene, layout.panel(id));
            self.corners(ui, scene, id, point);
            ui.add_space(6.0);
        });
        self.foot = foot;
    }

    fn corners(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, id: PanelId, point: Point) {
        let document = scene.session.document();
        let layout = &scene.session.derived().layout;
        let of = (scene.design, scene.session.revision(), point, scene.turn);
        if self.corners.as_ref().is_none_or(|corners| corners.of != of) {
            let free = Layout::free_corners(document, point);
            let free = named(free, &layout.panel(id).outline, scene.turn, layout.size);
            self.corners = Some(Corners { of, free });
        }
        let free = self.corners.as_ref().map_or(&[][..], |corners| &corners.free);
        ui.add_space(4.0);
        ui.label(RichText::new("Corners").font(bold(13.0)));
        if free.is_empty() {
            let why = "None is free: folds end in all of them.";
            ui.add(egui::Label::new(caption(why)).wrap());
        }
        let piece = match &layout.pieces[layout.panel(id).piece.0] {
            piece if piece.is_folio => "the folio",
            piece => piece.name.as_str(),
        };
        let mark = layout.panel(id).inside.unwrap_or(point);
        let nothing = |which| Corner { mark, which, shape: CornerShape::Square };
        let of_piece = said_before(document, layout, id, Which::AllOfPiece);
        if !free.is_empty() {
            let said = said_before(document, layout, id, Which::AllOfPanel);
            let as_piece = format!("As {piece}");
            let unsaid = if said.is_none() && of_piece.is_some() { Some(as_piece.as_str()) } else { None };
            let corner = said.unwrap_or(nothing(Which::AllOfPanel));
            row(ui, scene, &mut self.drafts, &Row { name: "Of this panel", corner, unsaid });
        }
        let (name, corner) = (format!("Of {piece}"), of_piece.unwrap_or(nothing(Which::AllOfPiece)));
        row(ui, scene, &mut self.drafts, &Row { name: &name, corner, unsaid: None });
        for (name, corner) in free {
            let corner = Corner { mark, ..*corner };
            row(ui, scene, &mut self.drafts, &Row { name, corner, unsaid: None });
        }
    }
}

fn head(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, panel: &Panel, list: LeftList) {
    let layout = &scene.session.derived().layout;
    let document = scene.session.document();
    let units = document.units;
    let (width, height) = panel.extent();
    let piece = &layout.pieces[panel.piece.0];
    // A maker knows what came off by its offcut; its panels have names of their own where she gave them some.
    let is_called = piece.is_folio || document.panel_name(layout, panel.id).is_some();
    ui.label(RichText::new(if is_called { &panel.name } else { &piece.name }).font(bold(14.0)));
    let part = match piece.panels.len() {
        _ if piece.is_folio => "part of the folio".to_owned(),
        1 if is_called => format!("all of {}", piece.name),
        1 => "cut from the folio".to_owned(),
        count => format!("one of the {count} panels of {}", piece.name),
    };
    let text = format!("{} by {}, {part}.", width.readable(units), height.readable(units));
    ui.add(egui::Label::new(caption(&text)).wrap());
    ui.horizontal(|ui| {
        captioned(ui, "Name");
        name(ui, scene, drafts, panel);
    });
    let fits = scene.session.derived().fits(scene.session.document());
    for tray in fits.trays.iter().filter(|tray| tray.panel == panel.id) {
        ui.add(egui::Label::new(caption(&fit::words::tray(tray, units))).wrap());
    }
    ui.horizontal_wrapped(|ui| {
        commands::button(ui, scene, Command::SetBase);
        let away = if piece.is_folio { Command::CutAway } else { Command::KeepOffcut };
        commands::button(ui, scene, away);
        // The list of parts has that button itself.
        if piece.is_folio && list != LeftList::Parts {
            commands::button(ui, scene, Command::AddPart);
        }
    });
}

/// What the maker calls the panel; while that is nothing, it is called by where it lies.
fn name(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, panel: &Panel) {
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    let Some(mark) = panel.inside else { return };
    let given = document.panel_name(layout, panel.id);
    let field = field::Field {
        id: Id::unique(("name of panel", scene.design, mark)),
        name: "Name of the selected panel",
        shown: given.unwrap_or_default(),
        hint: &panel.name,
        width: ui.available_width(),
    };
    drafts.field(ui, field, |text| match name_panel(document, layout, panel.id, text) {
        Some(edit) => try_edit(scene, "Name the panel".to_owned(), edit),
        None => Ok(()),
    });
}

/// Each corner with a name by where it lies in the panel, as the sheet is seen.
fn named(free: Vec<(Point, Corner)>, outline: &[Point], turn: Turn, sheet: Size) -> Vec<(String, Corner)> {
    let tips: Vec<Point> = free.iter().map(|(tip, _)| *tip).collect();
    let names = corner_names(&tips, outline, turn, sheet);
    names.into_iter().zip(free.into_iter().map(|(_, corner)| corner)).collect()
}

/// What is said of all corners of a panel or its piece, as it was said, so that saying something else takes its place.
fn said_before(document: &Document, layout: &Layout, panel: PanelId, which: Which) -> Option<Corner> {
    let piece = layout.panel(panel).piece;
    let same = |corner: &&Corner| {
        corner.which == which
            && layout.panel_at(corner.mark).is_some_and(|other| match which {
                Which::AllOfPiece => layout.panel(other).piece == piece,
                _ => other == panel,
            })
    };
    document.corners.iter().rev().find(same).copied()
}

/// The caption of a row, as wide as those of all rows.
fn captioned(ui: &mut Ui, text: &str) {
    let from = ui.cursor().left();
    ui.label(caption(text));
    ui.add_space((CAPTION - (ui.cursor().left() - from)).max(0.0));
}

fn row(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, of: &Row<'_>) {
    let units = scene.session.document().units;
    let id = Id::unique(("corner", of.name, of.corner.mark.x.nm(), of.corner.mark.y.nm()));
    ui.horizontal(|ui| {
        captioned(ui, of.name);
        shape(ui, scene, of, units);
        let (measure, made): (Length, fn(Length) -> CornerShape) = match of.corner.shape {
            CornerShape::Square => return,
            CornerShape::Round(radius) => (radius, CornerShape::Round),
            CornerShape::Clip(distance) => (distance, CornerShape::Clip),
        };
        let name = format!("Measure of corner: {}", of.name);
        let corners = &scene.session.document().corners;
        // What is said anew comes last.
        let at = corners.iter().rposition(|corner| *corner == of.corner).unwrap_or(corners.len());
        let said = scene.at(Slot::Corner(at));
        length(ui, drafts, (id, &name, 76.0), measure, said, |length| {
            if length <= Length::ZERO {
                return Err("Give more than nothing, or choose square.".to_owned());
            }
            put(scene, Corner { shape: made(length), ..of.corner })
        });
    });
    drafts.say_why(ui, id);
}

fn shape(ui: &mut Ui, scene: &mut Scene<'_>, of: &Row<'_>, units: Unit) {
    let now = of.corner.shape;
    let measure = if now == CornerShape::Square { usual(units) } else { now.measure() };
    let mut chosen = None;
    let name = format!("Corner: {}", of.name);
    ComboBox::from_id_salt(&name)
        .width(CHOICE)
        .selected_text(of.unsaid.unwrap_or(word(now)))
        .show_ui(ui, |ui| {
            for shape in [CornerShape::Square, CornerShape::Round(measure), CornerShape::Clip(measure)] {
                let is = now == shape && of.unsaid.is_none();
                if ui.selectable_label(is, word(shape)).clicked() && !is {
                    chosen = Some(shape);
                }
            }
        })
        .response
        .accessible_name(&name)
        .tip("Leave the corner square, round it, or clip it off.");
    if let Some(shape) = chosen {
        let edit =
            shape_corner(scene.session.document(), &scene.session.derived().layout, Corner { shape, ..of.corner });
        scene.edit("Shape corners", edit);
    }
}

const fn word(shape: CornerShape) -> &'static str {
    match shape {
        CornerShape::Square => "Square",
        CornerShape::Round(_) => "Round",
        CornerShape::Clip(_) => "Clip",
    }
}

/// What a corner is rounded or clipped by to begin with: 1/4 in, or 6 mm (common practice, no source).
const fn usual(units: Unit) -> Length {
    match units {
        Unit::Inch => Length::from_sixty_fourths(16),
        Unit::Millimetre | Unit::Centimetre => Length::from_mm_exact(6, 0),
    }
}

fn put(scene: &mut Scene<'_>, corner: Corner) -> Result<(), String> {
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    let edit = shape_corner(document, layout, corner);
    perform(document, layout, edit.clone()).map_err(|refusal| field::sentence(&refusal.to_string()))?;
    scene.edit("Shape corners", edit);
    Ok(())
}
