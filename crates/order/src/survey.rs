//! The figure laid out: its lines arranged, which panels cover each cell, which joints run along each stretch; and
//! everything about a figure that can be wrong before orders come in.

use crate::arrangement::{Arrangement, Line};
use crate::bits::Bits;
use crate::cell::Cells;
use crate::fault::{FigureFault, Part};
use crate::figure::{Facet, Figure};
use crate::place::{FARTHEST, SAME_PLACE};
use glam::DVec2;

/// The most panels that are looked at. Every pair of panels may need a statement of its own: a pile of a thousand takes a
/// quarter of a second and of a gigabyte to lay out, one of twice as many four times that.
pub const MOST_FACETS: usize = 1000;

/// A figure laid out.
#[derive(Debug, Clone, Default)]
pub(crate) struct Survey {
    pub arrangement: Arrangement,
    pub cells: Cells,
    /// For each cell the panels that cover it.
    pub covers: Vec<Bits>,
    /// For each stretch what runs along it.
    pub rims: Vec<Rim>,
    /// For each bond the cells that it glues.
    pub glued: Vec<Vec<usize>>,
}

/// What runs along a stretch.
#[derive(Debug, Clone, Default)]
pub(crate) struct Rim {
    /// Panels whose boundary it is, ascending. One that covers both sides has a slit there.
    pub facets: Vec<usize>,
    /// Joints along it, ascending, with the side (0 left, 1 right) of each of their panels.
    pub joints: Vec<(usize, [usize; 2])>,
}

impl Survey {
    /// Lays a figure out.
    pub(crate) fn new(figure: &Figure) -> Result<Self, FigureFault> {
        check_numbers(figure)?;
        let facets = figure.facets.len();
        let glue: Vec<(usize, &[DVec2])> = (0..)
            .zip(&figure.bonds)
            .flat_map(|(b, bond)| bond.area.iter().map(move |area| (b, area.as_slice())))
            .collect();
        let regions = facets + glue.len();
        let arrangement = Arrangement::new(&lines(figure, &glue)?);
        let cells = Cells::new(&arrangement);
        let covered = cells.covers(&arrangement, regions);
        let mut survey = Self { glued: vec![Vec::new(); figure.bonds.len()], ..Self::default() };
        for (cell, cover) in covered.iter().enumerate() {
            for (_, &(bond, _)) in glue.iter().enumerate().filter(|(i, _)| cover.has(facets + i)) {
                if survey.glued[bond].last() != Some(&cell) {
                    survey.glued[bond].push(cell);
                }
            }
        }
        survey.covers = covered.iter().map(|cover| cover.below(facets)).collect();
        survey.arrangement = arrangement;
        survey.cells = cells;
        survey.check_areas(figure)?;
        survey.rims = survey.rims(figure, regions)?;
        Ok(survey)
    }

    /// The sides (0 left, 1 right) of a stretch that a panel covers.
    fn covers_sides(&self, stretch: usize, facet: usize) -> [bool; 2] {
        self.cells.beside[stretch].map(|cell| self.covers[cell].has(facet))
    }

    /// Whether two panels lie over one another in a cell.
    pub(crate) fn is_shared(&self, cell: usize, [a, b]: [usize; 2]) -> bool {
        self.covers[cell].has(a) && self.covers[cell].has(b)
    }

    /// The cell around a point; that of the least number if it is on a line.
    pub(crate) fn cell_at(&self, point: DVec2) -> Option<usize> {
        (1..self.cells.count()).find(|&cell| self.cells.holds(&self.arrangement, cell, point))
    }

    /// Panels that cover both sides of a stretch and have no boundary there.
    pub(crate) fn through(&self, stretch: usize) -> Vec<usize> {
        let [left, right] = self.cells.beside[stretch];
        let both = self.covers[left].shared(&self.covers[right]);
        both.iter().filter(|facet| self.rims[stretch].facets.binary_search(facet).is_err()).collect()
    }

    fn check_areas(&self, figure: &Figure) -> Result<(), FigureFault> {
        let mut covered = vec![0.0; figure.facets.len()];
        for (cell, cover) in self.covers.iter().enumerate().skip(1) {
            let area = self.cells.area(&self.arrangement, cell);
            cover.iter().for_each(|facet| covered[facet] += area);
        }
        for (facet, (shape, &covered)) in figure.facets.iter().zip(&covered).enumerate() {
            if covered <= 0.0 {
                return Err(FigureFault::NoArea { facet });
            }
            let expected = area(&shape.outline).abs() - shape.holes.iter().map(|hole| area(hole).abs()).sum::<f64>();
            let round: f64 = loops(shape).flat_map(sides).map(|[a, b]| a.distance(b)).sum();
            // Moving corners by some SAME_PLACE changes the area by no more than so much of a rim.
            if (covered - expected).abs() > 8.0 * SAME_PLACE * round {
                return Err(FigureFault::Tangled { facet });
            }
        }
        Ok(())
    }

    fn rims(&self, figure: &Figure, regions: usize) -> Result<Vec<Rim>, FigureFault> {
        let mut rims = Vec::with_capacity(self.arrangement.stretches.len());
        for stretch in 0..self.arrangement.stretches.len() {
            let mut rim = Rim::default();
            for owner in self.arrangement.owners(stretch).iter().map(|&owner| owner as usize) {
                if owner < figure.facets.len() {
                    rim.facets.push(owner);
                } else if owner >= regions {
                    rim.joints.push((owner - regions, [0; 2]));
                }
            }
            rim.facets.dedup();
            let mut holding: Vec<(usize, usize)> = Vec::with_capacity(2 * rim.joints.len());
            for (joint, at) in &mut rim.joints {
                *at = self.sides_of(figure, *joint, stretch, &rim.facets)?;
                holding.extend(figure.joints[*joint].facets.map(|facet| (facet, *joint)));
            }
            holding.sort_unstable();
            if let Some(pair) = holding.windows(2).find(|pair| pair[0].0 == pair[1].0) {
                return Err(FigureFault::TwoJoints { joints: [pair[0].1, pair[1].1], facet: pair[0].0 });
            }
            rims.push(rim);
        }
        Ok(rims)
    }

    /// The side that each panel of a joint lies on, at one stretch of it.
    fn sides_of(
        &self,
        figure: &Figure,
        joint: usize,
        stretch: usize,
        rim: &[usize],
    ) -> Result<[usize; 2], FigureFault> {
        let mut at = [0; 2];
        for (side, facet) in at.iter_mut().zip(figure.joints[joint].facets) {
            *side = match self.covers_sides(stretch, facet) {
                _ if rim.binary_search(&facet).is_err() => return Err(FigureFault::Apart { joint, facet }),
                [true, true] => return Err(FigureFault::OnSlit { joint, facet }),
                [true, false] => 0,
                [false, true] => 1,
                [false, false] => return Err(FigureFault::Apart { joint, facet }),
            };
        }
        let is_folded = figure.joints[joint].fold.is_some();
        if (at[0] == at[1]) == is_folded { Ok(at) } else { Err(FigureFault::WrongSides { joint }) }
    }
}

/// All lines of a figure. Owners are numbered: panels, then polygons of glue, then joints.
fn lines(figure: &Figure, glue: &[(usize, &[DVec2])]) -> Result<Vec<Line>, FigureFault> {
    let number = |index: usize| u32::try_from(index).expect("fewer parts than bytes of memory over sixteen");
    let mut lines = Vec::new();
    for (facet, shape) in figure.facets.iter().enumerate() {
        lines.extend(loops(shape).flat_map(sides).map(|ends| Line { ends, owner: number(facet) }));
    }
    let facets = figure.facets.len();
    for (i, (_, area)) in glue.iter().enumerate() {
        lines.extend(sides(area).map(|ends| Line { ends, owner: number(facets + i) }));
    }
    for (j, joint) in figure.joints.iter().enumerate() {
        let (from, to) = joint.segment;
        if from.distance(to) <= SAME_PLACE {
            return Err(FigureFault::ShortJoint { joint: j });
        }
        lines.push(Line { ends: [from, to], owner: number(facets + glue.len() + j) });
    }
    Ok(lines)
}

fn loops(facet: &Facet) -> impl Iterator<Item = &[DVec2]> {
    std::iter::once(&facet.outline).chain(&facet.holes).map(Vec::as_slice)
}

fn sides(outline: &[DVec2]) -> impl Iterator<Item = [DVec2; 2]> + '_ {
    outline.iter().zip(outline.iter().cycle().skip(1)).map(|(&a, &b)| [a, b])
}

fn area(outline: &[DVec2]) -> f64 {
    let first = outline.first().copied().unwrap_or_default();
    sides(outline).map(|[a, b]| (a - first).perp_dot(b - first)).sum::<f64>() / 2.0
}

/// Numbers and indices: all that can be told without looking at shapes.
fn check_numbers(figure: &Figure) -> Result<(), FigureFault> {
    let count = figure.facets.len();
    if count > MOST_FACETS {
        return Err(FigureFault::TooManyFacets { count });
    }
    let placed = |point: &DVec2| point.is_finite() && point.abs().max_element() <= FARTHEST;
    let pair = |part: Part, [a, b]: [usize; 2]| {
        if a < count && b < count && a != b { Ok(()) } else { Err(FigureFault::Unpaired(part)) }
    };
    for (facet, shape) in figure.facets.iter().enumerate() {
        if !loops(shape).flatten().all(placed) {
            return Err(FigureFault::Unplaced(Part::Facet(facet)));
        }
    }
    for (j, joint) in figure.joints.iter().enumerate() {
        pair(Part::Joint(j), joint.facets)?;
        if !placed(&joint.segment.0) || !placed(&joint.segment.1) {
            return Err(FigureFault::Unplaced(Part::Joint(j)));
        }
        let [a, b] = joint.facets.map(|facet| figure.facets[facet].face_up);
        if (a != b) != joint.fold.is_some() {
            return Err(FigureFault::WrongFaces { joint: j });
        }
    }
    for (b, bond) in figure.bonds.iter().enumerate() {
        pair(Part::Bond(b), bond.facets)?;
        if !bond.area.iter().flatten().all(placed) {
            return Err(FigureFault::Unplaced(Part::Bond(b)));
        }
    }
    for (g, given) in figure.given.iter().enumerate() {
        pair(Part::Given(g), [given.lower, given.upper])?;
        if !given.at.iter().all(placed) {
            return Err(FigureFault::Unplaced(Part::Given(g)));
        }
    }
    Ok(())
}
