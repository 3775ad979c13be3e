//! Folding: what hangs together, how it closes step by step, which layer lies on which, and what stands in the way.
//!
//! [`assemble`] takes the folio and its parts out of a layout, a [`Blueprint`] puts pieces together, [`close()`] folds them, [`plan()`]
//! finds steps where there are none, and [`alternatives`] tells what other layer orders there are. World frame:
//! millimetres, right-handed; X to the right of the sheet, Y up the sheet (a sheet point `(x, y)` is at `(x, -y)`), Z
//! towards the maker who looks at the front. The base panel lies still at z = 0, front up or back up.
//!
//! Left out: parts that are glued on only when some steps are over, and how paper bends where it is tucked.

mod advance;
mod alternative;
mod assembly;
mod at_once;
mod axis;
mod blueprint;
mod boxes;
mod close;
mod closure;
mod contact;
mod core;
mod cover;
mod creep;
mod crimp;
mod crossing;
mod face;
mod facet;
mod figure;
mod folding;
mod furnish;
mod gap;
mod glued;
mod gusset;
mod height;
mod hinge;
mod laid;
mod layer;
mod linkage;
pub mod overlap;
mod pile;
mod plan;
mod relations;
mod resting;
mod ring;
mod settle;
mod slab;
mod solid;
mod stage;
mod step;
mod sweep;
#[cfg(test)]
mod tests;
mod thickness;
mod trouble;
mod tuck;
mod verify;
mod vertex;
mod visible;

pub use alternative::{Access, Count, Extent, LayerOrder, PlaneOrders, alternatives};
pub use assembly::{Assembly, Bond, Joint, PanelShape, StepJoints, assemble, to_world};
pub use at_once::at_once;
pub use blueprint::{Blueprint, BlueprintFault, BlueprintStep, Glue, Part, Piece, PiecePanel};
pub use close::{close, verify_steps};
pub use closure::{Ring, mobility};
pub use creep::{
    Back, Creep, HAND_TOLERANCE, MACHINE_TOLERANCE, Reach, channel, creep, halved_strip, least_radius, mitred_wrap,
    outer_strain, reach, roll, roll_shortening, round_wrap, trimmed_back,
};
pub use crimp::{VertexVerdict, free_lines, vertex_verdict, vertex_words};
pub use face::{Shown, View};
pub use folding::{Folding, Overlap, Plane, PosedFace, Woven};
pub use furnish::PartRefusal;
pub use gap::{Allowance, FoldGap, LEAST_DOUBLE, Scoring, gaps, gaps_with, round_back};
pub use gusset::{GussetFit, gussets};
pub use pile::Region;
pub use plan::{Explanation, Hindered, Plan, PlanTrouble, PlannedStep, Wish, Wishes, explain, plan};
pub use resting::{Contact, contacts};
pub use thickness::{Thickness, ThicknessArea, thickness};
pub use trouble::Trouble;
pub use tuck::Tuck;
pub use vertex::KeptCrossing;
pub use visible::{VisibleFace, outline, visible};
