//! Parts from leftover paper: which part is cut from which leftover, by cuts that run from edge to edge.
//!
//! [`nest`] takes the paper there is and the rectangles wanted, and gives a [`Plan`]: placements, the cuts in their
//! order, what remains, and whether a better plan is out of the question or how far one could go at most.
//! [`extra_sheets`] says how many whole sheets the parts need that did not fit, and how those are cut.
//!
//! Everything is exact, lengths in whole nanometres. Small tasks are solved to the end, larger ones as far as the
//! [`Effort`] allows, and either way the plan is the same on every machine. Where leftovers come from, what parts are
//! for and how cuts are shown is not known here.
//!
//! ```
//! use foliowright_nest::{Effort, Goal, Knife, Leftover, Part, Quality, Task, nest};
//! use model::Size;
//!
//! // Two hinges and a card from a strip.
//! let strip = Leftover::of_size(Size::parse("8x2in").expect("a size"));
//! let parts = [("3x1in", 2), ("2x3 1/2in", 1)].map(|(size, count)| Part::new(Size::parse(size).expect("a size"), count));
//! let task = Task {
//!     leftovers: vec![strip],
//!     parts: parts.to_vec(),
//!     knife: Knife::default(),
//!     goal: Goal::Area,
//!     effort: Effort::default(),
//! };
//! let plan = nest(&task)?;
//! assert_eq!((plan.placements.len(), plan.cuts, plan.quality), (3, 3, Quality::Proved));
//! # Ok::<(), foliowright_nest::TaskFault>(())
//! ```

mod carve;
mod counts;
mod entry;
mod fault;
mod layout;
mod lists;
mod neighbour;
mod outline;
mod plan;
mod price;
mod problem;
mod raster;
mod sheets;
mod sketch;
mod solve;
mod table;
mod task;
mod tidy;
mod wanted;
mod work;

pub use fault::{MOST_COPIES, MOST_CORNERS, MOST_LEFTOVERS, MOST_PARTS, TaskFault};
pub use plan::{Body, Cut, LeftoverPlan, Opening, Paper, Placement, Plan, Quality, Remainder, Way};
pub use sheets::{SheetPlan, Sheets, extra_sheets};
pub use task::{Effort, Goal, Knife, Leftover, Part, Rect, Task, Turning};
pub use work::nest;
