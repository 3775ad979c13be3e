//! Why a text is no project file, each as one sentence: what, where, and how to mend it.

use crate::fault::plain;
use crate::{MOST_BYTES, VERSION};
use std::fmt;

/// Why a text is no project file.
///
/// The sentences leave out the file's name, which this crate doesn't know; whoever read the file puts it before them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FileError {
    /// It has more than [`MOST_BYTES`] bytes.
    TooLarge,
    /// There is nothing in it.
    Empty,
    /// It is not JSON.
    Syntax {
        /// The line, from 1.
        line: usize,
        /// The column, from 1, in bytes.
        column: usize,
        /// What was expected there.
        says: String,
    },
    /// It ends in the middle.
    CutShort {
        /// The last line, from 1.
        line: usize,
    },
    /// It is JSON but doesn't say that it is a design.
    NotAFolio,
    /// It doesn't say which version of the format it is in, or says something that is no version.
    NoVersion,
    /// It is of a version that this program doesn't know.
    NewerVersion(u64),
    /// It has a key that the format doesn't have.
    UnknownKey {
        /// The key.
        at: Spot,
        /// The keys that may stand there, with commas between them.
        known: String,
    },
    /// It lacks a key.
    MissingKey {
        /// The key that should be there; the line is that where its object ends.
        at: Spot,
    },
    /// It has a key twice in one object.
    RepeatedKey {
        /// The key, at its second place.
        at: Spot,
    },
    /// Something in it is of the wrong kind or has a value that can't be.
    Value {
        /// Where it is.
        at: Spot,
        /// What is wrong and how to mend it.
        says: String,
    },
}

/// A place in a project file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Spot {
    /// The keys that lead there: `lines[2].place.distance`. Empty for the whole.
    pub path: String,
    /// The line of the text, from 1, where it is known.
    pub line: Option<usize>,
}

impl FileError {
    /// A value that can't be, at a path, on a line that isn't known.
    pub(crate) fn value(path: impl Into<String>, says: impl Into<String>) -> Self {
        // What the file says may be quoted, and a terminal would obey it.
        let says = plain(&says.into());
        Self::Value { at: Spot { path: path.into(), line: None }, says }
    }

    /// The same of something that stands under a key.
    pub(crate) fn within(mut self, key: &str) -> Self {
        if let Self::UnknownKey { at, .. }
        | Self::MissingKey { at }
        | Self::RepeatedKey { at }
        | Self::Value { at, .. } = &mut self
        {
            at.path = if at.path.is_empty() { key.to_owned() } else { format!("{key}.{}", at.path) };
        }
        self
    }
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = if self.path.is_empty() { "the design" } else { &self.path };
        match self.line {
            Some(line) => write!(f, "{path} (line {line})"),
            None => f.write_str(path),
        }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge => write!(
                f,
                "a design takes at most {} MiB and this is more; check that it is the right file",
                MOST_BYTES / 1024 / 1024
            ),
            Self::Empty => write!(f, "there is nothing in it; open a copy of the design or start a new one"),
            Self::Syntax { line, column, says } => {
                write!(f, "line {line}, column {column} cannot be read: {says}; mend the text there")
            }
            Self::CutShort { line } => {
                write!(f, "the text stops on line {line} before the design is complete; open a whole copy of it")
            }
            Self::NotAFolio => {
                write!(f, "this is not a Foliowright design; open a .folio file that Foliowright has saved")
            }
            Self::NoVersion => {
                write!(
                    f,
                    "version is not a whole number above 0; write the one that it was saved in, such as {VERSION}"
                )
            }
            Self::NewerVersion(version) => write!(
                f,
                "the design was saved by a newer version of Foliowright (format {version}, and this one reads up to \
                 {VERSION}); update Foliowright to open it"
            ),
            Self::UnknownKey { at, known } => {
                write!(f, "{at} is not a key of this format; take it out or use one of {known}")
            }
            Self::MissingKey { at } => write!(f, "{at} is missing; put it in"),
            Self::RepeatedKey { at } => write!(f, "{at} is there twice; take one out"),
            Self::Value { at, says } => write!(f, "{at}: {says}"),
        }
    }
}

impl std::error::Error for FileError {}
