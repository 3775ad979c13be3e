//! What leaves the program: each kind of export with all that can be chosen of it, from a design to the bytes of its files.
//!
//! Both faces ask here, so that the window offers what the command line does. A kind first gives what is drawn, which the
//! window shows before it is printed, then files. No geometry, no rules, no words of a command line; writing files and
//! reading pictures that are printed on the paper is somebody else's work.

mod cutting;
mod moving;
mod page;
mod picture;
mod refusal;

pub use booklet::Paper as BookletPaper;
pub use moving::{AnimationChoice, MovingKind};
pub use page::{BookletChoice, InsertsChoice, TemplateChoice, UnitsChoice};
pub use picture::{ContactChoice, PictureChoice, PictureKind, Shown};
pub use refusal::{ExportRefusal, one_of};

use draw::artwork::{Printed, Prints};
use draw::cutting::CuttingOptions;
use draw::list::Drawing;
use draw::supply::Furnishing;
use model::Document;
use session::Derived;
use std::ffi::OsStr;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

/// A design and what is needed of it.
#[derive(Debug, Clone, Copy)]
pub struct Design<'a> {
    /// The design.
    pub document: &'a Document,
    /// What follows from it.
    pub derived: &'a Derived,
    /// What is printed on its papers, with as many pixels as [`Export::per_mm`] asks for.
    pub prints: &'a Prints,
}

/// What is exported, and how.
#[derive(Debug, Clone, PartialEq)]
pub enum Export {
    /// A PDF at true size to print, score and cut.
    Template(TemplateChoice),
    /// A PDF that tells step by step how to make the folio.
    Booklet(BookletChoice),
    /// An SVG or DXF in millimetres for a cutting machine.
    Cutting(CuttingOptions),
    /// A PDF of cards, tags and mats at size.
    Inserts(InsertsChoice),
    /// A PNG or SVG of the flat sheet, or of the folio at any step of its closing.
    Picture(PictureChoice),
    /// A PNG or SVG of the flat sheet and the folio after each step.
    Contact(ContactChoice),
    /// The folio closing and opening, as a GIF or an animated PNG.
    Animation(AnimationChoice),
}

/// A file to write.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExportedFile {
    /// What comes after the chosen name and before its ending: nothing for the first.
    pub tail: String,
    /// What is in it.
    pub bytes: Vec<u8>,
    /// What it holds, such as "4 pages".
    pub told: String,
}

impl ExportedFile {
    /// Where it is written, when this path was chosen.
    #[must_use]
    pub fn path(&self, chosen: &Path) -> PathBuf {
        if self.tail.is_empty() {
            return chosen.to_owned();
        }
        let part = |part: Option<&OsStr>| part.unwrap_or_default().to_string_lossy().into_owned();
        let (stem, ending) = (part(chosen.file_stem()), part(chosen.extension()));
        chosen.with_file_name(format!("{stem}{}.{ending}", self.tail))
    }
}

/// Files to write, and what a maker wants to know of them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Exported {
    /// At least one.
    pub files: Vec<ExportedFile>,
    /// Sentences.
    pub notes: Vec<String>,
}

/// Is told how much of how much is done, and says whether to go on.
pub type Progress<'a> = &'a mut dyn FnMut(usize, usize) -> ControlFlow<()>;

/// Pixels a millimetre of paper that are kept of pictures where a drawing has no pixels of its own: 300 an inch, which
/// printers ask for (common practice, no source).
const PRINTED_FINELY: f64 = 300.0 / 25.4;

impl Export {
    /// The endings that a name may have, the usual one first; in small letters.
    #[must_use]
    pub const fn endings(&self) -> &'static [&'static str] {
        match self {
            Self::Template(_) | Self::Booklet(_) | Self::Inserts(_) => &["pdf"],
            Self::Cutting(_) => &["svg", "dxf"],
            Self::Picture(_) | Self::Contact(_) => &["png", "svg"],
            Self::Animation(_) => &["gif", "apng", "png"],
        }
    }

    /// What it is called: "a template", "a picture".
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Template(_) => "a template",
            Self::Booklet(_) => "a booklet",
            Self::Cutting(_) => "a cutting file",
            Self::Inserts(_) => "a PDF of inserts",
            Self::Picture(_) => "a picture",
            Self::Contact(_) => "a contact sheet",
            Self::Animation(_) => "an animation",
        }
    }

    /// How many pixels a millimetre of paper are worth keeping of what is printed on it, for a file of this ending; `None`
    /// where nothing of that is drawn.
    #[must_use]
    pub fn per_mm(&self, document: &Document, derived: &Derived, ending: &str) -> Option<f64> {
        match self {
            Self::Template(choice) => choice.artwork.then_some(PRINTED_FINELY),
            Self::Booklet(_) => Some(booklet::per_mm(document)),
            Self::Cutting(_) | Self::Inserts(_) => None,
            Self::Picture(choice) => Some(choice.per_mm(derived, PictureKind::of(ending))),
            Self::Contact(choice) => Some(choice.per_mm(derived, PictureKind::of(ending))),
            Self::Animation(choice) => Some(choice.per_mm(document, derived)),
        }
    }

    /// What is drawn, page by page, to be looked at before it is written: of an animation each picture in turn is a page.
    /// `None` for what is no drawing, such as a cutting file.
    ///
    /// # Errors
    /// Why there is no such export of this design.
    pub fn pages(&self, design: &Design<'_>) -> Result<Option<Vec<Drawing>>, ExportRefusal> {
        Ok(match self {
            Self::Template(choice) => Some(choice.pages(design)?.pages),
            Self::Booklet(choice) => Some(choice.pages(design)?.pages),
            Self::Inserts(choice) => Some(choice.pages(design)?.pages),
            Self::Picture(choice) => Some(vec![choice.drawing(design)?]),
            Self::Contact(choice) => Some(vec![choice.drawing(design)?]),
            Self::Cutting(_) | Self::Animation(_) => None,
        })
    }

    /// The files, for a name that ends so. Only an animation tells how far it is.
    ///
    /// # Errors
    /// Why there is no such export of this design.
    pub fn files(&self, design: &Design<'_>, ending: &str, progress: Progress<'_>) -> Result<Exported, ExportRefusal> {
        let ending = ending.to_ascii_lowercase();
        if !self.endings().contains(&ending.as_str()) {
            return Err(ExportRefusal::Ending { name: self.name(), endings: self.endings() });
        }
        let one = |bytes: Vec<u8>, told: String| Exported {
            files: vec![ExportedFile { tail: String::new(), bytes, told }],
            notes: Vec::new(),
        };
        Ok(match self {
            Self::Template(choice) => page::file(&choice.pages(design)?)?,
            Self::Booklet(choice) => page::file(&choice.pages(design)?)?,
            Self::Inserts(choice) => page::file(&choice.pages(design)?)?,
            Self::Cutting(options) => cutting::files(options, design, &ending)?,
            Self::Picture(choice) => one(
                PictureKind::of(&ending).bytes(&choice.drawing(design)?, choice.width, choice.ground())?,
                String::new(),
            ),
            Self::Contact(choice) => {
                let (drawing, ground) = (choice.drawing(design)?, output::Ground::White);
                one(PictureKind::of(&ending).bytes(&drawing, choice.width, ground)?, String::new())
            }
            Self::Animation(choice) => {
                let (bytes, count) = choice.bytes(design, MovingKind::of(&ending), progress)?;
                one(bytes, format!("{count} pictures"))
            }
        })
    }
}

impl<'a> Design<'a> {
    /// Its parts, where it has any.
    fn furnishing(&self) -> Option<Furnishing<'a>> {
        let folded = self.derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding));
        self.derived.supply.as_ref().map(|supply| Furnishing { supply, folded })
    }

    /// What is printed on its papers, as it lies on the folio and its parts.
    fn printed(&self) -> Printed<'a> {
        Printed { prints: self.prints, supply: self.derived.supply.as_ref() }
    }

    /// The folio and how it folds.
    fn folded(&self) -> Result<(&'a fold::Assembly, &'a fold::Folding), ExportRefusal> {
        folded(self.derived)
    }
}

fn folded(derived: &Derived) -> Result<(&fold::Assembly, &fold::Folding), ExportRefusal> {
    derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding)).ok_or(ExportRefusal::NoBase)
}

#[cfg(test)]
mod tests;
