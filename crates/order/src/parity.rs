//! Sums modulo two: most rules are equations over statements, and those are solved before anything is tried.
//!
//! Statements that are equal, or opposite, in every order become one class; what is settled joins the class of truth.
//! Equations of four statements are rewritten over classes, and if they are few, solved by elimination, which finds
//! every statement and every pair of them that the equations settle.

use crate::literal::Literal;
use crate::rule::Claim;

/// The class of what is true.
pub(crate) const TRUTH: usize = 0;

/// Statements in classes, and the equations left over.
#[derive(Debug, Clone, Default)]
pub(crate) struct Parity {
    /// For each statement its class, or the opposite of it. Classes are numbered by their first statements, but for
    /// [`TRUTH`].
    pub class_of: Vec<Literal>,
    /// How many classes there are, [`TRUTH`] among them.
    pub classes: usize,
    /// Three or four classes each of which an even number is true, all different.
    pub even: Vec<Even>,
}

/// Of up to four classes an even number is true, if `is_odd` an odd number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Even {
    /// The classes first, then zeros.
    list: [usize; 4],
    count: usize,
    pub is_odd: bool,
}

impl Even {
    /// The classes.
    pub(crate) fn classes(&self) -> &[usize] {
        &self.list[..self.count]
    }

    fn new(classes: [usize; 4], is_odd: bool) -> Self {
        Self { list: classes, count: 4, is_odd }
    }

    fn push(&mut self, class: usize) {
        self.list[self.count] = class;
        self.count += 1;
    }

    /// Takes the class at a place out; the last takes its place.
    fn take(&mut self, at: usize) {
        self.count -= 1;
        self.list[at] = std::mem::take(&mut self.list[self.count]);
    }
}

/// Elimination is skipped when it may take more word operations than this (about a millisecond).
const MOST_ELIMINATION: usize = 2_000_000;

impl Parity {
    /// Solves what is claimed of statements `0..count`; `None` if it contradicts itself.
    pub(crate) fn new(count: usize, claims: impl Iterator<Item = Claim>) -> Option<Self> {
        let mut union = Union::new(count + 1);
        let mut even: Vec<Even> = Vec::new();
        for claim in claims {
            match claim {
                Claim::Is(x) => union.join(node(x), Literal::new(TRUTH, true))?,
                Claim::Same([x, y]) => union.join(node(x), node(y))?,
                Claim::Even(four) => {
                    let is_odd = four.iter().filter(|literal| !literal.is_plain()).count() % 2 == 1;
                    even.push(Even::new(four.map(|literal| literal.number() + 1), is_odd));
                }
            }
        }
        loop {
            settle(&mut union, &mut even)?;
            if !eliminate(&mut union, &even)? {
                break;
            }
        }
        Some(Self::numbered(count, &mut union, even))
    }

    fn numbered(count: usize, union: &mut Union, mut even: Vec<Even>) -> Self {
        let mut number: Vec<Option<usize>> = vec![None; count + 1];
        number[TRUTH] = Some(TRUTH);
        let mut classes = 1;
        let mut class_of = Vec::with_capacity(count);
        for statement in 1..=count {
            let (at, is_opposite) = union.top(statement);
            let class = *number[at].get_or_insert_with(|| {
                classes += 1;
                classes - 1
            });
            class_of.push(Literal::new(class, !is_opposite));
        }
        for sum in &mut even {
            // Equations are over tops, and a class's plain literal is its top: no signs to move.
            for class in &mut sum.list[..sum.count] {
                *class = number[*class].expect("every statement's top has been numbered");
            }
            sum.list[..sum.count].sort_unstable();
        }
        even.sort_unstable();
        even.dedup();
        Self { class_of, classes, even }
    }
}

/// Statement v is node v + 1; truth is node 0, which stays the top of its class since it is the least.
fn node(literal: Literal) -> Literal {
    Literal::new(literal.number() + 1, literal.is_plain())
}

/// Rewrites equations over tops until none is left that makes two of them one.
fn settle(union: &mut Union, even: &mut Vec<Even>) -> Option<()> {
    let mut is_done = false;
    while !is_done {
        is_done = true;
        let before = std::mem::take(even);
        for sum in before {
            let sum = rewritten(union, sum);
            match *sum.classes() {
                [] if sum.is_odd => return None,
                [] => {}
                [x] => {
                    union.join(Literal::new(x, sum.is_odd), Literal::new(TRUTH, true))?;
                    is_done = false;
                }
                [x, y] => {
                    union.join(Literal::new(x, !sum.is_odd), Literal::new(y, true))?;
                    is_done = false;
                }
                _ => even.push(sum),
            }
        }
    }
    Some(())
}

fn rewritten(union: &mut Union, sum: Even) -> Even {
    let mut tops = Even { list: [0; 4], count: 0, is_odd: sum.is_odd };
    for &class in sum.classes() {
        let (top, is_opposite) = union.top(class);
        // Truth counts one.
        tops.is_odd ^= is_opposite ^ (top == TRUTH);
        if let Some(at) = tops.classes().iter().position(|&other| other == top) {
            tops.take(at);
        } else if top != TRUTH {
            tops.push(top);
        }
    }
    tops
}

/// Solves the equations for tops that are settled or equal; whether any were found.
fn eliminate(union: &mut Union, even: &[Even]) -> Option<bool> {
    if even.len() * even.len() > MOST_ELIMINATION {
        return Some(false);
    }
    let mut columns: Vec<usize> = even.iter().flat_map(|sum| sum.classes().iter().copied()).collect();
    columns.sort_unstable();
    columns.dedup();
    let words = (columns.len() + 1).div_ceil(64);
    if even.len() * even.len() * words > MOST_ELIMINATION {
        return Some(false);
    }
    let mut rows: Vec<Vec<u64>> = even.iter().map(|sum| row(sum, &columns, words)).collect();
    let pivots = reduce(&mut rows, columns.len());
    let odd = columns.len();
    let mut found = false;
    for (i, &(pivot, ref rest)) in pivots.iter().enumerate() {
        let free: Vec<usize> = bits(rest).filter(|&column| column != pivot && column != odd).collect();
        let is_odd = has(rest, odd);
        match *free {
            [] => {
                union.join(Literal::new(columns[pivot], is_odd), Literal::new(TRUTH, true))?;
                found = true;
            }
            [x] => {
                union.join(Literal::new(columns[pivot], !is_odd), Literal::new(columns[x], true))?;
                found = true;
            }
            _ => {
                // Two rows that agree on their free columns make their pivots equal.
                let same = pivots[..i].iter().find(|(other, row)| {
                    bits(row).filter(|&column| column != *other && column != odd).eq(free.iter().copied())
                });
                if let Some((other, row)) = same {
                    let differ = is_odd != has(row, odd);
                    union.join(Literal::new(columns[pivot], !differ), Literal::new(columns[*other], true))?;
                    found = true;
                }
            }
        }
    }
    let contradicts = rows.iter().any(|row| has(row, odd) && bits(row).eq([odd]));
    (!contradicts).then_some(found)
}

fn row(sum: &Even, columns: &[usize], words: usize) -> Vec<u64> {
    let mut row = vec![0; words];
    let set = sum.classes().iter().filter_map(|class| columns.binary_search(class).ok());
    set.chain(sum.is_odd.then_some(columns.len())).for_each(|column| row[column / 64] |= 1 << (column % 64));
    row
}

/// Brings rows into reduced echelon form; those with a pivot, ascending.
fn reduce(rows: &mut [Vec<u64>], columns: usize) -> Vec<(usize, Vec<u64>)> {
    let mut pivots = Vec::new();
    let mut done = 0;
    for column in 0..columns {
        let Some(at) = (done..rows.len()).find(|&at| has(&rows[at], column)) else { continue };
        rows.swap(done, at);
        let pivot = rows[done].clone();
        for (_, row) in rows.iter_mut().enumerate().filter(|(at, row)| *at != done && has(row, column)) {
            row.iter_mut().zip(&pivot).for_each(|(mine, theirs)| *mine ^= theirs);
        }
        pivots.push(column);
        done += 1;
    }
    pivots.into_iter().zip(rows.iter().cloned()).collect()
}

fn has(row: &[u64], column: usize) -> bool {
    row[column / 64] >> (column % 64) & 1 == 1
}

fn bits(row: &[u64]) -> impl Iterator<Item = usize> + '_ {
    row.iter().enumerate().flat_map(|(at, &word)| crate::bits::ones(word).map(move |bit| at * 64 + bit))
}

/// Which nodes are equal or opposite.
struct Union {
    /// For each node one that it equals, or is the opposite of.
    up: Vec<Literal>,
}

impl Union {
    fn new(count: usize) -> Self {
        Self { up: (0..count).map(|node| Literal::new(node, true)).collect() }
    }

    /// The node that stands for a class, and whether `node` is its opposite.
    fn top(&mut self, node: usize) -> (usize, bool) {
        let (mut at, mut turned) = (node, false);
        while self.up[at].number() != at {
            turned ^= !self.up[at].is_plain();
            at = self.up[at].number();
        }
        let (top, is_opposite) = (at, turned);
        at = node;
        while self.up[at].number() != at {
            let next = self.up[at];
            self.up[at] = Literal::new(top, !turned);
            turned ^= !next.is_plain();
            at = next.number();
        }
        (top, is_opposite)
    }

    /// Makes two literals one; `None` if they are known to be opposite. The lesser top stays.
    fn join(&mut self, x: Literal, y: Literal) -> Option<()> {
        let [(a, a_turned), (b, b_turned)] = [x, y].map(|literal| {
            let (top, is_opposite) = self.top(literal.number());
            (top, is_opposite == literal.is_plain())
        });
        let differ = a_turned != b_turned;
        if a == b {
            return (!differ).then_some(());
        }
        self.up[a.max(b)] = Literal::new(a.min(b), !differ);
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lit(number: i32) -> Literal {
        Literal::new(number.unsigned_abs() as usize - 1, number > 0)
    }

    /// Statements 1.., negative for opposites. Expects how many classes beside truth there are, or a contradiction; all
    /// by hand.
    #[track_caller]
    fn check(count: usize, is: &[i32], same: &[[i32; 2]], even: &[[i32; 4]], expected: Option<usize>) -> Parity {
        let claims = is.iter().map(|&x| Claim::Is(lit(x)));
        let claims = claims.chain(same.iter().map(|pair| Claim::Same(pair.map(lit))));
        let claims = claims.chain(even.iter().map(|four| Claim::Even(four.map(lit))));
        let parity = Parity::new(count, claims);
        assert_eq!(parity.as_ref().map(|parity| parity.classes - 1), expected);
        parity.unwrap_or_default()
    }

    #[test]
    fn equal_statements_are_one_class() {
        let parity = check(4, &[], &[[1, -2], [2, 3]], &[], Some(2));
        assert_eq!(parity.class_of[0], !parity.class_of[1]);
        assert_eq!(parity.class_of[1], parity.class_of[2]);
        check(2, &[], &[[1, 2], [1, -2]], &[], None);
    }

    #[test]
    fn what_is_settled_is_truth() {
        let parity = check(3, &[-2], &[[1, 2], [3, -1]], &[], Some(0));
        assert_eq!(parity.class_of, [false, false, true].map(|plain| Literal::new(TRUTH, plain)));
        check(1, &[1, -1], &[], &[], None);
    }

    #[test]
    fn equations_shrink_as_statements_are_settled() {
        check(4, &[], &[], &[[1, 2, 3, 4]], Some(4));
        check(4, &[1], &[], &[[1, 2, 3, 4]], Some(3));
        check(4, &[1, 2], &[], &[[1, 2, 3, 4]], Some(1));
        check(4, &[1, 2, 3], &[], &[[1, 2, 3, 4]], Some(0));
        check(4, &[1, 2, 3, -4], &[], &[[1, 2, 3, 4]], None);
        check(4, &[], &[[1, 2]], &[[1, 2, 3, -4]], Some(2));
        check(2, &[], &[], &[[1, 1, 2, -2]], None);
    }

    #[test]
    fn equations_together_settle_what_none_of_them_does() {
        // The third makes 4 and 5 one; then the others add up to 1 and 6 being one.
        check(6, &[], &[], &[[1, 2, 3, 4], [2, 3, 5, 6], [4, 5, 6, 6]], Some(4));
        // The third is the sum of the others, with the wrong sign.
        check(6, &[], &[], &[[1, 2, 3, 4], [3, 4, 5, 6], [1, 2, 5, -6]], None);
    }
}
