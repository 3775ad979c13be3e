//! `cargo xtask artwork`: paints what is printed on the starters' papers, of our own making, and writes it beside them.
//!
//! A picture is a small tile repeated over a sheet, in four colours at 300 pixels an inch, so that it prints well and takes
//! little room. The same bytes come out each time; a test holds them against what is in the repository.

mod pattern;
mod tile;

use anyhow::{Context, Result};
use png::{BitDepth, ColorType, Compression, Encoder, Filter, PixelDimensions, Unit};
use std::fs;
use std::path::{Path, PathBuf};
use tile::Tile;

/// Where the starters are.
const STARTERS: &str = "assets/starters";

/// 300 pixels an inch, for programs that ask the picture.
const PIXELS_A_METRE: u32 = 11_811;

/// The paper, a pale tint, a stronger one, and an accent; all so pale that lines and names over them are read with ease.
type Palette = [[u8; 3]; 4];

/// What is printed on one face of one starter's paper.
struct Picture {
    starter: &'static str,
    name: &'static str,
    /// In pixels, of a whole sheet.
    size: (u32, u32),
    palette: Palette,
    pattern: fn() -> Tile,
}

// Sheets at 300 pixels an inch, rounded up.
const TWELVE_INCHES: (u32, u32) = (3600, 3600);
const SIX_BY_TWELVE: (u32, u32) = (3600, 1800);
const LETTER: (u32, u32) = (2550, 3300);
const LETTER_LEVEL: (u32, u32) = (3300, 2550);
const THIRTY_CENTIMETRES: (u32, u32) = (3544, 3544);
const A4_LEVEL: (u32, u32) = (3508, 2481);

const fn picture(
    starter: &'static str,
    name: &'static str,
    size: (u32, u32),
    palette: Palette,
    pattern: fn() -> Tile,
) -> Picture {
    Picture { starter, name, size, palette, pattern }
}

const CREAM_AND_FERN: Palette = [[250, 246, 233], [221, 232, 200], [190, 208, 164], [226, 196, 150]];
const LINEN_AND_OCHRE: Palette = [[249, 243, 230], [238, 221, 187], [224, 198, 150], [205, 213, 178]];
const SKY_AND_STRAW: Palette = [[240, 246, 248], [208, 225, 232], [177, 204, 216], [240, 220, 170]];
const BLUSH_AND_SAGE: Palette = [[252, 243, 239], [245, 217, 208], [233, 190, 180], [200, 214, 184]];
const SAGE_AND_BLUSH: Palette = [[241, 246, 236], [215, 228, 204], [188, 208, 174], [240, 205, 196]];
const HONEY_AND_PLUM: Palette = [[252, 245, 226], [246, 223, 165], [236, 202, 128], [212, 190, 212]];
const LILAC_AND_HONEY: Palette = [[246, 242, 248], [225, 214, 232], [205, 189, 216], [245, 221, 160]];
const TEAL_AND_CORAL: Palette = [[239, 247, 245], [203, 228, 223], [166, 206, 199], [246, 205, 188]];
const SAND_AND_TEAL: Palette = [[248, 244, 235], [232, 222, 202], [214, 199, 170], [176, 211, 205]];
const SACK_AND_STRAW: Palette = [[243, 234, 214], [232, 217, 186], [214, 194, 155], [203, 213, 174]];

/// Every picture there is.
const PICTURES: &[Picture] = &[
    picture("seed-swap", "sunflowers.png", TWELVE_INCHES, HONEY_AND_PLUM, pattern::sunflowers),
    picture("seed-swap", "beds.png", TWELVE_INCHES, CREAM_AND_FERN, pattern::beds),
    picture("season-diary", "seedlings.png", TWELVE_INCHES, CREAM_AND_FERN, pattern::seedlings),
    picture("season-diary", "rain.png", TWELVE_INCHES, SKY_AND_STRAW, pattern::rain),
    picture("packet-envelope", "sprigs.png", LETTER, CREAM_AND_FERN, pattern::sprigs),
    picture("packet-envelope", "seeds.png", LETTER, LINEN_AND_OCHRE, pattern::seeds),
    picture("garden-gate", "trellis.png", TWELVE_INCHES, SAGE_AND_BLUSH, pattern::trellis),
    picture("garden-gate", "furrows.png", TWELVE_INCHES, LINEN_AND_OCHRE, pattern::furrows),
    picture("four-petals", "dots.png", THIRTY_CENTIMETRES, SAGE_AND_BLUSH, pattern::dots),
    picture("four-petals", "flowers.png", THIRTY_CENTIMETRES, BLUSH_AND_SAGE, pattern::flowers),
    picture("harvest-accordion", "ears.png", SIX_BY_TWELVE, HONEY_AND_PLUM, pattern::ears),
    picture("harvest-accordion", "stripes.png", SIX_BY_TWELVE, LILAC_AND_HONEY, pattern::stripes),
    picture("postcard-wallet", "rows.png", A4_LEVEL, SAND_AND_TEAL, pattern::rows),
    picture("postcard-wallet", "packets.png", A4_LEVEL, TEAL_AND_CORAL, pattern::packets),
    picture("two-paper-book", "specks.png", LETTER_LEVEL, SACK_AND_STRAW, pattern::specks),
    picture("two-paper-book", "sacking.png", LETTER_LEVEL, SACK_AND_STRAW, pattern::sacking),
    picture("two-paper-book", "ferns.png", TWELVE_INCHES, CREAM_AND_FERN, pattern::ferns),
    picture("two-paper-book", "checks.png", TWELVE_INCHES, SAGE_AND_BLUSH, pattern::checks),
];

/// Writes every picture below `root`, in place of what was there.
///
/// # Errors
/// Names the file that can't be written.
pub(crate) fn run(root: &Path) -> Result<()> {
    for picture in PICTURES {
        let path = picture.path(root);
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).with_context(|| format!("{} can't be made", folder.display()))?;
        }
        let bytes = picture.bytes()?;
        fs::write(&path, &bytes).with_context(|| format!("{} can't be written", path.display()))?;
        println!("{}: {} bytes", path.display(), bytes.len());
    }
    Ok(())
}

impl Picture {
    fn path(&self, root: &Path) -> PathBuf {
        root.join(STARTERS).join(format!("{}.assets", self.starter)).join(self.name)
    }

    /// It as a PNG in the palette's colours, two bits a pixel.
    fn bytes(&self) -> Result<Vec<u8>> {
        let tile = (self.pattern)();
        let (width, height) = self.size;
        // Four pixels a byte, the left one in the upper bits; what is beyond the edge in the last byte is not looked at.
        let packed = |y: i64| -> Vec<u8> {
            let firsts = (0..i64::from(width)).step_by(4);
            firsts.map(|first| (0..4).fold(0, |byte, next| byte << 2 | tile.ink((first + next, y)))).collect()
        };
        // Packed once for each row of the tile, of which there are few.
        let rows: Vec<Vec<u8>> = (0..tile.height()).map(packed).collect();
        let rows: Vec<u8> = rows.iter().cycle().take(usize::try_from(height)?).flatten().copied().collect();
        let mut bytes = Vec::new();
        let mut encoder = Encoder::new(&mut bytes, width, height);
        encoder.set_color(ColorType::Indexed);
        encoder.set_depth(BitDepth::Two);
        encoder.set_palette(self.palette.concat());
        encoder.set_compression(Compression::High);
        encoder.set_filter(Filter::NoFilter);
        encoder.set_pixel_dims(Some(PixelDimensions { xppu: PIXELS_A_METRE, yppu: PIXELS_A_METRE, unit: Unit::Meter }));
        let mut writer = encoder.write_header()?;
        writer.write_image_data(&rows)?;
        writer.finish()?;
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pictures_in_the_repository_are_those_that_are_painted_and_take_little_room() {
        for picture in PICTURES {
            let path = picture.path(&crate::root());
            let kept = fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            assert!(kept == picture.bytes().unwrap(), "{}: run `cargo xtask artwork`", path.display());
            assert!(kept.len() <= 150_000, "{} takes {} bytes", picture.name, kept.len());
        }
    }

    #[test]
    fn lines_and_names_are_read_on_every_colour() {
        // WCAG 2.2, success criterion 1.4.3: a contrast of 4.5 for text; lines and names are drawn nearly black, so the
        // relative luminance of every ink has to be (4.5 * 0.05) - 0.05 = 0.175 at least above black, and much more so
        // that coloured lines stand out: 0.5 (our choice). Linear light is taken as the square of the value, which for
        // these pale colours is within a few hundredths of the standard's.
        for picture in PICTURES {
            for ink in picture.palette {
                let [red, green, blue] = ink.map(|value| (f64::from(value) / 255.0).powi(2));
                let luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
                assert!(luminance >= 0.5, "{} {ink:?}: {luminance}", picture.name);
            }
        }
    }
}
