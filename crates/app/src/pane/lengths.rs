//! The list of named lengths: what each is called, how long it is, what it is, and where it is used.

use crate::field::{Drafts, Field, sentence};
use crate::icon::Icon;
use crate::pane::{Action, Scene, try_edit};
use crate::theme::{caption, complaint};
use crate::tip::Tip as _;
use egui::{Id, ScrollArea, Ui};
use model::named::change::{add, remove, remove_for_its_value, rename, set_about, set_value};
use model::{Edit, Length, NamedLength, Refusal, Unit};

/// Width of the field for a name, px.
const NAME: f32 = 128.0;

/// Width of the field for a value, px.
const VALUE: f32 = 118.0;

/// What the pane remembers between frames.
#[derive(Debug, Default)]
pub(crate) struct LengthsPane {
    drafts: Drafts,
    /// A name that is used and was to be removed, with the sentence that says where.
    kept: Option<(String, String)>,
}

impl LengthsPane {
    /// Forgets what was typed: another design is open.
    pub(crate) fn clear(&mut self) {
        *self = Self::default();
    }

    /// Shows the pane.
    pub(crate) fn ui(&mut self, ui: &mut Ui, scene: &mut Scene<'_>) {
        ui.horizontal_wrapped(|ui| {
            if ui.button("Name a length").tip("Add a length with a name, to be used in others.").clicked() {
                new(scene);
            }
            let is_any = !scene.session.document().lengths.is_empty();
            let ask = ui.add_enabled(is_any, egui::Button::new("Set them all…"));
            if ask.tip("Give every named length its value in one step.").clicked() {
                scene.ask(Action::AskLengths);
            }
        });
        ui.add_space(2.0);
        ScrollArea::vertical().auto_shrink(false).min_scrolled_height(0.0).show(ui, |ui| {
            let list = &scene.session.document().lengths.list;
            if list.is_empty() {
                let how = "No length has a name yet. Name those that you use again, and type the name wherever a length \
                           belongs: card width + 1/4 in.";
                ui.add(egui::Label::new(caption(how)).wrap());
            }
            for (at, named) in list.iter().enumerate() {
                self.row(ui, scene, at, named);
            }
        });
    }

    fn row(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, at: usize, named: &NamedLength) {
        let (document, units) = (scene.session.document(), scene.session.document().units);
        let [name_id, value_id, about_id] = ["name", "value", "about"].map(|of| Id::unique(("named length", of, at)));
        ui.add_space(4.0);
        ui.horizontal(|ui| {
            let called = format!("Name of length {}", at + 1);
            let field = Field { id: name_id, name: &called, shown: &named.name, hint: "", width: NAME };
            self.drafts.field(ui, field, |text| {
                put(scene, format!("Rename {}", named.name), rename(document, &named.name, text))
            });
            let shown = named.typed().text(units);
            let called = format!("Value of {}", named.name);
            let field = Field { id: value_id, name: &called, shown: &shown, hint: "", width: VALUE };
            let response = self.drafts.field(ui, field, |text| {
                put(scene, format!("Change {}", named.name), set_value(document, &named.name, text, Some(units)))
            });
            if let Some(formula) = &named.formula {
                response.told(&format!("{formula} = {}", named.value.text(units)));
            }
            if Icon::Close.small(ui, &format!("Remove {}", named.name)).clicked() {
                self.remove(scene, &named.name);
            }
        });
        self.drafts.say_why(ui, name_id);
        self.drafts.say_why(ui, value_id);
        let called = format!("What {} is", named.name);
        let hint = "What it is, in a sentence";
        let field = Field { id: about_id, name: &called, shown: &named.about, hint, width: ui.available_width() };
        self.drafts.field(ui, field, |text| {
            put(scene, format!("Say what {} is", named.name), set_about(document, &named.name, text))
        });
        let uses = document.uses_of(&named.name);
        let used = match uses.len() {
            0 => "Not used yet.".to_owned(),
            1 => "Used once.".to_owned(),
            count => format!("Used {count} times."),
        };
        let label = ui.label(caption(&used));
        if !uses.is_empty() {
            label.told(&uses.join("\n"));
        }
        self.offer(ui, scene, &named.name);
    }

    /// Says where a name is used that was to be removed, and offers to keep its value there.
    fn offer(&mut self, ui: &mut Ui, scene: &mut Scene<'_>, name: &str) {
        let Some((_, why)) = self.kept.as_ref().filter(|(kept, _)| kept == name) else { return };
        ui.add(egui::Label::new(complaint(why)).wrap());
        let (mut done, document) = (false, scene.session.document());
        ui.horizontal(|ui| {
            if ui.button("Put its value there").tip("Remove the name and leave every length as it is.").clicked() {
                let edit = remove_for_its_value(document, name);
                if let Err(why) = put(scene, format!("Remove {name}"), edit) {
                    scene.ask(Action::Complain(why));
                }
                done = true;
            }
            done |= ui.button("Keep it").clicked();
        });
        if done {
            self.kept = None;
        }
    }

    fn remove(&mut self, scene: &mut Scene<'_>, name: &str) {
        let edit = remove(scene.session.document(), name);
        self.kept = put(scene, format!("Remove {name}"), edit).err().map(|why| (name.to_owned(), why));
    }
}

/// Names a new length, to be called otherwise.
fn new(scene: &mut Scene<'_>) {
    let document = scene.session.document();
    let value = match document.units {
        Unit::Inch => Length::INCH,
        Unit::Millimetre | Unit::Centimetre => Length::MILLIMETRE * 25,
    };
    let free = (1..).map(|number| format!("length {number}")).find(|name| document.lengths.find(name).is_none());
    let edit = add(document, &free.unwrap_or_default(), value.into(), "");
    if let Err(why) = put(scene, "Name a length".to_owned(), edit) {
        scene.ask(Action::Complain(why));
    }
}

/// Asks for a change of named lengths, and says why it can't be.
fn put(scene: &mut Scene<'_>, label: String, edit: Result<Edit, Refusal>) -> Result<(), String> {
    let edit = edit.map_err(|refusal| sentence(&refusal.to_string()))?;
    try_edit(scene, label, edit)
}
