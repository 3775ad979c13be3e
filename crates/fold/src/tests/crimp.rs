//! Folds round a point: counts and lists from outside, and the layer-order solver as a second opinion.

use super::{MOUNTAIN, Sheet, VALLEY};
use crate::{KeptCrossing, Trouble, VertexVerdict, assemble, free_lines, vertex_verdict, vertex_words};
use glam::DVec2;
use model::Direction::{self, Mountain, Valley};
use model::{Layout, Length, Line, Place, Spot};
use order::{Answer, Count, Facet, Figure, Fold, Joint};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::collections::BTreeSet;

/// The word of a number: fold `i` is a mountain where its bit is set.
fn word(number: u32, folds: usize) -> Vec<Direction> {
    (0..folds).map(|i| if number >> i & 1 == 1 { Mountain } else { Valley }).collect()
}

fn read(word: &str) -> Vec<Direction> {
    word.chars().map(|letter| if letter == 'M' { Mountain } else { Valley }).collect()
}

fn written(word: &[Direction]) -> String {
    word.iter().map(|fold| if *fold == Mountain { 'M' } else { 'V' }).collect()
}

/// All words that fold flat, as `vertex_verdict` has it.
fn flat_words(angles: &[f64]) -> Vec<String> {
    let all = (0..1_u32 << angles.len()).map(|number| word(number, angles.len()));
    let mut flat: Vec<String> =
        all.filter(|word| vertex_verdict(angles, word).folds()).map(|word| written(&word)).collect();
    flat.sort();
    flat
}

/// The sectors as triangles with their tip in the origin, laid one after the other to and fro.
fn figure(angles: &[f64], folds: &[Fold]) -> Figure {
    let ray = |degrees: f64| {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        DVec2::new(cos, sin) * 100.0
    };
    let mut figure = Figure::default();
    let mut at = 0.0;
    for (i, angle) in angles.iter().enumerate() {
        let face_up = i % 2 == 0;
        let next = if face_up { at + angle } else { at - angle };
        figure.facets.push(Facet { outline: vec![DVec2::ZERO, ray(at), ray(next)], face_up, ..Facet::default() });
        let joint =
            Joint { facets: [i, (i + 1) % angles.len()], segment: (DVec2::ZERO, ray(next)), fold: Some(folds[i]) };
        figure.joints.push(joint);
        at = next;
    }
    figure
}

/// Whether the solver finds a layer order for a word.
fn has_order(angles: &[f64], word: &[Direction]) -> bool {
    let folds: Vec<Fold> =
        word.iter().map(|fold| if *fold == Mountain { Fold::Mountain } else { Fold::Valley }).collect();
    matches!(order::prepare(&figure(angles, &folds)).unwrap().solve(), Answer::Order(_))
}

fn orders(angles: &[f64]) -> Count {
    order::prepare(&figure(angles, &vec![Fold::Either; angles.len()])).unwrap().count(100_000)
}

/// How many words fold flat, counted and listed, and how many layer orders there are.
#[track_caller]
fn check(angles: &[f64], words: u64, layer_orders: u128) {
    assert_eq!(vertex_words(angles), words, "{angles:?}");
    let flat = flat_words(angles);
    assert_eq!(u64::try_from(flat.len()).unwrap(), words, "{flat:?}");
    for number in 0..1_u32 << angles.len() {
        let word = word(number, angles.len());
        assert_eq!(has_order(angles, &word), flat.contains(&written(&word)), "{angles:?} {}", written(&word));
    }
    assert_eq!(orders(angles), Count::Exact(layer_orders), "{angles:?}");
}

#[test]
fn vertices_fold_in_as_many_ways_as_known() {
    // OEIS A156209 and Hull, arXiv:1410.5022: of degree 4 the counts 4, 6, 8, of degree 6 the counts 8, 12, 16, 18, 20, 24,
    // 30; equal angles 2 C(2n, n - 1). Layer orders of equal angles: 2n times OEIS A005315 (closed meanders 2, 8, 42); the
    // others recomputed by trying all orders.
    check(&[90.0; 4], 8, 8);
    check(&[60.0, 60.0, 120.0, 120.0], 6, 6);
    check(&[60.0, 90.0, 120.0, 90.0], 4, 4);
    check(&[50.0, 80.0, 130.0, 100.0], 4, 4);
    check(&[60.0; 6], 30, 48);
    check(&[10.0, 10.0, 10.0, 20.0, 160.0, 150.0], 12, 16);
    check(&[10.0, 10.0, 10.0, 10.0, 160.0, 160.0], 20, 28);
    check(&[30.0, 50.0, 30.0, 90.0, 120.0, 40.0], 8, 12);
    check(&[40.0, 70.0, 60.0, 50.0, 80.0, 60.0], 8, 10);
    check(&[20.0, 60.0, 70.0, 50.0, 90.0, 70.0], 8, 8);
}

#[test]
fn eight_equal_angles_fold_in_112_ways() {
    // 2 C(8, 3), and 8 times 42 layer orders (OEIS A005315).
    check(&[45.0; 8], 112, 336);
}

#[test]
fn the_words_of_degree_four_are_those_listed() {
    // The folding reference, recomputed by trying all orders.
    assert_eq!(flat_words(&[60.0, 90.0, 120.0, 90.0]), ["MMMV", "MVVV", "VMMM", "VVVM"]);
    assert_eq!(flat_words(&[60.0, 60.0, 120.0, 120.0]), ["MMMV", "MVMM", "MVVV", "VMMM", "VMVV", "VVVM"]);
    let odd: Vec<String> = flat_words(&[90.0; 4]);
    assert!(odd.iter().all(|word| word.matches('M').count() % 2 == 1) && odd.len() == 8, "{odd:?}");
}

/// All ways in which so many numbers of 1 or more can add up to a whole.
fn shares(count: usize, whole: u32) -> Vec<Vec<u32>> {
    match count {
        1 => vec![vec![whole]],
        _ => (1..whole)
            .flat_map(|first| {
                let rest = shares(count - 1, whole - first);
                rest.into_iter().map(move |rest| std::iter::once(first).chain(rest).collect())
            })
            .collect(),
    }
}

#[test]
fn the_counts_of_degree_four_and_six_are_those_published() {
    // OEIS A156209, by trying all angles that are whole tens of degrees.
    for (half, published) in [(2, vec![4, 6, 8]), (3, vec![8, 12, 16, 18, 20, 24, 30])] {
        let lots = shares(half, 18);
        let both = lots.iter().flat_map(|a| lots.iter().map(move |b| (a, b)));
        let counts: BTreeSet<u64> = both
            .map(|(a, b)| {
                let angles: Vec<f64> =
                    a.iter().zip(b).flat_map(|(&a, &b)| [a, b]).map(|n| f64::from(n) * 10.0).collect();
                vertex_words(&angles)
            })
            .collect();
        assert_eq!(counts, published.into_iter().collect());
    }
}

/// What is said of a word.
#[track_caller]
fn says(angles: &[f64], word: &str, verdict: &VertexVerdict, text: &str) {
    assert_eq!(vertex_verdict(angles, &read(word)), *verdict);
    assert_eq!(verdict.to_string(), text);
}

#[test]
fn a_vertex_that_does_not_fold_flat_says_why() {
    says(
        &[85.0, 90.0, 85.0, 100.0],
        "MMMV",
        &VertexVerdict::Angles { sums: [170.0, 190.0] },
        "every second angle adds up to 170° and the others to 190°; a flat fold needs both alike",
    );
    says(
        &[60.0; 6],
        "MVMVMV",
        &VertexVerdict::Counts { mountains: 3, valleys: 3 },
        "3 mountains and 3 valleys meet; a flat fold needs two more of one than of the other",
    );
    says(
        &[180.0, 90.0, 90.0],
        "VVV",
        &VertexVerdict::Odd { folds: 3 },
        "3 folds meet; a flat fold needs an even number",
    );
    // Passes both, and folds round every narrow angle seem right, but there is no layer order (recomputed by trying all).
    says(
        &[40.0, 40.0, 20.0, 20.0, 120.0, 120.0],
        "MMMMVV",
        &VertexVerdict::NoOrder { run: 2, mountains: 3, valleys: 0 },
        "no layer order: 3 mountains and no valleys bound its narrowest angles; paper needs one more of one than of the other",
    );
    says(&[90.0, f64::NAN], "VV", &VertexVerdict::Unclear, "the angles between the folds are not known");
    says(&[90.0; 4], "VV", &VertexVerdict::Unclear, "the angles between the folds are not known");
    says(&[], "", &VertexVerdict::Odd { folds: 0 }, "no folds meet; a flat fold needs an even number");
    says(&[180.0, 180.0], "VV", &VertexVerdict::Folds, "the folds that meet fold flat together");
}

#[test]
fn folds_that_may_be_either_are_what_they_have_to_be() {
    use Direction::Either;
    assert!(vertex_verdict(&[90.0; 4], &[Either; 4]).folds());
    assert!(vertex_verdict(&[60.0, 90.0, 120.0, 90.0], &[Either, Mountain, Mountain, Either]).folds());
    // The fold on either side of the narrowest angle is of the other kind.
    assert!(!vertex_verdict(&[60.0, 90.0, 120.0, 90.0], &[Mountain, Either, Either, Mountain]).folds());
}

#[test]
fn four_right_angles_fold_one_line_at_a_time() {
    // The folding reference, 1.5: either line alone; the other only when the first is folded flat, its halves in opposite
    // directions. Folds 0 and 2 are one line, 1 and 3 the other.
    let right = [90.0; 4];
    let free = |word: &str, folded: [bool; 4]| free_lines(&right, &read(word), &folded);
    let flat = [false; 4];
    assert_eq!(free("VMVV", flat), [[0, 2]]);
    assert_eq!(free("VVVV", flat), [[0, 2], [1, 3]]);
    assert_eq!(free("VMVV", [true, false, true, false]), [[1, 3]]);
    assert_eq!(free("VVVV", [true, false, true, false]), [[0; 2]; 0]);
    assert_eq!(free("MVVV", flat), [[1, 3]]);
    assert_eq!(free("VMVV", [true; 4]), [[0; 2]; 0]);
    // No two folds of this one are one line.
    assert_eq!(free_lines(&[50.0, 80.0, 130.0, 100.0], &read("MMMV"), &flat), [[0; 2]; 0]);
    assert_eq!(free_lines(&right, &read("VV"), &flat), [[0; 2]; 0]);
}

/// A square folded in four, the upper left quarter lying still, `V` or `M` for the upper and lower half of the line down
/// the middle and the left and right half of the other.
fn quarters(folds: &str) -> Sheet {
    let work: Vec<_> = read(folds).into_iter().map(|fold| if fold == Valley { VALLEY } else { MOUNTAIN }).collect();
    let sheet = Sheet::new(100.0, 100.0).down_from(50.0, (0.0, 50.0), work[0]).down_from(50.0, (50.0, 100.0), work[1]);
    let sheet = sheet.across_from(50.0, (0.0, 50.0), work[2]).across_from(50.0, (50.0, 100.0), work[3]);
    sheet.base(25.0, 25.0).steps(&[&[1, 2], &[3, 4]])
}

#[test]
fn a_folios_crossing_is_told_with_its_angles() {
    let sheet = quarters("VVVM");
    let assembly = assemble(&sheet.document, &Layout::of(&sheet.document)).unwrap();
    let [crossing] = assembly.kept_crossings().try_into().unwrap();
    assert_eq!(crossing.at, super::at(50.0, 50.0));
    assert!(crossing.angles.iter().all(|angle| (angle - 90.0).abs() < 1e-9) && crossing.angles.len() == 4);
    assert_eq!(crossing.verdict, Some(VertexVerdict::Folds));
    assert_eq!(free_lines(&crossing.angles, &crossing.folds, &[false; 4]).len(), 1);
    assert_eq!(sheet.fold().troubles(), []);
}

/// A square with folds from its middle to these points of its edge, anticlockwise.
fn from_the_middle(ends: [(f64, f64); 4], folds: &str) -> KeptCrossing {
    let mut document = Sheet::new(100.0, 100.0).base(90.0, 90.0).document;
    for (end, fold) in ends.into_iter().zip(folds.chars()) {
        let spot = |x, y| Spot::At(super::at(x, y));
        let place = Place::Drawn { from: spot(50.0, 50.0), to: spot(end.0, end.1), bow: Length::ZERO };
        let work = if fold == 'V' { VALLEY } else { MOUNTAIN };
        document.lines.push(Line::new(document.next_line(), place, work));
    }
    let [crossing] = assemble(&document, &Layout::of(&document)).unwrap().kept_crossings().try_into().unwrap();
    crossing
}

#[test]
fn slanting_folds_are_measured_where_they_meet() {
    // To the right, to two corners and straight down: 90°, 45°, 90° and 135°, each before the fold of its number.
    let even = [(100.0, 50.0), (100.0, 0.0), (0.0, 0.0), (50.0, 100.0)];
    let crossing = from_the_middle(even, "VMMM");
    for (got, expected) in crossing.angles.iter().zip([90.0, 45.0, 90.0, 135.0]) {
        assert!((got - expected).abs() < 1e-6, "{:?}", crossing.angles);
    }
    // The folds on either side of the narrowest angle are of different kinds.
    assert_eq!(crossing.verdict, Some(VertexVerdict::Folds));
    let alike = VertexVerdict::NoOrder { run: 1, mountains: 0, valleys: 2 };
    assert_eq!(from_the_middle(even, "VVMV").verdict, Some(alike));
    // One fold a little off: it is 40 mm to the left and 50 mm up from the middle, atan2(50, -40) = 128.66°.
    let off = [(100.0, 50.0), (100.0, 0.0), (10.0, 0.0), (50.0, 100.0)];
    let Some(verdict @ VertexVerdict::Angles { .. }) = from_the_middle(off, "VMMM").verdict else { panic!() };
    assert_eq!(
        verdict.to_string(),
        "every second angle adds up to 173.66° and the others to 186.34°; a flat fold needs both alike"
    );
}

#[test]
fn a_crossing_that_cannot_lie_flat_is_told_once_with_the_reason() {
    let folded = quarters("VVVV").fold();
    let unflat = |trouble: &&Trouble| matches!(trouble, Trouble::Unflat { .. });
    let told: Vec<&Trouble> = folded.troubles().iter().filter(unflat).collect();
    let expected = Trouble::Unflat {
        lines: [1, 2, 3, 4].map(model::LineId).to_vec(),
        panels: vec![folded.panel(75.0, 75.0), folded.panel(25.0, 75.0), folded.panel(75.0, 25.0)],
        at: super::at(50.0, 50.0),
        why: VertexVerdict::Counts { mountains: 0, valleys: 4 },
    };
    assert_eq!(told, [&expected]);
    // Folded the wrong way round it could lie flat: then only the order of steps is wrong.
    let order = quarters("VMVV").fold();
    assert!(!order.troubles().is_empty() && !order.troubles().iter().any(|trouble| unflat(&trouble)));
}

/// Angles of a flat sheet that add up as Kawasaki has it: two lots of 180°, in turn, in steps of 10° so that many are
/// equal.
fn angles() -> impl Strategy<Value = Vec<f64>> {
    let lot = |count: usize| {
        prop::collection::vec(1..12_u32, count).prop_map(move |parts| {
            let whole: u32 = parts.iter().sum();
            parts.iter().map(|&part| 180.0 * f64::from(part) / f64::from(whole)).collect::<Vec<f64>>()
        })
    };
    (2..5_usize).prop_flat_map(move |half| {
        (lot(half), lot(half)).prop_map(|(a, b)| a.into_iter().zip(b).flat_map(|(a, b)| [a, b]).collect())
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 60,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(13),
        ..ProptestConfig::default()
    })]

    #[test]
    fn crimping_and_the_solver_agree(angles in angles(), numbers in prop::collection::vec(0..256_u32, 12)) {
        // A triangle as wide as that is a sliver.
        prop_assume!(angles.iter().all(|&angle| angle > 3.0 && angle < 150.0));
        for number in numbers {
            let word = word(number, angles.len());
            prop_assert_eq!(
                vertex_verdict(&angles, &word).folds(),
                has_order(&angles, &word),
                "{:?} {}", &angles, written(&word)
            );
        }
        let half = u32::try_from(angles.len()).unwrap() / 2;
        // Hull's bounds: 2ⁿ to 2 C(2n, n - 1) words for degree 2n.
        prop_assert!(vertex_words(&angles) >= 1 << half);
        prop_assert!(vertex_words(&angles) <= vertex_words(&vec![360.0 / f64::from(2 * half); 2 * half as usize]));
        prop_assert_eq!(vertex_words(&angles), flat_words(&angles).len() as u64);
    }

    #[test]
    fn any_numbers_get_an_answer(
        angles in prop::collection::vec(prop_oneof![any::<f64>(), 0.0..200.0_f64, Just(60.0)], 0..9),
        numbers in any::<u32>(),
    ) {
        let word = word(numbers, angles.len());
        let verdict = vertex_verdict(&angles, &word);
        prop_assert!(verdict.folds() <= (vertex_words(&angles) > 0));
        prop_assert!(!verdict.to_string().is_empty());
        prop_assert!(free_lines(&angles, &word, &vec![false; angles.len()]).len() <= 16);
    }
}
