//! Marks: a point that stands for the area around it, carried along when lines move.

use crate::geometry::Point;
use crate::layout::{Layout, Panel, PanelId};
use crate::line::LineId;
use std::collections::BTreeSet;

/// Where a mark is after an edit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carried {
    /// It still lies in its area.
    Stays,
    /// Its area moved, and the mark with it.
    Moves(Point),
    /// Its area is gone, and nothing lies where it was.
    Lost,
}

/// Carries marks from one layout to the next: each to the area with the same lines around it, or else to the one that
/// takes most of the old area.
#[derive(Debug)]
pub struct Carrier<'a> {
    old: &'a Layout,
    new: &'a Layout,
    /// What was around each panel and what is; empty when nothing has moved.
    around: Option<[Vec<Surroundings>; 2]>,
}

impl<'a> Carrier<'a> {
    /// From `old` to `new`.
    #[must_use]
    pub fn new(old: &'a Layout, new: &'a Layout) -> Self {
        let same = old.size == new.size && old.lines == new.lines && old.voids == new.voids;
        let around = (!same).then(|| [surroundings(old), surroundings(new)]);
        Self { old, new, around }
    }

    /// Where a mark is now.
    #[must_use]
    pub fn carry(&self, point: Point) -> Carried {
        let (Some(was), Some([before, after])) = (self.old.panel_at(point), &self.around) else {
            return Carried::Stays;
        };
        let same: Vec<&Panel> = self.new.panels.iter().filter(|panel| after[panel.id.0] == before[was.0]).collect();
        let target = match same.as_slice() {
            [one] => Some(*one),
            _ => most_overlapped(self.old.panel(was), self.new),
        };
        let Some(target) = target else { return Carried::Lost };
        if self.new.panel_at(point) == Some(target.id) {
            return Carried::Stays;
        }
        target.inside.map_or(Carried::Lost, Carried::Moves)
    }
}

/// What bounds a panel: which lines, and on which side of them it lies.
type Surroundings = BTreeSet<(Option<LineId>, bool, usize)>;

/// The surroundings of every panel, in the layout's order.
fn surroundings(layout: &Layout) -> Vec<Surroundings> {
    let mut all = vec![Surroundings::new(); layout.panels.len()];
    for stretch in layout.stretches.iter().filter(|stretch| stretch.sides[0] != stretch.sides[1]) {
        let upright = stretch.segment.a.x == stretch.segment.b.x;
        for (side, panel) in stretch.sides.iter().enumerate() {
            let Some(PanelId(panel)) = panel else { continue };
            if stretch.lines.is_empty() {
                all[*panel].insert((None, upright, side));
            }
            all[*panel].extend(stretch.lines.iter().map(|&line| (Some(line), upright, side)));
        }
    }
    all
}

fn most_overlapped<'a>(was: &Panel, new: &'a Layout) -> Option<&'a Panel> {
    let shared = |panel: &Panel| -> f64 {
        let pairs = was.convex.iter().flat_map(|a| panel.convex.iter().map(move |b| (a, b)));
        pairs.map(|(a, b)| overlap_mm2(a, b)).sum()
    };
    let overlaps = new.panels.iter().map(|panel| (shared(panel), panel)).filter(|(area, _)| *area > 0.0);
    overlaps.max_by(|(a, _), (b, _)| a.total_cmp(b)).map(|(_, panel)| panel)
}

/// The area two convex clockwise polygons share, in mm²: one is clipped by each edge of the other in turn
/// (Sutherland and Hodgman 1974). Floats do, since only the largest of several is looked for.
fn overlap_mm2(subject: &[Point], clip: &[Point]) -> f64 {
    let mut shape: Vec<(f64, f64)> = subject.iter().map(|point| point.mm()).collect();
    for (a, b) in crate::polygon::edges(clip) {
        let ((ax, ay), (bx, by)) = (a.mm(), b.mm());
        let inside = |(x, y): (f64, f64)| (bx - ax) * (y - ay) - (by - ay) * (x - ax);
        let mut kept = Vec::with_capacity(shape.len() + 1);
        for i in 0..shape.len() {
            let (p, q) = (shape[i], shape[(i + 1) % shape.len()]);
            let (dp, dq) = (inside(p), inside(q));
            if dp >= 0.0 {
                kept.push(p);
            }
            if (dp > 0.0 && dq < 0.0) || (dp < 0.0 && dq > 0.0) {
                let t = dp / (dp - dq);
                kept.push((p.0 + t * (q.0 - p.0), p.1 + t * (q.1 - p.1)));
            }
        }
        shape = kept;
    }
    let n = shape.len();
    (0..n).map(|i| shape[i].0 * shape[(i + 1) % n].1 - shape[(i + 1) % n].0 * shape[i].1).sum::<f64>() / 2.0
}
