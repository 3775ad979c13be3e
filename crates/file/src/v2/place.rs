//! Places of lines in version 2: measured, along another line, or drawn between two spots.

use super::named::{Reckoned, Reckons, is_nothing, reckoned};
use super::word::End;
use crate::error::FileError;
use crate::quoted::{Pair, Plain, Quoted};
use crate::schema::{one_of_groups, with_without};
use model::{Datum, Length, LineId, LineSlot, Place, Point, Run, Spot, SpotSlot, Stop, Turn, Unit};
use schemars::{JsonSchema, Schema};
use serde::{Deserialize, Serialize};

/// Where a line is: measured with `turn`, `from` and `distance`, `along` another line, or `drawn`.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a place in { }")]
#[schemars(rename = "Place", transform = one_way)]
pub(super) struct PlaceKeys {
    /// How often the sheet is turned a quarter to the left.
    turn: Option<Plain<Turn>>,
    /// What the distance is measured from.
    from: Option<Quoted<Datum>>,
    /// How far to the right of that; to its left when negative.
    distance: Option<Quoted<Reckoned>>,
    /// The line on which this one lies, on its turn.
    along: Option<Quoted<LineId>>,
    drawn: Option<Box<DrawnKeys>>,
    /// Where it starts; at the upper edge of the sheet as it lies when left out.
    start: Option<Quoted<End>>,
    /// Where it ends; at the lower edge of the sheet as it lies when left out.
    end: Option<Quoted<End>>,
}

/// The way from one spot to another.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a way in { }")]
#[schemars(rename = "Drawn")]
struct DrawnKeys {
    /// Where it starts.
    from: SpotKeys,
    /// Where it ends.
    to: SpotKeys,
    /// How far the middle of an arc rises to the left of the straight way; to its right when negative. Straight when
    /// left out.
    #[serde(skip_serializing_if = "is_nothing")]
    bow: Option<Quoted<Reckoned>>,
}

/// A spot on the sheet: `x` and `y` from its upper left corner as it is drawn, the `crossing` of two lines, or so far
/// (`at`) `on` a line.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a spot in { }")]
#[schemars(rename = "Spot", extend("oneOf" = one_of_groups(&[&["x", "y"], &["crossing"], &["on", "at"]])))]
struct SpotKeys {
    /// To the right of the sheet's left edge.
    x: Option<Quoted<Reckoned>>,
    /// Down from the sheet's top edge.
    y: Option<Quoted<Reckoned>>,
    /// The two lines that cross there, carried on as far as needed.
    crossing: Option<Pair<Quoted<LineId>>>,
    /// The line it is on.
    on: Option<Quoted<LineId>>,
    /// How far below the upper edge of the sheet as that line has it lie; from its start on when it is drawn.
    at: Option<Quoted<Reckoned>>,
}

/// Says in the schema that a line is placed in one way, and that a drawn one has no other stops than its spots.
fn one_way(schema: &mut Schema) {
    let ways = one_of_groups(&[&["turn", "from", "distance"], &["along"], &["drawn"]]);
    schema.insert("oneOf".to_owned(), ways);
    schema.insert("if".to_owned(), with_without(&["drawn"], &[]));
    schema.insert("then".to_owned(), with_without(&[], &["start", "end"]));
}

/// The place at `path`.
pub(super) fn read(path: &str, keys: PlaceKeys) -> Result<Place, FileError> {
    let PlaceKeys { turn, from, distance, along, drawn, start, end } = keys;
    let refused = |says: &str| Err(FileError::value(path, says));
    let stops = start.is_some() || end.is_some();
    let stop = |end: Option<Quoted<End>>| end.map_or(Stop::Edge, |end| end.0.stop);
    let run = Run { from: stop(start), to: stop(end) };
    match (turn, from, distance, along, drawn) {
        (Some(turn), Some(from), Some(distance), None, None) => {
            Ok(Place::Measured { turn: turn.0, from: from.0, distance: distance.0.length, run })
        }
        (None, None, None, Some(line), None) => Ok(Place::Along { line: line.0, run }),
        (None, None, None, None, Some(_)) if stops => {
            refused("a drawn line goes from spot to spot; take out start and end")
        }
        (None, None, None, None, Some(drawn)) => drawn_place(&format!("{path}.drawn"), *drawn),
        (_, _, _, None, None) => refused("it doesn't say where; give turn, from and distance, or along, or drawn"),
        _ => refused("it says where in two ways; keep turn, from and distance, or along, or drawn"),
    }
}

fn drawn_place(path: &str, keys: DrawnKeys) -> Result<Place, FileError> {
    Ok(Place::Drawn {
        from: spot(&format!("{path}.from"), keys.from)?,
        to: spot(&format!("{path}.to"), keys.to)?,
        bow: keys.bow.map_or(Length::ZERO, |bow| bow.0.length),
    })
}

fn spot(path: &str, keys: SpotKeys) -> Result<Spot, FileError> {
    let SpotKeys { x, y, crossing, on, at } = keys;
    match (x, y, crossing, on, at) {
        (Some(x), Some(y), None, None, None) => Ok(Spot::At(Point::new(x.0.length, y.0.length))),
        (None, None, Some(Pair([a, b])), None, None) => Ok(Spot::Crossing(a.0, b.0)),
        (None, None, None, Some(on), Some(at)) => Ok(Spot::On(on.0, at.0.length)),
        _ => Err(FileError::value(path, "a spot is one of x and y, crossing, or on and at; give just one of these")),
    }
}

/// A place as it is written.
pub(super) fn keys(place: Place, unit: Unit) -> PlaceKeys {
    let end = |stop| (stop != Stop::Edge).then_some(Quoted(End { stop, unit, formula: None }));
    let Run { from, to } = place.run();
    let (start, end) = (end(from), end(to));
    let bare = PlaceKeys { turn: None, from: None, distance: None, along: None, drawn: None, start, end };
    match place {
        Place::Measured { turn, from, distance, .. } => PlaceKeys {
            turn: Some(Plain(turn)),
            from: Some(Quoted(from)),
            distance: Some(reckoned(distance, unit)),
            ..bare
        },
        Place::Along { line, .. } => PlaceKeys { along: Some(Quoted(line)), ..bare },
        Place::Drawn { from, to, bow } => {
            let [from, to] = [from, to].map(|spot| spot_keys(spot, unit));
            PlaceKeys { drawn: Some(Box::new(DrawnKeys { from, to, bow: Some(reckoned(bow, unit)) })), ..bare }
        }
    }
}

fn spot_keys(spot: Spot, unit: Unit) -> SpotKeys {
    let bare = SpotKeys { x: None, y: None, crossing: None, on: None, at: None };
    match spot {
        Spot::At(Point { x, y }) => SpotKeys { x: Some(reckoned(x, unit)), y: Some(reckoned(y, unit)), ..bare },
        Spot::Crossing(a, b) => SpotKeys { crossing: Some(Pair([Quoted(a), Quoted(b)])), ..bare },
        Spot::On(line, at) => SpotKeys { on: Some(Quoted(line)), at: Some(reckoned(at, unit)), ..bare },
    }
}

impl PlaceKeys {
    /// The keys that may be formulas, with where they are from here and the slots of their lengths.
    pub(super) fn reckoned(&mut self) -> Vec<(&'static str, LineSlot, &mut dyn Reckons)> {
        let mut all: Vec<(&'static str, LineSlot, &mut dyn Reckons)> = Vec::new();
        if let Some(distance) = &mut self.distance {
            all.push(("place.distance", LineSlot::Distance, &mut distance.0));
        }
        for (path, slot, end) in
            [("place.start", LineSlot::Start, &mut self.start), ("place.end", LineSlot::End, &mut self.end)]
        {
            if let Some(end) = end {
                all.push((path, slot, &mut end.0));
            }
        }
        if let Some(drawn) = self.drawn.as_deref_mut() {
            let from = ["place.drawn.from.x", "place.drawn.from.y", "place.drawn.from.at"];
            all.extend(drawn.from.reckoned(from, LineSlot::From));
            all.extend(drawn.to.reckoned(["place.drawn.to.x", "place.drawn.to.y", "place.drawn.to.at"], LineSlot::To));
            if let Some(bow) = &mut drawn.bow {
                all.push(("place.drawn.bow", LineSlot::Bow, &mut bow.0));
            }
        }
        all
    }
}

impl SpotKeys {
    fn reckoned(
        &mut self,
        paths: [&'static str; 3],
        slot: fn(SpotSlot) -> LineSlot,
    ) -> impl Iterator<Item = (&'static str, LineSlot, &mut dyn Reckons)> {
        let keys = [&mut self.x, &mut self.y, &mut self.at].into_iter();
        let all = keys.zip(paths).zip([SpotSlot::X, SpotSlot::Y, SpotSlot::At]);
        all.filter_map(move |((key, path), own)| {
            let key: &mut dyn Reckons = &mut key.as_mut()?.0;
            Some((path, slot(own), key))
        })
    }
}
