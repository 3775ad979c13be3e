//! What simple folds reach: every step of every way to fold a map, on the very code that makes the steps of a design.

use super::at;
use crate::stage::{Bench, Stage};
use crate::step::motion;
use crate::{Assembly, Blueprint, Piece, PiecePanel, vertex};
use glam::DVec3;
use model::{Crease, Direction, Fold, FoldAngle, FoldId, LineId, PanelId, Segment};
use std::collections::BTreeSet;

/// Which layers may move in a step.
#[derive(Clone, Copy, PartialEq)]
enum Layers {
    Some,
    All,
    One,
}

/// A map of rows and columns of 10 mm; every crease is a line of its own.
fn map(rows: u32, columns: u32) -> Assembly {
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
    let mut axes: std::collections::BTreeMap<(usize, i64), Vec<usize>> = std::collections::BTreeMap::new();
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

/// The two classes into which the panels fall when some joints are cut, if each of those parts one from the other and one
/// of the classes lies on one side of the axis: the moving ones.
fn moving(assembly: &Assembly, stage: &Stage, (runs, place): (usize, i64), folding: &[usize], layers: Layers) -> bool {
    let count = assembly.panels.len();
    let mut class: Vec<Option<bool>> = vec![None; count];
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
    if folding.iter().any(|&j| class[assembly.joints[j].panels[0]] == class[assembly.joints[j].panels[1]]) {
        return false;
    }
    let beyond: Vec<bool> = (0..count)
        .map(|panel| {
            let middle = crate::overlap::middle(&assembly.panels[panel].outline).extend(0.0);
            let middle = stage.frames[panel].transform_point3(middle);
            round(if runs == 1 { middle.x } else { middle.y }) > place
        })
        .collect();
    if layers == Layers::One {
        let places: Vec<i64> = folding
            .iter()
            .map(|&j| {
                let (from, to) = ends(assembly, stage, j);
                let middle = (from + to) / 2.0;
                round(if runs == 1 { middle.y } else { middle.x })
            })
            .collect();
        if places.iter().collect::<BTreeSet<_>>().len() < places.len() {
            return false;
        }
    }
    [true, false].into_iter().any(|of| {
        [true, false].into_iter().any(|side| {
            let is_moving = |panel: usize| class[panel] == Some(of);
            let within = (0..count).all(|panel| !is_moving(panel) || beyond[panel] == side);
            let all = (0..count).all(|panel| is_moving(panel) || beyond[panel] != side);
            within && (layers != Layers::All || all)
        })
    })
}

/// How many orders, and how many assignments of mountains and valleys, steps reach.
fn reached(rows: u32, columns: u32, layers: Layers) -> (usize, usize) {
    let assembly = map(rows, columns);
    let start = Bench::new(&assembly).start();
    let mut seen = BTreeSet::new();
    let (mut orders, mut words) = (BTreeSet::new(), BTreeSet::new());
    let mut next = vec![start];
    while let Some(stage) = next.pop() {
        if !seen.insert((stage.turned.clone(), stage.relations.clone())) {
            continue;
        }
        if stage.turned.iter().all(|&turned| turned != 0) {
            words.insert(stage.turned.clone());
            orders.insert(stage.relations.clone());
            continue;
        }
        for (axis, joints) in axes(&assembly, &stage) {
            for word in 1_u32..1 << joints.len() {
                let folding: Vec<usize> =
                    joints.iter().enumerate().filter(|(i, _)| word >> i & 1 == 1).map(|(_, &j)| j).collect();
                if moving(&assembly, &stage, axis, &folding, layers) {
                    next.extend([true, false].into_iter().filter_map(|up| folded(&assembly, &stage, &folding, up)));
                }
            }
        }
    }
    (orders.len(), words.len())
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

/// Orders and assignments that some layers, all layers and one layer at a time reach.
#[track_caller]
fn check(rows: u32, columns: u32, expected: [(usize, usize); 3]) {
    let got = [Layers::Some, Layers::All, Layers::One].map(|layers| reached(rows, columns, layers));
    assert_eq!(got, expected, "{rows} x {columns}");
}

#[test]
fn strips_are_reached_as_known() {
    // The folding reference, 1.6, recomputed there; that one layer at a time reaches every assignment is theorem (i) of
    // Arkin, Bender, Demaine et al., 'When can you fold a map?'.
    check(1, 3, [(6, 4); 3]);
    check(1, 4, [(16, 8); 3]);
    check(1, 5, [(50, 16), (50, 16), (46, 16)]);
    check(1, 6, [(144, 32), (144, 32), (128, 32)]);
}

#[test]
fn maps_are_reached_as_known() {
    // The folding reference, 1.6.
    check(2, 2, [(8, 8), (8, 8), (0, 0)]);
    check(2, 3, [(40, 32), (40, 32), (0, 0)]);
}

#[test]
fn a_longer_strip_is_reached_as_known() {
    // The folding reference, 1.6.
    check(1, 7, [(462, 64), (448, 64), (368, 64)]);
}

#[test]
fn a_map_of_nine_is_reached_as_known() {
    // The folding reference, 1.6.
    assert_eq!(reached(3, 3, Layers::Some), (296, 224));
}

#[test]
fn a_map_of_eight_is_reached_as_known() {
    // The folding reference, 1.6.
    check(2, 4, [(168, 120), (168, 120), (0, 0)]);
}
