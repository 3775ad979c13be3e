//! Simple polygons on the sheet, exact: area, inside or not, convex pieces.

use crate::geometry::{Area, Point};
use crate::length::Length;
use std::collections::{BTreeMap, BTreeSet};

/// Where a point lies in respect of a polygon.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Inside {
    /// Strictly inside.
    Yes,
    /// On its boundary.
    Boundary,
    /// Outside.
    No,
}

/// The signed area of a closed outline: positive when it runs clockwise as the maker sees it.
#[must_use]
pub fn signed_area(outline: &[Point]) -> Area {
    Area::from_half_nm2(edges(outline).map(|(a, b)| cross_from_origin(a, b)).sum())
}

/// Where `point` lies in respect of the area within `outline` and outside of `holes` (even-odd).
#[must_use]
pub fn locate(point: Point, outline: &[Point], holes: &[Vec<Point>]) -> Inside {
    let mut inside = false;
    for (a, b) in std::iter::once(outline).chain(holes.iter().map(Vec::as_slice)).flat_map(edges) {
        // Most edges are wholly above or below, and it takes long to see on which side of one a point lies.
        if (a.y < point.y && b.y < point.y) || (a.y > point.y && b.y > point.y) {
            continue;
        }
        let turn = (b - a).cross(point - a);
        if turn == 0 && (a - point).dot(b - point) <= 0 {
            return Inside::Boundary;
        }
        // A half-open rule, so that a ray through a corner counts it once.
        if (a.y > point.y) != (b.y > point.y) && ((b.y > a.y) == (turn > 0)) {
            inside = !inside;
        }
    }
    if inside { Inside::Yes } else { Inside::No }
}

/// Leaves out corners that lie straight between their neighbours.
#[must_use]
pub fn without_straight_corners(outline: &[Point]) -> Vec<Point> {
    let n = outline.len();
    let corner = |i: usize| {
        let (before, at, after) = (outline[(i + n - 1) % n], outline[i], outline[(i + 1) % n]);
        (at - before).cross(after - at) != 0
    };
    (0..n).filter(|&i| corner(i)).map(|i| outline[i]).collect()
}

/// Cuts the area within `outline` (clockwise) and outside of `holes` into few convex pieces, each clockwise.
///
/// Ears are cut and merged again wherever two pieces together are convex, which gives at most
/// four times the least number of pieces (Hertel and Mehlhorn 1983; the bound is from memory).
#[must_use]
pub fn convex_pieces(outline: &[Point], holes: &[Vec<Point>]) -> Vec<Vec<Point>> {
    let plain = without_straight_corners(outline);
    if holes.is_empty() && is_convex(&plain) { vec![plain] } else { merged(triangles(&plain, holes)) }
}

/// A point strictly inside an area, in the middle of its largest triangle, of those that it can be cut into by its corners; of
/// all of it where it is convex. `None` where that has no room for one between whole nanometres.
#[must_use]
pub fn point_within(outline: &[Point], holes: &[Vec<Point>]) -> Option<Point> {
    let plain = without_straight_corners(outline);
    let is_whole = holes.is_empty() && is_convex(&plain);
    inner_point(&if is_whole { vec![plain] } else { triangles(&plain, holes) })
}

/// Cuts an area into triangles, each clockwise, by its corners (the `earcut` crate).
fn triangles(plain: &[Point], holes: &[Vec<Point>]) -> Vec<Vec<Point>> {
    let points: Vec<Point> = plain.iter().chain(holes.iter().flatten()).copied().collect();
    let mut starts = Vec::new();
    let mut at = plain.len();
    for hole in holes {
        starts.push(at);
        at += hole.len();
    }
    let mut triangles: Vec<usize> = Vec::new();
    let coordinates = points.iter().map(|point| [point.x.mm(), point.y.mm()]);
    earcut::Earcut::new().earcut(coordinates, &starts, &mut triangles);
    triangles.chunks_exact(3).map(|t| clockwise([points[t[0]], points[t[1]], points[t[2]]])).collect()
}

/// A point strictly inside, near the middle of the largest of the convex `pieces`; `None` when there is no room
/// for one between whole nanometres.
#[must_use]
pub fn inner_point(pieces: &[Vec<Point>]) -> Option<Point> {
    let largest = pieces.iter().max_by_key(|piece| signed_area(piece))?;
    let count = i64::try_from(largest.len()).ok()?;
    let mean = |of: fn(&Point) -> Length| largest.iter().map(of).sum::<Length>() / count;
    let middle = Point::new(mean(|p| p.x), mean(|p| p.y));
    (locate(middle, largest, &[]) == Inside::Yes).then_some(middle)
}

/// The smallest upright rectangle round the points: least x, least y, greatest x, greatest y.
#[must_use]
pub fn bounds(points: &[Point]) -> (Point, Point) {
    let first = points.first().copied().unwrap_or_default();
    points.iter().fold((first, first), |(low, high), p| {
        (Point::new(low.x.min(p.x), low.y.min(p.y)), Point::new(high.x.max(p.x), high.y.max(p.y)))
    })
}

/// The edges of a closed outline.
pub fn edges(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = outline.iter().cycle().skip(1);
    outline.iter().copied().zip(next.copied())
}

const fn cross_from_origin(a: Point, b: Point) -> i128 {
    a.x.nm() as i128 * b.y.nm() as i128 - a.y.nm() as i128 * b.x.nm() as i128
}

fn is_convex(outline: &[Point]) -> bool {
    let n = outline.len();
    n >= 3
        && (0..n).all(|i| {
            let (a, b, c) = (outline[i], outline[(i + 1) % n], outline[(i + 2) % n]);
            (b - a).cross(c - b) > 0
        })
}

fn clockwise(triangle: [Point; 3]) -> Vec<Point> {
    let mut triangle = triangle.to_vec();
    if signed_area(&triangle) < Area::ZERO {
        triangle.reverse();
    }
    triangle
}

/// Merges pieces across shared edges for as long as the union stays convex, always the earliest pair that can be.
fn merged(pieces: Vec<Vec<Point>>) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = pieces.into_iter().filter(|piece| signed_area(piece) > Area::ZERO).collect();
    // Which piece has an edge, in its own direction; a neighbour has the same edge the other way.
    let mut owner: BTreeMap<(Point, Point), usize> = BTreeMap::new();
    for (i, piece) in pieces.iter().enumerate() {
        owner.extend(edges(piece).map(|edge| (edge, i)));
    }
    let across = |owner: &BTreeMap<(Point, Point), usize>, i: usize, (p, q): (Point, Point)| {
        owner.get(&(q, p)).filter(|&&j| j != i).map(|&j| (i.min(j), i.max(j)))
    };
    let mut open: BTreeSet<(usize, usize)> = owner.iter().filter_map(|(&edge, &i)| across(&owner, i, edge)).collect();
    while let Some((i, j)) = open.pop_first() {
        // A pair that does not fit now may fit once one of the two has grown; then it is looked at again.
        let Some(union) = union_if_convex(&pieces[i], &pieces[j]) else { continue };
        for edge in edges(&pieces[i]).chain(edges(&pieces[j])) {
            owner.remove(&edge);
        }
        owner.extend(edges(&union).map(|edge| (edge, i)));
        open.extend(edges(&union).filter_map(|edge| across(&owner, i, edge)));
        pieces[i] = union;
        pieces[j] = Vec::new();
    }
    pieces.retain(|piece| !piece.is_empty());
    pieces
}

/// The union of two pieces across the edge that they share, when it is convex.
fn union_if_convex(a: &[Point], b: &[Point]) -> Option<Vec<Point>> {
    let back: BTreeMap<(Point, Point), usize> = edges(b).enumerate().map(|(j, (p, q))| ((q, p), j)).collect();
    let (i, &j) = edges(a).enumerate().find_map(|(i, edge)| Some((i, back.get(&edge)?)))?;
    let from_a = (1..=a.len()).map(|k| a[(i + k) % a.len()]);
    let from_b = (2..b.len()).map(|k| b[(j + k) % b.len()]);
    let union: Vec<Point> = from_a.chain(from_b).collect();
    let plain = without_straight_corners(&union);
    is_convex(&plain).then_some(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::from_nm(x), Length::from_nm(y))
    }

    fn outline(points: &[(i64, i64)]) -> Vec<Point> {
        points.iter().map(|&(x, y)| at(x, y)).collect()
    }

    #[test]
    fn area_is_positive_clockwise() {
        let square = outline(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
        assert_eq!(signed_area(&square).half_nm2(), 200);
        let reversed: Vec<Point> = square.into_iter().rev().collect();
        assert_eq!(signed_area(&reversed).half_nm2(), -200);
    }

    #[test]
    fn a_point_is_inside_on_or_outside() {
        let square = outline(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
        let hole = vec![outline(&[(4, 4), (4, 6), (6, 6), (6, 4)])];
        #[track_caller]
        fn check(point: Point, outline: &[Point], holes: &[Vec<Point>], expected: Inside) {
            assert_eq!(locate(point, outline, holes), expected, "{point:?}");
        }
        check(at(5, 1), &square, &hole, Inside::Yes);
        check(at(5, 5), &square, &hole, Inside::No);
        check(at(4, 5), &square, &hole, Inside::Boundary);
        check(at(0, 0), &square, &hole, Inside::Boundary);
        check(at(11, 0), &square, &hole, Inside::No);
        check(at(-1, 10), &square, &hole, Inside::No);
    }

    #[test]
    fn convex_pieces_cover_the_area_exactly() {
        let l_shape = outline(&[(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)]);
        let ring = outline(&[(0, 0), (12, 0), (12, 12), (0, 12)]);
        let hole = vec![outline(&[(4, 4), (4, 8), (8, 8), (8, 4)])];
        for (outline, holes, area, most) in [(l_shape, vec![], 128, 2), (ring, hole, 256, 6)] {
            let pieces = convex_pieces(&outline, &holes);
            assert!(pieces.iter().all(|piece| is_convex(piece)));
            assert_eq!(pieces.iter().map(|piece| signed_area(piece).half_nm2()).sum::<i128>(), area);
            assert!(pieces.len() <= most, "{} pieces", pieces.len());
        }
    }

    #[test]
    fn a_comb_is_cut_into_one_piece_a_tooth_and_its_back() {
        // Teeth 10 wide and 20 apart on a back 10 high: each tooth is a rectangle, and so is the back.
        let teeth = 160;
        let mut points = vec![(0, 0), (20 * teeth, 0)];
        for tooth in (0..teeth).rev() {
            let x = 20 * tooth;
            points.extend([(x + 20, 10), (x + 10, 10), (x + 10, 30), (x, 30)]);
        }
        let pieces = convex_pieces(&outline(&points), &[]);
        assert!(pieces.iter().all(|piece| is_convex(piece)));
        let area = 20 * teeth * 10 + teeth * 10 * 20;
        assert_eq!(pieces.iter().map(|piece| signed_area(piece).half_nm2()).sum::<i128>(), 2 * i128::from(area));
        // At most four times the least number; see `convex_pieces`.
        assert_eq!(pieces.len(), 161);
    }

    #[test]
    fn nothing_to_cut_up_gives_nothing() {
        assert_eq!(convex_pieces(&[], &[]), Vec::<Vec<Point>>::new());
        assert_eq!(inner_point(&[]), None);
        assert_eq!(inner_point(&[outline(&[(0, 0), (1, 0), (0, 1)])]), None);
    }
}
