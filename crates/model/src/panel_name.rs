//! What a maker calls panels: a name in place of the one by where a panel lies.

use crate::document::Document;
use crate::edit::Edit;
use crate::geometry::Point;
use crate::layout::{Layout, PanelId};
use crate::mark::{Carried, Carrier};
use std::collections::BTreeSet;

/// The name of the panel of the sheet around a mark. Of several marks in one panel, the first in the document names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanelName {
    /// A point inside the panel.
    pub mark: Point,
    /// What it is called; never empty.
    pub name: String,
}

impl Document {
    /// The most names of panels: as many as a sheet of the most lines that only fold has.
    pub const MOST_PANEL_NAMES: usize = 2_000;

    /// What the maker calls the panel of the sheet; `None` where it is called by where it lies.
    #[must_use]
    pub fn panel_name(&self, layout: &Layout, panel: PanelId) -> Option<&str> {
        let of_it = self.panel_names.iter().find(|named| layout.panel_at(named.mark) == Some(panel));
        of_it.map(|named| named.name.as_str())
    }
}

/// The edit that gives a panel of the sheet a name, or its own name back where that is empty or nothing but blanks. `None`
/// where that changes nothing, and for a panel of a part or one too narrow for a mark.
#[must_use]
pub fn name_panel(document: &Document, layout: &Layout, panel: PanelId, name: &str) -> Option<Edit> {
    let mark = layout.panels.get(panel.0)?.inside?;
    let name = name.trim();
    if document.panel_name(layout, panel).unwrap_or_default() == name {
        return None;
    }
    let is_other = |named: &&PanelName| layout.panel_at(named.mark) != Some(panel);
    let mut names: Vec<PanelName> = document.panel_names.iter().filter(is_other).cloned().collect();
    if !name.is_empty() {
        names.push(PanelName { mark, name: name.to_owned() });
    }
    Some(Edit::SetPanelNames(names))
}

/// Carries the marks of names along to the next state of a document. `None` where that changes nothing.
pub(crate) fn carried(document: &Document, next: &Document, carrier: &Carrier<'_>) -> Option<Edit> {
    let had: BTreeSet<Point> = document.panel_names.iter().map(|named| named.mark).collect();
    let mut names = next.panel_names.clone();
    for named in names.iter_mut().filter(|named| had.contains(&named.mark)) {
        if let Carried::Moves(to) = carrier.carry(named.mark) {
            named.mark = to;
        }
    }
    (names != next.panel_names).then_some(Edit::SetPanelNames(names))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{move_line, perform};
    use crate::geometry::Size;
    use crate::length::{Length, Unit};
    use crate::line::{Crease, Datum, Line, LineId, Place, Run, Work};
    use crate::turn::Turn;

    /// A square of 12 in with upright scores at 3 and 9 in, the middle panel lying still.
    fn thirds() -> Document {
        let size = Size::new(Length::INCH * 12, Length::INCH * 12).unwrap();
        let mut document = Document::new(size, Unit::Inch);
        for (id, at) in [(1, 3), (2, 9)] {
            let place =
                Place::Measured { turn: Turn::None, from: Datum::Edge, distance: Length::INCH * at, run: Run::FULL };
            let line =
                Line { id: LineId(id), name: String::new(), place, work: Work::Score(Crease::VALLEY), locked: false };
            document.lines.push(line);
        }
        document
    }

    fn names(layout: &Layout) -> Vec<&str> {
        layout.panels.iter().map(|panel| panel.name.as_str()).collect()
    }

    fn named(document: &Document, panel: usize, name: &str) -> Document {
        let layout = Layout::of(document);
        let edit = name_panel(document, &layout, layout.panels[panel].id, name).unwrap();
        perform(document, &layout, edit).unwrap().document
    }

    #[test]
    fn a_panel_is_called_as_the_maker_says_and_all_names_differ() {
        let document = thirds();
        assert_eq!(names(&Layout::of(&document)), ["Left flap", "Base", "Right flap"]);
        let document = named(&document, 2, " Address side ");
        assert_eq!(names(&Layout::of(&document)), ["Left flap", "Base", "Address side"]);
        // A name that another panel has by where it lies, and the number that would tell them apart.
        let taken = named(&named(&document, 2, "Left flap"), 1, "Left flap 2");
        assert_eq!(names(&Layout::of(&taken)), ["Left flap 3", "Left flap 2", "Left flap"]);
        let alike = named(&document, 0, "Address side");
        assert_eq!(names(&Layout::of(&alike)), ["Address side 2", "Base", "Address side"]);
        // Its own name again.
        let plain = named(&document, 2, "  ");
        assert_eq!((names(&Layout::of(&plain)), plain.panel_names.len()), (vec!["Left flap", "Base", "Right flap"], 0));
        let layout = Layout::of(&document);
        assert_eq!(name_panel(&document, &layout, layout.panels[2].id, "Address side"), None, "it is that already");
    }

    #[test]
    fn a_name_goes_where_its_panel_goes() {
        let document = named(&thirds(), 2, "Address side");
        let layout = Layout::of(&document);
        // Past where the mark lay.
        let edit = move_line(&document, &layout, LineId(2), Length::INCH * 11).unwrap();
        let moved = perform(&document, &layout, edit).unwrap();
        assert_ne!(moved.document.panel_names, document.panel_names);
        assert_eq!(names(&moved.layout), ["Left flap", "Base", "Address side"]);
        let mut back = moved.document.clone();
        back.apply(moved.inverse).unwrap();
        assert_eq!(back, document);
    }

    #[test]
    fn no_more_are_named_than_a_document_may_hold() {
        let mut document = thirds();
        let mark = Point::new(Length::INCH, Length::INCH);
        let many = vec![PanelName { mark, name: "Flap".to_owned() }; Document::MOST_PANEL_NAMES + 1];
        let refused = document.apply(Edit::SetPanelNames(many)).unwrap_err();
        assert_eq!(refused.to_string(), "a design names at most 2000 panels");
        assert_eq!(document.panel_names, []);
    }
}
