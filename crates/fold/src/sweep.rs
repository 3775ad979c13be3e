//! What strikes what while a step folds.
//!
//! Two groups of panels of which one turns about a hinge on the other are tested exactly (see [`crate::contact`]);
//! groups whose motion to one another is made of several turns by careful steps (see [`crate::advance`]).
//!
//! Two panels strike one another when the middles of their paper would pass through one another: by more than
//! [`DEPTH`], were layers to lie in one plane; or as they lie on one another, by more than [`Scene::give`]. What is
//! thicker than the paper that is scored, such as a card, has a core instead of a middle (see [`crate::core`]). Told are the
//! angle at which the faces of the paper meet, somewhat earlier, and the place.
//!
//! Contact is no strike: panels may touch, share hinges, and come to rest on one another. What lies on what at the
//! start and in the end is a matter of the layer order, not of this.

use crate::advance::{Group, Traveller, travel, travellers};
use crate::assembly::Assembly;
use crate::boxes::{Bounds, meetings};
use crate::contact::{Swept, first_contact, first_deeper};
use crate::core::Core;
use crate::facet::Facet;
use crate::hinge::{Hinge, along_chain};
use crate::layer::Lie;
use crate::slab::{Slab, first_touch, found_deeper, meeting, turned};
use crate::solid::{DEPTH, Solid, shared_middle};
use crate::step::{Motion, own};
use glam::{DAffine3, DMat3, DVec3};
use std::collections::BTreeMap;

/// One panel strikes another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strike {
    /// The panel that moves; of two that do, the one carried by more hinges.
    pub(crate) moving: usize,
    /// What it strikes.
    pub(crate) with: usize,
    /// How far the fold that carries it has turned by then.
    pub(crate) degrees: f64,
    /// Where they meet, in mm.
    pub(crate) at: DVec3,
}

/// A step to be looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scene<'a> {
    pub(crate) assembly: &'a Assembly,
    /// Where panels lie before and after it, without thickness, and how they move.
    pub(crate) start: &'a Lie<'a>,
    pub(crate) end: &'a Lie<'a>,
    pub(crate) motion: &'a Motion,
    /// Whether the thickness of panels counts.
    pub(crate) is_thick: bool,
    /// Thickness of the paper that is scored, in mm; of several, of the thickest. Nothing where thickness does not count.
    pub(crate) scored: f64,
    /// Where the middles of panels with thickness lie before it, and how those move.
    pub(crate) thick: &'a [DAffine3],
    pub(crate) stiff: &'a Motion,
}

/// The pairs of panels that strike one another, and the least turn at which they do, with the place.
pub(crate) struct Found<'a> {
    pub(crate) scene: &'a Scene<'a>,
    first: BTreeMap<(usize, usize), (f64, DVec3)>,
}

/// All pairs of panels that strike one another in a step, each once, in ascending order.
pub(crate) fn strikes(scene: &Scene) -> Vec<Strike> {
    let motion = scene.motion;
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); motion.chains.len()];
    for (facet, of) in scene.start.facets.iter().enumerate() {
        members[motion.group[of.panel]].push(facet);
    }
    let mut found = Found { scene, first: BTreeMap::new() };
    let mut far: Vec<Traveller> = Vec::new();
    for g in (0..members.len()).filter(|&g| !members[g].is_empty()) {
        for h in (g + 1..members.len()).filter(|&h| !members[h].is_empty()) {
            // The one with more hinges moves; what both have in common does not move them to one another.
            let (still, moving) = if motion.chains[g].len() <= motion.chains[h].len() { (g, h) } else { (h, g) };
            let (of_still, of_moving) = own(&motion.chains[still], &motion.chains[moving]);
            match (of_still, of_moving) {
                ([], [hinge]) if motion.linkage.is_none() => {
                    turn(hinge, &scene.stiff.chains[moving], (&members[still], &members[moving]), &mut found);
                }
                _ => {
                    let group = |number: usize, hinges| {
                        let stiff = &scene.stiff.chains[number];
                        Group { facets: &members[number], hinges, stiff: &stiff[stiff.len() - hinges.len()..] }
                    };
                    far.extend(travellers(scene, &group(still, of_still), &group(moving, of_moving)));
                }
            }
        }
    }
    travel(far, &mut found);
    let strike = |((moving, with), (degrees, at))| Strike { moving, with, degrees, at };
    found.first.into_iter().map(strike).collect()
}

impl Scene<'_> {
    /// How deep the cores of two panels may pass through one another where layers have their room, in mm: the caliper that
    /// a score takes up or leaves, depending on the side to which it opens.
    pub(crate) fn give(&self) -> f64 {
        self.scored + DEPTH
    }

    /// How thick a facet is, in mm; nothing where thickness does not count.
    fn caliper(&self, facet: usize) -> f64 {
        if self.is_thick { self.assembly.caliper_of(self.start.facets[facet].panel) } else { 0.0 }
    }

    /// The middle of a facet's paper before the step.
    pub(crate) fn middle(&self, facet: usize) -> Solid {
        let Facet { panel, shape } = &self.start.facets[facet];
        let frame = &self.thick[*panel];
        let corners = shape.iter().map(|corner| frame.transform_point3(corner.extend(0.0)));
        Solid { corners: corners.collect(), normal: frame.matrix3.z_axis }
    }

    /// What of a facet must not pass through others, before the step.
    pub(crate) fn core(&self, facet: usize) -> Core {
        Core::new(self.middle(facet), (self.caliper(facet) - self.scored) / 2.0)
    }

    /// A facet's paper, the middle of which is at `middle`.
    pub(crate) fn slab(&self, facet: usize, middle: &Solid) -> Slab {
        Slab::new(middle, self.caliper(facet) / 2.0)
    }

    /// Whether the order of layers decides about two facets, or a crease they share.
    pub(crate) fn rest(&self, a: usize, b: usize) -> bool {
        let panels = [a, b].map(|facet| self.start.facets[facet].panel);
        let crease = |ends: [usize; 2]| ends == panels || ends == [panels[1], panels[0]];
        self.start.covered(a, b).is_some()
            || self.end.covered(a, b).is_some()
            || self.assembly.joints.iter().any(|joint| crease(joint.panels))
    }
}

impl Found<'_> {
    pub(crate) fn note(&mut self, moving: usize, other: usize, degrees: f64, at: DVec3) {
        let panels = (self.scene.start.facets[moving].panel, self.scene.start.facets[other].panel);
        let least = self.first.entry(panels).or_insert((degrees, at));
        if degrees < least.0 {
            *least = (degrees, at);
        }
    }
}

/// Facets that turn about a hinge on the group of the others; `chain` carries them in paper with thickness.
fn turn(hinge: &Hinge, chain: &[Hinge], (still, moving): (&[usize], &[usize]), found: &mut Found) {
    let scene = found.scene;
    let Some((stiff, before)) = chain.split_last() else { return };
    let axle = Axle { scene, hinge: stiff, before, axes: stiff.axes() };
    let axes = hinge.axes();
    let seen = |&facet: &usize| {
        let mut solid = scene.start.solid(facet);
        solid.corners.iter_mut().for_each(|corner| *corner = axes * (*corner - hinge.at));
        solid.normal = axes * solid.normal;
        (facet, Swept::about(solid))
    };
    let still: Vec<(usize, Swept)> = still.iter().map(seen).collect();
    let moving: Vec<(usize, Swept)> = moving.iter().map(seen).collect();
    // Piles that contain the hinge reach one another only where layers lie on one another.
    let is_pile = still.iter().chain(&moving).all(|(_, figure)| figure.through_hinge);
    let is_thick = scene.is_thick && !is_pile;
    let cores = |of: &[(usize, Swept)]| -> Vec<SweptCore> {
        let of = if is_thick { of } else { &[] };
        of.iter().map(|(facet, _)| SweptCore::new(&scene.core(*facet), &axle)).collect()
    };
    let (still_cores, moving_cores) = (cores(&still), cores(&moving));
    let whole = hinge.radians();
    let figures = |of: &[(usize, Swept)]| of.iter().map(|(_, figure)| figure.bounds(0.0)).collect();
    let mut near = near(figures(&still), figures(&moving));
    let thick = |of: &[SweptCore]| of.iter().map(|swept| swept.middle.bounds(swept.core.half)).collect();
    near.extend(self::near(thick(&still_cores), thick(&moving_cores)));
    near.sort_unstable();
    near.dedup();
    for (i, k) in near {
        let ((facet, figure), (other, obstacle)) = (&moving[i], &still[k]);
        let mut struck = first_contact(obstacle, figure, whole);
        if struck.is_none() && is_thick && !(obstacle.through_hinge && figure.through_hinge) {
            struck = moving_cores[i].strikes(&still_cores[k], whole, scene.give());
            struck = struck.filter(|_| !scene.rest(*facet, *other));
        }
        if let Some(struck) = struck {
            let (radians, at) = axle.touch(*other, *facet, struck);
            found.note(*facet, *other, radians.to_degrees(), at);
        }
    }
}

/// The pairs of what moves and what lies still, by their places, that reach a common distance from the hinge and a common
/// place along it.
fn near(mut still: Vec<Bounds>, moving: Vec<Bounds>) -> Vec<(usize, usize)> {
    let count = still.len();
    still.extend(moving);
    let mut out = Vec::new();
    meetings(&still, |i| usize::from(i >= count), |k, i| out.push((i - count, k)));
    out
}

/// A core, seen from the hinge about which it turns, or about which others turn past it.
struct SweptCore {
    middle: Swept,
    core: Core,
}

impl SweptCore {
    fn new(core: &Core, axle: &Axle) -> Self {
        let seen = core.mapped(|point| axle.axes * (point - axle.hinge.at), |way| axle.axes * way);
        Self { middle: Swept::new(&core.middle, axle.hinge), core: seen }
    }

    /// How far it has turned when it passes through one that lies still deeper than `depth`, in mm.
    fn strikes(&self, still: &Self, whole: f64, depth: f64) -> Option<f64> {
        if self.core.either_thick(&still.core) {
            found_deeper(&still.core.slab(), &self.core.slab(), whole, depth)
        } else {
            first_deeper(&still.middle, &self.middle, whole, depth)
        }
    }
}

/// A hinge of paper with thickness, and what carries it.
struct Axle<'a> {
    scene: &'a Scene<'a>,
    hinge: &'a Hinge,
    before: &'a [Hinge],
    /// Into coordinates about the hinge.
    axes: DMat3,
}

impl Axle<'_> {
    /// How far `moving` has turned when its paper meets that of `still`, in radians, and where; `struck` is when the
    /// middles do.
    fn touch(&self, still: usize, moving: usize, struck: f64) -> (f64, DVec3) {
        let whole = self.hinge.radians();
        let middles = [still, moving].map(|facet| self.scene.middle(facet));
        let seen = |facet: usize, middle: &Solid| {
            self.scene.slab(facet, middle).mapped(|point| self.axes * (point - self.hinge.at), |way| self.axes * way)
        };
        let [obstacle, slab] = [seen(still, &middles[0]), seen(moving, &middles[1])];
        let [still, moving] = middles;
        let radians = first_touch(&obstacle, &slab, struck, whole).unwrap_or(struck);
        let at = meeting(&obstacle, &turned(&slab, radians)).map(|at| self.axes.transpose() * at + self.hinge.at);
        let at = at.unwrap_or_else(|| {
            let by = self.hinge.turned(radians / whole);
            shared_middle(&still, &moving.mapped(|p| by.transform_point3(p), |way| by.transform_vector3(way)))
        });
        (radians, along_chain(self.before, radians / whole).transform_point3(at))
    }
}
