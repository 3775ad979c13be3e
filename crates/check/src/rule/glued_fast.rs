//! What should slide is held by glue: a card in its pocket or under its corner, or a band round the folio.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, Shapes};
use crate::{Context, Finding, Fix, Severity, Spot};
use fit::{CornerSet, Holder, InsertFit};
use fold::Assembly;
use model::part::{GlueArea, change};
use model::polygon::bounds;
use model::{PanelRef, Part, PartId, PartKind, PartLayout, Vector};

pub(super) const RULE: Rule = Rule {
    name: "glued-fast",
    severities: &[Severity::Warning],
    about: "What should slide is held by glue: a card in its pocket or under its corner, or a band round the folio.\n\n\
            A card that is glued in can't be taken out, one drawn over the glue of a tuck corner doesn't go in as far, \
            and a band that is glued to the folio doesn't slide off, so that it has to be torn to open it (plain from \
            how they work, no source). A card over the glue of a pocket is told by `misfit-insert`.",
    example: "\"Insert 2\" is glued to the base, so it can't be taken out of \"Pocket 1\".",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::plain();
    let mut findings = cards(context, &offers);
    let bands = context.document.parts.iter().filter(|part| matches!(part.kind, PartKind::Band(_)));
    findings.extend(bands.filter_map(|band| glued_band(context, band, &offers)));
    findings
}

/// Cards that lie in something and are held there.
fn cards(context: &Context<'_>, offers: &Offers<'_>) -> Vec<Finding> {
    let (document, layout) = (context.document, context.layout);
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let is_insert = |part: &&PartLayout| matches!(document.part(part.id), Some(Part { kind: PartKind::Insert(_), .. }));
    if !layout.parts.iter().any(|part| is_insert(&part)) {
        return Vec::new();
    }
    let holders = context.holders();
    let mut findings = Vec::new();
    for fit in fit::inserts(document, layout, &holders) {
        let Some(part) = layout.part(fit.part) else { continue };
        match &fit.lies_in {
            Holder::Loose(_) => {}
            _ if is_glued(context, assembly, part) => findings.push(glued_card(context, assembly, part, &fit, offers)),
            Holder::Corners(corners) => {
                let set = holders.corners.iter().find(|set| set.corners.iter().map(|it| it.part).eq(corners.clone()));
                findings.extend(set.and_then(|set| over_corner(context, assembly, part, &fit, set, offers)));
            }
            Holder::Pocket(_) | Holder::Tray(_) => {}
        }
    }
    findings
}

/// Whether glue holds a part where it lies.
fn is_glued(context: &Context<'_>, assembly: &Assembly, part: &PartLayout) -> bool {
    let body = |panel| assembly.place(panel).map(|place| context.bodies()[place]);
    let own = body(part.main);
    own.is_some() && part.laid.is_some_and(|laid| body(laid.on) == own)
}

fn glued_card(
    context: &Context<'_>,
    assembly: &Assembly,
    part: &PartLayout,
    fit: &InsertFit,
    offers: &Offers<'_>,
) -> Finding {
    let bond = assembly.bonds.iter().filter(|bond| !bond.area.is_empty()).find_map(|bond| {
        let [own, to] = bond.panels.map(|panel| assembly.panels[panel].id);
        [(own, to), (to, own)].into_iter().find(|(own, _)| *own == part.main)
    });
    let to = bond.map_or_else(|| "what it lies on".to_owned(), |(_, to)| context.the(to));
    let free = || {
        let edit = change::change(context.document, part.id, |part| part.also.clear())?;
        Some(Fix::new(format!("Take the glue off \"{}\"", part.name), edit))
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "\"{}\" is glued to {to}, so it can't be taken out of {}.",
            part.name,
            holder(context, &fit.lies_in)
        ),
        mend: "Take the glue off, or glue it on as a mat where nothing has to slide.".to_owned(),
        spot: Spot { panels: bond.into_iter().map(|(_, to)| to).chain([part.main]).collect(), ..Spot::default() },
        fixes: offers.of(free),
    }
}

fn holder(context: &Context<'_>, holder: &Holder) -> String {
    let name = |id: &PartId| format!("\"{}\"", context.document.part_name(*id));
    match holder {
        Holder::Pocket(id) => name(id),
        Holder::Corners(parts) => model::words::listed(parts.iter().map(name)),
        Holder::Tray(panel) | Holder::Loose(panel) => context.the(*panel),
    }
}

/// A card that goes between corners and is drawn over the glue of one of them.
fn over_corner(
    context: &Context<'_>,
    assembly: &Assembly,
    part: &PartLayout,
    fit: &InsertFit,
    set: &CornerSet,
    offers: &Offers<'_>,
) -> Option<Finding> {
    // One that is too large lies over it wherever it is; that has been said.
    let own = assembly.place(part.main).filter(|_| fit.problems.is_empty())?;
    let over = |corner: &fit::Corner| {
        let corner = context.layout.part(corner.part)?;
        let shapes =
            |panel: usize, shapes: &[Vec<glam::DVec2>]| Some(lie::laid(shapes, lie::onto(assembly, panel, own)?));
        let glue = assembly.bonds.iter().filter(|bond| assembly.panels[bond.panels[0]].id == corner.main);
        let glue: Shapes = glue.filter_map(|bond| shapes(bond.panels[0], &bond.area)).flatten().collect();
        Some((lie::deepest(&assembly.panels[own].convex, &glue), corner))
    };
    let (by, corner) = set.corners.iter().filter_map(over).max_by(|(a, _), (b, _)| a.total_cmp(b))?;
    lie::is_seen(by).then(|| Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "\"{}\" lies {} over the glue of \"{}\", so it doesn't go in there.",
            part.name,
            lie::readable(by, context.document.units),
            corner.name
        ),
        mend: "Move it to the middle between its corners, or make it smaller.".to_owned(),
        spot: Spot { panels: vec![part.main, corner.main], ..Spot::default() },
        fixes: offers.of(|| between(context, part, set)),
    })
}

/// Lays a card in the middle between its corners.
fn between(context: &Context<'_>, part: &PartLayout, set: &CornerSet) -> Option<Fix> {
    let laid = part.laid?;
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let there: Vec<_> = main.outline.iter().map(|&corner| laid.on_host(corner)).collect();
    let ((low, high), (least, most)) = (bounds(&there), set.space);
    let by = Vector { x: (least.x + most.x - low.x - high.x).half(), y: (least.y + most.y - low.y - high.y).half() };
    let edit = change::shift(context.document, part.id, by)?;
    Some(Fix::new("Lay it in the middle between its corners", edit))
}

fn glued_band(context: &Context<'_>, band: &Part, offers: &Offers<'_>) -> Option<Finding> {
    let is_own = |to: PanelRef| matches!(to, PanelRef::Part(id, _) if id == band.id);
    let glue = band.also.iter().find(|glue| glue.area != GlueArea::None && !is_own(glue.to))?;
    let (part, to) = (context.layout.part(band.id)?, context.layout.panel_of(glue.to)?);
    let free = || {
        let edit = change::change(context.document, band.id, |band| band.also.retain(|glue| is_own(glue.to)))?;
        Some(Fix::new(format!("Take the glue off \"{}\"", part.name), edit))
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!("\"{}\" is glued to {}, so it can't slide off and on.", part.name, context.the(to)),
        mend: "Glue its ends to one another only.".to_owned(),
        spot: Spot { panels: vec![part.main, to], ..Spot::default() },
        fixes: offers.of(free),
    })
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, mat, moved, part, pocket};
    use crate::testing::{mended, said};
    use model::part::{Band, Edges, GlueArea, Gluing, Insert, PanelCorner, TuckCorner};
    use model::{Document, Face, Length, PanelRef, Part, PartId, PartKind, SheetEdge};

    fn card(id: u32, width: &str, height: &str) -> Part {
        part(id, PartKind::Insert(Insert { width: length(width), height: length(height), caliper: None }), base())
    }

    fn all_over(to: PanelRef) -> Gluing {
        Gluing { panel: 0, face: Face::Back, to, area: GlueArea::Whole }
    }

    fn in_pocket(also: Vec<Gluing>) -> Document {
        let glued = [SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom];
        flap_and_base(vec![part(1, pocket("6", "5", &glued), base()), Part { also, ..card(2, "4", "4") }])
    }

    #[test]
    fn a_card_glued_into_its_pocket_is_told_and_freed() {
        let says = "\"Insert 2\" is glued to the base, so it can't be taken out of \"Pocket 1\".";
        assert_eq!(said(&in_pocket(vec![all_over(base())]), "glued-fast"), [says]);
        let [(label, mended)] = mended(&in_pocket(vec![all_over(base())]), "glued-fast").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Take the glue off \"Insert 2\"", in_pocket(Vec::new())));
        assert_eq!(said(&in_pocket(Vec::new()), "glued-fast"), [""; 0]);
    }

    #[test]
    fn what_is_glued_to_a_card_goes_along_with_it() {
        let mut document = in_pocket(Vec::new());
        document.parts.push(part(3, mat("2", "2"), PanelRef::Part(PartId(2), 0)));
        assert_eq!(said(&document, "glued-fast"), [""; 0]);
    }

    /// Tuck corners of 2 in at the upper left and the lower right, 6 by 5 in apart, and a card between them.
    #[track_caller]
    fn between(card: Part) -> Document {
        let tuck = |id, corner| {
            let (two, strip) = (length("2"), length("1/4"));
            part(
                id,
                PartKind::TuckCorner(TuckCorner { across: two, down: two, corner, band: Length::ZERO, strip }),
                base(),
            )
        };
        let first = moved(tuck(1, PanelCorner::TopLeft), "1", "3");
        flap_and_base(vec![first, moved(tuck(2, PanelCorner::BottomRight), "5", "6"), card])
    }

    #[test]
    fn a_card_over_the_glue_of_a_corner_is_laid_between() {
        // From glue to glue it is 5 1/2 by 4 1/2 in.
        let in_the_middle = || moved(card(3, "5 1/4", "4 1/4"), "1 3/8", "3 3/8");
        assert_eq!(said(&between(in_the_middle()), "misfit-insert"), [""; 0]);
        assert_eq!(said(&between(in_the_middle()), "glued-fast"), [""; 0]);
        let over = moved(in_the_middle(), "1 1/8", "3 3/8");
        let says = "\"Insert 3\" lies 1/8 in over the glue of \"Tuck corner 1\", so it doesn't go in there.";
        assert_eq!(said(&between(over.clone()), "glued-fast"), [says]);
        let [(label, mended)] = mended(&between(over), "glued-fast").try_into().unwrap();
        assert_eq!(label, "Lay it in the middle between its corners");
        assert_eq!(mended.parts[2].place, in_the_middle().place);
    }

    #[test]
    fn a_band_glued_to_the_folio_does_not_slide() {
        let band = |also| {
            let (around, width, overlap) = (length("20"), length("1"), length("1/2"));
            let band = PartKind::Band(Band { around, width, overlap, is_upright: false });
            flap_and_base(vec![Part { also, ..part(1, band, base()) }])
        };
        let area = GlueArea::Strips(Edges::of(&[SheetEdge::Left]), length("1/4"));
        let glue = Gluing { area, ..all_over(base()) };
        let says = "\"Band 1\" is glued to the base, so it can't slide off and on.";
        assert_eq!(said(&band(vec![glue]), "glued-fast"), [says]);
        assert_eq!(mended(&band(vec![glue]), "glued-fast")[0].1, band(Vec::new()));
        assert_eq!(said(&band(Vec::new()), "glued-fast"), [""; 0]);
    }
}
