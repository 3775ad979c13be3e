//! The bare numbers of a task: kinds of rectangles, rectangles to cut them from, and what copies gain. Lengths are
//! nanometres with a kerf added, see [`Problem`]. Placements and cuts are for `carve.rs`.

/// A kind of rectangle one way round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Shape {
    pub(crate) width: i64,
    pub(crate) height: i64,
}

/// Rectangles of one size that are worth the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Kind {
    /// One or two ways round.
    pub(crate) shapes: Vec<Shape>,
    /// No more than so many.
    pub(crate) most: i16,
    /// So many are urgent.
    pub(crate) least: i16,
    /// What each gains.
    pub(crate) worth: i128,
}

/// Kinds to be cut from rectangles.
///
/// A kerf is dealt with by adding it to both sides of everything: `n` parts in a row with `n - 1` kerfs between them
/// fit a length exactly when `n` lengthened parts fit the lengthened length, and what is cut off at the end may be
/// thinner than a kerf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Problem {
    pub(crate) kinds: Vec<Kind>,
    /// Width and height of each rectangle to cut from.
    pub(crate) roots: Vec<[i64; 2]>,
    /// What an urgent copy gains besides its worth: more than all worth together.
    pub(crate) urgent: i128,
    /// The kerf that has been added to everything.
    pub(crate) kerf: i64,
    /// For every root how many cuts it takes before the first part can be cut from it.
    pub(crate) touch: Vec<usize>,
    scale: Scale,
}

/// How many of each kind.
pub(crate) type Tally = Vec<i16>;

/// Prices are whole ticks. A tick is 2^-up of the unit of worth, so that prices can lie between whole worths, or 2^down
/// units where worths are too large for 64 bits. Worth is rounded up to ticks and bounds down from them, so that a bound
/// stays one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Scale {
    up: u32,
    down: u32,
}

/// Sums of ticks stay below this, so that no sum of a few of them overflows.
const MOST_TICKS: i128 = 1 << 56;

/// No finer than this: a price is a worth shared among less than a thousand million parts.
const FINEST: u32 = 30;

impl Problem {
    pub(crate) fn new(kinds: Vec<Kind>, roots: Vec<[i64; 2]>) -> Self {
        let all: i128 = kinds.iter().map(|kind| kind.worth * i128::from(kind.most)).sum();
        let least: i128 = kinds.iter().map(|kind| i128::from(kind.least)).sum();
        let urgent = if least > 0 { all + 1 } else { 0 };
        Self { kinds, roots, urgent, kerf: 0, touch: Vec::new(), scale: Scale::of(all + urgent * least) }
    }

    /// The same with a kerf that has been added, and with cuts that roots take before any other.
    pub(crate) fn with_knife(self, kerf: i64, touch: Vec<usize>) -> Self {
        Self { kerf, touch, ..self }
    }

    /// The same kinds and gains with fewer copies and other rectangles.
    pub(crate) fn restricted(&self, taken: &[i16], roots: Vec<[i64; 2]>) -> Self {
        let left = |(kind, taken): (&Kind, &i16)| Kind {
            most: kind.most - taken,
            least: (kind.least - taken).max(0),
            ..kind.clone()
        };
        let kinds = self.kinds.iter().zip(taken).map(left).collect();
        Self { kinds, roots, ..self.clone() }
    }

    /// The same task on a coarse raster of about so many steps along the longest rectangle, with every length rounded
    /// down: what fits before fits after, so that a bound on it is one on the task. Parts that round down to nothing are
    /// left out; the second number is what all of them gain.
    pub(crate) fn coarse(&self, steps: i64) -> (Self, i128) {
        let step = |side: usize| self.roots.iter().map(|root| root[side]).max().unwrap_or(0) / steps + 1;
        let by = [step(0), step(1)];
        let shape = |shape: &Shape| Shape { width: shape.width / by[0], height: shape.height / by[1] };
        let coarse = |kind: &Kind| Kind { shapes: kind.shapes.iter().map(shape).collect(), ..kind.clone() };
        let mut kinds: Vec<Kind> = self.kinds.iter().map(coarse).collect();
        let mut tiny: Tally = vec![0; kinds.len()];
        for (kind, tiny) in kinds.iter_mut().zip(&mut tiny) {
            if kind.shapes.iter().any(|shape| shape.width == 0 || shape.height == 0) {
                *tiny = std::mem::take(&mut kind.most);
                kind.least = 0;
            }
        }
        let roots = self.roots.iter().map(|root| [root[0] / by[0], root[1] / by[1]]).collect();
        (Self { kinds, roots, ..self.clone() }, self.gain(&tiny))
    }

    /// The same with some of the kinds only.
    pub(crate) fn of_kinds(&self, kinds: &[usize]) -> Self {
        self.with_kinds(kinds.iter().map(|&kind| self.kinds[kind].clone()).collect())
    }

    /// The same paper and gains with other kinds.
    pub(crate) fn with_kinds(&self, kinds: Vec<Kind>) -> Self {
        Self { kinds, ..self.clone() }
    }

    /// What so many of each kind gain.
    pub(crate) fn gain(&self, tally: &[i16]) -> i128 {
        let gains = self
            .kinds
            .iter()
            .zip(tally)
            .map(|(kind, &count)| kind.worth * i128::from(count) + self.urgent * i128::from(count.min(kind.least)));
        gains.sum()
    }

    /// The most that all copies together gain.
    pub(crate) fn most_gain(&self) -> i128 {
        self.gain(&self.kinds.iter().map(|kind| kind.most).collect::<Tally>())
    }

    /// A bound on what is gained from so much paper, in square nanometres: as if it could be poured into the parts.
    pub(crate) fn gain_from_area(&self, capacity: i128) -> i128 {
        // Areas of up to 40 bits, rounded in favour of more: products with worths then fit 128 bits.
        let shift = (128 - capacity.leading_zeros()).saturating_sub(40);
        let mut left = (capacity >> shift) + i128::from(shift > 0);
        let mut lots: Vec<(i128, i128, i128)> = Vec::new();
        for kind in &self.kinds {
            let area = i128::from(kind.shapes[0].width) * i128::from(kind.shapes[0].height);
            if area > capacity {
                continue;
            }
            let area = (area >> shift).max(1);
            lots.push((kind.worth + self.urgent, area, kind.least.into()));
            lots.push((kind.worth, area, (kind.most - kind.least).into()));
        }
        lots.sort_by(|a, b| (b.0 * a.1).cmp(&(a.0 * b.1)));
        let mut gain = 0;
        for (worth, area, count) in lots {
            let whole = count.min(left / area);
            left -= whole * area;
            gain += whole * worth;
            if whole < count {
                return gain + worth * left / area;
            }
        }
        gain
    }

    /// The gain of the first copy of a kind, in ticks.
    pub(crate) fn first_ticks(&self, kind: usize) -> i64 {
        let urgent = if self.kinds[kind].least > 0 { self.urgent } else { 0 };
        self.scale.ticks(self.kinds[kind].worth + urgent)
    }

    /// The gain of the last copy of a kind, in ticks.
    pub(crate) fn last_ticks(&self, kind: usize) -> i64 {
        let every = self.kinds[kind].least == self.kinds[kind].most;
        if every { self.first_ticks(kind) } else { self.scale.ticks(self.kinds[kind].worth) }
    }

    /// How many copies would be bought at that price, from the fewest to the most that are equally good, and what they
    /// gain over their price, in ticks.
    pub(crate) fn demand(&self, kind: usize, price: i64) -> (i16, i16, i64) {
        let Kind { most, least, .. } = self.kinds[kind];
        let first = self.first_ticks(kind) - price;
        let rest = self.scale.ticks(self.kinds[kind].worth) - price;
        let counts = |over: i64, count: i16| match over {
            1.. => (count, count),
            0 => (0, count),
            _ => (0, 0),
        };
        let (low, high) = (counts(first, least), counts(rest, most - least));
        let surplus = first.max(0) * i64::from(least) + rest.max(0) * i64::from(most - least);
        (low.0 + high.0, low.1 + high.1, surplus)
    }

    /// The most that is gained where the bound is so many ticks.
    pub(crate) fn gain_below(&self, ticks: i64) -> i128 {
        (i128::from(ticks.max(0)) << self.scale.down) >> self.scale.up
    }

    /// The most ticks that gain no more than this: a bound of no more promises nothing better.
    pub(crate) fn ticks_of(&self, gain: i128) -> i64 {
        // Up to the next whole gain nothing is better.
        let ticks = if self.scale.up > 0 { ((gain + 1) << self.scale.up) - 1 } else { gain >> self.scale.down };
        i64::try_from(ticks).unwrap_or(i64::MAX / 4)
    }
}

impl Scale {
    fn of(all: i128) -> Self {
        let mut scale = Self { up: 0, down: 0 };
        while scale.up < FINEST && (all + 1) << (scale.up + 1) < MOST_TICKS {
            scale.up += 1;
        }
        while all >> scale.down >= MOST_TICKS {
            scale.down += 1;
        }
        scale
    }

    fn ticks(self, gain: i128) -> i64 {
        let ticks = ((gain << self.up) + (1 << self.down) - 1) >> self.down;
        i64::try_from(ticks).unwrap_or(i64::MAX / 4)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(most: i16, least: i16, worth: i128) -> Kind {
        Kind { shapes: vec![Shape { width: 2, height: 1 }], most, least, worth }
    }

    #[test]
    fn an_urgent_copy_gains_more_than_all_else() {
        let problem = Problem::new(vec![kind(3, 1, 5), kind(2, 0, 9)], vec![[4, 4]]);
        assert!(problem.gain(&[1, 0]) > problem.gain(&[0, 2]));
        assert_eq!(problem.gain(&[2, 0]) - problem.gain(&[1, 0]), 5);
        assert_eq!(problem.most_gain(), 5 * 3 + 9 * 2 + problem.urgent);
    }

    #[test]
    fn buyers_take_what_gains_more_than_it_costs() {
        let problem = Problem::new(vec![kind(3, 1, 5)], vec![[4, 4]]);
        let worth = problem.scale.ticks(5);
        assert_eq!(problem.demand(0, worth - 1).0, 3);
        assert_eq!((problem.demand(0, worth).0, problem.demand(0, worth).1), (1, 3));
        assert_eq!(problem.demand(0, worth + 1).1, 1);
        assert_eq!(problem.demand(0, problem.first_ticks(0) + 1), (0, 0, 0));
    }

    #[test]
    fn ticks_round_so_that_bounds_stay_bounds() {
        for worth in [1_i128, 7, 1 << 40, (1 << 66) + 1] {
            let problem = Problem::new(vec![kind(1, 0, worth)], vec![[4, 4]]);
            let ticks = problem.first_ticks(0);
            assert!(problem.gain_below(ticks) >= worth, "{worth}");
            assert!(problem.ticks_of(worth - 1) < ticks, "{worth}");
            assert!(problem.gain_below(problem.ticks_of(worth)) <= worth, "{worth}");
        }
    }
}
