//! A set of small numbers, one bit each.

/// A set of numbers below a bound that is fixed when it is made.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Bits {
    words: Vec<u64>,
}

impl Bits {
    /// The empty set of numbers below `bound`.
    pub(crate) fn none(bound: usize) -> Self {
        Self { words: vec![0; bound.div_ceil(64)] }
    }

    /// Whether a number is in it.
    pub(crate) fn has(&self, number: usize) -> bool {
        self.words[number / 64] >> (number % 64) & 1 == 1
    }

    /// Puts a number in.
    pub(crate) fn put(&mut self, number: usize) {
        self.words[number / 64] |= 1 << (number % 64);
    }

    /// Takes a number out if it is in, else puts it in.
    pub(crate) fn flip(&mut self, number: usize) {
        self.words[number / 64] ^= 1 << (number % 64);
    }

    /// Puts in all numbers of another set with the same bound.
    pub(crate) fn join(&mut self, other: &Self) {
        self.words.iter_mut().zip(&other.words).for_each(|(mine, theirs)| *mine |= theirs);
    }

    /// Takes out all numbers of another set with the same bound.
    pub(crate) fn leave_out(&mut self, other: &Self) {
        self.words.iter_mut().zip(&other.words).for_each(|(mine, theirs)| *mine &= !theirs);
    }

    /// Whether there is no number in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.words.iter().all(|&word| word == 0)
    }

    /// The numbers that two sets share.
    pub(crate) fn shared(&self, other: &Self) -> Self {
        Self { words: self.words.iter().zip(&other.words).map(|(mine, theirs)| mine & theirs).collect() }
    }

    /// Whether two sets share a number.
    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.words.iter().zip(&other.words).any(|(mine, theirs)| mine & theirs != 0)
    }

    /// The same set of numbers below a lower bound; those above are dropped.
    pub(crate) fn below(&self, bound: usize) -> Self {
        let mut words = self.words[..bound.div_ceil(64)].to_vec();
        if let Some(last) = words.last_mut().filter(|_| !bound.is_multiple_of(64)) {
            *last &= (1 << (bound % 64)) - 1;
        }
        Self { words }
    }

    /// Its words, sixty-four numbers in each.
    pub(crate) fn words(&self) -> &[u64] {
        &self.words
    }

    /// Its numbers, ascending.
    pub(crate) fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.words.iter().enumerate().flat_map(|(at, &word)| ones(word).map(move |bit| at * 64 + bit))
    }
}

/// The numbers of the bits that are set in a word, ascending.
pub fn ones(mut word: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let bit = (word != 0).then(|| word.trailing_zeros() as usize);
        word &= word.wrapping_sub(1);
        bit
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(numbers: &[usize]) -> Bits {
        let mut bits = Bits::none(130);
        numbers.iter().for_each(|&number| bits.put(number));
        bits
    }

    #[test]
    fn a_set_gives_back_what_was_put_in() {
        let mut bits = set(&[0, 63, 64, 129]);
        assert_eq!(bits.iter().collect::<Vec<_>>(), [0, 63, 64, 129]);
        bits.leave_out(&set(&[64, 65]));
        bits.flip(63);
        bits.flip(5);
        assert_eq!(bits.iter().collect::<Vec<_>>(), [0, 5, 129]);
        assert!(Bits::none(130).is_empty() && !bits.is_empty());
        assert_eq!(bits.below(129).iter().collect::<Vec<_>>(), [0, 5]);
        assert_eq!(bits.below(64).iter().collect::<Vec<_>>(), [0, 5]);
    }

    #[test]
    fn sets_are_joined_and_compared() {
        let (mut a, b) = (set(&[1, 70]), set(&[70, 100]));
        assert!(a.meets(&b) && !set(&[1]).meets(&b));
        assert_eq!(a.shared(&b), set(&[70]));
        a.join(&b);
        assert_eq!(a, set(&[1, 70, 100]));
    }
}
