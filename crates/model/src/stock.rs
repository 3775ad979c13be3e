//! Paper as bought: how large, how heavy, how thick, what is printed on it and which way it runs.
//!
//! Artwork is named, measured and placed here; its pixels are read elsewhere.

use crate::geometry::Size;
use crate::length::Length;
use crate::line::Face;
use crate::weight::{Bulk, Weight};
use std::fmt;

/// The name by which other things in the document refer to a further stock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StockId(pub u32);

/// Another paper that the design uses beside the folio's, such as one for mats.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FurtherStock {
    /// Its name in the document.
    pub id: StockId,
    /// The paper.
    pub stock: Stock,
}

/// A sheet of paper as bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// What the maker calls it; may be empty.
    pub name: String,
    /// Width and height as it lies at turn 0.
    pub size: Size,
    /// How heavy it is; `None` when unknown.
    pub weight: Option<Weight>,
    /// How thick one sheet is.
    pub caliper: Caliper,
    /// What the front looks like.
    pub front: Side,
    /// What the back looks like.
    pub back: Side,
    /// Which way the fibres run; `None` when unknown, as on a square sheet that does not say.
    pub grain: Option<Grain>,
    /// The colour that shows where it is cut or torn, where it is not that of the faces.
    pub core: Option<Colour>,
}

/// The thickness of one sheet, and where the figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Caliper {
    /// Nobody knows.
    #[default]
    Unknown,
    /// Measured, more than zero.
    Measured(Length),
    /// Worked out from the weight and the paper's bulk; unknown while the weight is.
    FromBulk(Bulk),
}

/// What one face looks like.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Side {
    /// Whether it is printed, and whether that has an up.
    pub pattern: Pattern,
    /// Its main colour, where the maker says one.
    pub colour: Option<Colour>,
    /// A picture of what is printed on it.
    pub artwork: Option<Artwork>,
}

/// Whether a face is printed, and whether that has an up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Pattern {
    /// Not printed.
    #[default]
    Plain,
    /// Printed, and right whichever way it is turned.
    AnyWay,
    /// Printed, with an up that points to an edge of the sheet as drawn (seen from the front, for the back too).
    OneWay(SheetEdge),
}

/// An edge of the sheet as drawn, front up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SheetEdge {
    /// Away from the maker.
    Top,
    /// At her right.
    Right,
    /// Towards her.
    Bottom,
    /// At her left.
    Left,
}

/// Which way the fibres run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grain {
    /// From top to bottom of the sheet as drawn.
    Upright,
    /// From side to side.
    Level,
}

/// A colour: red, green and blue as in sRGB.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Colour(pub [u8; 3]);

/// A picture on a face of the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Artwork {
    /// Its file, in the folder beside the design; a plain file name.
    pub file: String,
    /// The SHA-256 of the file, so that another picture of that name is noticed.
    pub digest: [u8; 32],
    /// How many pixels wide and high it is, both more than zero.
    pub pixels: [u32; 2],
    /// How wide it is on the paper; its height follows. More than zero.
    pub width: Length,
    /// From the left edge of the face to the picture, seen from that side.
    pub left: Length,
    /// From the top edge of the face to the picture.
    pub top: Length,
}

impl Stock {
    /// 0.3 mm: an 80 lb uncoated cover stock measures 0.25 to 0.34 mm (0.010 to 0.0135 in, two stockists' figures).
    pub const USUAL_CALIPER: Length = Length::from_nm(300_000);

    /// A sheet of `size` of which nothing else is known than the usual thickness.
    #[must_use]
    pub const fn plain(size: Size) -> Self {
        const PLAIN: Side = Side { pattern: Pattern::Plain, colour: None, artwork: None };
        Self {
            name: String::new(),
            size,
            weight: None,
            caliper: Caliper::Measured(Self::USUAL_CALIPER),
            front: PLAIN,
            back: PLAIN,
            grain: None,
            core: None,
        }
    }

    /// The thickness of one sheet, measured or estimated; `None` when it cannot be known.
    ///
    /// An estimate is weight times bulk: g/m² · cm³/g = µm (the definition of bulk in ISO 534).
    #[must_use]
    pub fn thickness(&self) -> Option<Length> {
        match self.caliper {
            Caliper::Unknown => None,
            Caliper::Measured(length) => Some(length),
            Caliper::FromBulk(bulk) => {
                let micrometres = self.weight?.grammage() * f64::from(bulk.thousandths()) / 1000.0;
                Length::from_mm_rounded(micrometres / 1000.0).filter(|length| *length > Length::ZERO)
            }
        }
    }

    /// What one sheet weighs, in grams; `None` when the weight is unknown.
    #[must_use]
    pub fn sheet_grams(&self) -> Option<f64> {
        let square_metres = self.size.width().mm() * self.size.height().mm() / 1e6;
        Some(self.weight?.grammage() * square_metres)
    }

    /// One of its faces.
    #[must_use]
    pub const fn side(&self, face: Face) -> &Side {
        match face {
            Face::Front => &self.front,
            Face::Back => &self.back,
        }
    }

    /// One of its faces, to be changed.
    pub const fn side_mut(&mut self, face: Face) -> &mut Side {
        match face {
            Face::Front => &mut self.front,
            Face::Back => &mut self.back,
        }
    }
}

impl SheetEdge {
    /// All four, clockwise from the top.
    pub const ALL: [Self; 4] = [Self::Top, Self::Right, Self::Bottom, Self::Left];

    /// The edge across from it.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Top => Self::Bottom,
            Self::Right => Self::Left,
            Self::Bottom => Self::Top,
            Self::Left => Self::Right,
        }
    }

    /// "top", "right", "bottom" or "left".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Right => "right",
            Self::Bottom => "bottom",
            Self::Left => "left",
        }
    }
}

impl Colour {
    /// Reads `#7a9b3c`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6)?;
        digits.chars().all(|c| c.is_ascii_hexdigit()).then_some(())?;
        let part = |i: usize| u8::from_str_radix(&digits[2 * i..2 * i + 2], 16).ok();
        Some(Self([part(0)?, part(1)?, part(2)?]))
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self([red, green, blue]) = self;
        write!(f, "#{red:02x}{green:02x}{blue:02x}")
    }
}

impl Artwork {
    /// How high it is on the paper, in proportion.
    #[must_use]
    pub fn height(&self) -> Length {
        let [across, down] = self.pixels.map(i128::from);
        let nm = (i128::from(self.width.nm()) * down + across / 2) / across.max(1);
        i64::try_from(nm).map_or(self.width, Length::from_nm)
    }

    /// Its pixels an inch on the paper. Printers ask for 300; below 150 pixels show (common practice, no source).
    #[must_use]
    pub fn pixels_per_inch(&self) -> f64 {
        f64::from(self.pixels[0]) * Length::INCH.mm() / self.width.mm().max(f64::MIN_POSITIVE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_weighs_what_it_should() {
        // 12 x 12 in is 0.09290304 m²: 216.3 g/m² make 20.1 g, 270.4 make 25.1 g (recomputed).
        let sheet = |weight: &str| {
            let stock = Stock { weight: Weight::parse(weight).ok(), ..Stock::plain(Size::parse("12x12in").unwrap()) };
            stock.sheet_grams().unwrap()
        };
        assert!((sheet("80 lb cover") - 20.1).abs() < 0.05);
        assert!((sheet("100 lb cover") - 25.1).abs() < 0.05);
    }

    #[track_caller]
    fn estimated(weight: &str, bulk: &str, micrometres: f64) {
        let caliper = Caliper::FromBulk(Bulk::parse(bulk).unwrap());
        let stock = Stock { weight: Weight::parse(weight).ok(), caliper, ..Stock::plain(Size::parse("A4").unwrap()) };
        let found = stock.thickness().unwrap().mm() * 1000.0;
        assert!((found - micrometres).abs() < 0.5, "{weight} at {bulk} is {found} µm");
    }

    #[test]
    fn thickness_follows_from_weight_and_bulk() {
        // A print service's table of bulks (0.80 gloss, 0.90 silk, 1.22 offset): 80 g/m² offset 97.6 µm, 115 g/m² silk
        // 103.5 µm, 170 g/m² gloss 136 µm.
        estimated("80 g/m2", "1.22", 97.6);
        estimated("115 g/m2", "0.90", 103.5);
        estimated("170 g/m2", "0.8", 136.0);
        // Stockists' pairs of weight and thickness: 20 lb bond .0038 to .0040 in at 1.25 to 1.40; 100 lb silk cover
        // .0110 in at 1.03; 14 pt uncoated board of 270 g/m² at 1.32.
        estimated("20 lb bond", "1.3", 97.8);
        estimated("100 lb cover", "1.033", 279.4);
        estimated("270 g/m2", "1.317", 355.6);
    }

    #[test]
    fn without_a_weight_a_bulk_says_nothing() {
        let caliper = Caliper::FromBulk(Bulk::USUAL[2].1);
        let stock = Stock { caliper, ..Stock::plain(Size::parse("A4").unwrap()) };
        assert_eq!((stock.thickness(), stock.sheet_grams()), (None, None));
        let stock = Stock { caliper: Caliper::Measured(Length::from_nm(270_000)), ..stock };
        assert_eq!(stock.thickness(), Some(Length::from_nm(270_000)));
    }

    #[test]
    fn artwork_keeps_its_proportions() {
        let artwork = Artwork {
            file: "leaves.png".to_owned(),
            digest: [0; 32],
            pixels: [3600, 1800],
            width: Length::INCH * 12,
            left: Length::ZERO,
            top: Length::ZERO,
        };
        assert_eq!(artwork.height(), Length::INCH * 6);
        assert!((artwork.pixels_per_inch() - 300.0).abs() < 1e-9);
    }

    #[test]
    fn colours_read_back() {
        assert_eq!(Colour::parse("#7A9b3c").unwrap().to_string(), "#7a9b3c");
        assert_eq!(Colour::parse("#12345é"), None);
        assert_eq!(Colour::parse("red"), None);
    }
}
