//! The folio taken out of a layout: its panels in world coordinates, and the joints between them.

use crate::vertex::{Vertex, vertices};
use glam::{DVec2, DVec3};
use model::{Crease, Document, FoldId, Layout, LineId, PanelId, Point, Segment};
use std::collections::{BTreeMap, BTreeSet};

/// A folio ready to be folded.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    /// Its panels, in the layout's order.
    pub panels: Vec<PanelShape>,
    /// Where they are joined.
    pub joints: Vec<Joint>,
    /// The panel that lies still, as a place in `panels`.
    pub base: usize,
    /// What folds in each step of the document.
    pub steps: Vec<StepJoints>,
    /// Scores with folds in the folio that no step names.
    pub loose: Vec<LineId>,
    /// Thickness of the paper, in mm; zero when unknown.
    pub caliper: f64,
    /// Crossings with paper all round.
    pub(crate) vertices: Vec<Vertex>,
    /// For each panel, its way from the base.
    pub(crate) ways: Vec<Way>,
}

/// How a panel is reached from the base. The fewer folds, then the earlier the last of them folds, the less.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Way {
    /// How many folds lie between it and the base.
    pub(crate) folds: usize,
    /// How many steps are over when the last of them has folded.
    pub(crate) over: usize,
}

/// A panel as it lies in the flat sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelShape {
    /// Its place in the layout.
    pub id: PanelId,
    /// Its outer boundary, anticlockwise seen from the front.
    pub outline: Vec<DVec2>,
    /// Boundaries of openings in it, clockwise.
    pub holes: Vec<Vec<DVec2>>,
    /// The same area as convex polygons, anticlockwise.
    pub convex: Vec<Vec<DVec2>>,
}

/// A fold between two panels of the folio.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// The fold in the layout.
    pub fold: FoldId,
    /// The line it lies on.
    pub line: LineId,
    /// The panels, as places in [`Assembly::panels`].
    pub panels: [usize; 2],
    /// Where, each stretch so directed that the first panel lies to its left, seen from the front.
    pub stretches: Vec<(DVec2, DVec2)>,
    /// The same, exact, as the layout has them.
    pub segments: Vec<Segment>,
    /// Which way it folds and how far.
    pub crease: Crease,
}

/// What folds in one step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StepJoints {
    /// Places in [`Assembly::joints`], ascending. Empty when the step's lines fold nothing that has not folded before.
    pub joints: Vec<usize>,
}

/// A sheet point in the world's plane, in mm.
#[must_use]
pub fn to_world(point: Point) -> DVec2 {
    let (x, y) = point.mm();
    DVec2::new(x, -y)
}

/// Takes the folio out of `layout`, which belongs to `document`. `None` when no base is marked.
#[must_use]
pub fn assemble(document: &Document, layout: &Layout) -> Option<Assembly> {
    let folio = layout.folio()?;
    let places: BTreeMap<PanelId, usize> = folio.panels.iter().enumerate().map(|(i, &id)| (id, i)).collect();
    let base = *places.get(&layout.base?)?;
    let panels: Vec<PanelShape> = folio.panels.iter().map(|&id| shape(layout, id)).collect();
    let mut joints = Vec::new();
    for fold in &layout.folds {
        if let [Some(&a), Some(&b)] = fold.panels.map(|panel| places.get(&panel)) {
            joints.push(Joint {
                fold: fold.id,
                line: fold.line,
                panels: [a, b],
                stretches: fold.stretches.iter().map(|&stretch| directed(layout, fold.panels[0], stretch)).collect(),
                segments: fold.stretches.clone(),
                crease: fold.crease,
            });
        }
    }
    let steps = steps(document, &joints);
    let named: BTreeSet<LineId> = document.steps.iter().flat_map(|step| step.lines.iter().copied()).collect();
    let scored: BTreeSet<LineId> = joints.iter().map(|joint| joint.line).collect();
    let vertices = vertices(layout, &places, &joints);
    let loose = scored.difference(&named).copied().collect();
    let caliper = document.stock.thickness().map_or(0.0, |caliper| caliper.mm().max(0.0));
    let ways = ways(folio.panels.len(), base, &joints, &steps);
    Some(Assembly { panels, joints, base, steps, loose, caliper, vertices, ways })
}

impl Assembly {
    /// The place in `panels` of a panel of the layout; `None` when it is not of the folio.
    #[must_use]
    pub fn place(&self, id: PanelId) -> Option<usize> {
        self.panels.binary_search_by_key(&id, |panel| panel.id).ok()
    }
}

impl PanelShape {
    /// A point of the flat sheet's plane as a place in space.
    #[must_use]
    pub const fn lifted(point: DVec2) -> DVec3 {
        DVec3::new(point.x, point.y, 0.0)
    }
}

/// Each line folds once: in the first step that names it.
fn steps(document: &Document, joints: &[Joint]) -> Vec<StepJoints> {
    let mut by_line: BTreeMap<LineId, Vec<usize>> = BTreeMap::new();
    for (j, joint) in joints.iter().enumerate() {
        by_line.entry(joint.line).or_default().push(j);
    }
    let mut seen = BTreeSet::new();
    let mut out = Vec::with_capacity(document.steps.len());
    for step in &document.steps {
        let lines: BTreeSet<LineId> = step.lines.iter().copied().filter(|&line| seen.insert(line)).collect();
        let mut of_step: Vec<usize> = lines.iter().filter_map(|line| by_line.get(line)).flatten().copied().collect();
        of_step.sort_unstable();
        out.push(StepJoints { joints: of_step });
    }
    out
}

/// For each panel, its way from the base by the fewest folds.
fn ways(panels: usize, base: usize, joints: &[Joint], steps: &[StepJoints]) -> Vec<Way> {
    let mut over = vec![0; joints.len()];
    for (step, of_step) in steps.iter().enumerate() {
        for &joint in &of_step.joints {
            over[joint] = step + 1;
        }
    }
    let mut around: Vec<Vec<usize>> = vec![Vec::new(); panels];
    for (j, joint) in joints.iter().enumerate() {
        for panel in joint.panels {
            around[panel].push(j);
        }
    }
    let mut ways: Vec<Option<Way>> = vec![None; panels];
    let start = Way { folds: 0, over: 0 };
    ways[base] = Some(start);
    let mut reached = vec![(base, start)];
    let mut next = 0;
    while let Some(&(at, way)) = reached.get(next) {
        next += 1;
        for &j in &around[at] {
            for other in joints[j].panels {
                if ways[other].is_none() {
                    let way = Way { folds: way.folds + 1, over: way.over.max(over[j]) };
                    ways[other] = Some(way);
                    reached.push((other, way));
                }
            }
        }
    }
    let nowhere = Way { folds: usize::MAX, over: usize::MAX };
    ways.into_iter().map(|way| way.unwrap_or(nowhere)).collect()
}

fn shape(layout: &Layout, id: PanelId) -> PanelShape {
    let panel = layout.panel(id);
    // Clockwise as the maker sees it, so to be turned round for a plane whose y runs up.
    let turned = |outline: &Vec<Point>| outline.iter().rev().map(|&point| to_world(point)).collect::<Vec<_>>();
    PanelShape {
        id,
        outline: turned(&panel.outline),
        holes: panel.holes.iter().map(turned).collect(),
        convex: panel.convex.iter().map(turned).collect(),
    }
}

/// A stretch of `panel`'s boundary, in the direction that has the panel on its left as seen from the front.
fn directed(layout: &Layout, panel: PanelId, stretch: Segment) -> (DVec2, DVec2) {
    let panel = layout.panel(panel);
    let way = stretch.b - stretch.a;
    let along = |&(p, q): &(Point, Point)| {
        let (from, to) = ((p - stretch.a).dot(way), (q - stretch.a).dot(way));
        let on = way.cross(p - stretch.a) == 0 && way.cross(q - stretch.a) == 0;
        on && from.min(to) < way.dot(way) && from.max(to) > 0
    };
    let mut around = std::iter::once(&panel.outline).chain(&panel.holes).flat_map(|path| model::polygon::edges(path));
    // The layout's outlines have their panel on the right.
    match around.find(along) {
        Some((p, q)) if (q - p).dot(way) > 0 => (to_world(stretch.b), to_world(stretch.a)),
        _ => (to_world(stretch.a), to_world(stretch.b)),
    }
}
