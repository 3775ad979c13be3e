//! PNG, row by row.

use crate::orientation::Orientation;
use crate::shrink::Shrink;
use crate::{Channels, Picture, ReadError, bounded, wanted};
use ::png::{BitDepth, ColorType, Decoder, DecodingError, Info, Limits, Reader, Transformations};
use std::io::Cursor;

/// What a decoder may take for itself, bytes: two rows of the widest picture with 16 bits a channel, and notes of all kinds.
const ROOM: usize = 16 << 20;

type Source<'a> = Cursor<&'a [u8]>;

pub(crate) fn head(bytes: &[u8]) -> Result<([u32; 2], Orientation), ReadError> {
    let reader = opened(bytes)?;
    let info = reader.info();
    Ok(([info.width, info.height], orientation(&reader)))
}

pub(crate) fn read(bytes: &[u8], most: [u32; 2], digest: [u8; 32]) -> Result<Picture, ReadError> {
    let mut reader = opened(bytes)?;
    let size = [reader.info().width, reader.info().height];
    let (colours, depth) = reader.output_color_type();
    if depth != BitDepth::Eight {
        return Err(ReadError::Damaged);
    }
    let channels = match colours {
        ColorType::Rgb | ColorType::Grayscale | ColorType::Indexed => Channels::Rgb,
        ColorType::Rgba | ColorType::GrayscaleAlpha => Channels::Rgba,
    };
    let orientation = orientation(&reader);
    let to = wanted(size, most, orientation);
    let mut shrink = Shrink::new(size, to, channels);
    if reader.info().interlaced {
        let mut whole = vec![0; reader.output_buffer_size().ok_or(ReadError::TooLarge)?];
        let frame = reader.next_frame(&mut whole).map_err(damaged)?;
        whole.chunks_exact(frame.line_size).for_each(|row| take(&mut shrink, row, colours));
    } else {
        while let Some(row) = reader.next_row().map_err(damaged)? {
            take(&mut shrink, row.data(), colours);
        }
    }
    reader.finish().map_err(damaged)?;
    let [width, height] = to;
    Ok(Picture { digest, width, height, channels, pixels: shrink.finish(), orientation, jpeg: None })
}

/// A row of greys is made one of colours.
fn take(shrink: &mut Shrink, row: &[u8], colours: ColorType) {
    match colours {
        ColorType::Rgb | ColorType::Rgba | ColorType::Indexed => shrink.row(row),
        ColorType::Grayscale => shrink.row(&row.iter().flat_map(|&grey| [grey; 3]).collect::<Vec<u8>>()),
        ColorType::GrayscaleAlpha => {
            let pixels = row.chunks_exact(2).flat_map(|pair| [pair[0], pair[0], pair[0], pair[1]]);
            shrink.row(&pixels.collect::<Vec<u8>>());
        }
    }
}

/// A reader that has read all before the pixels, and found no more of these than are taken.
fn opened(bytes: &[u8]) -> Result<Reader<Source<'_>>, ReadError> {
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: ROOM });
    decoder.set_transformations(Transformations::EXPAND | Transformations::STRIP_16);
    // Words and colour profiles are packed and could unfold to any size.
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    let info = decoder.read_header_info().map_err(damaged)?;
    bounded([info.width, info.height], info.interlaced)?;
    let reader = decoder.read_info().map_err(damaged)?;
    if palette_is_whole(reader.info()) { Ok(reader) } else { Err(ReadError::Damaged) }
}

/// Whether a palette, which the decoder takes unseen, holds whole colours, no more than are told apart by the bits of a pixel
/// at their widest, and no more opacities than colours (PNG specification, third edition, 11.2.2 and 11.3.1.1).
fn palette_is_whole(info: &Info<'_>) -> bool {
    if info.color_type != ColorType::Indexed {
        return true;
    }
    let [palette, opacities] = [&info.palette, &info.trns].map(|bytes| bytes.as_deref().map_or(0, <[u8]>::len));
    (3..=3 * 256).contains(&palette) && palette.is_multiple_of(3) && opacities <= palette / 3
}

fn orientation(reader: &Reader<Source<'_>>) -> Orientation {
    reader.info().exif_metadata.as_deref().map_or(Orientation::AsStored, Orientation::of_notes)
}

fn damaged(error: DecodingError) -> ReadError {
    match error {
        DecodingError::LimitsExceeded => ReadError::TooLarge,
        DecodingError::IoError(_) | DecodingError::Format(_) | DecodingError::Parameter(_) => ReadError::Damaged,
    }
}
