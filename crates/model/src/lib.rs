//! The flat sheet: lengths, lines, cuts, the document with its edits, and the layout that follows from it.
//!
//! Everything is exact: authored lengths are whole nanometres, areas whole half square nanometres. Nothing here
//! touches files, clocks or screens, and nothing here panics on any document.

pub mod arrangement;
pub mod board;
pub mod change;
pub mod document;
pub mod edit;
pub mod geometry;
pub mod layout;
pub mod length;
pub mod line;
pub mod mark;
pub mod naming;
pub mod paper;
pub mod polygon;
pub mod resolve;
pub mod turn;

pub use document::{Document, Step, Stock};
pub use edit::{Edit, Refusal};
pub use geometry::{Area, Point, Size, SizeError, Vector};
pub use layout::{Fold, FoldId, Layout, Ledger, Panel, PanelId, Piece, PieceId, Stretch};
pub use length::{Length, LengthError, Unit};
pub use line::{Crease, Datum, Direction, FoldAngle, Line, LineId, Place, Run, Stop, Work};
pub use resolve::{LineFault, Placed, Segment};
pub use turn::{BoardPoint, Turn};
