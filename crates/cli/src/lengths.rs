//! Lengths and areas in JSON: exact, and as text.

use model::{Area, Length, Point, Size, Unit};
use serde_json::{Value, json};

pub(crate) fn length(length: Length, unit: Unit) -> Value {
    json!({ "nm": length.nm(), "text": length.readable(unit) })
}

/// A derived length in millimetres, which has no exact text.
pub(crate) fn derived(mm: f64, unit: Unit) -> Value {
    let rounded = Length::from_mm_rounded(mm);
    json!({ "nm": rounded.map(Length::nm), "text": rounded.map(|length| length.readable(unit)) })
}

pub(crate) fn point(point: Point, unit: Unit) -> Value {
    json!({ "x": length(point.x, unit), "y": length(point.y, unit) })
}

pub(crate) fn points(points: &[Point], unit: Unit) -> Value {
    points.iter().map(|&at| point(at, unit)).collect()
}

/// An upright rectangle by its upper left corner.
pub(crate) fn rect(at: Point, size: Size, unit: Unit) -> Value {
    json!({ "at": point(at, unit), "width": length(size.width(), unit), "height": length(size.height(), unit) })
}

/// Width and height of what is no sheet.
pub(crate) fn size((width, height): (Length, Length), unit: Unit) -> Value {
    json!({ "width": length(width, unit), "height": length(height, unit) })
}

/// Half square nanometres as a string, since JSON readers may hold numbers as floats; and square millimetres.
pub(crate) fn area(area: Area, unit: Unit) -> Value {
    json!({ "half_nm2": area.half_nm2().to_string(), "text": area_text(area, unit) })
}

pub(crate) fn area_text(area: Area, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{:.2} sq in", area.mm2() / (25.4 * 25.4)),
        Unit::Millimetre | Unit::Centimetre => format!("{:.2} sq cm", area.mm2() / 100.0),
    }
}
