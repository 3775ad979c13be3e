//! Which places of the folio lie on the outside when it is closed, as far as that is certain.
//!
//! A rough folding: where panels come to lie, and which step puts them over or under the others. It says "outside" only
//! of what nothing can lie over; what is tucked, may fold either way or folds with a part is left to be inside.

use crate::lying::Spot;
use crate::plane::{Place, Polygon, in_mm, overlap};
use model::polygon::{Inside, locate};
use model::{Direction, Document, Face, Fold, FoldAngle, Layout, Length, LineId, Panel, PanelId, Point};
use std::collections::{BTreeMap, BTreeSet};

/// How far beside a fold it is looked which panel lies there: less than any panel is wide.
const BESIDE: f64 = 1e-3;

/// The folio, closed.
#[derive(Debug)]
pub(crate) struct Closed {
    panels: BTreeMap<PanelId, ClosedPanel>,
}

#[derive(Debug)]
struct ClosedPanel {
    pose: Pose,
    /// Above what it lies; the same number for what never moved apart.
    level: usize,
    /// As it lies, seen from above; none for what stands upright.
    shape: Vec<Polygon>,
}

/// A motion in space: where the ways right, down and up and the origin of the sheet come to lie.
#[derive(Debug, Clone, Copy)]
struct Pose {
    ways: [[f64; 3]; 3],
    origin: [f64; 3],
}

impl Closed {
    /// The folio closed by all of its steps; `None` where what lies outside can't be told for certain.
    pub(crate) fn of(document: &Document, layout: &Layout) -> Option<Self> {
        let base = layout.base?;
        let panels: &[PanelId] = &layout.folio()?.panels;
        let is_plain = document.steps.iter().all(|step| step.tucks.is_empty() && step.parts.is_empty());
        if !is_plain {
            return None;
        }
        let folio = Folio::new(layout, base, panels);
        let mut levels = vec![0; layout.panels.len()];
        let mut folded = BTreeSet::new();
        for (at, step) in document.steps.iter().enumerate() {
            let now: BTreeSet<LineId> =
                step.lines.iter().copied().filter(|&line| document.step_of(line) == Some(at)).collect();
            folio.pile(&folio.poses(&folded), &now, &mut levels)?;
            folded.extend(now);
        }
        renumber(&mut levels);
        let poses = folio.poses(&folded);
        let closed = |&id: &PanelId| {
            let pose = poses[id.0]?;
            let shape =
                if pose.is_level() { pose.seen_from_above(&in_mm(&layout.panel(id).convex)) } else { Vec::new() };
            Some((id, ClosedPanel { pose, level: usize::try_from(levels[id.0]).ok()?, shape }))
        };
        Some(Self { panels: panels.iter().map(closed).collect::<Option<_>>()? })
    }

    /// Whether nothing of the folio lies over an area of a panel's face, given on the sheet.
    pub(crate) fn is_outside(&self, (id, face): Spot, area: &[Polygon]) -> bool {
        let Some(panel) = self.panels.get(&id).filter(|panel| panel.pose.is_level()) else { return false };
        let area = panel.pose.seen_from_above(area);
        let is_upper = (panel.pose.ways[2][2] > 0.0) == (face == Face::Front);
        let is_clear =
            |other: &ClosedPanel| if is_upper { other.level < panel.level } else { other.level > panel.level };
        let mut others = self.panels.iter().filter(|(other, _)| **other != id);
        others.all(|(_, other)| is_clear(other) || !overlap(&area, &other.shape))
    }
}

/// The folio's panels and the folds between them.
struct Folio<'a> {
    base: PanelId,
    panels: &'a [PanelId],
    folds: Vec<&'a Fold>,
    /// For each panel of the layout, what hangs on it.
    hinges: Vec<Vec<Hinge<'a>>>,
}

/// What hangs on a panel.
struct Hinge<'a> {
    fold: &'a Fold,
    to: PanelId,
    /// How it lies once it is folded; as before where that can't be told.
    turn: Pose,
}

/// With more between the lowest and the highest they are numbered anew, long before they can be too large.
const MOST_LEVELS: i64 = 1 << 40;

impl<'a> Folio<'a> {
    fn new(layout: &'a Layout, base: PanelId, panels: &'a [PanelId]) -> Self {
        let is_own: BTreeSet<PanelId> = panels.iter().copied().collect();
        let folds: Vec<&Fold> = layout.folds.iter().filter(|fold| is_own.contains(&fold.panels[0])).collect();
        let mut hinges: Vec<Vec<Hinge<'a>>> = layout.panels.iter().map(|_| Vec::new()).collect();
        for &fold in &folds {
            let [a, b] = fold.panels;
            for (from, to) in [(a, b), (b, a)].into_iter().filter(|(from, to)| from != to) {
                let turn = turn(layout.panel(to), fold).unwrap_or(Pose::STILL);
                hinges[from.0].push(Hinge { fold, to, turn });
            }
        }
        Self { base, panels, folds, hinges }
    }

    /// Where every panel lies with some lines folded as far as they go, by its number.
    fn poses(&self, folded: &BTreeSet<LineId>) -> Vec<Option<Pose>> {
        let mut poses: Vec<Option<Pose>> = vec![None; self.hinges.len()];
        poses[self.base.0] = Some(Pose::STILL);
        let mut open = vec![self.base];
        while let Some(at) = open.pop() {
            let Some(pose) = poses[at.0] else { continue };
            for hinge in &self.hinges[at.0] {
                if poses[hinge.to.0].is_none() {
                    let own = if folded.contains(&hinge.fold.line) { hinge.turn } else { Pose::STILL };
                    poses[hinge.to.0] = Some(own.then(&pose));
                    open.push(hinge.to);
                }
            }
        }
        poses
    }

    /// Puts what moves in a step over or under all that lies still. `None` where it can't be told which.
    fn pile(&self, poses: &[Option<Pose>], now: &BTreeSet<LineId>, levels: &mut [i64]) -> Option<()> {
        let still = self.reached(self.base, |fold| now.contains(&fold.line));
        let is_still = |panel: PanelId| still[panel.0];
        let crossings = self.folds.iter().filter(|fold| is_still(fold.panels[0]) != is_still(fold.panels[1]));
        let mut done = still.clone();
        for fold in crossings {
            let [from, to] = if is_still(fold.panels[0]) { fold.panels } else { [fold.panels[1], fold.panels[0]] };
            if done[to.0] {
                continue;
            }
            let moving = self.reached(to, |other| is_still(other.panels[0]) || is_still(other.panels[1]));
            let pose = poses[from.0].filter(Pose::is_level)?;
            let goes_up = match fold.crease.direction {
                Direction::Valley => pose.ways[2][2] > 0.0,
                Direction::Mountain => pose.ways[2][2] < 0.0,
                Direction::Either => return None,
            };
            let span = |of: &[bool]| {
                let mine = || self.panels.iter().filter(|panel| of[panel.0]).map(|panel| levels[panel.0]);
                Some((mine().min()?, mine().max()?))
            };
            let ((least, most), (own_least, own_most)) = (span(&done)?, span(&moving)?);
            for panel in self.panels.iter().filter(|panel| moving[panel.0]) {
                let level = &mut levels[panel.0];
                // What is turned over lies the other way up.
                *level = if goes_up { most + 1 + (own_most - *level) } else { least - 1 - (*level - own_least) };
                done[panel.0] = true;
            }
            if most - least > MOST_LEVELS {
                renumber(levels);
            }
        }
        Some(())
    }

    /// Of each panel by its number, whether it hangs together with one but for some folds.
    fn reached(&self, from: PanelId, is_parted: impl Fn(&Fold) -> bool) -> Vec<bool> {
        let (mut reached, mut open) = (vec![false; self.hinges.len()], vec![from]);
        reached[from.0] = true;
        while let Some(at) = open.pop() {
            for hinge in self.hinges[at.0].iter().filter(|hinge| !is_parted(hinge.fold)) {
                if !std::mem::replace(&mut reached[hinge.to.0], true) {
                    open.push(hinge.to);
                }
            }
        }
        reached
    }
}

/// The same order with the least numbers from 0, so that many steps can't make them grow.
fn renumber(levels: &mut [i64]) {
    let mut used = levels.to_vec();
    used.sort_unstable();
    used.dedup();
    for level in levels {
        *level = used.partition_point(|other| other < level).try_into().unwrap_or(i64::MAX);
    }
}

/// How a panel turns about its fold; `None` where the fold has no length or the panel does not lie beside it.
fn turn(panel: &Panel, fold: &Fold) -> Option<Pose> {
    let on = fold.stretches.first()?;
    let ((a, b), degrees) = ((on.a.mm(), on.b.mm()), fold.crease.angle);
    let (x, y) = (b.0 - a.0, b.1 - a.1);
    let length = (x * x + y * y).sqrt();
    let (x, y) = (x / length, y / length);
    let middle = (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
    let lies_at = |side: f64| {
        let at = (middle.0 - y * BESIDE * side, middle.1 + x * BESIDE * side);
        point(at).is_some_and(|at| locate(at, &panel.outline, &panel.holes) == Inside::Yes)
    };
    // With right, down and up as the ways, the panel rises when it turns so that its own side of the axis goes up.
    let side = if lies_at(1.0) {
        1.0
    } else if lies_at(-1.0) {
        -1.0
    } else {
        return None;
    };
    let rise = if fold.crease.direction == Direction::Mountain { -1.0 } else { 1.0 };
    let (cos, sin) = match degrees {
        FoldAngle::Flat => (-1.0, 0.0),
        FoldAngle::Square => (0.0, side * rise),
    };
    Some(Pose::about(a, (x, y), cos, sin))
}

fn point((x, y): Place) -> Option<Point> {
    Some(Point::new(Length::from_mm_rounded(x)?, Length::from_mm_rounded(y)?))
}

impl Pose {
    const STILL: Self = Self { ways: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]], origin: [0.0; 3] };

    /// A turn about an axis in the sheet, through a place and along a way of length 1, which lifts what lies clockwise of
    /// the axis for a positive sine.
    fn about(at: Place, (x, y): Place, cos: f64, sin: f64) -> Self {
        // The way across the axis, clockwise of it as the maker sees it.
        let across = (-y, x);
        let turned = |way: [f64; 3]| {
            let (along, beside, up) = (way[0] * x + way[1] * y, way[0] * across.0 + way[1] * across.1, way[2]);
            let (beside, up) = (beside * cos - up * sin, beside * sin + up * cos);
            [along * x + beside * across.0, along * y + beside * across.1, up]
        };
        let turn = Self { ways: Self::STILL.ways.map(turned), origin: [0.0; 3] };
        let moved = turn.place([at.0, at.1, 0.0]);
        Self { origin: [at.0 - moved[0], at.1 - moved[1], -moved[2]], ..turn }
    }

    fn place(&self, at: [f64; 3]) -> [f64; 3] {
        let along = |i: usize| self.origin[i] + (0..3).map(|way| self.ways[way][i] * at[way]).sum::<f64>();
        [along(0), along(1), along(2)]
    }

    /// This one, and then another.
    fn then(&self, next: &Self) -> Self {
        let origin = next.place(self.origin);
        let way = |way: [f64; 3]| {
            let end = next.place([0, 1, 2].map(|i| self.origin[i] + way[i]));
            [0, 1, 2].map(|i| end[i] - origin[i])
        };
        Self { ways: self.ways.map(way), origin }
    }

    /// Whether the sheet's front looks up or down: all turns are by quarters, so anything between is upright.
    const fn is_level(&self) -> bool {
        self.ways[2][2].abs() > 0.5
    }

    fn seen_from_above(&self, polygons: &[Polygon]) -> Vec<Polygon> {
        let above = |&(x, y): &Place| {
            let at = self.place([x, y, 0.0]);
            (at[0], at[1])
        };
        polygons.iter().map(|polygon| polygon.iter().map(above).collect()).collect()
    }
}
