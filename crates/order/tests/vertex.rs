//! Single vertices: published counts of fold words and orders, explicit lists, and Hull's recursion on random ones.

mod common;

use common::{Random, ready, states, vertex, word};
use foliowright_order::Answer;
use std::collections::BTreeSet;

fn either(degrees: &[f64]) -> String {
    "?".repeat(degrees.len())
}

fn words(degrees: &[f64]) -> (BTreeSet<String>, usize) {
    let states = states(&vertex(degrees, &either(degrees)));
    (states.iter().map(word).collect(), states.len())
}

#[track_caller]
fn check(degrees: &[f64], fold_words: usize, orders: usize) {
    let (words, count) = words(degrees);
    assert_eq!((words.len(), count), (fold_words, orders), "{degrees:?}");
    for word in words {
        let (mountains, valleys) = (word.matches('M').count(), word.matches('V').count());
        assert_eq!(mountains.abs_diff(valleys), 2, "{degrees:?} {word} (Maekawa and Justin)");
    }
}

#[test]
fn vertices_have_as_many_fold_words_and_orders_as_published() {
    // Fold words: OEIS A156209 for the values, Hull 2003 (arXiv:1410.5022) for equal angles, 2 binomial(2n, n - 1). Orders: by
    // an independent solver.
    check(&[90.0; 4], 8, 8);
    check(&[60.0, 60.0, 120.0, 120.0], 6, 6);
    check(&[60.0, 90.0, 120.0, 90.0], 4, 4);
    check(&[50.0, 80.0, 130.0, 100.0], 4, 4);
    check(&[60.0; 6], 30, 48);
    check(&[45.0; 8], 112, 336);
    check(&[10.0, 10.0, 10.0, 20.0, 160.0, 150.0], 12, 16);
    check(&[10.0, 10.0, 10.0, 10.0, 160.0, 160.0], 20, 28);
    check(&[30.0, 50.0, 30.0, 90.0, 120.0, 40.0], 8, 12);
    check(&[40.0, 70.0, 60.0, 50.0, 80.0, 60.0], 8, 10);
    check(&[20.0, 60.0, 70.0, 50.0, 90.0, 70.0], 8, 8);
}

#[test]
fn equal_angles_fold_like_closed_meanders() {
    // OEIS A005315, closed meanders 1, 2, 8, 42: orders are 2n times the n-th.
    for (half, meanders) in [(2, 2), (3, 8), (4, 42)] {
        let angles = vec![180.0 / f64::from(half); 2 * usize::try_from(half).expect("small")];
        assert_eq!(states(&vertex(&angles, &either(&angles))).len(), angles.len() * meanders);
    }
}

#[test]
fn explicit_lists_of_fold_words() {
    // Hull's recursion by hand, and again by an independent solver.
    let (generic, _) = words(&[60.0, 90.0, 120.0, 90.0]);
    assert_eq!(generic, ["MMMV", "MVVV", "VMMM", "VVVM"].map(String::from).into());
    let (pairs, _) = words(&[60.0, 60.0, 120.0, 120.0]);
    assert_eq!(pairs, ["MMMV", "MVMM", "MVVV", "VMMM", "VMVV", "VVVM"].map(String::from).into());
    let (square, _) = words(&[90.0; 4]);
    assert!(square.len() == 8 && square.iter().all(|word| word.matches('M').count() % 2 == 1));
}

#[test]
fn counting_mountains_and_small_angles_does_not_suffice() {
    // By an independent solver: the word passes Maekawa's rule and that of a small angle between large ones.
    let problem = ready(&vertex(&[40.0, 40.0, 20.0, 20.0, 120.0, 120.0], "MMMMVV"));
    let Answer::Conflict(conflict) = problem.solve() else { panic!("it can't fold") };
    assert!(conflict.is_least, "{conflict:?}");
}

/// How many fold words a vertex has: Hull 2003, as the program of OEIS A156209 has it.
fn recursion(angles: &[usize]) -> usize {
    let count = angles.len();
    let Some(&least) = angles.iter().min() else { return 0 };
    if angles.iter().all(|&angle| angle == least) {
        return 2 * binomial(count, count / 2 - 1);
    }
    let Some(start) = (0..count).find(|&i| angles[i] == least && angles[(i + count - 1) % count] != least) else {
        return 0;
    };
    let turned: Vec<usize> = (0..count).map(|i| angles[(start + i) % count]).collect();
    let run = turned.iter().take_while(|&&angle| angle == least).count();
    let (after, before) = (turned[run], turned[count - 1]);
    let rest = if run + 1 < count { &turned[run + 1..count - 1] } else { &[] };
    let mut smaller = if run % 2 == 1 { vec![before - least + after] } else { vec![before, after] };
    smaller.extend(rest);
    let ways = if run % 2 == 1 { binomial(run + 1, run.div_ceil(2)) } else { binomial(run + 1, run / 2) };
    ways * recursion(&smaller)
}

fn binomial(n: usize, k: usize) -> usize {
    (0..k).fold(1, |product, i| product * (n - i) / (i + 1))
}

#[test]
fn random_vertices_have_as_many_fold_words_as_hulls_recursion_says() {
    let mut random = Random(17);
    let mut seen = BTreeSet::new();
    let mut done = 0;
    while done < 250 {
        let half = 2 + random.below(3);
        let step = *random.pick(&[10, 15, 20, 30]);
        let (Some(odd), Some(even)) = (shares(&mut random, half, step), shares(&mut random, half, step)) else {
            continue;
        };
        let angles: Vec<usize> = odd.into_iter().zip(even).flat_map(|(a, b)| [a, b]).collect();
        if angles.iter().any(|&angle| angle >= 180) {
            continue;
        }
        let degrees: Vec<f64> = angles.iter().map(|&angle| f64::from(u32::try_from(angle).expect("small"))).collect();
        let expected = recursion(&angles);
        assert_eq!(words(&degrees).0.len(), expected, "{angles:?}");
        // Hull 2003: at least 2^n fold words, at most as many as for equal angles.
        assert!((1 << half..=2 * binomial(2 * half, half - 1)).contains(&expected), "{angles:?}");
        seen.insert((2 * half, expected));
        done += 1;
    }
    assert!(seen.len() >= 8, "different vertices: {seen:?}");
}

/// Parts of 180 degrees in steps, if the last is any.
fn shares(random: &mut Random, count: usize, step: usize) -> Option<Vec<usize>> {
    let mut parts: Vec<usize> = (1..count).map(|_| (1 + random.below(180 / step - 1)) * step).collect();
    let last = 180_usize.checked_sub(parts.iter().sum()).filter(|&last| last > 0)?;
    parts.push(last);
    Some(parts)
}
