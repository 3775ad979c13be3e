//! Consequences: what else must be true once some classes are settled, and how to take it back.
//!
//! Panels over one spot are kept as rows of bits, those known to be above each panel and those known to be below, so
//! that a whole row of consequences of "a above b" is found in a few word operations instead of one rule for each trio.

use crate::literal::Literal;
use crate::parity::TRUTH;
use crate::system::System;

/// Why a class is settled: what was true before and makes it so.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Reason {
    /// It was tried, or is true from the start.
    None,
    /// The third of a ring of which these two are true.
    Ring([Literal; 2]),
    /// The last of an equation.
    Even(u32),
    /// The last of a learnt clause.
    Clause(u32),
}

/// Some classes settled, with all that follows.
#[derive(Debug, Clone)]
pub(crate) struct Engine<'a> {
    pub system: &'a System,
    /// For each class whether it is true, where settled.
    value: Vec<Option<bool>>,
    reason: Vec<Reason>,
    level: Vec<u32>,
    /// What is settled, in the order in which it was.
    trail: Vec<Literal>,
    /// Up to here in the trail consequences have been drawn.
    done: usize,
    /// Where in the trail each level above the ground begins.
    levels: Vec<usize>,
    /// For each panel a row of those above it, and of those below.
    over: Vec<u64>,
    under: Vec<u64>,
    words: usize,
    /// Learnt clauses: one of these is true. The first two are watched.
    clauses: Vec<Vec<Literal>>,
    /// For each literal the clauses that watch it.
    watching: Vec<Vec<u32>>,
    /// Statements that are all true and can't be.
    pub clash: Vec<Literal>,
    /// How many steps have been taken.
    pub steps: u64,
}

impl<'a> Engine<'a> {
    /// Truth, and all that follows; `false` beside it if that is a contradiction.
    pub(crate) fn new(system: &'a System) -> (Self, bool) {
        let words = system.facets.div_ceil(64);
        let mut engine = Self {
            system,
            value: vec![None; system.classes],
            reason: vec![Reason::None; system.classes],
            level: vec![0; system.classes],
            trail: Vec::with_capacity(system.classes),
            done: 0,
            levels: Vec::new(),
            over: vec![0; system.facets * words],
            under: vec![0; system.facets * words],
            words,
            clauses: Vec::new(),
            watching: vec![Vec::new(); 2 * system.classes],
            clash: Vec::new(),
            steps: 0,
        };
        engine.settle(Literal::new(TRUTH, true), Reason::None);
        let holds = engine.follow();
        (engine, holds)
    }

    /// Whether a literal is true, where settled.
    pub(crate) fn value(&self, literal: Literal) -> Option<bool> {
        self.value[literal.number()].map(|is_true| is_true == literal.is_plain())
    }

    /// Whether a statement about overlaps is true, where settled.
    pub(crate) fn statement(&self, statement: usize) -> Option<bool> {
        self.value(self.system.class_of[statement])
    }

    /// How many levels are above the ground.
    pub(crate) const fn depth(&self) -> usize {
        self.levels.len()
    }

    /// What is settled, in the order in which it was.
    pub(crate) fn trail(&self) -> &[Literal] {
        &self.trail
    }

    /// The level a class was settled on.
    pub(crate) fn level(&self, class: usize) -> usize {
        self.level[class] as usize
    }

    /// Begins a level with a literal that is not settled. Draws no consequences yet.
    pub(crate) fn try_out(&mut self, literal: Literal) {
        self.levels.push(self.trail.len());
        self.settle(literal, Reason::None);
    }

    /// Settles a literal on the level at hand, if it isn't; `false` if it is false.
    pub(crate) fn require(&mut self, literal: Literal) -> bool {
        match self.value(literal) {
            Some(is_true) => is_true,
            None => {
                self.settle(literal, Reason::None);
                true
            }
        }
    }

    /// Takes back all levels above `depth`.
    pub(crate) fn back_to(&mut self, depth: usize) {
        let Some(&length) = self.levels.get(depth) else { return };
        while self.trail.len() > length {
            let literal = self.trail.pop().expect("it is longer than `length`");
            self.value[literal.number()] = None;
            self.mark(literal, false);
        }
        self.levels.truncate(depth);
        self.done = length;
    }

    /// Draws all consequences; `false` if they clash, and `clash` says what does.
    pub(crate) fn follow(&mut self) -> bool {
        while let Some(&literal) = self.trail.get(self.done) {
            self.done += 1;
            self.steps += 1;
            let holds = self.follow_piles(literal)
                && self.follow_rings(literal)
                && self.follow_even(literal.number())
                && self.follow_clauses(literal);
            if !holds {
                self.done = self.trail.len();
                return false;
            }
        }
        true
    }

    /// What makes a settled class so: true literals, none for one that was tried.
    pub(crate) fn because(&self, literal: Literal, out: &mut Vec<Literal>) {
        match self.reason[literal.number()] {
            Reason::None => {}
            Reason::Ring(pair) => out.extend(pair),
            Reason::Even(sum) => self.settled_in(sum, Some(literal.number()), out),
            Reason::Clause(clause) => {
                let others = self.clauses[clause as usize].iter().filter(|other| other.number() != literal.number());
                out.extend(others.map(|&other| !other));
            }
        }
    }

    /// Keeps a learnt clause of which the first literal is not settled and all others are false, the second on the
    /// highest level, and settles the first.
    pub(crate) fn learn(&mut self, clause: Vec<Literal>) {
        let Some(&first) = clause.first() else { return };
        if clause.len() == 1 {
            self.settle(first, Reason::None);
            return;
        }
        let number = u32::try_from(self.clauses.len()).expect("fewer clauses than steps");
        self.watching[clause[0].code()].push(number);
        self.watching[clause[1].code()].push(number);
        self.clauses.push(clause);
        self.settle(first, Reason::Clause(number));
    }

    fn settle(&mut self, literal: Literal, reason: Reason) {
        let class = literal.number();
        self.value[class] = Some(literal.is_plain());
        self.reason[class] = reason;
        self.level[class] = u32::try_from(self.levels.len()).expect("no more levels than classes");
        self.trail.push(literal);
        self.mark(literal, true);
    }

    /// Writes the pairs of a class into the rows of what is above and below, or strikes them out.
    fn mark(&mut self, literal: Literal, is_set: bool) {
        for pair in self.system.pairs.of(literal.number()) {
            let (upper, lower) = (pair.upper as usize, pair.lower as usize);
            let (upper, lower) = if literal.is_plain() { (upper, lower) } else { (lower, upper) };
            let (over, in_over) = (lower * self.words + upper / 64, 1 << (upper % 64));
            let (under, in_under) = (upper * self.words + lower / 64, 1 << (lower % 64));
            if is_set {
                self.over[over] |= in_over;
                self.under[under] |= in_under;
            } else {
                self.over[over] &= !in_over;
                self.under[under] &= !in_under;
            }
        }
    }

    fn follow_piles(&mut self, literal: Literal) -> bool {
        let system = self.system;
        for pair in system.pairs.of(literal.number()) {
            let (a, b) = (pair.upper as usize, pair.lower as usize);
            let (a, b) = if literal.is_plain() { (a, b) } else { (b, a) };
            let set = system.sets[pair.set as usize].words();
            for (word, &among) in set.iter().enumerate() {
                let (row_a, row_b) = (a * self.words + word, b * self.words + word);
                // What is below b is below a; what is above a is above b.
                for c in crate::bits::ones(self.under[row_b] & among & !self.under[row_a]).map(|bit| word * 64 + bit) {
                    if !self.imply(system.above(a, c), Reason::Ring([literal, system.above(b, c)])) {
                        return false;
                    }
                }
                for c in crate::bits::ones(self.over[row_a] & among & !self.over[row_b]).map(|bit| word * 64 + bit) {
                    if !self.imply(system.above(c, b), Reason::Ring([literal, system.above(c, a)])) {
                        return false;
                    }
                }
            }
        }
        true
    }

    fn follow_rings(&mut self, literal: Literal) -> bool {
        let system = self.system;
        system.ring_of.of(literal.code()).iter().all(|&[x, y]| match (self.value(x), self.value(y)) {
            (Some(true), _) => self.imply(!y, Reason::Ring([literal, x])),
            (_, Some(true)) => self.imply(!x, Reason::Ring([literal, y])),
            _ => true,
        })
    }

    fn follow_even(&mut self, class: usize) -> bool {
        let system = self.system;
        for &number in system.even_of.of(class) {
            let sum = &system.even[number as usize];
            let (mut is_odd, mut open) = (false, None);
            let mut opens = 0;
            for &class in sum.classes() {
                match self.value[class] {
                    Some(is_true) => is_odd ^= is_true,
                    None => {
                        open = Some(class);
                        opens += 1;
                    }
                }
            }
            match open {
                Some(class) if opens == 1 => {
                    self.settle(Literal::new(class, is_odd != sum.is_odd), Reason::Even(number));
                }
                None if is_odd != sum.is_odd => {
                    let mut clash = std::mem::take(&mut self.clash);
                    clash.clear();
                    self.settled_in(number, None, &mut clash);
                    self.clash = clash;
                    return false;
                }
                _ => {}
            }
        }
        true
    }

    fn follow_clauses(&mut self, literal: Literal) -> bool {
        let gone = !literal;
        let mut watching = std::mem::take(&mut self.watching[gone.code()]);
        let mut kept = 0;
        let mut holds = true;
        for at in 0..watching.len() {
            let number = watching[at];
            if holds {
                self.steps += 1;
                match self.watch_on(number, gone) {
                    Watch::Moved => continue,
                    Watch::Stays => {}
                    Watch::Last(last) => self.settle(last, Reason::Clause(number)),
                    Watch::Clash => {
                        self.clash = self.clauses[number as usize].iter().map(|&literal| !literal).collect();
                        holds = false;
                    }
                }
            }
            watching[kept] = number;
            kept += 1;
        }
        watching.truncate(kept);
        self.watching[gone.code()] = watching;
        holds
    }

    /// Looks for another literal for a clause to watch, since `gone` is false.
    fn watch_on(&mut self, number: u32, gone: Literal) -> Watch {
        let mut clause = std::mem::take(&mut self.clauses[number as usize]);
        if clause[0] == gone {
            clause.swap(0, 1);
        }
        let watch = if self.value(clause[0]) == Some(true) {
            Watch::Stays
        } else if let Some(at) = (2..clause.len()).find(|&at| self.value(clause[at]) != Some(false)) {
            clause.swap(1, at);
            self.watching[clause[1].code()].push(number);
            Watch::Moved
        } else if self.value(clause[0]).is_none() {
            Watch::Last(clause[0])
        } else {
            Watch::Clash
        };
        self.clauses[number as usize] = clause;
        watch
    }

    /// Settles a literal for a reason that is a ring.
    fn imply(&mut self, literal: Literal, reason: Reason) -> bool {
        match (self.value(literal), reason) {
            (Some(true), _) => true,
            (Some(false), Reason::Ring([x, y])) => {
                self.clash.clear();
                self.clash.extend([x, y, !literal]);
                false
            }
            _ => {
                self.settle(literal, reason);
                true
            }
        }
    }

    /// The settled literals of an equation but for one class.
    fn settled_in(&self, number: u32, but: Option<usize>, out: &mut Vec<Literal>) {
        let classes = self.system.even[number as usize].classes().iter().filter(|&&class| Some(class) != but);
        out.extend(classes.filter_map(|&class| Some(Literal::new(class, self.value[class]?))));
    }
}

/// What became of a clause when one of the literals it watches turned false.
enum Watch {
    Moved,
    Stays,
    Last(Literal),
    Clash,
}
