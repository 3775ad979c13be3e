//! Glue: on which face of a part's panel, over which area, and to what.

use super::PanelRef;
use crate::geometry::{Area, Point};
use crate::length::Length;
use crate::line::Face;
use crate::polygon::{bounds, signed_area};
use crate::stock::SheetEdge;

/// Some of the four edges of an upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Edges(u8);

/// Where on a panel the glue is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GlueArea {
    /// All over.
    Whole,
    /// Along these edges of the upright rectangle around the panel, as wide as said.
    Strips(Edges, Length),
    /// Nowhere: it only lies there.
    None,
}

/// Glue that the maker puts on a part herself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Gluing {
    /// The part's panel, counted from 0 in reading order on its own little sheet.
    pub panel: usize,
    /// The face of it that the glue is on.
    pub face: Face,
    /// The panel that it is glued to.
    pub to: PanelRef,
    /// Where on the part's panel.
    pub area: GlueArea,
}

impl Edges {
    /// None of them.
    pub const NONE: Self = Self(0);

    /// Those in a list.
    #[must_use]
    pub fn of(edges: &[SheetEdge]) -> Self {
        edges.iter().fold(Self::NONE, |all, &edge| all.with(edge, true))
    }

    /// Whether one is among them.
    #[must_use]
    pub const fn has(self, edge: SheetEdge) -> bool {
        self.0 & Self::bit(edge) != 0
    }

    /// The same with one of them put in or left out.
    #[must_use]
    pub const fn with(self, edge: SheetEdge, has: bool) -> Self {
        if has { Self(self.0 | Self::bit(edge)) } else { Self(self.0 & !Self::bit(edge)) }
    }

    /// Those that are in, clockwise from the top.
    pub fn iter(self) -> impl Iterator<Item = SheetEdge> {
        SheetEdge::ALL.into_iter().filter(move |&edge| self.has(edge))
    }

    /// Those that are not in, clockwise from the top.
    pub fn others(self) -> impl Iterator<Item = SheetEdge> {
        SheetEdge::ALL.into_iter().filter(move |&edge| !self.has(edge))
    }

    /// Whether they are two edges with a corner in common.
    #[must_use]
    pub const fn are_two_that_meet(self) -> bool {
        let level = self.has(SheetEdge::Top) != self.has(SheetEdge::Bottom);
        let upright = self.has(SheetEdge::Left) != self.has(SheetEdge::Right);
        level && upright
    }

    const fn bit(edge: SheetEdge) -> u8 {
        match edge {
            SheetEdge::Top => 1,
            SheetEdge::Right => 2,
            SheetEdge::Bottom => 4,
            SheetEdge::Left => 8,
        }
    }
}

impl GlueArea {
    /// The width of a line of glue: 1/4 in (common practice, no source).
    pub const USUAL_STRIP: Length = Length::from_sixty_fourths(16);

    /// The area on a panel made of `convex` pieces (clockwise), as convex polygons, clockwise. They touch and never
    /// overlap: upright strips run from top to bottom, level ones between them.
    #[must_use]
    pub fn on(self, convex: &[Vec<Point>]) -> Vec<Vec<Point>> {
        match self {
            Self::Whole => convex.to_vec(),
            Self::None => Vec::new(),
            Self::Strips(edges, width) => {
                let points: Vec<Point> = convex.iter().flatten().copied().collect();
                let (low, high) = bounds(&points);
                let strips = strips(edges, width, low, high);
                let clipped = |strip: &(Point, Point)| {
                    convex.iter().filter_map(|piece| within(piece, *strip)).collect::<Vec<_>>()
                };
                strips.iter().flat_map(clipped).collect()
            }
        }
    }
}

/// Upright rectangles along the edges of the one from `low` to `high`, least corner first.
fn strips(edges: Edges, width: Length, low: Point, high: Point) -> Vec<(Point, Point)> {
    if width <= Length::ZERO {
        return Vec::new();
    }
    // Wider than any sheet is as good as that, and sums stay small.
    let width = width.min(Length::LIMIT);
    let left = if edges.has(SheetEdge::Left) { (low.x + width).min(high.x) } else { low.x };
    let right = if edges.has(SheetEdge::Right) { (high.x - width).max(left) } else { high.x };
    let top = if edges.has(SheetEdge::Top) { (low.y + width).min(high.y) } else { low.y };
    let bottom = if edges.has(SheetEdge::Bottom) { (high.y - width).max(top) } else { high.y };
    let all = [
        (low, Point::new(left, high.y)),
        (Point::new(right, low.y), high),
        (Point::new(left, low.y), Point::new(right, top)),
        (Point::new(left, bottom), Point::new(right, high.y)),
    ];
    all.into_iter().filter(|(low, high)| low.x < high.x && low.y < high.y).collect()
}

/// What of a convex clockwise polygon lies within an upright rectangle; `None` for nothing that has an area.
fn within(piece: &[Point], (low, high): (Point, Point)) -> Option<Vec<Point>> {
    let x = |point: Point| point.x;
    let y = |point: Point| point.y;
    let mut shape = clipped(piece, x, low.x, true);
    shape = clipped(&shape, x, high.x, false);
    shape = clipped(&shape, y, low.y, true);
    shape = clipped(&shape, y, high.y, false);
    shape.dedup();
    if shape.first() == shape.last() {
        shape.pop();
    }
    (shape.len() >= 3 && signed_area(&shape) > Area::ZERO).then_some(shape)
}

/// Clips by one upright or level line (Sutherland and Hodgman 1974), rounded to the nanometre.
fn clipped(shape: &[Point], axis: fn(Point) -> Length, at: Length, keeps_above: bool) -> Vec<Point> {
    let is_kept = |point: Point| if keeps_above { axis(point) >= at } else { axis(point) <= at };
    let mut kept = Vec::with_capacity(shape.len() + 1);
    for (a, b) in crate::polygon::edges(shape) {
        if is_kept(a) {
            kept.push(a);
        }
        if is_kept(a) != is_kept(b) && axis(a) != at && axis(b) != at {
            let (part, whole) = (i128::from((at - axis(a)).nm()), i128::from((axis(b) - axis(a)).nm()));
            let between = |from: Length, to: Length| {
                let nm = i128::from((to - from).nm()) * part;
                // The part is less than the whole, so the result lies between the two.
                from + i64::try_from(nm / whole).map_or(Length::ZERO, Length::from_nm)
            };
            kept.push(Point::new(between(a.x, b.x), between(a.y, b.y)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::INCH * x, Length::INCH * y)
    }

    fn square() -> Vec<Vec<Point>> {
        vec![vec![at(0, 0), at(8, 0), at(8, 8), at(0, 8)]]
    }

    #[track_caller]
    fn check(area: GlueArea, convex: &[Vec<Point>], square_inches: f64) {
        let found: f64 = area.on(convex).iter().map(|polygon| signed_area(polygon).mm2() / 645.16).sum();
        assert!((found - square_inches).abs() < 1e-6, "{found} is not {square_inches}");
    }

    #[test]
    fn strips_do_not_overlap_in_the_corners() {
        let all = Edges::of(&SheetEdge::ALL);
        // 8 by 8 less 6 by 6.
        check(GlueArea::Strips(all, Length::INCH), &square(), 28.0);
        check(GlueArea::Strips(Edges::of(&[SheetEdge::Left, SheetEdge::Bottom]), Length::INCH), &square(), 15.0);
        check(GlueArea::Strips(all, Length::INCH * 5), &square(), 64.0);
        check(GlueArea::Whole, &square(), 64.0);
        check(GlueArea::None, &square(), 0.0);
    }

    #[test]
    fn a_strip_stays_on_a_slanting_panel() {
        // Legs of 8 in: along each leg 1 in wide and 8 - 1/2 in long on average, the corner once.
        let triangle = vec![vec![at(0, 0), at(8, 0), at(0, 8)]];
        check(GlueArea::Strips(Edges::of(&[SheetEdge::Left, SheetEdge::Top]), Length::INCH), &triangle, 14.0);
    }

    #[test]
    fn two_edges_meet_in_a_corner_or_not() {
        use SheetEdge::{Bottom, Left, Right, Top};
        assert!(Edges::of(&[Top, Left]).are_two_that_meet());
        assert!(!Edges::of(&[Top, Bottom]).are_two_that_meet());
        assert!(!Edges::of(&[Top, Bottom, Left]).are_two_that_meet());
        assert_eq!(Edges::of(&[Left, Right, Bottom]).others().collect::<Vec<_>>(), [Top]);
    }
}
