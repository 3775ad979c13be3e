//! A gusset is narrower than the stack it wraps, so the folio bulges or its folds creep out of their scores.
//!
//! Round a stack of thickness `T` two square creases in paper of caliper `t` lie at least `T + t` apart, when each hinges
//! in the middle of the paper (plane geometry; creased board hinges farther out and needs up to `T + 2t`). Only the
//! folio's own paper is counted: what is to lie in it comes on top.

use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use fold::{Allowance, GussetFit};
use model::{Length, Unit};

/// A gusset may miss its least width by this, in mm: a hundredth, as calipers are told.
const HAIR: f64 = 0.01;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    let allowance = Allowance { groove: context.document.groove.mm().max(0.0), ..Allowance::default() };
    let fits = fold::gussets(assembly, folding, &allowance);
    let thin = fits.into_iter().filter(|fit| fit.layers > 0 && fit.has + HAIR < fit.least);
    thin.map(|fit| finding(context, assembly, &fit)).collect()
}

fn finding(context: &Context<'_>, assembly: &fold::Assembly, fit: &GussetFit) -> Finding {
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
        rule: "thin-gusset",
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

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, line};
    use crate::testing::{findings, said};
    use model::{Crease, Direction, Document, FoldAngle, Length, LineId, Stop, Turn, Unit, Work};

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
    fn without_a_board_the_least_width_is_told() {
        let mut thin = wrapping("5 1/64");
        thin.groove = Length::ZERO;
        thin.units = Unit::Millimetre;
        let finding = findings(&thin).into_iter().find(|finding| finding.rule == "thin-gusset").unwrap();
        assert_eq!(finding.mend, "Make it 0.9 mm wide, or wrap less in it.");
        assert!(finding.sentence.contains("is about 0.4 mm wide, too narrow"), "{}", finding.sentence);
    }

    #[test]
    fn a_gusset_that_wraps_nothing_may_be_as_thin_as_it_likes() {
        let mut alone = wrapping("5 1/64");
        alone.steps.retain(|step| step.lines.len() == 2);
        assert_eq!(said(&alone, "thin-gusset"), [""; 0]);
    }
}
