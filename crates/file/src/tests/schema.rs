//! The schema: the text that is kept, the keys of the mirror, and words that the reader takes.

use super::feature::FULL;
use super::named::NAMED;
use super::part::MADE;
use super::*;
use crate::quoted::Written;
use crate::word::Measure;
use model::{Border, Bulk, Colour, Weight};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

#[test]
fn the_kept_schema_is_that_of_the_program() {
    let kept = include_str!("../../../../docs/folio.schema.json");
    let renew = "renew it: cargo run -- export schema -o docs/folio.schema.json";
    assert!(crate::schema() == kept, "docs/folio.schema.json is not what the program says; {renew}");
}

/// All keys of objects in a JSON value.
fn keys(value: &Value) -> BTreeSet<String> {
    match value {
        Value::Object(items) => {
            items.iter().flat_map(|(key, item)| [BTreeSet::from([key.clone()]), keys(item)]).flatten().collect()
        }
        Value::Array(items) => items.iter().flat_map(keys).collect(),
        _ => BTreeSet::new(),
    }
}

/// All keys that objects may have by a schema.
fn properties(schema: &Value) -> BTreeSet<String> {
    let own = schema.get("properties").and_then(Value::as_object).into_iter().flat_map(|items| items.keys().cloned());
    let below = match schema {
        Value::Object(items) => items.values().flat_map(properties).collect(),
        Value::Array(items) => items.iter().flat_map(properties).collect(),
        _ => BTreeSet::new(),
    };
    own.chain(below).collect()
}

#[test]
fn the_schema_has_the_keys_that_designs_have() {
    let json = |text: &str| serde_json::from_str::<Value>(text).unwrap();
    let (silenced, variation) = (super::silence::text(), super::variation::text());
    let (named, numbered) = (super::panel_name::text(), super::offcut::text());
    let samples = [SMALL, FULL, MADE, NAMED, &silenced, &variation, &named, &numbered];
    let all: BTreeSet<String> = samples.iter().flat_map(|text| keys(&json(text))).collect();
    // Every key of the format is in one of these samples, but for those that exclude others there.
    let known = properties(&json(&crate::schema()));
    let untried: Vec<&String> = known.difference(&all).collect();
    assert!(
        untried.is_empty(),
        "no sample has {untried:?}; add them to one, for a kind of part to MADE in tests/part.rs"
    );
    assert_eq!(known, all);
}

#[test]
fn every_object_refuses_keys_it_does_not_have() {
    let schema: Value = serde_json::from_str(&crate::schema()).unwrap();
    let defs = schema["$defs"].as_object().unwrap().values();
    for object in defs.chain([&schema]).filter(|def| def["type"] == "object") {
        assert_eq!(object["additionalProperties"], false, "{object}");
    }
}

/// Every text that the pattern allows is read, but for what only arithmetic can refuse.
#[track_caller]
fn check<T: Written>() {
    let schema = T::schema();
    let pattern = schema.get("pattern").and_then(Value::as_str).unwrap();
    let inner = pattern.strip_prefix('^').and_then(|rest| rest.strip_suffix('$')).unwrap();
    let texts = proptest::string::string_regex(inner).unwrap();
    let mut runner = TestRunner::deterministic();
    let mut taken = 0;
    for _ in 0..500 {
        let text = texts.new_tree(&mut runner).unwrap().current();
        match T::read(&text) {
            Ok(_) => taken += 1,
            Err(says) => {
                let beyond = [
                    "no exact length",
                    "more than 10 m",
                    "divides by nothing",
                    // Of formulas a pattern says neither what is a length nor where brackets close.
                    "a length times a length",
                    "divides a number by a length",
                    "has no unit",
                    "stops too early",
                    "\")\" can't stand there",
                    "at most 200 characters",
                ];
                let far = text.split(|c: char| !c.is_ascii_digit()).any(|digits| digits.len() == 10);
                assert!(far || beyond.iter().any(|known| says.contains(known)), "{text:?} is refused: {says}");
            }
        }
    }
    assert!(taken > 50, "only {taken} texts of {} are read", T::NAME);
}

#[test]
fn what_a_pattern_allows_is_read() {
    check::<Measure>();
    check::<crate::v2::named::Reckoned>();
    check::<crate::v2::End>();
    check::<model::Datum>();
    check::<LineId>();
    check::<Border>();
    check::<Weight>();
    check::<Bulk>();
    check::<Colour>();
    check::<crate::v2::Digest>();
    check::<crate::v2::PartPanel>();
    check::<crate::v2::PartLine>();
    check::<crate::v2::SourceWords>();
    check::<crate::v2::Across>();
    check::<crate::v2::Down>();
    check::<model::part::Job>();
    check::<model::part::Rotation>();
}
