//! What a maker does to a design, as edits: moving, adding and deleting lines, switching a stretch between score
//! and cut, ordering the folds. Each gives an [`Edit`]; [`perform`] makes it, carries marks along and refuses what
//! would leave a line without a place.

use crate::document::{Document, Step};
use crate::edit::{Edit, Refusal};
use crate::layout::{Layout, Stretch};
use crate::length::Length;
use crate::line::{Crease, Datum, Line, LineId, Place, Run, Stop, Work};
use crate::mark::{Carried, carried};
use crate::resolve::Placed;
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

/// Makes an edit on a copy of `document`, whose layout is `layout`, and carries the base mark along.
///
/// # Errors
/// Refuses what [`Document::apply`] refuses, and what leaves a line without a place that had one before, such as a
/// distance past the sheet.
pub fn perform(document: &Document, layout: &Layout, edit: Edit) -> Result<Performed, Refusal> {
    let mut next = document.clone();
    let mut inverse = next.apply(edit)?;
    let mut new_layout = Layout::of(&next);
    for line in &next.lines {
        let had_place = !matches!(layout.lines.get(&line.id), Some(Err(_)));
        if let (true, Some(Err(fault))) = (had_place, new_layout.lines.get(&line.id)) {
            let name = next.line_name(line.id);
            return Err(Refusal::Misplaced(format!("\"{name}\" {}", fault.phrase(&next))));
        }
    }
    if let Some(point) = document.base.filter(|_| next.base == document.base)
        && let Carried::Moves(to) = carried(point, layout, &new_layout)
    {
        let back = next.apply(Edit::SetBase(Some(to)))?;
        inverse = Edit::All(vec![back, inverse]);
        new_layout = Layout::of(&next);
    }
    Ok(Performed { document: next, layout: new_layout, inverse })
}

/// Moves a line so that it lies `across` from the left edge on its own turn; whatever is measured from it or stops
/// at it follows. A line along another moves that one. `None` when it has no place or is there already.
#[must_use]
pub fn move_line(document: &Document, layout: &Layout, id: LineId, across: Length) -> Option<Edit> {
    let line = document.line(id)?;
    let placed = layout.lines.get(&id)?.ok()?;
    match line.place {
        Place::Along { line, .. } => move_line(document, layout, line, across),
        Place::Measured { turn, from, distance, run } => {
            let by = across - placed.across;
            let place = Place::Measured { turn, from, distance: distance + by, run };
            (by != Length::ZERO).then(|| Edit::ReplaceLine(Line { place, ..line.clone() }))
        }
    }
}

/// Adds a line. A score folds by itself, after all others.
#[must_use]
pub fn add_line(document: &Document, line: Line) -> Edit {
    let folds = !line.work.is_cut();
    let id = line.id;
    let insert = Edit::InsertLine { at: document.lines.len(), line };
    if folds { Edit::All(vec![insert, append_step(document, id)]) } else { insert }
}

/// A score from edge to edge, so far from the left edge on a turn.
#[must_use]
pub fn measured_score(id: LineId, turn: Turn, distance: Length) -> Line {
    Line {
        id,
        name: String::new(),
        place: Place::Measured { turn, from: Datum::Edge, distance, run: Run::FULL },
        work: Work::Score(Crease::VALLEY),
    }
}

/// Deletes a line. What stopped at it or was measured from it stays where it is, measured on its own; cuts and
/// scores along it go with it.
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
            edits.push(Edit::ReplaceLine(freed(line, layout, &gone)));
        }
    }
    edits.extend(gone.iter().rev().map(|&id| Edit::RemoveLine(id)));
    edits.push(Edit::SetSteps(without(&document.steps, &gone)));
    Ok(Edit::All(edits))
}

/// Switches a stretch between score and cut. A cut is laid along the score there, from crossing to crossing; taking
/// it back leaves the score as it was, or makes one where there was none.
///
/// # Errors
/// The stretch runs along the sheet's edge, where there is nothing to switch.
pub fn switch_stretch(document: &Document, layout: &Layout, stretch: &Stretch) -> Result<Edit, Refusal> {
    let nothing = || Refusal::Misplaced("the sheet's own edge is neither scored nor cut".to_owned());
    let work = stretch.work.ok_or_else(nothing)?;
    let &first = stretch.lines.first().ok_or_else(nothing)?;
    let along = |run| Place::Along { line: first, run };
    let run = run_of(document, layout, first, stretch).ok_or_else(nothing)?;
    if !work.is_cut() {
        let cut = Line { id: document.next_line(), name: String::new(), place: along(run), work: Work::Cut };
        return Ok(add_line(document, cut));
    }
    let lines: Vec<&Line> = stretch.lines.iter().filter_map(|&id| document.line(id)).collect();
    let mut changed = document.clone();
    let mut edits = Vec::new();
    let mut make = |changed: &mut Document, edit: Edit| {
        edits.push(edit.clone());
        changed.apply(edit).map(drop)
    };
    let mut scored = lines.iter().any(|line| !line.work.is_cut());
    for cut in lines.iter().filter(|line| line.work.is_cut()) {
        let (Some(Ok(own)), Some(part)) = (layout.lines.get(&cut.id), run_of(document, layout, cut.id, stretch)) else {
            continue;
        };
        let (from, to) = reach(own, stretch, layout);
        let whole = cut.place.run();
        let trimmed = |run| Line { place: cut.place.with_run(run), ..(*cut).clone() };
        match (own.from < from, own.to > to) {
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
        let id = changed.next_line();
        let score = Line { id, name: String::new(), place: along(run), work: Work::Score(Crease::VALLEY) };
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
    (!line.work.is_cut()).then(|| Edit::ReplaceLine(Line { work: Work::Score(crease), ..line.clone() }))
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
    for step in &mut steps {
        step.lines.retain(|&line| line != id);
    }
    match steps.get_mut(step) {
        Some(step) => step.lines.push(id),
        None => steps.push(Step { lines: vec![id] }),
    }
    steps.retain(|step| !step.lines.is_empty());
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
    let Step { lines } = steps.remove(step);
    steps[step - 1].lines.extend(lines);
    Some(Edit::SetSteps(steps))
}

/// Makes a line fold in a step of its own, right after the one it was in.
#[must_use]
pub fn fold_alone(document: &Document, id: LineId) -> Edit {
    let mut steps = document.steps.clone();
    match document.step_of(id) {
        Some(at) if steps[at].lines.len() > 1 => {
            steps[at].lines.retain(|&line| line != id);
            steps.insert(at + 1, Step { lines: vec![id] });
        }
        Some(_) => {}
        None => steps.push(Step { lines: vec![id] }),
    }
    Edit::SetSteps(steps)
}

fn append_step(document: &Document, id: LineId) -> Edit {
    let mut steps = document.steps.clone();
    steps.push(Step { lines: vec![id] });
    Edit::SetSteps(steps)
}

fn without(steps: &[Step], gone: &BTreeSet<LineId>) -> Vec<Step> {
    let kept = |step: &Step| Step { lines: step.lines.iter().copied().filter(|id| !gone.contains(id)).collect() };
    steps.iter().map(kept).filter(|step| !step.lines.is_empty()).collect()
}

/// The line, placed where it is without the lines that go.
fn freed(line: &Line, layout: &Layout, gone: &BTreeSet<LineId>) -> Line {
    let Some(Ok(placed)) = layout.lines.get(&line.id).copied() else { return line.clone() };
    let free = |stop, at| match stop {
        Stop::Line(id) if gone.contains(&id) => Stop::At(at),
        other => other,
    };
    let run = line.place.run();
    let run = Run { from: free(run.from, placed.from), to: free(run.to, placed.to) };
    let place = match line.place {
        Place::Measured { turn, from: Datum::Line(id), .. } if gone.contains(&id) => {
            Place::Measured { turn, from: Datum::Edge, distance: placed.across, run }
        }
        place => place.with_run(run),
    };
    Line { place, ..line.clone() }
}

/// Where a stretch starts and ends, down a line's own turn.
fn reach(placed: &Placed, stretch: &Stretch, layout: &Layout) -> (Length, Length) {
    let down = |point| placed.turn.to_board(point, layout.size).down;
    let (a, b) = (down(stretch.segment.a), down(stretch.segment.b));
    (a.min(b), a.max(b))
}

/// How a maker would say where a run stops: at the edge, at the line that crosses there, or at a distance.
fn stop_at(document: &Document, layout: &Layout, placed: &Placed, at: Length) -> Stop {
    let (_, height) = placed.turn.size_of(layout.size);
    if at == Length::ZERO || at == height {
        return Stop::Edge;
    }
    let crosses = |other: &&Line| {
        let Some(Ok(cross)) = layout.lines.get(&other.id) else { return false };
        let (a, b) =
            (placed.turn.to_board(cross.segment.a, layout.size), placed.turn.to_board(cross.segment.b, layout.size));
        let (low, high) = (a.across.min(b.across), a.across.max(b.across));
        cross.turn.is_upright() != placed.turn.is_upright() && a.down == at && (low..=high).contains(&placed.across)
    };
    document.lines.iter().find(crosses).map_or(Stop::At(at), |line| Stop::Line(line.id))
}
