//! Papers in version 2: sizes, weights and thicknesses, and what their faces look like.

use super::artwork::{self, ArtworkKeys};
use super::named::{Reckoned, Reckons, reckoned};
use super::{measure, unless_empty};
use crate::MOST_TITLE;
use crate::error::FileError;
use crate::limit::one_line;
use crate::quoted::Quoted;
use crate::schema::{ONE_LINE, POSITIVE, POSITIVE_OR_FORMULA, with_without};
use crate::word::Measure;
use model::slot;
use model::{
    Bulk, Caliper, Colour, FurtherStock, Grain, Length, Pattern, Side, Size, SizeError, Stock, StockId, Unit, Weight,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A sheet of paper as bought.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a stock in { }")]
#[schemars(rename = "Stock", extend("not" = with_without(&["caliper", "bulk"], &[])))]
pub(super) struct StockKeys {
    /// What the maker calls it.
    #[schemars(length(max = MOST_TITLE), extend("pattern" = ONE_LINE))]
    name: Option<String>,
    /// From side to side as it lies at turn 0; more than zero.
    #[schemars(extend("pattern" = POSITIVE_OR_FORMULA))]
    width: Quoted<Reckoned>,
    /// From top to bottom as it lies at turn 0; more than zero.
    #[schemars(extend("pattern" = POSITIVE_OR_FORMULA))]
    height: Quoted<Reckoned>,
    weight: Option<Quoted<Weight>>,
    /// The thickness of one sheet where it is measured: more than zero and at most 10 mm.
    #[schemars(extend("pattern" = POSITIVE))]
    caliper: Option<Quoted<Measure>>,
    /// Instead of the caliper: what thickness follows from by the weight.
    bulk: Option<Quoted<Bulk>>,
    grain: Option<Quoted<Grain>>,
    /// What its front looks like.
    front: Option<SideKeys>,
    /// What its back looks like.
    back: Option<SideKeys>,
    /// The colour that shows where it is cut or torn, where that is not that of the faces.
    core: Option<Quoted<Colour>>,
}

/// Another paper that the design uses.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a further stock in { }")]
#[schemars(rename = "FurtherStock")]
pub(super) struct FurtherStockKeys {
    /// A number that no other further stock has.
    pub(super) id: u32,
    pub(super) stock: StockKeys,
}

impl StockKeys {
    /// The keys that may be formulas, with what they are called.
    pub(super) fn reckoned(&mut self) -> [(&'static str, slot::Side, &mut dyn Reckons); 2] {
        [("width", slot::Side::Width, &mut self.width.0), ("height", slot::Side::Height, &mut self.height.0)]
    }
}

/// What a face looks like.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a side in { }")]
#[schemars(rename = "Side")]
struct SideKeys {
    /// What is printed on it; nothing ("plain") when left out.
    pattern: Option<Quoted<Pattern>>,
    /// Its main colour.
    colour: Option<Quoted<Colour>>,
    artwork: Option<ArtworkKeys>,
}

/// Thicker than any board that is scored and folded: beyond it a length meant for something else was typed.
const THICKEST: Length = Length::from_mm_exact(10, 0);

/// The stock at `path`.
pub(super) fn read(path: &str, keys: StockKeys) -> Result<Stock, FileError> {
    let size = Size::new(keys.width.0.length, keys.height.0.length)
        .ok_or_else(|| FileError::value(path, SizeError::NotPositive.to_string()))?;
    Ok(Stock {
        name: one_line(&format!("{path}.name"), keys.name.unwrap_or_default())?,
        size,
        weight: keys.weight.map(|weight| weight.0),
        caliper: caliper(path, keys.caliper, keys.bulk)?,
        front: side(&format!("{path}.front"), keys.front)?,
        back: side(&format!("{path}.back"), keys.back)?,
        grain: keys.grain.map(|grain| grain.0),
        core: keys.core.map(|core| core.0),
    })
}

/// The further stock at `path`.
pub(super) fn read_further(path: &str, keys: FurtherStockKeys) -> Result<FurtherStock, FileError> {
    Ok(FurtherStock { id: StockId(keys.id), stock: read(&format!("{path}.stock"), keys.stock)? })
}

fn caliper(path: &str, caliper: Option<Quoted<Measure>>, bulk: Option<Quoted<Bulk>>) -> Result<Caliper, FileError> {
    let refused = |says: &str| Err(FileError::value(format!("{path}.caliper"), says));
    match (caliper.map(|caliper| caliper.0.length), bulk) {
        (None, None) => Ok(Caliper::Unknown),
        (None, Some(bulk)) => Ok(Caliper::FromBulk(bulk.0)),
        (Some(_), Some(_)) => {
            refused("the thickness is either measured or follows from the bulk; keep caliper or bulk")
        }
        (Some(caliper), None) if caliper <= Length::ZERO => {
            refused("paper is thicker than nothing; measure one sheet, or leave it out if not known")
        }
        (Some(caliper), None) if caliper > THICKEST => {
            refused("no paper that folds is more than 10 mm thick; measure one sheet")
        }
        (Some(caliper), None) => Ok(Caliper::Measured(caliper)),
    }
}

fn side(path: &str, keys: Option<SideKeys>) -> Result<Side, FileError> {
    let Some(keys) = keys else { return Ok(Side::default()) };
    Ok(Side {
        pattern: keys.pattern.map_or(Pattern::Plain, |pattern| pattern.0),
        colour: keys.colour.map(|colour| colour.0),
        artwork: keys.artwork.map(|keys| artwork::read(&format!("{path}.artwork"), keys)).transpose()?,
    })
}

/// A stock as it is written.
pub(super) fn keys(stock: &Stock, unit: Unit) -> StockKeys {
    let (caliper, bulk) = match stock.caliper {
        Caliper::Unknown => (None, None),
        Caliper::Measured(caliper) => (Some(caliper), None),
        Caliper::FromBulk(bulk) => (None, Some(bulk)),
    };
    StockKeys {
        name: unless_empty(&stock.name),
        width: reckoned(stock.size.width(), unit),
        height: reckoned(stock.size.height(), unit),
        weight: stock.weight.map(Quoted),
        caliper: caliper.map(|caliper| measure(caliper, unit)),
        bulk: bulk.map(Quoted),
        grain: stock.grain.map(Quoted),
        front: side_keys(&stock.front, unit),
        back: side_keys(&stock.back, unit),
        core: stock.core.map(Quoted),
    }
}

/// A further stock as it is written.
pub(super) fn further_keys(further: &FurtherStock, unit: Unit) -> FurtherStockKeys {
    FurtherStockKeys { id: further.id.0, stock: keys(&further.stock, unit) }
}

fn side_keys(side: &Side, unit: Unit) -> Option<SideKeys> {
    (*side != Side::default()).then(|| SideKeys {
        pattern: (side.pattern != Pattern::Plain).then_some(Quoted(side.pattern)),
        colour: side.colour.map(Quoted),
        artwork: side.artwork.as_ref().map(|artwork| artwork::keys(artwork, unit)),
    })
}
