//! How heavy paper is, in grams or in pounds with their grade, and how bulky.
//!
//! Weights and bulks are whole thousandths, so that what was typed is what is stored.

use crate::length::Length;
use std::fmt;

/// Bulk (apparent specific volume, ISO 534): micrometres of thickness a g/m², which is cm³/g. In thousandths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Bulk(u32);

/// How heavy paper is, as the shop says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Weight {
    thousandths: u32,
    /// What is counted.
    pub scale: WeightScale,
}

/// What a weight counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WeightScale {
    /// Grams a square metre (grammage, ISO 536).
    Grams,
    /// Pounds a ream of 500 sheets of the grade's basic size.
    Pounds(Grade),
}

/// A grade of paper, which says how large the sheets are that a weight in pounds counts. The same pounds are a different
/// paper in each: 110 lb is 163 g/m² as text, 199 as index and 297 as cover.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Bond, writing and ledger paper.
    Bond,
    /// Text, book and offset paper.
    Text,
    /// Cover stock.
    Cover,
    /// Index.
    Index,
    /// Tag.
    Tag,
    /// Bristol.
    Bristol,
}

impl Bulk {
    /// From thousandths of cm³/g; `None` outside 0.3 to 5, which no paper is (glassine and blotting paper lie within).
    #[must_use]
    pub const fn from_thousandths(thousandths: u32) -> Option<Self> {
        if 300 <= thousandths && thousandths <= 5_000 { Some(Self(thousandths)) } else { None }
    }

    /// Thousandths of cm³/g.
    #[must_use]
    pub const fn thousandths(self) -> u32 {
        self.0
    }

    /// Reads a figure such as `1.2`.
    ///
    /// # Errors
    /// Says what a bulk looks like.
    pub fn parse(text: &str) -> Result<Self, String> {
        let figure = text.trim().trim_end_matches("cm3/g").trim_end_matches("cm³/g");
        thousandths_of(figure).and_then(Self::from_thousandths).ok_or_else(|| {
            format!(
                "\"{text}\" is not a bulk; give cm³/g between 0.3 and 5, such as 0.9 for coated or 1.25 for plain paper"
            )
        })
    }

    /// Bulks usual for a finish: what it is called, and a middle value. Ranges taken from stockists' tables of weight
    /// and thickness: gloss coated 0.80–0.95, silk coated 0.9–1.1, smooth uncoated 1.15–1.35, laid and felt 1.4–1.6.
    pub const USUAL: [(&'static str, Self); 4] = [
        ("gloss coated", Self(870)),
        ("silk coated", Self(1_000)),
        ("smooth", Self(1_250)),
        ("laid or felt", Self(1_500)),
    ];
}

impl fmt::Display for Bulk {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&decimal(self.0))
    }
}

impl Weight {
    /// The heaviest, in thousandths of g/m² or of lb: 3 kg/m² is board of several millimetres.
    pub const MOST_THOUSANDTHS: u32 = 3_000_000;

    /// A weight of so many thousandths; `None` for zero or more than [`Self::MOST_THOUSANDTHS`].
    #[must_use]
    pub const fn new(thousandths: u32, scale: WeightScale) -> Option<Self> {
        if thousandths == 0 || thousandths > Self::MOST_THOUSANDTHS { None } else { Some(Self { thousandths, scale }) }
    }

    /// The count, in thousandths.
    #[must_use]
    pub const fn thousandths(self) -> u32 {
        self.thousandths
    }

    /// The same in g/m²: lb · 453.59237 g / 500 sheets / the area of one (international pound and inch, by definition).
    #[must_use]
    pub fn grammage(self) -> f64 {
        let count = f64::from(self.thousandths) / 1000.0;
        match self.scale {
            WeightScale::Grams => count,
            WeightScale::Pounds(grade) => {
                let [width, height] = grade.basic_size();
                count * 453.592_37 / 500.0 / (width.mm() * height.mm() / 1e6)
            }
        }
    }

    /// Reads `80 lb cover`, `216 g/m2`, `216 gsm`.
    ///
    /// # Errors
    /// Says what a weight looks like; asks for the grade where pounds are given without one.
    pub fn parse(text: &str) -> Result<Self, String> {
        let plain = text.trim();
        let split = plain.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(plain.len());
        let (figure, rest) = plain.split_at(split);
        let words: Vec<String> = rest.split_whitespace().map(str::to_lowercase).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let scale = match words.as_slice() {
            ["g/m2" | "g/m²" | "gsm"] => Some(WeightScale::Grams),
            ["lb" | "lbs" | "#", grade] => Grade::named(grade).map(WeightScale::Pounds),
            ["lb" | "lbs" | "#"] => return Err(Self::wants_grade(text)),
            _ => None,
        };
        let weight = thousandths_of(figure).zip(scale).and_then(|(count, scale)| Self::new(count, scale));
        weight.ok_or_else(|| format!("\"{text}\" is not a paper's weight; write it as \"216 g/m2\" or \"80 lb cover\""))
    }

    fn wants_grade(text: &str) -> String {
        let grades: Vec<&str> = Grade::ALL.iter().map(|grade| grade.word()).collect();
        format!("\"{text}\" does not say of which grade the pounds are; add one of {}", grades.join(", "))
    }
}

impl fmt::Display for Weight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let count = decimal(self.thousandths);
        match self.scale {
            WeightScale::Grams => write!(f, "{count} g/m2"),
            WeightScale::Pounds(grade) => write!(f, "{count} lb {}", grade.word()),
        }
    }
}

impl Grade {
    /// All of them.
    pub const ALL: [Self; 6] = [Self::Bond, Self::Text, Self::Cover, Self::Index, Self::Tag, Self::Bristol];

    /// Its name in the trade.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bond => "bond",
            Self::Text => "text",
            Self::Cover => "cover",
            Self::Index => "index",
            Self::Tag => "tag",
            Self::Bristol => "bristol",
        }
    }

    /// The grade called so, in lower case; `None` when there is none.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|grade| grade.word() == word)
    }

    /// The sheet that the pounds count, as printers' tables give it: 17 × 22 in for bond, 25 × 38 text, 20 × 26 cover,
    /// 25 1/2 × 30 1/2 index, 24 × 36 tag, 22 1/2 × 28 1/2 bristol.
    #[must_use]
    pub const fn basic_size(self) -> [Length; 2] {
        let halves = match self {
            Self::Bond => [34, 44],
            Self::Text => [50, 76],
            Self::Cover => [40, 52],
            Self::Index => [51, 61],
            Self::Tag => [48, 72],
            Self::Bristol => [45, 57],
        };
        [Length::from_sixty_fourths(32 * halves[0]), Length::from_sixty_fourths(32 * halves[1])]
    }
}

/// A figure with at most three decimals, in thousandths.
fn thousandths_of(figure: &str) -> Option<u32> {
    let figure = figure.trim();
    let (whole, part) = figure.split_once('.').unwrap_or((figure, ""));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if whole.is_empty() || part.len() > 3 || !digits(whole) || !digits(part) {
        return None;
    }
    let whole: u32 = whole.parse().ok()?;
    let part: u32 = format!("{part:0<3}").parse().ok()?;
    whole.checked_mul(1000)?.checked_add(part)
}

/// Thousandths as a figure without trailing zeros.
fn decimal(thousandths: u32) -> String {
    let (whole, part) = (thousandths / 1000, thousandths % 1000);
    if part == 0 { whole.to_string() } else { format!("{whole}.{part:03}").trim_end_matches('0').to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// To a tenth of a g/m², as printers' tables print it.
    #[track_caller]
    fn grams(text: &str, expected: f64) {
        let found = Weight::parse(text).unwrap().grammage();
        assert!((found - expected).abs() < 0.051, "{text} is {found} g/m², not {expected}");
    }

    #[test]
    fn pounds_are_as_many_grams_as_printers_tables_say() {
        // Printers' basis weight tables (basic sizes in a printer maker's manual, table 1-23; g/m² recomputed from them).
        for (text, expected) in [
            ("16 lb bond", 60.2),
            ("20 lb bond", 75.2),
            ("24 lb bond", 90.2),
            ("28 lb bond", 105.3),
            ("32 lb bond", 120.3),
            ("50 lb text", 74.0),
            ("60 lb text", 88.8),
            ("70 lb text", 103.6),
            ("80 lb text", 118.4),
            ("100 lb text", 148.0),
            ("50 lb cover", 135.2),
            ("60 lb cover", 162.2),
            ("65 lb cover", 175.8),
            ("80 lb cover", 216.3),
            ("90 lb cover", 243.4),
            ("100 lb cover", 270.4),
            ("110 lb cover", 297.5),
            ("120 lb cover", 324.5),
            ("130 lb cover", 351.5),
            ("57 lb bristol", 125.0),
            ("67 lb bristol", 146.9),
            ("80 lb bristol", 175.4),
            ("100 lb bristol", 219.3),
            ("120 lb bristol", 263.1),
            ("90 lb index", 162.7),
            ("110 lb index", 198.9),
            ("140 lb index", 253.1),
            ("100 lb tag", 162.7),
            ("125 lb tag", 203.4),
            ("150 lb tag", 244.1),
            ("175 lb tag", 284.8),
        ] {
            grams(text, expected);
        }
    }

    #[test]
    fn weights_read_back_as_written() {
        for text in ["216 g/m2", "80 lb cover", "28.5 lb bond", "0.001 g/m2", "110 lb index"] {
            assert_eq!(Weight::parse(text).unwrap().to_string(), text);
        }
        for (text, same) in [("216gsm", "216 g/m2"), (" 65 lbs COVER", "65 lb cover"), ("90.50 g/m²", "90.5 g/m2")] {
            assert_eq!(Weight::parse(text).unwrap().to_string(), same);
        }
    }

    #[test]
    fn what_is_no_weight_is_refused_in_words() {
        let says = |text: &str| Weight::parse(text).unwrap_err();
        assert!(says("110 lb").contains("bond, text, cover, index, tag, bristol"), "{}", says("110 lb"));
        for text in ["", "heavy", "80", "80 lb carpet", "0 g/m2", "-3 g/m2", "9999999 g/m2", "1.2345 g/m2", "é g/m2"] {
            assert!(says(text).contains("\"216 g/m2\" or \"80 lb cover\""), "{text}");
        }
    }

    #[test]
    fn bulks_read_back() {
        assert_eq!(Bulk::parse("1.25").unwrap().to_string(), "1.25");
        assert!(Bulk::parse("0.2").is_err() && Bulk::parse("12").is_err() && Bulk::parse("x").is_err());
    }
}
