//! What the window exports: the printable template, and pictures of what it shows.

use draw::folded::{View, folded_picture, folded_scene};
use draw::list::Drawing;
use draw::sheet::{SheetLook, sheet_picture};
use draw::supply::Furnishing;
use draw::template::{Paper, TemplateOptions, TemplateRefusal, template};
use model::Turn;
use session::Session;
use std::ffi::OsStr;
use std::path::Path;

/// What a template is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sheets {
    /// US Letter.
    Letter,
    /// A4.
    A4,
    /// One page as large as the sheet.
    Whole,
}

/// What a picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Picture {
    /// The flat sheet.
    Sheet,
    /// The folded view as it is now.
    Folded,
}

/// How the window looks at the design, as far as a picture shows it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Looks {
    /// How the sheet lies.
    pub(crate) turn: Turn,
    /// From where the folio is seen.
    pub(crate) view: View,
    /// How far it is closed.
    pub(crate) time: f64,
}

/// Pixels across a PNG.
const PIXELS: u32 = 1600;

/// The longer side of a picture of the folded view, mm.
const PICTURE_SIDE: f64 = 160.0;

impl Sheets {
    /// What its button says.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Letter => "On Letter…",
            Self::A4 => "On A4…",
            Self::Whole => "On one large page…",
        }
    }

    const fn paper(self) -> Paper {
        match self {
            Self::Letter => Paper::Letter,
            Self::A4 => Paper::A4,
            Self::Whole => Paper::Sheet,
        }
    }
}

impl Picture {
    /// What its button says.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Sheet => "Of the sheet…",
            Self::Folded => "Of the folded view…",
        }
    }
}

/// Writes the template as a PDF.
///
/// # Errors
/// Says in a sentence why it could not be written.
pub(crate) fn save_template(session: &Session, sheets: Sheets, path: &Path) -> Result<(), String> {
    let options = TemplateOptions { paper: sheets.paper(), ..TemplateOptions::default() };
    let furnishing = furnishing(session);
    let pages = template(session.document(), &session.derived().layout, furnishing.as_ref(), &options);
    let pages = pages.map_err(|refusal| refused(&refusal))?;
    let bytes = output::pdf(&pages).map_err(|error| error.to_string())?;
    disk::save_bytes(path, &bytes).map_err(|error| error.to_string())
}

/// The parts of a design, where it has any.
fn furnishing(session: &Session) -> Option<Furnishing<'_>> {
    let derived = session.derived();
    let folded = derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding));
    derived.supply.as_ref().map(|supply| Furnishing { supply, folded })
}

/// Writes a picture, as SVG or PNG by the path's extension.
///
/// # Errors
/// Says in a sentence why it could not be written.
pub(crate) fn save_picture(session: &Session, picture: Picture, looks: Looks, path: &Path) -> Result<(), String> {
    let drawing = match picture {
        Picture::Sheet => {
            let look = SheetLook { turn: looks.turn, ..SheetLook::default() };
            sheet_picture(session.document(), &session.derived().layout, furnishing(session).as_ref(), &look)
        }
        Picture::Folded => folded(session, looks)?,
    };
    let extension = path.extension().and_then(OsStr::to_str).map(str::to_ascii_lowercase);
    let bytes = match extension.as_deref() {
        Some("svg") => output::svg(&drawing).map(String::into_bytes),
        Some("png") => output::png(&drawing, PIXELS),
        _ => return Err("A picture's name must end in .svg or .png.".to_owned()),
    };
    let bytes = bytes.map_err(|error| error.to_string())?;
    disk::save_bytes(path, &bytes).map_err(|error| error.to_string())
}

/// Why there is no template, with what the window itself offers instead.
fn refused(refusal: &TemplateRefusal) -> String {
    match refusal {
        TemplateRefusal::TooManyPages { pages, fits_one: true } => {
            format!("The sheet would take {pages} pages of this paper; print it on one large page or on larger paper.")
        }
        TemplateRefusal::TooManyPages { fits_one: false, .. } | TemplateRefusal::PageTooLarge => refusal.to_string(),
    }
}

fn folded(session: &Session, looks: Looks) -> Result<Drawing, String> {
    let derived = session.derived();
    let (assembly, folding) =
        derived.folded.as_ref().ok_or_else(|| "Choose a base panel first: without one nothing folds.".to_owned())?;
    let scene = folded_scene(&derived.layout, assembly, &folding.pose(looks.time), &looks.view);
    let description = format!("{}, folded.", session.document().title);
    Ok(folded_picture(&scene, PICTURE_SIDE, &description))
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Document, Size, Unit};

    #[track_caller]
    fn check(size: &str, sheets: Sheets, expected: &str) {
        let session = Session::new(Document::new(Size::parse(size).unwrap(), Unit::Inch));
        let folder = tempfile::tempdir().unwrap();
        let said = save_template(&session, sheets, &folder.path().join("a.pdf")).unwrap_err();
        assert!(said.contains(expected) && !said.contains("--"), "{said}");
    }

    #[test]
    fn a_sheet_too_large_for_its_paper_is_offered_one_large_page() {
        check("190 x 190 in", Sheets::Letter, "on one large page");
        check("300 x 300 in", Sheets::Letter, "200 in");
        check("300 x 300 in", Sheets::Whole, "200 in");
    }
}
