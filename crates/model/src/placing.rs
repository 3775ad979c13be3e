//! Several lines placed at once: spaced evenly, mirrored, copied to the opposite side, locked.

use crate::change::add_line;
use crate::document::Document;
use crate::edit::{Edit, Refusal};
use crate::geometry::{Point, Size};
use crate::layout::Layout;
use crate::length::{Length, Unit};
use crate::line::{Datum, Line, LineId, Notch, Place, Run, Spot, Stop, Strip, StripSide, Work};
use crate::named::change::with_copies;
use crate::resolve::Placed;
use crate::turn::{BoardPoint, Turn};
use std::collections::{BTreeMap, BTreeSet};

/// What a mirror stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mirror {
    /// The upright middle line of the sheet as drawn: left and right change places.
    LeftRight,
    /// The level middle line: top and bottom change places.
    TopBottom,
}

impl Mirror {
    /// A place of the sheet, seen in the mirror.
    #[must_use]
    pub fn point(self, point: Point, sheet: Size) -> Point {
        match self {
            Self::LeftRight => Point::new(sheet.width() - point.x, point.y),
            Self::TopBottom => Point::new(point.x, sheet.height() - point.y),
        }
    }

    /// Whether lines of a turn change their place across the board (else their two ends change places).
    const fn moves_across(self, turn: Turn) -> bool {
        matches!((self, turn.is_upright()), (Self::LeftRight, true) | (Self::TopBottom, false))
    }
}

/// Locks lines, or frees them. `None` when they are so already.
#[must_use]
pub fn lock(document: &Document, ids: &BTreeSet<LineId>, locked: bool) -> Option<Edit> {
    let lines = document.lines.iter().filter(|line| ids.contains(&line.id) && line.locked != locked);
    let edits: Vec<Edit> = lines.map(|line| Edit::ReplaceLine(Line { locked, ..line.clone() })).collect();
    (!edits.is_empty()).then_some(Edit::All(edits))
}

/// Spaces lines evenly between the outermost two, to the nearest 1/64 in or 0.1 mm where it does not come out even in
/// whole nanometres.
///
/// # Errors
/// They are fewer than three, don't all run the same way, or one that is to move is locked.
pub fn space_evenly(document: &Document, layout: &Layout, ids: &BTreeSet<LineId>) -> Result<Edit, Refusal> {
    let refuse = |why: String| Refusal::Misplaced(why);
    let SideBySide { turn, mut lines } = side_by_side(document, layout, ids, "spaced evenly")?;
    lines.sort_unstable();
    let (Some(turn), [(first, _), inner @ .., (last, _)], true) = (turn, lines.as_slice(), lines.len() > 2) else {
        return Err(refuse("choose three lines or more to space them evenly".to_owned()));
    };
    let gaps = i64::try_from(inner.len() + 1).unwrap_or(i64::MAX);
    let mut targets = BTreeMap::new();
    for (i, (now, id)) in (1..).zip(inner) {
        let exact = *first + (*last - *first) * i / gaps;
        let even = ((*last - *first) * i).nm() % gaps == 0;
        let to = if even { exact } else { exact.snapped(finest(document.units)) };
        if to != *now {
            may_move(document, *id)?;
        }
        targets.insert(*id, turn.from_board(BoardPoint { across: to, down: Length::ZERO }, layout.size));
    }
    Ok(Edit::All(put(document, layout, layout.size, &targets)))
}

/// Lines that run the same way.
struct SideBySide {
    /// The turn of the first; `None` without lines.
    turn: Option<Turn>,
    /// How far across on that turn each of them lies.
    lines: Vec<(Length, LineId)>,
}

/// How the first of several lines lies, and how far across its board each of them does.
///
/// # Errors
/// They don't all run the same way, or one is not measured on the board; `done` says what is not done with it.
fn side_by_side(
    document: &Document,
    layout: &Layout,
    ids: &BTreeSet<LineId>,
    done: &str,
) -> Result<SideBySide, Refusal> {
    let mut lines: Vec<(Length, LineId)> = Vec::new();
    let mut turn = None;
    for &id in ids {
        let (own, placed) = measured(document, layout, id, done)?;
        let first = *turn.get_or_insert(own);
        if first.is_upright() != own.is_upright() {
            let why = format!("lines are {done} that run the same way; choose upright or level ones");
            return Err(Refusal::Misplaced(why));
        }
        lines.push((first.to_board(placed.segment.a, layout.size).across, id));
    }
    Ok(SideBySide { turn, lines })
}

/// The turn and the place of a line that is measured on the board.
fn measured(document: &Document, layout: &Layout, id: LineId, done: &str) -> Result<(Turn, Placed), Refusal> {
    let line = document.line(id).ok_or(Refusal::UnknownLine(id))?;
    let placed = layout.lines.get(&id).and_then(|placed| placed.ok());
    let on_board = placed.and_then(|placed| placed.on_board().map(|(own, _)| (own, placed)));
    on_board.filter(|_| matches!(line.place, Place::Measured { .. })).ok_or_else(|| {
        let name = document.line_name(id);
        Refusal::Misplaced(format!("\"{name}\" is not measured on the board; only such lines are {done}"))
    })
}

fn may_move(document: &Document, id: LineId) -> Result<(), Refusal> {
    if document.line(id).is_some_and(|line| line.locked) {
        let name = document.line_name(id);
        return Err(Refusal::Misplaced(format!("\"{name}\" is locked; free it before it is moved")));
    }
    Ok(())
}

/// Moves lines to where another of them lies, across the board.
///
/// # Errors
/// They are fewer than two, don't all run the same way, lie there already, or one that is to move is locked.
pub fn align(document: &Document, layout: &Layout, ids: &BTreeSet<LineId>, with: LineId) -> Result<Edit, Refusal> {
    let refuse = |why: &str| Err(Refusal::Misplaced(why.to_owned()));
    let SideBySide { turn, lines } = side_by_side(document, layout, ids, "aligned")?;
    let to = lines.iter().find(|(_, id)| *id == with).map(|(across, _)| *across);
    let (Some(turn), Some(to), true) = (turn, to, lines.len() > 1) else {
        return refuse("choose two lines or more to align them with the one that was chosen first");
    };
    let mut targets = BTreeMap::new();
    for (now, id) in lines {
        if now != to {
            may_move(document, id)?;
        }
        targets.insert(id, turn.from_board(BoardPoint { across: to, down: Length::ZERO }, layout.size));
    }
    match put(document, layout, layout.size, &targets) {
        edits if edits.is_empty() => refuse("they all lie there already"),
        edits => Ok(Edit::All(edits)),
    }
}

/// Moves lines to the nearest groove of the board, each on its own turn; to the nearest 1/64 in or 0.1 mm where the board
/// has none. On the edge of the sheet there is nothing to score, so a line stays a groove within it.
///
/// # Errors
/// One of them is not measured on the board, or is to move and is locked; or all lie on grooves already.
pub fn to_grooves(document: &Document, layout: &Layout, ids: &BTreeSet<LineId>) -> Result<Edit, Refusal> {
    let step = if document.groove > Length::ZERO { document.groove } else { finest(document.units) };
    let mut targets = BTreeMap::new();
    for &id in ids {
        let (turn, placed) = measured(document, layout, id, "put on grooves")?;
        let (width, _) = turn.size_of(layout.size);
        let now = turn.to_board(placed.segment.a, layout.size).across;
        let last = Length::from_nm((width.nm() - 1) / step.nm() * step.nm());
        let to = now.snapped(step).clamp(step.min(last), last);
        if to != now {
            may_move(document, id)?;
        }
        targets.insert(id, turn.from_board(BoardPoint { across: to, down: Length::ZERO }, layout.size));
    }
    match put(document, layout, layout.size, &targets) {
        edits if edits.is_empty() => Err(Refusal::Misplaced("they lie on grooves already".to_owned())),
        edits => Ok(Edit::All(edits)),
    }
}

/// The finest step that lengths are read in: 1/64 in, or 0.1 mm.
#[must_use]
pub const fn finest(units: Unit) -> Length {
    match units {
        Unit::Inch => Length::SIXTY_FOURTH,
        Unit::Millimetre | Unit::Centimetre => Length::from_nm(100_000),
    }
}

/// The edits that bring measured lines to where a point says (any point of the line on a sheet of `size`), whatever they
/// are measured from and whatever else moves along.
pub(crate) fn put(document: &Document, layout: &Layout, size: Size, targets: &BTreeMap<LineId, Point>) -> Vec<Edit> {
    let mut places = Settled { document, layout, size, targets, across: BTreeMap::new() };
    let mut edits = Vec::new();
    for line in &document.lines {
        let (Place::Measured { turn, from, distance, run }, Some(&point)) = (line.place, targets.get(&line.id)) else {
            continue;
        };
        let across = turn.to_board(point, size).across;
        let base = match from {
            Datum::Edge => Some(Length::ZERO),
            Datum::Line(other) => places.point_of(other).map(|at| turn.to_board(at, size).across),
        };
        let Some(new) = base.map(|base| across - base).filter(|new| *new != distance) else { continue };
        let place = Place::Measured { turn, from, distance: new, run };
        edits.push(Edit::ReplaceLine(Line { place, ..line.clone() }));
    }
    edits
}

/// Where lines come to lie once some have been put elsewhere.
struct Settled<'a> {
    document: &'a Document,
    layout: &'a Layout,
    size: Size,
    targets: &'a BTreeMap<LineId, Point>,
    /// A point of each line that has been asked for.
    across: BTreeMap<LineId, Option<Point>>,
}

impl Settled<'_> {
    /// Any point of a board line. The chain of lines that it hangs on is walked without recursion.
    fn point_of(&mut self, id: LineId) -> Option<Point> {
        let mut chain = vec![id];
        let mut seen = BTreeSet::from([id]);
        let mut at = id;
        while !self.targets.contains_key(&at) && !self.across.contains_key(&at) {
            let Some(host) = self.document.line(at).and_then(|line| line.place.hangs_on().next()) else { break };
            if !seen.insert(host) {
                return None;
            }
            chain.push(host);
            at = host;
        }
        for &line in chain.iter().rev() {
            let point = self.settle(line);
            self.across.insert(line, point);
        }
        self.across.get(&id).copied().flatten()
    }

    fn settle(&self, id: LineId) -> Option<Point> {
        if let Some(&point) = self.targets.get(&id) {
            return Some(point);
        }
        if let Some(&known) = self.across.get(&id) {
            return known;
        }
        match self.document.line(id)?.place {
            Place::Measured { turn, from, distance, .. } => {
                let base = match from {
                    Datum::Edge => Length::ZERO,
                    Datum::Line(other) => turn.to_board(self.across.get(&other).copied()??, self.size).across,
                };
                Some(turn.from_board(BoardPoint { across: base + distance, down: Length::ZERO }, self.size))
            }
            Place::Along { line, .. } => self.across.get(&line).copied()?,
            Place::Drawn { .. } => self.layout.lines.get(&id)?.ok().map(|placed| placed.segment.a),
        }
    }
}

/// Moves lines to their mirror image. What is measured from them and stops at them follows.
///
/// # Errors
/// One of them has no place, or is locked.
pub fn mirror(document: &Document, layout: &Layout, ids: &BTreeSet<LineId>, mirror: Mirror) -> Result<Edit, Refusal> {
    ids.iter().try_for_each(|&id| may_move(document, id))?;
    let names: BTreeMap<LineId, LineId> = ids.iter().map(|&id| (id, id)).collect();
    let images = images(document, layout, &names, mirror)?;
    Ok(Edit::All(images.into_iter().map(Edit::ReplaceLine).collect()))
}

/// Adds the mirror image of lines. Scores among them fold after all others.
///
/// # Errors
/// One of them has no place, lies on the mirror, or there are too many lines.
pub fn copy_opposite(
    document: &Document,
    layout: &Layout,
    ids: &BTreeSet<LineId>,
    mirror: Mirror,
) -> Result<Edit, Refusal> {
    let mut copied = document.clone();
    let mut names = BTreeMap::new();
    for &id in ids {
        let line = document.line(id).ok_or(Refusal::UnknownLine(id))?.clone();
        let new = copied.next_line();
        copied.apply(Edit::InsertLine { at: copied.lines.len(), line: Line { id: new, ..line } })?;
        names.insert(id, new);
    }
    let mut edits = Vec::new();
    let mut built = document.clone();
    for image in images(document, layout, &names, mirror)? {
        let own = document.lines.iter().find(|line| names.get(&line.id) == Some(&image.id));
        if own.is_some_and(|own| own.place == image.place) {
            let name = own.map(|own| document.line_name(own.id)).unwrap_or_default();
            return Err(Refusal::Misplaced(format!(
                "\"{name}\" lies on the middle line, so it is its own mirror image"
            )));
        }
        let edit = add_line(&built, image);
        built.apply(edit.clone())?;
        edits.push(edit);
    }
    with_copies(document, Edit::All(edits), &document.lengths.formulas, &names, &BTreeMap::new())
}

/// The mirror images of lines, under the names given.
fn images(
    document: &Document,
    layout: &Layout,
    names: &BTreeMap<LineId, LineId>,
    mirror: Mirror,
) -> Result<Vec<Line>, Refusal> {
    let glass = Glass { document, layout, names, mirror };
    let image = |&id: &LineId| {
        let line = document.line(id).ok_or(Refusal::UnknownLine(id))?;
        let placed = layout.lines.get(&id).and_then(|placed| placed.ok());
        let name = || format!("\"{}\" has no place on the sheet, so it has no mirror image", document.line_name(id));
        Ok(glass.image(line, &placed.ok_or_else(|| Refusal::Misplaced(name()))?))
    };
    names.keys().map(image).collect()
}

struct Glass<'a> {
    document: &'a Document,
    layout: &'a Layout,
    /// The lines that are mirrored, and what their images are called.
    names: &'a BTreeMap<LineId, LineId>,
    mirror: Mirror,
}

impl Glass<'_> {
    fn image(&self, line: &Line, placed: &Placed) -> Line {
        let id = self.names.get(&line.id).copied().unwrap_or(line.id);
        let is_copy = id != line.id;
        let (place, swaps_sides) = self.place(line, placed);
        let name =
            if is_copy && !line.name.is_empty() { format!("{}, opposite", line.name) } else { line.name.clone() };
        let work = if swaps_sides { swapped(line.work) } else { line.work };
        Line { id, name, place, work, locked: false }
    }

    /// Where the image lies, and whether left and right of it have changed places.
    fn place(&self, line: &Line, placed: &Placed) -> (Place, bool) {
        let sheet = self.layout.size;
        match (line.place, placed.on_board()) {
            (Place::Measured { turn, from, distance, run }, Some((_, across))) if self.mirror.moves_across(turn) => {
                let (width, _) = turn.size_of(sheet);
                let run = self.run(placed, run);
                let own = |line| self.names.get(&line).copied();
                let (turn, from, distance) = match from {
                    Datum::Line(host) if own(host).is_some() => {
                        (turn, Datum::Line(own(host).unwrap_or(host)), -distance)
                    }
                    Datum::Line(_) => match self.partner(from) {
                        Some(partner) => (turn, Datum::Line(partner), -distance),
                        None => (turn, Datum::Edge, width - across),
                    },
                    Datum::Edge => (turn, Datum::Edge, width - across),
                };
                // On paper whose width is no whole number of grooves, a score in a groove is measured from the other edge.
                let groove = self.document.groove;
                let off =
                    groove > Length::ZERO && across.is_multiple_of(groove) && !(width - across).is_multiple_of(groove);
                if from == Datum::Edge && off {
                    let opposite = Turn::ALL[usize::from((turn.count() + 2) % 4)];
                    let run = self.upended(placed, run);
                    // Left on the opposite turn is left in the mirror.
                    return (Place::Measured { turn: opposite, from, distance: across, run }, false);
                }
                (Place::Measured { turn, from, distance, run }, true)
            }
            (Place::Measured { turn, from, distance, run }, _) => {
                let run = self.upended(placed, self.run(placed, run));
                let from = match from {
                    Datum::Line(host) => Datum::Line(self.names.get(&host).copied().unwrap_or(host)),
                    Datum::Edge => from,
                };
                // Only its two ends change places, and it still runs from the top.
                (Place::Measured { turn, from, distance, run }, false)
            }
            (Place::Along { line: host, run }, Some((turn, _))) => {
                let run = self.run(placed, run);
                match self.host(host) {
                    // On the same turn left and right change places; on the opposite one the two ends do.
                    Some((line, its)) if self.mirror.moves_across(turn) && its == turn => {
                        (Place::Along { line, run }, true)
                    }
                    Some((line, its)) if self.mirror.moves_across(turn) => {
                        (Place::Along { line, run: self.upended(placed, run) }, its == turn)
                    }
                    Some((line, _)) => (Place::Along { line, run: self.upended(placed, run) }, false),
                    None => (self.drawn(placed), true),
                }
            }
            (Place::Along { line: host, run }, None) if self.names.contains_key(&host) => {
                let run = self.run(placed, run);
                (Place::Along { line: self.names[&host], run }, true)
            }
            _ => (self.drawn(placed), true),
        }
    }

    /// What the image of a line along another lies along, and on which turn that is; `None` when nothing is there.
    fn host(&self, host: LineId) -> Option<(LineId, Turn)> {
        let placed = self.layout.lines.get(&host)?.ok()?;
        let (turn, _) = placed.on_board()?;
        let Some(&image) = self.names.get(&host) else {
            let partner = self.partner(Datum::Line(host))?;
            let (its, _) = self.layout.lines.get(&partner)?.ok()?.on_board()?;
            return Some((partner, its));
        };
        let line = self.document.line(host)?;
        match line.place {
            Place::Measured { .. } => match self.place(line, &placed).0 {
                Place::Measured { turn: its, .. } => Some((image, its)),
                Place::Along { .. } | Place::Drawn { .. } => None,
            },
            Place::Along { line, .. } => self.host(line).map(|(_, its)| (image, its)),
            Place::Drawn { .. } => Some((image, turn)),
        }
    }

    /// The image of a drawn line: from and to the images of its ends, risen to the other side.
    fn drawn(&self, placed: &Placed) -> Place {
        let [from, to] =
            [placed.segment.a, placed.segment.b].map(|end| Spot::At(self.mirror.point(end, self.layout.size)));
        Place::Drawn { from, to, bow: -placed.bow }
    }

    /// The same run with start and end changed, counted from the other edge.
    fn upended(&self, placed: &Placed, run: Run) -> Run {
        let reach = placed.reach(self.layout.size);
        let stop = |stop| match stop {
            Stop::At(at) => Stop::At(reach - at),
            Stop::Past(id, by) => Stop::Past(id, -by),
            other => other,
        };
        Run { from: stop(run.to), to: stop(run.from) }
    }

    /// A run whose stops are the images of a line's own.
    fn run(&self, placed: &Placed, run: Run) -> Run {
        Run { from: self.stop(run.from, placed.from), to: self.stop(run.to, placed.to) }
    }

    /// A stop at a mirrored line, or at one with a partner on the other side, is a stop at the image; at any other line it
    /// becomes a stop at the distance `at`, where it was.
    fn stop(&self, stop: Stop, at: Length) -> Stop {
        let Some(id) = stop.line() else { return stop };
        match (stop, self.names.get(&id).copied().or_else(|| self.partner(Datum::Line(id)))) {
            (_, None) => Stop::At(at),
            (Stop::Past(_, by), Some(image)) => Stop::Past(image, by),
            (_, Some(image)) => Stop::Line(image),
        }
    }

    /// The line that lies where the mirror image of another would; itself when it lies on the mirror.
    fn partner(&self, of: Datum) -> Option<LineId> {
        let Datum::Line(id) = of else { return None };
        let sheet = self.layout.size;
        let own = self.layout.lines.get(&id)?.ok()?;
        let (turn, across) = own.on_board()?;
        if !self.mirror.moves_across(turn) {
            return Some(id);
        }
        let (width, _) = turn.size_of(sheet);
        let there = |other: &&Line| {
            let placed = self.layout.lines.get(&other.id).and_then(|placed| placed.ok());
            let board = placed.and_then(|placed| placed.on_board().map(|(its, _)| (its, placed.segment.a)));
            board.is_some_and(|(its, at)| {
                its.is_upright() == turn.is_upright() && turn.to_board(at, sheet).across == width - across
            })
        };
        // One that is moved itself is no longer there.
        let stays = |line: &&Line| line.work.is_score() && self.names.get(&line.id) != Some(&line.id);
        self.document.lines.iter().filter(stays).find(there).map(|line| line.id)
    }
}

/// The same work with left and right changed.
const fn swapped(work: Work) -> Work {
    match work {
        Work::Slot(strip) => Work::Slot(other_side(strip)),
        Work::Trim(strip) => Work::Trim(other_side(strip)),
        Work::Notch(notch) => Work::Notch(Notch { to_left: !notch.to_left, ..notch }),
        other => other,
    }
}

const fn other_side(strip: Strip) -> Strip {
    let side = match strip.side {
        StripSide::Left => StripSide::Right,
        StripSide::Right => StripSide::Left,
        StripSide::Centred => StripSide::Centred,
    };
    Strip { width: strip.width, side }
}
