//! Parts in version 2: what each is, where its paper comes from, where it lies and how it is glued.

mod glue;
mod kind;
mod own;
pub(super) mod place;
pub(super) mod word;

use super::named::Reckons;
use super::{PointKeys, each, listed, point_keys, some_of, unless_empty};
use crate::error::FileError;
use crate::limit::one_line;
use crate::list::List;
use crate::quoted::WordsOr;
use crate::schema::{ONE_LINE, just_one};
use crate::{MOST_GLUE, MOST_TITLE};
use glue::GlueKeys;
use kind::KindKeys;
use model::part::Source;
use model::{Part, PartId, PartSlot, Unit};
use place::PartPlaceKeys;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use word::SourceWords;

/// Something made from an offcut or another sheet, and glued, slid or set on the folio.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a part in { }")]
#[schemars(rename = "Part")]
pub(super) struct PartKeys {
    /// A number that no other part has.
    pub(super) id: u32,
    /// What the maker calls it.
    #[schemars(length(max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    name: Option<String>,
    kind: KindKeys,
    /// Where its paper comes from.
    from: WordsOr<SourceWords, OffcutKeys>,
    place: PartPlaceKeys,
    /// Glue besides that of its kind, such as a pocket's on a second hinge.
    glue: Option<List<GlueKeys, MOST_GLUE>>,
}

/// One offcut: `offcut` to be cut from it, or `whole` just as it is.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "an offcut in { }")]
#[schemars(rename = "Offcut", extend("oneOf" = just_one(&["offcut", "whole"])))]
struct OffcutKeys {
    /// A point inside the offcut that it is cut from.
    offcut: Option<PointKeys>,
    /// A point inside the offcut that it is, whatever its shape.
    whole: Option<PointKeys>,
}

impl PartKeys {
    /// The keys that may be formulas, with where they are from here and the slots of their lengths.
    pub(super) fn reckoned(&mut self) -> impl Iterator<Item = (String, PartSlot, &mut dyn Reckons)> {
        let kind = self.kind.reckoned().into_iter();
        let measures = kind.map(|(path, name, key)| (format!("kind.{path}"), PartSlot::Measure(name), key));
        measures.chain(self.place.reckoned().map(|(path, slot, key)| (path.to_owned(), slot, key)))
    }

    /// Visits what stands on a little sheet of the maker's own, where no formulas belong, with where it is from here.
    pub(super) fn each_inside(&mut self, visit: &mut dyn FnMut(String, &mut dyn Reckons)) {
        self.kind.each_inside(&mut |path, key| visit(format!("kind.own.{path}"), key));
    }
}

/// The part at `path`.
pub(super) fn read(path: &str, keys: PartKeys) -> Result<Part, FileError> {
    Ok(Part {
        id: PartId(keys.id),
        name: one_line(&format!("{path}.name"), keys.name.unwrap_or_default())?,
        kind: kind::read(&format!("{path}.kind"), keys.kind)?,
        source: source(&format!("{path}.from"), keys.from)?,
        place: place::read(keys.place),
        also: each(&format!("{path}.glue"), listed(keys.glue), glue::read)?,
    })
}

fn source(path: &str, keys: WordsOr<SourceWords, OffcutKeys>) -> Result<Source, FileError> {
    match keys {
        WordsOr::Words(SourceWords(source)) => Ok(source),
        WordsOr::Keys(OffcutKeys { offcut: Some(point), whole: None }) => Ok(Source::Offcut(point.point())),
        WordsOr::Keys(OffcutKeys { offcut: None, whole: Some(point) }) => Ok(Source::Whole(point.point())),
        WordsOr::Keys(_) => Err(FileError::value(
            path,
            "a part is cut from an offcut or is a whole one; give just one of offcut and whole",
        )),
    }
}

/// A part as it is written.
pub(super) fn keys(part: &Part, unit: Unit) -> PartKeys {
    PartKeys {
        id: part.id.0,
        name: unless_empty(&part.name),
        kind: kind::keys(&part.kind, unit),
        from: source_keys(part.source, unit),
        place: place::keys(part.place, unit),
        glue: some_of(part.also.iter().map(|gluing| glue::keys(gluing, unit)).collect()),
    }
}

fn source_keys(source: Source, unit: Unit) -> WordsOr<SourceWords, OffcutKeys> {
    let point = |point| Some(point_keys(point, unit));
    match source {
        Source::Offcut(mark) => WordsOr::Keys(OffcutKeys { offcut: point(mark), whole: None }),
        Source::Whole(mark) => WordsOr::Keys(OffcutKeys { offcut: None, whole: point(mark) }),
        words => WordsOr::Words(SourceWords(words)),
    }
}
