//! What things are called on the screen, and where a line lies in words.

use model::{Crease, Datum, Direction, Document, FoldAngle, Layout, LineId, Place, Turn, Work};

/// "Score line Left flap", "Cut line 7".
pub(crate) fn line_label(document: &Document, id: LineId) -> String {
    let Some(line) = document.line(id) else { return format!("Line {id}") };
    let kind = if line.work.is_cut() { "Cut line" } else { "Score line" };
    if line.name.is_empty() { format!("{kind} {id}") } else { format!("{kind} {}", line.name) }
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
    let what = match line.work {
        Work::Score(crease) => format!("Scored: {}", crease_name(crease)),
        Work::Cut => "Cut".to_owned(),
    };
    let place = match layout.lines.get(&id) {
        Some(Ok(placed)) => {
            let turn = match placed.turn {
                Turn::None => "as drawn",
                Turn::Once => "turned once to the left",
                Turn::Twice => "turned twice",
                Turn::Thrice => "turned three times",
            };
            format!("{} from the left edge, {turn}.", placed.across.readable(document.units))
        }
        Some(Err(fault)) => format!("{}.", fault.phrase(document)),
        None => "nowhere.".to_owned(),
    };
    format!("{what}, {place}")
}

/// What a line's distance is measured from.
pub(crate) fn measured_from(document: &Document, place: Place) -> String {
    match place {
        Place::Measured { from: Datum::Edge, .. } => "the left edge".to_owned(),
        Place::Measured { from: Datum::Line(other), .. } => document.line_name(other),
        Place::Along { line, .. } => format!("along {}", document.line_name(line)),
    }
}

/// What a closing step is called: by the lines that fold in it.
pub(crate) fn step_name(document: &Document, step: usize) -> String {
    let Some(step) = document.steps.get(step) else { return "Closed".to_owned() };
    let names: Vec<String> = step.lines.iter().map(|&id| document.line_name(id)).collect();
    match names.as_slice() {
        [] => "Nothing".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
