//! Version 1 of the project file: a mirror of the document as it stands in the text.
//!
//! The mirror is frozen: when the model changes, this stays and gains a step that carries what it read forward. What is
//! left out of a file says nothing: no credit, no board, a thickness that isn't known, no base panel, a line without a
//! name, a run that goes to the edge, a fold all the way round. `null` says the same as leaving out.

mod word;

use crate::error::FileError;
use crate::fault;
use crate::quoted::{Plain, Quoted};
use crate::{FORMAT, MOST_CREDIT, MOST_TITLE};
use model::{
    Crease, Datum, Direction, Document, FoldAngle, Length, Line, LineId, Place, Point, Run, Size, SizeError, Step,
    Stock, Stop, Turn, Unit, Work,
};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeSet;
use word::{End, Measure, Tool};

/// The text of a version 1 file, read.
pub(crate) fn read(text: &str) -> Result<Document, FileError> {
    document(fault::parsed(text)?)
}

/// A document as version 1 JSON, keys in order.
pub(crate) fn write(document: &Document) -> Value {
    serde_json::to_value(folio(document)).expect("text, numbers, lists and objects with text keys are all JSON")
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a design in { }")]
struct FolioKeys {
    format: String,
    version: u32,
    title: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    credit: Option<String>,
    units: Quoted<Unit>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    board: Option<BoardKeys>,
    stock: StockKeys,
    lines: Vec<LineKeys>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    base: Option<PointKeys>,
    steps: Vec<Vec<u32>>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a board in { }")]
struct BoardKeys {
    grooves: Quoted<Measure>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a stock in { }")]
struct StockKeys {
    width: Quoted<Measure>,
    height: Quoted<Measure>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    caliper: Option<Quoted<Measure>>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a point in { }")]
struct PointKeys {
    x: Quoted<Measure>,
    y: Quoted<Measure>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a line in { }")]
struct LineKeys {
    id: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    place: PlaceKeys,
    work: Quoted<Tool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fold: Option<Quoted<Direction>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    angle: Option<Plain<FoldAngle>>,
}

/// A place: `turn`, `from` and `distance`, or `along`.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, expecting = "a place in { }")]
struct PlaceKeys {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    turn: Option<Plain<Turn>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    from: Option<Quoted<Datum>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    distance: Option<Quoted<Measure>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    along: Option<Quoted<LineId>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    start: Option<Quoted<End>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    end: Option<Quoted<End>>,
}

// From the mirror to the model.

fn document(keys: FolioKeys) -> Result<Document, FileError> {
    let lines = lines(keys.lines)?;
    let steps = steps(keys.steps, &lines)?;
    Ok(Document {
        title: one_line("title", keys.title)?,
        credit: many_lines("credit", keys.credit.unwrap_or_default())?,
        units: keys.units.0,
        groove: keys.board.map_or(Length::ZERO, |board| board.grooves.0.length),
        stock: stock(keys.stock)?,
        lines,
        base: keys.base.map(|point| Point::new(point.x.0.length, point.y.0.length)),
        steps,
    })
}

/// Thicker than any board that is scored and folded: beyond it a length meant for something else was typed.
const THICKEST: Length = Length::from_mm_exact(10, 0);

fn stock(keys: StockKeys) -> Result<Stock, FileError> {
    let size = Size::new(keys.width.0.length, keys.height.0.length)
        .ok_or_else(|| FileError::value("stock", SizeError::NotPositive.to_string()))?;
    let caliper = keys.caliper.map_or(Length::ZERO, |caliper| caliper.0.length);
    if caliper < Length::ZERO {
        return Err(FileError::value("stock.caliper", "paper is not thinner than nothing; leave it out if not known"));
    }
    if caliper > THICKEST {
        return Err(FileError::value(
            "stock.caliper",
            "no paper that folds is more than 10 mm thick; measure one sheet",
        ));
    }
    Ok(Stock { size, caliper })
}

fn lines(all: Vec<LineKeys>) -> Result<Vec<Line>, FileError> {
    at_most(Document::MOST_LINES, all.len(), "lines", "a design")?;
    let mut ids = BTreeSet::new();
    let mut lines = Vec::with_capacity(all.len());
    for (i, keys) in all.into_iter().enumerate() {
        let path = format!("lines[{i}]");
        if !ids.insert(keys.id) {
            let says = format!("there is a line {} already; give each line a number of its own", keys.id);
            return Err(FileError::value(format!("{path}.id"), says));
        }
        lines.push(line(&path, keys)?);
    }
    Ok(lines)
}

fn line(path: &str, keys: LineKeys) -> Result<Line, FileError> {
    Ok(Line {
        id: LineId(keys.id),
        work: work(&keys).map_err(|says| FileError::value(path, says))?,
        name: one_line(&format!("{path}.name"), keys.name.unwrap_or_default())?,
        place: place(keys.place).map_err(|says| FileError::value(format!("{path}.place"), says))?,
    })
}

fn work(keys: &LineKeys) -> Result<Work, String> {
    match (keys.work.0, keys.fold, keys.angle) {
        (Tool::Cut, None, None) => Ok(Work::Cut),
        (Tool::Cut, ..) => Err("a cut doesn't fold; take out fold and angle, or make it a score".to_owned()),
        (Tool::Score, None, _) => Err("a score folds; add \"fold\": \"valley\" or \"fold\": \"mountain\"".to_owned()),
        (Tool::Score, Some(fold), angle) => {
            let angle = angle.map_or(FoldAngle::Flat, |angle| angle.0);
            Ok(Work::Score(Crease { direction: fold.0, angle }))
        }
    }
}

fn place(keys: PlaceKeys) -> Result<Place, String> {
    let stop = |end: Option<Quoted<End>>| end.map_or(Stop::Edge, |end| end.0.stop);
    let run = Run { from: stop(keys.start), to: stop(keys.end) };
    match (keys.along, keys.turn, keys.from, keys.distance) {
        (Some(line), None, None, None) => Ok(Place::Along { line: line.0, run }),
        (None, Some(turn), Some(from), Some(distance)) => {
            Ok(Place::Measured { turn: turn.0, from: from.0, distance: distance.0.length, run })
        }
        (Some(_), ..) => Err("it is both measured and along a line; keep along, or turn, from and distance".to_owned()),
        (None, ..) => Err("it doesn't say where; give turn, from and distance, or along".to_owned()),
    }
}

fn steps(all: Vec<Vec<u32>>, lines: &[Line]) -> Result<Vec<Step>, FileError> {
    at_most(Document::MOST_LINES, all.len(), "steps", "a design")?;
    let known: BTreeSet<u32> = lines.iter().map(|line| line.id.0).collect();
    let mut steps = Vec::with_capacity(all.len());
    for (i, ids) in all.into_iter().enumerate() {
        at_most(Document::MOST_LINES, ids.len(), &format!("steps[{i}]"), "a step")?;
        if let Some((j, id)) = ids.iter().enumerate().find(|(_, id)| !known.contains(id)) {
            let says = format!("there is no line {id}; put the id of a line there, or take it out");
            return Err(FileError::value(format!("steps[{i}][{j}]"), says));
        }
        steps.push(Step { lines: ids.into_iter().map(LineId).collect() });
    }
    Ok(steps)
}

fn at_most(most: usize, count: usize, path: &str, whole: &str) -> Result<(), FileError> {
    let says = || format!("there are {count} here and {whole} holds at most {most}; take some out");
    if count > most { Err(FileError::value(path, says())) } else { Ok(()) }
}

/// Text of one line: control characters in it could forge lines of a terminal or a page.
fn one_line(path: &str, text: String) -> Result<String, FileError> {
    if text.chars().any(char::is_control) {
        return Err(FileError::value(path, "it holds a line break or another control character; take it out"));
    }
    bounded(path, text, MOST_TITLE)
}

/// Text of many lines.
fn many_lines(path: &str, text: String) -> Result<String, FileError> {
    if text.chars().any(|c| c.is_control() && c != '\n') {
        return Err(FileError::value(path, "it holds a control character other than a line break; take it out"));
    }
    bounded(path, text, MOST_CREDIT)
}

fn bounded(path: &str, text: String, most: usize) -> Result<String, FileError> {
    let count = text.chars().count();
    let says = || format!("it has {count} characters and may have at most {most}; shorten it");
    if count > most { Err(FileError::value(path, says())) } else { Ok(text) }
}

// From the model to the mirror.

fn folio(document: &Document) -> FolioKeys {
    let unit = document.units;
    let measure = |length| Quoted(Measure { length, unit });
    let unless_zero = |length: Length| (length != Length::ZERO).then(|| measure(length));
    let Stock { size, caliper } = document.stock;
    FolioKeys {
        format: FORMAT.to_owned(),
        version: 1,
        title: document.title.clone(),
        credit: unless_empty(&document.credit),
        units: Quoted(unit),
        board: unless_zero(document.groove).map(|grooves| BoardKeys { grooves }),
        stock: StockKeys {
            width: measure(size.width()),
            height: measure(size.height()),
            caliper: unless_zero(caliper),
        },
        lines: document.lines.iter().map(|line| line_keys(line, unit)).collect(),
        base: document.base.map(|point| PointKeys { x: measure(point.x), y: measure(point.y) }),
        steps: document.steps.iter().map(|step| step.lines.iter().map(|id| id.0).collect()).collect(),
    }
}

fn line_keys(line: &Line, unit: Unit) -> LineKeys {
    let crease = match line.work {
        Work::Score(crease) => Some(crease),
        Work::Cut => None,
    };
    let angle = crease.map(|crease| crease.angle).filter(|angle| *angle != FoldAngle::Flat);
    LineKeys {
        id: line.id.0,
        name: unless_empty(&line.name),
        place: place_keys(line.place, unit),
        work: Quoted(if line.work.is_cut() { Tool::Cut } else { Tool::Score }),
        fold: crease.map(|crease| Quoted(crease.direction)),
        angle: angle.map(Plain),
    }
}

fn place_keys(place: Place, unit: Unit) -> PlaceKeys {
    let end = |stop| (stop != Stop::Edge).then_some(Quoted(End { stop, unit }));
    let Run { from, to } = place.run();
    let run = PlaceKeys { start: end(from), end: end(to), ..PlaceKeys::default() };
    match place {
        Place::Measured { turn, from, distance, .. } => PlaceKeys {
            turn: Some(Plain(turn)),
            from: Some(Quoted(from)),
            distance: Some(Quoted(Measure { length: distance, unit })),
            ..run
        },
        Place::Along { line, .. } => PlaceKeys { along: Some(Quoted(line)), ..run },
    }
}

fn unless_empty(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}
