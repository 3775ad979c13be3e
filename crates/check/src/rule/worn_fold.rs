//! A fold that is worked to and fro is in paper too thin to last.

use super::Rule;
use crate::fix::Offers;
use crate::measure::Paper;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::part::{Source, change};
use model::words::listed;
use model::{Direction, Fold, Length, LineId, PartKind, Stock, Unit};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "worn-fold",
    severities: &[Severity::Note],
    about: "A fold that is worked to and fro is in paper too thin to last.\n\n\
            Scores that fold either way, hinges and pages are opened and shut whenever the folio is looked at, and paper \
            below about 90 g/m² (24 lb bond) wears through along such a fold (common practice, no source; folding \
            endurance is measured, as in ISO 5626, but papers are not sold by it). Where the weight is not known, \
            0.1 mm is taken, the thickness of such bond. Thin, strong paper with long fibres, such as binders mend \
            with, is another matter: so it is only a note. What folds one way and stays there is not worked.",
    example: "\"Hinge 1's fold\" is worked to and fro, and paper of 80 g/m² soon wears through there.",
    check,
};

/// Grammage below which paper counts as thin, in g/m².
const LIGHT: f64 = 90.0;

/// Thickness below which it does where its weight is unknown.
const THIN: Length = Length::from_mm_exact(0, 100_000);

/// More names than this are not read.
const MOST_NAMED: usize = 3;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::plain();
    context.papers().iter().filter_map(|paper| finding(context, paper, &offers)).collect()
}

fn finding(context: &Context<'_>, paper: &Paper<'_>, offers: &Offers<'_>) -> Option<Finding> {
    let stock = match paper.part {
        None => &context.document.stock,
        Some((part, _)) => part.stock(context.document)?,
    };
    let is_hinged =
        matches!(paper.part, Some((part, _)) if matches!(part.kind, PartKind::Hinge(_) | PartKind::Page(_)));
    let is_worked = |fold: &&&Fold| is_hinged || fold.crease.direction == Direction::Either;
    let lines: BTreeSet<LineId> = paper.folds.iter().filter(is_worked).map(|fold| fold.line).collect();
    let thin = thin(stock).filter(|_| !lines.is_empty())?;
    let named = lines.iter().take(MOST_NAMED).map(|&line| context.line(line));
    let more = lines.len().saturating_sub(MOST_NAMED);
    let names = listed(named.chain((more > 0).then(|| format!("{more} more"))));
    let are = if lines.len() == 1 { "is" } else { "are" };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!("{names} {are} worked to and fro, and paper of {thin} soon wears through there."),
        mend: "Take heavier or tougher paper for it, or line the fold with cloth or tape.".to_owned(),
        spot: Spot { lines: lines.into_iter().collect(), ..Spot::default() },
        fixes: offers.of(|| heavier(context, paper)),
    })
}

/// How light or thin a thin paper is, in words; `None` for other paper, and where neither is known.
fn thin(stock: &Stock) -> Option<String> {
    match stock.weight {
        Some(weight) => (weight.grammage() < LIGHT).then(|| format!("{:.0} g/m²", weight.grammage())),
        None => stock.thickness().filter(|thickness| *thickness < THIN).map(|thin| thin.readable(Unit::Millimetre)),
    }
}

/// Cuts a part from the folio's own paper, where that is not thin.
fn heavier(context: &Context<'_>, paper: &Paper<'_>) -> Option<Fix> {
    let (part, _) = paper.part?;
    if thin(&context.document.stock).is_some() {
        return None;
    }
    let edit = change::change(context.document, part.id, |part| part.source = Source::FolioStock)?;
    Some(Fix::new("Cut it from the folio's paper", edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, hinge, moved, part};
    use crate::testing::{mended, mends, said};
    use model::part::Source;
    use model::{Caliper, Crease, Direction, Document, FurtherStock, Length, Part, Size, Stock, StockId, Weight, Work};

    /// A hinge of a paper of its own that weighs so much.
    fn hinged(weight: &str) -> Document {
        let hinge =
            Part { source: Source::Stock(StockId(1)), ..moved(part(1, hinge("3", "1/2", "1/2"), base()), "2", "3") };
        let mut document = flap_and_base(vec![hinge]);
        let stock = Stock { weight: Weight::parse(weight).ok(), ..Stock::plain(Size::parse("A4").unwrap()) };
        document.further_stocks.push(FurtherStock { id: StockId(1), stock });
        document
    }

    #[test]
    fn a_hinge_of_thin_paper_is_noted_and_cut_from_heavier() {
        let thin = hinged("80 g/m2");
        let says = "\"Hinge 1's fold\" is worked to and fro, and paper of 80 g/m² soon wears through there.";
        assert_eq!(said(&thin, "worn-fold"), [says]);
        let [(label, mended)] = mended(&thin, "worn-fold").try_into().unwrap();
        assert_eq!(label, "Cut it from the folio's paper");
        assert_eq!(mended.parts[0].source, Source::FolioStock);
        assert_eq!(said(&hinged("120 g/m2"), "worn-fold"), [""; 0]);
    }

    #[test]
    fn a_score_that_folds_either_way_is_worked_and_one_that_stays_is_not() {
        let folio = |direction| {
            let mut document = flap_and_base(Vec::new());
            document.lines[0].work = Work::Score(Crease { direction, ..Crease::VALLEY });
            document.stock.caliper = Caliper::Measured(Length::from_nm(80_000));
            document
        };
        let says = "\"Score 1\" is worked to and fro, and paper of 0.08 mm soon wears through there.";
        assert_eq!(said(&folio(Direction::Either), "worn-fold"), [says]);
        assert_eq!(mends(&folio(Direction::Either), "worn-fold"), [""; 0]);
        assert_eq!(said(&folio(Direction::Valley), "worn-fold"), [""; 0]);
        let mut thick = folio(Direction::Either);
        thick.stock.caliper = Caliper::Measured(length("1/64"));
        assert_eq!(said(&thick, "worn-fold"), [""; 0]);
    }
}
