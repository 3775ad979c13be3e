//! Version 2 of the project file: a mirror of the document as it stands in the text, and the schema's source.
//!
//! What is left out of a file says nothing: no credit, no board, a thickness that isn't known, no base panel, a line
//! without a name, a run that goes to the edge, a fold all the way round, plain paper, a part in the middle of its panel.
//! `null` says the same as leaving out. The comments on keys are what the schema tells those who edit a file by hand.

mod artwork;
mod corner;
mod line;
pub(crate) mod named;
mod offcut;
mod panel_name;
mod part;
mod place;
mod silence;
mod step;
mod stock;
mod word;

pub use artwork::artwork_file;

use crate::error::FileError;
use crate::fault;
use crate::limit::{many_lines, no_doubles, numbers, one_line};
use crate::list::List;
use crate::quoted::Quoted;
use crate::schema::{MANY_LINES, ONE_LINE};
use crate::word::Measure;
use crate::{FORMAT, MOST_CREDIT, MOST_JOBS, MOST_TITLE, VERSION};
use corner::CornerKeys;
use line::LineKeys;
use model::part::Job;
use model::{Cutting, Document, Length, NamedLengths, Point, Unit};
use named::LengthKeys;
use offcut::OffcutKeys;
use panel_name::PanelNameKeys;
use part::PartKeys;
#[cfg(test)]
pub(crate) use part::word::{Across, Down, PartLine, PartPanel, SourceWords};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use silence::SilenceKeys;
use step::StepKeys;
use stock::{FurtherStockKeys, StockKeys};
#[cfg(test)]
pub(crate) use word::{Digest, End};

/// The text of a version 2 file, read.
pub(crate) fn read(text: &str) -> Result<Document, FileError> {
    document(fault::parsed(text)?)
}

/// A document as version 2 JSON, keys in order.
pub(crate) fn write(document: &Document) -> Value {
    let value = serde_json::to_value(folio(document));
    without_nulls(value.expect("text, numbers, lists and objects with text keys are all JSON"))
}

fn without_nulls(value: Value) -> Value {
    match value {
        Value::Object(items) => {
            let given = items.into_iter().filter(|(_, item)| !item.is_null());
            Value::Object(given.map(|(key, item)| (key, without_nulls(item))).collect())
        }
        Value::Array(items) => items.into_iter().map(without_nulls).collect(),
        plain => plain,
    }
}

/// A design of one sheet of paper that is scored, cut and folded.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a design in { }")]
#[schemars(title = "Foliowright folio, version 2")]
pub(crate) struct FolioKeys {
    /// What kind of file it is.
    #[schemars(extend("const" = FORMAT))]
    format: String,
    /// The version of the format.
    #[schemars(extend("const" = 2))]
    version: u32,
    /// What the maker calls it.
    #[schemars(length(max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    title: String,
    /// Where the idea came from, and what was changed.
    #[schemars(length(max = MOST_CREDIT), extend("pattern" = MANY_LINES))]
    credit: Option<String>,
    units: Quoted<Unit>,
    board: Option<BoardKeys>,
    cutting: Option<CuttingKeys>,
    /// The lengths that the maker names, to be used in formulas.
    lengths: Option<List<LengthKeys, { NamedLengths::MOST }>>,
    /// The paper of the folio.
    stock: StockKeys,
    /// Other papers, such as those for mats.
    further_stocks: Option<List<FurtherStockKeys, { Document::MOST_STOCKS }>>,
    /// Scores, cuts and guides, in the order they were made.
    lines: List<LineKeys, { Document::MOST_LINES }>,
    /// What is done with corners; of two that say something of the same corner, the later holds.
    corners: Option<List<CornerKeys, { Document::MOST_CORNERS }>>,
    /// A point inside the panel that lies still.
    base: Option<PointKeys>,
    /// What the maker calls panels; of two names of the same panel, the first holds.
    panel_names: Option<List<PanelNameKeys, { Document::MOST_PANEL_NAMES }>>,
    /// The numbers of offcuts, where they are not those of reading order.
    offcuts: Option<List<OffcutKeys, { Document::MOST_OFFCUTS }>>,
    /// What is made and put on the folio, in the order it is put on.
    parts: Option<List<PartKeys, { Document::MOST_PARTS }>>,
    /// The order in which the maker wants to make it; jobs that are left out come where they can be.
    making: Option<List<Quoted<Job>, MOST_JOBS>>,
    /// The closing order.
    steps: List<StepKeys, { Document::MOST_LINES }>,
    /// What the checker is not to say again, and why.
    silences: Option<List<SilenceKeys, { Document::MOST_SILENCES }>>,
    /// The design that this is a variation of, whole, as it was when the variation was begun; it has no such key itself.
    variation_of: Option<Box<FolioKeys>>,
}

/// A scoring board.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a board in { }")]
#[schemars(rename = "Board")]
struct BoardKeys {
    /// How far apart its grooves are.
    grooves: Quoted<Measure>,
}

/// How parts are cut from offcuts and further sheets.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "how parts are cut in { }")]
#[schemars(rename = "Cutting")]
struct CuttingKeys {
    /// How much is trimmed off every edge before parts are cut; none for clean edges.
    edge: Option<Quoted<Measure>>,
    /// Whether parts are only cut so that their folds run along the grain.
    along_grain: Option<bool>,
}

/// A point on the sheet, from its upper left corner as it is drawn.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a point in { }")]
#[schemars(rename = "Point")]
struct PointKeys {
    /// To the right.
    x: Quoted<Measure>,
    /// Down.
    y: Quoted<Measure>,
}

// From the mirror to the model.

/// The design that another is a variation of.
fn first(keys: FolioKeys) -> Result<Box<Document>, FileError> {
    const KEY: &str = "variation_of";
    if keys.format != FORMAT {
        let says = format!("this is no design; write \"{FORMAT}\" or take the whole of {KEY} out");
        return Err(FileError::value(format!("{KEY}.format"), says));
    }
    if keys.version != VERSION {
        let says = format!("it is in the format {VERSION} of the design around it; write that");
        return Err(FileError::value(format!("{KEY}.version"), says));
    }
    if keys.variation_of.is_some() {
        let says = "the design that a variation came from can't keep another; take this out";
        return Err(FileError::value(format!("{KEY}.{KEY}"), says));
    }
    document(keys).map(Box::new).map_err(|error| error.within(KEY))
}

fn document(mut keys: FolioKeys) -> Result<Document, FileError> {
    let lengths = named::read(&mut keys)?;
    let (lines, further, corners) = (keys.lines.0, listed(keys.further_stocks), listed(keys.corners));
    let parts = listed(keys.parts);
    no_doubles(lines.iter().map(|keys| keys.id), "lines", "line")?;
    no_doubles(further.iter().map(|keys| keys.id), "further_stocks", "further stock")?;
    no_doubles(parts.iter().map(|keys| keys.id), "parts", "part")?;
    let lines = each("lines", lines, line::read)?;
    let known = numbers(&lines);
    Ok(Document {
        title: one_line("title", keys.title)?,
        credit: many_lines("credit", keys.credit.unwrap_or_default())?,
        units: keys.units.0,
        groove: keys.board.map_or(Length::ZERO, |board| board.grooves.0.length),
        cutting: keys.cutting.map_or(Cutting::default(), |cutting| Cutting {
            edge: cutting.edge.map_or(Length::ZERO, |edge| edge.0.length),
            along_grain: cutting.along_grain.unwrap_or(false),
        }),
        lengths,
        stock: stock::read("stock", keys.stock)?,
        further_stocks: each("further_stocks", further, stock::read_further)?,
        corners: each("corners", corners, corner::read)?,
        base: keys.base.map(PointKeys::point),
        panel_names: each("panel_names", listed(keys.panel_names), panel_name::read)?,
        offcuts: offcut::read(listed(keys.offcuts))?,
        parts: each("parts", parts, part::read)?,
        making: listed(keys.making).into_iter().map(|job| job.0).collect(),
        steps: each("steps", keys.steps.0, |path, keys| step::read(path, keys, &known))?,
        silences: each("silences", listed(keys.silences), |path, keys| silence::read(path, keys, &known))?,
        variation_of: keys.variation_of.map(|keys| first(*keys)).transpose()?,
        lines,
    })
}

fn listed<T, const MOST: usize>(list: Option<List<T, MOST>>) -> Vec<T> {
    list.map_or_else(Vec::new, |list| list.0)
}

/// All of a list, each with its path.
fn each<T, U>(list: &str, all: Vec<T>, read: impl Fn(&str, T) -> Result<U, FileError>) -> Result<Vec<U>, FileError> {
    all.into_iter().enumerate().map(|(i, keys)| read(&format!("{list}[{i}]"), keys)).collect()
}

impl PointKeys {
    fn point(self) -> Point {
        Point::new(self.x.0.length, self.y.0.length)
    }
}

// From the model to the mirror.

fn folio(document: &Document) -> FolioKeys {
    let unit = document.units;
    let further = document.further_stocks.iter().map(|further| stock::further_keys(further, unit)).collect();
    let corners = document.corners.iter().map(|corner| corner::keys(corner, unit)).collect();
    let mut keys = FolioKeys {
        format: FORMAT.to_owned(),
        version: VERSION,
        title: document.title.clone(),
        credit: unless_empty(&document.credit),
        units: Quoted(unit),
        board: unless_zero(document.groove, unit).map(|grooves| BoardKeys { grooves }),
        cutting: (document.cutting != Cutting::default()).then(|| CuttingKeys {
            edge: unless_zero(document.cutting.edge, unit),
            along_grain: document.cutting.along_grain.then_some(true),
        }),
        lengths: some_of(named::keys(document)),
        stock: stock::keys(&document.stock, unit),
        further_stocks: some_of(further),
        lines: List(document.lines.iter().map(|line| line::keys(line, unit)).collect()),
        corners: some_of(corners),
        base: document.base.map(|base| point_keys(base, unit)),
        panel_names: some_of(document.panel_names.iter().map(|named| panel_name::keys(named, unit)).collect()),
        offcuts: some_of(document.offcuts.iter().map(|numbered| offcut::keys(numbered, unit)).collect()),
        parts: some_of(document.parts.iter().map(|part| part::keys(part, unit)).collect()),
        making: some_of(document.making.iter().copied().map(Quoted).collect()),
        steps: List(document.steps.iter().map(|step| step::keys(step, unit)).collect()),
        silences: some_of(document.silences.iter().map(|silence| silence::keys(silence, unit)).collect()),
        variation_of: document.variation_of.as_deref().map(|first| Box::new(folio(first))),
    };
    named::write(&mut keys, document);
    keys
}

fn point_keys(point: Point, unit: Unit) -> PointKeys {
    PointKeys { x: measure(point.x, unit), y: measure(point.y, unit) }
}

fn measure(length: Length, unit: Unit) -> Quoted<Measure> {
    Quoted(Measure { length, unit })
}

fn unless_zero(length: Length, unit: Unit) -> Option<Quoted<Measure>> {
    (length != Length::ZERO).then(|| measure(length, unit))
}

fn unless_empty(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}

fn some_of<T, const MOST: usize>(list: Vec<T>) -> Option<List<T, MOST>> {
    (!list.is_empty()).then_some(List(list))
}
