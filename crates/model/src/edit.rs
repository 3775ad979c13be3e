//! Edits to a document, as data: applying one gives the edit that takes it back.

use crate::corner::Corner;
use crate::document::{Cutting, Document, Step};
use crate::geometry::Point;
use crate::length::{Length, Unit};
use crate::line::{Line, LineId};
use crate::named::NamedLengths;
use crate::numbered::Numbered;
use crate::panel_name::PanelName;
use crate::part::{Job, Part};
use crate::silence::Silence;
use crate::stock::{FurtherStock, Stock};
use std::fmt;

/// A change to a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Gives the design a title.
    SetTitle(String),
    /// Says where the idea came from.
    SetCredit(String),
    /// Changes what lengths are shown in; no measurement changes.
    SetUnits(Unit),
    /// Changes the board's groove spacing.
    SetGroove(Length),
    /// Changes how parts are cut from offcuts.
    SetCutting(Cutting),
    /// Changes the named lengths and the formulas that use them, and no length in a slot; see [`crate::named::change`].
    SetLengths(NamedLengths),
    /// Changes the paper of the folio.
    SetStock(Stock),
    /// Changes the other papers.
    SetFurtherStocks(Vec<FurtherStock>),
    /// Puts a line into the list at a place; at the end when the place is beyond it.
    InsertLine {
        /// The place in the list.
        at: usize,
        /// The line; its id must be new.
        line: Line,
    },
    /// Takes a line out. What refers to it is left as it is; see [`crate::change::delete_line`].
    RemoveLine(LineId),
    /// Puts another line in the place of the one with the same id.
    ReplaceLine(Line),
    /// Marks the panel that lies still.
    SetBase(Option<Point>),
    /// Changes what panels are called; see [`crate::panel_name::name_panel`].
    SetPanelNames(Vec<PanelName>),
    /// Changes the closing order.
    SetSteps(Vec<Step>),
    /// Changes what is done with corners.
    SetCorners(Vec<Corner>),
    /// Changes the numbers that offcuts keep.
    SetOffcuts(Vec<Numbered>),
    /// Changes the parts.
    SetParts(Vec<Part>),
    /// Changes the order in which the maker wants to make it.
    SetMaking(Vec<Job>),
    /// Changes what the checker is not to say again.
    SetSilences(Vec<Silence>),
    /// Several edits as one: all or none.
    All(Vec<Edit>),
}

/// Why an edit was not made. The document is as before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// There is no such line.
    UnknownLine(LineId),
    /// There is such a line already.
    LineExists(LineId),
    /// The document holds as many lines as it may.
    TooManyLines,
    /// More is said of corners than a document may hold.
    TooManyCorners,
    /// There are more further stocks than a document may hold.
    TooManyStocks,
    /// There are more parts than a document may hold.
    TooManyParts,
    /// More lengths are named than a document may hold.
    TooManyLengths,
    /// More panels are named than a document may hold.
    TooManyPanelNames,
    /// More is silenced than a document may hold.
    TooManySilences,
    /// A named length or a formula can't be that; a sentence says which and why.
    Reckoning(String),
    /// It would leave a line without a place; a sentence says which and why.
    Misplaced(String),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownLine(id) => write!(f, "there is no line {id} in the design"),
            Self::LineExists(id) => write!(f, "there is a line {id} in the design already"),
            Self::TooManyLines => write!(f, "a design holds at most {} lines", Document::MOST_LINES),
            Self::TooManyCorners => write!(f, "a design says at most {} things of corners", Document::MOST_CORNERS),
            Self::TooManyStocks => write!(f, "a design uses at most {} further papers", Document::MOST_STOCKS),
            Self::TooManyParts => write!(f, "a design has at most {} parts", Document::MOST_PARTS),
            Self::TooManyLengths => write!(f, "a design names at most {} lengths", NamedLengths::MOST),
            Self::TooManyPanelNames => write!(f, "a design names at most {} panels", Document::MOST_PANEL_NAMES),
            Self::TooManySilences => {
                write!(f, "a design silences the checker at most {} times", Document::MOST_SILENCES)
            }
            Self::Misplaced(sentence) | Self::Reckoning(sentence) => f.write_str(sentence),
        }
    }
}

impl std::error::Error for Refusal {}

impl Document {
    /// Makes an edit and gives the one that takes it back.
    ///
    /// # Errors
    /// Names what stands in the way; the document is then as it was.
    pub fn apply(&mut self, edit: Edit) -> Result<Edit, Refusal> {
        use std::mem::replace;
        Ok(match edit {
            Edit::SetTitle(title) => Edit::SetTitle(replace(&mut self.title, title)),
            Edit::SetCredit(credit) => Edit::SetCredit(replace(&mut self.credit, credit)),
            Edit::SetUnits(units) => Edit::SetUnits(replace(&mut self.units, units)),
            Edit::SetGroove(groove) => Edit::SetGroove(replace(&mut self.groove, groove)),
            Edit::SetCutting(cutting) => Edit::SetCutting(replace(&mut self.cutting, cutting)),
            Edit::SetStock(stock) => Edit::SetStock(replace(&mut self.stock, stock)),
            Edit::SetFurtherStocks(stocks) if stocks.len() > Self::MOST_STOCKS => return Err(Refusal::TooManyStocks),
            Edit::SetCorners(corners) if corners.len() > Self::MOST_CORNERS => return Err(Refusal::TooManyCorners),
            Edit::SetParts(parts) if parts.len() > Self::MOST_PARTS => return Err(Refusal::TooManyParts),
            Edit::SetSilences(all) if all.len() > Self::MOST_SILENCES => return Err(Refusal::TooManySilences),
            Edit::SetPanelNames(all) if all.len() > Self::MOST_PANEL_NAMES => return Err(Refusal::TooManyPanelNames),
            Edit::SetLengths(lengths) if lengths.list.len() > NamedLengths::MOST => {
                return Err(Refusal::TooManyLengths);
            }
            Edit::SetLengths(lengths) => Edit::SetLengths(replace(&mut self.lengths, lengths)),
            Edit::SetSilences(all) => Edit::SetSilences(replace(&mut self.silences, all)),
            Edit::SetPanelNames(all) => Edit::SetPanelNames(replace(&mut self.panel_names, all)),
            Edit::SetMaking(jobs) => Edit::SetMaking(replace(&mut self.making, jobs)),
            Edit::SetOffcuts(numbered) => Edit::SetOffcuts(replace(&mut self.offcuts, numbered)),
            Edit::SetParts(parts) => Edit::SetParts(replace(&mut self.parts, parts)),
            Edit::SetFurtherStocks(stocks) => Edit::SetFurtherStocks(replace(&mut self.further_stocks, stocks)),
            Edit::SetCorners(corners) => Edit::SetCorners(replace(&mut self.corners, corners)),
            Edit::SetBase(base) => Edit::SetBase(replace(&mut self.base, base)),
            Edit::SetSteps(steps) => Edit::SetSteps(replace(&mut self.steps, steps)),
            Edit::InsertLine { at, line } => self.insert(at, line)?,
            Edit::RemoveLine(id) => {
                let at = self.index_of(id)?;
                Edit::InsertLine { at, line: self.lines.remove(at) }
            }
            Edit::ReplaceLine(line) => {
                let at = self.index_of(line.id)?;
                Edit::ReplaceLine(replace(&mut self.lines[at], line))
            }
            Edit::All(edits) => self.apply_all(edits)?,
        })
    }

    fn insert(&mut self, at: usize, line: Line) -> Result<Edit, Refusal> {
        let id = line.id;
        if self.line(id).is_some() {
            return Err(Refusal::LineExists(id));
        }
        if self.lines.len() >= Self::MOST_LINES {
            return Err(Refusal::TooManyLines);
        }
        self.lines.insert(at.min(self.lines.len()), line);
        Ok(Edit::RemoveLine(id))
    }

    fn index_of(&self, id: LineId) -> Result<usize, Refusal> {
        self.lines.iter().position(|line| line.id == id).ok_or(Refusal::UnknownLine(id))
    }

    fn apply_all(&mut self, edits: Vec<Edit>) -> Result<Edit, Refusal> {
        let mut back = Vec::with_capacity(edits.len());
        for edit in edits {
            match self.apply(edit) {
                Ok(inverse) => back.push(inverse),
                Err(refusal) => {
                    for inverse in back.into_iter().rev() {
                        self.apply(inverse)?;
                    }
                    return Err(refusal);
                }
            }
        }
        back.reverse();
        Ok(Edit::All(back))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::corner::{CornerShape, Which};
    use crate::geometry::Size;
    use crate::line::{Crease, Place, Run, Work};
    use crate::part::{Mat, PanelRef, PartId, PartKind, Placement, Source};
    use crate::stock::StockId;

    fn score(id: u32) -> Line {
        let place = Place::Along { line: LineId(99), run: Run::FULL };
        Line::new(LineId(id), place, Work::Score(Crease::VALLEY))
    }

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.lines = vec![score(1), score(2)];
        document
    }

    #[track_caller]
    fn check(edit: Edit) {
        let before = document();
        let mut after = before.clone();
        let inverse = after.apply(edit).unwrap();
        assert_ne!(after, before);
        after.apply(inverse).unwrap();
        assert_eq!(after, before);
    }

    #[test]
    fn every_edit_is_taken_back_by_its_inverse() {
        check(Edit::SetTitle("Swap".into()));
        check(Edit::SetCredit("Own idea".into()));
        check(Edit::SetUnits(Unit::Millimetre));
        check(Edit::SetGroove(Length::MILLIMETRE));
        check(Edit::SetCutting(Cutting { edge: Length::SIXTEENTH, along_grain: true }));
        check(Edit::SetStock(Stock::plain(Size::parse("A4").unwrap())));
        let further = FurtherStock { id: StockId(1), stock: Stock::plain(Size::parse("A5").unwrap()) };
        check(Edit::SetFurtherStocks(vec![further]));
        let shape = CornerShape::Round(Length::EIGHTH);
        check(Edit::SetCorners(vec![Corner { mark: Point::default(), which: Which::AllOfPanel, shape }]));
        check(Edit::SetBase(None));
        check(Edit::SetSteps(vec![Step::of(vec![LineId(1)])]));
        let mat = Mat { width: Length::INCH, height: Length::INCH };
        let place = Placement::centred(PanelRef::Sheet(Point::default()));
        let source = Source::FolioStock;
        let id = PartId(1);
        let kind = PartKind::Mat(mat);
        check(Edit::SetParts(vec![Part { id, name: String::new(), kind, source, place, also: Vec::new() }]));
        check(Edit::SetMaking(vec![Job::Close]));
        check(Edit::InsertLine { at: 1, line: score(3) });
        check(Edit::RemoveLine(LineId(1)));
        check(Edit::ReplaceLine(Line { work: Work::Cut, ..score(2) }));
        check(Edit::All(vec![Edit::RemoveLine(LineId(2)), Edit::InsertLine { at: 0, line: score(7) }]));
    }

    #[test]
    fn a_refused_part_leaves_all_as_it_was() {
        let mut document = document();
        let before = document.clone();
        let edit = Edit::All(vec![Edit::SetTitle("New".into()), Edit::RemoveLine(LineId(5))]);
        assert_eq!(document.apply(edit), Err(Refusal::UnknownLine(LineId(5))));
        assert_eq!(document.apply(Edit::InsertLine { at: 0, line: score(1) }), Err(Refusal::LineExists(LineId(1))));
        assert_eq!(document, before);
    }
}
