//! What can be wrong with a task, each with one sentence to show. Nothing is mended here.

use crate::outline;
use crate::task::{Knife, Leftover, Part, Task};
use model::Length;
use std::fmt;

/// The most leftovers of one task: a drawer full.
pub const MOST_LEFTOVERS: usize = 64;

/// The most different parts of one task; more would not fit the counters of the search.
pub const MOST_PARTS: usize = 64;

/// The most parts in all, copies counted; more would not fit the counters of the search.
pub const MOST_COPIES: u32 = 10_000;

/// The most corners of an outline: every inner corner doubles the ways of cutting it.
pub const MOST_CORNERS: usize = 32;

/// Why a task can't be worked on. Numbers count from nought, the sentences from one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TaskFault {
    /// More than [`MOST_LEFTOVERS`].
    TooManyLeftovers {
        /// How many there are.
        count: usize,
    },
    /// More than [`MOST_PARTS`].
    TooManyParts {
        /// How many there are.
        count: usize,
    },
    /// More than [`MOST_COPIES`] in all.
    TooManyCopies {
        /// How many there are.
        count: u64,
    },
    /// More have to be there than are wanted.
    LeastBeyondCount {
        /// Which part.
        part: usize,
    },
    /// The kerf or the edge is negative or more than [`Length::LIMIT`].
    Knife,
    /// A corner lies more than [`Length::LIMIT`] away.
    TooFar {
        /// Which leftover.
        leftover: usize,
    },
    /// An outline has fewer than four or more than [`MOST_CORNERS`] corners.
    Corners {
        /// Which leftover.
        leftover: usize,
        /// How many corners it has.
        count: usize,
    },
    /// An edge of an outline is neither level nor upright.
    Slanted {
        /// Which leftover.
        leftover: usize,
    },
    /// An outline touches or crosses itself.
    Tangled {
        /// Which leftover.
        leftover: usize,
    },
}

impl fmt::Display for TaskFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::TooManyLeftovers { count } => {
                write!(f, "{count} leftovers are too many at once; take {MOST_LEFTOVERS} at most")
            }
            Self::TooManyParts { count } => {
                write!(f, "{count} different parts are too many at once; take {MOST_PARTS} at most")
            }
            Self::TooManyCopies { count } => {
                write!(f, "{count} copies of parts are too many at once; ask for {MOST_COPIES} in all at most")
            }
            Self::LeastBeyondCount { part } => {
                write!(f, "part {} has to be there more often than it is wanted; raise its count", part + 1)
            }
            Self::Knife => write!(f, "what the knife takes must be nothing or more, and at most 10 m"),
            Self::TooFar { leftover } => {
                write!(f, "leftover {} lies more than 10 m away; move it nearer", leftover + 1)
            }
            Self::Corners { leftover, count } => {
                write!(f, "leftover {} has {count} corners; give it 4 to {MOST_CORNERS}", leftover + 1)
            }
            Self::Slanted { leftover } => write!(
                f,
                "leftover {} has a slanting edge; give a shape of level and upright edges that lies inside it",
                leftover + 1
            ),
            Self::Tangled { leftover } => {
                write!(f, "the outline of leftover {} touches itself; give it as separate leftovers", leftover + 1)
            }
        }
    }
}

impl std::error::Error for TaskFault {}

/// Whether a task can be worked on.
pub(crate) fn examine(task: &Task) -> Result<(), TaskFault> {
    if task.leftovers.len() > MOST_LEFTOVERS {
        return Err(TaskFault::TooManyLeftovers { count: task.leftovers.len() });
    }
    examine_parts(&task.parts)?;
    examine_knife(task.knife)?;
    task.leftovers.iter().enumerate().try_for_each(|(leftover, paper)| examine_leftover(leftover, paper))
}

/// Whether parts can be worked on.
pub(crate) fn examine_parts(parts: &[Part]) -> Result<(), TaskFault> {
    if parts.len() > MOST_PARTS {
        return Err(TaskFault::TooManyParts { count: parts.len() });
    }
    let count: u64 = parts.iter().map(|part| u64::from(part.count)).sum();
    if count > u64::from(MOST_COPIES) {
        return Err(TaskFault::TooManyCopies { count });
    }
    match parts.iter().position(|part| part.least > part.count) {
        Some(part) => Err(TaskFault::LeastBeyondCount { part }),
        None => Ok(()),
    }
}

/// Whether a knife can be worked with.
pub(crate) fn examine_knife(knife: Knife) -> Result<(), TaskFault> {
    let fine = |length: Length| length >= Length::ZERO && length <= Length::LIMIT;
    if fine(knife.kerf) && fine(knife.edge) { Ok(()) } else { Err(TaskFault::Knife) }
}

fn examine_leftover(leftover: usize, paper: &Leftover) -> Result<(), TaskFault> {
    let far = |length: Length| length < -Length::LIMIT || length > Length::LIMIT;
    match paper {
        Leftover::Rect(rect) if far(rect.corner.x) || far(rect.corner.y) => Err(TaskFault::TooFar { leftover }),
        Leftover::Rect(_) => Ok(()),
        Leftover::Outline(corners) if corners.iter().any(|corner| far(corner.x) || far(corner.y)) => {
            Err(TaskFault::TooFar { leftover })
        }
        Leftover::Outline(corners) => outline::examine(leftover, corners),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::task::{Effort, Goal};
    use model::{Point, Size};

    fn task() -> Task {
        let size = Size::parse("4x5in").unwrap();
        Task {
            leftovers: vec![Leftover::of_size(size)],
            parts: vec![Part::new(size, 1)],
            knife: Knife::default(),
            goal: Goal::Area,
            effort: Effort::default(),
        }
    }

    #[track_caller]
    fn refused(change: impl FnOnce(&mut Task), says: &str) {
        let mut task = task();
        change(&mut task);
        let said = crate::nest(&task).unwrap_err().to_string();
        assert!(said.contains(says), "{said}");
    }

    fn outline(corners: &[(i64, i64)]) -> Leftover {
        let mm = |n: i64| Length::MILLIMETRE * n;
        Leftover::Outline(corners.iter().map(|&(x, y)| Point::new(mm(x), mm(y))).collect())
    }

    #[test]
    fn each_fault_has_its_sentence() {
        refused(|task| task.leftovers = vec![task.leftovers[0].clone(); 65], "65 leftovers are too many");
        refused(|task| task.parts = vec![task.parts[0]; 65], "65 different parts are too many");
        refused(|task| task.parts[0].count = 10_001, "10001 copies of parts are too many");
        refused(|task| task.parts[0].least = 2, "part 1 has to be there more often");
        refused(|task| task.knife.kerf = -Length::MILLIMETRE, "what the knife takes");
        refused(|task| task.knife.edge = Length::LIMIT * 2, "what the knife takes");
        refused(|task| task.leftovers = vec![outline(&[(0, 0), (20_000, 0), (20_000, 9), (0, 9)])], "10 m away");
        refused(|task| task.leftovers = vec![outline(&[(0, 0), (5, 0), (5, 5)])], "leftover 1 has 3 corners");
        refused(|task| task.leftovers = vec![outline(&[(0, 0), (5, 0), (4, 5), (0, 5)])], "slanting edge");
        let touching = [(0, 0), (4, 0), (4, 2), (2, 2), (2, 0), (1, 0), (1, 4), (0, 4)];
        refused(|task| task.leftovers = vec![outline(&touching)], "touches itself");
        let spiked = [(0, 0), (4, 0), (4, 2), (6, 2), (4, 2), (4, 4), (0, 4)];
        refused(|task| task.leftovers = vec![outline(&spiked)], "touches itself");
    }
}
