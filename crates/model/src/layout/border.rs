//! What bounds panels: which lines or edges of the sheet, and whether paper ends there.

use super::{Layout, PanelId, Stretch};
use crate::corner::Border;
use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{LineId, Work};
use crate::polygon::edges;
use crate::stock::SheetEdge;
use std::collections::{BTreeMap, BTreeSet};

/// The borders of a layout's panels, by stretch.
pub(super) struct Borders<'a> {
    size: Size,
    of: BTreeMap<(Point, Point), &'a Stretch>,
    /// Lines along which paper ends in a curve.
    curved: BTreeSet<LineId>,
}

impl<'a> Borders<'a> {
    pub(super) fn of(document: &Document, layout: &'a Layout) -> Self {
        let key = |stretch: &'a Stretch| ((stretch.segment.a, stretch.segment.b), stretch);
        let bent = |id: &LineId| matches!(layout.lines.get(id), Some(Ok(placed)) if placed.bow != Length::ZERO);
        let curved = |line: &&crate::line::Line| matches!(line.work, Work::Notch(_)) || bent(&line.id);
        Self {
            size: layout.size,
            of: layout.stretches.iter().map(key).collect(),
            curved: document.lines.iter().filter(curved).map(|line| line.id).collect(),
        }
    }

    /// The stretch that is this edge of an outline.
    fn stretch(&self, a: Point, b: Point) -> Option<&'a Stretch> {
        self.of.get(&(a.min(b), a.max(b))).copied()
    }

    /// The borders that lie along an edge of an outline.
    pub(super) fn names(&self, a: Point, b: Point) -> BTreeSet<Border> {
        let (zero, w, h) = (Length::ZERO, self.size.width(), self.size.height());
        let on = |edge: SheetEdge| match edge {
            SheetEdge::Top => (a.y, b.y) == (zero, zero),
            SheetEdge::Right => (a.x, b.x) == (w, w),
            SheetEdge::Bottom => (a.y, b.y) == (h, h),
            SheetEdge::Left => (a.x, b.x) == (zero, zero),
        };
        let edges = SheetEdge::ALL.into_iter().filter(|&edge| on(edge)).map(Border::Edge);
        let lines = self.stretch(a, b).into_iter().flat_map(|stretch| stretch.lines.iter().copied().map(Border::Line));
        edges.chain(lines).collect()
    }

    /// Whether paper ends at an edge of an outline, so that something may be taken off there.
    pub(super) fn ends_paper(&self, a: Point, b: Point) -> bool {
        self.stretch(a, b)
            .is_none_or(|stretch| !matches!(stretch.work, Some(Work::Score(_))) || stretch.sides.contains(&None))
    }

    /// Whether an edge of an outline is a part of a curve.
    pub(super) fn is_curved(&self, a: Point, b: Point) -> bool {
        self.stretch(a, b).is_some_and(|stretch| stretch.lines.iter().any(|line| self.curved.contains(line)))
    }

    /// The pairs of borders that meet in the corners of a panel, free or not.
    pub(super) fn meetings(&self, layout: &Layout, panel: PanelId) -> BTreeSet<(Border, Border)> {
        let names: Vec<BTreeSet<Border>> = edges(&layout.panel(panel).outline).map(|(a, b)| self.names(a, b)).collect();
        let mut out = BTreeSet::new();
        for (i, before) in names.iter().enumerate() {
            for &a in before {
                out.extend(names[(i + 1) % names.len()].iter().flat_map(|&b| [(a, b), (b, a)]));
            }
        }
        out
    }
}
