//! Lists that say how long they may be, so that a wrong file is refused before it fills the memory.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Error, IgnoredAny, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

/// A list of at most so many items. What is written may be longer, and is refused when it is read.
pub(crate) struct List<T, const MOST: usize>(pub(crate) Vec<T>);

impl<T: Serialize, const MOST: usize> Serialize for List<T, MOST> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de, T: Deserialize<'de>, const MOST: usize> Deserialize<'de> for List<T, MOST> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(Items(PhantomData))
    }
}

struct Items<T, const MOST: usize>(PhantomData<T>);

impl<'de, T: Deserialize<'de>, const MOST: usize> Visitor<'de> for Items<T, MOST> {
    type Value = List<T, MOST>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a sequence")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut sequence: A) -> Result<List<T, MOST>, A::Error> {
        let mut items = Vec::new();
        while items.len() < MOST {
            match sequence.next_element()? {
                Some(item) => items.push(item),
                None => return Ok(List(items)),
            }
        }
        // The others are counted and not kept.
        let mut count = MOST;
        while sequence.next_element::<IgnoredAny>()?.is_some() {
            count += 1;
        }
        let says = || A::Error::custom(format!("there are {count} here and at most {MOST} belong; take some out"));
        if count > MOST { Err(says()) } else { Ok(List(items)) }
    }
}

impl<T: JsonSchema, const MOST: usize> JsonSchema for List<T, MOST> {
    fn schema_name() -> Cow<'static, str> {
        format!("ListOf{}", T::schema_name()).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let item = generator.subschema_for::<T>();
        json_schema!({ "type": "array", "items": item, "maxItems": MOST })
    }
}
