//! What the window exports: the kinds with what was last chosen of each, what they will look like, and the work of writing.

mod remembered;
mod work;

pub(crate) use remembered::{recall, remember};
pub(crate) use work::{Ended, Work};

use crate::pane::Scene;
use ::export::{
    AnimationChoice, BookletChoice, ContactChoice, Design, Export, ExportRefusal, InsertsChoice, PictureChoice, Shown,
    TemplateChoice,
};
use draw::animation::Pace;
use draw::artwork::{FacePicture, Prints};
use draw::cutting::CuttingOptions;
use draw::folded::View;
use draw::list::Drawing;
use draw::template::TemplateRefusal;
use model::{Document, Turn};
use std::path::Path;

/// Pixels across a PNG, and across an animation, to begin with.
const PIXELS: (u32, u32) = (1600, 800);

/// The most pixels across a picture, and across an animation, as on the command line.
pub(crate) const MOST_PIXELS: (u32, u32) = (16_000, 8_000);

/// A kind of export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// The template to print and cut from.
    Template,
    /// The booklet to make it by.
    Booklet,
    /// Cards and mats.
    Inserts,
    /// For a cutting machine.
    Cutting,
    /// A picture.
    Picture,
    /// All steps in a picture.
    Contact,
    /// Closing and opening.
    Animation,
}

/// What a picture shows, as the window looks at it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Picture {
    /// The flat sheet.
    Sheet,
    /// The folded view as it is now.
    Folded,
}

/// How the window looks at the design, as far as a picture shows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Looks {
    /// How the sheet lies.
    pub(crate) turn: Turn,
    /// From where the folio is seen.
    pub(crate) view: View,
    /// How far it is closed.
    pub(crate) time: f64,
}

/// What was last chosen of each kind for the open design.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Choices {
    pub(crate) template: TemplateChoice,
    pub(crate) booklet: BookletChoice,
    pub(crate) inserts: InsertsChoice,
    pub(crate) cutting: CuttingOptions,
    pub(crate) picture: Picture,
    pub(crate) width: u32,
    pub(crate) is_clear: bool,
    pub(crate) contact_width: u32,
    pub(crate) moving_width: u32,
    pub(crate) pace: Pace,
}

/// What an export will look like, worked out once for each state of the design and each choice.
#[derive(Debug, Default)]
pub(crate) struct Preview {
    of: Option<(u64, u64, u64, Export)>,
    pages: Option<Result<Vec<Drawing>, String>>,
    /// The page that is shown, from 0.
    pub(crate) page: usize,
}

impl Kind {
    /// All of them, in the order of their list.
    pub(crate) const ALL: [Self; 7] =
        [Self::Template, Self::Booklet, Self::Inserts, Self::Cutting, Self::Picture, Self::Contact, Self::Animation];

    /// What it is called in the list.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Template => "Template",
            Self::Booklet => "Booklet",
            Self::Inserts => "Cards and mats",
            Self::Cutting => "Cutting file",
            Self::Picture => "Picture",
            Self::Contact => "Contact sheet",
            Self::Animation => "Animation",
        }
    }

    /// What it is for.
    pub(crate) const fn about(self) -> &'static str {
        match self {
            Self::Template => {
                "A PDF at true size. A sheet larger than the page goes over several pages, with marks to join them."
            }
            Self::Booklet => "A PDF that tells step by step how to make the folio.",
            Self::Inserts => "A PDF of cards, tags and mats at size, with marks to cut by.",
            Self::Cutting => {
                "An SVG or DXF in millimetres for a cutting machine, in the order of work. The name's end decides."
            }
            Self::Picture => {
                "An SVG keeps its lines crisp at any size; a PNG suits messages and web pages. The name's end decides."
            }
            Self::Contact => "The flat sheet and the folio after each step, in one picture: SVG or PNG.",
            Self::Animation => "The folio closing and opening: a GIF, or an animated PNG (APNG) with every colour.",
        }
    }

    /// What a file's name is suggested to end with, after the design's title: words, and the ending.
    pub(crate) const fn suggested(self) -> (&'static str, &'static str) {
        match self {
            Self::Template => (" template", "pdf"),
            Self::Booklet => (" booklet", "pdf"),
            Self::Inserts => (" cards and mats", "pdf"),
            Self::Cutting => (" cutting", "svg"),
            Self::Picture => ("", "svg"),
            Self::Contact => (" steps", "png"),
            Self::Animation => ("", "gif"),
        }
    }

    /// What the desktop's dialog calls such files, and their endings.
    pub(crate) const fn files(self) -> (&'static str, &'static [&'static str]) {
        match self {
            Self::Template | Self::Booklet | Self::Inserts => ("PDF", &["pdf"]),
            Self::Cutting => ("Cutting file", &["svg", "dxf"]),
            Self::Picture => ("Picture", &["svg", "png"]),
            Self::Contact => ("Picture", &["png", "svg"]),
            Self::Animation => ("Animation", &["gif", "apng", "png"]),
        }
    }
}

impl Choices {
    /// The usual ones for a design.
    pub(crate) fn usual(document: &Document) -> Self {
        Self {
            template: TemplateChoice::usual(document),
            booklet: BookletChoice::usual(document),
            inserts: InsertsChoice::usual(document),
            cutting: CuttingOptions::default(),
            picture: Picture::Sheet,
            width: PIXELS.0,
            is_clear: false,
            contact_width: PIXELS.0,
            moving_width: PIXELS.1,
            pace: Pace::default(),
        }
    }

    /// What is chosen of a kind, as the window looks at the design.
    pub(crate) const fn export(&self, kind: Kind, looks: Looks) -> Export {
        match kind {
            Kind::Template => Export::Template(self.template),
            Kind::Booklet => Export::Booklet(self.booklet),
            Kind::Inserts => Export::Inserts(self.inserts),
            Kind::Cutting => Export::Cutting(self.cutting),
            Kind::Picture => {
                let shown = match self.picture {
                    Picture::Sheet => Shown::Sheet(looks.turn),
                    Picture::Folded => Shown::Folio(looks.time, looks.view),
                };
                Export::Picture(PictureChoice { shown, width: self.width, is_clear: self.is_clear })
            }
            Kind::Contact => Export::Contact(ContactChoice { view: looks.view, width: self.contact_width }),
            Kind::Animation => {
                Export::Animation(AnimationChoice { view: looks.view, width: self.moving_width, pace: self.pace })
            }
        }
    }
}

impl Preview {
    /// The pages of an export; `None` where there is nothing to look at before it is written. What is printed on the paper is
    /// there as the window shows it, with less pixels than the file will have.
    pub(crate) fn pages(&mut self, scene: &Scene<'_>, export: &Export) -> Option<&Result<Vec<Drawing>, String>> {
        let session = scene.session;
        let of = (scene.design, session.revision(), scene.readings, export.clone());
        if self.of.as_ref() != Some(&of) {
            let subject = Design { document: session.document(), derived: session.derived(), prints: scene.prints };
            self.pages = export.pages(&subject).map_err(|why| refused(&why)).transpose();
            self.of = Some(of);
        }
        self.pages.as_ref()
    }
}

/// What is printed on the papers of a design, as an export shows it, and a sentence for each picture that can't be read.
pub(crate) fn prints(file: Option<&Path>, document: &Document, per_mm: Option<f64>) -> (Prints, Vec<String>) {
    let Some(per_mm) = per_mm else { return (Prints::default(), Vec::new()) };
    let (pictures, wrong) = pictures(file, document, per_mm);
    (Prints::new(document, pictures), wrong)
}

/// The pictures on the papers of a design, with so many pixels a millimetre, and a sentence for each that can't be read.
pub(crate) fn pictures(file: Option<&Path>, document: &Document, per_mm: f64) -> (Vec<FacePicture>, Vec<String>) {
    let (pictures, wrong) = match file {
        Some(file) => disk::artwork::pictures(file, document, per_mm),
        None => disk::artwork::unsaved(document, per_mm),
    };
    let mut said: Vec<String> = wrong.iter().map(ToString::to_string).collect();
    said.dedup();
    (pictures, said)
}

/// Why there is no export, with what the window itself offers instead.
pub(crate) fn refused(refusal: &ExportRefusal) -> String {
    match refusal {
        ExportRefusal::Template(TemplateRefusal::TooManyPages { pages, fits_one: true }) => {
            format!("The sheet would take {pages} pages of this paper; print it on one large page or on larger paper.")
        }
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use draw::template::Paper;
    use model::{Size, Unit};
    use session::Session;

    const LOOKS: Looks = Looks { turn: Turn::None, view: View::SLANTED, time: 0.0 };

    #[track_caller]
    fn check(size: &str, paper: Paper, expected: &str) {
        let session = Session::new(Document::new(Size::parse(size).unwrap(), Unit::Inch));
        let mut choices = Choices::usual(session.document());
        choices.template.paper = paper;
        let mut preview = Preview::default();
        let scene = Scene::new(&session, 0, Turn::None, None, None, None);
        let pages = preview.pages(&scene, &choices.export(Kind::Template, LOOKS)).unwrap();
        let said = pages.as_ref().unwrap_err();
        assert!(said.contains(expected) && !said.contains("--"), "{said}");
    }

    #[test]
    fn a_sheet_too_large_for_its_paper_is_offered_one_large_page() {
        check("190 x 190 in", Paper::Letter, "on one large page");
        check("300 x 300 in", Paper::Letter, "200 in");
        check("300 x 300 in", Paper::Sheet, "200 in");
    }

    #[test]
    fn each_kind_suggests_an_ending_that_it_writes() {
        let choices = Choices::usual(&file::starters::demo());
        for kind in Kind::ALL {
            let endings = choices.export(kind, LOOKS).endings();
            assert!(endings.contains(&kind.suggested().1), "{kind:?}");
            assert!(kind.files().1.iter().all(|ending| endings.contains(ending)), "{kind:?}");
            assert_eq!(kind.files().1.len(), endings.len(), "{kind:?}");
        }
    }
}
