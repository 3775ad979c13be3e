//! The table under a folio, divided by the sides of its panels, with the pile over each part.
//!
//! To divide the table takes longer than to look at its piles, so [`Folding`] keeps what it has divided: that of each
//! whole step, once it is asked for.

use crate::assembly::to_world;
use crate::folding::Folding;
use crate::overlap::LEAST_WIDTH;
use crate::pile::{Piles, Region, Shadow};
use glam::DVec2;
use model::arrangement::{Arrangement, Cell};
use model::polygon::{Inside, bounds, edges, locate, point_within, without_straight_corners};
use model::{Point, Segment};
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

/// A moment of a folio on the table.
#[derive(Debug)]
pub(crate) struct Laid {
    /// Where the panels lie.
    pub(crate) piles: Piles,
    arrangement: Arrangement,
    /// For each cell of the arrangement what lies over it; `None` for one too narrow to be anything.
    over: Vec<Option<Over>>,
}

/// What lies over a part of the table.
#[derive(Debug)]
pub(crate) struct Over {
    /// A place well inside that part.
    pub(crate) at: DVec2,
    /// The panels, from low to high.
    pub(crate) pile: Vec<usize>,
}

impl Laid {
    /// The table under some panels; of others nothing is seen.
    pub(crate) fn of(piles: Piles, panels: impl Iterator<Item = usize>) -> Self {
        let shadows = &piles.shadows;
        let shadows: Vec<(usize, &Shadow, (Point, Point))> = panels
            .filter_map(|panel| shadows[panel].as_ref().map(|shadow| (panel, shadow, bounds(&shadow.outline))))
            .collect();
        let paths = shadows.iter().flat_map(|(_, shadow, _)| std::iter::once(&shadow.outline).chain(&shadow.holes));
        let sides: Vec<Segment> = paths.flat_map(|path| edges(path)).map(|(a, b)| Segment { a, b }).collect();
        let arrangement = Arrangement::new(&sides);
        let over = |cell: &Cell| {
            let at = middle(cell)?;
            let is_over = |(panel, shadow, (low, high)): &(usize, &Shadow, (Point, Point))| {
                let is_near = low.x <= at.x && at.x <= high.x && low.y <= at.y && at.y <= high.y;
                (is_near && locate(at, &shadow.outline, &shadow.holes) != Inside::No).then_some(*panel)
            };
            let mut pile: Vec<usize> = shadows.iter().filter_map(is_over).collect();
            piles.sort(&mut pile, to_world(at));
            Some(Over { at: to_world(at), pile })
        };
        let over = arrangement.cells.iter().map(over).collect();
        Self { piles, arrangement, over }
    }

    /// What lies over each part of the table that is wide enough to be anything, in reading order.
    pub(crate) fn over(&self) -> impl Iterator<Item = &Over> {
        self.over.iter().flatten()
    }

    /// The areas over which the pile is of one kind. `kind` is told the panels from low to high, and a place; `None` is
    /// for what is not looked for. Areas that touch along an edge are one. Where something is less than [`LEAST_WIDTH`]
    /// wide, it is nothing.
    pub(crate) fn regions<K: Ord + Clone>(&self, kind: impl Fn(&[usize], DVec2) -> Option<K>) -> Vec<(K, Region)> {
        let kind = |over: &Option<Over>| over.as_ref().and_then(|over| kind(&over.pile, over.at));
        let kinds: Vec<Option<K>> = self.over.iter().map(kind).collect();
        joined(&self.arrangement, &kinds)
    }
}

impl Folding {
    /// The folio on the table at `time`: kept for whole steps, worked out anew between them.
    pub(crate) fn laid<T>(&self, time: f64, look: impl FnOnce(&Laid) -> T) -> T {
        let new = || Laid::of(Piles::new(self, time), 0..self.panels.len());
        match self.kept.of(self.whole_step(time), self.frames.len()) {
            Some(place) => look(place.get_or_init(new)),
            None => look(&new()),
        }
    }
}

/// What a folding has divided so far, a place for each whole step. It says nothing about the folding that the rest does
/// not: copies share it, and all are equal.
#[derive(Default, Clone)]
pub(crate) struct Kept(Arc<OnceLock<Box<[OnceLock<Laid>]>>>);

impl Kept {
    /// The place of a whole step, of so many.
    fn of(&self, step: Option<usize>, count: usize) -> Option<&OnceLock<Laid>> {
        self.0.get_or_init(|| (0..count).map(|_| OnceLock::new()).collect()).get(step?)
    }
}

impl PartialEq for Kept {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl std::fmt::Debug for Kept {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Kept")
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
    point_within(&cell.outline, &cell.holes)
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
