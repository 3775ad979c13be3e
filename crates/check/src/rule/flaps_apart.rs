//! Two flaps that close from opposite sides leave a gap between them, so that what they should cover shows.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, HAIR};
use crate::measure::{both, closed_at};
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fit::Holder;
use fold::overlap::edges;
use fold::{Assembly, Folding, Joint};
use glam::{DAffine3, DVec2};
use model::{Edit, Length, LineId, PanelId, PartKind, Unit};

pub(super) const RULE: Rule = Rule {
    name: "flaps-apart",
    severities: &[Severity::Warning, Severity::Note],
    about: "Two flaps that close from opposite sides leave a gap between them, so that what they should cover shows.\n\n\
            Flaps that meet in the middle are made a little short, so that they don't ride up on one another: a printer's \
            gate fold leaves 1/8 in between its two doors in all. More is told, with a warning where a card lies loose \
            behind the gap. Flaps that leave more than a quarter of the way between their folds are taken for rims that \
            are meant so (our choice), and a gap that something else covers is none.",
    example: "The left flap and the right flap end 1/2 in (12.7 mm) apart, so the base shows between them.",
    check,
};

/// What two doors leave between them: a printer's figure for gate folds.
const DOORS: Length = Length::EIGHTH;

/// Which part of the way between their folds two flaps may leave and still be meant to meet (our choice).
const MEANT: f64 = 0.25;

/// Directions that differ by less are one, as the sine of an angle.
const SAME_WAY: f64 = 1e-6;

/// A flap in the closed folio, as it lies on the table.
struct Flap {
    panel: usize,
    /// The line that it hangs on.
    line: LineId,
    /// A place on its fold, and the way from there that it reaches.
    at: DVec2,
    way: DVec2,
    /// How far it reaches, in mm.
    reach: f64,
    /// From where to where it lies along its fold, to the left of its way.
    span: [f64; 2],
    /// Whether it lies over the base, not under it.
    is_over: bool,
}

/// Two flaps that end short of one another.
struct Apart {
    panels: [PanelId; 2],
    lines: [LineId; 2],
    gap: f64,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::tried(context);
    let all = apart(context);
    all.iter().map(|apart| Finding { fixes: offers.of(|| met(context, apart)), ..finding(context, apart) }).collect()
}

fn apart(context: &Context<'_>) -> Vec<Apart> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    let frames = folding.flat_pose(closed_at(folding));
    let mut folds = vec![0; assembly.panels.len()];
    assembly.joints.iter().flat_map(|joint| joint.panels).for_each(|panel| folds[panel] += 1);
    let joints = assembly.joints.iter();
    let flaps: Vec<Flap> = joints.filter_map(|joint| flap(context, &frames, &folds, joint)).collect();
    let mut all = Vec::new();
    for (i, first) in flaps.iter().enumerate() {
        for second in flaps[i + 1..].iter().filter(|second| second.is_over == first.is_over) {
            let Some((gap, middle)) = gap(first, second) else { continue };
            if !is_covered(context, &frames, middle, [first, second]) {
                let panels = [first, second].map(|flap| assembly.panels[flap.panel].id);
                all.push(Apart { panels, lines: [first.line, second.line], gap });
            }
        }
    }
    all
}

/// What lies beyond a fold, as a flap over the base or under it; panels have so many folds.
fn flap(context: &Context<'_>, frames: &[DAffine3], folds: &[usize], joint: &Joint) -> Option<Flap> {
    let (assembly, folding) = context.folded?;
    let is_own = |panel: usize| context.layout.part_of(assembly.panels[panel].id).is_none();
    let is_flap = |panel: usize| {
        let is_flat = frames[panel].matrix3.z_axis.z.abs() > 0.5;
        panel != assembly.base && is_flat && is_own(panel) && folding.is_folded(assembly.panels[panel].id)
    };
    // It hangs on the base, or on a gusset of it, and nothing hangs on it.
    let [a, b] = joint.panels;
    let (panel, host) = [(a, b), (b, a)].into_iter().find(|&(panel, _)| folds[panel] == 1 && is_flap(panel))?;
    let is_gusset = || context.layout.panels.get(assembly.panels[host].id.0).is_some_and(|panel| panel.is_gusset);
    let mut beside = assembly.joints.iter().filter_map(|other| lie::beyond(other, host));
    if host != assembly.base && !(is_gusset() && beside.any(|panel| panel == assembly.base)) {
        return None;
    }
    let &(from, to) = joint.stretches.first()?;
    let frame = frames[panel];
    let place = |point: DVec2| frame.transform_point3(point.extend(0.0));
    let (at, along) = (place(from).truncate(), (place(to) - place(from)).truncate().normalize_or_zero());
    let corners: Vec<DVec2> = assembly.panels[panel].outline.iter().map(|&corner| place(corner).truncate()).collect();
    let side = corners.iter().map(|&corner| along.perp_dot(corner - at)).max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    let way = along.perp() * side.signum();
    let across = corners.iter().map(|&corner| way.perp_dot(corner));
    let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    let is_over = is_over(assembly, folding, panel)?;
    Some(Flap { panel, line: joint.line, at, way, reach: side.abs(), span: [low, high], is_over })
}

/// How far two flaps that come from opposite sides end apart, in mm, and the middle of the gap. `None` where they don't
/// come from opposite sides, meet as doors do, or are rims.
fn gap(first: &Flap, second: &Flap) -> Option<(f64, DVec2)> {
    let opposite = first.way.dot(second.way) < 0.0 && first.way.perp_dot(second.way).abs() < SAME_WAY;
    let between = first.way.dot(second.at - first.at);
    let gap = between - first.reach - second.reach;
    // The other's spans run the other way.
    let (low, high) = (first.span[0].max(-second.span[1]), first.span[1].min(-second.span[0]));
    let is_apart = opposite && high - low > HAIR.mm() && gap > DOORS.mm() + HAIR.mm() && gap <= MEANT * between;
    let along = first.way.dot(first.at) + first.reach + gap / 2.0;
    is_apart.then(|| (gap, first.way * along + first.way.perp() * f64::midpoint(low, high)))
}

/// Whether a panel of the folio besides the base and two flaps covers a place on the table, on their side of the base.
fn is_covered(context: &Context<'_>, frames: &[DAffine3], at: DVec2, but: [&Flap; 2]) -> bool {
    let Some((assembly, folding)) = context.folded else { return false };
    let is_there = |panel: usize| {
        let is_flat = frames[panel].matrix3.z_axis.z.abs() > 0.5;
        is_flat && is_over(assembly, folding, panel) == Some(but[0].is_over)
    };
    let covers = |panel: usize| {
        let lies = frames[panel];
        let own = lies.inverse().transform_point3(at.extend(lies.translation.z)).truncate();
        let is_left = |(a, b): (DVec2, DVec2)| (b - a).perp_dot(own - a) >= 0.0;
        assembly.panels[panel].convex.iter().any(|convex| edges(convex).all(is_left))
    };
    let is_other = |panel: usize| {
        let of_a_part = context.layout.part_of(assembly.panels[panel].id).is_some();
        panel != assembly.base && but.iter().all(|flap| flap.panel != panel) && !of_a_part
    };
    (0..assembly.panels.len()).any(|panel| is_other(panel) && is_there(panel) && covers(panel))
}

/// Whether a panel lies over the base in the end, not under it.
fn is_over(assembly: &Assembly, folding: &Folding, panel: usize) -> Option<bool> {
    let height = |panel: usize| folding.height(assembly.panels[panel].id);
    Some(height(panel)? > height(assembly.base)?)
}

fn finding(context: &Context<'_>, apart: &Apart) -> Finding {
    let [first, second] = apart.panels.map(|panel| context.the(panel));
    let base = context.layout.base.map_or_else(|| "what they cover".to_owned(), |base| context.the(base));
    let gap = both(apart.gap, context.document.units);
    let words = format!("{first} and {second} end {gap} apart, so {base} shows between them.");
    Finding {
        rule: RULE.name,
        severity: if has_loose_card(context) { Severity::Warning } else { Severity::Note },
        sentence: sentence(&words),
        mend: format!(
            "Make them longer until they meet, but for {} at most, or let one lie over the other.",
            doors(context.document.units)
        ),
        spot: Spot { panels: apart.panels.to_vec(), lines: apart.lines.to_vec(), ..Spot::default() },
        fixes: Vec::new(),
    }
}

/// What two doors leave between them, no more than [`DOORS`], in the maker's units.
fn doors(unit: Unit) -> String {
    match unit {
        Unit::Inch => DOORS,
        Unit::Millimetre | Unit::Centimetre => Length::MILLIMETRE * 3,
    }
    .text(unit)
}

/// Whether a card lies on the base that nothing but the flaps holds there.
fn has_loose_card(context: &Context<'_>) -> bool {
    let is_insert = |part: &model::Part| matches!(part.kind, PartKind::Insert(_));
    if !context.document.parts.iter().any(is_insert) {
        return false;
    }
    let base = context.layout.base;
    let is_loose = |fit: fit::InsertFit| match fit.lies_in {
        Holder::Tray(panel) | Holder::Loose(panel) => Some(panel) == base,
        Holder::Pocket(_) | Holder::Corners(_) => false,
    };
    fit::inserts(context.document, context.layout, &context.holders()).into_iter().any(is_loose)
}

/// Moves both scores in by a quarter of the gap, down to a mark of the ruler: each flap is longer by that, and the way
/// between them as much shorter.
fn met(context: &Context<'_>, apart: &Apart) -> Option<Fix> {
    let (document, layout) = (context.document, context.layout);
    let mark = model::placing::finest(document.units);
    let by = Length::from_nm((Length::from_mm_rounded(apart.gap / 4.0)?.nm() / mark.nm()) * mark.nm());
    let across = |id: LineId| layout.lines.get(&id)?.ok()?.on_board();
    let [(turn, first), (other_turn, second)] = [across(apart.lines[0])?, across(apart.lines[1])?];
    if turn != other_turn || by <= Length::ZERO {
        return None;
    }
    let by = if first < second { by } else { -by };
    let moves = [context.moved(apart.lines[0], first + by)?, context.moved(apart.lines[1], second - by)?];
    let [one, two] = apart.lines.map(|line| document.line_name(line));
    let [to, from] = [first + by, second - by].map(|at| at.readable(document.units));
    let label = format!("Move {one} to {to} and {two} to {from}");
    context.if_fewer(label, Edit::All(moves.map(|fix| fix.edit).to_vec()), |context| self::apart(context).len())
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, at, four_flaps, length, line};
    use crate::testing::part::{first, part};
    use crate::testing::{mended, said};
    use model::part::Insert;
    use model::{Document, PanelRef, PartKind, Stop, Turn, Unit};

    /// A sheet of 12 by 6 in that closes like a gate by two doors, the second fold so far from the left.
    fn gate(first: &str, second: &str) -> Document {
        Sketch::on("12x6in")
            .score(1, Turn::None, first)
            .score(2, Turn::None, second)
            .base("6", "3")
            .steps(&[&[1], &[2]])
            .0
    }

    #[test]
    fn doors_that_end_apart_say_by_how_much() {
        // 2 7/8 in from either side of 6 1/4 in leave 1/2 in.
        let wide = gate("2 7/8", "9 1/8");
        let says = "The left flap and the right flap end 1/2 in (12.7 mm) apart, so the base shows between them.";
        assert_eq!(said(&wide, "flaps-apart"), [says]);
        assert_eq!(first(&wide, "flaps-apart").severity, Severity::Note);
        let [(label, met)] = mended(&wide, "flaps-apart").try_into().unwrap();
        assert_eq!(label, "Move Score 1 to 3 in and Score 2 to 9 in");
        assert_eq!(said(&met, "sticks-out"), [""; 0]);
    }

    #[test]
    fn what_doors_leave_is_said_in_the_makers_units() {
        let mut wide = gate("2 7/8", "9 1/8");
        for (unit, most) in [(Unit::Inch, "but for 1/8 in at most"), (Unit::Millimetre, "but for 3 mm at most")] {
            wide.units = unit;
            let mend = first(&wide, "flaps-apart").mend;
            assert!(mend.contains(most), "{mend}");
        }
    }

    #[test]
    fn doors_that_meet_ride_over_one_another_or_are_rims_are_no_matter() {
        // 1/8 in is what printers leave: 6 1/16 in between two folds, and 2 31/32 in from either side.
        for (first, second) in [("3", "9"), ("2 31/32", "9 1/32"), ("3 1/2", "9"), ("1", "11")] {
            assert_eq!(said(&gate(first, second), "flaps-apart"), [""; 0], "{first} and {second}");
        }
    }

    #[test]
    fn flaps_that_come_from_other_sides_or_are_covered_are_no_matter() {
        assert_eq!(said(&four_flaps(), "flaps-apart"), [""; 0]);
        // Side flaps that end 1/2 in apart, and one from above that covers all.
        let covered = Sketch::on("12x12in")
            .score(1, Turn::None, "2 7/8")
            .score(2, Turn::None, "9 1/8")
            .score(3, Turn::Once, "6")
            .cut(11, 1, Stop::Edge, line(3))
            .cut(12, 2, Stop::Edge, line(3))
            .cut(13, 3, Stop::Edge, line(2))
            .cut(14, 3, line(1), Stop::Edge)
            .base("6", "9")
            .steps(&[&[1], &[2], &[3]])
            .0;
        assert_eq!(said(&covered, "still-joined"), [""; 0]);
        assert_eq!(said(&covered, "flaps-apart"), [""; 0]);
    }

    #[test]
    fn a_card_that_lies_loose_behind_the_gap_makes_it_a_warning() {
        let mut loose = gate("2 7/8", "9 1/8");
        let card = Insert { width: length("4"), height: length("3"), caliper: None };
        loose.parts.push(part(1, PartKind::Insert(card), PanelRef::Sheet(at("6", "3"))));
        assert_eq!(first(&loose, "flaps-apart").severity, Severity::Warning);
    }
}
