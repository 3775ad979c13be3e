//! Pictures as pixels: reads PNG and JPEG within bounds, with no more pixels than are asked for.
//!
//! Bytes come in and a [`Picture`] comes out; where they come from and where the picture goes is somebody else's work.
//! A picture is read row by row and made smaller on the way, so that a large one takes no more room than its bytes and
//! the pixels that are wanted of it. What is left out: colour profiles (all pictures are taken as sRGB), inks (CMYK), and
//! whatever moves.

mod jpeg;
mod orientation;
mod plain;
mod png;
mod shrink;
#[cfg(test)]
mod testing;

pub use orientation::Orientation;
pub use plain::Jpeg;

use std::fmt;

/// The most pixels along a side: 12 in at 1600 pixels an inch.
pub const MOST_SIDE: u32 = 20_000;

/// The most pixels in all: 12 × 12 in at 900 pixels an inch.
pub const MOST_PIXELS: u64 = 120_000_000;

/// The most pixels of a picture that is stored in passes from coarse to fine (an interlaced PNG, a progressive JPEG), which
/// has to be held whole while it is read: up to 8 bytes a pixel.
pub const MOST_PIXELS_IN_PASSES: u64 = 40_000_000;

/// A picture: its pixels as they are stored, and how they are to be turned.
#[derive(Clone, PartialEq)]
pub struct Picture {
    /// What tells it from other pictures: the SHA-256 of its file.
    pub digest: [u8; 32],
    /// Pixels across, as stored.
    pub width: u32,
    /// Pixels down, as stored.
    pub height: u32,
    /// What is kept of each pixel.
    pub channels: Channels,
    /// The pixels row by row from the top, eight bits a channel, not premultiplied, without padding.
    pub pixels: Vec<u8>,
    /// How what is stored is turned to be seen.
    pub orientation: Orientation,
    /// The picture as a JPEG that every reader takes, where it came as one.
    pub jpeg: Option<Jpeg>,
}

/// What is kept of each pixel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Channels {
    /// Red, green, blue.
    Rgb,
    /// Red, green, blue, opacity.
    Rgba,
}

/// Why a picture can't be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// The bytes are of another kind of file.
    #[error("this is no PNG or JPEG picture; choose one")]
    NoPicture,
    /// A side is longer than [`MOST_SIDE`] or there are more than [`MOST_PIXELS`].
    #[error(
        "this picture is too large; make it at most {MOST_SIDE} pixels along a side and {} megapixels",
        MOST_PIXELS / 1_000_000
    )]
    TooLarge,
    /// It is stored in passes and has more than [`MOST_PIXELS_IN_PASSES`].
    #[error(
        "this picture is too large for one that is interlaced or progressive; save it without that, or with at most {} \
         megapixels",
        MOST_PIXELS_IN_PASSES / 1_000_000
    )]
    TooLargeInPasses,
    /// It is for printing inks: what they look like on a screen isn't in the file.
    #[error("this picture is in printing inks (CMYK); save it in RGB")]
    Inks,
    /// It ends early, or holds what no PNG or JPEG may.
    #[error("this picture is damaged; save it anew")]
    Damaged,
}

/// Width and height in pixels, as the picture is seen. Only its head is looked at.
///
/// # Errors
/// See [`ReadError`].
pub fn measure(bytes: &[u8]) -> Result<[u32; 2], ReadError> {
    let (size, orientation) = match kind(bytes)? {
        Kind::Png => png::head(bytes)?,
        Kind::Jpeg => jpeg::head(bytes)?,
    };
    Ok(orientation.turned(size))
}

/// Reads a picture with at most `most` pixels across and down as it is seen, each at least 1; never with more than it has.
///
/// Where it has more, each pixel is the mean of the area that it covers. `digest` is the SHA-256 of `bytes`.
///
/// # Errors
/// See [`ReadError`].
pub fn read(bytes: &[u8], most: [u32; 2], digest: [u8; 32]) -> Result<Picture, ReadError> {
    match kind(bytes)? {
        Kind::Png => png::read(bytes, most, digest),
        Kind::Jpeg => jpeg::read(bytes, most, digest),
    }
}

enum Kind {
    Png,
    Jpeg,
}

/// By the first bytes (PNG specification, third edition, 5.2; ITU-T T.81, B.2.1).
fn kind(bytes: &[u8]) -> Result<Kind, ReadError> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Ok(Kind::Png)
    } else if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
        Ok(Kind::Jpeg)
    } else {
        Err(ReadError::NoPicture)
    }
}

/// Refuses a picture of more pixels than are read.
fn bounded([width, height]: [u32; 2], in_passes: bool) -> Result<(), ReadError> {
    let all = u64::from(width) * u64::from(height);
    if all == 0 {
        Err(ReadError::Damaged)
    } else if width > MOST_SIDE || height > MOST_SIDE || all > MOST_PIXELS {
        Err(ReadError::TooLarge)
    } else if in_passes && all > MOST_PIXELS_IN_PASSES {
        Err(ReadError::TooLargeInPasses)
    } else {
        Ok(())
    }
}

/// How many pixels to keep of a picture of `size`, as stored.
fn wanted(size: [u32; 2], most: [u32; 2], orientation: Orientation) -> [u32; 2] {
    let most = orientation.turned(most);
    [size[0].min(most[0]).max(1), size[1].min(most[1]).max(1)]
}

impl Channels {
    /// Bytes a pixel.
    #[must_use]
    pub const fn count(self) -> usize {
        match self {
            Self::Rgb => 3,
            Self::Rgba => 4,
        }
    }
}

impl Picture {
    /// Its pixels made fewer, as many as `to` across and down as stored, never more than it has: each is the mean of the area
    /// that it covers.
    #[must_use]
    pub fn shrunk(&self, to: [u32; 2]) -> Vec<u8> {
        let from = [self.width.max(1), self.height.max(1)];
        let to = [to[0].clamp(1, from[0]), to[1].clamp(1, from[1])];
        let mut shrink = shrink::Shrink::new(from, to, self.channels);
        let row = usize::try_from(from[0]).unwrap_or(usize::MAX).saturating_mul(self.channels.count());
        self.pixels.chunks_exact(row).for_each(|row| shrink.row(row));
        shrink.finish()
    }

    /// The mean of its pixels: red, green, blue, each weighed by its opacity, and the mean opacity.
    #[must_use]
    pub fn mean(&self) -> [u8; 4] {
        match self.shrunk([1, 1])[..] {
            [r, g, b] => [r, g, b, u8::MAX],
            [r, g, b, a] => [r, g, b, a],
            _ => [0; 4],
        }
    }
}

// Millions of bytes help nobody who reads a message.
impl fmt::Debug for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Picture({} × {}, {:?}, {:?})", self.width, self.height, self.channels, self.orientation)
    }
}

#[cfg(test)]
mod tests;
