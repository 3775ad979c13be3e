//! Artwork: the pictures printed on a sheet, kept in a folder beside the design.
//!
//! A design `swap.folio` has its pictures in `swap.assets`. The design names each by its file and the SHA-256 of its bytes,
//! so that a picture that was changed or is gone is noticed. What the bytes say is `raster`'s business.

mod bring;

pub use bring::{bring, unsaved};

use crate::bounded;
use crate::error::{DiskError, Fault};
use crate::save::save_bytes;
use model::{Artwork, Document, Face, Length, StockId};
use raster::Picture;
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The largest picture file that is taken, in bytes: 12 megapixels of artwork are some 10 MB.
pub const MOST_BYTES: u64 = 64 << 20;

/// The most pixels across and down that are kept of a picture, whatever is asked for: so that no more than some 100 MB are
/// held of it.
const MOST_KEPT: f64 = 5000.0;

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
    let digest = Sha256::digest(&bytes).into();
    let pixels = raster::measure(&bytes).map_err(|error| wrong(Fault::Picture(error)))?;
    // All of it is looked at, so that a damaged picture is found now and not when it is to be printed.
    raster::read(&bytes, [1, 1], digest).map_err(|error| wrong(Fault::Picture(error)))?;
    let name = picture.file_name().and_then(|name| name.to_str()).ok_or_else(|| wrong(Fault::BadName))?;
    file::artwork_file(name).map_err(|_says| wrong(Fault::BadName))?;
    let artwork = Artwork { file: name.to_owned(), digest, pixels, width, left: Length::ZERO, top: Length::ZERO };
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

/// The picture that a design names, with about `per_mm` pixels a millimetre of the paper, and never with more than it has.
///
/// # Errors
/// Names the picture and what is wrong: it is missing, another one, damaged or too large.
pub fn read(design: &Path, artwork: &Artwork, per_mm: f64) -> Result<Picture, DiskError> {
    let path = folder(design).join(&artwork.file);
    let read = || {
        let bytes = bounded(&path, MOST_BYTES)?.ok_or(Fault::LargePicture)?;
        let digest: [u8; 32] = Sha256::digest(&bytes).into();
        if digest != artwork.digest {
            return Err(Fault::ChangedPicture);
        }
        let most = [artwork.width, artwork.height()].map(|side| pixels(side, per_mm));
        raster::read(&bytes, most, digest).map_err(Fault::Picture)
    };
    read().map_err(|fault| DiskError { path: path.clone(), fault })
}

/// A picture of a design, with the face that it is printed on; `None` is the folio's own stock.
pub type FacePicture = (Option<StockId>, Face, Arc<Picture>);

/// All pictures of a design that can be read, as [`read`] reads them, and why each other can't.
#[must_use]
pub fn pictures(design: &Path, document: &Document, per_mm: f64) -> (Vec<FacePicture>, Vec<DiskError>) {
    let (mut found, mut wrong) = (Vec::new(), Vec::new());
    for (id, face, artwork) in printed(document) {
        match read(design, artwork, per_mm) {
            Ok(picture) => found.push((id, face, Arc::new(picture))),
            Err(error) => wrong.push(error),
        }
    }
    (found, wrong)
}

/// The faces of a design's papers that have a picture.
fn printed(document: &Document) -> impl Iterator<Item = (Option<StockId>, Face, &Artwork)> {
    let further = document.further_stocks.iter().map(|further| (Some(further.id), &further.stock));
    std::iter::once((None, &document.stock)).chain(further).flat_map(|(id, stock)| {
        let faces = [Face::Front, Face::Back].into_iter();
        faces.filter_map(move |face| Some((id, face, stock.side(face).artwork.as_ref()?)))
    })
}

/// How many pixels are wanted of a side of the picture on the paper.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and MOST_KEPT")]
fn pixels(side: Length, per_mm: f64) -> u32 {
    (side.mm() * per_mm).ceil().clamp(1.0, MOST_KEPT) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A PNG of so many grey pixels a side.
    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut encoder = ::png::Encoder::new(&mut bytes, width, height);
        encoder.set_color(::png::ColorType::Grayscale);
        encoder.set_depth(::png::BitDepth::One);
        let row = usize::try_from(width.div_ceil(8)).unwrap();
        let mut writer = encoder.write_header().unwrap();
        writer.write_image_data(&vec![0xAA; row * usize::try_from(height).unwrap()]).unwrap();
        writer.finish().unwrap();
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
        assert!(refused(&png(20_001, 10)).contains("too large"));
        assert!(refused(&png(40, 40)[..80]).contains("damaged"));
        let room = tempfile::tempdir().unwrap();
        let says = take_in(&room.path().join("a.folio"), &room.path().join("none.png"), Length::INCH).unwrap_err();
        assert!(says.to_string().contains("no such file"), "{says}");
    }

    #[test]
    fn pictures_are_read_as_finely_as_they_are_asked_for() {
        let room = tempfile::tempdir().unwrap();
        let (design, picture) = (room.path().join("swap.folio"), room.path().join("leaves.png"));
        fs::write(&picture, png(1200, 600)).unwrap();
        let artwork = take_in(&design, &picture, Length::INCH * 2).unwrap();
        let mut document = Document::new(model::Size::parse("8x8in").unwrap(), model::Unit::Inch);
        document.stock.back.artwork = Some(artwork.clone());
        // By hand: 50.8 x 25.4 mm at 10 pixels a millimetre; at 100 it has fewer.
        for (per_mm, size) in [(10.0, [508, 254]), (100.0, [1200, 600]), (0.001, [1, 1])] {
            let (found, wrong) = pictures(&design, &document, per_mm);
            assert!(wrong.is_empty(), "{wrong:?}");
            let [(None, Face::Back, picture)] = found.as_slice() else { panic!("{found:?}") };
            assert_eq!(([picture.width, picture.height], picture.digest), (size, artwork.digest));
        }
    }

    #[test]
    fn pictures_that_cannot_be_read_are_each_told_once() {
        let room = tempfile::tempdir().unwrap();
        let (design, picture) = (room.path().join("swap.folio"), room.path().join("leaves.png"));
        fs::write(&picture, png(30, 30)).unwrap();
        let artwork = take_in(&design, &picture, Length::INCH).unwrap();
        let mut document = Document::new(model::Size::parse("8x8in").unwrap(), model::Unit::Inch);
        document.stock.front.artwork = Some(artwork);
        let says = |document: &Document| {
            let (found, wrong) = pictures(&design, document, 1.0);
            assert!(found.is_empty() && wrong.len() == 1);
            wrong[0].to_string()
        };
        let kept = room.path().join("swap.assets/leaves.png");
        fs::write(&kept, png(30, 31)).unwrap();
        assert!(says(&document).contains("another picture than the one that was put on the sheet"));
        fs::remove_file(&kept).unwrap();
        assert!(says(&document).contains("no such file"));
        let cut = &png(30, 30)[..70];
        fs::write(&kept, cut).unwrap();
        document.stock.front.artwork.as_mut().unwrap().digest = Sha256::digest(cut).into();
        assert!(says(&document).contains("damaged"));
    }
}
