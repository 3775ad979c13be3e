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
}

/// Every starter; the first is the one that the window opens on.
pub const ALL: &[Starter] = &[SEED_SWAP, SEASON_DIARY];

const SEED_SWAP: Starter = Starter {
    name: "seed-swap",
    about: "A shallow tray for seed packets from one 12 x 12 in sheet, with gussets all round and four flaps that cross.",
    text: include_str!("../../../assets/starters/seed-swap.folio"),
};

const SEASON_DIARY: Starter = Starter {
    name: "season-diary",
    about: "A folio with a page, a raised pocket, a slide-in, tuck corners, a mat and a band, all from what one 12 x 12 in sheet leaves.",
    text: include_str!("../../../assets/starters/season-diary.folio"),
};

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
}
