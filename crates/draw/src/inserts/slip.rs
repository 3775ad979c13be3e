//! Which cards, tags and mats a design takes, and what each is for.

use super::{Choice, Takes};
use fit::rounding::to_cut;
use fit::{Card, CardFit, CornerSet, Holds, MatFit};
use model::part::Source;
use model::words::listed;
use model::{Document, Face, Layout, Length, PanelId, PartKind, Size, Unit};

/// One card, tag or mat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slip {
    /// What it is, such as "Largest card".
    pub name: String,
    /// Its width and height as it lies where it goes.
    pub size: Size,
    /// Its size as read.
    pub measure: String,
    /// What it is for, such as "Pocket 1, on Base, front".
    pub goes: String,
}

impl Slip {
    /// The largest radius that its corners can have.
    #[must_use]
    pub fn most_corner(&self) -> Length {
        self.size.width().min(self.size.height()).half()
    }
}

/// All of a choice: the inserts of the design itself, then for everything that holds a card the largest that goes in and the
/// largest of the usual ones, then mats: those of the design, then one for every other face that shows.
#[must_use]
pub fn slips(document: &Document, layout: &Layout, takes: &Takes<'_>, choice: Choice) -> Vec<Slip> {
    let is_insert = |kind: &PartKind| matches!(kind, PartKind::Insert(_));
    let is_mat = |kind: &PartKind| matches!(kind, PartKind::Mat(_));
    let mut all = Vec::new();
    if choice != Choice::Mats {
        all.extend(own(document, layout, is_insert));
        all.extend(cards(document, layout, takes));
    }
    if choice != Choice::Cards {
        all.extend(own(document, layout, is_mat));
        all.extend(takes.mats.iter().filter_map(|mat| of_face(mat, document.units)));
    }
    all
}

/// The parts of a kind that are cut from paper.
fn own(document: &Document, layout: &Layout, is_kind: impl Fn(&PartKind) -> bool) -> Vec<Slip> {
    let parts = document.parts.iter().filter(|part| is_kind(&part.kind) && part.source != Source::Bought);
    let slip = |part: &model::Part| {
        let laid = layout.part(part.id)?;
        let size = laid.pattern.size();
        let goes = laid.laid.map_or(String::new(), |laid| place(layout, laid.on, laid.face));
        Some(Slip { name: laid.name.clone(), size, measure: size.text(document.units), goes })
    };
    parts.filter_map(slip).collect()
}

fn cards(document: &Document, layout: &Layout, takes: &Takes<'_>) -> Vec<Slip> {
    let unit = document.units;
    let mut all = Vec::new();
    for pocket in takes.pockets {
        let Holds::Pocket(inside) = &pocket.holds else { continue };
        if inside.mouths.is_empty() {
            continue;
        }
        let goes = format!("{}, {}", pocket.name, on(&place(layout, pocket.host, pocket.face)));
        all.extend(largest(inside.room.largest(), &goes, unit));
        all.extend(usual(&inside.cards, &goes, unit));
    }
    for set in takes.corners {
        let goes = corners(set, document);
        all.extend(largest(Some(set.largest()), &goes, unit));
        let card = set.cards.iter().max_by_key(|(card, is_turned)| (area(card), !is_turned));
        all.extend(card.and_then(|(card, is_turned)| of_card(card, *is_turned, &goes, unit)));
    }
    for tray in takes.trays {
        let goes = place(layout, tray.panel, Face::Front);
        all.extend(largest(tray.room.largest(), &goes, unit));
        all.extend(usual(&tray.cards, &goes, unit));
    }
    all
}

fn largest(size: Option<(Length, Length)>, goes: &str, unit: Unit) -> Option<Slip> {
    let (width, height) = size?;
    let size = Size::new(to_cut(width, unit), to_cut(height, unit))?;
    Some(Slip { name: "Largest card".to_owned(), size, measure: size.text(unit), goes: goes.to_owned() })
}

/// The largest of the usual cards that lies all within, else the largest that is held; upright where it goes both ways.
fn usual(cards: &[CardFit], goes: &str, unit: Unit) -> Option<Slip> {
    let is_within = |fit: &CardFit| fit.stands_out == [Length::ZERO; 2];
    let fit = cards.iter().max_by_key(|fit| (is_within(fit), area(&fit.card), !fit.is_turned))?;
    of_card(&fit.card, fit.is_turned, goes, unit)
}

fn area(card: &Card) -> i128 {
    i128::from(card.width.nm()) * i128::from(card.height.nm())
}

fn of_card(card: &Card, is_turned: bool, goes: &str, unit: Unit) -> Option<Slip> {
    let (width, height) = if is_turned { (card.height, card.width) } else { (card.width, card.height) };
    let size = Size::new(width, height)?;
    // A size of whole millimetres says nothing in sixty-fourths of an inch, nor the other way round.
    let is_metric = width.nm() % 10_000 == 0 && width.nm() % Length::SIXTY_FOURTH.nm() != 0;
    let unit = if is_metric { Unit::Millimetre } else { unit };
    let name = card.name.split(", ").next().unwrap_or(card.name).to_owned();
    Some(Slip { name, size, measure: size.text(unit), goes: goes.to_owned() })
}

fn of_face(mat: &MatFit, unit: Unit) -> Option<Slip> {
    let size = Size::new(mat.width, mat.height)?;
    let goes = format!("{}, {}", mat.name, mat.face.word());
    Some(Slip { name: "Mat".to_owned(), size, measure: size.text(unit), goes })
}

fn corners(set: &CornerSet, document: &Document) -> String {
    listed(set.corners.iter().map(|corner| document.part_name(corner.part)))
}

/// "Base, front".
fn place(layout: &Layout, panel: PanelId, face: Face) -> String {
    format!("{}, {}", layout.panel(panel).name, face.word())
}

fn on(place: &str) -> String {
    format!("on {place}")
}
