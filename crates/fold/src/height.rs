//! How high layers lie: every panel as low as those under it let it, seen from the base.

use crate::assembly::Assembly;
use crate::folding::Plane;
use crate::layer::{Lie, Relations, Side};
use crate::step::connected;
use glam::DVec3;
use model::PanelId;
use std::collections::{BTreeMap, BTreeSet};

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
    /// For each sheet, how many layers above that of the base it lies.
    level: Vec<i32>,
}

/// The layer of each panel in its plane, counted along its own front from that of the base (as in
/// [`Plane::layers`]), and how far it is to be lifted that way so that layers lie one caliper apart, in mm.
pub(crate) fn lifts(assembly: &Assembly, turned: &[i32], lie: &Lie, relations: &Relations) -> (Vec<i32>, Vec<f64>) {
    let sheets = Sheets::new(assembly, turned, lie, relations);
    let level = |panel: usize| {
        let sheet = sheets.of[panel];
        let front_up = lie.frames[panel].matrix3.z_axis.dot(sheets.place[sheet].0) > 0.0;
        if front_up { sheets.level[sheet] } else { -sheets.level[sheet] }
    };
    let levels: Vec<i32> = (0..assembly.panels.len()).map(level).collect();
    let lifts = levels.iter().map(|&level| f64::from(level) * assembly.caliper).collect();
    (levels, lifts)
}

/// The planes with their layers, and which panel lies above which (see [`Folding`](crate::Folding)).
pub(crate) fn planes(
    assembly: &Assembly,
    turned: &[i32],
    lie: &Lie,
    relations: &Relations,
) -> (Vec<Plane>, BTreeMap<(PanelId, PanelId), bool>) {
    let sheets = Sheets::new(assembly, turned, lie, relations);
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
        let level = sheets.level[sheet];
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
    let mut order = BTreeMap::new();
    for (a, b) in relations.pairs() {
        let (p, q) = (lie.facets[a].panel, lie.facets[b].panel);
        if let Some(above) = relations.above(lie, a, b, up(lie.normal(a))) {
            let (p, q) = (assembly.panels[p].id, assembly.panels[q].id);
            order.insert((p, q), above);
            order.insert((q, p), !above);
        }
    }
    (planes, order)
}

impl Sheets {
    fn new(assembly: &Assembly, turned: &[i32], lie: &Lie, relations: &Relations) -> Self {
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
        let over = over(&of, &place, lie, relations);
        let level = levels(&over, &anchors(assembly, &of, &place));
        Self { of, place, level }
    }
}

/// For each sheet, those that lie above it; one as often as facets of theirs lie on one another.
fn over(of: &[usize], place: &[(DVec3, f64)], lie: &Lie, relations: &Relations) -> Vec<Vec<usize>> {
    let sheet_of: Vec<usize> = lie.facets.iter().map(|facet| of[facet.panel]).collect();
    let pairs = || {
        lie.facets.iter().enumerate().flat_map(|(a, _)| {
            let sheet = sheet_of[a];
            let front_up = lie.normal(a).dot(place[sheet].0) > 0.0;
            let sheet_of = &sheet_of;
            relations.after(a).map(move |(b, side)| {
                if (side == Side::Front) == front_up { (sheet, sheet_of[b]) } else { (sheet_of[b], sheet) }
            })
        })
    };
    // Counted first: a stack of hundreds of layers has tens of thousands of pairs.
    let mut count = vec![0; place.len()];
    pairs().for_each(|(low, _)| count[low] += 1);
    let mut over: Vec<Vec<usize>> = count.into_iter().map(Vec::with_capacity).collect();
    pairs().for_each(|(low, high)| over[low].push(high));
    over
}

/// In each plane, the sheet from which levels count: the one fewest folds away from the base, and of several the first
/// to arrive, since those that come later have to lie on it.
fn anchors(assembly: &Assembly, of: &[usize], place: &[(DVec3, f64)]) -> Vec<usize> {
    let mut by_way: Vec<usize> = (0..of.len()).collect();
    by_way.sort_by_key(|&panel| (assembly.ways[panel], panel));
    let mut anchors: Vec<usize> = Vec::new();
    for panel in by_way {
        let sheet = of[panel];
        if !anchors.iter().any(|&anchor| one_plane(place[anchor], place[sheet])) {
            anchors.push(sheet);
        }
    }
    anchors
}

/// The level of each sheet, given what lies over what. Anchors are at 0; what lies under one, however far down, is
/// below it; all else is as low as what it lies on lets it, and not below the anchor's level for want of support.
fn levels(over: &[Vec<usize>], anchors: &[usize]) -> Vec<i32> {
    let order = bottom_up(over);
    let mut level: Vec<Option<i32>> = vec![None; over.len()];
    for &anchor in anchors {
        level[anchor] = Some(0);
    }
    let is_anchor = level.clone();
    for &sheet in order.iter().rev().filter(|&&sheet| is_anchor[sheet].is_none()) {
        level[sheet] = over[sheet].iter().filter_map(|&above| level[above]).min().map(|least| least - 1);
    }
    let mut out: Vec<i32> = level.iter().map(|level| level.unwrap_or(0)).collect();
    // What lies on something without lying under an anchor: the sweep from above gave it nothing.
    for &sheet in &order {
        let from = out[sheet] + 1;
        for &above in over[sheet].iter().filter(|&&above| level[above].is_none()) {
            out[above] = out[above].max(from);
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
