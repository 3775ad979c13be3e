//! How high layers lie: every panel as low as those under it let it, seen from the base.

use crate::assembly::Assembly;
use crate::cover::Cover;
use crate::facet::Facet;
use crate::folding::{Plane, Woven};
use crate::layer::{Lie, Side};
use crate::relations::Relations;
use crate::step::connected;
use glam::DVec3;
use std::collections::BTreeSet;

/// Planes nearer than this, in mm, are one: as [`crate::layer`] has it, with room for rounding.
const SAME_PLANE: f64 = 2e-3;

/// How far from 1 or 0 a component of a normal may be and still count as such.
const SAME_WAY: f64 = 1e-9;

/// Panels that hang together unfolded: they lie at one height.
struct Sheets {
    /// For each panel, the number of its sheet.
    of: Vec<usize>,
    /// For each sheet: the direction that counts as up, and how far along it the sheet lies.
    place: Vec<(DVec3, f64)>,
    /// For each sheet, where it lies in the pile.
    rise: Vec<Rise>,
}

/// Where a sheet lies in its plane's pile, counted upwards from the sheet of the base, or what stands in for it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Rise {
    /// In layers.
    level: i32,
    /// From the middle of that sheet's paper to the middle of its own, in mm.
    height: f64,
}

/// The layer of each panel in its plane, counted along its own front from that of the base (as in
/// [`Plane::layers`]), and how far it is to be lifted that way so that layers just lie on one another, in mm: the middles
/// of two neighbours are half the caliper of each apart.
///
/// Where sheets lie on one another in a ring, no heights tell all of it: the pairs that they tell wrongly come last.
pub(crate) fn lifts(
    assembly: &Assembly,
    turned: &[i32],
    lie: &Lie,
    relations: &Relations,
) -> (Vec<i32>, Vec<f64>, Vec<Woven>) {
    let (sheets, over) = Sheets::new(assembly, turned, lie, relations);
    let woven = if sheets.tell(&over) { Vec::new() } else { sheets.woven(lie, relations) };
    let rise = |panel: usize| {
        let sheet = sheets.of[panel];
        let Rise { level, height } = sheets.rise[sheet];
        let front_up = lie.frames[panel].matrix3.z_axis.dot(sheets.place[sheet].0) > 0.0;
        if front_up { (level, height) } else { (-level, -height) }
    };
    let (levels, lifts) = (0..assembly.panels.len()).map(rise).unzip();
    (levels, lifts, woven)
}

/// The planes with their layers, and which panel lies above which, panel by panel (see [`Folding`](crate::Folding)).
pub(crate) fn planes(assembly: &Assembly, turned: &[i32], lie: &Lie, relations: &Relations) -> (Vec<Plane>, Relations) {
    let (sheets, _) = Sheets::new(assembly, turned, lie, relations);
    let mut planes: Vec<Plane> = Vec::new();
    for (panel, &sheet) in sheets.of.iter().enumerate() {
        let (normal, distance) = sheets.place[sheet];
        let id = assembly.panels[panel].id;
        let plane =
            if let Some(found) = planes.iter().position(|p| one_plane((p.normal, p.distance), (normal, distance))) {
                &mut planes[found]
            } else {
                planes.push(Plane { normal, distance, layers: Vec::new() });
                let last = planes.len() - 1;
                &mut planes[last]
            };
        let level = sheets.rise[sheet].level;
        match plane.layers.binary_search_by_key(&level, |(number, _)| *number) {
            Ok(layer) => plane.layers[layer].1.push(id),
            Err(place) => plane.layers.insert(place, (level, vec![id])),
        }
    }
    let rank = |plane: &Plane| [1.0 - plane.normal.z, 1.0 - plane.normal.x, plane.distance];
    planes.sort_by(|a, b| {
        let pairs = rank(a).into_iter().zip(rank(b));
        pairs.map(|(x, y)| x.total_cmp(&y)).find(|order| order.is_ne()).unwrap_or(std::cmp::Ordering::Equal)
    });
    let mut order = Relations::none(assembly.panels.len());
    for (a, b) in relations.pairs() {
        let (p, q) = (lie.facets[a].panel, lie.facets[b].panel);
        if let Some(above) = relations.above(lie, a, b, up(lie.normal(a))) {
            let side = if above { Side::Front } else { Side::Back };
            order.note(p, q, Some(side));
            order.note(q, p, Some(side.other()));
        }
    }
    (planes, order)
}

impl Sheets {
    /// The sheets, and for each those that lie above it, through which all are reached that do.
    fn new(assembly: &Assembly, turned: &[i32], lie: &Lie, relations: &Relations) -> (Self, Vec<Vec<usize>>) {
        let mut beside = vec![Vec::new(); assembly.panels.len()];
        for (joint, _) in assembly.joints.iter().zip(turned).filter(|(_, turned)| **turned == 0) {
            let [a, b] = joint.panels;
            beside[a].push(b);
            beside[b].push(a);
        }
        let of = connected(&beside);
        let count = of.iter().max().map_or(0, |most| most + 1);
        let mut place = vec![(DVec3::Z, 0.0); count];
        for (panel, frame) in lie.frames.iter().enumerate().rev() {
            let up = up(frame.matrix3.z_axis);
            place[of[panel]] = (up, up.dot(frame.translation));
        }
        let front_up = |facet: usize, sheet: usize| lie.normal(facet).dot(place[sheet].0) > 0.0;
        let sided = |(facet, of_panel): (usize, &Facet)| (of[of_panel.panel], front_up(facet, of[of_panel.panel]));
        let facets: Vec<(usize, bool)> = lie.facets.iter().enumerate().map(sided).collect();
        let Cover { next, bottom_up } = Cover::new(count, &facets, relations).unwrap_or_else(|| {
            let over = over(count, &facets, relations);
            Cover { bottom_up: bottom_up(&over), next: over }
        });
        let mut caliper = vec![0.0_f64; count];
        for (panel, &sheet) in of.iter().enumerate() {
            caliper[sheet] = caliper[sheet].max(assembly.caliper_of(panel));
        }
        let rise = rises(&next, &bottom_up, &anchors(assembly, &of, &place), &caliper);
        (Self { of, place, rise }, next)
    }

    /// Whether the heights tell all of what lies over what.
    fn tell(&self, over: &[Vec<usize>]) -> bool {
        let level = |sheet: usize| self.rise[sheet].level;
        over.iter().enumerate().all(|(low, above)| above.iter().all(|&high| level(high) > level(low)))
    }

    /// The pairs of panels that the heights tell wrongly.
    fn woven(&self, lie: &Lie, relations: &Relations) -> Vec<Woven> {
        let mut out = BTreeSet::new();
        for (a, facet) in lie.facets.iter().enumerate() {
            let sheet = self.of[facet.panel];
            let front_up = lie.normal(a).dot(self.place[sheet].0) > 0.0;
            for (b, side) in relations.after(a) {
                let other = lie.facets[b].panel;
                let (own, its) = (self.rise[sheet].level, self.rise[self.of[other]].level);
                let is_over = (side == Side::Front) == front_up;
                if if is_over { its <= own } else { own <= its } {
                    out.insert(Woven { panel: facet.panel, other, on_front: side == Side::Front });
                }
            }
        }
        out.into_iter().collect()
    }
}

/// For each sheet, those that lie above it; one as often as facets of theirs lie on one another.
fn over(count: usize, facets: &[(usize, bool)], relations: &Relations) -> Vec<Vec<usize>> {
    let mut over = vec![Vec::new(); count];
    for (a, &(sheet, front_up)) in facets.iter().enumerate() {
        for (b, side) in relations.after(a) {
            let (low, high) =
                if (side == Side::Front) == front_up { (sheet, facets[b].0) } else { (facets[b].0, sheet) };
            over[low].push(high);
        }
    }
    over
}

/// For each sheet the one, in its plane, from which levels count: the one fewest folds away from the base, and of several
/// the first to arrive, since those that come later have to lie on it.
fn anchors(assembly: &Assembly, of: &[usize], place: &[(DVec3, f64)]) -> Vec<usize> {
    let mut by_way: Vec<usize> = (0..of.len()).collect();
    by_way.sort_by_key(|&panel| (assembly.ways[panel], panel));
    let mut leaders: Vec<usize> = Vec::new();
    let mut anchors: Vec<usize> = (0..place.len()).collect();
    for panel in by_way {
        let sheet = of[panel];
        match leaders.iter().find(|&&leader| one_plane(place[leader], place[sheet])) {
            Some(&leader) => anchors[sheet] = leader,
            None => leaders.push(sheet),
        }
    }
    anchors
}

/// Where each sheet lies, given what lies over what, all sheets from low to high, for each its anchor, and how thick each is, in mm. Anchors are
/// at 0; what lies under one, however far down, is below it; all else is as low as what it lies on lets it.
///
/// What nothing lies under stands on the same ground as its anchor: their lower faces are level, as are those of all
/// that lie beside one another on the ground, however thick. So a thick card beside a thin base neither sinks into the
/// table nor floats over it, and what goes over both rests on the card.
fn rises(over: &[Vec<usize>], order: &[usize], anchors: &[usize], caliper: &[f64]) -> Vec<Rise> {
    let apart = |a: usize, b: usize| f64::midpoint(caliper[a], caliper[b]);
    let is_anchor = |sheet: usize| anchors[sheet] == sheet;
    let mut below: Vec<Option<Rise>> = (0..over.len()).map(|sheet| is_anchor(sheet).then(Rise::default)).collect();
    for &sheet in order.iter().rev().filter(|&&sheet| !is_anchor(sheet)) {
        let under = |&above: &usize| {
            below[above].map(|rise| Rise { level: rise.level - 1, height: rise.height - apart(sheet, above) })
        };
        below[sheet] = over[sheet]
            .iter()
            .filter_map(under)
            .reduce(|a, b| Rise { level: a.level.min(b.level), height: a.height.min(b.height) });
    }
    let on_ground = |sheet: usize| Rise { level: 0, height: (caliper[sheet] - caliper[anchors[sheet]]) / 2.0 };
    let mut out: Vec<Rise> =
        below.iter().enumerate().map(|(sheet, rise)| rise.unwrap_or_else(|| on_ground(sheet))).collect();
    // What lies on something without lying under an anchor: the sweep from above gave it nothing.
    for &sheet in order {
        let from = out[sheet];
        for &above in over[sheet].iter().filter(|&&above| below[above].is_none()) {
            let rise = &mut out[above];
            rise.level = rise.level.max(from.level + 1);
            rise.height = rise.height.max(from.height + apart(sheet, above));
        }
    }
    out
}

/// The sheets so ordered that each comes after those under it. Where they lie on one another in a ring, the first of
/// those left is taken.
fn bottom_up(over: &[Vec<usize>]) -> Vec<usize> {
    let mut under = vec![0_usize; over.len()];
    for &above in over.iter().flatten() {
        under[above] += 1;
    }
    let mut left: BTreeSet<usize> = (0..over.len()).collect();
    let mut free: BTreeSet<usize> = (0..over.len()).filter(|&sheet| under[sheet] == 0).collect();
    let mut order = Vec::with_capacity(over.len());
    while let Some(next) = free.pop_first().or_else(|| left.first().copied()) {
        left.remove(&next);
        order.push(next);
        for &above in &over[next] {
            under[above] = under[above].saturating_sub(1);
            if under[above] == 0 && left.contains(&above) {
                free.insert(above);
            }
        }
    }
    order
}

/// Of the two directions across a plane, the one that counts as up: towards +Z, else +X, else +Y.
pub(crate) fn up(normal: DVec3) -> DVec3 {
    let lead = [normal.z, normal.x, normal.y].into_iter().find(|part| part.abs() > SAME_WAY);
    if lead.is_some_and(|part| part < 0.0) { -normal } else { normal }
}

fn one_plane((n, d): (DVec3, f64), (m, e): (DVec3, f64)) -> bool {
    n.abs_diff_eq(m, SAME_WAY) && (d - e).abs() < SAME_PLANE
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    /// Sheets of these calipers in one plane, the first of them the anchor, with what lies over what: how high each is.
    #[track_caller]
    fn check(caliper: &[f64], pairs: &[(usize, usize)], expected: &[f64]) {
        let mut over = vec![Vec::new(); caliper.len()];
        pairs.iter().for_each(|&(low, high)| over[low].push(high));
        let got = rises(&over, &bottom_up(&over), &vec![0; caliper.len()], caliper);
        for (rise, height) in got.iter().zip(expected) {
            assert!((rise.height - height).abs() < 1e-12, "{got:?} is not {expected:?}");
        }
    }

    #[test]
    fn neither_sinks_nor_floats() {
        // By hand. A card on paper, under paper.
        check(&[0.2, 0.8], &[(0, 1)], &[0.0, 0.5]);
        check(&[0.2, 0.8], &[(1, 0)], &[0.0, -0.5]);
        // A card beside the base stands on the same ground, its middle 0.3 mm higher; what goes over both lies on it.
        check(&[0.2, 0.8, 0.2], &[(0, 2), (1, 2)], &[0.0, 0.3, 0.8]);
        // Thin paper beside a thick base stands there too, its middle lower.
        check(&[0.8, 0.2], &[], &[0.0, -0.3]);
        // Over a thick layer and over three thin ones: the higher pile bears it.
        check(&[0.2, 0.8, 0.2, 0.2, 0.2], &[(0, 1), (0, 2), (2, 3), (1, 4), (3, 4)], &[0.0, 0.5, 0.2, 0.4, 1.0]);
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 300,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(21),
            ..ProptestConfig::default()
        })]

        #[test]
        fn sheets_on_one_another_have_room_and_rest_on_something(
            calipers in prop::collection::vec(1..9_u8, 2..9), lies in prop::collection::vec(any::<bool>(), 36),
            anchor in 0..9_usize, alike in any::<bool>(),
        ) {
            let count = calipers.len();
            let caliper: Vec<f64> =
                calipers.iter().map(|&tenths| f64::from(if alike { 3 } else { tenths }) / 10.0).collect();
            let pairs = || (0..count).flat_map(|a| (a + 1..count).map(move |b| (a, b))).zip(&lies).filter(|(_, lies)| **lies);
            let mut over = vec![Vec::new(); count];
            pairs().for_each(|((a, b), _)| over[a].push(b));
            let anchor = anchor % count;
            let got = rises(&over, &bottom_up(&over), &vec![anchor; count], &caliper);
            let apart = |a: usize, b: usize| f64::midpoint(caliper[a], caliper[b]);
            prop_assert_eq!(got[anchor], Rise::default());
            for ((a, b), _) in pairs() {
                prop_assert!(got[b].height - got[a].height > apart(a, b) - 1e-9 && got[b].level > got[a].level);
            }
            for sheet in (0..count).filter(|&sheet| sheet != anchor) {
                let ground = (caliper[sheet] - caliper[anchor]) / 2.0;
                let touches = |other: usize| ((got[sheet].height - got[other].height).abs() - apart(sheet, other)).abs() < 1e-9;
                let rests = pairs().any(|((a, b), _)| (a == sheet && touches(b)) || (b == sheet && touches(a)));
                prop_assert!(rests || (got[sheet].height - ground).abs() < 1e-9, "{} of {:?}", sheet, got);
                if alike {
                    prop_assert!((got[sheet].height - 0.3 * f64::from(got[sheet].level)).abs() < 1e-9);
                }
            }
        }
    }
}
