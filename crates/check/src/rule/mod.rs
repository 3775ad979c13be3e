//! The rules, in the order in which their findings are shown.

mod across_grain;
mod blocked;
mod brad_in_pocket;
mod cannot_tuck;
mod close_scores;
mod closed_mouth;
mod coarse_artwork;
mod glue_beyond_edge;
mod glue_over_fold;
mod hinge_shows;
mod hinges_not_parallel;
mod lines_coincide;
mod lopsided;
mod making_circle;
mod misfit_insert;
mod misplaced_corner;
mod misplaced_line;
mod misplaced_part;
mod mouth_down;
mod narrow_strip;
mod never_folds;
mod no_base;
mod no_layer_order;
mod no_paper;
mod no_partner;
mod nothing_shuts_it;
mod off_groove;
mod part_over_fold;
mod pattern_turned;
mod plain_side;
mod pressed_side;
mod small_parts;
mod sticks_out;
mod still_joined;
mod strikes;
mod tearing_corner;
mod thin_gusset;
mod tight_fold;
mod unheld_part;

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
    unheld_part::check,
    still_joined::check,
    glue_over_fold::check,
    part_over_fold::check,
    glue_beyond_edge::check,
    blocked::check,
    cannot_tuck::check,
    strikes::check,
    no_layer_order::check,
    sticks_out::check,
    thin_gusset::check,
    tight_fold::check,
    close_scores::check,
    narrow_strip::check,
    no_paper::check,
    misfit_insert::check,
    closed_mouth::check,
    brad_in_pocket::check,
    mouth_down::check,
    hinge_shows::check,
    hinges_not_parallel::check,
    no_partner::check,
    nothing_shuts_it::check,
    making_circle::check,
    tearing_corner::check,
    coarse_artwork::check,
    across_grain::check,
    lines_coincide::check,
    small_parts::check,
    never_folds::check,
    lopsided::check,
    pressed_side::check,
    pattern_turned::check,
    plain_side::check,
    off_groove::check,
];

/// What the rules are called, in the order of their file names: each what its file is called, with hyphens.
pub const NAMES: &[&str] = &[
    "across-grain",
    "blocked",
    "brad-in-pocket",
    "cannot-tuck",
    "close-scores",
    "closed-mouth",
    "coarse-artwork",
    "glue-beyond-edge",
    "glue-over-fold",
    "hinge-shows",
    "hinges-not-parallel",
    "lines-coincide",
    "lopsided",
    "making-circle",
    "misfit-insert",
    "misplaced-corner",
    "misplaced-line",
    "misplaced-part",
    "mouth-down",
    "narrow-strip",
    "never-folds",
    "no-base",
    "no-layer-order",
    "no-paper",
    "no-partner",
    "nothing-shuts-it",
    "off-groove",
    "part-over-fold",
    "pattern-turned",
    "plain-side",
    "pressed-side",
    "small-parts",
    "sticks-out",
    "still-joined",
    "strikes",
    "tearing-corner",
    "thin-gusset",
    "tight-fold",
    "unheld-part",
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

#[cfg(test)]
mod tests {
    use super::{ALL, NAMES};
    use std::collections::BTreeSet;

    #[test]
    fn every_rule_has_a_name_of_its_own() {
        let names: BTreeSet<&str> = NAMES.iter().copied().collect();
        assert_eq!((names.len(), NAMES.len()), (ALL.len(), ALL.len()), "a rule that is added is named here too");
    }
}
