//! What fits as JSON.

use super::cards_of;
use crate::describe::Told;
use crate::describe::plan::part_key;
use crate::lengths::{length, point, size};
use fit::{
    Card, CardFit, CornerFit, CornerSet, Depth, Ends, Holder, Holds, InsertFit, Loaded, Misfit, PocketFit, Room, Span,
    TrayFit, words,
};
use model::part::Edges;
use model::{Document, Length, PanelId, PartId, Point, Unit};
use serde_json::{Value, json};

/// All that fits anywhere.
pub(in crate::describe) fn value(told: &Told<'_>) -> Value {
    let fits = told.derived.fits(told.document);
    let value = Fit { told, unit: told.document.units };
    json!({
        "pockets": fits.pockets.iter().map(|one| value.pocket(one)).collect::<Vec<_>>(),
        "corners": fits.corners.iter().map(|one| value.corners(one)).collect::<Vec<_>>(),
        "trays": fits.trays.iter().map(|one| value.tray(one)).collect::<Vec<_>>(),
        "inserts": fits.inserts.iter().map(|one| value.insert(one)).collect::<Vec<_>>(),
        "loaded": fits.loaded.as_ref().map(|loaded| value.loaded(loaded)),
    })
}

#[derive(Clone, Copy)]
struct Fit<'a> {
    told: &'a Told<'a>,
    unit: Unit,
}

impl<'a> Fit<'a> {
    const fn document(self) -> &'a Document {
        self.told.document
    }

    fn pocket(self, fit: &PocketFit) -> Value {
        let (holds, room) = match &fit.holds {
            Holds::Pocket(inside) => ("pocket", Some(inside.room)),
            Holds::Corner(_) => ("corner", None),
            Holds::Surface { room, .. } => ("surface", Some(*room)),
        };
        let inside = match &fit.holds {
            Holds::Pocket(inside) => Some(inside),
            _ => None,
        };
        let corner = match &fit.holds {
            Holds::Corner(corner) => corner.as_ref(),
            _ => None,
        };
        // What is glued all round takes nothing, however large it is inside.
        let is_open = inside.is_none_or(|inside| !inside.mouths.is_empty());
        json!({
            "part": part_key(self.document(), fit.part),
            "panel": self.panel(fit.host),
            "face": fit.face.word(),
            "holds": holds,
            "mouths": inside.map(|inside| inside.mouths.iter().map(|edge| edge.word()).collect::<Vec<_>>()),
            "closed": inside.map(|inside| edges(inside.closed)),
            "space": inside.map(|inside| self.space(inside.space)),
            "room": room.map(|room| self.room(&room)),
            "largest": room.filter(|_| is_open).and_then(|room| room.largest()).map(|largest| size(largest, self.unit)),
            "corner": corner.map(|corner| self.corner(corner)),
            "cards": self.cards(cards_of(fit)),
            "sentence": words::pocket(fit, self.unit),
        })
    }

    fn corner(self, corner: &CornerFit) -> Value {
        json!({
            "across": length(corner.across, self.unit),
            "down": length(corner.down, self.unit),
            "depth": length(corner.depth, self.unit),
            "covered_mm2": corner.covered,
        })
    }

    fn corners(self, set: &CornerSet) -> Value {
        let card = |(card, is_turned): &(Card, bool)| self.card(card, *is_turned);
        json!({
            "parts": self.parts(set.corners.iter().map(|corner| corner.part)),
            "panel": self.panel(set.host),
            "face": set.face.word(),
            "space": self.space(set.space),
            "largest": size(set.largest(), self.unit),
            "share": set.share(),
            "least_width": length(set.least_width, self.unit),
            "least_height": length(set.least_height, self.unit),
            "cards": set.cards.iter().map(card).collect::<Vec<_>>(),
            "sentence": words::corners(set, self.document()),
        })
    }

    fn tray(self, tray: &TrayFit) -> Value {
        json!({
            "panel": self.panel(tray.panel),
            "walls": edges(tray.walls),
            "room": self.room(&tray.room),
            "largest": tray.room.largest().map(|largest| size(largest, self.unit)),
            "lacks": length(tray.lacks, self.unit),
            "cards": self.cards(&tray.cards),
            "sentence": words::tray(tray, self.unit),
        })
    }

    fn insert(self, insert: &InsertFit) -> Value {
        let (lies_in, parts, panel) = match &insert.lies_in {
            Holder::Pocket(pocket) => ("pocket", vec![*pocket], None),
            Holder::Corners(corners) => ("corners", corners.clone(), None),
            Holder::Tray(panel) => ("tray", Vec::new(), Some(*panel)),
            Holder::Loose(panel) => ("loose", Vec::new(), Some(*panel)),
        };
        json!({
            "part": part_key(self.document(), insert.part),
            "lies_in": lies_in,
            "parts": self.parts(parts.into_iter()),
            "panel": panel.map(|panel| self.panel(panel)),
            "width": length(insert.size.0, self.unit),
            "height": length(insert.size.1, self.unit),
            "play": insert.play.map(|play| length(play, self.unit)),
            "stands_out": length(insert.stands_out, self.unit),
            "fits": insert.fits(),
            "problems": insert.problems.iter().map(|&problem| self.problem(problem)).collect::<Vec<_>>(),
            "sentence": words::insert(insert, self.document(), self.told.layout),
        })
    }

    fn problem(self, problem: Misfit) -> Value {
        let (problem, by) = match problem {
            Misfit::TooWide(by) => ("too wide", Some(by)),
            Misfit::TooHigh(by) => ("too high", Some(by)),
            Misfit::TooThick(by) => ("too thick", Some(by)),
            Misfit::OverGlue(by) => ("over glue", Some(by)),
            Misfit::SlipsOut => ("slips out", None),
            Misfit::NoMouth => ("no mouth", None),
        };
        json!({ "problem": problem, "by": by.map(|by: Length| length(by, self.unit)) })
    }

    fn loaded(self, loaded: &Loaded) -> Value {
        json!({
            "thickness": length(loaded.thickness, self.unit),
            "counted": self.parts(loaded.counted.iter().copied()),
            "left_out": self.parts(loaded.left_out.iter().copied()),
            "sentence": words::load(loaded, self.document()),
        })
    }

    fn room(self, room: &Room) -> Value {
        let span = |span: Span| {
            let closed = match span.closed {
                Ends::Open => "neither",
                Ends::One => "one",
                Ends::Both => "both",
            };
            json!({ "inner": length(span.inner, self.unit), "closed": closed })
        };
        let (opens, depth) = match room.depth {
            Depth::Bowing => ("by bowing", None),
            Depth::Upright(depth) => ("upright", Some(depth)),
            Depth::Surface => ("surface", None),
        };
        json!({
            "across": span(room.across),
            "down": span(room.down),
            "opens": opens,
            "depth": depth.map(|depth| length(depth, self.unit)),
        })
    }

    fn cards(self, cards: &[CardFit]) -> Vec<Value> {
        let one = |fit: &CardFit| {
            let mut value = self.card(&fit.card, fit.is_turned);
            let [across, down] = fit.stands_out.map(|out| length(out, self.unit));
            value["stands_out"] = json!({ "across": across, "down": down });
            value["play"] = json!(fit.play.map(|play| length(play, self.unit)));
            value["count"] = json!(fit.count);
            value
        };
        cards.iter().map(one).collect()
    }

    /// A card as it lies: turned, it is wider than it is high.
    fn card(self, card: &Card, is_turned: bool) -> Value {
        let (width, height) = if is_turned { (card.height, card.width) } else { (card.width, card.height) };
        json!({
            "name": card.name,
            "source": card.source,
            "turned": is_turned,
            "width": length(width, self.unit),
            "height": length(height, self.unit),
        })
    }

    fn space(self, (low, high): (Point, Point)) -> Value {
        let mut value = size((high.x - low.x, high.y - low.y), self.unit);
        value["at"] = point(low, self.unit);
        value
    }

    fn parts(self, ids: impl Iterator<Item = PartId>) -> Vec<Value> {
        ids.map(|id| part_key(self.document(), id)).collect()
    }

    fn panel(self, id: PanelId) -> String {
        self.told.layout.panel(id).name.clone()
    }
}

fn edges(edges: Edges) -> Vec<&'static str> {
    edges.iter().map(|edge| edge.word()).collect()
}
