//! What can be wrong with a figure before any order is looked for, each with one sentence to show.

use std::fmt;

/// Which list of a [`crate::Figure`] an index is into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// [`crate::Figure::facets`].
    Facet(usize),
    /// [`crate::Figure::joints`].
    Joint(usize),
    /// [`crate::Figure::bonds`].
    Bond(usize),
    /// [`crate::Figure::given`].
    Given(usize),
}

/// Why a figure can't be looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureFault {
    /// More than [`crate::MOST_FACETS`].
    TooManyFacets {
        /// How many there are.
        count: usize,
    },
    /// A coordinate is no number, or further than [`crate::FARTHEST`] from the origin.
    Unplaced(Part),
    /// It names a panel that there is none of, or the same one twice.
    Unpaired(Part),
    /// The outline holds no paper wider than [`crate::SAME_PLACE`].
    NoArea {
        /// The panel.
        facet: usize,
    },
    /// The outline crosses itself or a hole, or a hole lies outside.
    Tangled {
        /// The panel.
        facet: usize,
    },
    /// The joint is shorter than [`crate::SAME_PLACE`].
    ShortJoint {
        /// The joint.
        joint: usize,
    },
    /// The joint is not on the boundary of one of its panels: the folded figure does not close there.
    Apart {
        /// The joint.
        joint: usize,
        /// The panel that does not reach it.
        facet: usize,
    },
    /// The joint lies on a slit of one of its panels, so that the side it belongs to is not known.
    OnSlit {
        /// The joint.
        joint: usize,
        /// The panel with the slit.
        facet: usize,
    },
    /// Folded, with the panels on either side of it; or not folded, with both on one side.
    WrongSides {
        /// The joint.
        joint: usize,
    },
    /// Folded, with both panels the same face up; or not folded, with different faces up.
    WrongFaces {
        /// The joint.
        joint: usize,
    },
    /// Two joints hold the same panel on the same stretch of its boundary.
    TwoJoints {
        /// The joints.
        joints: [usize; 2],
        /// The panel.
        facet: usize,
    },
    /// The two panels of a bond share none of its area.
    BondApart {
        /// The bond.
        bond: usize,
    },
    /// The faces of a bond can't meet the way that the panels lie.
    BondFaces {
        /// The bond.
        bond: usize,
    },
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Facet(index) => write!(f, "panel {index}"),
            Self::Joint(index) => write!(f, "joint {index}"),
            Self::Bond(index) => write!(f, "bond {index}"),
            Self::Given(index) => write!(f, "given order {index}"),
        }
    }
}

impl fmt::Display for FigureFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::TooManyFacets { count } => {
                write!(f, "There are {count} panels; layer orders are worked out for {} at most.", crate::MOST_FACETS)
            }
            Self::Unplaced(part) => write!(
                f,
                "The {part} has a coordinate that is not a number within {} mm; place it nearer the origin.",
                crate::FARTHEST
            ),
            Self::Unpaired(part) => write!(f, "The {part} does not name two different panels that exist."),
            Self::NoArea { facet } => write!(f, "The outline of panel {facet} holds no paper; widen or remove it."),
            Self::Tangled { facet } => {
                write!(f, "The outline of panel {facet} crosses itself or its holes; untangle it.")
            }
            Self::ShortJoint { joint } => write!(f, "Joint {joint} has no length; lengthen or remove it."),
            Self::Apart { joint, facet } => {
                write!(f, "Joint {joint} is not on the edge of panel {facet}: the folds do not close there.")
            }
            Self::OnSlit { joint, facet } => write!(
                f,
                "Joint {joint} lies on a slit of panel {facet}; give the panel as two, joined flat beside the slit."
            ),
            Self::WrongSides { joint } => write!(
                f,
                "The panels of joint {joint} do not lie as its fold says: folded they lie on one side of it, flat on two."
            ),
            Self::WrongFaces { joint } => write!(
                f,
                "The panels of joint {joint} show the wrong faces: a fold turns one panel over, a flat joint neither."
            ),
            Self::TwoJoints { joints: [first, second], facet } => {
                write!(f, "Joints {first} and {second} hold panel {facet} on the same stretch; remove one of them.")
            }
            Self::BondApart { bond } => write!(f, "The panels of bond {bond} share none of the glued area."),
            Self::BondFaces { bond } => {
                write!(f, "The glued faces of bond {bond} do not meet as its panels lie; glue other faces.")
            }
        }
    }
}

impl std::error::Error for FigureFault {}
