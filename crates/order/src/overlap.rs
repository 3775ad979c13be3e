//! Which panels lie over one another and where: one statement for each pair and each separate place that they share.
//!
//! Two convex panels share one place or none. Others may share several, and the order may differ between them, as that
//! of a tab and the panel whose slit it passes through. What holds for three panels over one spot is kept here as well:
//! they don't lie on one another in a ring.

use crate::bits::Bits;
use crate::figure::{Facet, Figure};
use crate::literal::Literal;
use crate::survey::Survey;
use glam::DVec2;
use std::collections::BTreeMap;

/// One place in which two panels overlap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Overlap {
    /// The two panels, the lesser index first.
    pub facets: [usize; 2],
    /// A cell of it.
    pub(crate) cell: usize,
}

/// All overlaps of a figure.
#[derive(Debug, Clone, Default)]
pub(crate) struct Overlaps {
    /// How many panels there are.
    pub facets: usize,
    /// The overlaps, ascending.
    pub list: Vec<Overlap>,
    /// For each overlap the number of its set in `sets`.
    pub set_of: Vec<u32>,
    /// Sets of panels: those that lie over, under or between the two of an overlap somewhere in it, and the two themselves,
    /// unless one of the three pairs shares several places (see `rings`).
    pub sets: Vec<Bits>,
    /// Three statements that must not all be true nor all false, for trios with a pair that shares several places.
    pub rings: Vec<[Literal; 3]>,
    /// For panels a, b at a * facets + b: what says that a is above b, if they share one place.
    table: Vec<Entry>,
    /// The overlaps of the pairs that share several places, each with its cells.
    several: BTreeMap<(usize, usize), Vec<(usize, Bits)>>,
}

#[derive(Debug, Clone, Copy)]
enum Entry {
    None,
    One(Literal),
    Several,
}

impl Overlaps {
    /// Finds all overlaps.
    pub(crate) fn new(figure: &Figure, survey: &Survey) -> Self {
        let facets = figure.facets.len();
        let mut overlaps = Self { facets, table: vec![Entry::None; facets * facets], ..Self::default() };
        let mut cells = vec![Bits::none(survey.covers.len()); facets];
        for (cell, cover) in survey.covers.iter().enumerate() {
            cover.iter().for_each(|facet| cells[facet].put(cell));
        }
        let convex: Vec<bool> = figure.facets.iter().map(is_convex).collect();
        for a in 0..facets {
            for b in a + 1..facets {
                if cells[a].meets(&cells[b]) {
                    let shared = cells[a].shared(&cells[b]);
                    let places = if convex[a] && convex[b] { vec![shared] } else { places(survey, [a, b], &shared) };
                    overlaps.add([a, b], places);
                }
            }
        }
        overlaps.find_sets(survey, &cells);
        overlaps.find_rings(survey);
        overlaps
    }

    /// What says that `upper` is above `lower` over a cell that both cover.
    pub(crate) fn literal(&self, cell: usize, upper: usize, lower: usize) -> Option<Literal> {
        match self.table[upper * self.facets + lower] {
            Entry::None => None,
            Entry::One(literal) => Some(literal),
            Entry::Several => {
                let places = self.several.get(&(upper.min(lower), upper.max(lower)))?;
                let (overlap, _) = places.iter().find(|(_, cells)| cells.has(cell))?;
                Some(Literal::new(*overlap, upper < lower))
            }
        }
    }

    /// What says that `upper` is above `lower`, if they share exactly one place.
    pub(crate) fn only(&self, upper: usize, lower: usize) -> Option<Literal> {
        match self.table[upper * self.facets + lower] {
            Entry::One(literal) => Some(literal),
            _ => None,
        }
    }

    /// The numbers of the overlaps of two panels. They follow one another.
    pub(crate) fn of(&self, a: usize, b: usize) -> std::ops::Range<usize> {
        let pair = [a.min(b), a.max(b)];
        let from = self.list.partition_point(|overlap| overlap.facets < pair);
        let count = self.list[from..].iter().take_while(|overlap| overlap.facets == pair).count();
        from..from + count
    }

    /// The overlaps among some panels, numbered anew, and for each of the old ones its new number. For rules that speak of
    /// no others; cells are not kept.
    pub(crate) fn among(&self, facets: &Bits) -> (Self, Vec<Option<usize>>) {
        let kept: Vec<usize> = facets.iter().collect();
        let mut place = vec![None; self.facets];
        kept.iter().enumerate().for_each(|(at, &facet)| place[facet] = Some(at));
        let mut new = Self { facets: kept.len(), table: vec![Entry::None; kept.len() * kept.len()], ..Self::default() };
        let mut number = vec![None; self.list.len()];
        let mut sets: BTreeMap<u32, u32> = BTreeMap::new();
        for (old, overlap) in self.list.iter().enumerate() {
            let [Some(a), Some(b)] = overlap.facets.map(|facet| place[facet]) else { continue };
            let plain = Literal::new(new.list.len(), true);
            number[old] = Some(new.list.len());
            new.list.push(Overlap { facets: [a, b], cell: overlap.cell });
            let is_one = self.only(overlap.facets[0], overlap.facets[1]).is_some();
            new.table[a * kept.len() + b] = if is_one { Entry::One(plain) } else { Entry::Several };
            new.table[b * kept.len() + a] = if is_one { Entry::One(!plain) } else { Entry::Several };
            let next = u32::try_from(sets.len()).expect("no more sets than before");
            new.set_of.push(*sets.entry(self.set_of[old]).or_insert(next));
        }
        new.sets = vec![Bits::default(); sets.len()];
        for (old, at) in sets {
            let mut set = Bits::none(kept.len());
            self.sets[old as usize].iter().filter_map(|facet| place[facet]).for_each(|facet| set.put(facet));
            new.sets[at as usize] = set;
        }
        let renumbered = |literal: Literal| Some(Literal::new(number[literal.number()]?, literal.is_plain()));
        let rings = self.rings.iter().map(|ring| ring.map(renumbered));
        new.rings = rings.filter_map(|[x, y, z]| Some([x?, y?, z?])).collect();
        (new, number)
    }

    fn add(&mut self, [a, b]: [usize; 2], places: Vec<Bits>) {
        let first = self.list.len();
        self.list
            .extend(places.iter().filter_map(|cells| cells.iter().next()).map(|cell| Overlap { facets: [a, b], cell }));
        if places.len() == 1 {
            self.table[a * self.facets + b] = Entry::One(Literal::new(first, true));
            self.table[b * self.facets + a] = Entry::One(Literal::new(first, false));
        } else {
            self.table[a * self.facets + b] = Entry::Several;
            self.table[b * self.facets + a] = Entry::Several;
            self.several.insert((a, b), (first..).zip(places).collect());
        }
    }

    fn find_sets(&mut self, survey: &Survey, cells: &[Bits]) {
        let mut torn = vec![Bits::none(self.facets); self.facets];
        for &(a, b) in self.several.keys() {
            torn[a].put(b);
            torn[b].put(a);
        }
        let mut numbers: BTreeMap<Bits, u32> = BTreeMap::new();
        let mut by_cells: BTreeMap<Bits, u32> = BTreeMap::new();
        for overlap in &self.list {
            let [a, b] = overlap.facets;
            let shared = cells[a].shared(&cells[b]);
            let number = by_cells.get(&shared).copied().filter(|_| torn[a].is_empty() && torn[b].is_empty());
            let number = number.unwrap_or_else(|| {
                let mut set = Bits::none(self.facets);
                if !torn[a].has(b) {
                    shared.iter().for_each(|cell| set.join(&survey.covers[cell]));
                    set.leave_out(&torn[a]);
                    set.leave_out(&torn[b]);
                }
                let next = u32::try_from(numbers.len()).expect("no more sets than overlaps");
                let number = *numbers.entry(set).or_insert(next);
                if torn[a].is_empty() && torn[b].is_empty() {
                    by_cells.insert(shared, number);
                }
                number
            });
            self.set_of.push(number);
        }
        self.sets = vec![Bits::default(); numbers.len()];
        for (set, number) in numbers {
            self.sets[number as usize] = set;
        }
    }

    fn find_rings(&mut self, survey: &Survey) {
        let mut rings = Vec::new();
        for (&(a, b), places) in &self.several {
            for (overlap, cells) in places {
                for cell in cells.iter() {
                    for c in survey.covers[cell].iter().filter(|&c| c != a && c != b) {
                        if let (Some(bc), Some(ca)) = (self.literal(cell, b, c), self.literal(cell, c, a)) {
                            let mut ring = [Literal::new(*overlap, true), bc, ca];
                            ring.sort_unstable();
                            rings.push(ring);
                        }
                    }
                }
            }
        }
        rings.sort_unstable();
        rings.dedup();
        self.rings = rings;
    }
}

/// The separate places that two panels share, each as its cells: places hang together across stretches that are no
/// boundary of either.
fn places(survey: &Survey, [a, b]: [usize; 2], shared: &Bits) -> Vec<Bits> {
    let cells: Vec<usize> = shared.iter().collect();
    let mut part: Vec<usize> = (0..cells.len()).collect();
    for (stretch, [left, right]) in survey.cells.beside.iter().enumerate() {
        let (Ok(left), Ok(right)) = (cells.binary_search(left), cells.binary_search(right)) else { continue };
        let rim = &survey.rims[stretch].facets;
        if part[left] != part[right] && rim.binary_search(&a).is_err() && rim.binary_search(&b).is_err() {
            let (keep, drop) = (part[left].min(part[right]), part[left].max(part[right]));
            part.iter_mut().filter(|at| **at == drop).for_each(|at| *at = keep);
        }
    }
    let mut places: BTreeMap<usize, Bits> = BTreeMap::new();
    for (&cell, &part) in cells.iter().zip(&part) {
        places.entry(part).or_insert_with(|| Bits::none(survey.covers.len())).put(cell);
    }
    places.into_values().collect()
}

/// Turns to the wrong side by less than this (as a sine) are straight on.
const STRAIGHT: f64 = 1e-9;

/// Whether an outline turns one way only, and there are no holes. A slit turns back on itself and is not convex.
fn is_convex(facet: &Facet) -> bool {
    let outline = &facet.outline;
    let mut turns = (0..outline.len()).map(|i| {
        let [a, b, c] = [i, i + 1, i + 2].map(|j| outline[j % outline.len()]);
        let (in_way, out_way) = ((b - a).normalize_or_zero(), (c - b).normalize_or_zero());
        (in_way.perp_dot(out_way), in_way.dot(out_way))
    });
    let signs: Vec<(f64, f64)> = turns.by_ref().collect();
    let goes_back = signs.iter().any(|(cross, dot)| cross.abs() < STRAIGHT && *dot < 0.0);
    let one_way = signs.iter().all(|(cross, _)| *cross > -STRAIGHT) || signs.iter().all(|(cross, _)| *cross < STRAIGHT);
    facet.holes.is_empty() && one_way && !goes_back
}

/// A point well inside an overlap, in mm.
pub(crate) fn point(survey: &Survey, overlap: Overlap) -> DVec2 {
    survey.cells.inside(&survey.arrangement, overlap.cell)
}
