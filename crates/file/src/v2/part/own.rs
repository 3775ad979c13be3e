//! Parts of the maker's own in version 2: a little sheet with lines and corners like the folio's.

use crate::MOST_OWN_LINES;
use crate::error::FileError;
use crate::limit::{Steps, no_doubles, steps};
use crate::list::List;
use crate::quoted::Quoted;
use crate::schema::POSITIVE_OR_FORMULA;
use crate::v2::corner::{self, CornerKeys};
use crate::v2::line::{self, LineKeys};
use crate::v2::named::{Reckoned, Reckons, reckoned};
use crate::v2::{PointKeys, each, listed, point_keys, some_of};
use model::part::Own;
use model::{LineId, Size, SizeError, Unit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A shape of the maker's own. Its lines and points are those of its own little sheet, which has an upper left corner of
/// its own.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a shape in { }")]
#[schemars(rename = "Own")]
pub(super) struct OwnKeys {
    /// How wide the rectangle is that it is cut from; more than zero.
    #[schemars(extend("pattern" = POSITIVE_OR_FORMULA))]
    width: Quoted<Reckoned>,
    /// How high the rectangle is that it is cut from; more than zero.
    #[schemars(extend("pattern" = POSITIVE_OR_FORMULA))]
    height: Quoted<Reckoned>,
    /// Its scores, cuts and guides.
    lines: Option<List<LineKeys, MOST_OWN_LINES>>,
    /// What is done with its corners.
    corners: Option<List<CornerKeys, MOST_OWN_LINES>>,
    /// A point inside its main panel, by which it is placed.
    base: PointKeys,
    /// What is folded before it is put in place: for each step, the ids of its lines that fold together.
    folded: Option<Steps<MOST_OWN_LINES>>,
}

impl OwnKeys {
    /// The sides of its little sheet, which may be formulas.
    pub(super) fn sides(&mut self) -> [&mut dyn Reckons; 2] {
        [&mut self.width.0, &mut self.height.0]
    }

    /// Visits what stands on its little sheet, where no formulas belong, each with where it is from here.
    pub(super) fn each_inside(&mut self, visit: &mut dyn FnMut(String, &mut dyn Reckons)) {
        for (at, line) in self.lines.iter_mut().flat_map(|list| &mut list.0).enumerate() {
            line.reckoned().into_iter().for_each(|(path, _, key)| visit(format!("lines[{at}].{path}"), key));
        }
        for (at, corner) in self.corners.iter_mut().flat_map(|list| &mut list.0).enumerate() {
            corner.reckoned().into_iter().for_each(|(path, key)| visit(format!("corners[{at}].{path}"), key));
        }
    }
}

/// The shape at `path`.
pub(super) fn read(path: &str, keys: OwnKeys) -> Result<Own, FileError> {
    let lines_at = format!("{path}.lines");
    let lines = listed(keys.lines);
    no_doubles(lines.iter().map(|keys| keys.id), &lines_at, "line")?;
    let lines = each(&lines_at, lines, line::read)?;
    Ok(Own {
        size: Size::new(keys.width.0.length, keys.height.0.length)
            .ok_or_else(|| FileError::value(path, SizeError::NotPositive.to_string()))?,
        corners: each(&format!("{path}.corners"), listed(keys.corners), corner::read)?,
        base: keys.base.point(),
        folded: steps(&format!("{path}.folded"), List(listed(keys.folded)), &lines)?,
        lines,
    })
}

/// A shape as it is written.
pub(super) fn keys(own: &Own, unit: Unit) -> OwnKeys {
    let step = |lines: &Vec<LineId>| List(lines.iter().map(|id| id.0).collect());
    OwnKeys {
        width: reckoned(own.size.width(), unit),
        height: reckoned(own.size.height(), unit),
        lines: some_of(own.lines.iter().map(|line| line::keys(line, unit)).collect()),
        corners: some_of(own.corners.iter().map(|corner| corner::keys(corner, unit)).collect()),
        base: point_keys(own.base, unit),
        folded: some_of(own.folded.iter().map(step).collect()),
    }
}
