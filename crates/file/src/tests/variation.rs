//! The design that a variation came from.

use super::*;

fn varied() -> Document {
    small().variation("Seed swap with a wider gusset".to_owned())
}

/// The text of a variation.
pub(super) fn text() -> String {
    to_text(&varied())
}

#[test]
fn a_variation_carries_the_whole_design_it_came_from() {
    let text = text();
    assert_eq!(from_text(&text), Ok(varied()));
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    let whole: serde_json::Value = serde_json::from_str(&to_text(&small())).unwrap();
    assert_eq!(value["variation_of"], whole, "as its own file would have it");
    assert!(!to_text(&small()).contains("variation_of"));
}

#[test]
fn a_variation_of_a_variation_keeps_only_the_last() {
    let second = varied().variation("Another".to_owned());
    let first = second.variation_of.as_deref().unwrap();
    assert_eq!((first.title.as_str(), &first.variation_of), ("Seed swap with a wider gusset", &None));
}

#[test]
fn what_is_wrong_with_it_is_told_with_its_place() {
    #[track_caller]
    fn check(from: &str, to: &str, path: &str) {
        let text = to_text(&varied());
        let (own, first) = text.split_once("\"variation_of\"").unwrap();
        assert!(first.contains(from), "{first}");
        let text = format!("{own}\"variation_of\"{}", first.replacen(from, to, 1));
        let says = from_text(&text).unwrap_err().to_string();
        assert!(says.starts_with(path), "{says}");
    }
    check("\"version\": 2", "\"version\": 1", "variation_of.version");
    check("\"foliowright folio\"", "\"letter\"", "variation_of.format");
    check("\"units\"", "\"unit\"", "variation_of.unit");
    check("\"steps\": [", "\"variation_of\": null, \"steps\": [[99],", "variation_of.steps[0]");
    let nested = to_text(&varied()).replacen("{\n  \"format\"", "", 1);
    assert!(from_text(&nested).is_err());
}

#[test]
fn the_design_that_a_variation_came_from_has_none_itself() {
    let mut document = varied();
    document.variation_of = Some(Box::new(varied()));
    let says = from_text(&to_text(&document)).unwrap_err().to_string();
    assert!(
        says.starts_with("variation_of.variation_of: the design that a variation came from can't keep another"),
        "{says}"
    );
}
