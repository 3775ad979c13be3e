//! What is drawn on the sheet before it is subdivided: its edges, the lines, and the outlines of what is taken out.

use super::VoidKind;
use crate::curve::{notch_outline, strip_outline};
use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{LineId, Strip, StripSide, Work};
use crate::polygon::{Inside, edges, locate};
use crate::resolve::{LineFault, Placed, Segment, Track};
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
        let stops = Stops::of(lines, size);
        for line in &document.lines {
            let Some(Ok(placed)) = lines.get(&line.id) else { continue };
            match line.work {
                Work::Guide => {}
                Work::Score(_) | Work::Cut => plan.path(&stops.path(placed), Origin::Line(line.id, line.work)),
                Work::Slot(strip) => plan.strip(VoidKind::Slot(line.id), line.id, placed, &stops, strip),
                Work::Trim(strip) => plan.strip(VoidKind::Trim(line.id), line.id, placed, &stops, strip),
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

    fn strip(&mut self, kind: VoidKind, id: LineId, placed: &Placed, stops: &Stops, strip: Strip) {
        let size = stops.size;
        let way = match placed.track {
            Track::Drawn { a, b, .. } => b - a,
            Track::Board { .. } => placed.segment.b - placed.segment.a,
        };
        // Where the line ends at the sheet's edge the strip goes on to it on its far side, which a slant leaves behind;
        // four times its width are enough for slants of 14° and more.
        let past = [placed.segment.a, placed.segment.b].map(|end| {
            let [zero, w, h] = [Length::ZERO, size.width(), size.height()];
            // An edge that the line meets, not one that it runs along.
            let meets_side = way.x != zero && (end.x == zero || end.x == w);
            let meets_end = way.y != zero && (end.y == zero || end.y == h);
            let at_edge = meets_side || meets_end;
            if at_edge { strip.width * 4 } else { Length::ZERO }
        });
        let outline = strip_outline(placed.segment, way, strip, past);
        // Along the line itself it shares the line's own points, so that nothing lies between the two.
        let shared = stops.path(placed);
        let along: Vec<Point> = match strip.side {
            StripSide::Left => [&outline[..2], &reversed(&shared)].concat(),
            StripSide::Right => [shared.as_slice(), &outline[2..]].concat(),
            StripSide::Centred => outline,
        };
        self.take_out(kind, id, clipped(along, size));
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

fn reversed(points: &[Point]) -> Vec<Point> {
    points.iter().rev().copied().collect()
}

/// Where lines stop along each drawn line: all that lie along it are drawn from the same points, so that two of them never
/// run a nanometre beside one another.
struct Stops {
    size: Size,
    /// For each drawn line, by its ends, its points in the order of how far along they lie.
    of: BTreeMap<(Point, Point), BTreeMap<Length, Point>>,
}

impl Stops {
    fn of(lines: &BTreeMap<LineId, Result<Placed, LineFault>>, size: Size) -> Self {
        let mut of: BTreeMap<(Point, Point), BTreeMap<Length, Point>> = BTreeMap::new();
        for placed in lines.values().filter_map(|placed| placed.as_ref().ok()) {
            if let Track::Drawn { a, b, bow: Length::ZERO } = placed.track {
                let own = of.entry((a, b)).or_default();
                // A stop at a crossing goes before one at a distance that is the same to the nanometre.
                for (down, point) in [(placed.from, placed.segment.a), (placed.to, placed.segment.b)] {
                    if own.get(&down).is_none_or(|known| *known == placed.point_at(down, size)) {
                        own.insert(down, point);
                    }
                }
            }
        }
        Self { size, of }
    }

    /// Where a line runs, with the stops of others on its way.
    fn path(&self, placed: &Placed) -> Vec<Point> {
        match placed.track {
            Track::Drawn { a, b, bow: Length::ZERO } => {
                let own = self.of.get(&(a, b)).into_iter().flat_map(|own| own.range(placed.from..=placed.to));
                own.map(|(_, point)| *point).collect()
            }
            _ => placed.path(),
        }
    }
}

/// The part of an outline that lies on the sheet (Sutherland and Hodgman 1974), to the nearest nanometre.
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
