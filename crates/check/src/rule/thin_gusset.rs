//! A gusset is narrower than the stack it wraps, so the folio bulges or its folds creep out of their scores.

use super::Rule;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Assembly, GussetFit};
use model::{Length, LineId, Unit};
use std::cell::LazyCell;
use std::collections::VecDeque;

pub(super) const RULE: Rule = Rule {
    name: "thin-gusset",
    severities: &[Severity::Warning],
    about: "A gusset is narrower than the stack it wraps, so the folio bulges or its folds creep out of their scores.\n\n\
            Round a stack of thickness `T` two square creases in paper of caliper `t` lie at least `T + t` apart, \
            when each hinges in the middle of the paper (plane geometry; creased board hinges farther out and needs \
            up to `T + 2t`). Only the folio's own paper is counted: what is to lie in it comes on top.",
    example: "The right gusset is 1/64 in wide, about 0.4 mm, too narrow for the 2 layers it wraps: it has to be 0.9 mm.",
    check,
};

/// A gusset may miss its least width by this, in mm: a hundredth, as calipers are told.
const HAIR: f64 = 0.01;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let thin = context.gussets().iter().filter(|fit| fit.layers > 0 && fit.has + HAIR < fit.least);
    let depths = LazyCell::new(|| depths(assembly));
    let offers = Offers::plain();
    let finding = |fit: &GussetFit| {
        let fixes = offers.of(|| widened(context, assembly, &depths, fit));
        Finding { fixes, ..finding(context, assembly, fit) }
    };
    thin.map(finding).collect()
}

fn finding(context: &Context<'_>, assembly: &Assembly, fit: &GussetFit) -> Finding {
    let panel = assembly.panels[fit.panel].id;
    let unit = context.document.units;
    let readable = |mm: f64, unit| Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT).readable(unit);
    let mut has = readable(fit.has, unit);
    if unit == Unit::Inch {
        has = format!("{has} wide, {}", readable(fit.has, Unit::Millimetre));
    } else {
        has.push_str(" wide");
    }
    // Rounded up: what is told has to suffice.
    let least = readable((fit.least * 100.0 - 1e-6).ceil() / 100.0, Unit::Millimetre);
    let layers =
        if fit.layers == 1 { "the layer it wraps".to_owned() } else { format!("the {} layers it wraps", fit.layers) };
    let words = format!("{} is {has}, too narrow for {layers}: it has to be {least}.", context.the(panel));
    let mend = match fit.next_groove {
        Some(groove) => {
            format!("Make it {} wide, the next groove of the board, or wrap less in it.", readable(groove, unit))
        }
        None => format!("Make it {least} wide, or wrap less in it."),
    };
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(&words),
        mend,
        spot: Spot {
            panels: vec![panel],
            lines: fit.joints.map(|joint| assembly.joints[joint].line).to_vec(),
            ..Spot::default()
        },
        fixes: Vec::new(),
    }
}

/// Moves the outer of a gusset's two folds away from the inner one, to the next groove where there is a board. None where
/// the inner one would move along.
fn widened(context: &Context<'_>, assembly: &Assembly, depths: &[usize], fit: &GussetFit) -> Option<Fix> {
    let line = |joint: usize| assembly.joints[joint].line;
    let depth = |joint: usize| assembly.joints[joint].panels.map(|panel| depths[panel]).into_iter().max();
    let [a, b] = fit.joints;
    let (inner, outer) = if depth(a) > depth(b) { (line(b), line(a)) } else { (line(a), line(b)) };
    if context.document.hangs_on(inner, outer) {
        return None;
    }
    let groove = context.document.groove;
    let wide = match fit.next_groove {
        Some(next) => Length::from_mm_rounded(next)?.snapped(groove),
        None => Length::from_mm_rounded((fit.least * 100.0 - 1e-6).ceil() / 100.0)?,
    };
    let turn = context.layout.lines.get(&outer)?.ok()?.on_board()?.0;
    let across = |line: LineId| {
        let placed = context.layout.lines.get(&line)?.ok()?;
        let is_parallel = placed.on_board()?.0.is_upright() == turn.is_upright();
        is_parallel.then(|| turn.to_board(placed.segment.a, context.layout.size).across)
    };
    let (from, now) = (across(inner)?, across(outer)?);
    context.moved(outer, if now > from { from + wide } else { from - wide })
}

/// How many folds lie between the base and each panel.
fn depths(assembly: &Assembly) -> Vec<usize> {
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); assembly.panels.len()];
    for [a, b] in assembly.joints.iter().map(|joint| joint.panels) {
        beside[a].push(b);
        beside[b].push(a);
    }
    let mut depths = vec![usize::MAX; assembly.panels.len()];
    let mut open = VecDeque::from([(assembly.base, 0)]);
    while let Some((panel, depth)) = open.pop_front() {
        if depths[panel] == usize::MAX {
            depths[panel] = depth;
            open.extend(beside[panel].iter().map(|&other| (other, depth + 1)));
        }
    }
    depths
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, line};
    use crate::testing::{findings, mended, mends, said};
    use model::{Crease, Datum, Direction, Document, FoldAngle, Length, LineId, Place, Stop, Turn, Unit, Work};

    /// A base of 5 x 4 in. Flaps from above and below cover it one on the other; then one on a gusset, at its right, closes
    /// over both.
    fn wrapping(second: &str) -> Document {
        let mut document = Sketch::on("10x12in")
            .score(1, Turn::None, "5")
            .score(2, Turn::None, second)
            .score(3, Turn::Once, "4")
            .score(4, Turn::Once, "8")
            .cut(11, 1, Stop::Edge, line(3))
            .cut(12, 1, line(4), Stop::Edge)
            .cut(13, 3, Stop::Edge, line(1))
            .cut(14, 4, Stop::Edge, line(1))
            .base("2", "6")
            .steps(&[&[3], &[4], &[1, 2]])
            .0;
        for line in document.lines.iter_mut().filter(|line| [LineId(1), LineId(2)].contains(&line.id)) {
            line.work = Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square, pressed: None });
        }
        document
    }

    #[test]
    fn a_gusset_too_thin_for_its_layers_says_how_wide_it_has_to_be() {
        // Two layers of 0.3 mm, and half of its own paper on either side: 0.9 mm.
        let thin = wrapping("5 1/64");
        let says = "The right gusset is 1/64 in wide, about 0.4 mm, too narrow for the 2 layers it wraps: it has to be 0.9 mm.";
        assert_eq!(said(&thin, "thin-gusset"), [says]);
        let finding = findings(&thin).into_iter().find(|finding| finding.rule == "thin-gusset").unwrap();
        assert_eq!(finding.mend, "Make it 1/8 in wide, the next groove of the board, or wrap less in it.");
        assert_eq!(finding.spot.lines, [LineId(1), LineId(2)]);
        // 3/64 in are 1.19 mm.
        assert_eq!(said(&wrapping("5 3/64"), "thin-gusset"), [""; 0]);
    }

    #[test]
    fn the_outer_fold_moves_to_the_next_groove() {
        let thin = wrapping("5 1/64");
        assert_eq!(mends(&thin, "thin-gusset"), ["Move Score 2 to 5 1/8 in"]);
        // Whether it is measured from the edge or from the inner fold.
        let mut hung = thin.clone();
        let Place::Measured { turn, run, .. } = hung.lines[1].place else { panic!("a measured score") };
        let distance = Length::SIXTY_FOURTH;
        hung.lines[1].place = Place::Measured { turn, from: Datum::Line(LineId(1)), distance, run };
        let (_, wide) = mended(&hung, "thin-gusset").remove(0);
        assert!(matches!(wide.lines[1].place, Place::Measured { distance: Length::EIGHTH, .. }), "{:?}", wide.lines[1]);
        // The inner one would move along.
        let mut other = thin;
        let Place::Measured { turn, run, .. } = other.lines[0].place else { panic!("a measured score") };
        other.lines[0].place = Place::Measured { turn, from: Datum::Line(LineId(2)), distance: -distance, run };
        assert_eq!(mends(&other, "thin-gusset"), [""; 0]);
    }

    #[test]
    fn without_a_board_the_least_width_is_told() {
        let mut thin = wrapping("5 1/64");
        thin.groove = Length::ZERO;
        thin.units = Unit::Millimetre;
        let finding = findings(&thin).into_iter().find(|finding| finding.rule == "thin-gusset").unwrap();
        assert_eq!(finding.mend, "Make it 0.9 mm wide, or wrap less in it.");
        // 127 mm to the inner fold.
        assert_eq!(mends(&thin, "thin-gusset"), ["Move Score 2 to 127.9 mm"]);
        assert!(finding.sentence.contains("is about 0.4 mm wide, too narrow"), "{}", finding.sentence);
    }

    #[test]
    fn a_gusset_that_wraps_nothing_may_be_as_thin_as_it_likes() {
        let mut alone = wrapping("5 1/64");
        alone.steps.retain(|step| step.lines.len() == 2);
        assert_eq!(said(&alone, "thin-gusset"), [""; 0]);
    }
}
