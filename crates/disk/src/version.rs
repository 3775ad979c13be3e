//! What a file held when it was last looked at, so that somebody else's change is noticed before it is replaced, and the
//! version before the last one, which is kept beside it.

use crate::bounded;
use crate::error::{DiskError, Fault};
use crate::save::{followed, save_with_permissions};
use crate::{Opened, read_bytes};
use sha2::{Digest, Sha256};
use std::ffi::OsString;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

/// What a file held: the SHA-256 of its bytes. Times and sizes stay the same under too many changes to tell by them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Version([u8; 32]);

impl Version {
    pub(crate) fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// The one of this digest, to be noted and known again.
    #[must_use]
    pub const fn of_digest(digest: [u8; 32]) -> Self {
        Self(digest)
    }

    /// Its digest.
    #[must_use]
    pub const fn digest(self) -> [u8; 32] {
        self.0
    }
}

/// What stands where a design is to be saved.
pub(crate) enum Present {
    /// No file.
    Nothing,
    /// A file of a size that a design can have.
    Bytes(Vec<u8>),
    /// A file of more bytes than that, or one that can't be read.
    Other,
}

impl Present {
    pub(crate) fn at(path: &Path) -> Self {
        match bounded(path, file::MOST_BYTES as u64) {
            Ok(Some(bytes)) => Self::Bytes(bytes),
            Err(Fault::Missing) => Self::Nothing,
            Ok(None) | Err(_) => Self::Other,
        }
    }

    /// Whether it is what was there when it was last looked at.
    pub(crate) fn is(&self, known: Option<Version>) -> bool {
        match self {
            // What is gone can't be lost by saving.
            Self::Nothing => true,
            Self::Bytes(bytes) => known == Some(Version::of(bytes)),
            Self::Other => false,
        }
    }
}

/// Where the version before the last one is kept: `swap.folio~` beside `swap.folio`.
#[must_use]
pub fn backup(design: &Path) -> PathBuf {
    let mut name = OsString::from(design);
    name.push("~");
    name.into()
}

/// The design whose backup a path names, if it names one.
pub(crate) fn original(path: &Path) -> Option<PathBuf> {
    let name = path.file_name()?.to_str()?.strip_suffix(".folio~")?;
    Some(path.with_file_name(format!("{name}.folio")))
}

/// Keeps what a file held as its backup, with the permissions of that file.
pub(crate) fn keep_back(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    let wrong = |fault| DiskError { path: backup(path), fault };
    let path = followed(path).map_err(wrong)?;
    let permissions = fs::metadata(&path).map_err(|error| wrong(Fault::of_saving(error)))?.permissions();
    save_with_permissions(&backup(&path), permissions, |file| file.write_all(bytes)).map_err(wrong)
}

/// Opens a design, with what has to be known of its file to save it there again.
///
/// The backup of a design is opened in the place of that design: saving puts it back there, and what is there now then
/// becomes the backup.
///
/// # Errors
/// As [`crate::read_design`].
pub fn open_design(path: &Path) -> Result<Opened, DiskError> {
    let wrong = |fault| DiskError { path: path.to_owned(), fault };
    let bytes = read_bytes(path).map_err(wrong)?;
    let version = Version::of(&bytes);
    let document = crate::design_of(bytes).map_err(wrong)?;
    let Some(design) = original(path) else {
        return Ok(Opened { document, path: path.to_owned(), version: Some(version), is_backup: false });
    };
    let version = match Present::at(&design) {
        Present::Bytes(bytes) => Some(Version::of(&bytes)),
        Present::Nothing | Present::Other => None,
    };
    Ok(Opened { document, path: design, version, is_backup: true })
}
