//! Drawings as display lists: the flat sheet, the folded view, the template's pages.
//!
//! Everything here is a pure function from the model to [`list::Drawing`]. Output formats live in `output`;
//! colours live in [`style`] and nowhere else.

pub mod animation;
pub mod artwork;
pub mod board;
mod chain;
pub mod contact;
pub mod cutting;
pub mod folded;
pub mod hidden;
pub mod inserts;
pub mod laid;
pub mod list;
pub mod sheet;
pub mod style;
pub mod supply;
pub mod template;
pub mod text;
