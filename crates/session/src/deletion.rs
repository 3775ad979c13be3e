//! Deleting several lines at once, and what goes with them.

use model::change::delete_line;
use model::{Document, Edit, Layout, LineId, Refusal};
use std::collections::BTreeSet;

/// Lines to be deleted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deletion {
    /// What deletes them, as one edit.
    pub edit: Edit,
    /// The lines along them that go with them.
    pub along: BTreeSet<LineId>,
}

impl Deletion {
    /// Deletes `ids` and what lies along them.
    ///
    /// # Errors
    /// One of them is not there.
    pub fn of(document: &Document, layout: &Layout, ids: &BTreeSet<LineId>) -> Result<Self, Refusal> {
        let mut left = document.clone();
        let mut edits = Vec::new();
        for &id in ids {
            document.line(id).ok_or(Refusal::UnknownLine(id))?;
            // It may have gone along with one before it.
            if left.line(id).is_some() {
                let edit = delete_line(&left, layout, id)?;
                left.apply(edit.clone())?;
                edits.push(edit);
            }
        }
        let gone = document.lines.iter().map(|line| line.id).filter(|&id| left.line(id).is_none());
        Ok(Self { edit: Edit::All(edits), along: gone.filter(|id| !ids.contains(id)).collect() })
    }

    /// What it takes out, in words: "\"Left fold\" and 2 cuts along it", "3 lines".
    #[must_use]
    pub fn words(&self, document: &Document, ids: &BTreeSet<LineId>) -> String {
        let single = ids.len() == 1;
        let what = match ids.first() {
            Some(&id) if single => format!("\"{}\"", document.line_name(id)),
            _ => format!("{} lines", ids.len()),
        };
        if self.along.is_empty() {
            return what;
        }
        let cuts = self.along.iter().all(|&id| document.line(id).is_some_and(|line| line.work.is_cut()));
        let noun = if cuts { "cut" } else { "line" };
        let (count, plural) = (self.along.len(), if self.along.len() == 1 { "" } else { "s" });
        format!("{what} and {count} {noun}{plural} along {}", if single { "it" } else { "them" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Length, Line, Place, Run, Size, Stop, Turn, Unit, Work};

    /// Scores 1 and 2, cuts 3 and 4 along score 1, and score 5 that stops at score 1.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let score = |id, inches| measured_score(LineId(id), Turn::None, Length::INCH * inches);
        let cut = |id, from, to| {
            let run = Run { from: Stop::At(Length::INCH * from), to: Stop::At(Length::INCH * to) };
            Line::new(LineId(id), Place::Along { line: LineId(1), run }, Work::Cut)
        };
        let across = measured_score(LineId(5), Turn::Once, Length::INCH * 6);
        let stops = Run { from: Stop::Line(LineId(1)), to: Stop::Edge };
        let across = Line { place: across.place.with_run(stops), ..across };
        for line in [score(1, 3), score(2, 9), cut(3, 1, 2), cut(4, 4, 5), across] {
            document.apply(add_line(&document, line)).unwrap();
        }
        document
    }

    #[track_caller]
    fn check(ids: &[u32], left: &[u32], words: &str) {
        let mut document = document();
        let ids = ids.iter().map(|&id| LineId(id)).collect();
        let deletion = Deletion::of(&document, &Layout::of(&document), &ids).unwrap();
        assert_eq!(deletion.words(&document, &ids), words);
        let before = Layout::of(&document);
        document.apply(deletion.edit).unwrap();
        let found: Vec<u32> = document.lines.iter().map(|line| line.id.0).collect();
        assert_eq!(found, left);
        let after = Layout::of(&document);
        for (id, placed) in &after.lines {
            let (was, is) = (before.lines[id].unwrap(), placed.unwrap());
            assert_eq!(was.segment, is.segment, "line {id} stays where it is");
        }
    }

    #[test]
    fn what_lies_along_goes_too_and_is_told() {
        check(&[1], &[2, 5], "\"Score 1\" and 2 cuts along it");
        check(&[2], &[1, 3, 4, 5], "\"Score 2\"");
        check(&[1, 3], &[2, 5], "2 lines and 1 cut along them");
        check(&[1, 2, 3, 4, 5], &[], "5 lines");
    }

    #[test]
    fn a_line_that_is_not_there_is_refused() {
        let document = document();
        let ids = BTreeSet::from([LineId(1), LineId(9)]);
        assert_eq!(Deletion::of(&document, &Layout::of(&document), &ids), Err(Refusal::UnknownLine(LineId(9))));
    }
}
