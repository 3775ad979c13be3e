//! How many of each kind, in a fixed number of lanes, so that adding and comparing are a few machine instructions.

/// Counts of up to `N` kinds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Counts<const N: usize>([i16; N]);

impl<const N: usize> Counts<N> {
    pub(crate) const NONE: Self = Self([0; N]);

    /// The first `N` of a tally, the rest of the lanes empty.
    pub(crate) fn of(tally: &[i16]) -> Self {
        let mut lanes = [0; N];
        lanes.iter_mut().zip(tally).for_each(|(lane, count)| *lane = *count);
        Self(lanes)
    }

    /// One of a kind.
    pub(crate) fn one(kind: usize) -> Self {
        let mut lanes = [0; N];
        lanes[kind] = 1;
        Self(lanes)
    }

    pub(crate) fn lanes(&self) -> &[i16; N] {
        &self.0
    }

    /// Both together, of each kind no more than `most`.
    pub(crate) fn plus(&self, other: &Self, most: &Self) -> Self {
        Self(std::array::from_fn(|lane| (self.0[lane] + other.0[lane]).min(most.0[lane])))
    }

    /// Whether there are more than `most` of a kind in both together.
    pub(crate) fn exceeds_with(&self, other: &Self, most: &Self) -> bool {
        let mut over = 0;
        for lane in 0..N {
            over |= i16::from(self.0[lane] + other.0[lane] > most.0[lane]);
        }
        over != 0
    }

    /// Whether there are at least as many of every kind.
    pub(crate) fn covers(&self, other: &Self) -> bool {
        let mut short = 0;
        for lane in 0..N {
            short |= i16::from(self.0[lane] < other.0[lane]);
        }
        short == 0
    }

    /// What they cost together.
    pub(crate) fn cost(&self, prices: &[i64]) -> i64 {
        self.0.iter().zip(prices).map(|(&count, price)| i64::from(count) * price).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_stop_at_the_most() {
        let most = Counts::<8>::of(&[2, 3, 1]);
        let (a, b) = (Counts::of(&[1, 2, 0]), Counts::of(&[1, 2, 1]));
        assert_eq!(a.plus(&b, &most), Counts::of(&[2, 3, 1]));
        assert!(a.exceeds_with(&b, &most));
        assert!(!a.exceeds_with(&Counts::one(1), &most));
        assert!(b.covers(&a) && !a.covers(&b));
        assert_eq!(b.cost(&[5, 7, 11]), 5 + 14 + 11);
    }
}
