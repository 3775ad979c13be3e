//! A flap that a closure keeps down lies under another that nothing keeps down.

use super::{Rule, first_moves};
use crate::fix::Offers;
use crate::lie;
use crate::measure::closed_at;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Assembly, Folding};
use glam::DAffine3;
use model::change::move_step;
use model::{PanelId, PartKind};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "closure-under",
    severities: &[Severity::Warning],
    about: "A flap that a closure keeps down lies under another that nothing keeps down.\n\n\
            The flap with the magnet, the brad, the dot or the ribbon belongs on top, since it keeps down what lies \
            under it; closed first, it is out of reach and the one over it springs open (common practice, no source). A \
            flap that is tucked, or has a closure of its own, is kept down, and so is all under a band.",
    example: "\"Ribbon 1\" keeps down the left flap, but the right flap lies over it and nothing keeps that down.",
    check,
};

/// A closure under a flap that it does not keep down.
struct Under {
    closure: PanelId,
    name: String,
    /// The flap it is on, and the first step in which that moves.
    flap: (PanelId, usize),
    /// The flap over it.
    over: (PanelId, usize),
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::tried(context);
    let all = under(context);
    all.iter().map(|under| Finding { fixes: offers.of(|| last(context, under)), ..finding(context, under) }).collect()
}

fn under(context: &Context<'_>) -> Vec<Under> {
    let (document, layout) = (context.document, context.layout);
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    let closures: Vec<_> = layout
        .parts
        .iter()
        .filter(|part| document.part(part.id).and_then(lie::closure).is_some())
        .filter_map(|part| Some((part, part.laid?.on)))
        .collect();
    if closures.is_empty() || document.parts.iter().any(|part| matches!(part.kind, PartKind::Band(_))) {
        return Vec::new();
    }
    let first = first_moves(folding);
    let frames = folding.flat_pose(closed_at(folding));
    let kept: BTreeSet<PanelId> = closures.iter().map(|&(_, on)| on).chain(tucked(context)).collect();
    let mut all = Vec::new();
    for (part, on) in closures {
        let Some(&step) = first.get(&on).filter(|_| Some(on) != layout.base && folding.is_folded(on)) else { continue };
        // Those that come later, the last of them first.
        let over = first.iter().filter(|&(&panel, &later)| {
            later > step
                && layout.part_of(panel).is_none()
                && !kept.contains(&panel)
                && is_outside(assembly, folding, panel, on)
                && lies_over(assembly, &frames, panel, part.main)
        });
        let Some((&panel, &later)) = over.max_by_key(|&(_, later)| later) else { continue };
        let holds = |&kept: &PanelId| is_outside(assembly, folding, kept, panel);
        if !kept.iter().any(holds) {
            let name = part.name.clone();
            all.push(Under { closure: part.main, name, flap: (on, step), over: (panel, later) });
        }
    }
    all
}

/// The panels that some step tucks.
fn tucked(context: &Context<'_>) -> impl Iterator<Item = PanelId> {
    let tucks = context.document.steps.iter().flat_map(|step| &step.tucks);
    tucks.filter_map(|tuck| context.layout.panel_of(tuck.panel))
}

/// Whether a panel lies on another, on the side away from the base.
fn is_outside(assembly: &Assembly, folding: &Folding, panel: PanelId, on: PanelId) -> bool {
    let base = assembly.panels[assembly.base].id;
    let height = |panel| folding.height(panel);
    let Some((own, base)) = height(on).zip(height(base)) else { return false };
    folding.above(panel, on) == Some(own > base)
}

/// Whether a panel covers some of another as they lie on the table.
fn lies_over(assembly: &Assembly, frames: &[DAffine3], panel: PanelId, other: PanelId) -> bool {
    let (Some(a), Some(b)) = (assembly.place(panel), assembly.place(other)) else { return false };
    let on_table = |place: usize| lie::laid(&assembly.panels[place].convex, frames[place]);
    lie::overlap(&on_table(a), &on_table(b))
}

fn finding(context: &Context<'_>, under: &Under) -> Finding {
    let (flap, over) = (context.the(under.flap.0), context.the(under.over.0));
    let words = format!("\"{}\" keeps down {flap}, but {over} lies over it and nothing keeps that down.", under.name);
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(&words),
        mend: format!("Close {flap} after {over}, or put a closure on {over}."),
        spot: Spot {
            panels: vec![under.flap.0, under.over.0, under.closure],
            step: Some(under.over.1),
            ..Spot::default()
        },
        fixes: Vec::new(),
    }
}

/// Folds the flap with the closure after the one that lies over it.
fn last(context: &Context<'_>, under: &Under) -> Option<Fix> {
    let (from, to) = (under.flap.1, under.over.1);
    let edit = move_step(context.document, from, to)?;
    let label = format!("Fold step {} after step {}", from + 1, to + 1);
    context.if_fewer(label, edit, |context| self::under(context).len())
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{first, part};
    use crate::testing::{mended, said};
    use model::part::{Band, Closure, ClosureKind, Source};
    use model::{Document, Face, PanelRef, Part, PartKind, Turn};

    fn closure(id: u32, kind: ClosureKind, on: PanelRef) -> Part {
        let (width, height, thickness) = (length("1"), length("1/2"), length("1/64"));
        let closure = PartKind::Closure(Closure { kind, width, height, thickness });
        let mut closure = Part { source: Source::Bought, ..part(id, closure, on) };
        (closure.place.face, closure.place.showing) = (Face::Back, Face::Back);
        closure
    }

    fn left() -> PanelRef {
        PanelRef::Sheet(at("2", "3"))
    }

    fn right() -> PanelRef {
        PanelRef::Sheet(at("10", "3"))
    }

    /// A letter fold of 12 by 6 in whose left flap closes first, with these closures on the outside.
    fn letter(parts: Vec<Part>) -> Document {
        let mut document = Sketch::on("12x6in")
            .score(1, Turn::None, "4")
            .score(2, Turn::None, "8")
            .base("6", "3")
            .steps(&[&[1], &[2]])
            .0;
        document.parts = parts;
        document
    }

    #[test]
    fn a_closure_under_a_plain_flap_is_told_and_its_flap_closed_last() {
        let wrong = letter(vec![closure(1, ClosureKind::Ribbon, left())]);
        let says =
            "\"Ribbon 1\" keeps down the left flap, but the right flap lies over it and nothing keeps that down.";
        assert_eq!(said(&wrong, "closure-under"), [says]);
        assert_eq!(first(&wrong, "closure-under").spot.step, Some(1));
        let [(label, mended)] = mended(&wrong, "closure-under").try_into().unwrap();
        assert_eq!(label, "Fold step 1 after step 2");
        assert_eq!(mended.steps[1].lines, wrong.steps[0].lines);
    }

    #[test]
    fn what_lies_on_top_or_has_its_own_or_is_under_a_band_is_kept_down() {
        let ribbon = |id, on| closure(id, ClosureKind::Ribbon, on);
        assert_eq!(said(&letter(vec![ribbon(1, right())]), "closure-under"), [""; 0]);
        assert_eq!(said(&letter(vec![ribbon(1, left()), ribbon(2, right())]), "closure-under"), [""; 0]);
        assert_eq!(said(&letter(Vec::new()), "closure-under"), [""; 0]);
        let (around, width, overlap) = (length("13"), length("1"), length("1/2"));
        let band = PartKind::Band(Band { around, width, overlap, is_upright: true });
        let banded = letter(vec![ribbon(1, left()), part(2, band, PanelRef::Sheet(at("6", "3")))]);
        assert_eq!(said(&banded, "closure-under"), [""; 0]);
        // The right flap is too short to reach over the ribbon in the middle of the left one.
        let mut short = letter(vec![ribbon(1, left())]);
        short.stock.size = model::Size::parse("9x6in").unwrap();
        assert_eq!(said(&short, "closure-under"), [""; 0]);
    }
}
