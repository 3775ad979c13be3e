//! Any design in every kind of export: files or a reason, the same each time.

use crate::bytes::Bytes;
use crate::design::design;
use draw::animation::Pace;
use draw::artwork::Prints;
use draw::cutting::{CuttingLayout, CuttingOptions};
use draw::folded::View;
use draw::template::Sides;
use export::{
    AnimationChoice, BookletChoice, ContactChoice, Design, Export, InsertsChoice, PictureChoice, Shown, TemplateChoice,
};
use model::{Document, Turn};
use session::Derived;
use std::ops::ControlFlow;

pub(crate) fn template(data: &[u8]) {
    run(data, |bytes, document| {
        let usual = TemplateChoice::usual(document);
        Export::Template(TemplateChoice { sides: bytes.pick(&[Sides::Front, Sides::Both]), ..usual })
    });
}

pub(crate) fn booklet(data: &[u8]) {
    run(data, |_bytes, document| Export::Booklet(BookletChoice::usual(document)));
}

pub(crate) fn cutting(data: &[u8]) {
    run(data, |bytes, _document| {
        let layout = bytes.pick(&[CuttingLayout::Sheet, CuttingLayout::Pieces]);
        let (turn_over, outline, marks) = (bytes.flag(), bytes.flag(), bytes.flag());
        Export::Cutting(CuttingOptions { layout, turn_over, outline, marks, ..CuttingOptions::default() })
    });
}

pub(crate) fn inserts(data: &[u8]) {
    run(data, |_bytes, document| Export::Inserts(InsertsChoice::usual(document)));
}

pub(crate) fn picture(data: &[u8]) {
    run(data, |bytes, _document| {
        let turn = Turn::from_count(bytes.byte() % 4).unwrap_or_default();
        let shown =
            if bytes.flag() { Shown::Sheet(turn) } else { Shown::Folio(f64::from(bytes.byte()) / 32.0, view(bytes)) };
        Export::Picture(PictureChoice { shown, width: 64, is_clear: bytes.flag() })
    });
}

pub(crate) fn contact(data: &[u8]) {
    run(data, |bytes, _document| Export::Contact(ContactChoice { view: view(bytes), width: 64 }));
}

pub(crate) fn animation(data: &[u8]) {
    run(data, |bytes, _document| {
        let pace = Pace { per_step: 1 + u32::from(bytes.byte() % 3), hold: 20 };
        Export::Animation(AnimationChoice { view: view(bytes), width: 48, pace })
    });
}

fn view(bytes: &mut Bytes<'_>) -> View {
    View { yaw: f64::from(bytes.byte()) * 1.5, pitch: f64::from(bytes.byte()) * 0.7 - 90.0 }
}

fn run(data: &[u8], choose: impl Fn(&mut Bytes<'_>, &Document) -> Export) {
    let mut bytes = Bytes(data);
    let document = design(&mut bytes, 8);
    let derived = Derived::of(&document);
    let export = choose(&mut bytes, &document);
    let prints = Prints::default();
    let design = Design { document: &document, derived: &derived, prints: &prints };
    let ending = bytes.pick(export.endings());
    let mut go_on = |_done: usize, _all: usize| ControlFlow::Continue(());
    match export.files(&design, ending, &mut go_on) {
        Ok(made) => assert!(!made.files.is_empty() && made.files.iter().all(|file| !file.bytes.is_empty())),
        Err(why) => assert!(!why.to_string().is_empty()),
    }
}
