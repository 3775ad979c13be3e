//! What a maker does to a design, as edits: moving, adding and deleting lines, switching a stretch between score
//! and cut, ordering the folds. Each gives an [`Edit`]; [`perform`] makes it, carries marks along and refuses what
//! would leave a line without a place.

use crate::corner::{Corner, CornerShape};
use crate::document::{Document, Step, Tucked};
use crate::edit::{Edit, Refusal};
use crate::geometry::{Point, Vector};
use crate::layout::{Layout, Stretch};
use crate::length::Length;
use crate::line::{Crease, Datum, Line, LineId, Place, Run, Spot, Stop, Work};
use crate::mark::{Carried, Carrier};
use crate::named;
use crate::numbered;
use crate::panel_name;
use crate::part::PanelRef;
use crate::resolve::{Placed, Track};
use crate::silence;
use crate::turn::Turn;
use std::collections::BTreeSet;

/// A document after an edit, with its layout and the edit that takes it back.
#[derive(Debug, Clone)]
pub struct Performed {
    /// The document as edited.
    pub document: Document,
    /// Its layout.
    pub layout: Layout,
    /// What takes the edit back, marks included.
    pub inverse: Edit,
}

/// Makes an edit on a copy of `document`, whose layout is `layout`, and carries along the marks that it does not set: the
/// base, those of corners and the numbers of offcuts. A mark whose area is gone stays where it is; the layout then says that nothing is there. A
/// formula holds while its value stands in its slot, and is let go of otherwise.
///
/// # Errors
/// Refuses what [`Document::apply`] refuses, and what leaves a line without a place that had one before, such as a
/// distance past the sheet.
pub fn perform(document: &Document, layout: &Layout, edit: Edit) -> Result<Performed, Refusal> {
    let mut next = document.clone();
    let mut inverse = next.apply(edit)?;
    if let Some(back) = named::settle(document, &mut next) {
        inverse = Edit::All(vec![back, inverse]);
    }
    let mut new_layout = Layout::of(&next);
    for line in &next.lines {
        let had_place = !matches!(layout.lines.get(&line.id), Some(Err(_)));
        if let (true, Some(Err(fault))) = (had_place, new_layout.lines.get(&line.id)) {
            let name = next.line_name(line.id);
            return Err(Refusal::Misplaced(format!("\"{name}\" {}", fault.phrase(&next))));
        }
    }
    let marks = marks_moved(document, layout, &next, &new_layout);
    if !marks.is_empty() {
        let back = next.apply(Edit::All(marks))?;
        inverse = Edit::All(vec![back, inverse]);
        new_layout = Layout::of(&next);
    }
    Ok(Performed { document: next, layout: new_layout, inverse })
}

/// The edits that carry marks along, for those that `next` has as the document before had them.
fn marks_moved(document: &Document, layout: &Layout, next: &Document, new_layout: &Layout) -> Vec<Edit> {
    let carrier = Carrier::new(layout, new_layout);
    let mut edits = Vec::new();
    if let Some(point) = document.base.filter(|_| next.base == document.base)
        && let Carried::Moves(to) = carrier.carry(point)
    {
        edits.push(Edit::SetBase(Some(to)));
    }
    let mut corners = next.corners.clone();
    let alike = corners.len() == document.corners.len();
    for (i, corner) in corners.iter_mut().enumerate() {
        let was_there = if alike {
            document.corners[i].mark == corner.mark
        } else {
            document.corners.iter().any(|before| before.mark == corner.mark)
        };
        if let (true, Carried::Moves(to)) = (was_there, carrier.carry(corner.mark)) {
            corner.mark = to;
        }
    }
    if corners != next.corners {
        edits.push(Edit::SetCorners(corners));
    }
    edits.extend(part_marks_moved(document, next, &carrier));
    edits.extend(silence::carried(document, next, &carrier));
    edits.extend(panel_name::carried(document, next, &carrier));
    edits.extend(numbered::kept(document, layout, next, new_layout, &carrier));
    edits
}

/// The same for the marks by which parts name panels and offcuts, and those of tucks.
fn part_marks_moved(document: &Document, next: &Document, carrier: &Carrier<'_>) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut parts = next.parts.clone();
    for part in &mut parts {
        let Some(before) = document.part(part.id) else { continue };
        let had: BTreeSet<Point> = before.marks().collect();
        part.move_marks(|mark| match carrier.carry(mark) {
            Carried::Moves(to) if had.contains(&mark) => to,
            _ => mark,
        });
    }
    if parts != next.parts {
        edits.push(Edit::SetParts(parts));
    }
    let tucks = |document: &Document| -> BTreeSet<Point> {
        let tucks = document.steps.iter().flat_map(|step| &step.tucks);
        tucks.flat_map(|tuck| [tuck.panel.mark(), tuck.under.mark()]).flatten().collect()
    };
    let had = tucks(document);
    let mut steps = next.steps.clone();
    for tuck in steps.iter_mut().flat_map(|step| &mut step.tucks) {
        for panel in [&mut tuck.panel, &mut tuck.under] {
            if let PanelRef::Sheet(mark) = panel
                && had.contains(mark)
                && let Carried::Moves(to) = carrier.carry(*mark)
            {
                *mark = to;
            }
        }
    }
    if steps != next.steps {
        edits.push(Edit::SetSteps(steps));
    }
    edits
}

/// Moves a line so that it lies `across` from the left edge on its own turn; whatever is measured from it or stops
/// at it follows. A line along another moves that one. `None` when it has no place on the board, is locked, or is there
/// already.
#[must_use]
pub fn move_line(document: &Document, layout: &Layout, id: LineId, across: Length) -> Option<Edit> {
    let line = document.line(id).filter(|line| !line.locked)?;
    let (_, now) = layout.lines.get(&id)?.ok()?.on_board()?;
    match line.place {
        Place::Along { line, .. } => move_line(document, layout, line, across),
        Place::Measured { turn, from, distance, run } => {
            let by = across - now;
            let place = Place::Measured { turn, from, distance: distance + by, run };
            (by != Length::ZERO).then(|| Edit::ReplaceLine(Line { place, ..line.clone() }))
        }
        Place::Drawn { .. } => None,
    }
}

/// Moves one end of a drawn line; `end` 0 is its start, 1 its end. `None` when it is not drawn, or is locked.
#[must_use]
pub fn move_end(document: &Document, id: LineId, end: usize, to: Spot) -> Option<Edit> {
    let line = document.line(id).filter(|line| !line.locked)?;
    let Place::Drawn { from, to: until, bow } = line.place else { return None };
    let place = match end {
        0 => Place::Drawn { from: to, to: until, bow },
        _ => Place::Drawn { from, to, bow },
    };
    (place != line.place).then(|| Edit::ReplaceLine(Line { place, ..line.clone() }))
}

/// Moves a drawn line as a whole. An end that is said by a line and still lies on it stays so; any other end is a spot of
/// the sheet from then on. `None` when it is not drawn, is locked, or does not move.
#[must_use]
pub fn move_drawn(document: &Document, layout: &Layout, id: LineId, by: Vector) -> Option<Edit> {
    let line = document.line(id).filter(|line| !line.locked)?;
    let Place::Drawn { from, to, bow } = line.place else { return None };
    let placed = layout.lines.get(&id)?.ok()?;
    let on = |host: LineId, at: Point| {
        let host_placed = layout.lines.get(&host)?.ok().filter(|host| host.bow == Length::ZERO)?;
        let down = host_placed.down(at, layout.size);
        (host_placed.point_at(down, layout.size) == at).then_some(Spot::On(host, down))
    };
    let moved = |spot: Spot, at: Point| {
        let at = at + by;
        spot.lines().find_map(|host| on(host, at)).unwrap_or(Spot::At(at))
    };
    let place = Place::Drawn { from: moved(from, placed.segment.a), to: moved(to, placed.segment.b), bow };
    (by != Vector { x: Length::ZERO, y: Length::ZERO }).then(|| Edit::ReplaceLine(Line { place, ..line.clone() }))
}

/// Says what is done with a corner, or with all corners of a panel or piece, in place of what was said of the same
/// before. Nothing is kept of a corner left square that nothing else shapes.
#[must_use]
pub fn shape_corner(document: &Document, layout: &Layout, corner: Corner) -> Edit {
    let panel = layout.panel_at(corner.mark);
    let same = |other: &Corner| other.which == corner.which && layout.panel_at(other.mark) == panel;
    let mut corners: Vec<Corner> = document.corners.iter().copied().filter(|other| !same(other)).collect();
    if corner.shape != CornerShape::Square || !corners.is_empty() {
        corners.push(corner);
    }
    Edit::SetCorners(corners)
}

/// Adds a line. A score folds by itself, after all others.
#[must_use]
pub fn add_line(document: &Document, line: Line) -> Edit {
    let folds = line.work.is_score();
    let id = line.id;
    let insert = Edit::InsertLine { at: document.lines.len(), line };
    if folds { Edit::All(vec![insert, append_step(document, id)]) } else { insert }
}

/// A score from edge to edge, so far from the left edge on a turn.
#[must_use]
pub fn measured_score(id: LineId, turn: Turn, distance: Length) -> Line {
    let place = Place::Measured { turn, from: Datum::Edge, distance, run: Run::FULL };
    Line::new(id, place, Work::Score(Crease::VALLEY))
}

/// Deletes a line. What stopped at it or was measured from it stays where it is, measured on its own; cuts and
/// scores along it go with it, and what was said of corners at it.
///
/// # Errors
/// There is no such line.
pub fn delete_line(document: &Document, layout: &Layout, id: LineId) -> Result<Edit, Refusal> {
    document.line(id).ok_or(Refusal::UnknownLine(id))?;
    let mut gone = BTreeSet::from([id]);
    // Along a line along this one, and so on: as many rounds as there may be links.
    for _ in 0..document.lines.len() {
        let more = document
            .lines
            .iter()
            .filter(|line| matches!(line.place, Place::Along { line, .. } if gone.contains(&line)));
        let before = gone.len();
        gone = more.map(|line| line.id).chain(gone.iter().copied()).collect();
        if gone.len() == before {
            break;
        }
    }
    let mut edits = Vec::new();
    for line in document.lines.iter().filter(|line| !gone.contains(&line.id)) {
        if line.place.needs().any(|need| gone.contains(&need)) {
            edits.push(Edit::ReplaceLine(freed(document, line, layout, &gone)));
        }
    }
    edits.extend(gone.iter().rev().map(|&id| Edit::RemoveLine(id)));
    edits.push(Edit::SetSteps(without(&document.steps, &gone)));
    if document.corners.iter().any(|corner| gone.iter().any(|&id| corner.names(id))) {
        let kept = document.corners.iter().copied().filter(|corner| !gone.iter().any(|&id| corner.names(id)));
        edits.push(Edit::SetCorners(kept.collect()));
    }
    Ok(Edit::All(edits))
}

/// Switches a stretch between score and cut. A cut is laid along the score there, from crossing to crossing; taking
/// it back leaves the score as it was, or makes one where there was none.
///
/// # Errors
/// The stretch runs along the sheet's edge or round a void, where there is nothing to switch, or is part of a curve.
pub fn switch_stretch(document: &Document, layout: &Layout, stretch: &Stretch) -> Result<Edit, Refusal> {
    let refuse = |why: &str| Refusal::Misplaced(why.to_owned());
    let nothing = || refuse("the sheet's own edge is neither scored nor cut");
    let work = stretch.work.ok_or_else(nothing)?;
    let &first =
        stretch.lines.first().ok_or_else(|| refuse("that is the edge of a corner taken off; change the corner"))?;
    let lines: Vec<&Line> = stretch.lines.iter().filter_map(|&id| document.line(id)).collect();
    if let Some(line) = lines.iter().find(|line| !matches!(line.work, Work::Score(_) | Work::Cut)) {
        let (name, kind) = (document.line_name(line.id), line.work.word().to_lowercase());
        return Err(refuse(&format!("that is the edge of \"{name}\"; change the {kind} itself")));
    }
    if lines
        .iter()
        .any(|line| layout.lines.get(&line.id).is_some_and(|placed| placed.is_ok_and(|p| p.bow != Length::ZERO)))
    {
        return Err(refuse("a curve is cut as a whole; change the line itself"));
    }
    let along = |run| Place::Along { line: first, run };
    let run = run_of(document, layout, first, stretch).ok_or_else(nothing)?;
    if !work.is_cut() {
        return Ok(add_line(document, Line::new(document.next_line(), along(run), Work::Cut)));
    }
    let mut changed = document.clone();
    let mut edits = Vec::new();
    let mut make = |changed: &mut Document, edit: Edit| {
        edits.push(edit.clone());
        changed.apply(edit).map(drop)
    };
    let mut scored = lines.iter().any(|line| line.work.is_score());
    for cut in lines.iter().filter(|line| line.work.is_cut()) {
        let (Some(Ok(own)), Some(part)) = (layout.lines.get(&cut.id), run_of(document, layout, cut.id, stretch)) else {
            continue;
        };
        let (from, to) = reach(own, stretch, layout);
        if matches!(cut.place, Place::Drawn { .. }) && (own.from < from || own.to > to) {
            // The line stays as a guide, along which the rest is cut.
            make(&mut changed, Edit::ReplaceLine(Line { work: Work::Guide, ..(*cut).clone() }))?;
            let rests = [
                (own.from < from, Run { from: Stop::Edge, to: part.from }),
                (own.to > to, Run { from: part.to, to: Stop::Edge }),
            ];
            for (_, run) in rests.into_iter().filter(|(there, _)| *there) {
                let edit =
                    add_line(&changed, Line::new(changed.next_line(), Place::Along { line: cut.id, run }, Work::Cut));
                make(&mut changed, edit)?;
            }
            continue;
        }
        let hosts = |document: &Document| {
            document.lines.iter().any(|line| matches!(line.place, Place::Along { line, .. } if line == cut.id))
        };
        let whole = cut.place.run();
        let trimmed = |run| Line { place: cut.place.with_run(run), ..(*cut).clone() };
        match (own.from < from, own.to > to) {
            // What lies along it must not go with it.
            (false, false) if scored && hosts(&changed) => {
                make(&mut changed, Edit::ReplaceLine(Line { work: Work::Guide, ..(*cut).clone() }))?;
            }
            (false, false) if scored => {
                let edit = delete_line(&changed, layout, cut.id)?;
                make(&mut changed, edit)?;
            }
            (false, false) => {
                make(&mut changed, Edit::ReplaceLine(Line { work: Work::Score(Crease::VALLEY), ..(*cut).clone() }))?;
                let edit = append_step(&changed, cut.id);
                make(&mut changed, edit)?;
                scored = true;
            }
            (true, false) => make(&mut changed, Edit::ReplaceLine(trimmed(Run { to: part.from, ..whole })))?,
            (false, true) => make(&mut changed, Edit::ReplaceLine(trimmed(Run { from: part.to, ..whole })))?,
            (true, true) => {
                make(&mut changed, Edit::ReplaceLine(trimmed(Run { to: part.from, ..whole })))?;
                let rest = Line { id: changed.next_line(), ..trimmed(Run { from: part.to, ..whole }) };
                let at = changed.lines.len();
                make(&mut changed, Edit::InsertLine { at, line: rest })?;
            }
        }
    }
    if !scored {
        let score = Line::new(changed.next_line(), along(run), Work::Score(Crease::VALLEY));
        let edit = add_line(&changed, score);
        make(&mut changed, edit)?;
    }
    Ok(Edit::All(edits))
}

/// A stretch as a run of a line that covers it.
fn run_of(document: &Document, layout: &Layout, id: LineId, stretch: &Stretch) -> Option<Run> {
    let placed = layout.lines.get(&id)?.ok()?;
    let (from, to) = reach(&placed, stretch, layout);
    Some(Run { from: stop_at(document, layout, &placed, from), to: stop_at(document, layout, &placed, to) })
}

/// Folds a score another way or another angle. `None` for a cut.
#[must_use]
pub fn set_crease(document: &Document, id: LineId, crease: Crease) -> Option<Edit> {
    let line = document.line(id)?;
    line.work.is_score().then(|| Edit::ReplaceLine(Line { work: Work::Score(crease), ..line.clone() }))
}

/// Moves a whole step to another place in the closing order. `None` when there is nothing to move.
#[must_use]
pub fn move_step(document: &Document, from: usize, to: usize) -> Option<Edit> {
    let mut steps = document.steps.clone();
    if from >= steps.len() || to >= steps.len() || from == to {
        return None;
    }
    let step = steps.remove(from);
    steps.insert(to, step);
    Some(Edit::SetSteps(steps))
}

/// Makes a line fold in the same step as others, as a gusset's two lines do; `step` past the end makes a new step.
#[must_use]
pub fn fold_in_step(document: &Document, id: LineId, step: usize) -> Edit {
    let mut steps = document.steps.clone();
    let at = document.step_of(id);
    if at == Some(step) {
        return Edit::SetSteps(steps);
    }
    // What is tucked as this line folds alone is tucked along with it.
    let mut tucks = Vec::new();
    for step in &mut steps {
        let had = step.lines.len();
        step.lines.retain(|&line| line != id);
        if step.lines.len() < had && step.is_empty() {
            tucks.append(&mut step.tucks);
        }
    }
    if steps.get(step).is_none() {
        steps.push(Step::default());
    }
    let last = steps.len() - 1;
    let of = &mut steps[step.min(last)];
    of.lines.push(id);
    of.tucks.extend(tucks);
    steps.retain(|step| !step.is_empty());
    Edit::SetSteps(steps)
}

/// Makes all that folds in a step fold together with the step before it. `None` for the first step, or one that is not
/// there.
#[must_use]
pub fn join_step(document: &Document, step: usize) -> Option<Edit> {
    let mut steps = document.steps.clone();
    if step == 0 || step >= steps.len() {
        return None;
    }
    let Step { lines, parts, tucks } = steps.remove(step);
    let before = &mut steps[step - 1];
    before.lines.extend(lines);
    before.parts.extend(parts);
    before.tucks.extend(tucks);
    Some(Edit::SetSteps(steps))
}

/// Makes a line fold in a step of its own, right after the one it was in.
#[must_use]
pub fn fold_alone(document: &Document, id: LineId) -> Edit {
    let mut steps = document.steps.clone();
    match document.step_of(id) {
        Some(at) if steps[at].lines.len() + steps[at].parts.len() > 1 => {
            steps[at].lines.retain(|&line| line != id);
            steps.insert(at + 1, Step::of(vec![id]));
        }
        Some(_) => {}
        None => steps.push(Step::of(vec![id])),
    }
    Edit::SetSteps(steps)
}

/// Makes the last line of a step fold in a step of its own, right after it. `None` for a step of one line, or one that is
/// not there.
#[must_use]
pub fn last_apart(document: &Document, step: usize) -> Option<Edit> {
    let mut steps = document.steps.clone();
    let of = steps.get_mut(step).filter(|step| step.lines.len() + step.parts.len() > 1)?;
    let apart = match of.parts.pop() {
        Some(line) => Step { parts: vec![line], ..Step::default() },
        None => Step::of(of.lines.pop().into_iter().collect()),
    };
    steps.insert(step + 1, apart);
    Some(Edit::SetSteps(steps))
}

/// Tucks a panel that moves in a step under another, in place of what was said of that panel there. `None` for a step that
/// is not there, or where that is said already.
#[must_use]
pub fn tuck(document: &Document, step: usize, tucked: Tucked) -> Option<Edit> {
    let mut steps = document.steps.clone();
    let tucks = &mut steps.get_mut(step)?.tucks;
    tucks.retain(|other| other.panel != tucked.panel);
    tucks.push(tucked);
    (steps != document.steps).then_some(Edit::SetSteps(steps))
}

/// Lets nothing be tucked in a step any more. `None` where nothing is.
#[must_use]
pub fn untuck(document: &Document, step: usize) -> Option<Edit> {
    let mut steps = document.steps.clone();
    let tucks = &mut steps.get_mut(step)?.tucks;
    let had = !tucks.is_empty();
    tucks.clear();
    had.then_some(Edit::SetSteps(steps))
}

fn append_step(document: &Document, id: LineId) -> Edit {
    let mut steps = document.steps.clone();
    steps.push(Step::of(vec![id]));
    Edit::SetSteps(steps)
}

fn without(steps: &[Step], gone: &BTreeSet<LineId>) -> Vec<Step> {
    steps.iter().map(|step| step.without(|id| gone.contains(&id))).filter(|step| !step.is_empty()).collect()
}

/// The line, placed where it is without the lines that go.
fn freed(document: &Document, line: &Line, layout: &Layout, gone: &BTreeSet<LineId>) -> Line {
    let Some(Ok(placed)) = layout.lines.get(&line.id).copied() else {
        return Line { place: unhung(document, line, gone), ..line.clone() };
    };
    let free = |stop: Stop, at| match stop.line() {
        Some(id) if gone.contains(&id) => Stop::At(at),
        _ => stop,
    };
    let run = line.place.run();
    let run = Run { from: free(run.from, placed.from), to: free(run.to, placed.to) };
    let place = match (line.place, placed.on_board()) {
        (Place::Measured { turn, from: Datum::Line(id), .. }, Some((_, across))) if gone.contains(&id) => {
            Place::Measured { turn, from: Datum::Edge, distance: across, run }
        }
        (Place::Drawn { from, to, bow }, _) => {
            let freed = |spot: Spot, at| if spot.lines().any(|id| gone.contains(&id)) { Spot::At(at) } else { spot };
            Place::Drawn { from: freed(from, placed.segment.a), to: freed(to, placed.segment.b), bow }
        }
        (place, _) => place.with_run(run),
    };
    Line { place, ..line.clone() }
}

/// The place of a line that has none on the sheet, without the lines that go: stops at them become stops at the edge, and
/// what it is measured from is left out where it can be told how far across it lies, since others may hang on it.
fn unhung(document: &Document, line: &Line, gone: &BTreeSet<LineId>) -> Place {
    let free = |stop: Stop| match stop.line() {
        Some(id) if gone.contains(&id) => Stop::Edge,
        _ => stop,
    };
    let run = line.place.run();
    let place = line.place.with_run(Run { from: free(run.from), to: free(run.to) });
    match (place, crate::resolve::track(document, line.id)) {
        (Place::Measured { turn, from: Datum::Line(id), run, .. }, Ok(Track::Board { across, .. }))
            if gone.contains(&id) =>
        {
            Place::Measured { turn, from: Datum::Edge, distance: across, run }
        }
        (Place::Drawn { from, to, bow }, Ok(Track::Drawn { a, b, .. })) => {
            let freed = |spot: Spot, at| if spot.lines().any(|id| gone.contains(&id)) { Spot::At(at) } else { spot };
            Place::Drawn { from: freed(from, a), to: freed(to, b), bow }
        }
        (place, _) => place,
    }
}

/// Where a stretch starts and ends, down a line's own track.
fn reach(placed: &Placed, stretch: &Stretch, layout: &Layout) -> (Length, Length) {
    let down = |point| placed.down(point, layout.size);
    let (a, b) = (down(stretch.segment.a), down(stretch.segment.b));
    (a.min(b), a.max(b))
}

/// How a maker would say where a run stops: at the edge, at the line that crosses there, or at a distance.
fn stop_at(document: &Document, layout: &Layout, placed: &Placed, at: Length) -> Stop {
    if at == Length::ZERO || at == placed.reach(layout.size) {
        return Stop::Edge;
    }
    let crosses = |other: &&Line| {
        let Some(Ok(cross)) = layout.lines.get(&other.id) else { return false };
        let crossing = placed.track.crossing(cross.track, layout.size).filter(|_| cross.bow == Length::ZERO);
        crossing.is_some_and(|point| {
            placed.down(point, layout.size) == at && (cross.from..=cross.to).contains(&cross.down(point, layout.size))
        })
    };
    document.lines.iter().find(crosses).map_or(Stop::At(at), |line| Stop::Line(line.id))
}
