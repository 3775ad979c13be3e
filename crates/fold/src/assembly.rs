//! What is folded, as one structure: panels of the folio and of its parts, the joints between them, and glue.
//!
//! [`assemble`] takes the folio and its parts out of a layout, by way of a [`Blueprint`](crate::Blueprint).

use crate::furnish::{PartRefusal, furnished};
use crate::relations::Relations;
use crate::tuck::Tuck;
use crate::vertex::{Vertex, vertices};
use glam::{DAffine3, DVec2, DVec3};
use model::{Crease, Document, Face, FoldId, Layout, LineId, PanelId, PartId, Point, Segment};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// A folio, with its parts, ready to be folded.
#[derive(Debug, Clone, PartialEq)]
pub struct Assembly {
    /// Its panels, by their number in the layout.
    pub panels: Vec<PanelShape>,
    /// Where they are joined.
    pub joints: Vec<Joint>,
    /// Where they are glued to one another.
    pub bonds: Vec<Bond>,
    /// The panel that lies still, as a place in `panels`.
    pub base: usize,
    /// What folds in each step of the document.
    pub steps: Vec<StepJoints>,
    /// Scores with folds in the folio that no step names.
    pub loose: Vec<LineId>,
    /// Parts that are in the layout and can't be put together with the rest.
    pub left_out: BTreeMap<PartId, PartRefusal>,
    /// Crossings with paper all round.
    pub(crate) vertices: Vec<Vertex>,
    /// For each panel, its way from the base.
    pub(crate) ways: Vec<Way>,
    /// How everything lies before the first step.
    pub(crate) start: Start,
}

/// How everything lies before the first step: the folio flat, parts where they are glued.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Start {
    /// Where each panel is.
    pub(crate) frames: Vec<DAffine3>,
    /// How far each joint is folded already, in quarter turns, valleys positive.
    pub(crate) turned: Vec<i32>,
    /// What lies on what.
    pub(crate) relations: Relations,
}

/// Two panels glued together. They stay in place to one another, and nothing lies between them over the glue.
#[derive(Debug, Clone, PartialEq)]
pub struct Bond {
    /// The panels, as places in [`Assembly::panels`].
    pub panels: [usize; 2],
    /// The face of each that the glue is on.
    pub faces: [Face; 2],
    /// Where, as convex polygons on the flat sheet under the first panel, in mm.
    pub area: Vec<Vec<DVec2>>,
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
    /// How thick its paper is, in mm; zero when unknown.
    pub caliper: f64,
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
    /// What is tucked under something, and not left lying where it lands.
    pub tucks: Vec<Tuck>,
}

/// A sheet point in the world's plane, in mm.
#[must_use]
pub fn to_world(point: Point) -> DVec2 {
    let (x, y) = point.mm();
    DVec2::new(x, -y)
}

/// Takes the folio with its parts out of `layout`, which belongs to `document`. `None` when no base is marked.
#[must_use]
pub fn assemble(document: &Document, layout: &Layout) -> Option<Assembly> {
    let folio = layout.folio()?;
    let mut assembly = furnished(document, layout, layout.base?)?;
    let places: BTreeMap<PanelId, usize> = folio.panels.iter().enumerate().map(|(i, &id)| (id, i)).collect();
    // The layout knows of voids that touch a crossing in a point.
    let mut known = vertices(layout, &places, &assembly.joints);
    let is_of_a_part = |vertex: &Vertex| vertex.spokes.iter().all(|spoke| spoke.panel >= places.len());
    known.extend(assembly.vertices.drain(..).filter(is_of_a_part));
    assembly.vertices = known;
    Some(assembly)
}

impl Assembly {
    /// The place in `panels` of a panel of the layout; `None` when it is not of the folio.
    #[must_use]
    pub fn place(&self, id: PanelId) -> Option<usize> {
        self.panels.binary_search_by_key(&id, |panel| panel.id).ok()
    }

    /// How a panel (a place in [`Assembly::panels`]) lies before the first step, from its own sheet's plane to the folio's;
    /// `None` where it doesn't lie flat then.
    #[must_use]
    pub fn lying(&self, panel: usize) -> Option<DAffine3> {
        let frame = *self.start.frames.get(panel)?;
        (frame.matrix3.z_axis.z.abs() > 0.5).then_some(frame)
    }

    /// The same with other steps, such as those of a [`Plan`](crate::Plan).
    #[must_use]
    pub fn with_steps(&self, steps: Vec<StepJoints>) -> Self {
        let named: BTreeSet<LineId> =
            steps.iter().flat_map(|step| &step.joints).map(|&joint| self.joints[joint].line).collect();
        let is_open = |(joint, turned): &(&Joint, &i32)| **turned == 0 && !named.contains(&joint.line);
        let loose = self.joints.iter().zip(&self.start.turned).filter(is_open).map(|(joint, _)| joint.line);
        let loose: BTreeSet<LineId> = loose.collect();
        let ways = ways(self.panels.len(), self.base, &self.joints, &self.bonds, &steps);
        Self { loose: loose.into_iter().collect(), ways, steps, ..self.clone() }
    }
}

impl PanelShape {
    /// A point of the flat sheet's plane as a place in space.
    #[must_use]
    pub const fn lifted(point: DVec2) -> DVec3 {
        DVec3::new(point.x, point.y, 0.0)
    }
}

/// For each panel, its way from the base by the fewest folds. What is glued on is no fold farther.
pub(crate) fn ways(panels: usize, base: usize, joints: &[Joint], bonds: &[Bond], steps: &[StepJoints]) -> Vec<Way> {
    let mut over = vec![0; joints.len()];
    for (step, of_step) in steps.iter().enumerate() {
        for &joint in &of_step.joints {
            over[joint] = step + 1;
        }
    }
    let mut around: Vec<Vec<(usize, usize, usize)>> = vec![Vec::new(); panels];
    let folds = joints.iter().zip(&over).map(|(joint, &over)| (joint.panels, 1, over));
    for ([a, b], folds, over) in folds.chain(bonds.iter().map(|bond| (bond.panels, 0, 0))) {
        around[a].push((b, folds, over));
        around[b].push((a, folds, over));
    }
    let mut ways: Vec<Option<Way>> = vec![None; panels];
    let mut reached = VecDeque::from([(base, Way { folds: 0, over: 0 })]);
    while let Some((at, way)) = reached.pop_front() {
        if ways[at].is_some() {
            continue;
        }
        ways[at] = Some(way);
        for &(other, folds, over) in &around[at] {
            let on = Way { folds: way.folds + folds, over: way.over.max(over) };
            if folds == 0 {
                reached.push_front((other, on));
            } else {
                reached.push_back((other, on));
            }
        }
    }
    let nowhere = Way { folds: usize::MAX, over: usize::MAX };
    ways.into_iter().map(|way| way.unwrap_or(nowhere)).collect()
}
