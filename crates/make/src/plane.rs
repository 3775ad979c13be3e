//! Polygons in the plane in millimetres, moved and laid over one another.

use model::Point;
use model::part::Laid;

/// A place in the plane: millimetres to the right and down.
pub(crate) type Place = (f64, f64);

/// A convex polygon.
pub(crate) type Polygon = Vec<Place>;

/// By how much two things must overlap to be in one another's way, in millimetres: what a knife or a printer can place.
/// Were it more, glue of a narrow strip would be missed; less, and things laid edge to edge would count.
const LEAST_OVERLAP: f64 = 0.1;

/// A motion of the plane, which may turn it over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Motion {
    right: Place,
    down: Place,
    origin: Place,
}

impl Motion {
    pub(crate) const STILL: Self = Self { right: (1.0, 0.0), down: (0.0, 1.0), origin: (0.0, 0.0) };

    /// As a part lies on the panel under it.
    pub(crate) fn of(laid: &Laid) -> Self {
        let (cos, sin) = laid.right;
        let right = if laid.turned_over { (-cos, -sin) } else { (cos, sin) };
        Self { right, down: (-sin, cos), origin: laid.origin.mm() }
    }

    /// Folded flat about the line through two places; `None` where they are one place.
    pub(crate) fn folded_about(a: Place, b: Place) -> Option<Self> {
        let (x, y) = (b.0 - a.0, b.1 - a.1);
        let square = x * x + y * y;
        if square <= 0.0 {
            return None;
        }
        let (cos, sin) = ((x * x - y * y) / square, 2.0 * x * y / square);
        let folded = Self { right: (cos, sin), down: (sin, -cos), origin: (0.0, 0.0) };
        let moved = folded.place(a);
        Some(Self { origin: (a.0 - moved.0, a.1 - moved.1), ..folded })
    }

    /// Where a place comes to lie.
    pub(crate) fn place(&self, (x, y): Place) -> Place {
        let (right, down, origin) = (self.right, self.down, self.origin);
        (origin.0 + right.0 * x + down.0 * y, origin.1 + right.1 * x + down.1 * y)
    }

    /// This one, and then another.
    pub(crate) fn then(&self, next: &Self) -> Self {
        let origin = next.place(self.origin);
        let along = |way: Place| {
            let end = next.place((self.origin.0 + way.0, self.origin.1 + way.1));
            (end.0 - origin.0, end.1 - origin.1)
        };
        Self { right: along(self.right), down: along(self.down), origin }
    }

    /// Where polygons come to lie.
    pub(crate) fn all(&self, polygons: &[Polygon]) -> Vec<Polygon> {
        polygons.iter().map(|polygon| polygon.iter().map(|&at| self.place(at)).collect()).collect()
    }
}

/// Exact polygons, for reading.
pub(crate) fn in_mm(polygons: &[Vec<Point>]) -> Vec<Polygon> {
    polygons.iter().map(|polygon| polygon.iter().map(|point| point.mm()).collect()).collect()
}

/// Whether some of one overlaps some of the other by more than what can be placed.
pub(crate) fn overlap(some: &[Polygon], others: &[Polygon]) -> bool {
    some.iter().any(|a| others.iter().any(|b| !is_parted(a, b) && !is_parted(b, a)))
}

/// Whether a line along an edge of the first parts the two: convex polygons are apart where such a line of either does.
fn is_parted(a: &[Place], b: &[Place]) -> bool {
    let ends = a.iter().copied().zip(a.iter().copied().cycle().skip(1));
    let parts = |((x, y), (to_x, to_y)): (Place, Place)| {
        let (across, down) = (y - to_y, to_x - x);
        let length = (across * across + down * down).sqrt();
        let (low, high) = span(a, across, down);
        let (other_low, other_high) = span(b, across, down);
        length > 0.0 && high.min(other_high) - low.max(other_low) <= LEAST_OVERLAP * length
    };
    a.len() < 3 || b.len() < 3 || ends.into_iter().any(parts)
}

fn span(polygon: &[Place], across: f64, down: f64) -> (f64, f64) {
    let along = polygon.iter().map(|(x, y)| x * across + y * down);
    along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, side: f64) -> Vec<Polygon> {
        vec![vec![(x, y), (x + side, y), (x + side, y + side), (x, y + side)]]
    }

    #[test]
    fn things_laid_edge_to_edge_do_not_overlap() {
        assert!(!overlap(&square(0.0, 0.0, 10.0), &square(10.0, 0.0, 10.0)));
        assert!(!overlap(&square(0.0, 0.0, 10.0), &square(9.95, 0.0, 10.0)));
        assert!(overlap(&square(0.0, 0.0, 10.0), &square(9.8, 9.8, 10.0)));
        assert!(overlap(&square(0.0, 0.0, 10.0), &square(4.0, 4.0, 2.0)));
        // The upright rectangles around the two overlap, the triangles do not.
        let triangles =
            [vec![vec![(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)]], vec![vec![(10.0, 1.0), (10.0, 10.0), (1.0, 10.0)]]];
        assert!(!overlap(&triangles[0], &triangles[1]));
    }

    #[test]
    fn a_fold_takes_a_place_to_its_mirror_image() {
        let fold = Motion::folded_about((1.0, 0.0), (2.0, 1.0)).unwrap();
        let near = |a: Place, b: Place| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9;
        // About y = x - 1: (x, y) comes to lie at (y + 1, x - 1).
        assert!(near(fold.place((5.0, 0.0)), (1.0, 4.0)));
        assert!(near(fold.then(&fold).place((5.0, 7.0)), (5.0, 7.0)));
        assert_eq!(Motion::folded_about((1.0, 1.0), (1.0, 1.0)), None);
    }
}
