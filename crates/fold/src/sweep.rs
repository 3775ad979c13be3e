//! Motion.
use crate::layer::Lie;
use crate::step::Motion;
/// A
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strike { pub(crate) moving: usize, pub(crate) with: usize, pub(crate) degrees: f64 }
pub(crate) fn strikes(_start: &Lie, _motion: &Motion) -> Vec<Strike> { Vec::new() }
