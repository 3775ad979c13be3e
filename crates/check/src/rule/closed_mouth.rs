//! A pocket has no mouth, or another part is glued over it.

use super::Rule;
use crate::lie::{self, Shapes};
use crate::{Context, Finding, Fix, Severity, Spot};
use fit::Holds;
use fold::overlap::edges;
use glam::DVec2;
use model::part::{Edges, Pocket, change};
use model::{PartId, PartKind, PartLayout, Point, SheetEdge};

pub(super) const RULE: Rule = Rule {
    name: "closed-mouth",
    severities: &[Severity::Error, Severity::Warning],
    about: "A pocket has no mouth, or another part is glued over it.\n\n\
            Nothing goes into a pocket that is glued all round, and what is glued across its mouth narrows it by as \
            much (plain from how pockets work, no source).",
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
    use crate::testing::part::{base, flap_and_base, mat, moved, part, pocket};
    use crate::testing::{mended, said};
    use model::SheetEdge::{Bottom, Left, Right, Top};
    use model::part::{Edges, GlueArea, Gluing};
    use model::{Document, Face, PartKind};

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
        let mut added = |edges: &[model::SheetEdge]| {
            let area = GlueArea::Strips(Edges::of(edges), crate::testing::common::length("1/4"));
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
}
