//! Which facet lies on which: built up step by step, as the paper is handled.
//!
//! A relation is kept as the face of one facet on which the other lies, so it stays true however the two are carried
//! about together, and turns over by itself when they are.

use crate::facet::Facet;
use crate::overlap::{is_proper, middle, shared};
use crate::solid::Solid;
use crate::step::Motion;
use glam::{DAffine3, DVec2, DVec3};
use model::Face;
use std::collections::BTreeSet;

/// Facets whose planes are nearer than this lie in one plane, in mm: a hundredth of the thinnest paper, and as wide as
/// the least overlap that counts.
const SAME_PLANE: f64 = 1e-3;

/// Normals whose cosine is nearer to 1 than this are parallel; over half a metre this is less than a micrometre.
const PARALLEL: f64 = 1e-12;

/// How much of a step shows the side to which it starts, or from which it ends. Small against any fold, so that no
/// panel gets past another in it; large against rounding.
const GLIMPSE: f64 = 1e-3;

/// Distances from a plane below this, in mm, show no side.
const NO_SIDE: f64 = 1e-7;

/// The face of a facet on which another lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Side {
    Front,
    Back,
}

/// All facets where they lie at one moment.
#[derive(Debug)]
pub(crate) struct Lie<'a> {
    pub(crate) facets: &'a [Facet],
    pub(crate) frames: &'a [DAffine3],
    inverses: Vec<DAffine3>,
    boxes: Vec<(DVec3, DVec3)>,
}

/// For each ordered pair of facets, the face of the first on which the second lies.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Relations {
    count: usize,
    side: Vec<Option<Side>>,
}

impl<'a> Lie<'a> {
    pub(crate) fn new(facets: &'a [Facet], frames: &'a [DAffine3]) -> Self {
        let boxed = |facet: &Facet| {
            let frame = &frames[facet.panel];
            let points = facet.shape.iter().map(|&corner| frame.transform_point3(corner.extend(0.0)));
            let start = (DVec3::INFINITY, DVec3::NEG_INFINITY);
            let (low, high) = points.fold(start, |(low, high), point| (low.min(point), high.max(point)));
            (low - DVec3::splat(SAME_PLANE), high + DVec3::splat(SAME_PLANE))
        };
        let inverses = frames.iter().map(rigid_inverse).collect();
        Self { facets, frames, inverses, boxes: facets.iter().map(boxed).collect() }
    }

    /// A facet as a figure in space.
    pub(crate) fn solid(&self, facet: usize) -> Solid {
        let frame = self.frame(facet);
        let corners = self.facets[facet].shape.iter().map(|&corner| frame.transform_point3(corner.extend(0.0)));
        Solid { corners: corners.collect(), normal: self.normal(facet) }
    }

    /// Where a point is, seen from a facet that lies flat on the sheet; z is how far it is in front of it.
    pub(crate) fn on_sheet(&self, facet: usize, point: DVec3) -> DVec3 {
        self.inverses[self.facets[facet].panel].transform_point3(point)
    }

    /// Which way a facet's front looks.
    pub(crate) fn normal(&self, facet: usize) -> DVec3 {
        self.frame(facet).matrix3.z_axis
    }

    pub(crate) fn frame(&self, facet: usize) -> &DAffine3 {
        &self.frames[self.facets[facet].panel]
    }

    /// Whether the upright boxes round two facets meet.
    pub(crate) fn near(&self, a: usize, b: usize) -> bool {
        let ((a_low, a_high), (b_low, b_high)) = (self.boxes[a], self.boxes[b]);
        a_low.cmple(b_high).all() && b_low.cmple(a_high).all()
    }

    /// What facet `b` covers of facet `a`, on the flat sheet under `a`; `None` unless they lie in one plane and share
    /// some area.
    pub(crate) fn covered(&self, a: usize, b: usize) -> Option<Vec<DVec2>> {
        let (p, q) = (self.facets[a].panel, self.facets[b].panel);
        if p == q || !self.near(a, b) || self.normal(a).dot(self.normal(b)).abs() < 1.0 - PARALLEL {
            return None;
        }
        let to_a = self.inverses[p] * self.frames[q];
        let corners = self.facets[b].shape.iter().map(|&corner| to_a.transform_point3(corner.extend(0.0)));
        let mut flat: Vec<DVec2> = Vec::with_capacity(self.facets[b].shape.len());
        for corner in corners {
            if corner.z.abs() > SAME_PLANE {
                return None;
            }
            flat.push(corner.truncate());
        }
        if self.normal(a).dot(self.normal(b)) < 0.0 {
            flat.reverse();
        }
        let both = shared(&flat, &self.facets[a].shape);
        is_proper(&both).then_some(both)
    }

    /// On which face of `a` the part of `b` that is now at `spot` (on the sheet under `a`) is, or was, when panels are
    /// at `then`; `None` when it is in the plane of `a`.
    fn side_of(&self, a: usize, b: usize, spot: DVec2, then: &[DAffine3]) -> Option<Side> {
        let (p, q) = (self.facets[a].panel, self.facets[b].panel);
        let on_b = self.inverses[q].transform_point3(self.frames[p].transform_point3(spot.extend(0.0)));
        let depth = rigid_inverse(&then[p]).transform_point3(then[q].transform_point3(on_b)).z;
        if depth > NO_SIDE {
            Some(Side::Front)
        } else if depth < -NO_SIDE {
            Some(Side::Back)
        } else {
            None
        }
    }
}

impl Relations {
    /// Nothing lies on anything.
    pub(crate) fn none(facets: usize) -> Self {
        Self { count: facets, side: vec![None; facets * facets] }
    }

    /// The face of `a` on which `b` lies.
    pub(crate) fn side(&self, a: usize, b: usize) -> Option<Side> {
        self.side[a * self.count + b]
    }

    /// Whether `b` lies above `a` along `normal`; `None` when neither lies on the other.
    pub(crate) fn above(&self, lie: &Lie, a: usize, b: usize, normal: DVec3) -> Option<bool> {
        self.side(a, b).map(|side| (side == Side::Front) == (lie.normal(a).dot(normal) > 0.0))
    }

    /// Takes over what lies on what among facets that are numbered from `first` on here.
    pub(crate) fn insert(&mut self, others: &Self, first: usize) {
        for (a, row) in others.side.chunks(others.count.max(1)).enumerate() {
            let at = (first + a) * self.count + first;
            self.side[at..at + row.len()].copy_from_slice(row);
        }
    }

    /// The pairs of facets that lie on one another, the lesser first.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        (0..self.count).flat_map(move |a| self.after(a).map(move |(b, _)| (a, b)))
    }

    /// The facets after `a` that lie on it, each with the face of `a` on which it does.
    pub(crate) fn after(&self, a: usize) -> impl Iterator<Item = (usize, Side)> + '_ {
        let row = &self.side[a * self.count + a + 1..(a + 1) * self.count];
        row.iter().enumerate().filter_map(move |(i, side)| Some((a + 1 + i, (*side)?)))
    }

    /// The pairs of panels of which the first cannot move as it should for the second, that lies on it or under it.
    pub(crate) fn blocked(&self, start: &Lie, motion: &Motion) -> BTreeSet<(usize, usize)> {
        let then = part_way(start.frames, motion, GLIMPSE);
        let mut out = BTreeSet::new();
        between_groups(start.facets, motion, |a, b| {
            let Some(own) = self.side(a, b) else { return };
            let Some(covered) = start.covered(a, b) else { return };
            let side = start.side_of(a, b, middle(&covered), &then);
            if side.is_some_and(|side| side != own) {
                let (p, q) = (start.facets[a].panel, start.facets[b].panel);
                let second_moves = motion.chain(q).len() >= motion.chain(p).len();
                out.insert(if second_moves { (q, p) } else { (p, q) });
            }
        });
        out
    }

    /// Carries the relations through a step: those within a group stay; between groups, what comes to lie on something
    /// lies on the side from which it came. Gives the pairs of facets between groups that now lie on one another.
    pub(crate) fn land(&mut self, end: &Lie, start: &[DAffine3], motion: &Motion) -> Vec<(usize, usize)> {
        let then = part_way(start, motion, 1.0 - GLIMPSE);
        let mut pairs = Vec::new();
        between_groups(end.facets, motion, |a, b| {
            if !end.near(a, b) && self.side(a, b).is_none() {
                return;
            }
            let landed = end.covered(a, b).map(|covered| {
                // Moving within one plane shows no side; then the later panel is taken to lie on the front.
                end.side_of(a, b, middle(&covered), &then).unwrap_or(Side::Front)
            });
            if landed.is_some() {
                pairs.push((a, b));
            }
            self.set(end, a, b, landed);
        });
        pairs
    }

    /// Notes on which face of `a` facet `b` lies, and the other way round.
    pub(crate) fn set(&mut self, lie: &Lie, a: usize, b: usize, side: Option<Side>) {
        let alike = lie.normal(a).dot(lie.normal(b)) > 0.0;
        let other = side.map(|side| if alike { side.other() } else { side });
        self.side[a * self.count + b] = side;
        self.side[b * self.count + a] = other;
    }
}

impl Side {
    pub(crate) const fn of(face: Face) -> Self {
        match face {
            Face::Front => Self::Front,
            Face::Back => Self::Back,
        }
    }

    pub(crate) const fn other(self) -> Self {
        match self {
            Self::Front => Self::Back,
            Self::Back => Self::Front,
        }
    }
}

/// Where panels that start at `frames` are when `progress` of the motion is done.
pub(crate) fn part_way(frames: &[DAffine3], motion: &Motion, progress: f64) -> Vec<DAffine3> {
    let moved = motion.moved(progress);
    frames.iter().enumerate().map(|(panel, frame)| moved[motion.group[panel]] * *frame).collect()
}

/// Calls `each` with every pair of facets of different groups, the lesser first.
fn between_groups(facets: &[Facet], motion: &Motion, mut each: impl FnMut(usize, usize)) {
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); motion.chains.len()];
    for (facet, of) in facets.iter().enumerate() {
        members[motion.group[of.panel]].push(facet);
    }
    for (g, group) in members.iter().enumerate() {
        for other in &members[g + 1..] {
            for &a in group {
                for &b in other {
                    each(a.min(b), a.max(b));
                }
            }
        }
    }
}

/// The inverse of a turn and a shift.
fn rigid_inverse(frame: &DAffine3) -> DAffine3 {
    let back = frame.matrix3.transpose();
    DAffine3::from_mat3_translation(back, -(back * frame.translation))
}
