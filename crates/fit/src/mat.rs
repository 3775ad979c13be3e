//! Mats: decorative rectangles, smaller by a margin than the faces that they go on.
//!
//! A face counts as it shows at its best while the folio closes, from the front or from the back: all of its panel where
//! nothing lies on it then, else the part that is seen.

use crate::rectangle::{Rectangle, largest};
use crate::rounding::to_cut;
use fold::{Folding, Region, View, visible};
use glam::{DAffine3, DVec2};
use model::{Document, Face, Layout, Length, PanelId, PartKind, Point};
use std::collections::{BTreeMap, BTreeSet};

/// The usual margin between a mat and the edges of its panel: 1/8 in (common practice, no source).
pub const MARGIN: Length = Length::EIGHTH;

/// What is narrower is no mat but a sliver: 1/2 in (common practice, no source).
pub const LEAST_MAT: Length = Length::from_sixty_fourths(32);

/// Areas that differ by less than this part are one: folded poses are rounded a thousand times finer.
const SAME_AREA: f64 = 1e-6;

/// A moment at which a face is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sight {
    /// How many steps of closing are done.
    pub stage: usize,
    /// From where.
    pub view: View,
}

/// The mat for one face of a panel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MatFit {
    /// The panel.
    pub panel: PanelId,
    /// What it is called.
    pub name: String,
    /// Its face.
    pub face: Face,
    /// How wide the mat is, from side to side of the panel's sheet as drawn; no wider than there is room for, see
    /// [`to_cut`].
    pub width: Length,
    /// How high.
    pub height: Length,
    /// Where its upper left corner lies on the panel's sheet as drawn.
    pub at: Point,
    /// When the face is seen, all of it or some.
    pub seen: Vec<Sight>,
}

impl MatFit {
    /// Whether it is seen on the closed folio.
    #[must_use]
    pub fn is_outside(&self, folding: &Folding) -> bool {
        self.seen.iter().any(|sight| sight.stage == folding.steps())
    }
}

/// Mats of one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MatCut {
    /// How wide.
    pub width: Length,
    /// How high.
    pub height: Length,
    /// Which mats, as places in the list that was grouped.
    pub mats: Vec<usize>,
}

/// What is seen of a face, at its best.
struct Best {
    area: f64,
    time: f64,
    regions: Vec<Region>,
}

/// The mat for every face of every panel that shows at any stage, by panel. Left out: faces with a mat on them already,
/// those of mats, inserts and closures, and mats narrower than [`LEAST_MAT`]. A margin less than nothing is none.
#[must_use]
pub fn mats(document: &Document, layout: &Layout, folding: &Folding, margin: Length) -> Vec<MatFit> {
    let margin = margin.max(Length::ZERO);
    let matted = matted(document, layout);
    let wants_mat = |panel: PanelId, face: Face| {
        let part = layout.part_of(panel).and_then(|part| document.part(part.id));
        let bare = |kind: &PartKind| matches!(kind, PartKind::Mat(_) | PartKind::Insert(_) | PartKind::Closure(_));
        !matted.contains(&(panel, face)) && !part.is_some_and(|part| bare(&part.kind))
    };
    let mut seen: BTreeMap<(PanelId, Face), (Vec<Sight>, Best)> = BTreeMap::new();
    for stage in 0..=folding.steps() {
        let time = moment(stage);
        for view in View::ALL {
            for shown in visible(folding, time, view) {
                if !wants_mat(shown.panel, shown.face) {
                    continue;
                }
                let area = shown.area();
                let (sights, best) = seen
                    .entry((shown.panel, shown.face))
                    .or_insert_with(|| (Vec::new(), Best { area: 0.0, time, regions: Vec::new() }));
                sights.push(Sight { stage, view });
                if area > best.area * (1.0 + SAME_AREA) {
                    *best = Best { area, time, regions: shown.regions };
                }
            }
        }
    }
    let fit = |((panel, face), (seen, best)): ((PanelId, Face), (Vec<Sight>, Best))| {
        let found = on_panel(layout, folding, panel, &best, margin)?;
        let [width, height] = [found.width(), found.height()].map(|length| to_cut(length, document.units));
        let name = layout.panel(panel).name.clone();
        let fit = MatFit { panel, name, face, width, height, at: found.low, seen };
        (width.min(height) >= LEAST_MAT).then_some(fit)
    };
    seen.into_iter().filter_map(fit).collect()
}

/// The same sizes together, the largest first; of equal areas the wider first. A mat is not turned, since its pattern may
/// have an up.
#[must_use]
pub fn cut_list(mats: &[MatFit]) -> Vec<MatCut> {
    let mut by_size: BTreeMap<(i128, Length, Length), Vec<usize>> = BTreeMap::new();
    for (place, mat) in mats.iter().enumerate() {
        let area = i128::from(mat.width.nm()) * i128::from(mat.height.nm());
        by_size.entry((area, mat.width, mat.height)).or_default().push(place);
    }
    by_size.into_iter().rev().map(|((_, width, height), mats)| MatCut { width, height, mats }).collect()
}

/// The faces that have a mat on them.
fn matted(document: &Document, layout: &Layout) -> BTreeSet<(PanelId, Face)> {
    let is_mat = |id| document.part(id).is_some_and(|part| matches!(part.kind, PartKind::Mat(_)));
    let laid = layout.parts.iter().filter(|part| is_mat(part.id)).filter_map(|part| part.laid);
    laid.map(|laid| (laid.on, laid.face)).collect()
}

/// The largest mat on what is seen of a panel.
fn on_panel(layout: &Layout, folding: &Folding, id: PanelId, best: &Best, margin: Length) -> Option<Rectangle> {
    let panel = layout.panel(id);
    if best.area >= panel.area.mm2() * (1.0 - SAME_AREA) {
        return largest(&panel.outline, &panel.holes, margin);
    }
    let place = folding.panels().iter().position(|&own| own == id)?;
    let back = folding.flat_pose(best.time)[place].inverse();
    let found = best.regions.iter().filter_map(|region| {
        let holes: Option<Vec<Vec<Point>>> = region.holes.iter().map(|hole| on_sheet(&back, hole)).collect();
        largest(&on_sheet(&back, &region.outline)?, &holes?, margin)
    });
    let area = |found: &Rectangle| i128::from(found.width().nm()) * i128::from(found.height().nm());
    found.max_by_key(area).map(|found| Rectangle { is_exact: false, ..found })
}

/// An outline on the table as it lies on the panel's own sheet, to the nanometre.
fn on_sheet(back: &DAffine3, path: &[DVec2]) -> Option<Vec<Point>> {
    let corner = |corner: &DVec2| {
        let at = back.transform_point3(corner.extend(0.0)).truncate();
        Some(Point::new(Length::from_mm_rounded(at.x)?, Length::from_mm_rounded(-at.y)?))
    };
    path.iter().map(corner).collect()
}

/// When so many steps are done.
#[expect(clippy::cast_precision_loss, reason = "a count of steps is far below 2^52")]
const fn moment(stage: usize) -> f64 {
    stage as f64
}
