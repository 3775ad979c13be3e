//! Which of many upright boxes meet, without looking at every pair: they are passed in the order of their lower ends along
//! the axis on which they lie farthest apart (sweep and prune, Baraff 1992).

use glam::DVec3;

/// The least and the greatest corner of an upright box.
pub(crate) type Bounds = (DVec3, DVec3);

/// Calls `each` once with every pair of boxes of different groups that meet or touch, the lesser first; in no order that means
/// anything, but always in the same.
pub(crate) fn meetings(boxes: &[Bounds], group: impl Fn(usize) -> usize, mut each: impl FnMut(usize, usize)) {
    let axis = axis(boxes);
    let group: Vec<usize> = (0..boxes.len()).map(group).collect();
    let largest = largest(&group);
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|&a, &b| boxes[a].0[axis].total_cmp(&boxes[b].0[axis]).then(a.cmp(&b)));
    // Boxes that reach to where the sweep is: those of the largest group, which don't look at one another, and the rest.
    let (mut of_largest, mut rest): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for next in order {
        let at = boxes[next].0[axis];
        let is_largest = Some(group[next]) == largest;
        let mut look = |open: &mut Vec<usize>| {
            open.retain(|&other| boxes[other].1[axis] >= at);
            for &other in open.iter().filter(|&&other| group[other] != group[next] && meet(&boxes[other], &boxes[next]))
            {
                each(other.min(next), other.max(next));
            }
        };
        look(&mut rest);
        if is_largest {
            of_largest.push(next);
        } else {
            look(&mut of_largest);
            rest.push(next);
        }
    }
}

/// Whether two boxes meet or touch.
pub(crate) fn meet(a: &Bounds, b: &Bounds) -> bool {
    a.0.cmple(b.1).all() && b.0.cmple(a.1).all()
}

/// The axis along which boxes are smallest for how far all of them reach.
fn axis(boxes: &[Bounds]) -> usize {
    let start = (DVec3::INFINITY, DVec3::NEG_INFINITY, DVec3::ZERO);
    let (low, high, sum) =
        boxes.iter().fold(start, |(low, high, sum), (a, b)| (low.min(*a), high.max(*b), sum + (*b - *a)));
    let crowded = |axis: usize| {
        let reach = (high - low)[axis];
        if reach > 0.0 { sum[axis] / reach } else { f64::INFINITY }
    };
    (0..3).min_by(|&a, &b| crowded(a).total_cmp(&crowded(b))).unwrap_or(0)
}

/// The group with the most members.
fn largest(group: &[usize]) -> Option<usize> {
    let mut members = vec![0_usize; group.iter().max().map_or(0, |most| most + 1)];
    group.iter().for_each(|&group| members[group] += 1);
    (0..members.len()).max_by_key(|&group| members[group])
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 300,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(41),
            ..ProptestConfig::default()
        })]

        #[test]
        fn the_same_pairs_as_by_looking_at_all(
            boxes in prop::collection::vec((prop::array::uniform3(0..12_i8), prop::array::uniform3(0..5_i8), 0..4_usize), 0..40),
        ) {
            let point = |at: [i8; 3]| DVec3::from(at.map(f64::from));
            let bounds: Vec<Bounds> = boxes.iter().map(|&(low, size, _)| (point(low), point(low) + point(size))).collect();
            let mut got = Vec::new();
            meetings(&bounds, |i| boxes[i].2, |a, b| got.push((a, b)));
            got.sort_unstable();
            let all = (0..boxes.len()).flat_map(|a| (a + 1..boxes.len()).map(move |b| (a, b)));
            let expected: Vec<_> = all.filter(|&(a, b)| boxes[a].2 != boxes[b].2 && meet(&bounds[a], &bounds[b])).collect();
            prop_assert_eq!(got, expected);
        }
    }
}
