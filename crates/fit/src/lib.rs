//! What fits: which cards go into pockets, between tuck corners and into trays, whether the inserts of a design fit where
//! they lie, and how large a mat may be on every face that shows.
//!
//! Pure functions from a document and what is derived from it. What is authored in lengths comes out in lengths, exact;
//! what is worked out in floats goes through [`rounding`], to the safe side. [`words`] says it all to a maker.
//!
//! Left out: pockets that the folio's own panels make (only parts carry glue, so none is closed for certain), parts of the
//! maker's own shape, and what another part glued into a pocket takes from it.

pub mod card;
mod ground;
mod insert;
mod mat;
mod pocket;
mod rectangle;
mod room;
pub mod rounding;
mod tray;
mod tuck;
pub mod words;

pub use card::{CARDS, Card};
pub use insert::{Holder, Holders, InsertFit, Loaded, Misfit, inserts, loaded};
pub use mat::{LEAST_MAT, MARGIN, MatCut, MatFit, Sight, cut_list, mats};
pub use pocket::{Holds, Inside, PocketFit, pockets};
pub use room::{ALLOWANCE, CardFit, Depth, Ends, LEAST_HELD, Room, SPRING, Span, over_flat_back, stacked};
pub use tray::{TrayFit, trays};
pub use tuck::{Corner, CornerFit, CornerSet, corner_sets};
