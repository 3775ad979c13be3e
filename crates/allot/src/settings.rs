//! What a maker says about cutting parts: what the knife takes, whether grain counts, and how long to look.

use model::{Document, Length};
use nest::{Effort, Knife};

/// Whether folds of parts have to run along the grain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum GrainWish {
    /// A fold across the grain is noted and no more: sources differ on which is better for a hinge.
    #[default]
    Note,
    /// A part with a fold is only cut so that its fold runs along the grain, where the grain is known.
    Keep,
}

/// How parts are to be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// What every cut destroys and what is trimmed off an offcut's edges; nothing of either unless the maker says so.
    pub knife: Knife,
    /// Whether grain counts.
    pub grain: GrainWish,
    /// How much work may go into it, for all offcuts together; further sheets get as much again for each paper.
    pub effort: Effort,
}

impl Settings {
    /// Few enough steps for a plan while something is dragged: a few milliseconds for a dozen parts.
    pub const QUICK: Effort = Effort { steps: 1_000_000 };

    /// As the maker of a design wants her parts cut, answered quickly.
    #[must_use]
    pub fn of(document: &Document) -> Self {
        let model::Cutting { edge, along_grain } = document.cutting;
        let grain = if along_grain { GrainWish::Keep } else { GrainWish::Note };
        Self { knife: Knife { edge: edge.max(Length::ZERO), ..Knife::default() }, grain, effort: Self::QUICK }
    }

    /// The same with as good a plan as there is within about a second.
    #[must_use]
    pub fn thorough(self) -> Self {
        Self { effort: Effort::default(), ..self }
    }
}

impl Default for Settings {
    /// A knife that takes nothing, clean edges, and a quick answer.
    fn default() -> Self {
        Self { knife: Knife::default(), grain: GrainWish::default(), effort: Self::QUICK }
    }
}
