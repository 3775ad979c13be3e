//! What keeps a folio from closing as its steps say.

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
        /// How far the moving panel's own fold has turned when they meet, in degrees.
        degrees: f64,
    },
    /// Closed, these panels would pass through one another.
    Crosses {
        /// The panels, in ascending order.
        panels: Vec<PanelId>,
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
            Self::Joined { step, .. } | Self::Blocked { step, .. } | Self::Collides { step, .. } => Some(*step),
            Self::Crosses { .. } | Self::NotInSteps { .. } => None,
        }
    }

    /// The panels it is about.
    #[must_use]
    pub fn panels(&self) -> Vec<PanelId> {
        match self {
            Self::Joined { panels, .. } | Self::Crosses { panels } => panels.clone(),
            Self::Blocked { moving, by, .. } => vec![*moving, *by],
            Self::Collides { moving, with, .. } => vec![*moving, *with],
            Self::NotInSteps { .. } => Vec::new(),
        }
    }
}
