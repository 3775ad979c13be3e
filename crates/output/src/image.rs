//! What the back ends share of pictures: which are the same, and their bytes as a file.

use crate::OutputError;
use draw::list::{Channels, Image, Picture};
use kurbo::{Affine, BezPath, Rect, Shape as _};

/// What tells one picture from others: its file, and how many pixels are kept of it.
pub(crate) type Key = ([u8; 32], u32, u32);

pub(crate) const fn key(picture: &Picture) -> Key {
    (picture.digest, picture.width, picture.height)
}

/// Whether the file that a picture came as is no larger than its pixels, so that it is passed on as it is.
pub(crate) fn passes_on(picture: &Picture) -> bool {
    picture.jpeg.as_ref().is_some_and(|jpeg| jpeg.bytes.len() <= picture.pixels.len())
}

/// Whether a picture has as many pixels as it says.
pub(crate) fn is_whole(picture: &Picture) -> bool {
    let side = |side: u32| usize::try_from(side).unwrap_or(usize::MAX);
    let count = side(picture.width).saturating_mul(side(picture.height)).saturating_mul(picture.channels.count());
    count > 0 && count == picture.pixels.len()
}

/// Where the whole picture lies, as a path.
pub(crate) fn extent(place: Affine) -> BezPath {
    place * Rect::new(0.0, 0.0, 1.0, 1.0).to_path(0.0)
}

/// Whether nothing of the clip lies beyond the picture, so that the clip alone is its outline.
pub(crate) fn covers(image: &Image) -> bool {
    /// Shares of the picture; less than a thousandth of a pixel of the largest.
    const ON_EDGE: f64 = 1e-8;
    let inverse = image.place.inverse();
    let bounds = (inverse * image.clip.clone()).bounding_box();
    let all = Rect::new(-ON_EDGE, -ON_EDGE, 1.0 + ON_EDGE, 1.0 + ON_EDGE);
    all.contains_rect(bounds)
}

/// A picture's pixels as a PNG.
pub(crate) fn png_of(picture: &Picture) -> Result<Vec<u8>, OutputError> {
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, picture.width, picture.height);
    encoder.set_color(match picture.channels {
        Channels::Rgb => ::png::ColorType::Rgb,
        Channels::Rgba => ::png::ColorType::Rgba,
    });
    encoder.set_depth(::png::BitDepth::Eight);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&picture.pixels)?;
    writer.finish()?;
    Ok(bytes)
}

/// Bytes in letters, digits, `+` and `/` (RFC 4648, section 4).
pub(crate) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let at = |index: usize| u32::from(three.get(index).copied().unwrap_or(0));
        let bits = at(0) << 16 | at(1) << 8 | at(2);
        for (index, shift) in [18, 12, 6, 0].into_iter().enumerate() {
            let letter = usize::try_from(bits >> shift & 63).unwrap_or(0);
            out.push(if index > three.len() { '=' } else { char::from(LETTERS[letter]) });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The vectors of RFC 4648, section 10.
    #[test]
    fn letters_are_those_of_the_standard() {
        for (bytes, expected) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), expected);
        }
        assert_eq!(base64(&[0xFB, 0xEF, 0xFF]), "++//");
    }
}
