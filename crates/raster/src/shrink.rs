//! Fewer pixels, row by row: each is the mean of the area that it covers.
//!
//! Sums of whole numbers, so that the result is the same on every machine whatever the order of adding.

use crate::Channels;

/// Takes rows of a picture and keeps a smaller one.
pub(crate) struct Shrink {
    /// Rows of the picture that comes in, and of the one that is kept.
    rows: [u64; 2],
    channels: Channels,
    /// For each column that comes in: the column it falls in, and how many of its shares fall there; the rest falls in the
    /// next. A column that comes in has as many shares as columns are kept, and one that is kept as many as come in.
    columns: Vec<(usize, u64)>,
    /// Shares of a column that comes in, which is the count of columns kept.
    share: u64,
    /// What a kept pixel's weights add up to.
    whole: u64,
    /// The row that comes in now.
    row: u64,
    /// Sums over the row that comes in, and over the kept row so far.
    line: Vec<u64>,
    sums: Vec<u64>,
    kept: Vec<u8>,
    /// Whether nothing is to be done but to copy.
    copies: bool,
}

impl Shrink {
    /// From a picture of `from` pixels across and down to one of `to`, no larger either way; neither has none.
    pub(crate) fn new(from: [u32; 2], to: [u32; 2], channels: Channels) -> Self {
        let [wide, high] = from.map(u64::from);
        let [across, down] = to.map(u64::from);
        let column = |x: u64| {
            let (start, end) = (x * across, (x + 1) * across);
            let at = start / wide;
            (usize::try_from(at).unwrap_or(usize::MAX), ((at + 1) * wide).min(end) - start)
        };
        let count = usize::try_from(across).unwrap_or(0) * channels.count();
        let rows = usize::try_from(down).unwrap_or(0);
        Self {
            rows: [high, down],
            channels,
            columns: (0..wide).map(column).collect(),
            share: across,
            whole: wide * high,
            row: 0,
            line: vec![0; count],
            sums: vec![0; count],
            kept: Vec::with_capacity(count * rows),
            copies: from == to,
        }
    }

    /// The next row, as many bytes as a row has; rows beyond the last are left out.
    pub(crate) fn row(&mut self, row: &[u8]) {
        let [high, down] = self.rows;
        if self.row == high {
            return;
        }
        if self.copies {
            self.kept.extend_from_slice(row);
            self.row += 1;
            return;
        }
        self.add_up(row);
        let (start, end) = (self.row * down, (self.row + 1) * down);
        let border = (start / high + 1) * high;
        self.add_line(border.min(end) - start);
        if border <= end {
            self.keep();
            self.add_line(end - border);
        }
        self.row += 1;
    }

    /// The picture that is kept. Rows that never came are left out.
    pub(crate) fn finish(self) -> Vec<u8> {
        self.kept
    }

    /// The sums over each kept column within one row.
    fn add_up(&mut self, row: &[u8]) {
        self.line.fill(0);
        let count = self.channels.count();
        for (pixel, &(at, here)) in row.chunks_exact(count).zip(&self.columns) {
            let there = self.share - here;
            let opacity = match self.channels {
                Channels::Rgb => 1,
                Channels::Rgba => u64::from(pixel[3]),
            };
            for (channel, &value) in pixel.iter().enumerate() {
                let value = if channel < 3 { u64::from(value) * opacity } else { u64::from(value) };
                self.line[at * count + channel] += value * here;
                if there > 0 {
                    self.line[(at + 1) * count + channel] += value * there;
                }
            }
        }
    }

    fn add_line(&mut self, shares: u64) {
        if shares > 0 {
            // At most 255 · 255 · 20 000 · 20 000, far below what 64 bits hold.
            self.sums.iter_mut().zip(&self.line).for_each(|(sum, value)| *sum += value * shares);
        }
    }

    /// Makes a row of the sums, and starts the next.
    fn keep(&mut self) {
        for pixel in self.sums.chunks_exact(self.channels.count()) {
            let weight = match self.channels {
                Channels::Rgb => self.whole,
                Channels::Rgba => pixel[3],
            };
            self.kept.extend(pixel[..3].iter().map(|&sum| mean(sum, weight)));
            if self.channels == Channels::Rgba {
                self.kept.push(mean(pixel[3], self.whole));
            }
        }
        self.sums.fill(0);
    }
}

/// The nearest whole number to a mean of bytes; 0 where nothing has any weight.
fn mean(sum: u64, weight: u64) -> u8 {
    (sum + weight / 2).checked_div(weight).and_then(|mean| u8::try_from(mean).ok()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(from: [u32; 2], to: [u32; 2], channels: Channels, pixels: &[u8], expected: &[u8]) {
        let mut shrink = Shrink::new(from, to, channels);
        let row = usize::try_from(from[0]).unwrap() * channels.count();
        pixels.chunks_exact(row).for_each(|row| shrink.row(row));
        assert_eq!(shrink.finish(), expected);
    }

    fn grey(values: &[u8]) -> Vec<u8> {
        values.iter().flat_map(|&value| [value; 3]).collect()
    }

    /// Expected values by hand: areas of overlap times values.
    #[test]
    fn pixels_are_means_of_what_they_cover() {
        check([2, 2], [2, 2], Channels::Rgb, &grey(&[1, 2, 3, 4]), &grey(&[1, 2, 3, 4]));
        check([2, 2], [1, 1], Channels::Rgb, &grey(&[0, 10, 20, 31]), &grey(&[15]));
        // Three columns to two: 2/3 and 1/3 of the middle one go either way.
        check([3, 1], [2, 1], Channels::Rgb, &grey(&[0, 90, 240]), &grey(&[30, 190]));
        check([1, 3], [1, 2], Channels::Rgb, &grey(&[0, 90, 240]), &grey(&[30, 190]));
        check([5, 1], [3, 1], Channels::Rgb, &grey(&[10, 20, 30, 40, 50]), &grey(&[14, 30, 46]));
        check([4, 4], [2, 1], Channels::Rgb, &grey(&[8; 16]), &grey(&[8, 8]));
    }

    #[test]
    fn clear_pixels_lend_no_colour() {
        let pixels = [200, 100, 0, 255, 7, 7, 7, 0];
        check([2, 1], [1, 1], Channels::Rgba, &pixels, &[200, 100, 0, 128]);
        check([2, 1], [1, 1], Channels::Rgba, &[9; 8].map(|_: u8| 0), &[0, 0, 0, 0]);
    }

    #[test]
    fn the_longest_row_is_one_pixel() {
        check([20_000, 1], [1, 1], Channels::Rgba, &[255; 80_000], &[255; 4]);
    }
}
