//! Numbers of offcuts in version 2, where they are not those of reading order.

use super::{PointKeys, point_keys};
use crate::error::FileError;
use model::{Numbered, Unit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// An offcut by its number.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "an offcut in { }")]
#[schemars(rename = "Offcut")]
pub(super) struct OffcutKeys {
    /// Its number, from 1.
    #[schemars(range(min = 1, max = Numbered::HIGHEST))]
    number: u32,
    /// A point inside it.
    mark: PointKeys,
}

/// All of them; no number stands twice.
pub(super) fn read(all: Vec<OffcutKeys>) -> Result<Vec<Numbered>, FileError> {
    let mut given = BTreeSet::new();
    let one = |(i, keys): (usize, OffcutKeys)| {
        let refuse = |says: String| Err(FileError::value(format!("offcuts[{i}].number"), says));
        if !(1..=Numbered::HIGHEST).contains(&keys.number) {
            return refuse(format!(
                "{} is no number of an offcut; give one from 1 to {}",
                keys.number,
                Numbered::HIGHEST
            ));
        }
        if !given.insert(keys.number) {
            return refuse(format!("{} stands twice; give each offcut a number of its own", keys.number));
        }
        Ok(Numbered { number: keys.number, mark: keys.mark.point() })
    };
    all.into_iter().enumerate().map(one).collect()
}

/// An offcut as it is written.
pub(super) fn keys(numbered: &Numbered, unit: Unit) -> OffcutKeys {
    OffcutKeys { number: numbered.number, mark: point_keys(numbered.mark, unit) }
}
