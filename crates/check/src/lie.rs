//! How parts lie on what is under them before the folio is folded: which shapes reach over which folds and edges, and by
//! how much. Millimetres, on the sheet of the panel under them, as in [`fold::Assembly`].

use crate::{Context, Fix};
use fold::overlap::{LEAST_WIDTH, area, edges, is_proper, left_of, shared};
use fold::{Assembly, Bond, Joint};
use glam::{DAffine3, DVec2};
use model::part::usual::measure::CLEARANCE;
use model::part::{ClosureKind, change};
use model::{Face, Length, PanelId, Part, PartKind, PartLayout, Unit, Vector};
use std::collections::BTreeSet;

/// Convex outlines, anticlockwise.
pub(crate) type Shapes = Vec<Vec<DVec2>>;

/// 1/64 in: below what a maker can measure with a ruler (common practice, no source).
pub(crate) const HAIR: Length = Length::SIXTY_FOURTH;

/// Whether a maker sees so many mm.
pub(crate) fn is_seen(mm: f64) -> bool {
    mm > HAIR.mm() + LEAST_WIDTH
}

/// Glue of a part.
pub(crate) struct Glued<'a> {
    pub(crate) part: &'a PartLayout,
    pub(crate) bond: &'a Bond,
    /// Where it is, on the sheet of what it is glued to.
    pub(crate) area: Shapes,
}

/// The glue of every part that lies flat, part by part. A brad has none, and a ribbon only somewhere in its middle. What
/// hangs on a hinge's leaf with a whole panel has it where the leaf is: there it is the leaf that is spread with glue.
pub(crate) fn glue<'a>(context: &Context<'a>) -> Vec<Glued<'a>> {
    let Some((assembly, _)) = context.folded else { return Vec::new() };
    let glued = assembly.bonds.iter().filter(|bond| !bond.area.is_empty()).filter_map(|bond| {
        let part = context.layout.part_of(assembly.panels[bond.panels[0]].id)?;
        if matches!(closure(context.document.part(part.id)?), Some(ClosureKind::Brad | ClosureKind::Ribbon)) {
            return None;
        }
        let [own, host] = bond.panels.map(|place| &assembly.panels[place]);
        if is_of_a_hinge(context, host.id) && (total(&bond.area) - total(&own.convex)).abs() < LEAST_WIDTH {
            return None;
        }
        let area = laid(&bond.area, onto(assembly, bond.panels[0], bond.panels[1])?);
        Some(Glued { part, bond, area })
    });
    glued.collect()
}

fn is_of_a_hinge(context: &Context<'_>, panel: PanelId) -> bool {
    let part = context.layout.part_of(panel).and_then(|part| context.document.part(part.id));
    part.is_some_and(|part| matches!(part.kind, PartKind::Hinge(_)))
}

/// The area of shapes that don't overlap, in mm².
fn total(shapes: &[Vec<DVec2>]) -> f64 {
    shapes.iter().map(|shape| area(shape)).sum()
}

/// What a closure is; `None` for other parts.
pub(crate) const fn closure(part: &Part) -> Option<ClosureKind> {
    match &part.kind {
        PartKind::Closure(closure) => Some(closure.kind),
        _ => None,
    }
}

/// From the sheet of one panel (places in [`Assembly::panels`]) to that of another; `None` where one of them doesn't lie
/// flat.
pub(crate) fn onto(assembly: &Assembly, from: usize, to: usize) -> Option<DAffine3> {
    Some(assembly.lying(to)?.inverse() * assembly.lying(from)?)
}

/// Shapes laid elsewhere, anticlockwise again.
pub(crate) fn laid(shapes: &[Vec<DVec2>], by: DAffine3) -> Shapes {
    let one = |shape: &Vec<DVec2>| {
        let mut shape: Vec<DVec2> =
            shape.iter().map(|&corner| by.transform_point3(corner.extend(0.0)).truncate()).collect();
        if area(&shape) < 0.0 {
            shape.reverse();
        }
        shape
    };
    shapes.iter().map(one).collect()
}

/// The panel of the folio on which a part lies in the end, through all that carries it, and its face.
pub(crate) fn root(context: &Context<'_>, part: &PartLayout) -> Option<(PanelId, Face)> {
    let mut laid = part.laid?;
    // No part lies on itself, so the chain is no longer than there are parts.
    for _ in 0..=context.layout.parts.len() {
        match context.layout.part_of(laid.on) {
            Some(host) => laid = host.laid?,
            None => return Some((laid.on, laid.face)),
        }
    }
    None
}

/// What of some shapes lies outside of others.
pub(crate) fn outside(shapes: &[Vec<DVec2>], of: &[Vec<DVec2>]) -> Shapes {
    let mut left: Shapes = shapes.to_vec();
    for convex in of {
        left = left.iter().flat_map(|shape| cut_out(shape, convex)).collect();
    }
    left
}

/// A convex shape without what another covers of it.
fn cut_out(shape: &[DVec2], convex: &[DVec2]) -> Shapes {
    let (mut rest, mut pieces) = (shape.to_vec(), Vec::new());
    for (a, b) in edges(convex) {
        let beyond = left_of(&rest, b, a);
        if is_proper(&beyond) {
            pieces.push(beyond);
        }
        rest = left_of(&rest, a, b);
        if !is_proper(&rest) {
            break;
        }
    }
    // Nothing is taken out of a shape that is not covered at all, or it would be cut up for nothing.
    if is_proper(&rest) { pieces } else { vec![shape.to_vec()] }
}

/// Whether two sets of shapes share more than a line.
pub(crate) fn overlap(a: &[Vec<DVec2>], b: &[Vec<DVec2>]) -> bool {
    a.iter().any(|a| b.iter().any(|b| is_proper(&shared(a, b))))
}

/// How far shapes lie over others, in mm: the lesser side of the upright rectangle around what two of them share, where
/// that is most.
pub(crate) fn deepest(shapes: &[Vec<DVec2>], others: &[Vec<DVec2>]) -> f64 {
    let pairs = shapes.iter().flat_map(|a| others.iter().map(move |b| shared(a, b)));
    let depth = |both: Vec<DVec2>| {
        let low = both.iter().copied().reduce(DVec2::min).unwrap_or_default();
        let high = both.iter().copied().reduce(DVec2::max).unwrap_or_default();
        (high - low).min_element()
    };
    pairs.filter(|both| is_proper(both)).map(depth).fold(0.0, f64::max)
}

/// How far some shapes, on the sheet of a panel, reach over a fold of it onto the panel beyond, in mm; 0 where they don't.
pub(crate) fn reach_over(assembly: &Assembly, joint: &Joint, host: usize, shapes: &[Vec<DVec2>]) -> f64 {
    let Some(other) = beyond(joint, host) else { return 0.0 };
    let over = outside(shapes, &assembly.panels[host].convex);
    let over = over.iter().filter(|shape| overlap(std::slice::from_ref(shape), &assembly.panels[other].convex));
    let past = over.flatten().flat_map(|&corner| past(joint, host).map(move |(at, out)| (corner - at).dot(out)));
    past.fold(0.0, f64::max)
}

/// The panel on the other side of a fold; `None` when it is not one of this panel.
pub(crate) fn beyond(joint: &Joint, host: usize) -> Option<usize> {
    match joint.panels {
        [a, b] if a == host => Some(b),
        [a, b] if b == host => Some(a),
        _ => None,
    }
}

/// A place on the fold, and the way out of the panel across it. All stretches of a fold lie on one line.
pub(crate) fn past(joint: &Joint, host: usize) -> Option<(DVec2, DVec2)> {
    let &(a, b) = joint.stretches.first()?;
    let right = DVec2::new(b.y - a.y, a.x - b.x).normalize_or_zero();
    Some((a, if joint.panels[0] == host { right } else { -right }))
}

/// How far some shapes that lie outside of others reach beyond their sides, in mm: at a corner, past the side that they
/// are farther from.
pub(crate) fn farthest_from(shapes: &[Vec<DVec2>], of: &[Vec<DVec2>]) -> f64 {
    let past = |corner: DVec2, convex: &Vec<DVec2>| {
        let beyond = edges(convex).map(|(a, b)| DVec2::new(b.y - a.y, a.x - b.x).normalize_or_zero().dot(corner - a));
        beyond.fold(0.0, f64::max)
    };
    let from = |corner: DVec2| of.iter().map(|convex| past(corner, convex)).fold(f64::INFINITY, f64::min);
    shapes.iter().flatten().map(|&corner| from(corner)).fold(0.0, f64::max)
}

/// How near some shapes come to a fold, in mm: to its stretches, not to their line.
pub(crate) fn nearest_to(joint: &Joint, shapes: &[Vec<DVec2>]) -> f64 {
    between(&joint.stretches, shapes)
}

/// How near some shapes come to stretches, in mm.
pub(crate) fn between(stretches: &[(DVec2, DVec2)], shapes: &[Vec<DVec2>]) -> f64 {
    let to_side = |(p, q): (DVec2, DVec2), (a, b): (DVec2, DVec2)| {
        let ends = [from_segment(p, (a, b)), from_segment(q, (a, b)), from_segment(a, (p, q)), from_segment(b, (p, q))];
        ends.into_iter().fold(f64::INFINITY, f64::min)
    };
    let sides = shapes.iter().flat_map(|shape| edges(shape));
    let all = sides.flat_map(|side| stretches.iter().map(move |&stretch| to_side(side, stretch)));
    all.fold(f64::INFINITY, f64::min)
}

/// How far some shapes lie from others, in mm; 0 where they share anything.
pub(crate) fn apart(shapes: &[Vec<DVec2>], others: &[Vec<DVec2>]) -> f64 {
    if overlap(shapes, others) {
        return 0.0;
    }
    let from = |corners: &[Vec<DVec2>], sides: &[Vec<DVec2>]| {
        let sides: Vec<(DVec2, DVec2)> = sides.iter().flat_map(|shape| edges(shape)).collect();
        let nearest =
            |&corner: &DVec2| sides.iter().map(|&side| from_segment(corner, side)).fold(f64::INFINITY, f64::min);
        corners.iter().flatten().map(nearest).fold(f64::INFINITY, f64::min)
    };
    from(shapes, others).min(from(others, shapes))
}

fn from_segment(point: DVec2, (a, b): (DVec2, DVec2)) -> f64 {
    let way = b - a;
    let along = (point - a).dot(way) / way.length_squared().max(f64::MIN_POSITIVE);
    point.distance(a + way * along.clamp(0.0, 1.0))
}

/// The panels (places in [`Assembly::panels`]) that can't move against a part's main panel once it lies there: those
/// beyond folds that are made before.
pub(crate) fn rigid(assembly: &Assembly, part: &PartLayout) -> BTreeSet<usize> {
    let before: BTreeSet<_> = part.before.iter().flatten().copied().collect();
    let mut reached: BTreeSet<usize> = assembly.place(part.main).into_iter().collect();
    loop {
        let next = assembly.joints.iter().filter(|joint| before.contains(&joint.line)).flat_map(|joint| joint.panels);
        let touches = |panel: &usize| {
            let joints = assembly.joints.iter().filter(|joint| before.contains(&joint.line));
            joints.filter_map(|joint| beyond(joint, *panel)).any(|other| reached.contains(&other))
        };
        let new: Vec<usize> = next.filter(|panel| !reached.contains(panel) && touches(panel)).collect();
        if new.is_empty() {
            return reached;
        }
        reached.extend(new);
    }
}

/// Whether some step folds a joint (a place in [`Assembly::joints`]).
pub(crate) fn folds(assembly: &Assembly, joint: usize) -> bool {
    assembly.steps.iter().any(|step| step.joints.contains(&joint))
}

/// A part that can be moved away from a fold of the panel that it is put on.
pub(crate) struct Shift<'a> {
    pub(crate) part: &'a PartLayout,
    /// The panel, as a place in [`Assembly::panels`].
    pub(crate) host: usize,
    pub(crate) joint: &'a Joint,
    /// What of the part has to lie on that panel, on its sheet.
    pub(crate) shapes: &'a Shapes,
}

impl Shift<'_> {
    /// Moves the part away from the fold by so many mm, and on to a clearance from it; without that where there is no
    /// room. `None` where it would then reach over another side of the panel, or other glue of it would not hold.
    pub(crate) fn away_by(&self, context: &Context<'_>, assembly: &Assembly, by: f64) -> Option<Fix> {
        let (_, out) = past(self.joint, self.host)?;
        let Self { part, host, shapes, .. } = *self;
        moved_away(context, assembly, part, host, shapes, -out, by)
    }
}

/// Moves a part on the panel that it is put on (a place in [`Assembly::panels`]) along `way`, by so many mm and a
/// clearance, without that where there is no room. `shapes` are what of it has to lie on that panel, on its sheet. `None`
/// where it would then reach over another side of the panel, or other glue of it would not hold.
pub(crate) fn moved_away(
    context: &Context<'_>,
    assembly: &Assembly,
    part: &PartLayout,
    host: usize,
    shapes: &Shapes,
    way: DVec2,
    by: f64,
) -> Option<Fix> {
    let unit = context.document.units;
    let host = &assembly.panels[host];
    let all_there = part.glue.iter().all(|glue| glue.panels[1] == host.id);
    if !all_there || part.laid?.on != host.id {
        return None;
    }
    let by = [by + CLEARANCE.of(unit).mm(), by].map(|by| up_to_mark(by, unit)).into_iter().find(|by| {
        let moved = |shape: &Vec<DVec2>| shape.iter().map(|&corner| corner + way * by.mm()).collect();
        let moved: Shapes = shapes.iter().map(moved).collect();
        *by > Length::ZERO && !is_seen(farthest_from(&outside(&moved, &host.convex), &host.convex))
    })?;
    let (whither, way) = straight(way, by)?;
    let edit = change::shift(context.document, part.id, way)?;
    Some(Fix::new(format!("Move it {} {whither}", by.text(unit)), edit))
}

/// So far along one of the sheet's two directions, and what that is called; `None` for a slanting one.
fn straight(way: DVec2, by: Length) -> Option<(&'static str, Vector)> {
    /// Directions are worked out from whole nanometres, and are off by their last digits only.
    const SAME: f64 = 1e-9;
    let (across, down) = (|x| Vector { x, y: Length::ZERO }, |y| Vector { x: Length::ZERO, y });
    match (way.x.abs() < SAME, way.y.abs() < SAME) {
        (false, true) if way.x > 0.0 => Some(("to the right", across(by))),
        (false, true) => Some(("to the left", across(-by))),
        (true, false) if way.y > 0.0 => Some(("up", down(-by))),
        (true, false) => Some(("down", down(by))),
        _ => None,
    }
}

/// A length in mm in a maker's words.
pub(crate) fn readable(mm: f64, unit: Unit) -> String {
    Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT).readable(unit)
}

/// The least mark of a ruler, a sixty-fourth of an inch or half a millimetre, that is no less than so many mm.
pub(crate) fn up_to_mark(mm: f64, unit: Unit) -> Length {
    let step = if unit == Unit::Inch { Length::SIXTY_FOURTH } else { Length::MILLIMETRE.half() };
    // Places that are turned are rounded to the nanometre, so a few of them are no measure.
    let least = Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT) - Length::from_nm(10);
    let down = Length::from_nm(least.nm().div_euclid(step.nm()) * step.nm());
    if down < least { down + step } else { down }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64) -> Vec<DVec2> {
        [(x, y), (x + side, y), (x + side, y + side), (x, y + side)].map(DVec2::from).to_vec()
    }

    #[test]
    fn what_is_cut_out_and_what_is_left_are_the_whole() {
        let shape = square(0.0, 0.0, 10.0);
        for (convex, left) in [
            (square(2.0, 2.0, 4.0), 84.0),
            (square(5.0, 5.0, 10.0), 75.0),
            (square(10.0, 0.0, 5.0), 100.0),
            (square(-1.0, -1.0, 20.0), 0.0),
        ] {
            let rest = outside(std::slice::from_ref(&shape), std::slice::from_ref(&convex));
            assert!((total(&rest) - left).abs() < 1e-9, "{convex:?}: {rest:?}");
            assert!(!overlap(&rest, &[convex]));
        }
    }

    #[test]
    fn what_is_past_two_sides_counts_past_the_farther() {
        let host = [square(0.0, 0.0, 10.0)];
        let by = |shape| {
            let outside = outside(&[shape], &host);
            farthest_from(&outside, &host)
        };
        for (shape, expected) in [
            (square(8.0, 8.0, 3.0), 1.0),
            (square(8.0, 9.0, 3.0), 2.0),
            (square(2.0, 2.0, 3.0), 0.0),
            (square(-4.0, 2.0, 5.0), 4.0),
        ] {
            assert!((by(shape.clone()) - expected).abs() < 1e-9, "{shape:?}");
        }
    }

    #[test]
    fn what_lies_apart_does_so_by_the_shortest_way() {
        let by = |x, y| apart(&[square(0.0, 0.0, 10.0)], &[square(x, y, 5.0)]);
        for (x, y, expected) in
            [(12.0, 2.0, 2.0), (13.0, 14.0, 5.0), (10.0, 0.0, 0.0), (8.0, 8.0, 0.0), (2.0, 2.0, 0.0)]
        {
            assert!((by(x, y) - expected).abs() < 1e-9, "{x} and {y}");
        }
    }

    #[test]
    fn a_mark_is_never_less_than_what_it_stands_for() {
        assert_eq!(up_to_mark(0.0, Unit::Inch), Length::ZERO);
        assert_eq!(up_to_mark(25.4, Unit::Inch), Length::INCH);
        assert_eq!(up_to_mark(25.5, Unit::Inch), Length::INCH + Length::SIXTY_FOURTH);
        assert_eq!(up_to_mark(2.1, Unit::Millimetre), Length::from_mm_exact(2, 500_000));
    }
}
