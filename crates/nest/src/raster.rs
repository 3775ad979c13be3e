//! The places where cuts are tried along one side: sums of parts' sides.
//!
//! Every plan of edge-to-edge cuts can be pushed left and up until each cut lies at such a sum (normal patterns:
//! J. C. Herz, IBM Journal of Research and Development 16, 1972; N. Christofides and C. Whitlock, Operations Research
//! 25, 1977), so nothing is lost. Where there are too many sums, some are left out, and the raster says so.

use std::collections::BTreeSet;

/// Lengths along one side, from nothing up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Raster {
    points: Vec<i64>,
    /// For every point, those up to half of it: what is left when that much is cut off, rounded down to a point.
    rests: Vec<Vec<u32>>,
    /// Whether no sum is left out.
    pub(crate) is_whole: bool,
}

/// A side of a part and how often it may occur.
pub(crate) type Side = (i64, usize);

impl Raster {
    /// Sums of the sides up to the longest of some lengths to be cut; about `most` of them at most, but every single side in any
    /// case.
    pub(crate) fn new(sides: &[Side], lengths: &[i64], most: usize) -> Self {
        let limit = lengths.iter().copied().max().unwrap_or(0);
        let sides: Vec<Side> = sides.iter().copied().filter(|&(side, count)| side <= limit && count > 0).collect();
        let whole = sums(&sides, limit, most);
        let is_whole = whole.is_some();
        let points: Vec<i64> = whole.unwrap_or_else(|| few_sums(&sides, lengths, most)).into_iter().collect();
        Self { rests: rests(&points), points, is_whole }
    }

    pub(crate) fn points(&self) -> &[i64] {
        &self.points
    }

    /// The last point that is no more than `length`, which is not negative.
    pub(crate) fn below(&self, length: i64) -> usize {
        self.points.partition_point(|&point| point <= length).saturating_sub(1)
    }

    /// The point of exactly that length.
    pub(crate) fn at(&self, length: i64) -> Option<usize> {
        self.points.binary_search(&length).ok()
    }

    /// Pairs of points that a length can be cut into, the smaller first.
    pub(crate) fn pairs(&self, point: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.rests[point].iter().enumerate().map(|(i, &rest)| (i + 1, rest as usize))
    }

    /// Whether cutting `point` into the pair leaves a strip that is in neither.
    pub(crate) fn is_loose(&self, point: usize, pair: (usize, usize)) -> bool {
        self.points[pair.0] + self.points[pair.1] < self.points[point]
    }
}

/// All sums, or `None` when there are more than `most`.
fn sums(sides: &[Side], limit: i64, most: usize) -> Option<BTreeSet<i64>> {
    let mut found = BTreeSet::from([0]);
    for &(side, count) in sides {
        let mut last: Vec<i64> = found.iter().copied().collect();
        for _ in 0..count {
            last = last.iter().map(|sum| sum + side).filter(|sum| *sum <= limit && !found.contains(sum)).collect();
            if last.is_empty() {
                break;
            }
            found.extend(&last);
            if found.len() > most {
                return None;
            }
        }
    }
    Some(found)
}

/// Single sides first, then rows of one side, then sums of two sides, and with each of them what is left of every length
/// behind it; evenly spread over the length where not all have room.
fn few_sums(sides: &[Side], lengths: &[i64], most: usize) -> BTreeSet<i64> {
    let limit = lengths.iter().copied().max().unwrap_or(0);
    let single: BTreeSet<i64> = sides.iter().map(|&(side, _)| side).collect();
    let row =
        |&(side, count): &Side| (1..=count.min(most)).map_while(move |n| i64::try_from(n).ok()?.checked_mul(side));
    let rows = sides.iter().flat_map(|side| row(side).take_while(|&sum| sum <= limit));
    let pairs = single.iter().flat_map(|a| single.iter().map(move |b| a + b));
    let mut found: BTreeSet<i64> = lengths.iter().copied().chain([0]).chain(single.iter().copied()).collect();
    for class in [single.clone(), rows.collect(), pairs.collect()] {
        let behind = class.iter().flat_map(|sum| lengths.iter().map(move |length| length - sum));
        let both = class.iter().copied().chain(behind).filter(|sum| (1..=limit).contains(sum) && !found.contains(sum));
        let new: BTreeSet<i64> = both.collect();
        let room = most.saturating_sub(found.len()).min(new.len());
        let spread = new.iter().enumerate().filter(|(i, _)| (i + 1) * room / new.len() > i * room / new.len());
        found.extend(spread.map(|(_, sum)| *sum));
    }
    found
}

fn rests(points: &[i64]) -> Vec<Vec<u32>> {
    let below = |length: i64| points.partition_point(|&point| point <= length).saturating_sub(1);
    let rest = |whole: i64, part: i64| u32::try_from(below(whole - part)).unwrap_or(u32::MAX);
    points
        .iter()
        .map(|&whole| {
            points[1..].iter().take_while(|&&part| 2 * part <= whole).map(|&part| rest(whole, part)).collect()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(sides: &[Side], limit: i64, points: &[i64]) {
        let raster = Raster::new(sides, &[limit], 100);
        assert_eq!(raster.points(), points);
        assert!(raster.is_whole);
    }

    #[test]
    fn sums_of_sides_as_often_as_there_are_parts() {
        check(&[(3, 9), (5, 1)], 12, &[0, 3, 5, 6, 8, 9, 11, 12]);
        check(&[(3, 1), (5, 1)], 12, &[0, 3, 5, 8]);
        check(&[(3, 1), (3, 1)], 12, &[0, 3, 6]);
        check(&[(13, 1)], 12, &[0]);
        check(&[(4, 0)], 12, &[0]);
    }

    #[test]
    fn pairs_leave_nothing_between_points() {
        let raster = Raster::new(&[(3, 9), (5, 1)], &[12], 100);
        let pairs = |length| {
            let lengths = |(a, b): (usize, usize)| (raster.points()[a], raster.points()[b]);
            raster.pairs(raster.below(length)).map(lengths).collect::<Vec<_>>()
        };
        assert_eq!(pairs(12), [(3, 9), (5, 6), (6, 6)]);
        assert_eq!(pairs(10), [(3, 6)]);
        assert!(raster.is_loose(raster.below(12), (2, 3)));
        assert!(!raster.is_loose(raster.below(12), (1, 5)));
    }

    #[test]
    fn too_many_sums_keep_every_side() {
        let sides: Vec<Side> = (0..20).map(|i| (1000 + (1 << i), 3)).collect();
        let raster = Raster::new(&sides, &[2_000_000, 90_000], 50);
        assert!(!raster.is_whole);
        assert_eq!(raster.points().len(), 50);
        assert!(sides.iter().all(|&(side, _)| raster.at(side).is_some()));
    }
}
