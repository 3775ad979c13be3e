//! What is copied and pasted: lines or a part, as a little design of their own.
//!
//! What is copied stands by itself: a line that was measured from a line left behind, or stopped at one, says the same
//! distance on its own. So it can be pasted into any other design, and its text is that of a design's file.

use crate::room::on_its_panel;
use model::named::{change::with_copies, let_go_of_idle};
use model::part::own::glue_of_copy;
use model::part::{PanelRef, Part, Source, change};
use model::{
    Datum, Document, Edit, Layout, Length, Line, LineId, PartId, Place, Placed, Point, Run, Spot, Stop, Vector,
};
use std::collections::{BTreeMap, BTreeSet};

/// How often what is pasted moves aside to lie on nothing of its kind before it is left where it is.
const MOST_MOVES: i64 = 50;

/// What is pasted, and what is selected then.
#[derive(Debug, Clone, PartialEq)]
pub struct Pasted {
    /// What puts it into the design.
    pub edit: Edit,
    /// The new lines.
    pub lines: BTreeSet<LineId>,
    /// The new part.
    pub part: Option<PartId>,
}

/// A little design with nothing but these lines, on the same sheet; `None` where none of them has a place.
#[must_use]
pub fn of_lines(document: &Document, layout: &Layout, ids: &BTreeSet<LineId>) -> Option<Document> {
    let placed = |id: &LineId| layout.lines.get(id).and_then(|placed| placed.ok());
    let kept: BTreeSet<LineId> = ids.iter().copied().filter(|id| placed(id).is_some()).collect();
    let mut clip = bare(document);
    for line in document.lines.iter().filter(|line| kept.contains(&line.id)) {
        let placed = placed(&line.id)?;
        clip.lines.push(Line { place: by_itself(line.place, &placed, &kept), locked: false, ..line.clone() });
    }
    for step in &document.steps {
        let lines: Vec<LineId> = step.lines.iter().copied().filter(|id| kept.contains(id)).collect();
        if !lines.is_empty() {
            clip.steps.push(model::Step::of(lines));
        }
    }
    named_as(&mut clip, document);
    (!clip.lines.is_empty()).then_some(clip)
}

/// A little design with nothing but this part, with the paper that it is of; `None` if there is no such part.
#[must_use]
pub fn of_part(document: &Document, layout: &Layout, id: PartId) -> Option<Document> {
    let part = document.part(id)?;
    let on = match part.place.on {
        PanelRef::Sheet(point) => point,
        PanelRef::Part(..) => layout.base.and_then(|base| layout.panel(base).inside).unwrap_or(middle(document)),
    };
    let source = match part.source {
        Source::Offcut(_) => Source::AnyOffcut,
        Source::Whole(_) => Source::FolioStock,
        other => other,
    };
    let on = PanelRef::Sheet(on);
    let mut alone = Part { source, also: glue_of_copy(part, on), ..part.clone() };
    alone.place.on = on;
    let mut clip = bare(document);
    clip.further_stocks = document.further_stocks.clone();
    clip.parts = vec![alone];
    named_as(&mut clip, document);
    Some(clip)
}

/// Puts the lines of a little design in, or its part if it has no lines. What would lie on a line of the same work goes
/// two grooves aside; a part goes to the panel around `on`, else to the one it was copied from, else to the base.
///
/// # Errors
/// Says in a sentence why not.
pub fn paste(document: &Document, layout: &Layout, clip: &Document, on: Option<Point>) -> Result<Pasted, String> {
    if !clip.lines.is_empty() {
        return lines(document, clip);
    }
    match clip.parts.first() {
        Some(part) => pasted_part(document, layout, clip, part, on),
        None => Err("there is no line and no part in what was copied".to_owned()),
    }
}

/// Gives a little design the names of the one that it was taken from, and the formulas that hold in it.
fn named_as(clip: &mut Document, document: &Document) {
    clip.lengths = document.lengths.clone();
    let_go_of_idle(clip);
    if clip.lengths.formulas.is_empty() {
        clip.lengths.list.clear();
    }
}

fn bare(document: &Document) -> Document {
    let mut bare = Document::new(document.stock.size, document.units);
    bare.groove = document.groove;
    bare
}

fn middle(document: &Document) -> Point {
    let size = document.stock.size;
    Point::new(size.width().half(), size.height().half())
}

/// The same place said without any line that is not `kept`.
fn by_itself(place: Place, placed: &Placed, kept: &BTreeSet<LineId>) -> Place {
    let run = |run: Run| Run { from: stop(run.from, placed.from, kept), to: stop(run.to, placed.to, kept) };
    let drawn = || {
        let [from, to] = [placed.segment.a, placed.segment.b].map(Spot::At);
        Place::Drawn { from, to, bow: placed.bow }
    };
    match (place, placed.on_board()) {
        (Place::Measured { turn, from: Datum::Line(id), distance, run: own }, _) if kept.contains(&id) => {
            Place::Measured { turn, from: Datum::Line(id), distance, run: run(own) }
        }
        (Place::Along { line, run: own }, _) if kept.contains(&line) => Place::Along { line, run: run(own) },
        (Place::Measured { run: own, .. } | Place::Along { run: own, .. }, Some((turn, distance))) => {
            Place::Measured { turn, from: Datum::Edge, distance, run: run(own) }
        }
        (Place::Drawn { from, to, bow }, _) => {
            let spot = |spot: Spot, at: Point| match spot {
                Spot::Crossing(a, b) if kept.contains(&a) && kept.contains(&b) => spot,
                Spot::On(id, _) if kept.contains(&id) => spot,
                _ => Spot::At(at),
            };
            Place::Drawn { from: spot(from, placed.segment.a), to: spot(to, placed.segment.b), bow }
        }
        (Place::Measured { .. } | Place::Along { .. }, None) => drawn(),
    }
}

fn stop(stop: Stop, at: Length, kept: &BTreeSet<LineId>) -> Stop {
    match stop {
        Stop::Line(id) | Stop::Past(id, _) if !kept.contains(&id) => Stop::At(at),
        other => other,
    }
}

fn lines(document: &Document, clip: &Document) -> Result<Pasted, String> {
    let groove = if document.groove > Length::ZERO { document.groove } else { model::placing::finest(document.units) };
    let mut refused = String::new();
    for way in [1, -1] {
        for times in 0..MOST_MOVES {
            let by = groove * 2 * times * way;
            let moved: Vec<Line> = clip.lines.iter().map(|line| aside(line, by)).collect();
            if moved.iter().any(|line| lies_on_its_like(document, line)) {
                continue;
            }
            match put_in(document, clip, moved) {
                Ok(pasted) => return Ok(pasted),
                Err(why) if refused.is_empty() => refused = why,
                Err(_) => {}
            }
            break;
        }
    }
    Err(if refused.is_empty() {
        "there is no free place beside the lines that were copied".to_owned()
    } else {
        refused
    })
}

/// The line so far aside, where it says its own distance.
fn aside(line: &Line, by: Length) -> Line {
    let spot = |spot: Spot| match spot {
        Spot::At(point) => Spot::At(Point::new(point.x + by, point.y + by)),
        other => other,
    };
    let place = match line.place {
        Place::Measured { turn, from: Datum::Edge, distance, run } => {
            Place::Measured { turn, from: Datum::Edge, distance: distance + by, run }
        }
        Place::Drawn { from, to, bow } => Place::Drawn { from: spot(from), to: spot(to), bow },
        other => other,
    };
    Line { place, ..line.clone() }
}

/// Whether a line that says its own distance would lie just where another does.
fn lies_on_its_like(document: &Document, line: &Line) -> bool {
    let says_it = match line.place {
        Place::Measured { from, .. } => from == Datum::Edge,
        Place::Along { .. } => false,
        Place::Drawn { from, to, .. } => matches!((from, to), (Spot::At(_), Spot::At(_))),
    };
    says_it && document.lines.iter().any(|other| other.place == line.place)
}

fn put_in(document: &Document, clip: &Document, lines: Vec<Line>) -> Result<Pasted, String> {
    let mut built = document.clone();
    let mut names = BTreeMap::new();
    let first = document.next_line().0;
    for (line, id) in lines.iter().zip(first..) {
        names.insert(line.id, LineId(id));
    }
    let mut edits = Vec::new();
    let apply = |built: &mut Document, edit: Edit, edits: &mut Vec<Edit>| -> Result<(), String> {
        built.apply(edit.clone()).map_err(|refusal| refusal.to_string())?;
        edits.push(edit);
        Ok(())
    };
    for line in lines {
        let name = if line.name.is_empty() || !document.lines.iter().any(|other| other.name == line.name) {
            line.name.clone()
        } else {
            format!("{}, copy", line.name)
        };
        let id = *names.get(&line.id).unwrap_or(&line.id);
        let new = Line { id, name, place: renamed(line.place, &names), ..line };
        let edit = Edit::InsertLine { at: built.lines.len(), line: new };
        apply(&mut built, edit, &mut edits)?;
    }
    // What folded in one step goes on doing so.
    let mut steps = built.steps.clone();
    let mut folding: BTreeSet<LineId> =
        built.lines.iter().filter(|line| line.work.is_score()).map(|line| line.id).collect();
    folding.retain(|id| names.values().any(|new| new == id));
    for step in &clip.steps {
        let own: Vec<LineId> =
            step.lines.iter().filter_map(|id| names.get(id)).copied().filter(|id| folding.remove(id)).collect();
        if !own.is_empty() {
            steps.push(model::Step::of(own));
        }
    }
    steps.extend(folding.into_iter().map(|id| model::Step::of(vec![id])));
    apply(&mut built, Edit::SetSteps(steps), &mut edits)?;
    let layout = Layout::of(&built);
    let lost = names.values().find_map(|id| layout.lines.get(id)?.err().map(|_| *id));
    if let Some(id) = lost {
        return Err(format!("\"{}\" would have no place on this sheet", built.line_name(id)));
    }
    let edit = with_copies(document, Edit::All(edits), &clip.lengths.formulas, &names, &BTreeMap::new());
    let edit = edit.map_err(|refusal| refusal.to_string())?;
    Ok(Pasted { edit, lines: names.into_values().collect(), part: None })
}

fn renamed(place: Place, names: &BTreeMap<LineId, LineId>) -> Place {
    let name = |id: LineId| names.get(&id).copied().unwrap_or(id);
    let stop = |stop: Stop| match stop {
        Stop::Line(id) => Stop::Line(name(id)),
        Stop::Past(id, by) => Stop::Past(name(id), by),
        other => other,
    };
    let run = |run: Run| Run { from: stop(run.from), to: stop(run.to) };
    let spot = |spot: Spot| match spot {
        Spot::Crossing(a, b) => Spot::Crossing(name(a), name(b)),
        Spot::On(id, by) => Spot::On(name(id), by),
        at @ Spot::At(_) => at,
    };
    match place {
        Place::Measured { turn, from, distance, run: own } => {
            let from = match from {
                Datum::Line(id) => Datum::Line(name(id)),
                Datum::Edge => Datum::Edge,
            };
            Place::Measured { turn, from, distance, run: run(own) }
        }
        Place::Along { line, run: own } => Place::Along { line: name(line), run: run(own) },
        Place::Drawn { from, to, bow } => Place::Drawn { from: spot(from), to: spot(to), bow },
    }
}

fn pasted_part(
    document: &Document,
    layout: &Layout,
    clip: &Document,
    part: &Part,
    on: Option<Point>,
) -> Result<Pasted, String> {
    let base = || layout.base.and_then(|base| layout.panel(base).inside);
    let own = match part.place.on {
        PanelRef::Sheet(point) => Some(point),
        PanelRef::Part(..) => None,
    };
    let is_panel = |point: &Point| layout.panel_at(*point).is_some();
    let on = on.filter(is_panel).or(own.filter(is_panel)).or_else(base);
    let on = on.ok_or_else(|| "there is no panel to paste the part on; choose a base panel first".to_owned())?;
    let source = match part.source {
        Source::Stock(id) => {
            let stock = clip.further_stock(id);
            let same = document.further_stocks.iter().find(|further| Some(&further.stock) == stock);
            same.map_or(Source::FolioStock, |further| Source::Stock(further.id))
        }
        Source::Offcut(_) | Source::Whole(_) => Source::AnyOffcut,
        other => other,
    };
    let id = document.next_part();
    let taken = document.parts.iter().any(|other| other.name == part.name);
    let name = if taken { String::new() } else { part.name.clone() };
    let on = PanelRef::Sheet(on);
    let mut new = Part { id, name, source, also: glue_of_copy(part, on), ..part.clone() };
    new.place.on = on;
    // On another panel it may have no room as far from the borders as it lay.
    let new = on_its_panel(document, new);
    let lies_there = document.parts.iter().any(|other| other.place == new.place);
    let add = change::add(document, new);
    let mut after = document.clone();
    after.apply(add.clone()).map_err(|refusal| refusal.to_string())?;
    let by = crate::snap::step(document, crate::Fineness::Grooves).0 * 2;
    let aside = if lies_there { change::shift(&after, id, Vector { x: by, y: by }) } else { None };
    let edit = Edit::All(std::iter::once(add).chain(aside).collect());
    let parts = BTreeMap::from([(part.id, id)]);
    let edit = with_copies(document, edit, &clip.lengths.formulas, &BTreeMap::new(), &parts);
    Ok(Pasted { edit: edit.map_err(|refusal| refusal.to_string())?, lines: BTreeSet::new(), part: Some(id) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score, perform};
    use model::{Size, Turn, Unit, Work};

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, Length::INCH * 3))).unwrap();
        let run = Run { from: Stop::Line(LineId(3)), to: Stop::Edge };
        let beside = Place::Measured { turn: Turn::None, from: Datum::Line(LineId(1)), distance: Length::INCH, run };
        let beside = Line { place: beside, ..measured_score(LineId(2), Turn::None, Length::ZERO) };
        document.apply(add_line(&document, measured_score(LineId(3), Turn::Once, Length::INCH * 2))).unwrap();
        document.apply(add_line(&document, beside)).unwrap();
        let (from, to) = (Spot::Crossing(LineId(1), LineId(3)), Spot::On(LineId(2), Length::INCH * 9));
        let cut = Line::new(LineId(4), Place::Drawn { from, to, bow: Length::ZERO }, Work::Cut);
        document.apply(add_line(&document, cut)).unwrap();
        document
    }

    fn ids<const N: usize>(of: [u32; N]) -> BTreeSet<LineId> {
        of.into_iter().map(LineId).collect()
    }

    fn segment(document: &Document, id: u32) -> (Point, Point) {
        let segment = Layout::of(document).lines[&LineId(id)].unwrap().segment;
        (segment.a, segment.b)
    }

    #[test]
    fn a_copy_keeps_the_formulas_of_lengths_that_it_keeps_where_their_names_are_known() {
        use model::named::change::{add, with_formula};
        use model::{LineSlot, Slot};
        let mut document = document();
        document.apply(add(&document, "gap", Length::INCH.into(), "").unwrap()).unwrap();
        let slot = |id: LineId| Slot::Line(id, LineSlot::Distance);
        // How far line 2 lies from line 1, and how far line 1 from the edge.
        for (id, text) in [(LineId(2), "gap"), (LineId(1), "3 * gap")] {
            let typed = document.lengths.read(text, None).unwrap();
            let edit = with_formula(&document, Edit::All(Vec::new()), slot(id), typed.formula).unwrap();
            document.apply(edit).unwrap();
        }
        let layout = Layout::of(&document);
        let clip = of_lines(&document, &layout, &ids([1, 2])).unwrap();
        let pasted = paste(&document, &layout, &clip, None).unwrap();
        let after = perform(&document, &layout, pasted.edit).unwrap().document;
        let [first, second] = [LineId(5), LineId(6)].map(|id| after.typed_in(slot(id)).unwrap().text(Unit::Inch));
        assert_eq!((first.as_str(), second.as_str()), ("3 1/4 in", "gap"), "the one went aside, the other follows");
        // Where the name is not there, or another length, its value is.
        let other = Document::new(document.stock.size, Unit::Inch);
        let pasted = paste(&other, &Layout::of(&other), &clip, None).unwrap();
        let after = perform(&other, &Layout::of(&other), pasted.edit).unwrap().document;
        assert!(after.lengths.formulas.is_empty() && after.lines.len() == 2);
        let alone = of_lines(&document, &layout, &ids([2])).unwrap();
        assert!(alone.lengths.is_empty(), "it says its own distance");
    }

    #[test]
    fn what_is_copied_lies_where_it_lay_without_what_it_hung_on() {
        let document = document();
        let layout = Layout::of(&document);
        for of in [ids([2]), ids([4]), ids([2, 4]), ids([1, 2]), ids([1, 2, 3, 4])] {
            let clip = of_lines(&document, &layout, &of).unwrap();
            assert_eq!(clip.lines.len(), of.len());
            for line in &clip.lines {
                assert_eq!(segment(&clip, line.id.0), segment(&document, line.id.0), "{of:?}: {:?}", line.place);
            }
        }
        assert_eq!(of_lines(&document, &layout, &BTreeSet::new()), None);
    }

    #[test]
    fn lines_are_pasted_under_new_numbers_aside_of_their_like() {
        let document = document();
        let layout = Layout::of(&document);
        let clip = of_lines(&document, &layout, &ids([1, 2])).unwrap();
        let pasted = paste(&document, &layout, &clip, None).unwrap();
        assert_eq!(pasted.lines, ids([5, 6]));
        let after = perform(&document, &layout, pasted.edit).unwrap().document;
        // Two grooves of 1/8 in.
        assert_eq!(segment(&after, 5).0.x, Length::INCH * 3 + Length::INCH / 4);
        assert_eq!(segment(&after, 6).0.x - segment(&after, 5).0.x, Length::INCH, "it keeps its distance");
        assert!(matches!(after.line(LineId(6)).unwrap().place, Place::Measured { from: Datum::Line(LineId(5)), .. }));
        assert_eq!(after.steps.len(), document.steps.len() + 2);
    }

    #[test]
    fn into_another_design_they_come_as_they_lie_or_not_at_all() {
        let document = document();
        let clip = of_lines(&document, &Layout::of(&document), &ids([1, 3])).unwrap();
        let other = Document::new(Size::parse("8 x 10 in").unwrap(), Unit::Millimetre);
        let layout = Layout::of(&other);
        let pasted = paste(&other, &layout, &clip, None).unwrap();
        let after = perform(&other, &layout, pasted.edit).unwrap().document;
        assert_eq!(segment(&after, 1).0.x, Length::INCH * 3);
        let small = Document::new(Size::parse("2 x 2 in").unwrap(), Unit::Inch);
        let refused = paste(&small, &Layout::of(&small), &clip, None).unwrap_err();
        assert!(refused.contains("no place"), "{refused}");
        assert!(paste(&small, &Layout::of(&small), &small, None).is_err(), "nothing was copied");
    }
}
