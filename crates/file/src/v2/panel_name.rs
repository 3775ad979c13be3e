//! What panels are called, in version 2.

use super::{PointKeys, point_keys};
use crate::MOST_TITLE;
use crate::error::FileError;
use crate::limit::one_line;
use crate::schema::ONE_LINE;
use model::Unit;
use model::panel_name::PanelName;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the maker calls a panel.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a panel's name in { }")]
#[schemars(rename = "PanelName")]
pub(super) struct PanelNameKeys {
    /// A point inside the panel.
    mark: PointKeys,
    /// What it is called.
    #[schemars(length(min = 1, max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    name: String,
}

/// The name at `path`.
pub(super) fn read(path: &str, keys: PanelNameKeys) -> Result<PanelName, FileError> {
    let path = format!("{path}.name");
    let name = one_line(&path, keys.name)?;
    if name.trim().is_empty() {
        return Err(FileError::value(path, "it is empty; name the panel, or take this out"));
    }
    Ok(PanelName { mark: keys.mark.point(), name })
}

/// A name as it is written.
pub(super) fn keys(named: &PanelName, unit: Unit) -> PanelNameKeys {
    PanelNameKeys { mark: point_keys(named.mark, unit), name: named.name.clone() }
}
