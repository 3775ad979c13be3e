//! Steps of the closing order in version 2: a list of the lines that fold, or an object where parts fold or something is
//! tucked.

use super::part::place::{PanelKeys, panel, panel_keys};
use super::part::word::PartLine;
use super::{listed, some_of};
use crate::MOST_TUCKS;
use crate::error::FileError;
use crate::limit::known_lines;
use crate::list::List;
use crate::quoted::Quoted;
use model::{Document, Step, Tucked, Unit};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fmt;

/// A step as it stands in a file: the short way, where only lines of the sheet fold, or the long one.
pub(super) enum StepKeys {
    Lines(Lines),
    All(AllKeys),
}

type Lines = List<u32, { Document::MOST_LINES }>;

/// A step in which lines of parts fold, or something is tucked.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a step in { }")]
#[schemars(rename = "Step")]
pub(super) struct AllKeys {
    /// The ids of the lines of the sheet that fold.
    lines: Option<Lines>,
    /// The lines of parts that fold.
    parts: Option<List<Quoted<PartLine>, { Document::MOST_LINES }>>,
    /// What is tucked under something as it folds.
    tucks: Option<List<TuckKeys, MOST_TUCKS>>,
}

/// A panel that is tucked under another, or into it.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a tuck in { }")]
#[schemars(rename = "Tuck")]
struct TuckKeys {
    /// The panel that moves.
    panel: PanelKeys,
    /// The panel under which it comes to lie.
    under: PanelKeys,
}

/// The step at `path`, with the ids of the lines that are there.
pub(super) fn read(path: &str, keys: StepKeys, known: &BTreeSet<u32>) -> Result<Step, FileError> {
    let AllKeys { lines, parts, tucks } = match keys {
        StepKeys::Lines(List(ids)) => return known_lines(path, ids, known).map(Step::of),
        StepKeys::All(keys) => keys,
    };
    let tuck = |keys: TuckKeys| Tucked { panel: panel(keys.panel), under: panel(keys.under) };
    Ok(Step {
        lines: known_lines(&format!("{path}.lines"), listed(lines), known)?,
        parts: listed(parts).into_iter().map(|Quoted(PartLine(part, line))| (part, line)).collect(),
        tucks: listed(tucks).into_iter().map(tuck).collect(),
    })
}

/// A step as it is written.
pub(super) fn keys(step: &Step, unit: Unit) -> StepKeys {
    let lines: Vec<u32> = step.lines.iter().map(|id| id.0).collect();
    if step.parts.is_empty() && step.tucks.is_empty() {
        return StepKeys::Lines(List(lines));
    }
    let tuck = |tuck: &Tucked| TuckKeys { panel: panel_keys(tuck.panel, unit), under: panel_keys(tuck.under, unit) };
    StepKeys::All(AllKeys {
        lines: some_of(lines),
        parts: some_of(step.parts.iter().map(|&(part, line)| Quoted(PartLine(part, line))).collect()),
        tucks: some_of(step.tucks.iter().map(tuck).collect()),
    })
}

impl Serialize for StepKeys {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Lines(lines) => lines.serialize(serializer),
            Self::All(keys) => keys.serialize(serializer),
        }
    }
}

impl<'de> Deserialize<'de> for StepKeys {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(StepVisitor)
    }
}

struct StepVisitor;

impl<'de> Visitor<'de> for StepVisitor {
    type Value = StepKeys;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list of line ids such as [1, 2], or a step in { },")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<StepKeys, A::Error> {
        List::deserialize(SeqAccessDeserializer::new(list)).map(StepKeys::Lines)
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<StepKeys, A::Error> {
        AllKeys::deserialize(MapAccessDeserializer::new(map)).map(StepKeys::All)
    }
}

impl JsonSchema for StepKeys {
    fn schema_name() -> Cow<'static, str> {
        "LinesOrStep".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let ways = [generator.subschema_for::<Lines>(), generator.subschema_for::<AllKeys>()];
        json_schema!({
            "description": "The ids of the lines that fold together, or an object where lines of parts fold too, or \
                            something is tucked.",
            "anyOf": ways,
        })
    }
}
