//! How the JSON is laid out: two spaces deep, and what is small on one row.
//!
//! A list of plain values, or an object of such lists and plain values, stands on one row where that is short, so that
//! a line's place or a step reads as one thing and a change to it is one changed row.

use serde_json::Value;

/// The widest row that is kept together, in characters: half a wide window, so that two versions fit side by side.
const WIDEST: usize = 100;

/// A value as text, with a line feed at the end.
pub(crate) fn text(value: &Value) -> String {
    let mut out = String::new();
    write(value, 0, &mut out);
    out.push('\n');
    out
}

fn write(value: &Value, depth: usize, out: &mut String) {
    let items = items_of(value);
    let (open, close) = if value.is_array() { ('[', ']') } else { ('{', '}') };
    match one_row(value, &items) {
        Some(row) if depth > 0 || items.is_empty() => out.push_str(&row),
        _ => {
            out.push(open);
            for (i, (key, item)) in items.iter().enumerate() {
                out.push_str(if i == 0 { "\n" } else { ",\n" });
                out.push_str(&"  ".repeat(depth + 1));
                out.push_str(key);
                write(item, depth + 1, out);
            }
            out.push('\n');
            out.push_str(&"  ".repeat(depth));
            out.push(close);
        }
    }
}

/// What a list or object holds, each with its key and colon before it; nothing for a plain value.
fn items_of(value: &Value) -> Vec<(String, &Value)> {
    match value {
        Value::Array(items) => items.iter().map(|item| (String::new(), item)).collect(),
        // A JSON value prints itself as JSON, so a key is quoted as one.
        Value::Object(items) => {
            items.iter().map(|(key, item)| (format!("{}: ", Value::String(key.clone())), item)).collect()
        }
        _ => Vec::new(),
    }
}

fn one_row(value: &Value, items: &[(String, &Value)]) -> Option<String> {
    if items.is_empty() {
        return Some(value.to_string());
    }
    let inner: Option<Vec<String>> =
        items.iter().map(|(key, item)| Some(format!("{key}{}", within(value, item)?))).collect();
    let inner = inner?.join(", ");
    let row = if value.is_array() { format!("[{inner}]") } else { format!("{{ {inner} }}") };
    (row.chars().count() <= WIDEST).then_some(row)
}

/// An item as part of the row of what holds it.
fn within(holder: &Value, item: &Value) -> Option<String> {
    match item {
        Value::Object(_) => None,
        Value::Array(_) if holder.is_object() => one_row(item, &items_of(item)),
        Value::Array(_) => None,
        plain => Some(plain.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(json: &str, expected: &str) {
        let value: Value = serde_json::from_str(json).unwrap();
        assert_eq!(text(&value), expected);
        assert_eq!(serde_json::from_str::<Value>(expected).unwrap(), value);
    }

    #[test]
    fn small_things_stand_on_one_row() {
        check("{}", "{}\n");
        check(r#"{"a":1}"#, "{\n  \"a\": 1\n}\n");
        check(r#"{"a":{"x":"1 in","y":null}}"#, "{\n  \"a\": { \"x\": \"1 in\", \"y\": null }\n}\n");
        check(r#"{"b":[[1],[3,4]],"c":[]}"#, "{\n  \"b\": [\n    [1],\n    [3, 4]\n  ],\n  \"c\": []\n}\n");
        check(r#"{"a":{"c":["b",2]}}"#, "{\n  \"a\": { \"c\": [\"b\", 2] }\n}\n");
        check(r#"{"a":{"c":{}}}"#, "{\n  \"a\": {\n    \"c\": {}\n  }\n}\n");
        check(r#"{"q\"":"\n"}"#, "{\n  \"q\\\"\": \"\\n\"\n}\n");
    }

    #[test]
    fn long_rows_are_broken() {
        let long = "s".repeat(WIDEST);
        check(&format!(r#"{{"a":["{long}"]}}"#), &format!("{{\n  \"a\": [\n    \"{long}\"\n  ]\n}}\n"));
    }
}
