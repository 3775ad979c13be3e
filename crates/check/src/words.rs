//! How findings speak of panels, lines and places.

use crate::Context;
use model::{LineId, PanelId, Point};

impl Context<'_> {
    /// "left flap": a panel's name within a sentence.
    pub(crate) fn panel(&self, id: PanelId) -> String {
        let name = &self.layout.panel(id).name;
        let mut letters = name.chars();
        letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
    }

    /// "the left flap"; a part's own name in quotation marks.
    pub(crate) fn the(&self, id: PanelId) -> String {
        match self.layout.part_of(id) {
            Some(_) => format!("\"{}\"", self.layout.panel(id).name),
            None => format!("the {}", self.panel(id)),
        }
    }

    /// A line's name in quotation marks.
    pub(crate) fn line(&self, id: LineId) -> String {
        format!("\"{}\"", self.layout.line_name(self.document, id))
    }

    /// "3 in from the left and 2 1/2 in from the top".
    pub(crate) fn place(&self, at: Point) -> String {
        let unit = self.document.units;
        format!("{} from the left and {} from the top of the sheet", at.x.readable(unit), at.y.readable(unit))
    }
}

/// With its first letter upper case.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
