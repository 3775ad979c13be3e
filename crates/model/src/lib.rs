//! The flat sheet: lengths, lines, cuts, the document with its edits, and the layout that follows from it.
//!
//! Everything is exact: authored lengths are whole nanometres, areas whole half square nanometres. Nothing here
//! touches files, clocks or screens, and nothing here panics on any document.

pub mod arrangement;
pub mod board;
pub mod change;
pub mod corner;
pub mod curve;
pub mod cutting;
pub mod document;
pub mod edit;
pub mod formula;
pub mod geometry;
pub mod layout;
pub mod length;
pub mod line;
pub mod mark;
pub mod named;
pub mod naming;
pub mod numbered;
pub mod offcut;
pub mod panel_name;
pub mod paper;
pub mod part;
pub mod placing;
pub mod polygon;
pub mod pressed;
mod ratio;
pub mod resize;
pub mod resolve;
pub mod silence;
pub mod slot;
pub mod stock;
pub mod turn;
pub mod weight;
pub mod words;

pub use corner::{Border, Corner, CornerShape, Which};
pub use document::{Cutting, Document, Step, Tucked};
pub use edit::{Edit, Refusal};
pub use formula::{Formula, FormulaError};
pub use geometry::{Area, Point, Size, SizeError, Vector};
pub use layout::{
    CornerFault, CornerTaken, CornerTrouble, CornerWork, Fold, FoldId, FreeCorner, InnerCorner, Layout, Ledger, Panel,
    PanelId, Piece, PieceId, Stretch, Void, VoidKind,
};
pub use length::{Length, LengthError, Unit};
pub use line::{
    Crease, Datum, Direction, Face, FoldAngle, Line, LineId, Notch, Place, Run, Spot, Stop, Strip, StripSide, Work,
};
pub use named::{NamedLength, NamedLengths, Reading, Typed};
pub use numbered::Numbered;
pub use part::{PanelRef, Part, PartId, PartKind, PartLayout};
pub use resolve::{LineFault, Placed, Segment, Track};
pub use silence::Silence;
pub use slot::{LineSlot, PartSlot, Slot, SpotSlot};
pub use stock::{Artwork, Caliper, Colour, FurtherStock, Grain, Pattern, SheetEdge, Side, Stock, StockId};
pub use turn::{BoardPoint, Turn};
pub use weight::{Bulk, Grade, Weight, WeightScale};
