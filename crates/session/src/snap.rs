//! Where a dragged line comes to rest.

use model::{Document, Layout, Length, LineId, Vector};

/// How fine the places are that a line snaps to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Fineness {
    /// The grooves of the scoring board.
    #[default]
    Grooves,
    /// A quarter of a groove: 1/32 in on a board of eighths.
    Fine,
    /// To the nearest 1/64 in or 0.1 mm.
    Finest,
}

/// A place a line snapped to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Snapped {
    /// How far from the left edge on the line's own turn.
    pub across: Length,
    /// What it snapped to, in a few words.
    pub to: String,
}

/// The place nearest to `across`, from the left edge on the line's own turn; the middle of the sheet is named where it
/// falls on one.
#[must_use]
pub fn snap(document: &Document, layout: &Layout, id: LineId, across: Length, fineness: Fineness) -> Snapped {
    let width = layout.lines.get(&id).and_then(|placed| placed.ok()).and_then(|placed| placed.on_board());
    let width = width.map(|(turn, _)| turn.size_of(layout.size).0);
    let width = width.unwrap_or(document.stock.size.width());
    let (step, name) = step(document, fineness);
    let across = across.clamp(Length::ZERO, width).snapped(step).clamp(Length::ZERO, width);
    let to = if across == width.half() { format!("middle of the sheet, {name}") } else { name };
    Snapped { across, to }
}

/// How far a drawn line goes that is pulled by so far: so that its start comes to lie on the grid, and none of it beyond
/// the sheet. `None` for one that has no place.
#[must_use]
pub fn whole(document: &Document, layout: &Layout, id: LineId, by: Vector, fineness: Fineness) -> Option<Vector> {
    let placed = layout.lines.get(&id)?.ok()?;
    let (step, _) = step(document, fineness);
    let (low, high) = model::polygon::bounds(&placed.path());
    let along = |start: Length, by: Length, low: Length, high: Length, size: Length| {
        // A press that barely moves, or moves along the other way, leaves it where it is.
        let free = if by.abs() * 2 < step { Length::ZERO } else { (start + by).snapped(step) - start };
        free.clamp((-low).min(Length::ZERO), (size - high).max(Length::ZERO))
    };
    let (start, size) = (placed.segment.a, layout.size);
    Some(Vector {
        x: along(start.x, by.x, low.x, high.x, size.width()),
        y: along(start.y, by.y, low.y, high.y, size.height()),
    })
}

/// The spacing of the places a line snaps to, and what they are called.
#[must_use]
pub fn step(document: &Document, fineness: Fineness) -> (Length, String) {
    let finest = model::placing::finest(document.units);
    let groove = document.groove;
    match fineness {
        Fineness::Grooves if groove > Length::ZERO => (groove, format!("{} groove", groove.text(document.units))),
        Fineness::Fine if groove > Length::ZERO => {
            let quarter = groove / 4;
            (quarter, format!("quarter groove, {}", quarter.text(document.units)))
        }
        _ => (finest, format!("nearest {}", finest.text(document.units))),
    }
}
