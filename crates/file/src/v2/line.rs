//! Lines in version 2: what is done along them, with the keys that each work has.

use super::named::{Reckoned, Reckons, reckoned};
use super::place::{self, PlaceKeys};
use super::unless_empty;
use super::word::Tool;
use crate::MOST_TITLE;
use crate::error::FileError;
use crate::limit::one_line;
use crate::quoted::{Plain, Quoted, Worded, Written};
use crate::schema::{ONE_LINE, with_without};
use model::{Crease, Direction, Face, FoldAngle, Line, LineId, LineSlot, Notch, Strip, StripSide, Unit, Work};
use schemars::{JsonSchema, Schema};
use serde::{Deserialize, Serialize};
use serde_json::json;

/// One line on the sheet, and what is done along it.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a line in { }")]
#[schemars(rename = "Line", transform = keys_by_work)]
pub(super) struct LineKeys {
    /// A number that no other line has.
    pub(super) id: u32,
    /// What the maker calls it.
    #[schemars(length(max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    name: Option<String>,
    place: PlaceKeys,
    work: Quoted<Tool>,
    /// Of a score: which way it folds.
    fold: Option<Quoted<Direction>>,
    /// Of a score: how far it folds, in degrees; 180 when left out.
    angle: Option<Plain<FoldAngle>>,
    /// Of a score: the face it is pressed into; that which suits the fold when left out.
    pressed: Option<Quoted<Face>>,
    /// Of a slot or a trim: how much paper is taken out.
    width: Option<Quoted<Reckoned>>,
    /// Of a notch: how deep it is at its middle.
    depth: Option<Quoted<Reckoned>>,
    /// Of a slot, a trim or a notch: on which side of the line the paper is taken out. A slot is centred when left out.
    side: Option<Quoted<StripSide>>,
    /// Whether it stays where it is when others are moved in bulk, and can't be dragged.
    locked: Option<bool>,
}

impl Tool {
    const ALL: [Self; 6] = [Self::Score, Self::Cut, Self::Slot, Self::Trim, Self::Notch, Self::Guide];

    /// The keys that a line of this work must have, and those that it may have.
    const fn keys(self) -> (&'static [&'static str], &'static [&'static str]) {
        match self {
            Self::Score => (&["fold"], &["angle", "pressed"]),
            Self::Cut | Self::Guide => (&[], &[]),
            Self::Slot => (&["width"], &["side"]),
            Self::Trim => (&["width", "side"], &[]),
            Self::Notch => (&["depth", "side"], &[]),
        }
    }

    fn has(self, key: &str) -> bool {
        let (must, may) = self.keys();
        must.contains(&key) || may.contains(&key)
    }
}

/// The keys that belong to some works only.
const OF_WORKS: [&str; 6] = ["fold", "angle", "pressed", "width", "depth", "side"];

/// Says in the schema which keys go with which work.
fn keys_by_work(schema: &mut Schema) {
    let rule = |tool: Tool| {
        let foreign: Vec<&str> = OF_WORKS.into_iter().filter(|key| !tool.has(key)).collect();
        let mut then = with_without(tool.keys().0, &foreign);
        if tool == Tool::Notch {
            then["properties"]["side"] = json!({ "enum": ["left", "right"] });
        }
        json!({ "if": { "properties": { "work": { "const": tool.words() } } }, "then": then })
    };
    schema.insert("allOf".to_owned(), Tool::ALL.into_iter().map(rule).collect());
}

/// The line at `path`.
pub(super) fn read(path: &str, keys: LineKeys) -> Result<Line, FileError> {
    Ok(Line {
        id: LineId(keys.id),
        work: work(&keys).map_err(|says| FileError::value(path, says))?,
        name: one_line(&format!("{path}.name"), keys.name.unwrap_or_default())?,
        place: place::read(&format!("{path}.place"), keys.place)?,
        locked: keys.locked.unwrap_or_default(),
    })
}

fn work(keys: &LineKeys) -> Result<Work, String> {
    let tool = keys.work.0;
    let side = keys.side;
    let length = |key: &Option<Quoted<Reckoned>>, name| {
        value(key.as_ref().map(|key| Quoted(key.0.length())), (tool, name)).map(|plain| plain.length)
    };
    let foreign: Vec<&str> = keys.given().filter(|key| !tool.has(key)).collect();
    if !foreign.is_empty() {
        let says = format!("a {} has no {}; take out what doesn't belong, or say", tool.words(), foreign.join(", no "));
        return Err(format!("{says} another work"));
    }
    let needed = |key| (tool, key);
    Ok(match tool {
        Tool::Score => Work::Score(Crease {
            direction: value(keys.fold, needed("fold"))?,
            angle: keys.angle.map_or(FoldAngle::Flat, |angle| angle.0),
            pressed: keys.pressed.map(|face| face.0),
        }),
        Tool::Cut => Work::Cut,
        Tool::Slot => Work::Slot(Strip {
            width: length(&keys.width, "width")?,
            side: side.map_or(StripSide::Centred, |side| side.0),
        }),
        Tool::Trim => Work::Trim(Strip { width: length(&keys.width, "width")?, side: value(side, needed("side"))? }),
        Tool::Notch => {
            Work::Notch(Notch { depth: length(&keys.depth, "depth")?, to_left: to_left(value(side, needed("side"))?)? })
        }
        Tool::Guide => Work::Guide,
    })
}

/// The value of a key that a work must have.
fn value<T: Worded>(value: Option<Quoted<T>>, (tool, key): (Tool, &str)) -> Result<T, String> {
    let says = || format!("a {} needs a {key}; add \"{key}\": {}", tool.words(), T::EXPECTED);
    value.map(|value| value.0).ok_or_else(says)
}

fn to_left(side: StripSide) -> Result<bool, String> {
    match side {
        StripSide::Left => Ok(true),
        StripSide::Right => Ok(false),
        StripSide::Centred => Err("a notch bites to one side of its line; make its side left or right".to_owned()),
    }
}

impl LineKeys {
    /// The keys that may be formulas, with where they are from here and the slots of their lengths.
    pub(super) fn reckoned(&mut self) -> Vec<(&'static str, LineSlot, &mut dyn Reckons)> {
        let mut all = self.place.reckoned();
        for (path, key) in [("width", &mut self.width), ("depth", &mut self.depth)] {
            if let Some(key) = key {
                all.push((path, LineSlot::Width, &mut key.0));
            }
        }
        all
    }

    /// Those of its keys that belong to some works only.
    fn given(&self) -> impl Iterator<Item = &'static str> {
        let there = [
            self.fold.is_some(),
            self.angle.is_some(),
            self.pressed.is_some(),
            self.width.is_some(),
            self.depth.is_some(),
            self.side.is_some(),
        ];
        OF_WORKS.into_iter().zip(there).filter_map(|(key, there)| there.then_some(key))
    }
}

/// A line as it is written.
pub(super) fn keys(line: &Line, unit: Unit) -> LineKeys {
    let bare = LineKeys {
        id: line.id.0,
        name: unless_empty(&line.name),
        place: place::keys(line.place, unit),
        work: Quoted(tool(line.work)),
        fold: None,
        angle: None,
        pressed: None,
        width: None,
        depth: None,
        side: None,
        locked: line.locked.then_some(true),
    };
    let strip =
        |Strip { width, side }, usual| (Some(reckoned(width, unit)), (Some(side) != usual).then_some(Quoted(side)));
    match line.work {
        Work::Cut | Work::Guide => bare,
        Work::Score(Crease { direction, angle, pressed }) => LineKeys {
            fold: Some(Quoted(direction)),
            angle: (angle != FoldAngle::Flat).then_some(Plain(angle)),
            pressed: pressed.map(Quoted),
            ..bare
        },
        Work::Slot(slot) => {
            let (width, side) = strip(slot, Some(StripSide::Centred));
            LineKeys { width, side, ..bare }
        }
        Work::Trim(trim) => {
            let (width, side) = strip(trim, None);
            LineKeys { width, side, ..bare }
        }
        Work::Notch(Notch { depth, to_left }) => {
            let side = if to_left { StripSide::Left } else { StripSide::Right };
            LineKeys { depth: Some(reckoned(depth, unit)), side: Some(Quoted(side)), ..bare }
        }
    }
}

const fn tool(work: Work) -> Tool {
    match work {
        Work::Score(_) => Tool::Score,
        Work::Cut => Tool::Cut,
        Work::Slot(_) => Tool::Slot,
        Work::Trim(_) => Tool::Trim,
        Work::Notch(_) => Tool::Notch,
        Work::Guide => Tool::Guide,
    }
}
