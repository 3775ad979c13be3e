//! The closed state as figures for the solver of layer orders: one for each plane in which panels lie on one another.
//!
//! A plane does not stand alone where walls do on its panels. Such a wall is laid over to one side in thought, the same
//! side for all walls on a line, as a narrow stub on top of everything there (or under it, if it stands down): what can't
//! cross the wall can't cross its stub. Walls on one line keep the order in which they stand, so that of their stubs
//! is known.

use crate::assembly::Joint;
use crate::glued::is_glued;
use crate::height::up;
use crate::layer::Lie;
use crate::overlap::middle;
use crate::relations::Relations;
use crate::stage::{Bench, Stage};
use glam::{DAffine3, DVec2, DVec3};
use model::{Direction, Face};
use order::{Figure, Fold, Given, SAME_PLACE};

/// Planes nearer than this, in mm, are one: as [`crate::layer`] has it, with room for rounding.
const SAME_PLANE: f64 = 2e-3;

/// How far parallel directions may differ.
const SAME_WAY: f64 = 1e-9;

/// How wide a stub is, in mm. Far above what the solver takes for one place, and below any distance between folds; were it
/// wider than that, a stub would hold folds beside it that its wall does not touch.
const STUB: f64 = 0.02;

/// The panels of one plane.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Flat {
    pub(crate) figure: Figure,
    /// For each facet of the figure its panel, and for a stub that of its wall; panels first.
    pub(crate) panels: Vec<usize>,
    /// How many facets are panels and no stubs.
    pub(crate) whole: usize,
    /// For each joint of the figure that of the assembly.
    pub(crate) joints: Vec<usize>,
    /// For each stub its line, which way walls there are laid over, and whether its wall stands up.
    stubs: Vec<Stub>,
    /// The plane.
    pub(crate) seen: Seen,
}

/// A plane as the solver looks at it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Seen {
    x: DVec3,
    y: DVec3,
    /// What counts as up.
    pub(crate) up: DVec3,
    /// How far along `up` it lies.
    distance: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Stub {
    /// The way it is laid over, in space.
    over: DVec3,
    is_up: bool,
}

impl Seen {
    fn new(frame: &DAffine3) -> Self {
        let up = up(frame.matrix3.z_axis);
        let (x, y) = up.any_orthonormal_pair();
        let y = if x.cross(y).dot(up) < 0.0 { -y } else { y };
        Self { x, y, up, distance: up.dot(frame.translation) }
    }

    fn is_of(&self, frame: &DAffine3) -> bool {
        let normal = up(frame.matrix3.z_axis);
        normal.abs_diff_eq(self.up, SAME_WAY) && (self.up.dot(frame.translation) - self.distance).abs() < SAME_PLANE
    }

    /// A point in space as the solver sees it.
    pub(crate) fn flat(&self, point: DVec3) -> DVec2 {
        DVec2::new(self.x.dot(point), self.y.dot(point))
    }

    fn space(&self, way: DVec2) -> DVec3 {
        self.x * way.x + self.y * way.y
    }
}

/// The planes in which panels lie on one another, by the first of their panels; if it is open what lies on what, all
/// planes with several panels.
pub(crate) fn flats(bench: &Bench, stage: &Stage, is_open: bool) -> Vec<Flat> {
    let mut planes: Vec<(Seen, Vec<usize>)> = Vec::new();
    for (panel, frame) in stage.frames.iter().enumerate() {
        match planes.iter_mut().find(|(seen, _)| seen.is_of(frame)) {
            Some((_, panels)) => panels.push(panel),
            None => planes.push((Seen::new(frame), vec![panel])),
        }
    }
    let mut lies = vec![false; stage.frames.len()];
    for (facet, of) in bench.facets.iter().enumerate() {
        if stage.relations.after(facet).next().is_some() {
            lies[of.panel] = true;
        }
    }
    planes.retain(|(_, panels)| (is_open && panels.len() > 1) || panels.iter().any(|&panel| lies[panel]));
    planes.into_iter().map(|(seen, panels)| flat(bench, stage, seen, panels)).collect()
}

fn flat(bench: &Bench, stage: &Stage, seen: Seen, panels: Vec<usize>) -> Flat {
    let assembly = bench.assembly;
    let mut at = vec![None; assembly.panels.len()];
    panels.iter().enumerate().for_each(|(facet, &panel)| at[panel] = Some(facet));
    let mut figure = Figure::default();
    for &panel in &panels {
        let shape = &assembly.panels[panel];
        let placed = |path: &Vec<DVec2>| placed(&seen, &stage.frames[panel], path);
        figure.facets.push(order::Facet {
            outline: placed(&shape.outline),
            holes: shape.holes.iter().map(placed).collect(),
            face_up: stage.frames[panel].matrix3.z_axis.dot(seen.up) > 0.0,
        });
    }
    let whole = panels.len();
    let mut flat = Flat { figure, panels, whole, joints: Vec::new(), stubs: Vec::new(), seen };
    for (j, joint) in assembly.joints.iter().enumerate() {
        match joint.panels.map(|panel| at[panel]) {
            [Some(a), Some(b)] => flat.add_joint(stage, (j, joint), [a, b]),
            [Some(host), None] => flat.add_stubs(stage, (j, joint), 0, host),
            [None, Some(host)] => flat.add_stubs(stage, (j, joint), 1, host),
            [None, None] => {}
        }
    }
    for bond in &assembly.bonds {
        if let [Some(a), Some(b)] = bond.panels.map(|panel| at[panel]) {
            if !is_glued(&assembly.panels, &stage.frames, bond) {
                // What only lies there, as a card in a pocket, lies on the face it was laid on.
                let other_above = flat.figure.facets[a].face_up == (bond.faces[0] == Face::Front);
                let (lower, upper) = if other_above { (a, b) } else { (b, a) };
                flat.figure.given.push(Given { lower, upper, at: None });
                continue;
            }
            let frame = &stage.frames[bond.panels[0]];
            let area = bond.area.iter().map(|piece| placed(&seen, frame, piece)).collect();
            flat.figure.bonds.push(order::Bond { facets: [a, b], area, faces: Some(bond.faces.map(face)) });
        }
    }
    flat
}

const fn face(face: Face) -> order::Face {
    match face {
        Face::Front => order::Face::Front,
        Face::Back => order::Face::Back,
    }
}

fn placed(seen: &Seen, frame: &DAffine3, path: &[DVec2]) -> Vec<DVec2> {
    path.iter().map(|&corner| seen.flat(frame.transform_point3(corner.extend(0.0)))).collect()
}

impl Flat {
    /// A joint between two panels of the plane.
    fn add_joint(&mut self, stage: &Stage, (j, joint): (usize, &Joint), facets: [usize; 2]) {
        let [a, b] = facets.map(|facet| self.figure.facets[facet].face_up);
        let way = match joint.crease.direction {
            Direction::Either => Fold::Either,
            _ if stage.turned[j] < 0 => Fold::Mountain,
            _ => Fold::Valley,
        };
        let fold = (a != b).then_some(way);
        for &(from, to) in &joint.stretches {
            let ends = placed(&self.seen, &stage.frames[joint.panels[0]], &[from, to]);
            self.figure.joints.push(order::Joint { facets, segment: (ends[0], ends[1]), fold });
            self.joints.push(j);
        }
    }

    /// Stubs for the wall that stands on `host`, the panel at `side` of the joint.
    fn add_stubs(&mut self, stage: &Stage, (j, joint): (usize, &Joint), side: usize, host: usize) {
        let (panel, wall) = (joint.panels[side], joint.panels[1 - side]);
        for &(from, to) in &joint.stretches {
            // To the left of a stretch is its first panel.
            let along = (to - from).normalize_or_zero();
            let into = |side: usize| (if side == 0 { along.perp() } else { -along.perp() }).extend(0.0);
            let into_wall = stage.frames[wall].transform_vector3(into(1 - side));
            let is_up = into_wall.dot(self.seen.up) > 0.0;
            let ends = placed(&self.seen, &stage.frames[panel], &[from, to]);
            let way = (ends[1] - ends[0]).normalize_or_zero();
            let way = if way.x < -SAME_WAY || (way.x <= SAME_WAY && way.y < 0.0) { -way } else { way };
            let over = -way.perp();
            let into_host = stage.frames[panel].transform_vector3(into(side));
            let is_flat = into_host.dot(self.seen.space(over)) < 0.0;
            let host_up = self.figure.facets[host].face_up;
            let outline = vec![ends[0], ends[1], ends[1] + over * STUB, ends[0] + over * STUB];
            let stub = self.figure.facets.len();
            self.figure.facets.push(order::Facet { outline, holes: Vec::new(), face_up: host_up == is_flat });
            let fold = (!is_flat).then_some(Fold::Either);
            self.figure.joints.push(order::Joint { facets: [host, stub], segment: (ends[0], ends[1]), fold });
            self.joints.push(j);
            self.panels.push(wall);
            self.stubs.push(Stub { over: self.seen.space(over), is_up });
            let beside: Vec<usize> = (0..self.whole).filter(|&facet| boxes_meet(&self.figure, facet, stub)).collect();
            let order = |facet| if is_up { Given::new(facet, stub) } else { Given::new(stub, facet) };
            self.figure.given.extend(beside.into_iter().map(order));
        }
    }

    /// The order of stubs that walls on one line make by standing behind one another.
    pub(crate) fn of_walls(&self, lie: &Lie, relations: &Relations) -> Vec<Given> {
        let mut out = Vec::new();
        for (s, first) in self.stubs.iter().enumerate() {
            for (t, second) in self.stubs.iter().enumerate().skip(s + 1) {
                let (a, b) = (self.whole + s, self.whole + t);
                if !boxes_meet(&self.figure, a, b) {
                    continue;
                }
                if first.is_up != second.is_up {
                    // What stands up is above what stands down, also where no panel lies between them to say so.
                    out.push(if first.is_up { Given::new(b, a) } else { Given::new(a, b) });
                    continue;
                }
                if !first.over.abs_diff_eq(second.over, SAME_WAY) {
                    // Walls that meet at a corner: nothing orders their stubs, which must not count as a choice. Where one
                    // goes over the line of the other, that orders them.
                    if !self.goes_over(a, b) && !self.goes_over(b, a) {
                        out.push(Given::new(a, b));
                    }
                    continue;
                }
                if let Some(second_over) = stands_over(lie, relations, [self.panels[a], self.panels[b]], first.over) {
                    // Of walls that stand up the one on the side to which they are laid comes to lie lowest.
                    let second_above = second_over != first.is_up;
                    out.push(if second_above { Given::new(a, b) } else { Given::new(b, a) });
                }
            }
        }
        out
    }

    /// Whether one stub has parts on both sides of the line on which the wall of another stands.
    fn goes_over(&self, over: usize, under: usize) -> bool {
        let line = &self.figure.facets[under].outline;
        let along = (line[1] - line[0]).normalize_or_zero();
        let sides = || self.figure.facets[over].outline.iter().map(|&corner| along.perp_dot(corner - line[0]));
        sides().any(|side| side > SAME_PLACE) && sides().any(|side| side < -SAME_PLACE)
    }

    /// The order of panels as it was reached.
    pub(crate) fn reached(&self, bench: &Bench, lie: &Lie, relations: &Relations) -> Vec<Given> {
        let mut at = vec![None; bench.assembly.panels.len()];
        self.panels[..self.whole].iter().enumerate().for_each(|(facet, &panel)| at[panel] = Some(facet));
        let is_convex = |panel: usize| bench.assembly.panels[panel].convex.len() == 1;
        let mut out = Vec::new();
        for (a, facet) in bench.facets.iter().enumerate() {
            let Some(first) = at[facet.panel] else { continue };
            for (b, _) in relations.after(a) {
                let panel = bench.facets[b].panel;
                let Some(second) = at[panel] else { continue };
                let Some(second_above) = relations.above(lie, a, b, self.seen.up) else { continue };
                let spot = || {
                    let spot = middle(&lie.covered(a, b)?).extend(0.0);
                    Some(self.seen.flat(lie.frame(a).transform_point3(spot)))
                };
                let at = if is_convex(facet.panel) && is_convex(panel) { None } else { spot() };
                let (lower, upper) = if second_above { (first, second) } else { (second, first) };
                out.push(Given { lower, upper, at });
            }
        }
        out
    }
}

/// Whether the second of two panels lies on the side of the first that looks along `way`; `None` when they do not lie on
/// one another.
fn stands_over(lie: &Lie, relations: &Relations, [a, b]: [usize; 2], way: DVec3) -> Option<bool> {
    let of = |panel: usize| (0..lie.facets.len()).filter(move |&facet| lie.facets[facet].panel == panel);
    of(a).flat_map(|p| of(b).map(move |q| (p, q))).find_map(|(p, q)| relations.above(lie, p, q, way))
}

fn boxes_meet(figure: &Figure, a: usize, b: usize) -> bool {
    let boxed = |facet: usize| {
        let start = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        let corners = figure.facets[facet].outline.iter();
        corners.fold(start, |(low, high), &corner| (low.min(corner), high.max(corner)))
    };
    let ((a_low, a_high), (b_low, b_high)) = (boxed(a), boxed(b));
    a_low.cmple(b_high).all() && b_low.cmple(a_high).all()
}
