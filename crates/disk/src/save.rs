//! Saving: the old file or the new one, never a part of either.

use crate::error::{DiskError, Fault};
use crate::version::{Present, Version, keep_back};
use atomic_write_file::AtomicWriteFile;
use model::Document;
use std::fs::{self, OpenOptions, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// As many links are followed as Linux itself follows (`MAXSYMLINKS` in `path_resolution(7)`).
const MOST_LINKS: usize = 40;

/// A design that was saved.
#[derive(Debug)]
pub struct Saved {
    /// What its file holds now.
    pub version: Version,
    /// Why what the file held before could not be kept beside it, where that failed. The design itself is saved.
    pub not_kept: Option<DiskError>,
}

/// Saves a design, in place of an older one of that name if there is one; that is kept as [`crate::backup`].
///
/// The text is read again before anything is written, so that a design which could not be opened again never replaces
/// one that can.
///
/// # Errors
/// Names the file, what stands in the way and how to mend it; the older file is then as it was.
pub fn save_design(path: &Path, document: &Document) -> Result<Saved, DiskError> {
    save_over(path, document, |_present| true)
}

/// The same where the file is known: unless it still holds `known`, or nothing at all, or what is to be saved, it is left
/// as it is.
///
/// # Errors
/// As [`save_design`], and [`Fault::ChangedFile`] where somebody else has changed the file.
pub fn replace_design(path: &Path, document: &Document, known: Option<Version>) -> Result<Saved, DiskError> {
    save_over(path, document, |present| present.is(known))
}

fn save_over(path: &Path, document: &Document, may: impl Fn(&Present) -> bool) -> Result<Saved, DiskError> {
    let text = file::to_text(document);
    let wrong = |fault| DiskError { path: path.to_owned(), fault };
    file::from_text(&text).map_err(|error| wrong(Fault::Unopenable(error)))?;
    let version = Version::of(text.as_bytes());
    let present = Present::at(path);
    let same = matches!(&present, Present::Bytes(bytes) if bytes == text.as_bytes());
    if !same && !may(&present) {
        return Err(wrong(Fault::ChangedFile));
    }
    let mut not_kept = None;
    save_with(path, |file| {
        file.write_all(text.as_bytes())?;
        // All of the new one is on the disk before the backup is touched: on a full disk nothing changes at all.
        file.as_file().sync_all()?;
        if let (Present::Bytes(before), false) = (&present, same) {
            // To keep the work counts for more than to keep what was there before it.
            not_kept = keep_back(path, before).err();
        }
        Ok(())
    })
    .map_err(wrong)?;
    Ok(Saved { version, not_kept })
}

/// Saves bytes, such as an export, in place of an older file of that name if there is one.
///
/// A link is followed and stays a link; an older file's permissions are kept.
///
/// # Errors
/// Names the file, what stands in the way and how to mend it; the older file is then as it was.
pub fn save_bytes(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    save_with(path, |file| file.write_all(bytes)).map_err(|fault| DiskError { path: path.to_owned(), fault })
}

/// Saves what `write` writes; nothing changes on disk unless that goes well to its end.
pub(crate) fn save_with(path: &Path, write: impl FnOnce(&mut AtomicWriteFile) -> io::Result<()>) -> Result<(), Fault> {
    let path = followed(path)?;
    check_may_replace(&path)?;
    let mut file = AtomicWriteFile::open(&path).map_err(Fault::of_saving)?;
    write(&mut file).map_err(Fault::of_saving)?;
    // Flushes the new file, renames it over the old one and flushes the folder.
    file.commit().map_err(Fault::of_saving)
}

/// The same with permissions of one's own, which hold before anything is written.
pub(crate) fn save_with_permissions(
    path: &Path,
    permissions: Permissions,
    write: impl FnOnce(&mut AtomicWriteFile) -> io::Result<()>,
) -> Result<(), Fault> {
    save_with(path, |file| {
        file.as_file().set_permissions(permissions)?;
        write(file)
    })
}

/// Where a link leads in the end, even when nothing is there yet: the new file has to take that place, not the link's.
pub(crate) fn followed(path: &Path) -> Result<PathBuf, Fault> {
    let mut path = path.to_owned();
    for _ in 0..MOST_LINKS {
        let Ok(next) = fs::read_link(&path) else { return Ok(path) };
        path = path.parent().unwrap_or(Path::new("")).join(next);
    }
    Err(Fault::EndlessLink)
}

/// Whether a file may be put there. A rename asks only the folder; a maker who has protected the file itself means that.
fn check_may_replace(path: &Path) -> Result<(), Fault> {
    let found = match fs::metadata(path) {
        Ok(found) => found,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return check_name(path),
        Err(error) => return Err(Fault::of_saving(error)),
    };
    if found.is_dir() {
        return Err(Fault::Folder);
    }
    if !found.is_file() {
        return Err(Fault::Device);
    }
    if found.permissions().readonly() {
        return Err(Fault::ReadOnly);
    }
    OpenOptions::new().append(true).open(path).map(|_| ()).map_err(Fault::of_saving)
}

/// A path that ends in a slash asks for a folder: saving to a file of that name would not be what was said.
fn check_name(path: &Path) -> Result<(), Fault> {
    let last = path.as_os_str().as_encoded_bytes().last().copied();
    let is_folder = last.is_none_or(|byte| byte == b'/') || path.file_name().is_none();
    if is_folder { Err(Fault::BadName) } else { Ok(()) }
}
