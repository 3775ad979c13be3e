//! What fits: pockets, tuck corners, trays and inserts.

mod value;

use super::Told;
use fit::{Card, CardFit, Holds, PocketFit, words};
use std::io::{self, Write};

pub(super) use value::value;

/// The section on what fits; nothing where there is nothing that anything goes into.
pub(super) fn write(told: &Told<'_>, out: &mut dyn Write) -> io::Result<()> {
    let lines = lines(told);
    if !lines.is_empty() {
        writeln!(out, "\nWhat fits")?;
    }
    for line in lines {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

fn lines(told: &Told<'_>) -> Vec<String> {
    let Told { document, layout, derived, .. } = *told;
    let (fits, unit) = (derived.fits(document), document.units);
    let within =
        |cards: &[CardFit]| cards.iter().map(|one| format!("  {}", words::card(one, unit))).collect::<Vec<_>>();
    let held =
        |(card, is_turned): &(Card, bool)| format!("  {}{}", card.name, if *is_turned { ", turned" } else { "" });
    let mut all = Vec::new();
    for pocket in &fits.pockets {
        all.push(words::pocket(pocket, unit));
        all.extend(within(cards_of(pocket)));
    }
    for set in &fits.corners {
        all.push(words::corners(set, document));
        all.extend(set.cards.iter().map(held));
    }
    for tray in &fits.trays {
        all.push(words::tray(tray, unit));
        all.extend(within(&tray.cards));
    }
    all.extend(fits.inserts.iter().map(|insert| words::insert(insert, document, layout)));
    all.extend(fits.loaded.iter().map(|loaded| words::load(loaded, document)));
    all
}

/// The usual cards that go into a part by itself.
fn cards_of(pocket: &PocketFit) -> &[CardFit] {
    match &pocket.holds {
        Holds::Pocket(inside) => &inside.cards,
        Holds::Corner(_) => &[],
        Holds::Surface { cards, .. } => cards,
    }
}
