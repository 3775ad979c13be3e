//! Pictures: of the flat sheet, of the folio at any step, and of all steps in one.

use crate::{Design, ExportRefusal, PRINTED_FINELY, folded};
use draw::contact::contact_sheet;
use draw::folded::{Posed, View, bounds_in_pose, folded_picture, printed_scene};
use draw::list::Drawing;
use draw::sheet::{SheetLook, printed_sheet_picture};
use model::Turn;
use output::Ground;
use session::Derived;

/// Longer side of a picture of the folio, mm.
pub(crate) const FOLDED_PICTURE: f64 = 200.0;

/// What a picture is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureKind {
    /// Pixels.
    Png,
    /// Lines and areas.
    Svg,
}

/// What a picture shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// The flat sheet, as it lies on this turn.
    Sheet(Turn),
    /// The folio after so many steps, from 0 to all of them, seen from there.
    Folio(f64, View),
}

/// What can be chosen of a picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PictureChoice {
    /// What it shows.
    pub shown: Shown,
    /// Pixels across a PNG.
    pub width: u32,
    /// Whether a PNG is clear where nothing is drawn; else it is white there.
    pub is_clear: bool,
}

/// What can be chosen of a contact sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ContactChoice {
    /// From where the folio is seen.
    pub view: View,
    /// Pixels across a PNG.
    pub width: u32,
}

impl PictureKind {
    /// By what a file's name ends in: pixels unless that is svg.
    pub(crate) fn of(ending: &str) -> Self {
        if ending.eq_ignore_ascii_case("svg") { Self::Svg } else { Self::Png }
    }

    /// How many pixels a millimetre of paper are worth keeping, where so many millimetres of it fill the picture.
    fn per_mm(self, width: u32, across: f64) -> f64 {
        match self {
            Self::Png => f64::from(width) / across.max(1.0),
            Self::Svg => PRINTED_FINELY,
        }
    }

    pub(crate) fn bytes(self, drawing: &Drawing, width: u32, ground: Ground) -> Result<Vec<u8>, ExportRefusal> {
        Ok(match self {
            Self::Png => output::png_on(drawing, width, ground)?,
            Self::Svg => output::svg(drawing)?.into_bytes(),
        })
    }
}

impl PictureChoice {
    pub(crate) const fn ground(&self) -> Ground {
        if self.is_clear { Ground::Clear } else { Ground::White }
    }

    pub(crate) fn per_mm(&self, derived: &Derived, kind: PictureKind) -> f64 {
        let across = match self.shown {
            Shown::Sheet(turn) => turn.size_of(derived.layout.size).0.mm(),
            Shown::Folio(time, view) => derived.folded.as_ref().map_or(1.0, |(assembly, folding)| {
                bounds_in_pose(&derived.layout, &Posed::at(assembly, folding, time), &view).width()
            }),
        };
        kind.per_mm(self.width, across)
    }

    pub(crate) fn drawing(&self, design: &Design<'_>) -> Result<Drawing, ExportRefusal> {
        let (document, layout) = (design.document, &design.derived.layout);
        match self.shown {
            Shown::Sheet(turn) => {
                let look = SheetLook { turn, ..SheetLook::default() };
                Ok(printed_sheet_picture(document, layout, design.furnishing().as_ref(), design.prints, &look))
            }
            Shown::Folio(time, view) => {
                let (assembly, folding) = design.folded()?;
                let scene = printed_scene(layout, &Posed::at(assembly, folding, time), &view, &design.printed());
                let description = format!("{}: folded {time} of {} steps.", document.title, folding.steps());
                Ok(folded_picture(&scene, FOLDED_PICTURE, &description))
            }
        }
    }
}

impl ContactChoice {
    pub(crate) fn per_mm(&self, derived: &Derived, kind: PictureKind) -> f64 {
        // Each picture of it is smaller than the whole, so this keeps enough of what is printed.
        let across = folded(derived).map_or(1.0, |(assembly, folding)| {
            bounds_in_pose(&derived.layout, &Posed::at(assembly, folding, 0.0), &self.view).width()
        });
        kind.per_mm(self.width, across)
    }

    pub(crate) fn drawing(&self, design: &Design<'_>) -> Result<Drawing, ExportRefusal> {
        let (assembly, folding) = design.folded()?;
        let folio = (&design.derived.layout, assembly, folding);
        contact_sheet(design.document, folio, &design.printed(), &self.view)
            .ok_or(ExportRefusal::TooManySteps(folding.steps()))
    }
}
