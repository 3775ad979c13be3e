//! Strips: `reference` values for letter folds, rolls and gates, and the rule that decides which strips fold at all.

use super::{MOUNTAIN, Sheet, VALLEY};

/// A strip of panels with a fold between each two, `V` or `M`.
pub(super) fn strip(lengths: &[f64], folds: &str) -> Sheet {
    let mut sheet = Sheet::new(lengths.iter().sum(), 40.0);
    let mut x = 0.0;
    for (length, fold) in lengths.iter().zip(folds.chars()) {
        x += length;
        sheet = sheet.down(x, if fold == 'V' { VALLEY } else { MOUNTAIN });
    }
    sheet
}

/// A strip on the panel numbered `base`, its lines (from 1) folded in `order`: whether it closes without trouble.
fn closes(lengths: &[f64], folds: &str, base: usize, order: &[u32]) -> bool {
    let before: f64 = lengths[..base].iter().sum();
    let steps: Vec<&[u32]> = order.chunks(1).collect();
    let sheet = strip(lengths, folds).base(before + lengths[base] / 2.0, 20.0).steps(&steps);
    sheet.fold().troubles().is_empty()
}

#[track_caller]
fn check(lengths: &[f64], folds: &str, base: usize, order: &[u32], expected: bool) {
    assert_eq!(closes(lengths, folds, base, order), expected, "{lengths:?} {folds} on {base} in the order {order:?}");
}

fn orders(lines: u32) -> Vec<Vec<u32>> {
    if lines == 0 {
        return vec![Vec::new()];
    }
    let shorter = orders(lines - 1);
    let with = |order: &Vec<u32>| {
        (0..=order.len())
            .map(|place| {
                let mut longer = order.clone();
                longer.insert(place, lines);
                longer
            })
            .collect::<Vec<_>>()
    };
    shorter.iter().flat_map(with).collect()
}

/// Whether the strip closes on some panel in some order.
fn closes_somehow(lengths: &[f64], folds: &str) -> bool {
    let lines = u32::try_from(folds.len()).unwrap();
    orders(lines).iter().any(|order| (0..lengths.len()).any(|base| closes(lengths, folds, base, order)))
}

#[test]
fn usual_strips_close() {
    // Folio strips of the folding reference, 1.6, recomputed there by brute force.
    check(&[100.0, 100.0, 98.0], "VV", 1, &[2, 1], true);
    check(&[100.0, 100.0, 98.0], "VV", 1, &[1, 2], true);
    check(&[98.0, 100.0, 100.0], "VV", 1, &[1, 2], true);
    check(&[100.0, 100.0, 100.0], "VM", 1, &[1, 2], true);
    check(&[50.0, 100.0, 50.0], "VV", 1, &[1, 2], true);
    check(&[50.0, 100.0, 50.0], "VV", 0, &[2, 1], true);
    check(&[100.0, 99.0, 98.0, 97.0], "VVV", 0, &[3, 2, 1], true);
    check(&[97.0, 98.0, 99.0, 100.0], "VVV", 3, &[1, 2, 3], true);
    check(&[100.0; 4], "VVV", 0, &[3, 2, 1], true);
    check(&[100.0; 4], "VMV", 0, &[2, 1, 3], true);
    // A gate whose halves fold at once, meeting in the middle.
    let gate = strip(&[50.0, 100.0, 50.0], "VV").base(100.0, 20.0).steps(&[&[1, 2]]);
    assert_eq!(gate.fold().troubles(), []);
}

#[test]
fn strips_without_a_layer_order_never_close() {
    // The folding reference, 1.6: no layer order for any of these.
    for (lengths, folds) in [
        (&[100.0, 98.0, 100.0][..], "VV"),
        (&[3.0, 2.0, 3.0], "MM"),
        (&[1.0, 2.0, 1.0, 2.0], "MMM"),
        (&[1.0, 2.0, 1.0, 2.0], "MVV"),
        (&[3.0, 1.0, 1.0, 3.0], "VVV"),
    ] {
        assert!(!closes_somehow(lengths, folds), "{lengths:?} {folds}");
    }
    // A roll from the wrong end.
    check(&[97.0, 98.0, 99.0, 100.0], "VVV", 0, &[3, 2, 1], false);
}

#[test]
fn a_strip_closes_on_its_first_panel_in_some_order_exactly_when_it_can_be_crimped() {
    // Arkin, Bender, Demaine et al., 'When can you fold a map?': a strip folds flat if and only if it does so by simple
    // folds, and if and only if end folds and crimps use up all creases.
    for panels in 2..=4 {
        for lengths in
            (0..3_usize.pow(panels)).map(|n| (0..panels).map(|i| n / 3_usize.pow(i) % 3 + 1).collect::<Vec<_>>())
        {
            for folds in (0..1_u32 << (panels - 1))
                .map(|n| -> String { (0..panels - 1).map(|i| if n >> i & 1 == 0 { 'V' } else { 'M' }).collect() })
            {
                let mm: Vec<f64> = lengths.iter().map(|&n| f64::from(u8::try_from(n).unwrap()) * 10.0).collect();
                let closes = orders(panels - 1).iter().any(|order| closes(&mm, &folds, 0, order));
                assert_eq!(closes, crimps(lengths.clone(), folds.chars().collect()), "{lengths:?} {folds}");
            }
        }
    }
}

/// The rule of the folding reference, 1.6: greedy end folds and crimps.
pub(super) fn crimps(mut lengths: Vec<usize>, mut folds: Vec<char>) -> bool {
    while !folds.is_empty() {
        let last = lengths.len() - 1;
        let crimp = (1..last)
            .find(|&i| folds[i - 1] != folds[i] && lengths[i - 1] >= lengths[i] && lengths[i] <= lengths[i + 1]);
        if lengths[0] <= lengths[1] {
            lengths.remove(0);
            folds.remove(0);
        } else if lengths[last] <= lengths[last - 1] {
            lengths.pop();
            folds.pop();
        } else if let Some(i) = crimp {
            let merged = lengths[i - 1] + lengths[i + 1] - lengths[i];
            lengths.splice(i - 1..=i + 1, [merged]);
            folds.drain(i - 1..=i);
        } else {
            return false;
        }
    }
    true
}
