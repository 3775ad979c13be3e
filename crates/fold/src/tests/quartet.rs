//! Four folds from one point, turned as the table of the folding reference, 1.5, has them: the multipliers of their half
//! angles (Lang and Howell 2018; Foschi, Hull and Ku, arXiv:2206.12691), recomputed there by products of rotations. All of it
//! is put to the loop that the engine closes.

use super::{MOUNTAIN, VALLEY, at};
use crate::linkage::Linkage;
use crate::{Assembly, Blueprint, Piece, PiecePanel};
use model::{Fold, FoldId, LineId, PanelId, Point, Segment, Work};
use std::f64::consts::PI;

/// Folds turned by less than this, in mm of the farthest corners 50 mm away, are closed: the table has nine digits.
const CLOSED: f64 = 1e-5;

/// Paper round a point, with folds after sectors `a`, `b`, 180 - `a` and 180 - `b`, the fourth back at the first.
fn star(a: f64, b: f64) -> Assembly {
    let angles = [0.0, a, a + b, 180.0 + b, 360.0_f64];
    let spot = |degrees: f64| -> Point {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        at(50.0 * cos, -50.0 * sin)
    };
    let mut piece = Piece::default();
    for sector in 0..4 {
        let (from, to) = (angles[sector], angles[sector + 1]);
        let outline = vec![at(0.0, 0.0), spot(to), spot(f64::midpoint(from, to)), spot(from)];
        piece.panels.push(PiecePanel::new(PanelId(sector), outline));
        let Work::Score(crease) = (if sector == 0 { MOUNTAIN } else { VALLEY }) else {
            unreachable!("both are scores")
        };
        let before = (sector + 3) % 4;
        piece.folds.push(Fold {
            id: FoldId(sector),
            line: LineId(u32::try_from(sector).unwrap()),
            crease,
            panels: [PanelId(before.min(sector)), PanelId(before.max(sector))],
            stretches: vec![Segment { a: at(0.0, 0.0), b: spot(from) }],
        });
    }
    Blueprint::new(piece, PanelId(0)).assembly().unwrap()
}

/// The loop of its four folds, all of them free.
fn linkage(assembly: &Assembly) -> Linkage {
    let group: Vec<usize> = (0..4).collect();
    let pivot = |joint| crate::closure::pivot(assembly, &assembly.start.frames, &group, joint, 0).unwrap();
    Linkage::new((0..4).map(pivot).collect(), 4, assembly.base)
}

/// A row of the table: `p` and `q` of sectors `a` and `b`, and the turns of the four folds, in degrees, when the leading
/// ones are at 90: in mode A the second and fourth, which turn alike, in mode B the first and third.
#[track_caller]
fn check([a, b]: [f64; 2], [p, q]: [f64; 2], modes: [[f64; 4]; 2]) {
    let half = |degrees: f64| (degrees / 2.0).to_radians();
    let (sum, apart) = (half(a + b), half(a - b));
    assert!((libm::cos(sum) / libm::cos(apart) - p).abs() < 1e-9, "p of {a} and {b}");
    assert!((libm::sin(apart) / libm::sin(sum) - q).abs() < 1e-9, "q of {a} and {b}");
    let linkage = linkage(&star(a, b));
    let gap = |turns: [f64; 4]| linkage.gap(&linkage.pivots.iter().map(|pivot| turns[pivot.joint]).collect::<Vec<_>>());
    for turns in modes {
        assert!(gap(turns.map(f64::to_radians)) < CLOSED, "{a} and {b} at {turns:?}");
        // With a single fold 6 degrees off it gapes by millimetres.
        for fold in 0..4 {
            let mut off = turns.map(f64::to_radians);
            off[fold] += 0.1;
            assert!(gap(off) > 1.0, "{a} and {b} at {turns:?}, fold {fold} off");
        }
    }
    for lead in (-170..=170).step_by(10).map(|degrees| f64::from(degrees).to_radians()) {
        let led = |factor: f64| 2.0 * libm::atan(factor * libm::tan(lead / 2.0));
        let (first, second) = (led(q), led(-p));
        assert!(gap([first, lead, -first, lead]) < CLOSED, "{a} and {b}, mode A at {lead}");
        assert!(gap([lead, second, lead, -second]) < CLOSED, "{a} and {b}, mode B at {lead}");
    }
}

#[test]
fn four_folds_turn_as_their_multipliers_say() {
    let line = [[0.0, 90.0, 0.0, 90.0], [90.0, 0.0, 90.0, 0.0]];
    check([60.0, 60.0], [0.5, 0.0], [line[0], [90.0, -53.130_102, 90.0, 53.130_102]]);
    check([60.0, 90.0], [0.267_949_192, -0.267_949_192], [[-30.0, 90.0, 30.0, 90.0], [90.0, -30.0, 90.0, 30.0]]);
    check([45.0, 90.0], [0.414_213_562, -0.414_213_562], [[-45.0, 90.0, 45.0, 90.0], [90.0, -45.0, 90.0, 45.0]]);
    check([80.0, 100.0], [0.0, -0.173_648_178], [[-19.702_152, 90.0, 19.702_152, 90.0], line[1]]);
    check([90.0, 90.0], [0.0, 0.0], line);
}

#[test]
fn four_right_angles_turn_one_line_and_then_the_other() {
    let linkage = linkage(&star(90.0, 90.0));
    let gap = |turns: [f64; 4]| linkage.gap(&linkage.pivots.iter().map(|pivot| turns[pivot.joint]).collect::<Vec<_>>());
    for t in [0.3, 1.0, 2.5] {
        assert!(gap([PI, t, PI, -t]) < CLOSED && gap([t, PI, -t, PI]) < CLOSED, "one line lies flat");
        assert!(gap([PI - 0.1, t, PI - 0.1, -t]) > 1.0, "not quite flat");
        assert!(gap([PI, t, PI, t]) > 1.0, "both halves one way");
    }
    assert!(gap([0.5, 1.0, 0.5, -1.0]) > 1.0);
}
