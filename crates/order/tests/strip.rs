//! Strips: published counts of folded stamps, closed forms for given folds, and strips of unequal panels against
//! their one-dimensional theory.

mod common;

use common::{Random, count, equal_strip, ready, states, strip, word};
use foliowright_order::{Answer, Count, Fold, Given, State};
use glam::DVec2;
use std::collections::BTreeMap;

/// The pile of a strip of equally long panels.
fn pile(state: &State) -> Vec<usize> {
    state.pile_at(DVec2::new(5.0, 5.0))
}

fn either(panels: usize) -> String {
    "?".repeat(panels - 1)
}

#[test]
fn strips_have_as_many_orders_as_stamps() {
    // OEIS A000136, n = 1..13; tests/outside has longer ones.
    let published = [1, 2, 6, 16, 50, 144, 462, 1392, 4536, 14060, 46_310, 146_376, 485_914];
    for (panels, expected) in (1..).zip(published) {
        assert_eq!(count(&equal_strip(&either(panels))), expected, "{panels} panels");
    }
}

#[test]
fn strips_with_their_first_panel_at_the_bottom() {
    // OEIS A000682, n = 1..10.
    let published = [1, 1, 2, 4, 10, 24, 66, 174, 504, 1406];
    for (panels, expected) in (1..).zip(published) {
        let mut figure = equal_strip(&either(panels));
        figure.given = (1..panels).map(|upper| Given::new(0, upper)).collect();
        assert_eq!(count(&figure), expected, "{panels} panels");
    }
}

#[test]
fn strips_whose_ends_and_sides_are_not_told_apart() {
    // OEIS A001010 (symmetric) and A001011 (blank), n = 1..10.
    let published = [(1, 1), (2, 1), (2, 2), (4, 5), (6, 14), (8, 38), (18, 120), (20, 353), (56, 1148), (48, 3527)];
    for (panels, (symmetric, blank)) in (1..).zip(published) {
        let piles: Vec<Vec<usize>> = states(&equal_strip(&either(panels))).iter().map(pile).collect();
        let relabelled = |pile: &Vec<usize>| pile.iter().map(|panel| panels - 1 - panel).collect::<Vec<usize>>();
        let turned = |pile: &Vec<usize>| pile.iter().rev().copied().collect::<Vec<usize>>();
        assert_eq!(piles.iter().filter(|pile| turned(&relabelled(pile)) == **pile).count(), symmetric);
        let least = |pile: &Vec<usize>| {
            [pile.clone(), relabelled(pile), turned(pile), turned(&relabelled(pile))].into_iter().min().unwrap()
        };
        let mut kinds: Vec<Vec<usize>> = piles.iter().map(least).collect();
        kinds.sort();
        kinds.dedup();
        assert_eq!(kinds.len(), blank, "{panels} panels");
    }
}

#[test]
fn every_fold_word_of_equal_panels_folds_and_some_in_many_orders() {
    // 2^(n-1) words (any strip of equal panels folds) and the most orders of one word: both computed by trying all
    // permutations or inserting panel after panel, n = 1..10.
    let most = [1, 1, 2, 3, 4, 7, 11, 20, 36, 53];
    for (panels, expected) in (1..).zip(most) {
        let mut orders: BTreeMap<String, usize> = BTreeMap::new();
        for state in states(&equal_strip(&either(panels))) {
            *orders.entry(word(&state)).or_default() += 1;
        }
        assert_eq!(orders.len(), 1 << (panels - 1));
        assert_eq!(orders.values().max(), Some(&expected), "{panels} panels");
    }
}

/// Orders of equal panels folded as a word says.
#[track_caller]
fn check(word: &str, expected: u128) {
    assert_eq!(count(&equal_strip(word)), expected, "{word}");
}

#[test]
fn folds_all_one_way_have_as_many_orders_as_folds() {
    // arXiv:2503.23661 (Hull and others 2025).
    (1..=9).for_each(|folds| check(&"V".repeat(folds), u128::try_from(folds).unwrap()));
    (1..=9).for_each(|folds| check(&"M".repeat(folds), u128::try_from(folds).unwrap()));
}

#[test]
fn folds_to_and_fro_have_one_order() {
    // arXiv:2503.23661.
    (1..=12).for_each(|folds| check(&"MV".repeat(folds)[..folds], 1));
}

#[test]
fn some_mountains_then_some_valleys() {
    // arXiv:2503.23661: ab + b² - b + 1 for a > b + 1, b > 4; the smaller ones by trying all permutations.
    let cases = [(7, 5, 56), (8, 5, 61), (9, 5, 66), (8, 6, 79), (4, 2, 11), (5, 3, 22), (6, 4, 37)];
    let others = [(1, 1, 1), (2, 1, 2), (2, 2, 4), (3, 2, 7), (3, 3, 11), (5, 5, 37)];
    for (mountains, valleys, expected) in cases.into_iter().chain(others) {
        check(&("M".repeat(mountains) + &"V".repeat(valleys)), expected);
        check(&("V".repeat(valleys) + &"M".repeat(mountains)), expected);
    }
}

#[test]
fn blocks_of_two() {
    // arXiv:2503.23661: Catalan(floor(m/2) + 1) times Catalan(ceil(m/2) + 1).
    for (blocks, expected) in (1..).zip([2, 4, 10, 25, 70, 196]) {
        check(&"MMVV".repeat(3)[..2 * blocks], expected);
    }
}

#[test]
fn strips_of_unequal_panels() {
    // By trying all permutations, and again by crimps and end folds.
    let cases: [(&[f64], &str, u128); 20] = [
        (&[2.0, 1.0, 2.0], "VV", 0),
        (&[3.0, 2.0, 3.0], "MM", 0),
        (&[1.0, 2.0, 1.0, 2.0], "MMM", 0),
        (&[1.0, 2.0, 1.0, 2.0], "MVV", 0),
        (&[3.0, 1.0, 1.0, 3.0], "VVV", 0),
        (&[2.0, 1.0, 2.0], "VM", 1),
        (&[1.0, 2.0, 1.0], "VV", 1),
        (&[4.0, 3.0, 2.0, 1.0], "VVV", 1),
        (&[1.0, 2.0, 3.0, 4.0], "MVV", 1),
        (&[2.0, 1.0, 1.0, 2.0], "VMV", 1),
        // A letter fold with its inner panel a little short at either end, and in the middle.
        (&[100.0, 100.0, 98.0], "VV", 2),
        (&[98.0, 100.0, 100.0], "VV", 2),
        (&[100.0, 98.0, 100.0], "VV", 0),
        (&[100.0, 100.0, 98.0], "VM", 1),
        (&[50.0, 100.0, 50.0], "VV", 1),
        (&[100.0, 99.0, 98.0, 97.0], "VVV", 1),
        (&[97.0, 98.0, 99.0, 100.0], "VVV", 1),
        (&[100.0, 100.0, 100.0, 100.0], "VVV", 3),
        (&[100.0, 100.0, 100.0, 100.0], "VMV", 1),
        (&[100.0], "", 1),
    ];
    for (lengths, word, expected) in cases {
        assert_eq!(count(&strip(lengths, word)), expected, "{lengths:?} {word}");
    }
}

/// Whether a strip folds, by crimps and end folds (Arkin and others, *When can you fold a map?*, for the theorem;
/// the wording of the two moves from memory). Which is done first makes no difference.
fn folds_by_crimps(lengths: &[f64], word: &str) -> bool {
    let mut lengths = lengths.to_vec();
    let mut creases: Vec<char> = word.chars().collect();
    while !creases.is_empty() {
        let last = creases.len();
        if lengths[0] <= lengths[1] {
            lengths.remove(0);
            creases.remove(0);
        } else if lengths[last] <= lengths[last - 1] {
            lengths.pop();
            creases.pop();
        } else {
            let crimp = (1..last).find(|&i| {
                creases[i - 1] != creases[i] && lengths[i - 1] >= lengths[i] && lengths[i] <= lengths[i + 1]
            });
            let Some(i) = crimp else { return false };
            let joined = lengths[i - 1] - lengths[i] + lengths[i + 1];
            lengths.splice(i - 1..=i + 1, [joined]);
            creases.drain(i - 1..=i);
        }
    }
    true
}

/// Whether folds mingle: each longest run of folds of one kind has a panel at one of its ends that is no longer than the
/// next one inwards (Arkin and others).
fn mingles(lengths: &[f64], word: &str) -> bool {
    let creases: Vec<char> = word.chars().collect();
    let mut first = 0;
    creases.chunk_by(|a, b| a == b).all(|run| {
        let last = first + run.len();
        let is_short = lengths[first] <= lengths[first + 1] || lengths[last] <= lengths[last - 1];
        first = last;
        is_short
    })
}

/// Each strip of so many panels with lengths of 1 to `longest`, and each word of its folds.
fn strips_of(panels: usize, longest: usize) -> Vec<(Vec<f64>, String)> {
    let lengths = |code: usize| {
        let each = std::iter::successors(Some(code), |code| Some(code / longest)).take(panels);
        each.map(|code| [1.0, 2.0, 3.0][code % longest]).collect::<Vec<f64>>()
    };
    let letter = |code: usize, at: usize| if code >> at & 1 == 1 { 'M' } else { 'V' };
    let word = |code: usize| (0..panels - 1).map(|at| letter(code, at)).collect::<String>();
    let all = (0..panels).fold(1, |count, _| count * longest);
    (0..all).flat_map(|code| (0..1 << (panels - 1)).map(move |folds| (lengths(code), word(folds)))).collect()
}

#[test]
fn short_strips_fold_when_crimps_and_end_folds_say_so_and_only_if_they_mingle() {
    // Recomputed by trying all permutations of the panels: 6692 strips of 3 to 5 panels of lengths 1 to 3 and of 6
    // panels of lengths 1 and 2. That folds mingle is necessary and does not suffice: of the 4644 shorter ones 692 do and
    // don't fold.
    let shorter: Vec<_> = (3..=5).flat_map(|panels| strips_of(panels, 3)).collect();
    let longer = strips_of(6, 2);
    assert_eq!((shorter.len(), longer.len()), (4644, 6692 - 4644));
    let mut in_vain = 0;
    for (at, (lengths, word)) in shorter.iter().chain(&longer).enumerate() {
        let folds = matches!(ready(&strip(lengths, word)).solve(), Answer::Order(_));
        assert_eq!(folds, folds_by_crimps(lengths, word), "{lengths:?} {word}");
        assert!(!folds || mingles(lengths, word), "{lengths:?} {word}");
        in_vain += usize::from(at < shorter.len() && !folds && mingles(lengths, word));
    }
    assert_eq!(in_vain, 692);
}

#[test]
fn random_strips_fold_when_crimps_and_end_folds_say_so() {
    let mut random = Random(11);
    let (mut folded, mut not) = (0, 0);
    for _ in 0..300 {
        let panels = 3 + random.below(9);
        let lengths: Vec<f64> = (0..panels).map(|_| *random.pick(&[10.0, 20.0, 30.0, 15.0, 22.5])).collect();
        let word: String = (1..panels).map(|_| *random.pick(&['M', 'V'])).collect();
        let folds = folds_by_crimps(&lengths, &word);
        assert_eq!(count(&strip(&lengths, &word)) > 0, folds, "{lengths:?} {word}");
        *(if folds { &mut folded } else { &mut not }) += 1;
    }
    assert!(folded > 50 && not > 50, "{folded} fold and {not} don't");
}

/// The orders of a strip, by trying all permutations of its panels and telling apart those that differ between panels
/// that overlap (in one dimension these are all the orders: overlapping intervals have no rings).
fn by_permutations(lengths: &[f64], word: &str) -> usize {
    let mut at = vec![0.0];
    for (i, length) in lengths.iter().enumerate() {
        at.push(at[i] + if i % 2 == 0 { *length } else { -length });
    }
    let spans: Vec<[f64; 2]> = (0..lengths.len()).map(|i| [at[i].min(at[i + 1]), at[i].max(at[i + 1])]).collect();
    let mut found = std::collections::BTreeSet::new();
    each_permutation(lengths.len(), &mut |height| {
        let fits = word.chars().enumerate().all(|(i, fold)| {
            let (up, down) = if i % 2 == 0 { (i, i + 1) } else { (i + 1, i) };
            let (low, high) = (height[i].min(height[i + 1]), height[i].max(height[i + 1]));
            let between = |panel: usize| low < height[panel] && height[panel] < high;
            let here = at[i + 1];
            let pierced = (0..lengths.len()).any(|c| spans[c][0] < here && here < spans[c][1] && between(c));
            let crossed = (0..word.len())
                .any(|j| j % 2 == i % 2 && (at[j + 1] - here).abs() < 1e-9 && j != i && between(j) != between(j + 1));
            (fold == '?' || (height[up] < height[down]) == (fold == 'V')) && !pierced && !crossed
        });
        if fits {
            let pairs = (0..lengths.len()).flat_map(|a| (a + 1..lengths.len()).map(move |b| (a, b)));
            let overlap = |&(a, b): &(usize, usize)| spans[a][0].max(spans[b][0]) < spans[a][1].min(spans[b][1]);
            found.insert(pairs.filter(overlap).map(|(a, b)| height[a] < height[b]).collect::<Vec<bool>>());
        }
    });
    found.len()
}

fn each_permutation(count: usize, visit: &mut impl FnMut(&[usize])) {
    fn place(height: &mut Vec<usize>, from: usize, visit: &mut impl FnMut(&[usize])) {
        if from == height.len() {
            visit(height);
        }
        for other in from..height.len() {
            height.swap(from, other);
            place(height, from + 1, visit);
            height.swap(from, other);
        }
    }
    place(&mut (0..count).collect(), 0, visit);
}

#[test]
fn random_strips_have_the_orders_that_permutations_have() {
    let mut random = Random(5);
    for _ in 0..120 {
        let panels = 2 + random.below(5);
        let lengths: Vec<f64> = (0..panels).map(|_| *random.pick(&[10.0, 20.0, 30.0, 15.0])).collect();
        let word: String = (1..panels).map(|_| *random.pick(&['M', 'V', '?', '?'])).collect();
        let expected = by_permutations(&lengths, &word);
        assert_eq!(count(&strip(&lengths, &word)), u128::try_from(expected).unwrap(), "{lengths:?} {word}");
    }
}

#[test]
fn counting_stops_when_told_to() {
    let problem = ready(&equal_strip(&either(8)));
    assert!(matches!(problem.count(1391), Count::MoreThan(1391) | Count::Exact(1392)));
    assert!(matches!(problem.count(100), Count::MoreThan(100)));
    let settled = ready(&equal_strip("VVVVV"));
    assert_eq!((settled.count(5), settled.count(4)), (Count::Exact(5), Count::MoreThan(4)));
    assert_eq!(problem.count(1392), Count::Exact(1392));
    let hurried = problem.with_effort(foliowright_order::Effort(200));
    assert!(matches!(hurried.count(1 << 20), Count::Undecided(found) if found < 1392), "{:?}", hurried.count(1 << 20));
    assert!(states(&equal_strip("VV")).iter().all(|state| state.fold(1) == Some(Fold::Valley)));
}
