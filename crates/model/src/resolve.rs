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
    /// What is wrong, in a phrase that follows the line's name.
    #[must_use]
    pub fn phrase(self, document: &Document) -> String {
        let name = |id| document.line_name(id);
        let unit = document.units;
        match self {
            Self::UnknownLine(id) => format!("refers to line {}, which is not in the design", id.0),
            Self::Circle(id) => format!("is measured round in a circle, by way of \"{}\"", name(id)),
            Self::Unplaced(id) => format!("depends on \"{}\", which has no place itself", name(id)),
            Self::NotParallel(id) => format!("is measured from \"{}\", which runs across it", name(id)),
            Self::NotCrossing(id) => {
                format!("stops at \"{}\", which runs the same way, so that they never meet", name(id))
            }
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

/// Places every line of the document.
///
/// First how far across each line lies, which hangs on what it is measured from or lies along; then its run, which only
/// asks how far across the lines lie that it stops at. So two lines may stop at each other, as round a corner.
#[must_use]
pub fn resolve(document: &Document) -> BTreeMap<LineId, Result<Placed, LineFault>> {
    let places = document.lines.iter().map(|line| (line.id, line.place)).collect();
    let mut resolver = Resolver { sheet: document.stock.size, places, tracks: BTreeMap::new() };
    for line in &document.lines {
        resolver.find_track(line.id);
    }
    resolver.places.iter().map(|(&id, place)| (id, resolver.place(id, place.run()))).collect()
}

/// The whole line that a line lies on, whatever its run.
#[derive(Clone, Copy)]
struct Track {
    turn: Turn,
    across: Length,
}

struct Resolver {
    sheet: Size,
    places: BTreeMap<LineId, Place>,
    /// `None` while a line is being found: meeting it again then is a circle.
    tracks: BTreeMap<LineId, Option<Result<Track, LineFault>>>,
}

impl Resolver {
    /// Finds where a line lies and, before it, the one that it hangs on. A stack of our own, so that a long chain of
    /// lines measured from one another cannot overflow the thread's.
    fn find_track(&mut self, first: LineId) {
        let mut stack = vec![(first, false)];
        while let Some((id, ready)) = stack.pop() {
            let Some(&place) = self.places.get(&id) else { continue };
            if ready {
                let track = self.track_of(place);
                self.tracks.insert(id, Some(track));
            } else if let Entry::Vacant(entry) = self.tracks.entry(id) {
                entry.insert(None);
                stack.push((id, true));
                stack.extend(place.hangs_on().map(|host| (host, false)));
            }
        }
    }

    fn track(&self, id: LineId) -> Result<Track, LineFault> {
        match self.tracks.get(&id) {
            None => Err(LineFault::UnknownLine(id)),
            Some(None) => Err(LineFault::Circle(id)),
            Some(Some(Err(_))) => Err(LineFault::Unplaced(id)),
            Some(Some(Ok(track))) => Ok(*track),
        }
    }

    fn track_of(&self, place: Place) -> Result<Track, LineFault> {
        let track = match place {
            Place::Along { line, .. } => self.track(line)?,
            Place::Measured { turn, from, distance, .. } => Track { turn, across: self.datum(turn, from)? + distance },
        };
        within(track.across, track.turn.size_of(self.sheet).0)?;
        Ok(track)
    }

    fn datum(&self, turn: Turn, from: Datum) -> Result<Length, LineFault> {
        let Datum::Line(id) = from else { return Ok(Length::ZERO) };
        let other = self.track(id)?;
        if other.turn.is_upright() != turn.is_upright() {
            return Err(LineFault::NotParallel(id));
        }
        Ok(turn.to_board(self.point_on(other), self.sheet).across)
    }

    fn place(&self, id: LineId, run: Run) -> Result<Placed, LineFault> {
        let Some(Some(found)) = self.tracks.get(&id) else { return Err(LineFault::Circle(id)) };
        let track = (*found)?;
        let (from, to) = self.stops(track.turn, run)?;
        if from >= to {
            return Err(LineFault::EmptyRun);
        }
        let Track { turn, across } = track;
        let at = |down| turn.from_board(BoardPoint { across, down }, self.sheet);
        Ok(Placed { turn, across, from, to, segment: Segment { a: at(from), b: at(to) } })
    }

    fn stops(&self, turn: Turn, run: Run) -> Result<(Length, Length), LineFault> {
        let (_, height) = turn.size_of(self.sheet);
        let stop = |stop, edge| match stop {
            Stop::Edge => Ok(edge),
            Stop::At(down) => within(down, height).map(|()| down),
            Stop::Line(id) => {
                let other = self.track(id)?;
                if other.turn.is_upright() == turn.is_upright() {
                    return Err(LineFault::NotCrossing(id));
                }
                Ok(turn.to_board(self.point_on(other), self.sheet).down)
            }
        };
        Ok((stop(run.from, Length::ZERO)?, stop(run.to, height)?))
    }

    /// Any point of a line's track.
    fn point_on(&self, track: Track) -> Point {
        track.turn.from_board(BoardPoint { across: track.across, down: Length::ZERO }, self.sheet)
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
