//! The piles of a folio as it lies on the table: which panels are over each place, from low to high.
//!
//! All panels are looked at along Z, without thickness; those that stand upright cover nothing. What is seen of the
//! piles and how thick they are is said elsewhere.

use crate::assembly::to_world;
use crate::folding::Folding;
use crate::overlap::LEAST_WIDTH;
use glam::{DAffine3, DVec2, DVec3};
use model::arrangement::{Arrangement, Cell};
use model::polygon::{Inside, convex_pieces, inner_point, locate, without_straight_corners};
use model::{Length, Point, Segment};
use std::collections::BTreeMap;

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
    /// Its convex parts as they are seen from above, to the nanometre; none for one that stands upright.
    shadows: Vec<Vec<Vec<Point>>>,
}

impl Piles {
    /// As they lie on the table at `time`.
    pub(crate) fn new(folding: &Folding, time: f64) -> Self {
        Self::of(folding, folding.flat_pose(time), time)
    }

    /// As they lie on the table when the folio is closed.
    pub(crate) fn closed(folding: &Folding) -> Self {
        Self::new(folding, f64::INFINITY)
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
        let seen = |(parts, frame): (&Vec<Vec<DVec2>>, &DAffine3)| {
            if frame.matrix3.z_axis.z.abs() < UPRIGHT {
                return Vec::new();
            }
            let place = |corner: &DVec2| on_table(frame.transform_point3(corner.extend(0.0)));
            parts.iter().filter_map(|part| part.iter().map(place).collect()).collect()
        };
        let shadows = folding.convex.iter().zip(&frames).map(seen).collect();
        Self { levels: levels.to_vec(), lifts: lifts.to_vec(), frames, shadows }
    }

    /// The areas over which the pile is of one kind. `kind` is told the panels from low to high, and a place; `None` is
    /// for what is not looked for. Only `panels` are looked at. Areas that touch along an edge are one. Where something is less than
    /// [`LEAST_WIDTH`] wide, it is nothing.
    pub(crate) fn regions<K: Ord + Clone>(
        &self,
        panels: &[usize],
        kind: impl Fn(&[usize], DVec2) -> Option<K>,
    ) -> Vec<(K, Region)> {
        let (arrangement, kinds) = self.cells(panels, kind);
        joined(&arrangement, &kinds)
    }

    /// The kinds of pile that there are, in no order and as often as there are cells of them.
    pub(crate) fn kinds<K>(&self, panels: &[usize], kind: impl Fn(&[usize], DVec2) -> Option<K>) -> Vec<K> {
        self.cells(panels, kind).1.into_iter().flatten().collect()
    }

    /// The plane divided by the sides of panels, and for each cell of what kind the pile over it is.
    fn cells<K>(&self, panels: &[usize], kind: impl Fn(&[usize], DVec2) -> Option<K>) -> (Arrangement, Vec<Option<K>>) {
        let parts = || panels.iter().flat_map(|&panel| self.shadows[panel].iter().map(move |part| (panel, part)));
        let sides: Vec<Segment> =
            parts().flat_map(|(_, part)| model::polygon::edges(part)).map(|(a, b)| Segment { a, b }).collect();
        let arrangement = Arrangement::new(&sides);
        let kinds = arrangement
            .cells
            .iter()
            .map(|cell| {
                let at = middle(cell)?;
                let mut over: Vec<usize> =
                    parts().filter(|(_, part)| locate(at, part, &[]) != Inside::No).map(|(panel, _)| panel).collect();
                over.dedup();
                self.pile(&mut over, to_world(at));
                kind(&over, to_world(at))
            })
            .collect();
        (arrangement, kinds)
    }

    /// The upright rectangle round what a panel covers, from its least corner to its greatest; `None` for one that
    /// covers nothing.
    pub(crate) fn extent(&self, panel: usize) -> Option<(Point, Point)> {
        let corners = || self.shadows[panel].iter().flatten();
        let least = Point::new(corners().map(|at| at.x).min()?, corners().map(|at| at.y).min()?);
        let greatest = Point::new(corners().map(|at| at.x).max()?, corners().map(|at| at.y).max()?);
        Some((least, greatest))
    }

    /// Sorts panels that are over a place from low to high.
    fn pile(&self, panels: &mut [usize], at: DVec2) {
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

    /// All panels, by their place.
    pub(crate) fn all(&self) -> Vec<usize> {
        (0..self.frames.len()).collect()
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

/// A point well inside a cell; `None` for one that is no wider than [`LEAST_WIDTH`].
fn middle(cell: &Cell) -> Option<Point> {
    let edges = std::iter::once(&cell.outline).chain(&cell.holes).flat_map(|path| model::polygon::edges(path));
    let round: f64 = edges.map(|(a, b)| to_world(a).distance(to_world(b))).sum();
    // For a thin strip, twice its area over its boundary is its width.
    if 2.0 * cell.area.mm2() < LEAST_WIDTH * round {
        return None;
    }
    inner_point(&convex_pieces(&cell.outline, &cell.holes))
}

/// Neighbouring cells of one kind as one area each: subdivides the plane again, by the boundaries between kinds alone.
fn joined<K: Ord + Clone>(fine: &Arrangement, kinds: &[Option<K>]) -> Vec<(K, Region)> {
    let of = |side: Option<usize>| side.and_then(|cell| kinds[cell].as_ref());
    let borders: Vec<usize> =
        (0..fine.edges.len()).filter(|&edge| of(fine.edges[edge].sides[0]) != of(fine.edges[edge].sides[1])).collect();
    let segments: Vec<Segment> = borders.iter().map(|&edge| fine.edges[edge].segment).collect();
    let coarse = Arrangement::new(&segments);
    let mut kind_of: BTreeMap<usize, &K> = BTreeMap::new();
    for edge in &coarse.edges {
        let Some(&border) = edge.covers.first() else { continue };
        for (inside, was) in edge.sides.iter().zip(fine.edges[borders[border]].sides) {
            if let (Some(inside), Some(kind)) = (inside, of(was)) {
                kind_of.insert(*inside, kind);
            }
        }
    }
    kind_of.into_iter().map(|(cell, kind)| (kind.clone(), region(&coarse.cells[cell]))).collect()
}

fn region(cell: &Cell) -> Region {
    // A cell's outline runs clockwise as the maker sees it.
    let turned = |path: &Vec<Point>| without_straight_corners(path).into_iter().rev().map(to_world).collect();
    Region { outline: turned(&cell.outline), holes: cell.holes.iter().map(turned).collect(), area: cell.area.mm2() }
}

fn on_table(point: DVec3) -> Option<Point> {
    Some(Point::new(Length::from_mm_rounded(point.x)?, Length::from_mm_rounded(-point.y)?))
}
