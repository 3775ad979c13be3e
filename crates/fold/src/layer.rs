//! Where all facets lie at one moment, and which of them cover one another.

use crate::boxes::{Bounds, meet};
use crate::facet::Facet;
use crate::overlap::{Clip, is_proper};
use crate::solid::Solid;
use crate::step::Motion;
use glam::{DAffine3, DVec2, DVec3};
use model::Face;
use std::borrow::Cow;

/// Facets whose planes are nearer than this lie in one plane, in mm: a hundredth of the thinnest paper, and as wide as
/// the least overlap that counts.
const SAME_PLANE: f64 = 1e-3;

/// Normals whose cosine is nearer to 1 than this are parallel; over half a metre this is less than a micrometre.
const PARALLEL: f64 = 1e-12;

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
    pub(crate) frames: Cow<'a, [DAffine3]>,
    inverses: Vec<DAffine3>,
    /// The upright boxes round them, with some room.
    pub(crate) boxes: Vec<Bounds>,
}

impl<'a> Lie<'a> {
    pub(crate) fn new(facets: &'a [Facet], frames: impl Into<Cow<'a, [DAffine3]>>) -> Self {
        let frames = frames.into();
        let boxed = |facet: &Facet| {
            let frame = &frames[facet.panel];
            let points = facet.shape.iter().map(|&corner| frame.transform_point3(corner.extend(0.0)));
            let start = (DVec3::INFINITY, DVec3::NEG_INFINITY);
            let (low, high) = points.fold(start, |(low, high), point| (low.min(point), high.max(point)));
            (low - DVec3::splat(SAME_PLANE), high + DVec3::splat(SAME_PLANE))
        };
        let boxes = facets.iter().map(boxed).collect();
        let inverses = frames.iter().map(rigid_inverse).collect();
        Self { facets, frames, inverses, boxes }
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
        meet(&self.boxes[a], &self.boxes[b])
    }

    /// What facet `b` covers of facet `a`, on the flat sheet under `a`; `None` unless they lie in one plane and share
    /// some area.
    pub(crate) fn covered(&self, a: usize, b: usize) -> Option<Vec<DVec2>> {
        let mut clip = Clip::default();
        self.covered_by(&mut clip, a, b).map(<[DVec2]>::to_vec)
    }

    /// The same, worked out in the room of `clip`, which many pairs in turn can share.
    pub(crate) fn covered_by<'c>(&self, clip: &'c mut Clip, a: usize, b: usize) -> Option<&'c [DVec2]> {
        let (p, q) = (self.facets[a].panel, self.facets[b].panel);
        if p == q || !self.near(a, b) || self.normal(a).dot(self.normal(b)).abs() < 1.0 - PARALLEL {
            return None;
        }
        let to_a = self.inverses[p] * self.frames[q];
        clip.shape.clear();
        for &corner in &self.facets[b].shape {
            let corner = to_a.transform_point3(corner.extend(0.0));
            if corner.z.abs() > SAME_PLANE {
                return None;
            }
            clip.shape.push(corner.truncate());
        }
        if self.normal(a).dot(self.normal(b)) < 0.0 {
            clip.shape.reverse();
        }
        clip.by(&self.facets[a].shape);
        is_proper(&clip.shape).then_some(&clip.shape)
    }

    /// On which face of `a` the part of `b` that is now at `spot` (on the sheet under `a`) is, or was, when panels are
    /// at `then`; `None` when it is in the plane of `a`.
    pub(crate) fn side_of(&self, a: usize, b: usize, spot: DVec2, then: &[DAffine3]) -> Option<Side> {
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

/// The inverse of a turn and a shift.
fn rigid_inverse(frame: &DAffine3) -> DAffine3 {
    let back = frame.matrix3.transpose();
    DAffine3::from_mat3_translation(back, -(back * frame.translation))
}
