//! Solid.
