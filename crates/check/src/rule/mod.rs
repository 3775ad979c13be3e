//! The rules, in the order in which their findings are shown.

use crate::{Context, Finding};

/// A rule: from a design to what it has to say about it.
pub type Rule = fn(&Context<'_>) -> Vec<Finding>;

/// Every rule.
pub const ALL: &[Rule] = &[];
