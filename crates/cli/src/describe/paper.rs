//! A stock in words and in JSON.

use crate::lengths::length;
use disk::artwork;
use model::{Artwork, Caliper, Colour, Face, Grain, Pattern, Side, Stock, Unit, Weight, WeightScale};
use serde_json::{Value, json};
use std::path::Path;

/// "80 lb cover (216.3 g/m2)".
pub(super) fn weight_words(weight: Weight) -> String {
    match weight.scale {
        WeightScale::Grams => weight.to_string(),
        WeightScale::Pounds(_) => format!("{weight} ({:.1} g/m2)", weight.grammage()),
    }
}

pub(super) const fn grain_words(grain: Grain) -> &'static str {
    match grain {
        Grain::Upright => "grain from top to bottom",
        Grain::Level => "grain from side to side",
    }
}

/// What is printed on a face: "front printed with its up at the top edge". Nothing for a plain one.
pub(super) fn side_words(side: &Side, face: Face) -> Vec<String> {
    let name = face.word();
    let mut words = match side.pattern {
        Pattern::Plain => Vec::new(),
        Pattern::AnyWay => vec![format!("{name} printed, any way up")],
        Pattern::OneWay(up) => vec![format!("{name} printed, its up at the {} edge", up.word())],
    };
    if let Some(artwork) = &side.artwork {
        words.push(format!("{name} artwork \"{}\" at {:.0} pixels an inch", artwork.file, artwork.pixels_per_inch()));
    }
    words
}

/// A stock as JSON; `design` says where its artwork is looked for.
pub(super) fn stock(stock: &Stock, design: &Path, unit: Unit) -> Value {
    let from = match stock.caliper {
        _ if stock.thickness().is_none() => "unknown",
        Caliper::FromBulk(_) => "estimated",
        Caliper::Measured(_) | Caliper::Unknown => "measured",
    };
    let bulk = match stock.caliper {
        Caliper::FromBulk(bulk) => Some(bulk.to_string()),
        Caliper::Measured(_) | Caliper::Unknown => None,
    };
    json!({
        "name": stock.name,
        "width": length(stock.size.width(), unit),
        "height": length(stock.size.height(), unit),
        "weight": stock.weight.map(|weight| json!({ "text": weight.to_string(), "g_m2": weight.grammage() })),
        "sheet_grams": stock.sheet_grams(),
        "caliper": stock.thickness().map(|caliper| length(caliper, unit)),
        "caliper_from": from,
        "bulk": bulk,
        "grain": stock.grain.map(|grain| match grain {
            Grain::Upright => "upright",
            Grain::Level => "level",
        }),
        "core": stock.core.map(|colour: Colour| colour.to_string()),
        "front": side(&stock.front, design, unit),
        "back": side(&stock.back, design, unit),
    })
}

fn side(side: &Side, design: &Path, unit: Unit) -> Value {
    let (pattern, up) = match side.pattern {
        Pattern::Plain => ("plain", None),
        Pattern::AnyWay => ("any way", None),
        Pattern::OneWay(up) => ("one way", Some(up.word())),
    };
    json!({
        "pattern": pattern,
        "up": up,
        "colour": side.colour.map(|colour| colour.to_string()),
        "artwork": side.artwork.as_ref().map(|artwork| picture(artwork, design, unit)),
    })
}

fn picture(artwork: &Artwork, design: &Path, unit: Unit) -> Value {
    json!({
        "file": artwork.file,
        "state": artwork::state(design, artwork).word(),
        "pixels": artwork.pixels,
        "width": length(artwork.width, unit),
        "height": length(artwork.height(), unit),
        "left": length(artwork.left, unit),
        "top": length(artwork.top, unit),
        "pixels_per_inch": artwork.pixels_per_inch(),
    })
}
