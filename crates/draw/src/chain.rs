//! Stretches that follow one another, joined into long paths, so that dashes run through crossings and curves are drawn in
//! one go.

use model::{Point, Segment};
use std::collections::BTreeMap;

/// The stretches as paths, none of which can be made longer without choosing a way: where three or more meet, paths end.
/// Points that lie straight between their neighbours are left out. A path that closes ends where it starts.
pub(crate) fn chains(segments: &[Segment]) -> Vec<Vec<Point>> {
    let mut around: BTreeMap<Point, Vec<usize>> = BTreeMap::new();
    for (i, segment) in segments.iter().enumerate() {
        around.entry(segment.a).or_default().push(i);
        around.entry(segment.b).or_default().push(i);
    }
    let mut used = vec![false; segments.len()];
    let mut out = Vec::new();
    // From where paths end first, then round what closes.
    let ends = around.iter().filter(|(_, there)| there.len() != 2).map(|(point, _)| *point);
    for start in ends.chain(around.keys().copied()) {
        let open: Vec<usize> = around[&start].iter().copied().filter(|&i| !used[i]).collect();
        for first in open {
            if !used[first] {
                out.push(straightened(walk(start, first, segments, &around, &mut used)));
            }
        }
    }
    out
}

fn walk(
    start: Point,
    first: usize,
    segments: &[Segment],
    around: &BTreeMap<Point, Vec<usize>>,
    used: &mut [bool],
) -> Vec<Point> {
    let mut path = vec![start];
    let mut at = start;
    let mut next = Some(first);
    while let Some(i) = next {
        used[i] = true;
        at = if segments[i].a == at { segments[i].b } else { segments[i].a };
        path.push(at);
        let there = &around[&at];
        next = there.iter().copied().find(|&other| there.len() == 2 && !used[other]);
    }
    path
}

fn straightened(path: Vec<Point>) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::with_capacity(path.len());
    for point in path {
        if let [.., before, at] = out.as_slice()
            && (*at - *before).cross(point - *at) == 0
            && (*at - *before).dot(point - *at) > 0
        {
            out.pop();
        }
        out.push(point);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Length;

    fn segment(a: (i64, i64), b: (i64, i64)) -> Segment {
        let at = |(x, y)| Point::new(Length::from_nm(x), Length::from_nm(y));
        Segment { a: at(a), b: at(b) }
    }

    #[track_caller]
    fn check(segments: &[Segment], expected: &[&[(i64, i64)]]) {
        let found: Vec<Vec<(i64, i64)>> =
            chains(segments).iter().map(|path| path.iter().map(|p| (p.x.nm(), p.y.nm())).collect()).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn straight_stretches_become_one() {
        check(&[segment((0, 0), (5, 0)), segment((5, 0), (9, 0))], &[&[(0, 0), (9, 0)]]);
    }

    #[test]
    fn bends_are_followed_and_forks_are_not() {
        let bend = [segment((0, 0), (5, 0)), segment((5, 0), (9, 4))];
        check(&bend, &[&[(0, 0), (5, 0), (9, 4)]]);
        let fork = [bend[0], bend[1], segment((5, 0), (5, 7))];
        check(&fork, &[&[(0, 0), (5, 0)], &[(5, 0), (9, 4)], &[(5, 0), (5, 7)]]);
    }

    #[test]
    fn a_ring_closes() {
        let ring = [segment((0, 0), (4, 0)), segment((4, 0), (4, 4)), segment((0, 0), (4, 4))];
        check(&ring, &[&[(0, 0), (4, 0), (4, 4), (0, 0)]]);
    }
}
