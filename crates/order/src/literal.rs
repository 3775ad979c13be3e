//! A statement that is true or false of every order: one panel is above another, in one place.

use std::fmt;
use std::ops::Not;

/// The statement with some number, or its opposite.
///
/// About overlaps, statement `v` says that the first panel of overlap `v` is above its second.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Literal(u32);

impl Literal {
    /// Statement `number`, or its opposite.
    pub(crate) fn new(number: usize, is_true: bool) -> Self {
        let number = u32::try_from(number).expect("fewer statements than pairs of MOST_FACETS panels and their places");
        Self(number * 2 + u32::from(!is_true))
    }

    /// The number of the statement.
    pub(crate) const fn number(self) -> usize {
        (self.0 / 2) as usize
    }

    /// Whether it is the statement itself, not its opposite.
    pub(crate) const fn is_plain(self) -> bool {
        self.0.is_multiple_of(2)
    }

    /// A number of its own for each statement and each opposite: twice the statement's, and the next.
    pub(crate) const fn code(self) -> usize {
        self.0 as usize
    }

    /// Its opposite if `turn`, else itself.
    pub(crate) const fn turned(self, turn: bool) -> Self {
        Self(self.0 ^ turn as u32)
    }
}

impl Not for Literal {
    type Output = Self;

    fn not(self) -> Self {
        Self(self.0 ^ 1)
    }
}

impl fmt::Debug for Literal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", if self.is_plain() { "" } else { "!" }, self.number())
    }
}
