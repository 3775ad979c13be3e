//! Rows of a form: captions, choices, fields for lengths, buttons of which one is on.

use crate::field::{Drafts, Field, Saying};
use crate::theme::{self, BODY, caption, plain};
use crate::tip::{Tip as _, meaning};
use egui::{ComboBox, Id, Ui};
use model::{Length, Unit};

/// What of the width of a field is not for its text, px.
const IN_FIELD: f32 = 14.0;

/// Width of the captions before the fields, px.
const CAPTION: f32 = 84.0;

/// A choice among few things, which are asked for only once it is open. Gives the one chosen, unless it is what there is
/// now.
pub(crate) fn choice<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    shown: &str,
    now: T,
    options: impl FnOnce() -> Vec<(T, String)>,
) -> Option<T> {
    let mut chosen = None;
    let opens = format!("{name}: opens a list to choose from.");
    let tip = meaning(shown).map_or_else(|| opens.clone(), |meaning| format!("{meaning}\n{opens}"));
    ComboBox::from_id_salt(name)
        .width(ui.available_width())
        .truncate()
        .selected_text(shown)
        .show_ui(ui, |ui| {
            for (option, text) in options() {
                if ui.selectable_label(now == option, text).clicked() && now != option {
                    chosen = Some(option);
                }
            }
        })
        .response
        .accessible_name(name)
        .tip(&tip);
    chosen
}

/// A field for a length. What `take` refuses is said by [`Drafts::say_why`]. A formula that is longer than the field is shown
/// while it is worked on; else what it comes to stands there, after the sign that says so.
pub(crate) fn length<'a>(
    ui: &mut Ui,
    drafts: &mut Drafts,
    (id, name, width): (Id, &str, f32),
    value: Length,
    said: impl Into<Saying<'a>>,
    take: impl FnOnce(Length) -> Result<(), String>,
) {
    let said = said.into();
    let whole = said.text(value);
    let in_full = || theme::shortened(ui.painter(), &whole, plain(BODY), width - IN_FIELD);
    let is_cut = said.hint(value).is_some() && in_full().elided;
    let is_worked_on = ui.memory(|memory| memory.has_focus(id));
    let shown = if is_cut && !is_worked_on { format!("= {}", value.text(said.units())) } else { whole };
    let field = Field { id, name, shown: &shown, hint: "", width };
    let tip = said
        .hint(value)
        .unwrap_or_else(|| format!("{name}: a length, such as {}; Enter takes it over.", example(said.units())));
    drafts.told(ui, field, &tip, |text| said.take(text, take));
}

/// A length that is reckoned out, as it may be typed in every field for one.
pub(crate) const fn example(units: Unit) -> &'static str {
    match units {
        Unit::Inch => "\"2 3/4\" or \"12 - 2 3/4\"",
        Unit::Millimetre => "\"70\" or \"300 / 2 - 5\"",
        Unit::Centimetre => "\"7\" or \"30 / 2 - 0.5\"",
    }
}

/// A row of fields after their caption.
pub(crate) fn row(ui: &mut Ui, text: &str, fields: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        let from = ui.cursor().left();
        ui.label(caption(text)).explained(text);
        ui.add_space((CAPTION - (ui.cursor().left() - from)).max(0.0));
        fields(ui);
    });
}

/// Buttons of which one is on; the other one that was pressed.
pub(crate) fn buttons<T: Copy + PartialEq>(ui: &mut Ui, options: &[(T, &str)], now: T) -> Option<T> {
    let mut chosen = None;
    for &(option, label) in options {
        let on = option == now;
        let button = ui.add(egui::Button::selectable(on, label).frame_when_inactive(true));
        let tip = meaning(label).unwrap_or_else(|| format!("Set it to this: {label}."));
        if button.tip(&tip).clicked() && !on {
            chosen = Some(option);
        }
    }
    chosen
}
