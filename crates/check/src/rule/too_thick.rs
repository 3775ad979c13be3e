//! A fold on one score goes round more than it can, though what it goes round ends before its crease.

use super::Rule;
use crate::lie;
use crate::measure::{at_least, closed_at};
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::overlap::{edges, middle};
use fold::{Assembly, FoldGap, Folding, LEAST_DOUBLE, Scoring};
use glam::{DAffine3, DVec2};
use model::{Length, Unit};

pub(super) const RULE: Rule = Rule {
    name: "too-thick",
    severities: &[Severity::Warning, Severity::Note],
    about: "A fold on one score goes round more than it can, though what it goes round ends before its crease.\n\n\
            One score, pressed wide, makes a back of 1/8 in at most (a maker of binders' tools, of spines), and round a \
            stack of thickness `T` paper of caliper `t` takes one of `T + t`. What lies farther \
            from the crease is gone round by paper that bows up to it: the flap stands open, and pulls at what keeps it \
            shut. Where it rises by more than one in five between the crease and the stack (our choice; about 11°), that is a \
            warning, else a note. A stack that lies at the crease is told by `tight-fold`, one in a gusset by \
            `thin-gusset`, and what the closed folio is for the post by `describe`.",
    example: "The left flap closes over 4 mm, and its fold, \"Score 1\", goes round 2.87 mm at most on one score.",
    check,
};

/// How steeply paper rises from a crease to a stack before a flap stands open (our choice).
const STEEP: f64 = 0.2;

/// The thickest place between the two panels of a fold.
struct Stack {
    /// How thick, in mm.
    thick: f64,
    /// How far from the crease it begins, in mm.
    away: f64,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    // All of it in one pile would still be thin enough for a wide score.
    let all: f64 = assembly.panels.iter().map(|panel| panel.caliper).sum();
    // How thick the folio is anywhere is worked out in any case, to tell whether it lies level.
    if all <= LEAST_DOUBLE || context.thickness().is_none_or(|thick| thick.greatest <= LEAST_DOUBLE) {
        return Vec::new();
    }
    let frames = folding.flat_pose(closed_at(folding));
    let flat = context.gaps().iter().filter(|gap| gap.has <= 0.0 && gap.scoring != Scoring::Double);
    let thick = flat.filter_map(|gap| Some((gap, stack(assembly, folding, &frames, gap)?)));
    let thick = thick
        .filter(|(gap, stack)| stack.thick + assembly.caliper_of(assembly.joints[gap.joint].panels[0]) > LEAST_DOUBLE);
    thick.map(|(gap, stack)| finding(context, assembly, gap, &stack)).collect()
}

/// What lies between the two panels of a fold where it is thickest; `None` where nothing does.
fn stack(assembly: &Assembly, folding: &Folding, frames: &[DAffine3], gap: &FoldGap) -> Option<Stack> {
    let joint = &assembly.joints[gap.joint];
    let [a, b] = joint.panels;
    let between = folding.between(a, b);
    // All of that in one pile is more than lies anywhere.
    let most: f64 = between.iter().map(|&panel| assembly.panels[panel].caliper).sum();
    if most + assembly.caliper_of(a) <= LEAST_DOUBLE {
        return None;
    }
    let into = frames[a].inverse();
    let seen = |panel: usize| lie::laid(&assembly.panels[panel].convex, into * frames[panel]);
    let between: Vec<(f64, Vec<Boxed>)> = between
        .into_iter()
        .map(|panel| (assembly.panels[panel].caliper, seen(panel).into_iter().map(boxed).collect()))
        .collect();
    let &(from, to) = joint.stretches.first()?;
    let along = (to - from).normalize_or_zero();
    // The thickest place is looked for in the middle of each layer.
    let places = between.iter().flat_map(|(_, shapes)| shapes.iter().map(|(_, _, shape)| middle(shape)));
    let stacks = places.map(|place| {
        let here: Vec<_> = between.iter().filter(|(_, shapes)| holds(shapes, place)).collect();
        let corners = here.iter().flat_map(|(_, shapes)| shapes.iter().flat_map(|(_, _, shape)| shape));
        let away = corners.map(|&corner| along.perp_dot(corner - from).abs()).fold(f64::INFINITY, f64::min);
        Stack { thick: here.iter().map(|(caliper, _)| caliper).sum(), away }
    });
    stacks.max_by(|x, y| x.thick.total_cmp(&y.thick))
}

/// A convex shape, anticlockwise, behind the corners of the upright rectangle round it.
type Boxed = (DVec2, DVec2, Vec<DVec2>);

fn boxed(shape: Vec<DVec2>) -> Boxed {
    let (low, high) = shape
        .iter()
        .fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), &corner| (low.min(corner), high.max(corner)));
    (low, high, shape)
}

/// Whether one of some shapes holds a point.
fn holds(shapes: &[Boxed], at: DVec2) -> bool {
    let inside = |(low, high, shape): &Boxed| {
        low.cmple(at).all() && high.cmpge(at).all() && edges(shape).all(|(a, b)| (b - a).perp_dot(at - a) >= 0.0)
    };
    shapes.iter().any(inside)
}

fn finding(context: &Context<'_>, assembly: &Assembly, gap: &FoldGap, stack: &Stack) -> Finding {
    let joint = &assembly.joints[gap.joint];
    let [first, second] = joint.panels.map(|panel| assembly.panels[panel].id);
    let flap = if first == assembly.panels[assembly.base].id { second } else { first };
    let thick = Length::from_mm_rounded(stack.thick).unwrap_or(Length::LIMIT).readable(Unit::Millimetre);
    // A back is as wide as the stack and the paper that goes round it; told is what suffices, rounded down.
    let most = (LEAST_DOUBLE - assembly.caliper_of(joint.panels[0])).max(0.0);
    let most = Length::from_mm_rounded((most * 100.0).floor() / 100.0).unwrap_or(Length::LIMIT);
    let words = format!(
        "{} closes over {thick}, and its fold, {}, goes round {} at most on one score.",
        context.the(flap),
        context.line(joint.line),
        most.readable(Unit::Millimetre)
    );
    let allowance = context.allowance();
    let needed = allowance.square_back(stack.thick, assembly.caliper_of(joint.panels[0]));
    let on_board = allowance.next_groove(needed).and_then(Length::from_mm_rounded);
    let wide = on_board.map_or_else(|| at_least(needed), |groove| groove.readable(context.document.units));
    Finding {
        rule: RULE.name,
        severity: if stack.thick > STEEP * stack.away { Severity::Warning } else { Severity::Note },
        sentence: sentence(&words),
        mend: format!("Make the fold a gusset, two scores {wide} apart, or put less under {}.", context.the(flap)),
        spot: Spot { panels: vec![first, second], lines: vec![joint.line], ..Spot::default() },
        fixes: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{first, part};
    use crate::testing::said;
    use model::part::Insert;
    use model::{Document, Length, PanelRef, PartKind, Turn};

    /// A strip of 12 by 6 in folded in half round an insert that is so thick, and so wide, in the middle of 6 in.
    fn round(nm: i64, width: &str) -> Document {
        let mut document = Sketch::on("12x6in").score(1, Turn::None, "6").base("9", "3").steps(&[&[1]]).0;
        let insert = Insert { width: length(width), height: length("5"), caliper: Some(Length::from_nm(nm)) };
        document.parts.push(part(1, PartKind::Insert(insert), PanelRef::Sheet(at("9", "3"))));
        document
    }

    #[test]
    fn a_stack_that_ends_before_the_crease_is_told_by_how_steeply_paper_rises_to_it() {
        let says =
            "The left flap closes over 4 mm, and its fold, \"Score 1\", goes round 2.87 mm at most on one score.";
        // It begins 1/2 in from the crease: 4 of 12.7 mm.
        let near = round(4_000_000, "5");
        assert_eq!(said(&near, "too-thick"), [says]);
        assert_eq!(first(&near, "too-thick").severity, Severity::Warning);
        let mend = "Make the fold a gusset, two scores 1/4 in apart, or put less under the left flap.";
        assert_eq!(first(&near, "too-thick").mend, mend);
        // 4 of 38.1 mm.
        assert_eq!(first(&round(4_000_000, "3"), "too-thick").severity, Severity::Note);
    }

    #[test]
    fn what_a_wide_score_goes_round_or_lies_at_the_crease_is_no_matter_here() {
        // 2.8 and 0.3 mm are 3.1 mm, less than 1/8 in.
        assert_eq!(said(&round(2_800_000, "5"), "too-thick"), [""; 0]);
        assert_eq!(said(&round(4_000_000, "6"), "too-thick"), [""; 0]);
        assert_eq!(said(&round(4_000_000, "6"), "tight-fold").len(), 1);
    }
}
