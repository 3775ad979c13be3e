//! A line of glue is narrow for paper as heavy as a cover: it holds, and gives way when the part is used.

use super::Rule;
use crate::fix::Offers;
use crate::measure::Paper;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::part::usual::measure::GLUE_STRIP;
use model::part::{Edges, GlueArea, change};
use model::{Length, Part, PartKind, PartLayout};

pub(super) const RULE: Rule = Rule {
    name: "weak-glue",
    severities: &[Severity::Note],
    about: "A line of glue is narrow for paper as heavy as a cover: it holds, and gives way when the part is used.\n\n\
            Stiff paper springs, and levers a narrow line of glue open. 1/4 in, or 6 mm, is taken for paper of \
            150 g/m² or 0.15 mm and more (common practice, no source), from which on it is scored before it is folded \
            (a mill); lighter paper does with 3 mm, below which `narrow-strip` warns. A wholly glued leaf or strip \
            counts by how wide it is.",
    example: "The glue of \"Tab 1\" is 1/8 in wide; for paper of its weight 1/4 in is usual.",
    check,
};

/// Paper of so many g/m² is scored before it is folded (a coated-paper mill).
const HEAVY: f64 = 150.0;

/// The same where the weight is not known: silk-coated paper of 150 g/m² at a bulk of 1.0 cm³/g.
const THICK: Length = Length::from_mm_exact(0, 150_000);

/// What is narrower is told by `narrow-strip`: 3 mm.
const NARROW: Length = Length::from_mm_exact(3, 0);

fn check(context: &Context<'_>) -> Vec<Finding> {
    if context.document.parts.is_empty() {
        return Vec::new();
    }
    let papers = context.papers();
    let offers = Offers::plain();
    let heavy = papers.iter().filter(|paper| is_heavy(context, paper));
    heavy.filter_map(|paper| finding(context, paper.part?, &offers)).collect()
}

fn is_heavy(context: &Context<'_>, paper: &Paper<'_>) -> bool {
    let weight = paper.part.and_then(|(part, _)| part.stock(context.document)?.weight);
    weight.map_or_else(|| paper.caliper.is_some_and(|by| by >= THICK), |weight| weight.grammage() >= HEAVY)
}

fn finding(context: &Context<'_>, (part, laid): (&Part, &PartLayout), offers: &Offers<'_>) -> Option<Finding> {
    let unit = context.document.units;
    let usual = GLUE_STRIP.of(unit);
    let width = widths(part).filter(|width| (NARROW..usual).contains(width)).min()?;
    let widen = || {
        let edit = change::change(context.document, part.id, |part| widen(part, usual))?;
        Some(Fix::new(format!("Make its glue {} wide", usual.text(unit)), edit))
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "The glue of \"{}\" is {} wide; for paper of its weight {} is usual.",
            laid.name,
            width.readable(unit),
            usual.text(unit)
        ),
        mend: format!("Make it {} wide or wider, or take lighter paper.", usual.text(unit)),
        spot: Spot { panels: vec![laid.main], ..Spot::default() },
        fixes: offers.of(widen),
    })
}

/// How wide the lines of glue of a part are.
fn widths(part: &Part) -> impl Iterator<Item = Length> {
    let of_kind = match &part.kind {
        PartKind::Hinge(hinge) => Some(hinge.leaf),
        PartKind::Pocket(pocket) => Some(pocket.strip).filter(|_| pocket.glued != Edges::NONE),
        PartKind::TuckCorner(tuck) => Some(tuck.strip),
        PartKind::Page(page) => Some(page.strip),
        PartKind::Flap(flap) => Some(flap.strip),
        PartKind::Tab(tab) => Some(tab.strip),
        PartKind::Band(band) => Some(band.overlap),
        PartKind::Mat(_) | PartKind::Insert(_) | PartKind::Closure(_) | PartKind::Own(_) => None,
    };
    let further = part.also.iter().filter_map(|glue| match glue.area {
        GlueArea::Strips(_, width) => Some(width),
        GlueArea::Whole | GlueArea::None => None,
    });
    of_kind.into_iter().chain(further)
}

/// Makes all lines of glue of a part at least so wide. Where a kind's glue is a leaf, that gets wider.
fn widen(part: &mut Part, least: Length) {
    let widest = |width: &mut Length| *width = (*width).max(least);
    match &mut part.kind {
        PartKind::Hinge(hinge) => widest(&mut hinge.leaf),
        PartKind::Pocket(pocket) => widest(&mut pocket.strip),
        PartKind::TuckCorner(tuck) => widest(&mut tuck.strip),
        PartKind::Page(page) => widest(&mut page.strip),
        PartKind::Flap(flap) => widest(&mut flap.strip),
        PartKind::Tab(tab) => widest(&mut tab.strip),
        PartKind::Band(band) => widest(&mut band.overlap),
        PartKind::Mat(_) | PartKind::Insert(_) | PartKind::Closure(_) | PartKind::Own(_) => {}
    }
    for glue in &mut part.also {
        if let GlueArea::Strips(_, width) = &mut glue.area {
            widest(width);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, hinge, part};
    use crate::testing::{mended, said};
    use model::part::Tab;
    use model::{Document, PartKind, SheetEdge, Weight};

    /// A tab whose glue is so wide, of paper of this weight.
    #[track_caller]
    fn with_tab(strip: &str, weight: &str) -> Document {
        let (width, height, strip) = (length("1"), length("1"), length(strip));
        let tab = PartKind::Tab(Tab { width, height, glued: SheetEdge::Left, strip });
        let mut document = flap_and_base(vec![part(1, tab, base())]);
        document.stock.weight = Some(Weight::parse(weight).unwrap());
        document
    }

    #[test]
    fn a_narrow_line_of_glue_on_heavy_paper_is_told_and_widened() {
        let says = "The glue of \"Tab 1\" is 1/8 in wide; for paper of its weight 1/4 in is usual.";
        assert_eq!(said(&with_tab("1/8", "150 g/m2"), "weak-glue"), [says]);
        let [(label, mended)] = mended(&with_tab("1/8", "150 g/m2"), "weak-glue").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Make its glue 1/4 in wide", with_tab("1/4", "150 g/m2")));
        assert_eq!(said(&with_tab("15/64", "300 g/m2"), "weak-glue").len(), 1);
    }

    #[test]
    fn wide_glue_and_light_paper_are_silent() {
        assert_eq!(said(&with_tab("1/4", "300 g/m2"), "weak-glue"), [""; 0]);
        assert_eq!(said(&with_tab("1/8", "118 g/m2"), "weak-glue"), [""; 0]);
        // Narrower than 3 mm it is a warning of another rule.
        assert_eq!(said(&with_tab("3/32", "300 g/m2"), "weak-glue"), [""; 0]);
        assert_eq!(said(&with_tab("3/32", "300 g/m2"), "narrow-strip").len(), 1);
    }

    #[test]
    fn a_leaf_counts_by_its_width_and_paper_by_its_thickness() {
        let with = |caliper: &str| {
            let mut document = flap_and_base(vec![part(1, hinge("3", "3/16", "1/2"), base())]);
            document.stock.caliper = model::Caliper::Measured(length(caliper));
            said(&document, "weak-glue")
        };
        let says = "The glue of \"Hinge 1\" is 3/16 in wide; for paper of its weight 1/4 in is usual.";
        assert_eq!(with("0.3 mm"), [says]);
        assert_eq!(with("0.1 mm"), [""; 0]);
    }
}
