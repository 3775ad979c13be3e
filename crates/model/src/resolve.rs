//! Where each line comes to lie on the sheet, worked out from what it is measured from.

mod fault;
mod track;

pub use fault::LineFault;
pub use track::Track;

use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{Datum, Line, LineId, Place, Run, Spot, Stop, Work};
use crate::turn::Turn;
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
    /// The whole line it lies on.
    pub track: Track,
    /// Where its run starts: below the upper edge of the sheet as it lies, or from the start of a drawn line on.
    pub from: Length,
    /// Where its run ends; greater than `from`.
    pub to: Length,
    /// The same, on the sheet as drawn. The chord of an arc.
    pub segment: Segment,
    /// How far its middle rises to the left of the way, for an arc; see [`Place::Drawn`].
    pub bow: Length,
}

impl Placed {
    /// The turn on which it is worked, and how far from the left edge of the sheet as it lies then; `None` for a line that
    /// is drawn between two spots.
    #[must_use]
    pub const fn on_board(&self) -> Option<(Turn, Length)> {
        match self.track {
            Track::Board { turn, across } => Some((turn, across)),
            Track::Drawn { .. } => None,
        }
    }

    /// Where it runs, as the ends of short straight stretches: two points for a straight line.
    #[must_use]
    pub fn path(&self) -> Vec<Point> {
        crate::curve::arc(self.segment.a, self.segment.b, self.bow)
    }

    /// How far down its track a point lies that is on it or beside it.
    #[must_use]
    pub fn down(&self, point: Point, sheet: Size) -> Length {
        self.track.down(point, sheet)
    }

    /// The point of its track so far down.
    #[must_use]
    pub fn point_at(&self, down: Length, sheet: Size) -> Point {
        self.track.point_at(down, sheet)
    }

    /// How far its track runs: the height of the sheet as it lies, or the length of a drawn line.
    #[must_use]
    pub fn reach(&self, sheet: Size) -> Length {
        self.track.reach(sheet)
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
/// First the whole line that each lies on, which hangs on what it is measured from, lies along or is drawn between; then
/// its run, which only asks where the lines lie that it stops at. So two lines may stop at each other, as round a corner.
#[must_use]
pub fn resolve(document: &Document) -> BTreeMap<LineId, Result<Placed, LineFault>> {
    let lines = document.lines.iter().map(|line| (line.id, line)).collect();
    let mut resolver = Resolver { sheet: document.stock.size, lines, tracks: BTreeMap::new() };
    for line in &document.lines {
        resolver.find_track(line.id);
    }
    resolver.lines.iter().map(|(&id, line)| (id, resolver.place(line))).collect()
}

/// The whole line that a line lies on, whether or not its run has a place.
///
/// # Errors
/// Why it lies nowhere.
pub fn track(document: &Document, id: LineId) -> Result<Track, LineFault> {
    let lines = document.lines.iter().map(|line| (line.id, line)).collect();
    let mut resolver = Resolver { sheet: document.stock.size, lines, tracks: BTreeMap::new() };
    resolver.find_track(id);
    match resolver.tracks.get(&id) {
        Some(Some(found)) => *found,
        _ => Err(LineFault::UnknownLine(id)),
    }
}

struct Resolver<'a> {
    sheet: Size,
    lines: BTreeMap<LineId, &'a Line>,
    /// `None` while a line is being found: meeting it again then is a circle.
    tracks: BTreeMap<LineId, Option<Result<Track, LineFault>>>,
}

impl Resolver<'_> {
    /// Finds where a line lies and, before it, the ones that it hangs on. A stack of our own, so that a long chain of
    /// lines measured from one another cannot overflow the thread's.
    fn find_track(&mut self, first: LineId) {
        let mut stack = vec![(first, false)];
        while let Some((id, ready)) = stack.pop() {
            let Some(place) = self.lines.get(&id).map(|line| line.place) else { continue };
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

    /// The track of another line that is asked where it crosses; an arc crosses a way in two places or none.
    fn straight(&self, id: LineId) -> Result<Track, LineFault> {
        let track = self.track(id)?;
        if track.bow() == Length::ZERO { Ok(track) } else { Err(LineFault::Curved(id)) }
    }

    fn track_of(&self, place: Place) -> Result<Track, LineFault> {
        match place {
            Place::Along { line, .. } => self.track(line),
            Place::Measured { turn, from, distance, .. } => {
                let across = self.datum(turn, from)? + distance;
                within(across, turn.size_of(self.sheet).0)?;
                Ok(Track::Board { turn, across })
            }
            Place::Drawn { from, to, bow } => {
                let (a, b) = (self.spot(from)?, self.spot(to)?);
                if a == b {
                    return Err(LineFault::EmptyRun);
                }
                if bow.abs() * 2 > (b - a).length() {
                    return Err(LineFault::BowTooDeep);
                }
                Ok(Track::Drawn { a, b, bow })
            }
        }
    }

    fn datum(&self, turn: Turn, from: Datum) -> Result<Length, LineFault> {
        let Datum::Line(id) = from else { return Ok(Length::ZERO) };
        match self.track(id)? {
            other @ Track::Board { turn: its, .. } if its.is_upright() == turn.is_upright() => {
                Ok(turn.to_board(other.point_at(Length::ZERO, self.sheet), self.sheet).across)
            }
            _ => Err(LineFault::NotParallel(id)),
        }
    }

    fn spot(&self, spot: Spot) -> Result<Point, LineFault> {
        let point = match spot {
            Spot::At(point) => point,
            Spot::On(id, down) => self.straight(id)?.point_at(down, self.sheet),
            Spot::Crossing(first, second) => {
                let (a, b) = (self.straight(first)?, self.straight(second)?);
                a.crossing(b, self.sheet).ok_or(LineFault::NotCrossing(second))?
            }
        };
        on_sheet(point, self.sheet)?;
        Ok(point)
    }

    fn place(&self, line: &Line) -> Result<Placed, LineFault> {
        let Some(Some(found)) = self.tracks.get(&line.id) else { return Err(LineFault::Circle(line.id)) };
        let track = (*found)?;
        let reach = track.reach(self.sheet);
        let run = line.place.run();
        if run != Run::FULL && track.bow() != Length::ZERO {
            return Err(LineFault::PartOfCurve);
        }
        let (from, a) = self.stop(track, run.from, Length::ZERO)?;
        let (to, b) = self.stop(track, run.to, reach)?;
        if from >= to || a == b {
            return Err(LineFault::EmptyRun);
        }
        let placed = Placed { track, from, to, segment: Segment { a, b }, bow: track.bow() };
        workable(line.work, &placed)?;
        let mut reached = placed.path();
        if let Work::Notch(notch) = line.work {
            reached.extend(crate::curve::notch_outline(placed.segment, notch));
        }
        let beyond = reached.into_iter().map(|point| off_sheet(point, self.sheet)).max().unwrap_or_default();
        if beyond > Length::ZERO { Err(LineFault::OffSheet(beyond)) } else { Ok(placed) }
    }

    /// How far down `track` a run stops, and where that is. At a line that is the very point of their crossing, so that
    /// all that stop there meet in it.
    fn stop(&self, track: Track, stop: Stop, edge: Length) -> Result<(Length, Point), LineFault> {
        let (down, crossing) = match stop {
            Stop::Edge => (edge, None),
            Stop::At(down) => (down, None),
            Stop::Line(id) => self.meets(track, id).map(|(down, point)| (down, Some(point)))?,
            Stop::Past(id, by) => (self.meets(track, id)?.0 + by, None),
        };
        within(down, track.reach(self.sheet))?;
        let ends = down == Length::ZERO || down == track.reach(self.sheet);
        Ok((down, crossing.filter(|_| !ends).unwrap_or_else(|| track.point_at(down, self.sheet))))
    }

    /// How far down `track` it meets a line, and where.
    fn meets(&self, track: Track, id: LineId) -> Result<(Length, Point), LineFault> {
        let other = self.straight(id)?;
        let point = track.crossing(other, self.sheet).ok_or(LineFault::NotCrossing(id))?;
        Ok((track.down(point, self.sheet), point))
    }
}

/// Whether a line may be worked so.
fn workable(work: Work, placed: &Placed) -> Result<(), LineFault> {
    let straight = placed.bow == Length::ZERO;
    let length = placed.to - placed.from;
    match work {
        Work::Cut | Work::Guide => Ok(()),
        _ if !straight => Err(LineFault::CurvedWork),
        Work::Score(_) => Ok(()),
        Work::Slot(strip) | Work::Trim(strip) if strip.width <= Length::ZERO => Err(LineFault::NoWidth),
        Work::Trim(strip) if strip.width > Work::WIDEST_TRIM => Err(LineFault::WideTrim(strip.width)),
        Work::Slot(strip) if strip.width > Length::LIMIT => Err(LineFault::OffSheet(strip.width)),
        Work::Slot(_) | Work::Trim(_) => Ok(()),
        Work::Notch(notch) if notch.depth <= Length::ZERO => Err(LineFault::NoWidth),
        Work::Notch(notch) if notch.depth * 2 > length => Err(LineFault::BowTooDeep),
        Work::Notch(_) => Ok(()),
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

fn on_sheet(point: Point, sheet: Size) -> Result<(), LineFault> {
    within(point.x, sheet.width())?;
    within(point.y, sheet.height())
}

/// How far a point lies beyond the sheet's edges; zero on the sheet.
fn off_sheet(point: Point, sheet: Size) -> Length {
    [-point.x, point.x - sheet.width(), -point.y, point.y - sheet.height()].into_iter().fold(Length::ZERO, Length::max)
}
