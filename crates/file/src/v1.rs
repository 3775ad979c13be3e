//! Version 1 of the project file: read for ever, written no more.
//!
//! The mirror is frozen. What it could not say is filled in with what the program did at the time: no line is locked,
//! scores are pressed into the face that suits their fold, corners stay as they are cut, nothing is made of offcuts and
//! put on, and of the paper only the thickness is known, as if measured. What is left out of a file says nothing: no credit, no board, a thickness that
//! isn't known, no base panel, a line without a name, a run that goes to the edge, a fold all the way round. `null`
//! says the same as leaving out.

mod word;

use crate::error::FileError;
use crate::fault;
use crate::limit::{Steps, many_lines, no_doubles, one_line, steps};
use crate::list::List;
use crate::quoted::{Plain, Quoted};
use crate::word::Measure;
use model::{
    Caliper, Crease, Cutting, Datum, Document, FoldAngle, Length, Line, LineId, NamedLengths, Place, Point, Run, Size,
    SizeError, Step, Stock, Stop, Turn, Unit, Work,
};
use serde::Deserialize;
use word::{End, Tool, Way};

/// The text of a version 1 file, read.
pub(crate) fn read(text: &str) -> Result<Document, FileError> {
    document(fault::parsed(text)?)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "a design in { }")]
struct FolioKeys {
    #[serde(rename = "format")]
    _format: String,
    #[serde(rename = "version")]
    _version: u32,
    title: String,
    credit: Option<String>,
    units: Quoted<Unit>,
    board: Option<BoardKeys>,
    stock: StockKeys,
    lines: List<LineKeys, { Document::MOST_LINES }>,
    base: Option<PointKeys>,
    steps: Steps<{ Document::MOST_LINES }>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "a board in { }")]
struct BoardKeys {
    grooves: Quoted<Measure>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "a stock in { }")]
struct StockKeys {
    width: Quoted<Measure>,
    height: Quoted<Measure>,
    caliper: Option<Quoted<Measure>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "a point in { }")]
struct PointKeys {
    x: Quoted<Measure>,
    y: Quoted<Measure>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "a line in { }")]
struct LineKeys {
    id: u32,
    name: Option<String>,
    place: PlaceKeys,
    work: Quoted<Tool>,
    fold: Option<Quoted<Way>>,
    angle: Option<Plain<FoldAngle>>,
}

/// A place: `turn`, `from` and `distance`, or `along`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "a place in { }")]
struct PlaceKeys {
    turn: Option<Plain<Turn>>,
    from: Option<Quoted<Datum>>,
    distance: Option<Quoted<Measure>>,
    along: Option<Quoted<LineId>>,
    start: Option<Quoted<End>>,
    end: Option<Quoted<End>>,
}

fn document(keys: FolioKeys) -> Result<Document, FileError> {
    let lines = lines(keys.lines.0)?;
    let steps = steps("steps", keys.steps, &lines)?;
    Ok(Document {
        title: one_line("title", keys.title)?,
        credit: many_lines("credit", keys.credit.unwrap_or_default())?,
        units: keys.units.0,
        groove: keys.board.map_or(Length::ZERO, |board| board.grooves.0.length),
        cutting: Cutting::default(),
        lengths: NamedLengths::default(),
        stock: stock(&keys.stock)?,
        further_stocks: Vec::new(),
        lines,
        corners: Vec::new(),
        base: keys.base.map(|point| Point::new(point.x.0.length, point.y.0.length)),
        parts: Vec::new(),
        making: Vec::new(),
        steps: steps.into_iter().map(Step::of).collect(),
        panel_names: Vec::new(),
        offcuts: Vec::new(),
        silences: Vec::new(),
        variation_of: None,
    })
}

/// Thicker than any board that is scored and folded: beyond it a length meant for something else was typed.
const THICKEST: Length = Length::from_mm_exact(10, 0);

fn stock(keys: &StockKeys) -> Result<Stock, FileError> {
    let size = Size::new(keys.width.0.length, keys.height.0.length)
        .ok_or_else(|| FileError::value("stock", SizeError::NotPositive.to_string()))?;
    let caliper = match keys.caliper.map_or(Length::ZERO, |caliper| caliper.0.length) {
        Length::ZERO => Caliper::Unknown,
        caliper => Caliper::Measured(thickness(caliper)?),
    };
    Ok(Stock { caliper, ..Stock::plain(size) })
}

fn thickness(caliper: Length) -> Result<Length, FileError> {
    let refused = |says: &str| Err(FileError::value("stock.caliper", says));
    if caliper < Length::ZERO {
        return refused("paper is not thinner than nothing; leave it out if not known");
    }
    if caliper > THICKEST {
        return refused("no paper that folds is more than 10 mm thick; measure one sheet");
    }
    Ok(caliper)
}

fn lines(all: Vec<LineKeys>) -> Result<Vec<Line>, FileError> {
    no_doubles(all.iter().map(|keys| keys.id), "lines", "line")?;
    all.into_iter().enumerate().map(|(i, keys)| line(&format!("lines[{i}]"), keys)).collect()
}

fn line(path: &str, keys: LineKeys) -> Result<Line, FileError> {
    Ok(Line {
        work: work(&keys).map_err(|says| FileError::value(path, says))?,
        id: LineId(keys.id),
        name: one_line(&format!("{path}.name"), keys.name.unwrap_or_default())?,
        place: place(keys.place).map_err(|says| FileError::value(format!("{path}.place"), says))?,
        locked: false,
    })
}

fn work(keys: &LineKeys) -> Result<Work, String> {
    match (keys.work.0, keys.fold, keys.angle) {
        (Tool::Cut, None, None) => Ok(Work::Cut),
        (Tool::Cut, ..) => Err("a cut doesn't fold; take out fold and angle, or make it a score".to_owned()),
        (Tool::Score, None, _) => Err("a score folds; add \"fold\": \"valley\" or \"fold\": \"mountain\"".to_owned()),
        (Tool::Score, Some(fold), angle) => {
            let angle = angle.map_or(FoldAngle::Flat, |angle| angle.0);
            Ok(Work::Score(Crease { direction: fold.0.0, angle, pressed: None }))
        }
    }
}

fn place(keys: PlaceKeys) -> Result<Place, String> {
    let stop = |end: Option<Quoted<End>>| end.map_or(Stop::Edge, |end| end.0.0);
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
