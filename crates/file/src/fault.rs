//! From serde's errors to ours.
//!
//! serde tells only in words whether a key is unknown, missing or of the wrong kind, so those words are taken apart
//! here, and only here. What is not recognised is passed on as it is: still a sentence with its place.

use crate::error::{FileError, Spot};
use serde::de::DeserializeOwned;
use serde_json::error::Category;

/// Found values are shown up to this many characters, so that a sentence stays a sentence.
const MOST_SHOWN: usize = 60;

/// Sentences have up to this many characters.
const MOST_SAID: usize = 320;

/// Reads all of a text.
pub(crate) fn parsed<T: DeserializeOwned>(text: &str) -> Result<T, FileError> {
    let mut json = serde_json::Deserializer::from_str(text);
    let value = serde_path_to_error::deserialize(&mut json).map_err(|error| {
        let path = error.path().to_string();
        ours(if path == "." { "" } else { &path }, error.inner())
    })?;
    json.end().map_err(|error| ours("", &error))?;
    Ok(value)
}

fn ours(path: &str, error: &serde_json::Error) -> FileError {
    let (line, column) = (error.line(), error.column());
    let all = error.to_string();
    let said = all.strip_suffix(&format!(" at line {line} column {column}")).unwrap_or(&all);
    match error.classify() {
        Category::Eof => FileError::CutShort { line },
        Category::Syntax | Category::Io if (line, column) == (1, 1) => {
            let says = "a design begins with \"{\", so this is a file of another kind".to_owned();
            FileError::Syntax { line, column, says }
        }
        Category::Syntax | Category::Io => FileError::Syntax { line, column, says: syntax(said) },
        Category::Data => data(path, (line > 0).then_some(line), said),
    }
}

fn syntax(said: &str) -> String {
    match said {
        "recursion limit exceeded" => "brackets are nested too deep for a design".to_owned(),
        "expected value" | "expected ident" => "a value is missing or not in quotes".to_owned(),
        "key must be a string" => "a key is not in quotes".to_owned(),
        "trailing characters" => "something follows the end of the design".to_owned(),
        _ => said.replace('`', "\""),
    }
}

fn data(path: &str, line: Option<usize>, said: &str) -> FileError {
    let at = |path: String| Spot { path, line };
    if let Some((key, known)) = said.strip_prefix("unknown field `").and_then(|rest| rest.rsplit_once("`, expected ")) {
        let known = known.trim_start_matches("one of ").replace('`', "");
        return FileError::UnknownKey { at: at(path_to(path, key)), known: known.replace(" or ", ", ") };
    }
    let key_after = |prefix| said.strip_prefix(prefix).and_then(|rest: &str| rest.strip_suffix('`'));
    if let Some(key) = key_after("missing field `") {
        return FileError::MissingKey { at: at(path_to(path, key)) };
    }
    if let Some(key) = key_after("duplicate field `") {
        return FileError::RepeatedKey { at: at(path_to(path, key)) };
    }
    FileError::Value {
        at: at(path.to_owned()),
        says: kind(said).unwrap_or_else(|| shortened(&said.replace(char::is_control, "\u{fffd}"))),
    }
}

/// The path to `key` of the object at `path`; serde gives the one or the other, by the kind of error.
fn path_to(path: &str, key: &str) -> String {
    let parent = match path.strip_suffix(key) {
        Some("") => "",
        Some(before) => before.strip_suffix('.').unwrap_or(path),
        None => path,
    };
    let key = shown(key);
    if parent.is_empty() { key } else { format!("{parent}.{key}") }
}

/// Text from the file as part of a sentence: not endless, and without line feeds or what else a terminal would obey.
fn shown(text: &str) -> String {
    plain(&text.chars().take(MOST_SHOWN).collect::<String>())
}

/// The same text without line feeds or what else a terminal would obey.
pub(crate) fn plain(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { char::REPLACEMENT_CHARACTER } else { c }).collect()
}

/// A sentence that quotes the file, without the middle of what is quoted where that is long: what is wrong stands at the
/// start of it, and how to mend it at the end.
fn shortened(sentence: &str) -> String {
    let count = sentence.chars().count();
    if count <= MOST_SAID {
        return sentence.to_owned();
    }
    let start: String = sentence.chars().take(MOST_SAID / 2).collect();
    let end: String = sentence.chars().skip(count - MOST_SAID / 2).collect();
    format!("{start}…{end}")
}

/// `invalid type: integer 5, expected a length` in plain words.
fn kind(said: &str) -> Option<String> {
    let rest = said.strip_prefix("invalid type: ").or_else(|| said.strip_prefix("invalid value: "))?;
    let (found, expected) = rest.rsplit_once(", expected ")?;
    let found = match found {
        "map" => "an object in { }".to_owned(),
        "sequence" => "a list in [ ]".to_owned(),
        _ => {
            let words = ["string ", "integer ", "floating point ", "boolean "];
            let plain = words.iter().find_map(|word| found.strip_prefix(word)).unwrap_or(found);
            shown(plain.trim_matches('`'))
        }
    };
    let expected = match expected {
        "u32" => "a whole number, 0 or more",
        "a nonzero u32" => "a whole number, 1 or more",
        "a string" => "text in quotes",
        "a boolean" => "true or false",
        "a sequence" => "a list in [ ]",
        other => other,
    };
    Some(format!("{found} stands where {expected} belongs; write that instead"))
}
