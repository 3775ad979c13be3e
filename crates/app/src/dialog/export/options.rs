//! What can be chosen of each kind of export.

use super::Exports;
use crate::export::{Kind, MOST_PIXELS, Picture};
use crate::field::Drafts;
use crate::form;
use crate::pane::Scene;
use crate::tip::Tip as _;
use ::export::UnitsChoice;
use draw::animation::{MOST_PER_STEP, Pace};
use draw::cutting::{CuttingLayout, CuttingOptions, Dashes, ScoreStyle};
use draw::inserts::Choice;
use draw::template::{Paper, Sides};
use egui::{DragValue, Id, Ui};
use model::{Length, Unit};

/// Papers in a printer, with their names.
const PAPERS: [(Paper, &str); 5] = [
    (Paper::Letter, "Letter, 8 1/2 x 11 in"),
    (Paper::A4, "A4, 210 x 297 mm"),
    (Paper::Tabloid, "Tabloid, 11 x 17 in"),
    (Paper::A3, "A3, 297 x 420 mm"),
    (Paper::Sheet, "One large page"),
];

pub(super) fn ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, kind: Kind, exports: &mut Exports<'_>) {
    ui.spacing_mut().item_spacing.y = 8.0;
    let units = scene.session.document().units;
    match kind {
        Kind::Template => template(ui, exports),
        Kind::Booklet => booklet(ui, exports),
        Kind::Inserts => inserts(ui, drafts, units, exports),
        Kind::Cutting => cutting(ui, drafts, units, exports),
        Kind::Picture => picture(ui, exports),
        Kind::Contact => {
            pixels(ui, &mut exports.choices.contact_width, MOST_PIXELS.0);
        }
        Kind::Animation => animation(ui, exports),
    }
}

/// A choice with its caption.
fn choose<T: Copy + PartialEq>(ui: &mut Ui, name: &str, now: &mut T, options: &[(T, &str)]) {
    let shown = options.iter().find(|(option, _)| option == now).map_or("", |(_, text)| *text);
    form::row(ui, name, |ui| {
        let all = || options.iter().map(|(option, text)| (*option, (*text).to_owned())).collect();
        if let Some(chosen) = form::choice(ui, name, shown, *now, all) {
            *now = chosen;
        }
    });
}

fn template(ui: &mut Ui, exports: &mut Exports<'_>) {
    let choice = &mut exports.choices.template;
    choose(ui, "Paper", &mut choice.paper, &PAPERS);
    let mut is_both = choice.sides == Sides::Both;
    ui.checkbox(&mut is_both, "Also the back, to print on both sides")
        .tip("Follow each page by its back, for printing flipped on the long edge.");
    choice.sides = if is_both { Sides::Both } else { Sides::Front };
    ui.checkbox(&mut choice.artwork, "With the pictures on the paper")
        .tip("Print what is on the sheet's faces under the lines.");
}

fn booklet(ui: &mut Ui, exports: &mut Exports<'_>) {
    let choice = &mut exports.choices.booklet;
    let papers =
        [(::export::BookletPaper::Letter, "Letter, 8 1/2 x 11 in"), (::export::BookletPaper::A4, "A4, 210 x 297 mm")];
    choose(ui, "Paper", &mut choice.paper, &papers);
    let units = [
        (UnitsChoice::Own, "The design's own unit"),
        (UnitsChoice::Inches, "Inches"),
        (UnitsChoice::Millimetres, "Millimetres"),
        (UnitsChoice::Both, "Both"),
    ];
    choose(ui, "Lengths in", &mut choice.units, &units);
}

fn inserts(ui: &mut Ui, drafts: &mut Drafts, units: Unit, exports: &mut Exports<'_>) {
    let choice = &mut exports.choices.inserts;
    let kinds = [(Choice::All, "Cards, tags and mats"), (Choice::Cards, "Cards and tags"), (Choice::Mats, "Mats")];
    choose(ui, "Print", &mut choice.which, &kinds);
    // One of the sheet's own size is no paper for cards.
    choose(ui, "Paper", &mut choice.paper, &PAPERS[..4]);
    measure(ui, drafts, units, "Round corners by", &mut choice.corner, Length::ZERO);
    measure(ui, drafts, units, "Margin of mats", &mut choice.margin, Length::ZERO);
}

fn cutting(ui: &mut Ui, drafts: &mut Drafts, units: Unit, exports: &mut Exports<'_>) {
    let choice: &mut CuttingOptions = &mut exports.choices.cutting;
    let layouts = [(CuttingLayout::Sheet, "As they lie on the sheet"), (CuttingLayout::Pieces, "Each by itself")];
    choose(ui, "Pieces", &mut choice.layout, &layouts);
    let mut scores = kind_of(choice.scores);
    choose(
        ui,
        "Scores",
        &mut scores,
        &[(0, "Pressed in one go"), (1, "Pressed in dashes"), (2, "Cut through in dashes")],
    );
    if scores != kind_of(choice.scores) {
        choice.scores = match scores {
            0 => ScoreStyle::Solid,
            1 => ScoreStyle::Dashed(Dashes::PRESSED),
            _ => ScoreStyle::Perforated(Dashes::CUT),
        };
    }
    if let ScoreStyle::Dashed(dashes) | ScoreStyle::Perforated(dashes) = &mut choice.scores {
        let (mut dash, mut gap) = (dashes.dash(), dashes.gap());
        measure(ui, drafts, units, "Length of a dash", &mut dash, Dashes::LEAST);
        measure(ui, drafts, units, "Between dashes", &mut gap, Dashes::LEAST);
        *dashes = Dashes::new(dash, gap).unwrap_or(*dashes);
    }
    if !matches!(choice.scores, ScoreStyle::Perforated(_)) {
        ui.checkbox(&mut choice.turn_over, "Scores pressed into the back in a file of their own")
            .tip("Write a second file for the sheet turned over, with the scores of its back.");
    } else {
        choice.turn_over = false;
    }
    ui.checkbox(&mut choice.outline, "Cut the edge of the sheet too")
        .tip("Cut round the whole sheet as well, for stock that is larger.");
    ui.checkbox(&mut choice.marks, "Names and guide lines, for a pen")
        .tip("Draw names and guide lines on a layer of their own.");
}

/// Which of the ways to score it is.
const fn kind_of(scores: ScoreStyle) -> u8 {
    match scores {
        ScoreStyle::Solid => 0,
        ScoreStyle::Dashed(_) => 1,
        ScoreStyle::Perforated(_) => 2,
    }
}

fn picture(ui: &mut Ui, exports: &mut Exports<'_>) {
    let choices = &mut *exports.choices;
    let kinds = [(Picture::Sheet, "The sheet"), (Picture::Folded, "The folio, as it is shown now")];
    choose(ui, "Picture of", &mut choices.picture, &kinds);
    pixels(ui, &mut choices.width, MOST_PIXELS.0);
    ui.checkbox(&mut choices.is_clear, "Clear where nothing is drawn (PNG)")
        .tip("Leave the ground of a PNG clear; else it is white.");
}

fn animation(ui: &mut Ui, exports: &mut Exports<'_>) {
    let choices = &mut *exports.choices;
    pixels(ui, &mut choices.moving_width, MOST_PIXELS.1);
    let Pace { per_step, hold } = &mut choices.pace;
    number(ui, "Pictures a step", DragValue::new(per_step).range(1..=MOST_PER_STEP));
    let mut seconds = f64::from(*hold) / 100.0;
    number(ui, "Seconds it lies", DragValue::new(&mut seconds).range(0.0..=60.0).speed(0.1).fixed_decimals(1));
    *hold = hundredths(seconds);
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 60 seconds")]
fn hundredths(seconds: f64) -> u32 {
    (seconds.clamp(0.0, 60.0) * 100.0).round() as u32
}

fn pixels(ui: &mut Ui, width: &mut u32, most: u32) {
    number(ui, "Pixels across", DragValue::new(width).range(1..=most).speed(10.0));
}

fn number(ui: &mut Ui, name: &str, value: DragValue<'_>) {
    form::row(ui, name, |ui| {
        ui.add(value).accessible_name(name).tip(&format!("{name}: drag it, or click it and type."));
    });
}

/// A field for a length of at least so much.
fn measure(ui: &mut Ui, drafts: &mut Drafts, units: Unit, name: &str, value: &mut Length, least: Length) {
    let id = Id::unique(("export", name));
    form::row(ui, name, |ui| {
        let now = *value;
        form::length(ui, drafts, (id, name, 90.0), now, units, |length| {
            if length < least {
                return Err(format!("Give {} or more.", least.text(units)));
            }
            *value = length;
            Ok(())
        });
    });
    drafts.say_why(ui, id);
}
