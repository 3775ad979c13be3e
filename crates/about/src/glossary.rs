//! The words of the trade, each with what it is: the one table that the guide's glossary and the window's tooltips are made
//! from.

/// Every word with what it is, in the order of the alphabet.
pub const TABLE: [(&str, &str); 45] = [
    ("band", "a strip round the closed folio that slides on and off"),
    ("base", "the panel that lies still while the rest folds"),
    ("board", "a scoring board: a plate with grooves at even distances, and a fence at its left"),
    ("bond", "two layers glued to one another"),
    ("bulk", "how much room a gram of paper takes, in cm³/g; thickness is weight times bulk"),
    ("caliper", "the thickness of one sheet"),
    ("closure", "what keeps a flap shut: brad, magnet, hook-and-loop dot, ribbon"),
    ("crease", "what a score becomes once it is folded"),
    ("creep", "how far layers in a fold push one another out of line"),
    ("cut", "a knife line"),
    ("finding", "something that the checker says will go wrong, or is worth knowing"),
    ("flap", "a panel joined along one fold that closes over others"),
    ("fold", "a crease between two panels"),
    ("folio", "what is made from the sheet and folded"),
    ("gate fold", "two flaps that meet in the middle like doors"),
    ("grain", "the way most fibres of a paper run"),
    ("grammage", "the mass of a square metre of paper, in g/m²"),
    ("guide", "a pencil line to measure from"),
    ("gusset", "a narrow panel between two folds, which gives depth"),
    ("hairline", "1/32 in or less, trimmed so that one thing does not foul another"),
    ("hinge", "a strip folded along its length that lets something open"),
    ("insert", "a card or tag that goes in"),
    ("mat", "a decorative rectangle, smaller than its panel by a margin"),
    ("mountain", "a fold that brings the two backs together"),
    ("mouth", "the side of a pocket that is not glued"),
    ("notch", "a round bite for a thumb"),
    ("offcut", "a piece that came off when the folio was cut out"),
    ("own shape", "a part that is scored and cut as the maker likes, or an offcut just as it came off"),
    ("panel", "a flat area bounded by folds, cuts and the edge of the paper"),
    ("part", "what is made from an offcut or another sheet and put on"),
    ("piece", "paper that hangs together after cutting"),
    ("pocket", "paper glued along some of its edges, so that something goes in"),
    ("score", "a pressed line that paper folds along"),
    ("sheet", "the paper as bought, uncut"),
    ("slide-in", "a pocket glued along two edges that meet"),
    ("slot", "a cut with a width"),
    ("step", "what folds at once as the folio closes"),
    ("stock", "what a paper is: size, weight, thickness, print, grain"),
    ("tab", "a small piece to pull or to write on"),
    ("trim", "a hairline taken off an edge"),
    ("tuck", "to let a flap end under another"),
    ("tuck corner", "a triangle or band across a corner that holds a card"),
    ("turn", "how the sheet lies on the board, in quarter turns to the left"),
    ("valley", "a fold that brings the two fronts together"),
    ("variation", "a design that keeps the one it came from"),
];

/// What a word is, as a sentence: "Gusset: a narrow panel between two folds, which gives depth." The word may have any case.
#[must_use]
pub fn sentence(word: &str) -> Option<String> {
    let (word, is) = TABLE.iter().find(|(known, _)| known.eq_ignore_ascii_case(word))?;
    let mut letters = word.chars();
    let first: String = letters.next().map(|letter| letter.to_uppercase().collect()).unwrap_or_default();
    Some(format!("{first}{}: {is}.", letters.as_str()))
}

/// The guide's page.
#[must_use]
pub fn page() -> String {
    let rows = TABLE.iter().map(|(word, is)| format!("| {word} | {is} |\n"));
    format!("# Glossary\n\n| word | is |\n|---|---|\n{}", rows.collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_guides_page_is_made_from_the_table() {
        let kept = include_str!("../../../docs/guide/glossary.md");
        let how = "run: cargo run -p foliowright-about --example glossary > docs/guide/glossary.md";
        assert_eq!(page(), kept, "{how}");
    }

    #[test]
    fn words_are_in_order_and_each_is_explained_in_a_sentence() {
        assert!(TABLE.is_sorted_by_key(|(word, _)| *word));
        let gusset = "Gusset: a narrow panel between two folds, which gives depth.";
        assert_eq!(sentence("gusset").as_deref(), Some(gusset));
        assert_eq!(sentence("Gusset").as_deref(), Some(gusset));
        assert_eq!(sentence("sprocket"), None);
        for (word, is) in TABLE {
            assert!(!is.ends_with('.') && !is.contains(". "), "{word}: a page gives it as one cell");
        }
    }
}
