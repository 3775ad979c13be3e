//! What the checker has to say; a click shows where, and a button mends what can be mended in one go.

mod silence;

use crate::commands;
use crate::icon::Icon;
use crate::menu::{self, Of};
use crate::pane::{Action, Scene};
use crate::theme::{BODY, caption, colour, heading, palette, plain};
use crate::tip::Tip as _;
use check::{Finding, Fix, Severity};
use draw::style::Colour;
use egui::{Align, Label, Layout, RichText, ScrollArea, Sense, Ui, Vec2, WidgetInfo, accesskit};
use session::{Command, Selected};
use std::collections::BTreeSet;

/// Shows the list; says whether it is to be closed. `silenced` says whether what is silenced is listed too.
pub(crate) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, silenced: bool) -> bool {
    let mut closes = false;
    let findings = &scene.session.derived().findings;
    let height = ui.spacing().interact_size.y;
    let room = Vec2::new(ui.available_width(), height);
    ui.allocate_ui_with_layout(room, Layout::right_to_left(Align::Center), |ui| {
        closes = Icon::Close.small(ui, "Close the findings").clicked();
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| head(ui, scene, silenced));
    });
    let mut area = ScrollArea::vertical().auto_shrink(false).min_scrolled_height(0.0);
    if is_worse(ui, findings) {
        // What is newly wrong stands at the top, and is not to be scrolled for.
        area = area.vertical_scroll_offset(0.0);
    }
    area.show(ui, |ui| {
        if silenced {
            // At the top, where whoever asked for them sees them.
            silence::list(ui, scene);
        }
        if findings.is_empty() {
            ui.horizontal_wrapped(|ui| {
                if scene.session.document().steps.is_empty() {
                    ui.label(caption("Nothing to check yet: no line folds."));
                } else {
                    sign(ui, Icon::Good, palette().good);
                    ui.label("Nothing to mend: the folio closes as drawn.");
                }
            });
        }
        ui.spacing_mut().item_spacing.y = 2.0;
        for (index, finding) in findings.iter().enumerate() {
            row(ui, scene, index, finding);
        }
    });
    closes
}

/// Whether there are errors and warnings other than when it was last asked, and not only fewer of them.
fn is_worse(ui: &Ui, findings: &[Finding]) -> bool {
    let wrong = |finding: &&Finding| finding.severity >= Severity::Warning;
    let now: BTreeSet<String> = findings.iter().filter(wrong).map(|finding| finding.sentence.clone()).collect();
    let id = ui.scope_id().with("what is wrong");
    let before = ui.data_mut(|data| data.get_temp::<BTreeSet<String>>(id)).unwrap_or_default();
    let is_worse = !now.is_subset(&before);
    ui.data_mut(|data| data.insert_temp(id, now));
    is_worse
}

/// How many findings of each severity there are; `None` where there are none.
pub(crate) fn counts(scene: &Scene<'_>) -> Option<String> {
    Some(summary(&scene.session.derived().findings)).filter(|counts| !counts.is_empty())
}

/// What the list is, how much of what is in it, and what is done with all of it. Words give way where there is no room.
fn head(ui: &mut Ui, scene: &mut Scene<'_>, silenced: bool) {
    let findings = &scene.session.derived().findings;
    ui.label(heading("Findings")).explained("Findings");
    if commands::is_possible(scene, Command::MendAll) {
        commands::button(ui, scene, Command::MendAll);
    }
    silence::switch(ui, scene, silenced);
    let is_sound = scene.session.derived().worst() == Some(Severity::Note);
    let closes = is_sound && !scene.session.document().steps.is_empty();
    let words = [summary(findings), if closes { "the folio closes as drawn".to_owned() } else { String::new() }];
    for words in words.iter().filter(|words| !words.is_empty()) {
        ui.add(Label::new(caption(words)).truncate());
    }
}

/// Between the border of a row and its words, px.
const INDENT: f32 = 24.0;

/// A finding: what is wrong, then the buttons that mend it, which are not to be scrolled for, then how to mend it by hand.
fn row(ui: &mut Ui, scene: &mut Scene<'_>, index: usize, finding: &Finding) {
    let chosen = scene.spot == Some(&finding.spot);
    let ground = ui.painter().add(egui::Shape::Noop);
    let top = ui.cursor().min;
    let response = said(ui, index, finding);
    if response.has_focus() || response.hovered() {
        let ring = egui::Stroke::new(1.0, colour(palette().line));
        ui.painter().rect_stroke(response.rect, 3.0, ring, egui::StrokeKind::Inside);
    }
    let response = response.tip_above("Show on the sheet and on the folio what this is about.");
    let menu = menu::asked(scene, &response);
    if response.clicked() || menu.is_some() {
        let selected = place(finding, &scene.session.derived().layout);
        scene.ask(Action::Select(selected));
        scene.ask(Action::ShowSpot(finding.spot.clone()));
    }
    if let Some(at) = menu {
        scene.ask(Action::ShowMenu(at, Of::Finding(finding.spot.clone())));
    }
    if chosen || !finding.fixes.is_empty() {
        ui.push_id(("fixes", index), |ui| fixes(ui, scene, finding, chosen));
    }
    let by_hand = ui.horizontal_top(|ui| {
        ui.add_space(INDENT + ui.spacing().item_spacing.x);
        ui.add(Label::new(caption(&finding.mend)).wrap());
    });
    ui.add_space(4.0);
    if chosen {
        let right = response.rect.right();
        let rect = egui::Rect::from_min_max(top, egui::Pos2::new(right, by_hand.response.rect.bottom() + 3.0));
        ui.painter().set(ground, egui::Shape::rect_filled(rect, 3.0, colour(palette().active)));
    }
}

/// The sentence of a finding behind its sign, which can be clicked.
fn said(ui: &mut Ui, index: usize, finding: &Finding) -> egui::Response {
    let (icon, ink) = look(finding.severity);
    let frame = egui::Frame::new().inner_margin(egui::Margin::symmetric(6, 2));
    let shown = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_top(|ui| {
            sign(ui, icon, ink);
            ui.add(Label::new(RichText::new(&finding.sentence).font(plain(BODY))).wrap());
        });
    });
    let response = ui.interact(shown.response.rect, ui.scope_id().with(("finding", index)), Sense::click());
    let label = format!("{}: {}", capitalised(finding.severity.word()), finding.sentence);
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, &label));
    response
}

/// Ways to mend a finding in one go: the best as a button, others in a menu; and silencing the chosen one.
fn fixes(ui: &mut Ui, scene: &mut Scene<'_>, finding: &Finding, chosen: bool) {
    ui.horizontal_wrapped(|ui| {
        // Below the sentences: the frame's margin, the sign, and the gap after that.
        ui.add_space(INDENT + ui.spacing().item_spacing.x);
        let (best, others) = finding.fixes.split_first().unzip();
        if let Some(best) = best {
            fix(ui, scene, best);
        }
        let others = others.unwrap_or_default();
        if !others.is_empty() {
            let menu = ui.menu_button("Other ways", |ui| {
                for other in others {
                    if fix(ui, scene, other) {
                        ui.close();
                    }
                }
            });
            menu.response.tip("See the other ways to mend this in one go.");
        }
        if chosen {
            silence::button(ui, scene, finding);
        }
    });
}

/// Whether she asks for it.
fn fix(ui: &mut Ui, scene: &mut Scene<'_>, fix: &Fix) -> bool {
    let tip = "Mend it so, as one step that can be taken back.";
    let asked = ui.button(&fix.label).tip(tip).clicked();
    if asked {
        scene.edit(fix.label.as_str(), fix.edit.clone());
    }
    asked
}

/// What a finding selects: the line it speaks of, or else the panel or the part that it is of.
fn place(finding: &Finding, layout: &model::Layout) -> Selected {
    let line = finding.spot.lines.first().map(|&id| {
        let middle = layout.lines.get(&id).and_then(|placed| placed.ok()).map(|placed| super::sheet::middle(&placed));
        Selected::Line { id, at: finding.spot.at.or(middle) }
    });
    let panel = || {
        let id = *finding.spot.panels.first()?;
        match layout.part_of(id) {
            Some(part) => Some(Selected::Part(part.id)),
            None => layout.panels.get(id.0).and_then(|panel| panel.inside).map(Selected::Panel),
        }
    };
    line.or_else(panel).unwrap_or_default()
}

fn sign(ui: &mut Ui, icon: Icon, ink: Colour) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(18.0, 18.0), Sense::hover());
    icon.paint(ui.painter(), rect.shrink(2.0), colour(ink));
}

fn look(severity: Severity) -> (Icon, Colour) {
    match severity {
        Severity::Note => (Icon::Note, palette().note),
        Severity::Warning => (Icon::Warning, palette().warning),
        Severity::Error => (Icon::Error, palette().error),
    }
}

/// "2 errors, 1 note"; nothing when there is nothing to say.
fn summary(findings: &[Finding]) -> String {
    let counted = |severity: Severity| {
        let count = findings.iter().filter(|finding| finding.severity == severity).count();
        let plural = if count == 1 { "" } else { "s" };
        (count > 0).then(|| format!("{count} {}{plural}", severity.word()))
    };
    let parts: Vec<String> =
        [Severity::Error, Severity::Warning, Severity::Note].into_iter().filter_map(counted).collect();
    parts.join(", ")
}

fn capitalised(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use check::Spot;

    #[test]
    fn findings_are_counted_by_severity() {
        let finding = |severity| Finding {
            rule: "test",
            severity,
            sentence: String::new(),
            mend: String::new(),
            spot: Spot::default(),
            fixes: Vec::new(),
        };
        let all: Vec<Finding> = [Severity::Note, Severity::Error, Severity::Error].into_iter().map(finding).collect();
        assert_eq!((summary(&all), summary(&[])), ("2 errors, 1 note".to_owned(), String::new()));
        assert_eq!(capitalised("error"), "Error");
    }
}
