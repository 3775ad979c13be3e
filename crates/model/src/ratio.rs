//! Exact fractions, for what is worked out of lengths.

/// A fraction in lowest terms, its bottom above zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Ratio {
    top: i128,
    bottom: i128,
}

impl Ratio {
    pub(crate) const ZERO: Self = Self::whole(0);

    /// So much over so much; `None` over nothing.
    pub(crate) fn new(top: i128, bottom: i128) -> Option<Self> {
        let by = i128::try_from(common(top.unsigned_abs(), bottom.unsigned_abs())).ok()?;
        let by = if bottom < 0 { -by } else { by };
        (bottom != 0).then(|| Some(Self { top: top.checked_div(by)?, bottom: bottom.checked_div(by)? })).flatten()
    }

    pub(crate) const fn whole(number: i128) -> Self {
        Self { top: number, bottom: 1 }
    }

    pub(crate) const fn top(self) -> i128 {
        self.top
    }

    pub(crate) const fn bottom(self) -> i128 {
        self.bottom
    }

    pub(crate) const fn negative(self) -> Self {
        // No top is the lowest number there is: what gives one is beyond what is reckoned with.
        Self { top: self.top.saturating_neg(), bottom: self.bottom }
    }

    /// The sum; `None`, as of all that follow, beyond what can be reckoned with.
    pub(crate) fn plus(self, other: Self) -> Option<Self> {
        let top = self.top.checked_mul(other.bottom)?.checked_add(other.top.checked_mul(self.bottom)?)?;
        Self::new(top, self.bottom.checked_mul(other.bottom)?)
    }

    /// The product.
    pub(crate) fn times(self, other: Self) -> Option<Self> {
        Self::new(self.top.checked_mul(other.top)?, self.bottom.checked_mul(other.bottom)?)
    }

    /// One over it; `None` for one over nothing too.
    pub(crate) fn inverse(self) -> Option<Self> {
        Self::new(self.bottom, self.top)
    }

    pub(crate) const fn is_whole(self) -> bool {
        self.bottom == 1
    }

    /// The nearest whole number, halves away from zero.
    pub(crate) fn rounded(self) -> Option<i128> {
        let twice = self.top.checked_abs()?.checked_mul(2)?.checked_add(self.bottom)?;
        Some(twice / self.bottom.checked_mul(2)? * self.top.signum())
    }
}

/// The greatest common divisor; 1 of nothing and nothing.
fn common(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_kept_in_lowest_terms() {
        let ratio = |top, bottom| Ratio::new(top, bottom).unwrap();
        assert_eq!(ratio(6, -8), Ratio { top: -3, bottom: 4 });
        assert_eq!(ratio(1, 3).plus(ratio(1, 6)), Some(ratio(1, 2)));
        assert_eq!(ratio(2, 3).times(ratio(3, 4)), Some(ratio(1, 2)));
        assert_eq!((ratio(-5, 2).rounded(), ratio(7, 3).rounded()), (Some(-3), Some(2)));
        assert_eq!((Ratio::new(1, 0), Ratio::ZERO.inverse()), (None, None));
        assert_eq!(Ratio::whole(i128::MAX).plus(Ratio::whole(1)), None);
    }
}
