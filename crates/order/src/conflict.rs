//! Why there is no layer order: a small set of parts that exclude each other already.
//!
//! Parts are taken out, many at once at first, for as long as those left still conflict; of what is left in the end none
//! can be spared. Only the panels that the rules left over speak of are looked at: one that no rule speaks of can lie on
//! top of all others.

use crate::bits::Bits;
use crate::engine::Engine;
use crate::literal::Literal;
use crate::overlap::Overlaps;
use crate::problem::{Effort, Plan};
use crate::rule::{Claim, Rule, Source};
use crate::search::{Verdict, search};
use crate::system::System;
use std::collections::BTreeSet;

/// Parts of a figure that exclude each other. Without any one of its joints, bonds or orders the rest would fold, and so
/// it would with any one of its directions left open.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Conflict {
    /// The panels that these parts hold, and others that are in the way, ascending.
    pub facets: Vec<usize>,
    /// Joints, ascending.
    pub joints: Vec<usize>,
    /// Those of the joints of which the direction matters, ascending.
    pub directions: Vec<usize>,
    /// Bonds, ascending.
    pub bonds: Vec<usize>,
    /// Indices into [`crate::Figure::given`], ascending.
    pub given: Vec<usize>,
    /// Indices into what [`crate::Problem::allows`] was asked, ascending.
    pub asked: Vec<usize>,
    /// Whether each part is known to be needed; `false` if the effort did not suffice to try them all.
    pub is_least: bool,
}

/// A conflict of more parts than this is worth another try: few are easier to see, and usually lie close together.
const MANY: usize = 6;

/// A conflict among the rules of a figure and those asked for, which together are known to have no order.
pub(crate) fn explain(plan: &Plan, asked: &[Rule], effort: Effort) -> Conflict {
    let mut trial = Trial { plan, left: effort.0, is_sure: true };
    // Mostly the panels that are asked about are all there is to it.
    let of_asked: BTreeSet<usize> = asked.iter().flat_map(|rule| speaks_of(&plan.overlaps, rule)).collect();
    let is_near = |rule: &&Rule| speaks_of(&plan.overlaps, rule).all(|facet| of_asked.contains(&facet));
    let near: Vec<Rule> = plan.rules.iter().filter(is_near).chain(asked).copied().collect();
    let is_enough = near.len() < plan.rules.len() / 2 && trial.conflicts(&near);
    let all = if is_enough { near } else { plan.rules.iter().chain(asked).copied().collect() };
    trial.is_sure = true;
    let (parts, rules) = trial.parts(&all);
    let ways: BTreeSet<Source> = all.iter().map(|rule| rule.sources[1]).collect();
    let ways: Vec<Source> = ways
        .into_iter()
        .filter(|way| matches!(way, Source::Way(joint) if parts.contains(&Source::Joint(*joint))))
        .collect();
    let (kept, rules) = trial.least(ways, rules, |ways, rules| {
        let is_kept = |source: &Source| !matches!(source, Source::Way(_)) || ways.contains(source);
        rules.iter().filter(|rule| rule.sources.iter().all(is_kept)).copied().collect()
    });
    let mut conflict = named(&parts, &kept);
    conflict.facets = trial.facets(rules, &parts, asked);
    conflict.is_least = trial.is_sure;
    conflict
}

/// A direction belongs to its joint.
fn part_of(source: Source) -> Source {
    if let Source::Way(joint) = source { Source::Joint(joint) } else { source }
}

fn named(parts: &[Source], ways: &[Source]) -> Conflict {
    let mut conflict = Conflict::default();
    for &part in parts.iter().chain(ways) {
        match part {
            Source::Joint(joint) => conflict.joints.push(joint),
            Source::Way(joint) => conflict.directions.push(joint),
            Source::Bond(bond) => conflict.bonds.push(bond),
            Source::Given(given) => conflict.given.push(given),
            Source::Asked(asked) => conflict.asked.push(asked),
        }
    }
    conflict
}

/// A rule, with the parts it stems from by their numbers.
#[derive(Clone, Copy)]
struct Stemming {
    rule: Rule,
    parts: [usize; 2],
}

impl AsRef<Rule> for Stemming {
    fn as_ref(&self) -> &Rule {
        &self.rule
    }
}

impl AsRef<Self> for Rule {
    fn as_ref(&self) -> &Self {
        self
    }
}

/// Of orders that are asked for, those on which a contradiction rests that follows without any search; `None` where none
/// does. Each is a statement that is to be true, and they are told by their places.
///
/// Every consequence has its reasons, so those of the contradiction are gone back through to what was asked for.
pub(crate) fn at_fault(system: &System, asked: &[Literal]) -> Option<Vec<usize>> {
    let (mut engine, holds) = Engine::new(system);
    if !holds {
        return Some(Vec::new());
    }
    let mut asker: Vec<Option<usize>> = vec![None; system.classes];
    let mut faults = BTreeSet::new();
    let mut why = Vec::new();
    for (i, &literal) in asked.iter().enumerate() {
        match engine.value(literal) {
            Some(true) => {}
            Some(false) => {
                faults.insert(i);
                why.push(!literal);
                break;
            }
            None => {
                asker[literal.number()] = Some(i);
                engine.require(literal);
            }
        }
    }
    if why.is_empty() {
        if engine.follow() {
            return None;
        }
        why.clone_from(&engine.clash);
    }
    let mut is_seen = vec![false; system.classes];
    while let Some(literal) = why.pop() {
        if !std::mem::replace(&mut is_seen[literal.number()], true) {
            faults.extend(asker[literal.number()]);
            engine.because(literal, &mut why);
        }
    }
    Some(faults.into_iter().collect())
}

/// Sets of rules put to the test.
struct Trial<'a> {
    plan: &'a Plan,
    /// Steps left.
    left: u64,
    /// Whether no test was cut short.
    is_sure: bool,
}

impl Trial<'_> {
    /// The parts that a least conflict among `rules` stems from, ascending, and the rules that stem from nothing else. Which
    /// one is found depends on the order in which parts are taken out; where the first found is large, the opposite order
    /// often finds a smaller one.
    fn parts(&mut self, rules: &[Rule]) -> (Vec<Source>, Vec<Rule>) {
        let all: BTreeSet<Source> = rules.iter().flat_map(|rule| rule.sources).map(part_of).collect();
        let all: Vec<Source> = all.into_iter().collect();
        let number = |source: Source| all.binary_search(&part_of(source)).expect("it is one of all");
        let rules: Vec<Stemming> =
            rules.iter().map(|&rule| Stemming { rule, parts: rule.sources.map(number) }).collect();
        let within = |parts: &[usize], rules: &[Stemming]| -> Vec<Stemming> {
            let mut kept = vec![false; all.len()];
            parts.iter().for_each(|&part| kept[part] = true);
            rules.iter().filter(|rule| rule.parts.iter().all(|&part| kept[part])).copied().collect()
        };
        let mut found = self.least((0..all.len()).collect(), rules.clone(), within);
        if found.0.len() > MANY && self.is_sure {
            let other = self.least((0..all.len()).rev().collect(), rules, within);
            if self.is_sure && other.0.len() < found.0.len() {
                found = other;
            }
            self.is_sure = true;
        }
        let mut parts: Vec<Source> = found.0.into_iter().map(|part| all[part]).collect();
        parts.sort_unstable();
        (parts, found.1.into_iter().map(|stemming| stemming.rule).collect())
    }

    /// A least part of `items` for which there is still no order, given that for all of them there is none, and the rules that
    /// are left then. Of `rules`, those that are left for some items; `within` tells that for fewer.
    fn least<T: Copy, R: AsRef<Rule>>(
        &mut self,
        mut items: Vec<T>,
        mut rules: Vec<R>,
        within: impl Fn(&[T], &[R]) -> Vec<R>,
    ) -> (Vec<T>, Vec<R>) {
        let mut many = items.len();
        while many > 0 {
            let mut at = 0;
            while at < items.len() && self.left > 0 {
                let end = (at + many).min(items.len());
                let rest: Vec<T> = items[..at].iter().chain(&items[end..]).copied().collect();
                let left = within(&rest, &rules);
                if self.conflicts(&left) {
                    (items, rules) = (rest, left);
                } else {
                    at = end;
                }
            }
            many = if many == 1 { 0 } else { many.div_ceil(2) };
        }
        (items, rules)
    }

    /// The panels of some parts, and the fewest others that are needed for `rules` to conflict.
    fn facets(&mut self, rules: Vec<Rule>, parts: &[Source], asked: &[Rule]) -> Vec<usize> {
        let plan = self.plan;
        let mut held: BTreeSet<usize> = parts.iter().flat_map(|&part| holds(plan, part)).collect();
        let by_request = asked.iter().filter(|rule| parts.contains(&rule.sources[0]));
        held.extend(by_request.flat_map(|rule| speaks_of(&plan.overlaps, rule)));
        let others: BTreeSet<usize> = rules.iter().flat_map(|rule| speaks_of(&plan.overlaps, rule)).collect();
        let others: Vec<usize> = others.difference(&held).copied().collect();
        let (needed, _) = self.least(others, rules, |others, rules| {
            let within = |facet: usize| held.contains(&facet) || others.contains(&facet);
            rules.iter().filter(|rule| speaks_of(&plan.overlaps, rule).all(within)).copied().collect()
        });
        held.extend(needed);
        held.into_iter().collect()
    }

    /// Whether some rules are known to have no order.
    fn conflicts<R: AsRef<Rule>>(&mut self, rules: &[R]) -> bool {
        // Laying a system out takes time as well, even if nothing is left to be searched.
        self.left = self.left.saturating_sub(u64::try_from(rules.len()).unwrap_or(u64::MAX));
        if self.left == 0 {
            self.is_sure = false;
            return false;
        }
        let mut facets = Bits::none(self.plan.overlaps.facets);
        let speak = rules.iter().flat_map(|rule| speaks_of(&self.plan.overlaps, rule.as_ref()));
        speak.for_each(|facet| facets.put(facet));
        let (overlaps, number) = self.plan.overlaps.among(&facets);
        let rank: Vec<u32> = facets.iter().map(|facet| self.plan.rank[facet]).collect();
        let renumbered = |literal: Literal| {
            let number =
                number[literal.number()].expect("the panels of all rules are kept, and with them their overlaps");
            Literal::new(number, literal.is_plain())
        };
        let claims = rules.iter().map(|rule| match rule.as_ref().claim {
            Claim::Is(literal) => Claim::Is(renumbered(literal)),
            Claim::Same(pair) => Claim::Same(pair.map(renumbered)),
            Claim::Even(four) => Claim::Even(four.map(renumbered)),
        });
        let Some(system) = System::new(&overlaps, claims, &rank) else { return true };
        let (mut engine, holds) = Engine::new(&system);
        let verdict = if holds { search(&mut engine, self.left) } else { Verdict::Nothing };
        self.left = self.left.saturating_sub(engine.steps);
        self.is_sure &= verdict != Verdict::Undecided;
        verdict == Verdict::Nothing
    }
}

fn speaks_of<'a>(overlaps: &'a Overlaps, rule: &'a Rule) -> impl Iterator<Item = usize> + 'a {
    rule.claim.literals().iter().flat_map(|literal| overlaps.list[literal.number()].facets)
}

/// The panels that a part holds together or orders.
fn holds(plan: &Plan, part: Source) -> Vec<usize> {
    match part {
        Source::Joint(joint) | Source::Way(joint) => plan.figure.joints[joint].facets.to_vec(),
        Source::Bond(bond) => plan.figure.bonds[bond].facets.to_vec(),
        Source::Given(given) => vec![plan.figure.given[given].lower, plan.figure.given[given].upper],
        Source::Asked(_) => Vec::new(),
    }
}
