//! Silencing a finding for its place, with a reason; and the list of what is silenced.

use crate::commands;
use crate::pane::{Action, Scene, try_edit};
use crate::theme::{BODY, caption, plain};
use crate::tip::Tip as _;
use check::{Finding, silence};
use egui::{Id, Label, Popup, PopupCloseBehavior, RichText, TextEdit, Ui};
use session::Command;

/// How wide the field for a reason is, in points.
const FIELD: f32 = 260.0;

/// The button that silences a finding, which asks for a reason.
pub(super) fn button(ui: &mut Ui, scene: &mut Scene<'_>, finding: &Finding) {
    let response = ui.button("Silence…").tip("Say no more of this here, for a reason that is kept in the design.");
    let id = response.id.with("reason");
    let popup = Popup::menu(&response).close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let mut is_done = false;
    popup.show(|ui| is_done = asked(ui, scene, finding, id, response.clicked()));
    if is_done {
        ui.data_mut(|data| data.remove::<String>(id));
        Popup::close_id(ui.ctx(), Popup::default_response_id(&response));
    }
}

/// Asks for the reason. Whether the finding is silenced now.
fn asked(ui: &mut Ui, scene: &mut Scene<'_>, finding: &Finding, id: Id, is_new: bool) -> bool {
    let mut reason: String = ui.data(|data| data.get_temp(id)).unwrap_or_default();
    let name = ui.label("Why it is as you want it");
    let field = ui.add(TextEdit::singleline(&mut reason).desired_width(FIELD).char_limit(file::MOST_TITLE));
    let field =
        field.labelled_by(name.id).tip("The reason stands beside the finding wherever silenced ones are listed.");
    if is_new {
        field.request_focus();
    }
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    let has_reason = !reason.trim().is_empty();
    let button = ui.add_enabled(has_reason, egui::Button::new("Silence it here"));
    let pressed = button.tip("Say no more of this here; the list under the findings takes it back.").clicked();
    let is_asked = has_reason && (pressed || entered);
    if is_asked {
        let derived = scene.session.derived();
        let all = derived.findings.iter().chain(derived.silenced.iter().map(|silenced| &silenced.finding));
        let edit = silence::silence(scene.session.document(), &derived.layout, finding, all, &reason);
        let done = edit.ok_or_else(|| "That finding has no place that can be named.".to_owned());
        let label = format!("Silence {}", finding.rule);
        if let Err(why) = done.and_then(|edit| try_edit(scene, label, edit)) {
            scene.ask(Action::Complain(why));
        }
    }
    ui.data_mut(|data| data.insert_temp(id, reason));
    is_asked
}

/// How many findings are silenced, as a button that shows them; nothing where none are.
pub(super) fn switch(ui: &mut Ui, scene: &mut Scene<'_>, shown: bool) {
    let count = scene.session.document().silences.len();
    if count == 0 {
        return;
    }
    let command = Command::ShowSilenced;
    let button = egui::Button::selectable(shown, format!("{count} silenced")).frame_when_inactive(true);
    if ui.add(button).tip(&commands::tip(scene.session, command)).clicked() {
        scene.ask(Action::Run(command));
    }
}

/// What is silenced, each with its reason.
pub(super) fn list(ui: &mut Ui, scene: &mut Scene<'_>) {
    for by in 0..scene.session.document().silences.len() {
        ui.push_id(("silenced", by), |ui| row(ui, scene, by));
    }
    ui.separator();
}

fn row(ui: &mut Ui, scene: &mut Scene<'_>, by: usize) {
    let (document, derived) = (scene.session.document(), scene.session.derived());
    let silence = &document.silences[by];
    let found: Vec<&Finding> =
        derived.silenced.iter().filter(|silenced| silenced.by == by).map(|silenced| &silenced.finding).collect();
    for finding in &found {
        ui.add(Label::new(RichText::new(format!("Silenced: {}", finding.sentence)).font(plain(BODY))).wrap());
    }
    if found.is_empty() {
        let words = format!("{} finds nothing there now.", silence.rule);
        ui.add(Label::new(RichText::new(words).font(plain(BODY))).wrap());
    }
    ui.add(Label::new(caption(&format!("Reason: {}", silence.reason))).wrap());
    if ui.button("Hear again").tip("Let the checker say this again.").clicked()
        && let Some(edit) = silence::hear_again(document, by)
    {
        scene.edit(format!("Hear {} again", silence.rule), edit);
    }
}
