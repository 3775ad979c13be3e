//! The examples of the page on the project file are read by the program.
//!
//! A block of JSON is a whole design; one with a key behind the word `json` is what stands at that key of the first.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use foliowright_file::{from_text, to_text};
use serde_json::Value;

const PAGE: &str = include_str!("../../../docs/file-format.md");

/// The blocks of JSON on the page: the key behind the word, and the text.
fn blocks() -> Vec<(&'static str, &'static str)> {
    let parts: Vec<&str> = PAGE.split("```").collect();
    let inside = parts.iter().skip(1).step_by(2);
    inside.map(|part| part.split_once('\n').unwrap()).filter_map(block).collect()
}

fn block((word, text): (&'static str, &'static str)) -> Option<(&'static str, &'static str)> {
    word.strip_prefix("json").map(|key| (key.trim(), text))
}

/// The first design of the page with another value at a key.
fn with(key: &str, text: &str) -> Value {
    let (_, first) = blocks()[0];
    let mut design: Value = serde_json::from_str(first).unwrap();
    design[key] = serde_json::from_str(text).unwrap_or_else(|error| panic!("{error} in {text}"));
    if key == "lines" {
        design["steps"] = Value::Array(Vec::new());
    }
    design
}

#[test]
fn every_example_is_read_and_says_something() {
    let keys: Vec<&str> = blocks().iter().map(|(key, _)| *key).collect();
    assert_eq!(
        keys,
        [
            "",
            "lengths",
            "stock",
            "further_stocks",
            "lines",
            "lines",
            "corners",
            "panel_names",
            "offcuts",
            "parts",
            "making",
            "steps",
            "silences"
        ]
    );
    for (key, text) in blocks() {
        if key.is_empty() {
            // As the program writes it, too.
            assert_eq!(to_text(&from_text(text).unwrap_or_else(|error| panic!("{error} in {text}"))), text);
        } else {
            let design = with(key, text);
            let document = from_text(&design.to_string()).unwrap_or_else(|error| panic!("{error} in {text}"));
            // Every key of the example is written back with its value.
            let written: Value = serde_json::from_str(&to_text(&document)).unwrap();
            assert_eq!(written[key], design[key]);
        }
    }
}

/// What stands as code in the first column of the table under a heading row.
fn table(heading: &str) -> Vec<&'static str> {
    let rows = PAGE.lines().skip_while(|line| *line != heading).skip(2).take_while(|line| line.starts_with('|'));
    let cells = rows.map(|row| row.trim_start_matches("| ").split(" | ").next().unwrap());
    cells.flat_map(|cell| cell.split('`').skip(1).step_by(2)).collect()
}

/// Reads the first design of the page with one line.
fn read_with_line(place: &str, work: &str) -> Result<(), String> {
    let line = format!(r#"[{{ "id": 1, "place": {place}, "work": {work} }}]"#);
    from_text(&with("lines", &line).to_string()).map_err(|error| error.to_string()).map(|_| ())
}

#[test]
fn what_the_tables_list_is_read() {
    let stops = table("| stop | is |");
    assert_eq!(stops.len(), 5);
    for stop in stops {
        let place = format!(r#"{{ "along": "line 1", "start": {stop}, "end": {stop} }}"#);
        assert_eq!(read_with_line(&place, "\"guide\""), Ok(()), "{stop}");
    }
    let spots = table("| spot | is |");
    assert_eq!(spots.len(), 3);
    for spot in spots {
        let place = format!(r#"{{ "drawn": {{ "from": {spot}, "to": {spot} }} }}"#);
        assert_eq!(read_with_line(&place, "\"guide\""), Ok(()), "{spot}");
    }
    let works = table("| `work` | is | has |");
    assert_eq!(works.len(), 6);
    for work in works {
        // Some need more keys, but each is known.
        let known = read_with_line(r#"{ "along": "line 2" }"#, work);
        assert!(known.as_ref().map_or_else(|says| says.contains(" needs a "), |()| true), "{work}: {known:?}");
    }
}

/// Reads the first design of the page with one part.
fn read_with_part(kind: &str, from: &str) -> Result<(), String> {
    let on = r#"{ "on": { "x": "1 in", "y": "1 in" } }"#;
    let part = format!(r#"[{{ "id": 1, "kind": {kind}, "from": {from}, "place": {on} }}]"#);
    from_text(&with("parts", &part).to_string()).map_err(|error| error.to_string()).map(|_| ())
}

#[test]
fn what_the_tables_list_of_parts_is_read() {
    let mat = r#"{ "mat": { "width": "1 in", "height": "1 in" } }"#;
    let sources = table("| `from` | is |");
    assert_eq!(sources.len(), 6);
    for source in sources {
        assert_eq!(read_with_part(mat, source), Ok(()), "{source}");
    }
    let kinds = table("| kind | is | has |");
    let schema: Value = serde_json::from_str(&foliowright_file::schema()).unwrap();
    let known = schema["$defs"]["PartKind"]["properties"].as_object().unwrap().keys();
    for kind in known {
        assert!(
            kinds.contains(&kind.as_str()),
            "docs/file-format.md has no row for the kind `{kind}` under \"What it is\""
        );
    }
    for kind in kinds {
        // Each needs measures, but is known.
        let says = read_with_part(&format!(r#"{{ "{kind}": {{}} }}"#), r#""any offcut""#).unwrap_err();
        assert!(says.contains(&format!("kind.{kind}.")) && says.contains(" is missing"), "{kind}: {says}");
    }
    let jobs = table("| job | is |");
    assert_eq!(jobs.len(), 7);
    let design = with("making", &format!("[{}]", jobs.join(", "))).to_string();
    assert_eq!(from_text(&design).map(|document| document.making.len()).map_err(|error| error.to_string()), Ok(7));
}

/// All keys that objects may have by a schema.
fn properties(schema: &Value) -> Vec<String> {
    let own = schema.get("properties").and_then(Value::as_object);
    let own = own.into_iter().flat_map(|items| items.keys().cloned());
    let inner: Vec<&Value> = match schema {
        Value::Object(items) => items.values().collect(),
        Value::Array(items) => items.iter().collect(),
        _ => Vec::new(),
    };
    own.chain(inner.into_iter().flat_map(properties)).collect()
}

#[test]
fn the_page_speaks_of_every_key() {
    let schema: Value = serde_json::from_str(&foliowright_file::schema()).unwrap();
    let keys = properties(&schema);
    assert!(keys.len() > 40, "{keys:?}");
    for key in keys {
        // In a sentence or in an example.
        let said = [format!("`{key}`"), format!("\"{key}\": ")];
        assert!(said.iter().any(|said| PAGE.contains(said)), "the page does not say what {key} is");
    }
}
