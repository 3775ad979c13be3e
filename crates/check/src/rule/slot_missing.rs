//! Two flaps are parted by a cut without width, so that their edges rub as one turns past the other.

use super::Rule;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Assembly, to_world};
use glam::DVec2;
use model::{Edit, Length, Line, LineId, PanelId, Segment, Strip, StripSide, Unit, Work};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const RULE: Rule = Rule {
    name: "slot-missing",
    severities: &[Severity::Note],
    about: "Two flaps are parted by a cut without width, so that their edges rub as one turns past the other.\n\n\
            A knife takes nothing away: two flaps side by side whose folds cross the cut between them turn edge along \
            edge, catch on one another, and fray. A slot at least as wide as the paper is thick gives them room; 1/8 in \
            is usual (common practice, no source). Flaps that fold along one line in one step move as one, and flaps \
            whose folds run alongside the cut, such as doors, part at once.",
    example: "The left flap and the left flap 2 turn past one another along \"Cut 2\", which leaves no room for paper of 0.3 mm.",
    check,
};

/// A fold whose way differs from a cut's by less than this does not cross it: the sine of 30° (our choice).
const ACROSS: f64 = 0.5;

/// Flaps beside one another along a cut.
struct Pair {
    line: LineId,
    panels: [PanelId; 2],
    at: Segment,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let offers = Offers::tried(context);
    let all = pairs(context);
    let thick = |pair: &Pair| assembly.place(pair.panels[0]).map_or(0.0, |place| assembly.caliper_of(place));
    let finding = |pair: &Pair| {
        let fixes = offers.of(|| slotted(context, pair));
        Finding { fixes, ..finding(context, pair, thick(pair)) }
    };
    all.iter().map(finding).collect()
}

/// Every two flaps of the folio that turn past one another along a cut, each two once for a line.
fn pairs(context: &Context<'_>) -> Vec<Pair> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let mut found: BTreeMap<(LineId, [PanelId; 2]), Segment> = BTreeMap::new();
    for stretch in context.layout.stretches.iter().filter(|stretch| stretch.work == Some(Work::Cut)) {
        let ([Some(a), Some(b)], Some(&line)) = (stretch.sides, stretch.lines.first()) else { continue };
        let (Some(first), Some(second)) = (assembly.place(a), assembly.place(b)) else { continue };
        if a != b && turn_past(assembly, [first, second], stretch.segment) {
            found.entry((line, [a.min(b), a.max(b)])).or_insert(stretch.segment);
        }
    }
    found.into_iter().map(|((line, panels), at)| Pair { line, panels, at }).collect()
}

/// Whether two panels turn about folds of their own that cross a cut between them, not both along one line in one step.
fn turn_past(assembly: &Assembly, panels: [usize; 2], cut: Segment) -> bool {
    let way = (to_world(cut.b) - to_world(cut.a)).normalize_or_zero();
    let crosses = |(from, to): (DVec2, DVec2)| way.perp_dot((to - from).normalize_or_zero()).abs() > ACROSS;
    let hinges = |panel: usize| -> BTreeSet<(LineId, usize)> {
        let own = assembly.joints.iter().enumerate().filter(|(_, joint)| joint.panels.contains(&panel));
        let own = own.filter(|(_, joint)| joint.stretches.first().is_some_and(|&stretch| crosses(stretch)));
        let step = |at: usize| assembly.steps.iter().position(|step| step.joints.contains(&at));
        own.filter_map(|(at, joint)| Some((joint.line, step(at)?))).collect()
    };
    let [first, second] = panels.map(hinges);
    !panels.contains(&assembly.base) && !first.is_empty() && !second.is_empty() && first != second
}

fn finding(context: &Context<'_>, pair: &Pair, thick: f64) -> Finding {
    let [first, second] = pair.panels.map(|panel| context.the(panel));
    let paper = if thick > 0.0 {
        format!("paper of {}", Length::from_mm_rounded(thick).unwrap_or(Length::LIMIT).readable(Unit::Millimetre))
    } else {
        "their paper".to_owned()
    };
    let line = context.line(pair.line);
    let words = format!("{first} and {second} turn past one another along {line}, which leaves no room for {paper}.");
    let wide = slot(context.document.units).readable(context.document.units);
    Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: sentence(&words),
        mend: format!("Cut a slot of {wide} there, or make one of the two narrower."),
        spot: Spot { panels: pair.panels.to_vec(), lines: vec![pair.line], at: Some(pair.at.a), step: None },
        fixes: Vec::new(),
    }
}

/// How wide a slot is cut as a rule: 1/8 in, or 3 mm.
fn slot(unit: Unit) -> Length {
    if unit == Unit::Inch { Length::EIGHTH } else { Length::MILLIMETRE * 3 }
}

/// Makes the cut a slot, where nothing but these two flaps lies along it.
fn slotted(context: &Context<'_>, pair: &Pair) -> Option<Fix> {
    let mut along = context.layout.stretches.iter().filter(|stretch| stretch.lines.contains(&pair.line));
    let line = context.document.line(pair.line)?;
    if !along.all(|stretch| stretch.sides.iter().all(|side| side.is_some_and(|side| pair.panels.contains(&side)))) {
        return None;
    }
    let width = slot(context.document.units);
    let work = Work::Slot(Strip { width, side: StripSide::Centred });
    let edit = Edit::ReplaceLine(Line { work, ..line.clone() });
    let wide = width.readable(context.document.units);
    let label = format!("Make {} a slot of {wide}", context.document.line_name(pair.line));
    context.if_fewer(label, edit, |context| pairs(context).len())
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps, length, line};
    use crate::testing::{mended, mends, said};
    use model::{Crease, Datum, Document, Layout, Place, Run, Stop, Turn, Work};

    /// A base with a flap of 3 in at its left that is cut in two halfway down. The halves fold along lines of their own, or
    /// along one, in these steps.
    fn halves(steps: &[&[u32]]) -> Document {
        let upright = |run| Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("3"), run };
        let cut = Place::Measured {
            turn: Turn::Once,
            from: Datum::Edge,
            distance: length("6"),
            // Turned once, the left edge lies at the bottom.
            run: Run { from: Stop::At(length("9")), to: Stop::Edge },
        };
        let score = Work::Score(Crease::VALLEY);
        Sketch::on("12x12in")
            .line(2, cut, Work::Cut)
            .line(1, upright(Run { from: Stop::Edge, to: line(2) }), score)
            .line(3, upright(Run { from: line(2), to: Stop::Edge }), score)
            .base("8", "6")
            .steps(steps)
            .0
    }

    #[test]
    fn halves_of_a_flap_that_fold_one_after_the_other_get_a_slot() {
        let rubbing = halves(&[&[1], &[3]]);
        let says = "The left flap and the left flap 2 turn past one another along \"Cut 2\", which leaves no room for paper of 0.3 mm.";
        assert_eq!(said(&rubbing, "slot-missing"), [says]);
        let [(label, slotted)] = mended(&rubbing, "slot-missing").try_into().unwrap();
        assert_eq!(label, "Make Cut 2 a slot of 1/8 in");
        assert_eq!(said(&slotted, "still-joined"), [""; 0]);
    }

    #[test]
    fn flaps_that_move_as_one_and_doors_are_no_matter() {
        let one = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]);
        let cut = Place::Measured {
            turn: Turn::Once,
            from: Datum::Edge,
            distance: length("6"),
            run: Run { from: line(1), to: Stop::Edge },
        };
        assert_eq!(said(&one.line(2, cut, Work::Cut).0, "slot-missing"), [""; 0]);
        // Two doors in the middle of a sheet: their folds run alongside the cut between them.
        let inside = Run { from: Stop::At(length("2")), to: Stop::At(length("10")) };
        let upright = |x| Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length(x), run: inside };
        let across = |y| {
            let run = Run { from: line(2), to: line(1) };
            Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: length(y), run }
        };
        let doors = Sketch::on("12x12in")
            .line(1, upright("3"), Work::Score(Crease::VALLEY))
            .line(2, upright("9"), Work::Score(Crease::VALLEY))
            .line(3, upright("6"), Work::Cut)
            .line(4, across("2"), Work::Cut)
            .line(5, across("10"), Work::Cut)
            .base("1", "6")
            .steps(&[&[1], &[2]])
            .0;
        assert_eq!(Layout::of(&doors).folio().map(|folio| folio.panels.len()), Some(3));
        assert_eq!(said(&doors, "slot-missing"), [""; 0]);
        assert_eq!(said(&four_flaps(), "slot-missing"), [""; 0]);
    }

    #[test]
    fn a_cut_that_something_else_lies_along_is_left_to_the_maker() {
        // The whole width is cut: what would become a slot parts the base as well.
        let mut long = halves(&[&[1], &[3]]);
        let Place::Measured { turn, from, distance, .. } = long.lines[0].place else { panic!("a measured cut") };
        let run = Run { from: Stop::At(length("1")), to: Stop::Edge };
        long.lines[0].place = Place::Measured { turn, from, distance, run };
        assert_eq!(said(&long, "slot-missing").len(), 1);
        assert_eq!(mends(&long, "slot-missing"), [""; 0]);
    }
}
