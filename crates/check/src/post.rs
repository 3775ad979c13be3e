//! The post: what a closed folio is as a mail piece, and the smallest format that it goes as with services whose limits
//! were looked up.
//!
//! Limits change, and prices are not known here: every answer carries where its limits are from and the date of that, and
//! a maker should check with her post office. The folio is taken as it is, without an envelope.

use crate::Context;
use crate::measure::closed_at;
use fold::{View, outline, thickness};
use model::{Length, Part, PartKind, PartLayout, Stock, Unit};

/// A closed folio as a mail piece.
#[derive(Debug, Clone, PartialEq)]
pub struct MailPiece {
    /// Its longer side, in mm.
    pub length: f64,
    /// Its shorter side, in mm.
    pub height: f64,
    /// Where it is thickest, in mm; `None` while the thickness of some paper in it is unknown.
    pub thickness: Option<f64>,
    /// How much thicker it is there than where it is thinnest, in mm.
    pub uneven: f64,
    /// What it weighs, in grams; `None` while the weight of some paper in it is unknown. What is bought is not weighed.
    pub grams: Option<f64>,
    /// Whether something is set on it that is no paper, such as a brad or a ribbon.
    pub has_closure: bool,
}

/// A format of a service, in mm and grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PostFormat {
    /// Who carries it.
    pub service: &'static str,
    /// What the service calls it.
    pub name: &'static str,
    /// The least length and height.
    pub least: [f64; 2],
    /// The greatest length and height.
    pub most: [f64; 2],
    /// The least and greatest thickness.
    pub thick: [f64; 2],
    /// The greatest weight.
    pub grams: f64,
    /// The least length for the height, as a part of it.
    pub ratio: f64,
    /// Where the limits are from, with the date of that.
    pub source: &'static str,
}

/// What a piece goes as with one service.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Posted {
    /// Who carries it.
    pub service: &'static str,
    /// The smallest format that it goes as; `None` where it is too large, too small or too heavy for each.
    pub format: Option<&'static PostFormat>,
    /// Why it costs more than others of that format, where it does.
    pub surcharge: Option<&'static str>,
}

/// The formats that are known, those of a service together, the smallest first.
pub const FORMATS: &[PostFormat] = &[
    PostFormat {
        service: "USPS",
        name: "letter",
        least: [127.0, 88.9],
        most: [292.1, 155.575],
        thick: [0.1778, 6.35],
        grams: 99.22,
        ratio: 0.0,
        source: "Domestic Mail Manual 101.1, page dated 7-9-23",
    },
    PostFormat {
        service: "USPS",
        name: "flat",
        least: [127.0, 88.9],
        most: [381.0, 304.8],
        thick: [0.1778, 19.05],
        grams: 368.54,
        ratio: 0.0,
        source: "Domestic Mail Manual 101.2, page dated 7-9-23",
    },
    PostFormat {
        service: "Royal Mail",
        name: "letter",
        least: [0.0, 0.0],
        most: [240.0, 165.0],
        thick: [0.0, 5.0],
        grams: 100.0,
        ratio: 0.0,
        source: "the regulator's page for consumers, undated, and a seller of envelopes, October 2024",
    },
    PostFormat {
        service: "Royal Mail",
        name: "large letter",
        least: [0.0, 0.0],
        most: [353.0, 250.0],
        thick: [0.0, 25.0],
        grams: 750.0,
        ratio: 0.0,
        source: "the regulator's page for consumers, undated, and a seller of envelopes, October 2024",
    },
    PostFormat {
        service: "Deutsche Post",
        name: "Standardbrief",
        least: [140.0, 90.0],
        most: [235.0, 125.0],
        thick: [0.0, 5.0],
        grams: 20.0,
        ratio: 1.4,
        source: "a brochure of the service, 2013, and an article with the same figures, 12 February 2025",
    },
    PostFormat {
        service: "Deutsche Post",
        name: "Kompaktbrief",
        least: [100.0, 70.0],
        most: [235.0, 125.0],
        thick: [0.0, 10.0],
        grams: 50.0,
        ratio: 1.4,
        source: "a brochure of the service, 2013, and an article with the same figures, 12 February 2025",
    },
    PostFormat {
        service: "Deutsche Post",
        name: "Großbrief",
        least: [100.0, 70.0],
        most: [353.0, 250.0],
        thick: [0.0, 20.0],
        grams: 500.0,
        ratio: 0.0,
        source: "a brochure of the service, 2013, and an article with the same figures, 12 February 2025",
    },
    PostFormat {
        service: "Deutsche Post",
        name: "Maxibrief",
        least: [100.0, 70.0],
        most: [353.0, 250.0],
        thick: [0.0, 50.0],
        grams: 1000.0,
        ratio: 0.0,
        source: "a brochure of the service, 2013, and an article with the same figures, 12 February 2025",
    },
    PostFormat {
        service: "Canada Post",
        name: "standard lettermail",
        least: [140.0, 90.0],
        most: [245.0, 156.0],
        thick: [0.18, 5.0],
        grams: 50.0,
        ratio: 0.0,
        source: "the service's own page, undated, and its guide of 11 January 2021",
    },
    PostFormat {
        service: "Canada Post",
        name: "other lettermail",
        least: [140.0, 90.0],
        most: [380.0, 270.0],
        thick: [0.18, 20.0],
        grams: 500.0,
        ratio: 0.0,
        source: "the service's own page, undated, and its guide of 11 January 2021",
    },
];

/// Sizes that differ from a limit by less than this, in mm, are at it: rounding of folded poses.
const ROUNDING: f64 = 1e-6;

/// A flat may not be unevener than a quarter of an inch, in mm, or it is a parcel (USPS, Domestic Mail Manual 101.2, page
/// dated 7-9-23; what lies within an inch of an edge that is empty is left out there, which is not looked at here).
const MOST_UNEVEN: f64 = 6.35;

/// The closed folio as a mail piece; `None` while no base is marked or it has no steps.
#[must_use]
pub fn mail_piece(context: &Context<'_>) -> Option<MailPiece> {
    let (assembly, folding) = context.folded.filter(|(_, folding)| folding.steps() > 0)?;
    let size = folding.closed_size();
    let is_known = assembly.panels.iter().all(|panel| panel.caliper > 0.0);
    let thick = thickness(assembly, folding);
    let thinnest = thick.areas.iter().map(|area| area.height).fold(thick.greatest, f64::min);
    let is_closure = |part: &Part| matches!(part.kind, PartKind::Closure(_));
    Some(MailPiece {
        length: size.x.max(size.y),
        height: size.x.min(size.y),
        thickness: is_known.then_some(thick.greatest),
        uneven: thick.greatest - thinnest,
        grams: grams(context),
        has_closure: context.document.parts.iter().any(is_closure),
    })
}
