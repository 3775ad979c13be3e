//! Glue in version 2 that a maker puts on a part besides that of its kind.

use super::place::{PanelKeys, panel, panel_keys};
use super::word::{AreaWord, panel_at, panel_number};
use crate::error::FileError;
use crate::list::List;
use crate::quoted::{Quoted, WordsOr};
use crate::v2::measure;
use crate::word::Measure;
use model::part::{Edges, GlueArea, Gluing};
use model::{Face, SheetEdge, Unit};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::num::NonZeroU32;

/// Glue between a panel of the part and another panel.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "glue in { }")]
#[schemars(rename = "Glue")]
pub(super) struct GlueKeys {
    /// The part's panel, counted from 1 in reading order on the part's own little sheet.
    panel: NonZeroU32,
    /// The face of it that the glue is on.
    face: Quoted<Face>,
    /// The panel that it is glued to.
    to: PanelKeys,
    /// Where on the part's panel; all over when left out.
    area: Option<WordsOr<AreaWord, StripsKeys>>,
}

/// Lines of glue along edges.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "strips in { }")]
#[schemars(rename = "Strips")]
struct StripsKeys {
    /// The edges of the upright rectangle around the panel.
    edges: EdgeList,
    /// How wide the glue is.
    strip: Quoted<Measure>,
}

/// Some of the four edges of a rectangle, each once.
pub(super) struct EdgeList(pub(super) Edges);

type EdgeWords = List<Quoted<SheetEdge>, 4>;

/// The glue at `path`.
pub(super) fn read(path: &str, keys: GlueKeys) -> Result<Gluing, FileError> {
    let beyond = || FileError::value(format!("{path}.panel"), "no part has so many panels; write a lower number");
    Ok(Gluing {
        panel: panel_at(keys.panel.get()).ok_or_else(beyond)?,
        face: keys.face.0,
        to: panel(keys.to),
        area: match keys.area {
            None | Some(WordsOr::Words(AreaWord::Whole)) => GlueArea::Whole,
            Some(WordsOr::Words(AreaWord::None)) => GlueArea::None,
            Some(WordsOr::Keys(strips)) => GlueArea::Strips(strips.edges.0, strips.strip.0.length),
        },
    })
}

/// Glue as it is written.
pub(super) fn keys(gluing: &Gluing, unit: Unit) -> GlueKeys {
    GlueKeys {
        panel: panel_number(gluing.panel),
        face: Quoted(gluing.face),
        to: panel_keys(gluing.to, unit),
        area: match gluing.area {
            GlueArea::Whole => None,
            GlueArea::None => Some(WordsOr::Words(AreaWord::None)),
            GlueArea::Strips(edges, strip) => {
                Some(WordsOr::Keys(StripsKeys { edges: EdgeList(edges), strip: measure(strip, unit) }))
            }
        },
    }
}

impl Serialize for EdgeList {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().map(Quoted))
    }
}

impl<'de> Deserialize<'de> for EdgeList {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let mut edges = Edges::NONE;
        for Quoted(edge) in EdgeWords::deserialize(deserializer)?.0 {
            if edges.has(edge) {
                return Err(D::Error::custom(format!("{} is there twice; take one out", edge.word())));
            }
            edges = edges.with(edge, true);
        }
        Ok(Self(edges))
    }
}

impl JsonSchema for EdgeList {
    fn schema_name() -> Cow<'static, str> {
        "Edges".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let item = generator.subschema_for::<Quoted<SheetEdge>>();
        json_schema!({ "type": "array", "items": item, "uniqueItems": true })
    }
}
