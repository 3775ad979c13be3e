//! Which facet lies on which: built up step by step, as the paper is handled.
//!
//! A relation is kept as the face of one facet on which the other lies, so it stays true however the two are carried
//! about together, and turns over by itself when they are. It is kept as bits: a pile of hundreds of layers has tens of
//! thousands of pairs, of which a step touches few.

use crate::boxes::meetings;
use crate::layer::{Lie, Side, part_way};
use crate::overlap::{Clip, middle};
use crate::step::Motion;
use glam::{DAffine3, DVec3};
use order::ones;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// How much of a step shows the side to which it starts, or from which it ends. Small against any fold, so that no
/// panel gets past another in it; large against rounding.
const GLIMPSE: f64 = 1e-3;

/// For each ordered pair of facets, the face of the first on which the second lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Relations {
    count: usize,
    /// For each facet a row of words: those that lie on its front, and those on its back, sixty-four of each to a word.
    rows: Vec<Word>,
}

/// Sixty-four facets: which of them lie on the front of one, and which on its back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Word {
    pub(crate) front: u64,
    pub(crate) back: u64,
}

impl Word {
    /// Those that lie on either face.
    pub(crate) const fn either(self) -> u64 {
        self.front | self.back
    }

    /// Those that lie on one face.
    pub(crate) const fn on(self, side: Side) -> u64 {
        match side {
            Side::Front => self.front,
            Side::Back => self.back,
        }
    }

    fn side(self, bit: usize) -> Option<Side> {
        if self.front >> bit & 1 == 1 {
            Some(Side::Front)
        } else if self.back >> bit & 1 == 1 {
            Some(Side::Back)
        } else {
            None
        }
    }
}

impl Relations {
    /// Nothing lies on anything.
    pub(crate) fn none(facets: usize) -> Self {
        Self { count: facets, rows: vec![Word::default(); facets * words(facets)] }
    }

    /// How many facets there are.
    pub(crate) const fn count(&self) -> usize {
        self.count
    }

    /// What lies on facet `a`, sixty-four facets to a word.
    pub(crate) fn row(&self, a: usize) -> &[Word] {
        let words = words(self.count);
        &self.rows[a * words..(a + 1) * words]
    }

    /// The face of `a` on which `b` lies.
    pub(crate) fn side(&self, a: usize, b: usize) -> Option<Side> {
        self.rows[a * words(self.count) + b / 64].side(b % 64)
    }

    /// Whether `b` lies above `a` along `normal`; `None` when neither lies on the other.
    pub(crate) fn above(&self, lie: &Lie, a: usize, b: usize, normal: DVec3) -> Option<bool> {
        self.side(a, b).map(|side| (side == Side::Front) == (lie.normal(a).dot(normal) > 0.0))
    }

    /// Takes over what lies on what among facets that are numbered from `first` on here.
    pub(crate) fn insert(&mut self, others: &Self, first: usize) {
        for a in 0..others.count {
            let row = others.row(a).iter().enumerate();
            let on = row.flat_map(|(at, word)| ones(word.either()).map(move |bit| (at * 64 + bit, word.side(bit))));
            on.for_each(|(b, side)| self.note(first + a, first + b, side));
        }
    }

    /// The pairs of facets that lie on one another, the lesser first.
    pub(crate) fn pairs(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        (0..self.count).flat_map(move |a| self.after(a).map(move |(b, _)| (a, b)))
    }

    /// The facets after `a` that lie on it, each with the face of `a` on which it does.
    pub(crate) fn after(&self, a: usize) -> impl Iterator<Item = (usize, Side)> + '_ {
        let beyond = move |at: usize| if at == a / 64 { !(u64::MAX >> (63 - a % 64)) } else { u64::MAX };
        self.row(a).iter().enumerate().skip(a / 64).flat_map(move |(at, &word)| {
            ones(word.either() & beyond(at)).filter_map(move |bit| Some((at * 64 + bit, word.side(bit)?)))
        })
    }

    /// The facets that lie on a face of `a`, ascending.
    pub(crate) fn on(&self, a: usize, side: Side) -> impl Iterator<Item = usize> + '_ {
        let words = self.row(a).iter().enumerate();
        words.flat_map(move |(at, word)| ones(word.on(side)).map(move |bit| at * 64 + bit))
    }

    /// The facets that lie on a face of one and on a face of another, ascending.
    pub(crate) fn on_both(
        &self,
        (a, face): (usize, Side),
        (b, other): (usize, Side),
    ) -> impl Iterator<Item = usize> + '_ {
        let words = self.row(a).iter().zip(self.row(b)).enumerate();
        words.flat_map(move |(at, (a, b))| ones(a.on(face) & b.on(other)).map(move |bit| at * 64 + bit))
    }

    /// The pairs of panels of which the first cannot move as it should for the second, that lies on it or under it.
    pub(crate) fn blocked(&self, start: &Lie, motion: &Motion) -> BTreeSet<(usize, usize)> {
        let then = part_way(&start.frames, motion, GLIMPSE);
        let mut out = BTreeSet::new();
        let mut clip = Clip::default();
        for (a, b) in self.between_groups(start, motion) {
            let Some(covered) = start.covered_by(&mut clip, a, b) else { continue };
            let side = start.side_of(a, b, middle(covered), &then);
            if side.is_some() && side != self.side(a, b) {
                let (p, q) = (start.facets[a].panel, start.facets[b].panel);
                let second_moves = motion.chain(q).len() >= motion.chain(p).len();
                out.insert(if second_moves { (q, p) } else { (p, q) });
            }
        }
        out
    }

    /// Carries the relations through a step: those within a group stay; between groups, what comes to lie on something
    /// lies on the side from which it came. Gives the pairs of facets between groups that now lie on one another.
    pub(crate) fn land(&mut self, end: &Lie, start: &[DAffine3], motion: &Motion) -> Vec<(usize, usize)> {
        let then = part_way(start, motion, 1.0 - GLIMPSE);
        for (a, b) in self.between_groups(end, motion) {
            self.set(end, a, b, None);
        }
        let (mut pairs, mut clip) = (Vec::new(), Clip::default());
        let group = |facet: usize| motion.group[end.facets[facet].panel];
        meetings(&end.boxes, group, |a, b| {
            if let Some(covered) = end.covered_by(&mut clip, a, b) {
                // Moving within one plane shows no side; then the later panel is taken to lie on the front.
                let side = end.side_of(a, b, middle(covered), &then).unwrap_or(Side::Front);
                pairs.push((a, b));
                self.set(end, a, b, Some(side));
            }
        });
        pairs
    }

    /// The pairs of facets of different groups that lie on one another, the lesser first.
    fn between_groups(&self, lie: &Lie, motion: &Motion) -> Vec<(usize, usize)> {
        let group = |facet: usize| motion.group[lie.facets[facet].panel];
        let words = words(self.count);
        // Those that are not of a facet's group, for each group.
        let mut others = vec![u64::MAX; motion.chains.len() * words];
        let mut members = vec![0_usize; motion.chains.len()];
        for facet in 0..self.count {
            others[group(facet) * words + facet / 64] &= !(1 << (facet % 64));
            members[group(facet)] += 1;
        }
        // A pair is seen from both sides: that of the largest group is left out where there is one.
        let largest = (0..members.len()).max_by_key(|&group| members[group]);
        let mut out = Vec::new();
        for a in (0..self.count).filter(|&a| Some(group(a)) != largest) {
            let mask = &others[group(a) * words..(group(a) + 1) * words];
            for (at, (word, mask)) in self.row(a).iter().zip(mask).enumerate() {
                let met = ones(word.either() & mask).map(|bit| at * 64 + bit);
                out.extend(met.filter(|&b| a < b || Some(group(b)) == largest).map(|b| (a.min(b), a.max(b))));
            }
        }
        out
    }

    /// Notes on which face of `a` facet `b` lies, and the other way round.
    pub(crate) fn set(&mut self, lie: &Lie, a: usize, b: usize, side: Option<Side>) {
        let alike = lie.normal(a).dot(lie.normal(b)) > 0.0;
        let other = side.map(|side| if alike { side.other() } else { side });
        self.note(a, b, side);
        self.note(b, a, other);
    }

    /// Notes on which face of `a` facet `b` lies, and nothing about the other way round.
    pub(crate) fn note(&mut self, a: usize, b: usize, side: Option<Side>) {
        let word = &mut self.rows[a * words(self.count) + b / 64];
        let bit = 1 << (b % 64);
        word.front &= !bit;
        word.back &= !bit;
        match side {
            Some(Side::Front) => word.front |= bit,
            Some(Side::Back) => word.back |= bit,
            None => {}
        }
    }
}

/// How many words a row of so many facets has.
const fn words(facets: usize) -> usize {
    facets.div_ceil(64)
}

impl Ord for Relations {
    /// Facet by facet: nothing before front before back.
    fn cmp(&self, other: &Self) -> Ordering {
        let by_count = self.count.cmp(&other.count);
        let differing = self.rows.iter().zip(&other.rows).find(|(mine, theirs)| mine != theirs);
        by_count.then_with(|| {
            differing.map_or(Ordering::Equal, |(mine, theirs)| {
                let bits = (mine.front ^ theirs.front) | (mine.back ^ theirs.back);
                let bit = bits.trailing_zeros() as usize;
                mine.side(bit).cmp(&theirs.side(bit))
            })
        })
    }
}

impl PartialOrd for Relations {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
