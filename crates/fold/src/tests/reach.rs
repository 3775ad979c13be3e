//! What simple folds reach: every step of every way to fold a map, on the very code that makes the steps of a design.
//!
//! The table is that of the folding reference, 1.6: recomputed there on piles of cells, without any geometry. Where it
//! has a dash, nothing is known to compare with.

use super::at;
use crate::stage::{Bench, Stage};
use crate::step::motion;
use crate::{Assembly, Blueprint, Piece, PiecePanel, vertex};
use glam::DVec3;
use model::{Crease, Direction, Fold, FoldAngle, FoldId, LineId, PanelId, Segment};
use std::collections::{BTreeMap, BTreeSet};

/// Which layers may move in a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Layers {
    /// Any that are free to.
    Some,
    /// All that lie beyond the line.
    All,
    /// One at each place along the line.
    One,
}

/// A step that some layers make, and whether it is one of all layers, or of one layer, too.
#[derive(Debug, Clone, Copy)]
struct Kind {
    all: bool,
    one: bool,
}

impl Kind {
    fn is(self, layers: Layers) -> bool {
        match layers {
            Layers::Some => true,
            Layers::All => self.all,
            Layers::One => self.one,
        }
    }
}

/// Every stage of a map that simple folds of some layers reach.
pub(super) struct Reached {
    stages: Vec<Stage>,
    /// For each stage the steps from it: which stage comes of it.
    steps: Vec<Vec<(usize, Kind)>>,
}

/// A map of rows and columns of 10 mm; every crease is a line of its own.
pub(super) fn map(rows: u32, columns: u32) -> Assembly {
    let ten = |n: u32| f64::from(n) * 10.0;
    let id = |row: u32, column: u32| PanelId(usize::try_from(row * columns + column).unwrap());
    let mut piece = Piece::default();
    for (row, column) in (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column))) {
        let (x, y) = (ten(column), ten(row));
        let corners = [(x, y), (x + 10.0, y), (x + 10.0, y + 10.0), (x, y + 10.0)];
        piece.panels.push(PiecePanel::new(id(row, column), corners.map(|(x, y)| at(x, y)).to_vec()));
        let beside = (column + 1 < columns).then(|| (id(row, column + 1), [corners[1], corners[2]]));
        let below = (row + 1 < rows).then(|| (id(row + 1, column), [corners[3], corners[2]]));
        for (other, [a, b]) in beside.into_iter().chain(below) {
            let number = piece.folds.len();
            piece.folds.push(Fold {
                id: FoldId(number),
                line: LineId(u32::try_from(number).unwrap()),
                crease: Crease { direction: Direction::Valley, angle: FoldAngle::Flat, pressed: None },
                panels: [id(row, column), other],
                stretches: vec![Segment { a: at(a.0, a.1), b: at(b.0, b.1) }],
            });
        }
    }
    Blueprint::new(piece, PanelId(0)).assembly().unwrap()
}

/// Open joints by the axis on which they lie: how it runs (0 across, 1 along y), and where.
fn axes(assembly: &Assembly, stage: &Stage) -> Vec<((usize, i64), Vec<usize>)> {
    let mut axes: BTreeMap<(usize, i64), Vec<usize>> = BTreeMap::new();
    for (j, joint) in assembly.joints.iter().enumerate().filter(|(j, _)| stage.turned[*j] == 0) {
        let (from, to) = ends(assembly, stage, j);
        let runs = usize::from((to - from).y.abs() > 1.0);
        let place = if runs == 1 { from.x } else { from.y };
        assert_eq!(joint.stretches.len(), 1);
        axes.entry((runs, round(place))).or_default().push(j);
    }
    axes.into_iter().collect()
}

#[expect(clippy::cast_possible_truncation, reason = "a map is some centimetres wide")]
fn round(place: f64) -> i64 {
    libm::round(place) as i64
}

fn ends(assembly: &Assembly, stage: &Stage, j: usize) -> (DVec3, DVec3) {
    let joint = &assembly.joints[j];
    let (from, to) = joint.stretches[0];
    let frame = &stage.frames[joint.panels[0]];
    (frame.transform_point3(from.extend(0.0)), frame.transform_point3(to.extend(0.0)))
}

/// What kind of step some joints make that lie on one axis: cut there, the panels fall into two classes, of which one lies
/// on one side of the axis. `None` if they do not.
fn kind(assembly: &Assembly, stage: &Stage, (runs, place): (usize, i64), folding: &[usize]) -> Option<Kind> {
    let class = classes(assembly, folding)?;
    let beyond: Vec<bool> = (0..assembly.panels.len())
        .map(|panel| {
            let middle = crate::overlap::middle(&assembly.panels[panel].outline).extend(0.0);
            let middle = stage.frames[panel].transform_point3(middle);
            round(if runs == 1 { middle.x } else { middle.y }) > place
        })
        .collect();
    let places: BTreeSet<i64> = folding
        .iter()
        .map(|&j| {
            let (from, to) = ends(assembly, stage, j);
            let middle = (from + to) / 2.0;
            round(if runs == 1 { middle.y } else { middle.x })
        })
        .collect();
    let (mut some, mut all) = (false, false);
    for (of, side) in [(false, false), (false, true), (true, false), (true, true)] {
        let mut each = class.iter().zip(&beyond);
        let within = each.clone().all(|(&class, &beyond)| class != of || beyond == side);
        some |= within;
        all |= within && each.all(|(&class, &beyond)| class == of || beyond != side);
    }
    some.then_some(Kind { all, one: places.len() == folding.len() })
}

/// The two classes into which the panels fall when some joints are cut, if each of those parts one from the other.
fn classes(assembly: &Assembly, folding: &[usize]) -> Option<Vec<bool>> {
    let mut class: Vec<Option<bool>> = vec![None; assembly.panels.len()];
    let mut next = vec![(0, false)];
    while let Some((panel, side)) = next.pop() {
        if class[panel].is_some() {
            continue;
        }
        class[panel] = Some(side);
        for (j, joint) in assembly.joints.iter().enumerate().filter(|(_, joint)| joint.panels.contains(&panel)) {
            let other = if joint.panels[0] == panel { joint.panels[1] } else { joint.panels[0] };
            next.push((other, side != folding.contains(&j)));
        }
    }
    let parts = |&j: &usize| {
        let [a, b] = assembly.joints[j].panels;
        class[a] != class[b]
    };
    folding.iter().all(parts).then(|| class.into_iter().flatten().collect())
}

impl Reached {
    pub(super) fn new(assembly: &Assembly) -> Self {
        let start = Bench::new(assembly).start();
        let mut reached = Self { stages: vec![start.clone()], steps: Vec::new() };
        let mut number = BTreeMap::from([((start.turned, start.relations), 0)]);
        while let Some(stage) = reached.stages.get(reached.steps.len()).cloned() {
            let mut steps = Vec::new();
            for (kind, after) in steps_from(assembly, &stage) {
                let next = number.len();
                let to = *number.entry((after.turned.clone(), after.relations.clone())).or_insert(next);
                if to == next {
                    reached.stages.push(after);
                }
                steps.push((to, kind));
            }
            reached.steps.push(steps);
        }
        reached
    }

    fn is_closed(&self, stage: usize) -> bool {
        self.stages[stage].turned.iter().all(|&turned| turned != 0)
    }

    /// The closed stages that steps of some kind reach.
    pub(super) fn closed(&self, layers: Layers) -> Vec<&Stage> {
        let mut seen = vec![false; self.stages.len()];
        let mut next = vec![0];
        while let Some(stage) = next.pop() {
            if !std::mem::replace(&mut seen[stage], true) {
                next.extend(self.steps[stage].iter().filter(|(_, kind)| kind.is(layers)).map(|&(to, _)| to));
            }
        }
        (0..seen.len()).filter(|&at| seen[at] && self.is_closed(at)).map(|at| &self.stages[at]).collect()
    }

    /// How many orders, and how many assignments of mountains and valleys, steps of some kind reach.
    fn counts(&self, layers: Layers) -> (usize, usize) {
        let closed = self.closed(layers);
        let orders: BTreeSet<_> = closed.iter().map(|stage| &stage.relations).collect();
        let words: BTreeSet<_> = closed.iter().map(|stage| &stage.turned).collect();
        (orders.len(), words.len())
    }

    /// In how many ways steps of some kind close the map, one after the other.
    fn ways(&self, layers: Layers) -> u64 {
        // A step folds joints, so stages in the order of how many are folded are in the order of the steps.
        let folded = |&at: &usize| self.stages[at].turned.iter().filter(|&&turned| turned != 0).count();
        let mut order: Vec<usize> = (0..self.stages.len()).collect();
        order.sort_by_key(folded);
        let mut ways = vec![0; self.stages.len()];
        for at in order.into_iter().rev() {
            let steps = self.steps[at].iter().filter(|(_, kind)| kind.is(layers));
            ways[at] = if self.is_closed(at) { 1 } else { steps.map(|&(to, _)| ways[to]).sum() };
        }
        ways[0]
    }
}

/// Every step from a stage, with the stage that comes of it.
fn steps_from(assembly: &Assembly, stage: &Stage) -> Vec<(Kind, Stage)> {
    let mut found = Vec::new();
    for (axis, joints) in axes(assembly, stage) {
        for word in 1_u32..1 << joints.len() {
            let folding: Vec<usize> =
                joints.iter().enumerate().filter(|(i, _)| word >> i & 1 == 1).map(|(_, &j)| j).collect();
            if let Some(kind) = kind(assembly, stage, axis, &folding) {
                let after = [true, false].into_iter().filter_map(|up| folded(assembly, stage, &folding, up));
                found.extend(after.map(|after| (kind, after)));
            }
        }
    }
    found
}

/// The stage after some joints have folded to the top or under, if nothing lies in the way.
fn folded(assembly: &Assembly, stage: &Stage, folding: &[usize], up: bool) -> Option<Stage> {
    let mut told = assembly.clone();
    for &j in folding {
        let face_up = stage.frames[assembly.joints[j].panels[0]].matrix3.z_axis.z > 0.0;
        told.joints[j].crease.direction = if face_up == up { Direction::Valley } else { Direction::Mountain };
    }
    let bench = Bench::new(&told);
    if !vertex::troubles(&told, &stage.turned, 0, folding).is_empty() {
        return None;
    }
    let motion = motion(&told, &stage.frames, folding).ok()?;
    (!bench.is_blocked(stage, &motion)).then(|| bench.landed(stage, &motion, folding))
}

/// Orders and assignments that some layers, all layers and one layer at a time reach; `None` where the table has a dash.
#[track_caller]
fn check(rows: u32, columns: u32, expected: [Option<(usize, usize)>; 3]) {
    let reached = Reached::new(&map(rows, columns));
    for (layers, expected) in [Layers::Some, Layers::All, Layers::One].into_iter().zip(expected) {
        if let Some(expected) = expected {
            assert_eq!(reached.counts(layers), expected, "{rows} x {columns}, {layers:?}");
        }
    }
}

#[test]
fn strips_are_reached_as_known() {
    // That one layer at a time reaches every assignment is theorem (i) of Arkin, Bender, Demaine et al., 'When can you
    // fold a map?'.
    check(1, 3, [Some((6, 4)); 3]);
    check(1, 4, [Some((16, 8)); 3]);
    check(1, 5, [Some((50, 16)), Some((50, 16)), Some((46, 16))]);
    check(1, 6, [Some((144, 32)), Some((144, 32)), Some((128, 32))]);
    check(1, 7, [Some((462, 64)), Some((448, 64)), Some((368, 64))]);
}

#[test]
fn a_strip_of_eight_is_reached_as_known() {
    check(1, 8, [Some((1392, 128)), Some((1328, 128)), Some((1040, 128))]);
}

#[test]
fn maps_are_reached_as_known() {
    check(2, 2, [Some((8, 8)), Some((8, 8)), Some((0, 0))]);
    check(2, 3, [Some((40, 32)), Some((40, 32)), Some((0, 0))]);
    check(2, 4, [Some((168, 120)), Some((168, 120)), Some((0, 0))]);
}

#[test]
fn a_map_of_nine_is_reached_as_known() {
    check(3, 3, [Some((296, 224)), Some((296, 224)), Some((0, 0))]);
}

#[test]
fn a_map_of_ten_is_reached_as_known() {
    check(2, 5, [Some((736, 432)), None, None]);
}

#[test]
fn strips_are_folded_in_as_many_sequences_as_published() {
    // OEIS A110837, n = 1..5: each step folds all layers, one way or the other.
    for (panels, expected) in (1..).zip([1, 2, 8, 36, 176]) {
        assert_eq!(Reached::new(&map(1, panels)).ways(Layers::All), expected, "{panels} panels");
    }
}
