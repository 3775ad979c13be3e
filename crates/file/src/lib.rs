//! The project file: a [`Document`] as text and back.
//!
//! A `.folio` file is one JSON object, made to be opened in a text editor and to be compared line by line: keys in
//! a fixed order, lengths as a maker writes them, one short row for each small thing. Reading is strict: a key that
//! the format doesn't have, a number where a length belongs or a file of a newer version is refused with a sentence
//! that says what, where and how to mend it. Whether the lines make sense on the sheet is not asked here; that is
//! the layout's and the checker's to say.
//!
//! Text in, text out: files are `disk`'s.
//!
//! ```
//! use foliowright_file::{from_text, to_text};
//! use model::{Document, Size, Unit};
//!
//! let size = Size::parse("12x12in").expect("a size");
//! let document = Document::new(size, Unit::Inch);
//! assert_eq!(from_text(&to_text(&document)), Ok(document));
//! ```

mod error;
mod fault;
mod limit;
mod list;
mod pretty;
mod quoted;
mod schema;
pub mod starters;
mod v1;
mod v2;
mod word;

pub use error::{FileError, Spot};
pub use schema::schema;
pub use v2::artwork_file;

use model::{Document, Silence};
use serde::Deserialize;
use serde_json::Value;

/// What `"format"` says in every project file.
pub const FORMAT: &str = "foliowright folio";

/// The version that [`to_text`] writes.
pub const VERSION: u32 = 2;

/// The most bytes a project file may have: 16 MiB. Far more than [`Document::MOST_LINES`] lines need (a MiB or two),
/// few enough that a wrong file is refused before it fills the memory.
pub const MOST_BYTES: usize = 16 * 1024 * 1024;

/// The most characters of a title or of the name of a line, a paper or a part: more than a window or a template has room
/// for.
pub const MOST_TITLE: usize = 200;

/// The most characters of the credit: several pages of text.
pub const MOST_CREDIT: usize = 20_000;

/// The most lines of a part of the maker's own, and the most things said of its corners: it is a little sheet, not
/// another folio.
pub const MOST_OWN_LINES: usize = 200;

/// The most places of glue that a maker adds to one part: more than a part has panels to glue.
pub const MOST_GLUE: usize = 20;

/// The most jobs in the order of making. Four for each of [`Document::MOST_PARTS`] parts and three for the folio are 803;
/// no more than these differ.
pub const MOST_JOBS: usize = 2_000;

/// The most panels that are tucked in one step: as many as there are parts to tuck or to tuck under.
pub const MOST_TUCKS: usize = 200;

/// The most panels, and the most lines, that a silenced finding speaks of.
pub const MOST_SPOKEN_OF: usize = Silence::MOST_SPOKEN_OF;

/// The text of a project file: the newest version, two spaces deep, with a line feed at the end.
///
/// The same document always gives the same text. [`from_text`] gives the same document back, unless that goes beyond
/// what the format holds (a title of more than [`MOST_TITLE`] characters, a step with a line that isn't there): whoever
/// saves should read the text again first, as `disk` does.
#[must_use]
pub fn to_text(document: &Document) -> String {
    pretty::text(&v2::write(document))
}

/// Reads a project file of any version up to [`VERSION`].
///
/// A byte order mark before the text is passed over.
///
/// # Errors
/// The first thing that is wrong, where it is and how to mend it; see [`FileError`].
pub fn from_text(text: &str) -> Result<Document, FileError> {
    if text.len() > MOST_BYTES {
        return Err(FileError::TooLarge);
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(FileError::Empty);
    }
    // The one place that knows of more than one version: each is read with its own mirror, and an older one says what
    // the newest would have said.
    match version_of(text)? {
        1 => v1::read(text),
        2 => v2::read(text),
        newer => Err(FileError::NewerVersion(newer)),
    }
}

/// What a file says about itself; everything else in it is left for the mirror of its version.
#[derive(Deserialize)]
#[serde(expecting = "an object in { }")]
struct Head {
    #[serde(default)]
    format: Value,
    #[serde(default)]
    version: Value,
}

fn version_of(text: &str) -> Result<u64, FileError> {
    let head: Head = match fault::parsed(text) {
        Ok(head) => head,
        Err(FileError::Value { at, .. }) if at.path.is_empty() => return Err(FileError::NotAFolio),
        Err(error) => return Err(error),
    };
    if head.format != FORMAT {
        return Err(FileError::NotAFolio);
    }
    head.version.as_u64().filter(|version| *version > 0).ok_or(FileError::NoVersion)
}

#[cfg(test)]
mod tests;
