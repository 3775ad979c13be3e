//! Choices made from the bytes that the fuzzer gives: the same bytes, the same choices; zeros once they have run out.

use model::Length;

/// Bytes that are used up one after another.
#[derive(Debug)]
pub(crate) struct Bytes<'a>(pub(crate) &'a [u8]);

impl Bytes<'_> {
    pub(crate) fn byte(&mut self) -> u8 {
        let Some((&first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        first
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(crate) fn number(&mut self) -> u32 {
        u32::from_le_bytes([self.byte(), self.byte(), self.byte(), self.byte()])
    }

    /// From 0 to one less than `count`, which is at most 256.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::from(self.byte()) % count.max(1)
    }

    pub(crate) fn flag(&mut self) -> bool {
        self.byte() % 2 == 1
    }

    pub(crate) fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }

    /// Mostly quarters of an inch up to a foot; sometimes any nanometre of that, and sometimes anything.
    pub(crate) fn length(&mut self) -> Length {
        match self.byte() {
            0..=199 => Length::from_sixty_fourths(i64::from(self.byte() % 52) * 16 - 32),
            200..=239 => Length::from_nm(i64::from(self.number() % 304_800_001)),
            240..=251 => Length::from_nm(i64::from(self.byte()) - 128),
            _ => self.pick(&[
                Length::LIMIT,
                Length::ZERO - Length::LIMIT,
                Length::from_nm(1),
                Length::LIMIT - Length::from_nm(1),
            ]),
        }
    }

    /// Sixteenths of an inch up to two inches, or what [`Bytes::length`] gives.
    pub(crate) fn short(&mut self) -> Length {
        match self.byte() {
            0..=229 => Length::from_sixty_fourths(i64::from(self.byte() % 33) * 4),
            _ => self.length(),
        }
    }
}
