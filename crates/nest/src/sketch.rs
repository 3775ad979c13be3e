//! A plan for one rectangle as a tree of halves, without places.

use crate::problem::{Shape, Tally};

/// Along which side a rectangle is parted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Axis {
    /// Left from right.
    X,
    /// Top from bottom.
    Y,
}

impl Axis {
    pub(crate) fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
        }
    }

    pub(crate) fn of<T: Copy>(self, pair: [T; 2]) -> T {
        pair[self.index()]
    }
}

/// What is cut from a rectangle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Sketch {
    /// Nothing.
    Empty,
    /// One part, with paper left over on its right and below it or not.
    Part {
        /// Which kind.
        kind: usize,
        /// Which way round.
        shape: Shape,
    },
    /// Two halves.
    Join {
        /// Which way they lie beside each other.
        axis: Axis,
        /// The left or upper half.
        first: Box<Sketch>,
        /// The other half.
        second: Box<Sketch>,
    },
}

impl Sketch {
    /// Leaves out parts beyond what is still to be had, counting down `left`, and halves that are then empty.
    pub(crate) fn within(self, left: &mut [i16]) -> Self {
        match self {
            Self::Empty => Self::Empty,
            Self::Part { kind, .. } if left[kind] <= 0 => Self::Empty,
            Self::Part { kind, .. } => {
                left[kind] -= 1;
                self
            }
            Self::Join { axis, first, second } => match (first.within(left), second.within(left)) {
                (Self::Empty, only) | (only, Self::Empty) => only,
                (first, second) => Self::Join { axis, first: Box::new(first), second: Box::new(second) },
            },
        }
    }

    /// How many parts are in it.
    pub(crate) fn parts(&self) -> usize {
        match self {
            Self::Empty => 0,
            Self::Part { .. } => 1,
            Self::Join { first, second, .. } => first.parts() + second.parts(),
        }
    }

    /// The same with other numbers for the kinds.
    pub(crate) fn renamed(self, names: &[usize]) -> Self {
        match self {
            Self::Empty => Self::Empty,
            Self::Part { kind, shape } => Self::Part { kind: names[kind], shape },
            Self::Join { axis, first, second } => {
                let (first, second) = (Box::new(first.renamed(names)), Box::new(second.renamed(names)));
                Self::Join { axis, first, second }
            }
        }
    }

    /// Leaves out empty halves.
    pub(crate) fn prune(&mut self) {
        let Self::Join { first, second, .. } = self else { return };
        first.prune();
        second.prune();
        let only = match (&**first, &**second) {
            (Self::Empty, _) => second,
            (_, Self::Empty) => first,
            _ => return,
        };
        *self = std::mem::replace(&mut **only, Self::Empty);
    }

    /// Adds its parts to a tally.
    pub(crate) fn count(&self, tally: &mut Tally) {
        match self {
            Self::Empty => {}
            // A sheet may hold more slivers than numbers go; so many are too many either way.
            Self::Part { kind, .. } => tally[*kind] = tally[*kind].saturating_add(1),
            Self::Join { first, second, .. } => {
                first.count(tally);
                second.count(tally);
            }
        }
    }

    /// Width and height of what its parts take up, kerfs included.
    pub(crate) fn size(&self) -> [i64; 2] {
        match self {
            Self::Empty => [0, 0],
            Self::Part { shape, .. } => [shape.width, shape.height],
            Self::Join { axis, first, second, .. } => {
                let (a, b) = (first.size(), second.size());
                match axis {
                    Axis::X => [a[0] + b[0], a[1].max(b[1])],
                    Axis::Y => [a[0].max(b[0]), a[1] + b[1]],
                }
            }
        }
    }
}
