//! What holds for any sheet, however it is lined and folded.

use super::{MOUNTAIN, MOUNTAIN_WALL, Sheet, VALLEY, VALLEY_WALL};
use crate::stage::{Bench, Stage};
use crate::step::motion;
use crate::vertex::Vertex;
use crate::{Assembly, Folding, Trouble, Wishes, assemble, close, plan, verify};
use glam::DVec3;
use model::{Direction, Layout, Work};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// A line on a 120 x 120 mm sheet: down or across, where, from where to where, and what is done along it.
pub(super) type Stroke = (bool, u8, u8, u8, Work);

pub(super) fn stroke() -> impl Strategy<Value = Stroke> {
    let work = prop_oneof![
        4 => Just(VALLEY),
        2 => Just(MOUNTAIN),
        2 => Just(VALLEY_WALL),
        1 => Just(MOUNTAIN_WALL),
        3 => Just(Work::Cut)
    ];
    let end = prop_oneof![Just(12_u8), 1..12_u8];
    let start = prop_oneof![Just(0_u8), 0..11_u8];
    (any::<bool>(), 1..12_u8, start, end, work)
}

pub(super) fn steps() -> impl Strategy<Value = Vec<Vec<u32>>> {
    prop::collection::vec(prop::collection::vec(1..12_u32, 1..3), 0..7)
}

/// The sheet with its strokes, or its image in a mirror.
pub(super) fn sheet(strokes: &[Stroke], steps: &[Vec<u32>], base: (u8, u8), mirrored: bool) -> Sheet {
    let ten = |n: u8| f64::from(n) * 10.0;
    let flip = |x: f64| if mirrored { 120.0 - x } else { x };
    let span = |a: f64, b: f64| (a.min(b), a.max(b));
    let mut sheet = Sheet::new(120.0, 120.0);
    for &(down, place, from, to, work) in strokes {
        let to = to.max(from + 1);
        sheet = if down {
            sheet.down_from(flip(ten(place)), (ten(from), ten(to)), work)
        } else {
            sheet.across_from(ten(place), span(flip(ten(from)), flip(ten(to))), work)
        };
    }
    let steps: Vec<&[u32]> = steps.iter().map(Vec::as_slice).collect();
    sheet.base(flip(ten(base.0) + 5.0), ten(base.1) + 5.0).steps(&steps)
}

fn assembly(sheet: &Sheet) -> Assembly {
    assemble(&sheet.document, &Layout::of(&sheet.document)).unwrap()
}

/// Panels keep their shape, joints stay closed, the base lies still.
#[track_caller]
fn holds_together(assembly: &Assembly, folding: &Folding, time: f64) {
    let poses = folding.flat_pose(time);
    assert!(poses[assembly.base].abs_diff_eq(glam::DAffine3::IDENTITY, 0.0));
    assert!(folding.pose(time)[assembly.base].abs_diff_eq(glam::DAffine3::IDENTITY, 0.0));
    for (panel, pose) in assembly.panels.iter().zip(&poses) {
        let (a, b) = (panel.outline[0].extend(0.0), panel.outline[2].extend(0.0));
        let stretched = pose.transform_point3(a).distance(pose.transform_point3(b)) - a.distance(b);
        // A nanometre in a metre.
        assert!(stretched.abs() <= a.distance(b) * 1e-9, "{stretched} mm");
    }
    for joint in &assembly.joints {
        for &(from, to) in &joint.stretches {
            for end in [from, to].map(|end| end.extend(0.0)) {
                let [a, b] = joint.panels.map(|panel| poses[panel].transform_point3(end));
                assert!(a.distance(b) < 1e-6, "joint of line {} is open by {} mm", joint.line, a.distance(b));
            }
        }
    }
}

/// The vertices but for those where a single fold merely runs on.
fn turning(vertices: &[Vertex]) -> Vec<&Vertex> {
    let turns = |vertex: &&Vertex| vertex.spokes.iter().any(|spoke| spoke.joint != vertex.spokes[0].joint);
    vertices.iter().filter(turns).collect()
}

/// Troubles with their panels replaced by the middle of each on the sheet, mirrored back, sorted.
fn placed(assembly: &Assembly, folding: &Folding, mirrored: bool) -> Vec<String> {
    let spot = |id: model::PanelId| {
        let shape = &assembly.panels[assembly.place(id).unwrap()];
        let (low, high) = shape.outline.iter().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(low, high), corner| {
            (low.min(corner.extend(0.0)), high.max(corner.extend(0.0)))
        });
        let middle = (low + high) / 2.0;
        let x = if mirrored { 120.0 - middle.x } else { middle.x };
        format!("{x:.3}/{:.3}", middle.y)
    };
    let text = |trouble: &Trouble| {
        let mut panels: Vec<String> = trouble.panels().into_iter().map(spot).collect();
        panels.sort();
        let kind = match trouble {
            // Of several corners that hang together one is named, which need not be the image of the other.
            Trouble::Joined { step, lines, .. } => return format!("joined {step} {lines:?}"),
            // Told of the corner that is named.
            Trouble::Unflat { .. } => "unflat".to_owned(),
            Trouble::Blocked { .. } => "blocked".to_owned(),
            Trouble::Collides { degrees, .. } => format!("collides {degrees:.1}"),
            Trouble::Crosses { .. } => "crosses".to_owned(),
            Trouble::CannotTuck { .. } => "cannot tuck".to_owned(),
            Trouble::NotInSteps { line } => format!("loose {line}"),
        };
        format!("{kind} {:?} {panels:?}", trouble.step())
    };
    // What follows on a first trouble depends on how paper that has passed through paper is taken to lie.
    let first = folding.troubles().iter().filter_map(Trouble::step).min();
    let counts = |trouble: &&Trouble| first.is_none() || trouble.step() == first;
    let mut all: Vec<String> = folding.troubles().iter().filter(counts).map(text).collect();
    all.sort();
    all
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 200,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(7),
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_folio_holds_together_and_crosses_only_where_a_step_went_wrong(
        strokes in prop::collection::vec(stroke(), 0..12), steps in steps(), base in (0..12_u8, 0..12_u8),
        time in 0.0..7.0_f64,
    ) {
        let assembly = assembly(&sheet(&strokes, &steps, base, false));
        let folding = close(&assembly);
        for time in [0.0, time, 1.0, 2.0, 9.0] {
            holds_together(&assembly, &folding, time);
        }
        prop_assert_eq!(&close(&assembly), &folding, "the same again");
        let rings = crate::ring::rings(&assembly.panels, &assembly.joints);
        prop_assert_eq!(turning(&rings), turning(&assembly.vertices));
        let bench = Bench::new(&assembly);
        let closed = Stage {
            frames: folding.frames.last().unwrap().clone(),
            turned: folding.turned.clone(),
            relations: folding.relations.clone(),
        };
        let states = crate::verify_steps(&assembly);
        let closes = |trouble: &&Trouble| matches!(trouble, Trouble::Crosses { after: None, .. });
        prop_assert_eq!(states.len(), folding.steps());
        if let Some(last) = states.last() {
            prop_assert_eq!(last.len(), folding.troubles().iter().filter(closes).count(), "the last state is the closed one");
        }
        let hindered = folding.troubles().iter().filter_map(Trouble::step).min().unwrap_or(states.len());
        for (step, state) in states.iter().enumerate().take(hindered) {
            prop_assert!(state.is_empty(), "after step {}: {:?}", step, state);
        }
        let by_section = verify::by_section(&bench, &closed);
        prop_assert_eq!(verify::crossings(&bench, &closed).is_empty(), by_section.is_empty(), "{:?}", by_section);
        let troubles = folding.troubles();
        let crosses = troubles.iter().any(|trouble| matches!(trouble, Trouble::Crosses { .. }));
        let stepped = troubles.iter().any(|t| matches!(t, Trouble::Blocked { .. } | Trouble::Collides { .. }));
        prop_assert!(stepped || !crosses, "{:?}", troubles);
    }

    #[test]
    fn a_mirrored_folio_has_the_mirrored_troubles(
        strokes in prop::collection::vec(stroke(), 1..8), steps in steps(), base in (0..12_u8, 0..12_u8),
    ) {
        let [plain, turned] = [false, true].map(|mirrored| assembly(&sheet(&strokes, &steps, base, mirrored)));
        prop_assert_eq!(placed(&plain, &close(&plain), false), placed(&turned, &close(&turned), true));
    }

    #[test]
    fn a_folio_that_closes_opens_again(
        strokes in prop::collection::vec(stroke(), 1..8), base in (0..12_u8, 0..12_u8),
    ) {
        let assembly = assembly(&sheet(&strokes, &[], base, false));
        let Ok(plan) = plan(&assembly, &Wishes { effort: 60, ..Wishes::default() }) else { return Ok(()) };
        let assembly = assembly.with_steps(plan.joints());
        prop_assert!(close(&assembly).troubles().is_empty());
        let bench = Bench::new(&assembly);
        let mut stages = vec![bench.start()];
        for (step, of_step) in assembly.steps.iter().enumerate() {
            let stage = &stages[step];
            let next = bench.landed(stage, &bench.motion(stage, step, &of_step.joints).unwrap(), &of_step.joints);
            prop_assert_eq!(verify::crossings(&bench, &next), vec![], "after step {}", step);
            stages.push(next);
        }
        let mut back = assembly.clone();
        for joint in &mut back.joints {
            let valley = joint.crease.direction == Direction::Valley;
            joint.crease.direction = if valley { Direction::Mountain } else { Direction::Valley };
        }
        let bench = Bench::new(&back);
        for (step, of_step) in assembly.steps.iter().enumerate().rev() {
            let motion = motion(&back, &stages[step + 1].frames, &of_step.joints).unwrap();
            prop_assert!(!bench.is_blocked(&stages[step + 1], &motion));
            let opened = bench.landed(&stages[step + 1], &motion, &of_step.joints);
            prop_assert_eq!(&opened.relations, &stages[step].relations);
            let same = opened.frames.iter().zip(&stages[step].frames).all(|(a, b)| a.abs_diff_eq(*b, 1e-9));
            prop_assert!(same, "step {} does not open", step);
        }
    }

    #[test]
    fn a_mirrored_folio_has_the_same_plan(
        strokes in prop::collection::vec(stroke(), 1..7), base in (0..12_u8, 0..12_u8),
    ) {
        let [plain, turned] = [false, true].map(|mirrored| {
            let assembly = assembly(&sheet(&strokes, &[], base, mirrored));
            let plan = plan(&assembly, &Wishes { effort: 60, ..Wishes::default() });
            plan.map(|plan| plan.steps.into_iter().map(|step| step.lines).collect::<Vec<_>>()).ok()
        });
        prop_assert_eq!(plain, turned);
    }
}
