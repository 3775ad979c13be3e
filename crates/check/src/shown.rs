//! What a folio shows of its papers: which faces, how much of each, and how what is printed on them is turned.

use crate::Context;
use allot::Origin;
use fold::{Shown, View, visible};
use model::{Face, PanelId, Part, Pattern, SheetEdge, Side, Stock};

/// What is seen of less of the folio than this counts as not seen: edges that peep out (our choice).
pub(crate) const LEAST_SHARE: f64 = 0.02;

/// A face that is seen.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SeenFace<'a> {
    /// Its panel.
    pub(crate) panel: PanelId,
    /// Which of its faces.
    pub(crate) face: Face,
    /// The paper it is of.
    pub(crate) stock: &'a Stock,
    /// The part it is of; `None` for the folio.
    pub(crate) part: Option<&'a Part>,
    /// What part of all that is seen then it takes, 0 to 1.
    pub(crate) share: f64,
    /// How it is turned to the viewer.
    pub(crate) shown: Shown,
}

impl<'a> SeenFace<'a> {
    /// What it looks like.
    pub(crate) const fn side(&self) -> &'a Side {
        self.stock.side(self.face)
    }

    /// The edge, as its own sheet is drawn, that its pattern's up points to; `None` for a pattern without an up, and where
    /// it isn't known how the part is cut from its paper.
    pub(crate) fn up(&self, context: &Context<'_>) -> Option<SheetEdge> {
        let Pattern::OneWay(edge) = self.side().pattern else { return None };
        let Some(part) = self.part else { return Some(edge) };
        let supply = context.supply?.supplies.iter().find(|supply| supply.part == part.id)?;
        match supply.from {
            // The part is turned clockwise on its paper, so the paper's edges are turned back on it.
            Origin::Offcut { cutout, .. } | Origin::Sheet { cutout, .. } => {
                Some((0..cutout.quarters).fold(edge, |edge, _| before(edge)))
            }
            Origin::Bought | Origin::Missing(_) => None,
        }
    }
}

/// The edge a quarter anticlockwise from another.
pub(crate) const fn before(edge: SheetEdge) -> SheetEdge {
    match edge {
        SheetEdge::Top => SheetEdge::Left,
        SheetEdge::Right => SheetEdge::Top,
        SheetEdge::Bottom => SheetEdge::Right,
        SheetEdge::Left => SheetEdge::Bottom,
    }
}

/// The papers that something of the design is made of: the folio's first.
pub(crate) fn papers<'a>(context: &Context<'a>) -> impl Iterator<Item = &'a Stock> {
    let document = context.document;
    std::iter::once(&document.stock).chain(document.parts.iter().filter_map(|part| part.stock(document)))
}

/// The paper faces that are seen at a time of the folding. What is bought covers and is not told.
pub(crate) fn seen<'a>(context: &Context<'a>, time: f64, view: View) -> Vec<SeenFace<'a>> {
    let (document, layout, folded) = (context.document, context.layout, context.folded);
    let Some((_, folding)) = folded else { return Vec::new() };
    let faces = visible(folding, time, view);
    let all: f64 = faces.iter().map(fold::VisibleFace::area).sum();
    let face = |seen: &fold::VisibleFace| {
        let part = layout.part_of(seen.panel).and_then(|part| document.part(part.id));
        let stock = match part {
            None => &document.stock,
            Some(part) => part.stock(document)?,
        };
        let share = seen.area() / all.max(f64::MIN_POSITIVE);
        Some(SeenFace { panel: seen.panel, face: seen.face, stock, part, share, shown: seen.shown() })
    };
    faces.iter().filter_map(face).collect()
}

/// "40 %": a share, rounded to whole per cent.
pub(crate) fn per_cent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}
