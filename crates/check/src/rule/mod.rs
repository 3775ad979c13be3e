//! The rules, in the order in which their findings are shown.

mod blocked;
mod cannot_tuck;
mod lines_coincide;
mod making_circle;
mod misfit_insert;
mod misplaced_corner;
mod misplaced_line;
mod misplaced_part;
mod never_folds;
mod no_base;
mod no_layer_order;
mod no_paper;
mod off_groove;
mod sticks_out;
mod still_joined;
mod strikes;
mod thin_gusset;

use crate::{Context, Finding};
use fold::Folding;
use model::PanelId;
use std::collections::BTreeMap;

/// A rule: from a design to what it has to say about it.
pub type Rule = fn(&Context<'_>) -> Vec<Finding>;

/// Every rule.
pub const ALL: &[Rule] = &[
    no_base::check,
    misplaced_line::check,
    misplaced_corner::check,
    misplaced_part::check,
    still_joined::check,
    blocked::check,
    cannot_tuck::check,
    strikes::check,
    no_layer_order::check,
    sticks_out::check,
    thin_gusset::check,
    no_paper::check,
    misfit_insert::check,
    making_circle::check,
    lines_coincide::check,
    never_folds::check,
    off_groove::check,
];

/// For each panel that moves at all, the first step in which it does.
fn first_moves(folding: &Folding) -> BTreeMap<PanelId, usize> {
    let mut first = BTreeMap::new();
    for step in 0..folding.steps() {
        for panel in folding.moving(step) {
            first.entry(panel).or_insert(step);
        }
    }
    first
}
