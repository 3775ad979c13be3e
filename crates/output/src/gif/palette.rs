//! The colours of one picture of a GIF.
//!
//! Colours are sorted into a cube of cells, 64 a side, and the cube is cut again and again where that lessens most how far
//! colours lie from their mean (after Wu 1991, "Efficient statistical computations for optimal color quantization"; from
//! memory). Whole numbers only, so that the same picture has the same colours everywhere.

/// The most colours; one more stands for what was there before.
const MOST: usize = 255;

/// Cells along a side of the cube, as bits.
const BITS: u32 = 6;

const CELLS: usize = 1 << (3 * BITS);

/// Colours chosen for a picture.
pub(super) struct Palette {
    cells: Vec<Sums>,
    /// Which colour each cell with something in it has.
    indices: Vec<u8>,
    /// The cells with something in them.
    used: Vec<usize>,
    colours: Vec<[u8; 3]>,
}

/// What the colours in a cell add up to.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    count: u64,
    channels: [u64; 3],
    squares: [u64; 3],
}

impl Default for Palette {
    fn default() -> Self {
        Self { cells: vec![Sums::default(); CELLS], indices: vec![0; CELLS], used: Vec::new(), colours: Vec::new() }
    }
}

impl Palette {
    /// Chooses colours for these pixels, three bytes each.
    pub(super) fn choose<'a>(&mut self, pixels: impl Iterator<Item = &'a [u8]>) {
        for cell in self.used.drain(..) {
            self.cells[cell] = Sums::default();
        }
        for pixel in pixels {
            let cell = cell(pixel);
            if self.cells[cell].count == 0 {
                self.used.push(cell);
            }
            self.cells[cell].add(pixel);
        }
        self.used.sort_unstable();
        self.colours.clear();
        for (index, part) in (0..=u8::MAX).zip(parts(&self.cells, self.used.clone())) {
            let mut sums = Sums::default();
            for &cell in &part {
                sums.merge(&self.cells[cell]);
                self.indices[cell] = index;
            }
            self.colours.push(sums.mean());
        }
    }

    /// How many colours were chosen.
    pub(super) fn count(&self) -> u8 {
        u8::try_from(self.colours.len()).unwrap_or(u8::MAX)
    }

    /// Which of the colours a pixel has that they were chosen for.
    pub(super) fn index(&self, pixel: &[u8]) -> u8 {
        self.indices[cell(pixel)]
    }

    /// Red, green, blue of each colour.
    pub(super) fn colours(&self) -> Vec<u8> {
        self.colours.as_flattened().to_vec()
    }
}

fn cell(pixel: &[u8]) -> usize {
    pixel.iter().take(3).fold(0, |cell, &value| cell << BITS | usize::from(value) >> (8 - BITS))
}

/// The cells in groups, one a colour.
fn parts(cells: &[Sums], used: Vec<usize>) -> Vec<Vec<usize>> {
    let mut parts: Vec<(u64, Vec<usize>)> = vec![(spread(cells, &used).1, used)];
    parts.retain(|(_, part)| !part.is_empty());
    while parts.len() < MOST {
        // The first of several, so that the order is the same everywhere.
        let widest = parts.iter().enumerate().max_by_key(|(at, (spread, _))| (*spread, usize::MAX - at));
        let Some((at, _)) = widest.filter(|(_, (spread, part))| *spread > 0 && part.len() > 1) else { break };
        let (_, part) = parts.swap_remove(at);
        let (low, high) = cut(cells, part);
        parts.extend([low, high].into_iter().map(|part| (spread(cells, &part).1, part)));
    }
    parts.into_iter().map(|(_, part)| part).collect()
}

/// The channel in which the colours of cells lie farthest from their mean, and how far: squares added up.
fn spread(cells: &[Sums], part: &[usize]) -> (usize, u64) {
    let mut sums = Sums::default();
    part.iter().for_each(|&cell| sums.merge(&cells[cell]));
    if part.len() < 2 {
        // It can't be cut.
        return (0, 0);
    }
    (0..3)
        .map(|channel| (channel, sums.spread(channel)))
        .max_by_key(|(channel, spread)| (*spread, 3 - channel))
        .unwrap_or((0, 0))
}

/// Two groups of cells, neither empty, cut across the channel of the greatest spread where what remains is least.
fn cut(cells: &[Sums], mut part: Vec<usize>) -> (Vec<usize>, Vec<usize>) {
    let (channel, _) = spread(cells, &part);
    part.sort_by_key(|&cell| (cells[cell].mean()[channel], cell));
    let mut all = Sums::default();
    part.iter().for_each(|&cell| all.merge(&cells[cell]));
    let (mut low, mut best) = (Sums::default(), (u64::MAX, 1));
    for (at, &cell) in part.iter().enumerate().take(part.len() - 1) {
        low.merge(&cells[cell]);
        let left = low.spread(channel) + all.without(&low).spread(channel);
        if left < best.0 {
            best = (left, at + 1);
        }
    }
    let high = part.split_off(best.1);
    (part, high)
}

impl Sums {
    fn add(&mut self, pixel: &[u8]) {
        self.count += 1;
        for (channel, &value) in pixel.iter().take(3).enumerate() {
            self.channels[channel] += u64::from(value);
            self.squares[channel] += u64::from(value) * u64::from(value);
        }
    }

    fn merge(&mut self, other: &Self) {
        self.count += other.count;
        for channel in 0..3 {
            self.channels[channel] += other.channels[channel];
            self.squares[channel] += other.squares[channel];
        }
    }

    fn without(&self, other: &Self) -> Self {
        let less = |all: [u64; 3], part: [u64; 3]| std::array::from_fn(|at| all[at] - part[at]);
        Self {
            count: self.count - other.count,
            channels: less(self.channels, other.channels),
            squares: less(self.squares, other.squares),
        }
    }

    /// How far colours lie from their mean in one channel: squares added up, rounded down.
    fn spread(&self, channel: usize) -> u64 {
        // At most 10 million pixels of 255: 6.6e18 when squared.
        let mean = u128::from(self.channels[channel]).pow(2).checked_div(u128::from(self.count)).unwrap_or(0);
        self.squares[channel].saturating_sub(u64::try_from(mean).unwrap_or(u64::MAX))
    }

    /// The nearest colour to the mean.
    fn mean(&self) -> [u8; 3] {
        self.channels.map(|sum| {
            let mean = (sum + self.count / 2).checked_div(self.count).unwrap_or(0);
            u8::try_from(mean).unwrap_or(u8::MAX)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chosen(pixels: &[[u8; 3]]) -> Palette {
        let mut palette = Palette::default();
        palette.choose(pixels.iter().map(<[u8; 3]>::as_slice));
        palette
    }

    #[test]
    fn few_colours_are_kept_as_they_are() {
        let pixels: Vec<[u8; 3]> = (0..=254).map(|value| [value, 255 - value, (value / 16) * 16]).collect();
        // Steps of 4 or more, so that each has a cell of its own.
        let pixels: Vec<[u8; 3]> = pixels.into_iter().step_by(4).collect();
        let palette = chosen(&pixels);
        assert_eq!(usize::from(palette.count()), pixels.len());
        for pixel in &pixels {
            let at = usize::from(palette.index(pixel));
            assert_eq!(palette.colours()[at * 3..at * 3 + 3], *pixel);
        }
    }

    #[test]
    fn what_there_is_much_of_keeps_its_colour() {
        let mut pixels = vec![[251, 243, 228]; 100_000];
        pixels.extend((0..=255).flat_map(|red| (0..=255).step_by(5).map(move |green| [red, green, 40])));
        let palette = chosen(&pixels);
        assert_eq!(palette.count(), 255);
        let far = |pixel: &[u8; 3]| {
            let at = usize::from(palette.index(pixel));
            palette.colours()[at * 3..at * 3 + 3].iter().zip(pixel).map(|(a, b)| a.abs_diff(*b)).max().unwrap()
        };
        assert!(far(&[251, 243, 228]) <= 1);
        // 255 colours over a square of 256 by 256 are 16 apart: at most 8 off, a few more where the cuts fall unevenly.
        assert!(pixels.iter().map(far).max().unwrap() <= 14);
    }

    #[test]
    fn a_palette_forgets_the_picture_before() {
        let mut palette = chosen(&[[1, 2, 3], [200, 0, 0]]);
        palette.choose(std::iter::empty());
        assert_eq!(palette.count(), 0);
        palette.choose([[9_u8, 9, 9]].iter().map(<[u8; 3]>::as_slice));
        assert_eq!(palette.colours(), [9, 9, 9]);
    }
}
