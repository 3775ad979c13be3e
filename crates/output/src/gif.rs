//! GIF: up to 255 colours a picture, chosen for each, and one that leaves what was there (GIF89a).

mod palette;

use crate::OutputError;
use crate::apng::Bounded;
use crate::moving::{Change, Frame, each};
use ::gif::{DisposalMethod, Encoder, Repeat};
use palette::Palette;
use std::borrow::Cow;
use std::ops::ControlFlow;

/// Writes drawings of one size as a GIF `pixels_wide` pixels across that goes round for ever.
///
/// Of each further picture only pixels that changed are kept, so that what lies still does not flicker. No pattern of dots
/// stands for the colours that a GIF can't have: each is the nearest of those chosen. `progress` is told how many of how many
/// are done, and says whether to go on.
///
/// # Errors
/// As [`crate::apng()`].
pub fn gif(
    frames: impl ExactSizeIterator<Item = Frame>,
    pixels_wide: u32,
    progress: &mut dyn FnMut(usize, usize) -> ControlFlow<()>,
) -> Result<Vec<u8>, OutputError> {
    let mut out = Bounded::default();
    let written = each(
        frames,
        pixels_wide,
        progress,
        |_, [width, height]| {
            let mut encoder = Encoder::new(&mut out, side(width), side(height), &[])?;
            encoder.set_repeat(Repeat::Infinite)?;
            Ok((encoder, Palette::default()))
        },
        |(encoder, palette), change| picture(encoder, palette, change),
    );
    let finished = written.and_then(|(encoder, _)| Ok(encoder.into_inner().map(drop)?));
    out.taken(finished)
}

fn picture(encoder: &mut Encoder<&mut Bounded>, palette: &mut Palette, change: &Change<'_>) -> Result<(), OutputError> {
    let is_new = |pixel: &[u8], before: Option<&[u8]>| before != Some(pixel);
    palette.choose(change.pixels().filter(|(pixel, before)| is_new(pixel, *before)).map(|(pixel, _)| pixel));
    let clear = palette.count();
    let index =
        |(pixel, before): (&[u8], Option<&[u8]>)| if is_new(pixel, before) { palette.index(pixel) } else { clear };
    let buffer: Vec<u8> = change.pixels().map(index).collect();
    let mut colours = palette.colours();
    if change.before.is_some() || colours.is_empty() {
        colours.extend([0; 3]);
    }
    encoder.write_frame(&::gif::Frame {
        delay: change.centiseconds,
        dispose: DisposalMethod::Keep,
        transparent: change.before.map(|_| clear),
        left: side(change.left),
        top: side(change.top),
        width: side(change.width),
        height: side(change.height),
        palette: Some(colours),
        buffer: Cow::Owned(buffer),
        ..::gif::Frame::default()
    })?;
    Ok(())
}

fn side<T: TryInto<u16>>(pixels: T) -> u16 {
    pixels.try_into().unwrap_or(u16::MAX)
}
