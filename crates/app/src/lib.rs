//! The window: the sheet on its table, the folded view beside it, lists of lines, steps and findings.
//!
//! It reads a [`session::Session`] and asks it for changes; no rule and no geometry of folding lives here. It knows
//! `egui` and no windowing system, so that tests run it without a screen: [`Window::ui`] draws a frame into any
//! [`egui::Ui`].

mod arrangement;
mod artwork;
mod ask_lengths;
pub mod chooser;
mod commands;
mod comparison;
mod dialog;
mod export;
mod field;
mod form;
mod gallery;
mod going_in;
mod icon;
mod label;
mod menu;
mod naming;
mod paint;
mod pane;
mod theme;
mod tip;
mod view_transform;
mod window;
mod work;

pub use chooser::{Chooser, Chosen, DesktopDialogs, Request, Scripted};
pub use window::Window;
