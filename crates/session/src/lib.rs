//! One open design: its document, history, selection, and everything derived from it.
//!
//! Both faces of the program, the window and the command line, work on a [`Session`]. It knows no screen, no file
//! system and no clock.

pub mod carry;
pub mod clip;
pub mod closing;
pub mod command;
pub mod corner;
pub mod deletion;
pub mod derived;
pub mod flap;
pub mod gap;
pub mod history;
pub mod lock;
pub mod mend;
pub mod own;
pub mod part;
pub mod reorder;
pub mod room;
pub mod run;
pub mod select;
pub mod snap;
pub mod spot;
pub mod spread;
pub mod tuck;
pub mod work;
pub mod workshop;

mod session;

pub use command::{Command, Key, Shortcut};
pub use derived::Derived;
pub use model::offcut;
pub use select::{Selected, Selection};
pub use session::Session;
pub use snap::{Fineness, Snapped};
