//! Which locked line keeps another from being moved. Locking itself is [`model::placing::lock`].

use model::{Document, LineId, Place};
use std::collections::BTreeSet;

/// The locked line that must be freed before `id` can be dragged or pushed: itself, or the one that it lies along.
#[must_use]
pub fn holder(document: &Document, id: LineId) -> Option<LineId> {
    let mut seen = BTreeSet::new();
    let mut at = id;
    while seen.insert(at) {
        let line = document.line(at)?;
        if line.locked {
            return Some(at);
        }
        let Place::Along { line: host, .. } = line.place else { return None };
        at = host;
    }
    None
}

/// Why a line stays where it is, while it does; a sentence without its full stop.
#[must_use]
pub fn refusal(document: &Document, id: LineId) -> Option<String> {
    holder(document, id).map(|holder| format!("\"{}\" is locked; free it first", document.line_name(holder)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Length, Line, Run, Size, Turn, Unit, Work};

    /// A score 1 with a cut 2 along it, and a score 3.
    fn document(locked: &[u32]) -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let along = Place::Along { line: LineId(1), run: Run::FULL };
        for line in [
            measured_score(LineId(1), Turn::None, Length::INCH * 3),
            Line::new(LineId(2), along, Work::Cut),
            measured_score(LineId(3), Turn::None, Length::INCH * 6),
        ] {
            let locked = locked.contains(&line.id.0);
            document.apply(add_line(&document, Line { locked, ..line })).unwrap();
        }
        document
    }

    #[track_caller]
    fn check(locked: &[u32], id: u32, expected: Option<u32>) {
        assert_eq!(holder(&document(locked), LineId(id)), expected.map(LineId));
    }

    #[test]
    fn a_locked_line_holds_itself_and_what_lies_along_it() {
        check(&[1], 1, Some(1));
        check(&[1], 2, Some(1));
        check(&[2], 2, Some(2));
        check(&[2], 1, None);
        check(&[1], 3, None);
        check(&[1], 9, None);
        assert_eq!(refusal(&document(&[1]), LineId(2)).unwrap(), "\"Score 1\" is locked; free it first");
    }

    #[test]
    fn lines_along_one_another_end_the_search() {
        let mut document = document(&[]);
        let round = Place::Along { line: LineId(2), run: Run::FULL };
        document.apply(model::Edit::ReplaceLine(Line::new(LineId(1), round, Work::Cut))).unwrap();
        assert_eq!(holder(&document, LineId(1)), None);
    }
}
