//! What things are called on the screen, and where a line lies in words.

pub(crate) mod part;

use model::{
    BoardPoint, Crease, Datum, Direction, Document, FoldAngle, Layout, Length, LineId, PanelId, Place, Placed, Point,
    Size, Spot, StripSide, Turn, Work,
};
use session::Session;
use std::collections::BTreeMap;

/// "Score line Left flap", "Cut line 7", "Slot line 9".
pub(crate) fn line_label(document: &Document, id: LineId) -> String {
    let Some(line) = document.line(id) else { return format!("Line {id}") };
    let kind = line.work.word();
    if line.name.is_empty() { format!("{kind} line {id}") } else { format!("{kind} line {}", line.name) }
}

/// What a turn is called over a list of lines.
pub(crate) const fn turn_name(turn: Turn) -> &'static str {
    match turn {
        Turn::None => "As drawn",
        Turn::Once => "Turned once to the left",
        Turn::Twice => "Turned twice",
        Turn::Thrice => "Turned three times",
    }
}

/// "valley, 180°".
pub(crate) fn crease_name(crease: Crease) -> String {
    let direction = match crease.direction {
        Direction::Valley => "valley",
        Direction::Mountain => "mountain",
        Direction::Either => "either way",
    };
    format!("{direction}, {}°", crease.angle.degrees())
}

/// What a fold angle is called on a button.
pub(crate) const fn angle_name(angle: FoldAngle) -> &'static str {
    match angle {
        FoldAngle::Flat => "Flat, 180°",
        FoldAngle::Square => "Square, 90°",
    }
}

/// What is done along a line, and where it lies, in a sentence.
pub(crate) fn where_it_lies(document: &Document, layout: &Layout, id: LineId) -> String {
    let Some(line) = document.line(id) else { return String::new() };
    let place = match layout.lines.get(&id) {
        Some(Ok(placed)) => format!("{}.", lie(document, line.place, placed)),
        Some(Err(fault)) => format!("{}.", fault.phrase(document)),
        None => "nowhere.".to_owned(),
    };
    let locked = if line.locked { " Locked." } else { "" };
    format!("{}, {place}{locked}", work_name(document, line.work))
}

/// "3 in from the left edge, as drawn", "4 1/4 in long, from …".
fn lie(document: &Document, place: Place, placed: &Placed) -> String {
    let units = document.units;
    match (placed.on_board(), place) {
        (Some((turn, across)), _) => {
            let turn = match turn {
                Turn::None => "as drawn",
                Turn::Once => "turned once to the left",
                Turn::Twice => "turned twice",
                Turn::Thrice => "turned three times",
            };
            format!("{} from the left edge, {turn}", across.readable(units))
        }
        (None, Place::Drawn { from, to, .. }) => {
            let (from, to) = (spot_name(document, from), spot_name(document, to));
            format!("{} long, from {from} to {to}", (placed.to - placed.from).readable(units))
        }
        (None, place) => measured_from(document, place),
    }
}

/// What is done along a line, with its figures.
fn work_name(document: &Document, work: Work) -> String {
    let text = |length: Length| length.readable(document.units);
    match work {
        Work::Score(crease) => format!("Scored: {}", crease_name(crease)),
        Work::Cut => "Cut".to_owned(),
        Work::Slot(strip) => format!("Slot {} wide, {}", text(strip.width), side_name(strip.side)),
        Work::Trim(strip) => format!("Trim of {}, {}", text(strip.width), side_name(strip.side)),
        Work::Notch(notch) => {
            let side = if notch.to_left { StripSide::Left } else { StripSide::Right };
            format!("Notch {} deep, {}", text(notch.depth), side_name(side))
        }
        Work::Guide => "Guide".to_owned(),
    }
}

const fn side_name(side: StripSide) -> &'static str {
    match side {
        StripSide::Left => "to its left",
        StripSide::Right => "to its right",
        StripSide::Centred => "half on either side",
    }
}

/// Where a drawn line starts or ends.
fn spot_name(document: &Document, spot: Spot) -> String {
    let name = |id| document.line_name(id);
    let text = |length: Length| length.readable(document.units);
    match spot {
        Spot::At(Point { x, y }) => format!("{} right and {} down", text(x), text(y)),
        Spot::Crossing(a, b) => format!("where {} crosses {}", name(a), name(b)),
        Spot::On(line, at) => format!("{} along {}", text(at), name(line)),
    }
}

/// What a line's distance is measured from.
pub(crate) fn measured_from(document: &Document, place: Place) -> String {
    match place {
        Place::Measured { from: Datum::Edge, .. } => "the left edge".to_owned(),
        Place::Measured { from: Datum::Line(other), .. } => document.line_name(other),
        Place::Along { line, .. } => format!("along {}", document.line_name(line)),
        Place::Drawn { .. } => "drawn from spot to spot".to_owned(),
    }
}

/// What corners are called by where they lie in their panel, as the sheet is seen; those that lie alike are numbered.
pub(crate) fn corner_names(tips: &[Point], outline: &[Point], turn: Turn, sheet: Size) -> Vec<String> {
    let seen = |point: &Point| {
        let BoardPoint { across, down } = turn.to_board(*point, sheet);
        Point::new(across, down)
    };
    // Together with the panel as it is, since a corner that is taken off lies beyond it.
    let all: Vec<Point> = tips.iter().chain(outline).map(seen).collect();
    let (low, high) = model::polygon::bounds(&all);
    let mut names: Vec<String> = Vec::new();
    for tip in tips.iter().map(seen) {
        let above = tip.y + tip.y <= low.y + high.y;
        let left = tip.x + tip.x <= low.x + high.x;
        let plain = format!("{} {}", if above { "Top" } else { "Bottom" }, if left { "left" } else { "right" });
        let same = names.iter().filter(|name| name.starts_with(&plain)).count();
        names.push(if same == 0 { plain } else { format!("{plain} {}", same + 1) });
    }
    names
}

/// What closing steps are called.
pub(crate) struct StepNames<'a> {
    document: &'a Document,
    layout: &'a Layout,
    carried: BTreeMap<LineId, PanelId>,
}

impl<'a> StepNames<'a> {
    /// Those of a design.
    pub(crate) fn of(session: &'a Session) -> Self {
        let layout = &session.derived().layout;
        Self { document: session.document(), layout, carried: layout.carried() }
    }

    /// What a step is called: by the lines that fold in it where she has named them, else by what they carry.
    pub(crate) fn name(&self, step: usize) -> String {
        let document = self.document;
        let Some(step) = document.steps.get(step) else { return "Closed".to_owned() };
        let of_parts = step.parts.iter().map(|&(id, _)| format!("{}'s fold", document.part_name(id)));
        let names: Vec<String> = step.lines.iter().map(|&id| self.of_line(id)).chain(of_parts).collect();
        match names.as_slice() {
            [] => "Nothing".to_owned(),
            [one] => one.clone(),
            [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
        }
    }

    /// The panel that a step folds, where it folds the folio's sheet: of several that of its last line.
    pub(crate) fn panel(&self, step: usize) -> Option<PanelId> {
        let lines = &self.document.steps.get(step)?.lines;
        lines.iter().rev().find_map(|line| self.carried.get(line).copied())
    }

    fn of_line(&self, id: LineId) -> String {
        let is_named = self.document.line(id).is_some_and(|line| !line.name.is_empty());
        let carried = self.carried.get(&id).filter(|_| !is_named);
        carried.map_or_else(|| self.document.line_name(id), |&panel| self.layout.panel(panel).name.clone())
    }
}

/// What one closing step is called; see [`StepNames::name`].
pub(crate) fn step_name(session: &Session, step: usize) -> String {
    StepNames::of(session).name(step)
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Line, Run, Strip, Unit};

    /// A score 3 in from the left, and a line 2 of this place and work.
    #[track_caller]
    fn check(place: Place, work: Work, label: &str, words: &str) {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, Length::INCH * 3))).unwrap();
        document.apply(add_line(&document, Line::new(LineId(2), place, work))).unwrap();
        let layout = Layout::of(&document);
        assert_eq!(line_label(&document, LineId(2)), label);
        assert_eq!(where_it_lies(&document, &layout, LineId(2)), words);
    }

    #[track_caller]
    fn corners(tips: &[(i64, i64)], outline: &[(i64, i64)], turn: Turn, expected: &[&str]) {
        let points = |all: &[(i64, i64)]| -> Vec<Point> {
            all.iter().map(|&(x, y)| Point::new(Length::INCH * x, Length::INCH * y)).collect()
        };
        let sheet = Size::parse("12x12in").unwrap();
        assert_eq!(corner_names(&points(tips), &points(outline), turn, sheet), expected);
    }

    #[test]
    fn corners_are_named_as_they_are_seen() {
        let all = [(0, 0), (9, 0), (1, 1), (0, 9)];
        corners(&all, &[], Turn::None, &["Top left", "Top right", "Top left 2", "Bottom left"]);
        // A flap that hangs down: its two free corners lie at its bottom.
        let flap = [(0, 0), (9, 0), (9, 4), (0, 4)];
        corners(&[(9, 4), (0, 4)], &flap, Turn::None, &["Bottom right", "Bottom left"]);
        // Turned once to the left, what was at the bottom lies at the right.
        corners(&[(9, 4), (0, 4)], &flap, Turn::Once, &["Top right", "Bottom right"]);
    }

    #[test]
    fn every_kind_of_line_is_told_with_where_it_lies() {
        let at = |x, y| Point::new(Length::INCH * x, Length::INCH * y);
        let (from, to) = (Spot::At(at(0, 4)), Spot::On(LineId(1), Length::INCH * 8));
        let drawn = Place::Drawn { from, to, bow: Length::ZERO };
        let words = "Cut, 5 in long, from 0 in right and 4 in down to 8 in along Score 1.";
        check(drawn, Work::Cut, "Cut line 2", words);
        let slot = Work::Slot(Strip { width: Length::EIGHTH, side: StripSide::Left });
        let along = Place::Along { line: LineId(1), run: Run::FULL };
        check(along, slot, "Slot line 2", "Slot 1/8 in wide, to its left, 3 in from the left edge, as drawn.");
        let either = Work::Score(Crease { direction: Direction::Either, ..Crease::VALLEY });
        let lost = Place::Along { line: LineId(9), run: Run::FULL };
        let words = "Scored: either way, 180°, refers to line 9, which is not in the design.";
        check(lost, either, "Score line 2", words);
    }
}
