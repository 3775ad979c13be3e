//! The only place that reads and writes the files of designs, for the command line and the window alike.
//!
//! Reading is bounded: nothing but a file of a size that a design can have is taken into memory. Saving is atomic: the
//! text is written beside the old file, flushed, and put in its place in one step, so a crash at any moment leaves the
//! old file or the new one, whole. What was there before is kept beside it, and what somebody else has put there in the
//! meantime is not replaced unasked. What the text means is `file`'s to say.

pub mod artwork;
mod error;
mod save;
mod version;

pub use error::{DiskError, Fault};
pub use save::{Saved, replace_design, save_bytes, save_design};
pub use version::{Version, backup, open_design};

use model::Document;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

/// A design that was opened, and where it is to be saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opened {
    /// The design.
    pub document: Document,
    /// The file that it is saved to.
    pub path: PathBuf,
    /// What that file holds; `None` where there is none.
    pub version: Option<Version>,
    /// Whether the design is the version before the one that is in the file.
    pub is_backup: bool,
}

/// Reads a design.
///
/// # Errors
/// Names the file, what is wrong with it, where, and how to mend it; see [`Fault`].
pub fn read_design(path: &Path) -> Result<Document, DiskError> {
    read(path).map_err(|fault| DiskError { path: path.to_owned(), fault })
}

fn read(path: &Path) -> Result<Document, Fault> {
    design_of(read_bytes(path)?)
}

fn read_bytes(path: &Path) -> Result<Vec<u8>, Fault> {
    bounded(path, file::MOST_BYTES as u64)?.ok_or(Fault::Design(file::FileError::TooLarge))
}

fn design_of(bytes: Vec<u8>) -> Result<Document, Fault> {
    let text = String::from_utf8(bytes).map_err(|error| Fault::NotText { byte: error.utf8_error().valid_up_to() })?;
    file::from_text(&text).map_err(Fault::Design)
}

/// The bytes of a file; `None` when they are more than `most`.
fn bounded(path: &Path, most: u64) -> Result<Option<Vec<u8>>, Fault> {
    // Before opening: to open a pipe would wait for someone to write to it.
    let found = fs::metadata(path).map_err(Fault::of_reading)?;
    if found.is_dir() {
        return Err(Fault::Folder);
    }
    if !found.is_file() {
        return Err(Fault::Device);
    }
    if found.len() > most {
        return Ok(None);
    }
    let mut bytes = Vec::new();
    // One more than there may be: a file that grows while it is read is refused too.
    File::open(path).and_then(|open| open.take(most + 1).read_to_end(&mut bytes)).map_err(Fault::of_reading)?;
    Ok((u64::try_from(bytes.len()).is_ok_and(|count| count <= most)).then_some(bytes))
}

#[cfg(test)]
mod tests;
