//! Large figures, against a solver of another make on the plain definition of maps: every pair a statement, every trio
//! and every two joints of one side clauses.

mod common;

use batsat::{BasicSolver, Lit, SolverInterface, lbool};
use common::{Random, equal_strip, map, ready, simply_folded, word};
use foliowright_order::{Answer, Conflict, Effort, Figure, Fold, Given, State};
use glam::DVec2;
use std::collections::BTreeMap;

/// Whether a map folds as its joints say, by clauses (Koehler 1968, Lunnon 1971 for the definition).
fn folds_by_clauses(rows: usize, columns: usize, figure: &Figure) -> bool {
    let count = rows * columns;
    let mut solver = BasicSolver::default();
    let mut above = vec![None; count * count];
    for a in 0..count {
        for b in a + 1..count {
            let first = Lit::new(solver.new_var_default(), true);
            above[a * count + b] = Some(first);
            above[b * count + a] = Some(!first);
        }
    }
    let above = |a: usize, b: usize| above[a * count + b].expect("all pairs have a statement");
    let mut clauses: Vec<Vec<Lit>> = Vec::new();
    for a in 0..count {
        for b in a + 1..count {
            for c in b + 1..count {
                let ring = [above(a, b), above(b, c), above(c, a)];
                clauses.extend([ring.to_vec(), ring.map(|statement| !statement).to_vec()]);
            }
        }
    }
    let mut sides: BTreeMap<(bool, usize), Vec<[usize; 2]>> = BTreeMap::new();
    for joint in &figure.joints {
        let [a, b] = joint.facets;
        let is_level = b == a + 1;
        sides.entry((is_level, if is_level { a % columns } else { a / columns } % 2)).or_default().push([a, b]);
        let (up, down) = if figure.facets[a].face_up { (a, b) } else { (b, a) };
        match joint.fold {
            Some(Fold::Valley) => clauses.push(vec![above(down, up)]),
            Some(Fold::Mountain) => clauses.push(vec![above(up, down)]),
            _ => {}
        }
    }
    for joints in sides.values() {
        for (i, &[a, b]) in joints.iter().enumerate() {
            for &[c, d] in &joints[i + 1..] {
                let four = [above(a, c), above(b, c), above(a, d), above(b, d)];
                let odd = (0..16_u32).filter(|turned| turned.count_ones() % 2 == 1);
                let clause =
                    |turned: u32| (0..4).map(move |at| if turned >> at & 1 == 1 { !four[at] } else { four[at] });
                clauses.extend(odd.map(|turned| clause(turned).collect::<Vec<Lit>>()));
            }
        }
    }
    for mut clause in clauses {
        solver.add_clause_reuse(&mut clause);
    }
    solver.solve_limited(&[]) == lbool::TRUE
}

/// A map whose folds are at random but for the last round each vertex, which makes one mountain or three.
fn fine_at_each_vertex(rows: usize, columns: usize, random: &mut Random) -> Figure {
    let mut figure = map(rows, columns);
    let at: BTreeMap<[usize; 2], usize> =
        figure.joints.iter().enumerate().map(|(at, joint)| (joint.facets, at)).collect();
    for joint in &mut figure.joints {
        joint.fold = Some(*random.pick(&[Fold::Mountain, Fold::Valley]));
    }
    for row in 1..rows {
        for column in 1..columns {
            let panel = row * columns + column;
            let round = [[panel - 1, panel], [panel - columns - 1, panel - columns], [panel - columns - 1, panel - 1]];
            let mountains = round.iter().filter(|pair| figure.joints[at[*pair]].fold == Some(Fold::Mountain)).count();
            let last = if mountains % 2 == 1 { Fold::Valley } else { Fold::Mountain };
            figure.joints[at[&[panel - columns, panel]]].fold = Some(last);
        }
    }
    figure
}

#[test]
fn maps_fold_when_another_solver_says_so() {
    let mut random = Random(9);
    let (mut some, mut none) = (0, 0);
    for _ in 0..36 {
        let (rows, columns) = (4 + random.below(3), 5 + random.below(4));
        let figure = if random.below(4) == 0 {
            simply_folded(rows, columns, &mut random)
        } else {
            fine_at_each_vertex(rows, columns, &mut random)
        };
        let folds = folds_by_clauses(rows, columns, &figure);
        match ready(&figure).solve() {
            Answer::Order(_) => assert!(folds, "{figure:?}"),
            Answer::Conflict(conflict) => {
                assert!(!folds && conflict.is_least, "{figure:?}");
                assert!(!folds_by_clauses(rows, columns, &reduced(&figure, &conflict)), "{conflict:?}");
            }
            Answer::Undecided => panic!("undecided"),
        }
        *(if folds { &mut some } else { &mut none }) += 1;
    }
    assert!(some > 10 && none > 10, "{some} fold and {none} don't");
}

fn reduced(figure: &Figure, conflict: &Conflict) -> Figure {
    let mut joints: Vec<_> = conflict.joints.iter().map(|&joint| (joint, figure.joints[joint].clone())).collect();
    for (number, joint) in &mut joints {
        if !conflict.directions.contains(number) {
            joint.fold = Some(Fold::Either);
        }
    }
    Figure { joints: joints.into_iter().map(|(_, joint)| joint).collect(), ..figure.clone() }
}

#[test]
fn a_map_of_ninety_six_folds_as_simple_folds_do() {
    for seed in 1..=4 {
        let figure = simply_folded(8, 12, &mut Random(seed));
        let Answer::Order(state) = ready(&figure).solve() else { panic!("seed {seed}") };
        let folds: Vec<Option<Fold>> = figure.joints.iter().map(|joint| joint.fold).collect();
        assert_eq!(state.folds().collect::<Vec<_>>(), folds, "seed {seed}");
    }
}

fn heights(state: &State, panels: usize) -> Vec<usize> {
    let pile = state.pile_at(DVec2::new(5.0, 5.0));
    let mut heights = vec![0; panels];
    pile.iter().enumerate().for_each(|(height, &panel)| heights[panel] = height);
    heights
}

#[test]
fn a_long_strip_is_folded_and_its_order_holds() {
    let mut random = Random(3);
    let folds: String = (1..120).map(|_| *random.pick(&['M', 'V'])).collect();
    let problem = ready(&equal_strip(&folds));
    let Answer::Order(state) = problem.solve() else { panic!("equal panels fold any way") };
    assert_eq!(word(&state), folds);
    let height = heights(&state, 120);
    for i in 0..119 {
        let (low, high) = (height[i].min(height[i + 1]), height[i].max(height[i + 1]));
        let between = |panel: usize| low < height[panel] && height[panel] < high;
        for j in (i + 2..119).step_by(2) {
            assert_eq!(between(j), between(j + 1), "folds {i} and {j} cross");
        }
    }
    // The whole order holds when it is asked for, and not with one fold turned over.
    let asked = |height: &[usize]| -> Vec<Given> {
        let pairs = (0..120).flat_map(|a| (a + 1..120).map(move |b| (a, b)));
        pairs.map(|(a, b)| if height[a] < height[b] { Given::new(a, b) } else { Given::new(b, a) }).collect()
    };
    assert_eq!(problem.allows(&asked(&height)), Answer::Order(state));
    let mut wrong = height;
    wrong.swap(60, 61);
    let Answer::Conflict(conflict) = problem.allows(&asked(&wrong)) else { panic!("fold 60 says otherwise") };
    assert!(conflict.is_least && conflict.asked.len() == 1 && conflict.joints.len() == 1, "{conflict:?}");
}

#[test]
fn a_question_that_takes_too_much_is_left_undecided() {
    let problem = ready(&simply_folded(8, 12, &mut Random(1))).with_effort(Effort(10));
    assert_eq!(problem.solve(), Answer::Undecided);
    assert_eq!(problem.forced(0, 50), None);
    assert!(problem.leeway(3, 77).iter().all(|leeway| leeway.first_above.is_none() || leeway.second_above.is_none()));
}

#[test]
fn the_same_figure_has_the_same_answers() {
    let figure = fine_at_each_vertex(4, 5, &mut Random(7));
    let answers = || (ready(&figure).solve(), ready(&map(3, 3)).solve(), ready(&map(2, 4)).list(50).parts());
    assert_eq!(answers(), answers());
}
