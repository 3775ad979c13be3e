//! Display list to PDF, SVG and PNG, and many of them to GIF and APNG.
//!
//! Each back end draws a [`draw::list::Drawing`] as it is: no geometry or rules of its own, no clock, no system fonts,
//! so that the same drawing gives the same bytes. Writing files is somebody else's work: bytes and text come back.
//!
//! Two neighbouring areas of one colour show a faint seam in a PNG, where each only half covers the pixels of the
//! shared edge; a caller that minds joins them into one path first.

mod apng;
mod cutting;
mod dxf;
mod gif;
mod image;
mod moving;
mod number;
mod pdf;
mod png;
mod sound;
mod svg;

#[cfg(test)]
mod sample;

pub use apng::apng;
pub use cutting::cutting_svg;
pub use dxf::cutting_dxf;
pub use gif::gif;
pub use moving::{Frame, MOST_ALL, MOST_BYTES, MOST_EACH, MOST_FRAMES};
pub use pdf::pdf;
pub use png::{Ground, MAX_PIXELS, MAX_SIDE, png, png_on};
pub use sound::{MAX_DEPTH, MAX_REACH};
pub use svg::svg;

/// Why a drawing could not be written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum OutputError {
    /// A coordinate, a width or a transform is infinite, not a number, or beyond [`MAX_REACH`].
    #[error("page {page}, {what}: a coordinate is not a number or lies more than a kilometre away")]
    NotFinite {
        /// The page, from 1.
        page: usize,
        /// What it is part of: 'page size', 'transform', or a role's title.
        what: &'static str,
    },
    /// A side of a page is less than 1 mm or more than 5080 mm, the most that a PDF page can have.
    #[error("page {page} is {width} × {height} mm; a side must be 1 to 5080 mm")]
    PageSize {
        /// The page, from 1.
        page: usize,
        /// Its width in mm.
        width: f64,
        /// Its height in mm.
        height: f64,
    },
    /// Groups lie in groups more than [`MAX_DEPTH`] deep.
    #[error("page {page} has groups nested more than {MAX_DEPTH} deep")]
    TooDeep {
        /// The page, from 1.
        page: usize,
    },
    /// A PDF must have a page.
    #[error("there is no page to write")]
    NoPages,
    /// The picture would be larger than [`MAX_SIDE`] or [`MAX_PIXELS`], or have no pixel.
    #[error("a picture of {width} × {height} pixels is refused: 1 to {MAX_SIDE} a side, at most {MAX_PIXELS} in all")]
    PictureSize {
        /// Pixels across.
        width: u64,
        /// Pixels down.
        height: u64,
    },
    /// A picture has fewer or more pixels than it says.
    #[error("page {page} has a picture whose pixels are not as many as it says")]
    Picture {
        /// The page, from 1.
        page: usize,
    },
    /// An animation would have more pixels or pictures than are taken, or none.
    #[error(
        "an animation of {frames} pictures of {width} × {height} pixels is refused: at most {MOST_FRAMES} pictures, {} \
         megapixels each and {} in all",
        MOST_EACH / 1_000_000,
        MOST_ALL / 1_000_000
    )]
    Moving {
        /// How many pictures.
        frames: usize,
        /// Pixels across.
        width: u64,
        /// Pixels down.
        height: u64,
    },
    /// An animation would take more than [`MOST_BYTES`].
    #[error("the animation would take more than {} megabytes; make it smaller or with fewer pictures", MOST_BYTES >> 20)]
    MovingBytes,
    /// The pictures of an animation are not of one size.
    #[error("the pictures of an animation must be of one size")]
    MovingSize,
    /// Whoever was told of the progress wanted no more.
    #[error("stopped before the animation was made")]
    Stopped,
    /// A GIF could not be written.
    #[error("the animation could not be written")]
    Gif(#[from] ::gif::EncodingError),
    /// A built-in face could not be cut down to the glyphs used.
    #[error("the font could not be embedded: {0:?}")]
    Font(subsetter::Error),
    /// The picture could not be compressed.
    #[error("the picture could not be written")]
    Png(#[from] ::png::EncodingError),
}
