//! A hinge or another part leaves no hairline of room beside a fold of what it is glued to, or beside a flap that
//! closes next to it, and catches there.

use super::Rule;
use crate::fix::Offers;
use crate::lie::{self, Shapes};
use crate::measure::closed_at;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::overlap::{LEAST_WIDTH, edges};
use fold::{Assembly, Contact, Folding, Joint};
use glam::{DAffine3, DVec2, DVec3};
use model::part::ClosureKind;
use model::part::usual::measure::CLEARANCE;
use model::{Direction, Face, LineId, PanelId, PartKind, PartLayout, Unit};
use std::cell::LazyCell;

pub(super) const RULE: Rule = Rule {
    name: "no-hairline",
    severities: &[Severity::Warning],
    about: "A hinge or another part leaves no hairline of room beside a fold of what it is glued to, or beside a flap \
            that closes next to it, and catches there.\n\n\
            A flap whose edge comes to lie against the edge of a hinge rides up on it, and a fold that closes over \
            paper lying in it does not close. 1/32 in, or 1 mm, is left free (common practice, no source). Looked at \
            are folds of other parts, such as a hinge's own, and edges of flaps, the folio's or glued on; folds of the \
            folio are told by `part-over-fold`.",
    example: "The left flap closes 1/64 in beside \"Hinge 1\", and catches on its edge.",
    check,
};

/// Where a part lies too near.
struct Near {
    /// How near, in mm.
    by: f64,
    /// The way out of it.
    way: DVec2,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((assembly, folding)) = context.folded.filter(|_| !context.layout.parts.is_empty()) else {
        return Vec::new();
    };
    let flaps = Flaps::of(context, assembly, folding);
    let offers = Offers::plain();
    let of_part = |part: &PartLayout| {
        let host = part.laid.filter(|_| is_stiff(context, part))?;
        let place = assembly.place(host.on)?;
        let shapes = lie::rigid(assembly, part)
            .into_iter()
            .filter_map(|panel| Some(lie::laid(&assembly.panels[panel].convex, lie::onto(assembly, panel, place)?)));
        let placed = Placed { part, place, face: host.face, shapes: shapes.flatten().collect() };
        match context.layout.part_of(host.on) {
            Some(carrier) => near_fold(context, assembly, &placed, carrier, &offers),
            None => near_flap(context, assembly, &placed, &flaps, &offers),
        }
    };
    context.layout.parts.iter().filter_map(of_part).collect()
}

/// A card is laid where there is room, and a ribbon bends.
fn is_stiff(context: &Context<'_>, part: &PartLayout) -> bool {
    let own = context.document.part(part.id);
    own.is_some_and(|own| !matches!(own.kind, PartKind::Insert(_)) && lie::closure(own) != Some(ClosureKind::Ribbon))
}

/// A part where it lies.
struct Placed<'a> {
    part: &'a PartLayout,
    /// The panel under it, as a place in [`Assembly::panels`], and its face.
    place: usize,
    face: Face,
    /// What of it can't move against its main panel, on the sheet of that panel.
    shapes: Shapes,
}

/// A fold of the part under it that closes over it.
fn near_fold(
    context: &Context<'_>,
    assembly: &Assembly,
    placed: &Placed<'_>,
    carrier: &PartLayout,
    offers: &Offers<'_>,
) -> Option<Finding> {
    let towards = if placed.face == Face::Front { Direction::Valley } else { Direction::Mountain };
    let closes = |(place, joint): &(usize, &Joint)| {
        let is_folded = carrier.before.iter().flatten().any(|line| *line == joint.line) || lie::folds(assembly, *place);
        joint.panels.contains(&placed.place) && joint.crease.direction == towards && is_folded
    };
    let near = |(_, joint): (usize, &Joint)| {
        let over = lie::reach_over(assembly, joint, placed.place, &placed.shapes);
        let by = if over > LEAST_WIDTH { -over } else { lie::nearest_to(joint, &placed.shapes) };
        let (_, out) = lie::past(joint, placed.place)?;
        Some((Near { by, way: -out }, joint.line))
    };
    let nearest = assembly.joints.iter().enumerate().filter(closes).filter_map(near);
    let (near, line) = nearest.min_by(|(a, _), (b, _)| a.by.total_cmp(&b.by))?;
    (near.by < least(context) - LEAST_WIDTH).then(|| {
        let unit = context.document.units;
        let where_to = match near.by {
            by if lie::is_seen(-by) => format!("reaches {} over", lie::readable(-by, unit)),
            by if by < LEAST_WIDTH => "lies right at".to_owned(),
            by => format!("lies {} from", lie::readable(by, unit)),
        };
        let name = &placed.part.name;
        let words = format!("\"{name}\" {where_to} {}, which closes over it.", context.line(line));
        finding(
            context,
            placed,
            &words,
            vec![carrier.main],
            Some(line),
            moved(context, assembly, placed, &near, offers),
        )
    })
}

/// A flap that comes to lie beside it on the same face of the same panel.
fn near_flap(
    context: &Context<'_>,
    assembly: &Assembly,
    placed: &Placed<'_>,
    flaps: &Flaps<'_>,
    offers: &Offers<'_>,
) -> Option<Finding> {
    let near = flaps.beside(context, placed);
    let (near, flap) = near.into_iter().min_by(|(a, _), (b, _)| a.by.total_cmp(&b.by))?;
    let name = &placed.part.name;
    let where_to = match near.by {
        by if by < LEAST_WIDTH => "right".to_owned(),
        by => lie::readable(by, context.document.units),
    };
    let words = format!("{} closes {where_to} beside \"{name}\", and catches on its edge.", context.the(flap));
    let fixes = moved(context, assembly, placed, &near, offers);
    Some(finding(context, placed, &words, vec![flap], None, fixes))
}

/// How much is to be free, in mm.
fn least(context: &Context<'_>) -> f64 {
    CLEARANCE.of(context.document.units).mm()
}

fn moved(
    context: &Context<'_>,
    assembly: &Assembly,
    placed: &Placed<'_>,
    near: &Near,
    offers: &Offers<'_>,
) -> Vec<Fix> {
    let Placed { part, place, shapes, .. } = placed;
    offers.of(|| lie::moved_away(context, assembly, part, *place, shapes, near.way, -near.by))
}

fn finding(
    context: &Context<'_>,
    placed: &Placed<'_>,
    words: &str,
    beside: Vec<PanelId>,
    line: Option<LineId>,
    fixes: Vec<Fix>,
) -> Finding {
    let clear = CLEARANCE.of(context.document.units).text(context.document.units);
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(words),
        mend: format!("Move \"{}\" away until {clear} is free between them, or make it smaller.", placed.part.name),
        spot: Spot {
            panels: std::iter::once(placed.part.main).chain(beside).collect(),
            lines: line.into_iter().collect(),
            ..Spot::default()
        },
        fixes,
    }
}

/// The folio's flaps, and the leaves of flaps that are glued on, in the closed state.
struct Flaps<'a> {
    assembly: &'a Assembly,
    folding: &'a Folding,
    poses: LazyCell<Vec<DAffine3>, Box<dyn FnOnce() -> Vec<DAffine3> + 'a>>,
    contacts: LazyCell<Vec<Contact>, Box<dyn FnOnce() -> Vec<Contact> + 'a>>,
    /// As places in [`Assembly::panels`].
    moving: Vec<usize>,
}

impl<'a> Flaps<'a> {
    fn of(context: &Context<'_>, assembly: &'a Assembly, folding: &'a Folding) -> Self {
        let is_flap = |&place: &usize| {
            let id = assembly.panels[place].id;
            let closes = context.layout.part_of(id).is_none_or(|part| {
                let own = context.document.part(part.id);
                id != part.main && own.is_some_and(|own| matches!(own.kind, PartKind::Flap(_)))
            });
            closes && place != assembly.base && folding.is_folded(id) && !context.layout.panel(id).is_gusset
        };
        Self {
            assembly,
            folding,
            poses: LazyCell::new(Box::new(|| folding.flat_pose(closed_at(folding)))),
            contacts: LazyCell::new(Box::new(|| fold::contacts(folding))),
            moving: (0..assembly.panels.len()).filter(is_flap).collect(),
        }
    }

    /// Flaps that rest on the panel of a part, beside the part and nearer than a hairline.
    fn beside(&self, context: &Context<'_>, placed: &Placed<'_>) -> Vec<(Near, PanelId)> {
        let is_own = |flap: usize| placed.part.panels.iter().any(|own| own.id == self.assembly.panels[flap].id);
        let others = self.moving.iter().filter(|&&flap| flap != placed.place && !is_own(flap));
        let near = |&flap: &usize| {
            let near = self.near(flap, placed).filter(|near| near.by < least(context) - LEAST_WIDTH)?;
            self.rests(flap, placed).then(|| (near, self.assembly.panels[flap].id))
        };
        others.filter_map(near).collect()
    }

    /// How near a flap's own edges, its folds left out, come to a part; `None` where it lies in another plane, or over
    /// it.
    fn near(&self, flap: usize, placed: &Placed<'_>) -> Option<Near> {
        /// Panels of one plane differ by rounding only; a paper's thickness is far more. In mm, and as a cosine.
        const SAME: f64 = 1e-2;
        let onto = self.poses[placed.place].inverse() * self.poses[flap];
        let is_level = (onto.transform_vector3(DVec3::Z).z.abs() - 1.0).abs() < SAME * SAME;
        if !is_level || onto.translation.z.abs() > SAME {
            return None;
        }
        let shape = &self.assembly.panels[flap];
        let there = |at: DVec2| onto.transform_point3(at.extend(0.0)).truncate();
        // Most flaps lie far off, and are not looked at more closely.
        let (low, high) = bounds(shape.outline.iter().map(|&at| there(at)));
        let (least, most) = bounds(placed.shapes.iter().flatten().copied());
        let far = DVec2::splat(CLEARANCE.of(Unit::Inch).mm().max(CLEARANCE.of(Unit::Millimetre).mm()));
        let is_far = (low - far).cmpgt(most).any() || (high + far).cmplt(least).any();
        if is_far || lie::overlap(&lie::laid(&shape.convex, onto), &placed.shapes) {
            return None;
        }
        let folds: Vec<(DVec2, DVec2)> = self.folds(flap).collect();
        let own = |(a, b): &(DVec2, DVec2)| !folds.iter().any(|fold| is_on(*fold, a.midpoint(*b)));
        let is_turned = onto.transform_vector3(DVec3::Z).z < 0.0;
        let side = |(a, b): (DVec2, DVec2)| if is_turned { (there(b), there(a)) } else { (there(a), there(b)) };
        let sides = edges(&shape.outline).filter(own).map(side);
        let near = sides.map(|(a, b)| {
            let out = DVec2::new(b.y - a.y, a.x - b.x).normalize_or_zero();
            Near { by: lie::between(&[(a, b)], &placed.shapes), way: out }
        });
        near.min_by(|a, b| a.by.total_cmp(&b.by))
    }

    fn folds(&self, flap: usize) -> impl Iterator<Item = (DVec2, DVec2)> {
        let own = self.assembly.joints.iter().filter(move |joint| joint.panels.contains(&flap));
        own.flat_map(|joint| joint.stretches.iter().copied())
    }

    /// Whether a flap rests on the panel of a part, on the face that the part is on.
    fn rests(&self, flap: usize, placed: &Placed<'_>) -> bool {
        let (host, flap) = (self.assembly.panels[placed.place].id, self.assembly.panels[flap].id);
        let holds = |panels: &[PanelId]| panels.contains(&host);
        let mut planes = self.folding.planes().iter();
        let Some(plane) = planes.find(|plane| plane.layers.iter().any(|(_, panels)| holds(panels))) else {
            return false;
        };
        let looks_up = self.poses[placed.place].transform_vector3(DVec3::Z).dot(plane.normal) > 0.0;
        let is_upper = looks_up == (placed.face == Face::Front);
        let pair = if is_upper { (host, flap) } else { (flap, host) };
        self.contacts.iter().any(|contact| (contact.lower, contact.upper) == pair)
    }
}

/// The least and greatest corner of the upright rectangle around some places.
fn bounds(places: impl Iterator<Item = DVec2>) -> (DVec2, DVec2) {
    let nowhere = (DVec2::INFINITY, DVec2::NEG_INFINITY);
    places.fold(nowhere, |(low, high), at| (low.min(at), high.max(at)))
}

/// Whether a place lies on a stretch, up to rounding.
fn is_on((a, b): (DVec2, DVec2), at: DVec2) -> bool {
    let (way, from) = ((b - a).normalize_or_zero(), at - a);
    way.perp_dot(from).abs() < LEAST_WIDTH && (-LEAST_WIDTH..=a.distance(b) + LEAST_WIDTH).contains(&way.dot(from))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{base, flap_and_base, hinge, mat, moved, part};
    use crate::testing::{mended, said};
    use model::part::Flap;
    use model::{Document, Face, LineId, PanelRef, PartId, PartKind, SheetEdge, Step, Turn};

    /// A hinge of 1 in across on the base of [`flap_and_base`], so far from its left edge: the left flap of 3 in closes
    /// over those first 3 in.
    #[track_caller]
    fn beside_flap(across: &str) -> Document {
        flap_and_base(vec![moved(part(1, hinge("4", "1/2", "1/2"), base()), across, "4")])
    }

    #[test]
    fn a_flap_that_closes_against_a_hinge_is_told_and_the_hinge_moved() {
        let says = "The left flap closes 1/64 in beside \"Hinge 1\", and catches on its edge.";
        assert_eq!(said(&beside_flap("3 1/64"), "no-hairline"), [says]);
        let [(label, mended)] = mended(&beside_flap("3 1/64"), "no-hairline").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Move it 1/64 in to the right", beside_flap("3 1/32")));
        let right = "The left flap closes right beside \"Hinge 1\", and catches on its edge.";
        assert_eq!(said(&beside_flap("3"), "no-hairline"), [right]);
    }

    #[test]
    fn room_enough_and_a_flap_that_lies_over_it_are_silent() {
        assert_eq!(said(&beside_flap("3 1/32"), "no-hairline"), [""; 0]);
        assert_eq!(said(&beside_flap("1"), "no-hairline"), [""; 0]);
        // On the back of the base nothing closes.
        let mut behind = beside_flap("3 1/64");
        behind.parts[0].place.face = Face::Back;
        assert_eq!(said(&behind, "no-hairline"), [""; 0]);
        let mut open = beside_flap("3 1/64");
        open.steps.clear();
        assert_eq!(said(&open, "no-hairline"), [""; 0]);
    }

    #[test]
    fn a_flap_that_rests_on_another_does_not_catch() {
        // The right flap ends where the mat does. Closed first, the left one lies over the mat, and the other on that.
        let with = |steps: &[&[u32]]| {
            let sheet = Sketch::on("15x6in").score(1, Turn::None, "6").score(2, Turn::None, "12");
            let mut document = sheet.base("9", "3").steps(steps).0;
            document.parts = vec![moved(part(1, mat("1", "4"), PanelRef::Sheet(at("9", "3"))), "2", "1")];
            document
        };
        assert_eq!(said(&with(&[&[1], &[2]]), "no-hairline"), [""; 0]);
        let says = "The right flap closes right beside \"Mat 1\", and catches on its edge.";
        assert_eq!(said(&with(&[&[2]]), "no-hairline"), [says]);
    }

    #[test]
    fn a_flap_that_is_glued_on_is_one_too() {
        // A flap at the right edge of the base, which is 9 in wide: it folds over its strip and reaches 2 in.
        let with = |across: &str| {
            let (width, reach, strip) = (length("6"), length("2"), length("1/2"));
            let flap = PartKind::Flap(Flap { width, reach, edge: SheetEdge::Right, strip });
            let flap = moved(part(1, flap, base()), "8 1/2", "3");
            let mut document = flap_and_base(vec![flap, moved(part(2, mat("1", "4"), base()), across, "4")]);
            document.steps.push(Step { parts: vec![(PartId(1), LineId(1))], ..Step::default() });
            document
        };
        let says = "\"Flap 1\" closes 1/64 in beside \"Mat 2\", and catches on its edge.";
        assert_eq!(said(&with("5 63/64"), "no-hairline"), [says]);
        let [(label, mended)] = mended(&with("5 63/64"), "no-hairline").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Move it 1/64 in to the left", with("5 31/32")));
        assert_eq!(said(&with("5 31/32"), "no-hairline"), [""; 0]);
        assert_eq!(said(&with("6 1/2"), "no-hairline"), [""; 0], "it closes over it");
    }

    #[test]
    fn a_mat_against_the_fold_of_a_leaf_is_told() {
        // On the front of the glued leaf, which its free leaf closes over.
        let with = |across: &str, on: usize, face| {
            let mut on_leaf = moved(part(2, mat("1/4", "2"), PanelRef::Part(PartId(1), on)), across, "1/4");
            on_leaf.place.face = face;
            flap_and_base(vec![moved(part(1, hinge("3", "1", "1"), base()), "5", "4"), on_leaf])
        };
        let says = "\"Mat 2\" lies 1/64 in from \"Hinge 1's fold\", which closes over it.";
        assert_eq!(said(&with("47/64", 0, Face::Front), "no-hairline"), [says]);
        let right = "\"Mat 2\" lies right at \"Hinge 1's fold\", which closes over it.";
        assert_eq!(said(&with("3/4", 0, Face::Front), "no-hairline"), [right]);
        let [(label, mended)] = mended(&with("47/64", 0, Face::Front), "no-hairline").try_into().unwrap();
        assert_eq!((label.as_str(), mended), ("Move it 1/64 in to the left", with("23/32", 0, Face::Front)));
        assert_eq!(said(&with("1/2", 0, Face::Front), "no-hairline"), [""; 0]);
        // On the other face of the free leaf the fold opens away from it.
        assert_eq!(said(&with("0", 1, Face::Back), "no-hairline"), [""; 0]);
    }
}
