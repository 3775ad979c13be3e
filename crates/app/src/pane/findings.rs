//! What the checker has to say; a click shows where, and a button mends what can be mended in one go.

mod silence;

use crate::icon::Icon;
use crate::pane::{Action, Scene};
use crate::theme::{BODY, caption, colour, heading, palette, plain};
use crate::tip::Tip as _;
use check::{Finding, Fix, Severity};
use draw::style::Colour;
use egui::{Label, RichText, ScrollArea, Sense, Ui, Vec2, WidgetInfo, accesskit};
use model::Layout;
use session::Selected;

/// Shows the list; says whether it is to be closed.
pub(crate) fn ui(ui: &mut Ui, scene: &mut Scene<'_>) -> bool {
    let mut closes = false;
    let findings = &scene.session.derived().findings;
    ui.horizontal(|ui| {
        ui.label(heading("Findings")).explained("Findings");
        ui.label(caption(&summary(findings)));
        let is_sound = scene.session.derived().worst() == Some(Severity::Note);
        if is_sound && !scene.session.document().steps.is_empty() {
            ui.label(caption("the folio closes as drawn"));
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            closes = Icon::Close.small(ui, "Close the findings").clicked();
        });
    });
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
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
        for (index, finding) in findings.iter().enumerate() {
            row(ui, scene, index, finding);
        }
        silence::list(ui, scene);
    });
    closes
}

fn row(ui: &mut Ui, scene: &mut Scene<'_>, index: usize, finding: &Finding) {
    let (icon, ink) = look(finding.severity);
    let chosen = scene.spot == Some(&finding.spot);
    let fill = if chosen { colour(palette().active) } else { egui::Color32::TRANSPARENT };
    let frame = egui::Frame::new().fill(fill).corner_radius(3).inner_margin(egui::Margin::symmetric(6, 3));
    let shown = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_top(|ui| {
            sign(ui, icon, ink);
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.add(Label::new(RichText::new(&finding.sentence).font(plain(BODY))).wrap());
                ui.add(Label::new(caption(&finding.mend)).wrap());
            });
        });
    });
    let rect = shown.response.rect;
    let response = ui.interact(rect, ui.scope_id().with(("finding", index)), Sense::click());
    let label = format!("{}: {}", capitalised(finding.severity.word()), finding.sentence);
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, &label));
    if response.has_focus() || response.hovered() {
        let ring = egui::Stroke::new(1.0, colour(palette().line));
        ui.painter().rect_stroke(rect, 3.0, ring, egui::StrokeKind::Inside);
    }
    let response = response.tip("Show on the sheet and on the folio what this is about.");
    if response.clicked() {
        let selected = place(finding, &scene.session.derived().layout);
        scene.ask(Action::Select(selected));
        scene.ask(Action::ShowSpot(finding.spot.clone()));
    }
    // After what is clicked to show the place, which would lie over them otherwise.
    ui.push_id(("fixes", index), |ui| fixes(ui, scene, finding, chosen));
}

/// Ways to mend a finding in one go: the best as a button, others in a menu; and silencing the chosen one.
fn fixes(ui: &mut Ui, scene: &mut Scene<'_>, finding: &Finding, chosen: bool) {
    if finding.fixes.is_empty() && !chosen {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        // Below the sentences: the frame's margin, the sign, and the gap after that.
        ui.add_space(24.0 + ui.spacing().item_spacing.x);
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
fn place(finding: &Finding, layout: &Layout) -> Selected {
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
