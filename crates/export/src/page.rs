//! What is printed: template, booklet, inserts.

use crate::{Design, ExportRefusal, Exported, ExportedFile};
use booklet::{BookletOptions, Subject, Units, booklet};
use draw::inserts::{Choice, InsertsOptions, Takes, inserts};
use draw::list::Pages;
use draw::template::{Paper, Sides, TemplateOptions, template};
use model::{Document, Length, Unit};

/// What can be chosen of a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TemplateChoice {
    /// The paper in the printer.
    pub paper: Paper,
    /// Which sides are printed.
    pub sides: Sides,
    /// Whether what is printed on the faces of the sheet is there, under the lines.
    pub artwork: bool,
}

/// What can be chosen of a booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BookletChoice {
    /// The paper in the printer.
    pub paper: booklet::Paper,
    /// What lengths are said in.
    pub units: UnitsChoice,
}

/// What the lengths of a booklet are said in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitsChoice {
    /// In the design's own.
    #[default]
    Own,
    /// In inches.
    Inches,
    /// In millimetres.
    Millimetres,
    /// In both, the design's own first.
    Both,
}

/// What can be chosen of inserts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InsertsChoice {
    /// The paper in the printer.
    pub paper: Paper,
    /// Which of them are printed.
    pub which: Choice,
    /// The radius of their corners; zero for square ones.
    pub corner: Length,
    /// How much smaller mats are than the faces that they go on, at each edge; not negative.
    pub margin: Length,
}

impl TemplateChoice {
    /// The usual one for a design.
    #[must_use]
    pub const fn usual(document: &Document) -> Self {
        let usual = TemplateOptions::for_units(document.units);
        Self { paper: usual.paper, sides: Sides::Front, artwork: false }
    }

    pub(crate) fn pages(&self, design: &Design<'_>) -> Result<Pages, ExportRefusal> {
        let artwork = self.artwork.then_some(design.prints);
        let options = TemplateOptions { paper: self.paper, sides: self.sides, artwork };
        Ok(template(design.document, &design.derived.layout, design.furnishing().as_ref(), &options)?)
    }
}

impl BookletChoice {
    /// The usual one for a design.
    #[must_use]
    pub const fn usual(document: &Document) -> Self {
        let paper = match document.units {
            Unit::Inch => booklet::Paper::Letter,
            Unit::Millimetre | Unit::Centimetre => booklet::Paper::A4,
        };
        Self { paper, units: UnitsChoice::Own }
    }

    pub(crate) fn pages(&self, design: &Design<'_>) -> Result<Pages, ExportRefusal> {
        let (document, derived) = (design.document, design.derived);
        let units = match self.units {
            UnitsChoice::Own => Units::only(document.units),
            UnitsChoice::Inches => Units::only(Unit::Inch),
            UnitsChoice::Millimetres => Units::only(Unit::Millimetre),
            UnitsChoice::Both => Units::both(document.units),
        };
        let subject = Subject {
            document,
            layout: &derived.layout,
            folded: design.folded().ok(),
            supply: derived.supply.as_ref(),
            making: derived.making(document),
            prints: design.prints,
        };
        Ok(booklet(&subject, &BookletOptions { paper: self.paper, units })?)
    }
}

impl InsertsChoice {
    /// The usual one for a design.
    #[must_use]
    pub const fn usual(document: &Document) -> Self {
        let paper = TemplateOptions::for_units(document.units).paper;
        Self { paper, which: Choice::All, corner: Length::ZERO, margin: fit::MARGIN }
    }

    pub(crate) fn pages(&self, design: &Design<'_>) -> Result<Pages, ExportRefusal> {
        let (document, derived) = (design.document, design.derived);
        let (fits, mats) = (derived.fits(document), derived.mats_with(document, self.margin));
        let takes = Takes { pockets: &fits.pockets, corners: &fits.corners, trays: &fits.trays, mats: &mats };
        let options = InsertsOptions { paper: self.paper, corner: self.corner, choice: self.which };
        Ok(inserts(document, &derived.layout, &takes, &options)?)
    }
}

/// Pages as a PDF.
pub(crate) fn file(pages: &Pages) -> Result<Exported, ExportRefusal> {
    let count = pages.pages.len();
    let told = format!("{count} {}", if count == 1 { "page" } else { "pages" });
    let file = ExportedFile { tail: String::new(), bytes: output::pdf(pages)?, told };
    Ok(Exported { files: vec![file], notes: Vec::new() })
}
