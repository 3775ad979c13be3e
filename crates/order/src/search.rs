//! One order, or the certainty that there is none: a search that learns from every clash (conflict-driven clause
//! learning, Marques-Silva and Sakallah 1999), with restarts after Luby, Sinclair and Zuckerman 1993.
//!
//! What is decided next is what was last part of a clash; before any clash, panel after panel. No floating point and no
//! hashing is involved, so every machine finds the same order.

use crate::engine::Engine;
use crate::literal::Literal;
use crate::parity::TRUTH;

/// What a search came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// All classes are settled.
    Found,
    /// They can't be.
    Nothing,
    /// Out of steps.
    Undecided,
}

/// Clashes between restarts, times the terms 1, 1, 2, 1, 1, 2, 4, … of the sequence.
const RESTART: u64 = 64;

/// Settles all classes of an engine that has drawn its consequences without a clash. Levels it has on entry are
/// given up.
pub(crate) fn search(engine: &mut Engine, effort: u64) -> Verdict {
    engine.back_to(0);
    let mut queue = Queue::new(engine);
    let limit = engine.steps.saturating_add(effort);
    let (mut clashes, mut round) = (0, 1);
    loop {
        if engine.follow() {
            if clashes >= RESTART * luby(round) {
                (clashes, round) = (0, round + 1);
                queue.restart();
                engine.back_to(0);
                continue;
            }
            let Some(class) = queue.next(engine) else { return Verdict::Found };
            if engine.steps >= limit {
                return Verdict::Undecided;
            }
            engine.try_out(Literal::new(class, queue.last[class]));
        } else {
            clashes += 1;
            if engine.depth() == 0 {
                return Verdict::Nothing;
            }
            if engine.steps >= limit {
                return Verdict::Undecided;
            }
            if !queue.learn(engine) {
                return Verdict::Nothing;
            }
        }
    }
}

/// Term `at` (from 1) of the sequence 1, 1, 2, 1, 1, 2, 4, 1, …
fn luby(at: u64) -> u64 {
    let bits = u64::BITS - at.leading_zeros();
    if at == (1 << bits) - 1 { 1 << (bits - 1) } else { luby(at + 1 - (1 << (bits - 1))) }
}

/// Classes in a row, the next to be decided last.
struct Queue {
    /// For each class the one before it in the row and the one after; [`TRUTH`] closes the row to a ring.
    before: Vec<usize>,
    after: Vec<usize>,
    /// When each class was moved to the end. Grows along the row.
    stamp: Vec<u64>,
    clock: u64,
    /// All classes after this one are settled.
    from: usize,
    /// What each class last was, and is tried as again. At first, that later panels are above earlier ones.
    last: Vec<bool>,
    seen: Vec<bool>,
    reasons: Vec<Literal>,
}

impl Queue {
    fn new(engine: &Engine) -> Self {
        let count = engine.system.classes;
        let mut queue = Self {
            before: (0..count).collect(),
            after: (0..count).collect(),
            stamp: vec![0; count],
            clock: 0,
            from: TRUTH,
            last: first_guesses(engine),
            seen: vec![false; count],
            reasons: Vec::new(),
        };
        for &class in engine.system.order.iter().rev() {
            queue.append(class);
        }
        queue.restart();
        queue
    }

    fn restart(&mut self) {
        self.from = self.before[TRUTH];
    }

    fn next(&mut self, engine: &Engine) -> Option<usize> {
        while self.from != TRUTH && engine.value(Literal::new(self.from, true)).is_some() {
            self.from = self.before[self.from];
        }
        (self.from != TRUTH).then_some(self.from)
    }

    fn append(&mut self, class: usize) {
        let end = self.before[TRUTH];
        (self.after[end], self.before[class]) = (class, end);
        (self.after[class], self.before[TRUTH]) = (TRUTH, class);
        self.clock += 1;
        self.stamp[class] = self.clock;
    }

    fn put_last(&mut self, class: usize) {
        if self.from == class {
            self.from = self.before[class];
        }
        (self.after[self.before[class]], self.before[self.after[class]]) = (self.after[class], self.before[class]);
        self.append(class);
    }

    /// Learns from a clash: a clause that settles its first literal on an earlier level, and goes back there. `false`
    /// if the clash holds whatever is tried.
    fn learn(&mut self, engine: &mut Engine) -> bool {
        // A clash need not involve the level at hand: go back to the highest that it does.
        let highest = engine.clash.iter().map(|literal| engine.level(literal.number())).max().unwrap_or_default();
        if highest == 0 {
            return false;
        }
        self.back_to(engine, highest);
        let (mut clause, mut touched) = self.first_cut(engine, highest);
        if let Some(second) = (1..clause.len()).max_by_key(|&at| (engine.level(clause[at].number()), at)) {
            clause.swap(1, second);
        }
        let depth = clause.get(1).map_or(0, |literal| engine.level(literal.number()));
        self.back_to(engine, depth);
        touched.sort_unstable_by_key(|&class| self.stamp[class]);
        for class in touched {
            self.put_last(class);
        }
        self.restart();
        engine.learn(clause);
        true
    }

    /// Resolves a clash until one literal of its level is left (the first unique implication point); the clause, that
    /// literal's opposite first, and the classes that took part.
    fn first_cut(&mut self, engine: &Engine, highest: usize) -> (Vec<Literal>, Vec<usize>) {
        let mut clause = vec![Literal::new(TRUTH, true)];
        let mut touched: Vec<usize> = Vec::new();
        let mut reasons = std::mem::take(&mut self.reasons);
        reasons.clone_from(&engine.clash);
        let mut open = 0;
        for &literal in engine.trail().iter().rev() {
            for reason in reasons.drain(..) {
                let level = engine.level(reason.number());
                if level > 0 && !std::mem::replace(&mut self.seen[reason.number()], true) {
                    touched.push(reason.number());
                    if level == highest {
                        open += 1;
                    } else {
                        clause.push(!reason);
                    }
                }
            }
            if open == 0 {
                break;
            }
            if self.seen[literal.number()] && engine.level(literal.number()) == highest {
                open -= 1;
                if open == 0 {
                    clause[0] = !literal;
                    break;
                }
                engine.because(literal, &mut reasons);
            }
        }
        touched.iter().for_each(|&class| self.seen[class] = false);
        self.reasons = reasons;
        (clause, touched)
    }

    fn back_to(&mut self, engine: &mut Engine, depth: usize) {
        for literal in engine.trail().iter().filter(|literal| engine.level(literal.number()) > depth) {
            self.last[literal.number()] = literal.is_plain();
        }
        engine.back_to(depth);
    }
}

/// That later panels are above earlier ones: an order without rings to begin with.
fn first_guesses(engine: &Engine) -> Vec<bool> {
    let mut guesses = vec![false; engine.system.classes];
    for class in engine.system.class_of.iter().rev() {
        guesses[class.number()] = !class.is_plain();
    }
    guesses
}

#[cfg(test)]
mod tests {
    use super::luby;

    #[test]
    fn restarts_follow_their_sequence() {
        // OEIS A182105, from memory.
        let terms: Vec<u64> = (1..=15).map(luby).collect();
        assert_eq!(terms, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}
