//! A picture has too few pixels for the width that it is printed at.

use super::Rule;
use crate::{Context, Finding, Severity, Spot};
use model::{Artwork, Face, Length, Stock};

pub(super) const RULE: Rule = Rule {
    name: "coarse-artwork",
    severities: &[Severity::Warning, Severity::Note],
    about: "A picture has too few pixels for the width that it is printed at.\n\n\
            Printers ask for 300 pixels an inch; below 150 they are seen at arm's length (common practice, no \
            source).",
    example: "\"leaves.png\" on the front of the paper has 100 pixels an inch at 12 in wide, so few that they are seen.",
    check,
};

/// Pixels an inch that printers ask for.
const ASKED: i64 = 300;

/// Pixels an inch below which they are seen.
const SEEN: i64 = 150;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let document = context.document;
    let used = |id| document.parts.iter().any(|part| part.source == model::part::Source::Stock(id));
    let further = document.further_stocks.iter().filter(|further| used(further.id)).map(|further| &further.stock);
    let sides = |stock| [Face::Front, Face::Back].into_iter().filter_map(move |face| side(context, stock, face));
    std::iter::once(&document.stock).chain(further).flat_map(sides).collect()
}

fn side(context: &Context<'_>, stock: &Stock, face: Face) -> Option<Finding> {
    let artwork = stock.side(face).artwork.as_ref()?;
    // In whole numbers, or one that is just enough would be told as one too few.
    let density = i64::from(artwork.pixels[0]) * Length::INCH.nm() / artwork.width.nm().max(1);
    let severity = match density {
        density if density < SEEN => Severity::Warning,
        density if density < ASKED => Severity::Note,
        _ => return None,
    };
    let unit = context.document.units;
    let paper = if stock.name.is_empty() { "the paper".to_owned() } else { format!("\"{}\"", stock.name) };
    let verdict = match severity {
        Severity::Warning => "so few that they are seen",
        _ => "fewer than the 300 that printers ask for",
    };
    Some(Finding {
        rule: RULE.name,
        severity,
        sentence: format!(
            "\"{}\" on the {} of {paper} has {density} pixels an inch at {} wide, {verdict}.",
            artwork.file,
            face.word(),
            artwork.width.readable(unit)
        ),
        mend: mend(artwork, unit),
        spot: Spot::default(),
        fixes: Vec::new(),
    })
}

/// How many pixels it would have to have across, and how wide it may be with those it has.
fn mend(artwork: &Artwork, unit: model::Unit) -> String {
    let asked = artwork.width.nm() * ASKED / Length::INCH.nm();
    let across = if asked * Length::INCH.nm() < artwork.width.nm() * ASKED { asked + 1 } else { asked };
    let wide = Length::from_nm((i64::from(artwork.pixels[0]) * Length::INCH.nm() / ASKED).min(Length::LIMIT.nm()));
    format!("Use a picture {across} pixels wide, or print this one {} wide.", wide.readable(unit))
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, length};
    use crate::testing::{findings, said};
    use model::{Artwork, Document, FurtherStock, Length, Size, Stock, StockId};

    fn picture(pixels: u32, width: &str) -> Artwork {
        let (width, zero) = (length(width), Length::ZERO);
        Artwork { file: "leaves.png".to_owned(), digest: [0; 32], pixels: [pixels; 2], width, left: zero, top: zero }
    }

    fn with(pixels: u32, width: &str) -> Document {
        let mut document = Sketch::on("12x12in").0;
        document.stock.front.artwork = Some(picture(pixels, width));
        document
    }

    #[track_caller]
    fn check(document: &Document, severity: Severity, says: &str, mend: &str) {
        let found = findings(document).into_iter().find(|finding| finding.rule == "coarse-artwork").unwrap();
        assert_eq!((found.severity, found.sentence.as_str(), found.mend.as_str()), (severity, says, mend));
    }

    #[test]
    fn pixels_that_are_seen_are_a_warning_and_too_few_for_a_printer_a_note() {
        // By hand: 1200 pixels over 12 in are 100 an inch; 300 an inch would take 3600, or 4 in.
        check(
            &with(1200, "12"),
            Severity::Warning,
            "\"leaves.png\" on the front of the paper has 100 pixels an inch at 12 in wide, so few that they are seen.",
            "Use a picture 3600 pixels wide, or print this one 4 in wide.",
        );
        check(
            &with(1800, "12"),
            Severity::Note,
            "\"leaves.png\" on the front of the paper has 150 pixels an inch at 12 in wide, fewer than the 300 that \
             printers ask for.",
            "Use a picture 3600 pixels wide, or print this one 6 in wide.",
        );
        assert_eq!(said(&with(3600, "12"), "coarse-artwork"), [""; 0]);
        // 384 over 4 in are 96, though a 25.4th of 101.6 mm is no whole number to a computer.
        let says = said(&with(384, "4"), "coarse-artwork");
        assert!(matches!(says.as_slice(), [one] if one.contains("has 96 pixels an inch")), "{says:?}");
        assert_eq!(said(&with(1200, "4"), "coarse-artwork"), [""; 0]);
    }

    #[test]
    fn a_further_paper_counts_when_something_is_made_of_it() {
        let mut document = Sketch::on("12x12in").base("6", "6").0;
        let mut stock = Stock { name: "Label paper".to_owned(), ..Stock::plain(Size::parse("6x6in").unwrap()) };
        stock.back.artwork = Some(picture(300, "6"));
        document.further_stocks.push(FurtherStock { id: StockId(1), stock });
        assert_eq!(said(&document, "coarse-artwork"), [""; 0]);
        let mat = model::part::Mat { width: length("2"), height: length("2") };
        let place = model::part::Placement::centred(model::PanelRef::Sheet(document.base.unwrap()));
        document.parts.push(model::Part {
            id: model::PartId(1),
            name: String::new(),
            kind: model::PartKind::Mat(mat),
            source: model::part::Source::Stock(StockId(1)),
            place,
            also: Vec::new(),
        });
        let found = said(&document, "coarse-artwork");
        assert!(matches!(found.as_slice(), [one] if one.contains("on the back of \"Label paper\"")), "{found:?}");
    }
}
