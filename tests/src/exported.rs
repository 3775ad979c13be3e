//! Every kind of export of a design, as the reference of their bytes and the bench of their times ask for them.

use draw::animation::Pace;
use draw::artwork::Prints;
use draw::cutting::{CuttingLayout, CuttingOptions};
use draw::folded::View;
use draw::template::Sides;
use export::{
    AnimationChoice, BookletChoice, ContactChoice, Design, Export, ExportRefusal, Exported, InsertsChoice,
    PictureChoice, Shown, TemplateChoice, UnitsChoice,
};
use model::{Document, Turn};
use session::Derived;
use std::ops::ControlFlow;

/// An export with a name of its own and the ending of its file.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// What it is called here.
    pub name: &'static str,
    /// What is exported.
    pub export: Export,
    /// What the file's name ends in.
    pub ending: &'static str,
}

/// Every kind of export in every format, small where that makes no difference.
#[must_use]
pub fn all(document: &Document, steps: f64) -> Vec<Asked> {
    let template = TemplateChoice::usual(document);
    let booklet = BookletChoice::usual(document);
    let pieces =
        CuttingOptions { layout: CuttingLayout::Pieces, outline: true, marks: true, ..CuttingOptions::default() };
    let picture = |shown| Export::Picture(PictureChoice { shown, width: 400, is_clear: false });
    let (sheet, midst) = (Shown::Sheet(Turn::Once), Shown::Folio(steps / 2.0, View::SLANTED));
    let closed = Shown::Folio(steps, View::BACK);
    let contact = Export::Contact(ContactChoice { view: View::SLANTED, width: 600 });
    let pace = Pace { per_step: 2, hold: 50 };
    let animation = Export::Animation(AnimationChoice { view: View::SLANTED, width: 160, pace });
    let asked = |name, export: &Export, ending| Asked { name, export: export.clone(), ending };
    vec![
        asked("template", &Export::Template(template), "pdf"),
        asked(
            "template-printed",
            &Export::Template(TemplateChoice { sides: Sides::Both, artwork: true, ..template }),
            "pdf",
        ),
        asked("booklet", &Export::Booklet(booklet), "pdf"),
        asked("booklet-both-units", &Export::Booklet(BookletChoice { units: UnitsChoice::Both, ..booklet }), "pdf"),
        asked("cutting", &Export::Cutting(CuttingOptions::default()), "svg"),
        asked("cutting", &Export::Cutting(CuttingOptions::default()), "dxf"),
        asked("cutting-pieces", &Export::Cutting(pieces), "svg"),
        asked("cutting-pieces", &Export::Cutting(pieces), "dxf"),
        asked("inserts", &Export::Inserts(InsertsChoice::usual(document)), "pdf"),
        asked("sheet", &picture(sheet), "png"),
        asked("sheet", &picture(sheet), "svg"),
        asked("midst", &picture(midst), "png"),
        asked("midst", &picture(midst), "svg"),
        asked("closed", &picture(closed), "png"),
        asked("contact", &contact, "png"),
        asked("contact", &contact, "svg"),
        asked("animation", &animation, "gif"),
        asked("animation", &animation, "apng"),
    ]
}

/// Makes an export with what is printed on the design's papers, where that is a starter's.
///
/// # Errors
/// Why there is no such export.
pub fn made(document: &Document, derived: &Derived, asked: &Asked) -> Result<Exported, ExportRefusal> {
    let per_mm = asked.export.per_mm(document, derived, asked.ending);
    let pictures = per_mm.map(|per_mm| disk::artwork::unsaved(document, per_mm).0);
    let prints = Prints::new(document, pictures.into_iter().flatten());
    let design = Design { document, derived, prints: &prints };
    asked.export.files(&design, asked.ending, &mut |_done, _all| ControlFlow::Continue(()))
}

/// How many steps a design closes in.
#[must_use]
pub fn steps(derived: &Derived) -> f64 {
    let steps = derived.folded.as_ref().map_or(0, |(_, folding)| folding.steps());
    f64::from(u32::try_from(steps).unwrap_or(u32::MAX))
}
