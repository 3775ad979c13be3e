//! Two designs side by side: their flat sheets, where what is different lies on each, and what to say of it.

use compare::{About, Difference};
use draw::artwork::Printed;
use draw::board::Board;
use draw::laid::{LaidLook, laid_parts, printed_laid_nodes};
use draw::list::Node;
use draw::sheet::{SheetLook, sheet_nodes};
use kurbo::Point;
use model::{Document, Layout, LineId, PartId, Turn};
use std::collections::BTreeMap;

/// Two designs, the earlier one first.
#[derive(Debug)]
pub(crate) struct Comparison {
    /// What it is called.
    pub(crate) title: &'static str,
    /// What either side is.
    pub(crate) words: [&'static str; 2],
    /// What is said before all differences.
    pub(crate) heading: String,
    /// Both sheets.
    pub(crate) sides: [Side; 2],
    /// What is different, a sentence each.
    pub(crate) says: Vec<Difference>,
}

/// One of the designs as it is drawn.
#[derive(Debug)]
pub(crate) struct Side {
    /// What it is called.
    pub(crate) name: String,
    /// Its sheet.
    pub(crate) board: Board,
    /// What is drawn of it.
    pub(crate) nodes: Vec<Node>,
    lines: BTreeMap<LineId, Vec<Point>>,
    parts: BTreeMap<PartId, Vec<Vec<Point>>>,
}

/// Where something lies on a sheet, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Mark<'a> {
    /// Along a line.
    Line(&'a [Point]),
    /// Within outlines.
    Part(&'a [Vec<Point>]),
}

impl Comparison {
    /// A variation beside the design that it came from; `None` for a design that is no variation.
    pub(crate) fn of_variation(document: &Document) -> Option<Self> {
        let first = document.variation_of.as_deref()?;
        let says = compare::changes(first, document);
        let none = if says.is_empty() { " Nothing of the folio was changed." } else { "" };
        let heading = format!("This is a variation of \"{}\".{none}", first.title);
        let (title, words) = ("What was changed", ["Before", "After"]);
        Some(Self { title, words, heading, sides: [Side::of(first), Side::of(document)], says })
    }

    /// The open design beside another one, which is taken as the earlier.
    pub(crate) fn with(other: &Document, document: &Document, file: &str) -> Self {
        let says = compare::differences(other, document);
        let heading = match says.as_slice() {
            [] => format!("This design and the one in \"{file}\" are the same."),
            _ => format!("What this design differs in from the one in \"{file}\":"),
        };
        let mut sides = [Side::of(other), Side::of(document)];
        sides[0].name = format!("{} ({file})", sides[0].name);
        Self { title: "What is different", words: ["The other", "This one"], heading, sides, says }
    }

    /// Whether a sentence is about something that lies on one of the sheets.
    pub(crate) fn is_seen(&self, number: usize) -> bool {
        self.sides.iter().any(|side| self.marks(side, number).next().is_some())
    }

    /// Where that which a sentence is about lies on one of the sheets.
    pub(crate) fn marks<'a>(&self, side: &'a Side, number: usize) -> impl Iterator<Item = Mark<'a>> {
        let about = self.says.get(number).map(|difference| &difference.about);
        let (lines, part) = match about {
            Some(About::Lines(lines, _)) => (lines.clone(), None),
            Some(About::Part(part)) => (Vec::new(), Some(*part)),
            _ => (Vec::new(), None),
        };
        let lines = lines.into_iter().filter_map(|line| Some(Mark::Line(side.lines.get(&line)?)));
        lines.chain(part.and_then(|part| Some(Mark::Part(side.parts.get(&part)?))))
    }
}

impl Side {
    fn of(document: &Document) -> Self {
        let layout = Layout::of(document);
        let board = Board { size: layout.size, turn: Turn::None };
        let look = SheetLook { turn: Turn::None, names: true, distances: false };
        let mut nodes = sheet_nodes(document, &layout, &look);
        let placed = layout.lines.iter().filter_map(|(id, placed)| Some((*id, placed.as_ref().ok()?)));
        let path = |placed: &model::Placed| placed.path().into_iter().map(|point| board.at(point)).collect();
        let lines = placed.map(|(id, placed)| (id, path(placed))).collect();
        let mut parts = BTreeMap::new();
        if let Some(assembly) = fold::assemble(document, &layout) {
            let folding = fold::close(&assembly);
            let look = LaidLook { names: true, glue: false };
            nodes.extend(printed_laid_nodes(&layout, (&assembly, &folding), board, look, &Printed::NOTHING));
            let laid = laid_parts(&layout, &assembly, &folding, board);
            parts = laid.into_iter().map(|part| (part.id, part.outlines)).collect();
        }
        Self { name: document.title.clone(), board, nodes, lines, parts }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Edit, Length, Size, Unit};

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 3), (2, 9)] {
            let edit = add_line(&document, measured_score(LineId(id), Turn::None, Length::INCH * inches));
            document.apply(edit).unwrap();
        }
        document
    }

    #[test]
    fn a_moved_line_is_marked_where_it_was_and_where_it_is() {
        let first = document();
        let mut varied = first.variation("Deeper".to_owned());
        let moved = measured_score(LineId(1), Turn::None, Length::INCH * 4);
        varied.apply(Edit::ReplaceLine(moved)).unwrap();
        let comparison = Comparison::of_variation(&varied).unwrap();
        assert_eq!(comparison.says.len(), 1);
        // By hand: an inch is 25.4 mm.
        for (side, across) in comparison.sides.iter().zip([76.2, 101.6]) {
            let marks: Vec<Mark<'_>> = comparison.marks(side, 0).collect();
            let [Mark::Line(path)] = marks.as_slice() else { panic!("{marks:?}") };
            assert!(path.iter().all(|point| (point.x - across).abs() < 1e-9), "{path:?}");
        }
    }

    #[test]
    fn a_line_that_is_gone_is_marked_on_the_earlier_sheet_alone() {
        let first = document();
        let mut other = first.clone();
        other.lines.retain(|line| line.id != LineId(2));
        let comparison = Comparison::with(&first, &other, "swap.folio");
        let counts = comparison.sides.each_ref().map(|side| comparison.marks(side, 0).count());
        assert_eq!(counts, [1, 0]);
        assert!(comparison.is_seen(0) && !comparison.is_seen(1));
        let same = Comparison::with(&first, &first, "swap.folio");
        assert!(same.says.is_empty() && same.heading.ends_with("are the same."), "{}", same.heading);
    }

    #[test]
    fn parts_are_marked_by_their_outlines() {
        let other = file::from_text(file::starters::ALL[1].text).unwrap();
        let mut changed = other.clone();
        let at = changed.parts.iter().rposition(|part| part.kind.is_on_a_panel()).unwrap();
        let gone = changed.parts.remove(at);
        let comparison = Comparison::with(&other, &changed, "swap.folio");
        let number = comparison.says.iter().position(|says| says.about == About::Part(gone.id)).unwrap();
        let marks: Vec<Mark<'_>> = comparison.marks(&comparison.sides[0], number).collect();
        assert!(matches!(marks.as_slice(), [Mark::Part(outlines)] if !outlines.is_empty()), "{marks:?}");
        assert_eq!(comparison.marks(&comparison.sides[1], number).count(), 0);
        assert!(Comparison::of_variation(&other).is_none());
    }
}
