//! The folded view: the folio at any moment of its closing, seen from any side.

use crate::icon::Icon;
use crate::menu::{self, Of};
use crate::naming::step_name;
use crate::pane::{Action, Scene, bound_canvas};
use crate::theme::{bold, colour, heading, palette};
use crate::tip::Tip as _;
use crate::view_transform::{ViewTransform, px};
use crate::{commands, paint};
use draw::artwork::Printed;
use draw::folded::{FoldedScene, Posed, View, printed_scene};
use draw::list::{Node, Shape};
use draw::style;
use egui::{PointerButton, Pos2, Rect, RichText, Sense, Slider, Stroke, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use model::{Layout, PanelId};
use session::{Command, Selected, Session};

/// How long one step of closing takes to watch, s.
const SECONDS_A_STEP: f64 = 1.3;

/// The longest time between two frames that counts as watching, s: after a pause the fold goes on where it was.
const LONGEST_FRAME: f64 = 0.1;

/// Degrees that the view turns for each px of a drag.
const DEGREES_A_PIXEL: f64 = 0.5;

/// Opacity of paper that is seen through, of 255: three layers of it still let a line through.
const THIN: u8 = 120;

/// Between the folio and the canvas's edge, px.
const FIT_MARGIN: f32 = 26.0;

/// Where the pane is lower than this, px, most of its buttons are left to the menu, so that the folio keeps its room.
const SHORT: f32 = 290.0;

/// How fast the wheel zooms.
const ZOOM_A_PIXEL: f32 = 0.0025;

/// What the folded view's pane remembers between frames.
#[derive(Debug)]
pub(crate) struct FoldedPane {
    view: View,
    zoom: f32,
    pan: Vec2,
    /// From 0, flat, to the number of steps, closed.
    time: f64,
    playing: bool,
    /// The time that it folds to by itself, if it does.
    goal: Option<f64>,
    /// Whether the closed folio is shown with air between its layers.
    spread: bool,
    /// Whether what lies behind is seen as well.
    sees_through: bool,
    drawn: Option<Drawn>,
}

/// The scene, kept while nothing changes.
#[derive(Debug)]
struct Drawn {
    of: (u64, u64, u64),
    view: View,
    time: f64,
    /// Spread, and seen through.
    ways: (bool, bool),
    scene: FoldedScene,
}

impl Default for FoldedPane {
    fn default() -> Self {
        Self {
            view: View::SLANTED,
            zoom: 1.0,
            pan: Vec2::ZERO,
            time: 0.0,
            playing: false,
            goal: None,
            spread: false,
            sees_through: false,
            drawn: None,
        }
    }
}

impl FoldedPane {
    /// How far the folio is closed: 0 flat, the number of steps closed.
    pub(crate) const fn time(&self) -> f64 {
        self.time
    }

    /// Shows the folio at a time of its closing.
    pub(crate) const fn set_time(&mut self, time: f64) {
        self.time = time;
        self.playing = false;
        self.goal = None;
    }

    /// Folds or unfolds to a time, to be watched.
    pub(crate) const fn fold_to(&mut self, time: f64) {
        self.playing = false;
        self.goal = Some(time);
    }

    /// To the start of the step it is in.
    pub(crate) fn step_back(&mut self) {
        self.set_time((self.time.ceil() - 1.0).max(0.0));
    }

    /// To the end of the step it is in.
    pub(crate) fn step_on(&mut self, steps: usize) {
        self.set_time((self.time.floor() + 1.0).min(count(steps)));
    }

    /// Shows the closed folio with air between its layers, or without.
    pub(crate) fn spread_or_not(&mut self, steps: usize) {
        self.spread = !self.spread;
        if self.spread {
            self.set_time(count(steps));
        }
    }

    /// Shows what lies behind as well, or not.
    pub(crate) const fn see_through_or_not(&mut self) {
        self.sees_through = !self.sees_through;
    }

    /// Watches the folio close, from the start when it is closed already; or stops.
    pub(crate) fn play_or_stop(&mut self, steps: usize) {
        self.playing = !self.playing && steps > 0;
        self.goal = None;
        if self.playing && self.time >= count(steps) {
            self.time = 0.0;
        }
    }

    /// Looks from another side, all of the folio in view.
    pub(crate) const fn look_from(&mut self, view: View) {
        self.view = view;
        self.zoom = 1.0;
        self.pan = Vec2::ZERO;
    }

    /// Where the maker looks from.
    pub(crate) const fn view(&self) -> View {
        self.view
    }

    /// Shows the pane.
    pub(crate) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, fills: bool) {
        ui.horizontal(|ui| {
            ui.label(heading("Folded")).explained("Fold");
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let (label, command) = if fills {
                    ("Show the sheet again", Command::FillFolded)
                } else {
                    ("Close the folded view", Command::ShowFolded)
                };
                if Icon::Close.small(ui, label).clicked() {
                    scene.ask(Action::Run(command));
                }
                self.sides(ui);
            });
        });
        let steps = scene.session.derived().folded.as_ref().map_or(0, |(_, folding)| folding.steps());
        self.advance(ui, steps);
        let is_short = ui.available_height() < SHORT;
        egui::Panel::bottom("fold controls")
            .frame(egui::Frame::new().inner_margin(egui::Margin { top: 8, bottom: 8, ..egui::Margin::ZERO }))
            .show_separator_line(false)
            .show(ui, |ui| self.controls(ui, scene, steps, is_short));
        let rect = ui.available_rect_before_wrap();
        let inside = UiBuilder::new()
            .id_salt("folded")
            .max_rect(rect)
            .accessibility_role(accesskit::Role::Canvas)
            .accessibility_label("Folded view");
        ui.scope_builder(inside, |ui| {
            ui.set_clip_rect(rect.intersect(ui.clip_rect()));
            bound_canvas(ui, rect);
            self.canvas(ui, rect, scene);
        });
        ui.advance_cursor_after_rect(rect);
    }

    /// From the front, from the back, at a slant. Laid out from the right.
    fn sides(&mut self, ui: &mut Ui) {
        for (label, tip, view) in [
            ("Slanted", "Look at the folio from its lower right.", View::SLANTED),
            ("Back", "Look at the folio from its back. (R)", View::BACK),
            ("Front", "Look at the folio from its front. (F)", View::FRONT),
        ] {
            if ui.selectable_label(self.view == view, label).tip(tip).clicked() {
                self.look_from(view);
            }
        }
    }

    fn advance(&mut self, ui: &Ui, steps: usize) {
        let end = count(steps);
        self.time = self.time.clamp(0.0, end);
        if self.playing {
            let passed = f64::from(ui.input(|input| input.stable_dt)).min(LONGEST_FRAME);
            // A second pass of the same frame must not count its time twice.
            if ui.ctx().current_pass_index() == 0 {
                self.time = (self.time + passed / SECONDS_A_STEP).min(end);
            }
            self.playing = self.time < end;
            ui.ctx().request_repaint();
        }
        if let Some(goal) = self.goal {
            let goal = goal.clamp(0.0, end);
            if ui.ctx().current_pass_index() == 0 {
                let passed = f64::from(ui.input(|input| input.stable_dt)).min(LONGEST_FRAME);
                let most = (passed / SECONDS_A_STEP).max(f64::EPSILON);
                self.time += (goal - self.time).clamp(-most, most);
            }
            if (self.time - goal).abs() < 1e-9 {
                self.set_time(goal);
            }
            ui.ctx().request_repaint();
        }
    }

    fn controls(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, steps: usize, is_short: bool) {
        ui.horizontal(|ui| {
            let words = RichText::new(moment(scene.session, self.time, steps)).font(bold(13.5));
            if !is_short {
                ui.label(words);
                return;
            }
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let at = ui
                    .button("More")
                    .tip("Open the menu of the folio; a click on it with the right button does so too.");
                if at.clicked() {
                    scene.ask(Action::ShowMenu(at.rect.left_bottom(), Of::Folio));
                }
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    ui.add(egui::Label::new(words).truncate());
                });
            });
        });
        ui.horizontal(|ui| {
            let (icon, label, tip) = if self.playing {
                (Icon::Pause, "Stop", "Stop the folio where it is. (Space)")
            } else {
                (Icon::Play, "Fold", "Watch the folio close. (Space)")
            };
            if icon.told(ui, label, tip, steps > 0).clicked() {
                self.play_or_stop(steps);
            }
            ui.spacing_mut().slider_width = (ui.available_width() - 8.0).max(60.0);
            let end = count(steps).max(1.0);
            let slider = Slider::new(&mut self.time, 0.0..=end).show_value(false);
            let response = ui.add_enabled(steps > 0, slider).accessible_name("How far the folio is closed");
            let response = response.tip("Drag to fold the folio from flat, at the left, to closed, at the right.");
            if response.changed() {
                self.playing = false;
                self.goal = None;
            }
            step_ticks(ui, response.rect, steps);
        });
        if !is_short {
            self.further_controls(ui, scene, steps);
        }
    }

    /// What is in the menu of the folio as well.
    fn further_controls(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, steps: usize) {
        ui.horizontal(|ui| {
            for (label, tip, time) in [
                ("Lay flat", "Show the sheet before the first fold. (1)", 0.0),
                ("Close up", "Show the folio closed. (2)", count(steps)),
            ] {
                if ui.add_enabled(steps > 0, egui::Button::new(label)).tip(tip).clicked() {
                    self.set_time(time);
                }
            }
            let at = self.time;
            let tip = "Show the folio before the step it is in. (Page up)";
            if ui.add_enabled(at > 0.0, egui::Button::new("Step back")).tip(tip).clicked() {
                self.step_back();
            }
            let tip = "Show the folio after the step it is in. (Page down)";
            if ui.add_enabled(at < count(steps), egui::Button::new("Step on")).tip(tip).clicked() {
                self.step_on(steps);
            }
        });
        ui.horizontal(|ui| {
            commands::switch(ui, scene, Command::SpreadLayers, self.spread);
            commands::switch(ui, scene, Command::SeeThrough, self.sees_through);
        });
    }

    fn canvas(&mut self, ui: &Ui, rect: Rect, scene: &mut Scene<'_>) {
        let response = ui.interact(rect, ui.scope_id().with("orbit"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Group, true, "The folded folio"));
        let response = response.described("Drag to turn it. Shift+F10 opens what can be done with it.");
        self.move_view(ui, rect, &response);
        let painter = ui.painter().with_clip_rect(rect);
        painter.rect_filled(rect, 4.0, colour(palette().table));
        let from = self.view;
        let Some(drawn) = self.drawn(scene) else {
            let text = "Choose a base panel on the sheet to see the folio fold.";
            let galley = painter.layout(text.to_owned(), bold(14.0), colour(palette().text), rect.width() - 60.0);
            painter.galley(rect.center() - galley.size() / 2.0, galley, colour(palette().text));
            if let Some(at) = menu::asked(scene, &response) {
                scene.ask(Action::ShowMenu(at, Of::Folio));
            }
            return;
        };
        let bounds = reach(drawn, &scene.session.derived().layout, from);
        let (zoom, pan) = (self.zoom, self.pan);
        let view = ViewTransform::fitting(bounds, rect, FIT_MARGIN).zoomed(zoom, rect.center()).panned(pan);
        let Some(drawn) = self.drawn.as_ref().map(|drawn| &drawn.scene) else { return };
        let pointer = ui.input(|input| input.pointer.hover_pos()).filter(|_| response.hovered());
        let over = pointer.and_then(|at| panel_at(drawn, &view, at));
        // By keys it is the menu of the folio, wherever the pointer rests.
        let of_panel = response.secondary_clicked() && over.is_some();
        let menu = menu::asked(scene, &response);
        if let Some(panel) = over {
            scene.now_hovered = Some(panel);
            if response.clicked() || of_panel {
                let layout = &scene.session.derived().layout;
                let selected = match layout.part_of(panel) {
                    Some(part) => Some(Selected::Part(part.id)),
                    None => layout.panel(panel).inside.map(Selected::Panel),
                };
                scene.actions.extend(selected.map(Action::Select));
            }
            if response.double_clicked() {
                scene.ask(Action::Swing(panel));
            }
        }
        if let Some(at) = menu {
            let of = if of_panel { Of::Selected } else { Of::Folio };
            scene.ask(Action::ShowMenu(at, of));
        }
        show(&painter, drawn, &view, scene);
        faces_key(&painter, rect);
        if response.has_focus() {
            let ring = Stroke::new(1.2, colour(style::SELECTION));
            painter.rect_stroke(rect.shrink(2.0), 4.0, ring, egui::StrokeKind::Inside);
        }
    }

    fn move_view(&mut self, ui: &Ui, rect: Rect, response: &egui::Response) {
        if response.dragged_by(PointerButton::Primary) {
            let by = response.drag_delta();
            let yaw = self.view.yaw - f64::from(by.x) * DEGREES_A_PIXEL;
            let pitch = (self.view.pitch + f64::from(by.y) * DEGREES_A_PIXEL).clamp(-90.0, 90.0);
            self.view = View { yaw: yaw.rem_euclid(360.0), pitch };
        } else if response.dragged() {
            self.pan += response.drag_delta();
        }
        if ui.rect_contains_pointer(rect) {
            let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
            self.zoom = (self.zoom * (scroll * ZOOM_A_PIXEL).exp() * pinch).clamp(0.2, 12.0);
        }
    }

    fn drawn(&mut self, scene: &Scene<'_>) -> Option<&FoldedScene> {
        let derived = scene.session.derived();
        let (assembly, folding) = derived.folded.as_ref()?;
        let of = (scene.design, scene.session.revision(), scene.readings);
        let is_spread = self.spread && self.time >= count(folding.steps());
        let ways = (is_spread, self.sees_through);
        let same = |drawn: &Drawn| {
            (drawn.of, drawn.view, drawn.time.to_bits(), drawn.ways) == (of, self.view, self.time.to_bits(), ways)
        };
        if !self.drawn.as_ref().is_some_and(same) {
            // Through print nothing could be seen.
            let printed = Printed { prints: scene.prints, supply: derived.supply.as_ref() };
            let printed = if self.sees_through { Printed::NOTHING } else { printed };
            let posed = if is_spread {
                Posed { assembly, poses: session::spread::spread(folding), woven: &[] }
            } else {
                Posed::at(assembly, folding, self.time)
            };
            let mut scene = printed_scene(&derived.layout, &posed, &self.view, &printed);
            if self.sees_through {
                scene.nodes.iter_mut().for_each(thin);
            }
            self.drawn = Some(Drawn { of, view: self.view, time: self.time, ways, scene });
        }
        self.drawn.as_ref().map(|drawn| &drawn.scene)
    }
}

/// Makes paper so thin that what lies behind it is seen.
fn thin(node: &mut Node) {
    match node {
        Node::Item { shape: Shape::Fill { colour, .. }, .. } => *colour = colour.with_alpha(THIN),
        Node::Item { .. } => {}
        Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => nodes.iter_mut().for_each(thin),
    }
}

/// A rectangle around the origin that holds the open sheet as it is seen and as it lies, so that the folio keeps its size on
/// the screen while it folds, and while it is turned unless it would be cut off.
fn reach(drawn: &FoldedScene, layout: &Layout, view: View) -> kurbo::Rect {
    let own = drawn.bounds;
    let Some(folio) = layout.folio() else { return own };
    let (low, high) = folio.bounds;
    let Some(base) = layout.base else { return own };
    let (a, b) = layout.panel(base).bounds();
    let middle = ((a.x.mm() + b.x.mm()) / 2.0, (a.y.mm() + b.y.mm()) / 2.0);
    let wide = (middle.0 - low.x.mm()).max(high.x.mm() - middle.0);
    let high = (middle.1 - low.y.mm()).max(high.y.mm() - middle.1);
    let (seen_wide, seen_high) = view.reach(wide, high);
    let (wide, high) = (wide.max(seen_wide), high.max(seen_high));
    kurbo::Rect::new(-wide, -high, wide, high)
}

/// The panel of the nearest face around a point of the screen.
fn panel_at(scene: &FoldedScene, view: &ViewTransform, at: Pos2) -> Option<PanelId> {
    let point = view.to_drawing(at);
    scene.faces.iter().rev().find(|face| paint::is_inside(&face.outline, point)).map(|face| face.panel)
}

/// Draws face by face, so that the wash over a lit face is hidden by whatever lies in front of it.
fn show(painter: &egui::Painter, drawn: &FoldedScene, view: &ViewTransform, scene: &Scene<'_>) {
    let layout = &scene.session.derived().layout;
    let is_selected = |panel: PanelId| match scene.session.selected() {
        Selected::Panel(point) => layout.panel_at(point) == Some(panel),
        Selected::Part(id) => layout.part_of(panel).is_some_and(|part| part.id == id),
        _ => false,
    };
    // Every face is a fill and then its edges.
    let is_fill = |node: &Node| matches!(node, Node::Item { shape: Shape::Fill { .. }, .. });
    let faces = drawn.nodes.chunk_by(|_, next| !is_fill(next));
    let parts: Vec<_> = faces.zip(&drawn.faces).collect();
    // All parts of a panel, then their tint, so that none is painted over by the next.
    for parts in parts.chunk_by(|(_, a), (_, b)| a.panel == b.panel) {
        for (nodes, _) in parts {
            paint::paint(painter, nodes, view);
        }
        for (_, face) in parts {
            if scene.is_lit(face.panel) {
                paint::area(painter, &face.outline, view, colour(style::HOVER));
            } else if is_selected(face.panel) {
                paint::area(painter, &face.outline, view, colour(style::SELECTION.with_alpha(40)));
            }
        }
    }
}

/// Two slips in the corner that say which tint is which face of the paper.
fn faces_key(painter: &egui::Painter, rect: Rect) {
    let mut at = rect.left_bottom() + Vec2::new(10.0, -26.0);
    for (tint, word) in [(style::PAPER_FRONT, "front"), (style::PAPER_BACK, "back")] {
        let galley = painter.layout_no_wrap(word.to_owned(), crate::theme::plain(12.0), colour(style::LABEL));
        let slip = Rect::from_min_size(at, Vec2::new(galley.size().x + 14.0, 19.0));
        painter.rect(slip, 2.0, colour(tint), Stroke::new(1.0, colour(style::OUTLINE)), egui::StrokeKind::Inside);
        painter.galley(slip.center() - galley.size() / 2.0, galley, colour(style::LABEL));
        at.x = slip.right() + 6.0;
    }
}

fn step_ticks(ui: &Ui, rail: Rect, steps: usize) {
    // The slider's handle keeps half its width from either end of the rail.
    let inset = rail.height() * 0.2;
    let (from, to) = (rail.left() + inset, rail.right() - inset);
    if steps == 0 || steps > 60 {
        return;
    }
    let ink = Stroke::new(1.0, colour(palette().line));
    for step in 0..=steps {
        let x = egui::lerp(from..=to, px(count(step) / count(steps)));
        ui.painter().vline(x, rail.bottom() - 2.0..=rail.bottom() + 3.0, ink);
    }
}

/// Where in the closing a time falls, in words.
fn moment(session: &Session, time: f64, steps: usize) -> String {
    if steps == 0 {
        return "Nothing folds yet".to_owned();
    }
    if time <= 0.0 {
        return "Flat, before the first fold".to_owned();
    }
    if time >= count(steps) {
        return "Closed".to_owned();
    }
    let step = (0..steps).rev().find(|&step| count(step) < time).unwrap_or(0);
    format!("Step {} of {steps}: {}", step + 1, step_name(session, step))
}

/// A number of steps as a time.
#[expect(clippy::cast_precision_loss, reason = "a folio has far fewer steps than 2^53")]
const fn count(steps: usize) -> f64 {
    steps as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Document, Length, LineId, Size, Turn, Unit};

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 3), (2, 9)] {
            let edit = add_line(&document, measured_score(LineId(id), Turn::None, Length::INCH * inches));
            document.apply(edit).unwrap();
        }
        document
    }

    #[test]
    fn a_moment_is_said_in_words() {
        assert_eq!(moment(&Session::new(document()), 0.4, 2), "Step 1 of 2: Left flap", "by what it carries");
        let mut flat = document();
        flat.base = None;
        let flat = Session::new(flat);
        for (time, steps, expected) in [
            (0.0, 0, "Nothing folds yet"),
            (0.0, 2, "Flat, before the first fold"),
            (0.4, 2, "Step 1 of 2: Score 1"),
            (1.0, 2, "Step 1 of 2: Score 1"),
            (1.1, 2, "Step 2 of 2: Score 2"),
            (2.0, 2, "Closed"),
        ] {
            assert_eq!(moment(&flat, time, steps), expected, "{time}");
        }
    }

    #[test]
    fn every_starter_is_seen_whole_from_every_side_before_it_folds() {
        for starter in file::starters::ALL {
            let document = file::from_text(starter.text).unwrap();
            let layout = Layout::of(&document);
            let assembly = fold::assemble(&document, &layout).unwrap();
            let folding = fold::close(&assembly);
            let turned = View { yaw: 300.0, pitch: 50.0 };
            for view in [View::FRONT, View::BACK, View::SLANTED, turned] {
                let drawn = draw::folded::folded_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &view);
                // Parts lie over the paper, by no more than some calipers.
                let held = reach(&drawn, &layout, view).inflate(2.0, 2.0);
                assert_eq!(held.union(drawn.bounds), held, "{}, {view:?}", starter.name);
            }
        }
    }

    #[test]
    fn playing_starts_again_once_closed() {
        let mut pane = FoldedPane::default();
        pane.set_time(2.0);
        pane.play_or_stop(2);
        assert!(pane.playing && pane.time() == 0.0);
        pane.play_or_stop(2);
        assert!(!pane.playing);
        pane.play_or_stop(0);
        assert!(!pane.playing, "nothing folds");
    }
}
