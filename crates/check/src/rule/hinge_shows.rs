//! A hinge is seen beside what it carries: it is longer, or its leaf is wider than there is room under it.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, Shapes};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Assembly;
use model::part::change;
use model::part::usual::measure::HINGE_END;
use model::{Edit, Layout, Length, PartId, PartKind, PartLayout};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "hinge-shows",
    severities: &[Severity::Note],
    about: "A hinge is seen beside what it carries: it is longer, or its leaf is wider than there is room under it.\n\n\
            Makers cut a hinge a little shorter than what hangs on it, 1/8 in at each end (common practice, no \
            source). What is measured is the part folded down on its hinge, as it is put on.",
    example: "\"Hinge 1\" reaches 1/4 in out from under \"Pocket 2\", which it carries.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let offers = Offers::tried(context);
    let mut findings = Vec::new();
    for hinge in context.layout.parts.iter().filter(|part| is_hinge(context, part.id)) {
        let carried = carried(context, hinge);
        let by = shows(assembly, hinge, &carried);
        if lie::is_seen(by) {
            findings.push(finding(context, hinge, &carried, by, &offers));
        }
    }
    findings
}

/// How far a hinge reaches out from under all that it carries, in mm; 0 for one that carries nothing.
fn shows(assembly: &Assembly, hinge: &PartLayout, carried: &[&PartLayout]) -> f64 {
    let shapes: Vec<(usize, Shapes)> = carried.iter().filter_map(|part| covered(assembly, part)).collect();
    let leaves = hinge.panels.iter().filter_map(|leaf| assembly.place(leaf.id));
    leaves.map(|leaf| seen(assembly, leaf, &shapes)).fold(0.0, f64::max)
}

fn is_hinge(context: &Context<'_>, id: PartId) -> bool {
    context.document.part(id).is_some_and(|part| matches!(part.kind, PartKind::Hinge(_)))
}

/// What is glued to a hinge, other hinges left out.
fn carried<'a>(context: &Context<'a>, hinge: &PartLayout) -> Vec<&'a PartLayout> {
    let is_of_it = |panel| hinge.panels.iter().any(|leaf| leaf.id == panel);
    let is_on_it = |part: &&PartLayout| {
        let on = part.glue.iter().any(|glue| !glue.area.is_empty() && is_of_it(glue.panels[1]));
        on && part.id != hinge.id && !is_hinge(context, part.id)
    };
    context.layout.parts.iter().filter(is_on_it).collect()
}

/// What a part covers, on the sheet of its main panel.
fn covered(assembly: &Assembly, part: &PartLayout) -> Option<(usize, Shapes)> {
    let main = assembly.place(part.main)?;
    let shapes = lie::rigid(assembly, part)
        .into_iter()
        .filter_map(|panel| Some(lie::laid(&assembly.panels[panel].convex, lie::onto(assembly, panel, main)?)));
    Some((main, shapes.flatten().collect()))
}

/// How far a leaf reaches out from under all that its hinge carries, in mm.
fn seen(assembly: &Assembly, leaf: usize, carried: &[(usize, Shapes)]) -> f64 {
    let Some(&(first, _)) = carried.first() else { return 0.0 };
    let Some(by) = lie::onto(assembly, leaf, first) else { return 0.0 };
    let over = carried.iter().filter_map(|(main, shapes)| Some(lie::laid(shapes, lie::onto(assembly, *main, first)?)));
    let over: Shapes = over.flatten().collect();
    lie::farthest_from(&lie::outside(&lie::laid(&assembly.panels[leaf].convex, by), &over), &over)
}

fn finding(
    context: &Context<'_>,
    hinge: &PartLayout,
    carried: &[&PartLayout],
    by: f64,
    offers: &Offers<'_>,
) -> Finding {
    let unit = context.document.units;
    let names = carried.iter().map(|part| format!("\"{}\"", part.name));
    let panels: BTreeSet<_> = std::iter::once(hinge.main).chain(carried.iter().map(|part| part.main)).collect();
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "\"{}\" reaches {} out from under {}, which it carries.",
            hinge.name,
            lie::readable(by, unit),
            model::words::listed(names)
        ),
        mend: format!(
            "Make it shorter or its leaves narrower, or move it inwards; {} shorter at each end is usual.",
            HINGE_END.of(unit).text(unit)
        ),
        spot: Spot { panels: panels.into_iter().collect(), ..Spot::default() },
        fixes: offers.of(|| shortened(context, hinge, by)),
    }
}

/// Makes a hinge shorter, by what is seen and what is usual at each end where there is so much of it, if nothing of it
/// is seen then.
fn shortened(context: &Context<'_>, hinge: &PartLayout, by: f64) -> Option<Fix> {
    let unit = context.document.units;
    let PartKind::Hinge(was) = context.document.part(hinge.id)?.kind else { return None };
    let least = lie::up_to_mark(by, unit) * 2;
    let shorter = [least + HINGE_END.of(unit) * 2, least].map(|by| was.length - by);
    let hidden = |length: Length| {
        let edit = change::change(context.document, hinge.id, |part| {
            if let PartKind::Hinge(kind) = &mut part.kind {
                kind.length = length;
            }
        })?;
        is_hidden(context, hinge.id, edit.clone())?
            .then(|| Fix::new(format!("Make it {} long", length.readable(unit)), edit))
    };
    // Less than half of it would no longer carry what it does.
    shorter.into_iter().filter(|length| *length * 2 >= was.length).find_map(hidden)
}

/// Whether nothing is seen of a hinge after an edit.
fn is_hidden(context: &Context<'_>, hinge: PartId, edit: Edit) -> Option<bool> {
    let mut tried = context.document.clone();
    tried.apply(edit).ok()?;
    let layout = Layout::of(&tried);
    let assembly = fold::assemble(&tried, &layout)?;
    let then = Context::new(&tried, &layout, None, None);
    let hinge = layout.part(hinge)?;
    Some(!lie::is_seen(shows(&assembly, hinge, &carried(&then, hinge))))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, hinge, part, pocket};
    use crate::testing::{mended, mends, said};
    use model::part::{Anchor, AnchorFrom};
    use model::{Face, PanelRef, Part, PartId, SheetEdge};

    /// A hinge so long with a pocket of 3 in square on its free leaf, whose left edge lies so far beyond the leaf's.
    #[track_caller]
    fn raised(hinge_length: &str, beyond: &str) -> Vec<Part> {
        let mut pocket = part(2, pocket("3", "3", &[SheetEdge::Left]), PanelRef::Part(PartId(1), 1));
        pocket.place.face = Face::Back;
        pocket.place.across = Anchor { from: AnchorFrom::End, distance: -length(beyond) };
        vec![part(1, hinge(hinge_length, "1/2", "1/2"), base()), pocket]
    }

    #[track_caller]
    fn check(parts: Vec<Part>, says: &[&str]) {
        assert_eq!(said(&flap_and_base(parts), "hinge-shows"), says);
    }

    #[test]
    fn a_hinge_longer_than_what_it_carries_is_told() {
        check(raised("3 1/2", "0"), &["\"Hinge 1\" reaches 1/4 in out from under \"Pocket 2\", which it carries."]);
        check(raised("3", "0"), &[]);
        check(raised("2 3/4", "0"), &[]);
    }

    #[test]
    fn a_hinge_that_is_too_long_is_made_shorter() {
        let [(label, mended)] = mended(&flap_and_base(raised("3 1/2", "0")), "hinge-shows").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Make it 2 3/4 in long", flap_and_base(raised("2 3/4", "0"))));
        // What is seen of a leaf beside it is not mended so.
        assert_eq!(mends(&flap_and_base(raised("2 3/4", "-1/8")), "hinge-shows"), [""; 0]);
    }

    #[test]
    fn a_leaf_that_peeps_out_is_told() {
        check(raised("2 3/4", "-1/8"), &["\"Hinge 1\" reaches 1/8 in out from under \"Pocket 2\", which it carries."]);
        check(raised("2 3/4", "1/16"), &[]);
    }

    #[test]
    fn a_hinge_that_carries_nothing_is_nobodys_matter() {
        check(vec![part(1, hinge("3", "1/2", "1/2"), base())], &[]);
    }
}
