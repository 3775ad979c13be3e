//! All layer orders of a figure, without writing out what follows from independent components.

use crate::bits::Bits;
use crate::engine::Engine;
use crate::literal::Literal;
use crate::problem::{Effort, Plan};
use crate::search::{Verdict, search};
use crate::state::State;
use crate::symmetry::{put_first_lowest, rolls_round, turns_over};
use crate::system::System;
use crate::tally::{Component, Extent, components, each, settled, turned_over};
use std::sync::Arc;

/// How many layer orders there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Count {
    /// So many.
    Exact(u128),
    /// More than so many.
    MoreThan(u128),
    /// The effort did not suffice to go through them. There are so many at least.
    Undecided(u128),
}

/// The layer orders of a figure, component by component. Components don't influence each other: each order of one goes
/// with each of every other.
#[derive(Debug, Clone)]
pub struct Listing {
    plan: Arc<Plan>,
    system: Option<Arc<System>>,
    /// For each overlap whether its first panel is above its second, where that is the same in all orders.
    settled: Bits,
    parts: Vec<PartListing>,
    /// Whether the effort sufficed to tell that there is an order at all.
    exists: Verdict,
    /// At how many orders of one component it was to stop.
    cap: u64,
    /// How many orders come of each by rolling it round, that one among them. More than one only where none is kept.
    rolled: u64,
}

#[derive(Debug, Clone)]
struct PartListing {
    component: Component,
    /// How the classes of the component are settled in each of its orders.
    ways: Vec<Bits>,
    found: u64,
    then: Verdict,
}

impl Listing {
    /// Goes through the orders; `keep`s them or counts them. Stops at more than `cap` in any one component.
    pub(crate) fn new(plan: &Arc<Plan>, system: Option<&Arc<System>>, cap: u64, effort: Effort, keep: bool) -> Self {
        let mut listing = Self {
            plan: Arc::clone(plan),
            system: system.cloned(),
            settled: Bits::none(plan.overlaps.list.len()),
            parts: Vec::new(),
            exists: Verdict::Nothing,
            cap,
            rolled: 1,
        };
        let Some(system) = system else { return listing };
        let (mut engine, holds) = Engine::new(system);
        if !holds {
            return listing;
        }
        for overlap in (0..plan.overlaps.list.len()).filter(|&overlap| engine.statement(overlap) == Some(true)) {
            listing.settled.put(overlap);
        }
        let extent = if turns_over(&engine) { Extent::Half } else { Extent::All };
        if !keep && rolls_round(system) {
            if !put_first_lowest(&mut engine) {
                return listing;
            }
            listing.rolled = system.facets as u64;
        }
        let components = components(&engine);
        // One order first: where there is none, or one component alone has too many, going through others is in vain.
        listing.exists = search(&mut engine.clone(), effort.0);
        if listing.exists == Verdict::Nothing {
            return listing;
        }
        let limit = engine.steps.saturating_add(effort.0);
        for component in components {
            let left = limit.saturating_sub(engine.steps);
            let part = if keep {
                PartListing::kept(&mut engine, component, extent, cap, left)
            } else {
                PartListing::counted(&mut engine, component, extent, cap.div_ceil(listing.rolled), left)
            };
            listing.parts.push(part);
        }
        listing
    }

    /// How many orders there are: the product over the components, exact if no component was cut short.
    #[must_use]
    pub fn count(&self) -> Count {
        let counts = || self.parts.iter().map(|part| u128::from(part.found));
        let product = counts().try_fold(u128::from(self.rolled), u128::checked_mul);
        let any = |verdict| self.parts.iter().any(|part| part.then == verdict);
        match (self.exists, product) {
            (Verdict::Nothing, _) => Count::Exact(0),
            (Verdict::Undecided, _) if any(Verdict::Found) || any(Verdict::Undecided) => {
                Count::Undecided(product.unwrap_or(u128::MAX))
            }
            (_, None) => Count::MoreThan(u128::MAX),
            // Rolled, they were found many at a time; what was asked for is told.
            (_, Some(count)) if any(Verdict::Found) && self.rolled > 1 => Count::MoreThan(count.min(self.cap.into())),
            (_, Some(count)) if any(Verdict::Found) => Count::MoreThan(count),
            (_, Some(count)) if any(Verdict::Undecided) => Count::Undecided(count),
            (_, Some(count)) => Count::Exact(count),
        }
    }

    /// How many orders each component has, as far as they are listed.
    #[must_use]
    pub fn parts(&self) -> Vec<u64> {
        self.parts.iter().map(|part| part.found).collect()
    }

    /// Whether every order is listed.
    #[must_use]
    pub fn is_complete(&self) -> bool {
        self.exists == Verdict::Nothing || self.parts.iter().all(|part| part.then == Verdict::Nothing)
    }

    /// All orders that the listed ones of the components make up, one at a time.
    pub fn states(&self) -> impl Iterator<Item = State> + '_ {
        let is_empty = self.exists == Verdict::Nothing || self.parts.iter().any(|part| part.ways.is_empty());
        let mut at = (!is_empty).then(|| vec![0; self.parts.len()]);
        std::iter::from_fn(move || {
            let turn = at.as_mut()?;
            let state = self.state(turn);
            let next = (0..turn.len()).find(|&part| turn[part] + 1 < self.parts[part].ways.len());
            match next {
                Some(part) => {
                    turn[..part].fill(0);
                    turn[part] += 1;
                }
                None => at = None,
            }
            Some(state)
        })
    }

    fn state(&self, turn: &[usize]) -> State {
        let mut first_above = self.settled.clone();
        if let Some(system) = &self.system {
            let mut value: Vec<Option<bool>> = vec![None; system.classes];
            for (part, &way) in self.parts.iter().zip(turn) {
                for (at, &class) in part.component.iter().enumerate() {
                    value[class] = Some(part.ways[way].has(at));
                }
            }
            let is_true = |literal: &Literal| value[literal.number()] == Some(literal.is_plain());
            let true_ones = system.class_of.iter().enumerate().filter(|(_, literal)| is_true(literal));
            true_ones.for_each(|(overlap, _)| first_above.put(overlap));
        }
        State::new(Arc::clone(&self.plan), first_above)
    }
}

impl PartListing {
    /// Goes through the ways to settle a component and keeps them. The half that is the other turned over is not searched
    /// for: ways come in the order of their bits, so it is the first half backwards.
    fn kept(engine: &mut Engine, component: Component, extent: Extent, cap: u64, effort: u64) -> Self {
        let mut ways = Vec::new();
        let mut tally = each(engine, &component, extent, cap, effort, |engine| ways.push(settled(engine, &component)));
        if extent == Extent::Half && tally.then == Verdict::Nothing {
            let more = usize::try_from(cap - tally.found).unwrap_or(usize::MAX).min(ways.len());
            if more < ways.len() {
                tally.then = Verdict::Found;
            }
            let turned: Vec<Bits> = ways.iter().rev().take(more).map(|way| turned_over(way, component.len())).collect();
            ways.extend(turned);
        }
        Self { found: ways.len() as u64, component, ways, then: tally.then }
    }

    /// Counts the ways to settle a component.
    fn counted(engine: &mut Engine, component: Component, extent: Extent, cap: u64, effort: u64) -> Self {
        let times = if extent == Extent::Half { 2 } else { 1 };
        let tally = each(engine, &component, extent, cap.div_ceil(times), effort, |_| {});
        Self { component, ways: Vec::new(), found: tally.found.saturating_mul(times), then: tally.then }
    }
}
