//! Which panels rest on one another in the closed folio: one on the other with nothing between.

use crate::folding::Folding;
use crate::height::up;
use crate::laid::Laid;
use crate::pile::{Piles, SAME_PLANE};
use model::PanelId;
use std::collections::BTreeMap;

/// Panels whose normals have a cosine nearer to 1 than this are parallel (as in [`crate::gap`]).
const SAME_WAY: f64 = 1e-9;

/// Faces nearer than this, in mm, touch: a hundredth of the thinnest paper, and far above rounding.
const TOUCHING: f64 = 1e-3;

/// Two panels of which one lies on the other with nothing between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// The one that lies lower along their plane's normal (see [`Plane::normal`](crate::Plane)).
    pub lower: PanelId,
    /// The one that lies on it.
    pub upper: PanelId,
    /// Over how much of it nothing lies between, in mm².
    pub area: f64,
    /// How far apart their faces are as [`Folding::pose`] has them, in mm: nothing where they touch, and as much as what lies beside
    /// them holds the upper one up where it bridges that.
    pub gap: f64,
}

impl Contact {
    /// Whether the faces touch.
    #[must_use]
    pub fn touches(&self) -> bool {
        self.gap < TOUCHING
    }
}

/// Every pair of panels of which one lies on the other with nothing between in the closed folio, by the lower one: panels
/// of one plane, and those of parallel planes that just touch, such as a flap on a pile as high as its gusset. Panels
/// that meet at an edge only are left out.
#[must_use]
pub fn contacts(folding: &Folding) -> Vec<Contact> {
    let frames = folding.flat_pose(f64::INFINITY);
    let ways: Vec<_> = frames.iter().map(|frame| up(frame.matrix3.z_axis)).collect();
    let mut left: Vec<usize> = (0..frames.len()).collect();
    let mut out = Vec::new();
    while let Some(&first) = left.first() {
        let (parallel, others) = left.into_iter().partition(|&panel| ways[panel].dot(ways[first]) > 1.0 - SAME_WAY);
        left = others;
        let is_front_up = frames[first].matrix3.z_axis.dot(ways[first]) > 0.0;
        out.extend(of_parallel(folding, &parallel, is_front_up));
    }
    out.sort_by_key(|contact| (contact.lower, contact.upper));
    out
}

/// Those among parallel panels, as one who looks against the front of the first of them has them; whether that is from
/// above.
fn of_parallel(folding: &Folding, panels: &[usize], is_front_up: bool) -> Vec<Contact> {
    let Some(&first) = panels.first().filter(|_| panels.len() > 1) else { return Vec::new() };
    let laid = Laid::of(Piles::closed_on(folding, first), panels.iter().copied());
    let piles = &laid.piles;
    let mut areas: BTreeMap<(usize, usize), f64> = BTreeMap::new();
    let pile = |pile: &[usize], _| (pile.len() > 1).then(|| pile.to_vec());
    for (pile, region) in laid.regions(pile) {
        for pair in pile.windows(2) {
            *areas.entry((pair[0], pair[1])).or_default() += region.area;
        }
    }
    let contact = |((lower, upper), area): ((usize, usize), f64)| {
        let flat = |panel: usize| piles.frames[panel].translation.z;
        let apart = flat(upper) + piles.lift(upper) - flat(lower) - piles.lift(lower);
        let gap = (apart - f64::midpoint(folding.calipers[lower], folding.calipers[upper])).max(0.0);
        let is_one_plane = flat(upper) - flat(lower) < SAME_PLANE;
        let (lower, upper) = if is_front_up { (lower, upper) } else { (upper, lower) };
        let [lower, upper] = [lower, upper].map(|panel| folding.panels()[panel]);
        (is_one_plane || gap < TOUCHING).then_some(Contact { lower, upper, area, gap })
    };
    areas.into_iter().filter_map(contact).collect()
}
