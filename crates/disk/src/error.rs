//! Why a file was not read or saved, each as one sentence that names the file, what is wrong and how to mend it.

use file::FileError;
use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why a file was not read or saved. A file that was not saved is as it was before.
#[derive(Debug)]
pub struct DiskError {
    /// The file, as it was asked for.
    pub path: PathBuf,
    /// What is wrong.
    pub fault: Fault,
}

/// What is wrong with a file.
#[derive(Debug)]
pub enum Fault {
    /// There is no such file to read.
    Missing,
    /// There is no such folder to save in.
    NoFolder,
    /// It is a folder.
    Folder,
    /// It is neither a file nor a folder: a device, a pipe or the like.
    Device,
    /// It has no name to save under, or one that the file system doesn't take.
    BadName,
    /// It is a link to a link to a link, without end.
    EndlessLink,
    /// It or its folder may not be read.
    MayNotRead,
    /// It or its folder may not be written to.
    MayNotWrite,
    /// It is marked as one that must not be changed.
    ReadOnly,
    /// Somebody else has changed it since it was last looked at.
    ChangedFile,
    /// There is no room for it.
    Full,
    /// It holds bytes that are no UTF-8 text.
    NotText {
        /// How many bytes of text come before the first that is not.
        byte: usize,
    },
    /// Its text is no design.
    Design(FileError),
    /// The design goes beyond what the format holds, so that what was saved could not be opened again.
    Unopenable(FileError),
    /// It is no picture that can be read.
    Picture(raster::ReadError),
    /// It is a picture of more bytes than a design takes.
    LargePicture,
    /// It is another picture than the one that was put on the sheet.
    ChangedPicture,
    /// The folder that artwork is kept in has another picture of that name.
    OtherPicture,
    /// The system could not read it, for a reason of its own.
    Reading(io::Error),
    /// The system could not save it, for a reason of its own.
    Saving(io::Error),
}

impl Fault {
    /// What an error while reading means.
    pub(crate) fn of_reading(error: io::Error) -> Self {
        match error.kind() {
            // A file where the path has a folder: there is nothing of that name either.
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Self::Missing,
            io::ErrorKind::PermissionDenied => Self::MayNotRead,
            io::ErrorKind::IsADirectory => Self::Folder,
            io::ErrorKind::InvalidFilename | io::ErrorKind::InvalidInput => Self::BadName,
            _ => Self::Reading(error),
        }
    }

    /// What an error while saving means.
    pub(crate) fn of_saving(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Self::NoFolder,
            io::ErrorKind::PermissionDenied => Self::MayNotWrite,
            io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::Full,
            io::ErrorKind::IsADirectory => Self::Folder,
            io::ErrorKind::InvalidFilename | io::ErrorKind::InvalidInput => Self::BadName,
            _ => Self::Saving(error),
        }
    }
}

impl fmt::Display for DiskError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path.display(), self.fault)
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Missing => "there is no such file; check the name",
            Self::NoFolder => "there is no such folder to save in; make the folder or choose another",
            Self::Folder => "this is a folder; name a file in it",
            Self::Device => "this is not a file but a device or a pipe; name a file",
            Self::BadName => "a file cannot have this name; choose another, of at most 200 letters",
            Self::EndlessLink => "this link leads round in a circle; name the file itself",
            Self::MayNotRead => "you may not read this; ask for its permissions to be changed or use a copy",
            Self::MayNotWrite => "you may not save here; change the permissions or save under another name",
            Self::ReadOnly => "this is marked read-only; take the mark off or save under another name",
            Self::ChangedFile => "this has been changed since it was opened; save under another name or open it again",
            Self::Full => "there is no room left on the disk; free some or save elsewhere",
            Self::Picture(error) => return error.fmt(f),
            Self::LargePicture => "this picture takes more than 64 MB; save it with fewer pixels",
            Self::ChangedPicture => "this is another picture than the one that was put on the sheet; put it on again",
            Self::OtherPicture => "the design has another picture of this name already; give this one another name",
            Self::NotText { byte } => {
                return write!(f, "this is not text from byte {} on; open a .folio file", byte.saturating_add(1));
            }
            Self::Design(error) => return error.fmt(f),
            Self::Unopenable(error) => return write!(f, "nothing was saved, as it could not be opened again: {error}"),
            Self::Reading(error) => return write!(f, "it cannot be read ({error}); try a copy of it"),
            Self::Saving(error) => return write!(f, "it cannot be saved ({error}); save it elsewhere"),
        })
    }
}

// The sentence says all that the error inside it says, so there is no further source to print.
impl std::error::Error for DiskError {}
