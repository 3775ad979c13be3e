//! Heavy paper is folded more across its grain than along it.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use model::{Edit, Fold, Grain, Length, LineId, Pattern, Stock};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "across-grain",
    severities: &[Severity::Note],
    about: "Heavy paper is folded more across its grain than along it.\n\n\
            Fibres bend readily side by side and break when they are bent across: fold along the grain where that is \
            possible, and score from 150 g/m² (two mills and a printer say 150 to 200 for the latter). Where the \
            weight is not known, 0.15 mm is taken, as thick as silk-coated paper of 150 g/m² (bulk 1.0 cm³/g). A \
            folio with folds both ways has to cross the grain somewhere: it is told only when clearly more of them \
            cross it, half as much again (our choice), since turning the paper then helps. Parts are told when their \
            paper is chosen, and not here.",
    example: "24 in of the folio's folds run across the grain and 0 in along it, in paper of 216 g/m²: across it, they crack more readily.",
    check,
};

/// Grammage from which paper counts as heavy, in g/m².
const HEAVY: f64 = 150.0;

/// Thickness from which it does where its weight is unknown.
const THICK: Length = Length::from_mm_exact(0, 150_000);

fn check(context: &Context<'_>) -> Vec<Finding> {
    finding(context).into_iter().collect()
}

fn finding(context: &Context<'_>) -> Option<Finding> {
    let stock = &context.document.stock;
    let grain = stock.grain?;
    let paper = heavy(stock)?;
    let papers = context.papers();
    let folio = papers.iter().find(|paper| paper.part.is_none())?;
    let length_of = |is_across: bool| {
        let folds = folio.folds.iter().flat_map(|fold| &fold.stretches).map(|stretch| stretch.b - stretch.a);
        let way = folds.filter(|way| crosses(grain, *way) == is_across);
        way.fold(Length::ZERO, |sum, way| sum + way.length())
    };
    let (across, along) = (length_of(true), length_of(false));
    if across * 2 <= along * 3 {
        return None;
    }
    let unit = context.document.units;
    let is_across = |fold: &&&Fold| fold.stretches.iter().any(|stretch| crosses(grain, stretch.b - stretch.a));
    let lines: BTreeSet<LineId> = folio.folds.iter().filter(is_across).map(|fold| fold.line).collect();
    let fix = turned(context);
    let turn = if fix.is_some() { "Turn the sheet a quarter before it is scored" } else { "Take a sheet" };
    let so = if fix.is_some() { ", so that its fibres run" } else { " whose fibres run" };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "{} of the folio's folds run across the grain and {} along it, in paper of {paper}: across it, they crack \
             more readily.",
            across.readable(unit),
            along.readable(unit),
        ),
        mend: format!("{turn}{so} {}, or score deep and fold slowly.", words(other(grain))),
        spot: Spot { lines: lines.into_iter().collect(), ..Spot::default() },
        fixes: fix.into_iter().collect(),
    })
}

/// How heavy or thick a heavy paper is, in words; `None` for a light one, and where neither is known.
fn heavy(stock: &Stock) -> Option<String> {
    match stock.weight {
        Some(weight) => (weight.grammage() >= HEAVY).then(|| format!("{:.0} g/m²", weight.grammage())),
        None => {
            let thickness = stock.thickness().filter(|thickness| *thickness >= THICK)?;
            Some(thickness.readable(model::Unit::Millimetre))
        }
    }
}

/// Whether a way lies nearer to across the grain than to along it.
fn crosses(grain: Grain, way: model::Vector) -> bool {
    match grain {
        Grain::Upright => way.x.abs() > way.y.abs(),
        Grain::Level => way.y.abs() > way.x.abs(),
    }
}

const fn other(grain: Grain) -> Grain {
    match grain {
        Grain::Upright => Grain::Level,
        Grain::Level => Grain::Upright,
    }
}

const fn words(grain: Grain) -> &'static str {
    match grain {
        Grain::Upright => "from top to bottom",
        Grain::Level => "from side to side",
    }
}

/// The sheet turned a quarter, where that changes nothing but the grain: it is square, and nothing printed on it has an up.
fn turned(context: &Context<'_>) -> Option<Fix> {
    let stock = &context.document.stock;
    let has_no_up = [&stock.front, &stock.back]
        .into_iter()
        .all(|side| side.artwork.is_none() && !matches!(side.pattern, Pattern::OneWay(_)));
    let is_square = stock.size.width() == stock.size.height();
    let grain = stock.grain.map(other);
    (has_no_up && is_square)
        .then(|| Fix::new("Turn the paper a quarter", Edit::SetStock(Stock { grain, ..stock.clone() })))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps};
    use crate::testing::{mends, said};
    use model::{Caliper, Document, Grain, Length, Turn, Weight};

    /// Two upright folds and, above them, a level one, on paper with its grain so.
    fn on(size: &str, weight: &str, grain: Option<Grain>) -> Document {
        let sketch = Sketch::on(size).score(1, Turn::None, "3").score(2, Turn::None, "6");
        let mut document = sketch.base("7", "6").0;
        document.stock.weight = Weight::parse(weight).ok();
        document.stock.grain = grain;
        document
    }

    #[test]
    fn heavy_paper_folded_across_its_grain_is_told() {
        let says = "24 in of the folio's folds run across the grain and 0 in along it, in paper of 216 g/m²: across it, \
                    they crack more readily.";
        let across = on("12x12in", "80 lb cover", Some(Grain::Level));
        assert_eq!(said(&across, "across-grain"), [says]);
        assert_eq!(mends(&across, "across-grain"), ["Turn the paper a quarter"]);
        assert_eq!(said(&on("12x12in", "80 lb cover", Some(Grain::Upright)), "across-grain"), [""; 0]);
        assert_eq!(said(&on("12x12in", "80 lb cover", None), "across-grain"), [""; 0]);
    }

    #[test]
    fn light_paper_folds_either_way() {
        // 100 lb text is 148 g/m², as in a table of basis weights.
        assert_eq!(said(&on("12x12in", "100 lb text", Some(Grain::Level)), "across-grain"), [""; 0]);
        assert_eq!(said(&on("12x12in", "150 g/m2", Some(Grain::Level)), "across-grain").len(), 1);
        // Without a weight, thickness decides.
        let mut unknown = on("12x12in", "", Some(Grain::Level));
        assert_eq!(said(&unknown, "across-grain").len(), 1, "0.3 mm");
        unknown.stock.caliper = Caliper::Measured(Length::from_nm(149_000));
        assert_eq!(said(&unknown, "across-grain"), [""; 0]);
        unknown.stock.caliper = Caliper::Unknown;
        assert_eq!(said(&unknown, "across-grain"), [""; 0]);
    }

    #[test]
    fn a_sheet_that_is_not_square_can_not_be_turned() {
        assert_eq!(mends(&on("12x11in", "80 lb cover", Some(Grain::Level)), "across-grain"), [""; 0]);
    }

    #[test]
    fn a_little_more_across_than_along_is_no_matter() {
        // One fold each way: 12 in along and 18 in across, then 18 1/8.
        let on = |size: &str| {
            let mut document = Sketch::on(size).score(1, Turn::None, "6").score(2, Turn::Once, "6").base("9", "9").0;
            document.stock.grain = Some(Grain::Upright);
            said(&document, "across-grain")
        };
        assert_eq!(on("18x12in"), [""; 0]);
        assert_eq!(on("18.125x12in").len(), 1);
    }

    #[test]
    fn folds_as_long_both_ways_have_to_cross_it_somewhere() {
        let mut both = four_flaps();
        both.base = Some(crate::testing::common::at("6", "6"));
        for grain in [Grain::Level, Grain::Upright] {
            both.stock.grain = Some(grain);
            assert_eq!(said(&both, "across-grain"), [""; 0]);
        }
    }
}
