//! Parts: what they are cut from, how that lies, and which of them fit a panel.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

#[path = "../common/any.rs"]
mod any;
mod bench;
mod pattern;
mod place;
mod random;
mod usual;
