//! The post: what a closed folio is as a mail piece, and the smallest format that it goes as with services whose limits
//! were looked up.
//!
//! Limits change, and prices are not known here: every answer carries where its limits are from and the date of that, and
//! a maker should check with her post office. The folio is taken as it is, without an envelope.

use crate::Context;
use fit::words::{size_at_a_glance, thickness_at_a_glance};
use model::{Area, Part, PartKind, PartLayout, Stock, Unit};

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
    /// The latest year of that.
    pub year: u16,
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
        year: 2023,
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
        year: 2023,
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
        year: 2024,
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
        year: 2024,
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
        year: 2025,
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
        year: 2025,
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
        year: 2025,
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
        year: 2025,
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
        year: 2021,
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
        year: 2021,
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
    let thick = context.thickness()?;
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

/// What its paper weighs, in grams: area times grammage, for the folio and each part that is no closure.
fn grams(context: &Context<'_>) -> Option<f64> {
    let (document, layout) = (context.document, context.layout);
    let weighed = |area: Area, stock: &Stock| Some(area.mm2() / 1e6 * stock.weight?.grammage());
    let of_part = |laid: &PartLayout| {
        let part = document.part(laid.id)?;
        if matches!(part.kind, PartKind::Closure(_)) {
            return Some(0.0);
        }
        weighed(laid.sheet.folio()?.area, part.stock(document)?)
    };
    let folio = weighed(layout.folio()?.area, &document.stock)?;
    layout.parts.iter().try_fold(folio, |sum, laid| Some(sum + of_part(laid)?))
}

/// What a piece goes as with each service, in the order of [`FORMATS`]. What is not known of it, its thickness or its
/// weight, keeps it from no format.
#[must_use]
pub fn posted(piece: &MailPiece) -> Vec<Posted> {
    let mut services: Vec<&'static str> = FORMATS.iter().map(|format| format.service).collect();
    services.dedup();
    let of_service = |service: &'static str| {
        let format = FORMATS.iter().filter(|format| format.service == service).find(|format| format.takes(piece));
        Posted { service, format, surcharge: format.and_then(|format| surcharge(piece, format)) }
    };
    services.into_iter().map(of_service).collect()
}

impl PostFormat {
    /// Whether a piece goes as it.
    fn takes(&self, piece: &MailPiece) -> bool {
        let [least, most] = [self.least, self.most];
        let within = |size: f64, at: usize| size + ROUNDING >= least[at] && size <= most[at] + ROUNDING;
        let is_thick_enough = piece.thickness.is_none_or(|by| by + ROUNDING >= self.thick[0]);
        let is_thin_enough = piece.thickness.is_none_or(|by| by <= self.thick[1] + ROUNDING);
        let is_light = piece.grams.is_none_or(|grams| grams <= self.grams);
        let is_even = (self.service, self.name) != ("USPS", "flat") || piece.uneven <= MOST_UNEVEN + ROUNDING;
        let is_long = piece.length + ROUNDING >= self.ratio * piece.height;
        within(piece.length, 0)
            && within(piece.height, 1)
            && is_thick_enough
            && is_thin_enough
            && is_light
            && is_even
            && is_long
    }
}

/// As the manual says it.
const THIN_AND_LARGE: &str = "it is thinner than .009 in and larger than 6 by 4 1/4 in";

/// Why a letter can't be sorted by machine and costs more (USPS, Domestic Mail Manual 101.1.2, page dated 7-9-23): closures
/// first, then its shape, then thin paper on a large piece.
fn surcharge(piece: &MailPiece, format: &PostFormat) -> Option<&'static str> {
    if (format.service, format.name) != ("USPS", "letter") {
        return None;
    }
    let ratio = piece.length / piece.height.max(f64::MIN_POSITIVE);
    let is_large = piece.length > 152.4 + ROUNDING || piece.height > 107.95 + ROUNDING;
    if piece.has_closure {
        Some("it has a closure on it")
    } else if ratio < 1.3 {
        Some("it is square or nearly so")
    } else if ratio > 2.5 {
        Some("it is long and narrow")
    } else if is_large && piece.thickness.is_some_and(|by| by + ROUNDING < 0.2286) {
        Some(THIN_AND_LARGE)
    } else {
        None
    }
}

/// It all in sentences: what it is, one for each service, and to check.
#[must_use]
pub fn words(piece: &MailPiece, unit: Unit) -> Vec<String> {
    let thick = match piece.thickness {
        Some(by) => thickness_at_a_glance(by, unit),
        None => "of unknown thickness".to_owned(),
    };
    let weight = match piece.grams {
        Some(grams) if piece.has_closure => format!("{grams:.0} g without what is bought for it"),
        Some(grams) => format!("{grams:.0} g"),
        None => "of unknown weight".to_owned(),
    };
    let size = size_at_a_glance([piece.length, piece.height], unit);
    let size = format!("Closed and without an envelope it is {size}, {thick} and {weight}.");
    let services = posted(piece).into_iter().map(|posted| posted.words(piece, unit));
    let check = "Limits change: check with your post office.".to_owned();
    std::iter::once(size).chain(services).chain([check]).collect()
}

impl Posted {
    /// Why it costs more, in the maker's units.
    #[must_use]
    pub fn surcharge_in(&self, unit: Unit) -> Option<&'static str> {
        match (self.surcharge, unit) {
            (Some(THIN_AND_LARGE), Unit::Millimetre | Unit::Centimetre) => {
                Some("it is thinner than 0.23 mm and larger than 152 by 108 mm")
            }
            (why, _) => why,
        }
    }

    /// "USPS: a letter, at a surcharge since it is square or nearly so (…)."
    fn words(&self, piece: &MailPiece, unit: Unit) -> String {
        let Some(format) = self.format else {
            return format!("{}: it goes as none of the formats known here.", self.service);
        };
        let surcharge = self.surcharge_in(unit).map(|why| format!(", at a surcharge since {why}")).unwrap_or_default();
        let mut unknown = Vec::new();
        if piece.thickness.is_none() {
            unknown.push(format!("no thicker than {} mm", format.thick[1]));
        }
        if piece.grams.is_none() || piece.has_closure {
            unknown.push(format!("no heavier than {:.0} g", format.grams.floor()));
        }
        let unknown = if unknown.is_empty() { String::new() } else { format!(", if it is {}", unknown.join(" and ")) };
        format!("{}: {}{surcharge}{unknown} ({}).", self.service, format.name, format.source)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::common::{Sketch, at};
    use crate::testing::part::{mat, part};
    use model::{Document, Face, Layout, PanelRef, Turn, Weight};

    fn piece(length: &str, height: &str) -> MailPiece {
        let mm = |text| crate::testing::common::length(text).mm();
        MailPiece {
            length: mm(length),
            height: mm(height),
            thickness: Some(1.2),
            uneven: 0.6,
            grams: Some(19.0),
            has_closure: false,
        }
    }

    #[track_caller]
    fn check(piece: &MailPiece, expected: [&str; 4]) {
        let names = posted(piece).into_iter().map(|posted| posted.format.map_or("", |format| format.name));
        assert_eq!(names.collect::<Vec<_>>(), expected);
    }

    #[test]
    fn a_piece_goes_as_the_smallest_format_of_each_service() {
        // Limits as named with each format. A card of 4 1/2 by 6 1/4 in, 114.3 by 158.75 mm: 1.39 times as long as high, so
        // below the 1.4 of two German formats.
        check(&piece("6 1/4", "4 1/2"), ["letter", "letter", "Großbrief", "standard lettermail"]);
        check(&piece("6 1/2", "4 1/2"), ["letter", "letter", "Standardbrief", "standard lettermail"]);
        // 6 by 6 in is lower than 6 1/8 in; 6 1/2 by 6 1/2 in is higher, and 165.1 mm is higher than 165.
        check(&piece("6", "6"), ["letter", "letter", "Großbrief", "standard lettermail"]);
        check(&piece("6 1/2", "6 1/2"), ["flat", "large letter", "Großbrief", "other lettermail"]);
        check(&piece("12", "12"), ["flat", "", "", ""]);
        check(&piece("4", "3"), ["", "letter", "Großbrief", ""]);
    }

    #[test]
    fn thickness_and_weight_make_it_larger() {
        let card = piece("6 1/2", "4 1/2");
        check(
            &MailPiece { grams: Some(20.5), ..card.clone() },
            ["letter", "letter", "Kompaktbrief", "standard lettermail"],
        );
        check(&MailPiece { grams: Some(99.5), ..card.clone() }, ["flat", "letter", "Großbrief", "other lettermail"]);
        check(
            &MailPiece { thickness: Some(5.5), ..card.clone() },
            ["letter", "large letter", "Kompaktbrief", "other lettermail"],
        );
        check(&MailPiece { thickness: Some(0.1), ..card }, ["", "letter", "Standardbrief", ""]);
        // Unevener than a quarter of an inch, a flat is a parcel.
        let flat = piece("10", "8");
        check(&flat, ["flat", "large letter", "Großbrief", "other lettermail"]);
        check(&MailPiece { uneven: 6.4, ..flat }, ["", "large letter", "Großbrief", "other lettermail"]);
    }

    #[test]
    fn some_letters_cost_more() {
        let why = |piece: &MailPiece| posted(piece)[0].surcharge;
        assert_eq!(why(&piece("6", "6")), Some("it is square or nearly so"));
        assert_eq!(why(&piece("6 1/2", "4 1/2")), None);
        assert_eq!(why(&piece("10", "3 3/4")), Some("it is long and narrow"));
        let thin = MailPiece { thickness: Some(0.2), ..piece("6 1/2", "4 1/2") };
        assert_eq!(why(&thin), Some("it is thinner than .009 in and larger than 6 by 4 1/4 in"));
        let metric = posted(&thin)[0].surcharge_in(Unit::Millimetre);
        assert_eq!(metric, Some("it is thinner than 0.23 mm and larger than 152 by 108 mm"));
        assert_eq!(why(&MailPiece { thickness: Some(0.2), ..piece("6", "4 1/4") }), None);
        assert_eq!(why(&MailPiece { has_closure: true, ..thin }), Some("it has a closure on it"));
    }

    /// A strip of 12 by 6 in, folded in half.
    fn half() -> Document {
        let mut document = Sketch::on("12x6in").score(1, Turn::None, "6").base("9", "3").steps(&[&[1]]).0;
        document.stock.weight = Weight::parse("300 g/m2").ok();
        document
    }

    fn piece_of(document: &Document) -> Option<MailPiece> {
        let layout = Layout::of(document);
        let assembly = fold::assemble(document, &layout)?;
        let folding = fold::close(&assembly);
        mail_piece(&Context::new(document, &layout, Some((&assembly, &folding)), None))
    }

    #[test]
    fn a_closed_folio_is_measured_and_weighed() {
        // A sheet of 12 by 12 in of 300 g/m² weighs 27.9 g (recomputed, as in a table of such sheets); half of it 13.94 g.
        let plain = piece_of(&half()).unwrap();
        assert!((plain.length - 152.4).abs() < 1e-6 && (plain.height - 152.4).abs() < 1e-6, "{plain:?}");
        assert!((plain.thickness.unwrap() - 0.6).abs() < 1e-6, "{plain:?}");
        assert!((plain.grams.unwrap() - 13.94).abs() < 0.01 && plain.uneven.abs() < 1e-6, "{plain:?}");
        // With a mat of 4 by 6 in on the outside of the flap: a sixth of the sheet again, and 0.3 mm on part of it.
        let mut with_mat = half();
        with_mat.parts.push(part(1, mat("4", "6"), PanelRef::Sheet(at("3", "3"))));
        with_mat.parts[0].place.face = Face::Back;
        let matted = piece_of(&with_mat).unwrap();
        assert!((matted.grams.unwrap() - 27.87 * (1.0 / 2.0 + 1.0 / 6.0)).abs() < 0.01, "{matted:?}");
        assert!((matted.thickness.unwrap() - 0.9).abs() < 1e-6 && (matted.uneven - 0.3).abs() < 1e-6, "{matted:?}");
    }

    #[test]
    fn what_is_not_known_is_said() {
        let mut unknown = half();
        unknown.stock.weight = None;
        unknown.stock.caliper = model::Caliper::Unknown;
        let says = words(&piece_of(&unknown).unwrap(), Unit::Inch);
        assert_eq!(
            says[0],
            "Closed and without an envelope it is 6 x 6 in, of unknown thickness and of unknown weight."
        );
        let usps = "USPS: letter, at a surcharge since it is square or nearly so, if it is no thicker than 6.35 mm and no \
                    heavier than 99 g (Domestic Mail Manual 101.1, page dated 7-9-23).";
        assert_eq!(says[1], usps);
        assert_eq!(says.last().map(String::as_str), Some("Limits change: check with your post office."));
        assert_eq!(says.len(), 6);
    }

    #[test]
    fn what_is_known_is_said_without_ifs() {
        let says = words(&piece_of(&half()).unwrap(), Unit::Inch);
        assert_eq!(says[0], "Closed and without an envelope it is 6 x 6 in, 1/32 in thick and 14 g.");
        assert!(says[3].starts_with("Deutsche Post: Großbrief (a brochure"), "{}", says[3]);
    }

    #[test]
    fn an_open_sheet_is_no_mail_piece() {
        let mut open = half();
        open.steps.clear();
        assert_eq!(piece_of(&open), None);
    }
}
