//! Crossings of folds with paper kept all round: whether they can fold, and what to say where they cannot.
//!
//! Round such a point the panels form a closed ring, so the turns about its folds, taken one after the other, have to
//! come to nothing: `R(c1, g1) R(c2, g2) ... = I`, each about its direction in the unfolded sheet. At four right angles
//! that holds only when one whole line is folded flat first and then the other, its two halves in opposite
//! directions: three folds one way, one the other (Maekawa's theorem). Whether the folds of a crossing can lie flat at all
//! is worked out in [`crate::crimp`].

use crate::assembly::{Assembly, Joint, to_world};
use crate::crimp::{VertexVerdict, vertex_verdict};
use crate::hinge::rotation;
use crate::step::{PROBES, connected};
use crate::trouble::Trouble;
use glam::{DMat3, DVec2};
use model::{Direction, FoldAngle, Layout, LineId, PanelId, Point, Work};
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::FRAC_PI_2;

/// How far an entry of the product may be off: far above rounding, far below what any other fold would make of it.
const CLOSES: f64 = 1e-6;

/// A point inside the folio where folds meet, or one goes on into another.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Vertex {
    pub(crate) at: Point,
    /// The folds from it, anticlockwise seen from the front.
    pub(crate) spokes: Vec<Spoke>,
}

/// A fold from a vertex.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spoke {
    /// Its joint.
    pub(crate) joint: usize,
    /// Which way it runs from the vertex, of length 1.
    pub(crate) along: DVec2,
    /// The panel that follows it anticlockwise.
    pub(crate) panel: usize,
}

/// A point inside the folio where folds meet, with paper all round.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptCrossing {
    /// Where, on the flat sheet.
    pub at: Point,
    /// The folds from it, anticlockwise seen from the front, as places in [`Assembly::joints`].
    pub joints: Vec<usize>,
    /// Before each of them the angle from the one before it, in degrees.
    pub angles: Vec<f64>,
    /// Which way each folds.
    pub folds: Vec<Direction>,
    /// Whether all of them fold flat together; `None` where one of them is not to be folded flat.
    pub verdict: Option<VertexVerdict>,
}

impl Assembly {
    /// All crossings with paper kept all round, by place.
    #[must_use]
    pub fn kept_crossings(&self) -> Vec<KeptCrossing> {
        self.vertices.iter().map(|vertex| kept(self, vertex)).collect()
    }
}

fn kept(assembly: &Assembly, vertex: &Vertex) -> KeptCrossing {
    let joint = |spoke: &Spoke| &assembly.joints[spoke.joint];
    let before = vertex.spokes.iter().cycle().skip(vertex.spokes.len() - 1);
    let angles: Vec<f64> = before.zip(&vertex.spokes).map(|(from, to)| angle(from.along, to.along)).collect();
    let folds: Vec<Direction> = vertex.spokes.iter().map(|spoke| joint(spoke).crease.direction).collect();
    let is_flat = vertex.spokes.iter().all(|spoke| joint(spoke).crease.angle == FoldAngle::Flat);
    let verdict = is_flat.then(|| vertex_verdict(&angles, &folds));
    KeptCrossing {
        at: vertex.at,
        joints: vertex.spokes.iter().map(|spoke| spoke.joint).collect(),
        angles,
        folds,
        verdict,
    }
}

/// The angle from one direction on to another, anticlockwise, in degrees: more than 0, up to 360.
fn angle(from: DVec2, to: DVec2) -> f64 {
    let turn = libm::atan2(from.perp_dot(to), from.dot(to)).to_degrees();
    if turn > 0.0 { turn } else { turn + 360.0 }
}

/// All crossings of the folio with paper kept all round, in ascending order.
pub(crate) fn vertices(layout: &Layout, places: &BTreeMap<PanelId, usize>, joints: &[Joint]) -> Vec<Vertex> {
    let by_panels: BTreeMap<([usize; 2], LineId), usize> =
        joints.iter().enumerate().map(|(j, joint)| ((joint.panels, joint.line), j)).collect();
    // `None` for a point that paper does not surround.
    let mut found: BTreeMap<Point, Option<Vec<Spoke>>> = BTreeMap::new();
    for stretch in layout.stretches.iter().filter(|stretch| stretch.sides[0] != stretch.sides[1]) {
        let [left, right] = stretch.sides.map(|side| side.and_then(|panel| places.get(&panel).copied()));
        let joint = match (left, right, stretch.work, stretch.lines.first()) {
            (Some(a), Some(b), Some(Work::Score(_)), Some(&line)) => {
                by_panels.get(&([a.min(b), a.max(b)], line)).copied()
            }
            _ => None,
        };
        let (a, b) = (to_world(stretch.segment.a), to_world(stretch.segment.b));
        for (end, along, panel) in [(stretch.segment.a, b - a, left), (stretch.segment.b, a - b, right)] {
            let spokes = found.entry(end).or_insert_with(|| Some(Vec::new()));
            match (joint, panel, spokes.as_mut()) {
                (Some(joint), Some(panel), Some(spokes)) => {
                    spokes.push(Spoke { joint, along: along.normalize_or_zero(), panel });
                }
                _ => *spokes = None,
            }
        }
    }
    let vertex = |(at, spokes): (Point, Option<Vec<Spoke>>)| {
        let mut spokes = spokes.filter(|spokes| spokes.len() > 1)?;
        spokes.sort_by(|a, b| round(a.along).total_cmp(&round(b.along)));
        Some(Vertex { at, spokes })
    };
    found.into_iter().filter_map(vertex).collect()
}

/// The vertices that keep the joints `folding` from folding, as troubles. `turned` holds how far each joint is folded
/// already, in quarter turns, valleys positive. Vertices whose corner panels hang together make one trouble, told at
/// the one nearest to the base: a maker cuts such a corner away in one go.
pub(crate) fn troubles(assembly: &Assembly, turned: &[i32], step: usize, folding: &[usize]) -> Vec<Trouble> {
    let stuck: Vec<&Vertex> =
        assembly.vertices.iter().filter(|vertex| !folds(vertex, assembly, turned, folding)).collect();
    if stuck.is_empty() {
        return Vec::new();
    }
    let hops: Vec<usize> = assembly.ways.iter().map(|way| way.folds).collect();
    let cluster = clusters(assembly, &stuck, &hops);
    let mut members: Vec<Vec<&Vertex>> = vec![Vec::new(); stuck.len()];
    for (&vertex, &number) in stuck.iter().zip(&cluster) {
        members[number].push(vertex);
    }
    let trouble = |members: Vec<&Vertex>| {
        let nearest =
            members.iter().min_by_key(|vertex| (corner(vertex, &hops).map(|panel| hops[panel]), vertex.at))?;
        let spokes = members
            .iter()
            .flat_map(|vertex| &vertex.spokes)
            .filter(|spoke| folding.binary_search(&spoke.joint).is_ok());
        let lines: BTreeSet<LineId> = spokes.map(|spoke| assembly.joints[spoke.joint].line).collect();
        let mut panels = corner(nearest, &hops).map(|panel| assembly.panels[panel].id).to_vec();
        // Where two folds make a bend, the corner has the same neighbour on either side.
        panels.dedup();
        Some(Trouble::Joined { step, lines: lines.into_iter().collect(), panels, at: nearest.at })
    };
    members.into_iter().filter_map(trouble).collect()
}

/// What keeps the folds of a crossing from lying flat together in any order of steps, for each crossing that is named among
/// `troubles` as joined. Once each, in ascending order.
pub(crate) fn unflat(assembly: &Assembly, troubles: &[Trouble]) -> Vec<Trouble> {
    let joined: BTreeMap<Point, &Vec<PanelId>> = troubles
        .iter()
        .filter_map(|trouble| match trouble {
            Trouble::Joined { at, panels, .. } => Some((*at, panels)),
            _ => None,
        })
        .collect();
    let trouble = |(at, panels): (Point, &Vec<PanelId>)| {
        let vertex = assembly.vertices.binary_search_by_key(&at, |vertex| vertex.at).ok()?;
        let vertex = &assembly.vertices[vertex];
        let why = kept(assembly, vertex).verdict.filter(|verdict| !verdict.folds())?;
        let lines: BTreeSet<LineId> = vertex.spokes.iter().map(|spoke| assembly.joints[spoke.joint].line).collect();
        Some(Trouble::Unflat { lines: lines.into_iter().collect(), panels: panels.clone(), at, why })
    };
    joined.into_iter().filter_map(trouble).collect()
}

/// For each of the vertices a number, the same for those whose corner panels are the same or joined.
fn clusters(assembly: &Assembly, stuck: &[&Vertex], hops: &[usize]) -> Vec<usize> {
    // One graph of vertices and panels: a vertex is beside its corner panels, those beside one another where joined.
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); stuck.len() + assembly.panels.len()];
    let mut is_corner = vec![false; assembly.panels.len()];
    let mut join = |a: usize, b: usize| {
        beside[a].push(b);
        beside[b].push(a);
    };
    for (i, vertex) in stuck.iter().enumerate() {
        for panel in farthest(vertex, hops) {
            is_corner[panel] = true;
            join(i, stuck.len() + panel);
        }
    }
    for [a, b] in assembly.joints.iter().map(|joint| joint.panels) {
        if is_corner[a] && is_corner[b] {
            join(stuck.len() + a, stuck.len() + b);
        }
    }
    let mut numbers = connected(&beside);
    numbers.truncate(stuck.len());
    numbers
}

/// Whether the paper round the vertex stays whole while `folding` folds.
fn folds(vertex: &Vertex, assembly: &Assembly, turned: &[i32], folding: &[usize]) -> bool {
    let folds = |spoke: &Spoke| folding.binary_search(&spoke.joint).is_ok();
    let turn = |spoke: &Spoke| {
        let target = folds(spoke).then(|| f64::from(signed_quarters(&assembly.joints[spoke.joint])));
        (spoke.along, f64::from(turned[spoke.joint]), target)
    };
    !vertex.spokes.iter().any(folds) || closes(vertex.spokes.iter().map(turn))
}

/// Whether the paper round a point stays whole at every part of a step. Each fold comes with its direction in the
/// unfolded sheet, anticlockwise, with how far it is folded, in quarter turns, and with how far it is in the end if it
/// folds in this step, starting from flat.
pub(crate) fn closes(folds: impl Iterator<Item = (DVec2, f64, Option<f64>)> + Clone) -> bool {
    PROBES.iter().all(|&progress| {
        let product = folds.clone().fold(DMat3::IDENTITY, |product, (along, turned, target)| {
            let quarters = target.map_or(turned, |target| target * progress);
            let (sin, cos) = libm::sincos(quarters * FRAC_PI_2);
            product * rotation(along.extend(0.0), sin, cos)
        });
        product.abs_diff_eq(DMat3::IDENTITY, CLOSES)
    })
}

/// Whether a trouble is told of a crossing of two lines at right angles.
pub(crate) fn is_square_corner(assembly: &Assembly, trouble: &Trouble) -> bool {
    let Trouble::Joined { at, .. } = trouble else { return false };
    let square = |vertex: &Vertex| {
        let n = vertex.spokes.len();
        n == 4 && (0..n).all(|i| vertex.spokes[i].along.dot(vertex.spokes[(i + 1) % n].along).abs() < CLOSES)
    };
    assembly.vertices.iter().any(|vertex| vertex.at == *at && square(vertex))
}

/// How far a joint folds, in quarter turns, valleys positive.
pub(crate) fn signed_quarters(joint: &Joint) -> i32 {
    let quarters = joint.crease.angle.degrees() / 90;
    if joint.crease.direction == model::Direction::Mountain { -quarters } else { quarters }
}

/// The panel at the vertex farthest from the base, and its neighbours before and after, anticlockwise.
fn corner(vertex: &Vertex, hops: &[usize]) -> [usize; 3] {
    let n = vertex.spokes.len();
    let panel = |i: usize| vertex.spokes[i % n].panel;
    let far = (0..n).max_by_key(|&i| (hops[panel(i)], n - i)).unwrap_or(0);
    [panel(far), panel(far + n - 1), panel(far + 1)]
}

/// All panels at the vertex that are as far from the base as any.
fn farthest(vertex: &Vertex, hops: &[usize]) -> Vec<usize> {
    let most = vertex.spokes.iter().map(|spoke| hops[spoke.panel]).max();
    vertex.spokes.iter().map(|spoke| spoke.panel).filter(|&panel| Some(hops[panel]) == most).collect()
}

/// Grows with the angle from the right, anticlockwise, from 0 to 4 (no trigonometry needed to sort).
pub(crate) fn round(along: DVec2) -> f64 {
    let share = along.y.abs() / (along.x.abs() + along.y.abs()).max(f64::MIN_POSITIVE);
    match (along.x >= 0.0, along.y >= 0.0) {
        (true, true) => share,
        (false, true) => 2.0 - share,
        (false, false) => 2.0 + share,
        (true, false) => 4.0 - share,
    }
}
