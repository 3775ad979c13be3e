//! Where each line comes to lie on the sheet, worked out from what it is measured from.

use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{Datum, LineId, Place, Run, Stop};
use crate::turn::{BoardPoint, Turn};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fmt;

/// A straight stretch between two places on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Segment {
    /// Where it starts.
    pub a: Point,
    /// Where it ends.
    pub b: Point,
}

/// A line that has found its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placed {
    /// The turn on which it is worked.
    pub turn: Turn,
    /// How far from the left edge of the sheet as it lies then.
    pub across: Length,
    /// Where its run starts, below the upper edge of the sheet as it lies.
    pub from: Length,
    /// Where its run ends; greater than `from`.
    pub to: Length,
    /// The same, on the sheet as drawn.
    pub segment: Segment,
}

/// Why a line has no place on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineFault {
    /// It refers to a line that is not in the document.
    UnknownLine(LineId),
    /// It is placed by lines that are placed by it.
    Circle(LineId),
    /// The line it refers to has no place itself.
    Unplaced(LineId),
    /// It is measured from a line that is not parallel to it.
    NotParallel(LineId),
    /// It stops at a line that does not cross its way.
    NotCrossing(LineId),
    /// It lies beyond the sheet's edge by so much.
    OffSheet(Length),
    /// Its run ends where it starts, or before.
    EmptyRun,
}

impl LineFault {
    /// What is wrong, in a phrase that follows the line's name; `name` says what to call another line.
    pub fn phrase(self, document: &Document) -> String {
        let name = |id| document.line_name(id);
        let unit = document.units;
        match self {
            Self::UnknownLine(id) => format!("refers to line {}, which is not in the design", id.0),
            Self::Circle(id) => format!("is placed by \"{}\", which in turn is placed by it", name(id)),
            Self::Unplaced(id) => format!("is placed by \"{}\", which has no place itself", name(id)),
            Self::NotParallel(id) => format!("is measured from \"{}\", which does not run the same way", name(id)),
            Self::NotCrossing(id) => format!("stops at \"{}\", which does not cross its way", name(id)),
            Self::OffSheet(by) => format!("lies {} beyond the edge of the sheet", by.readable(unit)),
            Self::EmptyRun => "ends where it starts, so there is nothing of it".to_owned(),
        }
    }
}

impl Segment {
    /// From end to start.
    #[must_use]
    pub const fn reversed(self) -> Self {
        Self { a: self.b, b: self.a }
    }
}

impl fmt::Display for LineId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// Places every line of the document, in time linear in their count (but for looking them up).
#[must_use]
pub fn resolve(document: &Document) -> BTreeMap<LineId, Result<Placed, LineFault>> {
    let places = document.lines.iter().map(|line| (line.id, line.place)).collect();
    let mut resolver = Resolver { sheet: document.stock.size, places, done: BTreeMap::new() };
    for line in &document.lines {
        resolver.place_with_needs(line.id);
    }
    resolver.done.into_iter().map(|(id, placed)| (id, placed.unwrap_or(Err(LineFault::Circle(id))))).collect()
}

struct Resolver {
    sheet: Size,
    places: BTreeMap<LineId, Place>,
    /// `None` while a line is being placed: meeting it again then is a circle.
    done: BTreeMap<LineId, Option<Result<Placed, LineFault>>>,
}

impl Resolver {
    /// Places a line and, before it, all that it needs. A stack of our own, so that a long chain of lines
    /// measured from one another cannot overflow the thread's.
    fn place_with_needs(&mut self, first: LineId) {
        let mut stack = vec![(first, false)];
        while let Some((id, ready)) = stack.pop() {
            let Some(&place) = self.places.get(&id) else { continue };
            if ready {
                let placed = self.place(place);
                self.done.insert(id, Some(placed));
            } else if let Entry::Vacant(entry) = self.done.entry(id) {
                entry.insert(None);
                stack.push((id, true));
                stack.extend(place.needs().map(|need| (need, false)));
            }
        }
    }

    fn placed(&self, id: LineId) -> Result<Placed, LineFault> {
        match self.done.get(&id) {
            None => Err(LineFault::UnknownLine(id)),
            Some(None) => Err(LineFault::Circle(id)),
            Some(Some(Err(_))) => Err(LineFault::Unplaced(id)),
            Some(Some(Ok(placed))) => Ok(*placed),
        }
    }

    fn place(&self, place: Place) -> Result<Placed, LineFault> {
        let (turn, across, run) = match place {
            Place::Along { line, run } => {
                let along = self.placed(line)?;
                (along.turn, along.across, run)
            }
            Place::Measured { turn, from, distance, run } => (turn, self.datum(turn, from)? + distance, run),
        };
        let (width, height) = turn.size_of(self.sheet);
        within(across, width)?;
        let (from, to) = self.stops(turn, run, height)?;
        if from >= to {
            return Err(LineFault::EmptyRun);
        }
        let at = |down| turn.from_board(BoardPoint { across, down }, self.sheet);
        Ok(Placed { turn, across, from, to, segment: Segment { a: at(from), b: at(to) } })
    }

    fn datum(&self, turn: Turn, from: Datum) -> Result<Length, LineFault> {
        match from {
            Datum::Edge => Ok(Length::ZERO),
            Datum::Line(id) => {
                let other = self.placed(id)?;
                if other.turn.is_upright() != turn.is_upright() {
                    return Err(LineFault::NotParallel(id));
                }
                Ok(turn.to_board(other.segment.a, self.sheet).across)
            }
        }
    }

    fn stops(&self, turn: Turn, run: Run, height: Length) -> Result<(Length, Length), LineFault> {
        let stop = |stop, edge| match stop {
            Stop::Edge => Ok(edge),
            Stop::At(down) => within(down, height).map(|()| down),
            Stop::Line(id) => {
                let other = self.placed(id)?;
                if other.turn.is_upright() == turn.is_upright() {
                    return Err(LineFault::NotCrossing(id));
                }
                Ok(turn.to_board(other.segment.a, self.sheet).down)
            }
        };
        Ok((stop(run.from, Length::ZERO)?, stop(run.to, height)?))
    }
}

/// Within the sheet, or on its edge.
fn within(at: Length, size: Length) -> Result<(), LineFault> {
    if at < Length::ZERO {
        Err(LineFault::OffSheet(-at))
    } else if at > size {
        Err(LineFault::OffSheet(at - size))
    } else {
        Ok(())
    }
}
