//! The JSON Schema of the version that is written, from its mirror.
//!
//! A schema says which keys there are, which go together and how words are spelled, in the plain spellings only: the
//! reader takes some more, such as capital units. What needs arithmetic or a look elsewhere (that ids differ, that a
//! step's lines are there) only the reader says.

use crate::quoted::{Numbered, Pair, Plain, Quoted, WordsOr, Written};
use crate::{pretty, v2};
use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Map, Value, json};
use std::borrow::Cow;

/// The JSON Schema (draft 2020-12) of version 2 of the project file, as JSON with a line feed at the end.
///
/// The same text each time; it is kept in `docs/folio.schema.json`.
#[must_use]
pub fn schema() -> String {
    let settings = SchemaSettings::draft2020_12().with_transform(RecursiveTransform(plain));
    let schema = settings.into_generator().into_root_schema_for::<v2::FolioKeys>();
    // Written out by its own rules first, which put keys in the order in which a schema reads best.
    pretty::text(&serde_json::to_value(schema).expect("a schema is JSON already"))
}

/// Puts what only Rust knows into words that every reader of schemas knows.
fn plain(schema: &mut Schema) {
    if schema.get("format").is_some_and(|format| format == "uint32") {
        schema.remove("format");
        let schema = schema.ensure_object();
        schema.entry("maximum").or_insert_with(|| u32::MAX.into());
    }
    if let Some(Value::String(about)) = schema.get_mut("description") {
        *about = about.replace('\n', " ");
    }
}

/// Text without control characters, for titles and names.
pub(crate) const ONE_LINE: &str = "^[^\\u0000-\\u001f\\u007f-\\u009f]*$";

/// Text without control characters but line feeds.
pub(crate) const MANY_LINES: &str = "^[^\\u0000-\\u0009\\u000b-\\u001f\\u007f-\\u009f]*$";

/// A length of more than nothing, beside the schema of lengths: without a minus and not all noughts.
pub(crate) const POSITIVE: &str = "^(?![-−]).*[1-9½¼¾⅛⅜⅝⅞⅓⅔⅕⅖]";

/// The same beside the schema of lengths that may be formulas, which begin with a letter or a bracket.
pub(crate) const POSITIVE_OR_FORMULA: &str = "^(?:[^-−+0-9½¼¾⅛⅜⅝⅞⅓⅔⅕⅖.]|(?![-−]).*[1-9½¼¾⅛⅜⅝⅞⅓⅔⅕⅖])";

/// A schema that holds where all of some keys are there and none of some others; a key that is null is not there.
pub(crate) fn with_without(with: &[&str], without: &[&str]) -> Value {
    let nothing = json!({ "type": "null" });
    let given = with.iter().map(|key| ((*key).to_owned(), json!({ "not": nothing })));
    let all = given.chain(without.iter().map(|key| ((*key).to_owned(), nothing.clone())));
    json!({ "required": with, "properties": Map::from_iter(all) })
}

/// A schema that holds where the keys of just one group are there, and none of the others.
pub(crate) fn one_of_groups(groups: &[&[&str]]) -> Value {
    let group = |i: usize| {
        let others = groups.iter().enumerate().filter(|(j, _)| *j != i);
        let others: Vec<&str> = others.flat_map(|(_, group)| group.iter().copied()).collect();
        with_without(groups[i], &others)
    };
    (0..groups.len()).map(group).collect()
}

/// A schema that holds where just one of some keys is there.
pub(crate) fn just_one(keys: &[&str]) -> Value {
    keys.iter().map(|key| with_without(&[key], &[])).collect()
}

impl<T: Written> JsonSchema for Quoted<T> {
    fn schema_name() -> Cow<'static, str> {
        T::NAME.into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        T::schema()
    }
}

impl<T: Numbered> JsonSchema for Plain<T> {
    fn schema_name() -> Cow<'static, str> {
        T::NAME.into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "integer", "enum": T::ALL })
    }
}

impl<W: Written, K: JsonSchema> JsonSchema for WordsOr<W, K> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}Or{}", W::NAME, K::schema_name()).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let ways = [generator.subschema_for::<Quoted<W>>(), generator.subschema_for::<K>()];
        json_schema!({ "anyOf": ways })
    }
}

impl<T: JsonSchema> JsonSchema for Pair<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("PairOf{}", T::schema_name()).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let item = generator.subschema_for::<T>();
        json_schema!({ "type": "array", "items": item, "minItems": 2, "maxItems": 2 })
    }
}
