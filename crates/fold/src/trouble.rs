//! What keeps a folio from closing as its steps say.

use crate::crimp::VertexVerdict;
use glam::DVec3;
use model::{LineId, PanelId, Point};

/// One thing that stands in the way.
#[derive(Debug, Clone, PartialEq)]
pub enum Trouble {
    /// What should move is still joined to what should stay, or paper is kept round a corner that cannot fold so.
    /// The step is left out.
    Joined {
        /// Which step, counted from 0.
        step: usize,
        /// The lines of that step that meet there.
        lines: Vec<LineId>,
        /// The panels concerned. At a corner: the corner panel (the one farthest from the base),
        /// then its neighbours.
        panels: Vec<PanelId>,
        /// Where, on the flat sheet.
        at: Point,
    },
    /// Something lies on what should move, on the side to which it should.
    Blocked {
        /// Which step, counted from 0.
        step: usize,
        /// What should move.
        moving: PanelId,
        /// What lies on it.
        by: PanelId,
    },
    /// A panel strikes another on its way.
    Collides {
        /// Which step, counted from 0.
        step: usize,
        /// What moves.
        moving: PanelId,
        /// What it strikes.
        with: PanelId,
        /// How far the moving panel's own fold has turned when their paper meets, in degrees.
        degrees: f64,
        /// Where it does, in mm: the middle of the corner or edge at which they touch.
        at: DVec3,
    },
    /// These panels would pass through one another, closed or on the way.
    Crosses {
        /// The step after which they would, counted from 0; `None` for the closed state.
        after: Option<usize>,
        /// The panels, in ascending order.
        panels: Vec<PanelId>,
        /// The lines whose folds hold them so, in ascending order. Empty where panels pass through one another whatever
        /// holds them.
        lines: Vec<LineId>,
        /// Points with paper all round in which several of those folds meet, on the flat sheet, in ascending order.
        at: Vec<Point>,
    },
    /// What should be tucked under something can't be: it is held by its edges, or doesn't reach there.
    CannotTuck {
        /// Which step, counted from 0.
        step: usize,
        /// What should be tucked.
        moving: PanelId,
        /// What it should be tucked under.
        under: PanelId,
        /// The panels that hold it, in ascending order; none where it does not reach.
        held_by: Vec<PanelId>,
    },
    /// Folds that meet in a point with paper all round can't lie flat together, in whatever order they are folded. Told of
    /// points that a [`Trouble::Joined`] names.
    Unflat {
        /// The lines that meet there, in ascending order.
        lines: Vec<LineId>,
        /// The panels concerned, as in [`Trouble::Joined`].
        panels: Vec<PanelId>,
        /// Where, on the flat sheet.
        at: Point,
        /// What is wrong.
        why: VertexVerdict,
    },
    /// A score in the folio that no step folds; it stays flat.
    NotInSteps {
        /// Which line.
        line: LineId,
    },
}

impl Trouble {
    /// The step in which it shows, counted from 0; `None` for what shows in the closed state only.
    #[must_use]
    pub const fn step(&self) -> Option<usize> {
        match self {
            Self::Joined { step, .. }
            | Self::Blocked { step, .. }
            | Self::Collides { step, .. }
            | Self::CannotTuck { step, .. } => Some(*step),
            Self::Crosses { after, .. } => *after,
            Self::Unflat { .. } | Self::NotInSteps { .. } => None,
        }
    }

    /// The panels it is about.
    #[must_use]
    pub fn panels(&self) -> Vec<PanelId> {
        match self {
            Self::Joined { panels, .. } | Self::Unflat { panels, .. } | Self::Crosses { panels, .. } => panels.clone(),
            Self::Blocked { moving, by, .. } => vec![*moving, *by],
            Self::Collides { moving, with, .. } => vec![*moving, *with],
            Self::CannotTuck { moving, under, held_by, .. } => {
                [*moving, *under].into_iter().chain(held_by.iter().copied()).collect()
            }
            Self::NotInSteps { .. } => Vec::new(),
        }
    }
}
