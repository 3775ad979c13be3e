//! What is drawn on the sheet before it is subdivided: its edges, the lines, and the outlines of what is taken out.

use super::VoidKind;
use crate::curve::{notch_outline, strip_outline};
use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{LineId, Strip, Work};
use crate::polygon::{Inside, edges, locate};
use crate::resolve::{LineFault, Placed, Segment};
use std::collections::BTreeMap;

/// Segments to subdivide the sheet by, each with where it comes from, and the regions that are taken out.
#[derive(Debug, Clone)]
pub(super) struct Plan {
    pub(super) segments: Vec<Segment>,
    pub(super) origins: Vec<Origin>,
    regions: Vec<(VoidKind, Vec<Point>)>,
}

/// Where a segment comes from.
#[derive(Debug, Clone, Copy)]
pub(super) enum Origin {
    /// The sheet's edge.
    Edge,
    /// A line, or what is cut round its strip or notch.
    Line(LineId, Work),
    /// A corner taken off.
    Corner,
}

/// Paper taken off a corner.
#[derive(Debug, Clone)]
pub(super) struct CornerCut {
    /// The place of what asks for it in the document's list.
    pub(super) by: usize,
    /// The new boundary.
    pub(super) path: Vec<Point>,
    /// The corner itself.
    pub(super) tip: Point,
}

impl Plan {
    /// The plan of a document's lines.
    pub(super) fn of(document: &Document, lines: &BTreeMap<LineId, Result<Placed, LineFault>>) -> Self {
        let size = document.stock.size;
        let mut plan = Self { segments: Vec::new(), origins: Vec::new(), regions: Vec::new() };
        plan.round(&size.corners(), Origin::Edge);
        for line in &document.lines {
            let Some(Ok(placed)) = lines.get(&line.id) else { continue };
            match line.work {
                Work::Guide => {}
                Work::Score(_) | Work::Cut => plan.path(&placed.path(), Origin::Line(line.id, line.work)),
                Work::Slot(strip) => plan.strip(VoidKind::Slot(line.id), line.id, placed, strip, size),
                Work::Trim(strip) => plan.strip(VoidKind::Trim(line.id), line.id, placed, strip, size),
                Work::Notch(notch) => {
                    let outline = notch_outline(placed.segment, notch);
                    plan.take_out(VoidKind::Notch(line.id), line.id, outline);
                }
            }
        }
        plan
    }

    /// The same with corners taken off.
    pub(super) fn with_corners(&self, cuts: Vec<CornerCut>) -> Self {
        let mut plan = self.clone();
        for cut in cuts {
            plan.path(&cut.path, Origin::Corner);
            let mut region = cut.path;
            region.push(cut.tip);
            plan.regions.push((VoidKind::Corner(cut.by), region));
        }
        plan
    }

    /// What is taken out round a cell with a point `inside` it; `outline` says where a sliver without one is.
    pub(super) fn void_at(&self, inside: Option<Point>, outline: &[Point]) -> Option<VoidKind> {
        let within = |region: &[Point]| match inside {
            Some(point) => locate(point, region, &[]) == Inside::Yes,
            None => outline.iter().all(|&corner| locate(corner, region, &[]) != Inside::No),
        };
        // Slots first, so that paper taken out twice counts as theirs.
        let slots = self.regions.iter().filter(|(kind, _)| matches!(kind, VoidKind::Slot(_)));
        let others = self.regions.iter().filter(|(kind, _)| !matches!(kind, VoidKind::Slot(_)));
        slots.chain(others).find(|(_, region)| within(region)).map(|(kind, _)| *kind)
    }

    fn strip(&mut self, kind: VoidKind, id: LineId, placed: &Placed, strip: Strip, size: Size) {
        let outline = clipped(strip_outline(placed.segment, strip), size);
        self.take_out(kind, id, outline);
    }

    fn take_out(&mut self, kind: VoidKind, id: LineId, outline: Vec<Point>) {
        if outline.len() >= 3 {
            self.round(&outline, Origin::Line(id, Work::Cut));
            self.regions.push((kind, outline));
        }
    }

    fn round(&mut self, outline: &[Point], origin: Origin) {
        for (a, b) in edges(outline) {
            self.segments.push(Segment { a, b });
            self.origins.push(origin);
        }
    }

    fn path(&mut self, points: &[Point], origin: Origin) {
        for pair in points.windows(2) {
            self.segments.push(Segment { a: pair[0], b: pair[1] });
            self.origins.push(origin);
        }
    }
}

/// The part of a convex outline that lies on the sheet (Sutherland and Hodgman 1974), to the nearest nanometre.
fn clipped(outline: Vec<Point>, size: Size) -> Vec<Point> {
    let (zero, w, h) = (Length::ZERO, size.width(), size.height());
    let sides: [&dyn Fn(Point) -> Length; 4] = [&|p| p.x - zero, &|p| w - p.x, &|p| p.y - zero, &|p| h - p.y];
    let mut shape = outline;
    for within in sides {
        let mut kept = Vec::with_capacity(shape.len() + 1);
        for (p, q) in edges(&shape) {
            let (at_p, at_q) = (within(p), within(q));
            if at_p >= zero {
                kept.push(p);
            }
            if (at_p > zero && at_q < zero) || (at_p < zero && at_q > zero) {
                kept.push(p + (q - p).part(at_p, at_p - at_q));
            }
        }
        shape = kept;
    }
    shape
}
