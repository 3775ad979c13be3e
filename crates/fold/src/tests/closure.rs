//! Loops that move, and loops that do not.

use super::{MOUNTAIN, MOUNTAIN_WALL, Sheet, VALLEY, VALLEY_WALL, near};
use crate::blueprint::{Blueprint, BlueprintStep, Glue, Part, Piece, PiecePanel};
use crate::closure::mobility;
use crate::linkage::Linkage;
use crate::stage::Bench;
use crate::{Assembly, Folding, Trouble, close};
use glam::{DVec2, DVec3};
use model::{Crease, Face, Fold, FoldId, Length, LineId, PanelId, Point, Segment, Work};
use std::f64::consts::PI;

fn point(x: f64, y: f64) -> Point {
    let mm = |length: f64| Length::from_mm_rounded(length).unwrap();
    // The sheet's y runs down.
    Point::new(mm(x), mm(-y))
}

fn line(number: usize) -> LineId {
    LineId(u32::try_from(number).unwrap())
}

fn crease(work: Work) -> Crease {
    let Work::Score(crease) = work else { panic!("{work:?} folds nothing") };
    crease
}

/// Paper round a point with folds from it, one after each of `sectors` (in degrees), all folded flat at once.
fn star(sectors: &[f64], folds: &str) -> Assembly {
    let mut angles = vec![0.0];
    for sector in sectors {
        angles.push(angles[angles.len() - 1] + sector);
    }
    let spot = |degrees: f64| {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        point(50.0 * cos, 50.0 * sin)
    };
    let count = sectors.len();
    let middle = point(0.0, 0.0);
    let panel = |i: usize| {
        let (from, to) = (angles[i], angles[i + 1]);
        vec![middle, spot(to), spot(f64::midpoint(from, to)), spot(from)]
    };
    let panels = (0..count).map(|i| PiecePanel::new(PanelId(i), panel(i))).collect();
    let fold = |(i, letter): (usize, char)| {
        let before = (i + count - 1) % count;
        let work = if letter == 'V' { VALLEY } else { MOUNTAIN };
        Fold {
            id: FoldId(i),
            line: line(i + 1),
            crease: crease(work),
            panels: [PanelId(before.min(i)), PanelId(before.max(i))],
            stretches: vec![Segment { a: middle, b: spot(angles[i]) }],
        }
    };
    let piece = Piece { panels, folds: (0..count).zip(folds.chars()).map(fold).collect(), ..Piece::default() };
    let step = BlueprintStep { lines: (1..=count).map(line).collect(), tucks: Vec::new() };
    Blueprint { steps: vec![step], ..Blueprint::new(piece, PanelId(0)) }.assembly().unwrap()
}

/// How the folds of a star hang on one another as it closes.
fn linkage(assembly: &Assembly) -> Option<Linkage> {
    let bench = Bench::new(assembly);
    bench.motion(&bench.start(), 0, &assembly.steps[0].joints).ok().and_then(|motion| motion.linkage)
}

/// One of the two ways in which a star of four folds moves: how the half angles of its folds hang together.
#[derive(Debug, Clone, Copy)]
enum Mode {
    /// Folds 2 and 4 turn alike, 1 and 3 against one another.
    A,
    /// Folds 1 and 3 turn alike, 2 and 4 against one another.
    B,
}

/// Sectors `a`, `b`, 180 - `a`, 180 - `b`, which move in `mode` when folded as `folds` say; at 90 degrees of the
/// leading folds, the others' turns in degrees.
#[track_caller]
fn check(a: f64, b: f64, folds: &str, mode: Mode, at_square: [f64; 4]) {
    // The folding reference, 1.5: p and q of sectors a and b.
    let half = |degrees: f64| libm::tan((degrees / 2.0).to_radians());
    let p = (1.0 - half(a) * half(b)) / (1.0 + half(a) * half(b));
    let q = (half(a) - half(b)) / (half(a) + half(b));
    let assembly = star(&[a, b, 180.0 - a, 180.0 - b], folds);
    let folding = close(&assembly);
    assert!(folding.moves(0) && folding.troubles().is_empty(), "{a} {b} {folds}: {:?}", folding.troubles());
    let linkage = linkage(&assembly).unwrap();
    let by_fold = |turns: &[f64]| -> [f64; 4] {
        [0, 1, 2, 3].map(|joint| turns[linkage.pivots.iter().position(|pivot| pivot.joint == joint).unwrap()])
    };
    for i in 0..=1000 {
        let turns = linkage.turns_at(f64::from(i) / 1000.0);
        assert!(linkage.gap(&turns) < 1e-5, "at {i}: open by {} mm", linkage.gap(&turns));
        let [g1, g2, g3, g4] = by_fold(&turns);
        let (lead, led, alike, opposed, factor) = match mode {
            Mode::A => (g2, g1, g2 - g4, g1 + g3, q),
            Mode::B => (g1, g2, g1 - g3, g2 + g4, -p),
        };
        // tan(led / 2) = factor tan(lead / 2), without what becomes infinite at 180 degrees.
        let ((s, c), (t, d)) = (libm::sincos(led / 2.0), libm::sincos(lead / 2.0));
        let off = [s * d - factor * t * c, alike, opposed];
        // Corners are whole nanometres, so sectors are off by some 1e-8; nearly flat that counts for more.
        assert!(off.iter().all(|off| off.abs() < 1e-5), "{a} {b} {mode:?} at {i}: {off:?}");
    }
    // Driven to 90 degrees from nearby.
    let guess = linkage.turns_at(0.5);
    let leads: &[usize] = if matches!(mode, Mode::A) { &[1] } else { &[0] };
    let (mut start, mut weights) = (guess.clone(), vec![1.0; 4]);
    for (number, pivot) in linkage.pivots.iter().enumerate().filter(|(_, pivot)| leads.contains(&pivot.joint)) {
        start[number] = (PI / 2.0).copysign(at_square[pivot.joint]);
        weights[number] = 0.0;
    }
    let got = by_fold(&linkage.closed(&start, &weights).unwrap()).map(f64::to_degrees);
    let worst = got.iter().zip(at_square).map(|(got, wanted)| (got - wanted).abs()).fold(0.0, f64::max);
    assert!(worst < 1e-5, "{a} {b} {mode:?}: {got:?} is not {at_square:?}");
}

#[test]
fn four_folds_from_a_point_move_as_their_half_angles_say() {
    // The folding reference, 1.5, its table.
    check(60.0, 60.0, "VMVV", Mode::B, [90.0, -53.130_102_354, 90.0, 53.130_102_354]);
    check(60.0, 90.0, "MVVV", Mode::A, [-30.0, 90.0, 30.0, 90.0]);
    check(60.0, 90.0, "VMVV", Mode::B, [90.0, -30.0, 90.0, 30.0]);
    check(45.0, 90.0, "MVVV", Mode::A, [-45.0, 90.0, 45.0, 90.0]);
    check(45.0, 90.0, "VMVV", Mode::B, [90.0, -45.0, 90.0, 45.0]);
    check(80.0, 100.0, "MVVV", Mode::A, [-19.702_152, 90.0, 19.702_152, 90.0]);
}

#[test]
fn four_right_angles_move_one_line_at_a_time() {
    for folds in ["VVVM", "VVMV", "VMVV", "MVVV", "VVVV", "VMVM"] {
        let assembly = star(&[90.0; 4], folds);
        assert!(!close(&assembly).moves(0), "{folds} all at once");
    }
    let linkage = star_linkage(&[90.0; 4]);
    // The folding reference, 1.5: with one line at 180 degrees the other is free, partly folded it is not.
    for t in [0.3_f64, 1.0, 2.5] {
        assert!(linkage.gap(&[PI, t, PI, -t]) < 1e-9 && linkage.gap(&[PI, t, -PI, -t]) < 1e-9);
    }
    assert!(linkage.gap(&[0.5, 1.0, 0.5, -1.0]) > 1.0);
    assert!(linkage.gap(&[1.0, 0.0, 1.0, 0.0]) < 1e-9);
}

/// A star's pivots in the order of its folds.
fn star_linkage(sectors: &[f64]) -> Linkage {
    let assembly = star(sectors, &"V".repeat(sectors.len()));
    let group: Vec<usize> = (0..assembly.panels.len()).collect();
    let frames = &assembly.start.frames;
    let pivots = (0..sectors.len()).map(|joint| crate::closure::pivot(&assembly, frames, &group, joint, 0).unwrap());
    Linkage::new(pivots.collect(), sectors.len(), assembly.base)
}

/// A pocket on a base, all in one plane: a strip of tab, wall, cover, wall and tab, glued down at both tabs, and
/// standing up when its first two folds do; the other two follow. Walls 30 mm tall and 60 mm apart.
fn pocket([first, second]: [Work; 2]) -> Assembly {
    let rectangle = |x: f64, width: f64, height: f64| {
        vec![point(x, height), point(x + width, height), point(x + width, 0.0), point(x, 0.0)]
    };
    let base = Piece { panels: vec![PiecePanel::new(PanelId(0), rectangle(0.0, 200.0, 50.0))], ..Piece::default() };
    let edges = [0.0, 10.0, 40.0, 100.0, 130.0, 140.0];
    let panels = (1..=5).map(|i| {
        let (from, to) = (edges[i - 1], edges[i]);
        PiecePanel::new(PanelId(i), rectangle(from, to - from, 50.0))
    });
    let works = [first, second, MOUNTAIN, VALLEY];
    let fold = |(i, work): (usize, Work)| Fold {
        id: FoldId(i),
        line: line(i),
        crease: crease(work),
        panels: [PanelId(i), PanelId(i + 1)],
        stretches: vec![Segment { a: point(edges[i], 0.0), b: point(edges[i], 50.0) }],
    };
    let piece = Piece { panels: panels.collect(), folds: (1..).zip(works).map(fold).collect(), ..Piece::default() };
    let part = Part {
        piece,
        folded: vec![vec![LineId(3)], vec![LineId(4)]],
        panel: PanelId(1),
        on: PanelId(0),
        face: Face::Front,
        origin: point(20.0, 0.0),
        right: DVec2::X,
        turned_over: false,
        inside: None,
    };
    let glue = |panel: usize, faces: [Face; 2], x: f64| Glue {
        panels: [PanelId(0), PanelId(panel)],
        faces,
        area: vec![rectangle(x, 10.0, 50.0)],
    };
    let blueprint = Blueprint {
        parts: vec![part],
        bonds: vec![glue(1, [Face::Front, Face::Back], 20.0), glue(5, [Face::Front, Face::Back], 90.0)],
        steps: vec![BlueprintStep { lines: vec![LineId(1), LineId(2)], tucks: Vec::new() }],
        ..Blueprint::new(base, PanelId(0))
    };
    blueprint.assembly().unwrap()
}

#[test]
fn a_pocket_on_two_parallel_hinges_stands_up() {
    let assembly = pocket([VALLEY_WALL, MOUNTAIN_WALL]);
    let folding = close(&assembly);
    assert_eq!(folding.troubles(), []);
    for i in 0..=100 {
        let time = f64::from(i) / 100.0;
        // A four-bar with equal opposite sides, by hand: the cover stays level, its edge goes round with the wall.
        let poses = folding.flat_pose(time);
        let (sin, cos) = libm::sincos(time * PI / 2.0);
        let cover = poses[3];
        let edge = cover.transform_point3(DVec3::new(40.0, 0.0, 0.0));
        assert!(edge.distance(DVec3::new(30.0 + 30.0 * cos, 0.0, 30.0 * sin)) < 1e-4, "{edge} at {time}");
        assert!(cover.matrix3.z_axis.distance(DVec3::Z) < 1e-6);
        holds_together(&assembly, &folding, time);
    }
    near(folding.flat_pose(1.0)[4].transform_point3(DVec3::new(100.0, 0.0, 0.0)), [90.0, 0.0, 30.0]);
}

#[test]
fn a_pocket_cannot_stand_up_below_its_base() {
    // The motion holds together, but the base lies under the wall.
    let down = close(&pocket([MOUNTAIN_WALL, VALLEY_WALL]));
    let blocked =
        |trouble: &Trouble| matches!(trouble, Trouble::Blocked { step: 0, moving: PanelId(2), by: PanelId(0) });
    assert!(down.moves(0) && down.troubles().iter().any(blocked), "{:?}", down.troubles());
    // Walls that lean the same way do not close with the cover between them.
    let stuck = close(&pocket([VALLEY_WALL, VALLEY_WALL]));
    let [Trouble::Joined { step: 0, lines, panels, .. }] = stuck.troubles() else { panic!("{:?}", stuck.troubles()) };
    assert_eq!((lines.len(), panels.len()), (2, 3));
}

/// No joint opens and no glue gives way.
#[track_caller]
fn holds_together(assembly: &Assembly, folding: &Folding, time: f64) {
    let poses = folding.flat_pose(time);
    for joint in &assembly.joints {
        for end in joint.stretches.iter().flat_map(|&(from, to)| [from, to]) {
            let [a, b] = joint.panels.map(|panel| poses[panel].transform_point3(end.extend(0.0)));
            assert!(a.distance(b) < 1e-6, "{time}: line {} is open by {} mm", joint.line, a.distance(b));
        }
    }
    for bond in &assembly.bonds {
        let start = &assembly.start.frames;
        let [p, q] = bond.panels;
        let (then, now) = (start[p].inverse() * start[q], poses[p].inverse() * poses[q]);
        assert!(then.abs_diff_eq(now, 1e-6), "{time}: the glue between {p} and {q} gives way");
    }
}

/// For each ring: its count of panels, in how many ways its folds may begin to turn, whether it moves.
fn rings(sheet: &Sheet) -> Vec<(usize, usize, bool)> {
    let assembly = sheet.assemble();
    let folding = close(&assembly);
    let rings = mobility(&assembly, &folding, 0);
    assert!(rings.iter().all(|ring| ring.gap < 1e-9 && ring.lines.len() <= ring.joints.len()));
    rings.into_iter().map(|ring| (ring.panels.len(), ring.freedoms, ring.moves)).collect()
}

#[test]
fn rings_are_told_with_what_they_can_do() {
    // No ring in a strip. Four right angles: either line. A line that runs on past an opening: that line.
    assert_eq!(rings(&Sheet::new(100.0, 20.0).down(30.0, VALLEY).down(60.0, VALLEY).base(5.0, 5.0)), []);
    assert_eq!(rings(&Sheet::new(100.0, 100.0).down(50.0, VALLEY).across(50.0, VALLEY).base(5.0, 5.0)), [(4, 2, true)]);
    // Round an opening, four folds at right angles are held: they would have to twist the frame.
    let frame = Sheet::new(100.0, 100.0)
        .cut_out((30.0, 70.0), (30.0, 70.0))
        .down_from(50.0, (0.0, 30.0), VALLEY)
        .down_from(60.0, (70.0, 100.0), VALLEY)
        .base(5.0, 5.0);
    assert_eq!(rings(&frame), [(2, 0, false)]);
    // Three folds from a point are rigid (the folding reference, 1.4: degrees are even), though flat they may begin.
    let assembly = star(&[110.0, 120.0, 130.0], "VVV");
    let [ring] = &mobility(&assembly, &close(&assembly), 0)[..] else { panic!("one ring") };
    assert_eq!((ring.panels.len(), ring.joints.len(), ring.freedoms, ring.moves), (3, 3, 1, false));
    // The pocket: a four-bar.
    let assembly = pocket([VALLEY_WALL, MOUNTAIN_WALL]);
    let folding = close(&assembly);
    for step in [0, 1] {
        let [ring] = &mobility(&assembly, &folding, step)[..] else { panic!("one ring") };
        assert!(ring.moves && ring.gap < 1e-9, "{ring:?}");
    }
    assert_eq!(mobility(&assembly, &folding, 1)[0].freedoms, 1);
}
