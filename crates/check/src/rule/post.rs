//! The closed folio is too large, too thick or too heavy for the letters that are known, or costs more than others by
//! post. Said once for the whole folio.

use super::Rule;
use crate::post::{MailPiece, Posted, mail_piece, posted};
use crate::{Context, Finding, Severity, Spot};
use fit::words::{size_at_a_glance, thickness_at_a_glance};
use model::Unit;

pub(super) const RULE: Rule = Rule {
    name: "post",
    severities: &[Severity::Note],
    about: "The closed folio is too large, too thick or too heavy for the letters that are known, or costs more than \
            others by post. Said once for the whole folio.\n\n\
            The limits of four services were looked up, each with its source and date in `post`; they change, prices \
            are not known, and an envelope adds to every measure. What costs more is told of what a sorting machine \
            can't take because of what is set on it (Domestic Mail Manual 101.1.2, page dated 7-9-23). That a square \
            letter costs more there is said with the closed size, and not here: it is so of every folio from a square.",
    example: "Closed, the folio is 12 x 9 in and 1/32 in thick, and goes as a letter with none of the services known here.",
    check,
};

/// What services call their letters that are not yet large ones.
const LETTERS: &[(&str, &str)] = &[
    ("USPS", "letter"),
    ("Royal Mail", "letter"),
    ("Deutsche Post", "Standardbrief"),
    ("Deutsche Post", "Kompaktbrief"),
    ("Canada Post", "standard lettermail"),
];

fn check(context: &Context<'_>) -> Vec<Finding> {
    // One that can't be closed as its steps say is no mail piece yet.
    let closes = context.folded.is_some_and(|(_, folding)| folding.troubles().is_empty());
    let piece = if closes { mail_piece(context) } else { None };
    piece.and_then(|piece| finding(context, &piece)).into_iter().collect()
}

fn finding(context: &Context<'_>, piece: &MailPiece) -> Option<Finding> {
    let unit = context.document.units;
    let all = posted(piece);
    let as_letter = |posted: &Posted| posted.format.is_some_and(|it| LETTERS.contains(&(it.service, it.name)));
    let sentence = if !all.iter().any(as_letter) {
        format!(
            "Closed, the folio is {}, and goes as a letter with none of the services known here.",
            measures(piece, unit)
        )
    } else {
        let dear = all
            .iter()
            .filter(|_| piece.has_closure)
            .find_map(|posted| Some((posted.format?, posted.surcharge_in(unit)?)));
        let (format, why) = dear?;
        format!("As a letter of {} the closed folio costs more, since {why} ({}).", format.service, format.source)
    };
    let larger = all
        .iter()
        .filter_map(|posted| posted.format)
        .map(|format| format!("{}: {} ({})", format.service, format.name, format.year));
    let larger = larger.collect::<Vec<_>>().join("; ");
    let mend = if larger.is_empty() {
        "Make it smaller or send it as a parcel; limits change, so check with your post office.".to_owned()
    } else {
        format!("It goes as {larger}. Limits change, so check with your post office.")
    };
    let panels = context.layout.base.into_iter().collect();
    let spot = Spot { panels, ..Spot::default() };
    Some(Finding { rule: RULE.name, severity: Severity::Note, sentence, mend, spot, fixes: Vec::new() })
}

/// "12 x 9 in, 1/32 in thick and 42 g heavy": what is not known is left out.
fn measures(piece: &MailPiece, unit: Unit) -> String {
    let size = size_at_a_glance([piece.length, piece.height], unit);
    let thick = piece.thickness.map(|by| thickness_at_a_glance(by, unit));
    let heavy = piece.grams.map(|grams| format!("{grams:.0} g heavy"));
    model::words::listed(std::iter::once(size).chain(thick).chain(heavy))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, length};
    use crate::testing::part::{first, part};
    use crate::testing::said;
    use model::part::{Closure, ClosureKind, Source};
    use model::{Document, PanelRef, Part, PartKind, Turn, Weight};

    /// A flap folded over a base as large, half of a sheet of this size.
    #[track_caller]
    fn half(sheet: &str, fold: &str) -> Document {
        let mut document = Sketch::on(sheet).score(1, Turn::None, fold).steps(&[&[1]]).0;
        document.base = Some(model::Point::new(length(fold) + length("1"), length("1")));
        document
    }

    #[test]
    fn a_folio_larger_than_all_letters_is_noted_with_what_it_goes_as() {
        // The largest of those letters are 11 1/2 by 6 1/8 in (Domestic Mail Manual 101.1, page dated 7-9-23) and 240
        // by 165 mm (the regulator's page).
        let large = half("18x12in", "9");
        let says = "Closed, the folio is 12 x 9 in and 1/32 in thick, and goes as a letter with none of the services known here.";
        assert_eq!(said(&large, "post"), [says]);
        let mend = first(&large, "post").mend;
        assert!(mend.contains("USPS: flat") && mend.contains("check with your post office"), "{mend}");
        let mut heavy = half("12x6in", "6");
        heavy.stock.weight = Weight::parse("3000 g/m2").ok();
        let heavy = said(&heavy, "post");
        assert!(
            matches!(heavy.as_slice(), [one] if one.contains("6 x 6 in, 1/32 in thick and 139 g heavy")),
            "{heavy:?}"
        );
        let parcel = half("40x20in", "20");
        assert!(first(&parcel, "post").mend.starts_with("Make it smaller or send it as a parcel"));
    }

    #[test]
    fn a_letter_is_silent_though_it_is_square() {
        assert_eq!(said(&half("12x6in", "6"), "post"), [""; 0]);
        // One that is not closed yet is no letter.
        let mut open = half("18x12in", "9");
        open.steps.clear();
        assert_eq!(said(&open, "post"), [""; 0]);
    }

    #[test]
    fn what_is_set_on_a_letter_makes_it_dear() {
        let with = |kind| {
            let mut document = half("12x6in", "6");
            let (size, thickness) = (length("1/4"), length("1/32"));
            let closure = PartKind::Closure(Closure { kind, width: size, height: size, thickness });
            let on = PanelRef::Sheet(document.base.unwrap());
            document.parts = vec![Part { source: Source::Bought, ..part(1, closure, on) }];
            said(&document, "post")
        };
        let says = "As a letter of USPS the closed folio costs more, since it has a closure on it (Domestic Mail Manual 101.1, \
                    page dated 7-9-23).";
        assert_eq!(with(ClosureKind::Brad), [says]);
    }
}
