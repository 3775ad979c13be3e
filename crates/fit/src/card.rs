//! The cards that makers keep in folios, by their published sizes.

use model::Length;

/// A card of a usual size, upright: no wider than it is high.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Card {
    /// What it is called, with its usual size in words where the name does not say it.
    pub name: &'static str,
    /// Its shorter side.
    pub width: Length,
    /// Its longer side.
    pub height: Length,
    /// How thick it is; `None` for one of any paper.
    pub caliper: Option<Length>,
    /// Where the size is from.
    pub source: &'static str,
}

/// The usual cards, from small to large.
///
/// The thickness of plastic cards is the nominal one, 0.76 mm, give or take 0.08 mm; that it goes for all three sizes is
/// from memory.
pub const CARDS: [Card; 12] = [
    of_mm("A8 card", (5_200, 7_400), ISO_216),
    of_inches("Business card, 2 x 3 1/2 in", (32, 56), MEMORY),
    plastic("Bank card (ID-1)", (5_398, 8_560)),
    of_mm("Business card, 55 x 85 mm", (5_500, 8_500), MEMORY),
    of_inches("Card, 2 1/2 x 3 1/2 in", (40, 56), SIZE),
    of_inches("Card, 3 x 4 in", (48, 64), SIZE),
    of_mm("A7 card", (7_400, 10_500), ISO_216),
    plastic("Plastic card (ID-2)", (7_400, 10_500)),
    of_inches("Index card, 3 x 5 in", (48, 80), MEMORY),
    plastic("Plastic card (ID-3)", (8_800, 12_500)),
    of_inches("Card, 4 x 6 in", (64, 96), SIZE),
    of_mm("A6 postcard", (10_500, 14_800), ISO_216),
];

const ISO_216: &str = "ISO 216:2007";
const ISO_7810: &str = "ISO/IEC 7810";
const SIZE: &str = "inch size, as its name says";
const MEMORY: &str = "from memory";

/// A paper card in hundredths of a millimetre.
const fn of_mm(name: &'static str, (width, height): (i64, i64), source: &'static str) -> Card {
    let (width, height) = (Length::from_nm(width * 10_000), Length::from_nm(height * 10_000));
    Card { name, width, height, caliper: None, source }
}

/// A paper card in sixteenths of an inch.
const fn of_inches(name: &'static str, (width, height): (i64, i64), source: &'static str) -> Card {
    let (width, height) = (Length::from_sixty_fourths(width * 4), Length::from_sixty_fourths(height * 4));
    Card { name, width, height, caliper: None, source }
}

/// A plastic card in hundredths of a millimetre.
const fn plastic(name: &'static str, size: (i64, i64)) -> Card {
    Card { caliper: Some(Length::from_nm(760_000)), ..of_mm(name, size, ISO_7810) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Size, paper};

    #[test]
    fn cards_are_as_the_standards_have_them() {
        let card = |name: &str| CARDS.iter().find(|card| card.name.contains(name)).unwrap();
        // ISO 216, as the table of papers has it.
        for name in ["A6", "A7", "A8"] {
            let size = paper::named(name).unwrap();
            assert_eq!((card(name).width, card(name).height), (size.width(), size.height()), "{name}");
        }
        // ISO/IEC 7810: ID-1 85.60 x 53.98 x 0.76 mm, ID-2 105 x 74 mm (A7), ID-3 125 x 88 mm (B7).
        let bank = card("ID-1");
        assert_eq!((bank.width, bank.height), (Length::from_nm(53_980_000), Length::from_nm(85_600_000)));
        assert_eq!(bank.caliper, Some(Length::from_nm(760_000)));
        for (name, size) in [("ID-2", "A7"), ("ID-3", "B7")] {
            let size = paper::named(size).unwrap();
            assert_eq!((card(name).width, card(name).height), (size.width(), size.height()), "{name}");
        }
    }

    #[test]
    fn inch_cards_are_as_long_as_their_names_say() {
        for card in CARDS.iter().filter(|card| card.name.ends_with(" in")) {
            let (_, size) = card.name.split_once(", ").unwrap();
            let size = Size::parse(size).unwrap();
            assert_eq!((card.width, card.height), (size.width(), size.height()), "{}", card.name);
        }
    }

    #[test]
    fn cards_are_upright_and_go_from_small_to_large() {
        assert!(CARDS.iter().all(|card| card.width <= card.height));
        let areas = CARDS.map(|card| card.width.mm() * card.height.mm());
        assert!(areas.is_sorted(), "{areas:?}");
    }
}
