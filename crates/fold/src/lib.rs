//! Folding: what hangs together, how it closes step by step, which layer lies on which, and what stands in the way.
//!
//! [`assemble`] takes the folio out of a layout, [`close()`] folds it. World frame: millimetres, right-handed; X to
//! the right of the sheet, Y up the sheet (a sheet point `(x, y)` is at `(x, -y)`), Z towards the maker who looks at
//! the front. The base panel lies still at z = 0, front up.
//!
//! Left out: parts and glue, a search for layer orders that no sequence of steps reaches (woven flaps), and motion
//! with thickness: paper is a surface here, apart from the small lifts in [`Folding::pose`] that keep layers apart in
//! a drawing.

mod assembly;
mod close;
mod contact;
mod crossing;
mod facet;
mod folding;
mod height;
mod hinge;
mod layer;
pub mod overlap;
mod settle;
mod solid;
mod step;
mod sweep;
#[cfg(test)]
mod tests;
mod trouble;
mod vertex;

pub use assembly::{Assembly, Joint, PanelShape, StepJoints, assemble, to_world};
pub use close::close;
pub use folding::{Folding, Overlap, Plane, PosedFace};
pub use trouble::Trouble;
