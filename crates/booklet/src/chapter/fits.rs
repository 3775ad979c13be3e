//! Cards and mats: what goes into the folio and what decorates it, with sizes.

use super::{Told, said, table, titled};
use crate::block::Block;
use fit::{Card, CardFit, Holders, Holds, words};

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let mut blocks = cards(told);
    blocks.extend(mats(told));
    titled("Cards and mats that fit", blocks)
}

fn cards(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let pockets = fit::pockets(document, layout);
    let corners = fit::corner_sets(document, layout);
    let trays = told.subject.folded.map(|(assembly, folding)| fit::trays(document, layout, assembly, folding));
    let trays = trays.unwrap_or_default();
    let holders = Holders { pockets: &pockets, corners: &corners, trays: &trays };
    let inserts = fit::inserts(document, layout, &holders);
    let loaded = told.subject.folded.and_then(|(assembly, folding)| fit::loaded(document, layout, assembly, folding));
    let voice = told.voice;
    let mut blocks = Vec::new();
    let mut holder = |sentence: String, held: Vec<String>| {
        blocks.push(said(sentence));
        if !held.is_empty() {
            blocks.push(Block::List(held));
        }
    };
    let within = |cards: &[CardFit]| -> Vec<String> {
        let said = cards.iter().map(|card| voice.say(|version| format!("{}.", words::card(card, version.unit()))));
        either_way(said.collect())
    };
    for pocket in &pockets {
        let held = match &pocket.holds {
            Holds::Pocket(inside) => within(&inside.cards),
            Holds::Corner(_) => Vec::new(),
            Holds::Surface { cards, .. } => within(cards),
        };
        holder(voice.say(|version| words::pocket(pocket, version.unit())), held);
    }
    for set in &corners {
        let held =
            |(card, is_turned): &(Card, bool)| format!("{}{}.", card.name, if *is_turned { ", turned" } else { "" });
        let held = either_way(set.cards.iter().map(held).collect());
        holder(voice.say(|version| words::corners(set, &version.document)), held);
    }
    for tray in &trays {
        holder(voice.say(|version| words::tray(tray, version.unit())), within(&tray.cards));
    }
    for insert in &inserts {
        holder(voice.say(|version| words::insert(insert, &version.document, layout)), Vec::new());
    }
    if let Some(loaded) = &loaded {
        holder(voice.say(|version| words::load(loaded, &version.document)), Vec::new());
    }
    if blocks.is_empty() {
        blocks
    } else {
        std::iter::once(Block::Heading(2, "Cards".to_owned())).chain(blocks).collect()
    }
}

/// Cards, of which those that go in the same upright and turned are said once.
fn either_way(cards: Vec<String>) -> Vec<String> {
    const TURNED: &str = ", turned";
    let mut said: Vec<String> = Vec::with_capacity(cards.len());
    for card in cards {
        match said.last_mut().filter(|last| card.replacen(TURNED, "", 1) == **last && card != **last) {
            Some(last) => *last = card.replacen(TURNED, ", either way", 1),
            None => said.push(card),
        }
    }
    said
}

/// The cut list of mats, with the faces that each is for.
fn mats(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let Some((_, folding)) = told.subject.folded else { return Vec::new() };
    let mats = fit::mats(document, layout, folding, fit::MARGIN);
    let rows: Vec<Vec<String>> = fit::cut_list(&mats)
        .iter()
        .map(|cut| {
            let faces = cut.mats.iter().filter_map(|&at| mats.get(at));
            let faces: Vec<String> = faces.map(|mat| format!("{}, {}", mat.name, mat.face.word())).collect();
            vec![
                cut.mats.len().to_string(),
                told.voice.length(cut.width),
                told.voice.length(cut.height),
                faces.join("; "),
            ]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let margin = told.voice.length(fit::MARGIN);
    vec![
        Block::Heading(2, "Mats".to_owned()),
        said(format!(
            "A mat for each face that shows while the folio closes, {margin} from the edges of what is seen."
        )),
        table("Mats to cut", &["Count", "Width", "Height", "For"], rows),
    ]
}
