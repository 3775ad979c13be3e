//! Dice that fall the same way on every machine, for designs made at random.

use model::Length;

/// A sequence of numbers that follows from its seed: SplitMix64 (Steele, Lea and Flood 2014; constants from memory, and a
/// change of them only changes which designs are made).
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The sequence of a seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to one less than `count`; 0 where that is nothing.
    pub fn below(&mut self, count: usize) -> usize {
        let count = u64::try_from(count).unwrap_or(u64::MAX).max(1);
        usize::try_from(self.next() % count).unwrap_or(0)
    }

    /// True in so many of a hundred cases.
    pub fn chance(&mut self, per_cent: usize) -> bool {
        self.below(100) < per_cent
    }

    /// One of several.
    ///
    /// # Panics
    /// When there are none.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }

    /// A whole multiple of `step` from `least` to `most`; the least such where there is none up to `most`.
    pub fn length(&mut self, least: Length, most: Length, step: Length) -> Length {
        let (first, last) = (least.nm().div_euclid(step.nm()), most.nm().div_euclid(step.nm()));
        let first = if least.is_multiple_of(step) { first } else { first + 1 };
        let count = usize::try_from(last - first + 1).unwrap_or(1);
        step * (first + i64::try_from(self.below(count)).unwrap_or(0))
    }

    /// The same things in another order.
    pub fn shuffle<T>(&mut self, things: &mut [T]) {
        for i in (1..things.len()).rev() {
            let j = self.below(i + 1);
            things.swap(i, j);
        }
    }
}
