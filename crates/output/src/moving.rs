//! What GIF and APNG share: drawings one after the other, within bounds, and what changes from one to the next.
//!
//! One drawing is held at a time, with the pixels of the one before it.

use crate::OutputError;
use crate::png::{Ground, Painter, rgb};
use draw::list::Drawing;
use std::ops::ControlFlow;

/// The most pictures of an animation.
pub const MOST_FRAMES: usize = 4000;

/// The most pixels of a picture of an animation.
pub const MOST_EACH: u64 = 10_000_000;

/// The most pixels of all pictures of an animation together: half a minute of work, and no one waits longer.
pub const MOST_ALL: u64 = 2_000_000_000;

/// The most bytes of an animation.
pub const MOST_BYTES: usize = 256 << 20;

/// One picture of an animation.
#[derive(Debug, Clone)]
pub struct Frame {
    /// What it shows.
    pub drawing: Drawing,
    /// How long it is shown, hundredths of a second.
    pub centiseconds: u16,
}

/// Is told how many pictures of how many are done, and says whether to go on.
pub(crate) type Progress<'a> = &'a mut dyn FnMut(usize, usize) -> ControlFlow<()>;

/// What changed from the picture before: its rectangle, and the pixels of the whole picture now and then.
pub(crate) struct Change<'a> {
    pub(crate) left: usize,
    pub(crate) top: usize,
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Pixels across the whole picture.
    pub(crate) across: usize,
    pub(crate) now: &'a [u8],
    /// `None` for the first.
    pub(crate) before: Option<&'a [u8]>,
    pub(crate) centiseconds: u16,
}

impl Change<'_> {
    /// The pixels within the rectangle, each with the one before it where there is one.
    pub(crate) fn pixels(&self) -> impl Iterator<Item = (&[u8], Option<&[u8]>)> {
        (self.top..self.top + self.height).flat_map(move |y| {
            let row = (y * self.across + self.left) * 3..(y * self.across + self.left + self.width) * 3;
            let before = self.before.map(|before| &before[row.clone()]);
            self.now[row]
                .chunks_exact(3)
                .enumerate()
                .map(move |(x, pixel)| (pixel, before.map(|before| &before[x * 3..x * 3 + 3])))
        })
    }
}

/// Writes each of `frames` by `write`, once `start` has been told the first drawing and the size of all pictures.
pub(crate) fn each<W>(
    frames: impl ExactSizeIterator<Item = Frame>,
    pixels_wide: u32,
    progress: Progress<'_>,
    start: impl FnOnce(&Drawing, [u32; 2]) -> Result<W, OutputError>,
    mut write: impl FnMut(&mut W, &Change<'_>) -> Result<(), OutputError>,
) -> Result<W, OutputError> {
    let count = frames.len();
    let mut start = Some(start);
    let mut writer = None;
    let mut painter = Painter::default();
    let mut before: Option<(kurbo::Size, Vec<u8>)> = None;
    for (done, Frame { drawing, centiseconds }) in frames.enumerate() {
        check(&drawing, count, pixels_wide)?;
        if before.as_ref().is_some_and(|(size, _)| *size != drawing.size) {
            return Err(OutputError::MovingSize);
        }
        let pixmap = painter.painted(&drawing, pixels_wide, Ground::White)?;
        let size = [pixmap.width(), pixmap.height()];
        let now = rgb(&pixmap);
        drop(pixmap);
        if let Some(start) = start.take() {
            writer = Some(start(&drawing, size)?);
        }
        let [across, down] = size.map(|side| usize::try_from(side).unwrap_or(0));
        let old = before.as_ref().map(|(_, pixels)| pixels.as_slice());
        let (left, top, width, height) = old.map_or((0, 0, across, down), |old| changed(old, &now, across));
        if let Some(writer) = &mut writer {
            write(writer, &Change { left, top, width, height, across, now: &now, before: old, centiseconds })?;
        }
        before = Some((drawing.size, now));
        if progress(done + 1, count).is_break() {
            return Err(OutputError::Stopped);
        }
    }
    writer.ok_or(OutputError::Moving { frames: 0, width: u64::from(pixels_wide), height: 0 })
}

/// Refuses an animation of too many pixels by its first picture.
fn check(drawing: &Drawing, frames: usize, pixels_wide: u32) -> Result<(), OutputError> {
    crate::sound::check(drawing, 1)?;
    let width = u64::from(pixels_wide);
    let height = crate::png::whole(drawing.size.height * f64::from(pixels_wide) / drawing.size.width).max(1);
    let each = width.saturating_mul(height);
    let all = each.saturating_mul(u64::try_from(frames).unwrap_or(u64::MAX));
    let is_side = |side: u64| (1..=crate::png::MAX_SIDE).contains(&side);
    if is_side(width) && is_side(height) && each <= MOST_EACH && all <= MOST_ALL && frames <= MOST_FRAMES {
        Ok(())
    } else {
        Err(OutputError::Moving { frames, width, height })
    }
}

/// The rectangle around all pixels that changed; the upper left one where none did.
fn changed(before: &[u8], now: &[u8], across: usize) -> (usize, usize, usize, usize) {
    let rows = || before.chunks_exact(across * 3).zip(now.chunks_exact(across * 3)).enumerate();
    let changed_rows = || rows().filter(|(_, (old, new))| old != new);
    let (Some((top, _)), Some((bottom, _))) = (changed_rows().next(), changed_rows().next_back()) else {
        return (0, 0, 1, 1);
    };
    let (mut left, mut right) = (across, 0);
    for (_, (old, new)) in changed_rows() {
        let mut pixels = old.chunks_exact(3).zip(new.chunks_exact(3)).map(|(old, new)| old != new);
        left = left.min(pixels.position(|differs| differs).unwrap_or(across));
        let mut pixels = old.chunks_exact(3).zip(new.chunks_exact(3)).map(|(old, new)| old != new);
        right = right.max(pixels.rposition(|differs| differs).unwrap_or(0));
    }
    (left, top, right + 1 - left, bottom + 1 - top)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(differ: &[(usize, usize)], expected: (usize, usize, usize, usize)) {
        let before = vec![9; 5 * 4 * 3];
        let mut now = before.clone();
        for (x, y) in differ {
            now[(y * 5 + x) * 3 + 1] = 8;
        }
        assert_eq!(changed(&before, &now, 5), expected);
    }

    #[test]
    fn the_rectangle_holds_all_that_changed() {
        check(&[], (0, 0, 1, 1));
        check(&[(0, 0)], (0, 0, 1, 1));
        check(&[(4, 3)], (4, 3, 1, 1));
        check(&[(3, 1), (1, 2)], (1, 1, 3, 2));
        check(&[(0, 0), (4, 3)], (0, 0, 5, 4));
    }
}
