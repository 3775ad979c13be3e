//! Faults of lines, corners and steps.

use super::{Kind, Place, Planted, bare, flaps, one};
use crate::closed::Rectangle;
use crate::dice::Dice;
use crate::unfold::Folio;
use model::change::{add_line, move_line, set_crease};
use model::{
    Corner, CornerShape, Crease, Datum, Face, Layout, Length, Line, LineId, Place as LinePlace, Point, Run, Spot, Turn,
    Which, Work,
};

pub(super) const KINDS: &[Kind] = &[
    Kind { name: "no base", rule: "no-base", also: &[], plant: no_base },
    Kind { name: "a score beyond the sheet", rule: "misplaced-line", also: &["never-folds"], plant: beyond },
    Kind { name: "a corner larger than its flap", rule: "misplaced-corner", also: &[], plant: corner },
    Kind { name: "a score twice", rule: "lines-coincide", also: &[], plant: twice },
    Kind { name: "a flap in no step", rule: "never-folds", also: &["no-partner"], plant: never_folds },
    Kind { name: "a score pressed from the wrong face", rule: "pressed-side", also: &[], plant: pressed },
    Kind { name: "a score beside its groove", rule: "off-groove", also: &[], plant: off_groove },
    Kind { name: "a slit in the base", rule: "tearing-corner", also: &[], plant: slit },
];

fn no_base(folio: &Folio, _: &mut Dice) -> Option<Planted> {
    let mut document = folio.document.clone();
    document.base = None;
    Some(Planted { document, at: vec![Place::Says("No panel is marked as the base".to_owned())] })
}

fn added(folio: &Folio, place: LinePlace, work: Work) -> Option<(model::Document, LineId)> {
    let mut document = folio.document.clone();
    let id = document.next_line();
    let steps = document.steps.clone();
    document.apply(add_line(&document, Line::new(id, place, work))).ok()?;
    document.steps = steps;
    Some((document, id))
}

fn beyond(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let turn = dice.pick(&Turn::ALL);
    let (wide, _) = turn.size_of(folio.document.stock.size);
    let by = Length::SIXTEENTH * 3;
    let place = LinePlace::Measured { turn, from: Datum::Edge, distance: wide + by, run: Run::FULL };
    let (document, id) = added(folio, place, Work::Score(Crease::VALLEY))?;
    let says = format!("{} beyond the edge", by.readable(folio.document.units));
    Some(Planted { document, at: vec![Place::Line(id), Place::Says(says)] })
}

fn corner(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let leaf = one(dice, &flaps(&folio.closed))?;
    let has_free = folio.closed.leaves.iter().all(|other| other.hangs.is_none_or(|hang| hang.on != leaf));
    let at = folio.flat[leaf];
    let mut document = folio.document.clone();
    document.corners.retain(|corner| corner.mark != at.middle());
    let radius = at.width().max(at.height());
    document.corners.push(Corner { mark: at.middle(), which: Which::AllOfPanel, shape: CornerShape::Round(radius) });
    let says = format!("can't be rounded by {}: there is room for", radius.readable(document.units));
    has_free.then(|| Planted { document, at: vec![Place::Panel(at.middle()), Place::Says(says)] })
}

fn twice(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let first = one(dice, &scores(folio))?;
    let run = folio.document.line(first)?.place.run();
    let work = folio.document.line(first)?.work;
    let (document, second) = added(folio, LinePlace::Along { line: first, run }, work)?;
    Some(Planted { document, at: vec![Place::Line(first), Place::Line(second)] })
}

fn scores(folio: &Folio) -> Vec<LineId> {
    folio.creases.iter().flatten().copied().collect()
}

fn never_folds(folio: &Folio, _: &mut Dice) -> Option<Planted> {
    let mut document = folio.document.clone();
    let &[flap] = &folio.closed.steps.last()?[..] else { return None };
    let &[line] = &folio.creases[flap][..] else { return None };
    document.steps.pop();
    Some(Planted { document, at: vec![Place::Line(line)] })
}

fn pressed(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let id = one(dice, &scores(folio))?;
    let mut document = folio.document.clone();
    let crease = document.line(id)?.work.crease()?;
    let wrong = Crease { pressed: Some(if crease.face() == Face::Front { Face::Back } else { Face::Front }), ..crease };
    document.apply(set_crease(&document, id, wrong)?).ok()?;
    Some(Planted { document, at: vec![Place::Line(id)] })
}

/// The fold of a tip moves, so that the tip gets longer and its flap shorter.
fn off_groove(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let closed = &folio.closed;
    let is_tip = |&leaf: &usize| {
        let Some(hang) = closed.leaves[leaf].hangs.filter(|hang| hang.on != 0) else { return false };
        let on = &closed.leaves[hang.on];
        let follows = on.hangs.is_some_and(|other| other.edge == hang.edge.opposite());
        follows && closed.leaves.iter().all(|other| other.hangs.is_none_or(|hang| hang.on != leaf))
    };
    let tip = one(dice, &(1..closed.leaves.len()).filter(is_tip).collect::<Vec<_>>())?;
    let id = folio.creases[tip][0];
    let layout = Layout::of(&folio.document);
    let (turn, across) = layout.lines.get(&id)?.ok()?.on_board()?;
    let base = turn.to_board(folio.flat[0].middle(), layout.size).across;
    // Towards the base, so that the flap gets shorter.
    let by = closed.groove / 4;
    let to = if base > across { across + by } else { across - by };
    let mut document = folio.document.clone();
    document.apply(move_line(&document, &layout, id, to)?).ok()?;
    let says = format!("lies {} from the left edge", to.readable(document.units));
    Some(Planted { document, at: vec![Place::Line(id), Place::Says(says)] })
}

fn slit(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let folio = bare(folio, dice);
    let Rectangle { low, high } = folio.flat[0].inset(folio.flat[0].width() / 4);
    let (from, to) = (low, Point::new(high.x, low.y));
    let place = LinePlace::Drawn { from: Spot::At(from), to: Spot::At(to), bow: Length::ZERO };
    let (document, _) = added(&folio, place, Work::Cut)?;
    let x = format!("{} from the top", from.y.readable(document.units));
    Some(Planted { document, at: vec![Place::Panel(folio.flat[0].middle()), Place::Says(x)] })
}
