//! Artwork in version 2: a picture beside the design, by name and hash, and where on the face it lies.

use super::word::Digest;
use super::{measure, unless_zero};
use crate::error::FileError;
use crate::quoted::{Pair, Quoted};
use crate::schema::POSITIVE;
use crate::word::Measure;
use model::{Artwork, Length, Unit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The longest name of a file, in bytes: what common file systems hold.
const MOST_NAME: usize = 255;

/// A name that stays in its folder, as a regular expression of both ECMAScript and Python.
const FILE_NAME: &str = "^(?!\\.{1,2}$)[^/\\\\:\\u0000-\\u001f\\u007f-\\u009f]+$";

/// A picture on a face of the sheet.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "an artwork in { }")]
#[schemars(rename = "Artwork")]
pub(super) struct ArtworkKeys {
    /// The name of its file in the folder of the design's artwork.
    #[schemars(length(max = MOST_NAME), extend("pattern" = FILE_NAME))]
    file: String,
    sha256: Quoted<Digest>,
    /// How many pixels wide and high it is.
    #[schemars(inner(range(min = 1)))]
    pixels: Pair<u32>,
    /// How wide it is on the paper; more than zero.
    #[schemars(extend("pattern" = POSITIVE))]
    width: Quoted<Measure>,
    /// From the left edge of the face to the picture, seen from that side; none when left out.
    left: Option<Quoted<Measure>>,
    /// From the top edge of the face to the picture; none when left out.
    top: Option<Quoted<Measure>>,
}

/// Whether a design may name its artwork's file so: a plain name that can't lead out of a folder on any system.
///
/// # Errors
/// Says what is wrong with the name and how to mend it.
///
/// ```
/// use foliowright_file::artwork_file;
///
/// assert!(artwork_file("leaves and pods.png").is_ok());
/// assert!(artwork_file("../leaves.png").is_err());
/// ```
pub fn artwork_file(name: &str) -> Result<(), &'static str> {
    if name.is_empty() || name == "." || name == ".." || name.contains(['/', '\\', ':']) {
        return Err(
            "it is not a plain file name; name a file in the folder of the design's artwork, without /, \\ or :",
        );
    }
    if name.contains(char::is_control) {
        return Err("it holds a line break or another control character; give the file another name");
    }
    if name.len() > MOST_NAME {
        return Err("no file has a name of more than 255 bytes; give the file a shorter name");
    }
    Ok(())
}

/// The artwork at `path`.
pub(super) fn read(path: &str, keys: ArtworkKeys) -> Result<Artwork, FileError> {
    let refused = |key: &str, says: &str| FileError::value(format!("{path}.{key}"), says);
    artwork_file(&keys.file).map_err(|says| refused("file", says))?;
    if keys.pixels.0.contains(&0) {
        return Err(refused("pixels", "a picture is at least one pixel wide and high; write how many it has"));
    }
    let width = keys.width.0.length;
    if width <= Length::ZERO {
        return Err(refused("width", "a picture is wider than nothing; write how wide it is on the paper"));
    }
    let from_edge = |length: Option<Quoted<Measure>>| length.map_or(Length::ZERO, |length| length.0.length);
    Ok(Artwork {
        file: keys.file,
        digest: keys.sha256.0.0,
        pixels: keys.pixels.0,
        width,
        left: from_edge(keys.left),
        top: from_edge(keys.top),
    })
}

/// Artwork as it is written.
pub(super) fn keys(artwork: &Artwork, unit: Unit) -> ArtworkKeys {
    ArtworkKeys {
        file: artwork.file.clone(),
        sha256: Quoted(Digest(artwork.digest)),
        pixels: Pair(artwork.pixels),
        width: measure(artwork.width, unit),
        left: unless_zero(artwork.left, unit),
        top: unless_zero(artwork.top, unit),
    }
}
