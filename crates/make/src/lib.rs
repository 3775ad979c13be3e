//! The order in which a folio and its parts are made: what must come before what, why, and what can be done next.
//!
//! [`Making::of`] works out the jobs that a design has, the reasons for which one must come before another, and an order
//! that obeys them all and is as near as can be to the one that the maker wants. It is a partial order: whatever no reason
//! forbids is allowed ([`Making::next`], [`Making::may_move`]). Where reasons contradict one another there is a [`Circle`],
//! and the jobs are listed all the same. [`Words`] says jobs and reasons in sentences, and [`Caution`] what to mind.
//!
//! Whether parts fit and how the folio closes is not known here, and nothing is written back to the document.
//!
//! ```
//! use foliowright_make::{Making, Words};
//! use model::{Document, Layout, Size, Unit};
//!
//! // A sheet with nothing on it: nothing is scored, cut, glued or closed.
//! let document = Document::new(Size::parse("12x12in").expect("a size"), Unit::Inch);
//! let making = Making::of(&document, &Layout::of(&document));
//! assert!(making.jobs.is_empty() && making.circles.is_empty());
//! ```

mod caution;
mod cover;
mod graph;
mod inside;
mod jobs;
mod legs;
mod lying;
mod making;
mod outside;
mod plane;
mod pose;
mod reason;
mod why;
mod words;

pub use caution::Caution;
pub use making::{Blocked, Circle, Making};
pub use why::{Constraint, Why};
pub use words::Words;
