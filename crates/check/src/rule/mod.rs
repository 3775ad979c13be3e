//! The rules, in the order in which their findings are shown.

mod across_grain;
mod blocked;
mod brad_in_pocket;
mod cannot_tuck;
mod close_scores;
mod closed_mouth;
mod closure_under;
mod coarse_artwork;
mod creep;
mod empty_step;
mod flaps_apart;
mod glue_beyond_edge;
mod glue_near_fold;
mod glue_over_fold;
mod glued_fast;
mod hinge_blocked;
mod hinge_shows;
mod hinges_not_parallel;
mod lines_coincide;
mod locked_fold;
mod lopsided;
mod making_circle;
mod making_order;
mod misfit_insert;
mod misplaced_corner;
mod misplaced_line;
mod misplaced_part;
mod mouth_down;
mod narrow_strip;
mod never_folds;
mod no_base;
mod no_hairline;
mod no_layer_order;
mod no_paper;
mod no_partner;
mod nothing_shuts_it;
mod off_groove;
mod part_over_fold;
mod pattern_turned;
mod plain_side;
mod post;
mod pressed_side;
mod rigid_loop;
mod slot_missing;
mod small_parts;
mod sticks_out;
mod still_joined;
mod strikes;
mod tearing_corner;
mod thin_gusset;
mod tight_fold;
mod too_thick;
mod unheld_part;
mod weak_glue;
mod worn_fold;

use crate::{Context, Finding, Severity};
use fold::Folding;
use model::PanelId;
use std::collections::BTreeMap;

/// A rule: one thing that can go wrong, and how it is found.
#[derive(Debug, Clone, Copy)]
pub struct Rule {
    /// Its stable name, in small letters with hyphens: its file's.
    pub name: &'static str,
    /// How bad its findings can be, the worst first.
    pub severities: &'static [Severity],
    /// What it finds, why that matters at the table, and where its limits come from: paragraphs, with an empty line between.
    pub about: &'static str,
    /// What it says, for instance.
    pub example: &'static str,
    /// From a design to what it has to say about it.
    pub check: fn(&Context<'_>) -> Vec<Finding>,
}

/// Every rule.
pub const ALL: &[&Rule] = &[
    &no_base::RULE,
    &misplaced_line::RULE,
    &misplaced_corner::RULE,
    &misplaced_part::RULE,
    &unheld_part::RULE,
    &still_joined::RULE,
    &glue_over_fold::RULE,
    &locked_fold::RULE,
    &rigid_loop::RULE,
    &part_over_fold::RULE,
    &no_hairline::RULE,
    &glue_beyond_edge::RULE,
    &glue_near_fold::RULE,
    &blocked::RULE,
    &cannot_tuck::RULE,
    &strikes::RULE,
    &no_layer_order::RULE,
    &sticks_out::RULE,
    &creep::RULE,
    &thin_gusset::RULE,
    &tight_fold::RULE,
    &too_thick::RULE,
    &close_scores::RULE,
    &narrow_strip::RULE,
    &weak_glue::RULE,
    &no_paper::RULE,
    &misfit_insert::RULE,
    &closed_mouth::RULE,
    &glued_fast::RULE,
    &brad_in_pocket::RULE,
    &mouth_down::RULE,
    &hinge_shows::RULE,
    &hinges_not_parallel::RULE,
    &hinge_blocked::RULE,
    &no_partner::RULE,
    &closure_under::RULE,
    &flaps_apart::RULE,
    &nothing_shuts_it::RULE,
    &making_circle::RULE,
    &making_order::RULE,
    &tearing_corner::RULE,
    &coarse_artwork::RULE,
    &across_grain::RULE,
    &lines_coincide::RULE,
    &small_parts::RULE,
    &never_folds::RULE,
    &empty_step::RULE,
    &slot_missing::RULE,
    &lopsided::RULE,
    &pressed_side::RULE,
    &worn_fold::RULE,
    &pattern_turned::RULE,
    &plain_side::RULE,
    &off_groove::RULE,
    &post::RULE,
];

/// The rule of a name.
#[must_use]
pub fn named(name: &str) -> Option<&'static Rule> {
    ALL.iter().copied().find(|rule| rule.name == name)
}

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
    use super::ALL;
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn every_rule_has_a_file_of_its_name_and_a_test_for_what_it_says() {
        let names: BTreeSet<&str> = ALL.iter().map(|rule| rule.name).collect();
        assert_eq!(names.len(), ALL.len(), "no two rules have the same name");
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/rule");
        for rule in ALL {
            let file = folder.join(rule.name.replace('-', "_")).with_extension("rs");
            let source = std::fs::read_to_string(&file)
                .unwrap_or_else(|why| panic!("the rule {} belongs in {}: {why}", rule.name, file.display()));
            let (_, tests) =
                source.split_once("#[cfg(test)]").unwrap_or_else(|| panic!("{} has no tests", file.display()));
            let joined = tests.replace("\\\n", "").replace("\\\"", "\"");
            let words = |text: &str| text.split_whitespace().collect::<String>();
            let is_tested = words(&joined).contains(&words(rule.example));
            assert!(is_tested, "no test in {} has its example word for word: {}", file.display(), rule.example);
            assert!(!rule.severities.is_empty() && !rule.about.is_empty(), "{}", rule.name);
        }
    }
}
