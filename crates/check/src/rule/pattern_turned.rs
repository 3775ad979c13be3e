//! A pattern with an up is seen upside down or sideways: on the closed folio, or where it shows on the way to it.

use super::Rule;
use crate::measure::closed_at;
use crate::shown::{LEAST_SHARE, SeenFace, before, papers, per_cent, seen};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Folding, View};
use model::part::Source;
use model::{Document, Edit, Face, PanelId, Pattern, SheetEdge, Side, Stock};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const RULE: Rule = Rule {
    name: "pattern-turned",
    severities: &[Severity::Warning, Severity::Note],
    about: "A pattern with an up is seen upside down or sideways: on the closed folio, or where it shows on the way \
            to it.\n\n\
            A flap that folds down from the top shows its back upside down, one from the side shows it upright: what \
            is printed on the paper has to be chosen, or covered, with that in mind. What the closed folio shows is \
            looked at from its front and, turned over like a page, from its back. Any other face counts where most of \
            it is seen while the folio lies front up and is being closed.",
    example: "Closed, the folio shows 100 % of its front upside down: the pattern of the top flap.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let has_up = |stock: &Stock| [&stock.front, &stock.back].into_iter().any(|side| edge(side).is_some());
    if folding.steps() == 0 || !papers(context).any(has_up) {
        return Vec::new();
    }
    let closed = View::ALL.map(|view| seen(context, closed_at(folding), view));
    let fix = turned_sheet(context, &closed);
    let of_view = |(view, faces): (View, &Vec<SeenFace<'_>>)| when_closed(context, view, faces, fix.as_ref());
    let findings = View::ALL.into_iter().zip(&closed).filter_map(of_view);
    findings.chain(on_the_way(context, folding, &closed)).collect()
}

const fn edge(side: &Side) -> Option<SheetEdge> {
    match side.pattern {
        Pattern::OneWay(edge) => Some(edge),
        Pattern::Plain | Pattern::AnyWay => None,
    }
}

/// How a pattern is turned, by the nearest quarter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Turned {
    Upright,
    Sideways,
    UpsideDown,
}

impl Turned {
    fn by(degrees: f64) -> Self {
        // The distance from upright, on either side: an eighth of a turn is still nearest to upright.
        let from_upright = degrees.min(360.0 - degrees);
        match from_upright {
            by if by <= 45.0 => Self::Upright,
            by if by < 135.0 => Self::Sideways,
            _ => Self::UpsideDown,
        }
    }

    /// How a face's pattern is turned; `None` for one without an up.
    fn of(context: &Context<'_>, face: &SeenFace<'_>) -> Option<Self> {
        Some(Self::by(face.shown.towards(face.up(context)?)))
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Upright => "upright",
            Self::Sideways => "sideways",
            Self::UpsideDown => "upside down",
        }
    }
}

fn is_turned(context: &Context<'_>, face: &SeenFace<'_>) -> bool {
    Turned::of(context, face).is_some_and(|turned| turned != Turned::Upright)
}

/// What the closed folio shows turned in one view, the larger of sideways and upside down by name.
fn when_closed(context: &Context<'_>, view: View, faces: &[SeenFace<'_>], fix: Option<&Fix>) -> Option<Finding> {
    let turned: Vec<&SeenFace<'_>> =
        faces.iter().filter(|face| face.share >= LEAST_SHARE && is_turned(context, face)).collect();
    let most = turned.iter().max_by(|a, b| a.share.total_cmp(&b.share).then(b.panel.cmp(&a.panel)))?;
    let how = Turned::of(context, most)?;
    let panels: Vec<PanelId> = turned.iter().map(|face| face.panel).collect();
    let share: f64 = turned.iter().map(|face| face.share).sum();
    let are_alike = turned.iter().all(|face| Turned::of(context, face) == Some(how));
    let how = if are_alike { how.words() } else { "upside down or sideways" };
    let mend = match fix {
        Some(fix) => format!("{} before it is scored, or cover them with mats.", fix.label),
        None => "Cover what is turned with mats, or choose a paper without an up.".to_owned(),
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "Closed, the folio shows {} of its {} {how}: the pattern of {}.",
            per_cent(share),
            view.word(),
            context.these(&panels)
        ),
        mend,
        spot: Spot { panels, ..Spot::default() },
        fixes: fix.cloned().into_iter().collect(),
    })
}

/// What is turned where it shows most before the folio is closed, of what the closed folio does not show.
fn on_the_way(context: &Context<'_>, folding: &Folding, closed: &[Vec<SeenFace<'_>>; 2]) -> Option<Finding> {
    let clearly = |face: &&SeenFace<'_>| face.share >= LEAST_SHARE;
    let told: BTreeSet<(PanelId, Face)> =
        closed.iter().flatten().filter(clearly).map(|face| (face.panel, face.face)).collect();
    let mut most: BTreeMap<(PanelId, Face), (usize, SeenFace<'_>)> = BTreeMap::new();
    for step in 0..folding.steps() {
        #[expect(clippy::cast_precision_loss, reason = "a count of steps is far below 2^52")]
        for face in seen(context, step as f64, View::Front).into_iter().filter(|face| clearly(&face)) {
            let at = (face.panel, face.face);
            if !told.contains(&at) && most.get(&at).is_none_or(|(_, known)| known.share < face.share) {
                most.insert(at, (step, face));
            }
        }
    }
    let turned: Vec<&(usize, SeenFace<'_>)> = most.values().filter(|(_, face)| is_turned(context, face)).collect();
    let (step, largest) =
        turned.iter().max_by(|(_, a), (_, b)| a.share.total_cmp(&b.share).then(b.panel.cmp(&a.panel)))?;
    let more = match turned.len() {
        1 => String::new(),
        2 => ", and one more face does so".to_owned(),
        all => format!(", and {} more faces do so", all - 1),
    };
    let when = if *step == 0 { "before the first step".to_owned() } else { format!("after step {step}") };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "The pattern on the {} of {} is seen {} {when}{more}; the closed folio does not show it.",
            largest.face.word(),
            context.the(largest.panel),
            Turned::of(context, largest)?.words(),
        ),
        mend: "Cover it with a mat, or leave it if it may be seen so.".to_owned(),
        spot: Spot {
            panels: turned.iter().map(|(_, face)| face.panel).collect(),
            step: step.checked_sub(1),
            ..Spot::default()
        },
        fixes: Vec::new(),
    })
}

/// The sheet turned before anything is done with it, where the closed folio then shows its pattern upright everywhere.
fn turned_sheet(context: &Context<'_>, closed: &[Vec<SeenFace<'_>>; 2]) -> Option<Fix> {
    let document = context.document;
    if !may_be_turned(document) {
        return None;
    }
    let faces = || closed.iter().flatten().filter(|face| face.share >= LEAST_SHARE);
    // Parts are cut from what is left so that they are upright again.
    let is_upright = |face: &SeenFace<'_>, quarters: u8| {
        let up = face.up(context).map(|edge| if face.part.is_none() { turned(edge, quarters) } else { edge });
        up.is_none_or(|edge| Turned::by(face.shown.towards(edge)) == Turned::Upright)
    };
    let is_square = document.stock.size.width() == document.stock.size.height();
    let quarters = [2, 1, 3].into_iter().filter(|quarters| *quarters == 2 || is_square);
    let best = quarters.into_iter().find(|&quarters| faces().all(|face| is_upright(face, quarters)))?;
    let side = |side: &Side| match edge(side) {
        Some(edge) => Side { pattern: Pattern::OneWay(turned(edge, best)), ..side.clone() },
        None => side.clone(),
    };
    let stock = &document.stock;
    let label = match best {
        1 => "Turn the sheet a quarter to the left",
        2 => "Turn the sheet half round",
        _ => "Turn the sheet a quarter to the right",
    };
    Some(Fix::new(label, Edit::SetStock(Stock { front: side(&stock.front), back: side(&stock.back), ..stock.clone() })))
}

/// Whether the sheet can be turned with nothing else to it: no picture lies on it, its grain is not known, and no offcut
/// is used just as it is.
fn may_be_turned(document: &Document) -> bool {
    let stock = &document.stock;
    let is_bare = stock.front.artwork.is_none() && stock.back.artwork.is_none() && stock.grain.is_none();
    is_bare && !document.parts.iter().any(|part| matches!(part.source, Source::Whole(_)))
}

/// An edge after so many quarters anticlockwise.
fn turned(edge: SheetEdge, quarters: u8) -> SheetEdge {
    (0..quarters).fold(edge, |edge, _| before(edge))
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, at, four_flaps};
    use crate::testing::part::{mat, part};
    use crate::testing::{findings, mends, said};
    use model::{Document, Face, PanelRef, Pattern, SheetEdge, Turn};

    /// A flap that folds over a base of 6 by 6 in, from one of its sides; with an up on the back.
    fn folded(turn: Turn, up: SheetEdge) -> Document {
        let (size, base) = match turn {
            Turn::None => ("12x6in", ("9", "3")),
            _ => ("6x12in", ("3", "9")),
        };
        let mut document = Sketch::on(size).score(1, turn, "6").base(base.0, base.1).steps(&[&[1]]).0;
        document.stock.back.pattern = Pattern::OneWay(up);
        document
    }

    #[test]
    fn a_flap_from_the_top_shows_its_back_upside_down() {
        // By hand, with a slip of paper: the flap folds down from the top; from the side it would be upright.
        let says = "Closed, the folio shows 100 % of its front upside down: the pattern of the top flap.";
        let document = folded(Turn::Once, SheetEdge::Top);
        assert_eq!(said(&document, "pattern-turned"), [says]);
        let finding = findings(&document).into_iter().find(|finding| finding.rule == "pattern-turned").unwrap();
        assert_eq!(finding.severity, Severity::Warning);
        assert_eq!(finding.fixes, [], "turned half round, the base's own back would be upside down");
        assert_eq!(said(&folded(Turn::None, SheetEdge::Top), "pattern-turned"), [""; 0]);
    }

    #[test]
    fn paper_laid_the_wrong_way_round_is_turned() {
        // Upright on both faces of the closed folio once the sheet is turned half round.
        let document = folded(Turn::None, SheetEdge::Bottom);
        assert_eq!(said(&document, "pattern-turned").len(), 2, "its front and its back");
        assert_eq!(mends(&document, "pattern-turned"), ["Turn the sheet half round"]);
        let sideways = folded(Turn::None, SheetEdge::Left);
        assert!(said(&sideways, "pattern-turned")[0].contains("sideways"));
        assert_eq!(mends(&sideways, "pattern-turned"), [""; 0], "the sheet is not square");
    }

    #[test]
    fn a_square_sheet_is_turned_a_quarter() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "6").base("9", "6").steps(&[&[1]]).0;
        for (up, label) in [(SheetEdge::Right, "left"), (SheetEdge::Left, "right")] {
            document.stock.back.pattern = Pattern::OneWay(up);
            assert_eq!(mends(&document, "pattern-turned"), [format!("Turn the sheet a quarter to the {label}")]);
        }
    }

    #[test]
    fn what_shows_only_on_the_way_is_a_note() {
        // Two flaps, the first from the top, then one as large from the bottom over it; fronts of the paper are plain.
        let mut document = Sketch::on("6x18in")
            .score(1, Turn::Once, "6")
            .score(2, Turn::Once, "12")
            .base("3", "9")
            .steps(&[&[1], &[2]])
            .0;
        document.stock.back.pattern = Pattern::OneWay(SheetEdge::Top);
        let cover = {
            let mut cover = part(1, mat("6", "6"), PanelRef::Sheet(at("3", "15")));
            cover.place.face = Face::Back;
            cover.source = model::part::Source::Stock(model::StockId(1));
            cover
        };
        let stock = model::Stock::plain(model::Size::parse("12x12in").unwrap());
        document.further_stocks.push(model::FurtherStock { id: model::StockId(1), stock });
        document.parts.push(cover);
        let says = "The pattern on the back of the top flap is seen upside down after step 1; the closed folio does not \
                    show it.";
        assert_eq!(said(&document, "pattern-turned"), [says]);
        let finding = findings(&document).into_iter().find(|finding| finding.rule == "pattern-turned").unwrap();
        assert_eq!((finding.severity, finding.spot.step), (Severity::Note, Some(0)));
        document.stock.back.pattern = Pattern::AnyWay;
        assert_eq!(said(&document, "pattern-turned"), [""; 0]);
    }

    #[test]
    fn a_part_is_cut_so_that_its_own_pattern_is_upright() {
        // The mat lies on the flap that folds down from the top, and covers it: it is seen when the folio is closed.
        let mut document = folded(Turn::Once, SheetEdge::Top);
        let mut cover = part(1, mat("6", "6"), PanelRef::Sheet(at("3", "3")));
        cover.place.face = Face::Back;
        document.stock.front.pattern = Pattern::OneWay(SheetEdge::Top);
        document.parts.push(cover);
        assert_eq!(said(&document, "pattern-turned"), [""; 0]);
    }

    #[test]
    fn an_open_sheet_is_not_closed() {
        let mut open = four_flaps();
        open.steps.clear();
        open.stock.back.pattern = Pattern::OneWay(SheetEdge::Left);
        assert_eq!(said(&open, "pattern-turned"), [""; 0]);
    }
}
