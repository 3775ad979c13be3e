//! Corners in version 2: of which panel, which of them, and what is done with them.

use super::named::{Reckoned, Reckons, reckoned};
use super::{PointKeys, point_keys};
use crate::error::FileError;
use crate::quoted::{Pair, Quoted};
use crate::schema::one_of_groups;
use crate::word::not;
use model::{Border, Corner, CornerShape, Unit, Which};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Error, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::fmt;

/// What is done with one corner or several: one of `round`, `clip` and `square`.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a corner in { }")]
#[schemars(rename = "Corner", extend("oneOf" = one_of_groups(&[&["round"], &["clip"], &["square"]])))]
pub(super) struct CornerKeys {
    /// A point inside the panel whose corners they are.
    mark: PointKeys,
    which: WhichKeys,
    /// Rounded, with this radius.
    round: Option<Quoted<Reckoned>>,
    /// Cut off straight, so far from the corner along both sides.
    clip: Option<Quoted<Reckoned>>,
    /// Left as it is cut.
    #[schemars(extend("enum" = [true, null]))]
    square: Option<bool>,
}

struct WhichKeys(Which);

impl CornerKeys {
    /// The key that may be a formula, with what it is called.
    pub(super) fn reckoned(&mut self) -> Option<(&'static str, &mut dyn Reckons)> {
        let round = self.round.as_mut().map(|key| ("round", &mut key.0 as &mut dyn Reckons));
        round.or(self.clip.as_mut().map(|key| ("clip", &mut key.0 as &mut dyn Reckons)))
    }
}

/// The corner at `path`.
pub(super) fn read(path: &str, keys: CornerKeys) -> Result<Corner, FileError> {
    let shape = match (keys.round, keys.clip, keys.square) {
        (Some(radius), None, None) => CornerShape::Round(radius.0.length),
        (None, Some(distance), None) => CornerShape::Clip(distance.0.length),
        (None, None, Some(true)) => CornerShape::Square,
        _ => {
            let says = "a corner is round, clip or square; give just one of these: round or clip with a length, or \
                        square with true";
            return Err(FileError::value(path, says));
        }
    };
    Ok(Corner { mark: keys.mark.point(), which: keys.which.0, shape })
}

/// A corner as it is written.
pub(super) fn keys(corner: &Corner, unit: Unit) -> CornerKeys {
    let bare = CornerKeys {
        mark: point_keys(corner.mark, unit),
        which: WhichKeys(corner.which),
        round: None,
        clip: None,
        square: None,
    };
    match corner.shape {
        CornerShape::Square => CornerKeys { square: Some(true), ..bare },
        CornerShape::Round(radius) => CornerKeys { round: Some(reckoned(radius, unit)), ..bare },
        CornerShape::Clip(distance) => CornerKeys { clip: Some(reckoned(distance, unit)), ..bare },
    }
}

impl Serialize for WhichKeys {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            Which::AllOfPanel => serializer.serialize_str("panel"),
            Which::AllOfPiece => serializer.serialize_str("piece"),
            Which::Between(a, b) => Pair([Quoted(a), Quoted(b)]).serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for WhichKeys {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(WhichVisitor)
    }
}

const WHICH: &str = "\"panel\", \"piece\" or the two borders that meet there, such as [\"line 3\", \"top edge\"],";

struct WhichVisitor;

impl<'de> Visitor<'de> for WhichVisitor {
    type Value = WhichKeys;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(WHICH)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<WhichKeys, E> {
        match text {
            "panel" => Ok(WhichKeys(Which::AllOfPanel)),
            "piece" => Ok(WhichKeys(Which::AllOfPiece)),
            _ => Err(E::custom(not(text, WHICH))),
        }
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<WhichKeys, A::Error> {
        let mut borders: Vec<Quoted<Border>> = Vec::new();
        while let Some(border) = list.next_element()? {
            borders.push(border);
        }
        let Pair([a, b]) = Pair::of(borders)?;
        Ok(WhichKeys(Which::Between(a.0, b.0)))
    }
}

impl JsonSchema for WhichKeys {
    fn schema_name() -> Cow<'static, str> {
        "Which".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let pair = generator.subschema_for::<Pair<Quoted<Border>>>();
        json_schema!({
            "description": "All free corners of the panel, or of its piece, or the one where two borders meet.",
            "anyOf": [{ "enum": ["panel", "piece"] }, pair],
        })
    }
}
