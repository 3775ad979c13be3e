//! A figure made ready, and the questions to it.

use crate::bits::Bits;
use crate::conflict::{Conflict, at_fault, explain};
use crate::engine::Engine;
use crate::fault::FigureFault;
use crate::figure::{Figure, Given};
use crate::listing::Listing;
use crate::literal::Literal;
use crate::overlap::{Overlap, Overlaps, point};
use crate::rule::{Rule, Source, orders, rules, valleys};
use crate::search::{Verdict, search};
use crate::state::State;
use crate::survey::Survey;
use crate::system::System;
use glam::DVec2;
use std::sync::Arc;

/// A figure laid out, with what overlaps and what orders have to keep.
#[derive(Debug, Default)]
pub(crate) struct Plan {
    pub figure: Figure,
    pub survey: Survey,
    pub overlaps: Overlaps,
    pub rules: Vec<Rule>,
    /// For each stretch of a folded joint what says that it is a valley, ascending by joint.
    pub valleys: Vec<(usize, Literal)>,
    /// For each panel its turn: panels that hang together follow one another.
    pub rank: Vec<u32>,
}

/// A figure made ready for questions.
#[derive(Debug, Clone)]
pub struct Problem {
    plan: Arc<Plan>,
    /// `None` where the rules contradict themselves as soon as they are added up.
    system: Option<Arc<System>>,
    effort: Effort,
}

/// How much work a question may take, in steps: statements settled, and clauses looked at.
///
/// Steps and not seconds, so that every machine gives the same answer. A step takes some ten to a hundred nanoseconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Effort(pub u64);

impl Default for Effort {
    /// Fifty million steps: some seconds at most. A map of 96 panels takes ten thousand of them for one order, and one of
    /// sixteen takes five million to list all of its 300 608 orders, and a quarter of a million to count them.
    fn default() -> Self {
        Self(50_000_000)
    }
}

/// The answer to whether a figure has a layer order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// It has this one, and perhaps others.
    Order(State),
    /// It has none, since these exclude each other.
    Conflict(Conflict),
    /// The effort did not suffice to tell.
    Undecided,
}

/// Which orders two panels can have in one place of their overlap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leeway {
    /// The number of the overlap in [`Problem::overlaps`].
    pub overlap: usize,
    /// Whether its first panel can be above its second; `None` if the effort did not suffice to tell.
    pub first_above: Option<bool>,
    /// Whether its second panel can be above its first; `None` if the effort did not suffice to tell.
    pub second_above: Option<bool>,
}

/// Makes a figure ready.
///
/// # Errors
///
/// Anything of [`FigureFault`]: the parts don't fit as they lie, whatever the order.
pub fn prepare(figure: &Figure) -> Result<Problem, FigureFault> {
    let survey = Survey::new(figure)?;
    let overlaps = Overlaps::new(figure, &survey);
    let valleys = valleys(figure, &survey, &overlaps);
    let rules = rules(figure, &survey, &overlaps, &valleys)?;
    let rank = ranks(figure);
    let system = System::new(&overlaps, rules.iter().map(|rule| rule.claim), &rank).map(Arc::new);
    let plan = Arc::new(Plan { figure: figure.clone(), survey, overlaps, rules, valleys, rank });
    Ok(Problem { plan, system, effort: Effort::default() })
}

impl Problem {
    /// The same with another limit on the work that each question may take.
    #[must_use]
    pub fn with_effort(self, effort: Effort) -> Self {
        Self { effort, ..self }
    }

    /// Every place in which two panels overlap, ascending by panels. Two convex panels overlap in one place at most.
    #[must_use]
    pub fn overlaps(&self) -> &[Overlap] {
        &self.plan.overlaps.list
    }

    /// The numbers of the overlaps of two panels.
    #[must_use]
    pub fn overlaps_of(&self, a: usize, b: usize) -> std::ops::Range<usize> {
        self.plan.overlaps.of(a, b)
    }

    /// A point well inside an overlap, in mm; `None` if there is no such overlap.
    #[must_use]
    pub fn point_of(&self, overlap: usize) -> Option<DVec2> {
        self.overlaps().get(overlap).map(|&overlap| point(&self.plan.survey, overlap))
    }

    /// One layer order, or why there is none. Always the same one.
    #[must_use]
    pub fn solve(&self) -> Answer {
        self.solve_with(&[])
    }

    /// Whether some layer order has all of the orders asked about: those of a whole state to verify it, or a few. An
    /// order of panels that don't overlap, or don't exist, claims nothing.
    ///
    /// The answer is an order that has them, or a conflict; its `asked` are indices into `asked`.
    #[must_use]
    pub fn allows(&self, asked: &[Given]) -> Answer {
        let plan = &self.plan;
        let each = asked.iter().enumerate();
        let claims: Vec<Rule> =
            each.flat_map(|(i, given)| orders(&plan.survey, &plan.overlaps, given, Source::Asked(i))).collect();
        self.solve_with(&claims)
    }

    /// Which orders two panels can have, in each place of their overlap. Empty if they don't overlap.
    ///
    /// Where neither is possible, the figure has no layer order at all.
    #[must_use]
    pub fn leeway(&self, a: usize, b: usize) -> Vec<Leeway> {
        let possible = |overlap: usize, first_above: bool| match self.try_with(&[Literal::new(overlap, first_above)]) {
            (Verdict::Found, _) => Some(true),
            (Verdict::Nothing, _) => Some(false),
            (Verdict::Undecided, _) => None,
        };
        let each = self.overlaps_of(a, b).map(|overlap| Leeway {
            overlap,
            first_above: possible(overlap, true),
            second_above: possible(overlap, false),
        });
        each.collect()
    }

    /// The one order that panels `a` and `b` can have: whether `a` is above `b`. `None` if both are possible, or none, or
    /// their order differs between places, or they don't overlap, or the effort did not suffice to tell.
    #[must_use]
    pub fn forced(&self, a: usize, b: usize) -> Option<bool> {
        let mut each = self.leeway(a, b).into_iter().map(|leeway| match (leeway.first_above, leeway.second_above) {
            (Some(true), Some(false)) => Some(a < b),
            (Some(false), Some(true)) => Some(a > b),
            _ => None,
        });
        let first = each.next()??;
        each.all(|other| other == Some(first)).then_some(first)
    }

    /// The orders of each component, up to `cap` of each.
    #[must_use]
    pub fn list(&self, cap: u64) -> Listing {
        Listing::new(&self.plan, self.system.as_ref(), cap, self.effort, true)
    }

    /// How many layer orders there are. Stops at more than `cap` in any one component.
    #[must_use]
    pub fn count(&self, cap: u64) -> crate::Count {
        Listing::new(&self.plan, self.system.as_ref(), cap, self.effort, false).count()
    }

    fn solve_with(&self, asked: &[Rule]) -> Answer {
        let literals: Vec<Literal> = asked.iter().flat_map(|rule| rule.claim.literals().iter().copied()).collect();
        match self.try_with(&literals) {
            (Verdict::Found, Some(first_above)) => Answer::Order(State::new(Arc::clone(&self.plan), first_above)),
            (Verdict::Nothing, _) => {
                Answer::Conflict(explain(&self.plan, &self.at_fault(asked, &literals), self.effort))
            }
            _ => Answer::Undecided,
        }
    }

    /// Of orders that can't be had together, those that are looked at to say why: where there are many, few on which a
    /// contradiction rests.
    fn at_fault(&self, asked: &[Rule], literals: &[Literal]) -> Vec<Rule> {
        let system = self.system.as_ref().filter(|_| asked.len() > MANY_ASKED);
        let faults = system.and_then(|system| at_fault(system, &in_classes(system, literals).collect::<Vec<_>>()));
        faults.map_or_else(|| asked.to_vec(), |faults| faults.into_iter().map(|i| asked[i]).collect())
    }

    /// Whether there is an order in which some statements are true; that order.
    fn try_with(&self, asked: &[Literal]) -> (Verdict, Option<Bits>) {
        let Some(system) = &self.system else { return (Verdict::Nothing, None) };
        let (mut engine, holds) = Engine::new(system);
        if !holds || !in_classes(system, asked).all(|literal| engine.require(literal)) || !engine.follow() {
            return (Verdict::Nothing, None);
        }
        let verdict = search(&mut engine, self.effort.0);
        let found = (verdict == Verdict::Found).then(|| {
            let mut first_above = Bits::none(system.class_of.len());
            let all = 0..system.class_of.len();
            all.filter(|&overlap| engine.statement(overlap) == Some(true)).for_each(|overlap| first_above.put(overlap));
            first_above
        });
        (verdict, found)
    }
}

/// With more orders asked for than this, not all of them are tried to say why they can't be had: a pile of 45 layers has so
/// many.
const MANY_ASKED: usize = 1000;

/// Statements about overlaps as those about classes.
fn in_classes<'a>(system: &'a System, literals: &'a [Literal]) -> impl Iterator<Item = Literal> + 'a {
    literals.iter().map(|&literal| system.class_of[literal.number()].turned(!literal.is_plain()))
}

/// Each panel's turn when panels are taken along joints, nearest first, from the first panel of each piece.
fn ranks(figure: &Figure) -> Vec<u32> {
    let mut joined: Vec<Vec<usize>> = vec![Vec::new(); figure.facets.len()];
    for joint in &figure.joints {
        let [a, b] = joint.facets;
        joined[a].push(b);
        joined[b].push(a);
    }
    let mut rank: Vec<Option<u32>> = vec![None; figure.facets.len()];
    let mut turns = 0..;
    for start in 0..rank.len() {
        let mut row = std::collections::VecDeque::from([start]);
        while let Some(facet) = row.pop_front() {
            if rank[facet].is_none() {
                rank[facet] = turns.next();
                row.extend(&joined[facet]);
            }
        }
    }
    rank.into_iter().flatten().collect()
}
