//! Orders of steps that are found, and what is said where there is none.

use super::corner::quarters;
use super::envelope::envelope;
use super::strip::{crimps, strip};
use super::{MOUNTAIN, Sheet, VALLEY, VALLEY_WALL, at};
use crate::{
    Access, Assembly, Count, Extent, Folding, Plan, PlanTrouble, Trouble, Wish, Wishes, alternatives, close, explain,
    plan,
};
use model::{Direction, Layout, LineId, PanelId};

/// The plan for a sheet, whose steps have to close it.
#[track_caller]
fn planned(assembly: &Assembly, wishes: &Wishes) -> (Plan, Folding) {
    let plan = plan(assembly, wishes).unwrap_or_else(|trouble| panic!("{trouble:?}"));
    let folding = close(&assembly.with_steps(plan.joints()));
    assert_eq!(folding.troubles(), [], "{plan:?}");
    (plan, folding)
}

fn lines(plan: &Plan) -> Vec<Vec<u32>> {
    plan.steps.iter().map(|step| step.lines.iter().map(|line| line.0).collect()).collect()
}

#[test]
fn a_strip_has_a_plan_exactly_when_it_can_be_crimped() {
    // Arkin, Bender, Demaine et al., 'When can you fold a map?': end folds and crimps use up all creases of a strip if and
    // only if it folds flat, and then it does so by simple folds.
    for panels in 2..=4 {
        for lengths in
            (0..3_usize.pow(panels)).map(|n| (0..panels).map(|i| n / 3_usize.pow(i) % 3 + 1).collect::<Vec<_>>())
        {
            for word in 0..1_u32 << (panels - 1) {
                let folds: String = (0..panels - 1).map(|i| if word >> i & 1 == 0 { 'V' } else { 'M' }).collect();
                let mm: Vec<f64> = lengths.iter().map(|&n| f64::from(u8::try_from(n).unwrap()) * 10.0).collect();
                let assembly = strip(&mm, &folds).base(mm[0] / 2.0, 20.0).assembly();
                if crimps(lengths.clone(), folds.chars().collect()) {
                    planned(&assembly, &Wishes::default());
                } else {
                    let trouble = plan(&assembly, &Wishes::default());
                    assert!(matches!(trouble, Err(PlanTrouble::NoOrder { .. })), "{lengths:?} {folds}: {trouble:?}");
                }
            }
        }
    }
}

#[test]
fn a_strip_with_a_short_middle_names_its_panels_and_lines() {
    // The folding reference, 1.6: 100, 98, 100 with two valleys has no order.
    let sheet = strip(&[100.0, 98.0, 100.0], "VV").base(50.0, 20.0);
    let expected = PlanTrouble::NoOrder {
        panels: vec![PanelId(0), PanelId(1), PanelId(2)],
        lines: vec![LineId(1), LineId(2)],
        at: Vec::new(),
    };
    assert_eq!(plan(&sheet.assembly(), &Wishes::default()), Err(expected));
}

#[test]
fn a_square_is_folded_in_four_one_whole_line_first() {
    for word in 0..16_u32 {
        let folds = [0, 1, 2, 3].map(|i| if word >> i & 1 == 0 { 'V' } else { 'M' });
        let mountains = folds.iter().filter(|&&fold| fold == 'M').count();
        let assembly = quarters(folds).assembly();
        // Maekawa: three one way and one the other.
        if mountains % 2 == 1 {
            let (plan, _) = planned(&assembly, &Wishes::default());
            let whole_first = if folds[0] == folds[1] { [vec![1, 2], vec![3, 4]] } else { [vec![3, 4], vec![1, 2]] };
            assert_eq!((lines(&plan), plan.is_least), (whole_first.to_vec(), true), "{folds:?}");
        } else {
            let expected = PlanTrouble::NoOrder {
                panels: vec![PanelId(0), PanelId(1), PanelId(2), PanelId(3)],
                lines: vec![LineId(1), LineId(2), LineId(3), LineId(4)],
                at: vec![at(50.0, 50.0)],
            };
            assert_eq!(plan(&assembly, &Wishes::default()), Err(expected), "{folds:?}");
        }
    }
}

#[test]
fn an_edge_is_folded_before_its_flap_covers_it() {
    let sheet = Sheet::new(220.0, 50.0).down(20.0, VALLEY).down(60.0, VALLEY).down(160.0, VALLEY).base(110.0, 25.0);
    let (plan, _) = planned(&sheet.assembly(), &Wishes::default());
    let at = |line: u32| lines(&plan).iter().position(|step| step.contains(&line));
    assert!(at(1) < at(2), "{plan:?}");
    // The wrong way round is explained, and mended.
    let why = explain(&sheet.steps(&[&[2], &[1], &[3]]).assembly()).unwrap();
    assert_eq!(why.step, Some(1));
    assert!(matches!(why.troubles[..], [Trouble::Blocked { step: 1, .. }, ..]), "{why:?}");
    assert!(why.instead.is_ok());
}

#[test]
fn a_corner_that_was_not_cut_away_is_named_with_its_lines() {
    // A base with two flaps that meet in a corner nobody cut: four valleys round a point, where Maekawa's theorem wants two
    // more of one kind than of the other.
    let sheet = Sheet::new(150.0, 150.0).down(50.0, VALLEY).across(50.0, VALLEY).base(100.0, 100.0);
    let layout = Layout::of(&sheet.document);
    let mut panels: Vec<PanelId> = [(25.0, 25.0), (100.0, 25.0), (25.0, 100.0), (100.0, 100.0)]
        .map(|(x, y)| layout.panel_at(at(x, y)).unwrap())
        .into();
    panels.sort();
    let expected = PlanTrouble::NoOrder { panels, lines: vec![LineId(1), LineId(2)], at: vec![at(50.0, 50.0)] };
    assert_eq!(plan(&sheet.assembly(), &Wishes::default()), Err(expected));
}

#[test]
fn folds_that_block_themselves_are_named_where_they_do() {
    // A flap with an edge of its own: when it lies on the base, the edge can't be lifted any more.
    let sheet = Sheet::new(220.0, 50.0).down(20.0, VALLEY).down(60.0, VALLEY).down(160.0, VALLEY).base(110.0, 25.0);
    let assembly = sheet.steps(&[&[2], &[1], &[3]]).assembly();
    let layout_panel = |x: f64| {
        assembly.panels.iter().find(|p| p.outline.iter().any(|c| c.x < x) && p.outline.iter().any(|c| c.x > x))
    };
    let (edge, base) = (layout_panel(10.0).unwrap().id, layout_panel(110.0).unwrap().id);
    let kept = Wishes { kept: 1, ..Wishes::default() };
    let Err(PlanTrouble::Stuck { after, hindered }) = plan(&assembly, &kept) else { panic!("it is stuck") };
    assert_eq!(after.iter().map(|step| step.lines.clone()).collect::<Vec<_>>(), [vec![LineId(2)]]);
    let blocked = Trouble::Blocked { step: 1, moving: edge, by: base };
    let told = hindered.iter().find(|hindered| hindered.lines == [LineId(1)]);
    assert!(told.is_some_and(|told| told.troubles.contains(&blocked)), "{hindered:?}");
}

#[test]
fn a_gusset_folds_its_two_folds_together() {
    // A wall of 20 mm and a flap of 60 mm: each fold alone is legal too, but takes a step more.
    let sheet = Sheet::new(180.0, 50.0).down(100.0, VALLEY_WALL).down(120.0, VALLEY_WALL).base(50.0, 25.0);
    let (plan, _) = planned(&sheet.assembly(), &Wishes::default());
    assert_eq!((lines(&plan), plan.is_least), (vec![vec![1, 2]], true));
}

/// The flaps of an envelope, left, top, right, bottom, and their assembly.
fn flaps(depth: f64) -> (Assembly, [PanelId; 4]) {
    let sheet = envelope(depth);
    let layout = Layout::of(&sheet.document);
    let middle = depth + 50.0;
    let flaps = [(5.0, middle), (middle, 5.0), (2.0 * middle - 5.0, middle), (middle, 2.0 * middle - 5.0)];
    (sheet.assembly(), flaps.map(|(x, y)| layout.panel_at(at(x, y)).unwrap()))
}

#[test]
fn any_flap_can_be_outermost() {
    let (assembly, flaps) = flaps(60.0);
    for flap in flaps {
        let (_, folding) = planned(&assembly, &Wishes { layers: vec![Wish::Outermost(flap)], ..Wishes::default() });
        assert!(flaps.iter().all(|&other| folding.above(flap, other) != Some(false)));
    }
    // All 24 orders of four flaps that overlap.
    for n in 0..256_usize {
        let order = [n / 64, n / 16 % 4, n / 4 % 4, n % 4];
        if (0..4).any(|flap| !order.contains(&flap)) {
            continue;
        }
        let above = |pair: &[usize]| Wish::Above { lower: flaps[pair[0]], upper: flaps[pair[1]] };
        let layers = order.windows(2).map(above).collect();
        let (plan, _) = planned(&assembly, &Wishes { layers, ..Wishes::default() });
        let expected: Vec<Vec<u32>> = order.map(|flap| vec![u32::try_from(flap).unwrap() + 1]).to_vec();
        assert_eq!(lines(&plan), expected);
    }
}

#[test]
fn woven_flaps_are_reached_by_a_tuck_and_not_without() {
    // The folding reference, 1.7: of 16 orders of four flaps that overlap their neighbours two are woven.
    let (assembly, flaps) = flaps(45.0);
    for turned in [false, true] {
        let ring = |i: usize| {
            let (a, b) = (flaps[i], flaps[(i + 1) % 4]);
            if turned { Wish::Above { lower: b, upper: a } } else { Wish::Above { lower: a, upper: b } }
        };
        let wishes = Wishes { layers: (0..4).map(ring).collect(), ..Wishes::default() };
        let trouble = plan(&assembly, &wishes).unwrap_err();
        assert!(
            matches!(&trouble, PlanTrouble::Unmet { impossible, unreached }
            if impossible.is_empty() && unreached.len() == 4),
            "{trouble:?}"
        );
        let (plan, folding) = planned(&assembly, &Wishes { tucks: true, ..wishes });
        assert_eq!(plan.steps.iter().map(|step| step.tucks.len()).sum::<usize>(), 1, "{plan:?}");
        assert!(folding.needs_tuck() && folding.tucks(3) && !folding.tucks(0));
        for i in 0..4 {
            assert_eq!(folding.above(flaps[(i + 1) % 4], flaps[i]), Some(!turned));
        }
    }
}

#[test]
fn wishes_that_no_order_has_are_named() {
    // Deep flaps overlap all others: a ring of three can't be.
    let (assembly, [left, top, right, _]) = flaps(60.0);
    let above = |upper, lower| Wish::Above { upper, lower };
    let base = assembly.panels[assembly.base].id;
    let wishes = Wishes { layers: vec![above(left, top), above(base, right)], ..Wishes::default() };
    assert_eq!(
        plan(&assembly, &wishes),
        Err(PlanTrouble::Unmet { impossible: vec![1], unreached: Vec::new() }),
        "a flap that folds to the front lies on the base"
    );
    let ring = Wishes { layers: vec![above(left, top), above(top, right), above(right, left)], ..Wishes::default() };
    let all = PlanTrouble::Unmet { impossible: vec![0, 1, 2], unreached: Vec::new() };
    assert_eq!(plan(&assembly, &ring), Err(all));
}

#[test]
fn first_steps_are_kept() {
    let (assembly, _) = flaps(45.0);
    let sheet = envelope(45.0).steps(&[&[3], &[2]]);
    let (plan, _) = planned(&sheet.assembly(), &Wishes { kept: 2, ..Wishes::default() });
    assert_eq!(lines(&plan), [vec![3], vec![2], vec![1], vec![4]]);
    assert_eq!(assembly.steps.len(), 0);
}

#[test]
fn folds_that_would_tear_the_paper_are_named() {
    // Two walls round a corner with paper all round: a box corner that nobody cut.
    let sheet = Sheet::new(100.0, 100.0).down(50.0, VALLEY_WALL).across(50.0, VALLEY_WALL).base(25.0, 25.0);
    let Err(PlanTrouble::Torn { lines, .. }) = plan(&sheet.assembly(), &Wishes::default()) else { panic!("it tears") };
    assert!(!lines.is_empty());
}

#[test]
fn a_map_that_no_steps_reach_says_how_far_it_gets() {
    // The folding reference, 1.6: a 3 x 3 map, rows MM,MV,VV, gaps MVV,MMV folds flat, but no line of it is folded one
    // way all along, so no first step of a flat sheet is legal. Read: row by row the creases between neighbours, then
    // gap by gap those between rows.
    let mut sheet = Sheet::new(90.0, 90.0).base(15.0, 15.0);
    let work = |fold: char| if fold == 'V' { VALLEY } else { MOUNTAIN };
    let mut y = 0.0;
    for row in ["MM", "MV", "VV"] {
        for (x, fold) in [30.0, 60.0].into_iter().zip(row.chars()) {
            sheet = sheet.down_from(x, (y, y + 30.0), work(fold));
        }
        y += 30.0;
    }
    for (y, gap) in [(30.0, "MVV"), (60.0, "MMV")] {
        let mut x = 0.0;
        for fold in gap.chars() {
            sheet = sheet.across_from(y, (x, x + 30.0), work(fold));
            x += 30.0;
        }
    }
    match plan(&sheet.assembly(), &Wishes::default()) {
        Err(PlanTrouble::Stuck { after, hindered }) => {
            assert_eq!(after, []);
            assert!(!hindered.is_empty());
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn other_orders_of_four_flaps_are_told() {
    // The folding reference, 1.7: 16 orders, 2 of them woven, which closing one flap after the other does not reach. All
    // that is forced is that the flaps lie on the base.
    let (assembly, flaps) = flaps(45.0);
    let sheet = envelope(45.0).steps(&[&[1], &[2], &[3], &[4]]);
    let assembly = assembly.with_steps(sheet.assembly().steps);
    let [plane] = &alternatives(&assembly, &close(&assembly), Extent::default())[..] else { panic!("one plane") };
    assert_eq!((plane.count, plane.orders.len(), plane.panels.len()), (Count::Exact(16), 16, 5));
    let base = assembly.panels[assembly.base].id;
    let mut forced = flaps.map(|flap| (base, flap)).to_vec();
    forced.sort();
    let mut got = plane.forced.clone();
    got.sort();
    assert_eq!(got, forced);
    let count = |matches: fn(&Access) -> bool| plane.orders.iter().filter(|order| matches(&order.access)).count();
    assert_eq!(count(|access| matches!(access, Access::Own)), 1);
    assert_eq!(count(|access| matches!(access, Access::Steps(_))), 13);
    assert_eq!(count(|access| matches!(access, Access::NeedsTuck)), 2);
}

#[test]
fn deep_flaps_reach_all_their_orders_by_folding() {
    // The folding reference, 1.7: 4! orders when every flap overlaps every other, and folding reaches each of them.
    let (assembly, _) = flaps(60.0);
    let assembly = assembly.with_steps(envelope(60.0).steps(&[&[1], &[2], &[3], &[4]]).assembly().steps);
    let [plane] = &alternatives(&assembly, &close(&assembly), Extent::default())[..] else { panic!("one plane") };
    assert_eq!((plane.count, plane.orders.len()), (Count::Exact(24), 24));
    let by_steps = plane.orders.iter().filter(|order| matches!(order.access, Access::Own | Access::Steps(_)));
    assert_eq!(by_steps.count(), 24);
}

#[test]
fn walls_that_stand_side_by_side_fold_one_by_one() {
    // Two walls on one base are no gusset, and share no step.
    let sheet = Sheet::new(140.0, 50.0).down(20.0, VALLEY_WALL).down(120.0, VALLEY_WALL).base(70.0, 25.0);
    let (plan, _) = planned(&sheet.assembly(), &Wishes::default());
    assert_eq!((lines(&plan), plan.is_least), (vec![vec![1], vec![2]], true));
}

#[test]
fn lines_that_fold_either_way_are_told_a_way_that_closes() {
    // The folding reference, 1.6: 100, 98, 100 closes as a Z and not with two valleys.
    let either = model::Work::Score(model::Crease {
        direction: Direction::Either,
        angle: model::FoldAngle::Flat,
        pressed: None,
    });
    let sheet = Sheet::new(298.0, 40.0).down(100.0, either).down(198.0, either).base(50.0, 20.0);
    let mut assembly = sheet.assembly();
    let plan = plan(&assembly, &Wishes::default()).unwrap();
    for joint in &mut assembly.joints {
        joint.crease.direction = plan.directions[&joint.line];
    }
    assert_ne!(plan.directions[&LineId(1)], plan.directions[&LineId(2)]);
    assert_eq!(close(&assembly.with_steps(plan.joints())).troubles(), []);
}
