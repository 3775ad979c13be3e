//! What the solver is asked about: panels where they lie once folded flat, and what holds them together.
//!
//! Nothing here is checked; [`crate::prepare`] does that. How a panel came to lie where it does is not known here.

use glam::DVec2;

/// A figure folded flat, seen from above (from +z), in mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Figure {
    /// The panels. Everything else names them by their index here.
    pub facets: Vec<Facet>,
    /// Where panels hang together.
    pub joints: Vec<Joint>,
    /// Where panels are glued to each other.
    pub bonds: Vec<Bond>,
    /// Orders that are settled from the start.
    pub given: Vec<Given>,
}

/// A flat piece of paper in its place in the folded plane.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facet {
    /// The boundary, in either winding, not closed (the last corner joins the first). It need not be convex, must not
    /// cross itself, and may run along a slit and back: then other panels may pass through the slit.
    pub outline: Vec<DVec2>,
    /// Boundaries of what is cut out of it, in either winding. One that holds no area, such as one of two corners, is a slit.
    pub holes: Vec<Vec<DVec2>>,
    /// Whether the front of the sheet looks up here.
    pub face_up: bool,
}

/// A stretch of boundary along which two panels hang together.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// The two panels.
    pub facets: [usize; 2],
    /// The ends of the stretch. It lies on the boundaries of both panels.
    pub segment: (DVec2, DVec2),
    /// How it is folded; `None` where the paper runs on flat, as between two halves of a panel with a slit.
    pub fold: Option<Fold>,
}

/// The way a joint is folded, with regard to the front of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fold {
    /// The fronts of the two panels face each other: the panel that lies face down is above the one that lies face up.
    Valley,
    /// The backs face each other: the panel that lies face down is below the one that lies face up.
    Mountain,
    /// Either will do; [`crate::State::fold`] tells which it became.
    Either,
}

/// Two panels glued together: nothing lies between them over the glued area.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bond {
    /// The two panels.
    pub facets: [usize; 2],
    /// Polygons in the folded plane that make up the glued area, such as convex pieces of it. Both panels cover some of
    /// it; where one doesn't, nothing is claimed.
    pub area: Vec<Vec<DVec2>>,
    /// The faces that the glue is on, of the first panel and of the second, where known. They settle which is above.
    pub faces: Option<[Face; 2]>,
}

/// A face of a panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// The front of the sheet.
    Front,
    /// Its back.
    Back,
}

/// One panel is above another.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Given {
    /// The panel below.
    pub lower: usize,
    /// The panel above.
    pub upper: usize,
    /// A point of the overlap that is meant, where two panels overlap in several separate places; `None` means all of
    /// them. Where the panels don't overlap, nothing is claimed.
    pub at: Option<DVec2>,
}

impl Given {
    /// `upper` is above `lower` wherever they overlap.
    #[must_use]
    pub const fn new(lower: usize, upper: usize) -> Self {
        Self { lower, upper, at: None }
    }
}
