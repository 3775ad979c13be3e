//! What two faces say about the order in which they are painted.
//!
//! Sorting by it is `order`'s business.

use super::piece::{Piece, is_wider_than};
use super::{EDGE_ON, SAME_DEPTH, SLIVER};
use glam::DVec2;

/// What a pair of faces says about its order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Relation {
    /// They do not overlap on the screen: either order will do.
    Apart,
    /// One belongs behind the other.
    Sorted(Lower, Strength),
    /// They pass through each other; most of the overlap has this one behind.
    Crossing(Lower),
}

/// Which face of a pair is to be painted before the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lower {
    /// The first of the two.
    First,
    /// The second.
    Second,
}

/// Whether painting a pair in the wrong order would show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Strength {
    /// Some area of one covers the other.
    Firm,
    /// At equal depth, or seen edge-on: an order to keep if nothing speaks against it.
    Loose,
}

/// What the caller says of two faces of the input.
pub(super) type Said<'a> = &'a dyn Fn(usize, usize) -> Option<Lower>;

/// The relation of two faces: what is said of them if anything is; at equal depth `first` is the lower.
pub(super) fn relate(first: &Piece, second: &Piece, said: Said<'_>) -> Relation {
    if !bounds_meet(first, second) {
        return Relation::Apart;
    }
    match (first.edge_on, second.edge_on) {
        (true, true) => Relation::Apart,
        (true, false) => relate_line(first, second, Lower::First),
        (false, true) => relate_line(second, first, Lower::Second),
        (false, false) if !outlines_overlap(first, second) => Relation::Apart,
        (false, false) => match said(first.source, second.source) {
            Some(lower) => Relation::Sorted(lower, Strength::Firm),
            None => relate_by_plane(first, second).unwrap_or_else(|| relate_over_overlap(first, second)),
        },
    }
}

fn bounds_meet(first: &Piece, second: &Piece) -> bool {
    first.low.x < second.high.x
        && second.low.x < first.high.x
        && first.low.y < second.high.y
        && second.low.y < first.high.y
}

/// Whether two projected outlines overlap by more than a sliver: no side of either has the other wholly outside it
/// (the separating-axis theorem for convex outlines).
fn outlines_overlap(first: &Piece, second: &Piece) -> bool {
    let reaches = |from: &Piece, to: &Piece| {
        to.sides.iter().all(|side| from.sides.iter().any(|other| side.depth_of(other.start) > SLIVER))
    };
    reaches(first, second) && reaches(second, first)
}

/// The relation of two overlapping faces if one lies wholly on one side of the other's plane, or in it: the common
/// cases, told without working out the overlap.
fn relate_by_plane(first: &Piece, second: &Piece) -> Option<Relation> {
    let same = same_depth(first, second);
    let firm = |lower| Some(Relation::Sorted(lower, Strength::Firm));
    if first.high.z + same < second.low.z {
        return firm(Lower::First);
    }
    if second.high.z + same < first.low.z {
        return firm(Lower::Second);
    }
    let (low, high) = first.heights_of(second);
    if low > same {
        return firm(Lower::First);
    }
    if high < -same {
        return firm(Lower::Second);
    }
    if low >= -same && high <= same {
        return Some(Relation::Sorted(Lower::First, Strength::Loose));
    }
    let (low, high) = second.heights_of(first);
    if low > same {
        return firm(Lower::Second);
    }
    if high < -same { firm(Lower::First) } else { None }
}

/// The difference in depth that counts as none for a pair: [`SAME_DEPTH`] across the steeper face.
fn same_depth(first: &Piece, second: &Piece) -> f64 {
    SAME_DEPTH / first.facing().min(second.facing())
}

/// The relation of two faces from their depths over the whole of their overlap.
fn relate_over_overlap(first: &Piece, second: &Piece) -> Relation {
    let overlap = overlap(first, second);
    if !shows(&overlap) {
        return Relation::Apart;
    }
    let gaps: Vec<f64> = overlap.iter().map(|&at| second.depth(at) - first.depth(at)).collect();
    let same = same_depth(first, second);
    let second_above = keep(&overlap, |i| gaps[i] - same);
    let first_above = keep(&overlap, |i| -gaps[i] - same);
    match (shows(&second_above), shows(&first_above)) {
        (true, false) => Relation::Sorted(Lower::First, Strength::Firm),
        (false, true) => Relation::Sorted(Lower::Second, Strength::Firm),
        (false, false) => Relation::Sorted(Lower::First, Strength::Loose),
        (true, true) if area(&second_above) >= area(&first_above) => Relation::Crossing(Lower::First),
        (true, true) => Relation::Crossing(Lower::Second),
    }
}

/// The part of the screen that two faces share, by Sutherland and Hodgman's clipping (1974, "Reentrant polygon
/// clipping"; from memory).
fn overlap(first: &Piece, second: &Piece) -> Vec<DVec2> {
    let whole: Vec<DVec2> = first.sides.iter().map(|side| side.start).collect();
    second.sides.iter().fold(whole, |rest, side| keep(&rest, |i| side.depth_of(rest[i])))
}

/// The part of an outline where a linear measure, given at each of its points, is not negative.
fn keep(outline: &[DVec2], measure: impl Fn(usize) -> f64) -> Vec<DVec2> {
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (i, &point) in outline.iter().enumerate() {
        let next = (i + 1) % outline.len();
        let (here, there) = (measure(i), measure(next));
        if here >= 0.0 {
            kept.push(point);
        }
        if (here > 0.0 && there < 0.0) || (here < 0.0 && there > 0.0) {
            kept.push(point.lerp(outline[next], here / (here - there)));
        }
    }
    kept
}

/// Whether an outline is more than a sliver.
fn shows(outline: &[DVec2]) -> bool {
    let Some(&first) = outline.first() else { return false };
    let low = outline.iter().fold(first, |low, &point| low.min(point));
    let high = outline.iter().fold(first, |high, &point| high.max(point));
    is_wider_than(SLIVER, area(outline), low.distance(high))
}

fn area(outline: &[DVec2]) -> f64 {
    let Some(&first) = outline.first() else { return 0.0 };
    let doubled: f64 = outline.windows(2).map(|pair| (pair[0] - first).perp_dot(pair[1] - first)).sum();
    doubled.abs() / 2.0
}

/// The relation of a face seen edge-on and one that is not; `line_place` says which of the pair the line is.
///
/// Only the nearest edge of the line can show, so that is what is compared, halfway along the part inside `face`.
fn relate_line(line: &Piece, face: &Piece, line_place: Lower) -> Relation {
    let Some(at) = middle_inside(line, face) else { return Relation::Apart };
    let on_top = top_of(line, at) > face.depth(at) + SAME_DEPTH;
    let lower = match (on_top, line_place) {
        (false, place) => place,
        (true, Lower::First) => Lower::Second,
        (true, Lower::Second) => Lower::First,
    };
    Relation::Sorted(lower, Strength::Loose)
}

/// Halfway along the part of `line` that is clearly inside `face`; `None` if there is no such part.
fn middle_inside(line: &Piece, face: &Piece) -> Option<DVec2> {
    let (start, end) = ends(line)?;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for side in &face.sides {
        let (a, b) = (side.depth_of(start) - EDGE_ON, side.depth_of(end) - EDGE_ON);
        if a < 0.0 && b < 0.0 {
            return None;
        }
        if a < 0.0 {
            from = from.max(a / (a - b));
        } else if b < 0.0 {
            to = to.min(a / (a - b));
        }
    }
    ((to - from) * start.distance(end) > EDGE_ON).then(|| start.lerp(end, f64::midpoint(from, to)))
}

/// The two ends of a face seen edge-on.
fn ends(line: &Piece) -> Option<(DVec2, DVec2)> {
    let size = line.high - line.low;
    let along = |point: DVec2| if size.x >= size.y { point.x } else { point.y };
    let points = || line.corners.iter().map(|corner| corner.at.truncate());
    let start = points().min_by(|a, b| along(*a).total_cmp(&along(*b)))?;
    let end = points().max_by(|a, b| along(*a).total_cmp(&along(*b)))?;
    Some((start, end))
}

/// Depth of the nearest point of a face seen edge-on, at a screen point along it.
fn top_of(line: &Piece, at: DVec2) -> f64 {
    let size = line.high - line.low;
    let along = |point: DVec2| if size.x >= size.y { point.x } else { point.y };
    let target = along(at);
    let nexts = line.corners.iter().cycle().skip(1);
    line.corners.iter().zip(nexts).fold(line.low.z, |top, (corner, next)| {
        let (a, b) = (along(corner.at.truncate()) - target, along(next.at.truncate()) - target);
        let crosses = (a <= 0.0 && b >= 0.0) || (a >= 0.0 && b <= 0.0);
        match (crosses, (a - b).abs() > 0.0) {
            (false, _) => top,
            (true, true) => top.max(corner.at.z + (next.at.z - corner.at.z) * (a / (a - b))),
            (true, false) => top.max(corner.at.z).max(next.at.z),
        }
    })
}
