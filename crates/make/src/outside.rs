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
        let folio = Folio {
            layout,
            base,
            folds: layout.folds.iter().filter(|fold| panels.contains(&fold.panels[0])).collect(),
        };
        let mut levels: BTreeMap<PanelId, i64> = panels.iter().map(|&panel| (panel, 0)).collect();
        let mut folded = BTreeSet::new();
        for (at, step) in document.steps.iter().enumerate() {
            let now: BTreeSet<LineId> =
                step.lines.iter().copied().filter(|&line| document.step_of(line) == Some(at)).collect();
            folio.pile(&folio.poses(&folded), &now, &mut levels)?;
            folded.extend(now);
        }
        let poses = folio.poses(&folded);
        let closed = |&id: &PanelId| {
            let pose = *poses.get(&id)?;
            let shape =
                if pose.is_level() { pose.seen_from_above(&in_mm(&layout.panel(id).convex)) } else { Vec::new() };
            Some((id, ClosedPanel { pose, level: usize::try_from(*levels.get(&id)?).ok()?, shape }))
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
    layout: &'a Layout,
    base: PanelId,
    folds: Vec<&'a Fold>,
}

impl Folio<'_> {
    /// Where every panel lies with some lines folded as far as they go.
    fn poses(&self, folded: &BTreeSet<LineId>) -> BTreeMap<PanelId, Pose> {
        let mut poses = BTreeMap::from([(self.base, Pose::STILL)]);
        let mut open = vec![self.base];
        while let Some(at) = open.pop() {
            for fold in &self.folds {
                let (Some(next), Some(&pose)) = (fold.across_from(at), poses.get(&at)) else { continue };
                if poses.contains_key(&next) {
                    continue;
                }
                let own =
                    if folded.contains(&fold.line) { turn(self.layout.panel(next), fold) } else { Some(Pose::STILL) };
                poses.insert(next, own.unwrap_or(Pose::STILL).then(&pose));
                open.push(next);
            }
        }
        poses
    }

    /// Puts what moves in a step over or under all that lies still. `None` where it can't be told which.
    fn pile(
        &self,
        poses: &BTreeMap<PanelId, Pose>,
        now: &BTreeSet<LineId>,
        levels: &mut BTreeMap<PanelId, i64>,
    ) -> Option<()> {
        let still = self.reached(self.base, |fold| now.contains(&fold.line));
        let crossings =
            self.folds.iter().filter(|fold| fold.panels.iter().filter(|&panel| still.contains(panel)).count() == 1);
        let mut done: BTreeSet<PanelId> = still.clone();
        for fold in crossings {
            let [from, to] =
                if still.contains(&fold.panels[0]) { fold.panels } else { [fold.panels[1], fold.panels[0]] };
            if done.contains(&to) {
                continue;
            }
            let moving = self.reached(to, |other| still.contains(&other.panels[0]) || still.contains(&other.panels[1]));
            let pose = poses.get(&from).filter(|pose| pose.is_level())?;
            let goes_up = match fold.crease.direction {
                Direction::Valley => pose.ways[2][2] > 0.0,
                Direction::Mountain => pose.ways[2][2] < 0.0,
                Direction::Either => return None,
            };
            let span = |of: &BTreeSet<PanelId>| {
                let mine = || of.iter().filter_map(|panel| levels.get(panel).copied());
                Some((mine().min()?, mine().max()?))
            };
            let ((least, most), (own_least, own_most)) = (span(&done)?, span(&moving)?);
            for panel in &moving {
                let level = levels.get_mut(panel)?;
                // What is turned over lies the other way up.
                *level = if goes_up { most + 1 + (own_most - *level) } else { least - 1 - (*level - own_least) };
            }
            done.extend(moving);
        }
        renumber(levels);
        Some(())
    }

    /// The panels that hang together with one but for some folds.
    fn reached(&self, from: PanelId, is_parted: impl Fn(&Fold) -> bool) -> BTreeSet<PanelId> {
        let (mut reached, mut open) = (BTreeSet::from([from]), vec![from]);
        while let Some(at) = open.pop() {
            for fold in self.folds.iter().filter(|fold| !is_parted(fold)) {
                open.extend(fold.across_from(at).filter(|&next| reached.insert(next)));
            }
        }
        reached
    }
}

/// The same order with the least numbers from 0, so that many steps can't make them grow.
fn renumber(levels: &mut BTreeMap<PanelId, i64>) {
    let used: BTreeSet<i64> = levels.values().copied().collect();
    let numbers: BTreeMap<i64, i64> = used.into_iter().zip(0..).collect();
    for level in levels.values_mut() {
        *level = numbers[level];
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
