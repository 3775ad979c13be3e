//! A hinge can't open: something that is glued down lies over what it carries.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, Shapes};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Assembly;
use glam::DVec2;
use model::part::change::reorder;
use model::{PartId, PartKind, PartLayout};
use std::cell::LazyCell;
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "hinge-blocked",
    severities: &[Severity::Error],
    about: "A hinge can't open: something that is glued down lies over what it carries.\n\n\
            The free leaf swings up off the panel, with all that is glued to it; under a pocket or a mat that is glued \
            over its edge it stays caught, however the folio is opened. What is only hung there, such as the leaf of a \
            page, is turned out of the way first and does not count, nor does a card that is taken out (plain from how \
            hinges work, no source).",
    example: "\"Hinge 1\" can't open: \"Mat 3\" lies 1/2 in over \"Pocket 2\", which it carries, and is glued down.",
    check,
};

/// Something that lies over what a hinge carries, as places in [`Assembly::panels`].
struct Caught {
    under: usize,
    over: usize,
    by: f64,
    /// Whether no other part does.
    is_only: bool,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    let layers = LazyCell::new(|| folding.layers_before());
    let offers = Offers::plain();
    let is_hinge = |part: &&PartLayout| kind(context, part).is_some_and(|kind| matches!(kind, PartKind::Hinge(_)));
    let hinges = context.layout.parts.iter().filter(is_hinge);
    let finding = |hinge: &PartLayout| {
        let caught = caught(context, assembly, &layers, hinge)?;
        Some(finding(context, assembly, hinge, &caught, &offers))
    };
    hinges.filter_map(finding).collect()
}

fn kind<'a>(context: &Context<'a>, part: &PartLayout) -> Option<&'a PartKind> {
    Some(&context.document.part(part.id)?.kind)
}

/// What lies deepest over the part that swings with a hinge's free leaf, and can't move itself.
fn caught(context: &Context<'_>, assembly: &Assembly, layers: &[i32], hinge: &PartLayout) -> Option<Caught> {
    let leaf = assembly.place(hinge.main)?;
    let free = hinge.panels.iter().filter_map(|panel| assembly.place(panel.id)).find(|&panel| panel != leaf)?;
    let bodies = context.bodies();
    // One whose leaves are glued together is told as that.
    if bodies[free] == bodies[leaf] {
        return None;
    }
    // The free leaf lies over the other one, and swings to that side.
    let up = (layers[free] - layers[leaf]).signum();
    let swings = (0..assembly.panels.len()).filter(|&panel| bodies[panel] == bodies[free]);
    let fast = fast(context, assembly, leaf, free);
    let pairs = swings.flat_map(|under| fast.iter().map(move |over| (under, over)));
    let caught =
        pairs.filter(|(under, over)| (layers[over.panel] - layers[*under]) * up > 0).filter_map(|(under, over)| {
            let laid = lie::laid(&over.shapes, lie::onto(assembly, over.panel, under)?);
            let by = lie::deepest(&assembly.panels[under].convex, &laid);
            Some(Caught { under, over: over.panel, by, is_only: true })
        });
    let all: Vec<Caught> = caught.filter(|caught| lie::is_seen(caught.by)).collect();
    let parts: BTreeSet<_> =
        all.iter().filter_map(|caught| part_of(context, assembly, caught.over)).map(|it| it.id).collect();
    let most = all.into_iter().max_by(|a, b| a.by.total_cmp(&b.by))?;
    Some(Caught { is_only: parts.len() == 1, ..most })
}

/// A panel that stays where it is, as a place in [`Assembly::panels`], and what of it holds what lies under that, on
/// its sheet.
struct Fast {
    panel: usize,
    shapes: Shapes,
}

/// The panels of parts that stay where they are when a hinge opens: of pockets, mats and the like that are glued to the
/// folio, or to what the hinge is glued to, and not to what it carries. From under a pocket's open edge, a corner or a
/// tab things slip out, so of those only the glue holds.
fn fast(context: &Context<'_>, assembly: &Assembly, leaf: usize, free: usize) -> Vec<Fast> {
    let bodies = context.bodies();
    let is_folio = |body: usize| context.layout.part_of(assembly.panels[body].id).is_none();
    // A body has the number of its first panel, and the folio's come first.
    let stays = |panel: usize| bodies[panel] == bodies[leaf] || is_folio(bodies[panel]);
    let of_part = |part: &PartLayout| {
        let own: Vec<usize> = part.panels.iter().filter_map(|panel| assembly.place(panel.id)).collect();
        let is_one = match kind(context, part) {
            Some(PartKind::Hinge(_) | PartKind::Page(_) | PartKind::Flap(_)) => false,
            Some(PartKind::Insert(_)) | None => return Vec::new(),
            Some(_) => true,
        };
        let swings = own.iter().any(|&panel| bodies[panel] == bodies[free]);
        let is_held = own.iter().any(|&panel| stays(panel));
        match (is_one, swings) {
            (true, false) if is_held => own,
            (true, _) => Vec::new(),
            (false, _) => own.into_iter().filter(|&panel| stays(panel)).collect(),
        }
    };
    let shapes = |panel: usize| {
        let part = context.layout.part_of(assembly.panels[panel].id)?;
        let by_glue = matches!(kind(context, part)?, PartKind::Pocket(_) | PartKind::TuckCorner(_) | PartKind::Tab(_));
        let glue = assembly.bonds.iter().filter(|bond| bond.panels[0] == panel);
        Some(if by_glue {
            glue.flat_map(|bond| bond.area.iter().cloned()).collect()
        } else {
            assembly.panels[panel].convex.clone()
        })
    };
    let all = context.layout.parts.iter().flat_map(of_part).filter(|&panel| panel != leaf && panel != free);
    all.filter_map(|panel| Some(Fast { panel, shapes: shapes(panel)? })).collect()
}

fn finding(
    context: &Context<'_>,
    assembly: &Assembly,
    hinge: &PartLayout,
    caught: &Caught,
    offers: &Offers<'_>,
) -> Finding {
    let [under, over] = [caught.under, caught.over].map(|panel| assembly.panels[panel].id);
    let name = |panel| context.layout.part_of(panel).map_or_else(String::new, |part| format!("\"{}\"", part.name));
    let is_own = hinge.panels.iter().any(|panel| panel.id == under);
    let what = if is_own { "its free leaf".to_owned() } else { format!("{}, which it carries,", name(under)) };
    let by = lie::readable(caught.by, context.document.units);
    let panels: BTreeSet<_> = [hinge.main, under, over].into();
    Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!("\"{}\" can't open: {} lies {by} over {what} and is glued down.", hinge.name, name(over)),
        mend: format!(
            "Move {} off by {by} and a little, or put it on first, so that it comes to lie underneath.",
            name(over)
        ),
        spot: Spot { panels: panels.into_iter().collect(), ..Spot::default() },
        fixes: offers.of(|| {
            let over = part_of(context, assembly, caught.over).filter(|_| caught.is_only)?;
            put_on_first(context, assembly, hinge, over)
        }),
    }
}

fn part_of<'a>(context: &Context<'a>, assembly: &Assembly, panel: usize) -> Option<&'a PartLayout> {
    context.layout.part_of(assembly.panels[panel].id)
}

/// Puts what lies over it on before the hinge; `None` where it lies on what comes later, or what comes later is glued
/// where it lies.
fn put_on_first(context: &Context<'_>, assembly: &Assembly, hinge: &PartLayout, over: &PartLayout) -> Option<Fix> {
    let document = context.document;
    let place = |id: PartId| document.parts.iter().position(|part| part.id == id);
    let (to, from) = (place(hinge.id)?, place(over.id)?);
    let is_ready = document.part(over.id)?.hosts().all(|host| place(host).is_some_and(|host| host < to));
    let ground = assembly.place(over.laid?.on)?;
    let laid = |panel: usize, shapes: &[Vec<DVec2>]| Some(lie::laid(shapes, lie::onto(assembly, panel, ground)?));
    let own = over.panels.iter().filter_map(|panel| assembly.place(panel.id));
    let own: Shapes = own.filter_map(|panel| laid(panel, &assembly.panels[panel].convex)).flatten().collect();
    let is_glued_there = assembly.bonds.iter().any(|bond| {
        let part = part_of(context, assembly, bond.panels[0]).and_then(|part| place(part.id));
        let is_between = part.is_some_and(|part| (to..from).contains(&part)) && bond.panels[1] == ground;
        is_between && laid(bond.panels[0], &bond.area).is_some_and(|glue| lie::overlap(&glue, &own))
    });
    let edit = reorder(document, over.id, to).filter(|_| to < from && is_ready && !is_glued_there)?;
    Some(Fix::new(format!("Put {} on before {}", over.name, hinge.name), edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, hinge, mat, moved, part, pocket};
    use crate::testing::{mended, mends, said};
    use model::part::{Anchor, AnchorFrom, Insert, Page};
    use model::{Document, Face, PanelRef, Part, PartId, PartKind, SheetEdge};

    /// A hinge with a pocket of 3 in square on its free leaf, from 2 1/2 in from the left and 3 in from the top, and
    /// what is put on after it.
    fn under(after: Vec<Part>) -> Document {
        let mut carried = part(2, pocket("3", "3", &[SheetEdge::Right]), PanelRef::Part(PartId(1), 1));
        carried.place.face = Face::Back;
        carried.place.across = Anchor { from: AnchorFrom::Start, distance: length("0") };
        let mut parts = vec![moved(part(1, hinge("2 3/4", "1/2", "1/2"), base()), "5", "3 1/8"), carried];
        parts.extend(after);
        flap_and_base(parts)
    }

    #[test]
    fn a_mat_glued_over_what_a_hinge_carries_is_told() {
        let over = |across: &str| under(vec![moved(part(3, mat("2", "2"), base()), across, "3 1/2")]);
        let says =
            "\"Hinge 1\" can't open: \"Mat 3\" lies 1/2 in over \"Pocket 2\", which it carries, and is glued down.";
        assert_eq!(said(&over("1"), "hinge-blocked"), [says]);
        let [(label, mended)] = mended(&over("1"), "hinge-blocked").try_into().unwrap();
        assert_eq!(label, "Put Mat 3 on before Hinge 1");
        assert_eq!(mended.parts[0].id, PartId(3));
        assert_eq!(said(&over("1/2"), "hinge-blocked"), [""; 0], "beside it");
        // Put on first it would lie where the hinge is glued.
        assert_eq!(said(&over("3 1/4"), "hinge-blocked").len(), 1);
        assert_eq!(mends(&over("3 1/4"), "hinge-blocked"), [""; 0]);
    }

    #[test]
    fn what_goes_up_with_the_hinge_is_in_nobodys_way() {
        let on_pocket = part(3, mat("2", "2"), PanelRef::Part(PartId(2), 0));
        assert_eq!(said(&under(vec![on_pocket]), "hinge-blocked"), [""; 0]);
        assert_eq!(said(&under(Vec::new()), "hinge-blocked"), [""; 0]);
    }

    #[test]
    fn what_is_turned_or_taken_out_of_the_way_does_not_count() {
        let size = (length("2"), length("2"));
        let page = Page { width: size.0, height: size.1, hinged: SheetEdge::Left, strip: length("1/2") };
        let page = moved(part(3, PartKind::Page(page), base()), "1", "3 1/2");
        assert_eq!(said(&under(vec![page]), "hinge-blocked"), [""; 0]);
        let card = PartKind::Insert(Insert { width: size.0, height: size.1, caliper: None });
        assert_eq!(said(&under(vec![moved(part(3, card, base()), "1", "3 1/2")]), "hinge-blocked"), [""; 0]);
    }

    #[test]
    fn what_slips_out_from_under_an_open_edge_is_free() {
        // Its right edge, open, lies 1/2 in over the carried pocket, whose left edge is 2 1/2 in from the left.
        let slide_in = |glued: &[SheetEdge]| {
            let over = moved(part(3, pocket("2", "2", glued), base()), "1", "3 1/2");
            said(&under(vec![over]), "hinge-blocked")
        };
        assert_eq!(slide_in(&[SheetEdge::Left, SheetEdge::Bottom]).len(), 1, "the glue at the bottom runs over it");
        assert_eq!(slide_in(&[SheetEdge::Left]), [""; 0]);
    }

    #[test]
    fn a_free_leaf_without_anything_on_it_is_caught_too() {
        let parts = vec![
            moved(part(1, hinge("2 3/4", "1/2", "1/2"), base()), "5", "3"),
            moved(part(2, mat("2", "2"), base()), "3 1/4", "3 1/2"),
        ];
        let says = "\"Hinge 1\" can't open: \"Mat 2\" lies 1/4 in over its free leaf and is glued down.";
        assert_eq!(said(&flap_and_base(parts), "hinge-blocked"), [says]);
    }
}
