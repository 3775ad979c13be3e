//! A pocket has no mouth, another part is glued over it, or one covers it that is glued across the way out.

use super::Rule;
use crate::lie::{self, Shapes};
use crate::{Context, Finding, Fix, Severity, Spot};
use fit::Holds;
use fold::overlap::{edges, is_proper, shared};
use fold::{Assembly, Bond};
use glam::DVec2;
use model::part::{Edges, Pocket, change};
use model::{PartId, PartKind, PartLayout, Point, SheetEdge};

pub(super) const RULE: Rule = Rule {
    name: "closed-mouth",
    severities: &[Severity::Error, Severity::Warning],
    about: "A pocket has no mouth, another part is glued over it, or one covers it that is glued across the way \
            out.\n\n\
            Nothing goes into a pocket that is glued all round, and what is glued across its mouth narrows it by as \
            much. A card as long as the pocket is deep needs as much room again to come out; under something that \
            covers the mouth it can't bend up, and stops where that is glued. A fold beside a mouth closes nothing: in \
            the open folio it lies flat (plain from how pockets work, no source).",
    example: "Nothing goes into \"Pocket 1\": it is glued along all four edges.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let pockets: Vec<(usize, &PartLayout, &Pocket)> = context
        .layout
        .parts
        .iter()
        .enumerate()
        .filter_map(|(place, part)| match &context.document.part(part.id)?.kind {
            PartKind::Pocket(pocket) => Some((place, part, pocket)),
            _ => None,
        })
        .collect();
    let mut findings = closed(context, &pockets);
    findings.extend(pockets.iter().flat_map(|&(place, part, pocket)| glued_over(context, place, part, pocket)));
    findings.extend(pockets.iter().filter_map(|&(place, part, pocket)| no_way_out(context, place, part, pocket)));
    findings
}

/// Pockets without a mouth.
fn closed(context: &Context<'_>, pockets: &[(usize, &PartLayout, &Pocket)]) -> Vec<Finding> {
    if pockets.is_empty() {
        return Vec::new();
    }
    let fits = context.pockets();
    let has_mouth = |id: PartId| {
        let fit = fits.iter().find(|fit| fit.part == id);
        !fit.is_some_and(|fit| matches!(&fit.holds, Holds::Pocket(inside) if inside.mouths.is_empty()))
    };
    let closed = pockets.iter().filter(|(_, part, pocket)| pocket.mouth().is_none() || !has_mouth(part.id));
    closed.map(|(_, part, pocket)| without_mouth(context, part, pocket)).collect()
}

fn without_mouth(context: &Context<'_>, part: &PartLayout, pocket: &Pocket) -> Finding {
    let all_round = pocket.mouth().is_none();
    let why = if all_round { "it is glued along all four edges" } else { "glue or hinges close all of its edges" };
    let open = || {
        let edit = change::change(context.document, part.id, |part| {
            if let PartKind::Pocket(pocket) = &mut part.kind {
                pocket.glued = pocket.glued.with(SheetEdge::Top, false);
            }
        })?;
        Some(Fix::new("Leave its top edge open", edit))
    };
    let added = context.document.part(part.id).is_some_and(|part| !part.also.is_empty());
    Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!("Nothing goes into \"{}\": {why}.", part.name),
        mend: "Leave an edge without glue.".to_owned(),
        spot: Spot { panels: vec![part.main], ..Spot::default() },
        // What else closes it can't be told from its own glue.
        fixes: if all_round && !added { open().into_iter().collect() } else { Vec::new() },
    }
}

/// Parts put on after a pocket whose glue lies over its mouth.
fn glued_over(context: &Context<'_>, place: usize, part: &PartLayout, pocket: &Pocket) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let (Some(laid), Some(front)) = (part.laid, assembly.place(part.main)) else { return Vec::new() };
    let mouths = mouths(context, part, pocket.glued);
    let mut findings = Vec::new();
    for later in context.layout.parts.iter().skip(place + 1) {
        let is_beside = later.laid.is_some_and(|other| (other.on, other.face) == (laid.on, laid.face));
        let glue = assembly.bonds.iter().filter(|bond| {
            let [own, to] = bond.panels.map(|panel| assembly.panels[panel].id);
            is_beside && to == laid.on && later.panels.iter().any(|panel| panel.id == own)
        });
        let glue = glue.filter_map(|bond| Some(lie::laid(&bond.area, lie::onto(assembly, bond.panels[0], front)?)));
        let glue: Shapes = glue.flatten().collect();
        let over = mouths.iter().map(|&mouth| (covered(mouth, &glue), mouth)).max_by(|(a, _), (b, _)| a.total_cmp(b));
        if let Some((by, (a, b))) = over.filter(|&(by, _)| lie::is_seen(by)) {
            let unit = context.document.units;
            findings.push(Finding {
                rule: RULE.name,
                severity: Severity::Warning,
                sentence: format!(
                    "The glue of \"{}\" lies over {} of the mouth of \"{}\", which is {} wide.",
                    later.name,
                    lie::readable(by, unit),
                    part.name,
                    lie::readable(a.distance(b), unit)
                ),
                mend: format!("Move \"{}\" clear of the mouth.", later.name),
                spot: Spot { panels: vec![part.main, later.main], ..Spot::default() },
                fixes: Vec::new(),
            });
        }
    }
    findings
}

/// Something put on after a pocket that covers a mouth and is glued across the way out of it.
struct Across<'a> {
    part: &'a PartLayout,
    /// How far beyond the mouth it is glued, in mm.
    by: f64,
    /// How far a card has to come out, in mm.
    needs: f64,
}

/// Tells of a pocket all of whose mouths are covered so, by the mouth that leaves most of the way.
fn no_way_out(context: &Context<'_>, place: usize, part: &PartLayout, pocket: &Pocket) -> Option<Finding> {
    let (assembly, _) = context.folded?;
    let (front, later) = (assembly.place(part.main)?, context.layout.parts.get(place + 1..).filter(|l| !l.is_empty())?);
    let (low, high) = context.layout.panel(part.main).bounds();
    let middle = fold::to_world(Point::new((low.x + high.x).half(), (low.y + high.y).half()));
    let across = |&mouth: &(DVec2, DVec2)| {
        // As far out as the pocket reaches in from there.
        let needs = 2.0 * mouth.0.midpoint(mouth.1).distance(middle);
        let of_part = |part| Some(Across { part, by: glued_across(assembly, front, part, mouth, needs)?, needs });
        later.iter().filter_map(of_part).min_by(|a, b| a.by.total_cmp(&b.by))
    };
    let all: Option<Vec<Across<'_>>> = mouths(context, part, pocket.glued).iter().map(across).collect();
    let Across { part: later, by, needs } = all?.into_iter().max_by(|a, b| a.by.total_cmp(&b.by))?;
    let unit = context.document.units;
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "\"{}\" covers the mouth of \"{}\" and is glued {} beyond it, where {} are needed to take a card out.",
            later.name,
            part.name,
            lie::readable(by, unit),
            lie::readable(needs, unit)
        ),
        mend: format!("Glue \"{}\" elsewhere, or leave another edge of \"{}\" open.", later.name, part.name),
        spot: Spot { panels: vec![part.main, later.main], ..Spot::default() },
        fixes: Vec::new(),
    })
}

/// How far beyond a mouth, on the sheet of a pocket's front, a panel of a part is glued that covers it, in mm; `None`
/// where it is glued within so many mm nowhere, or the very mouth is glued over: that is told by how much.
fn glued_across(
    assembly: &Assembly,
    front: usize,
    part: &PartLayout,
    (a, b): (DVec2, DVec2),
    needs: f64,
) -> Option<f64> {
    let out = DVec2::new(b.y - a.y, a.x - b.x).normalize_or_zero();
    let is_out = (assembly.panels[front].convex.iter().flatten()).all(|&corner| (corner - a).dot(out) < lie::HAIR.mm());
    let out = if is_out { out } else { -out };
    let way = {
        let mut way = vec![a, b, b + out * needs, a + out * needs];
        if fold::overlap::area(&way) < 0.0 {
            way.reverse();
        }
        [way]
    };
    let of_bond = |bond: &Bond| {
        let panel = &assembly.panels[bond.panels[0]];
        let is_own = part.panels.iter().any(|own| own.id == panel.id);
        let onto = lie::onto(assembly, bond.panels[0], front).filter(|_| is_own && !bond.area.is_empty())?;
        let (glue, whole) = (lie::laid(&bond.area, onto), lie::laid(&panel.convex, onto));
        if bond.panels[1] == front || !lie::is_seen(covered((a, b), &whole)) || lie::is_seen(covered((a, b), &glue)) {
            return None;
        }
        let in_way =
            glue.iter().flat_map(|glue| way.iter().map(move |way| shared(glue, way))).filter(|it| is_proper(it));
        in_way.flatten().map(|corner| (corner - a).dot(out)).min_by(f64::total_cmp)
    };
    assembly.bonds.iter().filter_map(of_bond).min_by(f64::total_cmp)
}

/// The edges of a pocket's front that are not glued, on its own sheet.
fn mouths(context: &Context<'_>, part: &PartLayout, glued: Edges) -> Vec<(DVec2, DVec2)> {
    let (low, high) = context.layout.panel(part.main).bounds();
    let side = |edge: SheetEdge| {
        let (a, b) = match edge {
            SheetEdge::Top => (low, Point::new(high.x, low.y)),
            SheetEdge::Right => (Point::new(high.x, low.y), high),
            SheetEdge::Bottom => (high, Point::new(low.x, high.y)),
            SheetEdge::Left => (Point::new(low.x, high.y), low),
        };
        (fold::to_world(a), fold::to_world(b))
    };
    glued.others().map(side).collect()
}

/// How much of a stretch lies within shapes that don't overlap, in mm.
fn covered((a, b): (DVec2, DVec2), shapes: &Shapes) -> f64 {
    let within = |shape: &Vec<DVec2>| {
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (p, q) in edges(shape) {
            // Positive to the left of the side, within.
            let (at_a, at_b) = ((q - p).perp_dot(a - p), (q - p).perp_dot(b - p));
            match (at_a > 0.0, at_b > 0.0) {
                (true, true) => {}
                (false, false) => return 0.0,
                (true, false) => to = to.min(at_a / (at_a - at_b)),
                (false, true) => from = from.max(at_a / (at_a - at_b)),
            }
        }
        (to - from).max(0.0)
    };
    shapes.iter().map(within).sum::<f64>() * a.distance(b)
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{at, length};
    use crate::testing::part::{base, flap_and_base, mat, moved, part, pocket};
    use crate::testing::{mended, said};
    use model::SheetEdge::{Bottom, Left, Right, Top};
    use model::part::{Edges, GlueArea, Gluing, Own};
    use model::{Document, Face, PartKind, SheetEdge, Size};

    #[test]
    fn a_pocket_glued_all_round_takes_nothing() {
        let closed = flap_and_base(vec![part(1, pocket("4", "4", &[Top, Right, Bottom, Left]), base())]);
        let says = "Nothing goes into \"Pocket 1\": it is glued along all four edges.";
        assert_eq!(said(&closed, "closed-mouth"), [says]);
        let mended = &mended(&closed, "closed-mouth")[0].1;
        assert!(matches!(&mended.parts[0].kind, PartKind::Pocket(pocket) if !pocket.glued.has(Top)));
    }

    #[test]
    fn glue_that_is_added_closes_it_too() {
        let mut pocket = part(1, pocket("4", "4", &[Right, Bottom, Left]), base());
        let mut added = |edges: &[SheetEdge]| {
            let area = GlueArea::Strips(Edges::of(edges), length("1/4"));
            pocket.also = vec![Gluing { panel: 0, face: Face::Back, to: base(), area }];
            said(&flap_and_base(vec![pocket.clone()]), "closed-mouth")
        };
        assert_eq!(added(&[Left]), [""; 0]);
        assert_eq!(added(&[Top]), ["Nothing goes into \"Pocket 1\": glue or hinges close all of its edges."]);
    }

    /// A pocket of 4 by 4 in, open at the top, 3 in from the top of the base, and a mat of 2 by 2 in put on after it.
    #[track_caller]
    fn with_mat(across: &str, down: &str) -> Document {
        let pocket = moved(part(1, pocket("4", "4", &[Right, Bottom, Left]), base()), "2", "3");
        flap_and_base(vec![pocket, moved(part(2, mat("2", "2"), base()), across, down)])
    }

    #[test]
    fn a_mat_glued_over_a_mouth_says_over_how_much_of_it() {
        let says = |by: &str| {
            format!("The glue of \"Mat 2\" lies over {by} of the mouth of \"Pocket 1\", which is 4 in wide.")
        };
        assert_eq!(said(&with_mat("3", "2"), "closed-mouth"), [says("2 in")]);
        assert_eq!(said(&with_mat("5 1/2", "2"), "closed-mouth"), [says("1/2 in")]);
        // Up to the mouth, beside the pocket, or across its glued bottom.
        assert_eq!(said(&with_mat("3", "1"), "closed-mouth"), [""; 0]);
        assert_eq!(said(&with_mat("6", "2"), "closed-mouth"), [""; 0]);
        assert_eq!(said(&with_mat("3", "6"), "closed-mouth"), [""; 0]);
    }

    #[test]
    fn a_mat_under_a_pocket_leaves_its_mouth_open() {
        let mut under = with_mat("3", "2");
        under.parts.reverse();
        assert_eq!(said(&under, "closed-mouth"), [""; 0]);
    }

    /// The same pocket under a cover of the maker's own, 8 in wide and so high, glued along these edges.
    #[track_caller]
    fn covered(down: &str, height: &str, glued: &[SheetEdge]) -> Document {
        let size = Size::parse(&format!("8x{height}in")).unwrap();
        let own = Own { size, lines: vec![], corners: vec![], base: at("1", "1"), folded: vec![] };
        let mut cover = moved(part(2, PartKind::Own(own), base()), "0", down);
        let area = GlueArea::Strips(Edges::of(glued), length("1/4"));
        cover.also = vec![Gluing { panel: 0, face: Face::Back, to: base(), area }];
        let pocket = moved(part(1, pocket("4", "4", &[Right, Bottom, Left]), base()), "2", "3");
        flap_and_base(vec![pocket, cover])
    }

    #[test]
    fn a_cover_glued_across_the_way_out_of_a_mouth_is_told() {
        // It begins 1 in above the mouth and is glued along its upper edge, 1/4 in wide.
        let document = covered("2", "3", &[Top]);
        let says = "\"Own shape 2\" covers the mouth of \"Pocket 1\" and is glued 3/4 in beyond it, where 4 in are needed to take a \
                    card out.";
        assert_eq!(said(&document, "closed-mouth"), [says]);
        // Glued beyond the length of a card it lets that out.
        assert_eq!(said(&covered("0", "5", &[Top]), "closed-mouth").len(), 1);
        assert_eq!(said(&covered("-1 1/4", "6 1/4", &[Top]), "closed-mouth"), [""; 0]);
    }

    #[test]
    fn a_cover_that_leaves_the_way_free_is_silent() {
        // Glued beside the pocket, or below it, it lets a card out at the top; one that begins beyond the mouth does
        // not cover it, and a card bends up over it.
        assert_eq!(said(&covered("2", "3", &[Left, Right]), "closed-mouth"), [""; 0]);
        assert_eq!(said(&covered("2", "7", &[Bottom]), "closed-mouth"), [""; 0]);
        assert_eq!(said(&covered("0", "3", &[Top]), "closed-mouth"), [""; 0]);
    }
}
