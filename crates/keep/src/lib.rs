//! What the program remembers from one run to the next: how the window was arranged, which designs were open, what was
//! chosen. None of it belongs to a design, and none of it is needed: where it cannot be read, the usual holds.
//!
//! Everything is kept in one folder of the user's, each thing as a small JSON file of its own name. [`Keep::nowhere`]
//! remembers nothing, for tests and for users without a home. Work that is not saved yet has a folder of its own in it
//! ([`recovery`]), and so have the locks by which two windows notice each other ([`claim`]).

pub mod claim;
pub mod recovery;

use serde::Serialize;
use serde::de::DeserializeOwned;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

/// The largest file of ours that is read back, in bytes.
const MOST_BYTES: u64 = 1 << 20;

/// A folder to remember things in, or none.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Keep {
    folder: Option<PathBuf>,
}

impl Keep {
    /// The user's own: the state folder of the XDG base directory specification, or what the system has in its place.
    #[must_use]
    pub fn usual() -> Self {
        let found = directories::ProjectDirs::from("", "", "foliowright");
        Self { folder: found.map(|dirs| dirs.state_dir().unwrap_or_else(|| dirs.data_local_dir()).to_owned()) }
    }

    /// A folder of one's own; it is made when the first thing is kept.
    #[must_use]
    pub fn at(folder: impl Into<PathBuf>) -> Self {
        Self { folder: Some(folder.into()) }
    }

    /// Remembers nothing.
    #[must_use]
    pub const fn nowhere() -> Self {
        Self { folder: None }
    }

    /// The folder, if there is one; it may not have been made yet.
    #[must_use]
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// What was kept under a name. `None` if nothing was, or if it can no longer be read as what it should be.
    #[must_use]
    pub fn read<T: DeserializeOwned>(&self, name: &str) -> Option<T> {
        let mut text = Vec::new();
        let open = fs::File::open(self.place(name)?).ok()?;
        open.take(MOST_BYTES).read_to_end(&mut text).ok()?;
        serde_json::from_slice(&text).ok()
    }

    /// Keeps a thing under a name, in place of what was kept before. Says whether it is kept: nothing is where there is
    /// no folder, or none that may be written to.
    pub fn write<T: Serialize>(&self, name: &str, thing: &T) -> bool {
        let (Some(folder), Some(place)) = (&self.folder, self.place(name)) else { return false };
        let Ok(text) = serde_json::to_vec_pretty(thing) else { return false };
        fs::create_dir_all(folder).is_ok() && disk::save_bytes(&place, &text).is_ok()
    }

    fn place(&self, name: &str) -> Option<PathBuf> {
        Some(self.folder.as_ref()?.join(name).with_extension("json"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_is_found_again() {
        let room = tempfile::tempdir().unwrap();
        let keep = Keep::at(room.path().join("state"));
        assert_eq!(keep.read::<Vec<u8>>("numbers"), None);
        assert!(keep.write("numbers", &vec![1, 2, 3]));
        assert!(keep.write("numbers", &vec![4, 5]));
        assert_eq!(keep.read("numbers"), Some(vec![4, 5]));
        assert_eq!(keep.read::<String>("numbers"), None, "another kind of thing");
        fs::write(room.path().join("state/numbers.json"), "[4, ").unwrap();
        assert_eq!(keep.read::<Vec<u8>>("numbers"), None, "damaged");
    }

    #[test]
    fn nothing_is_kept_where_there_is_no_place() {
        let room = tempfile::tempdir().unwrap();
        assert!(!Keep::nowhere().write("numbers", &1));
        assert_eq!(Keep::nowhere().read::<u8>("numbers"), None);
        let file = room.path().join("file");
        fs::write(&file, "").unwrap();
        assert!(!Keep::at(file.join("state")).write("numbers", &1));
    }
}
