//! JPEG, made smaller by halves while its blocks are unpacked.

use crate::orientation::Orientation;
use crate::shrink::Shrink;
use crate::{Channels, Picture, ReadError, bounded, plain, wanted};
use jpeg_decoder::{CodingProcess, Decoder, ImageInfo, PixelFormat};
use std::io::Cursor;

/// The most bytes of unpacked pixels that are held while a picture is read: three channels of the most pixels.
const ROOM: usize = 360_000_000;

type Source<'a> = Decoder<Cursor<&'a [u8]>>;

pub(crate) fn head(bytes: &[u8]) -> Result<([u32; 2], Orientation), ReadError> {
    let (decoder, info) = opened(bytes)?;
    Ok((size(info), orientation(&decoder)))
}

pub(crate) fn read(bytes: &[u8], most: [u32; 2], digest: [u8; 32]) -> Result<Picture, ReadError> {
    let (mut decoder, info) = opened(bytes)?;
    let orientation = orientation(&decoder);
    let to = wanted(size(info), most, orientation);
    decoder.set_max_decoding_buffer_size(ROOM);
    // Eighths, quarters, halves or all of the pixels, whichever are enough both ways.
    let [wide, high] = least_in_proportion(size(info), to);
    let (across, down) = decoder.scale(wide, high).map_err(damaged)?;
    let from = [across, down].map(u32::from);
    if plain::ends_early(bytes) {
        return Err(ReadError::Damaged);
    }
    let packed = decoder.decode().map_err(damaged)?;
    let to = [to[0].min(from[0]), to[1].min(from[1])];
    let mut shrink = Shrink::new(from, to, Channels::Rgb);
    match info.pixel_format {
        PixelFormat::RGB24 => packed.chunks_exact(usize::from(across) * 3).for_each(|row| shrink.row(row)),
        PixelFormat::L8 => packed.chunks_exact(usize::from(across)).for_each(|row| {
            shrink.row(&row.iter().flat_map(|&grey| [grey; 3]).collect::<Vec<u8>>());
        }),
        PixelFormat::L16 | PixelFormat::CMYK32 => return Err(ReadError::Damaged),
    }
    let [width, height] = to;
    let (pixels, jpeg) = (shrink.finish(), plain::plain(bytes));
    Ok(Picture { digest, width, height, channels: Channels::Rgb, pixels, orientation, jpeg })
}

/// A decoder that has read all before the pixels, and found no more of these than are taken.
fn opened(bytes: &[u8]) -> Result<(Source<'_>, ImageInfo), ReadError> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.read_info().map_err(damaged)?;
    let info = decoder.info().ok_or(ReadError::Damaged)?;
    bounded(size(info), info.coding_process == CodingProcess::DctProgressive)?;
    match info.pixel_format {
        PixelFormat::CMYK32 => Err(ReadError::Inks),
        PixelFormat::L16 => Err(ReadError::NoPicture),
        PixelFormat::L8 | PixelFormat::RGB24 => Ok((decoder, info)),
    }
}

/// The least size with the proportions of `from` that `to` fits into; the decoder looks at either side alone.
fn least_in_proportion(from: [u32; 2], to: [u32; 2]) -> [u16; 2] {
    let [from_wide, from_high] = from.map(u64::from);
    let [wide, high] = to.map(u64::from);
    let side = |pixels: u64| u16::try_from(pixels).unwrap_or(u16::MAX);
    if wide * from_high > high * from_wide {
        [side(wide), side((wide * from_high).div_ceil(from_wide))]
    } else {
        [side((high * from_wide).div_ceil(from_high)), side(high)]
    }
}

fn size(info: ImageInfo) -> [u32; 2] {
    [info.width, info.height].map(u32::from)
}

fn orientation(decoder: &Source<'_>) -> Orientation {
    decoder.exif_data().map_or(Orientation::AsStored, Orientation::of_notes)
}

fn damaged(_error: jpeg_decoder::Error) -> ReadError {
    ReadError::Damaged
}
