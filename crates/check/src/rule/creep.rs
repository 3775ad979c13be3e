//! What a fold goes round takes so much of its panel that the edge of something inside comes out past it.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, HAIR};
use crate::measure::{both, closed_at};
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Assembly, Back, FoldGap, Folding};
use glam::{DAffine3, DVec2};
use model::{Length, PanelId};

pub(super) const RULE: Rule = Rule {
    name: "creep",
    severities: &[Severity::Warning, Severity::Note],
    about: "What a fold goes round takes so much of its panel that the edge of something inside comes out past it.\n\n\
            Pages nested in one another, and flaps that fold round others, fall short by 1 to 1.6 times the thickness \
            of what they go round (plane geometry, pressed sharp or round); 1.3 is taken, the middle of what an \
            imposition manual allows for saddle-stitched booklets. Told is what would be flush, or behind, if paper had \
            no thickness. Less than 1/64 in is not seen; more than 1/16 in, the least that printers make inner panels \
            shorter by, is a warning.",
    example: "The left flap falls 1.56 mm short for the 2 layers it goes round, so the bottom flap comes out about 1/16 in (1.56 mm) past its edge.",
    check,
};

/// The least that printers make the inner panels of letter and roll folds shorter by: 1/16 in.
const PRINTERS: Length = Length::from_sixty_fourths(4);

/// An edge that comes out.
struct Out {
    /// The fold, as a place in [`Assembly::joints`], and what it goes round.
    gap: FoldGap,
    /// The panel that falls short, and that which comes out; places in [`Assembly::panels`].
    short: usize,
    inner: usize,
    /// By how much the one falls short, and the other comes out, in mm.
    by: f64,
    out: f64,
    /// Where the panel ends that falls short, on its own sheet, and the way out.
    at: DVec2,
    way: DVec2,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::tried(context);
    let all = outs(context);
    let finding = |out: &Out| Some(Finding { fixes: offers.of(|| trimmed(context, out)), ..finding(context, out)? });
    all.iter().filter_map(finding).collect()
}

fn outs(context: &Context<'_>) -> Vec<Out> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    // All of it in one pile would not make an edge come out by as much as is seen.
    let all: f64 = assembly.panels.iter().map(|panel| panel.caliper).sum();
    if !lie::is_seen(Back::USUAL.factor() * all) {
        return Vec::new();
    }
    // A fold that is one side of a gusset has its strip.
    let round = context.gaps().iter().filter(|gap| gap.layers > 0 && gap.has <= 0.0);
    let round = round.filter(|gap| lie::is_seen(Back::USUAL.factor() * gap.stack));
    let round: Vec<&FoldGap> = round.collect();
    if round.is_empty() {
        return Vec::new();
    }
    let frames = folding.flat_pose(closed_at(folding));
    round.into_iter().filter_map(|gap| out(assembly, folding, &frames, gap)).collect()
}

/// What comes out farthest past the panel beyond a fold.
fn out(assembly: &Assembly, folding: &Folding, frames: &[DAffine3], gap: &FoldGap) -> Option<Out> {
    let joint = &assembly.joints[gap.joint];
    let [a, b] = joint.panels;
    let short = if far(assembly, folding, a) > far(assembly, folding, b) { a } else { b };
    let &(from, to) = joint.stretches.first()?;
    let onto = |panel: usize| frames[short].inverse() * frames[panel];
    let place = |panel: usize, point: DVec2| onto(panel).transform_point3(point.extend(0.0)).truncate();
    let (at, along) = (place(short, from), (place(short, to) - place(short, from)).normalize_or_zero());
    let corners = |panel: usize| assembly.panels[panel].outline.iter().map(move |&corner| place(panel, corner));
    let side = corners(short).map(|corner| along.perp_dot(corner - at)).max_by(|x, y| x.abs().total_cmp(&y.abs()))?;
    let way = along.perp() * side.signum();
    let reach = |panel: usize| corners(panel).map(|corner| way.dot(corner - at)).fold(0.0, f64::max);
    let by = Back::USUAL.factor() * gap.stack;
    let end = side.abs();
    let inner = folding.between(a, b).into_iter().map(|panel| (panel, reach(panel)));
    // What is farther out as the design has it is meant so, and a fold that shows is no edge that comes out.
    let is_fold = |panel: usize, reach: f64| {
        let own = assembly.joints.iter().filter(|joint| joint.panels.contains(&panel));
        let is_there = |end: DVec2| way.dot(place(panel, end) - at) > reach - HAIR.mm();
        own.flat_map(|joint| &joint.stretches).any(|&(from, to)| is_there(from) && is_there(to))
    };
    let inner = inner.filter(|&(panel, reach)| reach <= end + HAIR.mm() && !is_fold(panel, reach));
    let (inner, reach) = inner.max_by(|(_, x), (_, y)| x.total_cmp(y))?;
    let out = reach - (end - by);
    let at = at + way * (end - by);
    lie::is_seen(out).then_some(Out { gap: *gap, short, inner, by, out, at, way })
}

/// How late a panel comes to lie where it does: what moves with fewer steps is nearer to the base.
fn far(assembly: &Assembly, folding: &Folding, panel: usize) -> usize {
    if panel == assembly.base { 0 } else { 1 + folding.moves_of(panel) }
}

fn finding(context: &Context<'_>, out: &Out) -> Option<Finding> {
    let (assembly, _) = context.folded?;
    let unit = context.document.units;
    let [short, inner]: [PanelId; 2] = [out.short, out.inner].map(|panel| assembly.panels[panel].id);
    let layers = if out.gap.layers == 1 { "the layer".to_owned() } else { format!("the {} layers", out.gap.layers) };
    let words = format!(
        "{} falls {} short for {layers} it goes round, so {} comes out {} past its edge.",
        context.the(short),
        lie::readable(out.by, model::Unit::Millimetre),
        context.the(inner),
        both(out.out, unit),
    );
    let is_much = out.out > PRINTERS.mm();
    Some(Finding {
        rule: RULE.name,
        severity: if is_much { Severity::Warning } else { Severity::Note },
        sentence: sentence(&words),
        mend: format!("Make {} shorter by that much, or {} longer.", context.the(inner), context.the(short)),
        spot: Spot { panels: vec![short, inner], lines: vec![assembly.joints[out.gap.joint].line], ..Spot::default() },
        fixes: Vec::new(),
    })
}

/// Cuts off what comes out; `None` for a panel of a part, and where something hangs on it.
fn trimmed(context: &Context<'_>, out: &Out) -> Option<Fix> {
    let (assembly, folding) = context.folded?;
    let frames = folding.flat_pose(closed_at(folding));
    let back = frames.get(out.inner)?.inverse() * *frames.get(out.short)?;
    let at = back.transform_point3(out.at.extend(0.0)).truncate();
    let way = back.transform_vector3(out.way.extend(0.0)).truncate();
    let edit = context.cut_off(out.inner, at, way)?;
    let by = lie::readable(out.out, context.document.units);
    let label = format!("Cut {by} off {}", context.the(assembly.panels[out.inner].id));
    context.if_fewer(label, edit, |context| outs(context).len())
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, line};
    use crate::testing::part::first;
    use crate::testing::{mended, said};
    use model::{Caliper, Document, Length, Stop, Turn};

    /// A base of 4 by 4 in. Flaps from above and below, one over the other in the middle, are flush with its right edge; then
    /// one from the left, as wide as the base, closes over both.
    fn wrapped(caliper: i64) -> Document {
        let mut document = Sketch::on("8x10in")
            .score(1, Turn::None, "4")
            .score(2, Turn::Once, "3")
            .score(3, Turn::Once, "7")
            .cut(11, 1, Stop::Edge, line(2))
            .cut(12, 1, line(3), Stop::Edge)
            .cut(13, 2, line(1), Stop::Edge)
            .cut(14, 3, line(1), Stop::Edge)
            .base("6", "5")
            .steps(&[&[2], &[3], &[1]])
            .0;
        document.stock.caliper = Caliper::Measured(Length::from_nm(caliper));
        document
    }

    #[test]
    fn flaps_under_a_flap_that_goes_round_them_come_out() {
        // Two layers of 0.6 mm: 1.3 · 1.2 = 1.56 mm.
        let thick = wrapped(600_000);
        let says = "The left flap falls 1.56 mm short for the 2 layers it goes round, so the bottom flap comes out \
                    about 1/16 in (1.56 mm) past its edge.";
        assert_eq!(said(&thick, "creep"), [says]);
        assert_eq!(first(&thick, "creep").severity, Severity::Note);
        assert_eq!(first(&wrapped(650_000), "creep").severity, Severity::Warning);
        mended(&thick, "creep");
        // One whose fold is there comes out nowhere.
        let letter = Sketch::on("12x6in").score(1, Turn::None, "4").score(2, Turn::None, "8").base("6", "3");
        let mut letter = letter.steps(&[&[2], &[1]]).0;
        letter.stock.caliper = Caliper::Measured(Length::from_nm(600_000));
        assert_eq!(said(&letter, "creep"), [""; 0]);
        // Two layers of 0.15 mm: 0.39 mm, less than 1/64 in.
        assert_eq!(said(&wrapped(150_000), "creep"), [""; 0]);
    }
}
