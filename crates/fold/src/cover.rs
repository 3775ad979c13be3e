//! What lies next above each sheet of a pile. A pile of hundreds of layers has tens of thousands of pairs that lie on one
//! another; how high each layer lies is told by the few of them between which nothing else lies.

use crate::relations::Relations;
use order::ones;

/// Which sheets lie over which, without what follows from the rest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cover {
    /// For each sheet, sheets above it through which all others above it are reached.
    pub(crate) next: Vec<Vec<usize>>,
    /// All sheets, each after those under it.
    pub(crate) bottom_up: Vec<usize>,
}

/// Sets of facets, one for each sheet.
struct Sets {
    words: usize,
    bits: Vec<u64>,
}

impl Sets {
    fn none(sheets: usize, words: usize) -> Self {
        Self { words, bits: vec![0; sheets * words] }
    }

    fn of(&self, sheet: usize) -> &[u64] {
        &self.bits[sheet * self.words..(sheet + 1) * self.words]
    }

    fn of_mut(&mut self, sheet: usize) -> &mut [u64] {
        &mut self.bits[sheet * self.words..(sheet + 1) * self.words]
    }
}

impl Cover {
    /// That of `count` sheets, told of each facet which sheet it is of and whether its front looks up. `None` where sheets lie
    /// on one another in a ring.
    pub(crate) fn new(count: usize, facets: &[(usize, bool)], relations: &Relations) -> Option<Self> {
        let words = facets.len().div_ceil(64);
        let (mut own, mut above) = (Sets::none(count, words), Sets::none(count, words));
        for (facet, &(sheet, front_up)) in facets.iter().enumerate() {
            own.of_mut(sheet)[facet / 64] |= 1 << (facet % 64);
            for (all, word) in above.of_mut(sheet).iter_mut().zip(relations.row(facet)) {
                *all |= if front_up { word.front } else { word.back };
            }
        }
        if (0..count).any(|sheet| meet(own.of(sheet), above.of(sheet))) {
            return None;
        }
        // From each sheet upwards; one is done when all above it are.
        let mut out = Self { next: vec![Vec::new(); count], bottom_up: Vec::with_capacity(count) };
        let mut reached = own.bits.clone();
        let mut done = vec![0; words];
        let mut is_begun = vec![false; count];
        for start in 0..count {
            let mut way = if is_begun[start] { Vec::new() } else { vec![start] };
            while let Some(&sheet) = way.last() {
                is_begun[sheet] = true;
                let left = above.of(sheet).iter().zip(&done).enumerate();
                let next =
                    left.flat_map(|(at, (above, done))| ones(above & !done).map(move |bit| at * 64 + bit)).next();
                if let Some(next) = next.map(|facet| facets[facet].0) {
                    if is_begun[next] {
                        return None;
                    }
                    way.push(next);
                    continue;
                }
                way.pop();
                out.next[sheet] = nearest(above.of_mut(sheet), sheet, &out.bottom_up, &own, &mut reached);
                done.iter_mut().zip(own.of(sheet)).for_each(|(done, own)| *done |= own);
                out.bottom_up.push(sheet);
            }
        }
        out.bottom_up.reverse();
        Some(out)
    }
}

/// Of the facets above a sheet, the sheets of those that are not above another of them; `from_above` has all of them, and
/// what is reached from each. Takes the facets out of `above`, and adds to what is reached.
fn nearest(above: &mut [u64], sheet: usize, from_above: &[usize], own: &Sets, reached: &mut [u64]) -> Vec<usize> {
    let words = above.len();
    let mut out = Vec::new();
    let mut below = from_above.iter().rev();
    while above.iter().any(|&word| word != 0) {
        let Some(&next) = below.find(|&&next| meet(above, own.of(next))) else { break };
        out.push(next);
        for (at, left) in above.iter_mut().enumerate() {
            let through = reached[next * words + at];
            *left &= !through;
            reached[sheet * words + at] |= through;
        }
    }
    out
}

fn meet(a: &[u64], b: &[u64]) -> bool {
    a.iter().zip(b).any(|(a, b)| a & b != 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layer::Side;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    /// Everything above each sheet, through whatever lies between.
    fn reach(over: &[Vec<usize>]) -> Vec<Vec<bool>> {
        let count = over.len();
        let mut reach = vec![vec![false; count]; count];
        for (low, above) in over.iter().enumerate() {
            above.iter().for_each(|&high| reach[low][high] = true);
        }
        // Floyd 1962, Warshall 1962.
        for by in 0..count {
            for from in 0..count {
                for to in 0..count {
                    reach[from][to] |= reach[from][by] && reach[by][to];
                }
            }
        }
        reach
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 500,
            failure_persistence: None,
            rng_seed: RngSeed::Fixed(43),
            ..ProptestConfig::default()
        })]

        #[test]
        fn reaches_what_all_pairs_reach_and_no_pair_follows_from_others(
            sheets in prop::collection::vec((0..70_usize, any::<bool>()), 2..90),
            pairs in prop::collection::vec((0..90_usize, 0..90_usize, any::<bool>()), 0..160),
            has_rings in any::<bool>(),
        ) {
            let count = sheets.iter().map(|(sheet, _)| sheet + 1).max().unwrap();
            let mut relations = Relations::none(sheets.len());
            let mut over = vec![Vec::new(); count];
            for (a, b, way) in pairs {
                let (a, b) = (a % sheets.len(), b % sheets.len());
                let (p, q) = (sheets[a].0, sheets[b].0);
                if a == b || relations.side(a, b).is_some() || (!has_rings && p == q) {
                    continue;
                }
                let b_above = if has_rings { way } else { q > p };
                relations.note(a, b, Some(if b_above == sheets[a].1 { Side::Front } else { Side::Back }));
                relations.note(b, a, Some(if b_above == sheets[b].1 { Side::Back } else { Side::Front }));
                if b_above { over[p].push(q) } else { over[q].push(p) }
            }
            let all = reach(&over);
            let is_ring = (0..count).any(|sheet| all[sheet][sheet]);
            let cover = Cover::new(count, &sheets, &relations);
            prop_assert_eq!(cover.is_none(), is_ring);
            let Some(cover) = cover else { return Ok(()) };
            prop_assert_eq!(&reach(&cover.next), &all);
            let rank = |sheet: usize| cover.bottom_up.iter().position(|&at| at == sheet).unwrap();
            prop_assert_eq!(cover.bottom_up.len(), count);
            for (low, above) in cover.next.iter().enumerate() {
                for &high in above {
                    prop_assert!(rank(low) < rank(high));
                    prop_assert!(above.iter().all(|&other| !all[other][high]), "{} over {} follows", high, low);
                }
            }
        }
    }
}
