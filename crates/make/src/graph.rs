//! Jobs by their numbers, and which must come before which: an order that obeys, and circles where none can.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// One number that must come before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Arrow {
    pub(crate) first: usize,
    pub(crate) then: usize,
    /// Whether it is never to be left out while another of its circle can be.
    pub(crate) is_firm: bool,
}

/// Arrows of which as many are left out as it takes for an order to exist.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Untangled {
    /// Whether each arrow is kept.
    pub(crate) kept: Vec<bool>,
    /// The circles that were found: the arrows along each, head to tail, the one that was left out for it last.
    pub(crate) circles: Vec<Vec<usize>>,
}

/// Finds circles and leaves out one arrow of each, rather one that is not firm, and rather one that runs against the
/// numbers.
pub(crate) fn untangle(count: usize, arrows: &[Arrow]) -> Untangled {
    let mut kept = vec![true; arrows.len()];
    let mut circles = Vec::new();
    // Most circles are two that contradict each other; these are found at once.
    let by_ends: BTreeMap<(usize, usize), usize> =
        arrows.iter().enumerate().map(|(i, arrow)| ((arrow.first, arrow.then), i)).collect();
    for (i, arrow) in arrows.iter().enumerate().filter(|(_, arrow)| arrow.first < arrow.then) {
        circles.extend(by_ends.get(&(arrow.then, arrow.first)).map(|&back| vec![i, back]));
    }
    for circle in &mut circles {
        leave_out(circle, arrows, &mut kept);
    }
    while let Some(mut circle) = circle(count, arrows, &kept) {
        leave_out(&mut circle, arrows, &mut kept);
        circles.push(circle);
    }
    Untangled { kept, circles }
}

/// Leaves out one arrow of a circle, and turns the circle so that this one is its last.
fn leave_out(circle: &mut [usize], arrows: &[Arrow], kept: &mut [bool]) {
    let worth = |&(_, &i): &(usize, &usize)| (arrows[i].is_firm, arrows[i].first < arrows[i].then, Reverse(i));
    if let Some((at, &out)) = circle.iter().enumerate().min_by_key(worth) {
        kept[out] = false;
        circle.rotate_left((at + 1) % circle.len());
    }
}

/// A circle of kept arrows: what is left when all that can be done is done leads back into itself.
fn circle(count: usize, arrows: &[Arrow], kept: &[bool]) -> Option<Vec<usize>> {
    let live: Vec<usize> = (0..arrows.len()).filter(|&i| kept[i]).collect();
    let order = order(count, live.iter().map(|&i| (arrows[i].first, arrows[i].then)), &(0..count).collect::<Vec<_>>());
    let mut is_done = vec![false; count];
    for &at in &order {
        is_done[at] = true;
    }
    let start = (0..count).find(|&at| !is_done[at])?;
    // Each that is left waits for another that is left.
    let mut waits_for: Vec<Option<usize>> = vec![None; count];
    for &i in live.iter().filter(|&&i| !is_done[arrows[i].first]) {
        waits_for[arrows[i].then].get_or_insert(i);
    }
    let (mut at, mut seen, mut way) = (start, BTreeMap::new(), Vec::new());
    while !seen.contains_key(&at) {
        seen.insert(at, way.len());
        let back = waits_for[at]?;
        way.push(back);
        at = arrows[back].first;
    }
    let mut circle = way.split_off(seen[&at]);
    circle.reverse();
    Some(circle)
}

/// An order that obeys: of all that can be done, always the one with the least rank (Kahn 1962, "Topological sorting of
/// large networks"). What waits for itself is left out, and so is what waits for it.
pub(crate) fn order(count: usize, pairs: impl Iterator<Item = (usize, usize)>, rank: &[usize]) -> Vec<usize> {
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); count];
    let mut waiting = vec![0_usize; count];
    for (first, then) in pairs {
        after[first].push(then);
        waiting[then] += 1;
    }
    let ready = (0..count).filter(|&at| waiting[at] == 0).map(|at| Reverse((rank[at], at)));
    let mut ready: BinaryHeap<Reverse<(usize, usize)>> = ready.collect();
    let mut order = Vec::with_capacity(count);
    while let Some(Reverse((_, at))) = ready.pop() {
        order.push(at);
        for &next in &after[at] {
            waiting[next] -= 1;
            if waiting[next] == 0 {
                ready.push(Reverse((rank[next], next)));
            }
        }
    }
    order
}

/// Of the `wanted` numbers in their order, pairs of neighbours that can be had beside the given pairs. What can't come
/// after those before it is passed over.
pub(crate) fn chain(count: usize, pairs: &[(usize, usize)], wanted: &[usize]) -> Vec<(usize, usize)> {
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); count];
    for &(first, then) in pairs {
        after[first].push(then);
    }
    let mut chain = Vec::new();
    let mut last: Option<usize> = None;
    for &next in wanted {
        match last {
            Some(at) if reaches(&after, next, at) => {}
            Some(at) => {
                after[at].push(next);
                chain.push((at, next));
                last = Some(next);
            }
            None => last = Some(next),
        }
    }
    chain
}

fn reaches(after: &[Vec<usize>], from: usize, to: usize) -> bool {
    let (mut seen, mut open) = (vec![false; after.len()], vec![from]);
    while let Some(at) = open.pop() {
        if at == to {
            return true;
        }
        if !std::mem::replace(&mut seen[at], true) {
            open.extend(&after[at]);
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use petgraph::algo::{is_cyclic_directed, toposort};
    use petgraph::graph::DiGraph;
    use proptest::prelude::*;

    fn arrows(pairs: &[(usize, usize)]) -> Vec<Arrow> {
        pairs.iter().map(|&(first, then)| Arrow { first, then, is_firm: false }).collect()
    }

    fn petgraph(count: usize, pairs: impl Iterator<Item = (usize, usize)>) -> DiGraph<(), ()> {
        let mut graph = DiGraph::new();
        let nodes: Vec<_> = (0..count).map(|_| graph.add_node(())).collect();
        for (first, then) in pairs {
            graph.add_edge(nodes[first], nodes[then], ());
        }
        graph
    }

    #[test]
    fn the_arrow_left_out_is_not_firm_and_runs_against_the_numbers() {
        assert_eq!(
            untangle(2, &arrows(&[(0, 1), (1, 0)])),
            Untangled { kept: vec![true, false], circles: vec![vec![0, 1]] }
        );
        assert_eq!(untangle(2, &arrows(&[(1, 0), (0, 1)])).kept, [false, true]);
        let mut three = arrows(&[(0, 1), (1, 2), (2, 0)]);
        assert_eq!(untangle(3, &three).kept, [true, true, false]);
        three[2].is_firm = true;
        assert_eq!(untangle(3, &three).kept.iter().filter(|kept| **kept).count(), 2);
        assert!(untangle(3, &three).kept[2]);
    }

    #[test]
    fn what_is_wanted_is_kept_where_it_can_be() {
        // 0 before 3: of the wanted 3, 0, 2 the 0 is passed over.
        assert_eq!(chain(4, &[(0, 3)], &[3, 0, 2]), [(3, 2)]);
        assert_eq!(chain(4, &[(0, 3)], &[2, 0, 1, 3]), [(2, 0), (0, 1), (1, 3)]);
    }

    proptest! {
        /// The reference is petgraph's own test for circles and its own order.
        #[test]
        fn circles_and_orders_are_those_of_a_general_graph_library(
            pairs in prop::collection::btree_set((0..9_usize, 0..9_usize), 0..24),
            firm in prop::collection::vec(any::<bool>(), 24),
        ) {
            let pairs: Vec<(usize, usize)> = pairs.into_iter().filter(|(a, b)| a != b).collect();
            let mut arrows = arrows(&pairs);
            for (arrow, is_firm) in arrows.iter_mut().zip(firm) {
                arrow.is_firm = is_firm;
            }
            let Untangled { kept, circles } = untangle(9, &arrows);
            prop_assert_eq!(is_cyclic_directed(&petgraph(9, pairs.iter().copied())), !circles.is_empty());
            for circle in &circles {
                for (i, &arrow) in circle.iter().enumerate() {
                    prop_assert_eq!(arrows[arrow].then, arrows[circle[(i + 1) % circle.len()]].first);
                }
                let out = circle[circle.len() - 1];
                prop_assert!(!kept[out]);
                prop_assert!(!arrows[out].is_firm || circle.iter().all(|&arrow| arrows[arrow].is_firm));
            }
            let live: Vec<(usize, usize)> = pairs.iter().zip(&kept).filter(|(_, kept)| **kept).map(|(pair, _)| *pair).collect();
            let reference = toposort(&petgraph(9, live.iter().copied()), None);
            prop_assert!(reference.is_ok());
            // Ranked as petgraph has them, ours is petgraph's order.
            let reference: Vec<usize> = reference.unwrap().into_iter().map(|node| node.index()).collect();
            let mut rank = vec![0; 9];
            for (i, &at) in reference.iter().enumerate() {
                rank[at] = i;
            }
            prop_assert_eq!(order(9, live.into_iter(), &rank), reference);
        }
    }
}
