//! Lines: gone, new, moved, worked otherwise.

use crate::{About, Design, Difference};
use model::words::listed;
use model::{Document, Face, Length, Line, LineFault, LineId, Place, Placed, Point, Turn, Unit, Work};
use std::collections::BTreeMap;

type Places = BTreeMap<LineId, Result<Placed, LineFault>>;

pub(crate) fn differences(before: &Design<'_>, after: &Design<'_>) -> Vec<Difference> {
    let (was, is) = (&before.layout.lines, &after.layout.lines);
    let (before, after) = (before.document, after.document);
    let mut all = Vec::new();
    let is_gone = |id: LineId| after.line(id).is_none();
    let gone: Vec<LineId> = before.lines.iter().map(|line| line.id).filter(|&id| is_gone(id)).collect();
    if !gone.is_empty() {
        let says = format!("{} {} gone.", names(before, &gone), be(&gone));
        all.push(Difference { about: About::Lines(gone, None), says });
    }
    for line in after.lines.iter().filter(|line| before.line(line.id).is_none()) {
        let says = format!("{} is new: {}.", name(after, line), described(after, line, is));
        all.push(Difference { about: About::Lines(vec![line.id], None), says });
    }
    let both = || after.lines.iter().filter_map(|line| Some((before.line(line.id)?, line)));
    all.extend(both().filter_map(renamed));
    all.extend(moved(after, (was, is)));
    for (old, new) in both() {
        let mut says = worked_otherwise(after, old, new);
        says.extend(runs_otherwise(after, (old, new), (was, is)));
        all.extend(says.into_iter().map(|says| Difference { about: About::Lines(vec![new.id], None), says }));
    }
    all
}

/// Lines that lie elsewhere: all that moved by as much, from the same edge, in one sentence.
fn moved(after: &Document, (was, is): (&Places, &Places)) -> Vec<Difference> {
    let mut alike: Vec<((Turn, Length), Vec<LineId>)> = Vec::new();
    let mut all = Vec::new();
    for line in &after.lines {
        let place = |places: &Places| places.get(&line.id).and_then(|place| place.ok());
        let (Some(old), Some(new)) = (place(was), place(is)) else { continue };
        match (old.on_board(), new.on_board()) {
            (Some((turn, old)), Some((now, new))) if turn == now => {
                let by = new - old;
                match alike.iter_mut().find(|(way, _)| *way == (turn, by)) {
                    _ if by == Length::ZERO => {}
                    Some((_, lines)) => lines.push(line.id),
                    None => alike.push(((turn, by), vec![line.id])),
                }
            }
            (None, None) => {
                let by = far(old.segment.a, new.segment.a).max(far(old.segment.b, new.segment.b));
                if by > Length::ZERO {
                    let says = format!(
                        "{} is drawn elsewhere: an end of it moved by {}.",
                        name(after, line),
                        by.readable(after.units)
                    );
                    all.push(Difference { about: About::Lines(vec![line.id], None), says });
                }
            }
            _ => {
                let says = format!("{} lies another way: {}.", name(after, line), described(after, line, is));
                all.push(Difference { about: About::Lines(vec![line.id], None), says });
            }
        }
    }
    let sentence = |((turn, by), lines): ((Turn, Length), Vec<LineId>)| {
        let way = if by > Length::ZERO { "farther from" } else { "nearer to" };
        let verb = if lines.len() == 1 { "lies" } else { "lie" };
        let at = match lines.as_slice() {
            [only] => across(is, *only).map(|at| format!(": {} from it", at.readable(after.units))),
            _ => None,
        };
        let says = format!(
            "{} {verb} {} {way} the {} edge{}.",
            names(after, &lines),
            by.abs().readable(after.units),
            turn.left_edge(),
            at.unwrap_or_default()
        );
        Difference { about: About::Lines(lines, Some(by)), says }
    };
    alike.into_iter().map(sentence).chain(all).collect()
}

fn across(places: &Places, id: LineId) -> Option<Length> {
    Some(places.get(&id)?.as_ref().ok()?.on_board()?.1)
}

/// How far apart two points are, to the nearest nanometre.
fn far(a: Point, b: Point) -> Length {
    let ((ax, ay), (bx, by)) = (a.mm(), b.mm());
    let (across, down) = (ax - bx, ay - by);
    Length::from_mm_rounded((across * across + down * down).sqrt()).unwrap_or(Length::ZERO)
}

/// What is done along a line otherwise than before.
fn worked_otherwise(after: &Document, old: &Line, new: &Line) -> Vec<String> {
    let (name, unit) = (name(after, new), after.units);
    let mut says = Vec::new();
    match (old.work, new.work) {
        (old, new) if old == new => {}
        (Work::Score(old), Work::Score(new)) => {
            if old.direction != new.direction {
                says.push(format!("{name} folds {}, not {}.", way(new.direction), way(old.direction)));
            }
            if old.angle != new.angle {
                says.push(format!("{name} folds by {}°, not {}°.", new.angle.degrees(), old.angle.degrees()));
            }
            if old.face() != new.face() && old.direction == new.direction {
                let face = |face: Face| face.word();
                says.push(format!("{name} is pressed into the {}, not the {}.", face(new.face()), face(old.face())));
            }
        }
        (old, new) => says.push(format!("{name} is {}, not {}.", work(new, unit), work(old, unit))),
    }
    says
}

/// A line that is called otherwise; first of all that is told of lines, since the rest calls it so.
fn renamed((old, new): (&Line, &Line)) -> Option<Difference> {
    let says = format!("{} {} is called \"{}\".", new.work.word(), new.id, new.name);
    let is_renamed = old.name != new.name && !new.name.is_empty();
    is_renamed.then(|| Difference { about: About::Lines(vec![new.id], None), says })
}

/// A line that is said to start or end elsewhere, and does.
fn runs_otherwise(after: &Document, (old, new): (&Line, &Line), (was, is): (&Places, &Places)) -> Option<String> {
    let run = |line: &Line| match line.place {
        Place::Measured { run, .. } | Place::Along { run, .. } => Some(run),
        Place::Drawn { .. } => None,
    };
    let place = |places: &Places| places.get(&new.id).and_then(|place| place.ok());
    let (old_at, new_at) = (place(was)?, place(is)?);
    let is_longer = (old_at.from, old_at.to) != (new_at.from, new_at.to);
    if run(old)? == run(new)? || !is_longer {
        return None;
    }
    let length = |at: Placed| (at.to - at.from).readable(after.units);
    let (now, then) = (length(new_at), length(old_at));
    let name = name(after, new);
    Some(if now == then {
        format!("{name} starts and ends elsewhere, as long as before.")
    } else {
        format!("{name} is {now} long, not {then}.")
    })
}

/// A line that is new.
fn described(document: &Document, line: &Line, places: &Places) -> String {
    let what = work(line.work, document.units);
    match places.get(&line.id) {
        Some(Ok(place)) => match place.on_board() {
            Some((turn, across)) => {
                format!("{what}, {} from the {} edge", across.readable(document.units), turn.left_edge())
            }
            None => format!("{what}, drawn from spot to spot"),
        },
        _ => what,
    }
}

/// "a score that folds as a valley", "a cut", "a slot 1/8 in wide".
fn work(work: Work, unit: Unit) -> String {
    match work {
        Work::Score(crease) => format!("a score that folds {}", way(crease.direction)),
        Work::Cut => "a cut".to_owned(),
        Work::Slot(strip) => format!("a slot {} wide", strip.width.readable(unit)),
        Work::Trim(strip) => format!("a trim {} wide", strip.width.readable(unit)),
        Work::Notch(notch) => format!("a notch {} deep", notch.depth.readable(unit)),
        Work::Guide => "a guide".to_owned(),
    }
}

const fn way(direction: model::Direction) -> &'static str {
    match direction {
        model::Direction::Valley => "as a valley",
        model::Direction::Mountain => "as a mountain",
        model::Direction::Either => "either way",
    }
}

fn name(document: &Document, line: &Line) -> String {
    document.line_name(line.id)
}

fn names(document: &Document, lines: &[LineId]) -> String {
    listed(lines.iter().map(|&id| document.line_name(id)))
}

const fn be(lines: &[LineId]) -> &'static str {
    if lines.len() == 1 { "is" } else { "are" }
}
