//! Artwork: the pictures printed on a sheet, kept in a folder beside the design.
//!
//! A design `swap.folio` has its pictures in `swap.assets`. The design names each by its file and the SHA-256 of its bytes,
//! so that a picture that was changed or is gone is noticed. Pictures are measured here, not decoded.

use crate::bounded;
use crate::error::{DiskError, Fault};
use crate::save::save_bytes;
use model::{Artwork, Length};
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};

/// The largest picture file that is taken, in bytes: 12 megapixels of artwork are some 10 MB.
pub const MOST_BYTES: u64 = 64 << 20;

/// The most pixels along a side: 12 in at 1600 pixels an inch.
pub const MOST_PIXELS: u32 = 20_000;

/// How the picture that a design names is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// As it was when it was put on the sheet.
    Present,
    /// Not there, or not to be read.
    Missing,
    /// There, but another picture than it was.
    Changed,
}

impl State {
    /// "present", "missing" or "changed".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Present => "present",
            Self::Missing => "missing",
            Self::Changed => "changed",
        }
    }
}

/// The folder that the pictures of a design are in.
#[must_use]
pub fn folder(design: &Path) -> PathBuf {
    design.with_extension("assets")
}

/// Copies a picture beside a design, to be `width` wide on the sheet with its upper left corner in that of the face. The
/// design itself is not changed.
///
/// # Errors
/// Names the picture, or where it should go, and what is wrong: no PNG or JPEG, too large, another picture of that
/// name, or what keeps it from being read or saved.
pub fn take_in(design: &Path, picture: &Path, width: Length) -> Result<Artwork, DiskError> {
    let wrong = |fault| DiskError { path: picture.to_owned(), fault };
    let bytes = bounded(picture, MOST_BYTES).map_err(wrong)?.ok_or_else(|| wrong(Fault::LargePicture))?;
    let pixels = measured(&bytes).map_err(wrong)?;
    let name = picture.file_name().and_then(|name| name.to_str()).ok_or_else(|| wrong(Fault::BadName))?;
    file::artwork_file(name).map_err(|_says| wrong(Fault::BadName))?;
    let artwork = Artwork {
        file: name.to_owned(),
        digest: Sha256::digest(&bytes).into(),
        pixels,
        width,
        left: Length::ZERO,
        top: Length::ZERO,
    };
    let folder = folder(design);
    let place = folder.join(name);
    if place.exists() {
        return match state(design, &artwork) {
            State::Present => Ok(artwork),
            State::Missing | State::Changed => Err(DiskError { path: place, fault: Fault::OtherPicture }),
        };
    }
    fs::create_dir_all(&folder).map_err(|error| DiskError { path: folder, fault: Fault::of_saving(error) })?;
    save_bytes(&place, &bytes)?;
    Ok(artwork)
}

/// How the picture is found that a design names.
#[must_use]
pub fn state(design: &Path, artwork: &Artwork) -> State {
    match bounded(&folder(design).join(&artwork.file), MOST_BYTES) {
        Ok(Some(bytes)) if <[u8; 32]>::from(Sha256::digest(&bytes)) == artwork.digest => State::Present,
        Ok(_) => State::Changed,
        Err(_) => State::Missing,
    }
}

/// Width and height in pixels, from the picture's head.
fn measured(bytes: &[u8]) -> Result<[u32; 2], Fault> {
    let found = imagesize::blob_size(bytes).map_err(|_unknown| Fault::NoPicture)?;
    let side = |pixels: usize| u32::try_from(pixels).ok().filter(|side| *side <= MOST_PIXELS);
    match (side(found.width), side(found.height)) {
        (Some(0), _) | (_, Some(0)) => Err(Fault::NoPicture),
        (Some(width), Some(height)) => Ok([width, height]),
        _ => Err(Fault::LargePicture),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The head of a PNG of so many pixels (PNG specification, third edition, 5.2 and 11.2.1): enough to be measured.
    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = vec![0x89, b'P', b'N', b'G', 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13];
        bytes.extend(b"IHDR");
        bytes.extend(width.to_be_bytes());
        bytes.extend(height.to_be_bytes());
        bytes.extend([8, 2, 0, 0, 0, 0, 0, 0, 0]);
        bytes
    }

    fn refused(bytes: &[u8]) -> String {
        let folder = tempfile::tempdir().unwrap();
        let picture = folder.path().join("leaves.png");
        fs::write(&picture, bytes).unwrap();
        take_in(&folder.path().join("swap.folio"), &picture, Length::INCH).unwrap_err().to_string()
    }

    #[test]
    fn a_picture_is_copied_measured_and_found_again() {
        let room = tempfile::tempdir().unwrap();
        let (design, picture) = (room.path().join("swap.folio"), room.path().join("leaves.png"));
        fs::write(&picture, png(3600, 1800)).unwrap();
        let artwork = take_in(&design, &picture, Length::INCH * 12).unwrap();
        assert_eq!((artwork.file.as_str(), artwork.pixels), ("leaves.png", [3600, 1800]));
        assert_eq!(state(&design, &artwork), State::Present);
        assert_eq!(take_in(&design, &picture, Length::INCH * 12).unwrap(), artwork, "once more is no harm");
        fs::write(room.path().join("swap.assets/leaves.png"), png(3600, 1801)).unwrap();
        assert_eq!(state(&design, &artwork), State::Changed);
        let says = take_in(&design, &picture, Length::INCH).unwrap_err().to_string();
        assert!(says.contains("another picture of this name"), "{says}");
        fs::remove_dir_all(room.path().join("swap.assets")).unwrap();
        assert_eq!(state(&design, &artwork), State::Missing);
    }

    #[test]
    fn what_is_no_picture_is_refused() {
        assert!(refused(b"a letter").contains("no PNG or JPEG"));
        assert!(refused(&png(0, 10)).contains("no PNG or JPEG"));
        assert!(refused(&png(20_001, 10)).contains("too large"));
        let room = tempfile::tempdir().unwrap();
        let says = take_in(&room.path().join("a.folio"), &room.path().join("none.png"), Length::INCH).unwrap_err();
        assert!(says.to_string().contains("no such file"), "{says}");
    }
}
