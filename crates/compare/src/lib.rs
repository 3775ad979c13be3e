//! What two designs differ in, as sentences for a maker: which lines moved and by how much, what was added, what is gone.
//!
//! Lines and parts are the same when they have the same number, as in a variation of a design; between designs that have
//! nothing to do with one another that is chance, and the sentences are true all the same. Lines that follow another one are
//! told as moved: it is where they lie that counts at the table.

mod line;
mod named;
mod paper;
mod part;
mod rest;

use model::{Document, Layout, Length, LineId, PartId};

/// One thing in which a later design differs from an earlier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// What it is about.
    pub about: About,
    /// What is different, as a sentence about the later design.
    pub says: String,
}

/// What a difference is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum About {
    /// The title, the units, the board.
    Design,
    /// A named length.
    Lengths,
    /// The folio's paper, or another.
    Paper,
    /// Lines of the later design that moved alike, and by how much farther from the edge they are measured from; or lines
    /// that are otherwise changed, added or gone.
    Lines(Vec<LineId>, Option<Length>),
    /// Corners.
    Corners,
    /// The panel that lies still.
    Base,
    /// What panels are called.
    Panels,
    /// A part that is changed, added or gone.
    Part(PartId),
    /// The order of making.
    Making,
    /// The closing order.
    Closing,
}

impl About {
    /// One word for it, as in JSON.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Design => "design",
            Self::Lengths => "lengths",
            Self::Paper => "paper",
            Self::Lines(..) => "lines",
            Self::Corners => "corners",
            Self::Base => "base",
            Self::Panels => "panels",
            Self::Part(_) => "part",
            Self::Making => "making",
            Self::Closing => "closing",
        }
    }
}

/// A design with what follows from it.
struct Design<'a> {
    document: &'a Document,
    layout: Layout,
    /// The same with panels called by where they lie alone, where the maker calls any otherwise.
    unnamed: Option<Layout>,
}

impl<'a> Design<'a> {
    fn of(document: &'a Document) -> Self {
        let named = !document.panel_names.is_empty();
        let unnamed = named.then(|| Layout::of(&Document { panel_names: Vec::new(), ..document.clone() }));
        Self { document, layout: Layout::of(document), unnamed }
    }
}

/// All in which `after` differs from `before`, in its units: the design, its paper, lines, corners, parts and orders. What
/// is silenced and what is credited is left out: neither changes the folio.
#[must_use]
pub fn differences(before: &Document, after: &Document) -> Vec<Difference> {
    let mut all = rest::of_design(before, after);
    all.extend(named::differences(before, after));
    all.extend(rest::of_names(before, after));
    all.extend(changes(before, after));
    all
}

/// The same without what changes no folio by itself: title, units, board, named lengths and what panels are called.
#[must_use]
pub fn changes(before: &Document, after: &Document) -> Vec<Difference> {
    let mut all = paper::differences(before, after);
    let (was, is) = (Design::of(before), Design::of(after));
    all.extend(line::differences(&was, &is));
    all.extend(rest::of_folio(&was, &is));
    all.extend(part::differences(&was, &is));
    all.extend(rest::of_orders(before, after));
    all
}

/// What to say of a variation where its idea is credited: which design it is a variation of, then what was changed, a
/// sentence each. `None` for a design that is no variation.
#[must_use]
pub fn credit(document: &Document) -> Option<Vec<String>> {
    let first = document.variation_of.as_deref()?;
    let mut said = vec![format!("This is a variation of \"{}\".", first.title)];
    let changed = changes(first, document);
    if changed.is_empty() {
        said.push("Nothing of the folio was changed.".to_owned());
    }
    said.extend(changed.into_iter().map(|difference| difference.says));
    Some(said)
}

#[cfg(test)]
mod tests;
