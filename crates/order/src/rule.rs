//! What any order has to keep, besides that panels don't lie on one another in a ring.
//!
//! Paper doesn't pass through paper at a stretch where something is joined. With `above` between panels over the cells
//! beside the stretch, that comes down to four families (after Justin 1997 and Akitaya, Demaine and Ku, *Computing
//! flat-folded states*; attribution from memory, their sufficiency is tested and not proved here):
//!
//! - two folds on one side of a stretch don't interleave: an even number of four statements is true;
//! - a panel that runs on across a fold does not lie between its halves: two statements are equal;
//! - so does the half of a flat joint on the fold's side;
//! - what lies on one another beside a flat joint keeps its order across it: two statements are equal.
//!
//! Folds' directions, bonds and given orders add plain statements and more equal ones.

use crate::fault::FigureFault;
use crate::figure::{Bond, Face, Figure, Fold, Given};
use crate::literal::Literal;
use crate::overlap::Overlaps;
use crate::survey::Survey;

/// What is claimed of some statements.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Claim {
    /// It is true.
    Is(Literal),
    /// Both or neither are true.
    Same([Literal; 2]),
    /// An even number of them is true.
    Even([Literal; 4]),
}

impl Claim {
    /// The statements.
    pub(crate) fn literals(&self) -> &[Literal] {
        match self {
            Self::Is(literal) => std::slice::from_ref(literal),
            Self::Same(pair) => pair,
            Self::Even(four) => four,
        }
    }
}

/// A part of the figure that a rule stems from, and without which it would not be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Source {
    /// That a joint holds its panels together.
    Joint(usize),
    /// The direction that a joint is folded in.
    Way(usize),
    /// A bond.
    Bond(usize),
    /// A given order.
    Given(usize),
    /// One of the orders that are being looked at.
    Asked(usize),
}

/// A claim and where it stems from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rule {
    pub claim: Claim,
    /// It falls when either falls. A rule from one source names it twice.
    pub sources: [Source; 2],
}

/// All rules of a figure, of which `valleys` are known.
pub(crate) fn rules(
    figure: &Figure,
    survey: &Survey,
    overlaps: &Overlaps,
    valleys: &[(usize, Literal)],
) -> Result<Vec<Rule>, FigureFault> {
    let mut rules = Rules { figure, survey, overlaps, list: Vec::new() };
    for stretch in 0..survey.rims.len() {
        rules.stretch(stretch);
    }
    rules.ways(valleys);
    for (number, bond) in figure.bonds.iter().enumerate() {
        rules.bond(number, bond)?;
    }
    let given = figure.given.iter().enumerate();
    let orders = given.flat_map(|(number, given)| orders(survey, overlaps, given, Source::Given(number)));
    rules.list.extend(orders);
    Ok(rules.list)
}

/// What an order of two panels claims.
pub(crate) fn orders(survey: &Survey, overlaps: &Overlaps, given: &Given, source: Source) -> Vec<Rule> {
    let rule = |literal| Rule { claim: Claim::Is(literal), sources: [source; 2] };
    if given.upper.max(given.lower) >= overlaps.facets {
        return Vec::new();
    }
    match given.at {
        Some(point) => {
            let cell = survey.cell_at(point).filter(|&cell| survey.is_shared(cell, [given.upper, given.lower]));
            cell.and_then(|cell| overlaps.literal(cell, given.upper, given.lower)).map(rule).into_iter().collect()
        }
        None => overlaps
            .of(given.upper, given.lower)
            .map(|overlap| rule(Literal::new(overlap, given.upper < given.lower)))
            .collect(),
    }
}

/// The statement that a folded joint is a valley, at each stretch of it; ascending by joint.
pub(crate) fn valleys(figure: &Figure, survey: &Survey, overlaps: &Overlaps) -> Vec<(usize, Literal)> {
    let mut found = Vec::new();
    for (stretch, rim) in survey.rims.iter().enumerate() {
        for &(joint, sides) in rim.joints.iter().filter(|(joint, _)| figure.joints[*joint].fold.is_some()) {
            let [a, b] = figure.joints[joint].facets;
            let (up, down) = if figure.facets[a].face_up { (a, b) } else { (b, a) };
            let cell = survey.cells.beside[stretch][sides[0]];
            found.extend(overlaps.literal(cell, down, up).map(|literal| (joint, literal)));
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

struct Rules<'a> {
    figure: &'a Figure,
    survey: &'a Survey,
    overlaps: &'a Overlaps,
    list: Vec<Rule>,
}

/// A joint at a stretch, with its panels: both halves of a fold, or what lies left and right of a flat joint.
type Halves = (usize, [usize; 2]);

impl Rules<'_> {
    fn stretch(&mut self, stretch: usize) {
        let rim = &self.survey.rims[stretch];
        if rim.joints.is_empty() {
            return;
        }
        let through = self.survey.through(stretch);
        let (mut folds, mut flat): ([Vec<Halves>; 2], Vec<Halves>) = Default::default();
        for &(joint, [at, other]) in &rim.joints {
            let [a, b] = self.figure.joints[joint].facets;
            if at == other {
                folds[at].push((joint, [a, b]));
            } else {
                flat.push((joint, if at == 0 { [a, b] } else { [b, a] }));
            }
        }
        let cells = self.survey.cells.beside[stretch];
        for side in 0..2 {
            self.folds(cells[side], side, &folds[side], &flat, &through);
        }
        self.flat(cells, &flat, &through);
    }

    /// Folds on one side of a stretch, against each other and against what runs on across.
    fn folds(&mut self, cell: usize, side: usize, folds: &[Halves], flat: &[Halves], through: &[usize]) {
        for (i, &(joint, [a, b])) in folds.iter().enumerate() {
            for &(other, [c, d]) in &folds[i + 1..] {
                let four = [(a, c), (b, c), (a, d), (b, d)].map(|(x, y)| self.overlaps.literal(cell, x, y));
                if let [Some(ac), Some(bc), Some(ad), Some(bd)] = four {
                    self.push(Claim::Even([ac, bc, ad, bd]), [Source::Joint(joint), Source::Joint(other)]);
                }
            }
            for &c in through {
                self.same([(cell, a, c), (cell, b, c)], [Source::Joint(joint); 2]);
            }
            for &(other, halves) in flat {
                let c = halves[side];
                self.same([(cell, a, c), (cell, b, c)], [Source::Joint(joint), Source::Joint(other)]);
            }
        }
    }

    /// Flat joints, against each other and against panels that have no joint there.
    fn flat(&mut self, [left, right]: [usize; 2], flat: &[Halves], through: &[usize]) {
        for (i, &(joint, [a, b])) in flat.iter().enumerate() {
            for &(other, [c, d]) in &flat[i + 1..] {
                self.same([(left, a, c), (right, b, d)], [Source::Joint(joint), Source::Joint(other)]);
            }
            for &c in through {
                self.same([(left, a, c), (right, b, c)], [Source::Joint(joint); 2]);
            }
        }
    }

    /// A joint is folded one way from end to end, and the way it is said to be.
    fn ways(&mut self, valleys: &[(usize, Literal)]) {
        for pair in valleys.windows(2).filter(|pair| pair[0].0 == pair[1].0) {
            self.push(Claim::Same([pair[0].1, pair[1].1]), [Source::Joint(pair[0].0); 2]);
        }
        for &(joint, valley) in valleys {
            let literal = match self.figure.joints[joint].fold {
                Some(Fold::Valley) => valley,
                Some(Fold::Mountain) => !valley,
                Some(Fold::Either) | None => continue,
            };
            self.push(Claim::Is(literal), [Source::Joint(joint), Source::Way(joint)]);
        }
    }

    fn bond(&mut self, number: usize, bond: &Bond) -> Result<(), FigureFault> {
        let [a, b] = bond.facets;
        let source = [Source::Bond(number); 2];
        let glued = self.survey.glued[number].iter().copied();
        let cells: Vec<usize> = glued.filter(|&cell| self.survey.is_shared(cell, bond.facets)).collect();
        if cells.is_empty() {
            return Err(FigureFault::BondApart { bond: number });
        }
        let first_above = match bond.faces {
            None => None,
            Some(faces) => Some(self.first_above(bond, faces).ok_or(FigureFault::BondFaces { bond: number })?),
        };
        let first = self.list.len();
        for cell in cells {
            for c in self.survey.covers[cell].iter().filter(|&c| c != a && c != b) {
                self.same([(cell, a, c), (cell, b, c)], source);
            }
            if let (Some(above), Some(literal)) = (first_above, self.overlaps.literal(cell, a, b)) {
                self.push(Claim::Is(literal.turned(!above)), source);
            }
        }
        self.drop_doubles(first);
        Ok(())
    }

    /// Whether the first panel of a bond is above, from the faces that meet; `None` if they can't.
    fn first_above(&self, bond: &Bond, faces: [Face; 2]) -> Option<bool> {
        let [first, second] = [0, 1].map(|i| (faces[i] == Face::Front) == self.figure.facets[bond.facets[i]].face_up);
        // Whether the glue is on the upper side of each: one looks up into the other, which looks down.
        (first != second).then_some(second)
    }

    fn same(&mut self, pairs: [(usize, usize, usize); 2], sources: [Source; 2]) {
        let [x, y] = pairs.map(|(cell, upper, lower)| self.overlaps.literal(cell, upper, lower));
        if let (Some(x), Some(y)) = (x, y) {
            self.push(Claim::Same([x, y]), sources);
        }
    }

    /// A statement equal to itself says nothing.
    fn push(&mut self, claim: Claim, sources: [Source; 2]) {
        if !matches!(claim, Claim::Same([x, y]) if x == y) {
            self.list.push(Rule { claim, sources });
        }
    }

    /// A bond over many cells says the same in each.
    fn drop_doubles(&mut self, from: usize) {
        let mut new = self.list.split_off(from);
        new.sort_by(|a, b| a.claim.literals().cmp(b.claim.literals()));
        new.dedup_by(|a, b| a.claim == b.claim);
        self.list.extend(new);
    }
}
