//! The order of jobs: what can be done next, what may be moved where, and where reasons contradict one another.

use crate::graph::{Arrow, Untangled, chain, order, untangle};
use crate::jobs::jobs;
use crate::reason::reasons;
use crate::why::Constraint;
use model::part::Job;
use model::{Document, Layout};
use std::collections::{BTreeMap, BTreeSet};

/// The jobs of a design in an order, and why one must come before another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Making {
    /// All jobs, each once, in an order that obeys every constraint: the maker's where it does, else as near to it as can
    /// be. What she does not name comes as it would by itself: scoring, cutting, folding, putting in place as the document
    /// has the parts, closing, sliding on.
    pub jobs: Vec<Job>,
    /// What must come before what. It has no circles.
    pub constraints: Vec<Constraint>,
    /// Where reasons contradict one another. One of each is not among the constraints.
    pub circles: Vec<Circle>,
}

/// Reasons that contradict one another: each job must come before the next, and the last before the first. So the parts
/// can't be put where the design has them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Circle {
    /// The reasons, head to tail. The last is the one that the order does not obey.
    pub reasons: Vec<Constraint>,
}

/// Why a job can't be moved to where it should.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blocked {
    /// The job in whose way it is.
    pub by: Job,
    /// What would not be obeyed; its sentence says why.
    pub why: Constraint,
}

impl Making {
    /// The jobs of a design and their order. `layout` is that of `document`.
    #[must_use]
    pub fn of(document: &Document, layout: &Layout) -> Self {
        let jobs = jobs(document, layout);
        let all = reasons(document, layout, &jobs);
        let number: BTreeMap<Job, usize> = jobs.iter().enumerate().map(|(i, &job)| (job, i)).collect();
        let pair = |it: &Constraint| (number[&it.first], number[&it.then]);
        let arrow = |it: &Constraint| {
            let (first, then) = pair(it);
            Arrow { first, then, is_firm: it.why.always_holds() }
        };
        let arrows: Vec<Arrow> = all.iter().map(arrow).collect();
        let Untangled { kept, circles } = untangle(jobs.len(), &arrows);
        let circle = |circle: &Vec<usize>| Circle { reasons: circle.iter().map(|&i| all[i]).collect() };
        let circles = circles.iter().map(circle).collect();
        let constraints: Vec<Constraint> =
            all.iter().zip(&kept).filter(|(_, kept)| **kept).map(|(it, _)| *it).collect();
        let pairs: Vec<(usize, usize)> = constraints.iter().map(pair).collect();
        let wanted = wanted(&document.making, &number);
        let chain = chain(jobs.len(), &pairs, &wanted);
        let rank = ranks(jobs.len(), &wanted);
        let order = order(jobs.len(), pairs.into_iter().chain(chain), &rank);
        Self { jobs: order.into_iter().map(|i| jobs[i]).collect(), constraints, circles }
    }

    /// The jobs that can be done when some are done, in the order of the jobs. There is always one until all are done.
    #[must_use]
    pub fn next(&self, done: &[Job]) -> Vec<Job> {
        let done: BTreeSet<Job> = done.iter().copied().collect();
        let waiting: BTreeSet<Job> =
            self.constraints.iter().filter(|it| !done.contains(&it.first)).map(|it| it.then).collect();
        self.jobs.iter().copied().filter(|job| !done.contains(job) && !waiting.contains(job)).collect()
    }

    /// The order with a job moved, so that it is the one at `to` (counted from 0; the last where there are fewer). The same
    /// order for a job that is not among them.
    ///
    /// # Errors
    /// Says which job is in its way and why: the nearest of those that are.
    pub fn may_move(&self, job: Job, to: usize) -> Result<Vec<Job>, Blocked> {
        let mut jobs = self.jobs.clone();
        let Some(from) = jobs.iter().position(|&at| at == job) else { return Ok(jobs) };
        let to = to.min(jobs.len() - 1);
        jobs.remove(from);
        jobs.insert(to, job);
        let between: Vec<Job> =
            if to < from { self.jobs[to..from].iter().rev().copied().collect() } else { self.jobs[from..=to].to_vec() };
        let broken = |by: Job| {
            let is_broken = |it: &&Constraint| {
                if to < from { (it.first, it.then) == (by, job) } else { (it.first, it.then) == (job, by) }
            };
            self.constraints.iter().find(is_broken).map(|&why| Blocked { by, why })
        };
        match between.into_iter().find_map(broken) {
            Some(blocked) => Err(blocked),
            None => Ok(jobs),
        }
    }

    /// The first constraint that an order does not obey; `None` when it obeys all. Jobs that are not in it don't count.
    #[must_use]
    pub fn broken(&self, order: &[Job]) -> Option<Constraint> {
        let at: BTreeMap<Job, usize> = order.iter().enumerate().map(|(i, &job)| (job, i)).collect();
        let place = |job: &Job| at.get(job).copied();
        let is_broken =
            |it: &Constraint| place(&it.first).zip(place(&it.then)).is_some_and(|(first, then)| first > then);
        self.constraints.iter().copied().find(is_broken)
    }
}

impl Circle {
    /// What is wrong, without a full stop: each reason, one against the other.
    #[must_use]
    pub fn what(&self, document: &Document) -> String {
        let reasons = self.reasons.iter().map(|it| it.sentence(document).trim_end_matches('.').to_owned());
        reasons.collect::<Vec<_>>().join("; but ")
    }

    /// How to mend it, in small letters and without a full stop.
    #[must_use]
    pub const fn mend(&self) -> &'static str {
        "put one of them elsewhere, or on the other"
    }

    /// What is wrong and how to mend it, in one sentence.
    #[must_use]
    pub fn sentence(&self, document: &Document) -> String {
        format!("{}; {}.", self.what(document), self.mend())
    }
}

/// The numbers of the jobs that the maker names, each once.
fn wanted(making: &[Job], number: &BTreeMap<Job, usize>) -> Vec<usize> {
    let mut seen = BTreeSet::new();
    making.iter().filter_map(|job| number.get(job).copied()).filter(|&i| seen.insert(i)).collect()
}

/// How early each job should come: as wanted, and what is not named after what comes before it by itself.
fn ranks(count: usize, wanted: &[usize]) -> Vec<usize> {
    let named: BTreeSet<usize> = wanted.iter().copied().collect();
    let mut after: BTreeMap<Option<usize>, Vec<usize>> = BTreeMap::new();
    let mut last = None;
    for i in 0..count {
        if named.contains(&i) {
            last = Some(i);
        } else {
            after.entry(last).or_default().push(i);
        }
    }
    let follow = |at: Option<usize>| at.into_iter().chain(after.get(&at).into_iter().flatten().copied());
    let order = std::iter::once(None).chain(wanted.iter().copied().map(Some)).flat_map(follow);
    let mut rank = vec![0; count];
    for (place, i) in order.enumerate() {
        rank[i] = place;
    }
    rank
}
