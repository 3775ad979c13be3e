//! Layer orders of figures folded flat: which panel lies on which.
//!
//! Given where the panels of a figure lie once folded, and how they hang together, [`prepare`] makes it ready, and the
//! [`Problem`] tells whether its paper can lie so without passing through itself: one order, all of them, how many,
//! which pairs of panels have only one, whether an order found otherwise holds, and, where there is none, a small
//! [`Conflict`] to show.
//!
//! How a flat sheet comes to lie so is not known here, nor whether it can be folded step by step, how thick paper is, or what a
//! document looks like. Every answer is the same on every machine, and none takes more work than its [`Effort`].
//!
//! ```
//! use foliowright_order::{Answer, Facet, Figure, Fold, Joint, prepare};
//! use glam::DVec2;
//!
//! // A card folded in half: the second panel lies face down on the first or under it.
//! let square = [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)].map(DVec2::from).to_vec();
//! let facet = |face_up| Facet { outline: square.clone(), face_up, ..Facet::default() };
//! let joint = Joint { facets: [0, 1], segment: (square[1], square[2]), fold: Some(Fold::Valley) };
//! let figure = Figure { facets: vec![facet(true), facet(false)], joints: vec![joint], ..Figure::default() };
//! let Answer::Order(state) = prepare(&figure)?.solve() else { panic!("a card closes") };
//! assert_eq!(state.pile_at(DVec2::new(10.0, 10.0)), [0, 1]);
//! # Ok::<(), foliowright_order::FigureFault>(())
//! ```

mod arrangement;
mod bits;
mod cell;
mod conflict;
mod engine;
mod fault;
mod figure;
mod listing;
mod literal;
mod overlap;
mod parity;
mod place;
mod problem;
mod rule;
mod search;
mod state;
mod survey;
mod symmetry;
mod system;
mod tally;

pub use bits::ones;
pub use conflict::Conflict;
pub use fault::{FigureFault, Part};
pub use figure::{Bond, Face, Facet, Figure, Fold, Given, Joint};
pub use listing::{Count, Listing};
pub use overlap::Overlap;
pub use place::{FARTHEST, SAME_PLACE};
pub use problem::{Answer, Effort, Leeway, Problem, prepare};
pub use state::State;
pub use survey::MOST_FACETS;
