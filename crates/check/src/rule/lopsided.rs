//! The closed folio is much thicker on one side, since what lies in it is all piled there.

use super::Rule;
use crate::measure::both;
use crate::{Context, Finding, Severity, Spot};
use fold::overlap::{area, left_of};
use fold::{Region, Thickness};
use glam::DVec2;
use model::Unit;

pub(super) const RULE: Rule = Rule {
    name: "lopsided",
    severities: &[Severity::Note],
    about: "The closed folio is much thicker on one side, since what lies in it is all piled there.\n\n\
            Such a folio lies aslant, its thin side buckles under a band, and others stacked on it slide off. Halves \
            are compared by how thick the paper is on average where there is any: twice as much on one side, and at \
            least a millimetre more, is told (common practice, no source; the measures are ours).",
    example: "The closed folio is 2.6 mm thick on average at the right and 0.6 mm at the left, so it lies aslant.",
    check,
};

/// How many times as thick one side has to be.
const TIMES: f64 = 2.0;

/// By how much it has to be thicker, in mm.
const MORE: f64 = 1.0;

fn check(context: &Context<'_>) -> Vec<Finding> {
    finding(context).into_iter().collect()
}

fn finding(context: &Context<'_>) -> Option<Finding> {
    let (assembly, folding) = context.folded.filter(|(_, folding)| folding.steps() > 0)?;
    // What is of unknown thickness may lie on either side.
    if assembly.panels.iter().any(|panel| panel.caliper <= 0.0) {
        return None;
    }
    let thick = context.thickness()?;
    let paper = || thick.areas.iter().map(|area| area.paper);
    if paper().fold(0.0, f64::max) < paper().fold(f64::INFINITY, f64::min) + MORE {
        return None;
    }
    let (low, high) = folding.closed_bounds();
    let middle = ((low + high) / 2.0).truncate();
    let sides = [(DVec2::Y, ["left", "right"]), (DVec2::NEG_X, ["bottom", "top"])];
    let worst = sides.into_iter().filter_map(|(way, names)| lopsided(thick, middle, way, names));
    let (more, less, [much, little]) = worst.max_by(|(a, b, _), (c, d, _)| (a - b).total_cmp(&(c - d)))?;
    let unit = Unit::Millimetre;
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "The closed folio is {} thick on average at the {much} and {} at the {little}, so it lies aslant.",
            both(more, unit),
            both(less, unit)
        ),
        mend: format!("Put some of what lies at the {much} at the {little}, or make it thinner."),
        spot: Spot::default(),
        fixes: Vec::new(),
    })
}

/// The averages on either side of a line through the middle, the greater first, with what the sides are called, where
/// they differ by too much. `names` has the side on the left of the way first.
fn lopsided(
    thick: &Thickness,
    middle: DVec2,
    way: DVec2,
    names: [&'static str; 2],
) -> Option<(f64, f64, [&'static str; 2])> {
    let [left, right] = [average(thick, middle, middle + way)?, average(thick, middle + way, middle)?];
    let (more, less, names) = if left > right { (left, right, names) } else { (right, left, [names[1], names[0]]) };
    (more >= TIMES * less && more >= less + MORE).then_some((more, less, names))
}

/// How thick the paper is on average on the left of the line from one point to another; `None` where there is none.
fn average(thick: &Thickness, from: DVec2, to: DVec2) -> Option<f64> {
    // Openings run clockwise, so their area is less than nothing.
    let left = |outline: &Vec<DVec2>| area(&left_of(outline, from, to));
    let of_region = |region: &Region| left(&region.outline) + region.holes.iter().map(left).sum::<f64>();
    let all = thick.areas.iter().map(|area| (area.paper, area.regions.iter().map(of_region).sum::<f64>()));
    let (paper, covered) = all.fold((0.0, 0.0), |(paper, covered), (by, area)| (paper + by * area, covered + area));
    (covered > 0.0).then(|| paper / covered)
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::part;
    use crate::testing::said;
    use model::part::{Anchor, AnchorFrom, Insert};
    use model::{Caliper, Document, Length, PanelRef, PartKind, Turn};

    /// A strip of 12 by 6 in folded in half round inserts of 3 by 6 in and so thick, each at a side of the base.
    fn with(inserts: &[(AnchorFrom, i64)]) -> Document {
        let mut document = Sketch::on("12x6in").score(1, Turn::None, "6").base("9", "3").steps(&[&[1]]).0;
        for (id, &(from, nm)) in (1..).zip(inserts) {
            let insert = Insert { width: length("3"), height: length("6"), caliper: Some(Length::from_nm(nm)) };
            let mut part = part(id, PartKind::Insert(insert), PanelRef::Sheet(at("9", "3")));
            part.place.across = Anchor { from, distance: Length::ZERO };
            document.parts.push(part);
        }
        document
    }

    #[test]
    fn a_pile_on_one_side_is_told() {
        // By hand: two layers of 0.3 mm, and 2 mm more on the right half.
        let says =
            "The closed folio is 2.6 mm thick on average at the right and 0.6 mm at the left, so it lies aslant.";
        assert_eq!(said(&with(&[(AnchorFrom::End, 2_000_000)]), "lopsided"), [says]);
        let other = said(&with(&[(AnchorFrom::Start, 2_000_000)]), "lopsided");
        assert!(other[0].contains("at the left and 0.6 mm at the right"), "{other:?}");
    }

    #[test]
    fn as_much_on_the_other_side_and_little_are_no_matter() {
        let both = [(AnchorFrom::Start, 2_000_000), (AnchorFrom::End, 2_000_000)];
        assert_eq!(said(&with(&both), "lopsided"), [""; 0]);
        // 0.9 mm more is less than a millimetre; 3.6 mm are less than twice 2.1.
        assert_eq!(said(&with(&[(AnchorFrom::End, 900_000)]), "lopsided"), [""; 0]);
        let less = [(AnchorFrom::Start, 1_500_000), (AnchorFrom::End, 3_000_000)];
        assert_eq!(said(&with(&less), "lopsided"), [""; 0]);
        // In the middle it is as thick on either side.
        assert_eq!(said(&with(&[(AnchorFrom::Middle, 2_000_000)]), "lopsided"), [""; 0]);
    }

    #[test]
    fn paper_of_unknown_thickness_is_not_judged() {
        let mut unknown = with(&[(AnchorFrom::End, 2_000_000)]);
        unknown.stock.caliper = Caliper::Unknown;
        assert_eq!(said(&unknown, "lopsided"), [""; 0]);
    }
}
