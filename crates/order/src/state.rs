//! One layer order, and what can be asked of it.

use crate::bits::Bits;
use crate::figure::Fold;
use crate::literal::Literal;
use crate::problem::Plan;
use glam::DVec2;
use std::fmt;
use std::sync::Arc;

/// A layer order: for every two panels that overlap, which is above.
#[derive(Clone)]
pub struct State {
    plan: Arc<Plan>,
    /// For each overlap whether its first panel is above its second.
    first_above: Bits,
}

impl State {
    pub(crate) const fn new(plan: Arc<Plan>, first_above: Bits) -> Self {
        Self { plan, first_above }
    }

    /// Whether panel `a` is above panel `b`. `None` if they don't overlap, or are above one another in different
    /// places, or there is no such panel.
    #[must_use]
    pub fn above(&self, a: usize, b: usize) -> Option<bool> {
        let mut answers = self.plan.overlaps.of(a, b).map(|overlap| self.first_above.has(overlap) == (a < b));
        let first = answers.next()?;
        answers.all(|other| other == first).then_some(first)
    }

    /// Whether the first panel of an overlap is above its second, by the number of the overlap in
    /// [`crate::Problem::overlaps`]. `None` if there is no such overlap.
    #[must_use]
    pub fn first_above(&self, overlap: usize) -> Option<bool> {
        (overlap < self.plan.overlaps.list.len()).then(|| self.first_above.has(overlap))
    }

    /// The panels over a point, from the bottom to the top. Empty beside the figure, and on a line the pile next to it.
    #[must_use]
    pub fn pile_at(&self, point: DVec2) -> Vec<usize> {
        self.plan.survey.cell_at(point).map_or_else(Vec::new, |cell| self.pile(cell))
    }

    /// All piles, one for each part of the plane that the same panels cover, as a point of it with the panels there from
    /// the bottom to the top.
    pub fn piles(&self) -> impl Iterator<Item = (DVec2, Vec<usize>)> + '_ {
        let survey = &self.plan.survey;
        let cells = (1..survey.cells.count()).filter(|&cell| survey.covers[cell].iter().next().is_some());
        cells.map(|cell| (survey.cells.inside(&survey.arrangement, cell), self.pile(cell)))
    }

    /// How a joint is folded: as the figure says, or as this order makes it where the figure leaves it open. `None` if it
    /// is not folded or not there.
    #[must_use]
    pub fn fold(&self, joint: usize) -> Option<Fold> {
        self.plan.figure.joints.get(joint)?.fold?;
        let valleys = &self.plan.valleys;
        let first = valleys.partition_point(|(other, _)| *other < joint);
        let (_, valley) = valleys.get(first).filter(|(other, _)| *other == joint)?;
        Some(if self.holds(*valley) { Fold::Valley } else { Fold::Mountain })
    }

    /// How each joint is folded; see [`State::fold`].
    pub fn folds(&self) -> impl Iterator<Item = Option<Fold>> + '_ {
        (0..self.plan.figure.joints.len()).map(|joint| self.fold(joint))
    }

    fn holds(&self, literal: Literal) -> bool {
        self.first_above.has(literal.number()) == literal.is_plain()
    }

    fn pile(&self, cell: usize) -> Vec<usize> {
        let overlaps = &self.plan.overlaps;
        let cover: Vec<usize> = self.plan.survey.covers[cell].iter().collect();
        let is_above = |upper: usize, lower: usize| {
            overlaps.literal(cell, upper, lower).is_some_and(|literal| self.holds(literal))
        };
        // In an order without rings, how many are below tells the height.
        let height = |&upper: &usize| cover.iter().filter(|&&lower| lower != upper && is_above(upper, lower)).count();
        let mut pile = cover.clone();
        pile.sort_by_key(height);
        pile
    }
}

impl PartialEq for State {
    fn eq(&self, other: &Self) -> bool {
        self.first_above == other.first_above && self.plan.overlaps.list == other.plan.overlaps.list
    }
}

impl Eq for State {}

impl fmt::Debug for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(self.piles().map(|(_, pile)| pile)).finish()
    }
}
