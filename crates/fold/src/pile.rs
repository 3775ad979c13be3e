//! The piles of a folio as it lies on the table: which panels are over each place, from low to high.
//!
//! All panels are looked at along Z, without thickness; those that stand upright cover nothing. What is seen of the
//! piles and how thick they are is said elsewhere.

use crate::assembly::to_world;
use crate::folding::Folding;
use glam::{DAffine3, DVec2, DVec3};
use model::polygon::{convex_pieces, inner_point};
use model::{Length, Point};

/// Planes nearer than this, in mm, are one, and the order of their panels is that of their layers (as in
/// [`crate::height`]).
pub(crate) const SAME_PLANE: f64 = 2e-3;

/// Panels whose normal has less than this of Z stand upright: over a metre they cover less than a micrometre.
const UPRIGHT: f64 = 1e-6;

/// An area on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// Its outer boundary in the world's plane, in mm, anticlockwise seen from above.
    pub outline: Vec<DVec2>,
    /// Boundaries of openings in it, clockwise.
    pub holes: Vec<Vec<DVec2>>,
    /// Its area, in mm².
    pub area: f64,
}

/// Panels where they lie at one moment.
#[derive(Debug)]
pub(crate) struct Piles {
    /// Where each panel is, without thickness.
    pub(crate) frames: Vec<DAffine3>,
    /// Its layer, counted along its own front.
    levels: Vec<i32>,
    /// How far it is lifted along its own front to lie on the layers under it, in mm.
    lifts: Vec<f64>,
    /// What of the table it covers; `None` for one that stands upright.
    pub(crate) shadows: Vec<Option<Shadow>>,
}

/// A panel as it is seen from above, to the nanometre.
#[derive(Debug)]
pub(crate) struct Shadow {
    /// Its outer boundary, either way round.
    pub(crate) outline: Vec<Point>,
    /// The boundaries of the holes in it.
    pub(crate) holes: Vec<Vec<Point>>,
}

impl Piles {
    /// As they lie on the table at `time`.
    pub(crate) fn new(folding: &Folding, time: f64) -> Self {
        Self::of(folding, folding.flat_pose(time), time)
    }

    /// The closed folio as one who looks along a panel's normal has it: that panel lies flat on the table.
    pub(crate) fn closed_on(folding: &Folding, panel: usize) -> Self {
        let mut frames = folding.flat_pose(f64::INFINITY);
        let back = frames[panel].inverse();
        frames.iter_mut().for_each(|frame| *frame = back * *frame);
        Self::of(folding, frames, f64::INFINITY)
    }

    fn of(folding: &Folding, frames: Vec<DAffine3>, time: f64) -> Self {
        let (levels, lifts) = folding.layers_at(time);
        let seen = |(panel, frame): (usize, &DAffine3)| {
            if frame.matrix3.z_axis.z.abs() < UPRIGHT {
                return None;
            }
            let place = |corner: &DVec2| on_table(frame.transform_point3(corner.extend(0.0)));
            let path = |path: &Vec<DVec2>| path.iter().map(place).collect::<Option<Vec<Point>>>();
            let holes = folding.holes[panel].iter().map(path).collect::<Option<_>>()?;
            Some(Shadow { outline: path(&folding.outlines[panel])?, holes })
        };
        let shadows = frames.iter().enumerate().map(seen).collect();
        Self { levels: levels.to_vec(), lifts: lifts.to_vec(), frames, shadows }
    }

    /// Sorts panels that are over a place from low to high.
    pub(crate) fn sort(&self, panels: &mut [usize], at: DVec2) {
        let mut by_height: Vec<(f64, usize)> = panels.iter().map(|&panel| (self.height(panel, at), panel)).collect();
        by_height.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for plane in by_height.chunk_by_mut(|a, b| b.0 - a.0 < SAME_PLANE) {
            plane.sort_by_key(|&(_, panel)| (self.level(panel), panel));
        }
        for (slot, (_, panel)) in panels.iter_mut().zip(by_height) {
            *slot = panel;
        }
    }

    /// How high a panel is over a place, in mm, without thickness. It must not stand upright.
    pub(crate) fn height(&self, panel: usize, at: DVec2) -> f64 {
        let frame = &self.frames[panel];
        let (normal, from) = (frame.matrix3.z_axis, frame.translation);
        from.z - normal.truncate().dot(at - from.truncate()) / normal.z
    }

    /// The number of a panel's layer, upwards.
    pub(crate) fn level(&self, panel: usize) -> i32 {
        if self.is_front_up(panel) { self.levels[panel] } else { -self.levels[panel] }
    }

    /// How far a panel is lifted upwards to lie on the layers under it, in mm.
    pub(crate) fn lift(&self, panel: usize) -> f64 {
        if self.is_front_up(panel) { self.lifts[panel] } else { -self.lifts[panel] }
    }

    fn is_front_up(&self, panel: usize) -> bool {
        self.frames[panel].matrix3.z_axis.z > 0.0
    }
}

impl Region {
    /// A point well inside it; `None` when it is too narrow to have one.
    #[must_use]
    pub fn inner_point(&self) -> Option<DVec2> {
        let path = |path: &Vec<DVec2>| -> Option<Vec<Point>> {
            path.iter().rev().map(|corner| on_table(corner.extend(0.0))).collect()
        };
        let holes: Option<Vec<Vec<Point>>> = self.holes.iter().map(path).collect();
        inner_point(&convex_pieces(&path(&self.outline)?, &holes?)).map(to_world)
    }
}

fn on_table(point: DVec3) -> Option<Point> {
    Some(Point::new(Length::from_mm_rounded(point.x)?, Length::from_mm_rounded(-point.y)?))
}
