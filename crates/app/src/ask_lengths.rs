//! The question for the named lengths of a design, as when a starter is opened: each with what it is, all set in one step.
//! She may leave them as they are.

use crate::field::sentence;
use crate::pane::{Scene, try_edit};
use crate::theme::{bold, caption, complaint, dialog_frame};
use egui::{Context, Id, Key, Modal, RichText, ScrollArea, TextEdit, Ui};
use model::Document;
use model::named::change::set_values;

/// Width of the question, px.
const WIDTH: f32 = 420.0;

/// Height of the list of lengths, px, before it is scrolled.
const LIST: f32 = 360.0;

/// The question while it is open: what is typed for each length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct AskLengths {
    title: String,
    fields: Vec<Asked>,
    why_not: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Asked {
    name: String,
    about: String,
    shown: String,
    text: String,
}

impl AskLengths {
    /// The question for a design that was opened; `None` where it names no length that is not worked out from others.
    pub(crate) fn of(document: &Document) -> Option<Self> {
        let asked = document.lengths.list.iter().filter(|named| named.formula.is_none());
        let field = |named: &model::NamedLength| {
            let shown = named.value.text(document.units);
            Asked { name: named.name.clone(), about: named.about.clone(), text: shown.clone(), shown }
        };
        let fields: Vec<Asked> = asked.map(field).collect();
        (!fields.is_empty()).then(|| Self { title: document.title.clone(), fields, why_not: None })
    }

    /// Shows the question; says whether it is answered. What follows from the answer is asked of the scene.
    pub(crate) fn ui(&mut self, ctx: &Context, scene: &mut Scene<'_>) -> bool {
        let modal = Modal::new(Id::unique("named lengths")).frame(dialog_frame()).show(ctx, |ui| {
            ui.set_width(WIDTH);
            self.question(ui, scene)
        });
        modal.inner || ctx.input(|input| input.key_pressed(Key::Escape))
    }

    fn question(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) -> bool {
        ui.label(RichText::new(format!("Lengths of \"{}\"", self.title)).font(bold(16.0)));
        ui.add(egui::Label::new("Everything that uses them follows, and one undo takes it all back.").wrap());
        let mut entered = false;
        ScrollArea::vertical().max_height(LIST).show(ui, |ui| {
            for (at, asked) in self.fields.iter_mut().enumerate() {
                ui.add_space(4.0);
                let label = ui.label(RichText::new(&asked.name).font(bold(13.0)));
                if !asked.about.is_empty() {
                    ui.add(egui::Label::new(caption(&asked.about)).wrap());
                }
                let edit = TextEdit::singleline(&mut asked.text).id(Id::unique(("asked length", at)));
                let name = format!("How long {} is", asked.name);
                let response = ui.add(edit.desired_width(160.0)).labelled_by(label.id).accessible_name(name);
                entered |= response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
                if response.changed() {
                    self.why_not = None;
                }
            }
        });
        if let Some(why) = &self.why_not {
            ui.add(egui::Label::new(complaint(why)).wrap());
        }
        let mut left = false;
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            entered |= ui.button("Use these lengths").clicked();
            left = ui.button("Leave them as they are").clicked();
        });
        left || entered && self.answered(scene)
    }

    /// Asks for the change; says whether there is nothing in the way.
    fn answered(&mut self, scene: &mut Scene<'_>) -> bool {
        let document = scene.session.document();
        let changed = self.fields.iter().filter(|asked| asked.text.trim() != asked.shown);
        let values: Vec<(&str, &str)> = changed.map(|asked| (asked.name.as_str(), asked.text.trim())).collect();
        if values.is_empty() {
            return true;
        }
        let edit =
            set_values(document, &values, Some(document.units)).map_err(|refusal| sentence(&refusal.to_string()));
        let done = edit.and_then(|edit| try_edit(scene, "Set named lengths".to_owned(), edit));
        self.why_not = done.err();
        self.why_not.is_none()
    }
}
