//! What a maker does with parts, as edits: putting one on, taking it off with all that lies on it, moving and turning it.

use super::laid::{Laid, PartLayout};
use super::{Job, PanelRef, Paper, Part, PartId, PartKind, Rotation, Source};
use crate::document::{Document, Step};
use crate::edit::Edit;
use crate::geometry::Vector;
use crate::layout::{Layout, PieceId};
use crate::length::Length;
use crate::line::{Face, LineId};
use crate::mark::{Carried, Carrier};
use crate::polygon::bounds;
use std::collections::BTreeSet;

/// Puts a part on, after all others. Its folds that go with the folio fold in steps of their own, the last; those of a shape
/// of the maker's own the first, since nothing lies on it then.
#[must_use]
pub fn add(document: &Document, part: Part) -> Edit {
    let later = super::pattern::PartPattern::of(&part, document).map(|pattern| pattern.later).unwrap_or_default();
    let (id, is_own) = (part.id, matches!(part.kind, PartKind::Own(_)));
    let mut parts = document.parts.clone();
    parts.push(part);
    let mut edits = vec![Edit::SetParts(parts)];
    if !later.is_empty() {
        edits.push(Edit::SetSteps(with_folds(document.steps.clone(), (id, is_own), later)));
    }
    Edit::All(edits)
}

/// Steps with those for new folds of a part: the first for a shape of the maker's own, else the last.
fn with_folds(
    mut steps: Vec<Step>,
    (id, is_own): (PartId, bool),
    folds: impl IntoIterator<Item = LineId>,
) -> Vec<Step> {
    let at = if is_own { 0 } else { steps.len() };
    let new = folds.into_iter().map(|line| Step { parts: vec![(id, line)], ..Step::default() });
    steps.splice(at..at, new);
    steps
}

/// Takes parts off, along with all that lies on them: out of the closing steps, the making order and the tucks too.
#[must_use]
pub fn remove(document: &Document, ids: &[PartId]) -> Edit {
    let gone = with_carried(document, ids);
    let parts = document.parts.iter().filter(|part| !gone.contains(&part.id)).cloned().collect();
    let is_gone = |panel: PanelRef| matches!(panel, PanelRef::Part(id, _) if gone.contains(&id));
    let step = |step: &Step| {
        let mut step = step.clone();
        step.parts.retain(|(id, _)| !gone.contains(id));
        step.tucks.retain(|tuck| !is_gone(tuck.panel) && !is_gone(tuck.under));
        step
    };
    let steps = document.steps.iter().map(step).filter(|step| !step.is_empty()).collect();
    let is_of = |job: &Job| match job {
        Job::Score(Paper::Part(id)) | Job::Cut(Paper::Part(id)) | Job::Fold(id) | Job::Put(id) => gone.contains(id),
        Job::Score(Paper::Folio) | Job::Cut(Paper::Folio) | Job::Close => false,
    };
    let making = document.making.iter().filter(|job| !is_of(job)).copied().collect();
    Edit::All(vec![Edit::SetParts(parts), Edit::SetSteps(steps), Edit::SetMaking(making)])
}

/// Parts and all parts that lie on them, or are glued to them, or on those.
#[must_use]
pub fn with_carried(document: &Document, ids: &[PartId]) -> BTreeSet<PartId> {
    let mut all: BTreeSet<PartId> = ids.iter().copied().collect();
    loop {
        let rests = |part: &&Part| !all.contains(&part.id) && part.hosts().any(|host| all.contains(&host));
        let more: Vec<PartId> = document.parts.iter().filter(rests).map(|part| part.id).collect();
        if more.is_empty() {
            return all;
        }
        all.extend(more);
    }
}

/// Puts another part in the place of the one with the same id. Folds that it no longer has are taken out of the steps,
/// and new ones that go with the folio fold as if they came with a new part ([`add`]). One that it had before and that folds in no step stays unfolded.
#[must_use]
pub fn replace(document: &Document, part: Part) -> Edit {
    let id = part.id;
    let folding =
        |part: &Part| super::pattern::PartPattern::of(part, document).map(|pattern| pattern.later).unwrap_or_default();
    let later = folding(&part);
    let before = document.part(id).map(folding).unwrap_or_default();
    let mut steps = document.steps.clone();
    for step in &mut steps {
        step.parts.retain(|(of, line)| *of != id || later.contains(line));
    }
    let known: BTreeSet<_> = steps.iter().flat_map(|step| step.parts.iter().copied()).collect();
    let is_new = |line: &LineId| !known.contains(&(id, *line)) && !before.contains(line);
    let is_own = matches!(part.kind, PartKind::Own(_));
    let mut steps = with_folds(steps, (id, is_own), later.into_iter().filter(is_new));
    steps.retain(|step| !step.is_empty());
    let numbers = renumbered(document, &part);
    let swap = |other: &Part| if other.id == id { part.clone() } else { other.clone() };
    let mut parts: Vec<Part> = document.parts.iter().map(swap).collect();
    if let Some(numbers) = numbers {
        let now = |panel: &mut PanelRef| match panel {
            PanelRef::Part(of, at) if *of == id => *at = numbers.get(*at).copied().unwrap_or(*at),
            _ => {}
        };
        for other in &mut parts {
            now(&mut other.place.on);
            other.also.iter_mut().for_each(|gluing| now(&mut gluing.to));
            if other.id == id {
                for gluing in &mut other.also {
                    gluing.panel = numbers.get(gluing.panel).copied().unwrap_or(gluing.panel);
                }
            }
        }
        for tuck in steps.iter_mut().flat_map(|step| &mut step.tucks) {
            now(&mut tuck.panel);
            now(&mut tuck.under);
        }
    }
    let set_parts = Edit::SetParts(parts);
    if steps == document.steps { set_parts } else { Edit::All(vec![set_parts, Edit::SetSteps(steps)]) }
}

/// The same for a shape of the maker's own, whose panels are known by the lines round them.
fn carried(document: &Document, was: &Part, is: &Part) -> Option<Vec<usize>> {
    let layout = |part: &Part| {
        let pattern = super::pattern::PartPattern::of(part, document).ok()?;
        Some(Layout::of(&pattern.document))
    };
    let (old, new) = (layout(was)?, layout(is)?);
    let carrier = Carrier::new(&old, &new);
    let to: Vec<_> = new.folio()?.panels.clone();
    let now = |(at, panel): (usize, &crate::layout::PanelId)| {
        let mark = old.panel(*panel).inside?;
        let mark = match carrier.carry(mark) {
            Carried::Stays => mark,
            Carried::Moves(to) => to,
            Carried::Lost => return None,
        };
        let panel = new.panel_at(mark)?;
        to.iter().position(|&one| one == panel).filter(|&now| now != at)
    };
    let numbers: Vec<usize> =
        old.folio()?.panels.iter().enumerate().map(|(at, panel)| now((at, panel)).unwrap_or(at)).collect();
    (numbers.iter().enumerate().any(|(at, &now)| at != now)).then_some(numbers)
}

/// For each panel of a part as it is, the number it has when `part` takes its place, found by what panels are called;
/// `None` where none of them changes. A panel that is gone keeps its number.
fn renumbered(document: &Document, part: &Part) -> Option<Vec<usize>> {
    let was = document.part(part.id)?;
    if matches!((&was.kind, &part.kind), (PartKind::Own(_), PartKind::Own(_))) {
        return carried(document, was, part);
    }
    let alone = |part: &Part| {
        let pattern = super::pattern::PartPattern::of(part, document).ok()?;
        let layout = Layout::of(&pattern.document);
        let piece = layout.folio()?;
        let names =
            piece.panels.iter().map(|&panel| super::laid::panel_name("", &pattern, &layout, layout.panel(panel), 2));
        Some(names.collect::<Vec<String>>())
    };
    let (was, is) = (alone(was)?, alone(part)?);
    if was == is {
        return None;
    }
    let now = |(at, name): (usize, &String)| is.iter().position(|other| other == name).unwrap_or(at);
    Some(was.iter().enumerate().map(now).collect())
}

/// Changes one part; `None` when there is no such part, or nothing changes.
#[must_use]
pub fn change(document: &Document, id: PartId, how: impl FnOnce(&mut Part)) -> Option<Edit> {
    let was = document.part(id)?;
    let mut part = was.clone();
    how(&mut part);
    (part != *was).then(|| replace(document, part))
}

/// Moves a part on its panel, by so far to the right and down on that panel's sheet.
#[must_use]
pub fn shift(document: &Document, id: PartId, by: Vector) -> Option<Edit> {
    use super::AnchorFrom::End;
    let inwards = |from, by: Length| if from == End { -by } else { by };
    change(document, id, |part| {
        part.place.across.distance += inwards(part.place.across.from, by.x);
        part.place.down.distance += inwards(part.place.down.from, by.y);
    })
}

/// Turns a part about the middle of its main panel, clockwise as the sheet of its panel is drawn.
#[must_use]
pub fn turn(document: &Document, layout: &Layout, id: PartId, by: Rotation) -> Option<Edit> {
    let was = layout.part(id).and_then(|part| Some((part, part.laid?)));
    let edit = change(document, id, |part| part.place.rotation = part.place.rotation.plus(by))?;
    let Some((of, laid)) = was else { return Some(edit) };
    let mut next = document.clone();
    next.apply(edit.clone()).ok()?;
    let turned = Layout::of(&next);
    let Some((now, now_laid)) = turned.part(id).and_then(|part| Some((part, part.laid?))) else { return Some(edit) };
    let (was, is) = (middle(of, &laid)?, middle(now, &now_laid)?);
    match shift(&next, id, Vector { x: was.0 - is.0, y: was.1 - is.1 }) {
        Some(back) => Some(Edit::All(vec![edit, back])),
        None => Some(edit),
    }
}

/// The middle of the upright rectangle around a part's main panel, on the sheet that it lies on.
fn middle(part: &PartLayout, laid: &Laid) -> Option<(Length, Length)> {
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let corners: Vec<_> = main.outline.iter().map(|&point| laid.on_host(point)).collect();
    let (low, high) = bounds(&corners);
    Some(((low.x + high.x).half(), (low.y + high.y).half()))
}

/// Puts a part on a face of its panel, with a face of its own seen. Where it is turned over, what lies on it goes to the face
/// that is seen then.
#[must_use]
pub fn turn_over(document: &Document, id: PartId, face: Face, showing: Face) -> Option<Edit> {
    let was = document.part(id)?.place.showing;
    let edit = change(document, id, |part| {
        part.place.face = face;
        part.place.showing = showing;
    })?;
    if was == showing {
        return Some(edit);
    }
    // What lies on it stays on the side that is seen.
    let mut next = document.clone();
    next.apply(edit.clone()).ok()?;
    let mut parts = next.parts.clone();
    for rider in parts.iter_mut().filter(|part| matches!(part.place.on, PanelRef::Part(host, _) if host == id)) {
        rider.place.face = rider.place.face.other();
    }
    Some(if parts == next.parts { edit } else { Edit::All(vec![edit, Edit::SetParts(parts)]) })
}

/// Moves a part to another place in the order in which parts are put on. `None` when there is nothing to move.
#[must_use]
pub fn reorder(document: &Document, id: PartId, to: usize) -> Option<Edit> {
    let mut parts = document.parts.clone();
    let from = parts.iter().position(|part| part.id == id)?;
    if to >= parts.len() || to == from {
        return None;
    }
    let part = parts.remove(from);
    parts.insert(to, part);
    Some(Edit::SetParts(parts))
}

/// Lets a part's paper come from an offcut, or from any.
#[must_use]
pub fn take_from(document: &Document, layout: &Layout, id: PartId, piece: Option<PieceId>) -> Option<Edit> {
    let source = match piece {
        None => Source::AnyOffcut,
        Some(piece) => {
            let piece = layout.pieces.get(piece.0).filter(|piece| !piece.is_folio)?;
            Source::Offcut(piece.panels.iter().find_map(|&panel| layout.panel(panel).inside)?)
        }
    };
    change(document, id, |part| part.source = source)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Point, Size};
    use crate::length::Unit;
    use crate::line::LineId;
    use crate::part::{Edges, Flap, Mat, Placement, Pocket};
    use crate::stock::SheetEdge;

    fn part(id: u32, on: PanelRef) -> Part {
        let kind = PartKind::Mat(Mat { width: Length::INCH * 2, height: Length::INCH });
        let place = Placement::centred(on);
        Part { id: PartId(id), name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() }
    }

    fn on_sheet() -> PanelRef {
        PanelRef::Sheet(Point::new(Length::INCH * 3, Length::INCH * 3))
    }

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.parts = vec![part(1, on_sheet()), part(2, PanelRef::Part(PartId(1), 0)), part(3, on_sheet())];
        document
    }

    #[test]
    fn what_lies_on_a_part_goes_with_it() {
        let mut document = document();
        document.making = vec![Job::Put(PartId(2)), Job::Put(PartId(3)), Job::Close];
        document.steps = vec![Step { parts: vec![(PartId(2), LineId(1))], ..Step::default() }];
        let before = document.clone();
        let back = document.apply(remove(&document, &[PartId(1)])).unwrap();
        assert_eq!(document.parts, [part(3, on_sheet())]);
        assert_eq!((document.making.as_slice(), document.steps.len()), (&[Job::Put(PartId(3)), Job::Close][..], 0));
        document.apply(back).unwrap();
        assert_eq!(document, before);
    }

    #[test]
    fn a_part_turns_about_its_middle() {
        let mut document = document();
        let edit = shift(&document, PartId(3), Vector { x: Length::INCH, y: Length::EIGHTH }).unwrap();
        document.apply(edit).unwrap();
        for degrees in ["90", "45", "33.33", "180"] {
            let layout = Layout::of(&document);
            let centre = |layout: &Layout| {
                let part = layout.part(PartId(3)).unwrap();
                middle(part, &part.laid.unwrap()).unwrap()
            };
            let before = centre(&layout);
            document.apply(turn(&document, &layout, PartId(3), Rotation::parse(degrees).unwrap()).unwrap()).unwrap();
            let after = centre(&Layout::of(&document));
            // A rotated corner is rounded to the nanometre, and half of a length may be.
            let near = |a: Length, b: Length| (a - b).abs() <= Length::from_nm(2);
            assert!(near(before.0, after.0) && near(before.1, after.1), "{degrees}: {before:?} {after:?}");
        }
    }

    #[test]
    fn what_lies_on_a_panel_stays_on_it_when_the_panels_change() {
        let mut document = document();
        let (inch, none) = (Length::INCH, Length::ZERO);
        let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]);
        let flat = Pocket { width: inch * 4, height: inch * 3, glued, strip: inch / 4, rim: none, gusset: none };
        document.parts[0].kind = PartKind::Pocket(flat);
        // With a rim at the top, the front is the second panel.
        let edit = change(&document, PartId(1), |part| part.kind = PartKind::Pocket(Pocket { rim: inch / 2, ..flat }));
        document.apply(edit.unwrap()).unwrap();
        assert_eq!(document.parts[1].place.on, PanelRef::Part(PartId(1), 1));
        let edit = change(&document, PartId(1), |part| part.kind = PartKind::Pocket(flat));
        document.apply(edit.unwrap()).unwrap();
        assert_eq!(document.parts[1].place.on, PanelRef::Part(PartId(1), 0));
    }

    #[test]
    fn a_flap_brings_its_step_and_takes_it_along() {
        let mut document = document();
        let inch = Length::INCH;
        let flap = Flap { width: inch * 4, reach: inch, edge: SheetEdge::Top, strip: inch.half() };
        let flap = Part { kind: PartKind::Flap(flap), ..part(4, on_sheet()) };
        document.apply(add(&document, flap)).unwrap();
        assert_eq!(document.steps, [Step { parts: vec![(PartId(4), LineId(1))], ..Step::default() }]);
        let mat = part(4, on_sheet());
        document.apply(replace(&document, mat)).unwrap();
        assert_eq!(document.steps, []);
    }
}
