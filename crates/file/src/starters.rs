//! Starter designs, built into the program.

use crate::from_text;
use model::Document;

/// A design to begin with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Starter {
    /// Its name: a file name without its ending.
    pub name: &'static str,
    /// What it is, in a sentence.
    pub about: &'static str,
    /// Its text as a project file.
    pub text: &'static str,
    /// What its papers are printed with: the names of the files that lie beside it, and their bytes.
    pub pictures: &'static [(&'static str, &'static [u8])],
}

/// A starter with its design and pictures as they lie in the repository.
macro_rules! starter {
    ($name:literal, $about:literal, [$($picture:literal),*]) => {
        Starter {
            name: $name,
            about: $about,
            text: include_str!(concat!("../../../assets/starters/", $name, ".folio")),
            pictures: &[
                $(($picture, include_bytes!(concat!("../../../assets/starters/", $name, ".assets/", $picture)))),*
            ],
        }
    };
}

/// Every starter; the first is the one that the window opens on.
pub const ALL: &[Starter] = &[
    starter!(
        "seed-swap",
        "A gusseted envelope: a shallow tray for seed packets from one 12 x 12 in sheet, with gussets all round and four flaps that cross.",
        ["sunflowers.png", "beds.png"]
    ),
    starter!(
        "season-diary",
        "A one-sheet folio with a page, a raised pocket, a slide-in, tuck corners, a mat and a band, all from what one 12 x 12 in sheet leaves.",
        ["seedlings.png", "rain.png"]
    ),
    starter!(
        "packet-envelope",
        "A plain envelope for one seed packet from an 8 1/2 x 11 in sheet, shut by a tucked flap, with a pocket for row tags.",
        ["sprigs.png", "seeds.png"]
    ),
    starter!(
        "garden-gate",
        "A gate fold from a 12 x 12 in sheet: two doors over a wide pocket for a garden plan, slide-ins on the doors, and a band.",
        ["trellis.png", "furrows.png"]
    ),
    starter!(
        "four-petals",
        "Four round flaps woven shut over a square card between tuck corners, from a 300 x 300 mm sheet.",
        ["dots.png", "flowers.png"]
    ),
    starter!(
        "harvest-accordion",
        "An accordion of four panels from a 12 x 6 in sheet, with a pocket at either end, two labels and a band.",
        ["ears.png", "stripes.png"]
    ),
    starter!(
        "postcard-wallet",
        "A wallet in millimetres from an A4 sheet, with gussets, tuck corners for A6 cards, a pocket for a smaller one and a tucked flap.",
        ["rows.png", "packets.png"]
    ),
    starter!(
        "two-paper-book",
        "A cover with a spine from an 11 x 8 1/2 in sheet, with mats and a band from a second, printed paper and two pockets.",
        ["specks.png", "sacking.png", "ferns.png", "checks.png"]
    ),
];

/// The picture of that name that a starter's paper is printed with; no two starters have one of the same name.
#[must_use]
pub fn picture(file: &str) -> Option<&'static [u8]> {
    let mut all = ALL.iter().flat_map(|starter| starter.pictures);
    all.find(|(name, _)| *name == file).map(|&(_, bytes)| bytes)
}

/// The design that the window opens on when none is asked for.
///
/// # Panics
/// Never: a test reads every starter.
#[must_use]
pub fn demo() -> Document {
    from_text(ALL[0].text).expect("every starter is a readable design")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_starter_is_as_the_program_would_save_it() {
        for starter in ALL {
            let document = from_text(starter.text).unwrap_or_else(|error| panic!("{}: {error}", starter.name));
            assert_eq!(crate::to_text(&document), starter.text, "{}", starter.name);
        }
    }

    #[test]
    fn every_picture_that_a_starter_names_is_its_own_and_the_other_way_round() {
        let mut all: Vec<&str> = Vec::new();
        for starter in ALL {
            let document = from_text(starter.text).unwrap_or_else(|error| panic!("{}: {error}", starter.name));
            let further = document.further_stocks.iter().map(|further| &further.stock);
            let sides = std::iter::once(&document.stock).chain(further).flat_map(|stock| [&stock.front, &stock.back]);
            let named: Vec<&str> =
                sides.filter_map(|side| side.artwork.as_ref()).map(|artwork| artwork.file.as_str()).collect();
            let brought: Vec<&str> = starter.pictures.iter().map(|(name, _)| *name).collect();
            assert_eq!(named, brought, "{}", starter.name);
            all.extend(brought);
        }
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count, "names are used once");
    }
}
