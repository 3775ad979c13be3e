//! Silenced rules in version 2.

use super::part::place::{PanelKeys, panel, panel_keys};
use super::part::word::PartLine;
use super::{PointKeys, listed, point_keys, some_of};
use crate::error::FileError;
use crate::limit::{known_lines, one_line};
use crate::list::List;
use crate::quoted::Quoted;
use crate::schema::ONE_LINE;
use crate::{MOST_SPOKEN_OF, MOST_TITLE};
use model::{Silence, Unit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// What the checker is not to say again of one place: panels, lines, or neither for what is said of the whole design.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a silenced rule in { }")]
#[schemars(rename = "Silence")]
pub(super) struct SilenceKeys {
    /// The rule's name, such as off-groove.
    #[schemars(length(max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    rule: String,
    /// The panels that it speaks of.
    panels: Option<List<PanelKeys, MOST_SPOKEN_OF>>,
    /// The ids of the lines of the sheet that it speaks of.
    lines: Option<List<u32, MOST_SPOKEN_OF>>,
    /// The lines of parts that it speaks of.
    part_lines: Option<List<Quoted<PartLine>, MOST_SPOKEN_OF>>,
    /// The very place on the sheet, where the same panels and lines have several.
    at: Option<PointKeys>,
    /// Why that is as the maker wants it.
    #[schemars(length(min = 1, max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    reason: String,
}

/// The silence at `path`, with the ids of the lines that are there.
pub(super) fn read(path: &str, keys: SilenceKeys, known: &BTreeSet<u32>) -> Result<Silence, FileError> {
    let reason = one_line(&format!("{path}.reason"), keys.reason)?;
    if reason.is_empty() {
        return Err(FileError::value(format!("{path}.reason"), "it is empty; say why that is as you want it"));
    }
    Ok(Silence {
        rule: one_line(&format!("{path}.rule"), keys.rule)?,
        panels: listed(keys.panels).into_iter().map(panel).collect(),
        lines: known_lines(&format!("{path}.lines"), listed(keys.lines), known)?,
        part_lines: listed(keys.part_lines).into_iter().map(|Quoted(PartLine(part, line))| (part, line)).collect(),
        at: keys.at.map(PointKeys::point),
        reason,
    })
}

/// A silence as it is written.
pub(super) fn keys(silence: &Silence, unit: Unit) -> SilenceKeys {
    let part_line = |&(part, line): &(model::PartId, model::LineId)| Quoted(PartLine(part, line));
    SilenceKeys {
        rule: silence.rule.clone(),
        panels: some_of(silence.panels.iter().map(|&panel| panel_keys(panel, unit)).collect()),
        lines: some_of(silence.lines.iter().map(|id| id.0).collect()),
        part_lines: some_of(silence.part_lines.iter().map(part_line).collect()),
        at: silence.at.map(|at| point_keys(at, unit)),
        reason: silence.reason.clone(),
    }
}
