//! APNG: an animated PNG, with every colour as it is (PNG specification, third edition, 11.3.6).

use crate::OutputError;
use crate::moving::{Change, Frame, MOST_BYTES, each};
use crate::png::pixel_size;
use std::io::{self, Write};
use std::ops::ControlFlow;

/// Writes drawings of one size as an APNG `pixels_wide` pixels across that goes round for ever. Its first picture is what a
/// reader of plain PNGs shows.
///
/// Of each further picture only the rectangle that changed is kept. `progress` is told how many of how many are done, and
/// says whether to go on.
///
/// # Errors
/// [`OutputError::Moving`], [`OutputError::MovingBytes`] or [`OutputError::MovingSize`] beyond what is taken;
/// [`OutputError::Stopped`] when `progress` says so; else as [`crate::png()`].
pub fn apng(
    frames: impl ExactSizeIterator<Item = Frame>,
    pixels_wide: u32,
    progress: &mut dyn FnMut(usize, usize) -> ControlFlow<()>,
) -> Result<Vec<u8>, OutputError> {
    let count = u32::try_from(frames.len()).unwrap_or(u32::MAX);
    let mut out = Bounded::default();
    let writer = each(
        frames,
        pixels_wide,
        progress,
        |drawing, [width, height]| {
            let mut encoder = ::png::Encoder::new(&mut out, width, height);
            encoder.set_color(::png::ColorType::Rgb);
            encoder.set_depth(::png::BitDepth::Eight);
            encoder.set_pixel_dims(Some(pixel_size(drawing, pixels_wide)));
            encoder.set_animated(count, 0)?;
            Ok(encoder.write_header()?)
        },
        picture,
    );
    let finished = writer.and_then(|writer| Ok(writer.finish()?));
    out.taken(finished)
}

fn picture(writer: &mut ::png::Writer<&mut Bounded>, change: &Change<'_>) -> Result<(), OutputError> {
    let side = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
    if change.before.is_some() {
        // The rectangle may only grow beyond the picture's edge when it is moved first or made small first.
        writer.set_frame_position(0, 0)?;
        writer.set_frame_dimension(side(change.width), side(change.height))?;
        writer.set_frame_position(side(change.left), side(change.top))?;
    }
    writer.set_frame_delay(change.centiseconds, 100)?;
    writer.set_blend_op(::png::BlendOp::Source)?;
    writer.set_dispose_op(::png::DisposeOp::None)?;
    let pixels: Vec<u8> = change.pixels().flat_map(|(pixel, _)| [pixel[0], pixel[1], pixel[2]]).collect();
    Ok(writer.write_image_data(&pixels)?)
}

/// Bytes up to a bound.
#[derive(Default)]
pub(crate) struct Bounded {
    bytes: Vec<u8>,
    is_full: bool,
}

impl Bounded {
    /// The bytes, when all went well and fitted.
    pub(crate) fn taken(self, outcome: Result<(), OutputError>) -> Result<Vec<u8>, OutputError> {
        if self.is_full { Err(OutputError::MovingBytes) } else { outcome.map(|()| self.bytes) }
    }
}

impl Write for Bounded {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.bytes.len() + bytes.len() > MOST_BYTES {
            self.is_full = true;
            return Err(io::ErrorKind::StorageFull.into());
        }
        self.bytes.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
