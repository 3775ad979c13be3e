//! Pictures that come along when a design is saved in another place, and those of starters, which have no place yet.

use super::{FacePicture, MOST_BYTES, folder, pixels, printed, state};
use crate::artwork::State;
use crate::error::{DiskError, Fault};
use crate::{bounded, save_bytes};
use file::starters;
use model::{Artwork, Document};
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Copies the pictures of a design that was saved as `to` beside it, where they are not there yet: from beside `from`,
/// where it was before, or else those that the program brings for its starters. Gives why each other could not come along.
#[must_use]
pub fn bring(from: Option<&Path>, to: &Path, document: &Document) -> Vec<DiskError> {
    let wanted = printed(document).map(|(.., artwork)| artwork).filter(|artwork| state(to, artwork) != State::Present);
    wanted.filter_map(|artwork| copied(from, to, artwork).err()).collect()
}

fn copied(from: Option<&Path>, to: &Path, artwork: &Artwork) -> Result<(), DiskError> {
    let place = folder(to).join(&artwork.file);
    // What is there under that name may be the only copy of something else.
    if place.exists() {
        return Err(DiskError { path: place, fault: Fault::OtherPicture });
    }
    let bytes = match (built_in(artwork), from) {
        (Some(bytes), _) => bytes.to_vec(),
        (None, Some(from)) => beside(from, artwork)?,
        (None, None) => return Err(DiskError { path: place, fault: Fault::Missing }),
    };
    let folder = folder(to);
    fs::create_dir_all(&folder).map_err(|error| DiskError { path: folder, fault: Fault::of_saving(error) })?;
    save_bytes(&place, &bytes)
}

fn beside(design: &Path, artwork: &Artwork) -> Result<Vec<u8>, DiskError> {
    let path = folder(design).join(&artwork.file);
    let wrong = |fault| DiskError { path: path.clone(), fault };
    let bytes = bounded(&path, MOST_BYTES).map_err(wrong)?.ok_or_else(|| wrong(Fault::LargePicture))?;
    if <[u8; 32]>::from(Sha256::digest(&bytes)) == artwork.digest {
        Ok(bytes)
    } else {
        Err(wrong(Fault::ChangedPicture))
    }
}

/// The picture that a design names, where a starter has it.
fn built_in(artwork: &Artwork) -> Option<&'static [u8]> {
    starters::picture(&artwork.file).filter(|bytes| <[u8; 32]>::from(Sha256::digest(bytes)) == artwork.digest)
}

/// The pictures of a design that was never saved, so far as a starter brings them, as [`super::pictures`] gives them.
#[must_use]
pub fn unsaved(document: &Document, per_mm: f64) -> (Vec<FacePicture>, Vec<DiskError>) {
    let (mut found, mut wrong) = (Vec::new(), Vec::new());
    for (id, face, artwork) in printed(document) {
        let most = [artwork.width, artwork.height()].map(|side| pixels(side, per_mm));
        let picture = built_in(artwork)
            .ok_or(Fault::Missing)
            .and_then(|bytes| raster::read(bytes, most, artwork.digest).map_err(Fault::Picture));
        match picture {
            Ok(picture) => found.push((id, face, Arc::new(picture))),
            Err(fault) => wrong.push(DiskError { path: PathBuf::from(&artwork.file), fault }),
        }
    }
    (found, wrong)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::artwork::pictures;

    fn said(errors: &[DiskError]) -> Vec<String> {
        errors.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn every_picture_that_a_starter_names_is_built_in() {
        for starter in starters::ALL {
            let document = file::from_text(starter.text).expect("every starter can be read");
            assert_eq!(printed(&document).count(), starter.pictures.len(), "{}", starter.name);
            for (.., artwork) in printed(&document) {
                let bytes = built_in(artwork).unwrap_or_else(|| panic!("{}: {}", starter.name, artwork.file));
                assert_eq!(raster::measure(bytes).unwrap(), artwork.pixels, "{}: {}", starter.name, artwork.file);
            }
        }
    }

    #[test]
    fn a_starter_that_was_never_saved_shows_its_pictures_and_takes_them_along() {
        let (document, count) = (starters::demo(), starters::ALL[0].pictures.len());
        let (found, wrong) = unsaved(&document, 1.0);
        assert_eq!((found.len(), said(&wrong)), (count, vec![]));
        let room = tempfile::tempdir().unwrap();
        let [first, second] = ["a.folio", "b.folio"].map(|name| room.path().join(name));
        assert_eq!(said(&bring(None, &first, &document)), Vec::<String>::new());
        let (beside, wrong) = pictures(&first, &document, 1.0);
        assert_eq!((beside.len(), said(&wrong)), (count, vec![]));
        assert!(beside.iter().zip(&found).all(|(a, b)| a.2 == b.2), "the same pixels");
        assert_eq!(said(&bring(Some(&first), &second, &document)), Vec::<String>::new());
        assert_eq!(said(&bring(Some(&first), &second, &document)), Vec::<String>::new(), "once more is no harm");
        assert!(said(&pictures(&second, &document, 1.0).1).is_empty());
    }

    #[test]
    fn a_picture_of_the_makers_own_comes_along_and_never_replaces_another() {
        let room = tempfile::tempdir().unwrap();
        let [from, to] = ["a.folio", "b.folio"].map(|name| room.path().join(name));
        let mut document = Document::new(model::Size::parse("8x8in").unwrap(), model::Unit::Inch);
        // Any bytes will do: what they say is not looked at.
        let digest = Sha256::digest(b"leaves").into();
        let (left, top) = (model::Length::ZERO, model::Length::ZERO);
        let artwork =
            Artwork { file: "own.png".to_owned(), digest, pixels: [1, 1], width: model::Length::INCH, left, top };
        document.stock.front.artwork = Some(artwork);
        assert!(said(&bring(None, &to, &document))[0].contains("no such file"));
        assert!(said(&bring(Some(&from), &to, &document))[0].contains("no such file"));
        assert!(said(&unsaved(&document, 1.0).1)[0].contains("own.png"));
        fs::create_dir(folder(&from)).unwrap();
        let kept = folder(&from).join("own.png");
        fs::write(&kept, b"petals").unwrap();
        assert!(said(&bring(Some(&from), &to, &document))[0].contains("another picture"));
        fs::write(&kept, b"leaves").unwrap();
        assert!(bring(Some(&from), &to, &document).is_empty());
        let place = folder(&to).join("own.png");
        assert_eq!(fs::read(&place).unwrap(), b"leaves");
        fs::write(&place, b"petals").unwrap();
        assert!(said(&bring(Some(&from), &to, &document))[0].contains("of this name already"));
        assert_eq!(fs::read(&place).unwrap(), b"petals", "what was there is kept");
    }
}
