//! What the maker wants to hear no more of: what one rule of the checker says of one place, and why that is as she wants it.

use crate::document::Document;
use crate::edit::Edit;
use crate::geometry::Point;
use crate::layout::{Layout, PanelId};
use crate::line::LineId;
use crate::mark::{Carried, Carrier};
use crate::part::{PanelRef, PartId};
use std::collections::BTreeSet;

/// A rule silenced for one place. A place is known by the panels and lines that are spoken of, so it is the same place
/// when they move.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Silence {
    /// The rule's name, such as `off-groove`. One that no rule has silences nothing.
    pub rule: String,
    /// The panels spoken of.
    pub panels: Vec<PanelRef>,
    /// The lines of the sheet spoken of.
    pub lines: Vec<LineId>,
    /// The lines of parts spoken of, by their numbers on the part's own little sheet.
    pub part_lines: Vec<(PartId, LineId)>,
    /// The very place on the sheet, where the same panels and lines have several.
    pub at: Option<Point>,
    /// Why that is as the maker wants it.
    pub reason: String,
}

impl Silence {
    /// The most panels, and the most lines, that one speaks of.
    pub const MOST_SPOKEN_OF: usize = 200;

    /// The panels spoken of, as they are numbered in a layout; those that are gone are left out.
    #[must_use]
    pub fn panel_ids(&self, layout: &Layout) -> BTreeSet<PanelId> {
        self.panels.iter().filter_map(|&panel| layout.panel_of(panel)).collect()
    }

    /// The lines spoken of, by their numbers among all lines; those of parts without a place are left out.
    #[must_use]
    pub fn line_ids(&self, layout: &Layout) -> BTreeSet<LineId> {
        let of_part = |&(part, line): &(PartId, LineId)| layout.part(part)?.lines.get(&line).copied();
        self.lines.iter().copied().chain(self.part_lines.iter().filter_map(of_part)).collect()
    }

    /// Whether all that it speaks of is still in the document.
    fn has_place(&self, document: &Document) -> bool {
        let has_part = |id: PartId| document.part(id).is_some();
        let has_panel = |panel: &PanelRef| match panel {
            PanelRef::Sheet(_) => true,
            PanelRef::Part(id, _) => has_part(*id),
        };
        self.panels.iter().all(has_panel)
            && self.lines.iter().all(|&id| document.line(id).is_some())
            && self.part_lines.iter().all(|&(id, _)| has_part(id))
    }

    /// Moves each mark by which it names a panel.
    pub(crate) fn move_marks(&mut self, to: impl Fn(Point) -> Point) {
        for panel in &mut self.panels {
            if let PanelRef::Sheet(mark) = panel {
                *mark = to(*mark);
            }
        }
    }
}

impl Document {
    /// The most places at which rules are silenced: more than a maker looks through.
    pub const MOST_SILENCES: usize = 500;
}

/// Carries the marks of silences along to the next state of a document, and takes out those whose lines or parts are gone.
/// `None` where that changes nothing.
pub(crate) fn carried(document: &Document, next: &Document, carrier: &Carrier<'_>) -> Option<Edit> {
    let had: BTreeSet<Point> =
        document.silences.iter().flat_map(|silence| &silence.panels).filter_map(|panel| panel.mark()).collect();
    let mut silences = next.silences.clone();
    silences.retain(|silence| silence.has_place(next));
    for silence in &mut silences {
        silence.move_marks(|mark| match carrier.carry(mark) {
            Carried::Moves(to) if had.contains(&mark) => to,
            _ => mark,
        });
    }
    (silences != next.silences).then_some(Edit::SetSilences(silences))
}
